//! The smallest sets of things to give up, against trying every set there is.

use asfound_evidence::Days;
use asfound_evidence::intervals::{Agreement, Claim, agree};
use asfound_evidence::repair::{Firm, Limits, Statement, repairs};
use jiff::ToSpan;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use rand_chacha::ChaCha12Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

fn days(first: Date, last: Date) -> Days {
    Days::new(first, last).expect("in order")
}

fn asked() -> Days {
    days(date(1945, 1, 1), date(2024, 1, 31))
}

fn statement(claim: Claim, rests_on: &[usize]) -> Statement {
    Statement { claim, rests_on: rests_on.to_vec() }
}

/// A part of a year, put in at any time after.
fn of_year(year: i16, thing: usize) -> Statement {
    statement(Claim::part(&[days(date(year, 1, 1), date(year, 12, 31))], None), &[thing])
}

fn given_up(statements: &[Statement]) -> Vec<Vec<usize>> {
    let found = repairs(asked(), statements, Limits::default()).expect("can be reconciled");
    found.smallest().map(|way| way.given_up.clone()).collect()
}

/// Parts of 1963 and 1964, a choke of week 5 of 1972, a receipt of 1965: the choke or the receipt, and both are told.
#[test]
fn the_choke_or_the_receipt() {
    let statements = [
        statement(Claim::not_before(date(1963, 9, 16)), &[0]),
        statement(Claim::not_before(date(1964, 3, 9)), &[1]),
        statement(Claim::not_before(date(1964, 2, 24)), &[2]),
        statement(Claim::not_before(date(1972, 1, 31)), &[3]),
        statement(Claim::not_after(date(1965, 6, 30)), &[4]),
    ];
    let found = repairs(asked(), &statements, Limits::default()).expect("can be reconciled");
    let told: Vec<_> = found.ways.iter().map(|way| (way.given_up.clone(), way.days[0].to_string())).collect();
    assert_eq!(
        told,
        [
            (vec![3], "1964-03-09/1965-06-30".to_owned()), // the choke was replaced
            (vec![4], "1972-01-31/2024-01-31".to_owned())  // the receipt is wrong
        ]
    );
    assert_eq!((found.at_least, found.gap(), found.complete_to), (1, 0, Some(3)));
}

#[test]
fn where_all_agree_nothing_is_given_up() {
    let statements =
        [of_year(1963, 0), of_year(1964, 1), statement(Claim::not_after(date(1965, 6, 30)), &[2])];
    let found = repairs(asked(), &statements, Limits::default()).expect("can be reconciled");
    assert_eq!((found.ways.len(), found.fewest(), found.at_least), (1, 0, 0));
    assert_eq!(found.ways[0].days[0].to_string(), "1964-01-01/1965-06-30");
    let nothing = repairs(asked(), &[], Limits::default()).expect("nothing to reconcile");
    assert_eq!(nothing.ways[0].days, [asked()]);
}

/// A receipt not doubted and no longest lag: the parts made after it, all of them and no others, in closed form. Where
/// the receipt may be wrong it alone is a smaller set, and the parts are told beside it.
#[test]
fn the_parts_made_after_the_receipt() {
    let years = [1958, 1961, 1963, 1964, 1967, 1968];
    for receipt_year in 1957..1970 {
        let receipt = Claim::not_after(date(receipt_year, 12, 31));
        let mut statements: Vec<Statement> =
            years.iter().enumerate().map(|(at, year)| of_year(*year, at)).collect();
        let later: Vec<usize> = (0..years.len()).filter(|at| years[*at] > receipt_year).collect();
        statements.push(statement(receipt.clone(), &[]));
        assert_eq!(given_up(&statements), std::slice::from_ref(&later), "{receipt_year}");
        statements.pop();
        statements.push(statement(receipt, &[years.len()]));
        let found = repairs(asked(), &statements, Limits { beyond: 6, ..Limits::default() }).expect("a way");
        assert_eq!(found.fewest(), later.len().min(1));
        assert!(found.ways.iter().any(|way| way.given_up == later));
    }
}

