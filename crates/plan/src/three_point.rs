//! A time told by three figures: if all goes well, most likely, if much goes wrong.

use crate::estimate::Estimate;
use asfound_measure::Chance;

/// A time in hours, as the trade counts it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Hours(pub f64);

impl Hours {
    /// Whole seconds, rounded: plans are reckoned in them, so that two ways to the same time are the same time.
    pub(crate) fn seconds(self) -> i64 {
        (self.0 * 3600.0).round() as i64
    }

    pub(crate) fn of_seconds(seconds: i64) -> Self {
        Self(seconds as f64 / 3600.0)
    }
}

impl std::fmt::Display for Hours {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(to, "{} h", (self.0 * 100.0).round() / 100.0)
    }
}

/// A time as a distribution, from three figures that rise and are not negative: an [`Estimate`] in hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreePoint {
    optimistic: Hours,
    likely: Hours,
    pessimistic: Hours,
}

/// Why three figures are no time. Each sentence names whose figures they are.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ThreePointFault {
    /// They do not rise.
    #[error(
        "the times of “{of}” were read as {optimistic}, {likely}, {pessimistic}, which do not rise; give the time if \
         all goes well, the most likely and the time if much goes wrong, in that order"
    )]
    NotRising {
        /// Whose figures.
        of: String,
        /// The first.
        optimistic: Hours,
        /// The second.
        likely: Hours,
        /// The third.
        pessimistic: Hours,
    },
    /// One is negative, or no number, or longer than a hundred years.
    #[error("a time of “{of}” was read as {read}; give hours from 0 up, such as 1.5")]
    NotHours {
        /// Whose figures.
        of: String,
        /// What was read.
        read: Hours,
    },
}

impl ThreePoint {
    /// No time at all.
    pub const NONE: ThreePoint =
        ThreePoint { optimistic: Hours(0.0), likely: Hours(0.0), pessimistic: Hours(0.0) };

    /// Hours beyond which a figure is a slip of the pen: a hundred years.
    const MOST: f64 = 876_600.0;

    /// Three figures; `of` says whose they are, for the sentence if they cannot be taken.
    ///
    /// # Errors
    /// [`ThreePointFault`] where they do not rise or are no hours.
    pub fn new(
        of: &str,
        optimistic: Hours,
        likely: Hours,
        pessimistic: Hours,
    ) -> Result<ThreePoint, ThreePointFault> {
        for read in [optimistic, likely, pessimistic] {
            if !(0.0..=Self::MOST).contains(&read.0) {
                return Err(ThreePointFault::NotHours { of: of.to_owned(), read });
            }
        }
        if optimistic > likely || likely > pessimistic {
            return Err(ThreePointFault::NotRising { of: of.to_owned(), optimistic, likely, pessimistic });
        }
        Ok(ThreePoint { optimistic, likely, pessimistic })
    }

    /// A time known for certain.
    ///
    /// # Errors
    /// [`ThreePointFault`] where it is no hours.
    pub fn fixed(of: &str, hours: Hours) -> Result<ThreePoint, ThreePointFault> {
        Self::new(of, hours, hours, hours)
    }

    /// If all goes well.
    pub fn optimistic(self) -> Hours {
        self.optimistic
    }

    /// Most likely.
    pub fn likely(self) -> Hours {
        self.likely
    }

    /// If much goes wrong.
    pub fn pessimistic(self) -> Hours {
        self.pessimistic
    }

    /// The beta distribution of PERT with these figures, in hours.
    pub fn estimate(self) -> Estimate {
        let (low, likely, high) = (self.optimistic.0, self.likely.0, self.pessimistic.0);
        // Checked when the figures were taken: finite and rising.
        Estimate::pert(low, likely, high).expect("checked figures rise")
    }

    /// The mean, `(a + 4m + b)/6`.
    pub fn mean(self) -> Hours {
        Hours(self.estimate().mean())
    }

    /// The variance in square hours as published networks print it, `((b − a)/6)²`. That of the beta distribution
    /// drawn from is mostly somewhat more.
    pub fn printed_variance(self) -> f64 {
        let sixth = (self.pessimistic.0 - self.optimistic.0) / 6.0;
        sixth * sixth
    }

    /// Each figure times a factor of its own, not under 0 and rising; at most the longest that are hours.
    pub(crate) fn stretched(self, optimistic: f64, likely: f64, pessimistic: f64) -> ThreePoint {
        let hours = |hours: Hours, factor: f64| Hours((hours.0 * factor).clamp(0.0, Self::MOST));
        ThreePoint {
            optimistic: hours(self.optimistic, optimistic),
            likely: hours(self.likely, likely),
            pessimistic: hours(self.pessimistic, pessimistic),
        }
    }

    /// One time drawn.
    pub(crate) fn draw(self, chance: &mut Chance) -> Hours {
        Hours(self.estimate().draw(chance))
    }
}
