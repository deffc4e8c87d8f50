//! The entry line: what is said at the bench, read into entries before anything is kept.
//!
//! ```text
//! neck 6k31 21C at the joints        a reading of the part `neck`, with its temperature and how it was taken
//! join choke.b rotary.3 seen photo 31   a line of the trace, in the trace's own grammar
//! part bridge coil, coil, bridge     a part: its name, what sort it is, where it sits
//! bridge coil: newer tape over the lead  something seen on a part
//! did guard: lifted, six screws out  something done to a part
//! parked neck coil: reflowed the eyelet; no change; try another range   an act left unfinished
//! money strings 12.50 GBP            a sum
//! note the owner remembers a fire    words
//! ```

use std::ops::Range;

use asfound_electric::trace::{GRAMMAR_VERSION, OPENING_WORDS, read_line};
use asfound_measure::{Amount, Dimension, Question, Written, question_coil_resistance, read};
use asfound_record::{
    Act1, Amount1, Body, Job, Meter1, Money1, Note1, Observed1, Parked1, Part1, Quantity1, Reading1, Trace1,
};

use crate::parts::{self, WhichPart};

/// A line as it was understood. Nothing is kept yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// What would be kept.
    pub body: Body,
    /// A doubt about a figure; it is kept as typed all the same.
    pub question: Option<Question>,
    /// The name of the part whose state as found the act would end, with nothing photographed yet.
    pub evidence_lost: Option<String>,
}

/// A line that could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotHeard {
    /// Where in the line, in bytes.
    pub place: Range<usize>,
    /// What stands there.
    pub read: String,
    /// What is the matter.
    pub why: WhyNot,
    /// What would be right.
    pub hints: Vec<String>,
}

/// What is the matter with a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WhyNot {
    /// There is nothing to read.
    Empty,
    /// No part of the job is called so.
    NoSuchPart,
    /// Several parts are.
    SeveralParts(Vec<String>),
    /// The part is known; what is said of it is not a reading.
    NoReading,
    /// Something is left over after the reading.
    LeftOver,
    /// A sum of money could not be read.
    NoSum,
    /// A part needs a name, a sort and a place.
    PartIncomplete,
    /// A trace line could not be read; the sentence is the grammar's own.
    Trace(String),
}

/// Reads a line against what the job already knows.
///
/// # Errors
/// [`NotHeard`] names the place, what stands there, and what would be right. The line can then still be kept as a note.
pub fn hear(line: &str, job: &Job, meters: &[Meter1]) -> Result<Heard, NotHeard> {
    let text = line.trim();
    let Some(first) = text.split_whitespace().next() else {
        return Err(not_heard(
            line,
            "",
            WhyNot::Empty,
            &["neck 6k31 21C", "bridge coil: newer tape", "note …"],
        ));
    };
    let rest = text[first.len()..].trim();
    match first.to_lowercase().as_str() {
        "note" if !rest.is_empty() => Ok(plain(Body::Note(Note1 { words: rest.to_owned() }))),
        "part" if !rest.is_empty() => hear_part(line, rest, job),
        "did" if rest.contains(':') => hear_act(line, rest, job),
        "parked" if rest.contains(':') => hear_parked(line, rest, job),
        "money" if !rest.is_empty() => hear_money(line, rest),
        // A part may be called by a word that opens a trace line: `choke 401` is a reading of it.
        word if OPENING_WORDS.contains(&word) => {
            hear_trace(line, text).or_else(|error| hear_said(line, text, job, meters).map_err(|_| error))
        }
        _ => hear_said(line, text, job, meters),
    }
}

/// Words about a part, or a reading of it.
fn hear_said(line: &str, text: &str, job: &Job, meters: &[Meter1]) -> Result<Heard, NotHeard> {
    match text.split_once(':') {
        Some((name, words)) if !words.trim().is_empty() => hear_observation(line, name, words.trim(), job),
        _ => hear_reading(line, text, job, meters),
    }
}

fn plain(body: Body) -> Heard {
    Heard { body, question: None, evidence_lost: None }
}

fn not_heard(line: &str, read: &str, why: WhyNot, hints: &[&str]) -> NotHeard {
    let start = line.find(read).unwrap_or(0);
    NotHeard {
        place: start..start + read.len(),
        read: read.to_owned(),
        why,
        hints: hints.iter().map(|hint| (*hint).to_owned()).collect(),
    }
}

fn which(line: &str, name: &str, job: &Job, dimension: Option<Dimension>) -> Result<String, NotHeard> {
    match parts::find(job, name, dimension) {
        WhichPart::One(id) => Ok(id),
        WhichPart::Several(names) => {
            let hints: Vec<&str> = names.iter().take(3).map(String::as_str).collect();
            Err(not_heard(line, name.trim(), WhyNot::SeveralParts(names.clone()), &hints))
        }
        WhichPart::None { nearest } => {
            let new_part = format!("part {}, sort, place", name.trim());
            let mut hints: Vec<&str> = nearest.iter().take(2).map(String::as_str).collect();
            hints.push(&new_part);
            Err(not_heard(line, name.trim(), WhyNot::NoSuchPart, &hints))
        }
    }
}

