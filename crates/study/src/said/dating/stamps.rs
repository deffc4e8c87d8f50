//! What is stamped, etched, printed or written on a part, found in the words that name it.
//!
//! What was read is handed on as it was typed, with the systems of codes that such a part carries; whether it is a code
//! of such a system is for that system to say.

use asfound_evidence::Days;
use asfound_evidence::code::System;

use super::photo::{PhotoNamed, Photos};
use crate::said::tokens::{Token, tokens};
use crate::said::when::{DateSaid, dates};

/// What stands on a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Marked {
    /// Signs that may be a code of one of these systems, the likeliest first. Of none: a number on a part that carries
    /// no date codes.
    Code(Vec<System>),
    /// A date as people write it.
    Date(DateSaid),
    /// That something stands there which was not read: a look would tell.
    Unread,
}

/// A stamp with its place in the words.
#[derive(Debug, Clone, PartialEq)]
pub struct StampSaid {
    /// The entry.
    pub seq: u64,
    /// The signs as they were typed, `?` for one that was not read; for [`Marked::Unread`] the words that say so.
    pub text: String,
    /// Where they stand in the observation, in bytes.
    pub at: (usize, usize),
    /// The photograph named with it.
    pub photo: Option<PhotoNamed>,
    /// What it is.
    pub what: Marked,
}

const PRESSED: [&str; 20] = [
    "stamped",
    "stamp",
    "stamps",
    "stamping",
    "code",
    "coded",
    "codes",
    "date-code",
    "marked",
    "ink-stamped",
    "inked",
    "printed",
    "embossed",
    "etched",
    "etch",
    "engraved",
    "reads",
    "letters",
    "lettered",
    "numbered",
];
const BY_HAND: [&str; 10] = [
    "pencilled",
    "penciled",
    "pencil",
    "written",
    "handwritten",
    "dated",
    "date",
    "dates",
    "signed",
    "chalked",
];
const PATENT: [&str; 4] = ["patent", "patents", "pat", "pats"];
/// Words that may stand between what was done and what stands there.
const BETWEEN: [&str; 40] = [
    "as", "with", "the", "a", "an", "on", "in", "of", "its", "back", "case", "side", "top", "number", "no",
    "nos", "nr", "is", "says", "reading", "at", "below", "rim", "edge", "heel", "pocket", "end", "neck",
    "inside", "ink", "us", "and", "perhaps", "maybe", "probably", "possibly", "line", "lines", "looks",
    "like",
];
const UNREAD: [&str; 10] = [
    "unreadable",
    "illegible",
    "unread",
    "hidden",
    "covered",
    "faint",
    "illegibly",
    "smeared",
    "obscured",
    "unclear",
];
/// Sorts of part whose digits are a code before they are a date.
const CODED: [&str; 9] =
    ["pot", "switch", "speaker", "transformer", "choke", "capacitor", "resistor", "valve", "jack"];

/// Every stamp that an observation of a part of this sort names; numbers of which no system is known among them.
pub(super) fn stamps(seq: u64, sort: &str, words: &str, photos: &Photos) -> Vec<StampSaid> {
    let said = |(start, end, what): Found| StampSaid {
        seq,
        text: words[start..end].to_owned(),
        at: (start, end),
        photo: photos.at(start),
        what,
    };
    Observation { words, sort, tokens: tokens(words) }.all().into_iter().map(said).collect()
}

/// From where to where, in bytes, and what.
type Found = (usize, usize, Marked);

struct Observation<'a> {
    words: &'a str,
    sort: &'a str,
    tokens: Vec<Token>,
}

