//! The entry line: what is said at the bench, read into entries before anything is kept.
//!
//! ```text
//! neck 6k31 21C at the joints        a reading of the part `neck`, with its temperature and how it was taken
//! neck.hot volume.3 0.4              what a meter shows between two lugs of the trace
//! join choke.b rotary.3 seen photo 31   a line of the trace, in the trace's own grammar
//! part bridge coil, coil, bridge     a part: its name, what sort it is, where it sits
//! bridge coil: newer tape over the lead  something seen on a part
//! mark lever.a1 on photo 3 at 41 % 27 %   where a lug lies on a photograph
//! heard position 2 thin              what is heard, of the whole piece
//! did guard: lifted, six screws out  something done to a part, or with `piece` to the whole
//! parked neck coil: reflowed the eyelet; no change; try another range   an act left unfinished
//! money strings 12.50 GBP            a sum
//! wish bridge and middle in series    what the instrument is to do
//! claim seller: all original, 1962   what a person says; `document receipt, 12 May 1964: …` what a paper says
//! made guard: cut from acrylic sheet, aged; marked under the edge   a part made here, known to be new
//! lot premium 25 %, tax 20 % on the premium   what a sale charges, what there is to spend, what it may be worth
//! task refret, 6 to 12 hours, restore  something to be done; `hours 1h20 refret, done` what it took
//! work rate 60 GBP an hour           the bench's own terms; `agreed …` and `due …` what was agreed and is due
//! note the owner remembers a fire    words
//! ```

mod made;
mod mark;
mod plan;
mod probing;
mod reading;
mod testimony;

pub use mark::SIDES;
pub use reading::said_around;
pub use testimony::{CLAIM, DOCUMENT};

use std::ops::Range;

use asfound_electric::trace::{GRAMMAR_VERSION, OPENING_WORDS, read_line};
use asfound_measure::{Amount, Written};
use asfound_plan::money::{Currency, Money};
use asfound_record::{
    Act1, Amount1, Body, Job, Meter1, Money1, Note1, Observed1, Parked1, Part1, Quantity1, Trace1, Wish1,
};

use crate::doubt::Doubt;

use crate::parts::{self, WhichPart};

/// A line as it was understood. Nothing is kept yet.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// What would be kept.
    pub body: Body,
    /// A doubt about a figure; it is kept as typed all the same.
    pub doubt: Option<Doubt>,
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
    /// Two lugs, and what stands behind them is not what a meter shows.
    NoProbing,
    /// The trace has no such lug.
    NoSuchLug,
    /// A switch or knob of the trace does not stand so.
    NoSuchPosition(String),
    /// Something is left over after the reading.
    LeftOver,
    /// An act or an observation without words, or without a name before its colon.
    NoWords,
    /// A sum of money could not be read.
    NoSum,
    /// A part needs a name, a sort and a place, and a count of one or more where one is given.
    PartIncomplete,
    /// A mark needs a lug or part, a photograph, and how far across and down.
    MarkIncomplete,
    /// No photograph of the job that can be shown has this number.
    NoSuchPhotograph,
    /// How far across or down a picture is no per cent of it.
    NotOnThePicture,
    /// A claim or a document needs who says it, or what paper it is, and its words.
    TestimonyIncomplete,
    /// What was made here needs a part of the job, not the whole.
    MadeNoPart,
    /// Terms or a task could not be read; the sentence says what is the matter and what would be right.
    Plan(String),
    /// A time that was spent needs a figure with its unit, and on what.
    NoHours,
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
        "wish" | "wish:" if !rest.is_empty() => Ok(plain(Body::Wish(Wish1 { words: rest.to_owned() }))),
        "heard" | "heard:" if !what_is_heard(rest).is_empty() => Ok(heard(rest)),
        "part" if !rest.is_empty() => hear_part(line, rest, job),
        "did" if rest.contains(':') => hear_act(line, rest, job),
        "parked" if rest.contains(':') => hear_parked(line, rest, job),
        "claim" if rest.contains(':') => testimony::hear(line, CLAIM, rest, job),
        "document" if rest.contains(':') => testimony::hear(line, DOCUMENT, rest, job),
        "made" if rest.contains(':') => made::hear(line, rest, job),
        "mark" if rest.contains(" on ") => mark::hear(line, rest, job),
        of @ ("lot" | "work" | "agreed" | "due") if !rest.is_empty() => plan::terms(line, of, rest, job),
        "task" if !rest.is_empty() => plan::task(line, rest, job),
        "hours" if !rest.is_empty() => plan::hours(line, rest, job),
        "money" if !rest.is_empty() => hear_money(line, rest),
        // A part may be called by a word that opens a trace line: `choke 401` is a reading of it.
        word if OPENING_WORDS.contains(&word.trim_end_matches(':')) => {
            hear_trace(line, text).or_else(|error| hear_said(line, text, job, meters).map_err(|_| error))
        }
        _ if probing::begins(text, job) => probing::hear(line, text, job, meters),
        _ => hear_said(line, text, job, meters),
    }
}

