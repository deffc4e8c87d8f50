//! The solver against a second formulation that shares nothing with it but the complex numbers: a tableau of
//! every node voltage and every branch current, coils taken apart into resistance, inductances, loss and a
//! source of EMF, each coil driven by itself, and nets found by relabelling until nothing changes.

mod common;
#[path = "common/random.rs"]
mod random;

use asfound_electric::{Changes, Circuit, Complex, JoinTo, Output, Prepared, Setting, Sort, Terminal};
use asfound_measure::{Hertz, Ohms};
use common::*;
use random::drawn;

/// A branch between two nodes: its voltage is `ohms` times its current plus whatever it is driven by, or its
/// current is `siemens` times its voltage.
enum Branch {
    Series { from: usize, to: usize, ohms: Complex, coil: Option<usize> },
    Across { from: usize, to: usize, siemens: Complex },
}

impl Branch {
    fn ends(&self) -> (usize, usize) {
        match *self {
            Branch::Series { from, to, .. } | Branch::Across { from, to, .. } => (from, to),
        }
    }
}

struct Tableau {
    nodes: usize,
    branches: Vec<Branch>,
    /// Branches whose voltages also hang on each other's current, with the mutual impedance.
    mutual: Vec<(usize, usize, Complex)>,
    tip: usize,
    sleeve: usize,
}

fn node_labels(circuit: &Circuit, setting: &Setting) -> Vec<Vec<usize>> {
    let mut next = 0;
    let mut labels: Vec<Vec<usize>> = Vec::new();
    for part in circuit.parts() {
        labels.push((next..next + part.lug_count()).collect());
        next += part.lug_count();
    }
    let mut same: Vec<(Terminal, Terminal)> = Vec::new();
    for join in circuit.joins() {
        if let JoinTo::One(end) = join.to {
            same.push((join.a, end));
        }
    }
    let (mut switches, mut pots) = (setting.positions.iter(), setting.wipers.iter());
    for (part, sort) in circuit.parts().iter().map(|part| &part.sort).enumerate() {
        let pair = |a, b| (Terminal { part, lug: a }, Terminal { part, lug: b });
        match sort {
            Sort::Switch(plan) => {
                let position = &plan.positions()[*switches.next().unwrap()];
                same.extend(position.contacts.iter().map(|&(a, b)| pair(a, b)));
            }
            Sort::Pot(_) => match *pots.next().unwrap() {
                0.0 => same.push(pair(0, 1)),
                1.0 => same.push(pair(1, 2)),
                _ => {}
            },
            Sort::Resistor(Ohms(0.0)) => same.push(pair(0, 1)),
            _ => {}
        }
    }
    loop {
        let mut changed = false;
        for (a, b) in &same {
            let low = labels[a.part][a.lug].min(labels[b.part][b.lug]);
            for end in [a, b] {
                changed |= labels[end.part][end.lug] != low;
                labels[end.part][end.lug] = low;
            }
        }
        if !changed {
            return labels;
        }
    }
}

