//! Makes random schedules of fees, limits and bid steps, and counts the bids that would break their limit.
//!
//! `cargo run --release -p asfound-plan --example limits_kept`: a hundred thousand schedules from a stated seed, so that
//! the figures are the same everywhere. Each bill is added up again here, in integers of a hundred-millionth of a minor
//! unit, apart from the fractions that the library works in.
#![allow(clippy::print_stdout, reason = "figures are what it is for")]

use asfound_measure::Chance;
use asfound_plan::fees::{Extra, Premium, Steps, Tax, Terms, Tier};
use asfound_plan::money::{Currency, Money, Rate, Rounding};

/// Schedules tried.
const SCHEDULES: usize = 100_000;
/// Where the draws begin.
const SEED: u64 = 1;
/// Rates are drawn in ten-thousandths; two of them multiply into these.
const WHOLE: i128 = 100_000_000;

/// A schedule as it is drawn, in plain integers: rates in ten-thousandths, sums in minor units.
struct Drawn {
    /// Where each tier ends, but the last, and the rate of each.
    tiers: Vec<(i64, i64)>,
    marginal: bool,
    on_all: bool,
    tax: i64,
    carriage: i64,
    carriage_tax: i64,
    limit: i64,
    step: i64,
}

fn main() {
    let mut chance = Chance::from_seed(SEED);
    let pound = Currency::of("GBP").expect("known");
    let (mut bids, mut too_low, mut over, mut not_highest) = (0, 0, 0, 0);
    for _ in 0..SCHEDULES {
        let drawn = Drawn::from(&mut chance);
        let money = |minor| Money::of_minor(minor, pound).expect("small");
        let schedule = drawn.terms(pound).checked().expect("sound terms");
        let steps = Steps::even(money(drawn.step)).expect("above nothing");
        match schedule.ceiling(money(drawn.limit), &steps) {
            Ok(ceiling) => {
                bids += 1;
                over += usize::from(!drawn.fits(ceiling.bid.minor()));
                not_highest += usize::from(drawn.fits(ceiling.next_bid.minor()));
            }
            Err(_) => {
                too_low += 1;
                not_highest += usize::from(drawn.fits(drawn.step));
            }
        }
    }
    println!("{SCHEDULES} schedules: {bids} bids, {too_low} limits below the fees");
    println!("bids over their limit: {over}");
    println!("bids that could have been a step higher: {not_highest}");
}

impl Drawn {
    fn from(chance: &mut Chance) -> Self {
        let mut up_to = |most: f64| (chance.evenly() * most) as i64;
        let mut end = 0;
        let tiers = (0..up_to(4.0) + 1)
            .map(|_| {
                end += 1 + up_to(1_000_000.0);
                (end, up_to(4000.0))
            })
            .collect();
        Self {
            tiers,
            marginal: up_to(2.0) == 0,
            on_all: up_to(2.0) == 0,
            tax: up_to(3000.0),
            carriage: up_to(30_000.0),
            carriage_tax: up_to(3000.0),
            limit: up_to(5_000_000.0),
            step: 1 + up_to(20_000.0),
        }
    }

    fn terms(&self, currency: Currency) -> Terms {
        let rate = |parts| Rate::parts(parts, 10_000).expect("not of nothing");
        let money = |minor| Money::of_minor(minor, currency).expect("small");
        let last = self.tiers.len() - 1;
        let tier = |(number, (end, parts)): (usize, &(i64, i64))| Tier {
            up_to: (number < last).then(|| money(*end)),
            rate: rate(*parts),
        };
        let tiers = self.tiers.iter().enumerate().map(tier).collect();
        let premium = if self.marginal { Premium::Tiered(tiers) } else { Premium::WholeBand(tiers) };
        let mut terms = Terms::new(currency, premium);
        terms.tax =
            Some(if self.on_all { Tax::OnAll(rate(self.tax)) } else { Tax::OnPremium(rate(self.tax)) });
        terms.extras = vec![Extra {
            what: "carriage".to_owned(),
            amount: money(self.carriage),
            tax: rate(self.carriage_tax),
            before_border: false,
        }];
        terms.rounding = Rounding::HalfAwayFromZero;
        terms
    }

    /// Whether the bill at this bid keeps the limit, line by line as printed and before rounding.
    fn fits(&self, bid: i64) -> bool {
        let ten_thousand = 10_000;
        let bid = i128::from(bid);
        let premium = self.premium(bid); // in ten-thousandths
        let base = if self.on_all { bid * ten_thousand + premium } else { premium };
        let lines = [
            bid * WHOLE,
            premium * ten_thousand,
            base * i128::from(self.tax),
            i128::from(self.carriage) * WHOLE,
            i128::from(self.carriage * self.carriage_tax) * ten_thousand,
        ];
        let printed: i128 = lines.iter().map(|line| (line + WHOLE / 2) / WHOLE).sum();
        let exact: i128 = lines.iter().sum();
        printed <= i128::from(self.limit) && exact <= i128::from(self.limit) * WHOLE
    }

    fn premium(&self, bid: i128) -> i128 {
        let (mut from, mut sum) = (0, 0);
        for (number, (end, parts)) in self.tiers.iter().enumerate() {
            let end = if number + 1 == self.tiers.len() { i128::MAX } else { i128::from(*end) };
            let parts = i128::from(*parts);
            if self.marginal {
                sum += (bid.min(end) - from).max(0) * parts;
            } else if bid > from && bid <= end {
                sum = bid * parts;
            }
            from = end;
        }
        sum
    }
}
