//! What a fit found, and what it refuses to say.

use super::problem::{Domain, Problem, Spread, Unknown};
use asfound_measure::{Quantity, Uncertain};
use nalgebra::{DMatrix, DVector};

/// A singular value this far below the largest counts as nought. Differences carry slopes to about 1e-12, and the worst
/// conditioned of NIST's published sets reaches 1e-7.
const NOUGHT: f64 = 1e-9;
/// A column this much shorter than the longest is what differences leave of noughts.
const ROUNDING: f64 = 1e-12;
/// The share of an unknown in a direction without effect from which the unknown is refused.
const SHARE: f64 = 1e-4;
/// Two unknowns that move together this closely are named together.
const MOVES_WITH: f64 = 0.9;

/// The readings do not fix this figure.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotTold {
    /// Other values of these, changed together, would give the same readings.
    #[error("the readings cannot tell these apart: {}", .0.join(", "))]
    Apart(Vec<String>),
    /// Nothing in the readings depends on it.
    #[error("no reading depends on {0}")]
    NoEffect(String),
    /// Its standard uncertainty is larger than itself; named with those it moves together with, if any.
    #[error("the readings leave {name} open{}", .with.iter().map(|other| format!(", as it moves together with {other}")).collect::<String>())]
    Vague {
        /// The unknown.
        name: String,
        /// The unknowns that move together with it.
        with: Vec<String>,
    },
}

/// The end of a fit.
#[derive(Debug, Clone)]
pub struct Fit {
    unknowns: Vec<Unknown>,
    values: Vec<f64>,
    residuals: Vec<f64>,
    chi_square: f64,
    degrees_of_freedom: usize,
    condition: f64,
    /// In the stepped variables, of the directions that the readings fix.
    covariance: DMatrix<f64>,
    /// Unit directions in the stepped variables along which no reading changes, columns scaled as `lengths`.
    without_effect: Vec<DVector<f64>>,
    /// Length of each column of the weighted Jacobian; 1 for a column of noughts.
    lengths: Vec<f64>,
    reached_by: (usize, usize),
}

impl Fit {
    /// Takes the weighted Jacobian at the end apart.
    pub(super) fn new(
        problem: &Problem,
        at: &DVector<f64>,
        chi_square: f64,
        mut jacobian: DMatrix<f64>,
        residuals: Vec<f64>,
        reached_by: (usize, usize),
    ) -> Self {
        let unknowns = problem.unknowns.clone();
        let values: Vec<f64> =
            unknowns.iter().zip(at.iter()).map(|(unknown, at)| unknown.outer(*at)).collect();
        let lengths = level_columns(&mut jacobian);
        let count = unknowns.len();
        // A square of the triangular factor has the same singular values and directions, and is small.
        let decomposed = jacobian.qr().r().svd(false, true);
        let directions = decomposed.v_t.unwrap_or_else(|| DMatrix::identity(count, count));
        let singular = decomposed.singular_values;
        let (largest, least) = (singular.max(), singular.min());
        let mut covariance = DMatrix::zeros(count, count);
        let mut without_effect = Vec::new();
        for (index, size) in singular.iter().enumerate() {
            let direction = directions.row(index).transpose();
            if *size <= NOUGHT * largest {
                without_effect.push(direction);
            } else {
                covariance += &direction * direction.transpose() / (size * size);
            }
        }
        for (row, column) in (0..count).flat_map(|row| (0..count).map(move |column| (row, column))) {
            covariance[(row, column)] /= lengths[row] * lengths[column];
        }
        let degrees_of_freedom = residuals.len() - (count - without_effect.len());
        if !matches!(problem.spread, Spread::Known(_)) {
            covariance *= chi_square / degrees_of_freedom as f64;
        }
        let condition = if least > 0.0 { largest / least } else { f64::INFINITY };
        Self {
            unknowns,
            values,
            residuals,
            chi_square,
            degrees_of_freedom,
            condition,
            covariance,
            without_effect,
            lengths,
            reached_by,
        }
    }

    /// The values at the end, in the order of the unknowns, told or not: for drawing the model beside the readings.
    /// What is to be said of an unknown comes from [`Self::told`].
    pub fn point(&self) -> &[f64] {
        &self.values
    }

    /// Model less reading at the end, in the unit of the readings.
    pub fn residuals(&self) -> &[f64] {
        &self.residuals
    }

    /// The weighted sum of squares `Σ (rᵢ/uᵢ)²`.
    pub fn chi_square(&self) -> f64 {
        self.chi_square
    }

    /// Readings less directions fixed.
    pub fn degrees_of_freedom(&self) -> usize {
        self.degrees_of_freedom
    }

    /// χ² for each degree of freedom; none where there are no degrees of freedom. Near 1 where the spread was known
    /// and the model is right.
    pub fn reduced_chi_square(&self) -> Option<f64> {
        (self.degrees_of_freedom > 0).then(|| self.chi_square / self.degrees_of_freedom as f64)
    }

