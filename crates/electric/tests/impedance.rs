//! Impedance models against worked figures, and fits against coils that are known.

use asfound_electric::impedance::{Kind, Model, ShortedTurns, as_metered, fit};
use asfound_electric::least_squares::{FitError, NotTold};
use asfound_electric::sweep::{Point, Sweep};
use asfound_electric::{Complex, Eddy};
use asfound_measure::{Farads, Henries, Hertz, Ohms};
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

const SINGLE: (Ohms, Henries, Farads) = (Ohms(6000.0), Henries(2.4), Farads(110e-12));

fn single() -> Model {
    Model::plain(SINGLE.0, SINGLE.1, SINGLE.2)
}

/// 8 kΩ, 3.0 H and 1.4 H under 60 kΩ: an assumed dual coil.
fn steel() -> Model {
    let eddy = Eddy { inductance: Henries(1.4), loss: Ohms(60e3) };
    Model { eddies: vec![eddy], ..Model::plain(Ohms(8000.0), Henries(3.0), Farads(100e-12)) }
}

/// Two eddy branches, assumed.
fn covered() -> Model {
    let eddy = |h, r| Eddy { inductance: Henries(h), loss: Ohms(r) };
    Model {
        eddies: vec![eddy(0.8, 8e3), eddy(1.2, 150e3)],
        ..Model::plain(Ohms(7500.0), Henries(2.4), Farads(120e-12))
    }
}

/// A number from -1 to 1 from a named generator.
fn even(generator: &mut ChaCha12Rng) -> f64 {
    (generator.next_u64() >> 11) as f64 * libm::exp2(-53.0) * 2.0 - 1.0
}

/// A normal number: twelve even ones have variance 12 · 1/3 = 4.
fn normal(generator: &mut ChaCha12Rng) -> f64 {
    (0..12).map(|_| even(generator)).sum::<f64>() / 2.0
}

/// Sixty points from 20 Hz to 20 kHz with a noise that is a share of the impedance.
fn swept(model: &Model, noise: f64, seed: u64, phase: bool, said: bool) -> Sweep {
    let mut generator = ChaCha12Rng::seed_from_u64(seed);
    let points = (0..60).map(|i| {
        let frequency = Hertz(20.0 * libm::pow(1000.0, f64::from(i) / 59.0));
        let off = Complex::new(1.0 + noise * normal(&mut generator), noise * normal(&mut generator));
        let mut point = Point::complex(frequency, model.impedance(frequency) * off, said.then_some(noise));
        if !phase {
            point.phase = None;
        }
        point
    });
    Sweep::new(points.collect()).expect("good points")
}

fn near(found: f64, expected: f64, relative: f64) {
    assert!((found / expected - 1.0).abs() <= relative, "{found} is not {expected}");
}

/// The ladder's figures were worked out independently in double precision; half a unit of the last digit.
#[test]
fn the_ladder_loses_inductance_as_it_rises() {
    let ladder = Model { capacitance: Farads(0.0), ..steel() };
    let table = [
        (100.0, 4.399699, 8012.894, 0.34500),
        (120.0, 4.399567, 8018.565, 0.41369),
        (1000.0, 4.370542, 9262.493, 2.96474),
        (2000.0, 4.289164, 12750.121, 4.22735),
        (5000.0, 3.910661, 28971.678, 4.24059),
        (10000.0, 3.444532, 48948.634, 4.42150),
    ];
    for (frequency, inductance, resistance, quality) in table {
        let shown = as_metered(ladder.impedance(Hertz(frequency)), Hertz(frequency));
        assert!((shown.series_inductance.0 - inductance).abs() < 1e-6, "{shown:?}");
        assert!((shown.series_resistance.0 - resistance).abs() < 1e-3, "{shown:?}");
        assert!((shown.quality - quality).abs() < 1e-5, "{shown:?}");
    }
}

/// Two-element equivalents of 2.4 H and 6 kΩ, and what 110 pF across it makes of them; independently worked out.
#[test]
fn what_a_meter_shows() {
    let table = [
        (100.0, 0.25133, 3.97887, 40.39544, 6379.0, 2.396289, 6001.25),
        (120.0, 0.30159, 3.31573, 28.78572, 6545.7, 2.396398, 6001.80),
        (1000.0, 2.51327, 0.39789, 2.77995, 43899.3, 2.421191, 6126.94),
        (10000.0, 25.13274, 0.03979, 2.40380, 3795928.1, -30.06, 1712782.5),
    ];
    for (frequency, q, d, lp, rp, apparent_l, apparent_r) in table {
        let frequency = Hertz(frequency);
        let bare = as_metered(single().without_capacitance(frequency), frequency);
        near(bare.quality, q, 2e-5);
        near(bare.dissipation, d, 2e-4); // five decimals of 0.03979
        near(bare.parallel_inductance.0, lp, 2e-6);
        near(bare.parallel_resistance.0, rp, 1e-5);
        let whole = as_metered(single().impedance(frequency), frequency);
        near(whole.series_inductance.0, apparent_l, 2e-4); // four digits of -30.06
        near(whole.series_resistance.0, apparent_r, 1e-6);
    }
}

