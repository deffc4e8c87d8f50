//! Limits under a chance of loss, against the quantiles that can be worked out by formula.

mod common;

use asfound_plan::estimate::Estimate;
use asfound_plan::fees::{Extra, FeeFault, Fees, Premium, SellingTerms, Steps, Tax, Terms};
use asfound_plan::money::{Money, Rounding};
use asfound_plan::risk::{Expected, Left, Margin, Purpose, RiskFault, Sale, Venture};
use asfound_plan::{Bench, Hours, Task, Tasks, ThreePoint};
use asfound_weigh::Probability;
use common::{euro, pound, pounds, rate};
use jiff::civil::{date, time};
use jiff::tz::TimeZone;
use proptest::prelude::*;

const DRAWS: usize = 10_000;

fn even(step: &str) -> Steps {
    Steps::even(pounds(step)).expect("a step")
}

fn premium_25_taxed() -> Fees {
    let mut terms = Terms::new(pound(), Premium::Flat(rate("25")));
    terms.tax = Some(Tax::OnPremium(rate("20")));
    terms.checked().expect("sound terms")
}

fn chance(share: f64) -> Probability {
    Probability::new(share).expect("a share")
}

fn expected(what: &str, figure: Estimate) -> Expected {
    Expected::new(what, pound(), figure)
}

fn to_keep(budget: &str, work: Vec<Expected>) -> Left {
    let purpose = Purpose::ToKeep { budget: pounds(budget) };
    Venture { purpose, work, planned: None }.left(DRAWS, 5).expect("one currency")
}

/// A repair of 600 in the middle and 1200 for nine in ten is within 945.897 for eight in ten (the lognormal's quantile
/// by formula), which leaves 4054.103 of 5000, and 3118.54 of hammer price at 1.3 for each pound.
#[test]
fn to_keep_within_a_budget_eight_times_in_ten() {
    let repair = Estimate::lognormal_from_quantiles(600.0, 1200.0).expect("in order");
    let left = to_keep("5000", vec![expected("repair", repair)]);
    let found = left.ceiling(&premium_25_taxed(), &even("100"), chance(0.2)).expect("a ceiling");
    assert_eq!(found.ceiling.bid, pounds("3100"));
    let (low, high) = found.limit_between;
    let exact = 405_410;
    assert!(low.minor() < exact && exact < high.minor(), "{low} to {high}");
    // The bid costs 4030.00, so the repair may come to 970: P = 1 − Φ(ln(970/600)/0.540866) = 0.187; at 3200, 840: 0.267.
    for (found, known) in [(found.at_bid, 0.187), (found.at_next, 0.267)] {
        let allowed = 4.0 * (known * (1.0 - known) / DRAWS as f64).sqrt() + 5e-4; // printed to three decimals
        assert!((found.value() - known).abs() < allowed, "{found:?} where {known} is known");
    }
}

/// Where all is known the simulation takes nothing from it.
#[test]
fn known_work_leaves_the_rest_to_the_penny() {
    let left = to_keep("2000", vec![expected("work", Estimate::certain(600.0).expect("a number"))]);
    for share in [0.01, 0.5, 0.99] {
        assert_eq!(left.limit(chance(share)), Ok(pounds("1400")));
    }
    // 1024.13 in pence is no float, and its nearest neighbour is a little more.
    let left_of =
        |pounds: f64| to_keep("2000", vec![expected("work", Estimate::certain(pounds).expect("a number"))]);
    assert_eq!(left_of(1024.13).limit(chance(0.5)), Ok(pounds("975.87")));
    assert_eq!(left.chance_of_loss(pounds("1400")), Ok(chance(0.001)));
    assert_eq!(left.chance_of_loss(pounds("1400.01")), Ok(chance(0.999)));
}

/// Sold for 4000 to 6000, all alike, with a commission of 15 % taxed at 20 %, a margin of 500 and work of 300: of the
/// price 0.82 is kept, so one time in ten no more than 0.82 · 4200 − 800 = 2644 is left, less 60 for a taxed photograph.
#[test]
fn to_sell_after_commission_margin_and_work() {
    let photograph =
        Extra { what: "photograph".to_owned(), amount: pounds("50"), tax: rate("20"), before_border: false };
    let selling = SellingTerms {
        currency: pound(),
        commission: rate("15"),
        tax: rate("20"),
        extras: vec![photograph],
        rounding: Rounding::HalfAwayFromZero,
    };
    let purpose = |margin| {
        let value = expected("value", Estimate::between(4000.0, 6000.0).expect("rising"));
        let selling = Some(selling.checked().expect("sound terms"));
        Purpose::ToSell(Box::new(Sale { value, selling, margin }))
    };
    let work = || vec![expected("work", Estimate::certain(300.0).expect("a number"))];
    let limit = |margin, share| {
        let left = Venture { purpose: purpose(margin), work: work(), planned: None }
            .left(DRAWS, 5)
            .expect("one currency");
        left.limit(chance(share)).expect("something").minor() as f64
    };
    // Four standard deviations of a share at 0.1, along a line of 0.82 · 2000 pounds.
    let allowed = 4.0 * (0.1 * 0.9 / DRAWS as f64).sqrt() * 164_000.0;
    assert!((limit(Margin::Sum(pounds("500")), 0.1) - 258_400.0).abs() < allowed);
    // A margin of 10 % of the price: 0.72 · 4200 − 360 = 2664.
    assert!((limit(Margin::OfPrice(rate("10")), 0.1) - 266_400.0).abs() < allowed);
}

