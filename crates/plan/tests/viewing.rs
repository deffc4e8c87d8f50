//! What a check at a viewing is worth: worked by hand, and what a person can do wrong.

use asfound_plan::money::{Currency, Money};
use asfound_plan::viewing::{Check, Price, Shown, State, Unknown, Viewing, ViewingFault};

fn pounds(text: &str) -> Money {
    Money::read(text, Currency::of("GBP").expect("known")).expect("a sum")
}

fn state(probability: f64, share_lost: f64, cost: &str) -> State {
    State { probability, share_lost, cost: pounds(cost) }
}

fn open_coil() -> Unknown {
    Unknown::new(vec![state(0.8, 0.0, "0"), state(0.2, 0.4, "0")]).expect("an unknown")
}

fn certain(about: usize) -> Check {
    Check::new(vec![about], 2.0, vec![vec![1.0, 0.0], vec![0.0, 1.0]]).expect("a check")
}

fn near(read: f64, wanted: f64) {
    // Sums of a few numbers below 10^6: rounding stays below 10^-9.
    assert!((read - wanted).abs() < 1e-9, "{read} and not {wanted}");
}

#[test]
fn a_known_price_by_hand() {
    let price = Price::known(pounds("1900"));
    let viewing =
        Viewing::new(pounds("2000"), price, vec![open_coil()], vec![certain(0)]).expect("a viewing");
    let before = viewing.after(&[]).expect("no answers");
    near(before.expected_worth().minor, 184_000.0);
    near(before.gain().minor, 0.0);
    // 0.8 · (2000 − 1900) = 80, where before nothing was gained.
    near(before.worth_of(0).minor, 8000.0);
    near(before.ranked()[0].per_minute.minor, 4000.0);
    let outcomes = before.outcomes(0);
    near(outcomes[1].worth.minor, 120_000.0);
    near(outcomes[1].probability, 0.2);
    let after = viewing.after(&[(0, Shown::Outcome(1))]).expect("an answer");
    near(after.expected_worth().minor, 120_000.0);
    assert!(after.ranked().is_empty());
    near(after.worth_of(0).minor, 0.0);
}

#[test]
fn a_price_in_a_range_by_hand() {
    // From 1000 to 2000, each as likely: what is had at up to m is gained half of (m − 1000) on average.
    let price = Price::between(pounds("1000"), pounds("2000")).expect("a range");
    let viewing =
        Viewing::new(pounds("2000"), price, vec![open_coil()], vec![certain(0)]).expect("a viewing");
    let before = viewing.after(&[]).expect("no answers");
    // (1840 − 1000)² / (2 · 1000) = 352.80
    near(before.gain().minor, 35_280.0);
    // 0.8 · 1000²/2000 + 0.2 · 200²/2000 − 352.80 = 400 + 4 − 352.80 = 51.20
    near(before.worth_of(0).minor, 5_120.0);
}

#[test]
fn shares_multiply_and_costs_add() {
    let frets = Unknown::new(vec![state(0.5, 0.0, "0"), state(0.5, 0.1, "300")]).expect("an unknown");
    let price = Price::known(pounds("1000"));
    let viewing =
        Viewing::new(pounds("2000"), price, vec![open_coil(), frets], vec![certain(0)]).expect("a viewing");
    let before = viewing.after(&[]).expect("no answers");
    // 2000 · 0.92 · 0.95 − 150 = 1598
    near(before.expected_worth().minor, 159_800.0);
    // Even open it is worth 2000 · 0.6 · 0.95 − 150 = 990, below 1000: 0.2 · 10 is saved by leaving it.
    near(before.worth_of(0).minor, 200.0);
    let each = before.worth_in_each_state(1);
    near(each[1].expect("it can be").minor, 135_600.0);
}

#[test]
fn the_worst_of_two_is_what_is_seen() {
    // A repaired break shows 3 times in 5, an overspray 1 in 2; nothing shows where neither is.
    let shows = |share: f64| vec![vec![1.0, 0.0], vec![1.0 - share, share]];
    let both = Check::worst_of(vec![0, 1], 1.0, &[shows(0.6), shows(0.5)]).expect("a check");
    let even = || Unknown::new(vec![state(0.5, 0.0, "0"), state(0.5, 0.3, "0")]).expect("an unknown");
    let price = Price::known(pounds("1500"));
    let viewing =
        Viewing::new(pounds("2000"), price, vec![even(), even()], vec![both, certain(0)]).expect("a viewing");
    let nothing_seen = viewing.after(&[(0, Shown::Outcome(0))]).expect("an answer");
    // P(nothing) = ¼ (1 + 0.5 + 0.4 + 0.2); the break was there in 0.6 of 2.1 of it.
    near(nothing_seen.probabilities(0)[1], 0.6 / 2.1);
    let seen = viewing.after(&[(0, Shown::Outcome(1))]).expect("an answer");
    // P(something) = ¼ (0 + 0.5 + 0.6 + 0.8).
    near(seen.probabilities(0)[1], 1.4 / 1.9);
    // Tied now: with no break it was the overspray.
    let sound_neck = viewing.after(&[(1, Shown::Outcome(0)), (0, Shown::Outcome(1))]).expect("answers");
    near(sound_neck.probabilities(1)[1], 1.0);
}

