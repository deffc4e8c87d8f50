//! During the work and after it: hours, what cures, what is waited for, what is billed, what is due.

use asfound_study::plan::{Curing, Due, Hours, InvoiceAnswer, PartOfUnit, Plan, SpentOn, Way};

use super::{hours, moment, spent_time};
use crate::lists::{and, capital, count};
use crate::sheet::{Rest, Step, Table, Told};
use crate::time::day;

pub(super) fn told(plan: &Plan) -> Vec<Told> {
    let mut told = Vec::new();
    told.extend(curing(&plan.curing));
    told.extend(waited_for(plan));
    told.extend(spent(plan));
    told.extend(plan.invoice.as_ref().map(invoice));
    told.extend(due(&plan.due));
    told
}

fn curing(curing: &[Curing]) -> Option<Told> {
    let first = curing.iter().min_by_key(|it| it.over[1])?;
    let mut table = Table::with("What cures", &["task", "soonest", "likely", "at the latest"]);
    table.rows = curing
        .iter()
        .map(|it| std::iter::once(it.name.clone()).chain(it.over.iter().map(moment)).collect())
        .collect();
    let [_, likely, latest] = &first.over;
    Some(Told {
        id: "curing".into(),
        sentence: format!("{} cures, likely until {}.", capital(&first.name), moment(likely)),
        sure: format!("At the latest it is {}; the tin's own figure comes first.", moment(latest)),
        rests_on: Rest::on_all(curing.iter().map(|it| it.seq)),
        tables: vec![table],
        ..Told::default()
    })
}

/// Parts that a task waits for.
fn waited_for(plan: &Plan) -> Option<Told> {
    let waits = |name: &str| plan.spent.by_task.iter().all(|on| on.name != name);
    let waiting: Vec<_> = plan
        .tasks
        .iter()
        .filter(|task| waits(&task.name))
        .filter_map(|task| task.not_before.as_ref().map(|(day, what)| (task, *day, what)))
        .collect();
    let (task, when, what) = waiting.iter().min_by_key(|(_, day, _)| *day)?;
    let others = match waiting.len() {
        1 => "Nothing else is waited for.".to_owned(),
        more => format!("{} more is waited for.", count(more - 1, "thing", "things")),
    };
    Some(Told {
        id: "waited-for".into(),
        sentence: format!("{} waits for {what}, not before {}.", capital(&task.name), day(&when.to_string())),
        sure: others,
        rests_on: Rest::on_all(waiting.iter().map(|(task, _, _)| task.seq)),
        ..Told::default()
    })
}

/// Hours against what was thought of.
fn spent(plan: &Plan) -> Option<Told> {
    if plan.spent.by_task.is_empty() {
        return None;
    }
    let over: Vec<&str> =
        plan.spent.by_task.iter().filter(|on| on.is_over()).map(|on| on.name.as_str()).collect();
    let mut table = Table::with(
        "Hours against the estimate",
        &["task", "#so far", "#least", "#likely", "#most", "hands done"],
    );
    table.rows = plan.spent.by_task.iter().map(row).collect();
    let sure = if over.is_empty() {
        "What is left is reckoned from what was thought less what was spent.".to_owned()
    } else {
        format!("{} took longer than the most that was thought, and is not done.", capital(&and(&over)))
    };
    Some(Told {
        id: "hours".into(),
        sentence: format!("So far {} of hands are written down.", spent_time(plan.spent.hours())),
        sure,
        next: Vec::from_iter(over.first().map(|name| Step {
            id: "say-hours-anew".into(),
            words: format!("Say anew how long {name} takes, in all."),
            why: format!(
                "As “task {name}, 6 to 12 hours”; until then nothing is counted for what is left of it."
            ),
            ..Step::default()
        })),
        rests_on: Rest::on_all(plan.spent.by_task.iter().flat_map(|on| on.rests_on.iter().copied())),
        shown: vec![table],
        ..Told::default()
    })
}

