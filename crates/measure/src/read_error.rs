//! What could not be read: the place, what stood there, and three things that would be right.

use crate::dimension::Dimension;
use crate::unit::Unit;
use std::fmt;
use std::ops::Range;

/// A text that could not be read as the quantity wanted. Nothing is guessed in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadError {
    /// Where in the text, in bytes; always on the borders of characters.
    pub place: Range<usize>,
    /// What was read there; empty where something is missing.
    pub read: String,
    /// What is wrong with it.
    pub problem: Problem,
    /// Three texts that would be right, fitted to the quantity wanted and to the number typed where there is one.
    pub hints: [String; 3],
}

/// What can be wrong with a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Problem {
    /// There is nothing to read.
    Empty,
    /// A number was wanted here.
    NoNumber,
    /// More than eighteen digits, or a power of ten beyond any unit of the trade.
    TooLong,
    /// A comma before exactly three digits: `6,310` is 6.310 to one hand and 6310 to another.
    CommaOrThousands,
    /// A second decimal sign in one number.
    SecondDecimalSign,
    /// A number alone, where people use several units.
    MissingUnit(Dimension),
    /// A letter that stands for more than one unit, such as `m` behind a resistance.
    WhichUnit(Dimension),
    /// `K` close behind a temperature; kelvin is written with a space or in full.
    KelvinOrKilo,
    /// No unit known here.
    UnknownUnit(Dimension),
    /// A unit of another quantity than the one wanted.
    WrongDimension {
        /// What the unit measures.
        found: Dimension,
        /// What was asked for.
        wanted: Dimension,
    },
    /// More text behind a reading that is already complete.
    MoreText,
    /// A fraction that no rule is divided in, such as thirds, or one with a zero below the line.
    Fraction,
    /// A fraction in a unit that is not divided so; only inches and feet are.
    FractionNeedsInches,
    /// Not an accuracy statement: a percentage of the reading plus a number of digits.
    NotAMeterStatement,
    /// Not a three-digit capacitor code.
    NotACapacitorCode,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => f.write_str("nothing is written"),
            Self::NoNumber => f.write_str("a number is wanted here"),
            Self::TooLong => f.write_str("this number is too long or too large to be a reading"),
            Self::CommaOrThousands => f.write_str("this comma can mark decimals or thousands"),
            Self::SecondDecimalSign => f.write_str("this number has a second decimal sign"),
            Self::MissingUnit(wanted) => write!(f, "the unit of this {wanted} is missing"),
            Self::WhichUnit(wanted) => write!(f, "this can mean more than one unit of {wanted}"),
            Self::KelvinOrKilo => {
                f.write_str("K close behind a temperature can be a slip; write kelvin with a space")
            }
            Self::UnknownUnit(wanted) => write!(f, "this is no unit of {wanted}"),
            Self::WrongDimension { found, wanted } => {
                write!(f, "this is a unit of {found}, and a {wanted} is wanted")
            }
            Self::MoreText => f.write_str("the reading is complete before this"),
            Self::Fraction => f.write_str("a rule is not divided so"),
            Self::FractionNeedsInches => f.write_str("only inches and feet are written as fractions"),
            Self::NotAMeterStatement => f.write_str("an accuracy is a percentage of the reading plus digits"),
            Self::NotACapacitorCode => {
                f.write_str("a capacitor code is three digits and perhaps a tolerance letter")
            }
        }
    }
}

impl ReadError {
    /// The error at a place of `text`.
    pub(crate) fn at(text: &str, place: Range<usize>, problem: Problem, hints: [String; 3]) -> Self {
        let read = text.get(place.clone()).unwrap_or_default().to_owned();
        Self { place, read, problem, hints }
    }

    /// The text on one line with carets under the place. For a face of fixed width.
    pub fn pointer(&self, text: &str) -> String {
        // A tab or a line break would push the carets from under the place.
        let line: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let before = text.char_indices().filter(|(at, _)| *at < self.place.start).count();
        let under = text.char_indices().filter(|(at, _)| self.place.contains(at)).count().max(1);
        format!("{line}\n{}{}", " ".repeat(before), "^".repeat(under))
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.read.is_empty() {
            // Quoted with escapes, so that one error stays one line whatever was typed.
            write!(f, "{:?}: ", self.read)?;
        }
        let [first, second, third] = &self.hints;
        write!(f, "{}; right would be {first}, {second} or {third}", self.problem)
    }
}

impl std::error::Error for ReadError {}

/// Three readable texts for a dimension, with the number typed if there is one.
pub(crate) fn hints(wanted: Dimension, number: Option<&str>) -> [String; 3] {
    match number {
        Some(number) => with_units(number, wanted.usual_units()),
        None => usual(wanted).map(str::to_owned),
    }
}

/// The number in three units.
pub(crate) fn with_units(number: &str, units: [Unit; 3]) -> [String; 3] {
    if units[0] == Unit::One {
        return [number.to_owned(), format!("over {number}"), "cannot tell".to_owned()];
    }
    if units[0] == units[2] {
        return [format!("{number}{}", units[0]), format!("{number} deg"), "cannot tell".to_owned()];
    }
    units.map(|unit| format!("{number} {unit}"))
}

const fn usual(wanted: Dimension) -> [&'static str; 3] {
    match wanted {
        Dimension::Resistance => ["6.31 kΩ", "6k31", "over 20 MΩ"],
        Dimension::Capacitance => ["22 nF", ".022 µF", "2n2"],
        Dimension::Inductance => ["2.4 H", "2400 mH", "2H4"],
        Dimension::Frequency => ["440 Hz", "3.8 kHz", "3k8"],
        Dimension::Temperature => ["19 °C", "66 °F", "292 K"],
        Dimension::Length => ["0.30 mm", "12 thou", "12-3/8 in"],
        Dimension::Mass => ["340 g", "12 oz", "3.4 kg"],
        Dimension::Voltage => ["310 V", "45 mV", "over 600 V"],
        Dimension::Current => ["36 mA", "0.036 A", "5 µA"],
        Dimension::Time => ["40 s", "12 min", "24 h"],
        Dimension::Angle => ["2.2°", "2.2 deg", "cannot tell"],
        Dimension::Number => ["3.2", "over 10", "cannot tell"],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read;

    #[test]
    fn every_hint_would_be_right() {
        for wanted in Dimension::ALL {
            for hint in hints(wanted, None).iter().chain(&hints(wanted, Some("6.31"))) {
                assert!(read(hint, wanted).is_ok(), "{hint} for {wanted}");
            }
        }
    }

    #[test]
    fn the_carets_stand_under_the_place() {
        let text = "6,31 kΩ\tx";
        let error = read(text, Dimension::Resistance).expect_err("x is too much");
        assert_eq!(error.read, "x");
        assert_eq!(error.pointer(text), "6,31 kΩ x\n        ^");
    }

    #[test]
    fn an_error_is_one_line() {
        let error = read("6k31 F", Dimension::Resistance).expect_err("farads");
        assert_eq!(
            error.to_string(),
            "\"F\": this is a unit of capacitance, and a resistance is wanted; right would be 6.31 Ω, 6.31 kΩ or 6.31 MΩ"
        );
        let error = read("\n\n?", Dimension::Mass).expect_err("no number");
        assert_eq!(error.to_string().lines().count(), 1);
    }
}
