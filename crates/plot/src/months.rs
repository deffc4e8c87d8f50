//! Shares of calendar months: one row for the whole and one for each part, on one axis of years.

mod draw;

use std::ops::RangeInclusive;

use crate::table::Table;
use crate::text::number;

/// A month with less than this of its row's highest share is left empty: its ink could not be told from the ground.
const FLOOR: f64 = 1.0 / 32.0;
/// Steps of ink between the faintest and the fullest.
pub(crate) const LEVELS: u8 = 8;
/// A row whose lowest share comes this near its highest says nothing of the month, and is not drawn as if it did.
const EVEN: f64 = 0.98;
/// Farther away than this, in months, is a computing accident.
const FARTHEST: u32 = 24_000;
/// As many rows are told one by one; the table tells all.
const MOST_TOLD: usize = 7;
/// Names of the months.
const NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// One row of a strip of months: how likely each month is.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthRow {
    name: String,
    shares: Vec<f64>,
    within: Vec<RangeInclusive<usize>>,
    not_before: Option<i32>,
}

impl MonthRow {
    /// A row with the share of each month, counted from January of the strip's first year. A share that is no number or
    /// not above nought counts as nought. Only their proportions matter.
    pub fn new(name: impl Into<String>, shares: impl IntoIterator<Item = f64>) -> Self {
        let usable = |share: f64| if share.is_finite() && share > 0.0 { share } else { 0.0 };
        let name = match name.into().trim() {
            "" => "unnamed".to_owned(),
            name => name.to_owned(),
        };
        Self {
            name,
            shares: shares.into_iter().take(FARTHEST as usize).map(usable).collect(),
            within: Vec::new(),
            not_before: None,
        }
    }

    /// The same with the months that hold 95 % of its share, as runs in order, counted as the shares are; they
    /// are bracketed. A month past the last share is left out.
    #[must_use]
    pub fn within(mut self, runs: impl IntoIterator<Item = RangeInclusive<usize>>) -> Self {
        let Some(last) = self.shares.len().checked_sub(1) else { return self };
        let held = |run: RangeInclusive<usize>| *run.start()..=(*run.end()).min(last);
        self.within = runs.into_iter().map(held).filter(|run| run.start() <= run.end()).collect();
        self
    }

    /// The same with the first month in which it can have been made, counted as the shares are, below nought for a month
    /// before the strip. Drawn as a bracket that stays open to the right. A month thousands of years away is left out.
    #[must_use]
    pub fn not_before(mut self, month: i32) -> Self {
        self.not_before = Some(month).filter(|month| month.unsigned_abs() < FARTHEST);
        self
    }

    fn highest(&self) -> f64 {
        self.shares.iter().fold(0.0, |highest, share| highest.max(*share))
    }

    /// Every month alike: nothing is said of when.
    fn is_even(&self) -> bool {
        let lowest = self.shares.iter().fold(f64::INFINITY, |lowest, share| lowest.min(*share));
        self.shares.len() > 1 && lowest > 0.0 && lowest >= EVEN * self.highest()
    }

    /// The ink of a month, 0 for none to [`LEVELS`] for the fullest.
    fn level(&self, share: f64, highest: f64) -> u8 {
        let of_highest = if highest > 0.0 { share / highest } else { 0.0 };
        if of_highest < FLOOR { 0 } else { libm::ceil(of_highest * f64::from(LEVELS)) as u8 }
    }

    /// The first and the last month with ink.
    fn inked(&self) -> Option<(i32, i32)> {
        if self.is_even() {
            return None;
        }
        let highest = self.highest();
        let mut months = (0..self.shares.len()).filter(|at| self.level(self.shares[*at], highest) > 0);
        let first = months.next()?;
        Some((first as i32, months.next_back().unwrap_or(first) as i32))
    }

    /// The first and the last month in a bracket.
    fn bracketed(&self) -> Option<(i32, i32)> {
        Some((*self.within.first()?.start() as i32, *self.within.last()?.end() as i32))
    }
}

/// Rows on one axis.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Months {
    pub(crate) title: String,
    pub(crate) first_year: i32,
    pub(crate) whole: MonthRow,
    pub(crate) parts: Vec<MonthRow>,
}

