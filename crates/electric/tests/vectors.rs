//! Small circuits whose answers are known: an independent nodal solution in double precision that a general
//! circuit simulator confirms to 1e-9 at every figure here. Values are invented but for the last two, a
//! published simulator deck of a coil behind 25 kohm and 1 Mohm.
//!
//! Tolerances follow the printed digits: magnitudes to half a unit of the sixth decimal with as much again
//! for the rounding of the values themselves, 0.01 Hz or 5e-6 on frequencies, 0.0005 dB, 0.001 degree.

mod common;
#[path = "common/vector_table.rs"]
mod vector_table;

use asfound_electric::{
    Changes, Circuit, Coil, Complex, Eddy, Load, Part, Prepared, Reading, Setting, Sort, resistance,
};
use asfound_measure::{Henries, Ohms};
use common::*;
use vector_table::{FREQUENCIES, VECTORS};

/// One of the circuits with the EMF of each coil and what hangs on the jack.
struct Bench {
    circuit: Circuit,
    setting: Setting,
    load: Load,
    emf: Vec<f64>,
}

impl Bench {
    fn prepared(&self) -> Prepared {
        Prepared::new(&only(&self.circuit), &self.setting, self.load, &Changes::default()).unwrap()
    }

    fn level(&self, prepared: &mut Prepared, hertz: f64) -> Complex {
        let response = answer(prepared, hertz);
        response
            .transfers
            .iter()
            .zip(&self.emf)
            .fold(Complex::ZERO, |sum, (&transfer, &emf)| sum + transfer * emf)
    }
}

fn a() -> Part {
    coil("A", 6000.0, 2.4, 110e-12)
}

fn b() -> Part {
    coil("B", 6400.0, 2.6, 120e-12)
}

/// Coils behind the usual controls: volume to the jack, tone from `tone_at` through a capacitor to ground.
fn with_controls(
    coils: Vec<Part>,
    joins: &str,
    tone_at: &str,
    extra: Vec<Part>,
    values: [f64; 2],
) -> Circuit {
    let [pots, tone_capacitor] = values;
    let mut parts = coils;
    parts.extend([pot("vol", pots), pot("tone", pots), capacitor("ct", tone_capacitor), jack()]);
    parts.extend(extra);
    let joins = format!(
        "{joins}, {tone_at} - tone.3, tone.2 - ct.a, ct.b - vol.1, vol.2 - jack.tip, vol.1 - jack.sleeve"
    );
    circuit(parts, &joins)
}

fn single(
    tone_at: &str,
    extra: Vec<Part>,
    more: &str,
    volume: f64,
    tone: f64,
    tone_capacitor: f64,
    emf: f64,
) -> Bench {
    let joins = format!("A.hot - vol.3, A.ground - vol.1{more}");
    let circuit = with_controls(vec![a()], &joins, tone_at, extra, [250e3, tone_capacitor]);
    // The tone pot is joined at 3 and 2, so turn 0 leaves the whole track in series.
    let setting = Setting { wipers: vec![volume, 1.0 - tone], ..Setting::first(&circuit) };
    Bench { circuit, setting, load: load(500e-12, 1e6), emf: vec![emf] }
}

fn pair(coils: Vec<Part>, series: bool, emf: [f64; 2], pots: f64) -> Bench {
    let names: Vec<String> = coils.iter().map(|coil| coil.name.clone()).collect();
    let (first, second) = (&names[0], &names[1]);
    let joins = if series {
        format!("{first}.hot - vol.3, {first}.ground - {second}.hot, {second}.ground - vol.1")
    } else {
        format!("{first}.hot - vol.3, {second}.hot - vol.3, {first}.ground - vol.1, {second}.ground - vol.1")
    };
    let circuit = with_controls(coils, &joins, "vol.3", vec![], [pots, 22e-9]);
    let setting = Setting { wipers: vec![1.0, 0.0], ..Setting::first(&circuit) };
    Bench { circuit, setting, load: load(500e-12, 1e6), emf: emf.to_vec() }
}

fn eddy_coil(inductance: f64, eddy: Option<Eddy>) -> Bench {
    let mut part = coil("A", 8000.0, inductance, 100e-12);
    if let Sort::Coil(coil) = &mut part.sort {
        *coil = Coil { eddy, ..*coil };
    }
    let circuit =
        with_controls(vec![part], "A.hot - vol.3, A.ground - vol.1", "vol.3", vec![], [500e3, 22e-9]);
    let setting = Setting { wipers: vec![1.0, 0.0], ..Setting::first(&circuit) };
    Bench { circuit, setting, load: load(500e-12, 1e6), emf: vec![1.0] }
}

