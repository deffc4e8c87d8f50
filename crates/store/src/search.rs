//! Words in the entries. The index is worked out from the entries and can be made again.

use asfound_record::Cite;
use rusqlite::{Connection, params};
use serde_json::Value;

use crate::Store;
use crate::error::StoreError;
use crate::read;

/// An entry that has the words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// Which entry.
    pub cite: Cite,
    /// Which copy of its chain: 0, or a differing one from elsewhere.
    pub variant: u32,
    /// Its kind.
    pub kind: String,
    /// The words around the place.
    pub excerpt: String,
}

impl Store {
    /// Entries that have all the words, the ones that came last first: weighing them against each other would mean to
    /// read every match, and a lifetime of entries has many. Each word may go on: `rewo` finds `rewound`. Capitals and accents
    /// make no difference. Entries whose content was withheld are not found.
    ///
    /// # Errors
    /// The database is damaged or cannot be read.
    pub fn search(&self, words: &str, limit: u32) -> Result<Vec<Found>, StoreError> {
        let asked = question(words);
        if asked.is_empty() {
            return Ok(Vec::new());
        }
        self.reading(|connection| {
            let mut rows = connection.prepare_cached(
                "SELECT words.chain, words.variant, words.seq, entry.hash, entry.kind,
                        snippet(search, 0, '', '', ' … ', 16)
                 FROM search JOIN words ON words.id = search.rowid
                 JOIN entry ON entry.chain = words.chain AND entry.variant = words.variant AND entry.seq = words.seq
                 WHERE search MATCH ?1 ORDER BY search.rowid DESC LIMIT ?2",
            )?;
            rows.query_map(params![asked, limit], |row| {
                Ok(Found {
                    cite: Cite { chain: row.get(0)?, seq: read::count(row, 2)?, hash: read::hash(row, 3)? },
                    variant: row.get(1)?,
                    kind: row.get(4)?,
                    excerpt: row.get(5)?,
                })
            })?
            .collect()
        })
    }

    /// Makes the index of words again from the entries. Their order of arrival is kept as far as it is known.
    ///
    /// # Errors
    /// [`StoreError::DamagedEntry`], or the database's; the index is as it was then.
    pub fn rebuild_search(&self) -> Result<(), StoreError> {
        self.append_many(|batch| {
            let chains = batch.sql(|connection| {
                connection.execute(
                    "DELETE FROM words WHERE NOT EXISTS (
                         SELECT 1 FROM entry WHERE entry.chain = words.chain AND entry.variant = words.variant
                         AND entry.seq = words.seq AND entry.content IS NOT NULL)",
                    (),
                )?;
                let mut rows =
                    connection.prepare("SELECT chain, variant FROM chain ORDER BY chain, variant")?;
                rows.query_map((), |row| Ok((row.get(0)?, row.get(1)?)))?
                    .collect::<rusqlite::Result<Vec<(String, u32)>>>()
            })?;
            for (chain, variant) in chains {
                for entry in batch.entries(&chain, variant)? {
                    let seq = read::whole(entry.envelope().seq);
                    if let Some(body) = entry.body() {
                        batch.sql(|connection| {
                            keep_words(connection, &chain, variant, seq, &words_in(body))
                        })?;
                    }
                }
            }
            batch.sql(|connection| connection.execute_batch("INSERT INTO search (search) VALUES ('rebuild')"))
        })
    }
}

/// What the index is asked: each word quoted, so that no sign in it is taken for the index's own grammar.
fn question(words: &str) -> String {
    let quoted = words
        .split_whitespace()
        .filter(|word| word.chars().any(char::is_alphanumeric))
        .map(|word| format!("\"{}\"*", word.replace('"', "\"\"")));
    quoted.collect::<Vec<_>>().join(" ")
}

/// Puts an entry's words in the index.
pub(crate) fn add(
    connection: &Connection,
    chain: &str,
    variant: u32,
    seq: i64,
    body: &Value,
) -> rusqlite::Result<()> {
    let words = words_in(body);
    if words.is_empty() {
        return Ok(());
    }
    keep_words(connection, chain, variant, seq, &words)?;
    connection
        .prepare_cached("INSERT INTO search (rowid, words) VALUES (?1, ?2)")?
        .execute(params![connection.last_insert_rowid(), words])?;
    Ok(())
}

fn keep_words(
    connection: &Connection,
    chain: &str,
    variant: u32,
    seq: i64,
    words: &str,
) -> rusqlite::Result<()> {
    connection
        .prepare_cached(
            "INSERT INTO words (chain, variant, seq, words) VALUES (?1, ?2, ?3, ?4)
             ON CONFLICT (chain, variant, seq) DO UPDATE SET words = excluded.words",
        )?
        .execute(params![chain, variant, seq, words])
        .map(drop)
}

/// Takes an entry's words out of the index, first from the index itself, which needs the words to find its places.
pub(crate) fn take_out(connection: &Connection, chain: &str, variant: u32, seq: i64) -> rusqlite::Result<()> {
    connection.execute(
        "INSERT INTO search (search, rowid, words)
         SELECT 'delete', id, words FROM words WHERE chain = ?1 AND variant = ?2 AND seq = ?3",
        params![chain, variant, seq],
    )?;
    connection.execute(
        "DELETE FROM words WHERE chain = ?1 AND variant = ?2 AND seq = ?3",
        params![chain, variant, seq],
    )?;
    Ok(())
}

/// All texts of a body in its order, without hashes and keys, which nobody looks for by word.
fn words_in(body: &Value) -> String {
    let mut words = Vec::new();
    each_text(body, &mut |text| {
        let is_hex = text.len() >= 32 && text.bytes().all(|sign| sign.is_ascii_hexdigit());
        if !is_hex && !text.trim().is_empty() {
            words.push(text.to_owned());
        }
    });
    words.join(" · ")
}

/// Every text in a JSON value. Bodies are not deep: the record refuses what is.
pub(crate) fn each_text(value: &Value, take: &mut impl FnMut(&str)) {
    match value {
        Value::String(text) => take(text),
        Value::Array(items) => items.iter().for_each(|item| each_text(item, take)),
        Value::Object(fields) => fields.values().for_each(|field| each_text(field, take)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}
