//! The solver against a general circuit simulator (Debian's `ngspice`, needed for the tests only), which shares nothing
//! with it: 200 circuits of 2 to 30 parts drawn from stated seeds, written out lug by lug, in one process.

mod common;
#[path = "common/random.rs"]
mod random;
#[path = "common/simulator.rs"]
mod simulator;

use asfound_electric::{Changes, Circuit, Complex, Output, Prepared, Reading, Setting, Terminal, resistance};
use asfound_measure::{Hertz, Ohms};
use common::*;
use random::{Draw, drawn_of};
use simulator::{Current, Deck, Session};

const CIRCUITS: usize = 200;

/// Both solve in double precision, so that what is left apart is rounding: some 1e-14 of the volt that drives the circuit,
/// which is much of an output that is itself a ten-millionth of it. The furthest apart of 4,100 outputs are 6.6e-7, at an
/// output of 5.6e-8; solved there with fifty digits, ours is 2.9e-7 off.
const NEAR: f64 = 1e-6;

/// An output that somebody could hear, and how near it is: the furthest apart are below 1e-9.
const HEARD: f64 = 1e-3;
const NEAR_WHERE_HEARD: f64 = 1e-9;

/// Below this an output is nothing that could be measured, and where a coil is silent the simulator leaves some rounding.
const SMALLEST_OUTPUT: f64 = 1e-9;

/// The first circuits by seed that say something, of 2 to 30 parts in turn.
fn circuits() -> impl Iterator<Item = (u64, Circuit, Setting)> {
    (0..).map(|seed| (seed, 2 + seed as usize % 29)).filter_map(|(seed, count)| {
        let (circuit, setting) = drawn_of(seed, count);
        let state = Prepared::new(&only(&circuit), &setting, load(470e-12, 1e6), &Changes::default());
        (state.expect("it can be prepared").output() == Output::Live).then_some((seed, circuit, setting))
    })
}

/// The two answers that lie furthest apart, among all outputs and among those that could be heard.
#[derive(Default)]
struct Worst {
    off: f64,
    at: String,
    off_where_heard: f64,
    compared: usize,
}

impl Worst {
    fn compare(&mut self, ours: Complex, simulated: Complex, place: impl Fn() -> String) {
        let off = (ours - simulated).abs() / simulated.abs();
        self.compared += 1;
        if simulated.abs() > HEARD {
            self.off_where_heard = self.off_where_heard.max(off);
        }
        if off > self.off {
            (self.off, self.at) = (off, format!("{}: {ours:?}, the simulator {simulated:?}", place()));
        }
    }

    fn assert_near(&self, at_least: usize) {
        assert!(self.off < NEAR, "{:e} apart, {}", self.off, self.at);
        let heard = self.off_where_heard;
        assert!(heard < NEAR_WHERE_HEARD, "{heard:e} apart where it can be heard");
        assert!(self.compared >= at_least, "only {} outputs were compared", self.compared);
    }
}

#[test]
fn transfers_and_impedances_agree_with_the_simulator() {
    let loaded = load(470e-12, 1e6);
    let mut session = Session::new("transfers");
    let chosen: Vec<_> = circuits().take(CIRCUITS).collect();
    for (_, circuit, setting) in &chosen {
        let tip = Terminal { part: circuit.jacks().next().unwrap(), lug: 0 };
        let mut deck = Deck::new(circuit, setting, Current::Alternating);
        let tip = deck.node(tip);
        deck.load(tip, loaded);
        let drives = [vec![deck.current_source(tip, 0)], deck.coils.clone()].concat();
        session.circuit(deck);
        for drive in drives {
            session.command(&format!("alter {drive} ac = 1"));
            session.command("ac dec 2 20 20000");
            session.keep(&format!("v({tip})"));
            session.command(&format!("alter {drive} ac = 0"));
        }
    }
    let answers = session.run();
    let mut answers = answers.chunks_exact(7);
    let mut worst = Worst::default();
    for (seed, circuit, setting) in &chosen {
        let mut prepared = Prepared::new(&only(circuit), setting, loaded, &Changes::default()).unwrap();
        for drive in 0..=circuit.coils().count() {
            for line in answers.next().expect("an answer for every drive") {
                let (hertz, simulated) = (line[0], Complex::new(line[1], line[2]));
                let response = prepared.at(Hertz(hertz)).unwrap();
                let ours = if drive == 0 { response.impedance } else { response.transfers[drive - 1] };
                let place = || format!("seed {seed}, drive {drive}, {hertz} Hz");
                if simulated.abs() > SMALLEST_OUTPUT {
                    worst.compare(ours, simulated, place);
                } else {
                    assert!(ours.abs() < 2.0 * SMALLEST_OUTPUT, "{}: {ours:?}", place());
                }
            }
        }
    }
    worst.assert_near(CIRCUITS * 10);
}

/// Lug against lug, as an ohmmeter would be laid on: six pairs in each circuit.
#[test]
fn readings_between_lugs_agree_with_the_simulator() {
    let mut session = Session::new("readings");
    let mut asked = Vec::new();
    let chosen: Vec<_> = circuits().take(CIRCUITS).collect();
    for (seed, circuit, setting) in &chosen {
        let draw = &mut Draw::new(*seed);
        let mut deck = Deck::new(circuit, setting, Current::Direct);
        let mut drives = Vec::new();
        for _ in 0..6 {
            let mut lug = || {
                let part = draw.below(circuit.parts().len());
                Terminal { part, lug: draw.below(circuit.parts()[part].lug_count()) }
            };
            let (a, b) = (lug(), lug());
            let (from, to) = (deck.node(a), deck.node(b));
            let ours = resistance(&only(circuit), setting, &Changes::default(), a, b).unwrap().reading;
            let place = format!("seed {seed}, {a:?} to {b:?}");
            assert_eq!(ours == Reading::Open, !deck.one_island(from, to), "{place}");
            if ours != Reading::Open && from != to {
                drives.push((deck.current_source(from, to), from, to));
                asked.push((ours, place));
            }
        }
        if drives.is_empty() {
            continue;
        }
        session.circuit(deck);
        for (drive, from, to) in drives {
            session.command(&format!("alter {drive} dc = 1"));
            session.command("op");
            let volts = |node| if node == 0 { "0".to_owned() } else { format!("v({node})") };
            session.keep(&format!("{}-{}", volts(from), volts(to)));
            session.command(&format!("alter {drive} dc = 0"));
        }
    }
    let answers = session.run();
    assert_eq!(answers.len(), asked.len());
    let mut worst = Worst::default();
    for ((ours, place), line) in asked.iter().zip(&answers) {
        match ours {
            Reading::Ohms(Ohms(ohms)) => {
                worst.compare(Complex::real(*ohms), Complex::real(line[1]), || place.clone())
            }
            _ => assert!(line[1].abs() < 1e-6, "{place}: shorted, the simulator {} ohm", line[1]),
        }
    }
    worst.assert_near(CIRCUITS);
}
