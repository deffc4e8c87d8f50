//! Adding to the ledger: one writer, whole transactions, and the lists that are worked out from each entry.

use std::collections::BTreeSet;

use asfound_record::{Body, Entry, EntryError, Hash, Head};
use rusqlite::{Connection, OptionalExtension as _, Transaction, params};
use serde_json::Value;

use crate::error::StoreError;
use crate::read;
use crate::search;
use crate::{Store, job};

/// The kind that takes content out; it goes through [`Store::withhold`].
pub(crate) const WITHHELD: &str = "withheld/1";

/// What became of an entry that was to be added.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Appended {
    /// The entry as it is kept.
    pub entry: Entry,
    /// The draft id was known: this is the entry it was kept as the first time, and nothing was added.
    pub repeated: bool,
}

impl Store {
    /// Adds an entry to one of this workshop's own chains; the first one begins the chain. `make` is given the head it
    /// follows. A draft id that was seen before in this chain answers with the entry already kept, so that a retry does
    /// no harm. `make` must not write to this store: the writer is busy with it.
    ///
    /// # Errors
    /// What `make` answers, [`StoreError::ForeignChain`], [`StoreError::PhotographNotKept`], or the database's; nothing
    /// is added then.
    pub fn append(
        &self,
        make: impl FnOnce(&Head) -> Result<Entry, EntryError>,
        chain: &str,
        draft_id: Option<&str>,
    ) -> Result<Appended, StoreError> {
        self.append_many(|batch| batch.append(make, chain, draft_id))
    }

    /// Adds several entries, to one chain or more, in one transaction: all of them or none.
    ///
    /// # Errors
    /// What `work` answers, or the database's; nothing is added then.
    pub fn append_many<T>(
        &self,
        work: impl FnOnce(&mut Batch<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let mut writer = self.writing()?;
        self.in_transaction(&mut writer, work)
    }

    pub(crate) fn in_transaction<T>(
        &self,
        writer: &mut Connection,
        work: impl FnOnce(&mut Batch<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let explain = |error: rusqlite::Error| StoreError::database(&self.ledger(), &error);
        let transaction =
            writer.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate).map_err(explain)?;
        let mut batch = Batch { transaction, store: self, stale: BTreeSet::new() };
        let done = work(&mut batch)?;
        batch.refresh_summaries()?;
        batch.transaction.commit().map_err(explain)?;
        Ok(done)
    }
}

/// A transaction that entries are being added in.
pub struct Batch<'a> {
    pub(crate) transaction: Transaction<'a>,
    store: &'a Store,
    /// Chains whose line in the list of jobs must be worked out again.
    stale: BTreeSet<(String, u32)>,
}

