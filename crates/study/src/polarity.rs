//! Polarity of a job's coils: what was tapped, seen and heard, solved; what to swap, and what a planned swap would do.

use asfound_electric::polarity::{hook_ups, judge_join, predict, remedies, solve};
use asfound_measure::Ohms;
use asfound_record::Job;

use crate::readings::{At20, ReadingStudied};
use crate::said::clauses::clauses;
use crate::said::polarity::{PolaritySaid, read};
use crate::settings::{self, Stood};

pub use asfound_electric::Sign;
pub use asfound_electric::polarity::{
    Change, CoilPolarity, Contradiction, Conversion, Evidence, Explanation, HookUps, HumHeard, HumTogether,
    Instead, Lead, LeadsTo, Metal, OddOneOut, Outcome, Phase, Polarity, PolarityError, Predicted, Question,
    Relation, Remedy, Step, Tone, not_cancelling, questions,
};

/// What can be said of the coils' polarity.
#[derive(Debug, Clone, PartialEq)]
pub struct PolarityStudied {
    /// What it was read from.
    pub said: PolaritySaid,
    /// What follows.
    pub solved: Result<Polarity, PolarityError>,
    /// Ways to bring all coils in phase, the one that disturbs least first.
    pub remedies: Vec<Remedy>,
    /// Ways to join the two coils of a pair on four leads, by the coils' places in the list.
    pub hook_ups: Vec<(usize, usize, Result<HookUps, PolarityError>)>,
    /// Swaps that were planned, with the entry and what they would do.
    pub planned: Vec<(u64, Vec<Change>, Predicted)>,
    /// Joins that were planned between leads of two coils, by their colours, with what each would do.
    pub joins: Vec<PlannedJoin>,
    /// A pair that was made to cancel hum and does not, by the coils' places: what is known, what remains, what to ask.
    pub not_cancelling: Option<NotCancelling>,
}

/// A join that somebody means to make.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedJoin {
    /// The entry.
    pub seq: u64,
    /// The two leads, as they are called.
    pub leads: [String; 2],
    /// What it does.
    pub outcome: Outcome,
}

/// A pair that should cancel hum and does not.
#[derive(Debug, Clone, PartialEq)]
pub struct NotCancelling {
    /// The coils' places.
    pub coils: (usize, usize),
    /// The entry.
    pub seq: u64,
    /// What may be behind it.
    pub remains: Vec<Explanation>,
    /// What to ask next, with where each answer leads.
    pub questions: Vec<(Question, Vec<LeadsTo>)>,
}

/// Studies the polarity; `None` where nothing was said of it.
pub fn study(job: &Job, readings: &[ReadingStudied]) -> Option<PolarityStudied> {
    let said = read(job, |part| ohms_of(readings, part));
    let planned = planned(job, &said);
    let anything = !said.found.taps.is_empty()
        || !said.found.pairs.is_empty()
        || !said.unusable.is_empty()
        || !planned.is_empty()
        || said.found.coils.iter().any(|coil| coil.magnet.is_some() || coil.winding.is_some());
    if !anything {
        return None;
    }
    let solved = solve(&said.found);
    let polarity = solved.as_ref().ok();
    let remedies = polarity.map(|it| remedies(&said.found, it)).unwrap_or_default();
    let hook_ups = polarity.map(|it| pairs(job, &said, it)).unwrap_or_default();
    let planned = polarity
        .map(|it| {
            let with = |(seq, changes): (u64, Vec<Change>)| {
                let predicted = predict(&said.found, it, &changes);
                (seq, changes, predicted)
            };
            planned.into_iter().map(with).collect()
        })
        .unwrap_or_default();
    let joins = polarity.map(|it| planned_joins(job, &said, it)).unwrap_or_default();
    let not_cancelling = not_cancelling_pair(&said, polarity);
    Some(PolarityStudied { solved, remedies, hook_ups, planned, joins, not_cancelling, said })
}

fn ohms_of(readings: &[ReadingStudied], part: &str) -> Option<Ohms> {
    let of_it = |reading: &&ReadingStudied| reading.part == part && reading.quantity == "resistance";
    let reading = readings.iter().rev().find(|reading| of_it(reading) && reading.shown.is_some())?;
    // What a meter will show at the same bench is what it showed.
    match reading.at_20 {
        Some(At20::Known(_) | At20::Between(..)) => reading.shown.as_ref().map(|shown| Ohms(shown.value)),
        None => None,
    }
}