fn hear_part(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let pieces: Vec<&str> = rest.split(',').map(str::trim).collect();
    let [name, sort, place, more @ ..] = pieces.as_slice() else {
        let hints = [
            "part bridge coil, coil, bridge",
            "part guard screws, screw, guard, 11",
            "part tuner 3, tuner, headstock",
        ];
        return Err(not_heard(line, rest, WhyNot::PartIncomplete, &hints));
    };
    let count = more.first().and_then(|text| text.parse().ok()).unwrap_or(1);
    let traced_as = parts::traced_name(job, name, sort);
    let part = parts::next_id(job);
    let body = Part1 {
        part,
        name: (*name).to_owned(),
        sort: (*sort).to_owned(),
        place: (*place).to_owned(),
        count,
        traced_as,
    };
    Ok(plain(Body::Part(body)))
}

fn hear_act(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (name, words) = rest.split_once(':').unwrap_or((rest, ""));
    let part = which(line, name, job, None)?;
    let evidence_lost = parts::unphotographed(job, &part);
    let body = Act1 {
        part: Some(part),
        words: words.trim().to_owned(),
        disturbs: true,
        parked: None,
        happened: None,
    };
    Ok(Heard { body: Body::Act(body), question: None, evidence_lost })
}

fn hear_parked(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (name, words) = rest.split_once(':').unwrap_or((rest, ""));
    let part = which(line, name, job, None)?;
    let mut said = words.split(';').map(|piece| piece.trim().to_owned());
    let tried = said.next().unwrap_or_default();
    let stopped = said.next().unwrap_or_default();
    let next = said.next().unwrap_or_default();
    let body = Act1 {
        part: Some(part),
        words: tried,
        disturbs: true,
        parked: Some(Parked1 { stopped, next }),
        happened: None,
    };
    Ok(plain(Body::Act(body)))
}

fn hear_observation(line: &str, name: &str, words: &str, job: &Job) -> Result<Heard, NotHeard> {
    let whole = ["piece", "whole", "all"].contains(&name.trim().to_lowercase().as_str());
    let part = if whole { None } else { Some(which(line, name, job, None)?) };
    let body = Observed1 { part, words: words.to_owned(), as_found: None, happened: None };
    Ok(plain(Body::Observed(body)))
}

fn hear_trace(line: &str, text: &str) -> Result<Heard, NotHeard> {
    read_line(text).map_err(|error| NotHeard {
        place: 0..line.len(),
        read: text.to_owned(),
        why: WhyNot::Trace(error.to_string()),
        hints: Vec::new(),
    })?;
    Ok(plain(Body::Trace(Trace1 { grammar: GRAMMAR_VERSION, text: text.to_owned() })))
}

/// Minor units per major unit for the currencies a workshop is likely to meet (ISO 4217).
fn minor_digits(currency: &str) -> Option<u32> {
    match currency {
        "EUR" | "GBP" | "USD" | "CHF" | "SEK" | "NOK" | "DKK" | "CAD" | "AUD" | "NZD" | "PLN" | "CZK" => {
            Some(2)
        }
        "JPY" => Some(0),
        _ => None,
    }
}

fn hear_money(line: &str, rest: &str) -> Result<Heard, NotHeard> {
    let hints = ["money strings 12.50 GBP", "money deposit 200 EUR", "money carriage 1800 JPY"];
    let fail = || not_heard(line, rest, WhyNot::NoSum, &hints);
    let words: Vec<&str> = rest.split_whitespace().collect();
    let [what @ .., sum, currency] = words.as_slice() else { return Err(fail()) };
    let currency = currency.to_uppercase();
    let digits = minor_digits(&currency).ok_or_else(fail)?;
    let minor = to_minor(sum, digits).ok_or_else(fail)?;
    Ok(plain(Body::Money(Money1 { words: what.join(" "), minor, currency })))
}

/// Decimal text to integer minor units, without a float on the way: `12.5` with two digits is 1250.
fn to_minor(text: &str, digits: u32) -> Option<i64> {
    let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let digits = digits as usize;
    if part.len() > digits || !part.chars().all(|sign| sign.is_ascii_digit()) {
        return None;
    }
    format!("{whole}{part:0<digits$}").parse().ok()
}

/// Which quantities a part of a sort can be measured for, likeliest first.
fn quantities_of(sort: &str) -> &'static [(Dimension, &'static str)] {
    use Dimension::{Capacitance, Inductance, Length, Mass, Resistance, Voltage};
    match sort {
        "capacitor" => &[(Capacitance, "capacitance"), (Resistance, "resistance"), (Voltage, "voltage")],
        "coil" | "choke" | "pot" | "switch" | "jack" | "resistor" => &[
            (Resistance, "resistance"),
            (Inductance, "inductance"),
            (Capacitance, "capacitance"),
            (Voltage, "voltage"),
            (Length, "length"),
        ],
        _ => &[
            (Length, "length"),
            (Mass, "mass"),
            (Resistance, "resistance"),
            (Voltage, "voltage"),
            (Inductance, "inductance"),
            (Capacitance, "capacitance"),
        ],
    }
}

