//! Laws of readings at the jack, on drawn coils and tracks; and what a person can do wrong.

#[path = "common/plug.rs"]
mod plug;

use asfound_electric::jack::*;
use asfound_electric::polarity::Joined;
use asfound_electric::trace::Trace;
use asfound_electric::{Reading, Setting, Unsolvable};
use asfound_measure::{Ohms, Uncertain};
use plug::*;
use proptest::prelude::*;

/// Readings without error of an arrangement with these coils and one track value.
fn exact(asked: &Plain, coils: &[f64], track: f64) -> Vec<PlainReading> {
    let coils: Vec<Ohms> = coils.iter().map(|&ohms| Ohms(ohms)).collect();
    let (controls, joined) = (asked.controls.unwrap(), asked.joined.unwrap());
    let table = expected(asked, controls, joined, &coils, Ohms(track)).unwrap();
    let with = |(reading, read): (&PlainReading, Reading)| {
        let Reading::Ohms(Ohms(ohms)) = read else { panic!("{read:?}") };
        let shown = Shown::Ohms(Uncertain::new(Ohms(ohms), Ohms(1e-4 * ohms)));
        PlainReading { shown, ..reading.clone() }
    };
    asked.readings.iter().zip(table).map(with).collect()
}

fn blank(on: &[usize]) -> PlainReading {
    full_up(on, shown(1.0, 0.5))
}

fn coil() -> impl Strategy<Value = f64> {
    2000.0_f64..15e3
}

