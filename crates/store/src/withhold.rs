//! Withholding: an entry's content goes, by duty or on request, and its place in the chain stays.

use std::collections::BTreeSet;

use asfound_record::{Body, Cite, Entry, EntryError, Hash, Head};
use rusqlite::{Connection, params};
use serde_json::{Value, json};

use crate::disk::Access;
use crate::error::StoreError;
use crate::ledger::{Appended, Batch};
use crate::read;
use crate::search;
use crate::{Store, ledger};

/// The list of what was withheld, beside the ledger: an older copy of the ledger does not know it.
pub(crate) const LIST: &str = "withheld.jsonl";

/// What became of a withholding.
#[derive(Debug)]
pub struct Withheld {
    /// The `withheld/1` entry.
    pub appended: Appended,
    /// Hashes that the content named and that other entries name too: their files stay.
    pub still_shown: Vec<Hash>,
    /// The content is out of the ledger for good, but this was in the way of clearing its last traces (files, search,
    /// the write-ahead log). It is done at the next [`Store::open`].
    pub unfinished: Option<StoreError>,
}

impl Store {
    /// Takes the content of entry `of` out and adds the `withheld/1` entry that `make` makes to `chain`, in one
    /// transaction. `chain` is one of this workshop's own: for an entry of one's own the same chain, for one from
    /// elsewhere the workshop's. The words leave the search, and the photographs that the content named leave the
    /// vault with their previews, unless an entry that still has its content names them too. What was copied elsewhere
    /// or printed before is out of reach; so are the blocks of a disk that keeps old ones.
    ///
    /// # Errors
    /// [`StoreError::UnknownEntry`], [`StoreError::NotAWithholding`], and those of [`Store::append`]; nothing is
    /// changed then.
    pub fn withhold(
        &self,
        of: &Cite,
        make: impl FnOnce(&Head) -> Result<Entry, EntryError>,
        chain: &str,
        draft_id: Option<&str>,
    ) -> Result<Withheld, StoreError> {
        self.entry(of)?;
        let mut writer = self.writing()?;
        let (appended, still_shown) = self.in_transaction(&mut writer, |batch| {
            let appended = batch.append_any(make, chain, draft_id)?;
            match Body::of(&appended.entry) {
                Body::Withheld(withheld) if withheld.of == *of => {}
                // A retry after the withholding was itself withheld: its body is gone, its draft id vouches for it.
                Body::Gone if appended.repeated => {}
                _ => return Err(StoreError::NotAWithholding { chain: of.chain.clone(), seq: of.seq }),
            }
            let still_shown = batch.take_out(of)?;
            Ok((appended, still_shown))
        })?;
        let unfinished = self.clear_traces(&writer).err();
        Ok(Withheld { appended, still_shown, unfinished })
    }

    /// Takes out again whatever was withheld before and came back with a copy of the ledger, of the photographs, or of
    /// a chain from elsewhere. [`Store::open`] does it by itself. Answers how many contents were taken out.
    ///
    /// # Errors
    /// The disk's and the database's.
    pub fn apply_withholdings(&self) -> Result<u64, StoreError> {
        let mut writer = self.writing()?;
        let listed = self.listed()?;
        let taken_out = self.in_transaction(&mut writer, |batch| {
            for hash in &listed.files {
                batch.note_file(*hash)?;
            }
            let mut known = batch.withholdings()?;
            known.extend(listed.entries);
            let mut taken_out = 0;
            for cite in &known {
                taken_out += u64::from(batch.has_content(cite)?);
                batch.take_out(cite)?;
            }
            Ok(taken_out)
        })?;
        match self.clear_traces(&writer) {
            // Somebody reads at this moment. Nobody is kept from working for it: the log is emptied another time.
            Err(StoreError::Busy { .. }) => Ok(taken_out),
            cleared => cleared.map(|()| taken_out),
        }
    }

    /// After a withholding is committed: files, the list, the log. The writer is held, so that no entry can begin to
    /// name a photograph while it goes.
    pub(crate) fn clear_traces(&self, writer: &Connection) -> Result<(), StoreError> {
        let explain = |error: rusqlite::Error| StoreError::database(&self.ledger(), &error);
        for hash in unshown(writer).map_err(explain)? {
            self.vault.remove_photograph(hash)?;
        }
        self.write_list(writer)?;
        // The answer's first column says whether a reader of an old moment kept the log from being emptied.
        let busy: bool =
            writer.query_row("PRAGMA wal_checkpoint(TRUNCATE)", (), |row| row.get(0)).map_err(explain)?;
        if busy { Err(StoreError::Busy { place: self.ledger() }) } else { Ok(()) }
    }

    fn write_list(&self, writer: &Connection) -> Result<(), StoreError> {
        let explain = |error: rusqlite::Error| StoreError::database(&self.ledger(), &error);
        let mut lines = String::new();
        for Cite { chain, seq, hash } in withholdings(writer).map_err(explain)? {
            lines.push_str(&format!("{}\n", json!({ "chain": chain, "hash": hash.to_string(), "seq": seq })));
        }
        for hash in files(writer).map_err(explain)? {
            lines.push_str(&format!("{}\n", json!({ "file": hash.to_string() })));
        }
        let place = self.folder().join(LIST);
        let there = self.vault.read_if_there(&place)?.unwrap_or_default();
        if there == lines.as_bytes() {
            Ok(())
        } else {
            self.vault.keep(&place, lines.as_bytes(), Access::Usual)
        }
    }

