//! Tasks, read from what was said of them and from the library of operations.

use asfound_plan::ThreePoint;
use asfound_plan::library::{DEFERS, Library, Operation, Reversible, Wait};
use asfound_plan::money::Currency;
use asfound_plan::risk::Expected;
use jiff::civil::Date;

use super::lot::expected;
use super::said::{Clause, Unread, cut};

/// What may be done with a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Choice {
    /// Keep it as it is.
    Keep,
    /// Make it playable.
    Playable,
    /// Restore it.
    Restore,
}

impl Choice {
    /// All, from the least to the most.
    pub const ALL: [Choice; 3] = [Choice::Keep, Choice::Playable, Choice::Restore];

    /// The choice that words name and nothing else: `keep the old nut` names none.
    pub(super) fn read(words: &str) -> Option<Choice> {
        match words.trim().to_lowercase().as_str() {
            "keep" | "keep as is" | "keep as it is" | "keep it as it is" => Some(Choice::Keep),
            "playable" | "make playable" | "make it playable" => Some(Choice::Playable),
            "restore" | "restored" | "restore it" => Some(Choice::Restore),
            _ => None,
        }
    }
}

/// A task as it was said.
#[derive(Debug, Clone, PartialEq)]
pub struct TaskSaid {
    /// The entry.
    pub seq: u64,
    /// Its name.
    pub name: String,
    /// The operation of the library that it is.
    pub operation: Option<&'static Operation>,
    /// One's own hands, before the wait.
    pub attended: ThreePoint,
    /// What goes by itself then.
    pub waits: Wait,
    /// One's own hands after the wait.
    pub then: Option<ThreePoint>,
    /// What must be done before, by name.
    pub after: Vec<String>,
    /// Which choices it belongs to; empty for every one in which something is done.
    pub choices: Vec<Choice>,
    /// What is paid for beside the hours.
    pub costs: Vec<Expected>,
    /// Before this day it cannot begin, and for what it waits.
    pub not_before: Option<(Date, String)>,
    /// Whether it must be done within one opening of the bench.
    pub in_one_go: bool,
    /// The evidence it takes away; empty where none is known.
    pub takes_away: String,
    /// Whether it can be undone; `None` where that is not known.
    pub reversible: Option<Reversible>,
}

impl TaskSaid {
    /// What can hurt, each caution with what it defers to.
    pub fn cautions(&self) -> Vec<String> {
        let Some(operation) = self.operation else { return Vec::new() };
        let hazards: Vec<&str> =
            Library::built_in().hazards(operation).map(|hazard| hazard.caution.as_str()).collect();
        if hazards.is_empty() { Vec::new() } else { vec![format!("{}. {DEFERS}", sentence(&hazards))] }
    }

    /// Whether it belongs to a choice.
    pub fn belongs(&self, choice: Choice) -> bool {
        if self.choices.is_empty() { choice != Choice::Keep } else { self.choices.contains(&choice) }
    }
}

fn sentence(hazards: &[&str]) -> String {
    let joined = hazards.join("; ");
    let mut letters = joined.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

const EXAMPLES: &str =
    "say one thing to a clause, for instance 6 to 12 hours, waits 24 hours, after clean board, restore";

/// Reads a task; `None` where it was taken out again.
pub(super) fn read(
    seq: u64,
    name: &str,
    words: &str,
    currency: Option<Currency>,
) -> Result<Option<TaskSaid>, Unread> {
    let clauses = cut(seq, words);
    if clauses.iter().any(|clause| clause.begins("dropped")) {
        return Ok(None);
    }
    let said_as = clauses.iter().find(|clause| clause.begins("as"));
    let operation = match said_as {
        Some(clause) => {
            let id = clause.text.trim_start_matches("as ").trim();
            let known = operation(id);
            Some(known.ok_or_else(|| {
                clause.unread("the library has no such operation; name one by its id, or give hours")
            })?)
        }
        None => operation(name),
    };
    let mut task = TaskSaid {
        seq,
        name: name.to_owned(),
        operation,
        attended: operation.map_or(ThreePoint::NONE, |it| it.attended),
        waits: operation.map_or(Wait::Nothing, |it| it.waits.clone()),
        then: operation.and_then(|it| it.then),
        after: Vec::new(),
        choices: Vec::new(),
        costs: Vec::new(),
        not_before: None,
        in_one_go: operation.is_some_and(|it| it.in_one_go),
        takes_away: operation.map(|it| it.photograph_first.clone()).unwrap_or_default(),
        reversible: operation.map(|it| it.reversible),
    };
    for clause in clauses.iter().filter(|clause| Some(*clause) != said_as) {
        task.take(clause, currency)?;
    }
    if task.operation.is_none() && task.attended == ThreePoint::NONE && task.waits == Wait::Nothing {
        let sentence = format!(
            "how long it takes is not said, and the library of operations does not know it; give hours, for instance \
             6 to 12 hours, or name an operation, such as {}",
            nearest(name)
        );
        return Err(Unread::new(seq, name, &sentence));
    }
    Ok(Some(task))
}

/// An operation by its id or its name, or by words that only one of them has: `clean pots`, `dry joint`.
fn operation(name: &str) -> Option<&'static Operation> {
    let wanted = name.trim().to_lowercase();
    let id = wanted.replace(' ', "-");
    let all = || Library::built_in().operations().iter();
    let exactly = all().find(|it| it.id == id || it.name == wanted);
    exactly.or_else(|| {
        let wanted = plain_words(&wanted);
        let has_all = |it: &&Operation| {
            let known = plain_words(&format!("{} {}", it.id, it.name));
            wanted.iter().all(|word| known.contains(word))
        };
        // One word alone, such as lacquer, is a name of one's own.
        let mut found = all().filter(has_all).filter(|_| wanted.len() > 1);
        found.next().filter(|_| found.next().is_none())
    })
}

