//! What a fault does to the network, against the general solvers and against worked figures.

use asfound_measure::{Farads, Hertz, Ohms};

use super::assumed::{Priors, Tolerances};
use super::candidates::{candidates, every_fault};
use super::edits::{Edits, Places, edits};
use super::evidence::{Evidence, Reach};
use super::faulted::{Faulted, GAP};
use super::kinds::Fault;
use super::ohms::{Grid, Room, Seen};
use crate::circuit::{Circuit, Terminal};
use crate::direct::Reading;
use crate::solve::Prepared;
use crate::state::{Load, Setting};
use crate::trace::Trace;

const LEVER: &str = include_str!("../../tests/traces/five-way-lever.trace");
const SLIDES: &str = include_str!("../../tests/traces/four-slides.trace");

fn circuit(trace: &str) -> Circuit {
    Trace::read(trace).unwrap().circuit().unwrap()
}

fn evidence() -> Evidence {
    Evidence {
        metered: vec![],
        heard: vec![],
        reach: Reach::Everything,
        coated_cavity: Some(true),
        earth_proved: false,
        load: Load::none(),
    }
}

/// The fast solution of many networks gives what the general one gives on the circuit with the fault built in: every
/// fault of two circuits, in every position, between every lug and the sleeve and along the lugs. Both are solved without
/// approximation, so that only rounding lies between them.
#[test]
fn the_fast_solution_is_the_general_one() {
    for trace in [LEVER, SLIDES] {
        let circuit = circuit(trace);
        let wired = circuit.possibilities().next().unwrap();
        let places = Places::of(&circuit).unwrap();
        let grid = Grid::new(&wired, Tolerances::default());
        let faults = candidates(&circuit, &places, &evidence(), &Priors::default()).unwrap();
        let lugs: Vec<Terminal> = (0..circuit.parts().len())
            .flat_map(|part| (0..circuit.parts()[part].lug_count()).map(move |lug| Terminal { part, lug }))
            .collect();
        let probings: Vec<(Terminal, Terminal)> = lugs
            .iter()
            .map(|lug| (*lug, places.sleeve))
            .chain(lugs.windows(2).map(|two| (two[0], two[1])))
            .collect();
        let mut room = Room::default();
        for (turn, candidate) in faults.iter().enumerate() {
            let edits = [&candidate.coarse[turn % candidate.coarse.len()].edits];
            let faulted = Faulted::new(&wired, &edits, GAP).unwrap();
            let built = faulted.circuit.possibilities().next().unwrap();
            let mut setting = Setting::every_position(&circuit).nth(turn % 5).unwrap();
            setting.wipers =
                (0..setting.wipers.len()).map(|knob| [1.0, 0.3, 0.0][(turn + knob) % 3]).collect();
            let mut seen = vec![Seen::default(); probings.len()];
            grid.read(&mut room, &grid.stand(&setting), &edits, &probings, &mut seen);
            for (&(from, to), seen) in probings.iter().zip(&seen) {
                let general =
                    crate::resistance(&built, &faulted.setting(&setting), &faulted.changes, from, to)
                        .unwrap();
                let ohms = match general.reading {
                    Reading::Ohms(Ohms(ohms)) => Some(ohms),
                    Reading::Shorted => Some(0.0),
                    Reading::Open => None,
                };
                let same = match (seen.ohms, ohms) {
                    (Some(one), Some(other)) => (one - other).abs() <= 1e-8 * other.max(1.0),
                    (one, other) => one == other,
                };
                let names = (circuit.name_of(from), circuit.name_of(to));
                assert!(same, "{:?} {names:?}: {:?}, generally {ohms:?}", candidate.fault, seen.ohms);
            }
        }
    }
}

