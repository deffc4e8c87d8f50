//! The figures behind a plot.

/// A small table of text, ready to be set: each row has as many cells as the header.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Column headings, with units.
    pub header: Vec<String>,
    /// The rows. A value that is not there reads `not given`.
    pub rows: Vec<Vec<String>>,
}
