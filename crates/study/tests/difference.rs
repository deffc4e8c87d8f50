//! Two readings compared: typed, kept, folded, studied.

mod common;

use asfound_measure::{Celsius, CopperError, Ohms};
use asfound_study::difference::{
    Because, Difference, Gain, NotCompared, Of, Place, Temperatures, Verdict, between, within_parts,
};
use common::{Ledger, workshop};
use proptest::prelude::*;

fn job() -> (Ledger, Ledger) {
    let known = workshop();
    let parts = "part neck coil, coil, neck\npart bridge coil, coil, bridge\npart volume pot, pot, plate";
    (Ledger::with(parts).with_meters(known.meters.clone()), known)
}

fn compared(first: &str, second: &str) -> Result<Difference, NotCompared> {
    let (mut job, known) = job();
    let (first, second) = (job.say(first).seq, job.say(second).seq);
    between(&job.job, &known.job, first, second)
}

fn verdict(first: &str, second: &str) -> Verdict {
    compared(first, second).expect("two readings of windings").verdict
}

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// (7000/7500 − 1)/0.003 93 = −16.96 K, and 3.04 °C if the first was at 20 °C (IEC 60028). A van in winter has that, and
/// no workshop.
#[test]
fn a_cold_day_comes_before_any_other_explanation() {
    for (first, second) in [
        ("neck 7.50k at the joints M1", "neck 7.00k at the joints M1"),
        ("neck 7.5k", "neck 7.0k"),
        ("neck 7.5k M1", "bridge 7.0k M1"),
    ] {
        let Verdict::OnlyIfTemperature { alone, .. } = verdict(first, second) else {
            panic!("{first} {second}")
        };
        near(alone.warmer.value.0, -16.96, 0.005);
        near(alone.second_at.expect("of a first at 20 °C").0, 3.04, 0.005);
        near(alone.first_at.expect("of a second at 20 °C").0, 38.18, 0.005);
        assert_eq!(alone.place, Place::Outside, "{first} {second}");
    }
    let difference = compared("neck 7.50k M1", "neck 7.00k M1").expect("two readings");
    assert_eq!((difference.of, difference.temperatures), (Of::OnePart, Temperatures::BothMissing));
    // Each temperature from 15 °C to 25 °C on its own: 7000/1.01965 − 7500/0.98035 and the other way about.
    let (least, most) = difference.over_the_room.expect("temperatures are missing");
    near(least.0, -785.23, 0.01);
    near(most.0, -215.16, 0.01);
}

/// The meter may be the reason as well, where nobody knows how good it is.
#[test]
fn a_meter_that_is_not_known_may_be_the_reason_too() {
    let Verdict::OnlyIfTemperature { or_meter, .. } = verdict("neck 7.50k M2", "neck 7.30k M2") else {
        panic!()
    };
    assert!(or_meter);
    let Verdict::OnlyIfTemperature { or_meter, .. } = verdict("neck 7.50k M1", "neck 7.00k M1") else {
        panic!()
    };
    assert!(!or_meter);
}

#[test]
fn within_a_workshop_the_room_may_have_changed() {
    let Verdict::OnlyIfTemperature { alone, .. } = verdict("neck 7.500k M1 on 20k", "neck 7.300k M1 on 20k")
    else {
        panic!()
    };
    assert_eq!(alone.place, Place::Workshop);
}

/// Half the ohms are not the same coil on a cold day.
#[test]
fn no_temperature_halves_a_coil() {
    let difference = compared("neck 6.00k", "neck 3.00k").expect("two readings");
    assert_eq!(difference.verdict, Verdict::Different);
    let alone = difference.alone.expect("temperatures are missing");
    assert_eq!((alone.place, alone.warmer.value), (Place::Nowhere, Celsius(f64::NEG_INFINITY)));
}

#[test]
fn as_read_alike_is_not_different() {
    let difference = compared("neck 6k31", "bridge 6k31").expect("two readings");
    assert_eq!(difference.verdict, Verdict::NotDifferent);
    assert_eq!((difference.of, difference.temperatures), (Of::TwoParts, Temperatures::BothMissing));
}

/// 6300/(1 + 0.003 93 × 15) = 5949.3 Ω (IEC 60028): 5.95 kΩ at 20 °C is the same.
#[test]
fn a_warm_reading_and_its_like_at_20_degrees() {
    let difference = compared("neck 6.30k 95 F M1", "neck 5.95k 20 C M1").expect("two readings");
    near(difference.at_20.value, 0.68, 0.05);
    assert_eq!((difference.verdict, difference.temperatures), (Verdict::NotDifferent, Temperatures::Taken));
    assert_eq!((difference.alone, difference.over_the_room), (None, None));
}

