//! A reading may be odd. It is kept as typed; only what it is taken to mean is questioned.

use crate::decimal::Decimal;
use crate::dimension::Dimension;
use crate::unit::Unit;
use crate::written::{Amount, Written};

/// Below this no coil of a pickup reads; low-impedance coils begin at about a hundred ohms. Common practice, no source.
const LOWEST_COIL_OHMS: f64 = 100.0;
/// Up to this the leads and clips alone account for the reading. Common practice, no source.
const SHORT_OHMS: f64 = 1.0;
/// Above this a coil is broken and leaking across the break, or the unit is a slip. Common practice, no source.
const HIGHEST_COIL_OHMS: f64 = 1e6;

/// A doubt about a reading that stays as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// What is odd.
    pub why: Why,
    /// What was most likely meant, readable by [`crate::read`]; `None` where the reading may well be right.
    pub likely: Option<String>,
}

/// What is odd about a coil's resistance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// Next to nothing: a short, or the leads touching.
    NearlyShort,
    /// Far below any coil: most likely kilohms typed as ohms.
    FarBelowAnyCoil,
    /// Far above any coil: open and leaking, or most likely kilohms typed as megohms.
    FarAboveAnyCoil,
    /// Below zero: a charge left in the circuit, or a zero taken with other leads. Resistance is never negative.
    Negative,
}

/// Questions the resistance of a pickup's coil; `None` where it is in the range of coils, or has no number.
///
/// ```
/// use asfound_measure::{Dimension, question_coil_resistance, read};
/// let typed = read("5.84 ohms", Dimension::Resistance)?;
/// let question = question_coil_resistance(&typed).expect("no coil reads so low");
/// assert_eq!(question.likely.as_deref(), Some("5.84 kΩ"));
/// # Ok::<(), asfound_measure::ReadError>(())
/// ```
pub fn question_coil_resistance(reading: &Written) -> Option<Question> {
    if reading.dimension() != Dimension::Resistance {
        return None;
    }
    let ohms = reading.value_in_base()?;
    // "Over 20k" and "under 20k" leave the coil's own range open, so only a bound on the far side of it is odd.
    let (low_is_odd, high_is_odd) = match reading.amount {
        Amount::Over(_) => (false, true),
        Amount::Under(_) => (true, false),
        _ => (true, true),
    };
    let why = if ohms < 0.0 && low_is_odd {
        Why::Negative
    } else if ohms <= SHORT_OHMS && low_is_odd {
        Why::NearlyShort
    } else if ohms < LOWEST_COIL_OHMS && low_is_odd {
        Why::FarBelowAnyCoil
    } else if ohms > HIGHEST_COIL_OHMS && high_is_odd {
        Why::FarAboveAnyCoil
    } else {
        return None;
    };
    Some(Question { why, likely: likely(reading, why) })
}

/// The same digits a thousand times up or down, where that makes a coil and the digits were typed with that slip.
fn likely(reading: &Written, why: Why) -> Option<String> {
    let Amount::Exactly(number) = reading.amount else { return None };
    let unit = match (why, reading.unit) {
        (Why::FarBelowAnyCoil, Unit::Ohm) => Unit::Kilohm,
        (Why::FarAboveAnyCoil, Unit::Megohm) => Unit::Kilohm,
        (Why::FarAboveAnyCoil, Unit::Kilohm) => Unit::Ohm,
        _ => return None,
    };
    let ohms = Decimal::product_to_f64(number, unit.factor());
    (1e3..=1e5).contains(&ohms).then(|| format!("{number} {unit}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read;

    fn question(text: &str) -> Option<(Why, Option<String>)> {
        let reading = read(text, Dimension::Resistance).expect(text);
        question_coil_resistance(&reading).map(|question| (question.why, question.likely))
    }

    #[test]
    fn a_slip_of_the_unit_is_offered_and_the_text_kept() {
        assert_eq!(question("5.84 ohms"), Some((Why::FarBelowAnyCoil, Some("5.84 kΩ".to_owned()))));
        assert_eq!(question("5.84"), Some((Why::FarBelowAnyCoil, Some("5.84 kΩ".to_owned()))));
        assert_eq!(question("6.310M"), Some((Why::FarAboveAnyCoil, Some("6.310 kΩ".to_owned()))));
        assert_eq!(question("6310k"), Some((Why::FarAboveAnyCoil, Some("6310 Ω".to_owned()))));
    }

    #[test]
    fn what_may_be_true_is_only_questioned() {
        assert_eq!(question("0.3 ohm"), Some((Why::NearlyShort, None)));
        assert_eq!(question("under 1 ohm"), Some((Why::NearlyShort, None)));
        assert_eq!(question("over 20 M"), Some((Why::FarAboveAnyCoil, None)));
        assert_eq!(question("250 M"), Some((Why::FarAboveAnyCoil, None)));
        assert_eq!(question("-3"), Some((Why::Negative, None)));
    }

    #[test]
    fn coils_and_answers_without_a_number_pass() {
        for text in ["6k31", "150", "13.9k", "over 20k", "over 5", "under 20k", "OL", "not measured", "1M"] {
            assert_eq!(question(text), None, "{text}");
        }
        let hertz = read("5", Dimension::Frequency).expect("5 Hz");
        assert_eq!(question_coil_resistance(&hertz), None);
    }
}
