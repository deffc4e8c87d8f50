//! What a person can get wrong in saying what was found on a coil, and any sense or nonsense at all.

use asfound_electric::coil::*;
use asfound_measure::{Celsius, Henries, Hertz, Millimetres, Ohms, Uncertain};
use proptest::prelude::*;

fn reading(ohms: f64, doubt: f64) -> OhmsReading {
    OhmsReading {
        shown: Shown::Ohms(Uncertain { value: Ohms(ohms), standard_uncertainty: Ohms(doubt) }),
        temperature: Temperature::NotSaid,
        meter: 1,
        gain_uncertainty: 0.004,
    }
}

fn refused(found: &Found) -> String {
    found.check().expect_err("cannot be").to_string()
}

#[test]
fn each_fault_says_where_and_what_would_be_right() {
    let good = Found { ohms: vec![reading(6000.0, 3.0)], ..Found::default() };
    assert_eq!(good.check(), Ok(()));
    let with = |change: &dyn Fn(&mut Found)| {
        let mut found = good.clone();
        change(&mut found);
        refused(&found)
    };
    assert!(refused(&Found::default()).contains("nothing was found yet"));
    assert!(with(&|f| f.ohms[0] = reading(-5.0, 1.0)).contains("resistance, in Ω is -5"));
    assert!(with(&|f| f.ohms[0] = reading(6000.0, 0.0)).contains("no measure is perfect"));
    assert!(with(&|f| f.ohms[0].shown = Shown::Over(Ohms(f64::NAN))).contains("end of the range"));
    assert!(with(&|f| f.ohms[0].gain_uncertainty = 4.0).contains("the meter's gain"));
    let hot = Temperature::Measured(Uncertain::new(Celsius(200.0), Celsius(1.0)));
    assert!(with(&|f| f.ohms[0].temperature = hot).contains("typed in °F"));
    let bad = Uncertain::new(Millimetres(0.0), Millimetres(0.1));
    assert!(with(&|f| f.depth = Some(bad)).contains("depth of the winding"));
    let henries = At { frequency: Hertz(0.0), read: Uncertain::new(Henries(2.0), Henries(0.1)) };
    assert!(with(&|f| f.inductance.push(henries)).contains("frequency, in Hz is 0"));
    assert!(with(&|f| f.period = Some(Period { from: 1970, to: 1960 })).contains("ends before it begins"));
    let both = vec![Feature::WaxBlack, Feature::WaxNone];
    assert_eq!(
        with(&|f| f.features = both.clone()),
        "\"black wax\" and \"no wax\" cannot both be; keep the one that is seen"
    );
    let twice = vec![Feature::TapeNewer, Feature::TapeNewer];
    assert!(with(&|f| f.features = twice.clone()).contains("said twice"));
    let wire = |mm: f64| Some(Uncertain::new(Millimetres(mm), Millimetres(0.001)));
    let inside_out = with(&|f| (f.wire_bare, f.wire_over_insulation) = (wire(0.08), wire(0.07)));
    assert!(inside_out.contains("one of the two is mistaken"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Whatever coil is found, shares make sense: they sum to one with none of these, and nothing is certain.
    #[test]
    fn any_coil_is_answered(
        log_ohms in 0.0..8.0_f64,
        depth in proptest::option::of(0.5..15.0_f64),
        kind in proptest::option::of(0..7_usize),
        seen in proptest::sample::subsequence(Feature::ALL.to_vec(), 0..6),
        seed in any::<u64>(),
    ) {
        let ohms = libm::pow(10.0, log_ohms);
        let mut features: Vec<Feature> = Vec::new();
        for feature in seen {
            if features.iter().all(|other| other.about() != feature.about()) {
                features.push(feature);
            }
        }
        let found = Found {
            ohms: vec![reading(ohms, 1e-3 * ohms)],
            depth: depth.map(|depth| Uncertain::new(Millimetres(depth), Millimetres(0.25))),
            construction: kind.map(|kind| Construction::ALL[kind]),
            features,
            ..Found::default()
        };
        let (opinions, tables) = (Opinions::default(), Tables::default());
        let weighed = weigh_drawing(2_000, &found, &opinions, &tables, seed).expect("can be weighed");
        let conditions: f64 = Condition::ALL.iter().map(|what| weighed.condition(*what).value()).sum();
        let hands: f64 = Hand::ALL.iter().map(|what| weighed.hand(*what).value()).sum();
        let none = weighed.none_of_these.value();
        // Each shown figure may be raised to its floor.
        prop_assert!((conditions + none - 1.0).abs() < 0.008, "{conditions} {none}");
        prop_assert!((hands + none - 1.0).abs() < 0.005, "{hands} {none}");
        for next in &weighed.next {
            prop_assert!(next.tells.value() >= 0.0 && next.tells.value().is_finite());
        }
        for considered in &weighed.conditions {
            prop_assert!(considered.speaks.iter().all(|said| said.log_ratio.is_finite()));
        }
    }
}
