//! Readings at the plug written briefly.
#![allow(dead_code)]

use asfound_electric::jack::*;
use asfound_electric::polarity::Joined;
use asfound_measure::{Ohms, Uncertain};

pub(crate) const EXACT: Meter = Meter { gain: 0.0 };

/// A number with its last digit's half as rectangular limits.
pub(crate) fn shown(ohms: f64, half_digit: f64) -> Shown {
    Shown::Ohms(Uncertain::rectangular(Ohms(ohms), Ohms(half_digit)))
}

pub(crate) fn full_up(on: &[usize], shown: Shown) -> PlainReading {
    PlainReading { on: on.to_vec(), joined: None, knobs: Knobs::FullUp, shown }
}

pub(crate) fn joined(on: &[usize], joined: Joined, shown: Shown) -> PlainReading {
    PlainReading { on: on.to_vec(), joined: Some(joined), knobs: Knobs::FullUp, shown }
}

pub(crate) fn turned(on: &[usize], knobs: Knobs, shown: Shown) -> PlainReading {
    PlainReading { on: on.to_vec(), joined: None, knobs, shown }
}

/// An instrument of which nothing but the readings is known.
pub(crate) fn unknown(coils: &[&str], readings: Vec<PlainReading>) -> Plain {
    Plain {
        coils: coils.iter().map(|&name| name.to_owned()).collect(),
        metered: vec![],
        controls: None,
        joined: None,
        tracks: OhmsKnown::Unknown,
        readings,
    }
}

/// One with this arrangement, coils in parallel.
pub(crate) fn known(controls: Controls, coils: &[&str], readings: Vec<PlainReading>) -> Plain {
    Plain { controls: Some(controls), joined: Some(Joined::Parallel), ..unknown(coils, readings) }
}

pub(crate) fn ohms(fit: &Fitted, part: &str) -> f64 {
    told(fit, part).value.0
}

pub(crate) fn told(fit: &Fitted, part: &str) -> Uncertain<Ohms> {
    let value = fit.value(part).unwrap_or_else(|| panic!("{part} is a part"));
    *value.ohms.as_ref().unwrap_or_else(|why| panic!("{part}: {why}"))
}

pub(crate) fn controls(fit: &Fitted) -> Controls {
    match fit.wiring {
        Wiring::Plain { controls, .. } => controls,
        Wiring::Traced { .. } => panic!("it was not traced"),
    }
}

pub(crate) fn best(answer: &Answer) -> &Fitted {
    answer.standing().next().unwrap_or_else(|| {
        let verdicts: Vec<_> = answer.fits.iter().map(|fit| (&fit.wiring, &fit.verdict)).collect();
        panic!("nothing stands: {verdicts:?}")
    })
}
