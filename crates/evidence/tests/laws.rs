//! Laws that hold whatever the marks are. Sums of some hundred numbers between 0 and 1, so 1e-9 is allowed unless said
//! otherwise.

mod common;

use asfound_evidence::{
    Dated, Harness, Instrument, Lag, MadeIn, Month, MonthShares, MonthlyEvidence, PartEvidence, Span,
};
use common::{instrument, makings, month, part, years};
use proptest::collection::vec;
use proptest::prelude::*;

/// A part made in one to four months of 1955 to 1975, with some lag, prior and signs.
fn any_part() -> impl Strategy<Value = PartEvidence> {
    let first = month(1955, 1);
    (vec((0..240_i32, 0.01..1.0_f64), 1..4), 1.0..20.0_f64, 0.02..0.8_f64, 0.05..1.0_f64).prop_map(
        move |(months, mean, replaced, if_replaced)| {
            let made = MadeIn::of(makings(), months.into_iter().map(|(at, weight)| (first + at, weight)));
            let lag = Lag::geometric(mean, 119).expect("a lag");
            PartEvidence { if_replaced, ..part(made, &lag, replaced) }
        },
    )
}

fn any_parts() -> impl Strategy<Value = Vec<PartEvidence>> {
    vec(any_part(), 1..6)
}

fn weigh(instrument: &Instrument) -> Dated {
    instrument.weigh().expect("it can be weighed")
}

fn grid() -> Span {
    years(1955, 1979)
}

