//! One workshop's record on one disk: the ledger, the photographs, the papers and the key files, in one folder.
//!
//! **The decision.** The ledger is one SQLite file that only ever grows, and the photographs are plain files named by
//! the SHA-256 (FIPS 180-4) of their bytes. So in thirty years nothing but SQLite, JSON and a file system is needed to
//! read it, a photograph can be opened with any viewer, and what is damaged shows itself by its name. Everything else
//! here (search, the list of jobs, folded jobs, previews) is worked out from those two, can be thrown away, and is
//! tested equal to what is worked out anew.
//!
//! * One process writes ([`Store::open`] takes a lock), through one connection. Reads go through connections of their
//!   own and never wait for the writer (SQLite's write-ahead log).
//! * An entry is acknowledged when it is on the medium (`synchronous=FULL`), and a photograph before the entry that
//!   cites it can be kept. After a power cut the store holds what was acknowledged, and at most the one entry that was
//!   on its way.
//! * Triggers in the database refuse every change but one: a withholding takes an entry's content out, from the table,
//!   the search, the vault and the write-ahead log. A trigger stops a bug, not a person with a hex editor; that is what
//!   the chain of hashes shows.
//! * A chain has one writer for ever. Chains from elsewhere are read, never written, and never merged.
//!
//! ```
//! use asfound_record::{Draft, Entry};
//! use asfound_store::Store;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let parent = tempfile::tempdir()?;
//! # let folder = parent.path().join("workshop");
//! let store = Store::start(&folder)?;
//! let draft = Draft {
//!     at: "2026-11-25T09:30:00+00:00".into(),
//!     by: "p-1".into(),
//!     kind: "note/1".into(),
//!     corrects: None,
//!     body: serde_json::json!({ "words": "grey dust under the guard" }),
//! };
//! // The salt is 32 fresh random bytes; the caller has the randomness.
//! let kept = store.append(|head| Entry::make(draft, head, [7; 32]), "job-1", Some("draft-1"))?;
//! assert_eq!(store.entry(&kept.entry.cite())?, kept.entry);
//! assert_eq!(store.search("dust", 10)?.len(), 1);
//! # Ok(())
//! # }
//! ```

mod copy;
mod database;
mod disk;
mod error;
mod folder;
mod foreign;
mod job;
mod ledger;
mod mount;
mod read;
mod remembered;
mod search;
mod vault;
mod verify;
mod withhold;

use std::collections::HashMap;
use std::fs::File;
use std::sync::atomic::AtomicUsize;
use std::sync::{Mutex, MutexGuard, PoisonError};

use asfound_record::Hash;
use rusqlite::Connection;

pub use disk::{Access, Disk, RealDisk};
pub use error::StoreError;
pub use foreign::Imported;
pub use ledger::{Appended, Batch};
pub use read::ChainInfo;
pub use search::Found;
pub use verify::{PhotographFault, StoreReport};
pub use withhold::Withheld;

/// One workshop's folder, open. It can be shared between threads.
pub struct Store {
    /// Before the writer: the last connection to close folds the write-ahead log back in, and a reader cannot.
    readers: Vec<Mutex<Connection>>,
    /// `None` where the workshop was opened to read.
    writer: Option<Mutex<Connection>>,
    vault: vault::Vault,
    jobs: Mutex<HashMap<String, job::Folded>>,
    turn: AtomicUsize,
    _lock: Option<File>,
}

impl Store {
    /// Keeps a photograph's or clip's bytes, whatever they are, and answers their name. The same bytes are kept once.
    /// They are on the medium when this returns. Bytes that went with a withheld content can be kept again; if no entry
    /// shows them by the next start, they go again.
    ///
    /// # Errors
    /// The disk is full, fails or refuses; nothing is kept then.
    pub fn keep_photograph(&self, bytes: &[u8]) -> Result<Hash, StoreError> {
        self.must_write()?;
        self.vault.keep_photograph(bytes)
    }

    /// A photograph's bytes, checked against their name.
    ///
    /// # Errors
    /// [`StoreError::NoPhotograph`], [`StoreError::DamagedPhotograph`], or the disk's.
    pub fn photograph(&self, hash: Hash) -> Result<Vec<u8>, StoreError> {
        self.vault.photograph(hash)
    }

    /// Keeps a small picture of a photograph. `size` is whatever number the caller tells its previews apart by.
    ///
    /// # Errors
    /// The disk is full, fails or refuses.
    pub fn keep_preview(&self, hash: Hash, size: u32, bytes: &[u8]) -> Result<(), StoreError> {
        self.must_write()?;
        self.vault.keep_preview(hash, size, bytes)
    }

    /// A preview; `None` where it has to be made (again).
    ///
    /// # Errors
    /// The disk fails or refuses.
    pub fn preview(&self, hash: Hash, size: u32) -> Result<Option<Vec<u8>>, StoreError> {
        self.vault.preview(hash, size)
    }

    /// Keeps a paper or its seal under a plain file name. A paper that was made is never written over.
    ///
    /// # Errors
    /// [`StoreError::BadName`], [`StoreError::NameTaken`], or the disk's.
    pub fn keep_paper(&self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        self.must_write()?;
        self.vault.keep_named(vault::PAPERS, name, bytes)
    }

    /// A paper's bytes.
    ///
    /// # Errors
    /// [`StoreError::BadName`], [`StoreError::NoFile`], or the disk's.
    pub fn paper(&self, name: &str) -> Result<Vec<u8>, StoreError> {
        self.vault.named(vault::PAPERS, name)
    }

    /// The names of the papers, in order.
    ///
    /// # Errors
    /// The disk fails or refuses.
    pub fn papers(&self) -> Result<Vec<String>, StoreError> {
        self.vault.names(vault::PAPERS)
    }

    /// Keeps a private key file that only the person the program runs as can read. It is never written over.
    ///
    /// # Errors
    /// [`StoreError::BadName`], [`StoreError::NameTaken`], or the disk's.
    pub fn keep_key(&self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        self.must_write()?;
        self.vault.keep_named(vault::KEYS, name, bytes)
    }

    /// A key file's bytes.
    ///
    /// # Errors
    /// [`StoreError::BadName`], [`StoreError::NoFile`], or the disk's.
    pub fn key(&self, name: &str) -> Result<Vec<u8>, StoreError> {
        self.vault.named(vault::KEYS, name)
    }

    /// The names of the key files, in order.
    ///
    /// # Errors
    /// The disk fails or refuses.
    pub fn keys(&self) -> Result<Vec<String>, StoreError> {
        self.vault.names(vault::KEYS)
    }

    fn must_write(&self) -> Result<&Mutex<Connection>, StoreError> {
        self.writer.as_ref().ok_or_else(|| StoreError::OnlyReading { folder: self.folder().to_owned() })
    }

    /// The writer. A panic in an earlier caller's closure rolled its transaction back, so the connection is sound.
    fn writing(&self) -> Result<MutexGuard<'_, Connection>, StoreError> {
        Ok(self.must_write()?.lock().unwrap_or_else(PoisonError::into_inner))
    }
}
