//! What can go wrong when a person does something, each as one sentence with its remedy.

use asfound_record::EntryError;
use asfound_store::StoreError;

/// An act that could not be done. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum ActError {
    /// No job has this number.
    #[error("There is no job {0} in this workshop. The start page lists those there are.")]
    NoSuchJob(String),
    /// No part, or more than one, is called so.
    #[error("No one part of the job is called “{name}”. {}", say_which(.nearest))]
    NoSuchPart {
        /// The name given.
        name: String,
        /// What it may be.
        nearest: Vec<String>,
    },
    /// No entry has this place.
    #[error("Job {number} has no entry {seq}. Its history lists those there are.")]
    NoSuchEntry {
        /// The job.
        number: String,
        /// The place asked for.
        seq: u64,
    },
    /// A field was left empty that cannot be.
    #[error("{field} is empty. Write {example}.")]
    Empty {
        /// The field as the page names it.
        field: &'static str,
        /// An example of what would do.
        example: &'static str,
    },
    /// The file is larger than is taken over the network.
    #[error("The file has {megabytes} MB; the most that is taken at once is {limit} MB. Send it in smaller pieces.")]
    TooLarge {
        /// Its size.
        megabytes: u64,
        /// The most.
        limit: u64,
    },
    /// The chain came from elsewhere and is only read.
    #[error("Job {0} came from another workshop and is only read here. Open a new job that goes on from it.")]
    Foreign(String),
    /// There is no such picture, or no preview of it can be made.
    #[error("{0}")]
    NoPicture(String),
    /// The entry could not be made.
    #[error(transparent)]
    Entry(#[from] EntryError),
    /// The folder could not be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The machine gave no random bytes for a salt or a key.
    #[error("This machine gave no random bytes ({0}), so nothing was kept. Start the machine again, then the program.")]
    NoRandomness(String),
    /// The folder has no chain of its own.
    #[error("This folder was made for a workshop and has no entry yet: its start broke off. Start a workshop in an empty folder.")]
    NoWorkshopChain,
    /// A key file is not a key.
    #[error("The key file {0} is not a key of this program. Move it away; a new key is made at the next start.")]
    BadKey(String),
}

/// What sort of trouble it is, for exit codes and status codes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// What was asked for is not there.
    NotThere,
    /// What was given cannot be taken as it is.
    NotTaken,
    /// The folder, the disk or the machine is at fault.
    Broken,
}

impl ActError {
    /// What sort of trouble it is.
    pub fn trouble(&self) -> Trouble {
        match self {
            ActError::NoSuchJob(_)
            | ActError::NoSuchPart { .. }
            | ActError::NoSuchEntry { .. }
            | ActError::NoPicture(_) => Trouble::NotThere,
            ActError::Empty { .. } | ActError::TooLarge { .. } | ActError::Foreign(_) | ActError::Entry(_) => {
                Trouble::NotTaken
            }
            ActError::Store(_) | ActError::NoWorkshopChain | ActError::NoRandomness(_) | ActError::BadKey(_) => Trouble::Broken,
        }
    }
}

fn say_which(nearest: &[String]) -> String {
    if nearest.is_empty() { "Name a part first.".to_owned() } else { format!("It may be one of these: {}.", nearest.join(", ")) }
}
