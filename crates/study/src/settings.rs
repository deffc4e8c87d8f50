//! How knobs and switches stood when a reading was taken: `neck and bridge, volume full`, `lever 3`, `tone at 0`.
//!
//! A reading at the jack says little without them. They are kept in the words that were said, and read here, once when
//! they are heard and again when a study needs them.

use asfound_record::{Job, Part};

use crate::wiring::declared_switches;

/// One thing that was said of how the instrument stood.
#[derive(Debug, Clone, PartialEq)]
pub enum Stood {
    /// This coil sounds, by its part's id.
    Coil(String),
    /// A knob stood so: 0 is shut, 1 is full up.
    Knob {
        /// The pot's part id; `None` where only `volume` or `tone` was said and no such pot is on record.
        part: Option<String>,
        /// As it was said.
        name: String,
        /// Its turn, from 0 to 1.
        turn: f64,
    },
    /// A switch stood in this position.
    Switch {
        /// The switch's part id; `None` where it was only called selector or lever.
        part: Option<String>,
        /// As it was said, in the trace's spelling where the trace knows it.
        name: String,
        /// The position, as it was said.
        position: String,
    },
}

/// Words for any switch that chooses between coils.
const ANY_SWITCH: [&str; 5] = ["selector", "lever", "switch", "position", "toggle"];
/// Words for any pot.
const ANY_POT: [&str; 2] = ["volume", "tone"];

/// Reads one thing at the front of the words, and says how many words it took.
pub fn one(words: &[&str], job: &Job) -> Option<(Stood, usize)> {
    let clean: Vec<String> = words.iter().map(|word| bare(word).to_lowercase()).collect();
    let skipped = clean.iter().take_while(|word| ["and", "with", "+", ""].contains(&word.as_str())).count();
    let clean = &clean[skipped..];
    let (stood, took) = knob(clean, job).or_else(|| switch(clean, job)).or_else(|| coil(clean, job))?;
    Some((stood, skipped + took))
}

/// Reads everything that was said of how it stood; words that say nothing of it are passed over.
pub fn all(text: &str, job: &Job) -> Vec<Stood> {
    let text = text.replace('+', " + ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut at = 0;
    let mut stood = Vec::new();
    while at < words.len() {
        match one(&words[at..], job) {
            Some((thing, took)) => {
                stood.push(thing);
                at += took;
            }
            None => at += 1,
        }
    }
    stood
}

fn bare(word: &str) -> &str {
    word.trim_matches(|sign: char| ",;:".contains(sign))
}

/// The part of a sort that the longest run of words at the front names, and how many words that is.
fn part_called(words: &[String], job: &Job, sort: &str) -> Option<(String, usize)> {
    let of_sort: Vec<&Part> = job.parts.iter().filter(|part| part.item.body.sort == sort).collect();
    for long in (1..=words.len().min(4)).rev() {
        let name = words[..long].join(" ");
        let called = |part: &&&Part| {
            let body = &part.item.body;
            [&body.part, &body.name].into_iter().chain(body.traced_as.as_ref()).any(|known| {
                let known = known.to_lowercase();
                known == name || known.replace('-', " ") == name
            })
        };
        let exact: Vec<_> = of_sort.iter().filter(called).collect();
        let has_words = |part: &&&Part| {
            let body = &part.item.body;
            let all = format!("{} {}", body.name, body.sort).to_lowercase();
            name.split(' ').all(|word| all.split_whitespace().any(|known| known == word))
        };
        let fitting = if exact.is_empty() { of_sort.iter().filter(has_words).collect() } else { exact };
        if let [one] = fitting.as_slice() {
            return Some((one.item.body.part.clone(), long));
        }
    }
    None
}

fn knob(words: &[String], job: &Job) -> Option<(Stood, usize)> {
    let (part, named) = match part_called(words, job, "pot") {
        Some((id, long)) => (Some(id), long),
        None if ANY_POT.contains(&words.first()?.as_str()) => (None, 1),
        None => return None,
    };
    let at = usize::from(words.get(named).is_some_and(|word| word == "at" || word == "pot"));
    let turn = turn(words.get(named + at)?)?;
    Some((Stood::Knob { part, name: words[..named].join(" "), turn }, named + at + 1))
}

/// How far a knob is turned: `full`, `half`, `off`, or a number as on its scale, 0 to 10.
pub(crate) fn turn(word: &str) -> Option<f64> {
    match word {
        "full" | "up" | "open" => Some(1.0),
        "half" => Some(0.5),
        "off" | "shut" | "down" | "zero" => Some(0.0),
        _ => {
            let on_scale: f64 = word.replace(',', ".").parse().ok()?;
            (0.0..=10.0).contains(&on_scale).then_some(on_scale / 10.0)
        }
    }
}

fn switch(words: &[String], job: &Job) -> Option<(Stood, usize)> {
    let first = words.first()?;
    let declared = declared_switches(job);
    let (part, name, named) = match part_called(words, job, "switch") {
        Some((id, long)) => {
            let traced = job.part(&id).and_then(|part| part.item.body.traced_as.clone());
            (Some(id), traced.unwrap_or_else(|| words[..long].join(" ")), long)
        }
        None if ANY_SWITCH.contains(&first.as_str()) || declared.contains(first) => (None, first.clone(), 1),
        None => return None,
    };
    let at = usize::from(words.get(named).is_some_and(|word| word == "at" || word == "position"));
    let position = words.get(named + at)?;
    let is_position = position.chars().all(|sign| sign.is_alphanumeric() || sign == '-');
    (is_position && !position.is_empty())
        .then(|| (Stood::Switch { part, name, position: position.clone() }, named + at + 1))
}

fn coil(words: &[String], job: &Job) -> Option<(Stood, usize)> {
    let (id, mut long) = part_called(words, job, "coil")?;
    if words.get(long).is_some_and(|word| ["coil", "pickup", "on", "alone", "only"].contains(&word.as_str()))
    {
        long += 1;
    }
    Some((Stood::Coil(id), long))
}