fn bare(part: Part, load: Load) -> Bench {
    let circuit = circuit(vec![part, jack()], "A.hot - jack.tip, A.ground - jack.sleeve");
    let setting = Setting::first(&circuit);
    Bench { circuit, setting, load, emf: vec![1.0] }
}

fn bench(id: &str) -> Bench {
    let bleed = |parts: Vec<Part>, joins: &str| single("vol.3", parts, joins, 0.1, 1.0, 22e-9, 1.0);
    match id {
        "V1" => bare(a(), load(0.0, 10e6)),
        "V2" => single("vol.3", vec![], "", 1.0, 1.0, 22e-9, 1.0),
        "V3" => pair(vec![a(), b()], false, [1.0, 1.0], 250e3),
        "V4" => pair(vec![a(), b()], true, [1.0, 1.0], 250e3),
        "V5" => pair(vec![a(), b()], false, [1.0, -1.0], 250e3),
        "V6" => pair(vec![a(), b()], true, [1.0, -0.9], 250e3),
        "V7" => bleed(vec![], ""),
        "V8" => bleed(vec![capacitor("bleed", 1e-9)], ", bleed.a - vol.3, bleed.b - vol.2"),
        "V8b" => bleed(
            vec![capacitor("bleed", 680e-12), resistor("damp", 130e3)],
            ", bleed.a - vol.3, bleed.b - damp.a, damp.b - vol.2",
        ),
        "V8c" => bleed(
            vec![capacitor("bleed", 680e-12), resistor("damp", 150e3)],
            ", bleed.a - vol.3, damp.a - vol.3, bleed.b - vol.2, damp.b - vol.2",
        ),
        "V9" => single("vol.3", vec![], "", 1.0, 0.0, 22e-9, 1.0),
        "V10" => single("vol.3", vec![], "", 1.0, 0.0, 100e-9, 1.0),
        "V11" => single("vol.2", vec![], "", 0.1, 1.0, 22e-9, 1.0),
        "V12" => {
            let half = |name| coil(name, 4000.0, 2.2, 90e-12);
            pair(vec![half("A"), half("B")], true, [1.0, 1.0], 500e3)
        }
        "V13" => eddy_coil(3.0, Some(Eddy { inductance: Henries(1.4), loss: Ohms(60e3) })),
        "V14" => eddy_coil(4.4, None),
        "V15" => bare(coil("A", 6000.0, 3.0, 150e-12), load(300e-12, 25e3)),
        "V16" => bare(coil("A", 6000.0, 3.0, 150e-12), load(300e-12, 1e6)),
        _ => panic!("no circuit is called {id}"),
    }
}

fn decibels(size: f64) -> f64 {
    20.0 * libm::log10(size)
}

/// The top of a function between two places, by the golden section.
fn top(mut low: f64, mut high: f64, mut height: impl FnMut(f64) -> f64) -> f64 {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    while high - low > 1e-7 * high {
        let (left, right) = (high - golden * (high - low), low + golden * (high - low));
        if height(left) > height(right) { high = right } else { low = left }
    }
    (low + high) / 2.0
}

#[test]
fn magnitudes_and_phases() {
    assert_eq!(VECTORS.len(), 18);
    for vector in VECTORS {
        let bench = bench(vector.id);
        let mut prepared = bench.prepared();
        let mut level = |hertz| bench.level(&mut prepared, hertz);
        for (hertz, wanted) in
            std::iter::once((0.1, vector.low)).chain(FREQUENCIES.into_iter().zip(vector.sizes))
        {
            let size = level(hertz).abs();
            let tolerance = 1e-6_f64.max(2e-6 * wanted);
            assert!((size - wanted).abs() < tolerance, "{} at {hertz} Hz: {size}, not {wanted}", vector.id);
        }
        let places = [100.0, 1000.0, 3000.0, 5000.0, 10000.0];
        for (hertz, wanted) in vector.phases.iter().flat_map(|phases| places.into_iter().zip(*phases)) {
            let angle = degrees(level(hertz));
            assert!(
                angle_apart(angle, wanted) < 0.001,
                "{} at {hertz} Hz: {angle}, not {wanted} degrees",
                vector.id
            );
        }
    }
}

