//! What can be wrong with a trace: one join missing, elsewhere or forgotten.

use std::collections::BTreeMap;

use crate::circuit::{Circuit, Sort, Terminal};
use crate::nets::Sets;
use crate::state::Wired;

/// A single slip of the trace: how the instrument differs from what was drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slip {
    /// This join, by index, is not there, or does not hold.
    Missing {
        /// The join.
        join: usize,
    },
    /// This join ends at another lug of the same part than the one drawn.
    Elsewhere {
        /// The join.
        join: usize,
        /// The end that is where it was drawn.
        stays: Terminal,
        /// The lug drawn.
        drawn: Terminal,
        /// The lug where it is.
        at: Terminal,
    },
    /// These two lugs are joined, and no join says so.
    Extra {
        /// One lug.
        a: Terminal,
        /// The other.
        b: Terminal,
    },
}

/// Joins between lugs as they may really be.
pub(super) type Joins = Vec<(Terminal, Terminal)>;

/// Ways the instrument may be joined that no two lugs tell apart: every slip with the same lugs at the same points.
#[derive(Debug, Clone)]
pub(super) struct World {
    /// One way to lay the joins.
    pub(super) joins: Joins,
    /// The trace as drawn, by number of the possibility, and the slip of it. Empty slips belong to the drawn ones.
    pub(super) slips: Vec<(usize, Slip)>,
}

/// A lug's number among all lugs of the circuit.
pub(super) fn lug_numbers(circuit: &Circuit) -> Vec<usize> {
    let mut first = Vec::with_capacity(circuit.parts().len());
    let mut lugs = 0;
    for part in circuit.parts() {
        first.push(lugs);
        lugs += part.lug_count();
    }
    first.push(lugs);
    first
}

/// Every lug of the circuit, in part order.
pub(super) fn every_lug(circuit: &Circuit) -> Vec<Terminal> {
    let parts = circuit.parts().iter().enumerate();
    parts.flat_map(|(part, it)| (0..it.lug_count()).map(move |lug| Terminal { part, lug })).collect()
}

/// The points that joins make of the lugs, numbered by their first lug.
pub(super) fn points(first: &[usize], joins: &Joins) -> Vec<u32> {
    let mut sets = Sets::new(*first.last().unwrap_or(&0));
    for &(a, b) in joins {
        sets.join(first[a.part] + a.lug, first[b.part] + b.lug);
    }
    sets.numbered().0
}

/// The trace as drawn, and every single slip of it.
pub(super) struct Worlds {
    /// The drawn ones first: one for each way the unknown joins can go, as far as lugs tell them apart.
    pub(super) all: Vec<World>,
    /// How many of them are drawn.
    pub(super) drawn: usize,
    /// For each possibility of the circuit, in its order, the drawn world it is.
    pub(super) of_possibility: Vec<usize>,
    /// Slips that leave every lug at its point: a loop of wire may lose any one join and nothing changes.
    pub(super) same: Vec<Slip>,
}

impl Worlds {
    /// The worlds of a circuit. Slips are laid on the first `slipped` ways to lay the unknown joins.
    pub(super) fn new(circuit: &Circuit, slipped: usize) -> Worlds {
        let first = lug_numbers(circuit);
        let mut by_points: BTreeMap<Vec<u32>, usize> = BTreeMap::new();
        let mut worlds = Worlds { all: Vec::new(), drawn: 0, of_possibility: Vec::new(), same: Vec::new() };
        let drawn: Vec<Wired> = circuit.possibilities().collect();
        for wired in &drawn {
            let joins: Joins = wired.joins().map(|(_, a, b)| (a, b)).collect();
            let all = &mut worlds.all;
            let world = *by_points.entry(points(&first, &joins)).or_insert_with(|| {
                all.push(World { joins, slips: Vec::new() });
                all.len() - 1
            });
            worlds.of_possibility.push(world);
        }
        worlds.drawn = worlds.all.len();
        for (possibility, wired) in drawn.iter().enumerate().take(slipped) {
            for (slip, joins) in slips(wired) {
                match by_points.get(&points(&first, &joins)) {
                    Some(&world) if world < worlds.drawn => {
                        if world == worlds.of_possibility[possibility] && !worlds.same.contains(&slip) {
                            worlds.same.push(slip);
                        }
                    }
                    Some(&world) => worlds.all[world].slips.push((possibility, slip)),
                    None => {
                        by_points.insert(points(&first, &joins), worlds.all.len());
                        worlds.all.push(World { joins, slips: vec![(possibility, slip)] });
                    }
                }
            }
        }
        worlds
    }
}

/// Every single slip of one way to lay the joins, and the joins as they then are.
fn slips(wired: &Wired) -> Vec<(Slip, Joins)> {
    let circuit = wired.circuit();
    let joins: Vec<(usize, Terminal, Terminal)> = wired.joins().collect();
    let plain: Joins = joins.iter().map(|&(_, a, b)| (a, b)).collect();
    let mut found = Vec::new();
    for (at, &(join, a, b)) in joins.iter().enumerate() {
        let without = |put: Option<(Terminal, Terminal)>| {
            let mut changed = plain.clone();
            match put {
                Some(put) => changed[at] = put,
                None => drop(changed.remove(at)),
            }
            changed
        };
        found.push((Slip::Missing { join }, without(None)));
        for (drawn, stays) in [(a, b), (b, a)] {
            for other in mistaken_for(circuit, drawn).filter(|&other| other != stays) {
                let slip = Slip::Elsewhere { join, stays, drawn, at: other };
                found.push((slip, without(Some((other, stays)))));
            }
        }
    }
    for (a, b) in may_touch(circuit, &plain) {
        let mut changed = plain.clone();
        changed.push((a, b));
        found.push((Slip::Extra { a, b }, changed));
    }
    found
}

/// How far along a switch the eye slips.
const LUGS_AWAY: usize = 2;

/// The lugs of the same part that a lug is easily taken for: on a switch its neighbours, elsewhere all.
fn mistaken_for(circuit: &Circuit, lug: Terminal) -> impl Iterator<Item = Terminal> + use<> {
    let part = &circuit.parts()[lug.part];
    let away = match part.sort {
        Sort::Switch(_) | Sort::Post { .. } => LUGS_AWAY,
        _ => part.lug_count(),
    };
    (0..part.lug_count())
        .filter(move |&other| other != lug.lug && other.abs_diff(lug.lug) <= away)
        .map(move |other| Terminal { part: lug.part, lug: other })
}

/// Pairs of lugs that a forgotten wire or a strand may join: neighbours on one part, and any two points that wires go to,
/// each by its first lug.
fn may_touch(circuit: &Circuit, joins: &Joins) -> Joins {
    let first = lug_numbers(circuit);
    let points = points(&first, joins);
    let lugs = every_lug(circuit);
    let mut pairs: Joins =
        lugs.windows(2).filter(|pair| pair[0].part == pair[1].part).map(|pair| (pair[0], pair[1])).collect();
    let wired = |lug: &Terminal| joins.iter().any(|(a, b)| a == lug || b == lug);
    let mut heads: Joins = Vec::new();
    let mut seen: Vec<(u32, Terminal)> = Vec::new();
    for &lug in lugs.iter().filter(|lug| wired(lug)) {
        let point = points[first[lug.part] + lug.lug];
        if !seen.iter().any(|(known, _)| *known == point) {
            heads.extend(seen.iter().map(|&(_, other)| (other, lug)));
            seen.push((point, lug));
        }
    }
    pairs.extend(heads);
    pairs
}