impl Months {
    fn rows(&self) -> impl Iterator<Item = &MonthRow> {
        std::iter::once(&self.whole).chain(&self.parts)
    }

    /// The months shown: whole years, from the first with ink to the last, with the brackets of the whole. The bracket of
    /// a part that is dated by its material alone may reach over a century, and runs out of the figure. A month before
    /// which something cannot have been made is shown where it comes after the first of these; an earlier one would draw
    /// out the axis and say nothing.
    fn shown(&self) -> (i32, i32) {
        let seen = || self.rows().filter_map(MonthRow::inked).chain(self.whole.bracketed());
        let whole = || self.rows().map(|row| row.shares.len() as i32).max().unwrap_or(0).max(1) - 1;
        let first = seen().map(|(first, _)| first).min().unwrap_or(0);
        let last = seen().map(|(_, last)| last).max().unwrap_or_else(whole);
        let later = self.rows().filter_map(|row| row.not_before).filter(|month| *month > first).max();
        let last = last.max(later.unwrap_or(last));
        let (from, past) = (first.div_euclid(12), last.div_euclid(12) + 1);
        // One year alone has a single figure on its axis.
        (12 * from, 12 * past.max(from + 2))
    }

    fn month(&self, at: i32) -> String {
        let (year, month) = (self.first_year + at.div_euclid(12), at.rem_euclid(12));
        format!("{} {year}", NAMES[month as usize])
    }

    fn months(&self, run: &RangeInclusive<usize>) -> String {
        let (first, last) = (self.month(*run.start() as i32), self.month(*run.end() as i32));
        if first == last { first } else { format!("{first} to {last}") }
    }

    fn within(&self, row: &MonthRow) -> String {
        row.within.iter().map(|run| self.months(run)).collect::<Vec<_>>().join(", ")
    }

    fn told(&self, row: &MonthRow) -> String {
        let name = &row.name;
        let told = match (row.highest() > 0.0, row.is_even(), row.within.is_empty()) {
            (false, ..) => format!("{name} has no month"),
            (_, true, _) => format!("for {name} every month is alike"),
            (.., true) => format!("{name} is likeliest in {}", self.likeliest(row)),
            (.., false) => {
                format!(
                    "{name} is likeliest in {}, 95 % of its share lying in {}",
                    self.likeliest(row),
                    self.within(row)
                )
            }
        };
        match row.not_before {
            Some(month) => format!("{told}, and not before {}", self.month(month)),
            None => told,
        }
    }

    /// The likeliest month; the earliest of several alike.
    fn likeliest(&self, row: &MonthRow) -> String {
        let highest = row.highest();
        let at = row.shares.iter().position(|share| *share == highest).unwrap_or(0);
        self.month(at as i32)
    }

    pub(crate) fn description(&self) -> String {
        let mut told: Vec<String> = self.rows().take(MOST_TOLD).map(|row| self.told(row)).collect();
        let more = self.rows().count().saturating_sub(MOST_TOLD);
        if more > 0 {
            told.push(format!("{more} more rows stand below"));
        }
        format!("Shares of the months, row by row: {}.", told.join("; "))
    }

    pub(crate) fn table(&self) -> Table {
        let header = ["which", "likeliest month", "its share, %", "95 % of its share lies in", "not before"];
        let given = |text: String| if text.is_empty() { "not given".to_owned() } else { text };
        let row = |row: &MonthRow| {
            let (highest, sum) = (row.highest(), row.shares.iter().sum::<f64>());
            let (month, share) = match (highest > 0.0, row.is_even()) {
                (false, _) => ("none".to_owned(), "0".to_owned()),
                (_, true) => ("every month alike".to_owned(), number(100.0 * highest / sum, 1)),
                _ => (self.likeliest(row), number(100.0 * highest / sum, 1)),
            };
            let not_before = row.not_before.map(|month| self.month(month)).unwrap_or_default();
            vec![row.name.clone(), month, share, given(self.within(row)), given(not_before)]
        };
        Table { header: header.map(str::to_owned).to_vec(), rows: self.rows().map(row).collect() }
    }
}