/// A public circuit-library example of a dual coil: 4.4 H resonates at 7.715 kHz with a peak of 319 kΩ, which with 8 kΩ
/// of wire takes 96.72 pF and 337.9 kΩ across the coil, and gives Q 1.4956.
#[test]
fn the_resonance_of_a_bare_dual_coil() {
    let coil = Model {
        parallel_loss: Some(Ohms(337.9e3)),
        ..Model::plain(Ohms(8000.0), Henries(4.4), Farads(96.7199e-12))
    };
    let resonance = coil.resonance().unwrap();
    // The wire moves the passage of the phase through nought by 1 - R²C/L, 7 parts in 10 000.
    near(resonance.frequency.0, 7715.0, 1e-3);
    near(resonance.impedance.0, 319e3, 1e-3);
    near(resonance.quality, 1.4956, 2e-3);
    let deaf = Model { capacitance: Farads(1e-6), ..single() };
    assert_eq!(deaf.resonance(), None);
}

/// Turns shorted on themselves in 8000, coupling 0.95 (assumed), without capacitance: L and Q at 120 Hz, L, R, Q at
/// 1 kHz, L and Q at 10 kHz, worked out from `Rₐ + jωLₐ + ω²M²/(R_b + jωL_b)`; half a unit of the last digit.
#[test]
fn shorted_turns_are_an_eddy_branch() {
    let table = [
        (1.0, (2.39940, 0.3016), (2.39940, 6003.5, 2.5112), (2.39938, 23.4580)),
        (10.0, (2.39400, 0.3012), (2.39398, 6035.1, 2.4924), (2.39187, 14.6576)),
        (80.0, (2.35222, 0.2983), (2.35090, 6275.0, 2.3540), (2.22611, 3.7327)),
        (400.0, (2.16556, 0.2853), (2.13561, 7219.5, 1.8586), (0.96912, 0.9290)),
        (1600.0, (1.53097, 0.2374), (1.25640, 8295.1, 0.9517), (0.20254, 0.5928)),
    ];
    for (turns, low, middle, high) in table {
        let coil = Model::with_shorted_turns(SINGLE.0, SINGLE.1, SINGLE.2, turns / 8000.0, 0.95);
        let shown = |f: f64| as_metered(coil.without_capacitance(Hertz(f)), Hertz(f));
        assert!((shown(120.0).series_inductance.0 - low.0).abs() < 6e-6);
        assert!((shown(120.0).quality - low.1).abs() < 6e-5);
        assert!((shown(1000.0).series_inductance.0 - middle.0).abs() < 6e-6);
        assert!((shown(1000.0).series_resistance.0 - middle.1).abs() < 0.06);
        assert!((shown(1000.0).quality - middle.2).abs() < 6e-5);
        assert!((shown(1e4).series_inductance.0 - high.0).abs() < 6e-6);
        assert!((shown(1e4).quality - high.1).abs() < 6e-5);
    }
}

#[test]
fn the_simplest_model_that_explains_is_taken() {
    let leaky = Model { parallel_loss: Some(Ohms(700e3)), ..single() };
    let coils = [
        (single(), Kind::Plain),
        (leaky, Kind::ParallelLoss),
        (steel(), Kind::OneEddy),
        (covered(), Kind::TwoEddies),
    ];
    for (coil, kind) in coils {
        for (seed, said) in (0..3).flat_map(|seed| [(seed, true), (seed, false)]) {
            let fitted = fit(&swept(&coil, 0.003, seed, true, said)).unwrap();
            assert_eq!(fitted.kind, kind, "seed {seed}: {:#?}", fitted.tried);
            assert!(fitted.explained());
        }
    }
}

/// Of 100 sweeps, the values lie within two standard uncertainties about 95 times; fewer than 88 or an average square
/// far from one would be chance of less than one in a thousand (binomial; χ² of 100 has a standard deviation of 0.14).
#[test]
fn uncertainties_are_as_wide_as_the_scatter() {
    let mut within = [0; 3];
    let mut squares = [0.0; 3];
    for seed in 0..100 {
        let fitted = fit(&swept(&single(), 0.01, 1000 + seed, true, seed % 2 == 0)).unwrap();
        let (r, l, c) = (fitted.resistance.unwrap(), fitted.inductance.unwrap(), fitted.capacitance.unwrap());
        let away = [
            (r.value.0 - 6000.0) / r.standard_uncertainty.0,
            (l.value.0 - 2.4) / l.standard_uncertainty.0,
            (c.value.0 - 110e-12) / c.standard_uncertainty.0,
        ];
        for i in 0..3 {
            within[i] += i32::from(away[i].abs() < 2.0);
            squares[i] += away[i] * away[i] / 100.0;
        }
    }
    assert!(within.iter().all(|count| *count >= 88), "{within:?}");
    assert!(squares.iter().all(|mean| (0.5..1.6).contains(mean)), "{squares:?}");
}

