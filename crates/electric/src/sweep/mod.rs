//! A coil's impedance over frequency, as a bridge, an analyser or a sound card gave it.
//!
//! [`read`] takes the text of a file: a table with headings in any order ([`table`](self) of commas, semicolons or
//! tabs, with a decimal point or a decimal comma), or a one-port Touchstone file (Touchstone File Format Specification,
//! version 1.1, IBIS Open Forum; `.s1p`). It answers with a [`Sweep`], whose points rise in frequency and are finite and
//! above nought, and with what it had to do on the way ([`Note`]).
//!
//! **The decision: a file is read as its headings say, and nothing is guessed that would change a figure.** A column
//! without a unit is read in the base unit, and that is noted. What cannot be read is a [`SweepError`] with line,
//! column, what stood there, and what to do. Two readings at one frequency are refused, not averaged: the person who
//! made them knows which is right.
//!
//! ```
//! use asfound_electric::sweep::read;
//! let text = "Frequency (kHz);Impedance (kohm);Phase (deg)\n0,1;6,2;13,9\n1;16,4;68,1\n";
//! let file = read(text.as_bytes())?;
//! assert_eq!(file.sweep.points().len(), 2);
//! assert_eq!(file.sweep.points()[0].frequency.0, 100.0);
//! assert_eq!(file.sweep.points()[0].magnitude.0, 6200.0);
//! # Ok::<(), asfound_electric::sweep::SweepError>(())
//! ```

mod error;
mod headings;
mod numbers;
mod points;
mod table;
mod touchstone;

pub use error::{Note, Place, SweepError};
pub(crate) use points::turned;
pub use points::{Point, Sweep};

/// A sweep read from a file, and what was done to read it.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepFile {
    /// The points.
    pub sweep: Sweep,
    /// What the person should know about the reading, in the order in which it came up.
    pub notes: Vec<Note>,
}

/// Reads the bytes of a file, whatever they are: a Touchstone file where its option line says so, else a table.
///
/// # Errors
/// [`SweepError`] with the place, what was read there and what would be right.
pub fn read(bytes: &[u8]) -> Result<SweepFile, SweepError> {
    let text = numbers::decoded(bytes)?;
    if touchstone::is_touchstone(&text) { touchstone::read(&text) } else { table::read(&text) }
}
