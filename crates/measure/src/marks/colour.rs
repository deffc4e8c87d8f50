//! Colours and the figures they stand for.

use crate::decimal::Decimal;

/// A colour of the code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "each is the colour of its name")]
pub enum Colour {
    Black,
    Brown,
    Red,
    Orange,
    Yellow,
    Green,
    Blue,
    Violet,
    Grey,
    White,
    Gold,
    Silver,
}

/// A word that is no colour of the code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "“{0}” is no colour of the code; it has black, brown, red, orange, yellow, green, blue, violet, grey, white, gold and silver"
)]
pub struct NoColour(
    /// The word.
    pub String,
);

/// The colours with the names they are called by, the usual one first.
const NAMES: [(Colour, &[&str]); 12] = [
    (Colour::Black, &["black"]),
    (Colour::Brown, &["brown"]),
    (Colour::Red, &["red"]),
    (Colour::Orange, &["orange"]),
    (Colour::Yellow, &["yellow"]),
    (Colour::Green, &["green"]),
    (Colour::Blue, &["blue"]),
    (Colour::Violet, &["violet", "purple"]),
    (Colour::Grey, &["grey", "gray"]),
    (Colour::White, &["white"]),
    (Colour::Gold, &["gold"]),
    (Colour::Silver, &["silver"]),
];

impl Colour {
    /// The colour that a word names.
    pub fn read(word: &str) -> Option<Colour> {
        let word = word.to_lowercase();
        NAMES.iter().find(|(_, names)| names.contains(&word.as_str())).map(|(colour, _)| *colour)
    }

    /// The colours that words name, parted by spaces or commas.
    ///
    /// # Errors
    /// [`NoColour`] with the first word that names none.
    pub fn read_all(text: &str) -> Result<Vec<Colour>, NoColour> {
        let words =
            text.split(|sign: char| sign.is_whitespace() || sign == ',').filter(|word| !word.is_empty());
        words.map(|word| Colour::read(word).ok_or_else(|| NoColour(word.to_owned()))).collect()
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        NAMES[self as usize].1[0]
    }

    /// The figure it stands for; gold and silver stand for none (IEC 60062).
    pub fn digit(self) -> Option<u8> {
        ((self as u8) < 10).then_some(self as u8)
    }

    /// The power of ten it stands for: that of its figure, gold a tenth, silver a hundredth (IEC 60062).
    pub fn power(self) -> i32 {
        match self {
            Colour::Gold => -1,
            Colour::Silver => -2,
            other => other as i32,
        }
    }

    /// The tolerance in per cent on which all lists agree for resistors (IEC 60062): brown 1, red 2, green 0.5, blue
    /// 0.25, violet 0.1, gold 5, silver 10.
    pub(super) fn resistor_percent(self) -> Option<Decimal> {
        let (mantissa, exponent) = match self {
            Colour::Brown => (1, 0),
            Colour::Red => (2, 0),
            Colour::Green => (5, -1),
            Colour::Blue => (25, -2),
            Colour::Violet => (1, -1),
            Colour::Gold => (5, 0),
            Colour::Silver => (10, 0),
            _ => return None,
        };
        Some(Decimal { mantissa, exponent })
    }
}
