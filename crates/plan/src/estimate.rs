//! Figures that are not known yet: hours, prices, values.
//!
//! An estimate is a distribution in a unit of its own; the caller knows whether it counts hours or a currency's whole
//! units. Sums are simulated ([`sum`]): quantiles do not add, and a fitted sum is wrong in the tail that matters.
//!
//! Sources:
//! - PERT mean `(a + 4m + b)/6` and classic standard deviation `(b − a)/6`: D. G. Malcolm, J. H. Roseboom, C. E. Clark,
//!   W. Fazar, *Application of a technique for research and development program evaluation*, Operations Research 7, 1959;
//! - its beta distribution, `α = 1 + 4(m − a)/(b − a)`, `β = 1 + 4(b − m)/(b − a)`, has the variance `(μ − a)(b − μ)/7`
//!   exactly (the variance of a beta distribution with `α + β = 6`, N. L. Johnson, S. Kotz, N. Balakrishnan, *Continuous
//!   Univariate Distributions* 2, 2nd ed. 1995, ch. 25), which the classic one only stands in for;
//! - triangular: mean `(a + m + b)/3`, variance `(a² + m² + b² − am − ab − mb)/18` (same book, ch. 26);
//! - lognormal (same work, volume 1, 2nd ed. 1994, ch. 14): the median is `exp μ`, the mean `exp(μ + σ²/2)`, the squared
//!   coefficient of variation `exp(σ²) − 1`;
//! - gamma draws, of which two make a beta draw: G. Marsaglia, W. W. Tsang, *A simple method for generating gamma
//!   variables*, ACM Transactions on Mathematical Software 26, 2000.
//!
//! ```
//! use asfound_plan::estimate::{Estimate, sum};
//! let strip = Estimate::pert(2.0, 4.0, 12.0)?;
//! assert_eq!((strip.mean(), strip.variance()), (5.0, 3.0));
//! let refret = Estimate::pert(5.0, 8.0, 17.0)?;
//! let both = sum(&[strip, refret], 10_000, 1)?;
//! // Eight hours in ten are promised with fewer hours than the two promises made apart.
//! assert!(both.quantile(0.8) < strip.quantile(0.8) + refret.quantile(0.8));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use asfound_measure::{Chance, Distribution, SimulateError, Simulated};
use statrs::distribution::{ContinuousCDF, Normal};
use statrs::function::beta::checked_beta_reg;

/// What nine in ten draws of the standard normal distribution stay below. (M. Abramowitz, I. A. Stegun, *Handbook of
/// Mathematical Functions*, 1964, table 26.5, here with as many digits as an `f64` holds.) A constant, so that draws have
/// the same bits everywhere; quantiles and shares, which rest on numerical inverses, promise digits only.
const NINE_IN_TEN: f64 = 1.281_551_565_544_600_4;

/// A figure that is not known yet, in a unit of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate(Shape);

#[derive(Debug, Clone, Copy, PartialEq)]
enum Shape {
    Certain(f64),
    Between { low: f64, high: f64 },
    Pert { low: f64, likely: f64, high: f64 },
    Triangular { low: f64, likely: f64, high: f64 },
    Lognormal { log_median: f64, spread: f64 },
}

/// Why a figure is no estimate.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum EstimateFault {
    /// The three figures do not rise.
    #[error(
        "the figures {optimistic}, {likely}, {pessimistic} do not rise; say the least first, then the likely one, then \
         the most, for instance 2, 4, 12"
    )]
    OutOfOrder {
        /// The least.
        optimistic: f64,
        /// The likely one.
        likely: f64,
        /// The most.
        pessimistic: f64,
    },
    /// A figure that must be above 0 and is not, or is no number.
    #[error("{0} cannot be {1}; it must be a number above 0, for instance {2}")]
    NotAboveNothing(f64, &'static str, f64),
    /// No number.
    #[error("{0} is not a figure that can be reckoned with; say a number, for instance 12.5")]
    NotANumber(f64),
    /// The upper figure of two is not above the middle one.
    #[error(
        "the figure that nine in ten stay below is {nine_in_ten}, and the middle one is {median}; the first must be the \
         larger, for instance 600 in the middle and 1200 for nine in ten"
    )]
    Quantiles {
        /// As many lie below as above.
        median: f64,
        /// Nine in ten lie below.
        nine_in_ten: f64,
    },
}

