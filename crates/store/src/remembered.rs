//! What was worked out from a chain and is shown again and again, such as a job's card on the start page.
//!
//! It stands beside the head that it was worked out from, so what is older is not answered, and what was withheld takes
//! it along. It can be thrown away at any time.

use std::collections::HashMap;

use rusqlite::params;

use crate::Store;
use crate::error::StoreError;

impl Store {
    /// Texts of one sort that are still true of their chains, by chain.
    ///
    /// # Errors
    /// The database is damaged or cannot be read.
    pub fn remembered(&self, sort: &str) -> Result<HashMap<String, String>, StoreError> {
        self.reading(|connection| {
            let mut rows = connection.prepare_cached(
                "SELECT remembered.chain, text FROM remembered
                 JOIN chain ON chain.chain = remembered.chain AND chain.variant = 0
                 WHERE sort = ?1 AND remembered.hash = chain.hash AND remembered.withheld = chain.withheld",
            )?;
            rows.query_map([sort], |row| Ok((row.get(0)?, row.get(1)?)))?.collect()
        })
    }

    /// The text of one sort that was remembered of a chain, true of it still or not.
    ///
    /// # Errors
    /// The database is damaged or cannot be read.
    pub fn last_remembered(&self, sort: &str, chain: &str) -> Result<Option<String>, StoreError> {
        self.reading(|connection| {
            let mut rows =
                connection.prepare_cached("SELECT text FROM remembered WHERE sort = ?1 AND chain = ?2")?;
            let mut found = rows.query_map([sort, chain], |row| row.get(0))?;
            found.next().transpose()
        })
    }

    /// Remembers texts of one sort, each with the head at which its chain stood: its `next`, so that a text worked out
    /// before a later entry is not taken for one worked out after it.
    ///
    /// # Errors
    /// The database cannot be written.
    pub fn remember(&self, sort: &str, texts: &[(String, u64, String)]) -> Result<(), StoreError> {
        let mut writer = self.writing()?;
        let explain = |error: rusqlite::Error| StoreError::database(&self.ledger(), &error);
        let transaction = writer.transaction().map_err(explain)?;
        for (chain, next, text) in texts {
            let kept = transaction.execute(
                "INSERT OR REPLACE INTO remembered (sort, chain, hash, withheld, text)
                 SELECT ?1, chain, hash, withheld, ?4 FROM chain WHERE chain = ?2 AND variant = 0 AND next = ?3",
                params![sort, chain, crate::read::whole(*next), text],
            );
            kept.map_err(explain)?;
        }
        transaction.commit().map_err(explain)
    }
}
