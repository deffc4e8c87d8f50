//! Wires on a grid: each from lug to lug by the cheapest way round the parts, on a lane of its own where there is one.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::Tip;
use super::outline::{Solid, Spot};
use super::place::Layout;
use crate::mark::Point;

/// What a way costs, in tenths of a step.
const STEP: u32 = 10;
const BEND: u32 = 14;
const CROSSING: u32 = 55;
/// To run on a lane that a wire of the same net has.
const SHARED: u32 = 90;
/// To run on a lane that another wire has: only where there is no other way.
const TAKEN: u32 = 900;
/// To pass before a lug that the wire does not touch.
const BEFORE_A_LUG: u32 = 70;
/// To leave a lug aslant.
const ASLANT: f64 = 9.0;

/// How near a wire comes to a part, and to a lug that is not its own, in pitches.
const NEAR_A_PART: f64 = 0.9;
const NEAR_A_LUG: f64 = 0.95;
/// How far ahead of its lug a lead still fans out, in pitches.
const FAN: f64 = 3.3;

const ACROSS: u8 = 1;
const DOWN: u8 = 2;

/// What runs through a node of the grid.
#[derive(Debug, Clone, Copy)]
struct Run {
    join: usize,
    net: usize,
    axes: u8,
}

/// A wire that is wanted.
#[derive(Debug, Clone)]
pub(super) struct Wanted {
    pub(super) join: usize,
    pub(super) net: usize,
    pub(super) from: Tip,
    /// `None` for an end that hangs free.
    pub(super) to: Option<Tip>,
}

/// Wires as they were laid.
#[derive(Debug, Clone, Default)]
pub(super) struct Laid {
    /// The line of each wire, in the order in which they were wanted.
    pub(super) lines: Vec<Vec<Point>>,
    /// How often two nets cross.
    pub(super) crossings: usize,
    /// How many nodes of the grid two nets share side by side: where a line cannot be told from another.
    pub(super) shared: usize,
    /// Nodes where wires of one net meet.
    pub(super) junctions: Vec<Point>,
    /// Length of all wires, in steps.
    pub(super) length: usize,
}

struct Grid<'a> {
    layout: &'a Layout,
    pitch: f64,
    columns: usize,
    rows: usize,
    blocked: Vec<bool>,
    /// The lug that a node lies before.
    before: Vec<Option<Tip>>,
    runs: Vec<Vec<Run>>,
}

/// Lays all wires; the shortest first, then each once more with the others in place.
pub(super) fn lay(layout: &Layout, pitch: f64, wanted: &[Wanted]) -> Laid {
    let mut grid = Grid::new(layout, pitch);
    let far = |wire: &Wanted| match wire.to {
        Some(to) => {
            let (a, b) = (layout.lug(wire.from), layout.lug(to));
            (a.x - b.x).abs() + (a.y - b.y).abs()
        }
        None => f64::INFINITY,
    };
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|a, b| far(&wanted[*a]).total_cmp(&far(&wanted[*b])));
    let mut ways: Vec<Vec<usize>> = vec![Vec::new(); wanted.len()];
    for round in 0..3 {
        for &at in &order {
            if round > 0 {
                grid.lift(&wanted[at], &ways[at]);
            }
            ways[at] = grid.find(&wanted[at]);
            grid.put(&wanted[at], &ways[at]);
        }
    }
    let mut laid = grid.judged();
    laid.length = ways.iter().map(Vec::len).sum();
    laid.lines = wanted.iter().zip(&ways).map(|(wire, way)| grid.line(wire, way)).collect();
    laid
}

