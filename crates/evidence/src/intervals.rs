//! Which days of assembly are possible at all, where every mark and every document is taken at its word.
//!
//! No probability is in here. Every part that dates itself, and every document, allows the whole to have been put
//! together on some days and not on others; the answer is what all of them allow, or that there is no such day.
//!
//! - A part made from day `e` to day `l` and put in while the whole was first assembled allows `[e, l + longest lag]`,
//!   and `[e, ∞)` where no longest lag is taken. A code whose decade is not told has one such window for each decade.
//! - What all allow is the intersection of unions of intervals, worked from left to right.
//! - Intervals on a line that meet two by two all meet (E. Helly, Jahresbericht der Deutschen
//!   Mathematiker-Vereinigung 32, 175 (1923), in one dimension). So where each claim is one window and they cannot all
//!   hold, two of them contradict each other: the latest first day lies after the earliest last day. With several
//!   decades it may take three and more.

use crate::Days;
use jiff::ToSpan;
use jiff::civil::Date;

/// What one part or one document allows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Claim {
    windows: Vec<Days>,
}

impl Claim {
    /// A part taken as original, made in one of several intervals, and put in at most so many months after. Without a
    /// longest lag it may have lain in stock for any time. A part with no interval, since its marks contradict one
    /// another, allows no day; one without marks makes no claim.
    pub fn part(made: &[Days], longest_lag_months: Option<u16>) -> Claim {
        let window = |made: &Days| Days {
            first: made.first,
            last: longest_lag_months
                .map_or(Date::MAX, |months| made.last.saturating_add(i64::from(months).months())),
        };
        Claim { windows: made.iter().map(window).collect() }
    }

    /// Not put together before a day.
    pub fn not_before(day: Date) -> Claim {
        Claim::within(Days::from(day))
    }

    /// Not put together after a day: the whole was there.
    pub fn not_after(day: Date) -> Claim {
        Claim::within(Days::until(day))
    }

    /// Put together on one of these days.
    pub fn within(days: Days) -> Claim {
        Claim { windows: vec![days] }
    }

    /// The days of assembly it allows, one window for each interval of making in the order given. Windows may overlap.
    pub fn windows(&self) -> &[Days] {
        &self.windows
    }

    /// Whether it allows a day.
    pub fn allows(&self, day: Date) -> bool {
        self.windows.iter().any(|window| window.has(day))
    }

    /// The days it allows, in order, neighbours joined.
    pub fn days(&self) -> Vec<Days> {
        in_order(&self.windows)
    }
}

/// The days that lie in any of these intervals, in order, neighbours joined.
pub fn in_order(days: &[Days]) -> Vec<Days> {
    let mut days = days.to_vec();
    days.sort();
    let mut joined: Vec<Days> = Vec::with_capacity(days.len());
    for next in days {
        match joined.last_mut() {
            Some(last) if next.first <= last.last.saturating_add(1.day()) => {
                last.last = last.last.max(next.last);
            }
            _ => joined.push(next),
        }
    }
    joined
}

/// What a set of claims comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Agreement {
    /// The days that all of them allow, in order; between two of these intervals no day is allowed.
    Possible(Vec<Days>),
    /// No day is allowed by all. The claims named contradict one another, and would agree if any one of them fell. One
    /// alone: it allows no day that is asked about.
    Contradiction(Vec<usize>),
}

/// The days that lie in both of two lists, each as [`in_order`] leaves it. So are two marks on one part taken together.
pub fn common(one: &[Days], other: &[Days]) -> Vec<Days> {
    let (mut at_one, mut at_other) = (0, 0);
    let mut both = Vec::new();
    while at_one < one.len() && at_other < other.len() {
        both.extend(one[at_one].common(other[at_other]));
        if one[at_one].last < other[at_other].last {
            at_one += 1;
        } else {
            at_other += 1;
        }
    }
    both
}

/// What all claims allow of the days asked about. These end with the day of inspection: the whole lay on the bench then.
///
/// A part made from 11 June 1956 on, and another from 30 July 1956 on; the receipt is of 1959.
/// ```
/// use asfound_evidence::Days;
/// use asfound_evidence::intervals::{Agreement, Claim, agree};
/// use jiff::civil::date;
/// let asked = Days::new(date(1945, 1, 1), date(2026, 11, 25)).expect("in order");
/// let pot = Claim::part(&[Days::from(date(1956, 6, 11))], None);
/// let transformer = Claim::part(&[Days::from(date(1956, 7, 30))], None);
/// let receipt = Claim::not_after(date(1959, 3, 2));
/// let Agreement::Possible(days) = agree(asked, &[pot, transformer, receipt]) else { panic!("they agree") };
/// assert_eq!(days[0].to_string(), "1956-07-30/1959-03-02");
/// ```
pub fn agree(asked: Days, claims: &[Claim]) -> Agreement {
    let days: Vec<Vec<Days>> = claims.iter().map(Claim::days).collect();
    let all: Vec<usize> = (0..claims.len()).collect();
    let possible = what_allow(asked, &days, &all);
    if possible.is_empty() {
        Agreement::Contradiction(at_odds(asked, &days))
    } else {
        Agreement::Possible(possible)
    }
}

/// What the chosen claims allow.
pub(crate) fn what_allow(asked: Days, days: &[Vec<Days>], chosen: &[usize]) -> Vec<Days> {
    let mut possible = vec![asked];
    for claim in chosen {
        possible = common(&possible, &days[*claim]);
        if possible.is_empty() {
            break;
        }
    }
    possible
}

/// Claims that contradict one another and of which none can be spared: each is left out in turn, and for good where the
/// others contradict without it.
pub(crate) fn at_odds(asked: Days, days: &[Vec<Days>]) -> Vec<usize> {
    let mut kept: Vec<usize> = (0..days.len()).collect();
    for claim in (0..days.len()).rev() {
        let without: Vec<usize> = kept.iter().copied().filter(|other| *other != claim).collect();
        if what_allow(asked, days, &without).is_empty() {
            kept = without;
        }
    }
    kept
}
