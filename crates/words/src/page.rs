//! The pages of a job as sheets, and its history.

use asfound_study::material::Material;
use asfound_study::plan::tells_money;
use asfound_study::record::{Body, Standing};
use asfound_study::{Job, bench};

use crate::entry;
use crate::lists::count;
use crate::sheet::{FoundLine, Sheet, Step};
use crate::time::{day, day_and_hour};
use crate::{
    dates, faults, meter_check, originality, parts, photograph, piece, plan, readings, rewiring, viewing,
    wiring,
};

/// A page of a job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// The piece as a whole.
    Piece,
    /// What to check before it is bought.
    Viewing,
    /// Its parts.
    Parts,
    /// What meters showed.
    Readings,
    /// The inherited circuit.
    Wiring,
    /// The trace, held against the meter.
    MeterCheck,
    /// What is at fault.
    Faults,
    /// Another wiring, proposed.
    Rewiring,
    /// When it was made.
    Dates,
    /// Which parts are original to it.
    Originality,
    /// What may be paid, what is to be done, what it costs and when it is ready.
    Plan,
}

impl Page {
    /// All pages, in their order.
    pub const ALL: [Page; 11] = [
        Page::Piece,
        Page::Viewing,
        Page::Parts,
        Page::Readings,
        Page::Wiring,
        Page::MeterCheck,
        Page::Faults,
        Page::Rewiring,
        Page::Dates,
        Page::Originality,
        Page::Plan,
    ];

    /// The page's title.
    pub fn title(self) -> &'static str {
        match self {
            Page::Piece => "Piece",
            Page::Viewing => "Viewing",
            Page::Parts => "Parts",
            Page::Readings => "Readings",
            Page::Wiring => "Wiring",
            Page::MeterCheck => "Meter check",
            Page::Faults => "Faults",
            Page::Rewiring => "Rewiring",
            Page::Dates => "Dates",
            Page::Originality => "Originality",
            Page::Plan => "Plan",
        }
    }

    /// The page's name in an address.
    pub fn slug(self) -> &'static str {
        match self {
            Page::Piece => "piece",
            Page::Viewing => "viewing",
            Page::Parts => "parts",
            Page::Readings => "readings",
            Page::Wiring => "wiring",
            Page::MeterCheck => "meter-check",
            Page::Faults => "faults",
            Page::Rewiring => "rewiring",
            Page::Dates => "dates",
            Page::Originality => "originality",
            Page::Plan => "plan",
        }
    }

    /// The page under whose tab it stands: its own, or that of the subject it belongs to.
    pub fn under(self) -> Page {
        match self {
            Page::MeterCheck | Page::Faults | Page::Rewiring => Page::Wiring,
            Page::Originality => Page::Dates,
            _ => self,
        }
    }

    /// What its own tab says among the pages of its subject.
    pub fn among_its_own(self) -> &'static str {
        match self {
            Page::Wiring => "As traced",
            Page::Dates => "When made",
            page => page.title(),
        }
    }

    /// The page with this name in an address.
    pub fn from_slug(slug: &str) -> Option<Page> {
        Page::ALL.into_iter().find(|page| page.slug() == slug)
    }
}

/// The sheet of one page.
pub fn sheet(page: Page, material: &Material) -> Sheet {
    let (job, workshop) = (&*material.job, &*material.workshop);
    let mut sheet = match page {
        Page::Piece => piece::sheet(job, workshop),
        Page::Viewing => viewing::sheet(material),
        Page::Parts => parts::sheet(job, workshop),
        Page::Readings => readings::sheet(material),
        Page::Wiring => wiring::sheet(material),
        Page::MeterCheck => meter_check::sheet(material),
        Page::Faults => faults::sheet(material),
        Page::Rewiring => rewiring::sheet(material),
        Page::Dates => dates::sheet(material),
        Page::Originality => originality::sheet(material),
        Page::Plan => plan::sheet(material),
    };
    let steps = sheet.means.iter_mut().flat_map(|told| told.next.iter_mut()).chain(sheet.next.iter_mut());
    for step in steps {
        mark_decided(step, job);
    }
    sheet
}