impl<'a> Grid<'a> {
    fn new(layout: &'a Layout, pitch: f64) -> Self {
        let columns = (layout.width / pitch).floor() as usize + 1;
        let rows = (layout.height / pitch).floor() as usize + 1;
        let count = columns * rows;
        let mut grid = Self {
            layout,
            pitch,
            columns,
            rows,
            blocked: vec![false; count],
            before: vec![None; count],
            runs: vec![Vec::new(); count],
        };
        for node in 0..count {
            let at = grid.point(node);
            let edge = at.x < 0.8 * pitch
                || at.y < 0.8 * pitch
                || at.x > layout.width - 0.8 * pitch
                || at.y > layout.height - 0.8 * pitch;
            grid.blocked[node] = edge
                || layout.stands.iter().any(|stand| {
                    let here = Point::new(at.x - stand.at.x, at.y - stand.at.y);
                    let lug = |spot: &Spot| {
                        libm::hypot(here.x - spot.at.x, here.y - spot.at.y) < NEAR_A_LUG * pitch
                    };
                    stand.shape.solids.iter().any(|solid| is_in(solid, here, NEAR_A_PART * pitch))
                        || stand.shape.spots.iter().any(lug)
                });
        }
        for (part, stand) in layout.stands.iter().enumerate() {
            for lug in 0..stand.shape.spots.len() {
                let tip = Tip { part, lug };
                for (node, _) in grid.ports(tip) {
                    grid.before[node] = Some(tip);
                }
            }
        }
        grid
    }

    fn point(&self, node: usize) -> Point {
        Point::new((node % self.columns) as f64 * self.pitch, (node / self.columns) as f64 * self.pitch)
    }

    /// Nodes that a lead can reach straight from a lug, and what its slant costs.
    fn ports(&self, tip: Tip) -> Vec<(usize, u32)> {
        let (at, out) = (self.layout.lug(tip), self.layout.stands[tip.part].shape.spots[tip.lug].out);
        let (column, row) = ((at.x / self.pitch).round() as i64, (at.y / self.pitch).round() as i64);
        let mut ports = Vec::new();
        for y in row - 4..=row + 4 {
            for x in column - 4..=column + 4 {
                let Some(node) = self.node(x, y).filter(|node| !self.blocked[*node]) else { continue };
                let to = self.point(node);
                let (dx, dy) = ((to.x - at.x) / self.pitch, (to.y - at.y) / self.pitch);
                let ahead = dx * out.x + dy * out.y;
                let aside = (dx * out.y - dy * out.x).abs();
                if (0.3..=FAN).contains(&ahead) && aside <= 1.2 * ahead {
                    ports.push((node, (STEP as f64 * ahead + ASLANT * aside) as u32));
                }
            }
        }
        ports
    }

    fn node(&self, x: i64, y: i64) -> Option<usize> {
        let (x, y) = (usize::try_from(x).ok()?, usize::try_from(y).ok()?);
        (x < self.columns && y < self.rows).then_some(y * self.columns + x)
    }

    /// What it costs to run through a node along an axis, beside the step itself.
    fn toll(&self, node: usize, axis: u8, wire: &Wanted) -> u32 {
        let mut toll = 0;
        for run in &self.runs[node] {
            if run.join == wire.join {
                continue;
            }
            toll += match (run.net == wire.net, run.axes & axis != 0) {
                (true, true) => SHARED,
                (true, false) => CROSSING,
                (false, true) => TAKEN,
                (false, false) => CROSSING,
            };
        }
        if self.before[node].is_some_and(|tip| tip != wire.from && Some(tip) != wire.to) {
            toll += BEFORE_A_LUG;
        }
        toll
    }

    /// The goals of a wire: nodes and what the last piece costs.
    fn goals(&self, wire: &Wanted) -> Vec<(usize, u32)> {
        let Some(to) = wire.to else { return self.free_ends(wire.from) };
        self.ports(to)
    }

    /// Where a loose end may hang: near its lug, with room around it.
    fn free_ends(&self, tip: Tip) -> Vec<(usize, u32)> {
        let at = self.layout.lug(tip);
        let (column, row) = ((at.x / self.pitch).round() as i64, (at.y / self.pitch).round() as i64);
        let mut ends = Vec::new();
        for y in row - 9..=row + 9 {
            for x in column - 9..=column + 9 {
                let far = (x - column).abs() + (y - row).abs();
                if !(4..=11).contains(&far) {
                    continue;
                }
                let Some(node) = self.node(x, y).filter(|node| !self.blocked[*node]) else { continue };
                let around = (-1..=1).flat_map(|dy| (-1..=1).map(move |dx| (x + dx, y + dy)));
                let crowd = around.filter(|(x, y)| {
                    self.node(*x, *y).is_none_or(|node| self.blocked[node] || !self.runs[node].is_empty())
                });
                ends.push((node, crowd.count() as u32 * TAKEN / 4 + 8 * far as u32));
            }
        }
        ends
    }

