//! A meter's accuracy statement, ±(percentage of the reading + digits), and the uncertainty it gives.

use crate::decimal::Decimal;
use crate::quantity::Quantity;
use crate::read_error::{Problem, ReadError};
use crate::uncertain::rectangular;
use std::fmt;

/// `±(percent % of the reading + digits)`, one digit being one unit of the last place on the range in use.
///
/// The form is the usual one of hand-held meters' data sheets; common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct MeterStatement {
    /// Percentage of the reading, as typed; never negative.
    pub percent: Decimal,
    /// Units of the last place.
    pub digits: u32,
}

impl MeterStatement {
    /// Reads `0.9% + 2`, `±(0.9 % + 2)`, `0,9 % of reading + 2 digits`, `0.9%+2d`.
    ///
    /// # Errors
    /// [`ReadError`] at the first thing that does not fit. A lone percentage is asked back: what is missing behind it
    /// may be a nought, and may be forty digits.
    ///
    /// ```
    /// use asfound_measure::{MeterStatement, Ohms};
    /// let meter = MeterStatement::parse("±(0.9 % + 2)")?;
    /// let half_width = meter.half_width(Ohms(6150.0), Ohms(10.0));
    /// assert!((half_width.value() - 75.35).abs() < 1e-9);
    /// # Ok::<(), asfound_measure::ReadError>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, ReadError> {
        let mut rest = text.trim_start();
        rest = after(rest, &["±", "+/-", "+-"]).unwrap_or(rest);
        let opened = after(rest, &["("]);
        rest = opened.unwrap_or(rest);
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(rest.len());
        let percent: Decimal = rest[..end].parse().map_err(|_| refused(text, rest))?;
        rest = after(rest[end..].trim_start(), &["%"]).ok_or_else(|| refused(text, &rest[end..]))?;
        rest = after(rest, &["of the reading", "of reading", "of rdg", "reading", "rdg"]).unwrap_or(rest);
        rest = after(rest, &["+", "±"]).ok_or_else(|| refused(text, rest))?;
        let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        let digits = rest[..end].parse().map_err(|_| refused(text, rest))?;
        rest = rest[end..].trim_start();
        let words = ["digits", "digit", "counts", "count", "dgts", "dgt", "dig", "d"];
        rest = after(rest, &words).unwrap_or(rest);
        if opened.is_some() {
            rest = after(rest, &[")"]).ok_or_else(|| refused(text, rest))?;
        }
        if !rest.is_empty() {
            return Err(refused(text, rest));
        }
        Ok(Self { percent, digits })
    }

    /// How far the truth may lie from the reading: `|reading| × percent/100 + digits × resolution`, in its unit.
    pub fn half_width<Q: Quantity>(self, reading: Q, resolution: Q) -> Q {
        let of_reading = reading.size().abs() * self.percent.to_f64() / 100.0;
        Q::of(of_reading + f64::from(self.digits) * resolution.size().abs())
    }

    /// The standard uncertainty of the half-width taken as rectangular, `a/√3` (JCGM 100, 4.3.7): a data sheet gives
    /// limits and says nothing of the places between them.
    ///
    /// Readings on one range of one meter share most of it (its gain error), so their difference is surer than this.
    pub fn standard_uncertainty<Q: Quantity>(self, reading: Q, resolution: Q) -> Q {
        Q::of(rectangular(self.half_width(reading, resolution).size()))
    }
}

impl fmt::Display for MeterStatement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "±({} % + {})", self.percent, self.digits)
    }
}

/// What stands behind one of these signs or words, in any case, with space dropped before what follows.
fn after<'t>(text: &'t str, signs: &[&str]) -> Option<&'t str> {
    signs.iter().find_map(|sign| {
        let head = text.get(..sign.len())?;
        head.eq_ignore_ascii_case(sign).then(|| text[sign.len()..].trim_start())
    })
}

