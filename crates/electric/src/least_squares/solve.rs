//! From starts to the best end.

use super::fit::Fit;
use super::problem::{Domain, FitError, Problem, Spread};
use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt, TerminationReason};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

/// Stands for a residual that is not finite: so large that no step ends there, small enough to be squared.
const OUT_OF_BOUNDS: f64 = 1e100;
/// Evaluations in one run, for each unknown and one more. The hardest published set needs some hundreds.
const PATIENCE: usize = 2000;
/// How far the first step may go, in lengths of the start itself. The fitter's own 100 leaps over the minimum of some
/// exponentials to a plateau beyond.
const FIRST_STEP: f64 = 1.0;
/// A run that ends is started again from its end, with its trust region forgotten, until that lowers χ² by no more than
/// this share (or by what the problem calls settled).
const GAIN_WORTH_ANOTHER_RUN: f64 = 1e-12;
/// Runs one after another from one start.
const MOST_RUNS: usize = 8;
/// Two ends with χ² this close, relatively, are the same end.
const SAME_END: f64 = 1e-6;
/// Step of the differences, in the stepped variable: about the fifth root of the precision of a double, where the
/// error of the rule, of fourth order, and that of rounding are alike.
const STEP: f64 = 7e-4;

impl Problem<'_> {
    /// Fits from each start in turn and keeps the lowest χ².
    ///
    /// A start is one value for each unknown.
    ///
    /// # Errors
    /// [`FitError`]. An unknown that the readings do not fix is no error here: it is refused when it is asked for.
    pub fn fit(&self, starts: &[Vec<f64>]) -> Result<Fit, FitError> {
        if self.unknowns.is_empty() {
            return Err(FitError::NoUnknowns);
        }
        let weights = self.check(starts)?;
        let mut ends: Vec<End> = Vec::new();
        let mut unsettled = 0;
        for start in starts {
            let inner = self.unknowns.iter().zip(start).map(|(unknown, value)| unknown.inner(*value));
            let stepper =
                Stepper { problem: self, weights: &weights, at: DVector::from_iterator(start.len(), inner) };
            match stepper.run() {
                Ok(end) => ends.push(end),
                Err(Stopped::StillMoving) => unsettled += 1,
                Err(Stopped::NotFinite) => (),
            }
        }
        let Some(best) = ends.iter().min_by(|a, b| a.chi_square.total_cmp(&b.chi_square)) else {
            let starts = starts.len();
            return Err(if unsettled > 0 {
                FitError::NotSettled { starts }
            } else {
                FitError::NoFiniteStart
            });
        };
        let limit = best.chi_square * (1.0 + SAME_END) + f64::MIN_POSITIVE;
        let reached_by = ends.iter().filter(|end| end.chi_square <= limit).count();
        let stepper = Stepper { problem: self, weights: &weights, at: best.at.clone() };
        let jacobian = stepper.jacobian().ok_or(FitError::NoFiniteStart)?;
        let residuals = stepper.raw_residuals();
        Ok(Fit::new(self, &best.at, best.chi_square, jacobian, residuals, (reached_by, starts.len())))
    }

    /// The weights `1/uᵢ`, once starts and spread are found to be whole.
    fn check(&self, starts: &[Vec<f64>]) -> Result<Vec<f64>, FitError> {
        for (index, start) in starts.iter().enumerate() {
            let fits = start.len() == self.unknowns.len()
                && start.iter().zip(&self.unknowns).all(|(value, unknown)| unknown.inner(*value).is_finite());
            if !fits {
                return Err(FitError::Start { start: index + 1 });
            }
        }
        let first = starts.first().ok_or(FitError::Start { start: 1 })?;
        let readings = (self.residuals)(first).len();
        let (spread, free) = match &self.spread {
            Spread::Known(spread) => (spread.clone(), 0),
            Spread::Relative(spread) => (spread.clone(), 1),
            Spread::Equal => (vec![1.0; readings], 1),
        };
        if spread.len() != readings || !spread.iter().all(|u| u.is_normal() && *u > 0.0) {
            return Err(FitError::Spread);
        }
        if readings < self.unknowns.len() + free {
            return Err(FitError::TooFewReadings { readings, unknowns: self.unknowns.len() });
        }
        Ok(spread.iter().map(|u| 1.0 / u).collect())
    }
}

/// Where the runs from one start ended.
struct End {
    at: DVector<f64>,
    chi_square: f64,
}

/// Why the runs from one start gave no end.
enum Stopped {
    NotFinite,
    StillMoving,
}

