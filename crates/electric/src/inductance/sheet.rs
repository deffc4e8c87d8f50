//! A single layer on a cylinder: Nagaoka's coefficient.

use super::elliptic::complete_elliptic;
use super::{InductanceError, MU_0, metres};
use crate::bobbin::Turns;
use asfound_measure::{Henries, Millimetres};
use std::f64::consts::PI;

/// Nagaoka's coefficient of a cylindrical current sheet by its diameter over its length, `u`: what its ends take away
/// from the inductance of an endless one. 1 for a thin long coil, towards 0 for a short wide one.
///
/// `K = 4/(3π √(1−m)) [(1−m)/m · K(m) − (1−2m)/m · E(m) − √m]`, `m = u²/(1+u²)` (Nagaoka 1909). Exact; the bracket loses
/// digits below u = 0.01, where the coefficient is `1 − 4u/(3π) + u²/8` to better than 1e-9.
pub fn nagaoka(diameter_over_length: f64) -> f64 {
    let u = diameter_over_length;
    if u < 0.01 {
        return 1.0 - 4.0 * u / (3.0 * PI) + u * u / 8.0;
    }
    let m = u * u / (1.0 + u * u);
    let (first, second) = complete_elliptic(m);
    let bracket = (1.0 - m) / m * first - (1.0 - 2.0 * m) / m * second - m.sqrt();
    4.0 / (3.0 * PI * (1.0 - m).sqrt()) * bracket
}

/// The inductance of a single layer wound closely on a cylinder, as a current sheet: `L = μ₀ π r² N² K/l` (Nagaoka 1909).
///
/// # Errors
/// [`InductanceError::Measure`] for a measure that is not more than nothing.
pub fn cylindrical_sheet(
    radius: Millimetres,
    length: Millimetres,
    turns: Turns,
) -> Result<Henries, InductanceError> {
    let (r, l) = (metres("radius", radius)?, metres("length", length)?);
    let n = turns.value();
    Ok(Henries(MU_0 * PI * r * r * n * n * nagaoka(2.0 * r / l) / l))
}
