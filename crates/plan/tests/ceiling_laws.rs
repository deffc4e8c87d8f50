//! What holds for every schedule of fees, limit and bid step.

use asfound_plan::fees::{Extra, Fees, Import, Online, Premium, Steps, Tax, Terms, Tier};
use asfound_plan::money::{Currency, LARGEST, Money, Rate, Rounding};
use proptest::prelude::*;

fn pound() -> Currency {
    Currency::of("GBP").expect("known")
}

fn pence(minor: i64) -> Money {
    Money::of_minor(minor, pound()).expect("small")
}

/// From 0 to 60 %, in thousandths of a per cent.
fn any_rate() -> impl Strategy<Value = Rate> {
    (0_i64..60_000).prop_map(|thousandths| Rate::parts(thousandths, 100_000).expect("not of nothing"))
}

fn any_tiers() -> impl Strategy<Value = Vec<Tier>> {
    (prop::collection::vec((1_i64..600_000, any_rate()), 0..4), any_rate()).prop_map(|(rows, last)| {
        let mut end = 0;
        let tier = |(width, rate)| {
            end += width;
            Tier { up_to: Some(pence(end)), rate }
        };
        let mut tiers: Vec<Tier> = rows.into_iter().map(tier).collect();
        tiers.push(Tier { up_to: None, rate: last });
        tiers
    })
}

fn any_premium() -> impl Strategy<Value = Premium> {
    prop_oneof![
        any_rate().prop_map(Premium::Flat),
        any_tiers().prop_map(Premium::Tiered),
        any_tiers().prop_map(Premium::WholeBand),
    ]
}

fn any_tax() -> impl Strategy<Value = Tax> {
    prop_oneof![
        Just(Tax::None),
        any_rate().prop_map(Tax::OnPremium),
        any_rate().prop_map(Tax::OnAll),
        any_rate().prop_map(Tax::InPremium),
    ]
}

fn any_extra() -> impl Strategy<Value = Extra> {
    (0_i64..50_000, any_rate(), any::<bool>()).prop_map(|(minor, tax, before_border)| Extra {
        what: "carriage".to_owned(),
        amount: pence(minor),
        tax,
        before_border,
    })
}

fn any_schedule() -> impl Strategy<Value = Fees> {
    let rounding = prop_oneof![
        Just(Rounding::HalfEven),
        Just(Rounding::HalfAwayFromZero),
        Just(Rounding::TowardZero),
        Just(Rounding::Floor),
    ];
    let online = prop::option::of((any_rate(), any_rate()).prop_map(|(rate, tax)| Online { rate, tax }));
    let import = prop::option::of((any_rate(), any_rate()).prop_map(|(duty, tax)| Import { duty, tax }));
    let extras = prop::collection::vec(any_extra(), 0..4);
    (any_premium(), any_tax(), online, extras, import, rounding).prop_map(
        |(premium, tax, online, extras, import, rounding)| {
            let terms =
                Terms { currency: pound(), premium, tax: Some(tax), online, extras, import, rounding };
            terms.checked().expect("sound terms")
        },
    )
}

/// From which price on, and by how much.
fn any_rows(least_step: i64) -> impl Strategy<Value = Vec<(i64, i64)>> {
    prop::collection::vec((1_i64..100_000, least_step..20_000), 1..4).prop_map(|rows| {
        let mut from = 0;
        let row = |(width, step)| {
            let row = (from, step);
            from += width;
            row
        };
        rows.into_iter().map(row).collect()
    })
}

fn steps_of(rows: &[(i64, i64)]) -> Steps {
    let rows: Vec<_> = rows.iter().map(|(from, step)| (pence(*from), pence(*step))).collect();
    Steps::rising(&rows).expect("rising")
}

fn any_steps() -> impl Strategy<Value = Steps> {
    any_rows(1).prop_map(|rows| steps_of(&rows))
}

/// Every bid above 0 that a room takes, up to a price, written out row by row.
fn bids_up_to(rows: &[(i64, i64)], price: i64) -> Vec<i64> {
    let mut bids = Vec::new();
    for (number, (from, step)) in rows.iter().enumerate() {
        let end = rows.get(number + 1).map_or(price + 1, |next| next.0);
        bids.extend((0..).map(|count| from + count * step).take_while(|bid| *bid < end && *bid <= price));
    }
    bids.retain(|bid| *bid > 0);
    bids
}