    /// The cheapest way, as nodes; empty where there is none at all.
    fn find(&self, wire: &Wanted) -> Vec<usize> {
        let states = 2 * self.columns * self.rows;
        let mut best = vec![u32::MAX; states];
        let mut came: Vec<u32> = vec![u32::MAX; states];
        let mut ends = vec![u32::MAX; self.columns * self.rows];
        for (node, cost) in self.goals(wire) {
            ends[node] = ends[node].min(cost);
        }
        let goals = self.around(&ends);
        let mut open = BinaryHeap::new();
        for (node, cost) in self.ports(wire.from) {
            for (side, axis) in [ACROSS, DOWN].into_iter().enumerate() {
                let cost = cost + self.toll(node, axis, wire);
                let state = 2 * node + side;
                if cost < best[state] {
                    best[state] = cost;
                    open.push(Reverse((cost + self.least_to(goals, node), cost, state)));
                }
            }
        }
        let mut found: Option<(u32, usize)> = None;
        while let Some(Reverse((whole, cost, state))) = open.pop() {
            if found.is_some_and(|(least, _)| least <= whole) {
                break;
            }
            if cost > best[state] {
                continue;
            }
            let (node, side) = (state / 2, state % 2);
            if ends[node] != u32::MAX {
                let whole = cost + ends[node];
                if found.is_none_or(|(least, _)| whole < least) {
                    found = Some((whole, state));
                }
            }
            let turned = 2 * node + (1 - side);
            let axis = if side == 0 { DOWN } else { ACROSS };
            let bend = cost + BEND + self.toll(node, axis, wire);
            if bend < best[turned] {
                (best[turned], came[turned]) = (bend, state as u32);
                open.push(Reverse((bend + self.least_to(goals, node), bend, turned)));
            }
            let (x, y) = ((node % self.columns) as i64, (node / self.columns) as i64);
            let steps = if side == 0 { [(x - 1, y), (x + 1, y)] } else { [(x, y - 1), (x, y + 1)] };
            for (x, y) in steps {
                let Some(next) = self.node(x, y).filter(|next| !self.blocked[*next]) else { continue };
                let axis = if side == 0 { ACROSS } else { DOWN };
                let cost = cost + STEP + self.toll(next, axis, wire);
                let state_there = 2 * next + side;
                if cost < best[state_there] {
                    (best[state_there], came[state_there]) = (cost, state as u32);
                    open.push(Reverse((cost + self.least_to(goals, next), cost, state_there)));
                }
            }
        }
        let mut way = Vec::new();
        let mut at = found.map(|(_, state)| state);
        while let Some(state) = at {
            if way.last() != Some(&(state / 2)) {
                way.push(state / 2);
            }
            at = (came[state] != u32::MAX).then_some(came[state] as usize);
        }
        way.reverse();
        way
    }

    /// The columns and rows that hold all ends of a wire: left, right, top, bottom.
    fn around(&self, ends: &[u32]) -> [usize; 4] {
        let mut around = [usize::MAX, 0, usize::MAX, 0];
        for node in (0..ends.len()).filter(|node| ends[*node] != u32::MAX) {
            let (x, y) = (node % self.columns, node / self.columns);
            around = [around[0].min(x), around[1].max(x), around[2].min(y), around[3].max(y)];
        }
        around
    }

    /// What the way from a node costs at the very least, so that the search looks that way first.
    fn least_to(&self, [left, right, top, bottom]: [usize; 4], node: usize) -> u32 {
        let (x, y) = (node % self.columns, node / self.columns);
        let away = left.saturating_sub(x).max(x.saturating_sub(right))
            + top.saturating_sub(y).max(y.saturating_sub(bottom));
        STEP * away as u32
    }