/// Words without articles, one or many alike.
fn plain_words(text: &str) -> Vec<String> {
    text.split(|sign: char| !sign.is_alphanumeric())
        .map(|word| word.strip_suffix('s').unwrap_or(word).to_owned())
        .filter(|word| !["", "a", "an", "the", "of", "it"].contains(&word.as_str()))
        .collect()
}

/// The three operations whose names are spelt most like this, by id.
fn nearest(name: &str) -> String {
    let name: String = name.chars().take(LONGEST_NAME).collect::<String>().to_lowercase();
    let apart = |it: &&Operation| strsim::damerau_levenshtein(&it.id, &name.replace(' ', "-"));
    let mut all: Vec<&Operation> = Library::built_in().operations().iter().collect();
    all.sort_by_key(apart);
    all.iter().take(3).map(|it| it.id.as_str()).collect::<Vec<_>>().join(", ")
}

/// More letters than this are no slip of a name.
const LONGEST_NAME: usize = 60;

impl TaskSaid {
    fn take(&mut self, clause: &Clause, currency: Option<Currency>) -> Result<(), Unread> {
        let begins = |words| clause.begins(words);
        if begins("after") {
            let names = clause.text.get(5..).unwrap_or_default();
            self.after.extend(names.split(" and ").map(|name| name.trim().to_owned()));
        } else if begins("not before") {
            self.not_before = Some(day_and_reason(clause)?);
        } else if begins("in one go") {
            self.in_one_go = true;
        } else if begins("takes away") || begins("loses") {
            let words = clause.text.strip_prefix("takes away").or(clause.text.strip_prefix("loses"));
            self.takes_away = words.unwrap_or(&clause.text).trim().to_owned();
        } else if begins("cannot be undone") || begins("irreversible") {
            self.reversible = Some(Reversible::No);
        } else if begins("can be undone") || begins("reversible") {
            self.reversible = Some(Reversible::Fully);
        } else if begins("cure") {
            self.waits = cure(clause)?;
        } else {
            self.take_figures(clause, currency)?;
        }
        Ok(())
    }

    fn take_figures(&mut self, clause: &Clause, currency: Option<Currency>) -> Result<(), Unread> {
        let wait = clause.begins("waits") || clause.begins("cures") || clause.begins("dries");
        let hours = clause.hours(&self.name)?;
        match hours {
            Some(hours) if wait => self.waits = Wait::Hours(hours),
            Some(hours) if clause.begins("then") => self.then = Some(hours),
            Some(hours) => self.attended = hours,
            None if !clause.figures().is_empty() => {
                self.costs.push(expected(&format!("{}: {}", self.name, clause.text), clause, currency)?);
            }
            None => {
                let choices: Vec<Choice> = clause.text.split(" and ").filter_map(Choice::read).collect();
                if choices.is_empty() {
                    return Err(clause.unread(EXAMPLES));
                }
                self.choices.extend(choices);
            }
        }
        Ok(())
    }
}

fn cure(clause: &Clause) -> Result<Wait, Unread> {
    let id = clause.text.get(4..).unwrap_or_default().trim().to_lowercase().replace(' ', "-");
    match Library::built_in().cure(&id) {
        Some(cure) => Ok(Wait::Cure(cure.id.clone())),
        None => Err(clause.unread(
            "the library knows no such cure; give its hours from the tin, for instance cures 24 hours",
        )),
    }
}

/// `not before 2026-12-03 for fret wire`.
fn day_and_reason(clause: &Clause) -> Result<(Date, String), Unread> {
    let day = clause.text.split_whitespace().find_map(|word| word.parse::<Date>().ok());
    let day = day
        .ok_or_else(|| clause.unread("a day is wanted, for instance not before 2026-12-03 for fret wire"))?;
    Ok((day, clause.behind("for").unwrap_or("parts").to_owned()))
}
