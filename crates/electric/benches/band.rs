//! What tolerance bands cost: a single frequency of a draw, and a whole band over five positions.

#[path = "../tests/common/mod.rs"]
mod common;

use asfound_electric::band::{DRAWS, State, Tolerance, drawn, worst};
use asfound_electric::{Circuit, Plan, Prepared, Setting};
use asfound_measure::Hertz;
use common::*;

fn main() {
    divan::main();
}

/// Three coils, a five-way lever, a volume with a bleed of capacitor and resistor in series, a resistor in the lead, a
/// tone with a capacitor and a stop resistor, and one with a choke and a capacitor: eight unknown voltages.
fn lever() -> Circuit {
    let parts = vec![
        coil("N", 5700.0, 2.3, 1.05e-10),
        coil("M", 5800.0, 2.35, 1.08e-10),
        coil("B", 6300.0, 2.55, 1.15e-10),
        pot("vol", 250e3),
        pot("tone1", 250e3),
        pot("tone2", 250e3),
        capacitor("ct", 2.2e-8),
        capacitor("cb", 1e-9),
        resistor("rb", 130e3),
        resistor("lead", 4.7e3),
        resistor("stop", 1e3),
        choke("choke", 900.0, 1.5),
        capacitor("cc", 1e-8),
        switch("lever", Plan::lever_five_two_pole()),
        jack(),
    ];
    circuit(
        parts,
        "B.hot - lever.a1, M.hot - lever.a2, N.hot - lever.a3, lever.a0 - vol.3, lever.a0 - tone1.3, lever.a0 - tone2.3,
         tone1.2 - ct.a, tone2.2 - choke.a, choke.b - cc.a, cc.b - vol.1, ct.b - stop.a, stop.b - vol.1, vol.3 - cb.a, cb.b - rb.a,
         rb.b - vol.2, vol.2 - lead.a, lead.b - jack.tip, vol.1 - jack.sleeve,
         N.ground - vol.1, M.ground - vol.1, B.ground - vol.1",
    )
}

fn frequencies() -> Vec<Hertz> {
    (0..200).map(|at| Hertz(50.0 * libm::pow(200.0, f64::from(at) / 199.0))).collect()
}

/// Every position with its knobs part of the way down, so that no track falls away.
fn settings(circuit: &Circuit) -> Vec<Setting> {
    Setting::every_position(circuit).map(|all| Setting { wipers: vec![0.7, 0.8, 0.6], ..all }).collect()
}

/// 10,000 draws × 5 positions × 200 frequencies, with the figures of every draw.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn ten_thousand_draws_of_five_positions(bencher: divan::Bencher) {
    let circuit = lever();
    let (wired, load) = (only(&circuit), load(5e-10, 1e6));
    let (tolerances, frequencies) = (Tolerance::usual(&circuit, &[]), frequencies());
    for setting in settings(&circuit) {
        let ready = Prepared::new(&wired, &setting, load, &asfound_electric::Changes::default()).unwrap();
        assert_eq!(ready.unknowns(), 8, "the figure is stated for eight nodes");
    }
    bencher.bench_local(|| {
        for setting in settings(&circuit) {
            let state = State { wired: &wired, setting: &setting, load, strings: &[1.0; 3] };
            let band = drawn(&state, &tolerances, &frequencies, DRAWS, 1).expect("it can be solved");
            divan::black_box(band);
        }
    });
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn worst_case_of_one_position(bencher: divan::Bencher) {
    let circuit = lever();
    let (wired, load) = (only(&circuit), load(5e-10, 1e6));
    let (tolerances, frequencies) = (Tolerance::usual(&circuit, &[]), frequencies());
    let setting = settings(&circuit).remove(1);
    let state = State { wired: &wired, setting: &setting, load, strings: &[1.0; 3] };
    bencher.bench_local(|| worst(&state, &tolerances, &frequencies));
}
