//! A reading may be odd. It is kept as typed; only what it is taken to mean is questioned.

use crate::dimension::Dimension;
use crate::unit::Unit;
use crate::written::{Amount, Written};

/// Below this no coil of a pickup reads; low-impedance coils begin at about a hundred ohms. Common practice, no source.
const LOWEST_COIL_OHMS: f64 = 100.0;
/// Up to this the leads and clips alone account for the reading. Common practice, no source.
const SHORT_OHMS: f64 = 1.0;
/// Above this a coil is broken and leaking across the break, or the unit is a slip. Common practice, no source.
const HIGHEST_COIL_OHMS: f64 = 1e6;

/// What most coils of pickups read. Common practice, no source.
const USUAL_COIL_OHMS: std::ops::RangeInclusive<f64> = 1e3..=1e5;

/// Below this no pickup's coil has its inductance, not even one of low impedance. Common practice, no source.
const LOWEST_COIL_HENRIES: f64 = 0.01;
/// Above this no pickup's coil has its inductance. Common practice, no source.
const HIGHEST_COIL_HENRIES: f64 = 20.0;
/// What most coils of pickups have. Common practice, no source.
const USUAL_COIL_HENRIES: std::ops::RangeInclusive<f64> = 0.5..=15.0;

/// Colder and warmer than this no coil is read, in °C. Common practice, no source.
const COLDEST: f64 = -30.0;
/// See [`COLDEST`].
const WARMEST: f64 = 60.0;
/// Temperatures at which people sit and measure, in °C. Common practice, no source.
const USUAL_CELSIUS: std::ops::RangeInclusive<f64> = 0.0..=40.0;

/// A doubt about a reading that stays as it was typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question<W = Why> {
    /// What is odd.
    pub why: W,
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

/// What is odd about a coil's inductance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyInductance {
    /// Below any pickup's coil: most likely henries typed as millihenries.
    FarBelowAnyCoil,
    /// Above any pickup's coil: most likely millihenries typed as henries, or read beside the coil's own resonance, where
    /// a bridge shows a capacitance with the sign turned.
    FarAboveAnyCoil,
    /// Nothing or below it: read above the coil's own resonance, or on a range that a coil of so many ohms upsets.
    NotAboveNothing,
}

/// What is odd about a temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyTemperature {
    /// Colder than anywhere a coil is read.
    TooCold,
    /// Warmer than anywhere a coil is read.
    TooWarm,
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
    let (low_is_odd, high_is_odd) = odd_ends(reading);
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

/// Questions the inductance of a pickup's coil; `None` where it is in the range of coils, or has no number.
///
/// ```
/// use asfound_measure::{Dimension, question_coil_inductance, read};
/// let typed = read("2.4 mH", Dimension::Inductance)?;
/// let question = question_coil_inductance(&typed).expect("no coil has so little");
/// assert_eq!(question.likely.as_deref(), Some("2.4 H"));
/// # Ok::<(), asfound_measure::ReadError>(())
/// ```
pub fn question_coil_inductance(reading: &Written) -> Option<Question<WhyInductance>> {
    if reading.dimension() != Dimension::Inductance {
        return None;
    }
    let henries = reading.value_in_base()?;
    let (low_is_odd, high_is_odd) = odd_ends(reading);
    let why = if henries <= 0.0 && low_is_odd {
        WhyInductance::NotAboveNothing
    } else if henries < LOWEST_COIL_HENRIES && low_is_odd {
        WhyInductance::FarBelowAnyCoil
    } else if henries > HIGHEST_COIL_HENRIES && high_is_odd {
        WhyInductance::FarAboveAnyCoil
    } else {
        return None;
    };
    let meant = match (why, reading.unit) {
        (WhyInductance::FarBelowAnyCoil, Unit::Millihenry) => [Unit::Henry].as_slice(),
        (WhyInductance::FarBelowAnyCoil, Unit::Microhenry) => &[Unit::Millihenry, Unit::Henry],
        (WhyInductance::FarAboveAnyCoil, Unit::Henry) => &[Unit::Millihenry],
        _ => &[],
    };
    Some(Question { why, likely: meant_in(reading, meant, &USUAL_COIL_HENRIES) })
}

