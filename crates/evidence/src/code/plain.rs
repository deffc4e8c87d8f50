//! Dates in digits without a source: year and week, or year, month and day.

use super::fault::{CodeFault, Problem};
use super::signs::{self, Sign};
use super::source_date::{SINCE, heads, weeks, years};
use super::{Ground, Reading, Stamp, System, Told, gather};
use crate::Span;
use jiff::civil::Date;

/// The digits before any letter, with `least` to `most` of them, and where the last ends.
fn digits(
    text: &str,
    least: usize,
    most: usize,
    as_in: &'static str,
) -> Result<(Vec<Sign>, usize), CodeFault> {
    let groups = signs::groups(text)?;
    let (heads, end) = heads(text, &groups)?;
    let digits = heads.concat();
    let fault = |problem| CodeFault::at(text, signs::place(&digits), problem);
    match digits.len() {
        count if count < least => Err(fault(Problem::TooShort { as_in })),
        count if count > most => Err(fault(Problem::TooLong { as_in })),
        _ => Ok((digits, end)),
    }
}

/// Reads one or two digits of the year and two of the week, as on relays, integrated circuits and film capacitors: 431
/// is week 31 of a year ending in 4, 0451 week 51 of 2004 (a maker's leaflet on reading date codes, update 12 07, at
/// online.documentine.com). Years from 1945 on, when such dates came up with the registers of sources.
///
/// # Errors
/// The place and what would be right.
pub fn plain_week(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let (digits, end) = digits(text, 3, 4, "0451 or 431")?;
    let (year, week) = digits.split_at(digits.len() - 2);
    let weeks = weeks(text, week)?;
    let years = years(text, year, SINCE, seen)?;
    let told =
        years.iter().flat_map(|year| weeks.iter().map(|number| Told::Week { year: *year, number: *number }));
    of(System::PlainWeek, text, end, seen, (year, week), told.collect())
}

/// Reads one or two digits of the year, two of the month and two of the day: 41201 is 1 December of a year ending in 4,
/// 70313 is 13 March of one ending in 7 (the same leaflet).
///
/// # Errors
/// The place and what would be right.
pub fn plain_day(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let (digits, end) = digits(text, 5, 6, "41201 or 041201")?;
    let (year, within) = digits.split_at(digits.len() - 4);
    let years = years(text, year, SINCE, seen)?;
    let number = |signs: &[Sign], most: u8| -> Vec<i8> {
        let [tens, ones] = signs else { return Vec::new() };
        let read = tens.digits().flat_map(|ten| ones.digits().map(move |one| 10 * ten + one));
        read.filter(|number| (1..=most).contains(number)).map(|number| number as i8).collect()
    };
    let (months, days) = (number(&within[..2], 12), number(&within[2..], 31));
    let told: Vec<Told> = years
        .iter()
        .flat_map(|year| months.iter().map(move |month| (*year, *month)))
        .flat_map(|(year, month)| days.iter().filter_map(move |day| Date::new(year, month, *day).ok()))
        .map(Told::Day)
        .collect();
    if told.is_empty() {
        return Err(CodeFault::at(text, signs::place(within), Problem::NoSuchDay));
    }
    of(System::PlainDay, text, end, seen, (year, within), told)
}

fn of(
    system: System,
    text: &str,
    end: usize,
    seen: Span,
    (year, within): (&[Sign], &[Sign]),
    told: Vec<Told>,
) -> Result<Stamp, CodeFault> {
    let told: Vec<(Told, Ground)> = told.into_iter().map(|told| (told, Ground::Only)).collect();
    let as_reading = |told, days, ground| Reading {
        year_at: Some(signs::place(year)),
        within_at: Some(signs::place(within)),
        ..Reading::of(told, days, ground)
    };
    let whole = signs::place(year).start..signs::place(within).end;
    let (readings, refused) = gather(text, whole, seen, &told, as_reading);
    Stamp::of(system, text, &text[end..], readings, refused)
}
