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

    /// One half of a dual coil, over a steel slug row or screws and beside a bar magnet: 1.67 to 2.24.
    pub const DUAL_COIL_HALF: Self = Self {
        limits: Limits { least: 1.67, nominal: 2.0, most: 2.24 },
        source: "core and surroundings are 40 % to 50 % of the whole in notes on pickup parameters, which is 1.67 to 2.0 \
                 times the air; dual coils published at 4.4 H and 4.7 H are 2.10 and 2.24 times two halves of 5,000 \
                 turns in air, 1.048 H each, whose mutual part is below the error of a reading",
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
