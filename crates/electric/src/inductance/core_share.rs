//! What rods and surroundings add to the inductance in air.

use super::InductanceError;
use crate::wire::Limits;
use asfound_measure::Henries;

/// By how much the rods, the flatwork's magnets and what stands about multiply a coil's inductance in air. It is a
/// range with a source and never a part of the sum in air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoreFactor {
    limits: Limits<f64>,
    source: &'static str,
}

impl CoreFactor {
    /// A coil over six magnet rods: 1.30 to 1.52.
    pub const SIX_RODS: Self = Self {
        limits: Limits { least: 1.30, nominal: 1.41, most: 1.52 },
        source: "six-rod single coils published at 2.4 H to 2.8 H (average of a designer's page on cables; notes on \
                 pickup parameters), over the 1.845 H worked out in air for a typical winding of 8,105 turns",
    };

    /// A range of one's own, with where it comes from.
    ///
    /// # Errors
    /// [`InductanceError::CoreFactor`] unless 1 ≤ least ≤ nominal ≤ most: rods do not lower an inductance at the
    /// frequencies meant here.
    pub fn new(limits: Limits<f64>, source: &'static str) -> Result<Self, InductanceError> {
        let Limits { least, nominal, most } = limits;
        if least >= 1.0 && least <= nominal && nominal <= most && most.is_finite() {
            Ok(Self { limits, source })
        } else {
            Err(InductanceError::CoreFactor { least, nominal, most })
        }
    }

    /// The range.
    pub const fn limits(self) -> Limits<f64> {
        self.limits
    }

    /// Where it comes from.
    pub const fn source(self) -> &'static str {
        self.source
    }

    /// The inductance with rods and surroundings, from that in air.
    pub fn around(self, in_air: Henries) -> Limits<Henries> {
        self.limits.rising(|factor| in_air * factor)
    }
}
