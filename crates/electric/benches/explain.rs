//! How long an explanation takes: traces as the tests read them, from text to facts.

use asfound_electric::explain::{Conditions, Explanation, explain};
use asfound_electric::trace::Trace;

fn main() {
    divan::main();
}

const FIVE_WAY_LEVER: &str = include_str!("../tests/traces/five-way-lever.trace");
const FOUR_SLIDES: &str = include_str!("../tests/traces/four-slides.trace");
const BASS: &str = include_str!("../../asfound/demo/bass.trace");
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

/// The demo's bass: 8 states, two cut leads and an untapped coil, so 16 possibilities.
#[divan::bench]
fn bass() -> Explanation {
    explained(BASS)
}

/// One coil and 13 slides, which are more states than are told; idle, or each with a resistor to short.
fn thirteen_slides(wired: bool) -> String {
    let mut text =
        "coil neck 6k 2H 100p clockwise north\njack jack\njoin neck.ground jack.sleeve metered\n".to_owned();
    let mut before = "neck.hot".to_owned();
    for at in 0..13 {
        text += &format!("switch s{at} two-pole slide\n");
        if wired {
            let ohms = 1 << at;
            text += &format!("resistor r{at} {ohms}k\njoin {before} r{at}.a metered\n");
            text += &format!("join s{at}.2 r{at}.a metered\njoin s{at}.1 r{at}.b metered\n");
            before = format!("r{at}.b");
        }
    }
    text + &format!("join {before} jack.tip metered\n")
}

#[divan::bench(sample_count = 10)]
fn thirteen_idle_slides() -> Explanation {
    explained(&thirteen_slides(false))
}

#[divan::bench(sample_count = 3)]
fn thirteen_slides_that_matter() -> Explanation {
    explained(&thirteen_slides(true))
}

#[divan::bench]
fn read_a_trace() -> Trace {
    Trace::read(HALF_CUT_ROTARY).expect("a trace of the tests")
}

/// Every line wrong, and ten times as many as are read.
#[divan::bench(sample_count = 10)]
fn a_hundred_thousand_wrong_lines(bencher: divan::Bencher) {
    let text = "coli neck 7k2\n".repeat(100_000);
    bencher.bench(|| Trace::read(&text));
}