impl Estimate {
    /// Known, or agreed.
    ///
    /// # Errors
    /// [`EstimateFault::NotANumber`].
    pub fn certain(value: f64) -> Result<Self, EstimateFault> {
        if value.is_finite() {
            Ok(Self(Shape::Certain(value)))
        } else {
            Err(EstimateFault::NotANumber(value))
        }
    }

    /// Between two figures, with nothing to choose between the places: a range and nothing else (JCGM 101:2008, 6.4.2).
    ///
    /// # Errors
    /// [`EstimateFault::OutOfOrder`], [`EstimateFault::NotANumber`].
    pub fn between(low: f64, high: f64) -> Result<Self, EstimateFault> {
        Ok(Self(match rising(low, low, high)? {
            true => Shape::Between { low, high },
            false => Shape::Certain(low),
        }))
    }

    /// From the least, the likely and the most: the beta distribution that PERT supposes, which leans on the likely
    /// figure.
    ///
    /// # Errors
    /// [`EstimateFault::OutOfOrder`], [`EstimateFault::NotANumber`].
    pub fn pert(optimistic: f64, likely: f64, pessimistic: f64) -> Result<Self, EstimateFault> {
        Ok(Self(match rising(optimistic, likely, pessimistic)? {
            true => Shape::Pert { low: optimistic, likely, high: pessimistic },
            false => Shape::Certain(likely),
        }))
    }

    /// From the least, the likely and the most: straight lines between them. Its tails are heavier than those of
    /// [`pert`](Self::pert).
    ///
    /// # Errors
    /// [`EstimateFault::OutOfOrder`], [`EstimateFault::NotANumber`].
    pub fn triangular(optimistic: f64, likely: f64, pessimistic: f64) -> Result<Self, EstimateFault> {
        Ok(Self(match rising(optimistic, likely, pessimistic)? {
            true => Shape::Triangular { low: optimistic, likely, high: pessimistic },
            false => Shape::Certain(likely),
        }))
    }

    /// Lognormal, from the figure in the middle and the one that nine in ten stay below: what may come out at twice as
    /// much as easily as at half.
    ///
    /// # Errors
    /// [`EstimateFault::NotAboveNothing`], [`EstimateFault::Quantiles`].
    pub fn lognormal_from_quantiles(median: f64, nine_in_ten: f64) -> Result<Self, EstimateFault> {
        above_nothing(median, "the figure in the middle", 600.0)?;
        if !(nine_in_ten > median && nine_in_ten.is_finite()) {
            return Err(EstimateFault::Quantiles { median, nine_in_ten });
        }
        let spread = libm::log(nine_in_ten / median) / NINE_IN_TEN;
        Ok(Self(Shape::Lognormal { log_median: libm::log(median), spread }))
    }

    /// Lognormal, from the mean and the coefficient of variation, the standard deviation over the mean.
    ///
    /// # Errors
    /// [`EstimateFault::NotAboveNothing`].
    pub fn lognormal_from_mean(mean: f64, variation: f64) -> Result<Self, EstimateFault> {
        above_nothing(mean, "a mean", 100.0)?;
        above_nothing(variation, "a coefficient of variation", 0.5)?;
        let log_variance = libm::log1p(variation * variation);
        Ok(Self(Shape::Lognormal {
            log_median: libm::log(mean) - log_variance / 2.0,
            spread: log_variance.sqrt(),
        }))
    }

    /// The mean.
    pub fn mean(&self) -> f64 {
        match self.0 {
            Shape::Certain(value) => value,
            Shape::Between { low, high } => (low + high) / 2.0,
            Shape::Pert { low, likely, high } => (low + 4.0 * likely + high) / 6.0,
            Shape::Triangular { low, likely, high } => (low + likely + high) / 3.0,
            Shape::Lognormal { log_median, spread } => libm::exp(log_median + spread * spread / 2.0),
        }
    }

