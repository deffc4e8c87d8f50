//! Laws of the worth of a check, and the same figures by listing every joint state.

use asfound_plan::money::{Currency, Money};
use asfound_plan::viewing::{Check, Price, Shown, State, Unknown, Viewing};
use proptest::prelude::*;

fn minor(minor: i64) -> Money {
    Money::of_minor(minor, Currency::of("GBP").expect("known")).expect("small")
}

/// Shares that add up to 1.
fn shares(count: usize) -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(1_u32..1000, count).prop_map(|weights| {
        let sum: f64 = weights.iter().map(|weight| f64::from(*weight)).sum();
        weights.iter().map(|weight| f64::from(*weight) / sum).collect()
    })
}

fn unknown() -> impl Strategy<Value = Unknown> {
    (2_usize..=3).prop_flat_map(shares).prop_flat_map(|shares| {
        prop::collection::vec((0.0..0.7, 0_i64..30_000), shares.len()).prop_map(move |effects| {
            let states = shares.iter().zip(effects).map(|(probability, (share_lost, cost))| State {
                probability: *probability,
                share_lost,
                cost: minor(cost),
            });
            Unknown::new(states.collect()).expect("an unknown")
        })
    })
}

fn check(unknowns: &[Unknown]) -> impl Strategy<Value = Check> + use<> {
    let sizes: Vec<usize> = unknowns.iter().map(|unknown| unknown.states().len()).collect();
    let places: Vec<usize> = (0..sizes.len()).collect();
    let about = prop::sample::subsequence(places, 1..=2.min(sizes.len())).prop_shuffle();
    (about, 2_usize..=3, 1_u32..40).prop_flat_map(move |(about, outcomes, minutes)| {
        let rows: usize = about.iter().map(|at| sizes[*at]).product();
        prop::collection::vec(shares(outcomes), rows).prop_map(move |table| {
            Check::new(about.clone(), f64::from(minutes) / 4.0, table).expect("a check")
        })
    })
}

fn price() -> impl Strategy<Value = Price> {
    (10_000_i64..250_000, prop_oneof![Just(0_i64), 1_i64..120_000])
        .prop_map(|(low, apart)| Price::between(minor(low), minor(low + apart)).expect("a range"))
}

fn viewing() -> impl Strategy<Value = Viewing> {
    prop::collection::vec(unknown(), 1..=4)
        .prop_flat_map(|unknowns| {
            let checks = prop::collection::vec(check(&unknowns), 1..=4);
            (Just(unknowns), checks, price(), 100_000_i64..250_000)
        })
        .prop_map(|(unknowns, checks, price, sound)| {
            Viewing::new(minor(sound), price, unknowns, checks).expect("a viewing")
        })
}

/// Some answers: of each check maybe one outcome.
fn answers(viewing: &Viewing) -> impl Strategy<Value = Vec<(usize, Shown)>> + use<> {
    let outcomes: Vec<usize> = viewing.checks().iter().map(Check::outcomes).collect();
    let one = move |at: usize, pick: usize| match pick % 4 {
        0 => Some((at, Shown::Outcome(pick / 4 % outcomes[at]))),
        1 => Some((at, Shown::CannotTell)),
        _ => None,
    };
    prop::collection::vec(0_usize..1000, viewing.checks().len())
        .prop_map(move |picks| picks.iter().enumerate().filter_map(|(at, pick)| one(at, *pick)).collect())
}

fn viewed() -> impl Strategy<Value = (Viewing, Vec<(usize, Shown)>)> {
    viewing().prop_flat_map(|viewing| {
        let answers = answers(&viewing);
        (Just(viewing), answers)
    })
}

/// Every joint state of all unknowns: its states, its probability after the answers (not made to sum to 1), its worth.
fn listed(viewing: &Viewing, answers: &[(usize, Shown)]) -> Vec<(Vec<usize>, f64, f64)> {
    let mut all: Vec<(Vec<usize>, f64, f64, f64)> = vec![(vec![], 1.0, 1.0, 0.0)];
    for unknown in viewing.unknowns() {
        let further = |(states, probability, kept, cost): (Vec<usize>, f64, f64, f64)| {
            let each = unknown.states().iter().enumerate().map(move |(number, state)| {
                let mut states = states.clone();
                states.push(number);
                let cost = cost + state.cost.minor() as f64;
                (states, probability * state.probability, kept * (1.0 - state.share_lost), cost)
            });
            each.collect::<Vec<_>>()
        };
        all = all.into_iter().flat_map(further).collect();
    }
    let shown = |states: &[usize]| -> f64 {
        let each = answers.iter().map(|(at, shown)| match shown {
            Shown::Outcome(outcome) => showing(viewing, *at, states)[*outcome],
            Shown::CannotTell => 1.0,
        });
        each.product()
    };
    let sound = viewing.sound().minor() as f64;
    all.into_iter()
        .map(|(states, probability, kept, cost)| {
            let probability = probability * shown(&states);
            (states, probability, sound * kept - cost)
        })
        .collect()
}

fn showing<'v>(viewing: &'v Viewing, check: usize, states: &[usize]) -> &'v [f64] {
    let check = &viewing.checks()[check];
    let row =
        check.about().iter().fold(0, |row, at| row * viewing.unknowns()[*at].states().len() + states[*at]);
    &check.table()[row]
}

/// `E[max(0, worth − price)]` over a price that is equally likely anywhere in its range, written out by cases.
fn gain(price: Price, worth: f64) -> f64 {
    let [low, high] = price.sums().map(|sum| sum.minor() as f64);
    if worth <= low {
        0.0
    } else if worth >= high {
        worth - (low + high) / 2.0
    } else {
        (worth - low) * (worth - low) / (2.0 * (high - low))
    }
}

