//! Source and date in one code: the registered number of whoever answers for the part, then year and week.
//!
//! In use since 1945 (introduction to EIA-476-B); the source has one to four digits and the whole not more than eight
//! (scope of EIA-476-A, 1987); year and week have two digits each, or the year one alone where four digits do not fit
//! (ecianow.org/eia-source-codes gives the first, 24or.ru quotes the register for the second). The last two digits are
//! a week: no list and no example published with a register gives a month.

use super::fault::{CodeFault, Problem};
use super::register::Source;
use super::signs::{self, Sign};
use super::{Ground, Reading, Stamp, System, Told, gather};
use crate::Span;

/// The first year of the system.
pub(super) const SINCE: i32 = 1945;
const AS_IN: &str = "137-6338, 1376338 or 6338";

/// In which order year and week stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DigitOrder {
    /// The year first, as every register has it.
    #[default]
    YearFirst,
    /// The week first as well; only where the trade met both on this sort of part.
    Either,
}

/// Reads source and date, or a date alone, with the year first. See [`source_and_date_in`].
///
/// # Errors
/// As there.
pub fn source_and_date(stamp: &str, seen: Span) -> Result<Stamp, CodeFault> {
    source_and_date_in(stamp, seen, DigitOrder::YearFirst)
}

/// Reads a stamp as source and date, or as a date alone, in every way it admits: each parting of its digits, each year
/// from 1945 within the months looked at that ends so, each digit an unread one can be.
///
/// Spaces, hyphens and the like part the digits as they do on the part; without any, every parting is tried. Letters
/// behind the date and groups behind it are kept as they stand. `?` is a digit that cannot be read, `[38]` one that is 3
/// or 8. However many are unread, the source stays one pattern, and no parting has more readings than there are weeks
/// in the years looked at.
///
/// # Errors
/// The place, and what would be right, where no reading is left; where several ways of parting fail, that of the
/// likeliest.
pub fn source_and_date_in(stamp: &str, seen: Span, order: DigitOrder) -> Result<Stamp, CodeFault> {
    let groups = signs::groups(stamp)?;
    let (heads, end) = heads(stamp, &groups)?;
    let partings = partings(stamp, &heads, end)?;
    let (mut readings, mut refused) = (Vec::new(), Vec::new());
    let orders: &[bool] = if order == DigitOrder::Either { &[true, false] } else { &[true] };
    for parting in &partings.ways {
        for year_first in orders {
            match parting.readings(stamp, seen, *year_first) {
                Ok(found) => readings.extend(found),
                Err(fault) => refused.push(fault),
            }
        }
    }
    Stamp::of(System::SourceAndDate, stamp, &stamp[partings.end..], readings, refused)
}

/// The groups of digits the code begins with, and where the last ends. A letter ends them.
pub(super) fn heads<'a>(stamp: &str, groups: &'a [Vec<Sign>]) -> Result<(Vec<&'a [Sign]>, usize), CodeFault> {
    let mut heads: Vec<&[Sign]> = Vec::new();
    for group in groups {
        let digits = group.iter().take_while(|sign| !sign.is_letter()).count();
        if digits == 0 {
            break;
        }
        let tail = &group[digits..];
        if let Some(digit) = tail.iter().position(|sign| sign.is_digit()) {
            let place = tail[0].start..tail[digit].end;
            return Err(CodeFault::at(stamp, place, Problem::LettersInside));
        }
        heads.push(&group[..digits]);
        if !tail.is_empty() {
            break;
        }
    }
    value_in_front(stamp, groups, &heads)?;
    match heads.last().and_then(|group| group.last()) {
        Some(last) => Ok((heads, last.end)),
        None => Err(CodeFault::at(stamp, signs::place(&groups[0]), Problem::LettersInFront)),
    }
}

/// A value printed before the code, as in `250K 1376338`, would be read as a date by itself: few digits and a letter,
/// and a longer code behind them.
fn value_in_front(stamp: &str, groups: &[Vec<Sign>], heads: &[&[Sign]]) -> Result<(), CodeFault> {
    const LEAST_WITH_SOURCE: usize = 5;
    let (before, behind) = groups.split_at(heads.len());
    let leading = |group: &[Sign]| group.iter().take_while(|sign| !sign.is_letter()).count();
    let digits: usize = heads.iter().map(|group| group.len()).sum();
    let digits_behind: usize = behind.iter().map(|group| leading(group)).sum();
    if (1..LEAST_WITH_SOURCE).contains(&digits) && digits_behind >= LEAST_WITH_SOURCE {
        let place = before.first().map_or(0, |group| signs::place(group).start)
            ..before.last().map_or(0, |group| signs::place(group).end);
        return Err(CodeFault::at(stamp, place, Problem::LettersInFront));
    }
    Ok(())
}

/// One way of parting the digits.
struct Parting {
    source: Vec<Sign>,
    date: Vec<Sign>,
    ground: Ground,
}

/// Every way, and where in the text the last of them ends.
struct Partings {
    ways: Vec<Parting>,
    end: usize,
}

