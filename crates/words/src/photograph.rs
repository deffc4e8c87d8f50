//! A photograph with its marks, in words: what it is called, what is marked on it, and what names a lug or its part.

use asfound_study::Job;
use asfound_study::lugs::{Lug, part_of};
use asfound_study::marks::{Picture, look_at};
use asfound_study::parts::name_in_trace;
use asfound_study::record::{Body, Part, Trace1};
use asfound_study::wiring::{Statement, read_line};

use crate::entry;
use crate::lists::{and, count, or};
use crate::sheet::{FoundLine, Look};

/// What a photograph is called: its number among the job's photographs.
pub fn title(picture: &Picture) -> String {
    format!("Photograph {}", picture.number)
}

/// What it shows, for whoever does not see it.
pub fn alt(picture: &Picture) -> String {
    if picture.caption.is_empty() {
        title(picture)
    } else {
        format!("{}: {}", title(picture), picture.caption)
    }
}

/// How many lugs and parts are marked on it.
pub fn how_many(picture: &Picture) -> String {
    match picture.marks.len() {
        0 => "nothing marked yet".to_owned(),
        marks => format!("{} marked", count(marks, "lug or part", "lugs and parts")),
    }
}

/// What the trace joins a lug to; empty where it joins it to nothing.
pub fn joined(lug: &Lug) -> String {
    let of = |perhaps: bool| -> Vec<String> {
        lug.joined.iter().filter(|end| end.perhaps == perhaps).map(|end| end.to.clone()).collect()
    };
    let (sure, perhaps) = (of(false), of(true));
    let mut pieces = Vec::new();
    if !sure.is_empty() {
        pieces.push(format!("joined to {}", and(&sure)));
    }
    if !perhaps.is_empty() {
        pieces.push(format!("perhaps to {}", or(&perhaps)));
    }
    pieces.join(", ")
}

/// Which lugs of the trace are marked on no photograph; empty where all are, or nothing is traced.
pub fn unmarked(lugs: &[String]) -> String {
    if lugs.is_empty() {
        return String::new();
    }
    let mut named: Vec<String> = lugs.iter().take(MOST_NAMED).cloned().collect();
    if lugs.len() > MOST_NAMED {
        named.push(format!("{} more", lugs.len() - MOST_NAMED));
    }
    format!("Marked nowhere yet: {}.", and(&named))
}

/// More names than these are not read.
const MOST_NAMED: usize = 8;

/// Entries that name a lug or its part, as they were kept: joins of the lug, probings at it, readings of the part and
/// what was seen on it.
pub fn about(job: &Job, of: &str) -> Vec<FoundLine> {
    let mut lines = Vec::new();
    for item in job.traces.iter().filter(|item| traces(&item.body, of)) {
        lines.push((item.root, entry::line(item, Body::Trace, job)));
    }
    let probed = job.probings.iter().filter(|item| names(&item.body.from, of) || names(&item.body.to, of));
    lines.extend(probed.map(|item| (item.root, entry::line(item, Body::Probing, job))));
    for part in job.parts.iter().filter(|part| is_called(job, part, part_of(of))) {
        let readings = part.readings.iter().filter_map(|&at| job.readings.get(at));
        lines.extend(readings.map(|item| (item.root, entry::line(item, Body::Reading, job))));
        let seen = part.as_found.iter().chain(&part.later).filter_map(|&at| job.observed.get(at));
        lines.extend(seen.map(|item| (item.root, entry::line(item, Body::Observed, job))));
    }
    entry::in_order(lines)
}

/// Whether a name in the record means the lug, or the part where a whole part is looked at.
fn names(said: &str, of: &str) -> bool {
    let said = if of.contains('.') { said } else { part_of(said) };
    said.eq_ignore_ascii_case(of)
}

/// Whether lines of the trace join the lug, or say what its part is.
fn traces(body: &Trace1, of: &str) -> bool {
    body.text.lines().filter_map(|line| read_line(line).ok()?.statement).any(|statement| match &statement {
        Statement::Join(join) => {
            names(&join.from.to_string(), of) || join.to.iter().any(|end| names(&end.to_string(), of))
        }
        other => other.part().is_some_and(|(_, part)| part.eq_ignore_ascii_case(part_of(of))),
    })
}

/// Whether a part has this name in the trace, or would be marked by it.
fn is_called(job: &Job, part: &Part, name: &str) -> bool {
    marked_as(job, part).eq_ignore_ascii_case(name)
}

/// The name by which a part is marked: that of the trace, else its own in one word.
fn marked_as(job: &Job, part: &Part) -> String {
    name_in_trace(job, part).unwrap_or_else(|| part.item.body.name.replace(' ', "-"))
}

/// Where on a photograph to look for what an entry is about: the part read, the lug probed, the first end of a join that
/// is marked.
pub(crate) fn look(body: &Body, job: &Job) -> Option<Look> {
    if job.marks.is_empty() {
        return None;
    }
    let about = match body {
        Body::Reading(body) => vec![marked_as(job, job.part(&body.part)?)],
        Body::Probing(body) => vec![body.from.clone(), body.to.clone()],
        Body::Trace(body) => match read_line(body.text.trim()).ok()?.statement? {
            Statement::Join(join) => std::iter::once(join.from.to_string())
                .chain(join.to.iter().map(ToString::to_string))
                .collect(),
            other => vec![other.part()?.1.to_owned()],
        },
        _ => return None,
    };
    let (photograph, of) = about.iter().find_map(|of| look_at(job, of))?;
    Some(Look { photograph, of })
}
