//! A likelihood ratio in words.

use std::fmt;

/// How strongly a piece of evidence supports one side over the other, in the words of ENFSI, *Guideline for Evaluative
/// Reporting in Forensic Science* (2015), table of verbal equivalents.
///
/// The published bands share their edges; here the lower edge belongs to the band and the upper to the next. Between 1
/// and 2 the guideline has no word of its own, and neither side is helped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Ratio below 2: no useful support for either.
    None,
    /// 2 to 10.
    Weak,
    /// 10 to 100.
    Moderate,
    /// 100 to 1000.
    ModeratelyStrong,
    /// 1000 to 10 000.
    Strong,
    /// 10 000 to 1 000 000.
    VeryStrong,
    /// 1 000 000 and more.
    ExtremelyStrong,
}

/// Which of two stated sides a ratio supports.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The explanation asked about.
    This,
    /// The stated alternative.
    Alternative,
    /// Neither, usefully.
    Neither,
}

impl Strength {
    /// The word for a likelihood ratio, of whichever side it supports, with that side.
    ///
    /// ```
    /// use asfound_weigh::{Side, Strength};
    /// assert_eq!(Strength::of(15.6), (Strength::Moderate, Side::This));
    /// assert_eq!(Strength::of(0.4), (Strength::Weak, Side::Alternative));
    /// assert_eq!(Strength::of(1.9), (Strength::None, Side::Neither));
    /// ```
    pub fn of(likelihood_ratio: f64) -> (Self, Side) {
        if likelihood_ratio.is_nan() {
            return (Self::None, Side::Neither);
        }
        let ratio = likelihood_ratio.max(0.0);
        let (size, side) = if ratio < 1.0 { (1.0 / ratio, Side::Alternative) } else { (ratio, Side::This) };
        let strength = match size {
            s if s < 2.0 => return (Self::None, Side::Neither),
            s if s < 10.0 => Self::Weak,
            s if s < 100.0 => Self::Moderate,
            s if s < 1e3 => Self::ModeratelyStrong,
            s if s < 1e4 => Self::Strong,
            s if s < 1e6 => Self::VeryStrong,
            _ => Self::ExtremelyStrong,
        };
        (strength, side)
    }

    /// As [`Strength::of`], from the natural logarithm of the ratio.
    pub fn of_log(log_ratio: f64) -> (Self, Side) {
        Self::of(libm::exp(log_ratio))
    }
}

/// The words of the scale: `moderate support`. Which side, and over what alternative, is for the sentence to say.
impl fmt::Display for Strength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::None => "no useful support",
            Self::Weak => "weak support",
            Self::Moderate => "moderate support",
            Self::ModeratelyStrong => "moderately strong support",
            Self::Strong => "strong support",
            Self::VeryStrong => "very strong support",
            Self::ExtremelyStrong => "extremely strong support",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bands_of_the_guideline() {
        // ENFSI 2015, table of verbal equivalents; edges lower-inclusive, as said above.
        for (ratio, expected) in [
            (1.0, Strength::None),
            (1.9, Strength::None),
            (2.0, Strength::Weak),
            (6.897_842, Strength::Weak),
            (10.0, Strength::Moderate),
            (99.9, Strength::Moderate),
            (106.9502, Strength::ModeratelyStrong),
            (1e3, Strength::Strong),
            (1e4, Strength::VeryStrong),
            (999_999.0, Strength::VeryStrong),
            (1e6, Strength::ExtremelyStrong),
            (f64::INFINITY, Strength::ExtremelyStrong),
        ] {
            assert_eq!(Strength::of(ratio).0, expected, "{ratio}");
            assert_eq!(Strength::of(1.0 / ratio).0, expected, "1/{ratio}");
        }
        assert_eq!(Strength::of(7.253_515e-12), (Strength::ExtremelyStrong, Side::Alternative));
        assert_eq!(Strength::of(f64::NAN), (Strength::None, Side::Neither));
    }
}