impl Batch<'_> {
    /// Where a chain stands within this transaction.
    ///
    /// # Errors
    /// The database is damaged or cannot be read.
    pub fn head(&self, chain: &str) -> Result<Head, StoreError> {
        let head = read::head(&self.transaction, chain, 0).map_err(|error| self.explain(&error))?;
        Ok(head.unwrap_or_else(|| Head::empty(chain)))
    }

    /// As [`Store::append`].
    ///
    /// # Errors
    /// As [`Store::append`].
    pub fn append(
        &mut self,
        make: impl FnOnce(&Head) -> Result<Entry, EntryError>,
        chain: &str,
        draft_id: Option<&str>,
    ) -> Result<Appended, StoreError> {
        let appended = self.append_any(make, chain, draft_id)?;
        if !appended.repeated && appended.entry.envelope().kind == WITHHELD {
            let chain = chain.to_owned();
            return Err(StoreError::NotAWithholding { chain, seq: appended.entry.envelope().seq });
        }
        Ok(appended)
    }

    /// [`Batch::append`] for every kind.
    pub(crate) fn append_any(
        &mut self,
        make: impl FnOnce(&Head) -> Result<Entry, EntryError>,
        chain: &str,
        draft_id: Option<&str>,
    ) -> Result<Appended, StoreError> {
        if let Some(entry) = draft_id.map(|draft| self.kept_draft(chain, draft)).transpose()?.flatten() {
            return Ok(Appended { entry, repeated: true });
        }
        if self.is_own(chain)? == Some(false) {
            return Err(StoreError::ForeignChain { chain: chain.to_owned() });
        }
        let head = self.head(chain)?;
        let entry = make(&head)?;
        let envelope = entry.envelope();
        if envelope.chain != chain || envelope.seq != head.next || envelope.prev != head.hash {
            let (chain, seq) = (envelope.chain.clone(), envelope.seq);
            return Err(StoreError::NotNext { chain, seq, next: head.next });
        }
        self.refuse_missing_files(&entry)?;
        self.begin_chain(chain, 0, true)?;
        self.keep(&entry, 0, draft_id)?;
        Ok(Appended { entry, repeated: false })
    }

    fn kept_draft(&self, chain: &str, draft: &str) -> Result<Option<Entry>, StoreError> {
        let place = self.store.ledger();
        let select =
            "SELECT seq, hash, envelope, content FROM entry WHERE chain = ?1 AND variant = 0 AND draft = ?2";
        self.sql(|transaction| {
            let mut rows = transaction.prepare_cached(select)?;
            rows.query_row(params![chain, draft], |row| read::stored(row, &place, chain)).optional()
        })?
        .transpose()
    }

    pub(crate) fn is_own(&self, chain: &str) -> Result<Option<bool>, StoreError> {
        let select = "SELECT own FROM chain WHERE chain = ?1 AND variant = 0";
        self.sql(|transaction| {
            transaction.prepare_cached(select)?.query_row([chain], |row| row.get(0)).optional()
        })
    }

    pub(crate) fn begin_chain(&self, chain: &str, variant: u32, own: bool) -> Result<(), StoreError> {
        let insert = "INSERT OR IGNORE INTO chain (chain, variant, own) VALUES (?1, ?2, ?3)";
        self.sql(|transaction| {
            transaction.prepare_cached(insert)?.execute(params![chain, variant, own]).map(drop)
        })
    }

    /// Adds an entry, its words and the hashes in it. Content that was withheld does not come back with it.
    pub(crate) fn keep(
        &mut self,
        entry: &Entry,
        variant: u32,
        draft: Option<&str>,
    ) -> Result<(), StoreError> {
        let envelope = entry.envelope();
        let (chain, seq) = (&envelope.chain, read::whole(envelope.seq));
        let content = if self.is_withheld(entry)? { None } else { entry.content_text() };
        self.sql(|transaction| {
            transaction
                .prepare_cached(
                    "INSERT INTO entry (chain, variant, seq, hash, kind, envelope, content, draft)
                     VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
                )?
                .execute(params![
                    chain,
                    variant,
                    seq,
                    &entry.hash().0[..],
                    envelope.kind,
                    entry.envelope_text(),
                    content,
                    draft
                ])?;
            let Some(body) = entry.body().filter(|_| content.is_some()) else { return Ok(()) };
            for hash in hashes_in(body) {
                transaction
                    .prepare_cached(
                        "INSERT OR IGNORE INTO cited (hash, chain, variant, seq) VALUES (?1, ?2, ?3, ?4)",
                    )?
                    .execute(params![&hash.0[..], chain, variant, seq])?;
            }
            search::add(transaction, chain, variant, seq, body)
        })?;
        if job::shows_in_list(entry) {
            self.stale.insert((chain.clone(), variant));
        }
        Ok(())
    }

    fn is_withheld(&self, entry: &Entry) -> Result<bool, StoreError> {
        let cite = entry.cite();
        self.sql(|transaction| {
            transaction
                .prepare_cached("SELECT 1 FROM withholding WHERE chain = ?1 AND seq = ?2 AND hash = ?3")?
                .exists(params![cite.chain, read::whole(cite.seq), &cite.hash.0[..]])
        })
    }

    fn refuse_missing_files(&self, entry: &Entry) -> Result<(), StoreError> {
        for text in Body::of(entry).files() {
            let kept = match Hash::from_hex(text) {
                Some(hash) => self.store.vault.has_photograph(hash)?,
                None => false,
            };
            if !kept {
                return Err(StoreError::PhotographNotKept { hash: text.to_owned() });
            }
        }
        Ok(())
    }

    pub(crate) fn mark_stale(&mut self, chain: &str, variant: u32) {
        self.stale.insert((chain.to_owned(), variant));
    }

    fn refresh_summaries(&mut self) -> Result<(), StoreError> {
        for (chain, variant) in std::mem::take(&mut self.stale) {
            let entries = self.entries(&chain, variant)?;
            let summary = job::summary(&entries);
            self.sql(|transaction| {
                transaction
                    .prepare_cached(
                        "UPDATE chain SET number = ?3, title = ?4, piece = ?5 WHERE chain = ?1 AND variant = ?2",
                    )?
                    .execute(params![chain, variant, summary.number, summary.title, summary.piece])
            })?;
        }
        Ok(())
    }

    pub(crate) fn entries(&self, chain: &str, variant: u32) -> Result<Vec<Entry>, StoreError> {
        let place = self.store.ledger();
        self.sql(|transaction| read::entries(transaction, &place, chain, variant, 0))?
    }

    pub(crate) fn sql<T>(
        &self,
        work: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, StoreError> {
        work(&self.transaction).map_err(|error| self.explain(&error))
    }

    fn explain(&self, error: &rusqlite::Error) -> StoreError {
        StoreError::database(&self.store.ledger(), error)
    }
}

