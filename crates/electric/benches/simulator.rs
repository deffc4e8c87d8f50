//! Two hundred circuits of 2 to 30 parts at 400 frequencies, every coil's transfer and the impedance at the jack: ours
//! against one process of a general circuit simulator (Debian's `ngspice`).
//!
//! The simulator reads all circuits in one session and solves each once per frequency with 1 A into the jack, from which
//! every transfer follows by reciprocity, as ours does; it is asked to write nothing down. Ours begins with the traced
//! circuit and finds nets, islands and paths too.
//!
//! Measured on two shared cores: ours 44 ms, the simulator 1.0 s, a ratio of 23. The simulator's circuits are larger, because
//! joins are elements of their own there.

#[path = "../tests/common/mod.rs"]
mod common;
#[path = "../tests/common/random.rs"]
mod random;
#[path = "../tests/common/simulator.rs"]
mod simulator;

use asfound_electric::{Changes, Circuit, Complex, Output, Prepared, Setting, Terminal};
use asfound_measure::Hertz;
use common::*;
use random::drawn_of;
use simulator::{Current, Deck, Session};

const CIRCUITS: usize = 200;
const FREQUENCIES: u32 = 400;

fn main() {
    divan::main();
}

fn circuits() -> Vec<(Circuit, Setting)> {
    let drawn = (0..).map(|seed| drawn_of(seed, 2 + seed as usize % 29));
    let live = drawn.filter(|(circuit, setting)| {
        let state = Prepared::new(&only(circuit), setting, load(470e-12, 1e6), &Changes::default());
        state.is_ok_and(|state| state.output() == Output::Live)
    });
    live.take(CIRCUITS).collect()
}

#[divan::bench(sample_count = 10)]
fn ours(bencher: divan::Bencher) {
    let circuits = circuits();
    let frequencies: Vec<Hertz> = (0..FREQUENCIES)
        .map(|step| Hertz(20.0 * libm::pow(1000.0, f64::from(step) / f64::from(FREQUENCIES - 1))))
        .collect();
    bencher.bench_local(|| {
        let mut sum = Complex::ZERO;
        for (circuit, setting) in &circuits {
            let mut prepared =
                Prepared::new(&only(circuit), setting, load(470e-12, 1e6), &Changes::default())
                    .expect("it can be prepared");
            for &frequency in &frequencies {
                sum += prepared.at(frequency).expect("it can be solved").transfers[0];
            }
        }
        sum
    });
}

#[divan::bench(sample_count = 10)]
fn one_simulator_process(bencher: divan::Bencher) {
    let mut session = Session::new("bench");
    for (circuit, setting) in &circuits() {
        let mut deck = Deck::new(circuit, setting, Current::Alternating);
        let tip = deck.node(Terminal { part: circuit.jacks().next().expect("a jack"), lug: 0 });
        deck.load(tip, load(470e-12, 1e6));
        let drive = deck.current_source(tip, 0);
        session.circuit(deck);
        session.command(&format!("alter {drive} ac = 1"));
        // Three decades with as many points as make up the same number of frequencies.
        session.command(&format!("ac dec {} 20 20000", (FREQUENCIES - 1) / 3));
        session.command("destroy all");
    }
    bencher.bench_local(|| session.solve());
}
