//! Resistance between all lugs at once: both corners of one way to lay the joins, in one setting.

use asfound_measure::Ohms;

use crate::circuit::{Circuit, Terminal};
use crate::nets::{Current, Sets};
use crate::network::Network;
use crate::state::{Changes, Setting};

use super::slips::Joins;
use super::{ProbingError, Span, Tolerances};

/// The parts in one setting, joined by nothing but themselves: what all ways to lay the joins have in common.
pub(super) struct Stage {
    network: Network,
    /// Least and most ohms of each of its branches.
    limits: Vec<[f64; 2]>,
    touching: Ohms,
    open: Span,
}

impl Stage {
    /// `bare` is the circuit without its joins.
    pub(super) fn new(
        bare: &Circuit,
        setting: &Setting,
        tolerances: &Tolerances,
    ) -> Result<Stage, ProbingError> {
        let changes = Changes::default();
        let wired = bare.possibilities().next().ok_or(ProbingError::NoJoins)?;
        let network = Network::new(&wired, setting, &changes, Current::Direct)?;
        let limits = network
            .branches
            .iter()
            .filter_map(|branch| tolerances.of_branch(bare, changes.sort(bare, branch.part), branch))
            .collect();
        Ok(Stage { network, limits, touching: tolerances.touching, open: Span::open(tolerances) })
    }
}

/// What an ohmmeter shows between any two lugs of one way to lay the joins.
pub(super) struct Grid<'s> {
    stage: &'s Stage,
    /// For each net of the stage its point.
    point: Vec<u32>,
    /// For each point its island, and its row in the inverses; the datum of an island has none.
    place: Vec<(u32, Option<usize>)>,
    rows: usize,
    /// The inverse of the nodal conductances with every part at its least and at its most, row by row.
    inverses: [Vec<f64>; 2],
}

