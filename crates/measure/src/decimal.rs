//! A decimal number exactly as it was typed, trailing zeros and all.

use std::fmt;
use std::str::FromStr;

/// Most digits a typed number may have. Any eighteen digits fit a 64-bit mantissa, and no meter shows half as many.
pub(crate) const MOST_DIGITS: usize = 18;

/// Furthest power of ten a typed number may carry; it keeps every unit of the trade well inside an `f64`.
const FURTHEST_EXPONENT: i32 = 60;

/// `mantissa × 10^exponent`, kept as typed: `6.310` is `6310 × 10^-3`, and is not the same text as `6.31`.
///
/// Equality compares what was typed, so `6.310 != 6.31`; compare [`Decimal::to_f64`] to compare sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Decimal {
    /// All digits typed, without the decimal sign.
    pub mantissa: i64,
    /// The power of ten of the last digit typed.
    pub exponent: i32,
}

/// The text is not a decimal number of at most eighteen digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not a decimal number of at most eighteen digits; write it like 6.31, 0.022 or -5")]
pub struct NotDecimal;

impl Decimal {
    /// A whole number.
    pub const fn whole(mantissa: i64) -> Self {
        Self { mantissa, exponent: 0 }
    }

    /// The nearest `f64`, ties to even (IEEE 754). Infinite only for exponents that no typed number can carry.
    pub fn to_f64(self) -> f64 {
        nearest(i128::from(self.mantissa), i64::from(self.exponent))
    }

    /// The nearest `f64` to the exact product of two decimals: one rounding, not two.
    pub fn product_to_f64(self, other: Self) -> f64 {
        let mantissa = i128::from(self.mantissa) * i128::from(other.mantissa);
        nearest(mantissa, i64::from(self.exponent) + i64::from(other.exponent))
    }

    /// One unit of the last digit typed: `0.01` for `6.31`, `1` for `5840`.
    pub const fn last_place(self) -> Self {
        Self { mantissa: 1, exponent: self.exponent }
    }

    /// From the digits on both sides of a decimal sign, or nothing when there are none, or too many.
    pub(crate) fn from_digits(negative: bool, before: &str, after: &str, exponent: i32) -> Option<Self> {
        let digits = [before, after].concat();
        if digits.is_empty() || digits.len() > MOST_DIGITS || !digits.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        let magnitude: i64 = digits.parse().ok()?;
        let places = i32::try_from(after.len()).ok()?;
        if exponent.checked_abs()? > FURTHEST_EXPONENT {
            return None;
        }
        Some(Self { mantissa: if negative { -magnitude } else { magnitude }, exponent: exponent - places })
    }
}

/// The standard library's reader of decimals rounds correctly and is the same code on every machine.
pub(crate) fn nearest(mantissa: i128, exponent: i64) -> f64 {
    // A text of digits and an exponent is always a number to that reader, so the fallback is never met.
    format!("{mantissa}e{exponent}").parse().unwrap_or(f64::NAN)
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.mantissa < 0 { "-" } else { "" };
        let digits = self.mantissa.unsigned_abs().to_string();
        // A positive or a far negative exponent is written as a power, so that no digit appears that was not typed.
        if self.exponent > 0 || self.exponent < -FURTHEST_EXPONENT - 20 {
            return write!(f, "{sign}{digits}e{}", self.exponent);
        }
        let places = self.exponent.unsigned_abs() as usize;
        if places == 0 {
            return write!(f, "{sign}{digits}");
        }
        let padded = format!("{digits:0>width$}", width = places + 1);
        let (before, after) = padded.split_at(padded.len() - places);
        write!(f, "{sign}{before}.{after}")
    }
}

impl FromStr for Decimal {
    type Err = NotDecimal;

    /// Reads `6.31`, `6,31`, `.022`, `-5`, `+5`, `12e3`. Unlike [`crate::read`] it takes a comma at its word.
    fn from_str(text: &str) -> Result<Self, NotDecimal> {
        let (negative, text) = match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (digits, exponent) = match text.split_once(['e', 'E']) {
            Some((digits, power)) => (digits, power.parse().map_err(|_| NotDecimal)?),
            None => (text, 0),
        };
        let (before, after) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
        Self::from_digits(negative, before, after, exponent).ok_or(NotDecimal)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn keeps_the_digits_typed() {
        for text in ["6.310", "0.022", "-5", "0.00", "12e3", "100"] {
            assert_eq!(text.parse::<Decimal>().map(|d| d.to_string()), Ok(text.to_owned()));
        }
        assert_eq!(".022".parse::<Decimal>(), Ok(Decimal { mantissa: 22, exponent: -3 }));
        assert_eq!("6,31".parse(), "6.31".parse::<Decimal>());
    }

    #[test]
    fn refuses_what_is_not_a_number() {
        for text in ["", ".", "-", "6.3.1", "1e", "e3", "--1", "6 3", "1234567890123456789", "1e61", "١"] {
            assert_eq!(text.parse::<Decimal>(), Err(NotDecimal), "{text}");
        }
    }

    proptest! {
        #[test]
        fn display_reads_back(mantissa in -999_999_999_999_999_999_i64..=999_999_999_999_999_999, exponent in -18..=0_i32) {
            let decimal = Decimal { mantissa, exponent };
            // Zeros in front of the decimal sign are not kept, those behind it are; both count to the limit.
            let text = decimal.to_string();
            if text.bytes().filter(u8::is_ascii_digit).count() <= MOST_DIGITS {
                prop_assert_eq!(text.parse::<Decimal>(), Ok(decimal));
            }
        }

        #[test]
        fn rounds_as_the_standard_reader_does(mantissa in -999_999_999_999_i64..=999_999_999_999, exponent in -30..=30_i32) {
            let text = format!("{mantissa}e{exponent}");
            prop_assert_eq!(Ok(Decimal { mantissa, exponent }.to_f64()), text.parse::<f64>());
        }

        #[test]
        fn never_panics(text in any::<String>()) {
            let _ = text.parse::<Decimal>();
        }

        #[test]
        fn any_decimal_prints(mantissa in any::<i64>(), exponent in any::<i32>()) {
            let decimal = Decimal { mantissa, exponent };
            prop_assert!(!decimal.to_string().is_empty());
            prop_assert!(!decimal.to_f64().is_nan());
        }
    }
}
