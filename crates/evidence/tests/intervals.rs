//! Interval-only reasoning, against cases worked by hand on the ISO 8601 calendar, and against day-by-day counting.

use asfound_evidence::Days;
use asfound_evidence::calendar::envelope;
use asfound_evidence::intervals::{Agreement, Claim, agree, common, in_order};
use jiff::ToSpan;
use jiff::civil::{Date, ISOWeekDate, Weekday, date};
use proptest::prelude::*;

fn days(first: Date, last: Date) -> Days {
    Days::new(first, last).expect("in order")
}

fn asked() -> Days {
    days(date(1945, 1, 1), date(2024, 1, 31))
}

/// The Monday of a week as ISO 8601 counts.
fn monday(year: i16, week: i8) -> Date {
    ISOWeekDate::new(year, week, Weekday::Monday).expect("a week").date()
}

/// A part whose code is taken to mean the Monday of its week.
fn by_monday(weeks: &[(i16, i8)], lag: Option<u16>) -> Claim {
    Claim::part(&weeks.iter().map(|(year, week)| Days::on(monday(*year, *week))).collect::<Vec<_>>(), lag)
}

/// A part whose code is taken to mean any day that one of the six ways of counting puts into its week.
fn by_any_rule(weeks: &[(i16, u8)], lag: Option<u16>) -> Claim {
    let days = |(year, week): &(i16, u8)| envelope(*year, *week).expect("a week");
    Claim::part(&weeks.iter().map(days).collect::<Vec<_>>(), lag)
}

fn possible(claims: &[Claim]) -> Vec<String> {
    match agree(asked(), claims) {
        Agreement::Possible(days) => days.iter().map(Days::to_string).collect(),
        Agreement::Contradiction(claims) => panic!("{claims:?} contradict one another"),
    }
}

/// The latest week bounds from below, the receipt from above.
#[test]
fn three_parts_and_a_receipt() {
    let receipt = Claim::not_after(date(1965, 6, 30));
    let weeks = [(1963, 38), (1964, 11), (1964, 9)].map(|week| by_monday(&[week], None));
    let claims: Vec<Claim> = weeks.into_iter().chain([receipt.clone()]).collect();
    assert_eq!(possible(&claims), ["1964-03-09/1965-06-30"]);
    // Whichever of the six ways the maker counted weeks: week 11 of 1964 is one of 8 to 21 March.
    let weeks = [(1963, 38), (1964, 11), (1964, 9)].map(|week| by_any_rule(&[week], None));
    let widest: Vec<Claim> = weeks.into_iter().chain([receipt]).collect();
    assert_eq!(possible(&widest), ["1964-03-08/1965-06-30"]);
}

/// A choke of 1972 in what was sold in 1965: the two at odds are named, and nobody else.
#[test]
fn a_part_later_than_the_receipt() {
    let claims = [
        by_monday(&[(1963, 38)], None),
        by_monday(&[(1964, 11)], None),
        by_monday(&[(1964, 9)], None),
        Claim::not_after(date(1965, 6, 30)),
        by_monday(&[(1972, 5)], None),
    ];
    assert_eq!(monday(1972, 5), date(1972, 1, 31));
    assert_eq!(agree(asked(), &claims), Agreement::Contradiction(vec![3, 4]));
}

const DECADES: [i16; 4] = [1946, 1956, 1966, 1976];

/// Two codes with one year digit, at most three years in stock, a finish not before 1958 and a document of 1968: two
/// answers apart from each other, and fourteen pairs of decades that cannot be.
#[test]
fn two_decades_stay() {
    let bounds = [Claim::not_before(date(1958, 1, 1)), Claim::not_after(date(1968, 12, 31))];
    let with = |control: &[i16], transformer: &[i16]| {
        let weeks = |years: &[i16], week| years.iter().map(|year| (*year, week)).collect::<Vec<_>>();
        [by_monday(&weeks(control, 24), Some(36)), by_monday(&weeks(transformer, 31), Some(36))]
            .into_iter()
            .chain(bounds.clone())
            .collect::<Vec<_>>()
    };
    let all = with(&DECADES, &DECADES);
    assert_eq!(possible(&all), ["1958-01-01/1959-06-11", "1966-08-01/1968-12-31"]);
    for control in DECADES {
        for transformer in DECADES {
            let holds = matches!(agree(asked(), &with(&[control], &[transformer])), Agreement::Possible(_));
            assert_eq!(
                holds,
                control == transformer && (control == 1956 || control == 1966),
                "{control} {transformer}"
            );
        }
    }
    // Of the control's four windows two are left.
    let Agreement::Possible(answer) = agree(asked(), &all) else { panic!("they agree") };
    let left = |window: &Days| !common(&answer, &[*window]).is_empty();
    assert_eq!(all[0].windows().iter().map(left).collect::<Vec<_>>(), [false, true, true, false]);
}