fn same_months(one: &Dated, other: &Dated) -> bool {
    one.assembled()
        .months()
        .zip(other.assembled().months())
        .all(|((_, one), (_, other))| (one - other).abs() < 1e-9)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn shares_come_to_one(parts in any_parts()) {
        let dated = weigh(&instrument(grid(), parts.clone()));
        prop_assert!((dated.assembled().months().map(|(_, share)| share).sum::<f64>() - 1.0).abs() < 1e-9);
        for (place, found) in parts.iter().enumerate() {
            let part = dated.part(place);
            prop_assert!((part.made.months().map(|(_, share)| share).sum::<f64>() - 1.0).abs() < 1e-9);
            // It was made in a month its marks allow.
            let allowed = |(month, share): (Month, f64)| share == 0.0 || found.made_in.at(month) > 0.0;
            prop_assert!(part.made.months().all(allowed));
        }
    }

    #[test]
    fn the_order_of_the_parts_does_not_matter(parts in any_parts(), turn in 0..5_usize) {
        let mut turned = parts.clone();
        let turn = turn % parts.len();
        turned.rotate_left(turn);
        let (dated, other) = (weigh(&instrument(grid(), parts.clone())), weigh(&instrument(grid(), turned)));
        prop_assert!(same_months(&dated, &other));
        for place in 0..parts.len() {
            let other = other.part((place + parts.len() - turn) % parts.len());
            prop_assert!((dated.part(place).likelihood_ratio / other.likelihood_ratio - 1.0).abs() < 1e-9);
        }
    }

    /// Doubt mixes a code with marks that say nothing, whose ratio is 1.
    #[test]
    fn more_doubt_in_a_code_brings_its_ratio_nearer_to_one(parts in any_parts(), doubts in vec(0.0..0.9_f64, 2)) {
        let mut doubts = doubts;
        doubts.sort_by(f64::total_cmp);
        let ratio = |doubt: f64| {
            let mut parts = parts.clone();
            parts[0] = PartEvidence { if_replaced: 1.0, made_in: parts[0].made_in.doubted(doubt), ..parts[0].clone() };
            libm::log(weigh(&instrument(grid(), parts)).part(0).likelihood_ratio)
        };
        let (sure, less, least) = (ratio(0.0), ratio(doubts[0]), ratio(doubts[1]));
        // Marks before 1955 have no weight either way, which cuts the oldest stock: a thousandth covers it.
        prop_assert!(least.abs() <= less.abs() + 1e-3 && less.abs() <= sure.abs() + 1e-3, "{sure} {less} {least}");
    }

    #[test]
    fn the_more_are_replaced_the_less_is_original_and_the_ratio_stays(parts in any_parts(), share in 0.02..0.9_f64) {
        let mut other = parts.clone();
        other[0].replaced = share;
        let (dated, other) = (weigh(&instrument(grid(), parts.clone())), weigh(&instrument(grid(), other)));
        let (before, after) = (dated.part(0), other.part(0));
        prop_assert!((before.likelihood_ratio / after.likelihood_ratio - 1.0).abs() < 1e-8);
        let (more, less) = if share > parts[0].replaced { (before, after) } else { (after, before) };
        // The floor of what can be shown makes some of them alike.
        prop_assert!(less.original <= more.original);
    }

    /// Posterior odds are prior odds times the ratio worked out with the part left out.
    #[test]
    fn the_ratio_is_that_of_the_months_without_the_part(parts in any_parts()) {
        let dated = weigh(&instrument(grid(), parts.clone()));
        let without = dated.without(0);
        // The part in a single month of assembly: its own `O / R`, and its `M` from the normaliser.
        let (mut original, mut replaced) = (0.0, 0.0);
        for (month, share) in without.months().filter(|(_, share)| *share > 0.0) {
            let alone = instrument(Span { first: month, last: month }, vec![parts[0].clone()]);
            let Ok(alone) = alone.weigh() else { continue };
            let mixed = libm::exp(alone.log_normaliser());
            let odds = alone.part(0).likelihood_ratio;
            let rho = parts[0].replaced;
            let here = mixed / ((1.0 - rho) * odds + rho);
            original += share * if odds.is_finite() { odds * here } else { mixed / (1.0 - rho) };
            replaced += share * here;
        }
        prop_assert!((dated.part(0).likelihood_ratio / (original / replaced) - 1.0).abs() < 1e-7);
    }

    #[test]
    fn a_part_that_is_hardly_ever_replaced_leaves_its_lag(at in 0..240_i32, mean in 1.0..20.0_f64) {
        let made = month(1956, 1) + at;
        let lag = Lag::geometric(mean, 119).expect("a lag");
        let dated = weigh(&instrument(grid(), vec![part(MadeIn::exactly(makings(), made), &lag, 1e-12)]));
        let within: f64 = grid().months().filter(|month| *month >= made).map(|month| lag.at((month - made) as usize)).sum();
        for (month, share) in dated.assembled().months() {
            let lag = usize::try_from(month - made).map_or(0.0, |waited| lag.at(waited));
            prop_assert!((share - lag / within).abs() < 1e-6);
        }
    }

    /// Everything a year later, and nothing else changes.
    #[test]
    fn a_year_later_is_a_year_later(parts in any_parts()) {
        let now = instrument(grid(), parts);
        let mut later = now.clone();
        later.assembly = Span { first: now.assembly.first + 12, last: now.assembly.last + 12 };
        later.inspected = now.inspected + 12;
        for part in &mut later.parts {
            let span = Span { first: makings().first + 12, last: makings().last + 12 };
            let months: Vec<_> = makings().months().map(|month| (month + 12, part.made_in.at(month))).collect();
            part.made_in = MadeIn::of(span, months);
        }
        let (now, later) = (weigh(&now), weigh(&later));
        prop_assert!(same_months(&now, &later));
        prop_assert_eq!(now.assembled().most_probable() + 12, later.assembled().most_probable());
        prop_assert!((now.log_normaliser() - later.log_normaliser()).abs() < 1e-9);
    }

    /// One event that takes the only part with it is that part's own replacement.
    #[test]
    fn a_harness_of_one_part_is_that_part(parts in any_parts()) {
        let alone = weigh(&instrument(grid(), parts.clone()));
        let mut linked = instrument(grid(), parts.clone());
        linked.harnesses = vec![Harness { members: vec![0], replaced_together: parts[0].replaced }];
        linked.parts[0].replaced = 0.0;
        let linked = weigh(&linked);
        prop_assert!(same_months(&alone, &linked));
        prop_assert!((alone.part(0).likelihood_ratio / linked.part(0).likelihood_ratio - 1.0).abs() < 1e-9);
        prop_assert!((linked.harness(0).likelihood_ratio / linked.part(0).likelihood_ratio - 1.0).abs() < 1e-9);
        prop_assert!((alone.replaced_within(0, 36).value() - linked.replaced_within(0, 36).value()).abs() < 1e-9);
        for ((_, alone), (_, linked)) in alone.part(0).made.months().zip(linked.part(0).made.months()) {
            prop_assert!((alone - linked).abs() < 1e-9);
        }
    }

    /// Signs alone say what they say, and nothing of the months.
    #[test]
    fn signs_on_a_part_without_a_code_date_nothing(parts in any_parts(), if_replaced in 0.01..1.0_f64) {
        let dated = weigh(&instrument(grid(), parts.clone()));
        let lag = Lag::geometric(6.0, 119).expect("a lag");
        let mut more = parts.clone();
        more.push(PartEvidence { if_replaced, ..part(MadeIn::nothing_known(makings()), &lag, 0.2) });
        let more = weigh(&instrument(grid(), more));
        prop_assert!(same_months(&dated, &more));
        prop_assert!((more.part(parts.len()).likelihood_ratio * if_replaced - 1.0).abs() < 1e-9);
    }

    /// The most probable months hold what is asked, and one month fewer would not.
    #[test]
    fn the_highest_months_are_as_few_as_can_be(parts in any_parts(), share in 0.05..0.99_f64) {
        let dated = weigh(&instrument(grid(), parts));
        let months = dated.assembled();
        let highest = months.highest(share);
        let mut held: Vec<f64> = highest.iter().flat_map(|run| run.months()).map(|month| months.at(month)).collect();
        held.sort_by(f64::total_cmp);
        prop_assert!(held.iter().sum::<f64>() >= share - 1e-9);
        prop_assert!(held[1..].iter().sum::<f64>() < share + 1e-9);
        prop_assert!(highest.windows(2).all(|pair| pair[0].last + 1 < pair[1].first));
        let [quarter, half, three_quarters] = months.quartiles();
        prop_assert!(quarter <= half && half <= three_quarters);
    }

    #[test]
    fn a_repair_of_the_period_grows_with_the_period(parts in any_parts()) {
        let dated = weigh(&instrument(grid(), parts));
        let within = [0, 12, 60, 240, 2000].map(|months| dated.replaced_within(0, months).value());
        prop_assert!(within.windows(2).all(|pair| pair[0] <= pair[1] + 1e-9), "{within:?}");
        prop_assert!(within[0] == 0.001 && within[4] == 0.999);
    }
}

