//! Folded jobs: kept in memory between two looks, and always equal to folding the entries anew.

use std::sync::{Arc, PoisonError};

use asfound_record::{Body, Entry, Hash, Job, fold};
use rusqlite::OptionalExtension as _;

use crate::Store;
use crate::error::StoreError;
use crate::read;

/// How many jobs are kept folded. A workshop has a handful open; an older one takes milliseconds to fold.
const KEPT: usize = 64;

/// A folded chain and what it was folded from.
pub(crate) struct Folded {
    state: State,
    job: Arc<Job>,
}

/// All that decides what a chain folds to: its head, and how many contents were taken out behind it.
#[derive(Clone, Copy, PartialEq, Eq)]
struct State {
    next: u64,
    hash: Hash,
    withheld: u64,
}

impl Store {
    /// A chain, folded. What was folded before is used again and only the new entries are taken in.
    ///
    /// # Errors
    /// [`StoreError::UnknownChain`], [`StoreError::DamagedEntry`], or the database's.
    pub fn job(&self, chain: &str) -> Result<Arc<Job>, StoreError> {
        let known = {
            let jobs = self.jobs.lock().unwrap_or_else(PoisonError::into_inner);
            jobs.get(chain).map(|folded| (folded.state, Arc::clone(&folded.job)))
        };
        let place = self.ledger();
        let (state, entries) = self.reading(|connection| {
            // One transaction, so that the head and the entries are of one moment.
            let moment = connection.unchecked_transaction()?;
            let Some(state) = state(&moment, chain)? else { return Ok((None, Ok(Vec::new()))) };
            let from = match &known {
                Some((before, _)) if *before == state => state.next,
                Some((before, _)) if before.withheld == state.withheld && before.next < state.next => {
                    before.next
                }
                _ => 0,
            };
            Ok((Some((state, from)), read::entries(&moment, &place, chain, 0, from)?))
        })?;
        let Some((state, from)) = state else {
            return Err(StoreError::UnknownChain { chain: chain.to_owned() });
        };
        let entries = entries?;
        let job = match known {
            Some((before, job)) if from > 0 && from == before.next => taken_in(job, &entries),
            _ => Arc::new(fold(&entries)),
        };
        let mut jobs = self.jobs.lock().unwrap_or_else(PoisonError::into_inner);
        if jobs.len() >= KEPT && !jobs.contains_key(chain) {
            jobs.clear();
        }
        jobs.insert(chain.to_owned(), Folded { state, job: Arc::clone(&job) });
        Ok(job)
    }
}

fn state(connection: &rusqlite::Connection, chain: &str) -> rusqlite::Result<Option<State>> {
    let mut rows = connection.prepare_cached(
        "SELECT next, hash, withheld FROM chain WHERE chain = ?1 AND variant = 0 AND next > 0",
    )?;
    rows.query_row([chain], |row| {
        Ok(State { next: read::count(row, 0)?, hash: read::hash(row, 1)?, withheld: read::count(row, 2)? })
    })
    .optional()
}

fn taken_in(mut job: Arc<Job>, entries: &[Entry]) -> Arc<Job> {
    if !entries.is_empty() {
        let folded = Arc::make_mut(&mut job);
        for entry in entries {
            folded.take(entry);
        }
    }
    job
}

/// What the list of jobs says about a chain without reading its entries.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Summary {
    pub(crate) number: Option<String>,
    pub(crate) title: Option<String>,
    pub(crate) piece: Option<String>,
}

/// Whether an entry may change its chain's [`Summary`].
pub(crate) fn shows_in_list(entry: &Entry) -> bool {
    matches!(Body::of(entry), Body::Job(_) | Body::Piece(_)) || entry.envelope().corrects.is_some()
}

pub(crate) fn summary(entries: &[Entry]) -> Summary {
    if !entries.iter().any(|entry| matches!(Body::of(entry), Body::Job(_) | Body::Piece(_))) {
        return Summary::default();
    }
    let job = fold(entries);
    let opened = job.opened.map(|item| item.body);
    Summary {
        number: opened.as_ref().map(|body| body.number.clone()),
        title: opened.map(|body| body.title),
        piece: job.piece.map(|item| item.body.words),
    }
}
