//! What months are how probable.

use crate::{Month, Span};
use asfound_weigh::Probability;

/// Months in order, each with its share of the probability; together 1.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthShares {
    first: Month,
    shares: Vec<f64>,
}

impl MonthShares {
    /// From weights of months from a first one on; every month alike where all weigh nothing.
    pub(super) fn of(first: Month, mut weights: Vec<f64>) -> MonthShares {
        let sum: f64 = weights.iter().sum();
        let even = 1.0 / weights.len() as f64;
        weights.iter_mut().for_each(|weight| *weight = if sum > 0.0 { *weight / sum } else { even });
        MonthShares { first, shares: weights }
    }

    /// The months with their shares, in order.
    pub fn months(&self) -> impl Iterator<Item = (Month, f64)> + '_ {
        self.shares.iter().enumerate().map(|(at, share)| (self.first + at as i32, *share))
    }

    /// The share of a month; nothing outside the months weighed.
    pub fn at(&self, month: Month) -> f64 {
        usize::try_from(month - self.first).ok().and_then(|at| self.shares.get(at)).copied().unwrap_or(0.0)
    }

    /// How probable a year is.
    pub fn year(&self, year: i32) -> Probability {
        Probability::of_share(
            self.months().filter(|(month, _)| month.year() == year).map(|(_, share)| share).sum(),
        )
    }

    /// The years from the first to the last month weighed.
    pub fn years(&self) -> impl Iterator<Item = (i32, Probability)> + '_ {
        let last = self.first + (self.shares.len() as i32 - 1);
        (self.first.year()..=last.year()).map(|year| (year, self.year(year)))
    }

    /// How probable it is that it was in a span.
    pub fn within(&self, span: Span) -> Probability {
        Probability::of_share(span.months().map(|month| self.at(month)).sum())
    }

    /// The single most probable month; the earlier of two that are equal.
    pub fn most_probable(&self) -> Month {
        self.in_order_of_share()[0].0
    }

    /// The fewest months that together have this share: runs of months, earliest first. There may be several runs, for
    /// instance one in each of three decades.
    pub fn highest(&self, share: f64) -> Vec<Span> {
        let mut sum = 0.0;
        let mut months: Vec<Month> = Vec::new();
        for (month, its) in self.in_order_of_share() {
            if !months.is_empty() && sum >= share {
                break;
            }
            sum += its;
            months.push(month);
        }
        months.sort();
        let mut runs: Vec<Span> = Vec::new();
        for month in months {
            match runs.last_mut() {
                Some(run) if run.last + 1 == month => run.last = month,
                _ => runs.push(Span { first: month, last: month }),
            }
        }
        runs
    }

    /// The months by which a quarter, a half and three quarters of the probability are reached.
    pub fn quartiles(&self) -> [Month; 3] {
        [0.25, 0.5, 0.75].map(|share| self.reached(share))
    }

    fn reached(&self, share: f64) -> Month {
        let mut sum = 0.0;
        let mut reached = self.first;
        for (month, its) in self.months() {
            reached = month;
            sum += its;
            if sum >= share {
                break;
            }
        }
        reached
    }

    fn in_order_of_share(&self) -> Vec<(Month, f64)> {
        let mut months: Vec<(Month, f64)> = self.months().collect();
        months.sort_by(|(early, less), (late, more)| more.total_cmp(less).then(early.cmp(late)));
        months
    }
}
