//! A measurement that came as files: what is typed beside the files, and the files as the vault gives them back.
//!
//! The vault is out of a study's reach, so whoever asks brings the bytes along. What they say is read anew each time.

use std::sync::Arc;

use asfound_electric::resistor_test::TestSignal;
use asfound_measure::{Dimension, ReadError, read};
use asfound_record::Quantity1;

use crate::entry_line::to_wire;

/// How a measurement over many frequencies is kept.
pub const IMPEDANCE_SWEEP: &str = "impedance sweep";
/// How recordings through known resistors are kept.
pub const RESISTOR_TEST: &str = "resistor test";

/// One kept measurement with the bytes of its files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SweepFile {
    /// The entry that stands.
    pub seq: u64,
    /// The part's id.
    pub part: String,
    /// [`IMPEDANCE_SWEEP`], [`RESISTOR_TEST`] or other words.
    pub how: String,
    /// The known resistors, in the order of the files.
    pub resistors: Vec<Quantity1>,
    /// Each file's role and its bytes, as they came.
    pub files: Vec<(String, Arc<[u8]>)>,
    /// Files that cannot be had, as sentences. A chain from elsewhere comes without its files.
    pub missing: Vec<String>,
}

/// Reads a resistor's value as typed, such as `10k`.
///
/// # Errors
/// With the place, what stands there and what would be right.
pub fn resistor(text: &str) -> Result<Quantity1, ReadError> {
    read(text, Dimension::Resistance).map(|written| to_wire(&written))
}

/// Reads a temperature as typed, such as `21C`.
///
/// # Errors
/// As [`resistor`].
pub fn temperature(text: &str) -> Result<Quantity1, ReadError> {
    read(text, Dimension::Temperature).map(|written| to_wire(&written))
}

/// The signal that is played for a [`RESISTOR_TEST`], as a WAV file: the same bytes every time.
pub fn test_signal() -> Vec<u8> {
    TestSignal::default().wav()
}
