//! The piece as a whole, in words.

use std::collections::BTreeSet;

use asfound_study::bench::{self, WaitsFor};
use asfound_study::record::{Body, FoldFinding, Line, Standing};
use asfound_study::{Job, parts};

use crate::lists::{and, capital, count};
use crate::page::historic;
use crate::sheet::{FoundLine, Rest, Sheet, Step, Table, Told};
use crate::viewing::is_an_answer;
use crate::{cautions, entry};

/// The sheet of the page Piece.
pub(crate) fn sheet(job: &Job, workshop: &Job) -> Sheet {
    let mut sheet = Sheet { found: found(job), ..Sheet::default() };
    sheet.cautions.extend(cautions::of_piece(job).map(str::to_owned));
    sheet.means.push(what_it_is(job, workshop));
    sheet.means.push(what_is_on_record(job));
    sheet.means.extend(told_on_paper(job));
    sheet.means.extend(about_the_chain(job));
    sheet.next = steps(job);
    sheet
}

/// What is said of the whole piece, and whatever no other page shows.
fn found(job: &Job) -> Vec<FoundLine> {
    let mut lines: Vec<(u64, FoundLine)> = Vec::new();
    lines.extend(job.piece.iter().map(|item| (item.root, entry::line(item, Body::Piece, job))));
    let whole = job.observed.iter().filter(|item| item.body.part.is_none() && !is_an_answer(item));
    lines.extend(whole.map(|item| (item.root, entry::line(item, Body::Observed, job))));
    lines.extend(job.notes.iter().map(|item| (item.root, entry::line(item, Body::Note, job))));
    lines.extend(job.money.iter().map(|item| (item.root, entry::line(item, Body::Money, job))));
    let acts = job.acts.iter().filter(|item| item.body.part.is_none());
    lines.extend(acts.map(|item| (item.root, entry::line(item, Body::Act, job))));
    let pictures = job.photographs.iter().filter(|item| item.body.part.is_none());
    lines.extend(pictures.map(|item| (item.root, entry::line(item, Body::Photograph, job))));
    let shown: BTreeSet<u64> = lines.iter().map(|(_, line)| line.seq).chain(elsewhere(job)).collect();
    let left = job.history.iter().filter(|line| stands(&line.standing) && !is_bookkeeping(line, job));
    let left = left.filter(|line| !shown.contains(&line.seq));
    lines.extend(left.map(|line| (line.seq, historic(job, line.seq))));
    entry::in_order(lines)
}

/// Entries that stand on the pages of parts, readings, wiring and the viewing.
fn elsewhere(job: &Job) -> impl Iterator<Item = u64> + '_ {
    let parts = job.parts.iter().map(|part| part.item.seq);
    let seen = job.observed.iter().filter(|item| item.body.part.is_some() || is_an_answer(item));
    let seen = seen.map(|item| item.seq);
    let done = job.acts.iter().filter(|item| item.body.part.is_some()).map(|item| item.seq);
    let pictures = job.photographs.iter().filter(|item| item.body.part.is_some()).map(|item| item.seq);
    let readings = job.readings.iter().map(|item| item.seq);
    parts
        .chain(seen)
        .chain(done)
        .chain(pictures)
        .chain(readings)
        .chain(job.traces.iter().map(|item| item.seq))
        .chain(job.terms.iter().map(|item| item.seq))
        .chain(job.tasks.iter().map(|item| item.seq))
        .chain(job.hours.iter().map(|item| item.seq))
}

fn stands(standing: &Standing) -> bool {
    matches!(standing, Standing::Stands | Standing::Unread)
}

/// The chain's own bookkeeping: how the job was opened stands in its title, decisions with their steps, papers in a
/// finding of their own, and what strikes out or withholds with the entry it is about.
fn is_bookkeeping(line: &Line, job: &Job) -> bool {
    let opened = job.opened.as_ref().is_some_and(|item| item.seq == line.seq);
    opened || ["decided/1", "told/1", "struck/1", "withheld/1"].contains(&line.kind.as_str())
}

