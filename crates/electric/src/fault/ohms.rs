//! Many direct-current networks that differ in little, solved fast: what a meter shows with a fault, and how that
//! hangs on every part.
//!
//! The same answer as [`crate::resistance`] (a test holds the one against the other), with room that is used again and
//! one factoring for all probings of a setting.

use super::assumed::Tolerances;
use super::edits::Edits;
use crate::circuit::{Circuit, Coil, Sort, Terminal};
use crate::nets::wiper_shares;
use crate::state::{Changes, Setting, Wired};
use crate::taper::Taper;

/// What contacts and leads add to a reading or take from it, in ohms, as a standard uncertainty (common practice, no
/// source).
const CONTACT: f64 = 0.5;

/// A pivot this much smaller than its diagonal is the datum of an island: what rounding leaves of nothing. The least
/// that a leak of ten megohms leaves beside a coil is far above.
const DATUM: f64 = 1e-11;

/// Parts and joins by lugs numbered through.
#[derive(Debug)]
pub(super) struct Grid<'c> {
    circuit: &'c Circuit,
    first: Vec<usize>,
    joins: Vec<(usize, Terminal, Terminal)>,
    tolerances: Tolerances,
}

/// A setting made ready.
#[derive(Debug, Clone)]
pub(super) struct Stand {
    /// Switch, positions that touch, lugs.
    contacts: Vec<(usize, usize, usize, usize)>,
    /// The wiper's share of each part's track.
    shares: Vec<f64>,
    /// How unsure that share is.
    unsure: Vec<f64>,
    /// The sets of lugs that joins and contacts make one where none of them fails.
    sound: Vec<u32>,
}

/// A branch between two nets.
#[derive(Debug, Clone, Copy)]
struct Branch {
    /// The part, or the number of parts plus the number of the edits that hold the leak.
    value: usize,
    from: usize,
    to: usize,
    ohms: f64,
    /// Ohms that the branch gains as the wiper's share grows by one.
    per_share: f64,
}

/// What the meter shows between two lugs.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Seen {
    /// Ohms; `None` is open.
    pub(super) ohms: Option<f64>,
    /// For each value that the reading hangs on, its change per standard uncertainty of that value, in the logarithm.
    pub(super) slopes: Vec<(usize, f64)>,
    /// What contacts and knobs that are at neither end add, as a standard uncertainty of the logarithm.
    pub(super) noise: f64,
}

/// Readings are weighed by the logarithm of their ohms and [`ADDED`].
pub(super) const ADDED: f64 = 1.0;

/// The scale on which readings are weighed: even in the ohms near nought, even in their logarithm above.
pub(super) fn scale(ohms: f64) -> f64 {
    libm::log(ohms + ADDED)
}

/// Room to work in.
#[derive(Debug, Default)]
pub(super) struct Room {
    parent: Vec<u32>,
    island: Vec<u32>,
    branches: Vec<Branch>,
    row: Vec<u32>,
    rows: usize,
    cells: Vec<f64>,
    pivots: Vec<f64>,
    volts: Vec<f64>,
}

fn find(parent: &mut [u32], member: usize) -> usize {
    let mut at = member;
    while parent[at] as usize != at {
        let above = parent[parent[at] as usize];
        parent[at] = above;
        at = above as usize;
    }
    at
}

fn unite(parent: &mut [u32], a: usize, b: usize) {
    let (a, b) = (find(parent, a), find(parent, b));
    parent[a.max(b)] = a.min(b) as u32;
}

impl<'c> Grid<'c> {
    pub(super) fn new(wired: &Wired<'c>, tolerances: Tolerances) -> Self {
        let circuit = wired.circuit();
        let mut first = vec![0];
        for part in circuit.parts() {
            first.push(first[first.len() - 1] + part.lug_count());
        }
        Self { circuit, first, joins: wired.joins().collect(), tolerances }
    }

    fn index(&self, lug: Terminal) -> usize {
        self.first[lug.part] + lug.lug
    }

