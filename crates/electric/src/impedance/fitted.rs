//! The answer: values, what is not told, and what follows.

use super::choose::{Kind, Tried, choose, residual};
use super::loss::{LossAt, ShortedTurns, THRESHOLDS};
use super::metered::as_metered;
use super::model::Model;
use super::resonance::Resonance;
use crate::least_squares::{Fit, FitError, NotTold};
use crate::sweep::Sweep;
use asfound_measure::{Degrees, Farads, Henries, Hertz, Ohms, Ratio, Uncertain};

/// Model against one point of the sweep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointResidual {
    /// Where.
    pub frequency: Hertz,
    /// Model by reading, less one: how far the model's magnitude lies above the reading, as a share.
    pub magnitude: f64,
    /// Model less reading, where the sweep has phases.
    pub phase: Option<Degrees>,
}

/// What the sweep says of the coil.
#[derive(Debug, Clone)]
pub struct Fitted {
    /// The model taken.
    pub kind: Kind,
    /// Its values at the end of the fit, told or not: for drawing.
    pub model: Model,
    /// How every model fared; the finest is tried only where the one before it is the best so far.
    pub tried: Vec<Tried>,
    /// Resistance of the wire.
    pub resistance: Result<Uncertain<Ohms>, NotTold>,
    /// The whole inductance, that of low frequency.
    pub inductance: Result<Uncertain<Henries>, NotTold>,
    /// Capacitance of the coil with its leads and the instrument's input.
    pub capacitance: Result<Uncertain<Farads>, NotTold>,
    /// Loss across the whole coil, in the model that has it.
    pub parallel_loss: Option<Result<Uncertain<Ohms>, NotTold>>,
    /// Shunted inductance and its loss, for each eddy branch of the model.
    pub eddies: Vec<EddyTold>,
    /// The resonance of the model, the coil alone; where it lies outside the sweep it is carried on from it.
    pub resonance: Option<Resonance>,
    /// Frequency of that resonance with its standard uncertainty.
    pub resonance_frequency: Option<Uncertain<Hertz>>,
    /// Lₛ at 120 Hz by Lₛ at 1 kHz, the capacitance taken away.
    pub inductance_ratio: Result<Uncertain<Ratio>, NotTold>,
    /// The losses at 1 kHz and at 10 kHz.
    pub losses: [LossAt; 2],
    /// What they say of shorted turns, by [`THRESHOLDS`].
    pub shorted_turns: ShortedTurns,
    /// Model against every point of the sweep.
    pub residuals: Vec<PointResidual>,
    /// χ² for each degree of freedom; judges the model only where the sweep gave its uncertainties.
    pub reduced_chi_square: Option<f64>,
    /// Condition number of the scaled Jacobian.
    pub condition: f64,
}

/// An eddy branch, as far as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct EddyTold {
    /// The shunted inductance.
    pub inductance: Result<Uncertain<Henries>, NotTold>,
    /// The resistance across it.
    pub loss: Result<Uncertain<Ohms>, NotTold>,
}

/// Residuals larger than this share of the impedance mean that no model fits. An assumption.
const EXPLAINED: f64 = 0.05;

impl Fitted {
    /// Whether the model runs through the points: root mean square of the residuals within 5 % of the impedance. (An
    /// assumption: parts of a guitar are not known better.)
    pub fn explained(&self) -> bool {
        let taken = self.tried.iter().find(|tried| tried.kind == self.kind);
        taken.and_then(|tried| tried.residual).is_some_and(|residual| residual <= EXPLAINED)
    }
}

/// Fits the models to a sweep and takes the simplest that explains it.
///
/// # Errors
/// [`FitError`], such as too few points. That a value is not told is no error: it stands in its place.
pub fn fit(sweep: &Sweep) -> Result<Fitted, FitError> {
    let (kind, fit, tried) = choose(sweep)?;
    let model = kind.model(fit.point());
    let resonance = model.resonance();
    let inductance_ratio = fit.derived(|values| inductance_ratio(&kind.model(values)));
    let loss_at = |frequency: f64| LossAt::of(&model, Hertz(frequency));
    let first_eddy = 3 + usize::from(kind == Kind::ParallelLoss);
    Ok(Fitted {
        kind,
        resistance: fit.told(0),
        inductance: whole_inductance(kind, &fit),
        capacitance: fit.told(2),
        parallel_loss: (kind == Kind::ParallelLoss).then(|| fit.told(3)),
        eddies: (first_eddy..kind.parts())
            .step_by(2)
            .map(|index| EddyTold { inductance: fit.told(index), loss: fit.told(index + 1) })
            .collect(),
        resonance,
        resonance_frequency: resonance.and_then(|_| told_resonance(kind, &fit)),
        shorted_turns: shorted_turns(kind, &fit, &inductance_ratio),
        inductance_ratio,
        losses: [loss_at(1000.0), loss_at(10_000.0)],
        residuals: residuals(&model, sweep),
        reduced_chi_square: fit.reduced_chi_square(),
        condition: fit.condition(),
        model,
        tried,
    })
}

fn whole_inductance(kind: Kind, fit: &Fit) -> Result<Uncertain<Henries>, NotTold> {
    if kind.parts() == 3 {
        return fit.told(1);
    }
    let whole: Uncertain<Henries> = fit.derived(|values| kind.model(values).whole_inductance().0)?;
    // The sum has no name of its own among the unknowns; where it is as open as that, its parts are.
    if whole.relative() > 1.0 { fit.told(1) } else { Ok(whole) }
}

fn told_resonance(kind: Kind, fit: &Fit) -> Option<Uncertain<Hertz>> {
    let frequency =
        |values: &[f64]| kind.model(values).resonance().map_or(f64::NAN, |found| found.frequency.0);
    let told: Uncertain<Hertz> = fit.derived(frequency).ok()?;
    // A resonance known to no better than its own size is not one to speak of.
    (told.relative() < 1.0).then_some(told)
}

fn inductance_ratio(model: &Model) -> f64 {
    let series = |f: f64| as_metered(model.without_capacitance(Hertz(f)), Hertz(f)).series_inductance.0;
    series(120.0) / series(1000.0)
}

fn shorted_turns(
    kind: Kind,
    fit: &Fit,
    inductance_ratio: &Result<Uncertain<Ratio>, NotTold>,
) -> ShortedTurns {
    let share = fit.derived::<Ratio>(|values| LossAt::of(&kind.model(values), Hertz(1000.0)).share());
    let pair = |told: &Uncertain<Ratio>| (told.value.0, told.standard_uncertainty.0);
    match (inductance_ratio, share, fit.told::<Ohms>(0)) {
        (Ok(ratio), Ok(share), Ok(_)) => ShortedTurns::judged(pair(ratio), pair(&share), THRESHOLDS),
        _ => ShortedTurns::CannotTell,
    }
}

fn residuals(model: &Model, sweep: &Sweep) -> Vec<PointResidual> {
    let of = |point: &crate::sweep::Point| {
        let mut parts = residual(model, point);
        let magnitude = libm::expm1(parts.next().unwrap_or(0.0));
        PointResidual {
            frequency: point.frequency,
            magnitude,
            phase: parts.next().map(|p| Degrees(p.to_degrees())),
        }
    };
    sweep.points().iter().map(of).collect()
}
