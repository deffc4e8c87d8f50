//! How long an explanation takes: traces as the tests read them, from text to facts.

use asfound_electric::explain::{Conditions, Explanation, explain};
use asfound_electric::trace::Trace;

fn main() {
    divan::main();
}

const FIVE_WAY_LEVER: &str = include_str!("../tests/traces/five-way-lever.trace");
const FOUR_SLIDES: &str = include_str!("../tests/traces/four-slides.trace");
const HALF_CUT_ROTARY: &str = include_str!("../tests/traces/half-cut-rotary.trace");

fn explained(text: &str) -> Explanation {
    let trace = Trace::read(text).expect("a trace of the tests");
    let circuit = trace.circuit().expect("a circuit of the tests");
    explain(&circuit, &Conditions::of_trace(&trace)).expect("an explanation")
}

#[divan::bench]
fn five_way_lever() -> Explanation {
    explained(FIVE_WAY_LEVER)
}

#[divan::bench]
fn four_slides() -> Explanation {
    explained(FOUR_SLIDES)
}

#[divan::bench]
fn half_cut_rotary() -> Explanation {
    explained(HALF_CUT_ROTARY)
}

/// No sign known: 16 possibilities from two coils, on top of two for the cut lead.
#[divan::bench]
fn half_cut_rotary_without_signs() -> Explanation {
    explained(&HALF_CUT_ROTARY.replace(" anticlockwise south", "").replace(" clockwise north", ""))
}

#[divan::bench]
fn read_a_trace() -> Trace {
    Trace::read(HALF_CUT_ROTARY).expect("a trace of the tests")
}
