//! What the jack should show, from coils read at their own joints: a table to hold the readings at the plug against.

use asfound_electric::Reading as Expected;
use asfound_electric::jack::{
    Controls, Knobs, OhmsKnown, Plain, PlainReading, Shown, TRACK_TOLERANCE, expected,
};
use asfound_electric::polarity::Joined;
use asfound_measure::{Ohms, Uncertain};
use asfound_record::Job;

use super::{JackStudied, Used, controls, tracks};
use crate::readings::{At20, ReadingStudied};

/// What the jack should show with one volume full up, from coils read at their joints.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpectedRow {
    /// The coils that are on.
    pub on: Vec<String>,
    /// What is expected, coils side by side.
    pub ohms: Ohms,
    /// The entry and text of the reading that was taken so, and whether it agrees, the track's tolerance and
    /// [`AGREES_WITHIN`] allowed for.
    pub read: Option<(u64, String, bool)>,
}

/// How far a reading at the jack may lie from what the coils' own readings say, as a share: two meters' ranges and a few
/// degrees. Common practice, no source.
pub const AGREES_WITHIN: f64 = 0.02;

/// What the jack should show of each coil and of each pair side by side in the order of their places, with one volume
/// full up, from coils read at their joints and a volume of which the track is known; beside it what was read so. Empty
/// where either is missing.
pub fn should_show(
    job: &Job,
    readings: &[ReadingStudied],
    studied: Option<&JackStudied>,
) -> Vec<ExpectedRow> {
    let coils = at_joints(job, readings);
    let track = match tracks(job, readings) {
        OhmsKnown::Metered(track) => track.value,
        OhmsKnown::Nominal(tracks) if tracks.len() == 1 => tracks[0],
        _ => return Vec::new(),
    };
    if coils.len() < 2 || controls(job) != Some(Controls::Master) {
        return Vec::new();
    }
    let ons: Vec<Vec<usize>> = (0..coils.len())
        .flat_map(|coil| {
            if coil + 1 < coils.len() { vec![vec![coil], vec![coil, coil + 1]] } else { vec![vec![coil]] }
        })
        .collect();
    // What was shown does not count here.
    let shown = Shown::Ohms(Uncertain::new(Ohms(1.0), Ohms(1.0)));
    let readings =
        ons.iter().map(|on| PlainReading { on: on.clone(), joined: None, knobs: Knobs::FullUp, shown });
    let asked = Plain {
        coils: coils.iter().map(|(name, _)| name.clone()).collect(),
        controls: Some(Controls::Master),
        joined: Some(Joined::Parallel),
        tracks: OhmsKnown::Nominal(vec![track]),
        metered: Vec::new(),
        readings: readings.collect(),
    };
    let ohms: Vec<Ohms> = coils.iter().map(|(_, ohms)| *ohms).collect();
    let with_track = |share: f64| -> Vec<Option<Ohms>> {
        let rows =
            expected(&asked, Controls::Master, Joined::Parallel, &ohms, track * share).unwrap_or_default();
        let number = |row: Expected| match row {
            Expected::Ohms(ohms) => Some(ohms),
            _ => None,
        };
        rows.into_iter().map(number).collect()
    };
    let (least, usual, most) =
        (with_track(1.0 - TRACK_TOLERANCE), with_track(1.0), with_track(1.0 + TRACK_TOLERANCE));
    let mut rows = Vec::new();
    for (at, on) in ons.iter().enumerate() {
        let (Some(Some(least)), Some(Some(ohms)), Some(Some(most))) =
            (least.get(at), usual.get(at), most.get(at))
        else {
            continue;
        };
        let within = least.0 * (1.0 - AGREES_WITHIN)..=most.0 * (1.0 + AGREES_WITHIN);
        let on: Vec<String> = on.iter().map(|coil| coils[*coil].0.clone()).collect();
        let used = studied.and_then(|studied| studied.used.iter().rev().find(|used| same(&used.on, &on)));
        let agrees = |used: &Used| used.ohms.is_some_and(|ohms| within.contains(&ohms.0));
        let read = used.map(|used| (used.seq, used.text.clone(), agrees(used)));
        rows.push(ExpectedRow { on, ohms: *ohms, read });
    }
    rows
}

fn same(one: &[String], other: &[String]) -> bool {
    one.len() == other.len() && one.iter().all(|name| other.contains(name))
}

/// Coils that were read at their own joints, as warm as they were.
fn at_joints(job: &Job, readings: &[ReadingStudied]) -> Vec<(String, Ohms)> {
    let of_part = |id: &str| {
        let alone = |reading: &&ReadingStudied| {
            let method = reading.method.as_deref().unwrap_or_default();
            reading.part == id
                && reading.quantity == "resistance"
                && !method.starts_with("at the jack")
                && !method.starts_with("in circuit")
                && matches!(reading.at_20, Some(At20::Known(_) | At20::Between(..)))
        };
        readings.iter().rev().find(alone)?.shown.as_ref().map(|shown| Ohms(shown.value))
    };
    job.parts
        .iter()
        .map(|part| &part.item.body)
        .filter(|body| body.sort == "coil")
        .filter_map(|body| Some((body.name.clone(), of_part(&body.part)?)))
        .collect()
}
