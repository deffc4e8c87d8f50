//! What may be paid, what is to be done, what it costs and when it is ready, in words.

mod after;
mod choices;
mod lot;
mod proposal;

pub use proposal::proposal;

use asfound_study::material::Material;
use asfound_study::plan::{Ask, Choice, Hours, Minutes, Money, Plan, Unread, at_hand, study};
use asfound_study::record::Body;
use asfound_study::{Job, bench};

use crate::lists::{capital, count};
use crate::sheet::{FoundLine, Rest, Sheet, Step, Table, Told};
use crate::{cautions, entry};

/// The sheet of the page.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let job = &*material.job;
    let plan = study(job, &material.before.plans);
    let mut means = Vec::new();
    means.extend(asked_first(&plan));
    means.extend(lot::ceiling(&plan));
    means.extend(lot::value(&plan));
    means.extend(choices::agreed(&plan));
    means.extend(choices::order(&plan));
    means.extend(taken_up(job, &plan));
    means.extend(choices::side_by_side(&plan));
    means.extend(choices::costs(&plan));
    means.extend(after::told(&plan));
    means.extend(plan.no_calendar.iter().map(no_calendar));
    means.extend(plan.unread.iter().enumerate().map(unread));
    if means.is_empty() {
        means.push(nothing_said());
    }
    let cautions = cautions::of_piece(job).map(str::to_owned).into_iter().collect();
    Sheet { found: found(job), means, cautions, ..Sheet::default() }
}

/// A button that writes hours down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimeButton {
    /// What it shows.
    pub shown: String,
    /// Its name for who does not see it; it begins with what it shows.
    pub name: String,
    /// The line that it makes.
    pub line: String,
}

/// What stands on buttons that write hours down.
const TIMES: [&str; 4] = ["15 min", "30 min", "1 h", "2 h"];

/// Each task that is at hand, with the buttons that write hours down for it; the last of them says that it is done.
pub fn hours_to_press(job: &Job) -> Vec<(String, Vec<TimeButton>)> {
    let buttons = |task: &String| {
        let time = |time: &&str| TimeButton {
            shown: (*time).to_owned(),
            name: format!("{time} at {task}"),
            line: format!("hours {time} {task}"),
        };
        let done = TimeButton {
            shown: "15 min, done".to_owned(),
            name: format!("15 min, done: {task}"),
            line: format!("hours 15 min {task}, done"),
        };
        TIMES.iter().map(time).chain([done]).collect()
    };
    at_hand(job).iter().map(|task| (task.clone(), buttons(task))).collect()
}

/// The entries of a plan, in the order they were kept.
fn found(job: &Job) -> Vec<FoundLine> {
    let mut lines: Vec<(u64, FoundLine)> = Vec::new();
    lines.extend(job.terms.iter().map(|item| (item.root, entry::line(item, Body::Terms, job))));
    lines.extend(job.tasks.iter().map(|item| (item.root, entry::line(item, Body::Task, job))));
    lines.extend(job.hours.iter().map(|item| (item.root, entry::line(item, Body::Hours, job))));
    entry::in_order(lines)
}

fn nothing_said() -> Told {
    Told {
        id: "nothing".into(),
        sentence: "Nothing of a purchase or of work to do was said yet.".into(),
        sure: "Say it a piece at a time, in any order.".into(),
        next: vec![Step {
            id: "say-a-plan".into(),
            words: "Say what is to be done, or what a sale charges.".into(),
            why: "As “task refret, restore” or “lot premium 25 %, tax 20 % on the premium”.".into(),
            ..Step::default()
        }],
        ..Told::default()
    }
}