/// Every way of parting the digits into a source of none to four and a date of three or four.
fn partings(stamp: &str, heads: &[&[Sign]], end: usize) -> Result<Partings, CodeFault> {
    if let Some(parted) = parted(heads) {
        let end = signs::place(&parted.date).end;
        return Ok(Partings { ways: vec![parted], end });
    }
    let digits: Vec<Sign> = heads.concat();
    let whole = signs::place(&digits);
    match digits.len() {
        0..3 => return Err(CodeFault::at(stamp, whole, Problem::TooShort { as_in: AS_IN })),
        9.. => return Err(CodeFault::at(stamp, whole, Problem::TooLong { as_in: AS_IN })),
        _ => {}
    }
    let mut ways: Vec<Parting> = [3, 4]
        .into_iter()
        .filter_map(|date| digits.len().checked_sub(date))
        .filter(|source| *source <= 4)
        .map(|source| {
            let (source, date) = digits.split_at(source);
            let ground = match source {
                [] => Ground::Only,
                _ if Source::of(source).registrants().next().is_some() => Ground::Listed,
                _ => Ground::Unlisted,
            };
            Parting { source: source.to_vec(), date: date.to_vec(), ground }
        })
        .collect();
    ways.sort_by_key(|way| way.ground);
    Ok(Partings { ways, end })
}

/// The way that the gaps between groups fix: `137-6338`, `606-4-21`, `67-01 12` with more behind it, `14-07`. `None`
/// where there is no gap, or none that parts a source from a date.
fn parted(heads: &[&[Sign]]) -> Option<Parting> {
    let parting = |source: &[Sign], date: Vec<Sign>| {
        Some(Parting { source: source.to_vec(), date, ground: Ground::Parted })
    };
    match heads {
        [source, date, ..] if (1..=4).contains(&source.len()) && (3..=4).contains(&date.len()) => {
            parting(source, date.to_vec())
        }
        [source, year, week, ..]
            if (1..=4).contains(&source.len()) && (1..=2).contains(&year.len()) && week.len() == 2 =>
        {
            parting(source, [*year, *week].concat())
        }
        [year, week] if (1..=2).contains(&year.len()) && week.len() == 2 => {
            parting(&[], [*year, *week].concat())
        }
        _ => None,
    }
}

impl Parting {
    /// Every year and week it can be.
    fn readings(&self, stamp: &str, seen: Span, year_first: bool) -> Result<Vec<Reading>, CodeFault> {
        if let Some(first) = self.source.first()
            && first.digits().all(|digit| digit == 0)
        {
            return Err(CodeFault::at(stamp, signs::place(&self.source), Problem::SourceBeginsWithZero));
        }
        let (year, week) = if year_first {
            self.date.split_at(self.date.len() - 2)
        } else {
            let (week, year) = self.date.split_at(2);
            (year, week)
        };
        let weeks = weeks(stamp, week)?;
        let years = years(stamp, year, SINCE, seen)?;
        let told: Vec<(Told, Ground)> = years
            .iter()
            .flat_map(|year| weeks.iter().map(|number| Told::Week { year: *year, number: *number }))
            .map(|told| (told, self.ground))
            .collect();
        let as_reading = |told, days, ground| Reading {
            source: (!self.source.is_empty()).then(|| Source::of(&self.source)),
            source_at: (!self.source.is_empty()).then(|| signs::place(&self.source)),
            year_at: Some(signs::place(year)),
            within_at: Some(signs::place(week)),
            ..Reading::of(told, days, ground)
        };
        let (readings, outside) = gather(stamp, signs::place(&self.date), seen, &told, as_reading);
        outside.into_iter().next().map_or(Ok(readings), Err)
    }
}

/// The weeks that two signs can be.
pub(super) fn weeks(stamp: &str, signs: &[Sign]) -> Result<Vec<u8>, CodeFault> {
    let fault = |problem| CodeFault::at(stamp, signs::place(signs), problem);
    let [tens, ones] = signs else { return Err(fault(Problem::NotADigit)) };
    let read: Vec<u8> = tens.digits().flat_map(|ten| ones.digits().map(move |one| 10 * ten + one)).collect();
    let weeks: Vec<u8> = read.iter().copied().filter(|week| (1..=53).contains(week)).collect();
    match read.as_slice() {
        [] => Err(fault(Problem::NotADigit)),
        [0] => Err(fault(Problem::WeekZero)),
        _ if weeks.is_empty() => Err(fault(Problem::WeekBeyond53)),
        _ => Ok(weeks),
    }
}

/// The years looked at, from the first year of a system on, that end in what one or two signs can be.
pub(super) fn years(stamp: &str, signs: &[Sign], since: i32, seen: Span) -> Result<Vec<i16>, CodeFault> {
    let fault = |problem| Err(CodeFault::at(stamp, signs::place(signs), problem));
    let (from, to) = (seen.first.year().max(since), seen.last.year());
    if from > to {
        return fault(Problem::LaterThanInspection { seen: seen.last });
    }
    let ends_so = |year: &i16| {
        let mut rest = *year;
        signs.iter().rev().all(|sign| {
            let digit = (rest % 10) as u8;
            rest /= 10;
            sign.can_be_digit(digit)
        })
    };
    // The calendar ends with the year 9999.
    let of_the_calendar = |year: i32| year.clamp(0, 9999) as i16;
    let years: Vec<i16> = (of_the_calendar(from)..=of_the_calendar(to)).filter(ends_so).collect();
    if years.is_empty() { fault(Problem::NoSuchYear { from, to }) } else { Ok(years) }
}
