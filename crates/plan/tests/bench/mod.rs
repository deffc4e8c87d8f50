//! A bench for the tests.
#![allow(dead_code, reason = "each test file takes what it needs")]

use asfound_plan::{Bench, Hours, Task, ThreePoint};
use jiff::Timestamp;
use jiff::civil::{date, time};
use jiff::tz::TimeZone;

/// Clocks forward on the last Sunday of March at 01:00 UTC, back on the last of October.
pub(crate) fn british() -> TimeZone {
    TimeZone::posix("GMT0BST,M3.5.0/1,M10.5.0").unwrap()
}

/// Monday to Friday, nine to five.
pub(crate) fn weekdays(zone: TimeZone) -> Bench {
    Bench::weekdays(zone, time(9, 0, 0, 0), time(17, 0, 0, 0)).unwrap()
}

/// A task with times known for certain.
pub(crate) fn task(name: &str, hands: f64, alone: f64, after: &[&str]) -> Task {
    Task {
        name: name.into(),
        attended: ThreePoint::fixed(name, Hours(hands)).unwrap(),
        unattended: ThreePoint::fixed(name, Hours(alone)).unwrap(),
        after: after.iter().map(|&one| one.into()).collect(),
        not_before: None,
        in_one_go: false,
    }
}

/// Thursday, 2 May 2024, nine o'clock.
pub(crate) fn thursday(bench: &Bench) -> Timestamp {
    bench.moment(date(2024, 5, 2).at(9, 0, 0, 0)).unwrap()
}
