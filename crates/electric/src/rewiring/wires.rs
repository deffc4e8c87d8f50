//! Wirings near the one found: wires between lugs, and what is done to them.

use std::collections::BTreeSet;

use super::answer::Doing;
use crate::circuit::{Circuit, Join, JoinTo, Known, Sort, Terminal};
use crate::nets::Sets;

/// A wire between two lugs, the smaller first, so that one wire is written one way.
pub(super) type Wire = (Terminal, Terminal);

pub(super) fn wire(a: Terminal, b: Terminal) -> Wire {
    if a <= b { (a, b) } else { (b, a) }
}

/// A wiring on the way: what was done to the one found, and the wires that are there now.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wires {
    pub(super) doings: Vec<Doing>,
    pub(super) wires: BTreeSet<Wire>,
}

/// A circuit without the joins that are not known: a cut lead is loose as it stands. With the stubs of those leads.
pub(super) fn as_it_stands(circuit: &Circuit) -> (Vec<Join>, Vec<String>) {
    let is_known = |join: &&Join| matches!(join.to, JoinTo::One(_)) && join.known != Known::Unknown;
    let known = circuit.joins().iter().filter(is_known).cloned().collect();
    let loose = circuit.joins().iter().filter(|join| !is_known(join)).map(|join| circuit.name_of(join.a));
    (known, loose.collect())
}

impl Wires {
    /// The wires of joins that are all known.
    pub(super) fn of(joins: &[Join]) -> Self {
        let wires = joins.iter().filter_map(|join| match join.to {
            JoinTo::One(end) if end != join.a => Some(wire(join.a, end)),
            _ => None,
        });
        Self { doings: Vec::new(), wires: wires.collect() }
    }

    /// What is wired straight to a lug.
    pub(super) fn at(&self, lug: Terminal) -> Vec<Terminal> {
        let other = |&(a, b): &Wire| match (a == lug, b == lug) {
            (true, _) => Some(b),
            (_, true) => Some(a),
            _ => None,
        };
        self.wires.iter().filter_map(other).collect()
    }

    /// The wiring after one more thing is done; `None` where it cannot be done or changes nothing.
    pub(super) fn after(&self, circuit: &Circuit, doing: Doing) -> Option<Self> {
        let mut next = self.clone();
        match &doing {
            Doing::SwapLeads { coil } => {
                let (part, _) = circuit.coils().nth(*coil)?;
                next.swap_leads(circuit, part)?;
            }
            Doing::Exchange { a, b } => next.exchange(*a, *b, &[]),
            Doing::Move { lug, to } => next.move_lug(*lug, *to)?,
            // Both bring parts of their own and are wired where those parts are made.
            Doing::Bleed { .. } | Doing::NewSelector { .. } => return None,
        }
        if next.wires == self.wires {
            return None;
        }
        next.doings.push(doing);
        Some(next)
    }

    fn exchange(&mut self, a: Terminal, b: Terminal, but: &[Wire]) {
        let turned = |end: Terminal| match end {
            _ if end == a => b,
            _ if end == b => a,
            _ => end,
        };
        self.wires = self
            .wires
            .iter()
            .map(|it| if but.contains(it) { *it } else { wire(turned(it.0), turned(it.1)) })
            .collect();
    }

    /// Metal on the ground lead would come to hot with it, so it gets a wire of its own to where that lead was. Metal on
    /// the hot lead, which is a fault, comes to ground with it and stays tied.
    fn swap_leads(&mut self, circuit: &Circuit, part: usize) -> Option<()> {
        let (hot, ground) = (Terminal { part, lug: 0 }, Terminal { part, lug: 1 });
        let (metal, rest): (Vec<Terminal>, Vec<Terminal>) =
            self.at(ground).into_iter().partition(|&end| is_metal(circuit, end));
        let place = *rest.iter().find(|&&end| !is_lead(circuit, end)).or(rest.first())?;
        if self.at(hot).is_empty() || place == hot {
            return None;
        }
        for &end in &metal {
            self.wires.remove(&wire(end, ground));
            self.wires.insert(wire(end, place));
        }
        let tied = self.at(hot).into_iter().filter(|&end| is_metal(circuit, end));
        let tied: Vec<Wire> = tied.map(|end| wire(end, hot)).collect();
        self.exchange(hot, ground, &tied);
        Some(())
    }