/// Who pays, and whether it is to be kept: asked before anything is worked out from it.
fn asked_first(plan: &Plan) -> Option<Told> {
    let asked = plan.asked();
    let (pays, keep) = (asked.contains(&Ask::WhoPays), asked.contains(&Ask::KeepOrSell));
    let is_about_money = plan.lot.ceiling.is_some() || !plan.tasks.is_empty();
    let sentence = match (pays, keep) {
        (true, true) => "Who pays, and whether the piece is to be kept or sold, was not said.",
        (true, false) => "Who pays was not said.",
        (false, true) => "Whether the piece is to be kept or sold was not said.",
        (false, false) => return None,
    };
    is_about_money.then(|| Told {
        id: "first".into(),
        sentence: sentence.into(),
        sure: "It decides what is worth doing: kept, the budget rules; sold, the value after the work less work, margin and risk.".into(),
        next: vec![Step {
            id: "say-who-pays".into(),
            words: "Ask who pays, and whether it is to be kept or sold.".into(),
            why: "As “lot the owner pays, to keep, budget 5000 GBP”, or “lot to sell, margin 15 %”.".into(),
            ..Step::default()
        }],
        money: true,
        ..Told::default()
    })
}

/// Steps that were taken up on other pages and have no task yet.
fn taken_up(job: &Job, plan: &Plan) -> Option<Told> {
    let in_plan =
        |words: &str| plan.tasks.iter().any(|task| words.to_lowercase().contains(&task.name.to_lowercase()));
    let taken: Vec<String> = bench::steps_taken(job).into_iter().filter(|words| !in_plan(words)).collect();
    let first = taken.first()?;
    let mut table = Table::with("Taken up", &["step"]);
    table.rows = taken.iter().map(|words| vec![words.clone()]).collect();
    Some(Told {
        id: "taken-up".into(),
        sentence: format!("{} taken up and is no task yet.", capital(&count(taken.len(), "step was", "steps were"))).replace("were taken up and is no task", "were taken up and are no tasks"),
        sure: format!("The first: “{}”", first.trim_end_matches('.')),
        next: vec![Step {
            id: "say-tasks".into(),
            words: "Say each as a task with its hours.".into(),
            why: "As “task rewind the neck coil, as rewind, restore”: an operation of the library brings its hours.".into(),
            ..Step::default()
        }],
        shown: vec![table],
        ..Told::default()
    })
}

fn no_calendar(why: &String) -> Told {
    Told {
        id: "no-calendar".into(),
        sentence: format!("The work cannot be laid out: {why}."),
        sure: "Everything else stands.".into(),
        ..Told::default()
    }
}

/// Words that were kept and cannot be read.
fn unread((number, unread): (usize, &Unread)) -> Told {
    Told {
        id: format!("unread-{number}"),
        sentence: format!("“{}” is kept and not reckoned with.", unread.read),
        sure: format!("{}.", capital(unread.sentence.trim_end_matches('.'))),
        rests_on: vec![Rest::on(unread.seq)],
        money: true,
        ..Told::default()
    }
}

/// A choice by its name.
fn choice(choice: Choice) -> &'static str {
    match choice {
        Choice::Keep => "keep as it is",
        Choice::Playable => "make it playable",
        Choice::Restore => "restore it",
    }
}

/// Hours as a bench says them: to the quarter under ten, whole above.
fn hours(hours: Hours) -> String {
    let Hours(figure) = hours;
    let rounded = if figure < 10.0 { (figure * 4.0).round() / 4.0 } else { figure.round() };
    format!("{rounded} h")
}

/// Time that was written down, to the minute.
fn spent_time(hours: f64) -> String {
    Minutes((hours * 60.0).round() as u32).to_string()
}

/// A sum that is only estimated: to two digits, since a third would be false.
fn about(sum: Money) -> String {
    let mut unit = 1;
    while sum.minor().abs() / unit >= 100 {
        unit *= 10;
    }
    let rounded = (sum.minor() + unit / 2) / unit * unit;
    let sum = Money::of_minor(rounded, sum.currency()).unwrap_or(sum).to_string();
    sum.replace(".00 ", " ")
}

/// A sum, or both ends where they differ.
fn range(low: Money, high: Money) -> String {
    if low == high { low.to_string() } else { format!("{low} to {high}") }
}

/// `5 May 2026, 15:00` as the bench's clock shows it.
fn moment(at: &impl ToString) -> String {
    let text = at.to_string();
    format!("{}, {}", crate::time::day(&text), text.get(11..16).unwrap_or_default())
}