/// Every SHA-256 that stands in a body as 64 hex signs, whatever the kind: so a kind of a later release is covered too.
pub(crate) fn hashes_in(body: &Value) -> BTreeSet<Hash> {
    let mut found = BTreeSet::new();
    search::each_text(body, &mut |text| found.extend(Hash::from_hex(text)));
    found
}

#[cfg(test)]
mod tests {
    use asfound_record::Draft;

    use super::*;

    fn note(number: usize) -> impl FnOnce(&Head) -> Result<Entry, EntryError> {
        move |head| {
            let (at, by, kind) = ("2026-11-25T09:30:00+00:00".into(), "p-1".into(), "note/1".into());
            let body = serde_json::json!({ "words": format!("{number} {}", "dust and wax ".repeat(50)) });
            Entry::make(Draft { at, by, kind, corrects: None, body }, head, [7; 32])
        }
    }

    #[test]
    fn on_a_full_disk_an_entry_is_kept_whole_or_not_at_all() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::start(folder.path()).unwrap();
        // SQLite answers as on a full disk once the file may not have another page.
        let limit =
            |pages: i64| store.writing().unwrap().pragma_update(None, "max_page_count", pages).unwrap();
        limit(60);
        let mut kept = Vec::new();
        let error = loop {
            match store.append(note(kept.len()), "job-1", Some(&kept.len().to_string())) {
                Ok(appended) => kept.push(appended.entry),
                Err(error) => break error,
            }
        };
        assert!(matches!(error, StoreError::DiskFull { .. }), "{error}");
        assert!(kept.len() > 10);
        assert_eq!(store.entries("job-1").unwrap(), kept);
        assert!(store.verify().unwrap().is_whole());
        // With room again, the same draft is kept.
        limit(1_000_000);
        kept.push(store.append(note(kept.len()), "job-1", Some(&kept.len().to_string())).unwrap().entry);
        drop(store);
        let store = Store::open(folder.path()).unwrap();
        assert_eq!(store.entries("job-1").unwrap(), kept);
        assert!(store.verify().unwrap().is_whole());
    }
}