/// Any share at all, most of them such as can be weighed.
fn any_share() -> impl Strategy<Value = f64> {
    prop_oneof![6 => 0.01..0.99_f64, 1 => Just(0.0), 1 => Just(1.0), 1 => Just(f64::NAN), 1 => -1.0..2.0_f64]
}

fn any_month() -> impl Strategy<Value = Month> {
    (1880..2060_i16, 1..13_u8).prop_map(|(year, number)| month(year, number))
}

fn anything_told() -> impl Strategy<Value = MonthlyEvidence> {
    (0..4, any_month(), any_month(), any_share()).prop_map(|(kind, from, to, doubt)| match kind {
        0 => MonthlyEvidence::not_before_ramp(from, to),
        1 => MonthlyEvidence::not_after_ramp(from, to),
        2 => MonthlyEvidence::document(from, doubt),
        _ => MonthlyEvidence::interval(from, to, doubt),
    })
}

prop_compose! {
    /// Instruments as a hand may fill them in, possible or not.
    fn any_instrument()(
        mut parts in vec(any_part(), 0..5),
        changes in vec((any_share(), any_share(), any::<bool>()), 5),
        harnesses in vec((vec(0..5_usize, 0..3), any_share()), 0..3),
        whole in vec(anything_told(), 0..3),
        (first, months, inspected) in (any_month(), 0..400_i32, any_month()),
    ) -> Instrument {
        for (part, (replaced, if_original, known_new)) in parts.iter_mut().zip(changes) {
            (part.replaced, part.if_original, part.known_new) = (replaced, if_original, known_new);
        }
        let harness = |(members, replaced_together)| Harness { members, replaced_together };
        Instrument {
            inspected,
            harnesses: harnesses.into_iter().map(harness).collect(),
            whole,
            ..instrument(Span { first, last: first + months }, parts)
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// Whatever is filled in: an answer whose every number is a share, or a sentence that says what to do.
    #[test]
    fn whatever_is_filled_in_has_an_answer_or_a_sentence(filled in any_instrument()) {
        let dated = match filled.weigh() {
            Ok(dated) => dated,
            Err(fault) => {
                prop_assert!(fault.to_string().contains(';'), "{fault}");
                return Ok(());
            }
        };
        let come_to_one = |months: &MonthShares| {
            let shares: Vec<f64> = months.months().map(|(_, share)| share).collect();
            shares.iter().all(|share| (0.0..=1.0).contains(share)) && (shares.iter().sum::<f64>() - 1.0).abs() < 1e-9
        };
        prop_assert!(come_to_one(dated.assembled()) && dated.log_normaliser().is_finite());
        for place in 0..filled.parts.len() {
            let part = dated.part(place);
            prop_assert!(come_to_one(&part.made) && come_to_one(&dated.without(place)));
            prop_assert!(part.likelihood_ratio >= 0.0);
            prop_assert_eq!(part.original, dated.original(place));
            dated.replaced_within(place, 36);
        }
        for harness in 0..filled.harnesses.len() {
            prop_assert!(dated.harness(harness).likelihood_ratio >= 0.0);
        }
    }
}

#[test]
fn five_hundred_parts_do_not_leave_the_range_of_numbers() {
    let lag = Lag::geometric(6.0, 119).expect("a lag");
    let parts: Vec<PartEvidence> =
        (0..500).map(|at| part(MadeIn::exactly(makings(), month(1964, 1) + at % 5), &lag, 0.1)).collect();
    let mut many = instrument(grid(), parts);
    many.harnesses = vec![Harness { members: (0..250).collect(), replaced_together: 0.1 }];
    let dated = weigh(&many);
    assert!(dated.log_normaliser() < -1000.0 && dated.log_normaliser().is_finite());
    assert_eq!(dated.assembled().most_probable(), month(1964, 5));
    for place in [0, 249, 250, 499] {
        let part = dated.part(place);
        assert_eq!(part.original.to_string(), "over 99 %", "{place}");
        assert!(part.likelihood_ratio.is_finite());
    }
    assert!(dated.harness(0).not_together.value() > 0.99);
}