    /// Largest by least singular value of the weighted Jacobian with columns of equal length: 1 where no two unknowns
    /// have anything in common, infinite where some cannot be told apart.
    pub fn condition(&self) -> f64 {
        self.condition
    }

    /// How many starts ended here, and of how many.
    pub fn reached_by(&self) -> (usize, usize) {
        self.reached_by
    }

    /// An unknown as a quantity, with its standard uncertainty. `index` counts the unknowns from 0; the caller knows
    /// in which unit the residuals took it.
    ///
    /// # Errors
    /// [`NotTold`], naming the unknowns that are mixed up.
    ///
    /// # Panics
    /// Where there is no such unknown.
    pub fn told<Q: Quantity>(&self, index: usize) -> Result<Uncertain<Q>, NotTold> {
        if let Some(refused) = self.refused(index) {
            return Err(refused);
        }
        let spread = self.covariance(index, index).max(0.0).sqrt();
        Ok(Uncertain::new(Q::of(self.values[index]), Q::of(spread)))
    }

    /// The covariance of two unknowns, in the product of their units.
    pub fn covariance(&self, one: usize, other: usize) -> f64 {
        let slope = |index: usize| self.unknowns[index].slope(self.values[index]);
        self.covariance[(one, other)] * slope(one) * slope(other)
    }

    /// The correlation of two unknowns, from -1 to 1; 0 where one of them has no spread.
    pub fn correlation(&self, one: usize, other: usize) -> f64 {
        let scale = (self.covariance[(one, one)] * self.covariance[(other, other)]).sqrt();
        if scale > 0.0 { self.covariance[(one, other)] / scale } else { 0.0 }
    }

    /// A figure that follows from the unknowns, with its standard uncertainty: `u² = gᵀ C g`. It may be told where the
    /// unknowns are not, as a sum is whose parts are mixed up.
    ///
    /// # Errors
    /// [`NotTold::Apart`] where it depends on a direction that no reading fixes.
    pub fn derived<Q: Quantity>(&self, figure: impl Fn(&[f64]) -> f64) -> Result<Uncertain<Q>, NotTold> {
        const STEP: f64 = 1e-5;
        let gradient = DVector::from_fn(self.values.len(), |index, _| {
            let unknown = &self.unknowns[index];
            let inner = unknown.inner(self.values[index]);
            let step = STEP * if unknown.domain == Domain::Positive { 1.0 } else { inner.abs().max(1e-3) };
            let moved = |by: f64| {
                let mut values = self.values.clone();
                values[index] = unknown.outer(inner + by);
                figure(&values)
            };
            (moved(step) - moved(-step)) / (2.0 * step)
        });
        let scaled = DVector::from_fn(gradient.len(), |index, _| gradient[index] / self.lengths[index]);
        for direction in &self.without_effect {
            if scaled.dot(direction).abs() > SHARE * scaled.norm() {
                return Err(NotTold::Apart(self.names_along(direction)));
            }
        }
        let variance = (gradient.transpose() * &self.covariance * &gradient)[0];
        Ok(Uncertain::new(Q::of(figure(&self.values)), Q::of(variance.max(0.0).sqrt())))
    }

    /// Every unknown that is refused, with its index and why.
    pub fn refusals(&self) -> Vec<(usize, NotTold)> {
        (0..self.unknowns.len()).filter_map(|index| Some((index, self.refused(index)?))).collect()
    }

    fn refused(&self, index: usize) -> Option<NotTold> {
        let mixed = self.without_effect.iter().find(|direction| direction[index].abs() > SHARE);
        if let Some(direction) = mixed {
            let names = self.names_along(direction);
            return Some(if names.len() > 1 {
                NotTold::Apart(names)
            } else {
                NotTold::NoEffect(self.unknowns[index].name.clone())
            });
        }
        let vague = self.unknowns[index].domain == Domain::Positive && self.covariance[(index, index)] > 1.0;
        vague.then(|| NotTold::Vague {
            name: self.unknowns[index].name.clone(),
            with: (0..self.unknowns.len())
                .filter(|other| *other != index && self.correlation(index, *other).abs() > MOVES_WITH)
                .map(|other| self.unknowns[other].name.clone())
                .collect(),
        })
    }

    fn names_along(&self, direction: &DVector<f64>) -> Vec<String> {
        let along = self.unknowns.iter().zip(direction.iter()).filter(|(_, share)| share.abs() > SHARE);
        along.map(|(unknown, _)| unknown.name.clone()).collect()
    }
}

/// Makes every column one long and answers the lengths. A column of noughts, or of what rounding leaves of noughts,
/// becomes noughts with length 1.
fn level_columns(jacobian: &mut DMatrix<f64>) -> Vec<f64> {
    let longest = jacobian.column_iter().map(|column| column.norm()).fold(0.0, f64::max);
    let mut lengths = Vec::with_capacity(jacobian.ncols());
    for mut column in jacobian.column_iter_mut() {
        let length = column.norm();
        if length > ROUNDING * longest {
            column /= length;
            lengths.push(length);
        } else {
            column.fill(0.0);
            lengths.push(1.0);
        }
    }
    lengths
}
