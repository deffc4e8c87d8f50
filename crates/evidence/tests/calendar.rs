//! Weeks against published weeks and against the calendar itself. Dates are exact: there is no tolerance.

use asfound_evidence::Days;
use asfound_evidence::Month;
use asfound_evidence::calendar::{WeekRule, envelope, iso_shares, shares, week};
use jiff::civil::{Date, date};

fn days(first: Date, last: Date) -> Option<Days> {
    Some(Days { first, last })
}

#[test]
fn week_10_of_1999_by_each_rule() {
    // ecianow.org/eia-source-codes gives 7 to 13 March; ISO 8601 gives 8 to 14 March; the legend of package marks at
    // onlinedocs.microchip.com, with week 1 the one of 1 January, 28 February to 6 March.
    let register = days(date(1999, 3, 7), date(1999, 3, 13));
    assert_eq!(week(WeekRule::FirstFullSunday, 1999, 10), register);
    assert_eq!(week(WeekRule::SundayMostDays, 1999, 10), register);
    assert_eq!(week(WeekRule::Iso, 1999, 10), days(date(1999, 3, 8), date(1999, 3, 14)));
    assert_eq!(week(WeekRule::FirstDaySunday, 1999, 10), days(date(1999, 2, 28), date(1999, 3, 6)));
    assert_eq!(week(WeekRule::FirstDayMonday, 1999, 10), days(date(1999, 3, 1), date(1999, 3, 7)));
    assert_eq!(week(WeekRule::SevenDays, 1999, 10), days(date(1999, 3, 5), date(1999, 3, 11)));
}

#[test]
fn windows_over_all_rules() {
    // Worked out by a second program from the six rules.
    assert_eq!(envelope(1956, 24), days(date(1956, 6, 4), date(1956, 6, 17)));
    assert_eq!(envelope(1963, 38), days(date(1963, 9, 15), date(1963, 9, 28)));
    assert_eq!(envelope(1964, 11), days(date(1964, 3, 8), date(1964, 3, 21)));
    assert_eq!(envelope(1966, 31), days(date(1966, 7, 24), date(1966, 8, 7)));
}

#[test]
fn every_week_is_a_window_of_14_or_15_days() {
    for year in 1940..=2030 {
        for number in 1..=52 {
            let count = envelope(year, number).expect("weeks 1 to 52 are in every year").count();
            assert!(count == 14 || count == 15, "week {number} of {year}: {count} days");
        }
        assert_eq!((envelope(year, 0), envelope(year, 54)), (None, None));
    }
}

#[test]
fn years_with_53_weeks() {
    // ISO 8601: a year has 53 weeks if 1 January is a Thursday, or a Wednesday in a leap year; 71 of any 400 years.
    let with_53 = |years: std::ops::RangeInclusive<i16>| -> Vec<i16> {
        years.filter(|year| week(WeekRule::Iso, *year, 53).is_some()).collect()
    };
    let listed =
        [1942, 1948, 1953, 1959, 1964, 1970, 1976, 1981, 1987, 1992, 1998, 2004, 2009, 2015, 2020, 2026];
    assert_eq!(with_53(1940..=2030), listed);
    assert_eq!(with_53(1901..=2300).len(), 71);
    // Published examples: 1 January 2005 is in week 53 of 2004, 1 January 2006 in week 52 of 2005.
    assert_eq!(week(WeekRule::Iso, 2004, 53), days(date(2004, 12, 27), date(2005, 1, 2)));
    assert_eq!(week(WeekRule::Iso, 2005, 52), days(date(2005, 12, 26), date(2006, 1, 1)));
    // What seven-day blocks leave over.
    assert_eq!(week(WeekRule::SevenDays, 1957, 53), days(date(1957, 12, 31), date(1957, 12, 31)));
    assert_eq!(week(WeekRule::SevenDays, 1956, 53), days(date(1956, 12, 30), date(1956, 12, 31)));
}

#[test]
fn iso_weeks_are_those_of_the_calendar() {
    // A second route: the calendar library's own ISO week of each day.
    let mut day = date(1940, 1, 1);
    while day <= date(2030, 12, 31) {
        let iso = day.iso_week_date();
        let days = week(WeekRule::Iso, iso.year(), iso.week() as u8).expect("the week of a day exists");
        assert!((days.first..=days.last).contains(&day) && days.count() == 7, "{day}");
        day = day.tomorrow().expect("a day");
    }
}

#[test]
fn weeks_of_one_rule_follow_each_other_without_gap() {
    for rule in WeekRule::ALL {
        let weeks: Vec<Days> = (1940..=2030)
            .flat_map(|year| (1..=53).filter_map(move |number| week(rule, year, number)))
            .collect();
        for pair in weeks.windows(2) {
            assert_eq!(pair[0].last.tomorrow().expect("a day"), pair[1].first, "{rule:?}");
        }
    }
}

#[test]
fn a_week_over_the_end_of_a_month_is_shared_by_its_days() {
    let month = |year, number| Month::new(year, number).expect("a month");
    assert_eq!(iso_shares(1956, 31), Some(vec![(month(1956, 7), 2.0 / 7.0), (month(1956, 8), 5.0 / 7.0)]));
    assert_eq!(iso_shares(1964, 9), Some(vec![(month(1964, 2), 6.0 / 7.0), (month(1964, 3), 1.0 / 7.0)]));
    assert_eq!(iso_shares(1972, 5), Some(vec![(month(1972, 1), 1.0 / 7.0), (month(1972, 2), 6.0 / 7.0)]));
    assert_eq!(iso_shares(1963, 38), Some(vec![(month(1963, 9), 1.0)]));
    assert_eq!(iso_shares(1957, 53), None);
    assert_eq!(shares(1957, 53), [(month(1957, 12), 1.0 / 7.0)]);
}
