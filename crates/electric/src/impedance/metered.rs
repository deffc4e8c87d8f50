//! What an LCR meter shows of an impedance.

use crate::complex::Complex;
use asfound_measure::{Henries, Hertz, Ohms};

/// One impedance at one frequency as the two-element equivalents that a meter offers. Past a resonance the impedance
/// is that of a capacitor, and its inductances and its quality are negative, as a meter shows them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AsMetered {
    /// Lₛ, in series mode.
    pub series_inductance: Henries,
    /// Rₛ, in series mode: all losses, not the resistance of the wire.
    pub series_resistance: Ohms,
    /// Lₚ, in parallel mode.
    pub parallel_inductance: Henries,
    /// Rₚ, in parallel mode.
    pub parallel_resistance: Ohms,
    /// Q, a pure number.
    pub quality: f64,
    /// D = 1/Q, a pure number.
    pub dissipation: f64,
}

/// Works out what a meter shows at a frequency above nought.
///
/// `Lₛ = X/ω`, `Rₛ = Re Z`, `Q = X/Rₛ`, `Lₚ = Lₛ(1 + 1/Q²)`, `Rₚ = Rₛ(1 + Q²)`.
///
/// ```
/// use asfound_electric::{Complex, impedance::as_metered};
/// use asfound_measure::Hertz;
/// let omega = 2.0 * std::f64::consts::PI * 1000.0;
/// let shown = as_metered(Complex::new(6000.0, omega * 2.4), Hertz(1000.0));
/// assert!((shown.quality - 2.51327).abs() < 5e-6);
/// assert!((shown.parallel_inductance.0 - 2.77995).abs() < 5e-6);
/// ```
pub fn as_metered(impedance: Complex, frequency: Hertz) -> AsMetered {
    let omega = 2.0 * std::f64::consts::PI * frequency.0;
    let quality = impedance.im / impedance.re;
    let dissipation = impedance.re / impedance.im;
    let series_inductance = impedance.im / omega;
    AsMetered {
        series_inductance: Henries(series_inductance),
        series_resistance: Ohms(impedance.re),
        parallel_inductance: Henries(series_inductance * (1.0 + dissipation * dissipation)),
        parallel_resistance: Ohms(impedance.re * (1.0 + quality * quality)),
        quality,
        dissipation,
    }
}
