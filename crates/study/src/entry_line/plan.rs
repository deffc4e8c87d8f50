//! What is charged, agreed and due, what is to be done and how long it took, in the entry line.

use asfound_record::{Body, Hours1, Job, Task1, Terms1};

use super::{Heard, NotHeard, WhyNot, not_heard, plain};
use crate::plan::{self, Unread};

/// Hears `lot …`, `work …`, `agreed …` and `due …`.
pub(super) fn terms(line: &str, of: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    plan::check(job, of, rest).map_err(|unread| refused(line, &unread, examples(of)))?;
    Ok(plain(Body::Terms(Terms1 { of: of.to_owned(), words: rest.to_owned() })))
}

/// Hears `task refret, 6 to 12 hours, after clean board, restore`.
pub(super) fn task(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (name, words) = rest.split_once(',').unwrap_or((rest, ""));
    let (name, words) = (name.trim(), words.trim());
    plan::check_task(job, name, words).map_err(|unread| refused(line, &unread, &TASKS))?;
    Ok(plain(Body::Task(Task1 { task: name.to_owned(), words: words.to_owned() })))
}

/// Hears `hours 1h20 refret, done, two swabs`.
pub(super) fn hours(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let fail =
        || not_heard(line, rest, WhyNot::NoHours, &["hours 1h20 refret", "hours 45 min clean board, done"]);
    let (minutes, said) = plan::minutes(rest).ok_or_else(fail)?;
    let mut pieces = said.splitn(2, ',').map(str::trim);
    let (name, more) = (pieces.next().unwrap_or_default(), pieces.next().unwrap_or_default());
    if name.is_empty() {
        return Err(fail());
    }
    let known = job.tasks.iter().rev().find(|item| item.body.task.eq_ignore_ascii_case(name));
    let task = known.map_or(name, |item| &item.body.task).to_owned();
    let (first, behind) = more.split_once(',').unwrap_or((more, ""));
    let done = first.trim().eq_ignore_ascii_case("done");
    let words = if done { behind.trim() } else { more }.to_owned();
    Ok(plain(Body::Hours(Hours1 { task, minutes, done, words, happened: None })))
}

fn refused(line: &str, unread: &Unread, hints: &[&str]) -> NotHeard {
    not_heard(line, &unread.read, WhyNot::Plan(unread.sentence.clone()), hints)
}

const TASKS: [&str; 3] = [
    "task refret, after clean board, restore",
    "task level frets, 3 to 6 hours, playable",
    "task lacquer, 2 hours, cures 72 hours, after strip, restore",
];

fn examples(of: &str) -> &'static [&'static str] {
    match of {
        plan::LOT => &[
            "lot premium 25 %, tax 20 % on the premium, bid step 100 GBP",
            "lot budget 5000 GBP, to keep, the owner pays",
            "lot value restored 4000 to 5500 GBP by three sales this year",
        ],
        plan::WORK => &["work rate 60 GBP an hour", "work open weekdays 9 to 17", "work room 15 to 22 C"],
        plan::AGREED => &["agreed restore, up to 1800 GBP, by telephone"],
        _ => &["due bias in 6 months", "due guard looked at for gassing 2027-05-01"],
    }
}
