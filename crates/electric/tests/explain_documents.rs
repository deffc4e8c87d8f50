//! Whole explanations as documents, kept so that a change in what is told is seen.

#[path = "common/document.rs"]
mod document;
#[path = "common/explained.rs"]
mod explained;

use document::document;
use explained::explained;

#[test]
fn five_way_lever() {
    insta::assert_snapshot!(document(&explained(include_str!("traces/five-way-lever.trace"))));
}

#[test]
fn four_slides() {
    insta::assert_snapshot!(document(&explained(include_str!("traces/four-slides.trace"))));
}

#[test]
fn half_cut_rotary() {
    insta::assert_snapshot!(document(&explained(include_str!("traces/half-cut-rotary.trace"))));
}