/// The same with every usual way of counting weeks: week 24 of 1956 is one of 4 to 17 June, week 31 of 1966 of 24 July
/// to 7 August.
#[test]
fn two_decades_stay_however_weeks_are_counted() {
    let control = by_any_rule(&DECADES.map(|year| (year, 24)), Some(36));
    let transformer = by_any_rule(&DECADES.map(|year| (year, 31)), Some(36));
    let claims =
        [control, transformer, Claim::not_before(date(1958, 1, 1)), Claim::not_after(date(1968, 12, 31))];
    assert_eq!(possible(&claims), ["1958-01-01/1959-06-17", "1966-07-24/1968-12-31"]);
}

#[test]
fn what_lies_outside_the_days_asked_about_stands_alone() {
    let claims = [by_monday(&[(1964, 11)], None), by_monday(&[(2025, 3)], None)];
    assert_eq!(agree(asked(), &claims), Agreement::Contradiction(vec![1]));
    assert_eq!(agree(asked(), &[]), Agreement::Possible(vec![asked()]));
}

/// A code of 1956 or 1966 on a part of a material first used in 1960: 1966 stays. In a material of 1970 none does, and
/// the part alone is at odds with itself.
#[test]
fn two_marks_on_one_part() {
    let code = in_order(&[monday(1966, 24), monday(1956, 24)].map(Days::on));
    let both = |material| common(&code, &[Days::from(date(material, 1, 1))]);
    assert_eq!(possible(&[Claim::part(&both(1960), Some(36))]), ["1966-06-13/1969-06-13"]);
    let claims = [Claim::part(&both(1970), Some(36)), by_monday(&[(1964, 11)], None)];
    assert_eq!(agree(asked(), &claims), Agreement::Contradiction(vec![0]));
}

/// The lag runs from the last day of making, and a month ends where it ends.
#[test]
fn a_lag_from_the_last_of_a_month() {
    let claim = Claim::part(&[days(date(1964, 1, 1), date(1964, 1, 31))], Some(1));
    assert_eq!(claim.windows()[0].to_string(), "1964-01-01/1964-02-29");
    let endless = Claim::part(&[Days::from(date(1964, 1, 1))], Some(u16::MAX));
    assert_eq!(endless.windows()[0].last, Date::MAX);
}

/// Three that agree two by two and not together: more than one decade each.
#[test]
fn with_several_decades_three_can_be_at_odds() {
    let on =
        |years: [i16; 2]| Claim::part(&years.map(|year| days(date(year, 1, 1), date(year, 12, 31))), Some(0));
    let claims = [on([1954, 1964]), on([1964, 1974]), on([1954, 1974])];
    assert_eq!(agree(asked(), &claims), Agreement::Contradiction(vec![0, 1, 2]));
}

/// Claims on the first forty days of 1964.
fn a_claim() -> impl Strategy<Value = Vec<(i8, i8)>> {
    prop::collection::vec((0_i8..40, 0_i8..12), 1..4)
}

proptest! {
    /// What all allow is what a count day by day finds, in order, with a gap between any two; and claims said to
    /// contradict one another do so, and no longer without any one of them.
    #[test]
    fn as_counted_day_by_day(windows in prop::collection::vec(a_claim(), 1..7)) {
        let start = date(1964, 1, 1);
        let day = |at: i8| start + i64::from(at).days();
        let claims: Vec<Claim> = windows
            .iter()
            .map(|of| Claim::part(&of.iter().map(|(at, long)| days(day(*at), day(at + long))).collect::<Vec<_>>(), Some(0)))
            .collect();
        let asked = days(start, day(45));
        let allowed = |chosen: &[usize], at: i8| chosen.iter().all(|claim| claims[*claim].allows(day(at)));
        let all: Vec<usize> = (0..claims.len()).collect();
        match agree(asked, &claims) {
            Agreement::Possible(possible) => {
                for at in 0..=45 {
                    prop_assert_eq!(possible.iter().any(|days| days.has(day(at))), allowed(&all, at));
                }
                for pair in possible.windows(2) {
                    prop_assert!(pair[0].last + 1.day() < pair[1].first);
                }
            }
            Agreement::Contradiction(odds) => {
                prop_assert!((0..=45).all(|at| !allowed(&odds, at)));
                for claim in &odds {
                    let rest: Vec<usize> = odds.iter().copied().filter(|other| other != claim).collect();
                    prop_assert!((0..=45).any(|at| allowed(&rest, at)));
                }
                let single = windows.iter().all(|of| of.len() == 1);
                prop_assert!(!single || odds.len() == 2);
            }
        }
    }
}
