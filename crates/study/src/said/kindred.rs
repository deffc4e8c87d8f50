//! What kind of coil it is, with which wire and from when: read from what was said of it, of its piece, and by name.

use asfound_electric::coil::{Construction, Period};
use asfound_record::Job;

use super::clauses::{Clause, clauses, clauses_of};
use super::period::period;
use crate::usual::Kindred;

/// A thing that was read, and where it was said.
#[derive(Debug, Clone, PartialEq)]
pub struct SaidAt<T> {
    /// What was read.
    pub what: T,
    /// The entry.
    pub seq: u64,
    /// Whether it was said of the coil itself; else of the whole piece.
    pub of_the_coil: bool,
}

/// What makes a coil's kind, as far as it was said.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct KindSaid {
    /// How it is built.
    pub construction: Option<SaidAt<Construction>>,
    /// American wire gauge.
    pub gauge: Option<SaidAt<u8>>,
    /// When it is taken to have been made.
    pub period: Option<SaidAt<Period>>,
    /// The entry that says that it was wound anew in this workshop or is known to have been: it is then nobody's kin.
    pub wound_anew: Option<u64>,
}

/// Reads the kind of a coil.
pub fn kind_of(job: &Job, part: &str) -> KindSaid {
    let own = clauses_of(job, Some(part));
    let body = job.part(part).map(|kept| (kept.item.seq, kept.item.body.clone()));
    let named: Vec<Clause> =
        body.iter().flat_map(|(seq, body)| clauses(*seq, &format!("{} {}", body.name, body.place))).collect();
    let pieces: Vec<Clause> = job
        .piece
        .iter()
        .flat_map(|item| clauses(item.seq, &item.body.words))
        .chain(clauses_of(job, None))
        .collect();
    let is_bass = job.piece.iter().any(|item| item.body.family.to_lowercase().contains("bass"));
    let read = |pick: &dyn Fn(&Clause) -> Option<Construction>| {
        found(own.iter().chain(&named), true, pick).or_else(|| found(pieces.iter(), false, pick))
    };
    KindSaid {
        construction: read(&|clause| construction(clause, is_bass)),
        gauge: found(own.iter(), true, &gauge),
        period: found(own.iter(), true, &of_period).or_else(|| found(pieces.iter(), false, &of_period)),
        wound_anew: wound_anew(job, part, &own),
    }
}

/// The kind as windows and past readings know it.
pub fn kindred(job: &Job, part: &str) -> Kindred {
    let kind = kind_of(job, part);
    if kind.wound_anew.is_some() {
        return Kindred::default();
    }
    let year = |year: i32| u16::try_from(year).unwrap_or_default();
    Kindred {
        construction: kind.construction.map(|said| window_name(said.what).to_owned()),
        gauge: kind.gauge.map(|said| said.what),
        period: kind.period.map(|said| (year(said.what.from), year(said.what.to))),
    }
}

/// What a construction is called among windows and past readings.
pub fn window_name(construction: Construction) -> &'static str {
    match construction {
        Construction::SixRod => "single coil over rods",
        Construction::FourRod => "single coil over four rods",
        Construction::DualHalf => "dual coil half",
        Construction::SmallDualHalf => "small dual coil half",
        Construction::WideFlat => "wide flat single coil",
        Construction::FoilFaced => "foil-faced single coil",
        Construction::SplitHalf => "split coil half",
    }
}

/// The last clause that says it.
fn found<'c, T>(
    clauses: impl Iterator<Item = &'c Clause>,
    of_the_coil: bool,
    pick: &dyn Fn(&Clause) -> Option<T>,
) -> Option<SaidAt<T>> {
    clauses.filter_map(|clause| Some(SaidAt { what: pick(clause)?, seq: clause.seq, of_the_coil })).last()
}

fn construction(clause: &Clause, is_bass: bool) -> Option<Construction> {
    let says = |pattern: &str| clause.says(pattern);
    let half = says("half|halves|screw|slug|screws|slugs");
    if says("foil-faced") || says("foil face|faced|case") {
        Some(Construction::FoilFaced)
    } else if says("split coil|coils|bass|pickup") || says("split-coil") {
        Some(Construction::SplitHalf)
    } else if says("small|mini dual|dual-coil") && half {
        Some(Construction::SmallDualHalf)
    } else if (says("dual|dual-coil|double") && half) || says("screw|slug coil") {
        Some(Construction::DualHalf)
    } else if says("wide flat") {
        Some(Construction::WideFlat)
    } else if says("four rods|rod|poles") || (is_bass && says("single coil|coils")) {
        Some(Construction::FourRod)
    } else if says("six rods|rod|poles|magnets")
        || says("single coil|coils")
        || says("single-coil|single-coils")
    {
        Some(Construction::SixRod)
    } else {
        None
    }
}

/// `42 AWG`, `AWG 42`, `42 gauge`.
fn gauge(clause: &Clause) -> Option<u8> {
    if clause.is_turned() {
        return None;
    }
    let words = clause.words();
    let is_word = |at: usize| words.get(at).is_some_and(|word| ["awg", "gauge"].contains(&word.as_str()));
    words.iter().enumerate().find_map(|(at, word)| {
        let number: u8 = word.trim_start_matches("awg").parse().ok().filter(|it| (36..=46).contains(it))?;
        (word.starts_with("awg") || is_word(at + 1) || (at > 0 && is_word(at - 1))).then_some(number)
    })
}

fn of_period(clause: &Clause) -> Option<Period> {
    if clause.is_turned() {
        return None;
    }
    let (from, to) = period(&clause.text)?;
    Some(Period { from: i32::from(from), to: i32::from(to) })
}

/// Words that say that a coil was wound anew, as a thing known and not as a guess.
fn wound_anew(job: &Job, part: &str, own: &[Clause]) -> Option<u64> {
    let acts =
        job.acts.iter().filter(|item| item.body.part.as_deref() == Some(part) && item.body.parked.is_none());
    let in_acts = acts
        .flat_map(|item| clauses(item.seq, &item.body.words))
        .find(|clause| clause.says("rewound") || clause.says("wound anew"));
    let known = own.iter().find(|clause| clause.says("known rewound|rewind") || clause.says("rewound by"));
    in_acts.map(|clause| clause.seq).or(known.map(|clause| clause.seq))
}
