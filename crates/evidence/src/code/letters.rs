//! Codes of two signs, a year and a month: the letters of IEC 60062, and an inspection stamp of two letters.

use super::fault::{CodeFault, Problem};
use super::signs::{self, Sign};
use super::{Ground, Reading, Stamp, System, Told, gather};
use crate::{Month, Span};

/// The year letters of IEC 60062 in their order from 1970: no G, I, O, Q, Y, Z.
const YEARS: &str = "ABCDEFHJKLMNPRSTUVWX";
/// A letter comes again after twenty years.
const CYCLE: i32 = 20;
/// The first year of the cycle that published tables reach back to.
const FIRST_CYCLE: i32 = 1970;

/// Reads a year letter and a month sign of IEC 60062: a cycle of twenty years from A = 1970, 1990 and 2010, then 1 to 9
/// for January to September, O, N and D.
///
/// The anchors are published years of letters: E 1994 to M 2000 (newtoncbraga.com.br, technical almanac 202, the older
/// of its two tables; the other is a year late and contradicts it) and R 2003 (an answer at qeeebo.com).
///
/// # Errors
/// The place and what would be right: a letter that stands for no year, a sign that stands for no month, no year of the
/// span.
pub fn year_and_month(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let (signs, end) = signs::leading(text, 2, 2, "M9 or KO")?;
    let (year, month) = (signs[0], signs[1]);
    let starts = (FIRST_CYCLE..=seen.last.year()).step_by(CYCLE as usize);
    let years = starts.flat_map(|start| {
        year.letters().filter_map(move |letter| Some(start + YEARS.find(letter)? as i32)).collect::<Vec<_>>()
    });
    if year.letters().all(|letter| !YEARS.contains(letter)) {
        let problem = Problem::NotAYearLetter { of: "A to X without G, I, O and Q" };
        return Err(CodeFault::at(text, year.start..year.end, problem));
    }
    let letters = month.letters().filter_map(|letter| match letter {
        'O' => Some(10),
        'N' => Some(11),
        'D' => Some(12),
        _ => None,
    });
    let months: Vec<u8> = month.digits().filter(|digit| *digit > 0).chain(letters).collect();
    if months.is_empty() {
        let problem = Problem::NotAMonth { of: "1 to 9, then the letters O, N and D" };
        return Err(CodeFault::at(text, month.start..month.end, problem));
    }
    read(System::YearAndMonth, text, end, seen, (year, years), (month, &months))
}

/// The years in which the series of inspection stamps began with A.
const SERIES: [i32; 2] = [1951, 1990];

/// Reads an inspection stamp of two letters, as on valve charts of American amplifiers: the first the year, counted from
/// A = 1951 and again from A = 1990, the second the month, A = January to L = December (chaku.ru, mirror of a trade
/// page: FG is July 1956, QA January 1967, CG July 1953 or July 1992).
///
/// # Errors
/// The place and what would be right: a month letter beyond L, a digit, no year of the span.
pub fn inspection_letters(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let (signs, end) = signs::leading(text, 2, 2, "FG")?;
    let (year, month) = (signs[0], signs[1]);
    for sign in [year, month] {
        if sign.is_digit() {
            return Err(CodeFault::at(text, sign.start..sign.end, Problem::NotALetter));
        }
    }
    let years = SERIES
        .into_iter()
        .flat_map(|start| year.letters().map(move |letter| start + place_in_alphabet(letter)));
    let months = months_to_l(text, month)?;
    read(System::InspectionLetters, text, end, seen, (year, years), (month, &months))
}

/// A is 0.
fn place_in_alphabet(letter: char) -> i32 {
    letter as i32 - 'A' as i32
}

/// The months that a letter of A to L, with I counted, can be.
pub(super) fn months_to_l(text: &str, sign: Sign) -> Result<Vec<u8>, CodeFault> {
    let fault = |problem| CodeFault::at(text, sign.start..sign.end, problem);
    let months: Vec<u8> = sign
        .letters()
        .filter(|letter| *letter <= 'L')
        .map(|letter| place_in_alphabet(letter) as u8 + 1)
        .collect();
    match (months.is_empty(), sign.is_digit()) {
        (false, _) => Ok(months),
        (true, true) => Err(fault(Problem::NotALetter)),
        (true, false) => Err(fault(Problem::MonthBeyondL)),
    }
}

/// Every year with every month.
fn read(
    system: System,
    text: &str,
    end: usize,
    seen: Span,
    (year, years): (Sign, impl Iterator<Item = i32>),
    (month, months): (Sign, &[u8]),
) -> Result<Stamp, CodeFault> {
    let years: Vec<i16> = years.filter_map(|year| i16::try_from(year).ok()).collect();
    let told = years.iter().flat_map(|year| months.iter().filter_map(|month| Month::new(*year, *month)));
    let told: Vec<(Told, Ground)> = told.map(|month| (Told::Month(month), Ground::Only)).collect();
    let as_reading = |told, days, ground| Reading {
        year_at: Some(year.start..year.end),
        within_at: Some(month.start..month.end),
        ..Reading::of(told, days, ground)
    };
    let (readings, refused) = gather(text, year.start..month.end, seen, &told, as_reading);
    Stamp::of(system, text, &text[end..], readings, refused)
}
