//! Entries, hashes, seals, and the fold of a chain into a job

mod chain;
mod entry;
mod error;
mod fold;
mod hash;
mod job;
mod json;
mod keys;
mod kinds;
mod moment;
mod seal;

pub use chain::*;
pub use entry::*;
pub use error::*;
pub use fold::fold;
pub use hash::*;
pub use job::*;
pub use keys::*;
pub use kinds::*;
pub use seal::*;