    /// Makes a setting ready; it must fit the circuit.
    pub(super) fn stand(&self, setting: &Setting) -> Stand {
        let shares = wiper_shares(self.circuit, setting, &Changes::default());
        let mut unsure = vec![0.0; shares.len()];
        for (part, pot) in self.circuit.pots() {
            let known = if pot.taper == Taper::Unknown { 3.0 } else { 1.0 };
            if shares[part] > 0.0 && shares[part] < 1.0 {
                unsure[part] = self.tolerances.turn * known;
            }
        }
        let mut contacts = Vec::new();
        for (which, (part, plan)) in self.circuit.switches().enumerate() {
            let position = setting.positions[which];
            let touching = match setting.on_the_way {
                Some(way) if way.switch == which && way.both_touch => position..=position + 1,
                Some(way) if way.switch == which => continue,
                _ => position..=position,
            };
            for position in touching {
                let stop = &plan.positions()[position];
                contacts.extend(stop.contacts.iter().map(|&(a, b)| (part, position, a, b)));
            }
        }
        let mut stand = Stand { contacts, shares, unsure, sound: Vec::new() };
        let mut sound = Vec::new();
        self.wires(&mut sound, &stand, &[]);
        for lug in 0..sound.len() {
            sound[lug] = find(&mut sound, lug) as u32;
        }
        stand.sound = sound;
        stand
    }

    /// The sets of lugs that joins and contacts make one.
    fn wires(&self, parent: &mut Vec<u32>, stand: &Stand, edits: &[&Edits]) {
        parent.clear();
        let fails =
            |edits: &&Edits| !edits.parted.is_empty() || edits.dead.is_some() || edits.exchanged.is_some();
        if !stand.sound.is_empty() && !edits.iter().any(fails) {
            parent.extend_from_slice(&stand.sound);
            return;
        }
        parent.extend(0..self.first[self.first.len() - 1] as u32);
        let place = |lug| edits.iter().fold(lug, |lug, edits| edits.place(lug));
        for &(join, a, b) in &self.joins {
            if !edits.iter().any(|edits| edits.parted.contains(&join)) {
                unite(parent, self.index(place(a)), self.index(place(b)));
            }
        }
        for &(part, position, a, b) in &stand.contacts {
            let dead = |edits: &&Edits| edits.dead == Some((part, position, a, b));
            if !edits.iter().any(dead) {
                unite(parent, self.first[part] + a, self.first[part] + b);
            }
        }
    }

    /// What the meter shows in one setting with these edits, for each probing.
    pub(super) fn read(
        &self,
        room: &mut Room,
        stand: &Stand,
        edits: &[&Edits],
        probings: &[(Terminal, Terminal)],
        seen: &mut [Seen],
    ) {
        self.nets(room, stand, edits);
        self.branches(room, stand, edits);
        self.islands(room);
        factor(room);
        for (&(from, to), seen) in probings.iter().zip(seen) {
            let net = |room: &mut Room, lug| find(&mut room.parent, self.index(lug));
            let (from, to) = (net(room, from), net(room, to));
            self.between(room, stand, edits, (from, to), seen);
        }
    }

    fn nets(&self, room: &mut Room, stand: &Stand, edits: &[&Edits]) {
        self.wires(&mut room.parent, stand, edits);
        let parent = &mut room.parent;
        for &(a, b) in edits.iter().flat_map(|edits| &edits.bridged) {
            unite(parent, self.index(a), self.index(b));
        }
        for (part, it) in self.circuit.parts().iter().enumerate() {
            let at = self.first[part];
            let off = |lug| edits.iter().any(|edits| edits.lug_off == Some(Terminal { part, lug }));
            match &it.sort {
                Sort::Pot(_) => {
                    let share = stand.shares[part];
                    let wiper = !off(1);
                    if wiper && share <= 0.0 && !off(0) {
                        unite(parent, at, at + 1);
                    }
                    if wiper && share >= 1.0 && !off(2) {
                        unite(parent, at + 1, at + 2);
                    }
                }
                sort if no_ohms(sort) && !edits.iter().any(|edits| edits.opened.contains(&part)) => {
                    unite(parent, at, at + 1);
                }
                _ => {}
            }
        }
    }

