//! Single turns: two circles on one axis, one circle and one rectangle of round wire.

use super::elliptic::first_and_tail;
use super::{InductanceError, MU_0, metres};
use asfound_measure::{Henries, Millimetres};

/// How the current lies in the section of a wire.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Current {
    /// Evenly, as direct current does and audio does in fine wire.
    Uniform,
    /// On the surface alone, the limit at high frequency.
    Skin,
}

impl Current {
    fn inner(self) -> f64 {
        match self {
            Current::Uniform => 1.0,
            Current::Skin => 0.0,
        }
    }
}

/// The mutual inductance of two circular turns on one axis, `distance` apart.
///
/// `M = μ₀ √(A a) [(2/k − k) K − (2/k) E]`, `k² = 4 A a/((A + a)² + d²)` (Maxwell; Grover, NBS Scientific Paper 455).
/// Exact for lines of current, in every digit from near to far: the bracket is taken as `(2/k) K Σ 2ⁿ⁻¹ cₙ²` over the steps
/// of the arithmetic-geometric mean, which leaves no difference of near equals.
///
/// # Errors
/// [`InductanceError::Measure`] unless both radii are more than nothing, and [`InductanceError::Touching`] where the two
/// circles are the same.
pub fn coaxial_loops(
    radius: Millimetres,
    other: Millimetres,
    distance: Millimetres,
) -> Result<Henries, InductanceError> {
    let (a, b) = (metres("radius", radius)?, metres("radius", other)?);
    let d = distance.value() * 1e-3;
    let nearest = (a - b) * (a - b) + d * d;
    if nearest.is_nan() || nearest <= 0.0 {
        return Err(InductanceError::Touching);
    }
    let farthest = (a + b) * (a + b) + d * d;
    let m = 4.0 * a * b / farthest;
    let (first, tail) = first_and_tail(m, nearest / farthest);
    Ok(Henries(MU_0 * (a * b).sqrt() * 2.0 / m.sqrt() * first * tail))
}

/// One circular turn of round wire: `L = μ₀ R [ln(8R/a) − 2 + Y/4]` (Rosa and Grover), for a wire much thinner than the
/// turn is wide.
///
/// # Errors
/// [`InductanceError::Measure`] for a radius that is not more than nothing.
pub fn circular_turn(
    radius: Millimetres,
    wire_radius: Millimetres,
    current: Current,
) -> Result<Henries, InductanceError> {
    let (r, a) = (metres("radius", radius)?, metres("wire radius", wire_radius)?);
    Ok(Henries(MU_0 * r * (libm::log(8.0 * r / a) - 2.0 + current.inner() / 4.0)))
}

/// One rectangular turn of round wire (Grover), for a wire much thinner than either side:
/// `L = (μ₀/π)[a ln(2a/r) + b ln(2b/r) + 2√(a²+b²) − a asinh(a/b) − b asinh(b/a) − 2(a+b) + Y(a+b)/4]`.
///
/// # Errors
/// [`InductanceError::Measure`] for a measure that is not more than nothing.
pub fn rectangular_turn(
    length: Millimetres,
    width: Millimetres,
    wire_radius: Millimetres,
    current: Current,
) -> Result<Henries, InductanceError> {
    let (a, b) = (metres("length", length)?, metres("width", width)?);
    let r = metres("wire radius", wire_radius)?;
    let straight = a * libm::log(2.0 * a / r) + b * libm::log(2.0 * b / r);
    let opposite = 2.0 * (a * a + b * b).sqrt() - a * libm::asinh(a / b) - b * libm::asinh(b / a);
    let around = (a + b) * (current.inner() / 4.0 - 2.0);
    Ok(Henries(MU_0 / std::f64::consts::PI * (straight + opposite + around)))
}
