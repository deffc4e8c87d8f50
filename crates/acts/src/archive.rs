//! The archive is verified, copied and searched.

use std::path::Path;

use asfound_record::Report;
use asfound_store::{Found, StoreReport};

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

    /// How many entries there are in all chains.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn count_of_entries(&self) -> Result<u64, ActError> {
        Ok(self.store.chains()?.iter().map(|info| info.entries).sum())
    }

    /// Copies the whole workshop into another folder.
    ///
    /// # Errors
    /// Where the target is not empty or cannot be written.
    pub fn copy_to(&self, folder: &Path) -> Result<(), ActError> {
        Ok(self.store.copy_to(folder)?)
    }

    /// Finds words in what was kept: at most `most` places, the latest first.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn search(&self, words: &str, most: u32) -> Result<Vec<Found>, ActError> {
        // A sign that ends a text for the database would cut the question short.
        let words: String = words.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect();
        Ok(self.store.search(&words, most)?)
    }
}

/// Verifies an exported file with nothing but itself.
pub fn verify_lines(text: &str) -> Vec<Report> {
    asfound_record::verify_lines(text)
}
