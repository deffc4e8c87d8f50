//! The parts in words.

use asfound_study::Job;
use asfound_study::parts::{self, PartKnown};
use asfound_study::record::Body;

use crate::entry;
use crate::lists::{and, capital, count};
use crate::sheet::{Rest, Sheet, Step, Table, Told};

/// The sheet of the page Parts.
pub(crate) fn sheet(job: &Job) -> Sheet {
    let mut sheet = Sheet::default();
    sheet.found.extend(job.parts.iter().map(|part| entry::line(&part.item, Body::Part, job)));
    let seen = job.observed.iter().filter(|item| item.body.part.is_some());
    sheet.found.extend(seen.map(|item| entry::line(item, Body::Observed, job)));
    let done = job.acts.iter().filter(|item| item.body.part.is_some());
    sheet.found.extend(done.map(|item| entry::line(item, Body::Act, job)));
    let pictures = job.photographs.iter().filter(|item| item.body.part.is_some());
    sheet.found.extend(pictures.map(|item| entry::line(item, Body::Photograph, job)));
    sheet.found.sort_by_key(|line| line.seq);

    let known = parts::known(job);
    if known.is_empty() {
        return sheet;
    }
    sheet.means.push(count_of_parts(&known));
    sheet.means.extend(known.iter().filter(|part| is_told(part)).map(one_part));
    sheet.means.extend(unmeasured(&known));
    sheet.means.extend(unbound(job));
    sheet
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
        rests_on: rests.map(|(seq, _)| Rest { seq: *seq, label: format!("entry {seq}") }).collect(),
        ..Told::default()
    }
}

fn unmeasured(known: &[PartKnown]) -> Option<Told> {
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
            caution: "Unplug from any amplifier before metering.".into(),
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
        rests_on: job.unbound.iter().map(|seq| Rest { seq: *seq, label: format!("entry {seq}") }).collect(),
        ..Told::default()
    })
}
