//! Codes stamped, etched or printed on parts, and every date they can mean.
//!
//! **The one decision: a code is answered with every reading it admits.** A year given by one digit has a decade for
//! each ten years, a run of digits can be parted in several places, a sign may be unread, and a week is not the same days
//! to every maker. Nothing of that is decided here; each reading is handed on with its days and its ground, and other
//! evidence on the instrument decides, or does not.
//!
//! ```
//! use asfound_evidence::{Span, Month, code::source_and_date};
//!
//! let seen = Span::new(Month::january(1945), Month::new(2024, 1).unwrap()).unwrap();
//! let stamp = source_and_date("137-6?24", seen).unwrap();
//! assert_eq!(stamp.years(), [1960, 1961, 1962, 1963, 1964, 1965, 1966, 1967, 1968, 1969]);
//! assert_eq!(stamp.readings[0].source.unwrap().registrants().count(), 1);
//!
//! let fault = source_and_date("137-6200", seen).unwrap_err();
//! assert_eq!(&"137-6200"[fault.place.clone()], "00");
//! ```

mod etched;
mod fault;
mod letters;
mod patent;
mod plain;
mod register;
mod service;
mod signs;
mod source_date;

pub use etched::etched_valve;
pub use fault::{CodeFault, Problem};
pub use letters::{inspection_letters, year_and_month};
pub use patent::{Granted, patent};
pub use plain::{plain_day, plain_week};
pub use register::{Registrant, Source};
pub use service::service_valve;
pub use source_date::{DigitOrder, source_and_date, source_and_date_in};

use crate::Days;
use crate::calendar;
use crate::{MadeIn, Month, Span};
use jiff::civil::Date;
use std::ops::Range;

/// A system of date codes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// The number of the registered source, one or two digits of the year, two digits of the week.
    SourceAndDate,
    /// A letter of the year and a sign of the month (IEC 60062).
    YearAndMonth,
    /// The lower etched line on valves: factory, year, month, week of the month.
    EtchedValve,
    /// Two letters, year and month, of an inspection.
    InspectionLetters,
    /// Digits of the year and of the week, without a source.
    PlainWeek,
    /// Digits of the year, the month and the day.
    PlainDay,
    /// The line of marks on British service valves.
    ServiceValve,
    /// A number of a patent of the United States.
    Patent,
}

impl System {
    /// All of them.
    pub const ALL: [System; 8] = [
        System::SourceAndDate,
        System::YearAndMonth,
        System::EtchedValve,
        System::InspectionLetters,
        System::PlainWeek,
        System::PlainDay,
        System::ServiceValve,
        System::Patent,
    ];
}

/// Reads a text by a system, with every reading it admits in the months looked at; the last of them is the month of the
/// inspection.
///
/// # Errors
/// The place, what stands there and what would be right, where no reading is left.
pub fn read(system: System, text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    match system {
        System::SourceAndDate => source_and_date(text, seen),
        System::YearAndMonth => year_and_month(text, seen),
        System::EtchedValve => etched_valve(text, seen),
        System::InspectionLetters => inspection_letters(text, seen),
        System::PlainWeek => plain_week(text, seen),
        System::PlainDay => plain_day(text, seen),
        System::ServiceValve => service_valve(text, seen),
        System::Patent => patent(text, seen),
    }
}

/// What a reading says of the time of making.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// A numbered week, by whichever rule the maker counted.
    Week {
        /// The year.
        year: i16,
        /// The number, 1 to 53.
        number: u8,
    },
    /// A month.
    Month(Month),
    /// A week of a month. How such weeks were counted is not published, so it covers the whole month.
    WeekOfMonth {
        /// The month.
        month: Month,
        /// The number, 1 to 5.
        number: u8,
    },
    /// A day.
    Day(Date),
    /// This day or a later one.
    NotBefore(Date),
    /// This day or an earlier one, and not before the other.
    NotAfter {
        /// The earliest day there can have been such a mark.
        since: Date,
        /// The last.
        last: Date,
    },
}

