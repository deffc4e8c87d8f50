//! Tolerance bands and knob travel: against an independent nodal solution in double precision that a general circuit
//! simulator confirms to 1e-9, against published figures, and by the laws that any band obeys.

mod common;

use asfound_electric::band::{
    self, Band, How, Shape, State, Tolerance, drawn, figures, levels, travel, worst,
};
use asfound_electric::explain::{Assumed, AssumedValue};
use asfound_electric::{Changes, Circuit, Complex, Load, Prepared, Setting, Sort, Taper, Unsolvable, Value};
use asfound_measure::{Decibels, Henries, Hertz, Ohms};
use common::*;
use proptest::prelude::*;

/// 2.4 H, 6 kΩ, 110 pF behind two pots and a capacitor, all full up.
fn one_coil(pots: f64) -> Circuit {
    let parts = vec![
        coil("A", 6000.0, 2.4, 110e-12),
        pot("vol", pots),
        pot("tone", pots),
        capacitor("ct", 22e-9),
        jack(),
    ];
    circuit(
        parts,
        "A.hot - vol.3, A.ground - vol.1, vol.3 - tone.1, tone.2 - ct.a, ct.b - vol.1, vol.2 - jack.tip, vol.1 - jack.sleeve",
    )
}

fn sweep(points: usize) -> Vec<Hertz> {
    (0..points).map(|at| Hertz(50.0 * libm::pow(200.0, at as f64 / (points - 1) as f64))).collect()
}

