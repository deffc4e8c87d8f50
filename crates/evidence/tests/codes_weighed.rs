//! Codes weigh by month what the worked examples of the weighing (`vectors.rs`) put in by hand from ISO weeks.

mod common;

use asfound_evidence::code::{etched_valve, source_and_date};
use asfound_evidence::{MadeIn, Month, Span};
use common::{makings, month, weeks, years};

/// From 1945 to the month of the inspection.
fn seen() -> Span {
    Span::new(Month::january(1945), makings().last).expect("a span")
}

/// Sums of the same sevenths in another order: the last bits may differ, no more.
fn same(found: &MadeIn, expected: &MadeIn, what: &str) {
    for at in makings().months() {
        assert!(
            (found.at(at) - expected.at(at)).abs() < 1e-12,
            "{what} in {at}: {} and not {}",
            found.at(at),
            expected.at(at)
        );
    }
}

#[test]
fn stamps_weigh_as_written_out_by_hand() {
    let ending = |first: i16| (first..2024).step_by(10).collect::<Vec<_>>();
    for (stamp, years, week) in [
        ("137624", ending(1946), 24),
        ("606631", ending(1946), 31),
        ("1376338", vec![1963], 38),
        ("1376411", vec![1964], 11),
        ("2206409", vec![1964], 9),
        ("606-7205", vec![1972], 5),
        ("304-0-15", ending(1950), 15),
        ("304-0-22", ending(1950), 22),
    ] {
        let read = source_and_date(stamp, seen()).expect("a code");
        same(&read.made_in_at(makings(), 0.0), &weeks(years, week), stamp);
    }
}

#[test]
fn a_smudged_letter_is_shared_between_its_readings() {
    let letter = |code: &str| etched_valve(code, seen()).expect("a code").made_in_at(makings(), 0.0);
    let smudged = MadeIn::shared(makings(), &[(0.7, letter("B0H")), (0.3, letter("B0J"))]);
    let by_hand = (1950..2024).step_by(10).flat_map(|year| [(month(year, 8), 0.7), (month(year, 10), 0.3)]);
    same(&smudged, &MadeIn::of(makings(), by_hand), "B0[HJ]");
}

#[test]
fn a_doubtful_reading_weighs_as_much_as_is_said() {
    let read = source_and_date("606631", years(1945, 2023)).expect("a code");
    let (none, some) = (read.made_in_at(makings(), 0.0), read.made_in_at(makings(), 0.2));
    let doubtful = MadeIn::shared(makings(), &[(1.0, none), (0.2, weeks([1966], 31))]);
    same(&some, &doubtful, "606631 with 60 as its source");
}
