//! What was said in the trade's words, read for a study.
//!
//! Observations are kept as they were said. A study that can use them reads them here, and says beside its finding what
//! it read and where, so that a misreading is seen; the words themselves are never touched.

pub mod clauses;
pub mod dating;
pub mod features;
pub mod heard;
pub mod kindred;
pub mod period;
pub mod polarity;
mod tokens;
pub mod when;
pub mod wishes;
