//! A state contracted to the few voltages that matter, and the order in which they are eliminated, found once.

use super::lanes::Lanes;
use super::{State, check};
use crate::equations::{Equations, Winding};
use crate::network::{Law, Unsolvable};
use crate::sensitivity::Value;
use crate::solve::{Output, Prepared};
use crate::state::Changes;
use asfound_measure::{Farads, Hertz, Ohms};

/// Frequencies that are solved side by side.
pub(super) const SIDE_BY_SIDE: usize = 8;

/// Index of a value among [`Contracted::values`].
type Factor = usize;

/// Where an admittance between two rows goes: two cells on the diagonal and the one between them. What goes to the datum
/// goes to a spare cell, so that nobody has to ask.
#[derive(Debug, Clone, Copy)]
struct Cells {
    from: usize,
    to: usize,
    between: usize,
}

/// A conductance or capacitance.
#[derive(Debug, Clone, Copy)]
struct Fixed {
    cells: Cells,
    conductance: f64,
    capacitance: f64,
    factor: Factor,
}

/// A coil or choke.
#[derive(Debug, Clone, Copy)]
struct Wound {
    cells: Cells,
    rows: (usize, usize),
    winding: Winding,
    factors: [Factor; 4],
    /// What the string gives in it.
    emf: f64,
}

/// Two coupled windings: the four cells between their ends, with signs, and the coupling factor.
#[derive(Debug, Clone, Copy)]
struct Coupled {
    a: usize,
    b: usize,
    cells: [(usize, f64); 4],
    factor: f64,
}

/// One voltage eliminated: its row, and its later neighbours as (cell between, row), in the list of all.
#[derive(Debug, Clone)]
struct Step {
    row: usize,
    neighbours: Vec<(usize, usize)>,
    /// The cells between each two of the neighbours, row by row, the diagonal first.
    targets: Vec<usize>,
}

/// A state made ready for many sets of values.
#[derive(Debug, Clone)]
pub(super) struct Contracted {
    rows: usize,
    tip: usize,
    cells: usize,
    /// The values in it, by part and name.
    pub(super) values: Vec<(Option<usize>, Value)>,
    fixed: Vec<Fixed>,
    windings: Vec<Wound>,
    coupled: Vec<Coupled>,
    steps: Vec<Step>,
}

/// Room for one solution, used again.
pub(super) struct Room<const N: usize> {
    cells: Vec<Lanes<N>>,
    sides: Vec<Lanes<N>>,
}

/// The values of one draw, summed into the cells.
pub(super) struct Filled {
    sums: Vec<(f64, f64)>,
    windings: Vec<[f64; 4]>,
    /// Mutual inductances.
    mutual: Vec<f64>,
}

