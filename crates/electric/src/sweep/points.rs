//! Checked points.

use super::error::{Note, SweepError};
use crate::complex::Complex;
use asfound_measure::{Degrees, Hertz, Ohms};

/// An impedance at one frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Above nought.
    pub frequency: Hertz,
    /// Absolute value, above nought.
    pub magnitude: Ohms,
    /// Angle, where it was read: positive where the coil is inductive.
    pub phase: Option<Degrees>,
    /// Standard uncertainty of the magnitude as a share of it, and of the phase in radians, where it is known.
    pub relative_uncertainty: Option<f64>,
}

impl Point {
    /// From a complex impedance.
    pub fn complex(frequency: Hertz, impedance: Complex, relative_uncertainty: Option<f64>) -> Self {
        let phase = Some(Degrees(impedance.angle().to_degrees()));
        Self { frequency, magnitude: Ohms(impedance.abs()), phase, relative_uncertainty }
    }

    /// The complex impedance, where the phase is known.
    pub fn impedance(&self) -> Option<Complex> {
        let (sine, cosine) = libm::sincos(self.phase?.0.to_radians());
        Some(Complex::new(cosine, sine) * self.magnitude.0)
    }
}

/// Points of rising frequency, at least two, finite and above nought; all with a phase or none.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    points: Vec<Point>,
}

impl Sweep {
    /// Checks the points and puts them in order.
    ///
    /// # Errors
    /// [`SweepError::TooFew`], [`SweepError::Impossible`], [`SweepError::Duplicate`] or [`SweepError::SomePhases`].
    pub fn new(mut points: Vec<Point>) -> Result<Self, SweepError> {
        if points.len() < 2 {
            return Err(SweepError::TooFew { points: points.len() });
        }
        for (index, point) in points.iter().enumerate() {
            let numbers = [point.frequency.0, point.magnitude.0, point.relative_uncertainty.unwrap_or(1.0)];
            let phase = point.phase.is_none_or(|phase| phase.0.is_finite());
            if !phase || !numbers.iter().all(|number| number.is_normal() && *number > 0.0) {
                return Err(SweepError::Impossible { point: index + 1 });
            }
        }
        if points.iter().any(|point| point.phase.is_some() != points[0].phase.is_some()) {
            return Err(SweepError::SomePhases);
        }
        points.sort_by(|a, b| a.frequency.0.total_cmp(&b.frequency.0));
        match points.windows(2).find(|pair| pair[0].frequency == pair[1].frequency) {
            Some(pair) => Err(SweepError::Duplicate { frequency: pair[0].frequency }),
            None => Ok(Self { points }),
        }
    }

    /// The points, by rising frequency.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// Whether every point has a phase.
    pub fn has_phase(&self) -> bool {
        self.points[0].phase.is_some()
    }

    /// Lowest and highest frequency.
    pub fn span(&self) -> (Hertz, Hertz) {
        (self.points[0].frequency, self.points[self.points.len() - 1].frequency)
    }

    /// Notes on the points themselves: magnitudes that no coil of a guitar has.
    pub(super) fn notes(&self) -> Vec<Note> {
        let lowest = self.points[0].magnitude;
        // A coil begins at its resistance, some tens of ohms to some tens of kilohms, and well below its resonance it
        // has not left that order. What is far off is a slip of the unit, or a coil that is open or shorted.
        let frequency = self.points[0].frequency;
        let odd = lowest.0 < 20.0 || (lowest.0 > 500e3 && frequency.0 <= 1000.0);
        odd.then_some(Note::OddMagnitude { frequency, magnitude: lowest }).into_iter().collect()
    }
}

/// An angle in degrees, brought to within half a turn of nought.
pub(crate) fn turned(degrees: f64) -> f64 {
    degrees - 360.0 * (degrees / 360.0).round()
}