/// Rates, sums and tiers as a slip of the hand may leave them.
fn any_terms() -> impl Strategy<Value = Terms> {
    let rate =
        || (-20_000_i64..150_000).prop_map(|parts| Rate::parts(parts, 100_000).expect("not of nothing"));
    let code = prop_oneof![9 => Just("GBP"), 1 => Just("EUR")];
    let sum = || {
        (-1000_i64..100_000, code.clone()).prop_map(|(minor, code)| {
            Money::of_minor(minor, Currency::of(code).expect("known")).expect("small")
        })
    };
    let tier = (prop::option::weighted(0.8, sum()), rate()).prop_map(|(up_to, rate)| Tier { up_to, rate });
    let tiers = || prop::collection::vec(tier.clone(), 0..4);
    let premium = prop_oneof![
        rate().prop_map(Premium::Flat),
        tiers().prop_map(Premium::Tiered),
        tiers().prop_map(Premium::WholeBand),
    ];
    let tax = prop::option::of(rate().prop_map(Tax::OnAll));
    let extra = (sum(), rate()).prop_map(|(amount, tax)| Extra {
        what: "carriage".to_owned(),
        amount,
        tax,
        before_border: true,
    });
    (premium, tax, prop::option::of(extra)).prop_map(|(premium, tax, extra)| Terms {
        tax,
        extras: extra.into_iter().collect(),
        ..Terms::new(pound(), premium)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(250))]

    /// The bill at the ceiling is within the limit, in both reckonings, and the bill at the next bid is not.
    #[test]
    fn a_bid_never_exceeds_the_limit(schedule in any_schedule(), steps in any_steps(), limit in 0_i64..10_000_000) {
        let limit = pence(limit);
        let Ok(ceiling) = schedule.ceiling(limit, &steps) else { return Ok(()) };
        let bill = schedule.bill(ceiling.bid).expect("a bill");
        prop_assert!(bill.total.minor() <= limit.minor() && bill.exact <= limit.into());
        prop_assert_eq!(&bill, &ceiling.bill);
        let next = schedule.bill(ceiling.next_bid).expect("a bill");
        prop_assert!(next.total.minor() > limit.minor() || next.exact > limit.into());
        prop_assert!(ceiling.bid.minor() > 0 && ceiling.bid.minor() < ceiling.next_bid.minor());
        prop_assert!(ceiling.exact >= ceiling.bid.into());
    }

    /// Tried bid by bid from the bottom: the same ceiling, the same gaps.
    #[test]
    fn every_bid_tried_says_the_same(schedule in any_schedule(), rows in any_rows(10_000), limit in 0_i64..1_000_000) {
        let limit = pence(limit);
        let steps = steps_of(&rows);
        let fits = |bid: i64| {
            let bill = schedule.bill(pence(bid)).expect("a bill");
            bill.total.minor() <= limit.minor() && bill.exact <= limit.into()
        };
        let bids = bids_up_to(&rows, limit.minor());
        let within: Vec<bool> = bids.iter().map(|bid| fits(*bid)).collect();
        let found = schedule.ceiling(limit, &steps);
        match within.iter().rposition(|fits| *fits) {
            None => prop_assert!(found.is_err()),
            Some(highest) => {
                let found = found.expect("a bid fits");
                prop_assert_eq!(found.bid.minor(), bids[highest]);
                // No step and no row is wider than this.
                let beyond = bids_up_to(&rows, bids[highest] + 100_000);
                prop_assert_eq!(Some(&found.next_bid.minor()), beyond.iter().find(|bid| **bid > bids[highest]));
                let in_gap = |bid: i64| found.gaps.iter().any(|gap| (gap.first.minor()..=gap.last.minor()).contains(&bid));
                for (bid, fits) in bids.iter().zip(&within).take(highest) {
                    prop_assert_eq!(!fits, in_gap(*bid), "at {}", bid);
                }
                for gap in &found.gaps {
                    prop_assert!(gap.safe_to.minor() == 0 || fits(gap.safe_to.minor()));
                }
            }
        }
    }

    /// Whatever the terms and the limit, there is a ceiling or one sentence that names a place and a remedy.
    #[test]
    fn slips_are_answered_in_one_sentence(terms in any_terms(), limit in -1000_i64..=LARGEST, step in 1_i64..=LARGEST) {
        let steps = Steps::even(pence(step)).expect("a step");
        if let Err(fault) = terms.checked().and_then(|fees| fees.ceiling(pence(limit), &steps)) {
            let sentence = fault.to_string();
            prop_assert!(!sentence.contains('\n') && !sentence.contains(". "), "{}", sentence);
            prop_assert!(sentence.contains("; "), "no remedy: {}", sentence);
        }
    }

    /// A larger limit never lowers the bid.
    #[test]
    fn more_money_never_bids_less(
        schedule in any_schedule(), steps in any_steps(), limit in 0_i64..10_000_000, more in 0_i64..1_000_000,
    ) {
        let bid = |limit: i64| schedule.ceiling(pence(limit), &steps).map_or(0, |ceiling| ceiling.bid.minor());
        prop_assert!(bid(limit + more) >= bid(limit));
    }

    /// The bill adds up, and each line is off by less than a unit from what it is exactly.
    #[test]
    fn a_bill_adds_up(schedule in any_schedule(), hammer in 0_i64..10_000_000) {
        let bill = schedule.bill(pence(hammer)).expect("a bill");
        prop_assert_eq!(bill.lines.iter().map(|line| line.printed.minor()).sum::<i64>(), bill.total.minor());
        for line in &bill.lines {
            let unit = pence(1);
            let (below, above) = (line.printed.less(unit), line.printed.plus(unit));
            prop_assert!(line.exact > below.expect("small").into() && line.exact < above.expect("small").into());
        }
    }
}