    fn branches(&self, room: &mut Room, stand: &Stand, edits: &[&Edits]) {
        let Room { parent, branches, .. } = room;
        branches.clear();
        let mut add = |value, a: usize, b: usize, ohms: f64, per_share| {
            let (from, to) = (find(parent, a), find(parent, b));
            if from != to && ohms > 0.0 {
                branches.push(Branch { value, from, to, ohms, per_share });
            }
        };
        for (part, it) in self.circuit.parts().iter().enumerate() {
            if edits.iter().any(|edits| edits.opened.contains(&part)) {
                continue;
            }
            let at = self.first[part];
            match &it.sort {
                Sort::Coil(Coil { resistance, open: false, .. })
                | Sort::Resistor(resistance)
                | Sort::Choke { resistance, .. } => add(part, at, at + 1, resistance.0, 0.0),
                Sort::Pot(pot) => {
                    let other = edits.iter().find_map(|edits| edits.track.filter(|(it, _)| *it == part));
                    let track = other.map_or(pot.track.0, |(_, ohms)| ohms);
                    let share = stand.shares[part];
                    let off = |lug| edits.iter().any(|edits| edits.lug_off == Some(Terminal { part, lug }));
                    match [off(0), off(1), off(2)] {
                        [false, true, false] => add(part, at, at + 2, track, 0.0),
                        [low, false, high] => {
                            if !low {
                                add(part, at, at + 1, track * share, track);
                            }
                            if !high {
                                add(part, at + 1, at + 2, track * (1.0 - share), -track);
                            }
                        }
                        _ => {}
                    }
                }
                _ => {}
            }
        }
        for (which, leak) in edits.iter().enumerate().filter_map(|(which, it)| Some((which, it.leak?))) {
            let value = self.circuit.parts().len() + which;
            add(value, self.index(leak.a), self.index(leak.b), leak.ohms, 0.0);
        }
    }

    /// Numbers the nets that branches end at, and finds which hang together.
    fn islands(&self, room: &mut Room) {
        let lugs = room.parent.len();
        room.island.clear();
        room.island.extend(0..lugs as u32);
        room.row.clear();
        room.row.resize(lugs, u32::MAX);
        room.rows = 0;
        for branch in &room.branches {
            unite(&mut room.island, branch.from, branch.to);
            for net in [branch.from, branch.to] {
                if room.row[net] == u32::MAX {
                    room.row[net] = room.rows as u32;
                    room.rows += 1;
                }
            }
        }
    }

    fn between(
        &self,
        room: &mut Room,
        stand: &Stand,
        edits: &[&Edits],
        (from, to): (usize, usize),
        seen: &mut Seen,
    ) {
        seen.slopes.clear();
        seen.noise = CONTACT / ADDED;
        seen.ohms = Some(0.0);
        if from == to {
            return;
        }
        if find(&mut room.island, from) != find(&mut room.island, to) {
            seen.ohms = None;
            return;
        }
        let (from, to) = (room.row[from] as usize, room.row[to] as usize);
        room.volts.clear();
        room.volts.resize(room.rows, 0.0);
        room.volts[from] = 1.0;
        room.volts[to] -= 1.0;
        substitute(room);
        let ohms = room.volts[from] - room.volts[to];
        let over = 1.0 / (ohms + ADDED);
        let mut knobs = 0.0;
        let mut last = (usize::MAX, 0.0);
        for branch in &room.branches {
            let volts = |net: usize| room.volts[room.row[net] as usize];
            let current = (volts(branch.from) - volts(branch.to)) / branch.ohms;
            let squared = current * current;
            if squared < 1e-14 {
                continue;
            }
            let slope = squared * branch.ohms * over * self.spread(branch.value, edits);
            match seen.slopes.last_mut() {
                Some((value, sum)) if *value == branch.value => *sum += slope,
                _ => seen.slopes.push((branch.value, slope)),
            }
            if branch.per_share != 0.0 && stand.unsure[branch.value] > 0.0 {
                // The two pieces of a track follow each other and move against each other.
                let moved = squared * branch.per_share * stand.unsure[branch.value];
                if last.0 == branch.value {
                    knobs += (last.1 + moved) * (last.1 + moved) - last.1 * last.1;
                } else {
                    knobs += moved * moved;
                }
                last = (branch.value, moved);
            }
        }
        seen.slopes.push((usize::MAX, self.tolerances.gain * ohms * over));
        seen.noise = (CONTACT * CONTACT + knobs).sqrt() * over;
        seen.ohms = Some(ohms);
    }

