//! The bench's calendar: hours, days off, changes of the clocks, and what cannot be taken.

mod bench;

use asfound_plan::{Bench, CalendarFault, Hours, Opening};
use bench::{british, weekdays};
use jiff::civil::{date, time};
use jiff::tz::TimeZone;
use proptest::prelude::*;

fn opening(from: i8, until: i8) -> Opening {
    Opening { from: time(from, 0, 0, 0), until: time(until, 0, 0, 0) }
}

#[test]
fn days_off_and_odd_hours_are_kept() {
    // Good Friday 2024 off, Saturday morning instead, and a break at noon on Thursdays.
    let mut week: [Vec<Opening>; 7] = std::array::from_fn(|_| vec![opening(9, 17)]);
    week[3] = vec![opening(9, 12), opening(13, 17)];
    (week[5], week[6]) = (vec![], vec![]);
    let bench = Bench::new(british(), week).unwrap();
    let bench =
        bench.on(date(2024, 3, 29), vec![]).unwrap().on(date(2024, 3, 30), vec![opening(8, 12)]).unwrap();
    let start = bench.moment(date(2024, 3, 28).at(11, 0, 0, 0)).unwrap();
    let shown = |hours| bench.shown(bench.worked(start, Hours(hours)).unwrap());
    assert_eq!(shown(1.0), date(2024, 3, 28).at(12, 0, 0, 0));
    assert_eq!(shown(2.0), date(2024, 3, 28).at(14, 0, 0, 0));
    assert_eq!(shown(6.0), date(2024, 3, 30).at(9, 0, 0, 0));
    assert_eq!(shown(10.0), date(2024, 4, 1).at(10, 0, 0, 0));
    assert_eq!(shown(0.0), date(2024, 3, 28).at(11, 0, 0, 0));
}

/// The clocks go forward on 31 March 2024 at 01:00 UTC and back on 27 October (S.I. 2002/262).
#[test]
fn a_time_that_is_not_or_is_twice_is_asked_about() {
    let bench = weekdays(british());
    let skipped = date(2024, 3, 31).at(1, 30, 0, 0);
    assert_eq!(bench.moment(skipped), Err(CalendarFault::NoSuchTime(skipped)));
    assert_eq!(
        bench.moment(skipped).unwrap_err().to_string(),
        "2024-03-31T01:30:00 does not exist there, since the clocks go forward over it; give a time an hour earlier or \
         later"
    );
    let twice = date(2024, 10, 27).at(1, 30, 0, 0);
    assert_eq!(bench.moment(twice), Err(CalendarFault::Twice(twice)));
    assert!(bench.moment(date(2024, 10, 27).at(2, 0, 0, 0)).is_ok());
}

#[test]
fn clock_changes_are_found_with_their_way() {
    let bench = weekdays(british());
    let at = |day| bench.moment(day).unwrap();
    let year =
        bench.clock_changes(at(date(2024, 1, 1).at(0, 0, 0, 0)), at(date(2024, 12, 31).at(0, 0, 0, 0)));
    let ways: Vec<i32> = year.iter().map(|change| change.forward).collect();
    assert_eq!(ways, [3600, -3600]);
    assert_eq!(bench.shown(year[0].at), date(2024, 3, 31).at(2, 0, 0, 0));
    let utc = weekdays(TimeZone::UTC);
    assert!(utc.clock_changes(year[0].at, year[1].at).is_empty());
}

/// A night shift over the change works the hours that there are: from ten to six it is nine hours when they go back.
#[test]
fn a_night_over_the_change_has_its_true_length() {
    let late = vec![Opening { from: time(22, 0, 0, 0), until: time(0, 0, 0, 0) }];
    let bench = Bench::weekdays(british(), time(9, 0, 0, 0), time(17, 0, 0, 0)).unwrap();
    let bench =
        bench.on(date(2024, 10, 26), late).unwrap().on(date(2024, 10, 27), vec![opening(0, 6)]).unwrap();
    let start = bench.moment(date(2024, 10, 26).at(22, 0, 0, 0)).unwrap();
    assert_eq!(bench.shown(bench.worked(start, Hours(9.0)).unwrap()), date(2024, 10, 27).at(6, 0, 0, 0));
}

#[test]
fn hours_that_are_none_are_refused_with_their_day() {
    let never = Bench::new(british(), std::array::from_fn(|_| vec![])).unwrap_err();
    assert_eq!(never, CalendarFault::NeverOpen);
    let mut week: [Vec<Opening>; 7] = std::array::from_fn(|_| vec![]);
    week[1] = vec![opening(17, 9)];
    let backwards = Bench::new(british(), week.clone()).unwrap_err();
    assert_eq!(
        backwards.to_string(),
        "Tuesday: the bench closes at 09:00:00, not after it opens at 17:00:00; put the two times the other way round"
    );
    week[1] = vec![opening(9, 13), opening(12, 17)];
    assert!(matches!(Bench::new(british(), week).unwrap_err(), CalendarFault::Overlap { .. }));
    let bench = weekdays(british());
    assert!(matches!(
        bench.clone().on(date(2024, 5, 2), vec![opening(9, 9)]),
        Err(CalendarFault::ClosesBeforeItOpens { .. })
    ));
    let start = bench.moment(date(2024, 5, 2).at(9, 0, 0, 0)).unwrap();
    assert!(matches!(bench.worked(start, Hours(9e5)), Err(CalendarFault::TooFar(_))));
}

proptest! {
    /// Work in two parts is work in one; more work is never done earlier; it is done while the bench is open.
    #[test]
    fn work_adds_up(from in 0_i64..40_000_000, one in 0_u32..400_000, other in 0_u32..400_000) {
        let bench = weekdays(british());
        let start = jiff::Timestamp::from_second(1_700_000_000 + from).unwrap();
        let hours = |seconds: u32| Hours(f64::from(seconds) / 3600.0);
        let both = bench.worked(start, hours(one + other)).unwrap();
        prop_assert_eq!(bench.worked(bench.worked(start, hours(one)).unwrap(), hours(other)).unwrap(), both);
        prop_assert!(bench.elapsed(start, hours(one + other)).unwrap() <= both);
        if one + other > 0 {
            let done = bench.shown(both);
            prop_assert!(done.time() > time(9, 0, 0, 0) && done.time() <= time(17, 0, 0, 0));
        }
    }
}