impl Contracted {
    /// Contracts a state.
    ///
    /// # Errors
    /// As [`Prepared::new`]; [`Unsolvable::Shorted`] and [`Unsolvable::Open`] where there is nothing to hear.
    pub(super) fn new(state: &State<'_>, frequencies: &[Hertz]) -> Result<Self, Unsolvable> {
        check(state, frequencies)?;
        let prepared = Prepared::new(state.wired, state.setting, state.load, &Changes::default())?;
        match prepared.output() {
            Output::Shorted => return Err(Unsolvable::Shorted),
            Output::Open => return Err(Unsolvable::Open),
            Output::Live => {}
        }
        let equations = &prepared.equations;
        let rows = equations.rows;
        let (steps, cell_of, cells) = order(equations);
        let spare = cells;
        let mut new = Self {
            rows,
            tip: equations.tip,
            cells: cells + 1,
            values: Vec::new(),
            fixed: Vec::new(),
            windings: Vec::new(),
            coupled: Vec::new(),
            steps,
        };
        let cell = |a: usize, b: usize| if a == rows || b == rows { spare } else { cell_of[a * rows + b] };
        let between = |from: usize, to: usize| {
            // Both ends in one point: nothing flows, and nothing is written that counts.
            let [from_cell, to_cell] = if from == to { [spare; 2] } else { [cell(from, from), cell(to, to)] };
            Cells { from: from_cell, to: to_cell, between: if from == to { spare } else { cell(from, to) } }
        };
        for fixed in &equations.statics {
            let (value, conductance, capacitance) = match fixed.law {
                Law::Resistance(ohms) if fixed.track => (Value::Track, 1.0 / ohms, 0.0),
                Law::Resistance(ohms) => (Value::Resistance, 1.0 / ohms, 0.0),
                Law::Capacitance(farads) => (Value::Capacitance, 0.0, farads),
                Law::Choke { .. } | Law::Coil(_) => continue,
            };
            new.fix(Some(fixed.part), value, between(fixed.from, fixed.to), (conductance, capacitance));
        }
        let at_tip = between(equations.tip, rows);
        let Farads(farads) = state.load.capacitance;
        new.fix(None, Value::Capacitance, at_tip, (0.0, farads));
        if let Some(Ohms(ohms)) = state.load.resistance {
            new.fix(None, Value::Resistance, at_tip, (1.0 / ohms, 0.0));
        }
        for &winding in &equations.windings {
            let part = Some(winding.part);
            let factors = [Value::Resistance, Value::Inductance, Value::EddyInductance, Value::EddyLoss]
                .map(|value| new.value(part, value));
            let emf = winding.coil.map_or(0.0, |coil| state.strings[coil]);
            let cells = between(winding.from, winding.to);
            new.windings.push(Wound { cells, rows: (winding.from, winding.to), winding, factors, emf });
        }
        for pair in &equations.pairs {
            let (a, b) = (&equations.windings[pair.a], &equations.windings[pair.b]);
            let cells =
                [(a.from, b.from, 1.0), (a.from, b.to, -1.0), (a.to, b.from, -1.0), (a.to, b.to, 1.0)].map(
                    |(row, column, sign)| {
                        // The two halves of a symmetric pair fall together on the diagonal.
                        (cell(row, column), if row == column { 2.0 * sign } else { sign })
                    },
                );
            let root = (a.inductance * b.inductance).sqrt();
            let factor = if root > 0.0 { pair.mutual / root } else { 0.0 };
            new.coupled.push(Coupled { a: pair.a, b: pair.b, cells, factor });
        }
        Ok(new)
    }

    fn fix(&mut self, part: Option<usize>, value: Value, cells: Cells, amount: (f64, f64)) {
        let factor = self.value(part, value);
        self.fixed.push(Fixed { cells, conductance: amount.0, capacitance: amount.1, factor });
    }

    fn value(&mut self, part: Option<usize>, value: Value) -> Factor {
        let known = self.values.iter().position(|known| *known == (part, value));
        known.unwrap_or_else(|| {
            self.values.push((part, value));
            self.values.len() - 1
        })
    }

    /// How many unknown voltages there are.
    pub(super) fn nets(&self) -> usize {
        self.rows
    }

    /// Every value as in the circuit.
    pub(super) fn as_named(&self) -> Vec<f64> {
        vec![1.0; self.values.len()]
    }

    pub(super) fn room<const N: usize>(&self) -> Room<N> {
        Room { cells: vec![Lanes::ZERO; self.cells], sides: vec![Lanes::ZERO; self.rows + 1] }
    }

    pub(super) fn filled(&self) -> Filled {
        Filled {
            sums: vec![(0.0, 0.0); self.cells],
            windings: vec![[0.0; 4]; self.windings.len()],
            mutual: vec![0.0; self.coupled.len()],
        }
    }