    /// Standard uncertainty of a value, as a share of it.
    fn spread(&self, value: usize, edits: &[&Edits]) -> f64 {
        let count = self.circuit.parts().len();
        if value >= count {
            return edits[value - count].spread;
        }
        match &self.circuit.parts()[value].sort {
            Sort::Pot(_) => {
                let off = edits.iter().find(|edits| edits.track.is_some_and(|(part, _)| part == value));
                off.map_or(self.tolerances.track, |edits| edits.spread)
            }
            Sort::Resistor(_) => self.tolerances.resistor,
            _ => self.tolerances.coil,
        }
    }
}

fn no_ohms(sort: &Sort) -> bool {
    match sort {
        Sort::Coil(coil) => coil.resistance.0 == 0.0 && !coil.open,
        Sort::Resistor(resistance) | Sort::Choke { resistance, .. } => resistance.0 == 0.0,
        _ => false,
    }
}

/// Factors the conductances as L D Lᵀ. They are symmetric and, but for one datum in each island, positive definite.
fn factor(room: &mut Room) {
    let Room { branches, row, rows, cells, pivots, .. } = room;
    let size = *rows;
    cells.clear();
    cells.resize(size * size, 0.0);
    pivots.clear();
    pivots.resize(size, 0.0);
    for branch in branches.iter() {
        let (a, b) = (row[branch.from] as usize, row[branch.to] as usize);
        let conductance = 1.0 / branch.ohms;
        cells[a * size + a] += conductance;
        cells[b * size + b] += conductance;
        cells[a * size + b] -= conductance;
        cells[b * size + a] -= conductance;
    }
    for at in 0..size {
        pivots[at] = cells[at * size + at] * DATUM; // how small is nothing, until the pivot is known
    }
    for step in 0..size {
        let pivot = cells[step * size + step];
        if pivot <= pivots[step] {
            pivots[step] = 0.0;
            continue;
        }
        pivots[step] = 1.0 / pivot;
        let (above, below) = cells.split_at_mut((step + 1) * size);
        let pivot_row = &above[step * size..];
        for line in below.chunks_exact_mut(size) {
            let multiplier = line[step] * pivots[step];
            if multiplier == 0.0 {
                continue;
            }
            line[step] = multiplier;
            for column in step + 1..size {
                line[column] -= multiplier * pivot_row[column];
            }
        }
    }
}

fn substitute(room: &mut Room) {
    let Room { rows, cells, pivots, volts, .. } = room;
    let size = *rows;
    for row in 0..size {
        let mut sum = volts[row];
        for column in (0..row).filter(|column| pivots[*column] > 0.0) {
            sum -= cells[row * size + column] * volts[column];
        }
        volts[row] = sum;
    }
    for row in (0..size).rev() {
        if pivots[row] == 0.0 {
            volts[row] = 0.0;
            continue;
        }
        let mut sum = volts[row];
        for column in row + 1..size {
            sum -= cells[row * size + column] * volts[column];
        }
        volts[row] = sum * pivots[row];
    }
}