fn row(on: &SpentOn) -> Vec<String> {
    let figures = match on.thought {
        None => ["", "", ""].map(str::to_owned),
        Some((before, after)) => {
            let after = after.map_or([0.0; 3], |it| [it.optimistic().0, it.likely().0, it.pessimistic().0]);
            let before = [before.optimistic().0, before.likely().0, before.pessimistic().0];
            [0, 1, 2].map(|at| hours(Hours(before[at] + after[at])))
        }
    };
    let [least, likely, most] = figures;
    let done = if on.is_done() { "yes" } else { "" };
    vec![on.name.clone(), spent_time(on.hours), least, likely, most, done.to_owned()]
}

fn invoice(invoice: &InvoiceAnswer) -> Told {
    let dues: Vec<String> = invoice.ways.iter().map(|way| way.owed.due.to_string()).collect();
    let sentence = match dues.as_slice() {
        [only] if only.starts_with('-') => {
            let credit = only.trim_start_matches('-');
            format!("Billed today, {credit} of what was received would stand to the owner's credit.")
        }
        [only] => format!("Billed today there would be {only} to pay."),
        several => format!(
            "Billed today there would be {} to pay, by how the terms are read.",
            crate::lists::or(several)
        ),
    };
    let sure = if invoice.ways.len() > 1 {
        "The terms do not say what becomes of a part of a unit of time, and it matters: the signed paper decides."
    } else {
        "It is the hours so far at the rate, with what was bought, less what was received."
    };
    Told {
        id: "invoice".into(),
        sentence,
        sure: sure.into(),
        tables: invoice.ways.iter().map(|way| bill(invoice, way)).collect(),
        rests_on: Rest::on_all(invoice.bought.iter().chain(&invoice.received).map(|(seq, _, _)| *seq)),
        assumptions: vec![
            "Of the sums on record those that begin with “materials” or “parts” are charged; those that speak of a deposit, a credit or something sold stand to the owner's credit.".into(),
            "Tax is reckoned once for each rate; which way a country asks for is a matter of local law.".into(),
        ],
        money: true,
        ..Told::default()
    }
}

fn bill(invoice: &InvoiceAnswer, way: &Way) -> Table {
    let how = match way.part {
        None => "",
        Some(PartOfUnit::CountsWhole) => ", a unit begun billed whole",
        Some(PartOfUnit::ToTheNearest) => ", to the nearest unit",
    };
    let mut table = Table::with(&format!("The invoice as of now{how}"), &["line", "#sum"]);
    let mut row = |line: String, sum: String| table.rows.push(vec![line, sum]);
    let names = std::iter::once(format!("{} at {} an hour", way.billed, invoice.rate));
    let names = names.chain(invoice.bought.iter().map(|(_, what, _)| what.clone()));
    for (name, sum) in names.zip(&way.owed.lines) {
        row(name, sum.to_string());
    }
    for tax in &way.owed.taxes {
        row(format!("tax of {} on {}", tax.rate, tax.of), tax.tax.to_string());
    }
    row("together".into(), way.owed.total.to_string());
    for (_, what, sum) in &invoice.received {
        row(format!("received: {what}"), sum.to_string());
    }
    row("to pay".into(), way.owed.due.to_string());
    table
}

fn due(due: &[Due]) -> Option<Told> {
    let first = due.first()?;
    let mut table = Table::with("What is due", &["when", "what"]);
    table.rows = due.iter().map(|it| vec![day(&it.day.to_string()), it.words.clone()]).collect();
    Some(Told {
        id: "due".into(),
        sentence: format!("Due on {}: {}.", day(&first.day.to_string()), first.words),
        sure: match due.len() {
            1 => "Nothing else is due.".to_owned(),
            more => format!("{} more are listed.", more - 1),
        },
        rests_on: Rest::on_all(due.iter().map(|it| it.seq)),
        tables: vec![table],
        ..Told::default()
    })
}
