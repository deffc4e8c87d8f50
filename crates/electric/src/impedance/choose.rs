//! Which model the sweep asks for.

use super::model::Model;
use super::starts::starts;
use crate::least_squares::{Fit, FitError, Problem, Spread, Unknown};
use crate::sweep::{Point, Sweep, turned};

/// The models, from the simplest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Resistance, inductance, capacitance.
    Plain,
    /// With a loss across the whole coil.
    ParallelLoss,
    /// With part of the inductance shunted by an eddy loss.
    OneEddy,
    /// With two such parts.
    TwoEddies,
}

impl Kind {
    pub(super) const ALL: [Self; 4] = [Self::Plain, Self::ParallelLoss, Self::OneEddy, Self::TwoEddies];

    /// How many values it has.
    pub fn parts(self) -> usize {
        match self {
            Self::Plain => 3,
            Self::ParallelLoss => 4,
            Self::OneEddy => 5,
            Self::TwoEddies => 7,
        }
    }

    pub(super) fn model(self, values: &[f64]) -> Model {
        Model::from_values(values, self == Self::ParallelLoss)
    }

    fn unknowns(self) -> Vec<Unknown> {
        let names: &[&str] = match self {
            Self::Plain => &[],
            Self::ParallelLoss => &["loss across the coil"],
            Self::OneEddy => &["shunted inductance", "eddy loss"],
            Self::TwoEddies => &[
                "first shunted inductance",
                "first eddy loss",
                "second shunted inductance",
                "second eddy loss",
            ],
        };
        let plain = ["resistance", "inductance", "capacitance"];
        plain.iter().chain(names).map(|name| Unknown::positive(*name)).collect()
    }
}

/// How one model fared.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// Which.
    pub kind: Kind,
    /// Akaike's criterion for few readings; only differences between models mean anything. None where there are too
    /// few readings for it, or no fit.
    pub criterion: Option<f64>,
    /// Root of the mean square of the residuals, as a share of the impedance; none without a fit.
    pub residual: Option<f64>,
    /// Whether every part of it is told by the sweep.
    pub all_told: bool,
}

/// The simplest model within this much of the best criterion is taken.
const WITHOUT_SUPPORT: f64 = 10.0;
/// Residuals below this share of the impedance are the rounding of the file, not the coil.
const ROUNDING: f64 = 1e-6;
/// While models are compared, a fit has settled when χ² falls by no more than this share: a finer model than the sweep
/// needs has valleys without end, and what they gain decides nothing.
const COMPARED: f64 = 1e-5;
/// The model that is taken is fitted on to this.
const TAKEN: f64 = 1e-10;
/// A fit takes at most this many points; more are thinned out evenly.
const MOST_POINTS: usize = 600;

/// Fits every kind and chooses; answers the choice and how all fared.
///
/// # Errors
/// What kept the simplest from being fitted.
pub(super) fn choose(sweep: &Sweep) -> Result<(Kind, Fit, Vec<Tried>), FitError> {
    let points = thinned(sweep.points());
    let mut fits: Vec<(Kind, Fit)> = Vec::new();
    let mut tried = Vec::new();
    for kind in Kind::ALL {
        // Where one eddy branch gains nothing, a second has nothing left to gain.
        if kind == Kind::TwoEddies && best(&tried).is_none_or(|kind| kind != Kind::OneEddy) {
            break;
        }
        match fit_kind(kind, sweep, &points, &starts(kind, sweep), COMPARED) {
            Ok(fit) => {
                tried.push(Tried {
                    kind,
                    criterion: criterion(kind, &fit, known(&points)),
                    residual: Some(root_mean_square(fit.residuals())),
                    all_told: fit.refusals().is_empty(),
                });
                fits.push((kind, fit));
            }
            Err(error) if kind == Kind::Plain => return Err(error),
            Err(_) => tried.push(Tried { kind, criterion: None, residual: None, all_told: false }),
        }
    }
    let candidate = |tried: &&Tried| tried.kind == Kind::Plain || tried.all_told;
    let least = tried.iter().filter(candidate).filter_map(|t| t.criterion).fold(f64::INFINITY, f64::min);
    let near = |tried: &&Tried| tried.criterion.is_some_and(|criterion| criterion <= least + WITHOUT_SUPPORT);
    let kind = tried.iter().filter(candidate).find(near).map_or(Kind::Plain, |tried| tried.kind);
    let end = fits.iter().find(|(fitted, _)| *fitted == kind).map_or(vec![], |(_, fit)| fit.point().to_vec());
    Ok((kind, fit_kind(kind, sweep, &points, &[end], TAKEN)?, tried))
}

