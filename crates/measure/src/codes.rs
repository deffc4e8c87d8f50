//! Codes printed on parts (IEC 60062): a letter for the decimal sign, three digits on capacitors, tolerance letters.

use crate::decimal::Decimal;
use crate::dimension::Dimension;
use crate::quantity::Farads;
use crate::read_error::{Problem, ReadError};
use crate::unit::Unit;
use crate::written::{Written, read};

/// How far a part may lie from its marking, as its letter says (IEC 60062).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tolerance {
    /// Per cent below and above the marking.
    Percent {
        /// Below.
        below: Decimal,
        /// Above.
        above: Decimal,
    },
    /// Picofarads either way; the letters B to G on capacitors below 10 pF.
    Picofarads(Decimal),
}

/// The tolerance letter of a resistor, or of a capacitor of 10 pF and more; `None` for other letters (IEC 60062).
pub fn tolerance(letter: char) -> Option<Tolerance> {
    let (below, above) = match letter {
        'B' => ((1, -1), (1, -1)),
        'C' => ((25, -2), (25, -2)),
        'D' => ((5, -1), (5, -1)),
        'F' => ((1, 0), (1, 0)),
        'G' => ((2, 0), (2, 0)),
        'H' => ((3, 0), (3, 0)),
        'J' => ((5, 0), (5, 0)),
        'K' => ((10, 0), (10, 0)),
        'M' => ((20, 0), (20, 0)),
        'N' => ((30, 0), (30, 0)),
        'Q' => ((10, 0), (30, 0)),
        'S' => ((20, 0), (50, 0)),
        'Z' => ((20, 0), (80, 0)),
        _ => return None,
    };
    let decimal = |(mantissa, exponent)| Decimal { mantissa, exponent };
    Some(Tolerance::Percent { below: decimal(below), above: decimal(above) })
}

/// The tolerance letter of a capacitor below 10 pF (IEC 60062); letters without a meaning of their own there keep the
/// usual one.
fn small_tolerance(letter: char) -> Option<Tolerance> {
    let (mantissa, exponent) = match letter {
        'B' => (1, -1),
        'C' => (25, -2),
        'D' => (5, -1),
        'F' => (1, 0),
        'G' => (2, 0),
        _ => return tolerance(letter),
    };
    Some(Tolerance::Picofarads(Decimal { mantissa, exponent }))
}

/// A capacitor's three-digit code, read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CapacitorCode {
    /// Capacitance in picofarads, exact.
    pub picofarads: Decimal,
    /// The tolerance, where a letter was printed.
    pub tolerance: Option<Tolerance>,
}

impl CapacitorCode {
    /// The capacitance.
    pub fn farads(self) -> Farads {
        Farads(self.picofarads.product_to_f64(Unit::Picofarad.factor()))
    }
}

/// Reads `104` or `103M`: two digits and a power of ten, in picofarads; 9 stands for a tenth and 8 for a hundredth.
/// Kept apart from [`read`], where `104 pF` is a hundred and four picofarads.
///
/// # Errors
/// [`ReadError`] at what does not fit.
///
/// ```
/// let code = asfound_measure::capacitor_code("103M")?;
/// assert_eq!(code.farads().value(), 10e-9);
/// # Ok::<(), asfound_measure::ReadError>(())
/// ```
pub fn capacitor_code(text: &str) -> Result<CapacitorCode, ReadError> {
    let start = text.len() - text.trim_start().len();
    let code = text.trim();
    let refused = |from: usize, to: usize| {
        let hints = ["104", "103M", "22 nF"].map(str::to_owned);
        ReadError::at(text, start + from..start + to, Problem::NotACapacitorCode, hints)
    };
    let digits = code.get(..3).filter(|digits| digits.bytes().all(|b| b.is_ascii_digit()));
    let Some(digits) = digits.filter(|digits| !digits.starts_with('0')) else {
        return Err(refused(0, code.len()));
    };
    let (figures, power) = digits.split_at(2);
    let mantissa = figures.parse().map_err(|_| refused(0, 2))?;
    let exponent = match power {
        "9" => -1,
        "8" => -2,
        power => power.parse().map_err(|_| refused(2, 3))?,
    };
    let picofarads = Decimal { mantissa, exponent };
    let tolerance_of = if picofarads.to_f64() < 10.0 { small_tolerance } else { tolerance };
    let behind = &code[3..];
    let mut letters = behind.trim_start().chars();
    let tolerance = match (letters.next(), letters.next()) {
        (None, _) => None,
        (Some(letter), None) => Some(tolerance_of(letter).ok_or_else(|| refused(3, code.len()))?),
        _ => return Err(refused(3, code.len())),
    };
    Ok(CapacitorCode { picofarads, tolerance })
}

