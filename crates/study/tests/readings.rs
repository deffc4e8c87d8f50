//! Readings through the whole path: typed, kept, folded, studied.

mod common;

use asfound_measure::{Celsius, Ohms, show_expanded};
use asfound_study::readings::{At20, ReadingStudied, study};
use common::{Ledger, workshop};

fn studied(lines: &str) -> Vec<ReadingStudied> {
    let known = workshop();
    let mut job =
        Ledger::with("part neck coil, coil, neck\npart pot, pot, plate").with_meters(known.meters.clone());
    job.say_all(lines);
    study(&job.job, &known.job)
}

fn one(line: &str) -> ReadingStudied {
    studied(line).remove(0)
}

fn known_at_20(reading: &ReadingStudied) -> Ohms {
    match &reading.at_20 {
        Some(At20::Known(worked)) => Ohms(worked.value),
        other => panic!("{other:?}"),
    }
}

fn near(value: Ohms, expected: f64, within: f64) {
    assert!((value.0 - expected).abs() <= within, "{value:?} is not {expected}");
}

/// 6300 Ω / (1 + 0.003 93 × 15) = 5949.3 Ω (IEC 60028); half of the last printed digit is allowed.
#[test]
fn a_warm_reading_comes_down() {
    near(known_at_20(&one("neck coil 6.30k 35 °C")), 5949.3, 0.05);
}

/// 6150 Ω at 5 °C by a meter of 0.9 % + 2: 6535 Ω ± 98 Ω, k = 2 (JCGM 100); printed to two digits of the uncertainty.
#[test]
fn a_cold_reading_goes_up_with_its_uncertainty() {
    let reading = one("neck coil 6.15k 5 °C M1");
    near(known_at_20(&reading), 6535.0, 0.5);
    let Some(At20::Known(worked)) = &reading.at_20 else { panic!() };
    assert_eq!(show_expanded(worked.of::<Ohms>()), "(6.535\u{202F}±\u{202F}0.098)\u{202F}kΩ");
}

/// 95 °F is 35 °C, by the definition of the scale.
#[test]
fn fahrenheit_and_celsius_agree() {
    let (fahrenheit, celsius) = (one("neck coil 6.30k 95 F"), one("neck coil 6.30k 35 C"));
    let Some((text, Celsius(degrees))) = &fahrenheit.temperature else { panic!() };
    assert_eq!(text, "95 F");
    assert!((degrees - 35.0).abs() < 1e-12);
    near(known_at_20(&fahrenheit), known_at_20(&celsius).0, 1e-9);
}

/// With no temperature, the ends are those of 25 and of 15 °C: 6310 / (1 ± 0.003 93 × 5).
#[test]
fn without_a_temperature_there_is_a_range() {
    let Some(At20::Between(low, high)) = one("neck coil 6k31").at_20 else { panic!() };
    near(low, 6310.0 / 1.01965, 1e-6);
    near(high, 6310.0 / 0.98035, 1e-6);
}

#[test]
fn a_bound_is_no_value() {
    for line in
        ["neck coil over 20k 21C", "neck coil OL 21C", "neck coil not measured", "neck coil under 1 ohm 21C"]
    {
        assert_eq!(one(line).at_20, None, "{line}");
    }
}

#[test]
fn odd_readings_are_studied_as_typed_and_questioned() {
    let slip = one("neck coil 5.84 ohms 21C");
    assert_eq!(slip.text, "5.84 ohms");
    assert_eq!(slip.shown.as_ref().map(|shown| shown.value), Some(5.84));
    assert_eq!(slip.doubt.as_ref().and_then(|doubt| doubt.likely()), Some("5.84 kΩ"));
    assert!(one("neck coil -3 21C").doubt.is_some());
}

#[test]
fn only_windings_follow_copper() {
    assert_eq!(one("pot 512k 35 C").at_20, None);
    assert_eq!(one("neck coil 2.4 H 35 C").at_20, None);
}

#[test]
fn a_meter_that_is_known_makes_it_less_sure_than_its_last_digit_alone() {
    let sure = |line: &str| match one(line).at_20 {
        Some(At20::Known(worked)) => worked.standard_uncertainty,
        other => panic!("{other:?}"),
    };
    assert!(sure("neck coil 6k31 21C M1") > sure("neck coil 6k31 21C M2"));
    assert!((sure("neck coil 6k31 21C M2") - sure("neck coil 6k31 21C")).abs() < 1e-12);
    // A statement for ohms says nothing of farads.
    assert_eq!(one("neck coil 120 pF M1").shown.and_then(|shown| shown.meter_half_width), None);
}

#[test]
fn a_corrected_reading_keeps_its_name() {
    let known = workshop();
    let mut job = Ledger::with("part neck coil, coil, neck").with_meters(known.meters.clone());
    let slip = job.say("neck coil 5.84 ohms");
    let right = job.hear("neck coil 5.84k").unwrap().body;
    let correction = job.correct(&slip, &right);
    let studied = study(&job.job, &known.job);
    assert_eq!(studied.len(), 1);
    assert_eq!((studied[0].root, studied[0].seq), (slip.seq, correction.seq));
}
