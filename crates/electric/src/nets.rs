//! Nets: which lugs are one point of the circuit in a state.

use crate::circuit::{Circuit, Sort, Terminal};
use crate::state::{Changes, Setting, Wired};

/// Sets that grow together, found without recursion.
#[derive(Debug, Clone)]
pub(crate) struct Sets {
    parent: Vec<u32>,
}

impl Sets {
    pub(crate) fn new(count: usize) -> Self {
        Self { parent: (0..count as u32).collect() }
    }

    pub(crate) fn find(&mut self, member: usize) -> usize {
        let mut at = member as u32;
        while self.parent[at as usize] != at {
            let above = self.parent[self.parent[at as usize] as usize];
            self.parent[at as usize] = above; // halve the path while walking it
            at = above;
        }
        at as usize
    }

    /// Joins two sets; false when they were one already. The smaller root stays, so that the result does not
    /// depend on the order of the joins.
    pub(crate) fn join(&mut self, a: usize, b: usize) -> bool {
        let (a, b) = (self.find(a), self.find(b));
        self.parent[a.max(b)] = a.min(b) as u32;
        a != b
    }

    /// Numbers the sets from 0 in the order of their first members: (number of each member, how many).
    pub(crate) fn numbered(mut self) -> (Vec<u32>, usize) {
        let mut number = vec![0; self.parent.len()];
        let mut count = 0;
        for member in 0..number.len() {
            let root = self.find(member);
            if root == member {
                number[member] = count;
                count += 1;
            } else {
                number[member] = number[root]; // the root is the smallest member, so it has its number
            }
        }
        (number, count as usize)
    }
}

/// Whether capacitors block and inductors without resistance are joins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Current {
    Direct,
    Alternating,
}

/// The nets of a state: lugs that joins, closed contacts and parts of 0 ohm make one point.
///
/// Nets are numbered from 0 by their first lug in part order, so the order of the joins does not matter.
#[derive(Debug, Clone, PartialEq)]
pub struct Nets {
    first: Vec<u32>,
    net: Vec<u32>,
    count: usize,
    idle_joins: Vec<usize>,
}

impl Nets {
    /// Finds the nets. The setting must fit the circuit.
    pub(crate) fn new(
        wired: &Wired,
        setting: &Setting,
        shares: &[f64],
        changes: &Changes,
        current: Current,
    ) -> Self {
        let circuit = wired.circuit();
        let mut first = Vec::with_capacity(circuit.parts().len() + 1);
        let mut lugs = 0;
        for part in circuit.parts() {
            first.push(lugs as u32);
            lugs += part.lug_count();
        }
        first.push(lugs as u32);
        let index = |terminal: Terminal| first[terminal.part] as usize + terminal.lug;

        let mut sets = Sets::new(lugs);
        let mut idle_joins = Vec::new();
        for (join, a, b) in wired.joins().filter(|(join, _, _)| !changes.parted.contains(join)) {
            if !sets.join(index(a), index(b)) {
                idle_joins.push(join);
            }
        }
        for &(a, b) in &changes.bridged {
            sets.join(index(a), index(b));
        }
        for (part, &share) in shares.iter().enumerate() {
            for (a, b) in bridges(circuit, part, share, changes, current) {
                sets.join(index(Terminal { part, lug: a }), index(Terminal { part, lug: b }));
            }
        }
        join_contacts(circuit, setting, changes, &first, &mut sets);
        let (net, count) = sets.numbered();
        Self { first, net, count, idle_joins }
    }

    /// The net of a lug of this circuit.
    pub fn net(&self, terminal: Terminal) -> usize {
        self.net[self.first[terminal.part] as usize + terminal.lug] as usize
    }

    /// Whether two lugs are one point.
    pub fn same(&self, a: Terminal, b: Terminal) -> bool {
        self.net(a) == self.net(b)
    }

    /// How many nets there are.
    pub fn count(&self) -> usize {
        self.count
    }

    /// The lugs of one net, in part order.
    pub fn members(&self, net: usize) -> Vec<Terminal> {
        let mut members = Vec::new();
        for part in 0..self.first.len() - 1 {
            let lugs = self.first[part]..self.first[part + 1];
            members.extend(
                lugs.enumerate()
                    .filter(|&(_, at)| self.net[at as usize] as usize == net)
                    .map(|(lug, _)| Terminal { part, lug }),
            );
        }
        members
    }

    /// Joins, by index, whose two ends other joins already made one point: loops of wire. They change no net.
    pub fn idle_joins(&self) -> &[usize] {
        &self.idle_joins
    }
}

/// The pairs of lugs that a part itself makes one point.
fn bridges(
    circuit: &Circuit,
    part: usize,
    share: f64,
    changes: &Changes,
    current: Current,
) -> impl Iterator<Item = (usize, usize)> + use<> {
    let direct = current == Current::Direct;
    let shorted = changes.shorted.contains(&part);
    let opened = changes.opened.contains(&part);
    let no_ohms = match changes.sort(circuit, part) {
        Sort::Coil(coil) => direct && coil.resistance.0 == 0.0 && !coil.open,
        Sort::Resistor(value) => value.0 == 0.0,
        Sort::Choke { resistance, inductance } => resistance.0 == 0.0 && (direct || inductance.0 == 0.0),
        _ => false,
    };
    let pairs = match changes.sort(circuit, part) {
        Sort::Pot(_) if shorted => [Some((0, 1)), Some((1, 2))],
        Sort::Pot(_) if !opened => match share {
            _ if share <= 0.0 => [Some((0, 1)), None],
            _ if share >= 1.0 => [Some((1, 2)), None],
            _ => [None, None],
        },
        Sort::Coil(_) | Sort::Capacitor(_) | Sort::Resistor(_) | Sort::Choke { .. }
            if shorted || no_ohms && !opened =>
        {
            [Some((0, 1)), None]
        }
        _ => [None, None],
    };
    pairs.into_iter().flatten()
}

/// Share of its track between lug 1 and the wiper for each pot, at the pot's index among the parts; 0 for
/// other parts.
pub(crate) fn wiper_shares(circuit: &Circuit, setting: &Setting, changes: &Changes) -> Vec<f64> {
    let mut shares = vec![0.0; circuit.parts().len()];
    for ((part, _), &turn) in circuit.pots().zip(&setting.wipers) {
        if let Sort::Pot(pot) = changes.sort(circuit, part) {
            shares[part] = pot.taper.fraction(turn);
        }
    }
    shares
}

fn join_contacts(circuit: &Circuit, setting: &Setting, changes: &Changes, first: &[u32], sets: &mut Sets) {
    for (which, (part, plan)) in circuit.switches().enumerate() {
        if changes.opened.contains(&part) {
            continue;
        }
        let position = setting.positions[which];
        let touching = match setting.on_the_way {
            Some(way) if way.switch == which && way.both_touch => position..=position + 1,
            Some(way) if way.switch == which => continue,
            _ => position..=position,
        };
        for &(a, b) in plan.positions()[touching].iter().flat_map(|position| &position.contacts) {
            sets.join(first[part] as usize + a, first[part] as usize + b);
        }
    }
}
