//! How long a search for another wiring takes.

use asfound_electric::polarity::{Joined, Phase};
use asfound_electric::rewiring::{Answer, Asked, Place, Wish, rewire};
use asfound_electric::trace::Trace;

fn main() {
    divan::main();
}

const FIVE_WAY_LEVER: &str = include_str!("../tests/traces/five-way-lever.trace");

fn answered(wish: Wish) -> Answer {
    let trace = Trace::read(FIVE_WAY_LEVER).expect("a trace of the tests");
    rewire(&Asked { wishes: vec![wish], ..Asked::of(trace) }).expect("an answer")
}

const AT: Place = Place::At { switch: 0, position: 1 };

/// Only leads need to be exchanged.
#[divan::bench]
fn out_of_phase_in_position_2() -> Answer {
    answered(Wish::Heard { place: AT, coils: vec![1, 2], joined: None, phase: Some(Phase::Out) })
}

/// Nothing near does it: the search runs to its bound of 6000 wirings.
#[divan::bench(sample_count = 5)]
fn in_series_in_position_2() -> Answer {
    answered(Wish::Heard { place: AT, coils: vec![1, 2], joined: Some(Joined::Series), phase: None })
}

/// Capacitors and resistors tried across a volume.
#[divan::bench(sample_count = 10)]
fn treble_kept() -> Answer {
    answered(Wish::TrebleKept { knob: 0 })
}
