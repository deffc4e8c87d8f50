//! Months and days as they are said.

use asfound_study::dates::{Days, Month, Span};

use crate::lists::or;
use crate::time::MONTHS;

/// Runs of months that are named one by one; of more, the first and the last month.
const MOST_NAMED: usize = 4;
/// The calendar begins and ends here: a day in these years stands for no bound.
const NO_BOUND: (i16, i16) = (-9999, 9999);

/// `August 1966`.
pub(crate) fn month(month: Month) -> String {
    format!("{} {}", name(month), month.year())
}

/// `August`.
pub(super) fn name(month: Month) -> &'static str {
    MONTHS[usize::from(month.number()) - 1]
}

/// `July 1956 to May 1957`, `March to August 1964`, `1964`, `August 1966`.
pub(crate) fn span(span: Span) -> String {
    let (first, last) = (span.first, span.last);
    let whole_years = first.number() == 1 && last.number() == 12;
    match (first.year() == last.year(), whole_years) {
        _ if first == last => month(first),
        (true, true) => first.year().to_string(),
        (false, true) => format!("{} to {}", first.year(), last.year()),
        (true, false) => format!("{} to {}", name(first), month(last)),
        (false, false) => format!("{} to {}", month(first), month(last)),
    }
}

/// Runs of months as a choice between them.
pub(crate) fn spans(runs: &[Span]) -> String {
    match runs {
        [first, .., last] if runs.len() > MOST_NAMED => {
            format!("one of {} spans between {} and {}", runs.len(), month(first.first), month(last.last))
        }
        few => or(&few.iter().map(|run| span(*run)).collect::<Vec<_>>()),
    }
}

/// `9 March 1964`.
pub(super) fn day(year: i16, month: i8, day: i8) -> String {
    let name = usize::try_from(month - 1).ok().and_then(|at| MONTHS.get(at)).copied().unwrap_or_default();
    format!("{day} {name} {year}")
}

/// Days after `put together`: `between 9 March 1964 and 30 June 1965`, `on 9 March 1964 or later`.
pub(crate) fn days(days: Days) -> String {
    let (first, last) = (days.first, days.last);
    let say = |at: (i16, i8, i8)| day(at.0, at.1, at.2);
    let from = say((first.year(), first.month(), first.day()));
    let to = say((last.year(), last.month(), last.day()));
    match (first.year() <= NO_BOUND.0, last.year() >= NO_BOUND.1) {
        (true, true) => "on any day".to_owned(),
        (true, false) => format!("on {to} or earlier"),
        (false, true) => format!("on {from} or later"),
        _ if first == last => format!("on {from}"),
        (false, false) => format!("between {from} and {to}"),
    }
}

/// The same for several intervals.
pub(crate) fn intervals(all: &[Days]) -> String {
    match all {
        [first, .., last] if all.len() > MOST_NAMED => {
            format!("in one of {} intervals, the first {}, the last {}", all.len(), days(*first), days(*last))
        }
        few => or(&few.iter().map(|one| days(*one)).collect::<Vec<_>>()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn from_to(from: (i16, u8), to: (i16, u8)) -> Span {
        let month = |(year, number)| Month::new(year, number).expect("a month");
        Span::new(month(from), month(to)).expect("in order")
    }

    #[test]
    fn months_are_said_once_where_once_is_enough() {
        assert_eq!(span(from_to((1956, 7), (1957, 5))), "July 1956 to May 1957");
        assert_eq!(span(from_to((1964, 3), (1964, 8))), "March to August 1964");
        assert_eq!(span(from_to((1964, 1), (1964, 12))), "1964");
        assert_eq!(span(from_to((1964, 1), (1966, 12))), "1964 to 1966");
        assert_eq!(span(from_to((1966, 8), (1966, 8))), "August 1966");
        let decades = [1956, 1966, 1976, 1986, 1996].map(|year| from_to((year, 7), (year, 9)));
        assert_eq!(
            spans(&decades[..3]),
            "July to September 1956, July to September 1966 or July to September 1976"
        );
        assert_eq!(spans(&decades), "one of 5 spans between July 1956 and September 1996");
    }
}