proptest! {
    /// Five positions of three coils behind one volume give all four values back. 1e-5 of a coil and 1e-3 of a track:
    /// the fit ends where it gains less than 1e-12 of χ², and the track moves readings a thousandth as much.
    #[test]
    fn three_coils_and_a_volume_come_back(coils in prop::array::uniform3(coil()), track in 100e3_f64..1.2e6) {
        let on: [&[usize]; 5] = [&[0], &[0, 1], &[1], &[1, 2], &[2]];
        let mut asked = known(Controls::Master, &["neck", "middle", "bridge"], on.map(blank).to_vec());
        asked.readings = exact(&asked, &coils, track);
        let answer = read_plain(&asked, EXACT).unwrap();
        let fit = best(&answer);
        for (name, wanted) in ["neck", "middle", "bridge"].iter().zip(coils) {
            prop_assert!((ohms(fit, name) - wanted).abs() < 1e-5 * wanted);
        }
        prop_assert!((ohms(fit, "volume") - track).abs() < 1e-3 * track);
        prop_assert!(fit.expected.iter().all(Option::is_some));
    }

    /// Halves in series, in parallel and one alone, with a volume swept for its largest reading.
    #[test]
    fn halves_and_a_swept_volume_come_back(halves in prop::array::uniform2(coil()), track in 100e3_f64..1.2e6) {
        let of = |way| PlainReading { joined: Some(way), ..blank(&[0, 1]) };
        let swept = PlainReading { knobs: Knobs::Largest { volume: 0 }, ..blank(&[0]) };
        let readings = vec![of(Joined::Series), of(Joined::Parallel), blank(&[0]), swept];
        let mut asked = known(Controls::Master, &["one", "other"], readings);
        asked.readings = exact(&asked, &halves, track);
        let answer = read_plain(&asked, EXACT).unwrap();
        let fit = best(&answer);
        for (name, wanted) in ["one", "other"].iter().zip(halves) {
            prop_assert!((ohms(fit, name) - wanted).abs() < 1e-5 * wanted);
        }
        prop_assert!((ohms(fit, "volume") - track).abs() < 1e-4 * track);
    }

    /// A meter that reads all of it too high by one factor finds every value too high by that factor.
    #[test]
    fn one_gain_multiplies_all_values(coils in prop::array::uniform2(coil()), gain in 0.95_f64..1.05) {
        let on: [&[usize]; 3] = [&[0], &[1], &[0, 1]];
        let mut asked = known(Controls::Master, &["neck", "bridge"], on.map(blank).to_vec());
        asked.readings = exact(&asked, &coils, 250e3);
        let mut high = asked.clone();
        for reading in &mut high.readings {
            if let Shown::Ohms(shown) = &mut reading.shown {
                let by = |ohms: Ohms| Ohms(ohms.0 * gain);
                *shown = Uncertain::new(by(shown.value), by(shown.standard_uncertainty));
            }
        }
        let (plain, high) = (read_plain(&asked, EXACT).unwrap(), read_plain(&high, EXACT).unwrap());
        for part in ["neck", "bridge", "volume"] {
            let (one, other) = (ohms(best(&plain), part), ohms(best(&high), part));
            prop_assert!((other / one - gain).abs() < 1e-4, "{part}");
        }
    }

    /// With an uncertain gain every value is at least as uncertain as the gain, and the values move together.
    #[test]
    fn an_uncertain_gain_is_in_every_value(coils in prop::array::uniform2(coil())) {
        let on: [&[usize]; 3] = [&[0], &[1], &[0, 1]];
        let mut asked = known(Controls::NoPot, &["neck", "bridge"], on.map(blank).to_vec());
        asked.readings = exact(&asked, &coils, 250e3);
        let answer = read_plain(&asked, Meter { gain: 0.01 }).unwrap();
        let fit = best(&answer);
        let share = |part| told(fit, part).relative();
        prop_assert!(share("neck") >= 0.01 * (1.0 - 1e-6) && share("bridge") >= 0.01 * (1.0 - 1e-6));
        let correlation = fit.covariance[0][1] / (fit.covariance[0][0] * fit.covariance[1][1]).sqrt();
        prop_assert!(correlation > 0.99, "{correlation}");
    }

    /// One of five readings moved by a tenth is among those that are doubted, with what the rest says of it.
    #[test]
    fn a_reading_that_was_moved_is_doubted(
        coils in prop::array::uniform3(coil()), moved in 0_usize..5, up in any::<bool>(),
    ) {
        let on: [&[usize]; 5] = [&[0], &[0, 1], &[1], &[1, 2], &[2]];
        let mut asked = known(Controls::Master, &["neck", "middle", "bridge"], on.map(blank).to_vec());
        asked.tracks = OhmsKnown::Nominal(vec![Ohms(250e3)]);
        asked.readings = exact(&asked, &coils, 250e3);
        let Shown::Ohms(right) = asked.readings[moved].shown else { unreachable!("it was made so") };
        let by = if up { 1.1 } else { 0.9 };
        asked.readings[moved].shown =
            Shown::Ohms(Uncertain::new(Ohms(right.value.0 * by), right.standard_uncertainty));
        let answer = read_plain(&asked, EXACT).unwrap();
        let doubted = answer.doubted.iter().find(|it| it.reading == moved);
        prop_assert!(doubted.is_some(), "{:?}", answer.doubted);
        let expected = doubted.unwrap().expected;
        prop_assert!((expected.value.0 - right.value.0).abs() < 3.0 * expected.standard_uncertainty.0 + 1.0);
    }

    /// The order of the readings does not matter.
    #[test]
    fn the_order_of_readings_does_not_matter(coils in prop::array::uniform2(coil()), turn in 0_usize..3) {
        let on: [&[usize]; 3] = [&[0], &[1], &[0, 1]];
        let mut asked = known(Controls::Master, &["neck", "bridge"], on.map(blank).to_vec());
        asked.readings = exact(&asked, &coils, 250e3);
        let one = read_plain(&asked, EXACT).unwrap();
        asked.readings.rotate_left(turn);
        let other = read_plain(&asked, EXACT).unwrap();
        for part in ["neck", "bridge"] {
            let (one, other) = (ohms(best(&one), part), ohms(best(&other), part));
            prop_assert!((one - other).abs() < 1e-6 * one);
        }
    }
}

fn refused(asked: &Plain) -> JackError {
    read_plain(asked, EXACT).unwrap_err()
}

