//! Jobs from other workshops: taken in as files, found again, and only read.

use std::collections::BTreeMap;

use asfound_record::{Entry, Hash, verify};
use asfound_store::{ChainInfo, Imported};
use asfound_study::bench::Card;

use crate::error::ActError;
use crate::workshop::Workshop;

/// How the number begins under which a job from elsewhere is asked for here.
pub(crate) const PREFIX: &str = "elsewhere-";

/// A job that came from another workshop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Elsewhere {
    /// The number under which it is asked for here. Its own number, which may be one of ours too, is on the card.
    pub number: String,
    /// 0 for the copy that came first; from 1 on for copies that differ from it, kept beside.
    pub copy: u32,
    /// Its card.
    pub card: Card,
}

/// The number of a chain from elsewhere: another workshop chose its id, so it is not trusted in an address.
pub(crate) fn handle(info: &ChainInfo) -> String {
    let hash = Hash::of(info.chain.as_bytes()).to_string();
    let beside = if info.variant == 0 { String::new() } else { format!("-{}", info.variant) };
    format!("{PREFIX}{}{beside}", &hash[..12])
}

impl Workshop {
    /// Whether the job with this number came from another workshop.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read.
    pub fn is_from_elsewhere(&self, number: &str) -> Result<bool, ActError> {
        Ok(!self.place_of(number)?.own)
    }

    /// Takes in lines from another workshop. Its chains are only read here, and never merge with ours. A copy of one
    /// of this workshop's own chains is looked at and never taken in.
    ///
    /// # Errors
    /// Where there is no line, a line cannot be read, a chain does not hold together, or the folder cannot be written.
    pub fn take_in(&self, text: &str) -> Result<Vec<Imported>, ActError> {
        let mut chains: BTreeMap<String, Vec<Entry>> = BTreeMap::new();
        for (at, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
            let entry = Entry::from_line(line).map_err(|what| ActError::BadLine { line: at + 1, what })?;
            chains.entry(entry.envelope().chain.clone()).or_default().push(entry);
        }
        if chains.is_empty() {
            return Err(ActError::Empty {
                field: "The file",
                example: "a job's lines, as taken out at its history",
            });
        }
        for entries in chains.values() {
            if let Some(fault) = verify(entries.iter()).faults.first() {
                return Err(ActError::BadFile(fault.to_string()));
            }
        }
        // Those of our own first: only they can still be refused, and then nothing was taken in.
        let own: Vec<String> =
            self.store.chains()?.into_iter().filter(|info| info.own).map(|info| info.chain).collect();
        let (ours, theirs): (Vec<_>, Vec<_>) = chains.into_iter().partition(|(chain, _)| own.contains(chain));
        let taken = ours.iter().chain(&theirs).map(|(_, entries)| self.store.import_foreign(entries));
        Ok(taken.collect::<Result<_, _>>()?)
    }

    /// The number under which a chain, or one copy of it, is asked for here; `None` for the workshop's own chain and
    /// for that of another workshop itself.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn number_of(&self, chain: &str, copy: u32) -> Result<Option<String>, ActError> {
        let about = self.about()?;
        if let Some(known) = about.jobs.iter().find(|item| item.body.chain == chain) {
            return Ok(Some(known.body.number.clone()));
        }
        let of_job = |info: &ChainInfo| !info.own && info.first_kind != "workshop/1";
        let chains = self.store.chains()?;
        let known = chains.iter().find(|info| info.chain == chain && info.variant == copy);
        Ok(known.filter(|info| of_job(info)).map(handle))
    }
}
