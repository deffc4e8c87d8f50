//! Parts: which one a word means, what is known of each, what is still missing.

use asfound_measure::Dimension;
use asfound_record::{Job, Part};

/// Which part a name means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WhichPart {
    /// This one, by id.
    One(String),
    /// Any of these, by name.
    Several(Vec<String>),
    /// None; these are spelt most like it.
    None {
        /// Names, the nearest first.
        nearest: Vec<String>,
    },
}

/// Finds the part that a name means: by id, by name, by its name in the trace, else by all words of the name occurring
/// in name, sort and place. `Neck` alone is a place; said with a reading it means the part there that can be read so.
pub fn find(job: &Job, name: &str, reading: Option<Dimension>) -> WhichPart {
    let name = name.trim().to_lowercase();
    if name.is_empty() {
        return WhichPart::None { nearest: Vec::new() };
    }
    let exactly: Vec<&Part> = job.parts.iter().filter(|part| is_called(part, &name)).collect();
    if let [one] = exactly.as_slice() {
        return WhichPart::One(one.item.body.part.clone());
    }
    let loosely: Vec<&Part> = if exactly.is_empty() {
        job.parts.iter().filter(|part| has_all_words(part, &name)).collect()
    } else {
        exactly
    };
    let mut left = loosely;
    if left.len() > 1 && reading.is_some() {
        let electrical: Vec<&Part> =
            left.iter().copied().filter(|part| is_electrical(&part.item.body.sort)).collect();
        if !electrical.is_empty() {
            left = electrical;
        }
        let coils: Vec<&Part> = left.iter().copied().filter(|part| part.item.body.sort == "coil").collect();
        if left.len() > 1 && coils.len() == 1 {
            left = coils;
        }
    }
    match left.as_slice() {
        [one] => WhichPart::One(one.item.body.part.clone()),
        [] => WhichPart::None { nearest: nearest(job, &name) },
        several => WhichPart::Several(told_apart(several)),
    }
}

/// Names that tell parts apart: where two have one name, their short numbers do.
fn told_apart(parts: &[&Part]) -> Vec<String> {
    let same = |part: &Part| {
        parts.iter().filter(|other| other.item.body.name.eq_ignore_ascii_case(&part.item.body.name)).count()
            > 1
    };
    parts
        .iter()
        .map(|part| if same(part) { part.item.body.part.clone() } else { part.item.body.name.clone() })
        .collect()
}

fn is_called(part: &Part, name: &str) -> bool {
    let body = &part.item.body;
    [Some(&body.part), Some(&body.name), body.traced_as.as_ref()]
        .into_iter()
        .flatten()
        .any(|known| known.to_lowercase() == name)
}

fn has_all_words(part: &Part, name: &str) -> bool {
    let body = &part.item.body;
    let all = format!("{} {} {}", body.name, body.sort, body.place).to_lowercase();
    let known: Vec<&str> = all.split(|sign: char| !sign.is_alphanumeric()).collect();
    name.split_whitespace().all(|word| known.contains(&word))
}

/// The most words that can name a part of the job.
pub(crate) fn most_words(job: &Job) -> usize {
    let words = |part: &Part| {
        let body = &part.item.body;
        let all = [&body.name, &body.sort, &body.place].map(|text| text.split_whitespace().count());
        all.iter().sum::<usize>()
    };
    job.parts.iter().map(words).max().unwrap_or(0).max(1)
}

/// Sorts of part that a multimeter is put to.
pub fn is_electrical(sort: &str) -> bool {
    ["coil", "pot", "switch", "capacitor", "resistor", "choke", "jack", "speaker", "transformer"]
        .contains(&sort)
}

fn nearest(job: &Job, name: &str) -> Vec<String> {
    let name: String = name.chars().take(LONGEST_NAME).collect();
    let mut names: Vec<(usize, String)> = job
        .parts
        .iter()
        .map(|part| {
            (strsim::osa_distance(&name, &part.item.body.name.to_lowercase()), part.item.body.name.clone())
        })
        .collect();
    names.sort();
    names.dedup();
    names.into_iter().take(3).map(|(_, name)| name).collect()
}