/// The problem in the variables that are stepped in, as the fitter wants it.
#[derive(Clone)]
struct Stepper<'a> {
    problem: &'a Problem<'a>,
    weights: &'a [f64],
    at: DVector<f64>,
}

impl<'a> Stepper<'a> {
    /// Runs until another run gains nothing.
    fn run(self) -> Result<End, Stopped> {
        let settled = self.problem.settled;
        let method = LevenbergMarquardt::new()
            .with_stepbound(FIRST_STEP)
            .with_patience(PATIENCE)
            .with_ftol(settled)
            .with_xtol(settled);
        let mut end: Option<End> = None;
        let mut stepper = self;
        for _ in 0..MOST_RUNS {
            let (moved, report) = method.minimize(stepper);
            let chi_square = 2.0 * report.objective_function;
            match report.termination {
                TerminationReason::LostPatience => return end.ok_or(Stopped::StillMoving),
                TerminationReason::User(_)
                | TerminationReason::Numerical(_)
                | TerminationReason::WrongDimensions(_) => return end.ok_or(Stopped::NotFinite),
                _ => (),
            }
            // A start outside the model's reach counts as never having begun.
            if !chi_square.is_finite() || chi_square >= OUT_OF_BOUNDS {
                return Err(Stopped::NotFinite);
            }
            let before = end.as_ref().map_or(f64::INFINITY, |end| end.chi_square);
            if chi_square < before {
                end = Some(End { at: moved.at.clone(), chi_square });
            }
            if before - chi_square <= GAIN_WORTH_ANOTHER_RUN.max(settled) * before {
                break;
            }
            stepper = moved;
        }
        end.ok_or(Stopped::NotFinite)
    }

    fn values(&self, at: &DVector<f64>) -> Vec<f64> {
        self.problem.unknowns.iter().zip(at.iter()).map(|(unknown, inner)| unknown.outer(*inner)).collect()
    }

    /// Residuals in the unit of the readings.
    fn raw_residuals(&self) -> Vec<f64> {
        (self.problem.residuals)(&self.values(&self.at))
    }

    fn weighted(&self, at: &DVector<f64>) -> Option<DVector<f64>> {
        let residuals = (self.problem.residuals)(&self.values(at));
        let weighted = residuals.iter().zip(self.weights).map(|(residual, weight)| {
            let weighted = residual * weight;
            if weighted.is_finite() { weighted } else { OUT_OF_BOUNDS }
        });
        (residuals.len() == self.weights.len()).then(|| DVector::from_iterator(self.weights.len(), weighted))
    }

    /// Slopes by differences over one and two steps, the error of second order cancelled between them.
    fn differences(&self) -> Option<DMatrix<f64>> {
        let mut jacobian = DMatrix::zeros(self.weights.len(), self.at.len());
        for (column, unknown) in self.problem.unknowns.iter().enumerate() {
            let step = match unknown.domain {
                Domain::Positive => STEP,
                // Relative to the value, but not to one that has come close to nought.
                Domain::Free(_) => STEP * self.at[column].abs().max(1e-3),
            };
            let difference = |steps: f64| {
                let (mut up, mut down) = (self.at.clone(), self.at.clone());
                up[column] += steps * step;
                down[column] -= steps * step;
                // The step that was really made, after rounding.
                let span = up[column] - down[column];
                Some((self.weighted(&up)? - self.weighted(&down)?) / span)
            };
            let (near, far) = (difference(1.0)?, difference(2.0)?);
            jacobian.set_column(column, &((near * 4.0 - far) / 3.0));
        }
        Some(jacobian)
    }

    /// Slopes in closed form, carried to the stepped variables and weighted.
    fn closed_form(&self, derivatives: super::problem::Derivatives) -> Option<DMatrix<f64>> {
        let values = self.values(&self.at);
        let columns = derivatives(&values);
        let shaped = columns.len() == values.len() && columns.iter().all(|c| c.len() == self.weights.len());
        shaped.then(|| {
            DMatrix::from_fn(self.weights.len(), values.len(), |row, column| {
                columns[column][row] * self.weights[row] * self.problem.unknowns[column].slope(values[column])
            })
        })
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Stepper<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, at: &DVector<f64>) {
        self.at.copy_from(at);
    }

    fn params(&self) -> DVector<f64> {
        self.at.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        self.weighted(&self.at)
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let jacobian = match self.problem.derivatives {
            Some(derivatives) => self.closed_form(derivatives),
            None => self.differences(),
        }?;
        jacobian.iter().all(|slope| slope.is_finite()).then_some(jacobian)
    }
}
