//! Hum by touch: what was said of touching strings, plug and covers, read and told.

use asfound_electric::touch::{CutOut, hum_by_touch};
use asfound_measure::Ohms;
use asfound_record::Job;

use crate::readings::ReadingStudied;
use crate::said::clauses::{Clause, clauses};
use crate::settings::{self, Stood};

pub use asfound_electric::touch::{
    Cause, Caution, OnTouch, Should, SpokenBy, Spot, TestPoint, Told, Touched,
};

/// What was said, and what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct TouchesStudied {
    /// What was read from the words.
    pub touched: Touched,
    /// The entries.
    pub entries: Vec<u64>,
    /// The coil whose cover is meant, where one was named.
    pub coil: Option<String>,
    /// What it means.
    pub told: Told,
}

/// Studies what was said of touching; `None` where nothing was.
pub fn study(job: &Job, readings: &[ReadingStudied]) -> Option<TouchesStudied> {
    let mut touched = Touched::default();
    let (mut entries, mut coil) = (Vec::new(), None);
    for item in &job.observed {
        for clause in clauses(item.seq, &item.body.words) {
            if let Some(named) = take(&mut touched, &clause) {
                entries.push(item.seq);
                let meant = item.body.part.clone().or_else(|| coil_named(job, &clause));
                coil =
                    if named == SpokenBy::CutOut || named == SpokenBy::Cover { meant.or(coil) } else { coil };
            }
        }
    }
    if entries.is_empty() {
        return None;
    }
    entries.dedup();
    if touched.cut_out.is_some() {
        touched.cut_out =
            Some(CutOut { coil: coil.as_deref().and_then(|part| ohms(readings, part)), track: None });
    }
    let name = coil.and_then(|part| job.part(&part)).map(|part| part.item.body.name.clone());
    Some(TouchesStudied { told: hum_by_touch(&touched), touched, entries, coil: name })
}

fn coil_named(job: &Job, clause: &Clause) -> Option<String> {
    settings::all(&clause.text, job).into_iter().find_map(|stood| match stood {
        Stood::Coil(part) => Some(part),
        _ => None,
    })
}

fn ohms(readings: &[ReadingStudied], part: &str) -> Option<Ohms> {
    let of_it = |reading: &&ReadingStudied| reading.part == part && reading.quantity == "resistance";
    readings.iter().rev().find(of_it)?.shown.as_ref().map(|shown| Ohms(shown.value))
}

/// Takes what a clause says of a touch; answers of which.
fn take(touched: &mut Touched, clause: &Clause) -> Option<SpokenBy> {
    let (what, change) = heard_in(clause)?;
    match what {
        SpokenBy::CutOut => touched.cut_out = Some(CutOut::default()),
        SpokenBy::Sleeve => touched.sleeve = change,
        SpokenBy::Cover => touched.cover = change,
        SpokenBy::Strings => touched.strings = change,
    }
    Some(what)
}

/// What a clause says of a touch: of which, and what the hum does. Nothing is said of hum where a string on a cover
/// kills the sound.
pub(crate) fn heard_in(clause: &Clause) -> Option<(SpokenBy, Option<OnTouch>)> {
    let touches = clause.has_any(&["touch", "touches", "touching", "touched"]);
    let cuts = clause.has_any(&["cuts", "dies", "silent", "dead"]) || clause.says("no sound|signal");
    if touches && cuts && clause.has_any(&["cover", "covers"]) {
        return Some((SpokenBy::CutOut, None));
    }
    if !touches {
        return None;
    }
    // What is touched without a word for it is metal of the instrument: what the strings are on.
    let unsaid = clause.says("hum|hums|buzz|buzzes|noise touch");
    let what = if clause.has_any(&["sleeve", "plug", "plug's", "jack"]) {
        SpokenBy::Sleeve
    } else if clause.has_any(&["cover", "covers"]) {
        SpokenBy::Cover
    } else if unsaid || clause.has_any(&["string", "strings", "bridge", "metal", "tailpiece"]) {
        SpokenBy::Strings
    } else {
        return None;
    };
    let change = if clause.has_any(&["worse", "louder", "more", "unbearable"]) {
        OnTouch::Worse
    } else if clause.says("no|not change|changes|difference|effect")
        || clause.has_any(&["same", "ignores", "nothing"])
    {
        OnTouch::NoChange
    } else if clause.has_any(&["better", "quiets", "quieter", "less", "quiet", "stops"]) {
        OnTouch::Better
    } else {
        return None;
    };
    Some((what, Some(change)))
}