fn what_it_is(job: &Job, workshop: &Job) -> Told {
    let Some(piece) = &job.piece else {
        return Told {
            id: "what".into(),
            sentence: "What the piece is has not been said.".into(),
            sure: "Nothing else waits for it.".into(),
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
        sure: format!(
            "{}; {serial}. This is what was said or read, not yet what was proved.",
            maker.trim_end_matches('.')
        ),
        rests_on: vec![Rest::on(piece.seq)],
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
        _ if job.whole.first_disturbed.is_some() => {
            "Something was done to the whole piece; what was seen before that is as found.".to_owned()
        }
        [] => "Nothing has been disturbed yet: what is on record is as found.".to_owned(),
        [one] => format!("The {one} has been worked on; all else is as found."),
        several if several.len() == known.len() => "Every part has been worked on.".to_owned(),
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
        rests_on: vec![Rest::on(last.seq)],
        ..Told::default()
    })
}

/// What a person should know about the chain itself. Nothing was left out for it.
fn about_the_chain(job: &Job) -> impl Iterator<Item = Told> + '_ {
    job.findings.iter().enumerate().map(|(at, finding)| {
        let seq = finding.seq();
        let sentence = match finding {
            FoldFinding::SamePart { part, .. } => {
                format!("Entry {seq} gives the short number {part} to a second part; what names {part} is told with the first.")
            }
            FoldFinding::SecondPiece { .. } => {
                format!("Entry {seq} says anew what the piece is, without correcting the entry before; the last one counts.")
            }
            FoldFinding::SecondOpening { .. } => format!("Entry {seq} opens the job a second time; the first counts."),
            FoldFinding::CorrectsNothing { .. } => {
                format!("Entry {seq} corrects an entry that is not here before it; it stands on its own.")
            }
            FoldFinding::WithholdsNothing { .. } => format!("Entry {seq} withholds an entry that is not here before it."),
            FoldFinding::Gap { .. } => format!("Entries are missing before entry {seq}."),
            FoldFinding::NotAfter { .. } => format!("Entry {seq} came out of its order and was not taken in."),
            FoldFinding::OtherChain { chain, .. } => {
                format!("Entry {seq} of the chain {chain} is not of this job and was not taken in.")
            }
            _ => format!("Something is to be said of entry {seq} that this release has no words for."),
        };
        Told {
            id: format!("chain-{at}"),
            sentence,
            sure: "Every entry is kept as it came.".into(),
            rests_on: vec![Rest::on(seq)],
            ..Told::default()
        }
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
                "Once a part is moved, the state as found cannot be photographed any more.",
            )),
            WaitsFor::Parts => steps.push(step(
                "parts",
                "Name the first part: type “part neck coil, coil, neck”.".into(),
                "Readings and photographs bind to parts, and travel with them.",
            )),
            WaitsFor::ParkedAct => {
                steps.push(step("parked", format!("Go on with what was parked: {}.", waiting.name), ""));
            }
            WaitsFor::StepTaken => {
                steps.push(step(
                    "taken",
                    format!("Finish what was taken up: {}", waiting.name),
                    "It waits on its own page.",
                ));
            }
            WaitsFor::LicensedHand
            | WaitsFor::Curing
            | WaitsFor::UnknownJoins
            | WaitsFor::UntappedCoils
            | WaitsFor::UnmeasuredParts => {}
        }
    }
    let missing = missing(job);
    if !missing.is_empty() {
        let words = format!("Ask or look for {}.", and(&missing));
        steps.push(step("identity", words, "They tell this piece from another of its kind."));
    }
    steps
}

fn missing(job: &Job) -> Vec<&'static str> {
    let Some(piece) = &job.piece else { return vec!["what the piece is"] };
    let body = &piece.body;
    let mut missing = Vec::new();
    if body.serial.is_none() {
        missing.push("a serial number, or the words “none found”");
    }
    if body.origin.is_none() {
        missing.push("where it came from");
    }
    if body.owner.is_none() {
        missing.push("the owner's name");
    }
    missing
}