    fn listed(&self) -> Result<Listed, StoreError> {
        let bytes = self.vault.read_if_there(&self.folder().join(LIST))?.unwrap_or_default();
        let mut listed = Listed::default();
        for line in String::from_utf8_lossy(&bytes).lines() {
            let Ok(value) = serde_json::from_str::<Value>(line) else { continue };
            let hash = |name: &str| value.get(name).and_then(Value::as_str).and_then(Hash::from_hex);
            if let Some(file) = hash("file") {
                listed.files.insert(file);
            }
            let chain = value.get("chain").and_then(Value::as_str);
            let seq = value.get("seq").and_then(Value::as_u64);
            if let (Some(chain), Some(seq), Some(hash)) = (chain, seq, hash("hash")) {
                listed.entries.insert(Cite { chain: chain.to_owned(), seq, hash });
            }
        }
        Ok(listed)
    }
}

/// What the list beside the ledger says.
#[derive(Default)]
struct Listed {
    entries: BTreeSet<Cite>,
    files: BTreeSet<Hash>,
}

impl Batch<'_> {
    /// Takes the content of an entry out of every copy of its chain. Answers the hashes that others name too.
    pub(crate) fn take_out(&mut self, of: &Cite) -> Result<Vec<Hash>, StoreError> {
        let key = params![of.chain, read::whole(of.seq), &of.hash.0[..]];
        let (variants, named) = self.sql(|connection| {
            connection.execute("INSERT OR IGNORE INTO withholding (chain, seq, hash) VALUES (?1, ?2, ?3)", key)?;
            let variants = connection
                .prepare("SELECT variant FROM entry WHERE chain = ?1 AND seq = ?2 AND hash = ?3 AND content IS NOT NULL")?
                .query_map(key, |row| row.get(0))?
                .collect::<rusqlite::Result<Vec<u32>>>()?;
            let mut named = BTreeSet::new();
            for variant in &variants {
                let one = params![of.chain, variant, read::whole(of.seq)];
                let hashes = connection
                    .prepare("DELETE FROM cited WHERE chain = ?1 AND variant = ?2 AND seq = ?3 RETURNING hash")?
                    .query_map(one, |row| read::hash(row, 0))?
                    .collect::<rusqlite::Result<Vec<_>>>()?;
                named.extend(hashes);
                search::take_out(connection, &of.chain, *variant, read::whole(of.seq))?;
                connection
                    .execute("UPDATE entry SET content = NULL WHERE chain = ?1 AND variant = ?2 AND seq = ?3", one)?;
            }
            Ok((variants, named))
        })?;
        for variant in variants {
            self.mark_stale(&of.chain, variant);
        }
        let mut still_shown = Vec::new();
        for hash in named {
            self.note_file(hash)?;
            if self.is_shown(hash)? {
                still_shown.push(hash);
            }
        }
        Ok(still_shown)
    }

    /// What a chain from elsewhere withholds of itself. It has no say over another chain.
    pub(crate) fn take_out_within(&mut self, entry: &Entry) -> Result<bool, StoreError> {
        match Body::of(entry) {
            Body::Withheld(withheld) if withheld.of.chain == entry.envelope().chain => {
                self.take_out(&withheld.of)?;
                Ok(true)
            }
            _ => Ok(entry.envelope().kind == ledger::WITHHELD),
        }
    }

    fn note_file(&self, hash: Hash) -> Result<(), StoreError> {
        self.sql(|connection| {
            connection
                .execute("INSERT OR IGNORE INTO withheld_file (hash) VALUES (?1)", [&hash.0[..]])
                .map(drop)
        })
    }

    fn is_shown(&self, hash: Hash) -> Result<bool, StoreError> {
        self.sql(|connection| {
            connection.prepare_cached("SELECT 1 FROM cited WHERE hash = ?1")?.exists([&hash.0[..]])
        })
    }

    fn has_content(&self, cite: &Cite) -> Result<bool, StoreError> {
        self.sql(|connection| {
            connection
                .prepare_cached(
                    "SELECT 1 FROM entry WHERE chain = ?1 AND seq = ?2 AND hash = ?3 AND content IS NOT NULL",
                )?
                .exists(params![cite.chain, read::whole(cite.seq), &cite.hash.0[..]])
        })
    }

    fn withholdings(&self) -> Result<BTreeSet<Cite>, StoreError> {
        self.sql(withholdings)
    }
}

fn withholdings(connection: &Connection) -> rusqlite::Result<BTreeSet<Cite>> {
    connection
        .prepare("SELECT chain, seq, hash FROM withholding")?
        .query_map((), |row| {
            Ok(Cite { chain: row.get(0)?, seq: read::count(row, 1)?, hash: read::hash(row, 2)? })
        })?
        .collect()
}

fn files(connection: &Connection) -> rusqlite::Result<Vec<Hash>> {
    connection
        .prepare("SELECT hash FROM withheld_file ORDER BY hash")?
        .query_map((), |row| read::hash(row, 0))?
        .collect()
}

/// Files of withheld contents that no entry names any more.
pub(crate) fn unshown(connection: &Connection) -> rusqlite::Result<Vec<Hash>> {
    connection
        .prepare(
            "SELECT hash FROM withheld_file
             WHERE NOT EXISTS (SELECT 1 FROM cited WHERE cited.hash = withheld_file.hash) ORDER BY hash",
        )?
        .query_map((), |row| read::hash(row, 0))?
        .collect()
}
