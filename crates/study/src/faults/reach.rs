//! How far the hand reaches: whether the guard is off, by what was said and done.

use asfound_electric::fault::Reach;
use asfound_record::Job;

use crate::jack::is_at_the_jack;
use crate::readings::ReadingStudied;
use crate::said::clauses::clauses;

/// Words for what covers the works.
const COVERS: [&str; 6] = ["guard", "plate", "cavity", "back", "cover", "pickguard"];

/// Only the plug where readings came through it and nothing says that the works were reached; else every lug.
pub(super) fn of(job: &Job, readings: &[ReadingStudied]) -> Reach {
    let closed = job.observed.iter().flat_map(|item| clauses(item.seq, &item.body.words)).any(|clause| {
        clause.has_any(&COVERS) && clause.has_any(&["closed", "on", "shut"]) && clause.has("still")
    });
    let inside = |reading: &ReadingStudied| {
        let method = reading.method.as_deref().unwrap_or_default();
        ["in circuit", "at the joints", "lead lifted", "out of circuit"]
            .iter()
            .any(|way| method.starts_with(way))
    };
    let opened = !job.probings.is_empty() || !job.acts.is_empty() || readings.iter().any(inside);
    let by_jack = readings.iter().any(is_at_the_jack);
    if closed || (by_jack && !opened) { Reach::JackOnly } else { Reach::Everything }
}