    /// The variance, in the unit squared.
    pub fn variance(&self) -> f64 {
        match self.0 {
            Shape::Certain(_) => 0.0,
            Shape::Between { low, high } => (high - low) * (high - low) / 12.0,
            Shape::Pert { low, high, .. } => (self.mean() - low) * (high - self.mean()) / 7.0,
            Shape::Triangular { low, likely, high } => {
                let (below, above) = (likely - low, high - likely);
                (below * below + below * above + above * above) / 18.0
            }
            Shape::Lognormal { spread, .. } => {
                let mean = self.mean();
                libm::expm1(spread * spread) * mean * mean
            }
        }
    }

    /// The variance that published PERT networks print, `((b − a)/6)²`; `None` where there are no three points.
    pub fn classic_variance(&self) -> Option<f64> {
        match self.0 {
            Shape::Certain(_) => Some(0.0),
            Shape::Pert { low, high, .. } | Shape::Triangular { low, high, .. } => {
                let deviation = (high - low) / 6.0;
                Some(deviation * deviation)
            }
            Shape::Between { .. } | Shape::Lognormal { .. } => None,
        }
    }

    /// The chance to stay at or below this value.
    pub fn share_up_to(&self, value: f64) -> f64 {
        match self.0 {
            Shape::Certain(known) => f64::from(u8::from(value >= known)),
            Shape::Between { low, high } => ((value - low) / (high - low)).clamp(0.0, 1.0),
            Shape::Pert { low, likely, high } => {
                let (alpha, beta) = beta_shapes(low, likely, high);
                let place = ((value - low) / (high - low)).clamp(0.0, 1.0);
                // Shapes from 1 to 5 and a place from 0 to 1: the function is defined there.
                checked_beta_reg(alpha, beta, place).unwrap_or(f64::NAN)
            }
            Shape::Triangular { low, likely, high } => {
                if value <= low {
                    0.0
                } else if value < likely {
                    (value - low) * (value - low) / ((high - low) * (likely - low))
                } else if value < high {
                    1.0 - (high - value) * (high - value) / ((high - low) * (high - likely))
                } else {
                    1.0
                }
            }
            Shape::Lognormal { .. } if value <= 0.0 => 0.0,
            Shape::Lognormal { log_median, spread } => {
                Normal::standard().cdf((libm::log(value) - log_median) / spread)
            }
        }
    }

    /// The value that this share stays at or below; the share is brought between 0 and 1. The lognormal has no
    /// greatest value, and that of 1 is infinite.
    pub fn quantile(&self, share: f64) -> f64 {
        let share = share.clamp(0.0, 1.0);
        match self.0 {
            Shape::Certain(value) => value,
            Shape::Between { low, high } => low + (high - low) * share,
            Shape::Pert { low, high, .. } => self.bisected(share, low, high),
            Shape::Triangular { low, likely, high } => triangular_quantile(low, likely, high, share),
            Shape::Lognormal { log_median, spread } => {
                libm::exp(log_median + spread * Normal::standard().inverse_cdf(share))
            }
        }
    }

    /// One value drawn.
    pub fn draw(&self, chance: &mut Chance) -> f64 {
        match self.0 {
            Shape::Certain(value) => value,
            Shape::Between { low, high } => Distribution::rectangular(low, high).draw(chance),
            Shape::Pert { low, likely, high } => {
                let (alpha, beta) = beta_shapes(low, likely, high);
                let (one, other) = (gamma_draw(alpha, chance), gamma_draw(beta, chance));
                low + (high - low) * one / (one + other)
            }
            Shape::Triangular { low, likely, high } => {
                triangular_quantile(low, likely, high, chance.evenly())
            }
            Shape::Lognormal { log_median, spread } => {
                libm::exp(Distribution::normal(log_median, spread).draw(chance))
            }
        }
    }

