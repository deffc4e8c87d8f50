//! Parts said to hang together: fitted in one go, and if put in later then put in together.

use asfound_record::Job;

use super::photo::{PhotoNamed, Photos};
use crate::parts::{self, WhichPart};

/// Parts that were said to be one harness.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HarnessSaid {
    /// The entry.
    pub seq: u64,
    /// The sentence it was read from.
    pub clause: String,
    /// Ids of the parts.
    pub parts: Vec<String>,
    /// Names in it that mean no part of the job, or more than one.
    pub unknown: Vec<String>,
    /// The photograph named with it.
    pub photo: Option<PhotoNamed>,
}

/// What says that parts hang together, in small letters; a name may stand before it or after it.
const TOGETHER: [&str; 14] = [
    "are one harness",
    "is one harness",
    "one harness",
    "same harness",
    "a harness",
    "are one set",
    "fitted together",
    "wired together",
    "replaced together",
    "put in together",
    "soldered in one go",
    "of one hand",
    "came together",
    "belong together",
];

/// Every harness that was said of a job, of a part or of the whole.
pub(super) fn harnesses(job: &Job) -> Vec<HarnessSaid> {
    let mut found = Vec::new();
    for item in &job.observed {
        let words = &item.body.words;
        for sentence in words.split(['.', ';', '\n']) {
            // Letters whose small form is of another length would move places: then nothing is cut by them.
            let lower = sentence.to_ascii_lowercase();
            let Some((at, cue)) = TOGETHER.iter().find_map(|cue| Some((lower.find(cue)?, *cue))) else {
                continue;
            };
            if ["not ", "never ", "no "].iter().any(|word| lower.contains(word)) {
                continue;
            }
            let mut harness = HarnessSaid {
                seq: item.seq,
                clause: sentence.trim().to_owned(),
                parts: item.body.part.iter().cloned().collect(),
                unknown: Vec::new(),
                photo: Photos::of(job, words).at(0),
            };
            add(job, &mut harness, &sentence[..at]);
            add(job, &mut harness, &sentence[at + cue.len()..]);
            if harness.parts.len() > 1 || !harness.unknown.is_empty() {
                found.push(harness);
            }
        }
    }
    found
}

/// Adds the parts that a list names: `volume pot, tone pot and switch`, `all pots`.
fn add(job: &Job, harness: &mut HarnessSaid, list: &str) {
    let lower = list.to_ascii_lowercase();
    let bare = TOGETHER.iter().fold(lower, |list, cue| list.replace(cue, ","));
    let spaced = bare.replace(" and ", ",").replace(" with ", ",").replace(['&', '+', ':'], ",");
    for name in spaced.split(',') {
        let idle =
            ["the", "all", "both", "with", "is", "are", "was", "were", "it", "they", "and", "photo", "on"];
        let kept: Vec<&str> = name
            .split_whitespace()
            .filter(|word| !idle.contains(&word.to_lowercase().as_str()))
            .filter(|word| !word.chars().all(|sign| sign.is_ascii_digit()))
            .collect();
        let name = kept.join(" ");
        if name.is_empty() {
            continue;
        }
        let ids = named(job, &name);
        if ids.is_empty() {
            harness.unknown.push(name);
        }
        for id in ids {
            if !harness.parts.contains(&id) {
                harness.parts.push(id);
            }
        }
    }
}

/// The parts that a name means: one, or all of a sort in the plural.
fn named(job: &Job, name: &str) -> Vec<String> {
    if let WhichPart::One(id) = parts::find(job, name, None) {
        return vec![id];
    }
    let one = name.to_lowercase();
    let of_sort = |sort: &str| one == format!("{sort}s") || one == format!("{sort}es");
    let all = job.parts.iter().filter(|part| of_sort(&part.item.body.sort));
    all.map(|part| part.item.body.part.clone()).collect()
}
