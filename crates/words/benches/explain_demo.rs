//! How long it takes from the text of a trace to its sheet with every sentence, table and figure.

use asfound_study::wiring::{WiringTold, of_text};
use asfound_words::sheet::Sheet;
use asfound_words::wiring::explained_sheet;

fn main() {
    divan::main();
}

fn sheet(text: &str) -> Sheet {
    match of_text(text) {
        WiringTold::Explained(explained) => explained_sheet(&explained),
        other => panic!("a trace that can be explained, not {other:?}"),
    }
}

/// 8 states, two cut leads, an untapped coil, 400 frequencies, knobs at three points.
#[divan::bench]
fn bass() -> Sheet {
    sheet(include_str!("../../asfound/demo/bass.trace"))
}

#[divan::bench]
fn five_way_lever() -> Sheet {
    sheet(include_str!("../../electric/tests/traces/five-way-lever.trace"))
}
