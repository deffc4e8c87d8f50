//! What each knob does, by turning it and listening.

use std::cmp::Ordering;

use asfound_measure::Decibels;

use super::facts::{KnobEnd, KnobFact, KnobWord, PerBand};
use super::listen::{Bench, Heard, all, any, change};
use super::{BROUGHT_IN_BY, KNOB_NOTHING_BELOW, KNOB_TILT, VOLUME_AT_MIDDLE};
use crate::network::Unsolvable;
use crate::state::{Changes, Setting, Wired};

/// A state with its knobs at their open ends, and what is heard there and at the other end of each knob.
pub(crate) struct Open {
    /// The setting.
    pub(crate) setting: Setting,
    /// What is heard there.
    pub(crate) heard: Heard,
    /// What is heard with each knob at its other end.
    others: Vec<Heard>,
}

/// Turns each knob to the end at which more is heard, or to lug 3 where the ends are alike.
///
/// The ends are first tried with the other knobs half way: a volume at its end would hide everything, and of two tones
/// on one capacitor neither is heard while the other is at its dark end. Then each knob is tried once more among the
/// others' open ends.
pub(crate) fn open(bench: &Bench, wired: &Wired, mut setting: Setting) -> Result<Open, Unsolvable> {
    let changes = Changes::default();
    let knobs = setting.wipers.len();
    setting.wipers.iter_mut().for_each(|wiper| *wiper = 0.5);
    let mut ends = vec![1.0; knobs];
    for (knob, end) in ends.iter_mut().enumerate() {
        let mut at = |wiper: f64| {
            setting.wipers[knob] = wiper;
            bench.listen(wired, &setting, &changes)
        };
        if more_heard(bench.coils, &at(0.0)?, &at(1.0)?) {
            *end = 0.0;
        }
        setting.wipers[knob] = 0.5;
    }
    setting.wipers = ends;
    let mut heard = bench.listen(wired, &setting, &changes)?;
    let mut others = Vec::new();
    for _ in 0..3 {
        let mut moved = false;
        others.clear();
        for knob in 0..knobs {
            let mut turned = setting.clone();
            turned.wipers[knob] = 1.0 - turned.wipers[knob];
            let other = bench.listen(wired, &turned, &changes)?;
            if more_heard(bench.coils, &other, &heard) {
                (setting, moved) = (turned, true);
                others.push(std::mem::replace(&mut heard, other));
            } else {
                others.push(other);
            }
        }
        if !moved {
            break;
        }
    }
    Ok(Open { setting, heard, others })
}

/// Whether more is heard: more coils, or as many and louder. Coils come first, because one coil alone is often louder
/// than two that load each other.
fn more_heard(coils: usize, this: &Heard, than: &Heard) -> bool {
    let count = |heard: &Heard| (0..coils).filter(|&coil| heard.audible(coil)).count();
    match count(this).cmp(&count(than)) {
        Ordering::Greater => true,
        Ordering::Less => false,
        Ordering::Equal => loudness(this) > loudness(than) + KNOB_NOTHING_BELOW.0,
    }
}

/// Mean of the levels of the three bands, none counted below -120 dB.
fn loudness(heard: &Heard) -> f64 {
    let total = heard.total();
    [total.low, total.middle, total.high].iter().map(|level| level.0.max(-120.0)).sum::<f64>() / 3.0
}

/// What each knob does.
pub(crate) fn knobs(bench: &Bench, wired: &Wired, open: &Open) -> Result<Vec<KnobFact>, Unsolvable> {
    let mut facts = Vec::new();
    for (knob, other) in open.others.iter().enumerate() {
        let mut half = open.setting.clone();
        half.wipers[knob] = 0.5;
        let middle = bench.listen(wired, &half, &Changes::default())?;
        let word = word(bench.coils, &open.heard, &middle, other);
        let at = |heard: &Heard| change(&open.heard.total(), &heard.total());
        let end = if open.setting.wipers[knob] > 0.5 { KnobEnd::Lug3 } else { KnobEnd::Lug1 };
        facts.push(KnobFact {
            open_end: (word != KnobWord::Nothing).then_some(end),
            word,
            at_middle: at(&middle),
            at_other_end: at(other),
        });
    }
    Ok(facts)
}

/// The word for what a knob does, from what is heard at its open end, its middle and its other end.
fn word(coils: usize, open: &Heard, middle: &Heard, other: &Heard) -> KnobWord {
    let change_of = |heard: &Heard, coil: usize| change(&open.level(coil), &heard.level(coil));
    let audible: Vec<usize> = (0..coils).filter(|&coil| open.audible(coil)).collect();
    let unmoved = |change: PerBand<Decibels>| all(&change, |change| change.0.abs() < KNOB_NOTHING_BELOW.0);
    let brings_in: Vec<usize> = (0..coils)
        .filter(|&coil| {
            [middle, other].iter().any(|heard| {
                // In the highs a coil behind a whole track comes through by the capacitances.
                let change = change_of(heard, coil);
                let rises = change.low >= BROUGHT_IN_BY && change.middle >= BROUGHT_IN_BY;
                heard.audible(coil) && (!open.audible(coil) || rises)
            })
        })
        .collect();
    let silences: Vec<usize> = audible.iter().copied().filter(|&coil| other.silenced(open, coil)).collect();
    if !brings_in.is_empty() {
        return KnobWord::Blend { brings_in, silences };
    }
    if audible.iter().all(|&coil| unmoved(change_of(middle, coil)) && unmoved(change_of(other, coil))) {
        return KnobWord::Nothing;
    }
    if !silences.is_empty() {
        let all_heard = silences.len() == audible.len();
        let falls_on_the_way =
            silences.iter().any(|&coil| any(&change_of(middle, coil), |it| it <= VOLUME_AT_MIDDLE));
        return if falls_on_the_way {
            KnobWord::Volume { silences, all: all_heard }
        } else {
            KnobWord::Kills { silences, all: all_heard }
        };
    }
    let tilt = |heard: &Heard| {
        let change = change(&open.total(), &heard.total());
        change.high.0 - change.low.0
    };
    let tilt = if tilt(other).abs() >= KNOB_TILT.0 { tilt(other) } else { tilt(middle) };
    if tilt <= -KNOB_TILT.0 {
        KnobWord::TrebleCut
    } else if tilt >= KNOB_TILT.0 {
        KnobWord::BassCut
    } else {
        KnobWord::Level
    }
}