/// Coils that sit in one place and have leads of their own colours: the two coils of a dual coil.
fn pairs(
    job: &Job,
    said: &PolaritySaid,
    polarity: &Polarity,
) -> Vec<(usize, usize, Result<HookUps, PolarityError>)> {
    let place = |coil: usize| job.part(&said.parts[coil]).map(|part| part.item.body.place.to_lowercase());
    let coloured = |coil: usize| said.found.coils[coil].leads[0] != crate::said::polarity::HOT_LEAD;
    let count = said.found.coils.len();
    let mut found = Vec::new();
    for a in 0..count {
        for b in a + 1..count {
            if place(a) == place(b) && coloured(a) && coloured(b) {
                found.push((a, b, hook_ups(&said.found, polarity, a, b)));
            }
        }
    }
    found
}

/// Swaps that somebody means to make: `plan: swap the middle coil's leads`, said of the piece, of a coil or as a note.
fn planned(job: &Job, said: &PolaritySaid) -> Vec<(u64, Vec<Change>)> {
    let observed =
        job.observed.iter().map(|item| (item.seq, item.body.part.as_deref(), item.body.words.as_str()));
    let notes = job.notes.iter().map(|item| (item.seq, None, item.body.words.as_str()));
    let mut found: Vec<(u64, Vec<Change>)> = observed
        .chain(notes)
        .flat_map(|(seq, of, words)| clauses(seq, words).into_iter().map(move |clause| (seq, of, clause)))
        .filter(|(_, _, clause)| clause.says("swap|swapping|reverse|reversing|exchange lead|leads|wires"))
        .filter(|(_, _, clause)| !clause.has_any(&["swapped", "reversed", "someone", "somebody"]))
        .map(|(seq, of, clause)| {
            let text = clause.text.replace("'s", "").replace('’', " ");
            let named = settings::all(&text, job).into_iter().filter_map(|stood| match stood {
                Stood::Coil(part) => Some(part),
                _ => None,
            });
            let mut parts: Vec<String> = named.chain(of.map(str::to_owned)).collect();
            parts.dedup();
            let changes = parts
                .iter()
                .filter_map(|part| said.parts.iter().position(|known| known == part))
                .map(|coil| Change::SwapLeads { coil })
                .collect();
            (seq, changes)
        })
        .collect();
    found.retain(|(_, changes): &(u64, Vec<Change>)| !changes.is_empty());
    found.sort_by_key(|(seq, _)| *seq);
    found
}

/// Joins that somebody means to make: `plan: join green with red`, said as a note or of anything.
fn planned_joins(job: &Job, said: &PolaritySaid, polarity: &Polarity) -> Vec<PlannedJoin> {
    let leads: Vec<(usize, Lead, &str)> = said
        .found
        .coils
        .iter()
        .enumerate()
        .filter(|(_, coil)| coil.leads[0] != crate::said::polarity::HOT_LEAD)
        .flat_map(|(at, coil)| [Lead::First, Lead::Second].map(|lead| (at, lead, coil.name_of(lead))))
        .collect();
    let observed = job.observed.iter().map(|item| (item.seq, item.body.words.as_str()));
    let notes = job.notes.iter().map(|item| (item.seq, item.body.words.as_str()));
    let clauses = observed.chain(notes).flat_map(|(seq, words)| clauses(seq, words));
    clauses
        .filter(|clause| clause.says("join|joining|solder|soldering"))
        .filter_map(|clause| {
            let named: Vec<_> = leads.iter().filter(|(.., name)| clause.has(name)).collect();
            let [a, b] = named.as_slice() else { return None };
            let outcome = judge_join(&said.found, polarity, (a.0, a.1), (b.0, b.1)).ok()?;
            Some(PlannedJoin { seq: clause.seq, leads: [a.2.to_owned(), b.2.to_owned()], outcome })
        })
        .collect()
}

/// A pair of which it was said that together they hum no less.
fn not_cancelling_pair(said: &PolaritySaid, polarity: Option<&Polarity>) -> Option<NotCancelling> {
    let (at, pair) =
        said.found.pairs.iter().enumerate().find(|(_, pair)| pair.hum == Some(HumHeard::NotLess))?;
    let same = |other: &&asfound_electric::polarity::PairHeard| {
        (other.a, other.b) == (pair.a, pair.b) || (other.b, other.a) == (pair.a, pair.b)
    };
    let tone = said.found.pairs.iter().filter(same).find_map(|other| other.tone);
    let magnets_opposite = polarity
        .and_then(|it| it.relation(pair.a, pair.b))
        .and_then(|relation| relation.magnets_alike)
        .map(|alike| !alike);
    let known = Conversion { tone, magnets_opposite, hum: pair.hum, ..Conversion::default() };
    Some(NotCancelling {
        coils: (pair.a, pair.b),
        seq: said.pair_entries[at],
        remains: not_cancelling(&known),
        questions: questions(&known),
    })
}