fn mark_decided(step: &mut Step, job: &Job) {
    step.decision = bench::decision(job, &step.id).unwrap_or_default();
}

/// Every entry in order, nothing left out.
pub fn history(job: &Job) -> Vec<FoundLine> {
    job.history.iter().map(|line| historic(job, line.seq)).collect()
}

/// One entry, with the entries that corrected it or struck it out, and those it corrects.
pub fn one_entry(job: &Job, seq: u64) -> Vec<FoundLine> {
    let mut family = vec![seq];
    let mut at = 0;
    while let Some(&one) = family.get(at) {
        at += 1;
        let by = job.history.iter().find(|line| line.seq == one).map(|line| match &line.standing {
            Standing::Corrected { by } => by.clone(),
            Standing::Struck { by } | Standing::Withheld { by: Some(by) } => vec![*by],
            _ => Vec::new(),
        });
        let names = |line: &&asfound_study::record::Line| match &line.standing {
            Standing::Corrected { by } => by.contains(&one),
            Standing::Struck { by } => *by == one,
            _ => false,
        };
        let corrected = job.history.iter().filter(names).map(|line| line.seq);
        for other in by.into_iter().flatten().chain(corrected) {
            if !family.contains(&other) {
                family.push(other);
            }
        }
    }
    family.sort_unstable();
    family
        .into_iter()
        .filter(|seq| job.history.iter().any(|line| line.seq == *seq))
        .map(|seq| historic(job, seq))
        .collect()
}

/// An entry as the history shows it.
pub(crate) fn historic(job: &Job, seq: u64) -> FoundLine {
    let Some(line) = job.history.iter().find(|line| line.seq == seq) else { return FoundLine::default() };
    let gone = Body::Gone;
    let body = job.body(seq).unwrap_or(&gone);
    let (words, mut detail) = entry::said(body, job);
    if line.clock_stepped_back {
        detail = format!("{detail}; the clock says earlier than the entry before")
            .trim_start_matches("; ")
            .to_owned();
    }
    let (photograph, alt) = match body {
        Body::Photograph(shown) if shown.width.is_some() => (Some(shown.original.clone()), words.clone()),
        _ => (None, String::new()),
    };
    FoundLine {
        seq,
        time: day_and_hour(&line.at),
        words,
        detail,
        photograph,
        alt,
        since: entry::since(&line.standing),
        money: tells_money(body),
        again: entry::again(body, job),
        look: photograph::look(body, job),
    }
}

/// How an entry stands in the chain, as rows of a table.
pub fn chained(job: &Job, seq: u64) -> Vec<(String, String)> {
    let Some(line) = job.history.iter().find(|line| line.seq == seq) else { return Vec::new() };
    [
        ("Place", line.seq.to_string()),
        ("Kind", line.kind.clone()),
        ("Written", line.at.clone()),
        ("By", line.by.clone()),
        ("Hash", line.hash.to_string()),
        ("Chain", job.chain.clone()),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

/// What stands under a job's title.
pub fn under_title(job: &Job) -> String {
    let mut pieces = Vec::new();
    if let Some(opened) = &job.opened {
        pieces.push(format!("job {}", opened.body.number));
    }
    if let Some(first) = job.history.first() {
        pieces.push(format!("opened {}", day(&first.at)));
    }
    pieces.push(count(job.parts.len(), "part", "parts"));
    pieces.join(" · ")
}

/// What stands above a history.
pub fn about_history(job: &Job) -> String {
    let last = job.history.last().map(|line| line.hash.short()).unwrap_or_default();
    let lines = count(job.history.len(), "entry", "entries");
    let clock = if job.history.iter().any(|line| line.clock_stepped_back) {
        " A clock stepped back on the way; the order is that of writing."
    } else {
        ""
    };
    format!(
        "{}, in the order of writing; nothing is ever erased. The chain ends with {last}.{clock}",
        crate::lists::capital(&lines)
    )
}

/// Ids and names of the job's parts.
pub fn part_names(job: &Job) -> Vec<(String, String)> {
    job.parts.iter().map(|part| (part.item.body.part.clone(), part.item.body.name.clone())).collect()
}