fn tableau(circuit: &Circuit, setting: &Setting, omega: f64) -> Tableau {
    let labels = node_labels(circuit, setting);
    let mut nodes = labels.iter().map(Vec::len).sum::<usize>();
    let mut branches = Vec::new();
    let (mut coil, mut pots) = (0, setting.wipers.iter());
    let mut main_branch = vec![0; circuit.parts().len()];
    let (ohm, henry) = (Complex::real, |henries: f64| Complex::imaginary(omega * henries));
    for (part, sort) in circuit.parts().iter().map(|part| &part.sort).enumerate() {
        let node = &labels[part];
        let series = |from, to, ohms| Branch::Series { from, to, ohms, coil: None };
        let across = |from, to, siemens| Branch::Across { from, to, siemens };
        match sort {
            Sort::Coil(winding) => {
                let inner = nodes;
                nodes += 3;
                branches.push(series(node[0], inner, ohm(winding.resistance.0)));
                main_branch[part] = branches.len();
                branches.push(series(inner, inner + 1, henry(winding.inductance.0)));
                match winding.eddy {
                    Some(eddy) => {
                        branches.push(series(inner + 1, inner + 2, henry(eddy.inductance.0)));
                        branches.push(series(inner + 1, inner + 2, ohm(eddy.loss.0)));
                    }
                    None => branches.push(series(inner + 1, inner + 2, Complex::ZERO)),
                }
                branches.push(Branch::Series {
                    from: inner + 2,
                    to: node[1],
                    ohms: Complex::ZERO,
                    coil: Some(coil),
                });
                branches.push(across(node[0], node[1], Complex::imaginary(omega * winding.capacitance.0)));
                coil += 1;
            }
            Sort::Pot(pot) => {
                let turn = *pots.next().unwrap();
                for (a, b, share) in [(0, 1, turn), (1, 2, 1.0 - turn)] {
                    if share > 0.0 {
                        branches.push(series(node[a], node[b], ohm(pot.track.0 * share)));
                    }
                }
            }
            Sort::Capacitor(farads) => {
                branches.push(across(node[0], node[1], Complex::imaginary(omega * farads.0)))
            }
            Sort::Resistor(Ohms(0.0)) => {}
            Sort::Resistor(ohms) => branches.push(series(node[0], node[1], ohm(ohms.0))),
            Sort::Choke { resistance, inductance } => {
                branches.push(series(node[0], node[1], Complex::new(resistance.0, omega * inductance.0)));
            }
            Sort::Switch(_) | Sort::Jack | Sort::Metal | Sort::Post { .. } => {}
        }
    }
    let mutual = circuit.couplings().iter().map(|coupling| {
        let inductance = |part: usize| match &circuit.parts()[part].sort {
            Sort::Coil(coil) => coil.inductance.0,
            _ => 0.0,
        };
        let mutual = coupling.factor * (inductance(coupling.a) * inductance(coupling.b)).sqrt();
        (main_branch[coupling.a], main_branch[coupling.b], henry(mutual))
    });
    Tableau { nodes, mutual: mutual.collect(), branches, tip: labels[0][0], sleeve: labels[0][1] }
}

impl Tableau {
    /// For each node, the lowest node that branches lead to: nodes with one answer are one island.
    fn islands(&self) -> Vec<usize> {
        let mut island: Vec<usize> = (0..self.nodes).collect();
        loop {
            let mut changed = false;
            for (a, b) in self.branches.iter().map(Branch::ends) {
                let low = island[a].min(island[b]);
                changed |= island[a] != low || island[b] != low;
                (island[a], island[b]) = (low, low);
            }
            if !changed {
                return island;
            }
        }
    }

    /// Voltage at the jack with a current into the tip and an EMF in one coil.
    fn volts(&self, current: f64, driven: Option<usize>, load: Complex) -> Complex {
        let island = self.islands();
        let size = self.nodes + self.branches.len();
        let mut rows = vec![vec![Complex::ZERO; size + 1]; size];
        let add = |rows: &mut Vec<Vec<Complex>>, row: usize, column: usize, value: Complex| {
            rows[row][column] += value
        };
        for (number, branch) in self.branches.iter().enumerate() {
            let column = self.nodes + number;
            let (from, to) = branch.ends();
            add(&mut rows, from, column, Complex::ONE);
            add(&mut rows, to, column, -Complex::ONE);
            let (volts, amperes) = match *branch {
                Branch::Series { ohms, .. } => (Complex::ONE, -ohms),
                Branch::Across { siemens, .. } => (siemens, -Complex::ONE),
            };
            add(&mut rows, column, from, volts);
            add(&mut rows, column, to, -volts);
            add(&mut rows, column, column, amperes);
            if matches!(branch, Branch::Series { coil, .. } if coil.is_some() && *coil == driven) {
                add(&mut rows, column, size, Complex::ONE);
            }
        }
        for &(a, b, ohms) in &self.mutual {
            add(&mut rows, self.nodes + a, self.nodes + b, -ohms);
            add(&mut rows, self.nodes + b, self.nodes + a, -ohms);
        }
        for (a, b) in [(self.tip, self.sleeve), (self.sleeve, self.tip)] {
            add(&mut rows, a, a, load);
            add(&mut rows, a, b, -load);
        }
        add(&mut rows, self.tip, size, Complex::real(current));
        add(&mut rows, self.sleeve, size, Complex::real(-current));
        for node in 0..self.nodes {
            let datum = if island[node] == island[self.sleeve] { self.sleeve } else { island[node] };
            if node == datum {
                rows[node] = vec![Complex::ZERO; size + 1];
                rows[node][node] = Complex::ONE;
            }
        }
        let answer = eliminate(rows);
        answer[self.tip] - answer[self.sleeve]
    }
}

