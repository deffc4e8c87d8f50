//! Inductance in air: of loops, of a layer, of a whole winding on its former.
//!
//! It answers: what is the inductance of 8,105 turns on this bobbin, before rods and flatwork add their share? How does
//! it move with the depth of the winding?
//!
//! **The design decision: a winding is a stack of layers, and a layer is summed in closed form over its height.** A
//! sum over some thousand pairs of thin wires needs care where the wires lie close and gives three digits. Averaged
//! over the height first, Neumann's integral keeps only a logarithm in the plane; its straights are closed, its arcs a
//! dozen points, and a table over all depths ([`AirCore`]) takes a few milliseconds and is asked in nanoseconds.
//!
//! Equations and their sources:
//! - Neumann's integral `M = μ₀/4π ∮∮ dl·dl′/r` (any book on electromagnetism), `μ₀ = 4π × 10⁻⁷ H/m`;
//! - circles on one axis: Maxwell; Grover, NBS Scientific Paper 455 (1922);
//! - the single layer: Nagaoka 1909;
//! - circle and rectangle of round wire: Rosa and Grover.
//!
//! Accuracy: the sum is good for 1e-5 of the inductance. Circular windings agree within 1e-6 with sums over coaxial circles
//! carried to an infinitely fine cut; the layers of long formers within 4e-6 with sums over polygons of tenth-millimetre
//! chords; and whole long windings within 1.5e-4 with sums over filaments, which state 3e-4 for themselves. How evenly a
//! real coil fills its section matters far more.
//!
//! ```
//! use asfound_electric::bobbin::Turns;
//! use asfound_electric::inductance::{coaxial_loops, cylindrical_sheet};
//! use asfound_measure::Millimetres;
//! // The worked example of Rosa and Grover: 25 cm and 25 cm, 1 cm apart, printed as 1036.666 cm, which are nanohenries.
//! let mutual = coaxial_loops(Millimetres(250.0), Millimetres(250.0), Millimetres(10.0))?;
//! assert!((mutual.value() * 1e9 - 1036.666).abs() < 2e-3);
//! // A hundred turns, two inches long and wide.
//! let layer = cylindrical_sheet(Millimetres(25.4), Millimetres(50.8), Turns(100.0))?;
//! assert!((layer.value() * 1e6 - 345.16).abs() < 0.01);
//! # Ok::<(), asfound_electric::inductance::InductanceError>(())
//! ```

mod air_core;
mod elliptic;
mod loops;
mod quadrature;
mod sheet;
mod turn;

pub use air_core::AirCore;
pub use elliptic::complete_elliptic;
pub use loops::{Current, circular_turn, coaxial_loops, rectangular_turn};
pub use sheet::{cylindrical_sheet, nagaoka};

use asfound_measure::Millimetres;

/// The permeability of empty space, `4π × 10⁻⁷ H/m`. Since 2019 a measured value, equal to this within 1e-9.
pub const MU_0: f64 = 4e-7 * std::f64::consts::PI;

/// What has no inductance to work out.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum InductanceError {
    /// A measure is nothing, negative or not a number.
    #[error("{what} of {millimetres} mm cannot be; it must be more than nothing")]
    Measure {
        /// Which measure.
        what: &'static str,
        /// What was given.
        millimetres: f64,
    },
    /// Two lines of current in one place would have no bound.
    #[error("two turns in one place have no mutual inductance; set them apart by the thickness of the wire")]
    Touching,
    /// A winding deeper than the table.
    #[error("{depth} mm is outside the table, which goes from nothing to {deepest} mm; tabulate deeper")]
    Depth {
        /// What was asked, in mm.
        depth: f64,
        /// How far the table goes, in mm.
        deepest: f64,
    },
}

/// A measure checked and in metres.
fn metres(what: &'static str, measure: Millimetres) -> Result<f64, InductanceError> {
    let millimetres = measure.value();
    if millimetres > 0.0 && millimetres.is_finite() {
        Ok(millimetres * 1e-3)
    } else {
        Err(InductanceError::Measure { what, millimetres })
    }
}
