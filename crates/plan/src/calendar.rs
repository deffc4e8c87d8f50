//! The bench's calendar: two clocks, one for hands and one for glue.
//!
//! Hands work while the bench is open; what cures, dries or stands clamped goes on through nights and days off. So a
//! time of either sort is laid from a moment with [`Bench::worked`] or [`Bench::elapsed`].
//!
//! **The one decision: a moment is a point on the one time line, and the wall clock is only how the bench's hours are
//! said.** Seventy-two hours of curing are seventy-two hours, whether or not the clocks change in between; what the clock
//! then shows is told with [`Bench::clock_changes`]. A wall-clock time that the clocks skip, or show twice, is asked
//! about and never guessed.
//!
//! The time zone is handed in with its rules, as a POSIX rule (IEEE Std 1003.1, `TZ`) or from the machine's files by
//! whoever has them.
//!
//! ```
//! use asfound_plan::{Bench, Hours};
//! use jiff::{civil::{date, time}, tz::TimeZone};
//!
//! // Clocks go forward on the last Sunday of March and back on the last of October.
//! let zone = TimeZone::posix("GMT0BST,M3.5.0/1,M10.5.0")?;
//! let bench = Bench::weekdays(zone, time(9, 0, 0, 0), time(17, 0, 0, 0))?;
//! let sprayed = bench.moment(date(2024, 5, 2).at(15, 0, 0, 0))?; // a Thursday
//! let cured = bench.elapsed(sprayed, Hours(72.0))?;
//! assert_eq!(bench.shown(cured), date(2024, 5, 5).at(15, 0, 0, 0)); // the Sunday
//! let sanded = bench.worked(cured, Hours(3.0))?;
//! assert_eq!(bench.shown(sanded), date(2024, 5, 6).at(12, 0, 0, 0)); // the Monday, from nine
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::openings::Openings;
use crate::three_point::Hours;
use jiff::civil::{Date, DateTime, Time, Weekday};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use std::collections::BTreeMap;

/// From when to when the bench is open on a day. Until midnight is written as until 00:00.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Opening {
    /// It opens.
    pub from: Time,
    /// It closes.
    pub until: Time,
}

impl Opening {
    /// The moment of closing as a time of day on a civil date.
    fn closes(self, day: Date) -> DateTime {
        if self.until == Time::midnight() {
            day.saturating_add(1.day()).to_datetime(self.until)
        } else {
            day.to_datetime(self.until)
        }
    }
}

/// Why hours or a moment cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CalendarFault {
    /// No day of the week has hours.
    #[error("the bench's week has no open hours; give at least one day some, such as Monday 09:00 to 17:00")]
    NeverOpen,
    /// It closes before it opens.
    #[error(
        "{day}: the bench closes at {until}, not after it opens at {from}; put the two times the other way round"
    )]
    ClosesBeforeItOpens {
        /// Of which day.
        day: String,
        /// As read.
        from: Time,
        /// As read.
        until: Time,
    },
    /// Two openings of one day overlap, or stand in the wrong order.
    #[error(
        "{day}: the opening from {from} begins before the one above it ends at {until}; give them in order and apart"
    )]
    Overlap {
        /// Of which day.
        day: String,
        /// The later one begins.
        from: Time,
        /// The earlier one ends.
        until: Time,
    },
    /// The clocks go forward over it.
    #[error(
        "{0} does not exist there, since the clocks go forward over it; give a time an hour earlier or later"
    )]
    NoSuchTime(DateTime),
    /// The clocks go back over it.
    #[error(
        "{0} comes twice there, since the clocks go back over it; give the time with its offset from UTC, or one outside \
         that hour"
    )]
    Twice(DateTime),
    /// Beyond what is planned.
    #[error(
        "that lasts beyond {0}, further than is planned; look for a time with too many noughts, or give the bench more hours"
    )]
    TooFar(Date),
}

/// A change of the clocks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClockChange {
    /// The moment.
    pub at: Timestamp,
    /// By how many seconds clocks go forward; negative when they go back.
    pub forward: i32,
}

/// When the bench is open, in its time zone.
#[derive(Debug, Clone)]
pub struct Bench {
    zone: TimeZone,
    week: [Vec<Opening>; 7],
    days: BTreeMap<Date, Vec<Opening>>,
}

/// How many years ahead are planned.
const YEARS: i16 = 100;

impl Bench {
    /// With the openings of each day, Monday first.
    ///
    /// # Errors
    /// [`CalendarFault`] where an opening ends before it begins, two overlap, or there is none.
    pub fn new(zone: TimeZone, week: [Vec<Opening>; 7]) -> Result<Bench, CalendarFault> {
        for (openings, day) in week.iter().zip(Weekday::Monday.cycle_forward()) {
            check(&format!("{day:?}"), openings)?;
        }
        if week.iter().all(Vec::is_empty) {
            return Err(CalendarFault::NeverOpen);
        }
        Ok(Bench { zone, week, days: BTreeMap::new() })
    }

    /// Monday to Friday from one time to another.
    ///
    /// # Errors
    /// As [`Bench::new`].
    pub fn weekdays(zone: TimeZone, from: Time, until: Time) -> Result<Bench, CalendarFault> {
        let mut week: [Vec<Opening>; 7] = std::array::from_fn(|_| vec![Opening { from, until }]);
        week[5].clear();
        week[6].clear();
        Bench::new(zone, week)
    }