/// Gauss and Jordan with the largest pivot of the column.
fn eliminate(mut rows: Vec<Vec<Complex>>) -> Vec<Complex> {
    let size = rows.len();
    for step in 0..size {
        let best = (step..size).max_by(|&a, &b| rows[a][step].abs().total_cmp(&rows[b][step].abs())).unwrap();
        rows.swap(step, best);
        let pivot = rows[step].clone();
        assert!(pivot[step].abs() > 0.0, "the tableau is singular at step {step}");
        for (number, row) in rows.iter_mut().enumerate() {
            if number != step && row[step] != Complex::ZERO {
                let factor = row[step] / pivot[step];
                for column in step..=size {
                    row[column] -= factor * pivot[column];
                }
            }
        }
    }
    (0..size).map(|step| rows[step][size] / rows[step][step]).collect()
}

/// Both are solved in double precision; what is left apart is rounding, a thousand times below any printed
/// figure.
const NEAR: f64 = 1e-9;

#[test]
fn agrees_with_the_tableau_on_drawn_circuits() {
    let (mut live, mut coupled) = (0, 0);
    for seed in 0..600 {
        let (circuit, setting) = drawn(seed);
        let load = load(470e-12, 1e6);
        let mut prepared = Prepared::new(&only(&circuit), &setting, load, &Changes::default()).unwrap();
        for hertz in [20.0, 700.0, 9000.0] {
            let omega = std::f64::consts::TAU * hertz;
            let tableau = tableau(&circuit, &setting, omega);
            let islands = tableau.islands();
            let output = if tableau.tip == tableau.sleeve {
                Output::Shorted
            } else if islands[tableau.tip] != islands[tableau.sleeve] {
                Output::Open
            } else {
                Output::Live
            };
            assert_eq!(prepared.output(), output, "seed {seed}");
            if output != Output::Live {
                break;
            }
            live += 1;
            coupled += circuit.couplings().len();
            let response = answer(&mut prepared, hertz);
            let admittance = Complex::new(1e-6, omega * 470e-12);
            let impedance = tableau.volts(1.0, None, admittance);
            let off = (response.impedance - impedance).abs() / impedance.abs();
            assert!(off < NEAR, "seed {seed} at {hertz} Hz: {:?}, not {impedance:?}", response.impedance);
            for (coil, &transfer) in response.transfers.iter().enumerate() {
                let wanted = tableau.volts(0.0, Some(coil), admittance);
                // Where a coil is silent the tableau itself leaves some 1e-12.
                let coil_off = (transfer - wanted).abs() / wanted.abs().max(0.01);
                assert!(
                    coil_off < NEAR,
                    "seed {seed}, coil {coil} at {hertz} Hz: {transfer:?}, not {wanted:?}"
                );
            }
        }
    }
    assert!(live > 300 && coupled > 30, "too few circuits say anything: {live} live, {coupled} coupled");
}