    /// What was wired through the lug stays joined without it.
    fn move_lug(&mut self, lug: Terminal, to: Option<Terminal>) -> Option<()> {
        let others = self.at(lug);
        if to == Some(lug) || to.is_none() && others.is_empty() {
            return None;
        }
        for &other in &others {
            self.wires.remove(&wire(lug, other));
        }
        if let [first, rest @ ..] = others.as_slice() {
            let hub = rest.iter().find(|other| self.at(**other).len() > 1).copied().unwrap_or(*first);
            for &other in others.iter().filter(|&&other| other != hub) {
                self.wires.insert(wire(hub, other));
            }
        }
        if let Some(to) = to {
            self.wires.insert(wire(lug, to));
        }
        Some(())
    }

    /// Which lugs wires make one point; lugs are numbered in part order, see [`first_lugs`].
    pub(super) fn points(&self, first: &[usize]) -> Vec<u32> {
        let mut sets = Sets::new(first[first.len() - 1]);
        for (a, b) in &self.wires {
            sets.join(first[a.part] + a.lug, first[b.part] + b.lug);
        }
        sets.numbered().0
    }
}

/// The number of the first lug of each part, and of all lugs at the end.
pub(super) fn first_lugs(circuit: &Circuit) -> Vec<usize> {
    let mut first = vec![0];
    let mut count = 0;
    for part in circuit.parts() {
        count += part.lug_count();
        first.push(count);
    }
    first
}

/// Bare metal, or the cover or plate of a coil.
pub(super) fn is_metal(circuit: &Circuit, end: Terminal) -> bool {
    match circuit.parts()[end.part].sort {
        Sort::Metal => true,
        Sort::Coil(_) => end.lug == 2,
        _ => false,
    }
}

/// An end that is a lead or a leg of its own, soldered elsewhere: nothing is soldered *to* it.
pub(super) fn is_lead(circuit: &Circuit, end: Terminal) -> bool {
    match circuit.parts()[end.part].sort {
        Sort::Coil(_) => end.lug < 2,
        Sort::Capacitor(_) | Sort::Resistor(_) | Sort::Choke { .. } => true,
        _ => false,
    }
}

/// The single changes that may be made to a wiring. `whole` is false where only leads and lugs of pots are to be
/// exchanged.
pub(super) fn changes(circuit: &Circuit, wires: &Wires, first: &[usize], whole: bool) -> Vec<Doing> {
    let mut doings: Vec<Doing> =
        circuit.coils().enumerate().map(|(coil, _)| Doing::SwapLeads { coil }).collect();
    for (part, _) in circuit.pots() {
        let lug = |lug| Terminal { part, lug };
        doings.push(Doing::Exchange { a: lug(1), b: lug(2) });
    }
    if !whole {
        return doings;
    }
    let points = wires.points(first);
    let number = |end: Terminal| points[first[end.part] + end.lug];
    let hubs = hubs(circuit, wires, &number);
    for (part, it) in circuit.parts().iter().enumerate() {
        let lugs = match &it.sort {
            Sort::Jack | Sort::Metal | Sort::Post { .. } => 0,
            Sort::Coil(_) => 2,
            Sort::Pot(_) => 3,
            _ => it.lug_count(),
        };
        for lug in (0..lugs).map(|lug| Terminal { part, lug }) {
            let joined = !wires.at(lug).is_empty();
            if joined {
                doings.push(Doing::Move { lug, to: None });
            } else if !matches!(it.sort, Sort::Coil(_) | Sort::Switch(_) | Sort::Pot(_)) {
                continue;
            }
            let elsewhere = hubs.iter().filter(|(point, _)| *point != number(lug));
            doings.extend(elsewhere.map(|&(_, to)| Doing::Move { lug, to: Some(to) }));
        }
    }
    doings
}

/// One lug to solder to for each point: no lead where a lug is there, and the lug with the most on it. Idle lugs of
/// switches are points of their own; other idle lugs are not.
fn hubs(circuit: &Circuit, wires: &Wires, number: &dyn Fn(Terminal) -> u32) -> Vec<(u32, Terminal)> {
    let mut best: Vec<(u32, Terminal, (bool, usize))> = Vec::new();
    for (part, it) in circuit.parts().iter().enumerate() {
        for end in (0..it.lug_count()).map(|lug| Terminal { part, lug }) {
            let joined = wires.at(end).len();
            let idle = joined == 0;
            if idle && !matches!(it.sort, Sort::Switch(_)) || is_metal(circuit, end) {
                continue;
            }
            let rank = (!is_lead(circuit, end), joined);
            let point = number(end);
            match best.iter_mut().find(|(known, _, _)| *known == point) {
                Some((_, at, least)) if rank > *least => (*at, *least) = (end, rank),
                Some(_) => {}
                None => best.push((point, end, rank)),
            }
        }
    }
    best.into_iter().map(|(point, end, _)| (point, end)).collect()
}
