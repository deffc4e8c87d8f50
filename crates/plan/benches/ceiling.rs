//! How long ten thousand ceilings take, and one under risk from ten thousand draws.
//!
//! `cargo bench -p asfound-plan --bench ceiling`

use asfound_plan::estimate::Estimate;
use asfound_plan::fees::{Extra, Fees, Online, Premium, Steps, Tax, Terms, Tier};
use asfound_plan::money::{Currency, Money, Rate};
use asfound_plan::risk::{Expected, Purpose, Venture};
use asfound_weigh::Probability;

fn main() {
    divan::main();
}

fn pound() -> Currency {
    Currency::of("GBP").expect("known")
}

fn minor(minor: i64) -> Money {
    Money::of_minor(minor, pound()).expect("small")
}

/// Three tiers, taxed; a taxed surcharge for bidding from afar; taxed carriage.
fn fees() -> Fees {
    let rate = |percent: &str| Rate::percent(percent).expect("a rate");
    let tier = |end: Option<i64>, percent: &str| Tier { up_to: end.map(minor), rate: rate(percent) };
    let tiers = vec![tier(Some(1_000_000), "26"), tier(Some(5_000_000), "20"), tier(None, "14.5")];
    let mut terms = Terms::new(pound(), Premium::Tiered(tiers));
    terms.tax = Some(Tax::OnPremium(rate("20")));
    terms.online = Some(Online { rate: rate("4.95"), tax: rate("20") });
    let carriage =
        Extra { what: "carriage".to_owned(), amount: minor(18_000), tax: rate("20"), before_border: false };
    terms.extras.push(carriage);
    terms.checked().expect("sound terms")
}

/// A ceiling, its bill and the bill at the next bid, for ten thousand limits.
#[divan::bench(sample_count = 10)]
fn ten_thousand_ceilings(bencher: divan::Bencher<'_, '_>) {
    let (fees, steps) = (fees(), Steps::even(minor(5000)).expect("a step"));
    bencher.bench(|| {
        (1..=10_000).map(|number| fees.ceiling(minor(100_000 + number * 997), &steps)).collect::<Vec<_>>()
    });
}

/// The ceiling under one chance of loss: twelve pieces of work of three points each, ten thousand draws.
#[divan::bench]
fn under_risk_from_ten_thousand_draws(bencher: divan::Bencher<'_, '_>) {
    let (fees, steps) = (fees(), Steps::even(minor(5000)).expect("a step"));
    let points = Estimate::pert(20.0, 40.0, 120.0).expect("rising");
    let venture = Venture {
        purpose: Purpose::ToKeep { budget: minor(500_000) },
        work: vec![Expected::new("work", pound(), points); 12],
        planned: None,
    };
    let accepted = Probability::new(0.1).expect("a share");
    bencher.bench(|| {
        let left = venture.left(10_000, 1).expect("one currency");
        left.ceiling(&fees, &steps, accepted).expect("something is left")
    });
}