    /// The axes that a way runs along at each of its nodes.
    fn axes(&self, way: &[usize]) -> Vec<(usize, u8)> {
        let axis = |a: usize, b: usize| if a.abs_diff(b) == 1 { ACROSS } else { DOWN };
        way.iter()
            .enumerate()
            .map(|(at, &node)| {
                let before = at.checked_sub(1).map_or(0, |before| axis(way[before], node));
                let after = way.get(at + 1).map_or(0, |&next| axis(node, next));
                // A way of one node is a lead from lug to lug: nothing may run through it.
                (node, if before | after == 0 { ACROSS | DOWN } else { before | after })
            })
            .collect()
    }

    fn put(&mut self, wire: &Wanted, way: &[usize]) {
        for (node, axes) in self.axes(way) {
            self.runs[node].push(Run { join: wire.join, net: wire.net, axes });
        }
    }

    fn lift(&mut self, wire: &Wanted, way: &[usize]) {
        for &node in way {
            if let Some(at) = self.runs[node].iter().rposition(|run| run.join == wire.join) {
                self.runs[node].remove(at);
            }
        }
    }

    fn judged(&self) -> Laid {
        let mut laid = Laid::default();
        for (node, runs) in self.runs.iter().enumerate() {
            let pairs = runs
                .iter()
                .enumerate()
                .flat_map(|(at, one)| runs[at + 1..].iter().map(move |other| (one, other)));
            let mut meets = false;
            for (one, other) in pairs.filter(|(one, other)| one.join != other.join) {
                match (one.net == other.net, one.axes & other.axes != 0) {
                    (true, _) => meets = true,
                    (false, true) => laid.shared += 1,
                    (false, false) => laid.crossings += 1,
                }
            }
            // Before their lug the lines of a net need no dot: they are joined there.
            if meets && self.before[node].is_none() && self.is_junction(node) {
                laid.junctions.push(self.point(node));
            }
        }
        laid
    }

    /// Whether lines of one net part at a node, so that a dot has to say that they are joined: it has three arms.
    fn is_junction(&self, node: usize) -> bool {
        let mut axes: Vec<u8> = self.runs[node].iter().map(|run| run.axes).collect();
        axes.sort_unstable();
        axes.dedup();
        axes.len() > 1
    }

    /// A way as a line from lug to lug; straight where there was no way.
    fn line(&self, wire: &Wanted, way: &[usize]) -> Vec<Point> {
        let mut line = vec![self.layout.lug(wire.from)];
        line.extend(way.iter().map(|node| self.point(*node)));
        match wire.to {
            Some(to) => line.push(self.layout.lug(to)),
            None if way.is_empty() => {
                let out = self.layout.stands[wire.from.part].shape.spots[wire.from.lug].out;
                line.push(Point::new(
                    line[0].x + 2.0 * self.pitch * out.x,
                    line[0].y + 2.0 * self.pitch * out.y,
                ));
            }
            None => {}
        }
        without_middles(line)
    }
}

fn is_in(solid: &Solid, at: Point, margin: f64) -> bool {
    match solid {
        Solid::Disc { at: middle, radius } => libm::hypot(at.x - middle.x, at.y - middle.y) < radius + margin,
        Solid::Block(block) => {
            let block = block.grown(margin);
            block.left < at.x && at.x < block.right && block.top < at.y && at.y < block.bottom
        }
    }
}

/// Leaves out points on a straight piece.
fn without_middles(line: Vec<Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for point in line {
        if kept.last() == Some(&point) {
            continue;
        }
        if let [.., a, b] = kept.as_slice() {
            let turn = (b.x - a.x) * (point.y - b.y) - (b.y - a.y) * (point.x - b.x);
            if turn.abs() < 1e-9 {
                kept.pop();
            }
        }
        kept.push(point);
    }
    kept
}