#[test]
fn peaks_and_upper_limits() {
    for vector in VECTORS {
        let bench = bench(vector.id);
        let mut prepared = bench.prepared();
        let mut size = |hertz| bench.level(&mut prepared, hertz).abs();
        if let Some((hertz, level, over_low)) = vector.peak {
            let found = top(hertz * 0.97, hertz * 1.03, &mut size);
            assert!(
                (found - hertz).abs() < 0.01_f64.max(5e-6 * hertz),
                "{}: peak at {found}, not {hertz}",
                vector.id
            );
            let found = decibels(size(found));
            assert!((found - level).abs() < 5e-4, "{}: peak of {found} dB, not {level}", vector.id);
            // Both levels are rounded, and V5's low level has five digits only.
            let found = found - decibels(size(0.1));
            assert!(
                (found - over_low).abs() < 5e-4,
                "{}: {found} dB over the low level, not {over_low}",
                vector.id
            );
        }
        let limit = size(1.0) / 2.0_f64.sqrt();
        let (mut inside, mut outside) = (vector.upper * 0.99, vector.upper * 1.01);
        assert!(size(inside) > limit && size(outside) < limit, "{}", vector.id);
        for _ in 0..60 {
            let middle = (inside + outside) / 2.0;
            if size(middle) > limit { inside = middle } else { outside = middle }
        }
        let tolerance = 0.01_f64.max(5e-6 * inside);
        assert!((inside - vector.upper).abs() < tolerance, "{}: falls at {inside}", vector.id);
    }
}

/// Peak of the second circuit against cable capacitance and against pots that are off: printed to 0.01 Hz and
/// 0.0001 dB.
#[test]
fn peak_moves_with_the_cable_and_the_pots() {
    let cables = [
        (0.0, 3304.05, -0.3920),
        (300.0, 4417.61, 2.7351),
        (500.0, 3799.44, 3.8581),
        (700.0, 3371.12, 4.5998),
    ];
    let more_cables = [(1000.0, 2929.16, 5.3282), (2400.0, 1988.85, 6.5245)];
    for (picofarads, hertz, level) in cables.into_iter().chain(more_cables) {
        let bench = Bench { load: load(picofarads * 1e-12, 1e6), ..bench("V2") };
        check_peak(&bench, hertz, level);
    }
    for (factor, hertz, level) in [(0.8, 3613.48, 2.5073), (1.2, 3898.89, 4.9513), (2.0, 4045.30, 7.8125)] {
        let joins = "A.hot - vol.3, A.ground - vol.1";
        let circuit = with_controls(vec![a()], joins, "vol.3", vec![], [250e3 * factor, 22e-9]);
        check_peak(&Bench { circuit, ..bench("V2") }, hertz, level);
    }
}

fn check_peak(bench: &Bench, hertz: f64, level: f64) {
    let mut prepared = bench.prepared();
    let mut size = |hertz| bench.level(&mut prepared, hertz).abs();
    let found = top(hertz * 0.97, hertz * 1.03, &mut size);
    // A flat top is found to about the root of the rounding of its height.
    assert!((found - hertz).abs() < 0.02, "peak at {found}, not {hertz}");
    assert!((decibels(size(found)) - level).abs() < 5e-4, "{} dB, not {level}", decibels(size(found)));
}

/// The impedance that a coil's EMF of 1.5 kHz works against behind controls, cable and amplifier: the jack
/// takes the place of the EMF. By an independent nodal solution, printed to 0.001 ohm.
#[test]
fn impedance_of_a_coil_and_all_behind_it() {
    let parts = vec![
        choke("winding", 11.9e3, 5.8),
        resistor("upper", 243e3),
        resistor("lower", 73e3),
        resistor("tone", 142e3),
        capacitor("ct", 46e-9),
        resistor("wire", 1.8),
        capacitor("cable", 597e-12),
        resistor("amplifier", 26e6),
        jack(),
    ];
    let joins = "jack.tip - winding.a, winding.b - upper.a, upper.b - lower.a, lower.b - jack.sleeve, upper.a - tone.a,
        tone.b - ct.a, ct.b - lower.b, upper.b - wire.a, wire.b - cable.a, cable.b - lower.b, amplifier.a - cable.a,
        amplifier.b - cable.b";
    let circuit = circuit(parts, joins);
    let response = answer(&mut prepared(&circuit, Load::none()), 1500.0);
    assert!(
        (response.impedance - Complex::new(108_919.371, 51_022.203)).abs() < 1e-3,
        "{:?}",
        response.impedance
    );
}

fn reading(circuit: &Circuit, setting: &Setting) -> f64 {
    let (tip, sleeve) = (lug(circuit, "jack.tip"), lug(circuit, "jack.sleeve"));
    match resistance(&only(circuit), setting, &Changes::default(), tip, sleeve).unwrap().reading {
        Reading::Ohms(ohms) => ohms.0,
        Reading::Open => f64::INFINITY,
        Reading::Shorted => 0.0,
    }
}

fn ohms(parts: Vec<Part>, joins: &str, wipers: &[f64]) -> f64 {
    let circuit = circuit(parts, joins);
    reading(&circuit, &Setting { wipers: wipers.to_vec(), ..Setting::first(&circuit) })
}

