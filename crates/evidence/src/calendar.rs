//! Which days a numbered week is, under every way of counting weeks that makers are known to have used.
//!
//! A week number on a part says no more than its maker's calendar did, and the maker's calendar is not printed on it.
//! So a week code is a window of 14 or 15 days, over all the rules; only where one month has to be named is the ISO
//! week taken, because its shares by month are those that the published examples use.

use crate::Days;
use crate::month::Month;
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};

/// A way of numbering the weeks of a year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WeekRule {
    /// Sunday to Saturday, and week 1 is the first that lies wholly in the year. The register of source codes gives
    /// 7 to 13 March for week 10 of 1999 (ecianow.org/eia-source-codes), which this rule and the next fit and the
    /// other four do not.
    FirstFullSunday,
    /// Sunday to Saturday, and week 1 is the one with most of its days in January, which holds 4 January.
    SundayMostDays,
    /// Monday to Sunday, and week 1 is the one with the first Thursday, which holds 4 January (ISO 8601).
    Iso,
    /// Sunday to Saturday, and week 1 is the one that holds 1 January (a published legend of package marks,
    /// onlinedocs.microchip.com; EANCOM 1997, element 2379).
    FirstDaySunday,
    /// The same from Monday to Sunday.
    FirstDayMonday,
    /// Seven days by seven from 1 January; a 53rd is the one or two days left over (common practice, no source).
    SevenDays,
}

impl WeekRule {
    /// All of them.
    pub const ALL: [WeekRule; 6] = [
        WeekRule::FirstFullSunday,
        WeekRule::SundayMostDays,
        WeekRule::Iso,
        WeekRule::FirstDaySunday,
        WeekRule::FirstDayMonday,
        WeekRule::SevenDays,
    ];

    /// The first day of week 1.
    fn first_day(self, year: i16) -> Option<Date> {
        let (starts, held) = match self {
            WeekRule::FirstFullSunday => (Weekday::Sunday, 7),
            WeekRule::SundayMostDays => (Weekday::Sunday, 4),
            WeekRule::Iso => (Weekday::Monday, 4),
            WeekRule::FirstDaySunday => (Weekday::Sunday, 1),
            WeekRule::FirstDayMonday => (Weekday::Monday, 1),
            WeekRule::SevenDays => return Date::new(year, 1, 1).ok(),
        };
        let held = Date::new(year, 1, held).ok()?;
        let into_the_week = held.weekday().since(starts);
        Some(held.saturating_sub(i64::from(into_the_week).days()))
    }
}

/// The days of a week by a rule; `None` for week 0, and for a week that this rule does not have in this year.
pub fn week(rule: WeekRule, year: i16, number: u8) -> Option<Days> {
    if !(1..=53).contains(&number) {
        return None;
    }
    let first = rule.first_day(year)?.saturating_add((7 * (i64::from(number) - 1)).days());
    let next_year = rule.first_day(year.checked_add(1)?)?;
    if first >= next_year {
        return None;
    }
    Some(Days { first, last: first.saturating_add(6.days()).min(next_year.saturating_sub(1.day())) })
}

/// From the first to the last day that any of the six rules puts into this week: 14 or 15 days for weeks 1 to 52 of the
/// years 1940 to 2030. Week 53 goes over the rules that have one; the plain count of seven days always does.
pub fn envelope(year: i16, number: u8) -> Option<Days> {
    WeekRule::ALL.into_iter().filter_map(|rule| week(rule, year, number)).reduce(Days::around)
}

/// The share of seven days that lies in each month, for a week or a part of one.
fn shares_of_a_week(days: Days) -> Vec<(Month, f64)> {
    let (first, last) = (Month::of(days.first), Month::of(days.last));
    if first == last {
        return vec![(first, days.count() as f64 / 7.0)];
    }
    let behind = i64::from(days.last.day());
    vec![(first, (days.count() - behind) as f64 / 7.0), (last, behind as f64 / 7.0)]
}

/// The share of the seven days of an ISO week that lies in each month: week 31 of 1956 is 2/7 July and 5/7 August.
/// `None` where the year has no such week.
pub fn iso_shares(year: i16, number: u8) -> Option<Vec<(Month, f64)>> {
    week(WeekRule::Iso, year, number).map(shares_of_a_week)
}

/// The shares by month of a week as it is weighed: the ISO week; for a week 53 in a year that has none by ISO, the day
/// or two that the plain count of seven days leaves over, as a share of a whole week, because fewer parts were marked in
/// them.
pub fn shares(year: i16, number: u8) -> Vec<(Month, f64)> {
    iso_shares(year, number)
        .or_else(|| week(WeekRule::SevenDays, year, number).map(shares_of_a_week))
        .unwrap_or_default()
}
