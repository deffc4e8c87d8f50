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
    #[error(
        "The file has {megabytes} MB; the most that is taken at once is {limit} MB. Send it in smaller pieces."
    )]
    TooLarge {
        /// Its size.
        megabytes: u64,
        /// The most.
        limit: u64,
    },
    /// A figure that was typed cannot be read.
    #[error("{field} “{typed}” cannot be read: {why}.")]
    BadFigure {
        /// The field as the page names it.
        field: &'static str,
        /// What was typed.
        typed: String,
        /// What stands there and what would be right.
        why: String,
    },
    /// A workshop's own value that cannot be one, as a sentence.
    #[error("{0}")]
    NoOwnValue(String),
    /// There are not as many resistors as recordings.
    #[error(
        "{resistors} {} said and {files} {} given. Say one resistor for each recording, in the same order, or none for a file that needs none.",
        if *resistors == 1 { "resistor was" } else { "resistors were" },
        if *files == 1 { "file was" } else { "files were" }
    )]
    ResistorsDoNotFit {
        /// How many resistors.
        resistors: usize,
        /// How many files.
        files: usize,
    },
    /// A number that cannot stand in an address, on a label and in a file's name alike.
    #[error("“{0}” cannot be a job's number. Use letters, figures, points and hyphens, such as 26-014.")]
    BadNumber(String),
    /// The number is another job's.
    #[error("Job {0} is there already. Leave the number empty, and the next free one is given.")]
    NumberTaken(String),
    /// A form was sent a second time with other words in it.
    #[error(
        "This form was sent before, and entry {seq} was kept from it. Nothing more was kept: load the page again and say it there."
    )]
    SaidBefore {
        /// The entry that was kept the first time.
        seq: u64,
    },
    /// A line of a file from elsewhere is no entry.
    #[error("Line {line} of the file is no entry ({what}). Nothing was taken in: ask for the file again.")]
    BadLine {
        /// The line, from 1.
        line: usize,
        /// What is the matter with it.
        what: EntryError,
    },
    /// The entries of a file from elsewhere do not make a whole chain.
    #[error("The file does not hold together ({0}). Nothing was taken in: ask for the file again.")]
    BadFile(String),
    /// A folder that is a workshop already was to become one.
    #[error(
        "There is a workshop in this folder already: “{0}”. Open it, or start another in an empty folder."
    )]
    AlreadyStarted(String),
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
    #[error(
        "This machine gave no random bytes ({0}), so nothing was kept. Start the machine again, then the program."
    )]
    NoRandomness(String),
    /// The folder has no chain of its own.
    #[error(
        "This folder was made for a workshop and has no entry yet: its start broke off. Start a workshop in an empty folder."
    )]
    NoWorkshopChain,
    /// A key file is not a key.
    #[error(
        "The key file {0} is not a key of this program. Move it away; a new key is made at the next start."
    )]
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
        use ActError as Act;
        match self {
            Act::NoSuchJob(_) | Act::NoSuchPart { .. } | Act::NoSuchEntry { .. } | Act::NoPicture(_) => {
                Trouble::NotThere
            }
            Act::Empty { .. }
            | Act::TooLarge { .. }
            | Act::BadFigure { .. }
            | Act::NoOwnValue(_)
            | Act::ResistorsDoNotFit { .. }
            | Act::BadNumber(_)
            | Act::NumberTaken(_)
            | Act::SaidBefore { .. }
            | Act::BadLine { .. }
            | Act::BadFile(_)
            | Act::AlreadyStarted(_)
            | Act::Foreign(_)
            | Act::Entry(_) => Trouble::NotTaken,
            Act::Store(error) => of_store(error),
            Act::NoWorkshopChain | Act::NoRandomness(_) | Act::BadKey(_) => Trouble::Broken,
        }
    }
}

/// What a person asked for or brought is told apart from what is wrong with the folder.
fn of_store(error: &StoreError) -> Trouble {
    use StoreError as Store;
    match error {
        Store::NoPhotograph { .. }
        | Store::NoFile { .. }
        | Store::UnknownChain { .. }
        | Store::UnknownEntry { .. } => Trouble::NotThere,
        Store::ForeignChain { .. }
        | Store::OwnChain { .. }
        | Store::Faulty { .. }
        | Store::NotOneChain { .. }
        | Store::OnlyReading { .. } => Trouble::NotTaken,
        _ => Trouble::Broken,
    }
}

fn say_which(nearest: &[String]) -> String {
    if nearest.is_empty() {
        "Name a part first.".to_owned()
    } else {
        format!("It may be one of these: {}.", nearest.join(", "))
    }
}