/// The worth of a check as the difference of two gains, from the full list.
fn worth_by_listing(viewing: &Viewing, answers: &[(usize, Shown)], check: usize) -> f64 {
    let all = listed(viewing, answers);
    let total: f64 = all.iter().map(|(_, probability, _)| probability).sum();
    let mean: f64 = all.iter().map(|(_, probability, worth)| probability * worth).sum::<f64>() / total;
    let mut after = 0.0;
    for outcome in 0..viewing.checks()[check].outcomes() {
        let shares = all.iter().map(|(states, probability, worth)| {
            (probability / total * showing(viewing, check, states)[outcome], worth)
        });
        let (probability, sum) =
            shares.fold((0.0, 0.0), |(all, sum), (share, worth)| (all + share, sum + share * worth));
        after += probability * gain(viewing.price(), sum / probability);
    }
    after - gain(viewing.price(), mean)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn every_figure_is_that_of_the_full_list((viewing, answers) in viewed()) {
        let standing = viewing.after(&answers).expect("no share here is 0");
        let all = listed(&viewing, &answers);
        let total: f64 = all.iter().map(|(_, probability, _)| probability).sum();
        let mean: f64 = all.iter().map(|(_, probability, worth)| probability * worth).sum::<f64>() / total;
        // Sums are below 2.5 · 10^5 minor units, of which a double keeps 10^-11: 10^-9 is relative to one pound.
        let near = |read: f64, wanted: f64| (read - wanted).abs() < 1e-9 * 100.0;
        prop_assert!(near(standing.expected_worth().minor, mean));
        prop_assert!(near(standing.gain().minor, gain(viewing.price(), mean)));
        for check in 0..viewing.checks().len() {
            if answers.iter().any(|(made, _)| *made == check) {
                prop_assert_eq!(standing.worth_of(check).minor, 0.0);
            } else {
                let wanted = worth_by_listing(&viewing, &answers, check);
                prop_assert!(near(standing.worth_of(check).minor, wanted), "{wanted}");
            }
        }
        for (at, unknown) in viewing.unknowns().iter().enumerate() {
            for number in 0..unknown.states().len() {
                let there = all.iter().filter(|(states, ..)| states[at] == number);
                let share = there.map(|(_, probability, _)| probability).sum::<f64>() / total;
                prop_assert!((standing.probabilities(at)[number] - share).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn no_check_is_worth_less_than_nothing_or_more_than_knowing((viewing, answers) in viewed()) {
        let standing = viewing.after(&answers).expect("no share here is 0");
        for (at, check) in viewing.checks().iter().enumerate() {
            let worth = standing.worth_of(at).minor;
            prop_assert!(worth >= 0.0);
            prop_assert!(worth <= standing.worth_of_knowing(check.about()).minor + 1e-7);
        }
        let every: Vec<usize> = (0..viewing.unknowns().len()).collect();
        for at in &every {
            let all = standing.worth_of_knowing(&every).minor;
            prop_assert!(standing.worth_of_knowing(&[*at]).minor <= all + 1e-7);
        }
    }

    #[test]
    fn what_cannot_change_the_decision_is_worth_nothing((viewing, answers) in viewed()) {
        let standing = viewing.after(&answers).expect("no share here is 0");
        let [low, high] = viewing.price().sums().map(|sum| sum.minor() as f64);
        let before = standing.expected_worth().minor;
        for at in 0..viewing.checks().len() {
            let after: Vec<f64> = standing.outcomes(at).iter().map(|seen| seen.worth.minor).collect();
            let all_above = after.iter().chain([&before]).all(|worth| *worth > high);
            let all_below = after.iter().chain([&before]).all(|worth| *worth < low);
            if all_above || all_below {
                prop_assert_eq!(standing.worth_of(at).minor, 0.0);
            }
        }
    }

    #[test]
    fn a_check_that_shows_the_same_in_every_state_is_worth_nothing(viewing in viewing(), row in shares(3)) {
        let states = viewing.unknowns()[0].states().len();
        let blind = Check::new(vec![0], 1.0, vec![row; states]).expect("a check");
        let unknowns = viewing.unknowns().to_vec();
        let blind = Viewing::new(viewing.sound(), viewing.price(), unknowns, vec![blind]).expect("a viewing");
        let worth = blind.after(&[]).expect("no answers").worth_of(0).minor;
        // Rounding may move the expected worth by its last digits, and over a price that lies just there.
        prop_assert!(worth < 1e-9, "{}", worth);
    }

    #[test]
    fn the_order_of_answers_does_not_matter((viewing, answers) in viewed(), turn in 0_usize..4) {
        let mut turned = answers.clone();
        turned.rotate_left(turn.min(answers.len()));
        turned.reverse();
        let (one, other) = (viewing.after(&answers).expect("so"), viewing.after(&turned).expect("so"));
        prop_assert_eq!(one.expected_worth(), other.expected_worth());
        prop_assert_eq!(one.ranked(), other.ranked());
    }

    #[test]
    fn the_ranking_falls_and_holds_what_is_open((viewing, answers) in viewed()) {
        let standing = viewing.after(&answers).expect("no share here is 0");
        let ranked = standing.ranked();
        prop_assert!(ranked.windows(2).all(|pair| pair[0].per_minute.minor >= pair[1].per_minute.minor));
        prop_assert_eq!(ranked.len() + answers.len(), viewing.checks().len());
        for one in &ranked {
            let worth = standing.worth_of(one.check);
            prop_assert_eq!(one.worth, worth);
            // No price makes a check worth more than the one that lies just at the expected worth.
            prop_assert!(one.on_the_edge.minor >= worth.minor - 1e-7);
        }
    }
}