#[test]
fn readings_that_cannot_be_are_told() {
    let pair = |readings| known(Controls::Master, &["neck", "bridge"], readings);
    assert_eq!(refused(&pair(vec![])), JackError::NoReading);
    assert!(JackError::NoReading.to_string().contains("unplugged"));
    let coils = |what| JackError::Coils { reading: 1, what, last: 1 };
    assert_eq!(refused(&pair(vec![blank(&[])])), coils("no coil on"));
    assert_eq!(refused(&pair(vec![blank(&[2])])), coils("a coil that is not there"));
    assert_eq!(refused(&pair(vec![blank(&[0, 0])])), coils("a coil named twice"));
    for bad in [
        Uncertain::new(Ohms(-1.0), Ohms(1.0)),
        Uncertain::new(Ohms(f64::NAN), Ohms(1.0)),
        Uncertain::new(Ohms(5.0), Ohms(0.0)),
    ] {
        let error = refused(&pair(vec![full_up(&[0], Shown::Ohms(bad))]));
        assert!(matches!(error, JackError::Reading { reading: 1, .. }), "{error}");
    }
    let knob = turned(&[0], Knobs::At { volume: 0, share: 1.5 }, shown(5e3, 1.0));
    assert_eq!(refused(&pair(vec![knob])), JackError::Share { reading: 1, read: 1.5 });
    let knob = turned(&[0], Knobs::Largest { volume: 1 }, shown(5e3, 1.0));
    assert_eq!(refused(&pair(vec![knob])), JackError::NoSuchKnob);
    let gain = read_plain(&pair(vec![blank(&[0])]), Meter { gain: -0.1 });
    assert_eq!(gain, Err(JackError::Gain { read: -0.1 }));
    let mut asked = pair(vec![blank(&[0])]);
    asked.tracks = OhmsKnown::Nominal(vec![Ohms(0.0)]);
    assert_eq!(refused(&asked), JackError::Known { read: 0.0 });
    let names = known(Controls::Master, &["volume"], vec![blank(&[0])]);
    assert!(matches!(refused(&names), JackError::Names { .. }));
    let many = known(Controls::Master, &["1", "2", "3", "4", "5", "6", "7"], vec![blank(&[0])]);
    assert!(matches!(refused(&many), JackError::TooMany { what: "coils", .. }));
    let pair = pair(vec![blank(&[0])]);
    let table = |coils: &[Ohms]| expected(&pair, Controls::Master, Joined::Parallel, coils, Ohms(250e3));
    assert_eq!(table(&[Ohms(0.0); 2]), Err(JackError::Known { read: 0.0 }));
    assert_eq!(table(&[Ohms(5e3)]), Err(JackError::CoilCount { read: 1, wanted: 2 }));
}

#[test]
fn settings_that_do_not_fit_a_trace_are_told() {
    let trace =
        "coil neck 7k\n jack jack\n join neck.hot jack.tip seen\n join neck.ground jack.sleeve seen\n";
    let circuit = Trace::read(trace).unwrap().circuit().unwrap();
    let reading = |probe| JackReading { probe, full_up: FullUp::Said, shown: shown(7e3, 0.5) };
    let setting = Setting { wipers: vec![1.0], ..Setting::first(&circuit) };
    let wrong = Probe { setting, largest: None };
    let asked = |probe, known| Traced { circuit: circuit.clone(), known, readings: vec![reading(probe)] };
    let error = read_traced(&asked(wrong, vec![]), EXACT).unwrap_err();
    assert!(matches!(error, JackError::Circuit { reading: 1, why: Unsolvable::Setting { .. } }), "{error}");
    let right = Probe { setting: Setting::first(&circuit), largest: None };
    let error = read_traced(&asked(right.clone(), vec![(1, OhmsKnown::Unknown)]), EXACT).unwrap_err();
    assert_eq!(error, JackError::NoSuchPart { read: 1 });
    let knob = Probe { largest: Some(0), ..right };
    let error = read_traced(&asked(knob, vec![]), EXACT).unwrap_err();
    assert_eq!(error, JackError::NoSuchPart { read: 0 });
}

/// A number shown where nothing conducts rules the wiring out; so does a reading over a range that should hold it.
#[test]
fn what_a_wiring_cannot_show_rules_it_out() {
    let trace = "coil neck 7k\n jack jack\n join neck.hot jack.tip seen\n join neck.ground jack.sleeve or nothing unknown\n";
    let circuit = Trace::read(trace).unwrap().circuit().unwrap();
    let probe = Probe { setting: Setting::first(&circuit), largest: None };
    let reading = |shown| vec![JackReading { probe: probe.clone(), full_up: FullUp::Said, shown }];
    let asked = |shown| Traced { circuit: circuit.clone(), known: vec![], readings: reading(shown) };
    let verdict = |answer: &Answer, possibility| {
        let fit = answer.fits.iter().find(|fit| fit.wiring == Wiring::Traced { possibility });
        fit.expect("every way is told").verdict.clone()
    };
    let answer = read_traced(&asked(shown(7e3, 0.5)), EXACT).unwrap();
    assert_eq!(verdict(&answer, 0), Verdict::NothingToTest);
    assert_eq!(verdict(&answer, 1), Verdict::CannotShow { reading: 0 });
    let mut over = asked(Shown::Over(Ohms(2e6)));
    over.known = vec![(0, OhmsKnown::Metered(Uncertain::new(Ohms(7e3), Ohms(5.0))))];
    let answer = read_traced(&over, EXACT).unwrap();
    assert_eq!(verdict(&answer, 0), Verdict::CannotShow { reading: 0 });
    assert!(verdict(&answer, 1).stands());
}