/// Words about a part, or a reading of it.
fn hear_said(line: &str, text: &str, job: &Job, meters: &[Meter1]) -> Result<Heard, NotHeard> {
    match text.split_once(':') {
        Some((_, words)) if !words.trim().is_empty() => hear_observation(line, text, job),
        _ => reading::hear(line, text, job, meters),
    }
}

/// What is heard is kept as something observed of the whole piece, in the words it was said in.
fn heard(rest: &str) -> Heard {
    let words = what_is_heard(rest).to_owned();
    plain(Body::Observed(Observed1 { part: None, words, as_found: None, happened: None }))
}

/// What stands behind the word `heard`, with or without a colon.
fn what_is_heard(rest: &str) -> &str {
    rest.trim_start_matches(':').trim_start()
}

fn plain(body: Body) -> Heard {
    Heard { body, doubt: None, evidence_lost: None }
}

fn not_heard(line: &str, read: &str, why: WhyNot, hints: &[&str]) -> NotHeard {
    let start = place_in(line, read);
    NotHeard {
        place: start..start + read.len(),
        read: read.to_owned(),
        why,
        hints: hints.iter().map(|hint| (*hint).to_owned()).collect(),
    }
}

/// Where a piece of the line stands in it, in bytes: a word may occur twice, so a slice of the line is placed by where it
/// lies, and only other text is looked for.
fn place_in(line: &str, read: &str) -> usize {
    let apart = (read.as_ptr() as usize).checked_sub(line.as_ptr() as usize);
    let lies_in = apart.filter(|start| line.get(*start..start + read.len()) == Some(read));
    lies_in.or_else(|| line.find(read)).unwrap_or(0)
}

fn which(line: &str, name: &str, job: &Job) -> Result<String, NotHeard> {
    match parts::find(job, name, None) {
        WhichPart::One(id) => Ok(id),
        WhichPart::Several(names) => Err(several(line, name, names)),
        WhichPart::None { nearest } => {
            let new_part = format!("part {}, sort, place", name.trim());
            let mut hints: Vec<&str> = nearest.iter().take(2).map(String::as_str).collect();
            if name.chars().count() <= LONGEST_NAME {
                hints.push(&new_part);
            }
            Err(not_heard(line, name.trim(), WhyNot::NoSuchPart, &hints))
        }
    }
}

fn several(line: &str, name: &str, names: Vec<String>) -> NotHeard {
    let hints: Vec<String> = names.iter().take(3).cloned().collect();
    NotHeard { hints, ..not_heard(line, name.trim(), WhyNot::SeveralParts(names), &[]) }
}

/// A hint repeats a name of at most so many letters.
const LONGEST_NAME: usize = 60;

fn hear_part(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let fail = || {
        let hints = [
            "part bridge coil, coil, bridge",
            "part guard screws, screw, guard, 11",
            "part tuner 3, tuner, headstock",
        ];
        not_heard(line, rest, WhyNot::PartIncomplete, &hints)
    };
    let pieces: Vec<&str> = rest.split(',').map(str::trim).collect();
    let (name, sort, place, count) = match pieces.as_slice() {
        [name, sort, place] => (*name, *sort, *place, 1),
        [name, sort, place, count] => {
            (*name, *sort, *place, count.parse().ok().filter(|count| *count > 0).ok_or_else(fail)?)
        }
        _ => return Err(fail()),
    };
    if [name, sort, place].contains(&"") {
        return Err(fail());
    }
    let body = Part1 {
        part: parts::next_id(job),
        name: name.to_owned(),
        sort: sort.to_owned(),
        place: place.to_owned(),
        count,
        traced_as: parts::traced_name(job, name, sort),
    };
    Ok(plain(Body::Part(body)))
}

