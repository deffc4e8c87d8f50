//! Reading the ledger.

use std::path::Path;
use std::sync::PoisonError;
use std::sync::TryLockError;
use std::sync::atomic::Ordering;

use asfound_record::{Cite, Entry, Hash, Head};
use rusqlite::{Connection, OptionalExtension as _, Row, params};

use crate::Store;
use crate::database;
use crate::error::StoreError;

/// One chain as the list of chains shows it. Read without touching the entries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChainInfo {
    /// The chain's id.
    pub chain: String,
    /// 0, or the number of a differing copy from elsewhere that is kept beside.
    pub variant: u32,
    /// Whether this workshop writes it.
    pub own: bool,
    /// How many entries.
    pub entries: u64,
    /// Where it stands.
    pub head: Head,
    /// How many contents were taken out after they had been kept here.
    pub withheld: u64,
    /// The kind of its first entry, such as `job/1`.
    pub first_kind: String,
    /// When its last entry says it was written.
    pub last_at: String,
    /// The job's number, as the standing `job/1` says.
    pub number: Option<String>,
    /// The job's title, as the standing `job/1` says.
    pub title: Option<String>,
    /// The piece in plain words, as the standing `piece/1` says.
    pub piece: Option<String>,
}

impl Store {
    /// All chains, own and from elsewhere, by id and variant.
    ///
    /// # Errors
    /// The database is damaged or cannot be read.
    pub fn chains(&self) -> Result<Vec<ChainInfo>, StoreError> {
        self.reading(|connection| {
            let mut rows = connection.prepare_cached(
                "SELECT chain, variant, own, next, hash, withheld, first_kind, last_at, number, title, piece
                 FROM chain WHERE next > 0 ORDER BY chain, variant",
            )?;
            rows.query_map((), chain_info)?.collect()
        })
    }

    /// Where a chain stands; a chain that has no entry yet is empty.
    ///
    /// # Errors
    /// The database is damaged or cannot be read.
    pub fn head(&self, chain: &str) -> Result<Head, StoreError> {
        self.reading(|connection| Ok(head(connection, chain, 0)?.unwrap_or_else(|| Head::empty(chain))))
    }

    /// All entries of a chain, in order.
    ///
    /// # Errors
    /// [`StoreError::UnknownChain`], [`StoreError::DamagedEntry`], or the database's.
    pub fn entries(&self, chain: &str) -> Result<Vec<Entry>, StoreError> {
        self.entries_of_variant(chain, 0)
    }

    /// All entries of one variant of a chain.
    ///
    /// # Errors
    /// As [`Store::entries`].
    pub fn entries_of_variant(&self, chain: &str, variant: u32) -> Result<Vec<Entry>, StoreError> {
        let place = self.ledger();
        let entries = self.reading(|connection| entries(connection, &place, chain, variant, 0))??;
        if entries.is_empty() {
            Err(StoreError::UnknownChain { chain: chain.to_owned() })
        } else {
            Ok(entries)
        }
    }

    /// The entries of a chain that come after a place; none where there are none.
    ///
    /// # Errors
    /// [`StoreError::DamagedEntry`], or the database's.
    pub fn entries_after(&self, chain: &str, seq: u64) -> Result<Vec<Entry>, StoreError> {
        let place = self.ledger();
        self.reading(|connection| entries(connection, &place, chain, 0, seq + 1))?
    }

    /// The entry that a citation names, in whichever copy of its chain it stands.
    ///
    /// # Errors
    /// [`StoreError::UnknownEntry`], [`StoreError::DamagedEntry`], or the database's.
    pub fn entry(&self, cite: &Cite) -> Result<Entry, StoreError> {
        let place = self.ledger();
        let found = self.reading(|connection| {
            let mut rows = connection.prepare_cached(
                "SELECT seq, hash, envelope, content FROM entry
                 WHERE chain = ?1 AND seq = ?2 AND hash = ?3 ORDER BY content IS NULL, variant LIMIT 1",
            )?;
            let key = params![cite.chain, whole(cite.seq), &cite.hash.0[..]];
            rows.query_row(key, |row| stored(row, &place, &cite.chain)).optional()
        })?;
        let Cite { chain, seq, hash } = cite.clone();
        found.ok_or(StoreError::UnknownEntry { chain, seq, hash })?
    }