/// Two controls of one harness from 1972: changed together is one thing, changed one by one is two.
#[test]
fn a_harness_changed_as_a_whole_is_one_thing() {
    let (control, other, harness, body) = (0, 1, 2, 3);
    let statements = [
        statement(Claim::not_before(date(1972, 1, 31)), &[control, harness]),
        statement(Claim::not_before(date(1972, 2, 7)), &[other, harness]),
        statement(Claim::not_before(date(1964, 1, 1)), &[body]),
        statement(Claim::not_after(date(1965, 6, 30)), &[]),
    ];
    assert_eq!(given_up(&statements), [vec![harness]]);
    let found = repairs(asked(), &statements, Limits::default()).expect("a way");
    assert_eq!(
        found.ways.iter().map(|way| way.given_up.clone()).collect::<Vec<_>>(),
        [vec![harness], vec![control, other]]
    );
}

/// Two documents that may not be doubted and exclude each other are named, by their place.
#[test]
fn firm_statements_that_contradict() {
    let statements = [
        of_year(1964, 0),
        statement(Claim::not_after(date(1965, 6, 30)), &[]),
        statement(Claim::not_after(date(1969, 6, 30)), &[]),
        statement(Claim::not_before(date(1966, 1, 1)), &[]),
    ];
    let fault = repairs(asked(), &statements, Limits::default()).expect_err("they exclude each other");
    assert_eq!(fault, Firm(vec![1, 3]));
    assert!(fault.to_string().contains("what would be wrong"));
}

/// Five hundred parts with a year digit each, of eight decades, and at most three years in stock: exact, since each rests
/// on itself alone. Checked by counting against each month, on which the fewest stand against.
#[test]
fn five_hundred_parts() {
    let mut draws = ChaCha12Rng::seed_from_u64(1964);
    let mut below = |limit: u64| (draws.next_u64() % limit) as usize;
    let statements: Vec<Statement> = (0..500)
        .map(|at| {
            let (digit, week) = (below(10) as i16, below(52));
            let made: Vec<Days> = (0..8)
                .map(|decade| Days::on(date(1945 + digit + 10 * decade, 1, 1) + (7 * week as i64).days()))
                .filter(|day| day.last <= asked().last)
                .collect();
            statement(Claim::part(&made, Some(36)), &[at])
        })
        .collect();
    let found = repairs(asked(), &statements, Limits::default()).expect("a way");
    let mut day = asked().first;
    let mut fewest = usize::MAX;
    while day <= asked().last {
        fewest = fewest.min(statements.iter().filter(|statement| !statement.claim.allows(day)).count());
        day += 1.day();
    }
    assert_eq!((found.fewest(), found.gap()), (fewest, 0));
    assert!(found.complete_to.is_some());
}

/// Three things to each of very many statements against every day: the work runs out, and the bound and the gap are
/// told beside a set that does reconcile.
#[test]
fn where_the_work_runs_out_the_bound_is_told() {
    let mut draws = ChaCha12Rng::seed_from_u64(7);
    let mut thing = || (draws.next_u64() % 200) as usize;
    let late = || Claim::not_before(date(1972, 1, 31));
    let mut statements: Vec<Statement> =
        (0..700).map(|_| statement(late(), &[thing(), thing(), thing()])).collect();
    statements.push(statement(Claim::not_after(date(1965, 6, 30)), &[]));
    let found = repairs(asked(), &statements, Limits::default()).expect("a way");
    assert_eq!(found.complete_to, None);
    assert!(found.at_least > 0 && found.gap() > 0);
    assert_eq!(found.ways.len(), 1);
    assert_eq!(found.ways[0].days.last().map(|days| days.last), Some(date(1965, 6, 30)));
}

/// The windows of a statement, as a first day and how many follow, and the things it rests on.
type Given = (Vec<(i8, i8)>, Vec<usize>);