/// Ways a reading can have been taken, as said at the bench and as kept.
const METHODS: [(&str, &str); 8] = [
    ("at the joints", "at the joints"),
    ("at joints", "at the joints"),
    ("at its joints", "at the joints"),
    ("at the jack", "at the jack"),
    ("at jack", "at the jack"),
    ("in circuit", "in circuit"),
    ("lead lifted", "lead lifted"),
    ("out of circuit", "out of circuit"),
];

fn hear_reading(line: &str, text: &str, job: &Job, meters: &[Meter1]) -> Result<Heard, NotHeard> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (part, used) = part_at_front(line, &words, job)?;
    let kept = job.parts.iter().find(|kept| kept.item.body.part == part);
    let (sort, place) =
        kept.map_or(("", ""), |kept| (kept.item.body.sort.as_str(), kept.item.body.place.as_str()));

    let mut shown = None;
    let mut temperature = None;
    let mut method = None;
    let mut meter = None;
    let mut range = None;
    let mut at = used;
    while at < words.len() {
        let left = words[at..].join(" ");
        if let Some((said, kept)) = METHODS.iter().find(|(said, _)| left.to_lowercase().starts_with(said)) {
            method = Some((*kept).to_owned());
            at += said.split(' ').count();
        } else if let Some(known) = meters.iter().find(|known| known.meter.eq_ignore_ascii_case(words[at])) {
            meter = Some(known.meter.clone());
            at += 1;
        } else if words[at] == "on" && at + 1 < words.len() && shown.is_some() {
            range = Some(words[at + 1].to_owned());
            at += 2;
        } else if let Some((quantity, written, long)) =
            shown.is_none().then(|| longest(&words[at..], quantities_of(sort))).flatten()
        {
            shown = Some((quantity, written));
            at += long;
        } else if let Some((_, written, long)) =
            longest(&words[at..], &[(Dimension::Temperature, "temperature")])
        {
            temperature = Some(written);
            at += long;
        } else {
            let why = if shown.is_none() { WhyNot::NoReading } else { WhyNot::LeftOver };
            let hints = ["neck 6k31 21C at the joints", "neck over 20k", "neck: words about what is seen"];
            return Err(not_heard(line, words[at], why, &hints));
        }
    }
    let Some((quantity, written)) = shown else {
        let hints = ["neck 6k31 21C", "neck not measured", "neck: words about what is seen"];
        return Err(not_heard(line, text, WhyNot::NoReading, &hints));
    };
    let question =
        if sort == "coil" && quantity == "resistance" { question_coil_resistance(&written) } else { None };
    let body = Reading1 {
        part,
        place: place.to_owned(),
        quantity: quantity.to_owned(),
        shown: to_wire(&written),
        meter,
        range,
        temperature: temperature.as_ref().map(to_wire),
        method,
        happened: None,
    };
    Ok(Heard { body: Body::Reading(body), question, evidence_lost: None })
}

/// The longest run of words at the front that names one part.
fn part_at_front(line: &str, words: &[&str], job: &Job) -> Result<(String, usize), NotHeard> {
    let mut several = None;
    for used in (1..=words.len()).rev() {
        let name = words[..used].join(" ");
        match parts::find(job, &name, Some(Dimension::Resistance)) {
            WhichPart::One(id) => return Ok((id, used)),
            WhichPart::Several(names) => several = several.or(Some((name, names))),
            WhichPart::None { .. } => {}
        }
    }
    if let Some((name, names)) = several {
        let hints: Vec<&str> = names.iter().take(3).map(String::as_str).collect();
        return Err(not_heard(line, &name, WhyNot::SeveralParts(names.clone()), &hints));
    }
    which(line, words[0], job, None).map(|id| (id, 1))
}

/// The longest run of words at the front that reads as one of the quantities, the likelier quantity first.
fn longest<'q>(words: &[&str], quantities: &[(Dimension, &'q str)]) -> Option<(&'q str, Written, usize)> {
    for long in (1..=words.len().min(4)).rev() {
        let text = words[..long].join(" ");
        for (dimension, name) in quantities {
            if let Ok(written) = read(&text, *dimension) {
                return Some((name, written, long));
            }
        }
    }
    None
}

/// A written quantity in the record's wire form.
pub fn to_wire(written: &Written) -> Quantity1 {
    let amount = match &written.amount {
        Amount::Exactly(decimal) => Amount1::Exactly { decimal: decimal.to_string() },
        Amount::Over(decimal) => Amount1::Over { decimal: decimal.to_string() },
        Amount::Under(decimal) => Amount1::Under { decimal: decimal.to_string() },
        Amount::OverRange => Amount1::OverRange,
        Amount::NotMeasured => Amount1::NotMeasured,
        Amount::CannotTell => Amount1::CannotTell,
    };
    Quantity1 { text: written.text.clone(), amount, unit: written.unit.ucum().to_owned() }
}