    pub(crate) fn ledger(&self) -> std::path::PathBuf {
        self.folder().join(database::FILE)
    }

    /// Runs a read on a connection that is free, or waits its turn for one. Never waits for the writer.
    pub(crate) fn reading<T>(
        &self,
        work: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, StoreError> {
        let free = self.readers.iter().find_map(|reader| match reader.try_lock() {
            Ok(connection) => Some(connection),
            Err(TryLockError::Poisoned(poisoned)) => Some(poisoned.into_inner()),
            Err(TryLockError::WouldBlock) => None,
        });
        let connection = free.unwrap_or_else(|| {
            let turn = self.turn.fetch_add(1, Ordering::Relaxed) % self.readers.len();
            self.readers[turn].lock().unwrap_or_else(PoisonError::into_inner)
        });
        work(&connection).map_err(|error| StoreError::database(&self.ledger(), &error))
    }
}

/// SQLite's whole numbers are signed. A place in a chain is below 2^53, as every number of the record.
pub(crate) fn whole(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

pub(crate) fn count(row: &Row<'_>, column: usize) -> rusqlite::Result<u64> {
    let number: i64 = row.get(column)?;
    u64::try_from(number).map_err(|_| rusqlite::Error::IntegralValueOutOfRange(column, number))
}

pub(crate) fn hash(row: &Row<'_>, column: usize) -> rusqlite::Result<Hash> {
    Ok(Hash(row.get(column)?))
}

fn chain_info(row: &Row<'_>) -> rusqlite::Result<ChainInfo> {
    let chain: String = row.get(0)?;
    let next = count(row, 3)?;
    Ok(ChainInfo {
        head: Head { chain: chain.clone(), next, hash: hash(row, 4)? },
        chain,
        variant: row.get(1)?,
        own: row.get(2)?,
        entries: next,
        withheld: count(row, 5)?,
        first_kind: row.get(6)?,
        last_at: row.get(7)?,
        number: row.get(8)?,
        title: row.get(9)?,
        piece: row.get(10)?,
    })
}

/// The head of one variant; `None` where there is none.
pub(crate) fn head(connection: &Connection, chain: &str, variant: u32) -> rusqlite::Result<Option<Head>> {
    let mut rows =
        connection.prepare_cached("SELECT next, hash FROM chain WHERE chain = ?1 AND variant = ?2")?;
    rows.query_row(params![chain, variant], |row| {
        Ok(Head { chain: chain.to_owned(), next: count(row, 0)?, hash: hash(row, 1)? })
    })
    .optional()
}

/// The entries of one variant from a place on. The outer result is the database's, the inner one an entry's.
pub(crate) fn entries(
    connection: &Connection,
    place: &Path,
    chain: &str,
    variant: u32,
    from: u64,
) -> rusqlite::Result<Result<Vec<Entry>, StoreError>> {
    let mut rows = connection.prepare_cached(
        "SELECT seq, hash, envelope, content FROM entry
         WHERE chain = ?1 AND variant = ?2 AND seq >= ?3 ORDER BY seq",
    )?;
    rows.query_map(params![chain, variant, whole(from)], |row| stored(row, place, chain))?.collect()
}

/// One entry from the columns seq, hash, envelope, content.
pub(crate) fn stored(
    row: &Row<'_>,
    place: &Path,
    chain: &str,
) -> rusqlite::Result<Result<Entry, StoreError>> {
    let seq = count(row, 0)?;
    let said = hash(row, 1)?;
    let damaged = |what: String| StoreError::DamagedEntry {
        place: place.to_owned(),
        chain: chain.to_owned(),
        seq,
        what,
    };
    let envelope = row.get_ref(2)?.as_str()?;
    let content = row.get_ref(3)?.as_str_or_null()?;
    let entry = match Entry::from_stored(envelope, content) {
        Err(error) => return Ok(Err(damaged(error.to_string()))),
        Ok(entry) => entry,
    };
    let Cite { chain: its_chain, seq: its_seq, hash } = entry.cite();
    if hash != said || its_chain != chain || its_seq != seq {
        return Ok(Err(damaged("its envelope does not belong at this place".into())));
    }
    Ok(Ok(entry))
}