/// Colons before which a name is looked for.
const MOST_COLONS: usize = 4;

/// Splits `name: words` at the first colon before which something is named; a name may hold a colon itself.
fn named<'l>(line: &str, text: &'l str, job: &Job) -> Result<(Option<String>, &'l str), NotHeard> {
    let mut first_error = None;
    for (at, _) in text.match_indices(':').take(MOST_COLONS) {
        let (name, words) = (text[..at].trim(), text[at + 1..].trim());
        if name.is_empty() {
            continue;
        }
        match part_or_whole(line, name, job) {
            Ok(part) if !words.is_empty() => return Ok((part, words)),
            Ok(_) => {
                let hints = [
                    "did guard: lifted, six screws out",
                    "parked neck coil: what was tried; why it stopped; what next",
                ];
                return Err(not_heard(line, text, WhyNot::NoWords, &hints));
            }
            Err(error) => first_error = first_error.or(Some(error)),
        }
    }
    Err(first_error.unwrap_or_else(|| not_heard(line, text, WhyNot::NoWords, &["neck coil: what is seen"])))
}

/// The part that a name means; `None` for the whole piece.
fn part_or_whole(line: &str, name: &str, job: &Job) -> Result<Option<String>, NotHeard> {
    match which(line, name, job) {
        Err(_) if ["piece", "whole", "all", "whole piece"].contains(&name.to_lowercase().as_str()) => {
            Ok(None)
        }
        found => found.map(Some),
    }
}

fn hear_act(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (part, words) = named(line, rest, job)?;
    let evidence_lost = part.as_ref().and_then(|part| parts::unphotographed(job, part));
    let body = Act1 { part, words: words.to_owned(), disturbs: true, parked: None, happened: None };
    Ok(Heard { body: Body::Act(body), doubt: None, evidence_lost })
}

fn hear_parked(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (part, words) = named(line, rest, job)?;
    // What to try next is the rest, so that nothing after a third semicolon is lost.
    let mut said = words.splitn(3, ';').map(|piece| piece.trim().to_owned());
    let mut next = || said.next().unwrap_or_default();
    let (words, stopped, next) = (next(), next(), next());
    let evidence_lost = part.as_ref().and_then(|part| parts::unphotographed(job, part));
    let body = Act1 { part, words, disturbs: true, parked: Some(Parked1 { stopped, next }), happened: None };
    Ok(Heard { body: Body::Act(body), doubt: None, evidence_lost })
}

fn hear_observation(line: &str, text: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (part, words) = named(line, text, job)?;
    let body = Observed1 { part, words: words.to_owned(), as_found: None, happened: None };
    Ok(plain(Body::Observed(body)))
}

fn hear_trace(line: &str, text: &str) -> Result<Heard, NotHeard> {
    match read_line(text) {
        Ok(_) => Ok(plain(Body::Trace(Trace1 { grammar: GRAMMAR_VERSION, text: text.to_owned() }))),
        Err(error) => {
            let start =
                text.char_indices().nth(error.column.saturating_sub(1)).map_or(text.len(), |(at, _)| at);
            // Where the line ends too soon, its last word is pointed at.
            let word = text[start..].split_whitespace().next().or_else(|| text.split_whitespace().last());
            let read = word.unwrap_or(text);
            Err(not_heard(line, read, WhyNot::Trace(error.fault.to_string()), &[]))
        }
    }
}

fn hear_money(line: &str, rest: &str) -> Result<Heard, NotHeard> {
    let hints = ["money strings 12.50 GBP", "money deposit 200 EUR", "money carriage 1800 JPY"];
    let fail = || not_heard(line, rest, WhyNot::NoSum, &hints);
    let words: Vec<&str> = rest.split_whitespace().collect();
    let [what @ .., sum, currency] = words.as_slice() else { return Err(fail()) };
    if what.is_empty() {
        return Err(fail());
    }
    let currency = currency.to_uppercase();
    let sum = Currency::of(&currency).and_then(|known| Money::read(sum, known)).map_err(|_| fail())?;
    Ok(plain(Body::Money(Money1 { words: what.join(" "), minor: sum.minor(), currency })))
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
