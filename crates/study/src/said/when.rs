//! Dates as people write them: `12 May 1964`, `5/1964`, `1964-05-12`, `May 64`, `spring 1964`, `about 1962`.
//!
//! A date is days from a first to a last, so that a year and a day are one kind of thing. What can be meant in two ways
//! is answered in both: `3/4/64` is the third of April and the fourth of March.

use asfound_evidence::{Days, Month, Span};
use jiff::civil::{Date, date};

use super::tokens::{Token, tokens};

fn day_of(year: i16, month: i8, day: i8) -> Option<Days> {
    let day = Date::new(year, month, day).ok()?;
    Some(Days { first: day, last: day })
}

fn months_of(year: i16, first: i8, last: i8) -> Option<Days> {
    let first = Date::new(year, first, 1).ok()?;
    Some(Days { first, last: Date::new(year, last, 1).ok()?.last_of_month() })
}

fn years(first: i16, last: i16) -> Option<Days> {
    let known = EARLIEST <= first && first <= last && last <= LATEST;
    known.then(|| Days { first: date(first, 1, 1), last: date(last, 12, 31) })
}

/// Which side of the days is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// In those days.
    Within,
    /// On the last of them or earlier: `by 1964`, `before 1965`.
    NotAfter,
    /// On the first of them or later: `after 1960`, `since 1961`.
    NotBefore,
}

/// A date that was said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DateSaid {
    /// As it was written.
    pub text: String,
    /// Where it stands in the words, in bytes.
    pub at: (usize, usize),
    /// What it can mean: several where day and month, or the year of a winter, are not told apart.
    pub readings: Vec<Days>,
    /// Which side of it is meant.
    pub bound: Bound,
}

impl DateSaid {
    /// From the first day that any reading has to the last that any has.
    pub fn envelope(&self) -> Option<Days> {
        let first = self.readings.iter().map(|days| days.first).min()?;
        Some(Days { first, last: self.readings.iter().map(|days| days.last).max()? })
    }

    /// The months that any reading touches.
    pub fn months(&self) -> Option<Span> {
        let days = self.envelope()?;
        Span::new(Month::of(days.first), Month::of(days.last))
    }

    /// Whether it can be meant in more than one way.
    pub fn is_ambiguous(&self) -> bool {
        self.readings.len() > 1
    }
}

const EARLIEST: i16 = 1850;
const LATEST: i16 = 2099;

/// Two digits stand for a year of the last century from this one on, and for one of this century below it. No electric
/// instrument is older. Common practice, no source.
const TWO_DIGITS_FROM: i16 = 30;

/// Either side of `about 1962`. Common practice, no source.
const ABOUT_YEARS: i16 = 2;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Every date in the words, in order. A number that is named a serial, a patent or a model is no year.
pub fn dates(text: &str) -> Vec<DateSaid> {
    let tokens = tokens(text);
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let Some((length, readings)) = range(&tokens, at) else {
            at += 1;
            continue;
        };
        let (start, end) = (tokens[at].start, tokens[at + length - 1].end);
        let (bound, readings) = bounded(&tokens[..at], readings);
        if !readings.is_empty() && !is_a_number_of_another_kind(&tokens, at) {
            found.push(DateSaid { text: text[start..end].to_owned(), at: (start, end), readings, bound });
        }
        at += length;
    }
    found
}

fn is_a_number_of_another_kind(tokens: &[Token], at: usize) -> bool {
    let before = at.checked_sub(1).map(|at| tokens[at].lower.as_str()).unwrap_or_default();
    ["serial", "no", "number", "nr", "#", "model", "patent", "pat", "code", "photo"].contains(&before)
}

/// What the words before a date make of it.
fn bounded(before: &[Token], readings: Vec<Days>) -> (Bound, Vec<Days>) {
    let word = |back: usize| before.iter().rev().nth(back).map_or("", |token| token.lower.as_str());
    let turned = ["not", "no"].contains(&word(1));
    match word(0) {
        "before" if turned => (Bound::NotBefore, readings),
        "after" | "later" if turned => (Bound::NotAfter, readings),
        "than" if word(1) == "later" && ["not", "no"].contains(&word(2)) => (Bound::NotAfter, readings),
        "than" if word(1) == "earlier" && ["not", "no"].contains(&word(2)) => (Bound::NotBefore, readings),
        "before" => {
            let eve = |days: &Days| {
                let last = days.first.yesterday().ok()?;
                Some(Days { first: last, last })
            };
            (Bound::NotAfter, readings.iter().filter_map(eve).collect())
        }
        "by" | "until" | "till" => (Bound::NotAfter, readings),
        "after" | "since" => (Bound::NotBefore, readings),
        "about" | "circa" | "around" | "c" | "ca" | "roughly" | "approximately" => {
            (Bound::Within, readings.into_iter().map(about).collect())
        }
        _ => (Bound::Within, readings),
    }
}

