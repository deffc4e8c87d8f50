//! The page Rewiring, on circuits as they come to a bench. Values invented; arrangements are common practice.

#[path = "../../study/tests/common/mod.rs"]
mod bench;
#[path = "common/document.rs"]
mod document;

use asfound_study::material::Material;
use asfound_words::page::{Page, sheet};
use asfound_words::rewiring::rewiring_sheet;
use asfound_words::sheet::Sheet;
use bench::{Ledger, workshop};
use document::document;

const EARLY_SET: &str = include_str!("../../electric/tests/traces/five-way-lever.trace");

const TWO_COVERED: &str = "
coil bridge 7k8 covered
coil neck 8k1 covered
switch lever three-way lever
pot volume 500k
jack jack
join bridge.hot lever.a1 metered
join neck.hot lever.a2 metered
join lever.a0 volume.3 metered
join volume.2 jack.tip metered
join volume.1 jack.sleeve metered
join bridge.ground volume.1 metered
join neck.ground volume.1 metered
join neck.cover neck.ground seen
join bridge.cover bridge.ground seen
";

fn material(lines: &str) -> Material {
    Material::of(Ledger::with(lines).job, workshop().job)
}

/// Lines of a trace that is written out, one entry each, without its comments.
fn traced(trace: &str) -> String {
    trace
        .lines()
        .map(|line| line.split(" #").next().unwrap_or_default().trim_end().to_owned() + "\n")
        .collect()
}

fn page(lines: &str) -> Sheet {
    sheet(Page::Rewiring, &material(lines))
}

#[test]
fn an_early_set_that_is_to_be_quiet() {
    let wishes = "wish hum cancels in position 2 with bridge and middle\nwish middle and neck in phase in position 4\n";
    insta::assert_snapshot!(document(&page(&(traced(EARLY_SET) + wishes))));
}

/// Ears alone: bridge with middle thin, neck with middle thin, so the middle is the odd one.
#[test]
fn the_odd_one_of_three_is_reversed() {
    let lines = "
part bridge coil, coil, bridge
part middle coil, coil, middle
part neck coil, coil, neck
piece: bridge and middle together thin
piece: neck and middle together thin
";
    let wishes =
        "wish bridge and middle in phase in position 2\nwish middle and neck in phase in position 4\n";
    let trace = traced(EARLY_SET).replace(" clockwise north", "");
    let sheet = page(&(trace + lines + wishes));
    let told = sheet.means.iter().find(|told| told.id == "rewire-swap-middle").expect("the odd one");
    assert_eq!(
        told.sentence,
        "Swap the leads of the middle: positions 2 and 4 in phase, 2 joints disturbed, nothing new."
    );
    assert_eq!(told.sure, "Tried on the circuit it makes: every wish is met.");
}

/// Metal on both ground leads, and they fight: the metal is parted and grounded before the leads are swapped.
#[test]
fn metal_comes_first() {
    let lines = "
part bridge coil, coil, bridge
part neck coil, coil, neck
piece: bridge and neck together thin
part green wire, wire, tray
green wire 180 mm
wish bridge and neck in phase in position 2
wish volumes apart from each other
";
    let material = material(&(TWO_COVERED.to_owned() + lines));
    insta::assert_snapshot!(document(&sheet(Page::Rewiring, &material)));
    let sheet = rewiring_sheet(&material, "rewire-swap-bridge").expect("it is offered");
    let steps: Vec<&str> = sheet.tables[0].rows.iter().map(|row| row[1].as_str()).collect();
    assert!(steps[0].starts_with("Part the metal of the bridge from its lead"), "{steps:?}");
    assert!(steps[1].starts_with("Solder a wire from bridge.cover"), "{steps:?}");
    assert!(rewiring_sheet(&material, "rewire-nothing").is_none());
}

#[test]
fn what_cannot_be_read_is_told_with_what_would_be_right() {
    let wishes = "
wish brighter
wish bridge in series
wish both in series in position 9
wish treble kept
";
    insta::assert_snapshot!(document(&page(&(TWO_COVERED.to_owned() + wishes))));
    assert_eq!(page("").means[0].id, "no-circuit");
    assert_eq!(page(TWO_COVERED).means[0].id, "no-wish");
}
