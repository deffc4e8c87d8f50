//! The lower of two etched lines on valves of a European group of makers: factory, year, month, and later the week.

use super::fault::{CodeFault, Problem};
use super::letters::months_to_l;
use super::signs::{self, Sign};
use super::source_date::years;
use super::{Ground, Reading, Stamp, System, Told, gather};
use crate::{Month, Span};

const AS_IN: &str = "B2H3";
/// The first year looked at: before about 1955 the lower line had no digit for the year, so that the decade before is
/// kept as a doubtful one.
const SINCE: i32 = 1950;

/// Reads the lower line: a sign for the factory, the last digit of the year, a letter A to L for the month, and a digit
/// 1 to 5 for the week of the month. What stands before it, such as the upper line, is kept as it is.
///
/// B2H3 is factory B, August of a year ending in 2, third week (cs.helsinki.fi/u/oheinone/valves, table of codes).
/// By the rule of the trade, which dealers' pages and the mirror kanzlei-kaletta.de give, three signs are before 1960
/// and since the change of about 1955, four signs are of 1960 and later; years that break the rule are kept with
/// [`Ground::AgainstRule`]. How the weeks of a month were counted is not published, so a reading covers the whole month.
///
/// # Errors
/// The place and what would be right: a month letter beyond L, a week beyond 5, a letter for the year, no year of the
/// span.
pub fn etched_valve(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let groups = signs::groups(text)?;
    let signs: Vec<Sign> = match groups.as_slice() {
        [.., lower] if lower.len() >= 3 => lower.clone(),
        _ => groups.concat(),
    };
    let whole = signs::place(&signs);
    let fault = |signs: &[Sign], problem| CodeFault::at(text, signs::place(signs), problem);
    let (year, month, week) = match signs.as_slice() {
        [_, year, month] => (*year, *month, None),
        [_, year, month, week] => (*year, *month, Some(*week)),
        [] | [_] | [_, _] => return Err(fault(&signs, Problem::TooShort { as_in: AS_IN })),
        _ => return Err(fault(&signs, Problem::TooLong { as_in: AS_IN })),
    };
    if year.is_letter() {
        return Err(fault(&[year], Problem::NotADigit));
    }
    let months = months_to_l(text, month)?;
    let weeks: Vec<Option<u8>> = match week {
        None => vec![None],
        Some(week) => week.digits().filter(|number| (1..=5).contains(number)).map(Some).collect(),
    };
    if let (Some(week), true) = (week, weeks.is_empty()) {
        return Err(fault(&[week], Problem::WeekOfMonth));
    }
    let years = years(text, &[year], SINCE, seen)?;
    let mut told = Vec::new();
    for year in years {
        let by_rule = if week.is_some() { year >= 1960 } else { (1955..1960).contains(&year) };
        let ground = if by_rule { Ground::Only } else { Ground::AgainstRule };
        for month in months.iter().filter_map(|month| Month::new(year, *month)) {
            told.extend(weeks.iter().map(|week| match week {
                Some(number) => (Told::WeekOfMonth { month, number: *number }, ground),
                None => (Told::Month(month), ground),
            }));
        }
    }
    let as_reading = |told, days, ground| Reading {
        source_at: Some(signs[0].start..signs[0].end),
        year_at: Some(year.start..year.end),
        within_at: Some(month.start..whole.end),
        ..Reading::of(told, days, ground)
    };
    let (readings, refused) = gather(text, whole.clone(), seen, &told, as_reading);
    Stamp::of(System::EtchedValve, text, &text[..whole.start], readings, refused)
}