/// A whole year is widened; a month or a day that is said about is left as it is.
fn about(days: Days) -> Days {
    let (first, last) = (days.first.year(), days.last.year());
    let whole_years = days == Days { first: date(first, 1, 1), last: date(last, 12, 31) };
    let wide = years(first - ABOUT_YEARS, last + ABOUT_YEARS);
    if whole_years { wide.unwrap_or(days) } else { days }
}

/// One date, or two with a word between that makes them one: `1962 to 1964`, `1962 or 1963`.
fn range(tokens: &[Token], at: usize) -> Option<(usize, Vec<Days>)> {
    let (length, readings) = one(tokens, at)?;
    let joint = tokens.get(at + length).map(|token| token.lower.as_str());
    let Some((more, others)) = one(tokens, at + length + 1) else { return Some((length, readings)) };
    let between = at > 0 && tokens[at - 1].lower == "between";
    let whole = length + 1 + more;
    match joint {
        Some("or") => Some((whole, readings.into_iter().chain(others).collect())),
        Some("to" | "-" | "–") => Some((whole, spanning(&readings, &others)?)),
        Some("and") if between => Some((whole, spanning(&readings, &others)?)),
        _ => Some((length, readings)),
    }
}

fn spanning(from: &[Days], to: &[Days]) -> Option<Vec<Days>> {
    let (first, last) = (from.iter().map(|days| days.first).min()?, to.iter().map(|days| days.last).max()?);
    (first <= last).then(|| vec![Days { first, last }])
}

fn one(tokens: &[Token], at: usize) -> Option<(usize, Vec<Days>)> {
    let token = tokens.get(at)?;
    let in_one_word = || {
        let about_a_year =
            ["circa", "ca.", "ca", "c.", "c"].iter().find_map(|about| token.lower.strip_prefix(about));
        let known =
            about_a_year.and_then(year).and_then(|year| years(year - ABOUT_YEARS, year + ABOUT_YEARS));
        known.map(|days| vec![days]).or_else(|| run_together(&token.text)).or_else(|| in_digits(&token.text))
    };
    in_words(&tokens[at..]).or_else(|| in_one_word().map(|readings| (1, readings)))
}

/// `2MAY64`, `MAY64B`: as stamps have it.
fn run_together(text: &str) -> Option<Vec<Days>> {
    let letters = text.find(|sign: char| sign.is_ascii_alphabetic())?;
    let (first, rest) = text.split_at(letters);
    let digits = rest.find(|sign: char| !sign.is_ascii_alphabetic())?;
    let (name, last) = rest.split_at(digits);
    let (month, year) = (month(&name.to_lowercase())?, year(last)?);
    let days =
        if first.is_empty() { months_of(year, month, month) } else { day_of(year, month, day(first)?) };
    Some(vec![days?])
}

/// `12 May 1964`, `May 12, 1964`, `May 64`, `spring 1964`, `early 1964`, `late 1950s`, `the 60s`.
fn in_words(tokens: &[Token]) -> Option<(usize, Vec<Days>)> {
    let word = |at: usize| tokens.get(at).map_or("", |token| token.lower.as_str());
    let year = |at: usize| tokens.get(at).and_then(|token| year(&token.text));
    if let Some(day) = day(word(0)) {
        let after = if word(1) == "of" { 2 } else { 1 };
        let (month, year) = (month(word(after))?, year(after + 1)?);
        return Some((after + 2, vec![day_of(year, month, day)?]));
    }
    if let Some(month) = month(word(0)) {
        if let Some((day, year)) = day(word(1)).zip(year(2)) {
            return Some((3, vec![day_of(year, month, day)?]));
        }
        let after = if word(1) == "of" { 2 } else { 1 };
        return Some((after + 1, vec![months_of(year(after)?, month, month)?]));
    }
    let after = if word(1) == "of" { 2 } else { 1 };
    if let Some(readings) = year(after).and_then(|year| season(word(0), year)) {
        return Some((after + 1, readings));
    }
    if let Some(decade) = tokens.get(1).and_then(|token| decade(&token.lower))
        && let Some((from, to)) = third_of_decade(word(0))
    {
        return Some((2, vec![years(decade + from, decade + to)?]));
    }
    // `mid-1960s` is one word.
    let (third, rest) = word(0).split_once('-').unwrap_or_default();
    let part = third_of_decade(third).zip(decade(rest));
    if let Some(((from, to), decade)) = part {
        return Some((1, vec![years(decade + from, decade + to)?]));
    }
    decade(word(0)).and_then(|decade| Some((1, vec![years(decade, decade + 9)?])))
}

/// Early, mid and late of a decade, as the study of periods has them.
fn third_of_decade(word: &str) -> Option<(i16, i16)> {
    match word {
        "early" => Some((0, 3)),
        "mid" | "middle" => Some((4, 6)),
        "late" => Some((7, 9)),
        _ => None,
    }
}