/// The error from `rest`, a tail of `text`, on.
fn refused(text: &str, rest: &str) -> ReadError {
    let start = text.len() - rest.trim_start().len();
    let end = start + rest.trim().len();
    let hints = ["0.9 % + 2", "±(0.9 % + 2)", "0.9 % + 0"].map(str::to_owned);
    ReadError::at(text, start..end, Problem::NotAMeterStatement, hints)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Ohms, Volts};
    use proptest::prelude::*;

    fn meter(text: &str) -> MeterStatement {
        MeterStatement::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
    }

    #[test]
    fn the_usual_ways_of_writing_it() {
        let statement = MeterStatement { percent: Decimal { mantissa: 9, exponent: -1 }, digits: 2 };
        for text in [
            "0.9% + 2",
            "0.9%+2",
            "±(0.9 % + 2)",
            "+/-(0.9% + 2 digits)",
            "0,9 % + 2 d",
            "± 0.9 % of reading ± 2 Counts",
            " .9 % rdg + 2 dgt ",
        ] {
            assert_eq!(
                meter(text).half_width(Ohms(100.0), Ohms(1.0)),
                statement.half_width(Ohms(100.0), Ohms(1.0))
            );
            assert_eq!((meter(text).digits, meter(text).percent.to_f64()), (2, 0.9), "{text}");
        }
        assert_eq!(statement.to_string(), "±(0.9 % + 2)");
    }

    #[test]
    fn what_does_not_fit_is_pointed_at() {
        for (text, there) in [
            ("", ""),
            ("good", "good"),
            ("0.9", ""),
            ("0.9 %", ""),
            ("0.9 % + two", "two"),
            ("0.9 + 2 %", "+ 2 %"),
            ("±(0.9 % + 2", ""),
            ("0.9 % + 2)", ")"),
            ("-0.9 % + 2", "-0.9 % + 2"),
            ("0.9 % + 99999999999", "99999999999"),
        ] {
            let error = MeterStatement::parse(text).expect_err(text);
            assert_eq!((error.problem, error.read.as_str()), (Problem::NotAMeterStatement, there), "{text}");
            for hint in error.hints {
                assert!(MeterStatement::parse(&hint).is_ok());
            }
        }
    }

    #[test]
    fn limits_as_data_sheets_work_them_out() {
        // Worked from the definition of the form, in round numbers: 100.0 V on a 0.1 V display. One part in 1e12, for
        // the binary form of the percentages.
        for (text, half_width) in [("1 % + 2", 1.2), ("2 % + 2", 2.2)] {
            assert!((meter(text).half_width(Volts(100.0), Volts(0.1)).value() - half_width).abs() < 1e-12);
        }
        // 0.5 V on a range that resolves 10 µV, 3 % + 5 counts: 15.05 mV.
        assert!((meter("3 % + 5").half_width(Volts(0.5), Volts(10e-6)).value() - 15.05e-3).abs() < 1e-14);
        // 6.15 kΩ on a 10 Ω display, 0.9 % + 2: 75.35 Ω, and over √3 (JCGM 100, 4.3.7) 43.50334 Ω.
        let u = meter("0.9 % + 2").standard_uncertainty(Ohms(6150.0), Ohms(10.0));
        assert!((u.value() - 43.503_34).abs() < 5e-6);
        assert_eq!(meter("0.9 % + 2").half_width(Ohms(-6150.0), Ohms(10.0)).value(), 75.35);
    }

    proptest! {
        #[test]
        fn printed_it_reads_back(mantissa in 0..100_000_i64, places in 0..5_i32, digits in any::<u32>()) {
            let statement = MeterStatement { percent: Decimal { mantissa, exponent: -places }, digits };
            prop_assert_eq!(MeterStatement::parse(&statement.to_string()), Ok(statement));
        }

        #[test]
        fn any_text_is_answered(text in any::<String>(), near in "[±+/( -]{0,4}[0-9.,]{0,5} ?%? ?[+±ofrdg ]{0,4}[0-9]{0,3} ?[dgtcouns)]{0,5}") {
            for text in [text, near] {
                if let Err(error) = MeterStatement::parse(&text) {
                    prop_assert_eq!(text.get(error.place.clone()), Some(error.read.as_str()));
                }
            }
        }
    }
}