impl<'s> Grid<'s> {
    pub(super) fn new(stage: &'s Stage, joins: &Joins) -> Grid<'s> {
        let nets = &stage.network.nets;
        let mut sets = Sets::new(nets.count());
        for &(a, b) in joins {
            sets.join(nets.net(a), nets.net(b));
        }
        let (point, points) = sets.numbered();
        let branches: Vec<(usize, usize, [f64; 2])> = stage
            .network
            .branches
            .iter()
            .zip(&stage.limits)
            .map(|(branch, limits)| (point[branch.from] as usize, point[branch.to] as usize, *limits))
            .filter(|(a, b, _)| a != b)
            .collect();
        let mut islands = Sets::new(points);
        for &(a, b, _) in &branches {
            islands.join(a, b);
        }
        let (island, count) = islands.numbered();
        // The first point of each island is its datum.
        let mut has_datum = vec![false; count];
        let mut rows = 0;
        let place: Vec<(u32, Option<usize>)> = island
            .iter()
            .map(|&island| {
                let first = !std::mem::replace(&mut has_datum[island as usize], true);
                let row = (!first).then(|| {
                    rows += 1;
                    rows - 1
                });
                (island, row)
            })
            .collect();
        let inverses = [0, 1].map(|corner| {
            let mut matrix = vec![0.0; rows * rows];
            for &(a, b, limits) in &branches {
                let conductance = 1.0 / limits[corner];
                let (a, b) = (place[a].1, place[b].1);
                for row in [a, b].into_iter().flatten() {
                    matrix[row * rows + row] += conductance;
                }
                if let (Some(a), Some(b)) = (a, b) {
                    matrix[a * rows + b] -= conductance;
                    matrix[b * rows + a] -= conductance;
                }
            }
            invert(&mut matrix, rows);
            matrix
        });
        Grid { stage, point, place, rows, inverses }
    }

    /// What the meter shows between two lugs, with parts anywhere within their tolerances.
    pub(super) fn span(&self, from: Terminal, to: Terminal) -> Span {
        let nets = &self.stage.network.nets;
        let (a, b) = (self.point[nets.net(from)] as usize, self.point[nets.net(to)] as usize);
        if a == b {
            return Span { least: Ohms(0.0), most: self.stage.touching };
        }
        let ((island, row), (other, column)) = (self.place[a], self.place[b]);
        if island != other {
            return self.stage.open;
        }
        let [least, most] = [0, 1].map(|corner: usize| {
            let cell = |row: Option<usize>, column: Option<usize>| match (row, column) {
                (Some(row), Some(column)) => self.inverses[corner][row * self.rows + column],
                _ => 0.0,
            };
            (cell(row, row) + cell(column, column) - 2.0 * cell(row, column)).max(0.0)
        });
        Span { least: Ohms(least), most: Ohms(most + self.stage.touching.0) }
    }
}

/// Inverts a nodal matrix in place. Conductances are above nought and each island has its datum, so it is symmetric and
/// positive definite and needs no exchange of rows.
fn invert(matrix: &mut [f64], size: usize) {
    let mut pivot_row = vec![0.0; size];
    for step in 0..size {
        let pivot = 1.0 / matrix[step * size + step];
        matrix[step * size + step] = 1.0;
        for cell in &mut matrix[step * size..(step + 1) * size] {
            *cell *= pivot;
        }
        pivot_row.copy_from_slice(&matrix[step * size..(step + 1) * size]);
        for row in (0..size).filter(|&row| row != step) {
            let factor = matrix[row * size + step];
            if factor == 0.0 {
                continue;
            }
            matrix[row * size + step] = 0.0;
            for (cell, above) in matrix[row * size..(row + 1) * size].iter_mut().zip(&pivot_row) {
                *cell -= factor * above;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::circuit::{Join, JoinTo, Known};
    use crate::fault::Probed;
    use crate::probing::expected;
    use crate::probing::slips::every_lug;
    use crate::trace::Trace;
    use proptest::prelude::*;

    fn parts() -> Circuit {
        let text = "coil neck 6k\ncoil bridge 7k2\npot volume 250k\npot tone 500k audio 0.15\nresistor r 100k\n\
                    capacitor c 22n\nswitch lever three-way lever\njack jack\n";
        Trace::read(text).unwrap().circuit().unwrap()
    }

    proptest! {
        /// Two roads to the same limits: the inverse of all conductances at once, and the solver that looks at one pair of
        /// lugs and at what lies on a path between them. Both are backward stable; 1e-9 leaves room for the subtraction.
        #[test]
        fn all_pairs_at_once_agree_with_one_pair_at_a_time(
            joins in prop::collection::vec((0_usize..27, 0_usize..27), 0..16),
            position in 0_usize..3,
            wipers in prop::collection::vec(prop::sample::select(vec![0.0, 0.3, 1.0]), 2),
        ) {
            let bare = parts();
            let lugs = every_lug(&bare);
            let joins: Joins = joins.iter().map(|&(a, b)| (lugs[a % lugs.len()], lugs[b % lugs.len()])).collect();
            let drawn = joins
                .iter()
                .map(|&(a, b)| Join { a, to: JoinTo::One(b), known: Known::Matched })
                .collect();
            let circuit = Circuit::new(bare.parts().to_vec(), drawn).unwrap();
            let wired = circuit.possibilities().next().unwrap();
            let setting = Setting { positions: vec![position], on_the_way: None, wipers };
            let tolerances = Tolerances::default();
            let stage = Stage::new(&bare, &setting, &tolerances).unwrap();
            let grid = Grid::new(&stage, &joins);
            for (at, &from) in lugs.iter().enumerate() {
                for &to in &lugs[at + 1..] {
                    let probed = Probed { from, to, setting: setting.clone() };
                    let one = expected(&wired, &probed, &tolerances, &Changes::default()).unwrap().span;
                    let all = grid.span(from, to);
                    let near = |a: f64, b: f64| a == b || (a - b).abs() <= 1e-9 * (a.abs() + b.abs());
                    prop_assert!(near(one.least.0, all.least.0) && near(one.most.0, all.most.0), "{one:?} {all:?}");
                }
            }
        }
    }
}
