//! When was it made, and is this part original.
//!
//! **The one decision: a mark dates the part it is on, and never the whole.** The whole was put together some months
//! after its parts were made, unless a part was put in later; both are weighed for every month, so that a part that
//! does not fit is seen as a later part instead of pulling the date of the rest.

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