/// What `ask` answers for a circuit with nothing unknown, all knobs full up and strings of one sign.
fn asked<T>(circuit: &Circuit, load: Load, ask: impl FnOnce(&State<'_>) -> T) -> T {
    let (wired, setting) = (only(circuit), Setting::first(circuit));
    let strings = vec![1.0; circuit.coils().count()];
    ask(&State { wired: &wired, setting: &setting, load, strings: &strings })
}

/// Peak in hertz and decibels, on a grid as fine as a page's.
fn peak(circuit: &Circuit, load: Load) -> (f64, f64) {
    let peak = asked(circuit, load, |state| figures(state, &sweep(400))).unwrap().peak.unwrap();
    (peak.at.0, peak.level.0)
}

/// Independent nodal solution of the circuit above over cable and pots. The peak is read off a parabola over points 1.3 %
/// apart, which is within 0.1 % and 0.01 dB.
#[test]
fn the_peak_follows_cable_and_pots() {
    let cables = [
        (300.0, 4417.61, 2.7351),
        (500.0, 3799.44, 3.8581),
        (700.0, 3371.12, 4.5998),
        (1000.0, 2929.16, 5.3282),
        (2400.0, 1988.85, 6.5245),
    ];
    for (picofarads, hertz, decibels) in cables {
        let (at, level) = peak(&one_coil(250e3), load(picofarads * 1e-12, 1e6));
        assert!(
            (at / hertz - 1.0).abs() < 1e-3 && (level - decibels).abs() < 0.01,
            "{picofarads} pF: {at} {level}"
        );
    }
    // Without a cable the pots leave no peak worth the name, only a highest level.
    let bare = asked(&one_coil(250e3), load(0.0, 1e6), |state| levels(state, &sweep(400))).unwrap();
    let highest = bare.iter().map(|level| level.0).fold(f64::MIN, f64::max);
    assert!((highest + 0.3920).abs() < 1e-3, "{highest}");
    for (times, hertz, decibels) in
        [(0.8, 3613.48, 2.5073), (1.0, 3799.44, 3.8581), (1.2, 3898.89, 4.9513), (2.0, 4045.30, 7.8125)]
    {
        let (at, level) = peak(&one_coil(250e3 * times), load(500e-12, 1e6));
        assert!((at / hertz - 1.0).abs() < 1e-3 && (level - decibels).abs() < 0.01, "x{times}: {at} {level}");
    }
}

/// A published comparison of one pair of coils (3 H, 4 kΩ, 200 pF each; 500 kΩ pots, 1 MΩ, 500 pF of cable; 22 nF) in
/// series, alone and in parallel: peaks within 1 % and 0.2 dB, which is what its printed figures allow. Without a load the
/// three resonate alike, because L and 1/C change together.
#[test]
fn series_single_and_parallel_of_one_pair() {
    let wired = |joins: &str, loaded: bool| {
        let pair = [("a", 4e3), ("b", 4e3)].map(|(name, ohms)| coil(name, ohms, 3.0, 200e-12));
        let mut parts = Vec::from(pair);
        let mut joins = joins.to_owned();
        parts.push(jack());
        if loaded {
            parts.extend([pot("vol", 500e3), pot("tone", 500e3), capacitor("ct", 22e-9)]);
            joins += ", jack.tip - vol.3, jack.sleeve - vol.1, jack.tip - tone.1, tone.2 - ct.a, ct.b - jack.sleeve";
        }
        circuit(parts, &joins)
    };
    let ways = [
        ("a.hot - jack.tip, a.ground - b.hot, b.ground - jack.sleeve", 2475.0, 4.9),
        ("a.hot - jack.tip, a.ground - jack.sleeve", 3374.0, 8.3),
        ("a.hot - jack.tip, b.hot - jack.tip, a.ground - jack.sleeve, b.ground - jack.sleeve", 4283.0, 12.0),
    ];
    for ((joins, hertz, height), volts) in ways.into_iter().zip([2.0, 1.0, 1.0]) {
        let loaded =
            asked(&wired(joins, true), load(500e-12, 1e6), |state| figures(state, &sweep(400))).unwrap();
        let peak = loaded.peak.unwrap();
        assert!((peak.at.0 / hertz - 1.0).abs() < 0.01, "{joins}: {peak:?}");
        // The published heights stand against what the string gives: 2 V in series, 1 V else.
        let over = peak.level.0 - 20.0 * libm::log10(volts);
        assert!((over - height).abs() < 0.2, "{joins}: {peak:?}");
        let narrow: Vec<Hertz> = (0..400).map(|at| Hertz(6000.0 + 2.5 * f64::from(at))).collect();
        let bare = asked(&wired(joins, false), Load::none(), |state| figures(state, &narrow)).unwrap();
        assert!((bare.peak.unwrap().at.0 / 6497.0 - 1.0).abs() < 1e-3, "{joins}: {bare:?}");
    }
}

/// A textbook exercise: 5.8 H and 11.9 kΩ; volume 243 kΩ above and 73 kΩ below the wiper; tone 142 kΩ and 46 nF at the
/// coil's side; cable 1.8 Ω and 597 pF; amplifier 26 MΩ. At 1.5 kHz the source sees (108.919371 + j 51.022203) kΩ and the
/// amplifier gets 0.1775 of it, by an independent nodal solution; printed digits.
#[test]
fn a_whole_circuit_at_one_frequency() {
    let mut parts = vec![
        coil("pickup", 11.9e3, 5.8, 0.0),
        resistor("above", 243e3),
        resistor("below", 73e3),
        resistor("tone", 142e3),
        capacitor("ct", 46e-9),
        resistor("cable", 1.8),
        jack(),
    ];
    let joins =
        "above.b - below.a, pickup.hot - tone.a, pickup.hot - above.a, tone.b - ct.a, above.b - cable.a";
    let back = "below.b - pickup.ground, ct.b - pickup.ground";
    let circuit =
        circuit(parts.clone(), &format!("{joins}, {back}, cable.b - jack.tip, pickup.ground - jack.sleeve"));
    let load = load(597e-12, 26e6);
    let transfer = answer(&mut prepared(&circuit, load), 1500.0).transfers[0];
    assert!((transfer.abs() - 0.1775).abs() < 5e-5, "{}", transfer.abs());
    // The same with the jack in the source's own lead: what is read there is what the source sees.
    parts.extend([resistor("amp", 26e6), capacitor("wire", 597e-12)]);
    let back = "below.b - jack.sleeve, ct.b - jack.sleeve, amp.b - jack.sleeve, wire.b - jack.sleeve";
    let opened = common::circuit(
        parts,
        &format!("{joins}, {back}, cable.b - amp.a, cable.b - wire.a, pickup.ground - jack.tip"),
    );
    let seen = answer(&mut prepared(&opened, Load::none()), 1500.0).impedance;
    assert!((seen - Complex::new(108_919.371, 51_022.203)).abs() < 0.002, "{seen:?}");
    let level = asked(&circuit, load, |state| levels(state, &[Hertz(1500.0)])).unwrap()[0];
    assert!((level.0 + 15.0).abs() < 0.05, "{level:?}");
}

/// Five coils, pots, switch contacts, an eddy branch and a coupled pair: the contracted elimination against the dense one
/// with exchanged rows, to roundings.
#[test]
fn the_contracted_solution_is_the_dense_one() {
    let mut lossy = coil("c", 8000.0, 3.0, 1e-10);
    if let Sort::Coil(values) = &mut lossy.sort {
        values.eddy = Some(asfound_electric::Eddy { inductance: Henries(1.4), loss: Ohms(60e3) });
    }
    let parts = vec![
        coil("a", 6000.0, 2.4, 1.1e-10),
        coil("b", 6400.0, 2.6, 1.2e-10),
        lossy,
        pot("vol", 250e3),
        pot("tone", 250e3),
        capacitor("ct", 22e-9),
        capacitor("bleed", 1e-9),
        choke("choke", 900.0, 1.5),
        jack(),
    ];
    let joins = "a.hot - vol.3, a.ground - b.hot, b.ground - jack.sleeve, c.hot - vol.3, c.ground - choke.a, choke.b - jack.sleeve, \
                 vol.1 - jack.sleeve, vol.2 - jack.tip, bleed.a - vol.3, bleed.b - vol.2, tone.3 - vol.3, tone.2 - ct.a, ct.b - vol.1";
    let plain = circuit(parts, joins);
    let coupled =
        plain.clone().with_couplings(vec![asfound_electric::Coupling { a: 0, b: 1, factor: 0.2 }]).unwrap();
    for circuit in [plain, coupled] {
        let wired = only(&circuit);
        let setting = Setting { wipers: vec![0.7, 0.3], ..Setting::first(&circuit) };
        let (load, strings) = (load(5e-10, 1e6), [1.0, -0.9, 0.5]);
        let state = State { wired: &wired, setting: &setting, load, strings: &strings };
        let found = levels(&state, &sweep(37)).unwrap();
        let mut dense = Prepared::new(&wired, &setting, load, &Changes::default()).unwrap();
        for (&frequency, level) in sweep(37).iter().zip(found) {
            let transfers = &dense.at(frequency).unwrap().transfers;
            let sum = transfers.iter().zip(strings).fold(Complex::ZERO, |sum, (&h, sign)| sum + h * sign);
            assert!((level.0 - 20.0 * libm::log10(sum.abs())).abs() < 1e-9, "{frequency:?}");
        }
    }
}

fn pots_and_coil(share: f64, shape: Shape) -> Vec<Tolerance> {
    [
        (1, Value::Track),
        (2, Value::Track),
        (3, Value::Capacitance),
        (0, Value::Inductance),
        (0, Value::Capacitance),
    ]
    .map(|(part, value)| Tolerance { part: Some(part), value, low: 1.0 - share, high: 1.0 + share, shape })
    .into()
}

fn banded(tolerances: &[Tolerance], draws: Option<usize>) -> Band {
    asked(&one_coil(250e3), load(500e-12, 1e6), |state| match draws {
        Some(draws) => drawn(state, tolerances, &sweep(60), draws, 7),
        None => worst(state, tolerances, &sweep(60)),
    })
    .unwrap()
}

#[test]
fn the_worst_case_holds_every_draw_and_the_parts_as_named() {
    for shape in [Shape::Rectangular, Shape::Normal] {
        let tolerances = pots_and_coil(0.2, shape);
        let (wide, drawn) = (banded(&tolerances, None), banded(&tolerances, Some(2000)));
        assert_eq!((wide.how, drawn.how), (How::Worst, How::Drawn { draws: 2000, seed: 7 }));
        for (wide, drawn) in wide.levels.iter().zip(&drawn.levels) {
            assert!(wide.low <= drawn.low && drawn.high <= wide.high, "{wide:?} {drawn:?}");
            assert!(wide.low <= wide.middle && wide.middle <= wide.high);
            assert!(drawn.low <= drawn.middle && drawn.middle <= drawn.high);
        }
        let (wide, drawn) = (wide.peak.unwrap(), drawn.peak.unwrap());
        assert!(wide.at.low <= drawn.at.low && drawn.at.high <= wide.at.high);
        assert!(wide.level.low <= drawn.level.low && drawn.level.high <= wide.level.high);
    }
}

/// ±20 % on both tracks alone moves the peak by -1.35 and +1.09 dB (independent nodal solution at the two corners).
#[test]
fn the_worst_of_two_tracks_is_at_their_corners() {
    let tracks = &pots_and_coil(0.2, Shape::Rectangular)[..2];
    let band =
        asked(&one_coil(250e3), load(500e-12, 1e6), |state| worst(state, tracks, &sweep(400))).unwrap();
    let peak = band.peak.unwrap();
    assert!(
        (peak.level.low.0 - 2.5073).abs() < 0.02 && (peak.level.high.0 - 4.9513).abs() < 0.02,
        "{peak:?}"
    );
    assert!(
        (peak.at.low.0 / 3613.48 - 1.0).abs() < 3e-3 && (peak.at.high.0 / 3898.89 - 1.0).abs() < 3e-3,
        "{peak:?}"
    );
}

#[test]
fn the_same_seed_gives_the_same_bits_and_no_tolerance_gives_no_width() {
    let tolerances = pots_and_coil(0.1, Shape::Rectangular);
    assert_eq!(banded(&tolerances, Some(300)), banded(&tolerances, Some(300)));
    for draws in [Some(50), None] {
        let band = banded(&[], draws);
        assert!(band.levels.iter().all(|level| level.low == level.high));
        assert_eq!(band.peak.unwrap().at.low, band.nominal.peak.unwrap().at);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// Rectangular draws within wider limits are the same draws pulled apart, so the band is wider; and the parts as named
    /// lie within the worst case of any limits around them.
    #[test]
    fn a_band_widens_with_its_tolerance(share in 0.02_f64..0.15, wider in 1.2_f64..2.0) {
        let near = banded(&pots_and_coil(share, Shape::Rectangular), None);
        let far = banded(&pots_and_coil(share * wider, Shape::Rectangular), None);
        for (near, far) in near.levels.iter().zip(&far.levels) {
            // Both ends are found by a search; a thousandth of a decibel is its step.
            prop_assert!(far.low.0 <= near.low.0 + 1e-3 && near.high.0 <= far.high.0 + 1e-3);
            prop_assert!(near.low <= near.middle && near.middle <= near.high);
        }
        let drawn = |share| banded(&pots_and_coil(share, Shape::Rectangular), Some(400));
        let width = |band: &Band| band.levels.iter().map(|it| it.high.0 - it.low.0).sum::<f64>();
        prop_assert!(width(&drawn(share)) < width(&drawn(share * wider)));
    }
}

/// A linear volume halves the voltage half way, but for its load; its own taper in the circuit makes no difference to a
/// way that is asked for by another one.
#[test]
fn a_knob_travels_by_the_taper_it_is_asked_with() {
    let way = |taper: Taper, asked_with: Taper| {
        let mut parts = one_coil(250e3).parts().to_vec();
        parts[1].sort = Sort::Pot(asfound_electric::Pot { track: Ohms(250e3), taper });
        let circuit = Circuit::new(parts, one_coil(250e3).joins().to_vec()).unwrap();
        asked(&circuit, load(500e-12, 1e6), |state| travel(state, 0, asked_with, &sweep(100), 10)).unwrap()
    };
    let (linear, audio) = (way(Taper::Linear, Taper::Linear), Taper::Audio { middle: 0.15 });
    assert!((linear[5].level.0 - linear[10].level.0 + 6.0).abs() < 1.0, "{:?}", linear[5]);
    assert_eq!(linear[0].level, Decibels(-200.0));
    for (a, b) in way(audio, audio).iter().zip(way(Taper::Unknown, audio)) {
        assert!((a.share - b.share).abs() < 1e-12 && (a.level.0 - b.level.0).abs() < 1e-9);
    }
    assert!((way(Taper::Linear, audio)[5].share - 0.15).abs() < 1e-12);
    // Two pieces and the exponential agree at the ends and in the middle, and nowhere else.
    let two = way(Taper::Linear, Taper::TwoSlope { middle: 0.15 });
    assert!((two[5].level.0 - way(Taper::Linear, audio)[5].level.0).abs() < 1e-9);
    assert!(two[3].share > way(Taper::Linear, audio)[3].share);
}

#[test]
fn coils_that_were_measured_are_surer_than_those_that_were_not() {
    let circuit = one_coil(250e3);
    let taken = Assumed { coil: "a".into(), value: AssumedValue::Inductance(Henries(2.4)) };
    let width = |assumed: &[Assumed], value: Value| {
        let all = Tolerance::usual(&circuit, assumed);
        let one = all.iter().find(|one| one.part == Some(0) && one.value == value).unwrap();
        one.high - one.low
    };
    assert!(width(&[], Value::Inductance) < width(std::slice::from_ref(&taken), Value::Inductance));
    assert_eq!(width(&[], Value::Resistance), width(&[taken], Value::Resistance));
}

#[test]
fn wrong_questions_are_answered_with_what_would_be_right() {
    let circuit = one_coil(250e3);
    let ask = |tolerances: &[Tolerance], frequencies: &[Hertz], draws| {
        asked(&circuit, load(5e-10, 1e6), |state| drawn(state, tolerances, frequencies, draws, 1))
    };
    let mut odd = pots_and_coil(0.2, Shape::Rectangular);
    odd[0].low = 0.0;
    for answer in [ask(&odd, &sweep(20), 10), ask(&[], &sweep(20), 0)] {
        assert!(matches!(answer, Err(Unsolvable::Setting { .. })), "{answer:?}");
    }
    assert!(matches!(ask(&[], &[Hertz(-1.0)], 10), Err(Unsolvable::Frequency { .. })));
    assert!(matches!(ask(&[], &[], 10), Err(Unsolvable::Frequency { .. })));
    let (wired, setting) = (only(&circuit), Setting::first(&circuit));
    let state = State { wired: &wired, setting: &setting, load: load(5e-10, 1e6), strings: &[] };
    assert!(matches!(figures(&state, &sweep(20)), Err(Unsolvable::Setting { .. })));
    let off = Setting { wipers: vec![0.0, 1.0], ..setting.clone() };
    let silent = State { setting: &off, strings: &[1.0], ..state };
    assert_eq!(figures(&silent, &sweep(20)), Err(Unsolvable::Shorted));
    assert!(matches!(
        asked(&circuit, load(5e-10, 1e6), |state| travel(state, 9, Taper::Linear, &sweep(20), 4)),
        Err(Unsolvable::NoSuchThing { .. })
    ));
    assert_eq!(band::COVERAGE, 0.95);
}
