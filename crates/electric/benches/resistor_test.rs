//! What two recordings of 12.5 s at 48 kHz cost, and what the fit of their sweep costs.

#[path = "../tests/recordings/mod.rs"]
mod recordings;

use asfound_electric::impedance::fit;
use asfound_electric::resistor_test::{Measured, Recording, TestSignal, measure};
use asfound_measure::Ohms;
use recordings::{Bench, single, steel};

fn main() {
    divan::main();
}

fn recorded(coil: fn() -> asfound_electric::impedance::Model) -> [Vec<u8>; 2] {
    [(10e3, 1), (100e3, 2)].map(|(resistor, seed)| Bench { coil, ..Bench::usual(resistor, seed) }.wav())
}

fn measured([first, second]: &[Vec<u8>; 2]) -> Measured {
    let first = Recording { wav: first, resistor: Ohms(10e3) };
    let second = Recording { wav: second, resistor: Ohms(100e3) };
    measure(first, second, Some(Bench::usual(10e3, 1).input)).expect("good recordings")
}

#[divan::bench(sample_count = 10)]
fn two_recordings_to_a_sweep(bencher: divan::Bencher) {
    let files = recorded(single);
    bencher.bench(|| measured(&files));
}

#[divan::bench(sample_count = 10)]
fn the_fit_of_a_single_coil(bencher: divan::Bencher) {
    let sweep = measured(&recorded(single)).sweep;
    bencher.bench(|| fit(&sweep).expect("a fit"));
}

#[divan::bench(sample_count = 10)]
fn the_fit_of_a_coil_on_steel(bencher: divan::Bencher) {
    let sweep = measured(&recorded(steel)).sweep;
    bencher.bench(|| fit(&sweep).expect("a fit"));
}

#[divan::bench(sample_count = 10)]
fn the_signal_to_play() -> Vec<u8> {
    TestSignal::default().wav()
}
