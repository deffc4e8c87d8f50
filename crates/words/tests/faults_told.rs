//! Page Faults of several circuits, kept as documents.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;

use asfound_study::material::Material;
use asfound_words::page::{Page, sheet};

use bench::{Ledger, workshop};
use document::document;

fn told(lines: &str) -> String {
    let material = Material::of(Ledger::with(lines).job, workshop().job);
    document(&sheet(Page::Faults, &material))
}

const FIVE: &str = "
coil neck 5k7 2H4
coil middle 5k8 2H4
coil bridge 6k3 2H8
pot volume 250k
pot tone 250k
capacitor ct 47n
switch lever five-way lever
jack jack
metal strings
join bridge.hot lever.a1 seen
join middle.hot lever.a2 seen
join neck.hot lever.a3 seen
join lever.a0 volume.3 seen
join volume.3 tone.3 seen
join tone.2 ct.a seen
join ct.b volume.1 seen
join volume.2 jack.tip seen
join volume.1 jack.sleeve seen
join strings volume.1 seen
join neck.ground volume.1 seen
join middle.ground volume.1 seen
join bridge.ground volume.1 seen
";

#[test]
fn a_tone_knob_that_does_nothing() {
    insta::assert_snapshot!(told(&format!(
        "{FIVE}heard always dark, tone does nothing\nheard lifting the tone control's input restores the treble"
    )));
}

#[test]
fn two_positions_thin() {
    insta::assert_snapshot!(told(&format!(
        "{FIVE}heard position 2 thin, position 4 thin, each sounds right alone"
    )));
}

#[test]
fn a_coil_that_is_missing_at_the_jack() {
    insta::assert_snapshot!(told(&format!(
        "{FIVE}part jack, jack, side\njack 6.15k lever 1, volume full\njack 5.57k lever 4, volume full\njack 5.57k lever 5, volume full"
    )));
}

#[test]
fn what_is_heard_without_a_circuit() {
    insta::assert_snapshot!(told("heard position 2 thin\nheard volume scratches"));
}