impl Observation<'_> {
    fn all(&self) -> Vec<Found> {
        let Observation { words, sort, tokens } = self;
        let mut found: Vec<Found> = Vec::new();
        let mut at = bare_code(words, tokens, sort).map_or(0, |end| {
            found.push(self.code(0, end, Cue::Pressed));
            // The word that follows says how it was put on, and names no second code.
            end + usize::from(tokens.get(end).is_some_and(|token| Cue::of(&token.lower).is_some()))
        });
        while at < tokens.len() {
            if Cue::of(&tokens[at].lower).is_none() {
                at += 1;
                continue;
            }
            let (named, next) = self.at_cue(at);
            for one in named {
                if found.iter().all(|known| (known.0, known.1) != (one.0, one.1)) {
                    found.push(one);
                }
            }
            at = next.max(at + 1);
        }
        found
    }

    /// What a cue names, and the word to go on from: a date, else codes, else a date before it, else that it was not read.
    fn at_cue(&self, at: usize) -> (Vec<Found>, usize) {
        let Observation { words, sort, tokens } = self;
        let from = after_cue(tokens, at);
        // Of several cues the last says what follows: `date code 137 6338`, `stamped patent 2,524,035`.
        let cues = tokens[at..from].iter().rev();
        let cue = cues.filter_map(|token| Cue::of(&token.lower)).next().unwrap_or(Cue::Pressed);
        if let Some(date) = date_here(words, tokens, from, cue, sort) {
            let (start, end) = date.at;
            let next = tokens.iter().position(|token| token.start >= end).unwrap_or(tokens.len());
            return (vec![(start, end, Marked::Date(date))], next);
        }
        let (codes, next) = self.codes(from, cue);
        if !codes.is_empty() {
            return (codes, next);
        }
        if let Some(date) = date_before(words, tokens, at, cue, sort) {
            return (vec![(date.at.0, date.at.1, Marked::Date(date))], from);
        }
        let end = clause_end(tokens, from);
        if cue != Cue::Patent && says_unread(&tokens[at..end]) {
            return (vec![(tokens[at].start, tokens[end - 1].end, Marked::Unread)], end);
        }
        (Vec::new(), from)
    }

    /// Codes from a word on, several with `and` between, and the word after them.
    fn codes(&self, mut from: usize, cue: Cue) -> (Vec<Found>, usize) {
        let mut found = Vec::new();
        while let Some(end) = code_here(self.words, &self.tokens, from) {
            match self.tokens.get(end).map_or("", |token| token.lower.as_str()) {
                // The upper of two lines is a type and no date.
                "over" | "above" if self.sort == "valve" => from = end + 1,
                "and" | "&" => {
                    found.push(self.code(from, end, cue));
                    from = end + 1;
                }
                _ => {
                    found.push(self.code(from, end, cue));
                    return (found, end);
                }
            }
        }
        (found, from)
    }

    fn code(&self, from: usize, end: usize, cue: Cue) -> Found {
        let (start, stop) = (self.tokens[from].start, self.tokens[end - 1].end);
        let systems = match cue {
            Cue::Patent => vec![System::Patent],
            Cue::Pressed | Cue::ByHand => systems(self.sort, &self.words[start..stop], self.words),
        };
        (start, stop, Marked::Code(systems))
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Cue {
    Pressed,
    ByHand,
    Patent,
}

impl Cue {
    fn of(word: &str) -> Option<Cue> {
        let known = [(Cue::Pressed, &PRESSED[..]), (Cue::ByHand, &BY_HAND), (Cue::Patent, &PATENT)];
        known.into_iter().find(|(_, words)| words.contains(&word)).map(|(cue, _)| cue)
    }
}

/// The first word after a cue that is neither another cue nor one that may stand between.
fn after_cue(tokens: &[Token], cue: usize) -> usize {
    let between = |token: &&Token| BETWEEN.contains(&token.lower.as_str()) || Cue::of(&token.lower).is_some();
    cue + 1 + tokens[cue + 1..].iter().take_while(between).count()
}

/// One past the last word of the clause that a word stands in.
fn clause_end(tokens: &[Token], from: usize) -> usize {
    let last = tokens.iter().enumerate().skip(from.saturating_sub(1)).find(|(_, token)| token.pause);
    last.map_or(tokens.len(), |(at, _)| at + 1)
}

fn says_unread(clause: &[Token]) -> bool {
    let has = |words: &[&str]| clause.iter().any(|token| words.contains(&token.lower.as_str()));
    let turned = has(&["not", "cannot", "can't"]) && has(&["read", "legible", "readable", "clear"]);
    has(&UNREAD) || turned || (has(&["under"]) && has(&["solder", "paint", "tape"]))
}

/// A date as people write it, where one stands here. Digits on a part that carries codes are a code, unless a hand wrote
/// them or a month is named.
fn date_here(words: &str, tokens: &[Token], from: usize, cue: Cue, sort: &str) -> Option<DateSaid> {
    let start = tokens.get(from)?.start;
    let end = tokens[clause_end(tokens, from) - 1].end.max(start);
    // A date may reach over a comma: `May 12, 1964`.
    let reach = tokens.get(clause_end(tokens, from)).map_or(end, |token| token.end);
    let mut date = dates(&words[start..reach]).into_iter().next().filter(|date| date.at.0 == 0)?;
    date.at = (start, start + date.at.1);
    let named = date.text.chars().filter(|sign| sign.is_alphabetic()).count() >= 3;
    let after = tokens.iter().find(|token| token.start >= date.at.1).map_or("", |token| token.text.as_str());
    let capital = |text: &str| text.ends_with(|sign: char| sign.is_ascii_uppercase());
    if cue == Cue::Pressed && named && (capital(&date.text) || (after.len() == 1 && capital(after))) {
        date.readings = date.readings.iter().map(|days| whole_month(*days)).collect();
    }
    let as_date = named || cue == Cue::ByHand || (cue == Cue::Pressed && !CODED.contains(&sort));
    as_date.then_some(date)
}

/// The last date that stands before a cue in its clause: `5-62 in pencil on the heel`.
fn date_before(words: &str, tokens: &[Token], cue_at: usize, cue: Cue, sort: &str) -> Option<DateSaid> {
    let by_hand = cue == Cue::ByHand || (cue == Cue::Pressed && !CODED.contains(&sort));
    let pause = tokens[..cue_at].iter().rposition(|token| token.pause).map_or(0, |at| at + 1);
    let (start, end) = (tokens.get(pause)?.start, tokens[cue_at].start);
    let mut date = dates(&words[start..end]).pop().filter(|_| by_hand)?;
    date.at = (start + date.at.0, start + date.at.1);
    Some(date)
}

/// A stamp with a letter behind the year has a number for the kind of neck before the month, and no day: common practice,
/// no source.
fn whole_month(days: Days) -> Days {
    Days { first: days.first.first_of_month(), last: days.last.last_of_month() }
}

/// One past the last word of a code that begins here.
fn code_here(words: &str, tokens: &[Token], from: usize) -> Option<usize> {
    let first = tokens.get(from)?;
    let capitals = |text: &str| text.chars().all(|sign| sign.is_ascii_uppercase() || sign == '?');
    let approval = first.text.split_once('/').is_some_and(|(line, works)| {
        line.len() == 2 && works.len() <= 3 && capitals(line) && capitals(works)
    });
    let letters = (2..=3).contains(&first.text.len()) && capitals(&first.text);
    if !(is_piece(words, first) || letters || approval) {
        return None;
    }
    let mut end = from + 1;
    while end < tokens.len() && !tokens[end - 1].pause {
        let token = &tokens[end];
        let hangs = ["-", "/"].contains(&token.text.as_str());
        let short = token.text.len() <= 2 && token.text.chars().all(|sign| sign.is_ascii_uppercase());
        if !(hangs || short || is_piece(words, token)) {
            break;
        }
        end += 1;
    }
    // What hangs on nothing does not belong to it.
    while end > from + 1 && ["-", "/"].contains(&tokens[end - 1].text.as_str()) {
        end -= 1;
    }
    Some(end)
}

/// Signs with a digit or an unread one among them that are no value of a part, as `250k` and `.022` are.
fn is_piece(words: &str, token: &Token) -> bool {
    let text = token.text.as_str();
    let has_digit = text.chars().any(|sign| sign.is_ascii_digit() || sign == '?');
    let decimal = words[..token.start].ends_with('.') || text.starts_with("0.");
    let number = text.trim_end_matches(|sign: char| !sign.is_ascii_digit());
    let unit = text[number.len()..].to_lowercase();
    let units = [
        "k", "m", "meg", "r", "v", "vdc", "w", "uf", "µf", "nf", "pf", "mf", "mfd", "ohm", "ohms", "%", "h",
        "mm", "°c",
    ];
    let value = number.len() <= 5 && units.contains(&unit.as_str());
    let plain = text.chars().all(|sign| sign.is_ascii_alphanumeric() || "?-/.,".contains(sign));
    has_digit && plain && !decimal && !value
}

/// `137 6338` and nothing else before the first pause, or before a word that says how it was put on, on a part that
/// carries such codes.
fn bare_code(words: &str, tokens: &[Token], sort: &str) -> Option<usize> {
    let end = code_here(words, tokens, 0)?;
    let text = &words[tokens[0].start..tokens[end - 1].end];
    let next = tokens.get(end).map(|token| token.lower.as_str());
    let put_on = next.and_then(Cue::of) == Some(Cue::Pressed) && CODED.contains(&sort);
    if put_on && !tokens[end - 1].pause {
        return (!systems(sort, text, words).is_empty()).then_some(end);
    }
    let register = ["pot", "speaker", "transformer", "choke", "switch"].contains(&sort);
    let digits = text.chars().filter(|sign| sign.is_ascii_digit() || *sign == '?').count();
    let whole = tokens[end - 1].pause || next.is_none_or(|next| next == "on");
    (register && whole && (5..=10).contains(&digits)).then_some(end)
}

/// Sorts of part that carry numbers and letters of many kinds and no date codes in digits. A patent number or a date may
/// stand on any. Common practice, no source.
const WITHOUT_CODES: [&str; 14] = [
    "body", "neck", "board", "guard", "plate", "cover", "tuner", "bridge", "screw", "knob", "label", "wire",
    "coil", "nut",
];

/// The systems that signs on a part of this sort may belong to, with the words they were said in.
fn systems(sort: &str, text: &str, words: &str) -> Vec<System> {
    use System::{
        EtchedValve, InspectionLetters, PlainDay, PlainWeek, ServiceValve, SourceAndDate, YearAndMonth,
    };
    let signs: Vec<char> = text.chars().filter(|sign| !sign.is_whitespace()).collect();
    let digits = signs.iter().filter(|sign| sign.is_ascii_digit() || **sign == '?').count();
    let letters = signs.iter().filter(|sign| sign.is_ascii_alphabetic()).count();
    let starts_with_letter = signs.first().is_some_and(char::is_ascii_alphabetic);
    let two_signs = signs.len() == 2;
    let lower = words.to_lowercase();
    match sort {
        _ if two_signs && digits == 0 && (lower.contains("chart") || lower.contains("inspect")) => {
            vec![InspectionLetters]
        }
        "valve" if text.contains('/') && digits == 0 => vec![ServiceValve],
        "valve" if starts_with_letter && digits > 0 => vec![EtchedValve],
        "valve" if letters == 0 => vec![PlainWeek, SourceAndDate],
        "capacitor" | "resistor" if two_signs && starts_with_letter => vec![YearAndMonth],
        "capacitor" | "resistor" if letters == 0 && digits <= 4 => vec![PlainWeek],
        "capacitor" | "resistor" if letters == 0 && digits <= 6 => vec![SourceAndDate, PlainDay],
        "capacitor" | "resistor" if !starts_with_letter => vec![SourceAndDate],
        "pot" | "switch" | "speaker" | "transformer" | "choke" | "jack"
            if !starts_with_letter && digits >= 3 =>
        {
            vec![SourceAndDate]
        }
        _ if two_signs && digits == 0 && !CODED.contains(&sort) => vec![InspectionLetters],
        // A sort of part that nobody thought of, such as a can or a socket: five digits and more may name their source.
        _ if letters == 0 && digits >= 5 && !CODED.contains(&sort) && !WITHOUT_CODES.contains(&sort) => {
            vec![SourceAndDate]
        }
        _ => Vec::new(),
    }
}
