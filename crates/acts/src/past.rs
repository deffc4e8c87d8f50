//! What this workshop read before, on coils of all its jobs.

use asfound_record::{Hash, Job};
use asfound_store::StoreError;
use asfound_study::past::{self, PastReading};
use asfound_study::said::kindred::kindred;

use crate::error::ActError;
use crate::workshop::Workshop;

/// The sort under which a job's past readings are remembered.
const PAST: &str = "past-readings/1";

impl Workshop {
    /// The coils of all this workshop's own jobs, as they were read last, in the order of the jobs.
    ///
    /// What a job gives is remembered beside its chain's head, so that of thousands of jobs only those are folded that
    /// were worked in since. Readings rest on the meters too: where the workshop says something new of a meter, all are
    /// worked out anew. A job that cannot be read gives nothing and is in nobody's way.
    ///
    /// # Errors
    /// Where the folder cannot be read.
    pub fn past_readings(&self) -> Result<Vec<PastReading>, ActError> {
        let about = self.about()?;
        let meters = meters_then(&about);
        let remembered = self.store.remembered(PAST)?;
        let (mut past, mut fresh) = (Vec::new(), Vec::new());
        for item in &about.jobs {
            let chain = &item.body.chain;
            if let Some(known) = remembered.get(chain).and_then(|text| from_text(text, &meters)) {
                past.extend(known);
                continue;
            }
            let job = match self.store.job(chain) {
                Err(StoreError::DamagedEntry { .. } | StoreError::UnknownChain { .. }) => continue,
                job => job?,
            };
            let found = past::of_job(&job, &about, kindred);
            fresh.push((chain.clone(), job.head.next, to_text(&found, &meters)));
            past.extend(found);
        }
        self.remember(PAST, &fresh)?;
        Ok(past)
    }
}

/// What is said of the meters, in short: two texts are the same only where the same is said.
fn meters_then(about: &Job) -> String {
    let said: Vec<[&str; 2]> = about
        .meters
        .iter()
        .map(|item| [item.body.meter.as_str(), item.body.accuracy.as_deref().unwrap_or_default()])
        .collect();
    Hash::of(format!("{said:?}").as_bytes()).to_string()
}

/// The meters as they were, then a line for each coil.
fn to_text(found: &[PastReading], meters: &str) -> String {
    let lines: String = found.iter().map(|reading| format!("\n{}", reading.line())).collect();
    format!("{meters}{lines}")
}

/// `None` where the meters were others, or a line is of another version.
fn from_text(text: &str, meters: &str) -> Option<Vec<PastReading>> {
    let mut lines = text.lines();
    if lines.next() != Some(meters) {
        return None;
    }
    lines.map(PastReading::from_line).collect()
}