/// A coil of 6 kΩ and 2.4 H without capacitance, broken, on a volume of 250 kΩ and a full tone of 250 kΩ and 22 nF, with 500 pF and
/// 1 MΩ: decibels at the jack for three
/// capacitances across the gap, by an independent nodal solution checked against a general circuit simulator.
#[test]
fn what_comes_across_the_gap_of_a_broken_winding() {
    let circuit = circuit(
        "coil neck 6k 2.4H 0.001p\n pot volume 250k linear\n pot tone 250k linear\n capacitor ct 22n\n jack jack\n\
         join neck.hot volume.3 seen\n join volume.2 jack.tip seen\n join volume.3 tone.3 seen\n\
         join tone.1 ct.a seen\n join ct.b volume.1 seen\n join volume.1 jack.sleeve seen\n join neck.ground volume.1 seen\n",
    );
    let wired = circuit.possibilities().next().unwrap();
    let places = Places::of(&circuit).unwrap();
    let broken = edits(&circuit, &places, Fault::CoilOpen { part: 0 }, 0.0, 0.0);
    let load = Load { capacitance: Farads(500e-12), resistance: Some(Ohms(1e6)) };
    for (gap, decibels) in [
        (20e-12, [-56.907, -37.655, -30.827, -26.869]),
        (50e-12, [-48.951, -29.734, -22.930, -16.198]),
        (200e-12, [-36.924, -17.924, -11.314, -3.203]),
    ] {
        let faulted = Faulted::new(&wired, &[&broken], Farads(gap)).unwrap();
        let built = faulted.circuit.possibilities().next().unwrap();
        let setting = faulted.setting(&Setting::first(&circuit));
        let mut prepared = Prepared::new(&built, &setting, load, &faulted.changes).unwrap();
        for (frequency, expected) in [100.0, 1e3, 3e3, 1e4].into_iter().zip(decibels) {
            let response = prepared.at(Hertz(frequency)).unwrap();
            let heard: f64 = response.transfers.iter().map(|it| it.abs()).sum();
            let got = 20.0 * libm::log10(heard);
            // The figures are printed to three decimals, and there with a leak of 1e12 Ω across the gap.
            assert!((got - expected).abs() < 2e-3, "{gap}, {frequency}: {got} for {expected}");
        }
    }
}

/// An insulation leak beside a coil of 6 kΩ: what the meter shows across it, by the parallel formula.
#[test]
fn a_leak_beside_a_coil() {
    let circuit = circuit(
        "coil neck 6k\n jack jack\n join neck.hot jack.tip seen\n join neck.ground jack.sleeve seen\n",
    );
    let wired = circuit.possibilities().next().unwrap();
    let places = Places::of(&circuit).unwrap();
    let grid = Grid::new(&wired, Tolerances::default());
    let stand = grid.stand(&Setting::first(&circuit));
    for (leak, expected) in [(1e6, 5964.21), (100e3, 5660.38), (20e3, 4615.38)] {
        let leaky = edits(&circuit, &places, Fault::CoilLeaky { part: 0 }, leak, 0.0);
        let mut seen = [Seen::default()];
        grid.read(&mut Room::default(), &stand, &[&leaky], &[(places.tip, places.sleeve)], &mut seen);
        assert!((seen[0].ohms.unwrap() - expected).abs() < 0.005, "printed to two decimals");
    }
}

/// Two faults of one point are told once, ground is no place for a strand to ground, and a broken string ground is not
/// told a second time as the joint of its only wire.
#[test]
fn every_fault_is_told_once() {
    let circuit = circuit(
        "coil neck 6k covered\n pot volume 250k\n jack jack\n metal bridge\n join neck.hot volume.3 seen\n\
         join volume.2 jack.tip seen\n join volume.1 jack.sleeve seen\n join neck.ground volume.1 seen\n\
         join neck.cover volume.1 seen\n join bridge volume.1 seen\n",
    );
    let all = every_fault(&circuit, false);
    let strays = all.iter().filter(|it| matches!(it, Fault::StrayToGround { .. })).count();
    assert_eq!(strays, 2, "the coil's hot point and the tip's");
    assert!(!all.contains(&Fault::JoinOpen { join: 5 }) && all.contains(&Fault::StringGroundBroken));
    assert!(!all.iter().any(|it| matches!(it, Fault::LugTouchesCoating { .. })));
    let mut once = all.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), all.len());
}

/// A circuit without a fault is built as it was.
#[test]
fn no_edit_changes_nothing() {
    let circuit = circuit(LEVER);
    let wired = circuit.possibilities().next().unwrap();
    let faulted = Faulted::new(&wired, &[&Edits::default()], GAP).unwrap();
    assert_eq!(faulted.circuit.parts(), circuit.parts());
    assert_eq!(faulted.circuit.joins().len(), circuit.joins().len());
}