#[test]
fn magnitudes_alone_tell_the_coil_as_well() {
    for coil in [single(), steel()] {
        let fitted = fit(&swept(&coil, 0.003, 7, false, true)).unwrap();
        near(fitted.resistance.unwrap().value.0, coil.resistance.0, 0.005);
        near(fitted.inductance.unwrap().value.0, coil.whole_inductance().0, 0.01);
        near(fitted.capacitance.unwrap().value.0, coil.capacitance.0, 0.03);
        assert!(fitted.residuals.iter().all(|residual| residual.phase.is_none()));
    }
}

#[test]
fn a_sweep_that_ends_early_tells_no_capacitance() {
    let points = (0..20).map(|i| {
        let frequency = Hertz(20.0 + 10.0 * f64::from(i));
        Point::complex(frequency, single().impedance(frequency), Some(0.01))
    });
    let fitted = fit(&Sweep::new(points.collect()).unwrap()).unwrap();
    assert_eq!(fitted.kind, Kind::Plain);
    assert!(matches!(fitted.capacitance, Err(NotTold::Vague { name, .. }) if name == "capacitance"));
    let (resistance, inductance) = (fitted.resistance.unwrap(), fitted.inductance.unwrap());
    near(resistance.value.0, 6000.0, 0.01);
    near(inductance.value.0, 2.4, 0.05);
    assert_eq!(fitted.resonance_frequency, None);
}

#[test]
fn what_follows_from_the_values() {
    let fitted = fit(&swept(&steel(), 0.002, 3, true, true)).unwrap();
    let ratio = fitted.inductance_ratio.unwrap();
    // The ladder's own figure, 4.399567 / 4.370542.
    assert!((ratio.value.0 - 1.00664).abs() < 3.0 * ratio.standard_uncertainty.0, "{ratio:?}");
    let resonance = fitted.resonance_frequency.unwrap();
    near(resonance.value.0, steel().resonance().unwrap().frequency.0, 0.005);
    assert!(resonance.standard_uncertainty.0 > 0.0);
    assert!((fitted.reduced_chi_square.unwrap() - 1.0).abs() < 0.5);
    assert!(fitted.residuals.iter().all(|residual| residual.magnitude.abs() < 0.01));
    near(fitted.losses[0].share(), 8000.0 / 9262.493, 0.01);
}

#[test]
fn losses_are_judged_and_steel_is_not_called_a_short() {
    let judged = |coil: &Model| fit(&swept(coil, 0.001, 5, true, true)).unwrap().shorted_turns;
    assert_eq!(judged(&single()), ShortedTurns::NothingSeen);
    // Its ratio of inductances, 1.0066, lies below the line at 1.01, its share of Q, 0.864, below 0.9.
    assert_eq!(judged(&steel()), ShortedTurns::LossWithoutSteel);
    let short = |turns: f64| Model::with_shorted_turns(SINGLE.0, SINGLE.1, SINGLE.2, turns / 8000.0, 0.95);
    assert_eq!(judged(&short(10.0)), ShortedTurns::NothingSeen);
    assert_eq!(judged(&short(400.0)), ShortedTurns::SteelOrShort);
    let rough = fit(&swept(&steel(), 0.2, 5, true, true)).unwrap().shorted_turns;
    assert_eq!(rough, ShortedTurns::CannotTell);
}

#[test]
fn a_thing_that_is_no_coil_is_not_explained() {
    let points = (0..30).map(|i| {
        let frequency = Hertz(100.0 * libm::pow(1.2, f64::from(i)));
        let magnitude = if i % 2 == 0 { 1000.0 } else { 30_000.0 };
        Point { frequency, magnitude: Ohms(magnitude), phase: None, relative_uncertainty: None }
    });
    assert!(!fit(&Sweep::new(points.collect()).unwrap()).unwrap().explained());
}

#[test]
fn too_few_points_are_said() {
    let point =
        |f: f64| Point { phase: None, ..Point::complex(Hertz(f), single().impedance(Hertz(f)), Some(0.01)) };
    let few = fit(&Sweep::new(vec![point(100.0), point(1000.0)]).unwrap())
        .expect_err("two readings, three unknowns");
    assert_eq!(few, FitError::TooFewReadings { readings: 2, unknowns: 3 });
}
