//! Traces told, kept as documents so that a change in what is said is seen.

#[path = "common/document.rs"]
mod document;

use asfound_study::wiring::{WiringTold, of_text};
use asfound_words::wiring::explained_sheet;

use document::document;

fn told(trace: &str) -> String {
    match of_text(trace) {
        WiringTold::Explained(explained) => document(&explained_sheet(&explained)),
        other => panic!("{other:?}"),
    }
}

#[test]
fn five_way_lever() {
    insta::assert_snapshot!(told(include_str!("../../electric/tests/traces/five-way-lever.trace")));
}

#[test]
fn four_slides() {
    insta::assert_snapshot!(told(include_str!("../../electric/tests/traces/four-slides.trace")));
}

#[test]
fn half_cut_rotary() {
    insta::assert_snapshot!(told(include_str!("../../electric/tests/traces/half-cut-rotary.trace")));
}

#[test]
fn short_scale_bass() {
    insta::assert_snapshot!(told(include_str!("../../asfound/demo/bass.trace")));
}