/// With the second's temperature missing, it would have had to be 20.04 °C: in a workshop.
#[test]
fn one_temperature_tells_what_the_other_must_have_been() {
    let difference = compared("neck 6.30k 95 F M1", "neck 5.95k M1").expect("two readings");
    assert_eq!(difference.temperatures, Temperatures::OneMissing);
    let Verdict::OnlyIfTemperature { alone, .. } = difference.verdict else {
        panic!("{:?}", difference.verdict)
    };
    near(alone.second_at.expect("from the first's").0, 20.03, 0.01);
    near(alone.warmer.value.0, -14.97, 0.01);
    assert_eq!((alone.first_at, alone.place), (None, Place::Workshop));
    // The other way about, the first is the missing one.
    let Verdict::OnlyIfTemperature { alone, .. } = verdict("neck 5.95k M1", "neck 6.30k 95 F M1") else {
        panic!()
    };
    near(alone.first_at.expect("from the second's").0, 20.03, 0.01);
    near(alone.warmer.value.0, 14.97, 0.01);
    // At room temperature, alike is alike.
    assert_eq!(verdict("neck 6.31k 21 C M1", "neck 6.31k M1"), Verdict::NotDifferent);
}

/// 13.00 kΩ and 13.20 kΩ at 21 °C by ±(0.9 % + 2): 199.217 Ω apart at 20 °C, u = 105.905 Ω if each has a gain error of
/// its own, 44.966 Ω if they share it. Worked out by hand from JCGM 100, equations 10 and 16; printed digits.
#[test]
fn one_meter_on_one_range_is_surer_of_a_difference() {
    let shared = compared("neck 13.00k 21C M1 on 20k", "bridge 13.20k 21C M1 on 20k").expect("two readings");
    near(shared.at_20.value, 199.217, 5e-4);
    near(shared.at_20.standard_uncertainty, 44.966, 5e-4);
    assert_eq!((shared.gain, shared.verdict), (Gain::Shared, Verdict::Different));
    assert_eq!(shared.uncertainty.0, shared.uncertainty.1);

    let apart = compared("neck 13.00k 21C M1 on 20k", "bridge 13.20k 21C M1 on 200k").expect("two readings");
    near(apart.at_20.standard_uncertainty, 105.905, 5e-4);
    assert_eq!((apart.gain, apart.verdict), (Gain::Apart, Verdict::NotDifferent));

    let not_said = compared("neck 13.00k 21C M1", "bridge 13.20k 21C M1").expect("two readings");
    assert_eq!(
        (not_said.gain, not_said.verdict),
        (Gain::NotKnown, Verdict::CannotTell(Because::RangeNotKnown))
    );
    near(not_said.uncertainty.0.0, 44.966, 5e-4);
    near(not_said.uncertainty.1.0, 105.905, 5e-4);

    // Of one part, the copper is the same copper: 44.9643 Ω.
    let one = compared("neck 13.00k 21C M1 on 20k", "neck 13.20k 21C M1 on 20k").expect("two readings");
    near(one.at_20.standard_uncertainty, 44.9643, 5e-5);
}

#[test]
fn a_meter_that_is_not_known_is_gone_over() {
    // 90 Ω apart: a perfect meter would see it, one of ±(3 % + 5) would not.
    assert_eq!(verdict("neck 6.31k 21C", "neck 6.40k 21C"), Verdict::CannotTell(Because::MeterNotKnown));
    // 1.3 kΩ apart: any meter in order sees it.
    assert_eq!(verdict("neck 6.31k 21C", "neck 5.00k 21C"), Verdict::Different);
    // Not even a perfect one would see it.
    assert_eq!(verdict("neck 6.31k 21C", "neck 6.32k 21C"), Verdict::NotDifferent);
}

#[test]
fn in_circuit_nothing_is_decided() {
    for way in ["in circuit", "at the jack"] {
        let read = format!("neck 5.00k 21C M1 {way}");
        assert_eq!(verdict("neck 6.31k 21C M1", &read), Verdict::CannotTell(Because::InCircuit), "{way}");
    }
}