/// Windows on forty days of 1964, for up to eight statements on up to seven things.
fn some_statements() -> impl Strategy<Value = Vec<Given>> {
    let windows = prop::collection::vec((0_i8..40, 0_i8..9), 1..4);
    prop::collection::vec((windows, prop::collection::vec(0_usize..7, 1..4)), 1..9)
}

/// The same with one thing to each of up to twelve statements.
fn parts_alone() -> impl Strategy<Value = Vec<Given>> {
    prop::collection::vec(prop::collection::vec((0_i8..40, 0_i8..9), 1..4), 1..13)
        .prop_map(|parts| parts.into_iter().enumerate().map(|(at, windows)| (windows, vec![at])).collect())
}

/// Every set of things that reconciles and of which none can be spared, the fewest first, by trying all.
fn by_trying_all(asked: Days, statements: &[Statement], things: usize) -> Vec<Vec<usize>> {
    let reconciles = |set: u32| {
        let left: Vec<Claim> = statements
            .iter()
            .filter(|statement| statement.rests_on.iter().all(|thing| set >> thing & 1 == 0))
            .map(|statement| statement.claim.clone())
            .collect();
        matches!(agree(asked, &left), Agreement::Possible(_))
    };
    let mut ways: Vec<Vec<usize>> = (0_u32..1 << things)
        .filter(|set| reconciles(*set))
        .filter(|set| (0..things).all(|thing| set >> thing & 1 == 0 || !reconciles(set & !(1 << thing))))
        .map(|set| (0..things).filter(|thing| set >> thing & 1 == 1).collect())
        .collect();
    ways.sort_by_key(|way| (way.len(), way.clone()));
    ways
}

fn agrees_with_trying_all(given: &[Given]) {
    let start = date(1964, 1, 1);
    let day = |at: i8| start + i64::from(at).days();
    let statements: Vec<Statement> = given
        .iter()
        .map(|(windows, rests_on)| {
            let made: Vec<Days> = windows.iter().map(|(at, long)| days(day(*at), day(at + long))).collect();
            statement(Claim::part(&made, Some(0)), rests_on)
        })
        .collect();
    let things = given.iter().flat_map(|(_, rests_on)| rests_on).max().map_or(0, |most| most + 1);
    let asked = days(start, day(45));
    let limits = Limits { beyond: things, listed: usize::MAX, ..Limits::default() };
    let found = repairs(asked, &statements, limits).expect("everything can be given up");
    let ways: Vec<_> = found.ways.iter().map(|way| way.given_up.clone()).collect();
    assert_eq!(ways, by_trying_all(asked, &statements, things));
    assert_eq!(found.at_least, found.fewest());
    // A list cut short by its length or by the work is a part of the whole one, and its bound holds.
    for steps in [0, 1, 3, 10] {
        let cut = repairs(asked, &statements, Limits { steps, listed: 2, beyond: 1 }).expect("as before");
        assert!(cut.at_least <= found.fewest() && found.fewest() <= cut.fewest());
        assert!(cut.ways.iter().all(|way| found.ways.contains(way)));
        let complete = |size| {
            found.ways.iter().filter(|way| way.given_up.len() <= size).all(|way| cut.ways.contains(way))
        };
        assert!(cut.complete_to.is_none_or(complete));
    }
}

proptest! {
    #[test]
    fn as_found_by_trying_all(given in some_statements()) {
        agrees_with_trying_all(&given);
    }

    #[test]
    fn as_found_by_trying_all_where_each_rests_on_itself(given in parts_alone()) {
        agrees_with_trying_all(&given);
    }

    /// Another order of the statements changes nothing.
    #[test]
    fn the_order_does_not_matter(years in prop::collection::vec(1950_i16..1980, 1..9), receipt in 1950_i16..1980) {
        let mut statements: Vec<Statement> =
            years.iter().enumerate().map(|(at, year)| of_year(*year, at)).collect();
        statements.push(statement(Claim::not_after(date(receipt, 6, 30)), &[years.len()]));
        let forward = repairs(asked(), &statements, Limits::default());
        statements.reverse();
        prop_assert_eq!(forward, repairs(asked(), &statements, Limits::default()));
    }
}