/// The kind with the best criterion so far.
fn best(tried: &[Tried]) -> Option<Kind> {
    let with = tried.iter().filter_map(|tried| Some((tried.criterion?, tried.kind)));
    with.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, kind)| kind)
}

fn known(points: &[Point]) -> bool {
    points.iter().all(|point| point.relative_uncertainty.is_some())
}

fn fit_kind(
    kind: Kind,
    sweep: &Sweep,
    points: &[Point],
    starts: &[Vec<f64>],
    settled: f64,
) -> Result<Fit, FitError> {
    let parts = if sweep.has_phase() { 2 } else { 1 };
    let residuals = |values: &[f64]| {
        let model = kind.model(values);
        points.iter().flat_map(|point| residual(&model, point)).collect::<Vec<f64>>()
    };
    let derivatives = |values: &[f64]| {
        let model = kind.model(values);
        let mut columns = vec![Vec::with_capacity(parts * points.len()); values.len()];
        for point in points {
            for (column, slope) in columns.iter_mut().zip(model.logarithmic_slopes(point.frequency)) {
                column.extend([slope.re, slope.im].into_iter().take(parts));
            }
        }
        columns
    };
    let spread = if known(points) {
        let of = |point: &Point| std::iter::repeat_n(point.relative_uncertainty.unwrap_or(1.0), parts);
        Spread::Known(points.iter().flat_map(of).collect())
    } else {
        Spread::Equal
    };
    let problem =
        Problem::new(kind.unknowns(), spread, &residuals).with_derivatives(&derivatives).settled_at(settled);
    problem.fit(starts)
}

/// Model against reading: the logarithm of the ratio of magnitudes and, with a phase, the difference in radians.
pub(super) fn residual(model: &Model, point: &Point) -> impl Iterator<Item = f64> + use<> {
    let impedance = model.impedance(point.frequency);
    let magnitude = libm::log(impedance.abs() / point.magnitude.0);
    let phase = point.phase.map(|phase| turned(impedance.angle().to_degrees() - phase.0).to_radians());
    std::iter::once(magnitude).chain(phase)
}

fn criterion(kind: Kind, fit: &Fit, known: bool) -> Option<f64> {
    let readings = fit.residuals().len() as f64;
    // The spread is one more unknown where it is taken from the residuals.
    let unknowns = kind.parts() as f64 + if known { 0.0 } else { 1.0 };
    let left = readings - unknowns - 1.0;
    if left <= 0.0 {
        return None;
    }
    let misfit = if known {
        fit.chi_square()
    } else {
        let mean_square = root_mean_square(fit.residuals());
        readings * libm::log((mean_square * mean_square).max(ROUNDING * ROUNDING))
    };
    Some(misfit + 2.0 * unknowns + 2.0 * unknowns * (unknowns + 1.0) / left)
}

pub(super) fn root_mean_square(residuals: &[f64]) -> f64 {
    (residuals.iter().map(|residual| residual * residual).sum::<f64>() / residuals.len() as f64).sqrt()
}

fn thinned(points: &[Point]) -> Vec<Point> {
    let every = points.len().div_ceil(MOST_POINTS).max(1);
    points.iter().step_by(every).copied().collect()
}
