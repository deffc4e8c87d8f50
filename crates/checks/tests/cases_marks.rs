//! Marked parts that people brought to a bench, said as they would say them, and what the page Parts must answer.
//!
//! Practitioners' cases, no source, retold; values after IEC 60062, worked out by hand beside each.

mod bench;

use bench::{page_after, says};

fn parts(lines: &str) -> String {
    page_after(lines, "parts")
}

/// 10 × 10³ pF = 10 nF = 0.01 µF; M is 20 %: 8 to 12 nF.
#[test]
fn a_brown_disc() {
    let page = parts("part disc capacitor, capacitor, cavity\ndisc capacitor: brown disc marked 103M");
    says(&page, &["marked 0.01 µF (10.0 nF) ±20 %", "from 8.00 nF", "to 0.012 µF (12.0 nF)"]);
}

/// 22 × 10³ pF = 0.022 µF, black 20 %, the last band in hundreds of volts.
#[test]
fn a_banded_black_tube() {
    let page = parts(
        "part tone cap, capacitor, harness\ntone cap: banded black tube, bands red red orange black, gap, yellow",
    );
    says(&page, &["0.022 µF (22.0 nF) ±20 %, 400 V", "Keep it even if it is replaced"]);
    let page =
        parts("part tone cap, capacitor, harness\ntone cap: bands red red orange black yellow\ntone cap 24n");
    says(&page, &["24.0 nF) lies within it", "leakage", "limit the current", "discharge it, then measure"]);
}

/// 12 × 100 pF = 1,200 pF for certain; blue is 6 % by its figure and 2 % in a training text: both are shown.
#[test]
fn six_dots_whose_tolerance_is_disputed() {
    let page = parts(
        "part mica cap, capacitor, chassis\nmica cap: arrows to the right, top row white, brown, red. Lower right red, lower centre blue",
    );
    says(
        &page,
        &[
            "mica, 1.20 nF (1200 pF), tolerance disputed",
            "6 % by the figure of the colour",
            "2 % by a training text",
            "unresolved",
        ],
    );
}

#[test]
fn five_resistors() {
    for (bands, value) in [
        ("yellow violet yellow silver", "470 kΩ ±10 %"),
        ("red red green silver", "2.20 MΩ ±10 %"),
        ("orange orange black gold", "33.0 Ω ±5 %"),
        ("white brown brown gold", "910 Ω ±5 %"),
        ("brown red gold gold", "1.20 Ω ±5 %"),
    ] {
        let page = parts(&format!("part resistor, resistor, board\nresistor: bands {bands}"));
        says(&page, &[value]);
    }
}

/// Beside each other: 0, 0.015, 0.025, 0.035 µF.
#[test]
fn one_block_with_three_capacitors() {
    let page = parts(
        "part tone block, capacitor, chassis\ntone block: block of 0.015, 0.01 and 0.01 uF with one common end",
    );
    says(&page, &["0 µF, 0.015 µF, 0.025 µF and 0.035 µF", "one original part"]);
}

/// Old composition parts drift up: 118 k on a 100 k part of 10 % is usual, 145 k is flagged.
#[test]
fn a_drifted_resistor() {
    let drifted = |shown: &str| {
        parts(&format!(
            "part resistor, resistor, board\nresistor: bands brown black yellow silver\nresistor {shown}"
        ))
    };
    says(&drifted("118k"), &["+18 %: old composition parts drift up so far"]);
    says(&drifted("145k"), &["+45 %: drifted far"]);
    says(&drifted("104k"), &["lies within it"]);
    says(&drifted("70k"), &["−30 %, outside the marking"]);
}

#[test]
fn what_is_no_marking_says_how_to_type_one() {
    let page = parts("part resistor, resistor, board\nresistor: bands gold violet yellow");
    says(
        &page,
        &["its marking is not read", "Gold cannot be the first colour", "bands red red orange black yellow"],
    );
}