impl Told {
    /// The days it covers, up to the last day of a span for what has no end. `None` where the calendar has no such week.
    fn days(self, seen: Span) -> Option<Days> {
        match self {
            Told::Week { year, number } => calendar::envelope(year, number),
            Told::Month(month) | Told::WeekOfMonth { month, .. } => Some(days_of(month, month)),
            Told::Day(day) => Some(Days { first: day, last: day }),
            Told::NotBefore(first) => {
                Some(Days { first, last: days_of(seen.last, seen.last).last.max(first) })
            }
            Told::NotAfter { since, last } => Some(Days { first: since, last }),
        }
    }

    /// The share of what was marked so that was marked in each month.
    fn shares(self, span: Span) -> Vec<(Month, f64)> {
        let from_to = |first: Month, last: Month| {
            span.months().filter(|month| (first..=last).contains(month)).map(|month| (month, 1.0)).collect()
        };
        match self {
            Told::Week { year, number } => calendar::shares(year, number),
            Told::Month(month) | Told::WeekOfMonth { month, .. } => vec![(month, 1.0)],
            Told::Day(day) => vec![(Month::of(day), 1.0)],
            Told::NotBefore(first) => from_to(Month::of(first), span.last),
            Told::NotAfter { since, last } => from_to(Month::of(since), Month::of(last)),
        }
    }
}

/// The first day of a month to the last of another. A month beyond the calendar's years is its border.
fn days_of(first: Month, last: Month) -> Days {
    let day = |month: Month| {
        let year = i16::try_from(month.year()).unwrap_or(i16::MAX);
        Date::new(year, month.number() as i8, 1).unwrap_or(if year < 0 { Date::MIN } else { Date::MAX })
    };
    Days { first: day(first), last: day(last).last_of_month() }
}

/// Why a reading is taken into account.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ground {
    /// A hyphen or a space on the part fixes which digits are the source.
    Parted,
    /// The signs can be parted in one way only.
    Only,
    /// The digits taken as source are in a published list.
    Listed,
    /// The digits taken as source are in none of the lists at hand, which are short.
    Unlisted,
    /// It breaks a published rule of thumb of its system about the decade.
    AgainstRule,
}

/// How much a reading weighs beside others when its source is in no published list at hand, or when it breaks a rule of
/// thumb about the decade. A stated assumption: common practice, no source.
pub const DOUBTFUL_READING: f64 = 0.01;

impl Ground {
    /// A reading that is kept but hardly believed.
    pub fn is_doubtful(self) -> bool {
        matches!(self, Ground::Unlisted | Ground::AgainstRule)
    }
}

/// One way in which a code can be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// What it says.
    pub told: Told,
    /// The days on which the part can have been marked, over every rule of counting weeks.
    pub days: Days,
    /// Whose part it is, where the code says so.
    pub source: Option<Source>,
    /// Why it is taken into account.
    pub ground: Ground,
    /// Where the source stands in the text, in bytes.
    pub source_at: Option<Range<usize>>,
    /// Where the year stands.
    pub year_at: Option<Range<usize>>,
    /// Where the week, month or day stands.
    pub within_at: Option<Range<usize>>,
}

impl Reading {
    /// A reading that names no place in the text.
    fn of(told: Told, days: Days, ground: Ground) -> Reading {
        Reading { told, days, source: None, ground, source_at: None, year_at: None, within_at: None }
    }

    /// How much it weighs beside the other readings: 1, or [`DOUBTFUL_READING`].
    pub fn weight(&self) -> f64 {
        if self.ground.is_doubtful() { DOUBTFUL_READING } else { 1.0 }
    }

    /// The ISO days of the week it says; `None` where it says no week, or where ISO 8601 has no such week.
    pub fn iso_week(&self) -> Option<Days> {
        match self.told {
            Told::Week { year, number } => calendar::week(calendar::WeekRule::Iso, year, number),
            _ => None,
        }
    }

