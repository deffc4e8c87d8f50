//! Instruments for the tests, with marks written out by hand from ISO 8601 weeks.
#![allow(dead_code, reason = "each test file takes what it needs")]

use asfound_evidence::{Instrument, Lag, MadeIn, Month, PartEvidence, Span};
use jiff::civil::{ISOWeekDate, Weekday};

/// Months a part may have been made in: what lies before 1930 or after the inspection has no weight.
pub(crate) fn makings() -> Span {
    Span::new(Month::january(1930), Month::january(2024)).expect("a span")
}

pub(crate) fn years(first: i16, last: i16) -> Span {
    Span::years(first, last).expect("a span")
}

pub(crate) fn month(year: i16, number: u8) -> Month {
    Month::new(year, number).expect("a month")
}

/// One of these ISO 8601 weeks, each as probable as the next: a week's seven days fall in one month or in two.
pub(crate) fn weeks(years: impl IntoIterator<Item = i16>, week: i8) -> MadeIn {
    let days = years.into_iter().flat_map(|year| {
        let monday = ISOWeekDate::new(year, week, Weekday::Monday).expect("a week").date();
        monday.series(jiff::Span::new().days(1)).take(7)
    });
    MadeIn::of(makings(), days.map(|day| (Month::of(day), 1.0 / 7.0)))
}

pub(crate) fn part(made_in: MadeIn, lag: &Lag, replaced: f64) -> PartEvidence {
    PartEvidence { made_in, lag: lag.clone(), replaced, if_original: 1.0, if_replaced: 1.0, known_new: false }
}

pub(crate) fn instrument(assembly: Span, parts: Vec<PartEvidence>) -> Instrument {
    Instrument {
        assembly,
        inspected: Month::january(2024),
        stock: Lag::geometric(24.0, 359).expect("a lag"),
        parts,
        harnesses: vec![],
        whole: vec![],
    }
}
