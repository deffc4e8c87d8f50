//! How long a ranking takes after an answer.
//!
//! `cargo bench -p asfound-plan --bench viewing`

use asfound_plan::checks::{Asked, End, Kind, Known, viewing};
use asfound_plan::money::{Currency, Money};
use asfound_plan::viewing::{Check, Price, Shown, State, Unknown, Viewing};

fn main() {
    divan::main();
}

fn minor(minor: i64) -> Money {
    Money::of_minor(minor, Currency::of("GBP").expect("known")).expect("small")
}

/// 25 unknowns of three states; 60 checks, every third on two unknowns, so that answers tie up to 243 joint states.
fn sixty_checks() -> Viewing {
    let state = |probability, share_lost, cost| State { probability, share_lost, cost: minor(cost) };
    let unknown = |at: i64| {
        let lost = 0.02 + 0.01 * at as f64;
        let states = vec![state(0.7, 0.0, 0), state(0.2, lost / 2.0, 500 * at), state(0.1, lost, 900 * at)];
        Unknown::new(states).expect("an unknown")
    };
    let alone = vec![vec![0.9, 0.08, 0.02], vec![0.2, 0.7, 0.1], vec![0.05, 0.25, 0.7]];
    let check = |at: usize| {
        let first = at % 25;
        let second = if first % 5 == 4 { first - 1 } else { first + 1 };
        let minutes = 1.0 + (at % 7) as f64;
        let check = if at.is_multiple_of(3) {
            Check::worst_of(vec![first, second], minutes, &[alone.clone(), alone.clone()])
        } else {
            Check::new(vec![first], minutes, alone.clone())
        };
        check.expect("a check")
    };
    let price = Price::between(minor(100_000), minor(180_000)).expect("a range");
    let unknowns = (0..25).map(unknown).collect();
    Viewing::new(minor(240_000), price, unknowns, (0..60).map(check).collect()).expect("a viewing")
}

#[divan::bench(args = [0, 1, 20, 59], sample_count = 20)]
fn ranked_after_answers(bencher: divan::Bencher<'_, '_>, made: usize) {
    let viewing = sixty_checks();
    let answers: Vec<(usize, Shown)> = (0..made).map(|at| (at, Shown::Outcome(at % 3))).collect();
    bencher.bench(|| viewing.after(&answers).expect("possible").ranked());
}

/// From the tables to the ranking, as a page asks it, at all three ends of the ranges.
#[divan::bench(sample_count = 20)]
fn guitar_asked_anew(bencher: divan::Bencher<'_, '_>) {
    let known = Known::of(Kind::Guitar);
    let price = Price::between(minor(100_000), minor(180_000)).expect("a range");
    let asked = Asked { sound: minor(240_000), price, hour: Some(minor(5000)), heard: vec![] };
    let answers: Vec<(usize, Shown)> = (0..20).map(|at| (at, Shown::Outcome(0))).collect();
    bencher.bench(|| {
        [End::Least, End::Stated, End::Most].map(|end| {
            let viewing = viewing(&known, &asked, |_| end).expect("a viewing");
            viewing.after(&answers).expect("possible").ranked()
        })
    });
}
