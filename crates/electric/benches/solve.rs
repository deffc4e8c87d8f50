//! What one frequency costs, what making a state ready costs, and a whole sweep of every state.

#[path = "../tests/common/mod.rs"]
mod common;

use asfound_electric::{Changes, Circuit, Complex, Plan, Prepared, Setting};
use asfound_measure::Hertz;
use common::*;

fn main() {
    divan::main();
}

/// Three coils, a five-way lever, one volume and two tones: common practice.
fn lever() -> Circuit {
    let parts = vec![
        coil("N", 5700.0, 2.3, 1.05e-10),
        coil("M", 5800.0, 2.35, 1.08e-10),
        coil("B", 6300.0, 2.55, 1.15e-10),
        pot("vol", 250e3),
        pot("tone1", 250e3),
        pot("tone2", 250e3),
        capacitor("ct", 2.2e-8),
        switch("lever", Plan::lever_five_two_pole()),
        jack(),
    ];
    circuit(
        parts,
        "B.hot - lever.a1, M.hot - lever.a2, N.hot - lever.a3, lever.a0 - lever.b0, lever.b2 - tone2.3, lever.b3 - tone1.3,
         tone1.2 - ct.a, tone2.2 - ct.a, ct.b - vol.1, lever.a0 - vol.3, vol.2 - jack.tip, vol.1 - jack.sleeve,
         N.ground - vol.1, M.ground - vol.1, B.ground - vol.1",
    )
}

/// A chain of coils and resistors with this many unknown voltages.
fn chain(unknowns: usize) -> Circuit {
    let mut parts = vec![jack(), coil("top", 6e3, 2.4, 1e-10)];
    let mut joins = "jack.tip - top.hot".to_owned();
    let mut above = "top.ground".to_owned();
    for number in 1..unknowns {
        parts.push(coil(&format!("c{number}"), 6e3, 2.4, 1e-10));
        parts.push(resistor(&format!("r{number}"), 1e5));
        joins +=
            &format!(", {above} - c{number}.hot, r{number}.a - c{number}.hot, r{number}.b - jack.sleeve");
        above = format!("c{number}.ground");
    }
    joins += &format!(", {above} - jack.sleeve");
    circuit(parts, &joins)
}

#[divan::bench(args = [2, 4, 8, 16, 64])]
fn one_frequency(bencher: divan::Bencher, unknowns: usize) {
    let circuit = chain(unknowns);
    let mut prepared = prepared(&circuit, load(5e-10, 1e6));
    assert_eq!(prepared.unknowns(), unknowns);
    bencher.bench_local(|| prepared.at(Hertz(3000.0)).map(|response| response.impedance));
}

#[divan::bench]
fn make_a_state_ready(bencher: divan::Bencher) {
    let circuit = lever();
    let (wired, setting, changes) = (only(&circuit), Setting::first(&circuit), Changes::default());
    bencher.bench_local(|| Prepared::new(&wired, &setting, load(5e-10, 1e6), &changes));
}

/// Five positions, three points on each of three knobs, 400 frequencies: 18,000 solutions.
#[divan::bench]
fn every_state_and_knob(bencher: divan::Bencher) {
    let circuit = lever();
    let (wired, changes) = (only(&circuit), Changes::default());
    let frequencies: Vec<Hertz> =
        (0..400).map(|step| Hertz(50.0 * libm::pow(240.0, f64::from(step) / 399.0))).collect();
    bencher.bench_local(|| {
        let mut sum = Complex::ZERO;
        for setting in Setting::every_position(&circuit) {
            for (knob, turn) in (0..3).flat_map(|knob| [0.0, 0.5, 1.0].map(|turn| (knob, turn))) {
                let mut setting = setting.clone();
                setting.wipers[knob] = turn;
                let Ok(mut prepared) = Prepared::new(&wired, &setting, load(5e-10, 1e6), &changes) else {
                    continue;
                };
                for &frequency in &frequencies {
                    let Ok(response) = prepared.at(frequency) else { break };
                    sum += response.transfers[0];
                }
            }
        }
        sum
    });
}

#[divan::bench]
fn sensitivities(bencher: divan::Bencher) {
    let circuit = lever();
    let mut prepared = prepared(&circuit, load(5e-10, 1e6));
    bencher.bench_local(|| prepared.sensitivities(Hertz(3000.0)));
}
