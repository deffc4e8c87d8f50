//! A circuit with its faults built in, for sound.

use asfound_measure::{Farads, Ohms};

use super::edits::Edits;
use crate::circuit::{Circuit, Coil, Join, JoinTo, Known, Part, Sort, Terminal};
use crate::plan::Plan;
use crate::state::{Changes, Setting, Wired};

/// Capacitance across the gap of a broken winding (common practice, no source; some tens of picofarads).
pub(super) const GAP: Farads = Farads(50e-12);

/// The circuit, with parts added at its end for what a fault leaves of a part.
#[derive(Debug)]
pub(super) struct Faulted {
    pub(super) circuit: Circuit,
    pub(super) changes: Changes,
    /// For each join of the circuit asked about that still holds, its index there; they come first, in this order.
    pub(super) kept: Vec<usize>,
    /// For each pot that was added, the place among the pots of the one it stands for.
    pots: Vec<usize>,
    /// For each coil in order, the coil it stands for and its sign.
    pub(super) coils: Vec<(usize, f64)>,
}

/// What is being built.
struct Building {
    parts: Vec<Part>,
    joins: Vec<Join>,
    changes: Changes,
    pots: Vec<usize>,
    coils: Vec<(usize, f64)>,
}

impl Building {
    /// Adds a part under a name that no trace can hold.
    fn part(&mut self, sort: Sort) -> usize {
        self.parts.push(Part::new(format!("\u{1}{}", self.parts.len()), sort));
        self.parts.len() - 1
    }

    fn join(&mut self, a: Terminal, to: Terminal) {
        self.joins.push(Join { a, to: JoinTo::One(to), known: Known::Unknown });
    }
}

impl Faulted {
    /// `None` where the circuit cannot be built, which no edit of ours brings about.
    pub(super) fn new(wired: &Wired, edits: &[&Edits], gap: Farads) -> Option<Self> {
        let circuit = wired.circuit();
        let place = |lug| edits.iter().fold(lug, |lug, edits| edits.place(lug));
        let coils = circuit.coils().enumerate().map(|(number, _)| (number, 1.0)).collect();
        let mut building = Building {
            parts: circuit.parts().to_vec(),
            joins: Vec::new(),
            changes: Changes::default(),
            pots: Vec::new(),
            coils,
        };
        let mut kept = Vec::new();
        for (join, a, b) in wired.joins() {
            if !edits.iter().any(|edits| edits.parted.contains(&join)) {
                building.join(place(a), place(b));
                kept.push(join);
            }
        }
        for edits in edits {
            build(&mut building, circuit, edits, gap)?;
        }
        let Building { parts, joins, changes, pots, coils } = building;
        let circuit = Circuit::new(parts, joins).ok()?.with_couplings(circuit.couplings().to_vec()).ok()?;
        Some(Self { circuit, changes, kept, pots, coils })
    }

    pub(super) fn setting(&self, setting: &Setting) -> Setting {
        let mut setting = setting.clone();
        let more: Vec<f64> = self.pots.iter().map(|pot| setting.wipers[*pot]).collect();
        setting.wipers.extend(more);
        setting
    }
}

fn build(building: &mut Building, circuit: &Circuit, edits: &Edits, gap: Farads) -> Option<()> {
    let lug = |part, lug| Terminal { part, lug };
    building.changes.opened.extend(&edits.opened);
    building.changes.bridged.extend(&edits.bridged);
    if let Some(leak) = edits.leak {
        let part = building.part(Sort::Resistor(Ohms(leak.ohms)));
        building.join(lug(part, 0), leak.a);
        building.join(lug(part, 1), leak.b);
    }
    if let Some((part, position, a, b)) = edits.dead
        && let Sort::Switch(plan) = &building.parts[part].sort
    {
        let mut positions = plan.positions().to_vec();
        positions[position].contacts.retain(|contact| *contact != (a, b));
        let plan = Plan::new(plan.lugs().to_vec(), positions, plan.between()).ok()?;
        building.parts[part].sort = Sort::Switch(plan);
    }
    if let Some((part, ohms)) = edits.track
        && let Sort::Pot(pot) = &mut building.parts[part].sort
    {
        pot.track = Ohms(ohms);
    }
    if let Some(off) = edits.lug_off
        && let Sort::Pot(pot) = building.parts[off.part].sort.clone()
    {
        building.changes.opened.push(off.part);
        let stands_in = building.part(Sort::Pot(pot));
        building.pots.push(circuit.pots().position(|(part, _)| part == off.part)?);
        for at in (0..3).filter(|at| *at != off.lug) {
            building.join(lug(stands_in, at), lug(off.part, at));
        }
    }
    let number = |part| circuit.coils().position(|(other, _)| other == part);
    if let Some(part) = edits.broken
        && let Sort::Coil(coil) = building.parts[part].sort.clone()
    {
        let stands_in = building.part(Sort::Coil(Coil { cover: false, ..coil }));
        let across = building.part(Sort::Capacitor(gap));
        building.join(lug(stands_in, 1), lug(part, 1));
        building.join(lug(stands_in, 0), lug(across, 0));
        building.join(lug(across, 1), lug(part, 0));
        building.coils.push((number(part)?, 1.0));
    }
    if let Some(part) = edits.flipped {
        let flipped = number(part)?;
        for (number, sign) in building.coils.iter_mut() {
            if *number == flipped {
                *sign = -1.0;
            }
        }
    }
    Some(())
}
