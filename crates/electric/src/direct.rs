//! What an ohmmeter shows between two lugs, once it has settled.

use asfound_measure::Ohms;

use crate::circuit::Terminal;
use crate::complex::Complex;
use crate::equations::MOST_NETS;
use crate::linear::Linear;
use crate::nets::Current;
use crate::network::{Branch, Law, Network, Port, Unsolvable};
use crate::state::{Changes, Setting, Wired};

/// What a meter without error would show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading {
    /// A resistance.
    Ohms(Ohms),
    /// Nothing conducts between the two lugs.
    Open,
    /// The two lugs are one point, through joins, contacts or parts without resistance: 0 ohm.
    Shorted,
}

/// A reading with what it hangs on.
#[derive(Debug, Clone, PartialEq)]
pub struct Direct {
    /// What the meter shows.
    pub reading: Reading,
    /// For each part that carries the meter's current, by index: the ohms of the reading that stand on it.
    /// They add up to the reading; a part with x % more resistance (a pot: more track) raises the reading by
    /// x % of its share, for small x. The rest of the parts have no say.
    pub shares: Vec<(usize, Ohms)>,
}

/// Resistance between two lugs at exact direct current: capacitors block, and coils and chokes are their
/// resistance.
///
/// By Cohn's theorem (Proceedings of the American Mathematical Society 1, 316, 1950) the reading changes with
/// a resistance by the square of the current in it, per ampere through the meter, so that one solution gives
/// every share.
///
/// # Errors
/// [`Unsolvable`] when setting, changes or lugs do not fit the circuit, or it is too large. An open or
/// shorted reading is an answer.
pub fn resistance(
    wired: &Wired,
    setting: &Setting,
    changes: &Changes,
    a: Terminal,
    b: Terminal,
) -> Result<Direct, Unsolvable> {
    let parts = wired.circuit().parts();
    for terminal in [a, b] {
        let part = parts.get(terminal.part).ok_or(Unsolvable::NoSuchThing {
            what: "part",
            read: terminal.part,
            count: parts.len(),
        })?;
        if terminal.lug >= part.lug_count() {
            return Err(Unsolvable::NoSuchThing { what: "lug", read: terminal.lug, count: part.lug_count() });
        }
    }
    let network = Network::new(wired, setting, changes, Current::Direct)?;
    match network.port(a, b) {
        Port::Shorted => Ok(Direct { reading: Reading::Shorted, shares: Vec::new() }),
        Port::Open => Ok(Direct { reading: Reading::Open, shares: Vec::new() }),
        Port::Live { from, to, on_path } => {
            let chosen: Vec<&Branch> = network
                .branches
                .iter()
                .zip(&on_path)
                .filter(|&(_, &on)| on)
                .map(|(branch, _)| branch)
                .collect();
            solve(network.nets.count(), &chosen, from, to)
        }
    }
}

/// Solves branches that all lie on a path between two nets.
pub(crate) fn solve(nets: usize, chosen: &[&Branch], from: usize, to: usize) -> Result<Direct, Unsolvable> {
    let mut place = vec![None; nets];
    let mut rows = 0;
    for net in chosen.iter().flat_map(|branch| [branch.from, branch.to]).filter(|&net| net != to) {
        place[net].get_or_insert_with(|| {
            rows += 1;
            rows - 1
        });
    }
    if rows > MOST_NETS {
        return Err(Unsolvable::TooLarge { nets: rows, most: MOST_NETS });
    }
    let row = |net: usize| place[net].unwrap_or(rows);
    let mut linear = Linear::new(rows);
    let resistors = || {
        chosen.iter().filter_map(|branch| match branch.law {
            Law::Resistance(ohms) => Some((branch.part, row(branch.from), row(branch.to), ohms)),
            _ => None,
        })
    };
    for (_, a, b, ohms) in resistors() {
        let conductance = Complex::real(1.0 / ohms);
        for (row, column, value) in
            [(a, a, conductance), (b, b, conductance), (a, b, -conductance), (b, a, -conductance)]
        {
            linear.add(row, column, value);
        }
    }
    if !linear.factor() {
        return Err(Unsolvable::Singular);
    }
    let mut volts = vec![Complex::ZERO; rows + 1];
    volts[row(from)] = Complex::ONE;
    linear.solve(&mut volts[..rows]);
    let mut shares: Vec<(usize, Ohms)> = Vec::new();
    for (part, a, b, ohms) in resistors() {
        let current = (volts[a].re - volts[b].re) / ohms;
        let share = Ohms(current * current * ohms);
        match shares.last_mut() {
            Some((last, sum)) if *last == part => *sum = *sum + share, // the other piece of the same track
            _ => shares.push((part, share)),
        }
    }
    let ohms = volts[row(from)].re;
    if !ohms.is_finite() {
        return Err(Unsolvable::Singular);
    }
    Ok(Direct { reading: Reading::Ohms(Ohms(ohms)), shares })
}