    /// So many times as much: hours at a rate by the hour. `None` where the factor is below 0 or no number.
    pub fn times(&self, factor: f64) -> Option<Self> {
        let scaled = |value: f64| value * factor;
        (factor >= 0.0 && factor.is_finite()).then_some(Self(match self.0 {
            _ if factor == 0.0 => Shape::Certain(0.0),
            Shape::Certain(value) => Shape::Certain(scaled(value)),
            Shape::Between { low, high } => Shape::Between { low: scaled(low), high: scaled(high) },
            Shape::Pert { low, likely, high } => {
                Shape::Pert { low: scaled(low), likely: scaled(likely), high: scaled(high) }
            }
            Shape::Triangular { low, likely, high } => {
                Shape::Triangular { low: scaled(low), likely: scaled(likely), high: scaled(high) }
            }
            Shape::Lognormal { log_median, spread } => {
                Shape::Lognormal { log_median: log_median + libm::log(factor), spread }
            }
        }))
    }

    /// A quantile between two values by halving: sixty halvings leave nothing of an `f64`'s 53 bits.
    fn bisected(&self, share: f64, mut low: f64, mut high: f64) -> f64 {
        for _ in 0..60 {
            let middle = low + (high - low) / 2.0;
            if self.share_up_to(middle) < share {
                low = middle;
            } else {
                high = middle;
            }
        }
        high
    }
}

/// What independent figures come to together, by simulation. The mean and the variance also add exactly; quantiles do
/// not.
///
/// # Errors
/// [`SimulateError`] for fewer than a thousand draws.
pub fn sum(figures: &[Estimate], draws: usize, seed: u64) -> Result<Simulated, SimulateError> {
    let mut chance = Chance::from_seed(seed);
    let one = || figures.iter().map(|figure| figure.draw(&mut chance)).sum();
    Simulated::of_draws(std::iter::repeat_with(one).take(draws).collect())
}

/// Whether three figures rise at all; a fault where they fall.
fn rising(optimistic: f64, likely: f64, pessimistic: f64) -> Result<bool, EstimateFault> {
    if let Some(wrong) = [optimistic, likely, pessimistic].into_iter().find(|figure| !figure.is_finite()) {
        return Err(EstimateFault::NotANumber(wrong));
    }
    if !(pessimistic - optimistic).is_finite() {
        return Err(EstimateFault::NotANumber(pessimistic));
    }
    if optimistic > likely || likely > pessimistic {
        return Err(EstimateFault::OutOfOrder { optimistic, likely, pessimistic });
    }
    Ok(optimistic < pessimistic)
}

fn above_nothing(value: f64, what: &'static str, right: f64) -> Result<(), EstimateFault> {
    if value > 0.0 && value.is_finite() {
        Ok(())
    } else {
        Err(EstimateFault::NotAboveNothing(value, what, right))
    }
}

fn beta_shapes(low: f64, likely: f64, high: f64) -> (f64, f64) {
    let width = high - low;
    (1.0 + 4.0 * (likely - low) / width, 1.0 + 4.0 * (high - likely) / width)
}

fn triangular_quantile(low: f64, likely: f64, high: f64, share: f64) -> f64 {
    let width = high - low;
    if share * width < likely - low {
        low + (share * width * (likely - low)).sqrt()
    } else {
        high - ((1.0 - share) * width * (high - likely)).sqrt()
    }
}

/// A draw of the gamma distribution of this shape, 1 or more, and scale 1 (Marsaglia and Tsang, 2000).
fn gamma_draw(shape: f64, chance: &mut Chance) -> f64 {
    let standard = Distribution::normal(0.0, 1.0);
    let middle = shape - 1.0 / 3.0;
    let width = 1.0 / (9.0 * middle).sqrt();
    loop {
        let normal = standard.draw(chance);
        let root = 1.0 + width * normal;
        let cube = root * root * root;
        if root <= 0.0 {
            continue;
        }
        let limit = normal * normal / 2.0 + middle * (1.0 - cube + libm::log(cube));
        if libm::log(1.0 - chance.evenly()) < limit {
            return middle * cube;
        }
    }
}
