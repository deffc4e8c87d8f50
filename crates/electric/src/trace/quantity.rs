//! Reads a value as it is written beside a part: `7k2`, `3H4`, `130p`, `6,31kΩ`.

use asfound_measure::{Amount, Dimension};

/// What a written value measures, with the value in the coherent unit (ohm, henry, farad).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Quantity {
    /// Ohms; also a bare number, since that is what a meter shows.
    Ohms(f64),
    /// Henries.
    Henries(f64),
    /// Farads.
    Farads(f64),
}

impl Quantity {
    /// What it measures, in words.
    pub(super) fn dimension(self) -> &'static str {
        match self {
            Self::Ohms(_) => "a resistance",
            Self::Henries(_) => "an inductance",
            Self::Farads(_) => "a capacitance",
        }
    }

    /// The bare value.
    pub(super) fn value(self) -> f64 {
        match self {
            Self::Ohms(value) | Self::Henries(value) | Self::Farads(value) => value,
        }
    }
}

/// Whether a word can continue a number that stands before it: `6.31 kΩ` is one value in two words.
pub(super) fn is_unit_alone(word: &str) -> bool {
    word.starts_with(|c: char| !c.is_ascii_digit()) && read(&format!("1 {word}")).is_some()
}

/// Reads one value; `None` where it is not one. The unit tells what it measures; a bare number is ohms.
pub(super) fn read(text: &str) -> Option<Quantity> {
    // A value begins with a figure, so that a name is never taken for one.
    if !text.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',') {
        return None;
    }
    let reads = |dimension| {
        let written = asfound_measure::read(text, dimension).ok()?;
        matches!(written.amount, Amount::Exactly(_)).then(|| written.value_in_base()).flatten()
    };
    reads(Dimension::Resistance)
        .map(Quantity::Ohms)
        .or_else(|| reads(Dimension::Inductance).map(Quantity::Henries))
        .or_else(|| reads(Dimension::Capacitance).map(Quantity::Farads))
}

#[cfg(test)]
mod tests {
    use super::{Quantity, read};

    #[test]
    fn values_are_read_as_people_write_them() {
        for (text, right) in [
            ("7k2", Quantity::Ohms(7200.0)),
            ("6.31k", Quantity::Ohms(6310.0)),
            ("6,31 kΩ", Quantity::Ohms(6310.0)),
            ("250K", Quantity::Ohms(250e3)),
            ("1M", Quantity::Ohms(1e6)),
            ("4R7", Quantity::Ohms(4.7)),
            ("5.84", Quantity::Ohms(5.84)),
            ("3H4", Quantity::Henries(3.4)),
            ("1500mH", Quantity::Henries(1.5)),
            ("130p", Quantity::Farads(130e-12)),
            (".022uF", Quantity::Farads(0.022e-6)),
            ("4n7", Quantity::Farads(4.7e-9)),
            ("4n7F", Quantity::Farads(4.7e-9)),
            ("0.05 mfd", Quantity::Farads(0.05e-6)),
        ] {
            assert_eq!(read(text), Some(right), "{text}");
        }
    }

    #[test]
    fn what_is_no_value_is_refused() {
        for text in ["", ".", "k", "seven", "-3k", "7k2H", "7..2", "7 2", "12 mm"] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