/// Reads a resistor's letter-and-digit code with its tolerance letter: `4K7J`, `1M0 J`, `470RK`. The last letter is a
/// tolerance only where another letter already marks the decimal: `470K` is 470 kΩ.
///
/// # Errors
/// [`ReadError`] as [`read`] gives it, for the code without its tolerance letter.
pub fn resistor_code(text: &str) -> Result<(Written, Option<Tolerance>), ReadError> {
    let code = text.trim_end();
    let last = code.chars().next_back();
    let split = last.and_then(|letter| Some((code.strip_suffix(letter)?, tolerance(letter)?)));
    match split {
        Some((body, tolerance)) if body.contains(['R', 'k', 'K', 'M', 'G']) => {
            let mut written = read(body, Dimension::Resistance)?;
            written.text = text.to_owned();
            Ok((written, Some(tolerance)))
        }
        _ => Ok((read(text, Dimension::Resistance)?, None)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn capacitor_codes() {
        // IEC 60062.
        for (code, farads) in [
            ("104", 100e-9),
            ("223", 22e-9),
            ("473", 47e-9),
            ("503", 50e-9),
            ("102", 1e-9),
            ("681", 680e-12),
            ("470", 47e-12),
            ("479", 4.7e-12),
            ("103M", 10e-9),
            (" 103 M ", 10e-9),
        ] {
            let read = capacitor_code(code).unwrap_or_else(|error| panic!("{code}: {error}"));
            assert_eq!(read.farads().value(), farads, "{code}");
        }
    }

    #[test]
    fn tolerance_letters() {
        let either = |percent| Some(Tolerance::Percent { below: percent, above: percent });
        assert_eq!(capacitor_code("103M").map(|c| c.tolerance), Ok(either(Decimal::whole(20))));
        assert_eq!(capacitor_code("103").map(|c| c.tolerance), Ok(None));
        let small = Some(Tolerance::Picofarads(Decimal { mantissa: 5, exponent: -1 }));
        assert_eq!(capacitor_code("479D").map(|c| c.tolerance), Ok(small));
        assert_eq!(
            capacitor_code("223Z").map(|c| c.tolerance),
            Ok(Some(Tolerance::Percent { below: Decimal::whole(20), above: Decimal::whole(80) }))
        );
        for (code, ohms, percent) in [
            ("1M0 J", 1e6, Some(5)),
            ("4K7K", 4700.0, Some(10)),
            ("470RM", 470.0, Some(20)),
            ("470K", 470e3, None),
        ] {
            let (written, tolerance) = resistor_code(code).unwrap_or_else(|error| panic!("{code}: {error}"));
            assert_eq!(written.value_in_base(), Some(ohms), "{code}");
            assert_eq!(tolerance, percent.and_then(|p| either(Decimal::whole(p))), "{code}");
            assert_eq!(written.text, code);
        }
    }

    #[test]
    fn what_is_no_code_is_pointed_at() {
        for (text, there) in [
            ("", ""),
            ("10", "10"),
            ("004", "004"),
            ("1044", "4"),
            ("103X", "X"),
            ("103MM", "MM"),
            ("n22", "n22"),
        ] {
            let error = capacitor_code(text).expect_err(text);
            assert_eq!((error.problem, error.read.as_str()), (Problem::NotACapacitorCode, there), "{text}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_answered(text in any::<String>(), near in " ?[0-9RKMµ]{0,4} ?[BJKMZx]{0,2} ?") {
            for text in [text, near] {
                for error in [capacitor_code(&text).err(), resistor_code(&text).err()].into_iter().flatten() {
                    prop_assert!(!error.to_string().is_empty());
                }
            }
        }
    }
}
