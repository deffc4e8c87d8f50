//! The weighing of all that is found: in which month the whole was put together, and which parts were put in later.
//! The equations stand on the crate's page. Everything is kept in logarithms from the product over parts on, so that
//! five hundred parts do not leave the range of numbers.

mod check;
mod dated;
mod group;
mod shares;
mod standing;
mod trace;
mod whole;

pub use check::WeighingFault;
pub use dated::{Dated, HarnessDated, PartDated};
pub use shares::MonthShares;
pub use whole::MonthlyEvidence;

use crate::{Lag, MadeIn, Month, Span};

/// What speaks on one part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartEvidence {
    /// What its marks say of its month of making. Marks that weigh every month alike date nothing.
    pub made_in: MadeIn,
    /// How long such a part lay before it was fitted.
    pub lag: Lag,
    /// Prior share of such parts that were replaced since, on their own. Between 0 and 1; 0 itself only in a harness.
    pub replaced: f64,
    /// How probable the signs that do not date are if it is original, such as solder never disturbed; 1 where there
    /// are none. Only the proportion to the next counts.
    pub if_original: f64,
    /// The same if it was replaced.
    pub if_replaced: f64,
    /// Known to be new: the record says who put it in. It dates nothing, and is not weighed.
    pub known_new: bool,
}

/// Parts that hang together and may have been replaced in one event.
#[derive(Debug, Clone, PartialEq)]
pub struct Harness {
    /// Which parts, by their places among the instrument's parts.
    pub members: Vec<usize>,
    /// Prior share of such harnesses that were replaced whole. Between 0 and 1.
    pub replaced_together: f64,
}

/// All that speaks on one instrument or amplifier.
#[derive(Debug, Clone, PartialEq)]
pub struct Instrument {
    /// The months in which it may have been put together, all alike before anything is weighed. Months after the
    /// inspection are left out.
    pub assembly: Span,
    /// When it was inspected.
    pub inspected: Month,
    /// How old the stock is from which replacements are fitted.
    pub stock: Lag,
    /// Its parts.
    pub parts: Vec<PartEvidence>,
    /// Which of them hang together; a part is in one harness at most.
    pub harnesses: Vec<Harness>,
    /// What is told of the whole.
    pub whole: Vec<MonthlyEvidence>,
}

impl Instrument {
    /// Weighs everything.
    ///
    /// # Errors
    /// [`WeighingFault`]: what cannot be weighed, or what cannot hold together in any month.
    ///
    /// ```
    /// use asfound_evidence::{Instrument, Lag, MadeIn, Month, PartEvidence, Span};
    /// let span = Span::years(1930, 2024).expect("a span");
    /// let march = Month::new(1964, 3).expect("a month");
    /// let pot = PartEvidence {
    ///     made_in: MadeIn::exactly(span, march),
    ///     lag: Lag::geometric(6.0, 119)?,
    ///     replaced: 0.1,
    ///     if_original: 1.0,
    ///     if_replaced: 1.0,
    ///     known_new: false,
    /// };
    /// let instrument = Instrument {
    ///     assembly: Span::years(1950, 1979).expect("a span"),
    ///     inspected: Month::january(2024),
    ///     stock: Lag::geometric(24.0, 359)?,
    ///     parts: vec![pot],
    ///     harnesses: vec![],
    ///     whole: vec![],
    /// };
    /// let dated = instrument.weigh()?;
    /// assert_eq!(dated.assembled().most_probable(), march);
    /// assert_eq!(dated.part(0).original.to_string(), "97 %");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn weigh(&self) -> Result<Dated, WeighingFault> {
        let grid = check::check(self)?;
        Dated::of(self, grid)
    }
}