    /// Puts values in, each as a share of the one in the circuit.
    pub(super) fn fill(&self, factors: &[f64], into: &mut Filled) {
        into.sums.fill((0.0, 0.0));
        for fixed in &self.fixed {
            let factor = factors[fixed.factor];
            let (conductance, capacitance) = (fixed.conductance / factor, fixed.capacitance * factor);
            for (cell, sign) in [(fixed.cells.from, 1.0), (fixed.cells.to, 1.0), (fixed.cells.between, -1.0)]
            {
                let sum = &mut into.sums[cell];
                *sum = (sum.0 + sign * conductance, sum.1 + sign * capacitance);
            }
        }
        for (wound, values) in self.windings.iter().zip(&mut into.windings) {
            let (inductance, loss) = wound.winding.eddy.unwrap_or_default();
            *values = [wound.winding.resistance, wound.winding.inductance, inductance, loss];
            values.iter_mut().zip(wound.factors).for_each(|(value, factor)| *value *= factors[factor]);
        }
        for (coupled, mutual) in self.coupled.iter().zip(&mut into.mutual) {
            *mutual = coupled.factor * (into.windings[coupled.a][1] * into.windings[coupled.b][1]).sqrt();
        }
    }

    /// Square of the voltage at the jack at `N` angular frequencies. Not finite where there is no single answer.
    pub(super) fn squares<const N: usize>(
        &self,
        filled: &Filled,
        omega: &[f64; N],
        room: &mut Room<N>,
    ) -> [f64; N] {
        for (cell, &(conductance, capacitance)) in room.cells.iter_mut().zip(&filled.sums) {
            *cell = Lanes::rising(conductance, capacitance, omega);
        }
        room.sides.fill(Lanes::ZERO);
        if self.coupled.is_empty() {
            for (wound, values) in self.windings.iter().zip(&filled.windings) {
                room.wind(wound, &impedance(values, omega).reciprocal());
            }
        } else {
            self.wind_coupled(filled, omega, room);
        }
        for step in &self.steps {
            room.eliminate(step);
        }
        // The diagonal cells come first, in the order of the rows.
        let (tip, side) = (&room.cells[self.tip], &room.sides[self.tip]);
        let (below, above) = (tip.squares(), side.squares());
        let mut out = [0.0; N];
        for lane in 0..N {
            out[lane] = above[lane] / below[lane];
        }
        out
    }

    fn wind_coupled<const N: usize>(&self, filled: &Filled, omega: &[f64; N], room: &mut Room<N>) {
        let impedances: Vec<Lanes<N>> =
            filled.windings.iter().map(|values| impedance(values, omega)).collect();
        let mut own: Vec<Lanes<N>> = impedances.iter().map(Lanes::reciprocal).collect();
        for (pair, &mutual) in self.coupled.iter().zip(&filled.mutual) {
            let (za, zb) = (&impedances[pair.a], &impedances[pair.b]);
            let m = Lanes::rising(0.0, mutual, omega);
            let mut determinant = za.times(zb);
            determinant.less(&m, &m);
            let over = determinant.reciprocal();
            (own[pair.a], own[pair.b]) = (zb.times(&over), za.times(&over));
            let mut across = Lanes::ZERO;
            across.less(&m, &over);
            for (cell, sign) in pair.cells {
                room.cells[cell].add(&across, sign);
            }
            let (a, b) = (&self.windings[pair.a], &self.windings[pair.b]);
            for (of, emf) in [(a, b.emf), (b, a.emf)] {
                room.sides[of.rows.0].add(&across, emf);
                room.sides[of.rows.1].add(&across, -emf);
            }
        }
        for (wound, admittance) in self.windings.iter().zip(&own) {
            room.wind(wound, admittance);
        }
    }
}

impl<const N: usize> Room<N> {
    /// Puts a winding's admittance and its source in.
    #[inline(always)]
    fn wind(&mut self, wound: &Wound, admittance: &Lanes<N>) {
        self.cells[wound.cells.from].add(admittance, 1.0);
        self.cells[wound.cells.to].add(admittance, 1.0);
        self.cells[wound.cells.between].add(admittance, -1.0);
        if wound.emf != 0.0 {
            self.sides[wound.rows.0].add(admittance, wound.emf);
            self.sides[wound.rows.1].add(admittance, -wound.emf);
        }
    }

