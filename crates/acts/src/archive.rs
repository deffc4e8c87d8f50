//! The archive is verified, copied, and exchanged as files.

use std::collections::BTreeMap;
use std::path::Path;

use asfound_record::{Entry, Report};
use asfound_store::{Found, Imported, StoreReport};

use crate::error::ActError;
use crate::workshop::Workshop;

impl Workshop {
    /// Verifies every chain, every photograph and the database itself.
    ///
    /// # Errors
    /// Where the folder cannot be read at all. What is wrong in it is in the report.
    pub fn verify(&self) -> Result<StoreReport, ActError> {
        Ok(self.store.verify()?)
    }

    /// Takes in lines from another workshop. Its chains are only read here, and never merge with ours.
    ///
    /// # Errors
    /// Where a line cannot be read or the folder cannot be written.
    pub fn take_in(&self, text: &str) -> Result<Vec<Imported>, ActError> {
        let entries: Result<Vec<Entry>, _> =
            text.lines().filter(|line| !line.trim().is_empty()).map(Entry::from_line).collect();
        let mut chains: BTreeMap<String, Vec<Entry>> = BTreeMap::new();
        for entry in entries? {
            chains.entry(entry.envelope().chain.clone()).or_default().push(entry);
        }
        let taken = chains.values().map(|chain| self.store.import_foreign(chain));
        Ok(taken.collect::<Result<_, _>>()?)
    }

    /// Copies the whole workshop into another folder.
    ///
    /// # Errors
    /// Where the target is not empty or cannot be written.
    pub fn copy_to(&self, folder: &Path) -> Result<(), ActError> {
        Ok(self.store.copy_to(folder)?)
    }

    /// Finds words in what was kept.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn search(&self, words: &str, most: u32) -> Result<Vec<Found>, ActError> {
        Ok(self.store.search(words, most)?)
    }
}

/// Verifies an exported file with nothing but itself.
pub fn verify_lines(text: &str) -> Vec<Report> {
    asfound_record::verify_lines(text)
}