    /// Its year, for a reading that says one.
    pub fn year(&self) -> Option<i32> {
        match self.told {
            Told::Week { year, .. } => Some(i32::from(year)),
            Told::Month(month) | Told::WeekOfMonth { month, .. } => Some(month.year()),
            Told::Day(day) => Some(i32::from(day.year())),
            Told::NotBefore(_) | Told::NotAfter { .. } => None,
        }
    }
}

/// A code as it stands on a part, with every reading it admits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// By which system it is read.
    pub system: System,
    /// As it was typed.
    pub written: String,
    /// Every reading, those of better ground first, then by date; at least one.
    pub readings: Vec<Reading>,
    /// What stands beside the code and says nothing of the date, as typed; empty for nothing.
    pub beside: String,
    /// Ways of reading it that are no dates, and why.
    pub refused: Vec<CodeFault>,
}

impl Stamp {
    /// How probable this code is on a part made in each month, up to a factor: each reading's shares by month, weighed
    /// by [`Reading::weight`].
    pub fn made_in(&self, span: Span) -> MadeIn {
        self.made_in_at(span, DOUBTFUL_READING)
    }

    /// The same with another weight for doubtful readings: 0 leaves them out, unless there are no others.
    pub fn made_in_at(&self, span: Span, doubtful: f64) -> MadeIn {
        let only_doubtful = self.readings.iter().all(|reading| reading.ground.is_doubtful());
        let weight = |ground: Ground| if only_doubtful || !ground.is_doubtful() { 1.0 } else { doubtful };
        let shares = self.readings.iter().flat_map(|reading| {
            let weight = weight(reading.ground);
            reading.told.shares(span).into_iter().map(move |(month, share)| (month, weight * share))
        });
        MadeIn::of(span, shares)
    }

    /// The years of its readings, each once, in order.
    pub fn years(&self) -> Vec<i32> {
        let mut years: Vec<i32> = self.readings.iter().filter_map(Reading::year).collect();
        years.sort_unstable();
        years.dedup();
        years
    }

    /// The days of all readings, from the earliest to the latest.
    pub fn days(&self) -> Days {
        let days = self.readings.iter().map(|reading| reading.days).reduce(Days::around);
        days.unwrap_or(Days { first: Date::MIN, last: Date::MAX })
    }

    /// Puts readings in order, or answers why there are none: the fault of the likeliest way of reading, which is named
    /// first.
    fn of(
        system: System,
        text: &str,
        beside: &str,
        mut readings: Vec<Reading>,
        refused: Vec<CodeFault>,
    ) -> Result<Stamp, CodeFault> {
        if readings.is_empty() {
            let none = || CodeFault::at(text, 0..text.len(), Problem::Empty);
            return Err(refused.into_iter().next().unwrap_or_else(none));
        }
        readings.sort_by_key(|reading| {
            (reading.ground, reading.source_at.clone().map(|at| at.end), reading.days)
        });
        Ok(Stamp { system, written: text.to_owned(), readings, beside: beside.trim().to_owned(), refused })
    }
}

/// The readings that lie within the months looked at; where none does, why not.
fn gather(
    text: &str,
    place: Range<usize>,
    seen: Span,
    told: &[(Told, Ground)],
    as_reading: impl Fn(Told, Days, Ground) -> Reading,
) -> (Vec<Reading>, Vec<CodeFault>) {
    let mut readings = Vec::new();
    let mut outside = None;
    for (told, ground) in told {
        let Some(days) = told.days(seen) else { continue };
        if Month::of(days.first) > seen.last {
            outside = Some(Problem::LaterThanInspection { seen: seen.last });
        } else if Month::of(days.last) < seen.first {
            outside = Some(Problem::EarlierThanSpan { from: seen.first });
        } else {
            readings.push(as_reading(*told, days, *ground));
        }
    }
    let none_left = outside.filter(|_| readings.is_empty());
    (readings, none_left.map(|problem| CodeFault::at(text, place, problem)).into_iter().collect())
}