/// Questions the temperature of a coil or a room; `None` from −30 °C to 60 °C, or where it has no number.
///
/// ```
/// use asfound_measure::{Dimension, question_temperature, read};
/// let typed = read("68 C", Dimension::Temperature)?;
/// let question = question_temperature(&typed).expect("no bench is so hot");
/// assert_eq!(question.likely.as_deref(), Some("68 °F")); // which is 20 °C
/// # Ok::<(), asfound_measure::ReadError>(())
/// ```
pub fn question_temperature(reading: &Written) -> Option<Question<WhyTemperature>> {
    if reading.dimension() != Dimension::Temperature {
        return None;
    }
    let celsius = reading.value_in_base()?;
    let (low_is_odd, high_is_odd) = odd_ends(reading);
    let why = if celsius < COLDEST && low_is_odd {
        WhyTemperature::TooCold
    } else if celsius > WARMEST && high_is_odd {
        WhyTemperature::TooWarm
    } else {
        return None;
    };
    let meant = [Unit::DegreeCelsius, Unit::DegreeFahrenheit];
    Some(Question { why, likely: meant_in(reading, &meant, &USUAL_CELSIUS) })
}

/// "Over 20k" and "under 20k" leave a coil's own range open, so only a bound on the far side of it is odd: whether a low
/// number is, and whether a high one is.
fn odd_ends(reading: &Written) -> (bool, bool) {
    match reading.amount {
        Amount::Over(_) => (false, true),
        Amount::Under(_) => (true, false),
        _ => (true, true),
    }
}

/// The same digits in the first of these units in which they would be usual.
fn meant_in(reading: &Written, units: &[Unit], usual: &std::ops::RangeInclusive<f64>) -> Option<String> {
    let Amount::Exactly(number) = reading.amount else { return None };
    let unit = units.iter().find(|unit| usual.contains(&unit.to_base(number)))?;
    Some(format!("{number} {unit}"))
}

/// The same digits a thousand times up or down, where that makes a coil and the digits were typed with that slip.
fn likely(reading: &Written, why: Why) -> Option<String> {
    let meant = match (why, reading.unit) {
        (Why::FarBelowAnyCoil, Unit::Ohm) => Unit::Kilohm,
        (Why::FarAboveAnyCoil, Unit::Megohm) => Unit::Kilohm,
        (Why::FarAboveAnyCoil, Unit::Kilohm) => Unit::Ohm,
        _ => return None,
    };
    meant_in(reading, &[meant], &USUAL_COIL_OHMS)
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

    #[test]
    fn inductances_of_coils_pass_and_others_are_questioned() {
        let question = |text: &str| {
            let reading = read(text, Dimension::Inductance).expect(text);
            question_coil_inductance(&reading).map(|question| (question.why, question.likely))
        };
        use WhyInductance::{FarAboveAnyCoil, FarBelowAnyCoil, NotAboveNothing};
        for text in
            ["2.4 H", "2400 mH", "4H4", "15 mH", "over 2 H", "under 20 H", "OL", "over 1 mH", "not measured"]
        {
            assert_eq!(question(text), None, "{text}");
        }
        assert_eq!(question("2.4 mH"), Some((FarBelowAnyCoil, Some("2.4 H".to_owned()))));
        assert_eq!(question("2400 µH"), Some((FarBelowAnyCoil, Some("2400 mH".to_owned()))));
        assert_eq!(question("2400 H"), Some((FarAboveAnyCoil, Some("2400 mH".to_owned()))));
        assert_eq!(question("35 H"), Some((FarAboveAnyCoil, None)));
        assert_eq!(question("under 2 mH"), Some((FarBelowAnyCoil, None)));
        assert_eq!(question("over 30 H"), Some((FarAboveAnyCoil, None)));
        assert_eq!(question("-0.8 H"), Some((NotAboveNothing, None)));
        let ohms = read("2.4", Dimension::Resistance).expect("ohms");
        assert_eq!(question_coil_inductance(&ohms), None);
    }

    #[test]
    fn a_temperature_of_the_other_scale_is_seen() {
        let question = |text: &str| {
            let reading = read(text, Dimension::Temperature).expect(text);
            question_temperature(&reading).map(|question| (question.why, question.likely))
        };
        for text in ["21 °C", "68 F", "-5 C", "35 C", "60 °C", "-30 °C", "0 F", "cannot tell", "over 20 C"]
        {
            assert_eq!(question(text), None, "{text}");
        }
        assert_eq!(question("68 C"), Some((WhyTemperature::TooWarm, Some("68 °F".to_owned()))));
        assert_eq!(question("95 C"), Some((WhyTemperature::TooWarm, Some("95 °F".to_owned()))));
        assert_eq!(question("21 K"), Some((WhyTemperature::TooCold, Some("21 °C".to_owned()))));
        assert_eq!(question("200 C"), Some((WhyTemperature::TooWarm, None)));
        assert_eq!(question("-40 F"), Some((WhyTemperature::TooCold, None)));
        let ohms = read("68", Dimension::Resistance).expect("ohms");
        assert_eq!(question_temperature(&ohms), None);
    }
}