/// Readings at the jack, printed to 0.0001 ohm, agreed to eight digits by a general circuit simulator's
/// working point.
#[test]
fn readings_at_the_jack() {
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 6e-5, "{found}, not {wanted}");
    let one = |resistance| vec![coil("A", resistance, 2.4, 1e-10), pot("vol", 243e3), jack()];
    let master = "A.hot - vol.3, A.ground - vol.1, vol.2 - jack.tip, vol.1 - jack.sleeve";
    near(ohms(one(5950.0), master, &[1.0]), 5807.7927);
    near(ohms(one(6370.0), master, &[1.0]), 6207.2824);
    near(ohms(one(5950.0), master, &[0.5]), 62201.9482);
    near(ohms(one(5950.0), master, &[0.1]), 21928.0779);
    near(ohms(one(5950.0), master, &[(1.0 + 5950.0 / 243e3) / 2.0]), 62237.5);
    assert_eq!(ohms(one(5950.0), master, &[0.0]), 0.0);

    let mut both = one(5950.0);
    both.push(coil("B", 6370.0, 2.5, 1e-10));
    near(ohms(both, &format!("{master}, B.hot - A.hot, B.ground - A.ground"), &[1.0]), 3037.9594);

    let halves =
        || vec![coil("A", 3950.0, 2.0, 1e-10), coil("B", 4120.0, 2.0, 1e-10), pot("vol", 500e3), jack()];
    let out = "vol.2 - jack.tip, vol.1 - jack.sleeve, A.hot - vol.3";
    near(ohms(halves(), &format!("{out}, A.ground - B.hot, B.ground - vol.1"), &[1.0]), 7941.8190);
    near(
        ohms(halves(), &format!("{out}, A.ground - vol.1, B.hot - vol.3, B.ground - vol.1"), &[1.0]),
        2008.5040,
    );
    near(ohms(halves(), &format!("{out}, A.ground - vol.1"), &[1.0]), 3919.0396);
}

/// Two coils each with a volume of its own, wired either way round, by the same sources.
#[test]
fn readings_with_two_volumes() {
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 6e-5, "{found}, not {wanted}");
    let parts = |coils: usize| {
        let mut parts = vec![jack(), coil("A", 7800.0, 4.0, 1e-10), pot("va", 480e3)];
        if coils == 2 {
            parts.extend([coil("B", 8100.0, 4.1, 1e-10), pot("vb", 520e3)]);
        }
        parts
    };
    let volume = |coil: &str, pot: &str, input: u8, output: u8| {
        format!(
            "{coil}.hot - {pot}.{input}, {pot}.{output} - jack.tip, {coil}.ground - {pot}.1, {pot}.1 - jack.sleeve"
        )
    };
    let both =
        |input, output| format!("{}, {}", volume("A", "va", input, output), volume("B", "vb", input, output));
    near(ohms(parts(1), &volume("A", "va", 3, 2), &[1.0]), 7675.2768);
    let (dependent, independent) = (both(3, 2), both(2, 3));
    near(ohms(parts(2), &dependent, &[1.0, 1.0]), 3911.3175);
    near(ohms(parts(2), &dependent, &[0.5, 1.0]), 7486.0359);
    near(ohms(parts(2), &dependent, &[0.1, 1.0]), 6734.5981);
    assert_eq!(ohms(parts(2), &dependent, &[0.0, 1.0]), 0.0);
    near(ohms(parts(2), &independent, &[0.5, 1.0]), 7726.8179);
    near(ohms(parts(2), &independent, &[0.1, 1.0]), 7833.3515);
}

/// A leak across the tone capacitor lets a little of the meter's current through; printed to 0.01 ohm.
#[test]
fn readings_with_a_leaky_tone_capacitor() {
    for (leak, full, nought) in [(10e6, 5804.50, 5804.42), (1e6, 5780.93, 5774.26), (100e3, 5712.99, 5489.00)]
    {
        let parts = || {
            vec![
                coil("A", 5950.0, 2.4, 1e-10),
                pot("vol", 243e3),
                pot("tone", 250e3),
                capacitor("ct", 22e-9),
                resistor("leak", leak),
                jack(),
            ]
        };
        let joins = "A.hot - vol.3, A.ground - vol.1, vol.2 - jack.tip, vol.1 - jack.sleeve, vol.3 - tone.3,
            tone.2 - ct.a, ct.b - vol.1, leak.a - ct.a, leak.b - ct.b";
        for (turn, wanted) in [(0.0, full), (1.0, nought)] {
            let found = ohms(parts(), joins, &[1.0, turn]);
            assert!((found - wanted).abs() < 0.006, "leak {leak}, turn {turn}: {found}, not {wanted}");
        }
    }
}