/// Each sensitivity against the change that a thousandth part more of the value makes; the next term of the
/// series, a millionth, and the rounding divided by a thousandth both stay below 1e-6 when taken from both
/// sides.
#[test]
fn sensitivities_are_the_changes_that_values_make() {
    use asfound_electric::{Load, Value};
    let mut compared = 0;
    for seed in 0..200 {
        let (circuit, setting) = drawn(seed);
        let wired = only(&circuit);
        let given = load(470e-12, 1e6);
        let solve = |load: Load, changes: &Changes| {
            let mut prepared = Prepared::new(&wired, &setting, load, changes).ok()?;
            prepared.at(Hertz(2500.0)).ok().cloned()
        };
        let Some(response) = solve(given, &Changes::default()) else { continue };
        let mut prepared = Prepared::new(&wired, &setting, given, &Changes::default()).unwrap();
        for found in prepared.sensitivities(Hertz(2500.0)).unwrap() {
            let step = 1e-4;
            let changed = |factor: f64| match found.part {
                None => {
                    let mut load = given;
                    match found.value {
                        Value::Capacitance => load.capacitance = load.capacitance * factor,
                        _ => load.resistance = load.resistance.map(|ohms| ohms * factor),
                    }
                    solve(load, &Changes::default()).unwrap()
                }
                Some(part) => {
                    let sort = scaled(&circuit.parts()[part].sort, found.value, factor);
                    solve(given, &Changes::default().replace(&circuit, part, sort).unwrap()).unwrap()
                }
            };
            let (more, less) = (changed(1.0 + step), changed(1.0 - step));
            let impedance = libm::log(more.impedance.abs() / less.impedance.abs()) / (2.0 * step);
            let place = format!("seed {seed}, {:?} of {:?}", found.value, found.part);
            assert!(
                (impedance - found.impedance).abs() < 1e-6 * (1.0 + impedance.abs()),
                "{place}: {impedance}"
            );
            for (coil, transfer) in found.transfers.iter().enumerate() {
                let wanted = (more.transfers[coil] - less.transfers[coil]) * (0.5 / step);
                let near = 1e-6 * (1.0 + wanted.abs() + response.transfers[coil].abs());
                assert!(
                    (*transfer - wanted).abs() < near,
                    "{place}, coil {coil}: {transfer:?}, not {wanted:?}"
                );
            }
            compared += 1;
        }
    }
    assert!(compared > 500, "{compared} are too few");
}

fn scaled(sort: &Sort, value: asfound_electric::Value, factor: f64) -> Sort {
    use asfound_electric::Value;
    let mut sort = sort.clone();
    match (&mut sort, value) {
        (Sort::Coil(coil), Value::Resistance) => coil.resistance = coil.resistance * factor,
        (Sort::Coil(coil), Value::Inductance) => coil.inductance = coil.inductance * factor,
        (Sort::Coil(coil), Value::Capacitance) => coil.capacitance = coil.capacitance * factor,
        (Sort::Coil(coil), Value::EddyInductance) => {
            coil.eddy.iter_mut().for_each(|eddy| eddy.inductance = eddy.inductance * factor);
        }
        (Sort::Coil(coil), Value::EddyLoss) => {
            coil.eddy.iter_mut().for_each(|eddy| eddy.loss = eddy.loss * factor)
        }
        (Sort::Pot(pot), Value::Track) => pot.track = pot.track * factor,
        (Sort::Capacitor(farads), Value::Capacitance) => *farads = *farads * factor,
        (Sort::Resistor(ohms), Value::Resistance) => *ohms = *ohms * factor,
        (Sort::Choke { resistance, .. }, Value::Resistance) => *resistance = *resistance * factor,
        (Sort::Choke { inductance, .. }, Value::Inductance) => *inductance = *inductance * factor,
        (sort, value) => panic!("{sort:?} has no {value:?}"),
    }
    sort
}