/// 68 °F is 20 °C, and 68 °C is the other scale or a slip: it explains nothing, and stands for no temperature.
#[test]
fn a_temperature_that_no_coil_is_read_at_counts_as_not_taken() {
    let difference = compared("neck 6.31k 68 C M1", "neck 6.31k 20 C M1").expect("two readings");
    assert_eq!((difference.first.temperature, difference.temperatures), (None, Temperatures::OneMissing));
    assert_eq!(difference.verdict, Verdict::NotDifferent);
    let bound = compared("neck 6.31k over 20 C M1", "neck 6.31k 20 C M1").expect("two readings");
    assert_eq!(bound.first.temperature, None);
}

#[test]
fn what_cannot_be_compared_says_which() {
    let (mut job, known) = job();
    let sound = job.say("neck 6k31 21C").seq;
    let over = job.say("bridge over 20k").seq;
    let pot = job.say("volume pot 250k").seq;
    let henries = job.say("neck 2.4 H").seq;
    let nothing = job.say("neck 0 ohm").seq;
    let refused = |second: u64| between(&job.job, &known.job, sound, second).expect_err("not comparable");
    assert_eq!(refused(over), NotCompared::NoValue(over));
    assert_eq!(refused(pot), NotCompared::NotAWinding(pot));
    assert_eq!(refused(henries), NotCompared::NotAWinding(henries));
    assert_eq!(refused(nothing), NotCompared::Odd(nothing, CopperError::Resistance(0.0)));
    assert_eq!(refused(sound), NotCompared::SameReading(sound));
    assert_eq!(refused(999), NotCompared::NoSuchReading(999));
}

#[test]
fn readings_of_one_part_are_weighed_in_their_order() {
    let (mut job, known) = job();
    let first = job.say("neck 7.50k 21C M1 at the joints").seq;
    job.say("bridge 8.00k 21C M1");
    job.say("neck OL");
    let act = job.say("did neck coil: cleaned the joints").seq;
    let second = job.say("neck 6.00k 21C M1 at the joints").seq;
    let third = job.say("neck 6.01k 21C M1 at the joints").seq;
    let found = within_parts(&job.job, &known.job);
    let roots: Vec<(u64, u64)> = found.iter().map(|pair| (pair.first.root, pair.second.root)).collect();
    assert_eq!(roots, [(first, second), (second, third)]);
    assert_eq!((found[0].verdict, found[0].acts_between.as_slice()), (Verdict::Different, [act].as_slice()));
    assert_eq!((found[1].verdict, found[1].acts_between.is_empty()), (Verdict::NotDifferent, true));
}

#[test]
fn a_struck_reading_takes_no_part() {
    let (mut job, known) = job();
    let wrong = job.say("neck 7.50k 21C M1");
    job.say("neck 6.00k 21C M1");
    job.strike(&wrong);
    assert_eq!(within_parts(&job.job, &known.job), []);
}

fn line() -> impl Strategy<Value = String> {
    let temperature = proptest::option::of(-10..45_i32);
    let meter = proptest::sample::select(vec!["", " M1", " M2"]);
    let range = proptest::sample::select(vec!["", " on 20k", " on 200k"]);
    (3000..15_000_u32, temperature, meter, range).prop_map(|(ohms, temperature, meter, range)| {
        let at = temperature.map_or(String::new(), |celsius| format!(" {celsius} C"));
        format!("{}.{:03}k{at}{meter}{range}", ohms / 1000, ohms % 1000)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_order_turns_the_sign_and_nothing_else(first in line(), second in line()) {
        let (mut job, known) = job();
        let (first, second) = (job.say(&format!("neck {first}")).seq, job.say(&format!("bridge {second}")).seq);
        let there = between(&job.job, &known.job, first, second).expect("two readings");
        let back = between(&job.job, &known.job, second, first).expect("two readings");
        prop_assert_eq!(there.at_20.value, -back.at_20.value);
        prop_assert!((there.uncertainty.1 .0 / back.uncertainty.1 .0 - 1.0).abs() < 1e-12);
        prop_assert!(there.uncertainty.0 .0 <= there.uncertainty.1 .0);
        prop_assert_eq!(std::mem::discriminant(&there.verdict), std::mem::discriminant(&back.verdict));
        // What is different in every case is not alike in any.
        if there.verdict == Verdict::Different {
            prop_assert!(there.at_20.value.abs() > 2.0 * there.uncertainty.1 .0);
        }
        if let (Some((least, most)), Verdict::Different) = (there.over_the_room, there.verdict) {
            prop_assert!(least > Ohms(0.0) || most < Ohms(0.0));
        }
    }
}
