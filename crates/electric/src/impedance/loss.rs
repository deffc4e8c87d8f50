//! What the losses say of shorted turns.

use super::metered::as_metered;
use super::model::Model;
use crate::circuit::Eddy;
use asfound_measure::{Farads, Henries, Hertz, Ohms};

/// Quality of the winding at one frequency, its capacitance taken away, beside what resistance and inductance alone
/// would give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LossAt {
    /// The frequency.
    pub frequency: Hertz,
    /// Q of the fitted winding, a pure number.
    pub quality: f64,
    /// `2πf Lₛ/R`: Q if the wire were the only loss, a pure number.
    pub of_wire_alone: f64,
}

impl LossAt {
    /// The first by the second: 1 with no loss but the wire's, smaller with more. A pure number.
    pub fn share(&self) -> f64 {
        self.quality / self.of_wire_alone
    }

    /// The loss of a model's winding at a frequency.
    pub(super) fn of(model: &Model, frequency: Hertz) -> Self {
        let shown = as_metered(model.without_capacitance(frequency), frequency);
        let omega = 2.0 * std::f64::consts::PI * frequency.0;
        let of_wire_alone = omega * shown.series_inductance.0 / model.resistance.0;
        Self { frequency, quality: shown.quality, of_wire_alone }
    }
}

/// Where the line is drawn. These are assumptions, to be edited; no published figure stands behind them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    /// Above this, Lₛ at 120 Hz by Lₛ at 1 kHz speaks of eddy currents.
    pub inductance_ratio: f64,
    /// Below this, the share of Q at 1 kHz that the wire alone would give speaks of loss.
    pub quality_share: f64,
}

/// Coils on rod magnets fall near an inductance ratio of 1.00 and coils on steel above 1.01; a share of Q below 0.9
/// suggests loss. Assumptions: common practice, no source.
pub const THRESHOLDS: Thresholds = Thresholds { inductance_ratio: 1.01, quality_share: 0.9 };

/// What the losses allow to be said of shorted turns. Steel in the coil, a metal cover and turns shorted on themselves
/// are one network to an impedance: what separates them is what the coil is made of, and its resistance against what
/// gauge and turns should give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShortedTurns {
    /// The wire explains the losses up to 1 kHz. A short of a few turns in thousands would not show there.
    NothingSeen,
    /// The inductance falls with frequency, but the coil has little loss for it: as steel cores do it. No sign of a
    /// short.
    AsSteel,
    /// Loss above what resistance and inductance explain, and an inductance that hardly falls: a cover or a short of
    /// many turns, or a leak across the coil.
    LossWithoutSteel,
    /// Loss above what resistance and inductance explain, and an inductance that falls: steel or a cover does it, and
    /// so do shorted turns. The impedance alone cannot tell them apart.
    SteelOrShort,
    /// The sweep does not tell resistance and inductance well enough.
    CannotTell,
}

impl ShortedTurns {
    /// Judges by the ratio of inductances and the share of Q at 1 kHz, each with its standard uncertainty: a figure
    /// within twice that of its threshold decides nothing.
    pub fn judged(inductance_ratio: (f64, f64), quality_share: (f64, f64), thresholds: Thresholds) -> Self {
        let side = |(value, u): (f64, f64), threshold: f64| {
            ((value - threshold).abs() > 2.0 * u).then_some(value > threshold)
        };
        let falls = side(inductance_ratio, thresholds.inductance_ratio);
        let lossless = side(quality_share, thresholds.quality_share);
        match (falls, lossless) {
            (Some(false), Some(true)) => Self::NothingSeen,
            (Some(true), Some(true)) => Self::AsSteel,
            (Some(false), Some(false)) => Self::LossWithoutSteel,
            (Some(true), Some(false)) => Self::SteelOrShort,
            _ => Self::CannotTell,
        }
    }
}

impl Model {
    /// A coil with a share of its turns closed on themselves, as the model it is: the rest of the winding, and the part
    /// of its inductance that the loop couples to, shunted by the loop's resistance carried over.
    ///
    /// With `n` the shorted share: `Lₐ = L(1-n)²`, `Rₐ = R(1-n)`, `L_b = L n²`, `R_b = R n`, `M = k √(Lₐ L_b)`; the loop
    /// reflected into the winding, `ω²M²/(R_b + jωL_b)`, is the inductance `k²Lₐ` shunted by `R_b (M/L_b)²` (transformer
    /// theory). Resistance and inductance are those of the whole coil; `shorted_share` and `coupling`, k, lie between
    /// 0 and 1.
    pub fn with_shorted_turns(
        resistance: Ohms,
        inductance: Henries,
        capacitance: Farads,
        shorted_share: f64,
        coupling: f64,
    ) -> Self {
        let rest = 1.0 - shorted_share;
        let left = inductance.0 * rest * rest;
        let loop_inductance = inductance.0 * shorted_share * shorted_share;
        let mutual_by_loop = coupling * (left / loop_inductance).sqrt();
        let shunted = coupling * coupling * left;
        let loss = resistance.0 * shorted_share * mutual_by_loop * mutual_by_loop;
        Self {
            eddies: vec![Eddy { inductance: Henries(shunted), loss: Ohms(loss) }],
            ..Self::plain(resistance * rest, Henries(left - shunted), capacitance)
        }
    }
}
