//! Days from one to another.

use jiff::civil::Date;
use std::fmt;

/// Days from a first to a last, both counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Days {
    /// The first.
    pub first: Date,
    /// The last; not before the first.
    pub last: Date,
}

impl Days {
    /// From a day to a day; `None` where the last comes before the first.
    pub fn new(first: Date, last: Date) -> Option<Days> {
        (first <= last).then_some(Days { first, last })
    }

    /// A single day.
    pub fn on(day: Date) -> Days {
        Days { first: day, last: day }
    }

    /// From a day on.
    pub fn from(first: Date) -> Days {
        Days { first, last: Date::MAX }
    }

    /// Up to a day and with it.
    pub fn until(last: Date) -> Days {
        Days { first: Date::MIN, last }
    }

    /// How many.
    pub fn count(self) -> i64 {
        i64::from((self.last - self.first).get_days()) + 1
    }

    /// Whether a day lies in it.
    pub fn has(self, day: Date) -> bool {
        (self.first..=self.last).contains(&day)
    }

    /// The days that lie in both.
    pub fn common(self, other: Days) -> Option<Days> {
        Days::new(self.first.max(other.first), self.last.min(other.last))
    }

    /// From the first day of both to the last day of both.
    pub fn around(self, other: Days) -> Days {
        Days { first: self.first.min(other.first), last: self.last.max(other.last) }
    }
}

/// An interval as in ISO 8601: `1964-03-09/1965-06-30`.
impl fmt::Display for Days {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}/{}", self.first, self.last)
    }
}