#[test]
fn cannot_tell_changes_nothing_and_takes_the_check_off() {
    let price = Price::known(pounds("1900"));
    let viewing =
        Viewing::new(pounds("2000"), price, vec![open_coil()], vec![certain(0)]).expect("a viewing");
    let after = viewing.after(&[(0, Shown::CannotTell)]).expect("an answer");
    near(after.expected_worth().minor, 184_000.0);
    assert!(after.ranked().is_empty());
    let twice = viewing.after(&[(0, Shown::CannotTell), (0, Shown::Outcome(0))]).expect("answers");
    near(twice.expected_worth().minor, 200_000.0);
}

#[test]
fn what_was_said_beforehand_weighs_in() {
    let said = open_coil().given(&[0.1, 0.4]).expect("likelihoods");
    near(said.states()[1].probability, 0.5);
    assert!(matches!(open_coil().given(&[0.5]), Err(ViewingFault::Likelihoods { states: 2, .. })));
    assert!(open_coil().given(&[0.0, 0.0]).is_err());
}

#[test]
fn what_cannot_be_is_said_with_what_would_be_right() {
    let fault = |result: Result<Unknown, ViewingFault>| result.expect_err("a fault").to_string();
    assert!(fault(Unknown::new(vec![])).contains("one at least"));
    assert!(fault(Unknown::new(vec![state(0.5, 0.0, "0"), state(0.4, 0.0, "0")])).contains("add up to 1"));
    assert!(fault(Unknown::new(vec![state(1.0, 1.5, "0")])).contains("up to 1"));
    assert!(matches!(Check::new(vec![0], 0.0, vec![vec![1.0]]), Err(ViewingFault::Minutes(_))));
    assert!(matches!(Check::new(vec![0, 0], 1.0, vec![vec![1.0]]), Err(ViewingFault::AboutNothing)));
    assert!(matches!(Check::new(vec![0], 1.0, vec![]), Err(ViewingFault::Table { .. })));
    let alone = [vec![vec![1.0, 0.0], vec![1.0]]];
    assert!(matches!(Check::worst_of(vec![0], 1.0, &alone), Err(ViewingFault::Table { .. })));
    let falling = Price::between(pounds("2"), pounds("1")).expect_err("a fault").to_string();
    assert!(falling.contains("lower first"), "{falling}");

    let viewing = |price, checks| Viewing::new(pounds("2000"), price, vec![open_coil()], checks);
    let euros = Money::nothing(Currency::of("EUR").expect("known"));
    let price = Price::known(pounds("1900"));
    assert!(matches!(viewing(Price::known(euros), vec![]), Err(ViewingFault::Mixed { .. })));
    assert!(matches!(viewing(price, vec![certain(1)]), Err(ViewingFault::NoSuchUnknown { .. })));
    let short = Check::new(vec![0], 1.0, vec![vec![1.0]]).expect("a table");
    assert!(matches!(viewing(price, vec![short]), Err(ViewingFault::Table { wanted: Some(2), .. })));

    let sound = viewing(price, vec![certain(0), certain(0)]).expect("a viewing");
    assert!(matches!(sound.after(&[(7, Shown::CannotTell)]), Err(ViewingFault::NoSuchCheck(7))));
    assert!(matches!(sound.after(&[(0, Shown::Outcome(2))]), Err(ViewingFault::NoSuchOutcome { .. })));
    let torn = sound.after(&[(0, Shown::Outcome(0)), (1, Shown::Outcome(1))]);
    assert!(matches!(torn, Err(ViewingFault::CannotAllBeTrue(1))));
    assert!(sound.after(&[]).expect("no answers").outcomes(9).is_empty());
}

#[test]
fn too_many_unknowns_tied_are_refused_at_once() {
    let unknowns = vec![open_coil(); 14];
    let alone = vec![vec![1.0, 0.0], vec![0.5, 0.5]];
    let tie = |at: usize| Check::worst_of(vec![at, at + 1], 1.0, &[alone.clone(), alone.clone()]);
    let checks: Vec<Check> = (0..13).map(|at| tie(at).expect("a check")).collect();
    let price = Price::known(pounds("1900"));
    let refused = Viewing::new(pounds("2000"), price, unknowns, checks);
    assert_eq!(refused, Err(ViewingFault::TooManyTied { states: 1 << 14 }));
}
