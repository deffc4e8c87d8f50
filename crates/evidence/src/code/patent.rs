//! A number of a patent of the United States: the part was marked after it was granted.

use super::fault::{CodeFault, Problem};
use super::signs::{self, Sign};
use super::{Ground, Reading, Stamp, System, Told, gather};
use crate::{Span, table};
use jiff::civil::Date;

const GRANTED: &str = include_str!("../../data/patents.tsv");
const AS_IN: &str = "2,524,035";

/// A patent number whose day is published, or the first number of a year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Granted {
    /// The number.
    pub number: u32,
    /// The earliest day on which it, and every later number, can have been granted.
    pub not_before: Date,
    /// Which publication says so.
    pub published: &'static str,
}

impl Granted {
    /// Every line there is, by number.
    pub fn all() -> impl Iterator<Item = Granted> {
        table::rows::<3>(GRANTED).filter_map(|[number, not_before, published]| {
            Some(Granted { number: number.parse().ok()?, not_before: not_before.parse().ok()?, published })
        })
    }

    /// The last line that is not above a number: numbers are granted in their order.
    pub fn up_to(number: u32) -> Option<Granted> {
        Granted::all().take_while(|line| line.number <= number).last()
    }
}

/// Reads a patent number, with the words before it that such marks have. It bounds the part from below only, so a digit
/// that cannot be read counts as the lowest it can be. What stands behind it is kept as it is.
///
/// # Errors
/// The place and what would be right: an application, a design or a foreign patent, a number granted after the
/// inspection.
pub fn patent(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let groups = signs::groups(text)?;
    let is_word = |group: &[Sign]| group.iter().all(|sign| sign.is_letter());
    let words = groups.iter().take_while(|group| is_word(group)).count();
    let (words, numbers) = groups.split_at(words);
    check_words(text, words, numbers.is_empty())?;
    let numbers: Vec<Sign> = numbers.iter().take_while(|group| !is_word(group)).flatten().copied().collect();
    if let Some(letter) = numbers.iter().find(|sign| sign.is_letter()) {
        return Err(CodeFault::at(text, letter.start..letter.end, Problem::NotADigit));
    }
    let at = signs::place(&numbers);
    if numbers.len() > 8 {
        return Err(CodeFault::at(text, at, Problem::TooLong { as_in: AS_IN }));
    }
    let lowest =
        numbers.iter().fold(0, |so_far, sign| 10 * so_far + sign.digits().next().map_or(0, u32::from));
    let Some(granted) = Granted::up_to(lowest.max(1)) else {
        return Err(CodeFault::at(text, at, Problem::NotADigit));
    };
    let told = [(Told::NotBefore(granted.not_before), Ground::Only)];
    let (readings, refused) = gather(text, at.clone(), seen, &told, Reading::of);
    Stamp::of(System::Patent, text, &text[at.end..], readings, refused)
}

/// Whether the words before a number are those of a patent of this country.
fn check_words(text: &str, words: &[Vec<Sign>], no_number: bool) -> Result<(), CodeFault> {
    let whole =
        words.first().map_or(0, |word| word[0].start)..words.last().map_or(0, |word| signs::place(word).end);
    let written = |word: &[Sign]| text[signs::place(word)].to_ascii_uppercase();
    let applied =
        |word: &[Sign]| ["PEND", "APPL", "APPLN"].iter().any(|start| written(word).starts_with(start));
    if words.iter().any(|word| applied(word)) {
        return Err(CodeFault::at(text, whole, Problem::PatentNotGranted));
    }
    const OURS: [&str; 9] = ["US", "U", "S", "A", "PAT", "PATENT", "PATENTS", "NO", "NOS"];
    if let Some(other) = words.iter().find(|word| !OURS.contains(&written(word).as_str())) {
        return Err(CodeFault::at(text, signs::place(other), Problem::OtherPatents));
    }
    if no_number {
        return Err(CodeFault::at(text, whole, Problem::TooShort { as_in: AS_IN }));
    }
    Ok(())
}
