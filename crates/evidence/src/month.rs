//! Calendar months, counted.

use std::fmt;
use std::ops::{Add, Sub};

/// A calendar month, counted from January of the year 0: twelve times the year, plus the month less one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Month(i32);

impl Month {
    /// A month by its year and its number, 1 to 12; `None` for another number.
    pub fn new(year: i16, month: u8) -> Option<Month> {
        (1..=12).contains(&month).then(|| Month(12 * i32::from(year) + i32::from(month) - 1))
    }

    /// January of a year.
    pub const fn january(year: i16) -> Month {
        Month(12 * year as i32)
    }

    /// December of a year.
    pub fn december(year: i16) -> Month {
        Month(12 * i32::from(year) + 11)
    }

    /// The month in which a day lies.
    pub fn of(day: jiff::civil::Date) -> Month {
        Month(12 * i32::from(day.year()) + i32::from(day.month()) - 1)
    }

    /// The year.
    pub fn year(self) -> i32 {
        self.0.div_euclid(12)
    }

    /// The month of the year, 1 to 12.
    pub fn number(self) -> u8 {
        (self.0.rem_euclid(12) + 1) as u8
    }
}

/// So many months later.
impl Add<i32> for Month {
    type Output = Month;

    fn add(self, months: i32) -> Month {
        Month(self.0 + months)
    }
}

/// So many months earlier.
impl Sub<i32> for Month {
    type Output = Month;

    fn sub(self, months: i32) -> Month {
        Month(self.0 - months)
    }
}

/// How many months lie between two.
impl Sub for Month {
    type Output = i32;

    fn sub(self, earlier: Month) -> i32 {
        self.0 - earlier.0
    }
}

/// As in ISO 8601: `1964-03`.
impl fmt::Display for Month {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{:04}-{:02}", self.year(), self.number())
    }
}

/// Months from a first to a last, both counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// The first.
    pub first: Month,
    /// The last; not before the first.
    pub last: Month,
}

impl Span {
    /// From a month to a month; `None` where the last comes before the first.
    pub fn new(first: Month, last: Month) -> Option<Span> {
        (first <= last).then_some(Span { first, last })
    }

    /// The months of whole years.
    pub fn years(first: i16, last: i16) -> Option<Span> {
        Span::new(Month::january(first), Month::december(last))
    }

    /// How many months.
    pub fn len(self) -> usize {
        (self.last - self.first) as usize + 1
    }

    /// Never: a span has a month at least.
    pub fn is_empty(self) -> bool {
        false
    }

    /// Whether a month lies in it.
    pub fn has(self, month: Month) -> bool {
        (self.first..=self.last).contains(&month)
    }

    /// Its months in order.
    pub fn months(self) -> impl DoubleEndedIterator<Item = Month> + ExactSizeIterator {
        (0..self.len()).map(move |at| self.first + at as i32)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn months_count_on_over_the_year() {
        let march = Month::new(1964, 3).expect("a month");
        assert_eq!((march + 10).to_string(), "1965-01");
        assert_eq!((march - 3).to_string(), "1963-12");
        assert_eq!(Month::december(1964) - march, 9);
        assert_eq!(Month::new(1964, 13), None);
        assert_eq!(Span::years(1950, 1979).map(Span::len), Some(360));
        assert_eq!(Span::new(march, march - 1), None);
    }
}
