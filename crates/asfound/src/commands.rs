//! The commands, one file each.

pub(crate) mod archive;
pub(crate) mod assume;
pub(crate) mod demo;
pub(crate) mod dossier;
pub(crate) mod drawing;
pub(crate) mod explain;
pub(crate) mod jobs;
pub(crate) mod say;
pub(crate) mod serve;
pub(crate) mod sheet;
pub(crate) mod start;
pub(crate) mod sweep;
pub(crate) mod test_signal;
pub(crate) mod verify;
