//! Entries, hashes, seals, and the fold of a chain into a job

mod entry;
mod error;
mod fold;
mod hash;
mod job;
mod json;
mod kinds;
mod moment;

pub use entry::*;
pub use error::*;
pub use fold::fold;
pub use hash::*;
pub use job::*;
pub use kinds::*;
