//! The bench: each job on one card, and what it waits for.

use asfound_record::{Act1, Job};
use jiff::civil::DateTime;

use crate::{parts, plan, wiring};

/// One job as the start page shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card {
    /// The job's number.
    pub number: String,
    /// What the job is about.
    pub title: String,
    /// The piece in plain words.
    pub piece: String,
    /// When the last entry was written, by the clock of who wrote it.
    pub last_at: String,
    /// How many entries there are.
    pub entries: u64,
    /// A photograph to know it by: hash of the first original that could be decoded.
    pub photograph: Option<String>,
    /// What it waits for, the most telling first.
    pub waits: Vec<Waiting>,
}

/// One thing a job waits for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// What.
    pub what: WaitsFor,
    /// How many of them.
    pub count: u32,
    /// The first of them by name, or the words of a step.
    pub name: String,
}

/// What a job can wait for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaitsFor {
    /// It is mains-powered: a hand licensed to work on it comes first.
    LicensedHand,
    /// Something cures; the name says until when.
    Curing,
    /// A step was taken up and is not done.
    StepTaken,
    /// An act was left unfinished.
    ParkedAct,
    /// Joins whose other end is not known.
    UnknownJoins,
    /// Coils whose winding sense or magnet is not known.
    UntappedCoils,
    /// Parts that a meter is put to and none was.
    UnmeasuredParts,
    /// Nothing was photographed.
    Photographs,
    /// No part was named yet.
    Parts,
}

const ALL: [(WaitsFor, &str); 9] = [
    (WaitsFor::LicensedHand, "licensed"),
    (WaitsFor::Curing, "curing"),
    (WaitsFor::StepTaken, "step"),
    (WaitsFor::ParkedAct, "parked"),
    (WaitsFor::UnknownJoins, "joins"),
    (WaitsFor::UntappedCoils, "coils"),
    (WaitsFor::UnmeasuredParts, "unmeasured"),
    (WaitsFor::Photographs, "photographs"),
    (WaitsFor::Parts, "parts"),
];

/// Makes a job's card.
pub fn card(job: &Job) -> Card {
    let opened = job.opened.as_ref();
    let last = job.history.last();
    Card {
        number: opened.map(|item| item.body.number.clone()).unwrap_or_default(),
        title: opened.map(|item| item.body.title.clone()).unwrap_or_default(),
        piece: job.piece.as_ref().map(|item| item.body.words.clone()).unwrap_or_default(),
        last_at: last.map(|line| line.at.clone()).unwrap_or_default(),
        entries: job.history.len() as u64,
        photograph: job
            .photographs
            .iter()
            .find(|item| item.body.width.is_some())
            .map(|item| item.body.original.clone()),
        waits: waits(job),
    }
}

/// Whether the piece is an amplifier, and so holds mains and stored charge.
pub fn is_mains_powered(job: &Job) -> bool {
    job.piece.as_ref().is_some_and(|item| item.body.family.to_lowercase().contains("amp"))
}

/// What a job waits for.
pub fn waits(job: &Job) -> Vec<Waiting> {
    let mut waits = Vec::new();
    let mut add = |what, names: Vec<String>| {
        if let Some(name) = names.first() {
            waits.push(Waiting { what, count: names.len() as u32, name: name.clone() });
        }
    };
    if is_mains_powered(job) {
        add(WaitsFor::LicensedHand, vec!["before it is plugged in or opened".to_owned()]);
    }
    add(WaitsFor::Curing, curing(job));
    add(WaitsFor::StepTaken, steps_taken(job));
    add(WaitsFor::ParkedAct, parked(job));
    let open = wiring::open_questions(job);
    add(WaitsFor::UnknownJoins, open.unknown_joins);
    add(WaitsFor::UntappedCoils, open.untapped_coils);
    let known = parts::known(job);
    add(
        WaitsFor::UnmeasuredParts,
        known.iter().filter(|part| part.unmeasured).map(|part| part.name.clone()).collect(),
    );
    if job.photographs.is_empty() {
        add(WaitsFor::Photographs, vec!["the whole piece, front and back".to_owned()]);
    }
    if job.parts.is_empty() {
        add(WaitsFor::Parts, vec!["part neck coil, coil, neck".to_owned()]);
    }
    waits
}

/// What cures, the soonest to be over first, each with its likely end and the latest. A card is remembered, so it says
/// the moment and not how long from now.
fn curing(job: &Job) -> Vec<String> {
    let mut curing = plan::curing(job);
    curing.sort_by_key(|it| it.over[1]);
    let shown = |at: &DateTime| at.strftime("%Y-%m-%d %H:%M").to_string();
    let told = |it: &plan::Curing| match &it.over {
        [_, likely, latest] if likely == latest => format!("{} until {}", it.name, shown(likely)),
        [_, likely, latest] => {
            format!("{} until about {}, at the latest {}", it.name, shown(likely), shown(latest))
        }
    };
    curing.iter().map(told).collect()
}

/// What to try next of acts that were parked; where that was not said, what was tried.
fn parked(job: &Job) -> Vec<String> {
    let said = |act: &Act1| {
        let parked = act.parked.as_ref()?;
        Some(if parked.next.is_empty() { act.words.clone() } else { parked.next.clone() })
    };
    job.acts.iter().filter_map(|item| said(&item.body)).collect()
}

/// The words of steps that were taken up and not yet said to be done: of several decisions on a step the last stands.
pub fn steps_taken(job: &Job) -> Vec<String> {
    let mut taken: Vec<(&str, &str)> = Vec::new();
    for item in &job.decided {
        taken.retain(|(step, _)| *step != item.body.step);
        if item.body.decision == "taken" {
            taken.push((&item.body.step, &item.body.words));
        }
    }
    taken.into_iter().map(|(_, words)| words.to_owned()).collect()
}

/// The decision that stands on a step.
pub fn decision(job: &Job, step: &str) -> Option<String> {
    job.decided.iter().rev().find(|item| item.body.step == step).map(|item| item.body.decision.clone())
}

impl Card {
    /// The card as text, to be remembered and thrown away at will.
    pub fn to_text(&self) -> String {
        let mut lines = vec![
            self.number.clone(),
            self.title.clone(),
            self.piece.clone(),
            self.last_at.clone(),
            self.entries.to_string(),
            self.photograph.clone().unwrap_or_default(),
        ];
        for waiting in &self.waits {
            let code = ALL.iter().find(|(what, _)| *what == waiting.what).map_or("", |(_, code)| code);
            lines.push(format!("{code} {} {}", waiting.count, waiting.name));
        }
        let lines: Vec<String> = lines.into_iter().map(|line| line.replace(['\n', '\r'], " ")).collect();
        lines.join("\n")
    }

    /// Reads a remembered card; `None` where it is not one of this release.
    pub fn from_text(text: &str) -> Option<Card> {
        let mut lines = text.split('\n');
        let mut next = || lines.next().map(str::to_owned);
        let (number, title, piece, last_at) = (next()?, next()?, next()?, next()?);
        let entries = next()?.parse().ok()?;
        let photograph = Some(next()?).filter(|hash| !hash.is_empty());
        let waits: Option<Vec<Waiting>> = lines
            .map(|line| {
                let mut pieces = line.splitn(3, ' ');
                let code = pieces.next()?;
                let what = ALL.iter().find(|(_, known)| *known == code)?.0;
                let count = pieces.next()?.parse().ok()?;
                Some(Waiting { what, count, name: pieces.next()?.to_owned() })
            })
            .collect();
        Some(Card { number, title, piece, last_at, entries, photograph, waits: waits? })
    }
}
