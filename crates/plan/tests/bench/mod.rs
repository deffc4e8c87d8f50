//! A bench for the tests.

use asfound_plan::Bench;
use jiff::civil::time;
use jiff::tz::TimeZone;

/// Clocks forward on the last Sunday of March at 01:00 UTC, back on the last of October.
pub(crate) fn british() -> TimeZone {
    TimeZone::posix("GMT0BST,M3.5.0/1,M10.5.0").unwrap()
}

/// Monday to Friday, nine to five.
pub(crate) fn weekdays(zone: TimeZone) -> Bench {
    Bench::weekdays(zone, time(9, 0, 0, 0), time(17, 0, 0, 0)).unwrap()
}