/// Ten hours of hands as planned, at 60 the hour: the rest of a budget of 2000 is left to the penny, and in another
/// currency nothing is.
#[test]
fn planned_work_is_taken_from_the_budget() {
    let hours = ThreePoint::fixed("level the frets", Hours(10.0)).expect("hours");
    let task = Task {
        name: "level the frets".to_owned(),
        attended: hours,
        unattended: ThreePoint::fixed("level the frets", Hours(0.0)).expect("hours"),
        after: Vec::new(),
        not_before: None,
        in_one_go: false,
    };
    let tasks = Tasks::new(vec![task]).expect("one task");
    let bench = Bench::weekdays(TimeZone::UTC, time(9, 0, 0, 0), time(17, 0, 0, 0)).expect("a bench");
    let start = bench.moment(date(2024, 5, 2).at(9, 0, 0, 0)).expect("a moment");
    let plan = tasks.planned(&bench, start, Tasks::STEPS).expect("a plan");
    let forecast = tasks.forecast(&bench, start, &plan, 1000, 1).expect("enough draws");
    let cost = forecast.cost(pounds("60"), &[], 1).expect("one currency");

    let venture = |budget| {
        let purpose = Purpose::ToKeep { budget };
        Venture { purpose, work: Vec::new(), planned: Some(cost.clone()) }.left(DRAWS, 5)
    };
    let left = venture(pounds("2000")).expect("one currency");
    assert_eq!(left.limit(chance(0.05)), Ok(pounds("1400")));
    let euros = venture(Money::read("2000", euro()).expect("a sum")).expect_err("two currencies");
    assert!(euros.to_string().starts_with("planned work: 600.00 GBP stands among sums in EUR"));
}

#[test]
fn faults_say_what_and_what_to_do() {
    let dear = || vec![expected("work", Estimate::between(100.0, 900.0).expect("rising"))];
    let fault = to_keep("500", dear()).limit(chance(0.05)).expect_err("too dear");
    assert!(matches!(fault, RiskFault::NothingLeft { left, .. } if left.minor() < 0));
    assert!(
        fault
            .to_string()
            .starts_with("limit: at a chance of loss of 5 % the work and what is wanted beside it leave -")
    );

    let purpose = Purpose::ToKeep { budget: Money::read("500", euro()).expect("a sum") };
    let mixed = Venture { purpose: purpose.clone(), work: dear(), planned: None }
        .left(DRAWS, 5)
        .expect_err("two currencies");
    assert_eq!(
        mixed.to_string(),
        "work: 500.00 GBP stands among sums in EUR; turn it into EUR first, at a rate with its day and source"
    );
    let few = Venture { purpose, work: Vec::new(), planned: None }.left(10, 5).expect_err("too few");
    assert!(matches!(few, RiskFault::Simulation(_)));
    let margin = Margin::OfPrice(rate("130"));
    let value = expected("value", Estimate::certain(100.0).expect("a number"));
    let purpose = Purpose::ToSell(Box::new(Sale { value, selling: None, margin }));
    let fault =
        Venture { purpose, work: Vec::new(), planned: None }.left(DRAWS, 5).expect_err("more than all");
    assert!(matches!(fault, RiskFault::Fee(FeeFault::Rate { .. })));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// More chance of loss never lowers limit or bid, and the bid's own chance stays within what was accepted.
    #[test]
    fn more_risk_never_bids_less(
        likely in 50.0..3000.0, more in 1.1..4.0, low in 0.002..0.95, on in 0.0..0.05, seed in any::<u64>(),
    ) {
        let work = expected("work", Estimate::lognormal_from_quantiles(likely, likely * more).expect("in order"));
        let other = expected("parts", Estimate::triangular(10.0, 50.0, 400.0).expect("rising"));
        let purpose = Purpose::ToKeep { budget: pounds("20000") };
        let left = Venture { purpose, work: vec![work, other], planned: None }.left(2000, seed).expect("one currency");
        let fees = premium_25_taxed();
        let bid = |share: f64| left.ceiling(&fees, &even("10"), chance(share));
        if let (Ok(careful), Ok(bold)) = (bid(low), bid(low + on)) {
            prop_assert!(careful.ceiling.limit.minor() <= bold.ceiling.limit.minor());
            prop_assert!(careful.ceiling.bid.minor() <= bold.ceiling.bid.minor());
            prop_assert!(careful.at_bid <= careful.accepted && bold.at_bid <= bold.accepted);
            prop_assert!(careful.at_bid <= careful.at_next);
        }
    }
}
