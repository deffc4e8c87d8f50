//! A probability that can be shown to somebody: never 0, never 1.

use std::fmt;

/// A probability between [`Probability::FLOOR`] and `1 − FLOOR`, both included. It cannot hold anything else.
///
/// Arithmetic is done on bare shares; this is what leaves the room.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Probability(f64);

/// A number that is not a probability.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{0} is not a probability; it must lie between 0 and 1, for instance 0.05")]
pub struct NotAProbability(pub f64);

impl Probability {
    /// The least that is ever shown: one in a thousand. What is taken from a sure thing is the price of having thought
    /// of the wrong list. The figure is a choice, no source.
    pub const FLOOR: f64 = 0.001;

    /// The probability of this share, raised or lowered to the floor.
    ///
    /// # Errors
    /// [`NotAProbability`] for what is below 0, above 1 or not a number.
    pub fn new(share: f64) -> Result<Self, NotAProbability> {
        if !(0.0..=1.0).contains(&share) {
            return Err(NotAProbability(share));
        }
        Ok(Self::of_share(share))
    }

    /// The share a computation gave, brought inside the floors. What is not a number becomes a half: cannot tell.
    ///
    /// ```
    /// use asfound_weigh::Probability;
    /// assert_eq!(Probability::of_share(1.0).value(), 0.999);
    /// assert_eq!(Probability::of_share(0.25).value(), 0.25);
    /// ```
    pub fn of_share(share: f64) -> Self {
        if share.is_nan() { Self(0.5) } else { Self(share.clamp(Self::FLOOR, 1.0 - Self::FLOOR)) }
    }

    /// The bare number.
    pub fn value(self) -> f64 {
        self.0
    }

    /// `p / (1 − p)`.
    pub fn odds(self) -> f64 {
        self.0 / (1.0 - self.0)
    }
}

/// In per cent, with no digit that means nothing: `under 1 %`, `1 %` to `99 %`, `over 99 %`.
impl fmt::Display for Probability {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 * 100.0 {
            low if low < 0.95 => write!(f, "under 1 %"),
            high if high > 99.05 => write!(f, "over 99 %"),
            percent => write!(f, "{} %", percent.round()),
        }
    }
}
