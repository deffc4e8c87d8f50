//! What is known of an input, as a distribution that can be drawn from (JCGM 101:2008, 6.4).

use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use std::f64::consts::TAU;

/// What is known of an input, in a unit of its own.
///
/// Which to take (JCGM 101, table 1): limits and nothing else, [`rectangular`](Self::rectangular); limits that are
/// themselves not sharp, [`curvilinear_trapezoid`](Self::curvilinear_trapezoid); a cycle between limits,
/// [`arcsine`](Self::arcsine); an estimate with a standard uncertainty, [`normal`](Self::normal); the mean of a few
/// readings, [`t`](Self::t).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distribution(Shape);

#[derive(Debug, Clone, Copy, PartialEq)]
enum Shape {
    Normal { mean: f64, standard_uncertainty: f64 },
    Rectangular { low: f64, high: f64 },
    CurvilinearTrapezoid { low: f64, high: f64, inexactness: f64 },
    T { mean: f64, scale: f64, degrees_of_freedom: f64 },
    Arcsine { low: f64, high: f64 },
}

impl Distribution {
    /// The normal distribution of an estimate and its standard uncertainty (JCGM 101, 6.4.7).
    pub const fn normal(mean: f64, standard_uncertainty: f64) -> Self {
        Self(Shape::Normal { mean, standard_uncertainty })
    }

    /// Between two limits, with nothing to choose between the places (JCGM 101, 6.4.2).
    pub const fn rectangular(low: f64, high: f64) -> Self {
        Self(Shape::Rectangular { low, high })
    }

    /// Between two limits that are each known to within `inexactness` either way (JCGM 101, 6.4.3).
    pub const fn curvilinear_trapezoid(low: f64, high: f64, inexactness: f64) -> Self {
        Self(Shape::CurvilinearTrapezoid { low, high, inexactness })
    }

    /// The scaled and shifted t distribution of the mean of few readings: `scale` is `s/√n`, on `n − 1` degrees of
    /// freedom (JCGM 101, 6.4.9.2). Its standard deviation is larger than `scale`, and infinite up to two degrees.
    pub const fn t(mean: f64, scale: f64, degrees_of_freedom: f64) -> Self {
        Self(Shape::T { mean, scale, degrees_of_freedom })
    }

    /// Swinging between two limits as a sine does, seen at an unknown moment: a room between two clicks of its
    /// thermostat (JCGM 101, 6.4.6).
    pub const fn arcsine(low: f64, high: f64) -> Self {
        Self(Shape::Arcsine { low, high })
    }

    /// The expectation. Of a t distribution with up to one degree of freedom there is none; its middle is given.
    pub fn mean(self) -> f64 {
        match self.0 {
            Shape::Normal { mean, .. } | Shape::T { mean, .. } => mean,
            Shape::Rectangular { low, high }
            | Shape::CurvilinearTrapezoid { low, high, .. }
            | Shape::Arcsine { low, high } => (low + high) / 2.0,
        }
    }

    /// The standard deviation (JCGM 101, clause 6.4, under each distribution); infinite for a t distribution with up to
    /// two degrees of freedom.
    pub fn standard_uncertainty(self) -> f64 {
        match self.0 {
            Shape::Normal { standard_uncertainty, .. } => standard_uncertainty.abs(),
            Shape::Rectangular { low, high } => (high - low).abs() / 12.0_f64.sqrt(),
            Shape::CurvilinearTrapezoid { low, high, inexactness } => {
                let width = high - low;
                (width * width / 12.0 + inexactness * inexactness / 9.0).sqrt()
            }
            Shape::T { scale, degrees_of_freedom, .. } if degrees_of_freedom > 2.0 => {
                scale.abs() * (degrees_of_freedom / (degrees_of_freedom - 2.0)).sqrt()
            }
            Shape::T { .. } => f64::INFINITY,
            Shape::Arcsine { low, high } => (high - low).abs() / 8.0_f64.sqrt(),
        }
    }

    /// One value drawn.
    pub fn draw(self, chance: &mut Chance) -> f64 {
        match self.0 {
            // Box and Muller, one of the pair (JCGM 101, C.4).
            Shape::Normal { mean, standard_uncertainty } => {
                let radius = (-2.0 * libm::log(1.0 - chance.evenly())).sqrt();
                mean + standard_uncertainty * radius * libm::cos(TAU * chance.evenly())
            }
            Shape::Rectangular { low, high } => low + (high - low) * chance.evenly(),
            // The lower limit first, then the upper one as far from the middle, then a place between (6.4.3.4).
            Shape::CurvilinearTrapezoid { low, high, inexactness } => {
                let from = low - inexactness + 2.0 * inexactness * chance.evenly();
                let to = low + high - from;
                from + (to - from) * chance.evenly()
            }
            // The polar method for t: R. W. Bailey, Mathematics of Computation 62 (1994), 779-781.
            Shape::T { mean, scale, degrees_of_freedom: degrees } => {
                let stretched = libm::expm1(-2.0 / degrees * libm::log(1.0 - chance.evenly()));
                mean + scale * (degrees * stretched).sqrt() * libm::cos(TAU * chance.evenly())
            }
            Shape::Arcsine { low, high } => {
                (low + high) / 2.0 + (high - low) / 2.0 * libm::sin(TAU * chance.evenly())
            }
        }
    }
}

/// A named generator from a stated seed, ChaCha12: the same draws on every machine.
#[derive(Debug, Clone)]
pub struct Chance(ChaCha12Rng);

impl Chance {
    /// The draws of this seed, from their beginning.
    pub fn from_seed(seed: u64) -> Self {
        Self(ChaCha12Rng::seed_from_u64(seed))
    }

    /// Evenly from 0 up to, not including, 1: the upper 53 bits, as many as an `f64` holds.
    pub fn evenly(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / 9_007_199_254_740_992.0
    }
}