    /// Eliminates one voltage from its later neighbours.
    #[inline(always)]
    fn eliminate(&mut self, step: &Step) {
        let over = self.cells[step.row].reciprocal();
        let side = self.sides[step.row];
        let mut targets = step.targets.iter();
        for (place, &(cell, row)) in step.neighbours.iter().enumerate() {
            let share = self.cells[cell].times(&over);
            self.sides[row].less(&share, &side);
            for (&(other, _), &target) in step.neighbours[place..].iter().zip(&mut targets) {
                let other = self.cells[other];
                self.cells[target].less(&share, &other);
            }
        }
    }
}

/// Series impedance of a winding of these values: resistance, inductance, and the shunted inductance and its loss.
#[inline(always)]
fn impedance<const N: usize>(values: &[f64; 4], omega: &[f64; N]) -> Lanes<N> {
    let [resistance, inductance, shunted, loss] = *values;
    let mut out = Lanes::rising(resistance, inductance, omega);
    if shunted > 0.0 {
        // Side by side, the admittances of the two add.
        let eddy = Lanes::rising(0.0, shunted, omega).reciprocal();
        let mut both = Lanes::rising(1.0 / loss, 0.0, omega);
        both.add(&eddy, 1.0);
        out.add(&both.reciprocal(), 1.0);
    }
    out
}

/// The order of elimination: the row with the fewest neighbours next (W. F. Tinney and J. W. Walker, Proceedings of the
/// IEEE 55, 1801, 1967), the tip last. Answers the steps, the cell between each two rows, and how many cells there are;
/// the diagonal cells come first, in the order of the rows.
fn order(equations: &Equations) -> (Vec<Step>, Vec<usize>, usize) {
    let rows = equations.rows;
    let mut linked = vec![false; rows * rows];
    let mut link = |a: usize, b: usize| {
        if a < rows && b < rows && a != b {
            (linked[a * rows + b], linked[b * rows + a]) = (true, true);
        }
    };
    equations.statics.iter().for_each(|fixed| link(fixed.from, fixed.to));
    equations.windings.iter().for_each(|winding| link(winding.from, winding.to));
    for pair in &equations.pairs {
        let (a, b) = (&equations.windings[pair.a], &equations.windings[pair.b]);
        for (a, b) in [(a.from, b.from), (a.from, b.to), (a.to, b.from), (a.to, b.to)] {
            link(a, b);
        }
    }
    let mut left: Vec<usize> = (0..rows).filter(|&row| row != equations.tip).collect();
    let mut found: Vec<(usize, Vec<usize>)> = Vec::with_capacity(rows);
    let mut gone = vec![false; rows];
    while !left.is_empty() {
        let beside = |row: usize| -> Vec<usize> {
            (0..rows).filter(|&other| linked[row * rows + other] && !gone[other]).collect()
        };
        let fewest = (0..left.len()).min_by_key(|&at| beside(left[at]).len()).unwrap_or(0);
        let row = left.remove(fewest);
        let beside = beside(row);
        for &a in &beside {
            for &b in beside.iter().filter(|&&b| b != a) {
                linked[a * rows + b] = true;
            }
        }
        gone[row] = true;
        found.push((row, beside));
    }
    let mut cell_of = vec![usize::MAX; rows * rows];
    (0..rows).for_each(|row| cell_of[row * rows + row] = row);
    let mut cells = rows;
    for (row, beside) in &found {
        for other in beside {
            (cell_of[row * rows + other], cell_of[other * rows + row]) = (cells, cells);
            cells += 1;
        }
    }
    let steps = found
        .into_iter()
        .map(|(row, beside)| {
            let cell = |a: usize, b: usize| cell_of[a * rows + b];
            let targets = (0..beside.len())
                .flat_map(|at| beside[at..].iter().map(move |&other| (at, other)))
                .map(|(at, other)| cell(beside[at], other))
                .collect();
            Step { row, neighbours: beside.iter().map(|&other| (cell(row, other), other)).collect(), targets }
        })
        .collect();
    (steps, cell_of, cells)
}
