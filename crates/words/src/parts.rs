//! The parts in words.

use asfound_study::Job;
use asfound_study::parts::{self, PartKnown};
use asfound_study::record::Body;
use asfound_study::{component_marks, readings};

use crate::lists::{and, capital, count};
use crate::sheet::{FoundLine, Rest, Sheet, Step, Table, Told};
use crate::{cautions, entry};

/// The sheet of the page Parts.
pub(crate) fn sheet(job: &Job, workshop: &Job) -> Sheet {
    let mut sheet = Sheet { found: found(job), ..Sheet::default() };
    let known = parts::known(job);
    sheet.means.push(if known.is_empty() { no_part() } else { count_of_parts(&known) });
    let marked = component_marks::study(job, &readings::study(job, workshop));
    sheet.means.extend(crate::component_marks::findings(&marked, job));
    sheet.means.extend(known.iter().filter(|part| is_told(part)).map(one_part));
    sheet.means.extend(unmeasured(&known, job));
    sheet.means.extend(unbound(job));
    sheet
}

fn found(job: &Job) -> Vec<FoundLine> {
    let mut lines: Vec<(u64, FoundLine)> = Vec::new();
    lines.extend(job.parts.iter().map(|part| (part.item.root, entry::line(&part.item, Body::Part, job))));
    let seen = job.observed.iter().filter(|item| item.body.part.is_some());
    lines.extend(seen.map(|item| (item.root, entry::line(item, Body::Observed, job))));
    let done = job.acts.iter().filter(|item| item.body.part.is_some());
    lines.extend(done.map(|item| (item.root, entry::line(item, Body::Act, job))));
    let pictures = job.photographs.iter().filter(|item| item.body.part.is_some());
    lines.extend(pictures.map(|item| (item.root, entry::line(item, Body::Photograph, job))));
    entry::in_order(lines)
}

fn no_part() -> Told {
    Told {
        id: "count".into(),
        sentence: "No part is named yet.".into(),
        sure: "Readings and photographs bind to parts, and travel with them.".into(),
        ..Told::default()
    }
}

fn is_told(part: &PartKnown) -> bool {
    !part.as_found.is_empty() || !part.later.is_empty() || !part.acts.is_empty()
}

fn count_of_parts(known: &[PartKnown]) -> Told {
    let pieces: u32 = known.iter().map(|part| part.count).sum();
    let bare: Vec<&str> =
        known.iter().filter(|part| part.photographs == 0).map(|part| part.name.as_str()).collect();
    let sure = match bare.len() {
        0 => "Each has a photograph.".to_owned(),
        one if one == known.len() => "No photograph yet.".to_owned(),
        1 => format!("All but the {} have a photograph.", bare[0]),
        several => format!("{several} of them have no photograph yet."),
    };
    let mut table = Table::with(
        "Parts and where they were found",
        &["no.", "part", "sort", "place", "#photos", "#readings"],
    );
    table.rows = known
        .iter()
        .map(|part| {
            let name =
                if part.count > 1 { format!("{} (× {})", part.name, part.count) } else { part.name.clone() };
            vec![
                part.id.clone(),
                name,
                part.sort.clone(),
                part.place.clone(),
                part.photographs.to_string(),
                part.readings.to_string(),
            ]
        })
        .collect();
    let words = count(known.len(), "part", "parts");
    let sentence = if pieces as usize == known.len() {
        format!("{} on record.", capital(&words))
    } else {
        format!("{} on record, {pieces} pieces in all.", capital(&words))
    };
    Told { id: "count".into(), sentence, sure, tables: vec![table], ..Told::default() }
}

fn one_part(part: &PartKnown) -> Told {
    let first = part.as_found.first().or(part.later.first()).or(part.acts.first());
    let said = first.map(|(_, words)| words.as_str()).unwrap_or_default();
    let sure = match (part.disturbed, part.as_found.is_empty()) {
        (false, _) => "As found; nothing has been done to it.".to_owned(),
        (true, false) => "As found before it was worked on.".to_owned(),
        (true, true) => "Its state as found was not described before it was worked on.".to_owned(),
    };
    let mut working = Vec::new();
    let mut told = |heading: &str, list: &[(u64, String)]| {
        if !list.is_empty() {
            let words: Vec<&str> = list.iter().map(|(_, words)| words.as_str()).collect();
            working.push(format!("{heading}: {}.", words.join("; ")));
        }
    };
    told("As found", &part.as_found);
    told("Later", &part.later);
    told("Done", &part.acts);
    let rests = part.as_found.iter().chain(&part.later).chain(&part.acts);
    Told {
        id: format!("part-{}", part.id),
        sentence: format!("{}: {said}.", capital(&part.name)),
        sure,
        working,
        rests_on: rests.map(|(seq, _)| Rest::on(*seq)).collect(),
        ..Told::default()
    }
}

fn unmeasured(known: &[PartKnown], job: &Job) -> Option<Told> {
    let missing: Vec<&PartKnown> = known.iter().filter(|part| part.unmeasured).collect();
    let names: Vec<String> = missing.iter().map(|part| format!("the {}", part.name)).collect();
    let first = missing.first()?;
    Some(Told {
        id: "unmeasured".into(),
        sentence: format!("Not measured: {}.", and(&names)),
        sure: "Not measured is not the same as good or bad.".into(),
        next: vec![Step {
            id: format!("measure-{}", first.id),
            words: format!("Put the meter to the {}.", first.name),
            why: "Every later finding about it leans on this.".into(),
            caution: cautions::metering(job).into(),
            ..Step::default()
        }],
        ..Told::default()
    })
}

/// Entries that name a part which is not on record, such as one that was struck out.
fn unbound(job: &Job) -> Option<Told> {
    let first = job.unbound.first()?;
    Some(Told {
        id: "unbound".into(),
        sentence: format!(
            "{} a part that is not on record.",
            if job.unbound.len() == 1 {
                format!("Entry {first} names")
            } else {
                format!("{} entries name", job.unbound.len())
            }
        ),
        sure: "They are kept. Name the part, or correct them.".into(),
        rests_on: Rest::on_all(job.unbound.iter().copied()),
        ..Told::default()
    })
}
