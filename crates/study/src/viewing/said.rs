//! Answers given at the viewing, and words that bear on what is not known.

use asfound_plan::checks::{Known, KnownCheck, WordsSay, words};
use asfound_plan::viewing::Shown;
use asfound_record::Job;

use crate::said::clauses::{Clause, clauses};

/// How an answer begins, after `piece:`.
const OPENING: &str = "viewing,";

/// The answer to a check that was made, or not allowed, and told nothing.
pub const CANNOT_TELL: &str = "cannot tell";

/// The line that the entry line takes as the answer to a check.
pub fn answer_line(check: &KnownCheck, seen: &str) -> String {
    format!("piece: {OPENING} {}: {seen}", check.name)
}

/// Whether an observation is an answer given at a viewing. Other studies pass it over: it is in the words of the list, and
/// not in those of somebody who describes a part.
pub fn is_answer(words: &str) -> bool {
    after_opening(words).is_some()
}

fn after_opening(words: &str) -> Option<&str> {
    let words = words.trim_start();
    let opening = words.get(..OPENING.len())?;
    opening.eq_ignore_ascii_case(OPENING).then(|| words[OPENING.len()..].trim())
}

/// An answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Answered {
    /// The check's place in the list of its kind.
    pub check: usize,
    /// What was shown.
    pub shown: Shown,
    /// The entry.
    pub seq: u64,
}

/// What was meant as an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// The entry.
    pub seq: u64,
    /// Its words.
    pub words: String,
    /// Why it is none.
    pub why: WhyUnread,
}

/// Why an answer is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WhyUnread {
    /// No check of this kind of piece is called so; the nearest name.
    NoSuchCheck(Option<&'static str>),
    /// The check has other outcomes: these.
    NoSuchOutcome(Vec<&'static str>),
}

/// The answers, the later of two to one check; and what could not be read.
pub(super) fn answers(job: &Job, known: &Known) -> (Vec<Answered>, Vec<Unread>) {
    let (mut answers, mut unread): (Vec<Answered>, Vec<Unread>) = (Vec::new(), Vec::new());
    for item in &job.observed {
        let Some(answer) = after_opening(&item.body.words) else { continue };
        match read(answer, known) {
            Ok((check, shown)) => {
                answers.retain(|earlier| earlier.check != check);
                answers.push(Answered { check, shown, seq: item.seq });
            }
            Err(why) => unread.push(Unread { seq: item.seq, words: item.body.words.clone(), why }),
        }
    }
    (answers, unread)
}

fn read(answer: &str, known: &Known) -> Result<(usize, Shown), WhyUnread> {
    let (name, seen) = answer.split_once(':').unwrap_or((answer, ""));
    let (name, seen) = (name.trim().to_lowercase(), seen.trim().trim_end_matches('.').to_lowercase());
    let place = known.checks.iter().position(|check| check.name == name);
    let Some(place) = place else {
        let apart = |check: &&&KnownCheck| strsim::damerau_levenshtein(check.name, &name);
        let nearest = known.checks.iter().min_by_key(apart).map(|check| check.name);
        return Err(WhyUnread::NoSuchCheck(nearest));
    };
    let outcomes = &known.checks[place].outcomes;
    if seen == CANNOT_TELL || seen == "not allowed" {
        return Ok((place, Shown::CannotTell));
    }
    let outcome = outcomes.iter().position(|outcome| outcome.seen.to_lowercase() == seen);
    outcome
        .map(|outcome| (place, Shown::Outcome(outcome)))
        .ok_or_else(|| WhyUnread::NoSuchOutcome(outcomes.iter().map(|outcome| outcome.seen).collect()))
}

/// Words that bear on something not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// The entry.
    pub seq: u64,
    /// The clause.
    pub clause: String,
    /// What it says.
    pub says: &'static WordsSay,
}

/// What the piece's own words, testimonies and observations say beforehand. A clause speaks of an unknown once, by the
/// narrowest words; the same words said again count once.
pub(super) fn heard(job: &Job, known: &Known) -> Vec<Heard> {
    let mut heard: Vec<Heard> = Vec::new();
    for clause in all_clauses(job) {
        let mut spoken_of: Vec<&str> = Vec::new();
        for says in words() {
            let is_new = !spoken_of.contains(&says.unknown) && known.place(says.unknown).is_some();
            if is_new && clause.says(says.words) {
                spoken_of.push(says.unknown);
                if heard
                    .iter()
                    .all(|earlier| earlier.says.words != says.words || earlier.says.unknown != says.unknown)
                {
                    heard.push(Heard { seq: clause.seq, clause: clause.text.clone(), says });
                }
            }
        }
    }
    heard
}

fn all_clauses(job: &Job) -> Vec<Clause> {
    let of_part = |part: Option<&String>| {
        let body = part.and_then(|id| job.part(id)).map(|part| &part.item.body);
        body.map_or_else(String::new, |body| format!("{} {} ", body.name, body.sort))
    };
    let piece = job.piece.iter().map(|item| (item.seq, item.body.words.clone()));
    let said =
        job.testimonies.iter().map(|item| (item.seq, item.body.part.as_ref(), item.body.words.as_str()));
    let seen = job.observed.iter().filter(|item| !is_answer(&item.body.words));
    let seen = seen.map(|item| (item.seq, item.body.part.as_ref(), item.body.words.as_str()));
    // What is said of a part names it: every clause is about it.
    let about = said.chain(seen).flat_map(|(seq, part, words)| {
        let name = of_part(part);
        let cut = clauses(seq, words);
        cut.into_iter().map(move |clause| (clause.seq, format!("{name}{}", clause.text))).collect::<Vec<_>>()
    });
    piece.chain(about).flat_map(|(seq, words)| clauses(seq, &words)).collect()
}
