//! Chains from elsewhere: kept to be read, never written, never merged.

use std::collections::BTreeSet;

use asfound_record::{Entry, Meeting, meet, verify};
use rusqlite::OptionalExtension as _;

use crate::Store;
use crate::error::StoreError;
use crate::ledger::Batch;

/// What became of a chain that was brought in.
#[derive(Debug)]
pub struct Imported {
    /// The chain.
    pub chain: String,
    /// Which copy of the chain it is now, or is the same as: 0, or the number of a differing one kept beside.
    pub variant: u32,
    /// How it stood to the copy that was here. `Differs`: it is kept beside as a new variant. A chain that was not here
    /// extends nothing by all its entries.
    pub meeting: Meeting,
    /// How many entries were added.
    pub added: u64,
    /// Contents that it withholds are out of the ledger for good, but this was in the way of clearing their last
    /// traces. It is done at the next [`Store::open`].
    pub unfinished: Option<StoreError>,
}

impl Store {
    /// Takes in one chain from elsewhere. It stays read-only. A longer copy of one that is here extends it; a shorter
    /// one changes nothing; a differing one is kept beside under a number of its own. Content that a copy here lacks is
    /// not filled in from another, and what was withheld here stays withheld.
    ///
    /// A copy of one of this workshop's own chains is looked at and never taken in.
    ///
    /// # Errors
    /// [`StoreError::NotOneChain`], [`StoreError::Faulty`], [`StoreError::OwnChain`] where it differs from or goes on
    /// beyond this workshop's own, or the database's; nothing is taken in then.
    pub fn import_foreign(&self, entries: &[Entry]) -> Result<Imported, StoreError> {
        let chains: BTreeSet<&str> = entries.iter().map(|entry| entry.envelope().chain.as_str()).collect();
        let [chain] = chains.iter().copied().collect::<Vec<_>>()[..] else {
            return Err(StoreError::NotOneChain { found: chains.len() });
        };
        if let Some(fault) = verify(entries.iter()).faults.first() {
            return Err(StoreError::Faulty { chain: chain.to_owned(), fault: fault.to_string() });
        }
        let mut writer = self.writing()?;
        let (mut imported, withholds) =
            self.in_transaction(&mut writer, |batch| take_in(batch, chain, entries))?;
        if withholds {
            imported.unfinished = self.clear_traces(&writer).err();
        }
        Ok(imported)
    }
}

/// Answers also whether the new entries withhold anything.
fn take_in(batch: &mut Batch<'_>, chain: &str, theirs: &[Entry]) -> Result<(Imported, bool), StoreError> {
    let (variant, meeting) = closest(batch, chain, theirs)?;
    let imported =
        |variant, added| Imported { chain: chain.to_owned(), variant, meeting, added, unfinished: None };
    if batch.is_own(chain)? == Some(true) {
        return match meeting {
            Meeting::Same | Meeting::Shorter => Ok((imported(0, 0), false)),
            Meeting::Extends { by } => own(chain, format!("has {by} entries that were not written here")),
            Meeting::Differs { at_seq } => own(chain, format!("differs from it from entry {at_seq} on")),
            Meeting::OtherChain => own(chain, "is of another chain".to_owned()),
        };
    }
    let new = match meeting {
        Meeting::Same | Meeting::Shorter => &[],
        Meeting::Extends { by } => &theirs[theirs.len() - by as usize..],
        Meeting::Differs { .. } | Meeting::OtherChain => theirs,
    };
    batch.begin_chain(chain, variant, false)?;
    let mut withholds = false;
    for entry in new {
        batch.keep(entry, variant, None)?;
        withholds |= batch.take_out_within(entry)?;
    }
    Ok((imported(variant, new.len() as u64), withholds))
}

fn own<T>(chain: &str, difference: String) -> Result<T, StoreError> {
    Err(StoreError::OwnChain { chain: chain.to_owned(), difference })
}

/// The copy here that the entries agree with, or the number for a new one beside those that are here.
fn closest(batch: &Batch<'_>, chain: &str, theirs: &[Entry]) -> Result<(u32, Meeting), StoreError> {
    let count: u32 = batch
        .sql(|connection| {
            let select = "SELECT max(variant) + 1 FROM chain WHERE chain = ?1";
            connection.query_row(select, [chain], |row| row.get::<_, Option<u32>>(0)).optional()
        })?
        .flatten()
        .unwrap_or(0);
    if count == 0 {
        return Ok((0, Meeting::Extends { by: theirs.len() as u64 }));
    }
    let mut longest_agreement = 0;
    for variant in 0..count {
        match meet(&batch.entries(chain, variant)?, theirs) {
            Meeting::Differs { at_seq } => longest_agreement = longest_agreement.max(at_seq),
            meeting => return Ok((variant, meeting)),
        }
    }
    Ok((count, Meeting::Differs { at_seq: longest_agreement }))
}
