//! The piece as a whole, in words.

use asfound_study::bench::{self, WaitsFor};
use asfound_study::record::Body;
use asfound_study::{Job, parts};

use crate::entry;
use crate::lists::{and, capital, count};
use crate::sheet::{Rest, Sheet, Step, Table, Told};

/// The sheet of the page Piece.
pub(crate) fn sheet(job: &Job, workshop: &Job) -> Sheet {
    let mut sheet = Sheet::default();
    sheet.found.extend(job.piece.iter().map(|item| entry::line(item, Body::Piece, job)));
    let whole = job.observed.iter().filter(|item| item.body.part.is_none());
    sheet.found.extend(whole.map(|item| entry::line(item, Body::Observed, job)));
    sheet.found.extend(job.notes.iter().map(|item| entry::line(item, Body::Note, job)));
    sheet.found.extend(job.money.iter().map(|item| entry::line(item, Body::Money, job)));
    let acts = job.acts.iter().filter(|item| item.body.part.is_none());
    sheet.found.extend(acts.map(|item| entry::line(item, Body::Act, job)));
    let pictures = job.photographs.iter().filter(|item| item.body.part.is_none());
    sheet.found.extend(pictures.map(|item| entry::line(item, Body::Photograph, job)));
    sheet.found.sort_by_key(|line| line.seq);

    sheet.means.push(what_it_is(job, workshop));
    sheet.means.push(what_is_on_record(job));
    sheet.means.extend(told_on_paper(job));
    sheet.next = steps(job);
    sheet
}

fn what_it_is(job: &Job, workshop: &Job) -> Told {
    let Some(piece) = &job.piece else {
        return Told {
            id: "what".into(),
            sentence: "What the piece is has not been said.".into(),
            ..Told::default()
        };
    };
    let body = &piece.body;
    let maker = match &body.maker {
        Some(maker) => format!("The maker is told as {maker}"),
        None => "The maker is not known".to_owned(),
    };
    let serial = match &body.serial {
        Some(serial) => format!("the serial number reads {serial}"),
        None => "no serial number was read".to_owned(),
    };
    let owner = body.owner.as_ref().and_then(|id| {
        workshop.persons.iter().find(|item| item.body.person == *id).map(|item| item.body.name.clone())
    });
    let mut rows = vec![vec!["Family".to_owned(), body.family.clone()]];
    rows.extend(body.origin.iter().map(|origin| vec!["How it came".to_owned(), origin.clone()]));
    rows.extend(owner.into_iter().map(|name| vec!["Owner".to_owned(), name]));
    Told {
        id: "what".into(),
        sentence: format!("{}.", capital(body.words.trim_end_matches('.'))),
        sure: format!("{maker}; {serial}. This is what was said or read, not yet what was proved."),
        rests_on: vec![Rest { seq: piece.seq, label: format!("entry {}", piece.seq) }],
        tables: vec![Table { rows, ..Table::with("What was said", &["what", "as told"]) }],
        ..Told::default()
    }
}

fn what_is_on_record(job: &Job) -> Told {
    let known = parts::known(job);
    let disturbed: Vec<&str> =
        known.iter().filter(|part| part.disturbed).map(|part| part.name.as_str()).collect();
    let pictures = count(job.photographs.len(), "photograph", "photographs");
    let readings = count(job.readings.len(), "reading", "readings");
    let sure = match disturbed.as_slice() {
        [] => "Nothing has been disturbed yet: what is on record is as found.".to_owned(),
        [one] => format!("The {one} has been worked on; all else is as found."),
        several => format!("{} parts have been worked on; the others are as found.", several.len()),
    };
    Told {
        id: "on-record".into(),
        sentence: format!(
            "On record are {}, {readings} and {pictures}.",
            count(known.len(), "part", "parts")
        ),
        sure,
        ..Told::default()
    }
}

/// What papers told somebody stands for itself, whatever a later release works out.
fn told_on_paper(job: &Job) -> Option<Told> {
    let last = job.told.last()?;
    let papers = count(job.told.len(), "paper was", "papers were");
    Some(Told {
        id: "told".into(),
        sentence: format!("{} issued; the last is “{}”.", capital(&papers), last.body.title),
        sure: format!("It rested on the entries up to {}.", last.body.head.seq),
        working: last.body.statements.clone(),
        rests_on: vec![Rest { seq: last.seq, label: format!("entry {}", last.seq) }],
        ..Told::default()
    })
}

fn steps(job: &Job) -> Vec<Step> {
    let step = |id: &str, words: String, why: &str| Step {
        id: format!("piece-{id}"),
        words,
        why: why.to_owned(),
        ..Step::default()
    };
    let mut steps = Vec::new();
    for waiting in bench::waits(job) {
        match waiting.what {
            WaitsFor::Photographs => steps.push(step(
                "photographs",
                "Photograph the whole piece, front and back, before anything is touched.".into(),
                "What the lamp shows today cannot be photographed again.",
            )),
            WaitsFor::Parts => steps.push(step(
                "parts",
                "Name the first part: type `part neck coil, coil, neck`.".into(),
                "Readings and photographs bind to parts, and travel with them.",
            )),
            WaitsFor::ParkedAct => {
                steps.push(step(
                    "parked",
                    format!("Go on with what was parked: {}.", waiting.name),
                    "It was left there.",
                ));
            }
            WaitsFor::StepTaken => {
                steps.push(step(
                    "taken",
                    format!("Finish what was taken up: {}", waiting.name),
                    "It waits on its own page.",
                ));
            }
            WaitsFor::UnknownJoins | WaitsFor::UntappedCoils | WaitsFor::UnmeasuredParts => {}
        }
    }
    let missing = missing(job);
    if !missing.is_empty() {
        let words = format!("Ask or look for {}.", and(&missing));
        steps.push(step(
            "identity",
            words,
            "A record without them is hard to tell from another's in twenty years.",
        ));
    }
    steps
}

fn missing(job: &Job) -> Vec<&'static str> {
    let Some(piece) = &job.piece else { return vec!["what the piece is"] };
    let body = &piece.body;
    let mut missing = Vec::new();
    if body.serial.is_none() {
        missing.push("a serial number, or the words `none found`");
    }
    if body.origin.is_none() {
        missing.push("where it came from");
    }
    if body.owner.is_none() {
        missing.push("the owner's name");
    }
    missing
}