    /// One day with openings of its own; with none, a day off.
    ///
    /// # Errors
    /// [`CalendarFault`] where an opening ends before it begins or two overlap.
    pub fn on(mut self, day: Date, openings: Vec<Opening>) -> Result<Bench, CalendarFault> {
        check(&day.to_string(), &openings)?;
        self.days.insert(day, openings);
        Ok(self)
    }

    /// The moment at which the wall clock shows this.
    ///
    /// # Errors
    /// [`CalendarFault::NoSuchTime`] and [`CalendarFault::Twice`] where the clocks change over it.
    pub fn moment(&self, shown: DateTime) -> Result<Timestamp, CalendarFault> {
        let ambiguous = self.zone.to_ambiguous_timestamp(shown);
        match ambiguous.offset() {
            jiff::tz::AmbiguousOffset::Gap { .. } => return Err(CalendarFault::NoSuchTime(shown)),
            jiff::tz::AmbiguousOffset::Fold { .. } => return Err(CalendarFault::Twice(shown)),
            jiff::tz::AmbiguousOffset::Unambiguous { .. } => {}
        }
        ambiguous.compatible().map_err(|_| CalendarFault::TooFar(shown.date()))
    }

    /// What the wall clock shows at a moment.
    pub fn shown(&self, at: Timestamp) -> DateTime {
        self.zone.to_datetime(at)
    }

    /// When hands that begin at a moment, or when the bench next opens, have worked so long.
    ///
    /// # Errors
    /// [`CalendarFault::TooFar`].
    pub fn worked(&self, from: Timestamp, work: Hours) -> Result<Timestamp, CalendarFault> {
        let begin = from.as_second();
        let openings = self.openings(begin, begin, work.seconds())?;
        moment(begin + openings.worked(0, work.seconds()))
    }

    /// When so long has gone by.
    ///
    /// # Errors
    /// [`CalendarFault::TooFar`].
    pub fn elapsed(&self, from: Timestamp, time: Hours) -> Result<Timestamp, CalendarFault> {
        moment(from.as_second() + time.seconds())
    }

    /// Where the clocks change after one moment and not after another.
    pub fn clock_changes(&self, from: Timestamp, until: Timestamp) -> Vec<ClockChange> {
        let offset = |at: Timestamp| self.zone.to_offset(at).seconds();
        let changes =
            self.zone.following(from).map(|change| change.timestamp()).take_while(|&at| at <= until);
        changes
            .map(|at| ClockChange { at, forward: offset(at) - offset(at - 1.second()) })
            .filter(|change| change.forward != 0)
            .collect()
    }

    /// The openings from a moment on, in seconds after it, until so many open seconds lie after `until`.
    pub(crate) fn openings(&self, start: i64, until: i64, work: i64) -> Result<Openings, CalendarFault> {
        let first = self.shown(moment(start)?).date().saturating_sub(1.day());
        let last = first.saturating_add(i64::from(YEARS).years());
        let mut openings = Openings::default();
        // One second more than is asked for, so that after the last of the work the bench still opens once.
        let mut left = work + 1;
        let mut day = first;
        while left > 0 {
            if day > last {
                return Err(CalendarFault::TooFar(last));
            }
            for opening in self.of_day(day) {
                let (opens, closes) =
                    (self.second(day.to_datetime(opening.from))?, self.second(opening.closes(day))?);
                openings.add(opens - start, closes - start);
                if opens >= until {
                    left -= closes - opens;
                }
            }
            day = day.saturating_add(1.day());
        }
        Ok(openings)
    }

    fn of_day(&self, day: Date) -> &[Opening] {
        let usual = usize::from(day.weekday().to_monday_zero_offset().unsigned_abs());
        self.days.get(&day).unwrap_or(&self.week[usual])
    }

    /// An opening that the clocks skip begins when they have gone forward; one they show twice begins the first time.
    fn second(&self, shown: DateTime) -> Result<i64, CalendarFault> {
        let at = self.zone.to_ambiguous_timestamp(shown).compatible();
        Ok(at.map_err(|_| CalendarFault::TooFar(shown.date()))?.as_second())
    }
}

/// A moment from its second; those of the calendar's own range are all moments.
pub(crate) fn moment(second: i64) -> Result<Timestamp, CalendarFault> {
    Timestamp::from_second(second).map_err(|_| CalendarFault::TooFar(Date::MAX))
}

fn check(day: &str, openings: &[Opening]) -> Result<(), CalendarFault> {
    for opening in openings {
        if opening.until != Time::midnight() && opening.until <= opening.from {
            let Opening { from, until } = *opening;
            return Err(CalendarFault::ClosesBeforeItOpens { day: day.to_owned(), from, until });
        }
    }
    for pair in openings.windows(2) {
        if pair[0].until == Time::midnight() || pair[1].from < pair[0].until {
            let (from, until) = (pair[1].from, pair[0].until);
            return Err(CalendarFault::Overlap { day: day.to_owned(), from, until });
        }
    }
    Ok(())
}