/// Seasons are those of the north, three whole months each; a winter belongs to either year. Thirds of a year are four
/// months each. Common practice, no source.
fn season(word: &str, year: i16) -> Option<Vec<Days>> {
    let months = |first, last| Some(vec![months_of(year, first, last)?]);
    match word {
        "spring" => months(3, 5),
        "summer" => months(6, 8),
        "autumn" | "fall" => months(9, 11),
        "christmas" => months(12, 12),
        "early" => months(1, 4),
        "mid" | "middle" => months(5, 8),
        "late" => months(9, 12),
        "winter" => {
            let winter = |begun: i16| {
                let last = Date::new(begun + 1, 2, 1).ok()?.last_of_month();
                Some(Days { first: Date::new(begun, 12, 1).ok()?, last })
            };
            Some(vec![winter(year - 1)?, winter(year)?])
        }
        _ => None,
    }
}

fn day(word: &str) -> Option<i8> {
    let digits = ["st", "nd", "rd", "th"].iter().find_map(|end| word.strip_suffix(end)).unwrap_or(word);
    let short = !digits.is_empty() && digits.len() <= 2 && digits.bytes().all(|digit| digit.is_ascii_digit());
    digits.parse().ok().filter(|day| short && (1..=31).contains(day))
}

fn month(word: &str) -> Option<i8> {
    let known = word.len() >= 3 && word.is_ascii();
    let at = MONTHS.iter().position(|month| {
        let short = word.len() == 3 || (word == "sept");
        known && (*month == word || (short && month.starts_with(word)))
    })?;
    i8::try_from(at + 1).ok()
}

/// A year of four digits, of two, or of two after an apostrophe; one letter of a stamp may hang on it.
fn year(text: &str) -> Option<i16> {
    let text = text.trim_start_matches(['\'', '’', '‘']);
    let digits = text.strip_suffix(|sign: char| sign.is_ascii_uppercase()).unwrap_or(text);
    if !digits.bytes().all(|digit| digit.is_ascii_digit()) {
        return None;
    }
    let number: i16 = digits.parse().ok()?;
    match digits.len() {
        4 => (EARLIEST..=LATEST).contains(&number).then_some(number),
        2 => Some(if number >= TWO_DIGITS_FROM { 1900 + number } else { 2000 + number }),
        _ => None,
    }
}

fn decade(word: &str) -> Option<i16> {
    let names = ["thirties", "forties", "fifties", "sixties", "seventies", "eighties", "nineties"];
    if let Some(at) = names.iter().position(|name| *name == word) {
        return i16::try_from(at).ok().map(|at| 1930 + 10 * at);
    }
    let year = year(word.strip_suffix('s')?)?;
    (year % 10 == 0).then_some(year)
}

/// A date in one word of digits.
fn in_digits(text: &str) -> Option<Vec<Days>> {
    let apostrophe = text.starts_with(['\'', '’', '‘']);
    let mark = ['-', '/', '.', '–'].into_iter().find(|mark| text.contains(*mark));
    let Some(mark) = mark else {
        // Two bare digits are no year.
        let is_year = apostrophe || text.len() == 4;
        return is_year.then(|| year(text)).flatten().and_then(|year| Some(vec![years(year, year)?]));
    };
    let pieces: Vec<&str> = text.split(mark).collect();
    let small = |at: usize| {
        pieces.get(at).filter(|piece| piece.len() <= 2).and_then(|piece| piece.parse::<i8>().ok())
    };
    let four = |at: usize| pieces.get(at).filter(|piece| piece.len() == 4).and_then(|piece| year(piece));
    let any_year = |at: usize| pieces.get(at).and_then(|piece| year(piece));
    match pieces.len() {
        2 => match (four(0), small(1)) {
            (Some(year), Some(month @ 1..=12)) if mark == '-' || mark == '.' => {
                Some(vec![months_of(year, month, month)?])
            }
            (Some(first), _) => {
                let last = any_year(1)?;
                Some(vec![years(first, last).filter(|days| days.first <= days.last)?])
            }
            _ => Some(vec![months_of(any_year(1)?, small(0)?, small(0)?)?]),
        },
        3 if four(0).is_some() => Some(vec![day_of(four(0)?, small(1)?, small(2)?)?]),
        3 => {
            let (year, first, second) = (any_year(2)?, small(0)?, small(1)?);
            let day_first = day_of(year, second, first);
            // Full stops are written by people who put the day first.
            let month_first = day_of(year, first, second).filter(|_| mark != '.' || day_first.is_none());
            let mut readings: Vec<Days> = [day_first, month_first].into_iter().flatten().collect();
            readings.dedup();
            (!readings.is_empty()).then_some(readings)
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
