//! What can go wrong: each a plain sentence with the place and what to do.

use std::io;
use std::path::{Path, PathBuf};

use asfound_record::EntryError;
use asfound_record::Hash;
use rusqlite::ErrorCode;

/// Why the store could not do what was asked. Whatever it is, nothing that was kept before is harmed.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The folder is not there.
    #[error("There is no folder {}; check the name, or start a new workshop there.", .folder.display())]
    NoFolder {
        /// The folder.
        folder: PathBuf,
    },
    /// The folder is there and holds no workshop.
    #[error(
        "{} holds no workshop (there is no file workshop.sqlite of this program in it); name the folder that does, \
         or start a new workshop in an empty folder.", .folder.display()
    )]
    NotAWorkshop {
        /// The folder.
        folder: PathBuf,
    },
    /// A new workshop was asked for in a folder that has other things in it.
    #[error("{} is not empty and holds no workshop; start the new workshop in an empty folder.", .folder.display())]
    NotEmpty {
        /// The folder.
        folder: PathBuf,
    },
    /// Written by a later release.
    #[error(
        "The workshop in {} was written by a newer version of this program (its form is {found}, this one reads up \
         to {known}); nothing was changed: open it with the newer version.", .folder.display()
    )]
    Newer {
        /// The folder.
        folder: PathBuf,
        /// The version found.
        found: i64,
        /// The latest version known.
        known: i64,
    },
    /// Written by an earlier release, and opened only to read.
    #[error(
        "The workshop in {} was last written by an older version of this program (form {found}, this one is {known}); \
         open it once to work in it, which brings it up to date, and read it then.", .folder.display()
    )]
    Older {
        /// The folder.
        folder: PathBuf,
        /// The version found.
        found: i64,
        /// The version needed.
        known: i64,
    },
    /// The bytes are not what was written.
    #[error(
        "{} is damaged ({what}); nothing was changed: keep the folder as it is, and bring back the newest copy into \
         another folder.", .place.display()
    )]
    Damaged {
        /// The file.
        place: PathBuf,
        /// What was seen.
        what: String,
    },
    /// One entry's bytes are not what was written.
    #[error(
        "Entry {seq} of chain {chain} in {} is damaged ({what}); the other chains can still be read: bring back the \
         newest copy into another folder and compare.", .place.display()
    )]
    DamagedEntry {
        /// The file.
        place: PathBuf,
        /// The chain.
        chain: String,
        /// The entry's place.
        seq: u64,
        /// What was seen.
        what: String,
    },
    /// Another process works in the folder.
    #[error(
        "The workshop in {} is already open in another window or program; use that one, or close it and try again.",
        .folder.display()
    )]
    InUse {
        /// The folder.
        folder: PathBuf,
    },
    /// The database stayed locked.
    #[error("{} is held by another program; close what reads it and try again.", .place.display())]
    Busy {
        /// The file.
        place: PathBuf,
    },
    /// The system refuses access.
    #[error(
        "No permission for {}; give the person who runs this program the right to read and write there, or use \
         another folder.", .place.display()
    )]
    NoPermission {
        /// The file or folder.
        place: PathBuf,
    },
    /// The folder lies on another machine.
    #[error(
        "{} lies on a network folder ({file_system}), where a database can be damaged by two machines writing at \
         once; keep the workshop on this machine's own disk, and put copies on the network.", .folder.display()
    )]
    NetworkFolder {
        /// The folder.
        folder: PathBuf,
        /// Its file system.
        file_system: String,
    },
    /// No room.
    #[error("The disk is full at {}; nothing was kept: make room and try again.", .place.display())]
    DiskFull {
        /// The file.
        place: PathBuf,
    },
    /// The disk failed in another way.
    #[error("The disk failed at {} ({what}); what was being kept is not kept: check the disk and try again.", .place.display())]
    Disk {
        /// The file or folder.
        place: PathBuf,
        /// What the system said.
        what: String,
    },
    /// The database refused for a reason that none of the others names.
    #[error("The database {} could not do it ({what}); nothing was changed: try again, and verify the workshop.", .place.display())]
    Database {
        /// The file.
        place: PathBuf,
        /// What it said.
        what: String,
    },
    /// Opened to read.
    #[error("The workshop in {} was opened to read, so nothing can be kept; open it to work in it.", .folder.display())]
    OnlyReading {
        /// The folder.
        folder: PathBuf,
    },
    /// No such chain.
    #[error("There is no chain {chain} in this workshop; the list of chains shows what there is.")]
    UnknownChain {
        /// What was asked for.
        chain: String,
    },
    /// No such entry.
    #[error("There is no entry {seq} with the hash {} in chain {chain} of this workshop; look it up in the job's history.", .hash.short())]
    UnknownEntry {
        /// The chain.
        chain: String,
        /// The place.
        seq: u64,
        /// The hash.
        hash: Hash,
    },
    /// A chain has one writer for ever.
    #[error(
        "Chain {chain} came from elsewhere and is only read here; begin a job that continues it and write there."
    )]
    ForeignChain {
        /// The chain.
        chain: String,
    },
    /// Entries for a chain of this workshop came from outside.
    #[error(
        "Chain {chain} is this workshop's own, and the copy brought in {difference}; nothing was taken from it: look \
         at it with verify, or bring back a whole copy of the workshop into another folder."
    )]
    OwnChain {
        /// The chain.
        chain: String,
        /// How the copy differs.
        difference: String,
    },
    /// An entry was made for another place than the next.
    #[error(
        "The entry is made for place {seq} of chain {chain}, but the next place is {next}; make it for the head that was given."
    )]
    NotNext {
        /// The chain it names.
        chain: String,
        /// The place it names.
        seq: u64,
        /// The place that is next.
        next: u64,
    },
    /// A file from elsewhere does not hold together.
    #[error(
        "The entries of chain {chain} do not hold together ({fault}); nothing was taken in: ask for the file again."
    )]
    Faulty {
        /// The chain.
        chain: String,
        /// The first fault.
        fault: String,
    },
    /// Entries of several chains, or none, where one chain is wanted.
    #[error("One chain at a time is brought in, and {found} were given; split the file by chain.")]
    NotOneChain {
        /// How many.
        found: usize,
    },
    /// The entry names another entry than the one to be withheld.
    #[error(
        "The entry to be added does not withhold entry {seq} of chain {chain}; make a withheld/1 that names it."
    )]
    NotAWithholding {
        /// The chain.
        chain: String,
        /// The place.
        seq: u64,
    },
    /// The entry could not be made.
    #[error(transparent)]
    Entry(#[from] EntryError),
    /// An entry names a photograph or another file that was not kept before.
    #[error(
        "The file {hash} is not in the vault, so an entry that cites it cannot be kept; keep the file first."
    )]
    PhotographNotKept {
        /// Its hash as the entry writes it.
        hash: String,
    },
    /// The file is not there.
    #[error("The kept file {} is not at {}; bring the file back from the newest copy.", .hash.short(), .place.display())]
    NoPhotograph {
        /// Its hash.
        hash: Hash,
        /// Where it would be.
        place: PathBuf,
    },
    /// The file is there and its bytes are others.
    #[error("The kept file at {} is damaged (its bytes no longer give its name); bring the file back from the newest copy.", .place.display())]
    DamagedPhotograph {
        /// The file.
        place: PathBuf,
    },
    /// A name that is no plain file name.
    #[error(
        "`{name}` cannot be the name of a file here; use letters, digits, spaces, dots, hyphens or underscores, such as `26-014 dossier.pdf`."
    )]
    BadName {
        /// What was given.
        name: String,
    },
    /// The name is taken by other bytes.
    #[error("{} is there already with other content and is not written over; choose another name.", .place.display())]
    NameTaken {
        /// The file.
        place: PathBuf,
    },
    /// No such paper or key.
    #[error("There is no file {}; look at the list of what is kept.", .place.display())]
    NoFile {
        /// The file.
        place: PathBuf,
    },
    /// A copy cannot go there.
    #[error("The workshop cannot be copied to {}: {why}; choose an empty folder or an older copy of this workshop.", .target.display())]
    CopyTarget {
        /// Where the copy was to go.
        target: PathBuf,
        /// Why not.
        why: String,
    },
}

impl StoreError {
    /// From what the system said about a file.
    pub(crate) fn disk(place: &Path, error: &io::Error) -> StoreError {
        let place = place.to_owned();
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => StoreError::DiskFull { place },
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
                StoreError::NoPermission { place }
            }
            _ => StoreError::Disk { place, what: error.to_string() },
        }
    }

    /// From what the database said.
    pub(crate) fn database(place: &Path, error: &rusqlite::Error) -> StoreError {
        let place = place.to_owned();
        let what = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => StoreError::DiskFull { place },
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => StoreError::Damaged { place, what },
            Some(ErrorCode::PermissionDenied | ErrorCode::ReadOnly | ErrorCode::CannotOpen) => {
                StoreError::NoPermission { place }
            }
            Some(
                ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked | ErrorCode::FileLockingProtocolFailed,
            ) => StoreError::Busy { place },
            Some(ErrorCode::SystemIoFailure) => StoreError::Disk { place, what },
            _ => StoreError::Database { place, what },
        }
    }
}
