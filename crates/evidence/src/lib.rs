//! When was it made, and is this part original.
//!
//! **The one decision: a mark dates the part it is on, and never the whole.** The whole was put together some months
//! after its parts were made, unless a part was put in later; both are weighed for every month, so that a part that
//! does not fit is seen as a later part instead of pulling the date of the rest.
//!
//! Equations and their sources ([`Instrument::weigh`]). For a month of assembly `a`, a part made in month `p` with marks
//! of weight `L(p)`, and the month of inspection `T`:
//! - the part is original and lay `k` months in stock: `O(a) = Σ g(k) L(a − k)`;
//! - or it was put in at any later month `s`, from stock of any age: `R(a) = Σ_{s = a+1 … T} Σ h(k) L(s − k) / (T − a)`;
//! - both, with `ρ` the prior share of such parts that were replaced: `M(a) = (1 − ρ) O(a) + ρ R(a)`. This is the
//!   mixture for outliers of C. Bronk Ramsey, *Dealing with outliers and offsets in radiocarbon dating*, Radiocarbon
//!   51(3), 2009, with a physical meaning;
//! - parts that hang together may have been replaced in one event of prior `τ`:
//!   `M(a) = (1 − τ) Π M_i(a) + τ Σ_s Π_i (Σ h(k) L_i(s − k)) / (T − a)`. Their ratios are never multiplied;
//! - the share of a month is the product of every `M(a)` and of what is told of the whole, over the sum of all months:
//!   dates as unknowns with bounds and ramps follow C. E. Buck, W. G. Cavanagh, C. D. Litton, *Bayesian Approach to
//!   Interpreting Archaeological Data*, 1996;
//! - a part is original with `Σ_a share(a) (1 − ρ) O(a) / M(a)`, and its likelihood ratio is the odds after over the odds
//!   before (I. J. Good, *Probability and the Weighing of Evidence*, 1950).
//!
//! The lags `g` and `h`, `ρ` and `τ` have never been measured. They are [`Assumptions`] with wide ranges, and [`decide`]
//! says what stays the same in all of them.
//!
//! # Example
//! A pot of one of eight years, for its code has one digit for the year; a transformer likewise. Both are very probably
//! original, and the decade is not known.
//!
//! ```
//! use asfound_evidence::*;
//! let assumptions = Assumptions::default();
//! let span = Span::years(1915, 2024).expect("a span");
//! let part = |sort: PartSort, number: u8| {
//!     let made = (1946..=2016).step_by(10).filter_map(|year| Month::new(year, number)).map(|month| (month, 1.0));
//!     PartEvidence {
//!         made_in: MadeIn::of(span, made),
//!         lag: sort.lag(&assumptions),
//!         replaced: sort.replaced(&assumptions),
//!         if_original: 1.0,
//!         if_replaced: 1.0,
//!         known_new: false,
//!     }
//! };
//! let instrument = Instrument {
//!     assembly: Span::years(1950, 1979).expect("a span"),
//!     inspected: Month::january(2024),
//!     stock: replacement_stock(&assumptions),
//!     parts: vec![part(PartSort::Pot, 6), part(PartSort::Transformer, 8)],
//!     harnesses: vec![],
//!     whole: vec![],
//! };
//! let dated = instrument.weigh()?;
//! assert_eq!(dated.assembled().highest(0.95).len(), 3); // a run of months in each of three decades
//! assert_eq!(dated.part(0).original.to_string(), "98 %");
//! # Ok::<(), WeighingFault>(())
//! ```

mod aspect;
mod assumptions;
pub mod calendar;
pub mod code;
mod days;
mod decision;
pub mod intervals;
mod lag;
pub mod look;
mod made_in;
pub mod material;
mod month;
pub mod repair;
pub mod sign;
mod table;
mod weighing;

pub use aspect::{Altered, Aspect, NoAspect};
pub use assumptions::{Assumption, Assumptions, Matter, PartSort, replacement_stock};
pub use days::Days;
pub use decision::{DECIDED, Decisions, Moved, PartDecision, Verdict, YearRange, decide};
pub use lag::{Lag, LagFault};
pub use made_in::MadeIn;
pub use month::{Month, Span};
pub use weighing::{
    Dated, Harness, HarnessDated, Instrument, MonthShares, MonthlyEvidence, PartDated, PartEvidence,
    WeighingFault,
};
