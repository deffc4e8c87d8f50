//! What is marked on a resistor or a capacitor: colours in bands or dots, and which values are made at all.
//!
//! A colour is a figure (IEC 60062). What its place means depends on the part and on its day, so each manner of marking
//! has a reader of its own; where published lists disagree about a place, the reader answers both and says whose.
//!
//! ```
//! use asfound_measure::marks::{Colour, resistor_bands};
//!
//! let read = resistor_bands(&Colour::read_all("yellow violet orange gold").unwrap()).unwrap();
//! assert_eq!(read.value.value(), 47e3);
//! ```

mod capacitor;
mod colour;
mod preferred;
mod resistor;

pub use capacitor::{CapacitorMark, Dielectric, capacitor_bands, capacitor_dots};
pub use colour::{Colour, NoColour};
pub use preferred::{Series, old_decade, preferred};
pub use resistor::resistor_bands;

use crate::decimal::Decimal;
use crate::quantity::Quantity;

/// How far a part may lie from its marking, by its colour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MarkedTolerance {
    /// So many per cent either way, and all lists agree.
    Percent(Decimal),
    /// Lists disagree: so many per cent, and who says it.
    Disputed(Vec<(Decimal, &'static str)>),
    /// Nothing says it.
    Unknown,
}

impl MarkedTolerance {
    /// The widest that any list gives, as a share; `None` where nothing says it.
    pub fn widest(&self) -> Option<f64> {
        let percents: Vec<f64> = match self {
            MarkedTolerance::Percent(percent) => vec![percent.to_f64()],
            MarkedTolerance::Disputed(said) => said.iter().map(|(percent, _)| percent.to_f64()).collect(),
            MarkedTolerance::Unknown => return None,
        };
        percents.into_iter().reduce(f64::max).map(|percent| percent / 100.0)
    }
}

/// A value read from colours.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked<Q: Quantity> {
    /// The value.
    pub value: Q,
    /// Its tolerance.
    pub tolerance: MarkedTolerance,
}

/// Why colours are no marking.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MarkFault {
    /// Too few or too many.
    #[error("{found} colours; {wanted}")]
    Count {
        /// How many there are.
        found: usize,
        /// How many there should be.
        wanted: &'static str,
    },
    /// This colour cannot stand at this place, counted from 1.
    #[error("{} cannot be {place}, which is {role}; begin at the end where the colours crowd", .colour.name())]
    Place {
        /// The colour.
        colour: Colour,
        /// Which, in words.
        place: &'static str,
        /// What stands there.
        role: &'static str,
    },
}

/// Digits and a power of ten as one number, rounded once.
fn value(digits: &[u8], exponent: i32, unit_exponent: i32) -> f64 {
    let mantissa = digits.iter().fold(0_i64, |so_far, digit| so_far * 10 + i64::from(*digit));
    Decimal { mantissa, exponent: exponent + unit_exponent }.to_f64()
}

const PLACES: [&str; 6] = [
    "the first colour",
    "the second colour",
    "the third colour",
    "the fourth colour",
    "the fifth colour",
    "the sixth colour",
];

/// The figure of the colour at a place.
fn digit(colours: &[Colour], at: usize) -> Result<u8, MarkFault> {
    let colour = colours[at];
    colour.digit().ok_or(MarkFault::Place { colour, place: PLACES[at], role: "a figure" })
}