/// More letters than this are no slip of a name.
const LONGEST_NAME: usize = 60;

/// The next free short number for a part: `P1`, `P2` and so on. Numbers of struck-out parts are not given again.
pub fn next_id(job: &Job) -> String {
    let standing =
        job.parts.iter().filter_map(|part| part.item.body.part.strip_prefix('P')?.parse::<usize>().ok());
    let ever = job.history.iter().filter(|line| line.kind == "part/1").count();
    format!("P{}", standing.max().unwrap_or(0).max(ever).saturating_add(1))
}

/// The name under which the job's trace already knows this part: its own name, or the name without the sort.
pub fn traced_name(job: &Job, name: &str, sort: &str) -> Option<String> {
    if !is_electrical(sort) {
        return None;
    }
    let name = name.to_lowercase();
    let short = name.strip_suffix(sort).unwrap_or(&name).trim().replace(' ', "-");
    let whole = name.replace(' ', "-");
    let taken = |candidate: &String| {
        job.parts.iter().any(|part| part.item.body.traced_as.as_ref() == Some(candidate))
    };
    let declared = crate::wiring::declared_names(job);
    let wanted = if short.is_empty() { whole.clone() } else { short };
    // A trace is written in short: `big capacitor` is `big-cap` there.
    let clipped = whole.replace("capacitor", "cap").replace("resistor", "res");
    [wanted, whole, clipped].into_iter().find(|candidate| !taken(candidate) && declared.contains(candidate))
}

/// The name under which the trace knows a part: the one it was given, else the one that its own name means there.
pub fn name_in_trace(job: &Job, part: &Part) -> Option<String> {
    let body = &part.item.body;
    body.traced_as.clone().or_else(|| traced_name(job, &body.name, &body.sort))
}

/// The part's name where the part has no photograph and has not been disturbed yet: an act would end its state as
/// found with nothing to show for it.
pub fn unphotographed(job: &Job, id: &str) -> Option<String> {
    let part = job.parts.iter().find(|part| part.item.body.part == id)?;
    let bare = part.photographs.is_empty() && part.first_disturbed.is_none();
    bare.then(|| part.item.body.name.clone())
}

/// What is known of one part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartKnown {
    /// Short number.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// Its sort.
    pub sort: String,
    /// Where it was found.
    pub place: String,
    /// How many.
    pub count: u32,
    /// Entry that first named it.
    pub seq: u64,
    /// What was seen of it as found: the standing entry and its words.
    pub as_found: Vec<(u64, String)>,
    /// What was seen of it later.
    pub later: Vec<(u64, String)>,
    /// What was done to it.
    pub acts: Vec<(u64, String)>,
    /// How many photographs show it.
    pub photographs: usize,
    /// How many readings it has.
    pub readings: usize,
    /// Whether it is one that a meter is put to and none was.
    pub unmeasured: bool,
    /// Whether an act has ended its state as found.
    pub disturbed: bool,
}

/// Everything known of the job's parts, in the order they were named.
pub fn known(job: &Job) -> Vec<PartKnown> {
    job.parts.iter().map(|part| one(job, part)).collect()
}

fn one(job: &Job, part: &Part) -> PartKnown {
    let body = &part.item.body;
    let seen = |indices: &[usize]| -> Vec<(u64, String)> {
        indices
            .iter()
            .filter_map(|&at| job.observed.get(at))
            .map(|item| (item.seq, item.body.words.clone()))
            .collect()
    };
    let acts = part.acts.iter().filter_map(|&at| job.acts.get(at));
    PartKnown {
        id: body.part.clone(),
        name: body.name.clone(),
        sort: body.sort.clone(),
        place: body.place.clone(),
        count: body.count,
        seq: part.item.root,
        as_found: seen(&part.as_found),
        later: seen(&part.later),
        acts: acts.map(|item| (item.seq, item.body.words.clone())).collect(),
        photographs: part.photographs.len(),
        readings: part.readings.len(),
        unmeasured: is_electrical(&body.sort) && part.readings.is_empty(),
        disturbed: part.first_disturbed.is_some(),
    }
}
