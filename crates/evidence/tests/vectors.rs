//! The model against an independent calculation.
//!
//! The figures were worked out beforehand by two programs written apart from this one and from each other (direct sums
//! over months with a general numerical library); they are printed to 6 digits after the point or 10 significant ones,
//! so a millionth, or one part in a million, is allowed.

mod common;

use asfound_evidence::{Dated, Harness, Instrument, Lag, MadeIn, Month, MonthlyEvidence, PartEvidence, Span};
use common::{instrument, makings, month, part, weeks, years};

fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-6, "{found} and not {expected}");
}

fn in_proportion(found: f64, expected: f64) {
    assert!((found / expected - 1.0).abs() < 1e-6, "{found} and not {expected}");
}

/// The share of a year, with no floor under it.
fn year(dated: &Dated, year: i32) -> f64 {
    dated.assembled().months().filter(|(month, _)| month.year() == year).map(|(_, share)| share).sum()
}

/// Probability that a part is original from its prior and its likelihood ratio, with no floor under it.
fn original(dated: &Dated, part: usize, replaced: f64) -> f64 {
    let odds = dated.part(part).likelihood_ratio * (1.0 - replaced) / replaced;
    odds / (1.0 + odds)
}

fn runs(dated: &Dated) -> Vec<String> {
    dated.assembled().highest(0.95).iter().map(|run| format!("{} to {}", run.first, run.last)).collect()
}

fn z(dated: &Dated) -> f64 {
    libm::exp(dated.log_normaliser())
}

fn gamma(scale: f64) -> Lag {
    Lag::gamma(2.0, scale, 59).expect("a lag")
}

#[test]
fn four_months_are_weighed_in_exact_fractions() {
    let first = Month::january(1960);
    let span = Span::new(first - 1, first + 4).expect("a span");
    let lag = Lag::of(vec![0.5, 0.5]).expect("a lag");
    let instrument = Instrument {
        assembly: Span::new(first, first + 3).expect("a span"),
        inspected: first + 4,
        stock: Lag::none(),
        parts: vec![part(MadeIn::exactly(span, first + 1), &lag, 0.25)],
        harnesses: vec![],
        whole: vec![],
    };
    let dated = instrument.weigh().expect("it can be weighed");
    let shares: Vec<f64> = dated.assembled().months().map(|(_, share)| share).collect();
    for (found, expected) in shares.iter().zip([1.0 / 13.0, 6.0 / 13.0, 6.0 / 13.0, 0.0]) {
        assert!((found - expected).abs() < 1e-15, "{found} and not {expected}");
    }
    assert!((dated.part(0).original.value() - 12.0 / 13.0).abs() < 1e-15);
}

#[test]
fn a_part_that_was_surely_not_replaced_leaves_the_lag_alone() {
    let lag = Lag::geometric(5.0, 119).expect("a lag");
    // A part that was replaced once in a million million; 0 itself leaves nothing to weigh and is refused.
    let pot = part(MadeIn::exactly(makings(), month(1960, 1)), &lag, 1e-12);
    let dated = instrument(years(1950, 1979), vec![pot]).weigh().expect("it can be weighed");
    let shares = [0.166667, 0.138889, 0.115741, 0.096451];
    for (number, expected) in (1..).zip(shares) {
        close(dated.assembled().at(month(1960, number)), expected);
    }
    close(year(&dated, 1960), 0.887843);
}

/// Two parts whose codes give the last digit of the year only.
fn decade_unknown() -> Instrument {
    let lag = Lag::geometric(6.0, 119).expect("a lag");
    let ending_in_six = || (1946..=2016).step_by(10);
    let control = part(weeks(ending_in_six(), 24), &lag, 0.10);
    let transformer = part(weeks(ending_in_six(), 31), &lag, 0.05);
    instrument(years(1950, 1979), vec![control, transformer])
}

#[test]
fn two_codes_of_one_year_digit_leave_three_decades() {
    let dated = decade_unknown().weigh().expect("it can be weighed");
    in_proportion(z(&dated), 4.383617187e-04);
    for (number, expected) in [
        (1956, 0.262368),
        (1957, 0.063875),
        (1958, 0.001931),
        (1966, 0.245029),
        (1967, 0.066561),
        (1968, 0.002005),
        (1976, 0.297106),
        (1977, 0.058489),
        (1978, 0.001772),
        (1950, 0.000035),
        (1959, 0.000123),
    ] {
        close(year(&dated, number), expected);
    }
    for (at, expected) in [
        (month(1956, 8), 0.078878),
        (month(1956, 9), 0.058066),
        (month(1966, 8), 0.082227),
        (month(1976, 8), 0.072194),
    ] {
        close(dated.assembled().at(at), expected);
    }
    assert_eq!(dated.assembled().most_probable(), month(1966, 8));
    assert_eq!(runs(&dated), ["1956-07 to 1957-05", "1966-08 to 1967-05", "1976-07 to 1977-05"]);
    assert_eq!(dated.assembled().highest(0.95).iter().map(|run| run.len()).sum::<usize>(), 32);
    assert_eq!(dated.assembled().quartiles(), [month(1956, 12), month(1966, 10), month(1976, 8)]);
    close(dated.part(0).original.value(), 0.984147);
    close(dated.part(1).original.value(), 0.991981);
    close(dated.part(0).likelihood_ratio, 6.897842);
    close(dated.part(1).likelihood_ratio, 6.510556);
}

#[test]
fn odds_after_are_odds_before_times_the_ratio_with_the_part_left_out() {
    let instrument = decade_unknown();
    let dated = instrument.weigh().expect("it can be weighed");
    // O/R in the single month of August 1956, for the control: the ratio where only that month is possible.
    let mut august = instrument.clone();
    august.assembly = Span::new(month(1956, 8), month(1956, 8)).expect("a span");
    let only = august.weigh().expect("it can be weighed");
    in_proportion(only.part(0).likelihood_ratio, 0.104956269 / 0.008489212);
    in_proportion(only.part(1).likelihood_ratio, 0.137026240 / 0.008566749);
    // Without the control, the transformer alone.
    let mut alone = instrument;
    alone.parts.remove(0);
    let alone = alone.weigh().expect("it can be weighed");
    for ((_, without), (_, alone)) in dated.without(0).months().zip(alone.assembled().months()) {
        assert!((without - alone).abs() < 1e-12);
    }
}

/// Two controls, a speaker and a choke with two-digit years; the choke is ten years younger.
fn intruder(replaced: [f64; 4]) -> Instrument {
    let codes = [(1963, 38, 3.0), (1964, 11, 3.0), (1964, 9, 2.0), (1972, 5, 3.0)];
    let parts = codes.into_iter().zip(replaced);
    let parts = parts.map(|((year, week, scale), share)| part(weeks([year], week), &gamma(scale), share));
    instrument(years(1958, 1972), parts.collect())
}

#[test]
fn a_part_ten_years_younger_is_seen_as_replaced() {
    let replaced = [0.10, 0.10, 0.20, 0.10];
    let dated = intruder(replaced).weigh().expect("it can be weighed");
    in_proportion(z(&dated), 2.126690616e-09);
    for (number, expected) in [(1963, 0.000005), (1964, 0.998918), (1965, 0.001077)] {
        close(year(&dated, number), expected);
    }
    for (at, expected) in [
        (month(1964, 3), 0.142069),
        (month(1964, 4), 0.287181),
        (month(1964, 5), 0.246569),
        (month(1964, 6), 0.158084),
        (month(1964, 9), 0.020192),
        (month(1965, 3), 0.000102),
    ] {
        close(dated.assembled().at(at), expected);
    }
    assert_eq!(runs(&dated), ["1964-03 to 1964-08"]);
    let shares = [0.997914, 0.998170, 0.997668];
    for (place, expected) in shares.into_iter().enumerate() {
        close(dated.part(place).original.value(), expected);
    }
    // Printed to four digits.
    assert!((original(&dated, 3, 0.10) / 6.528e-11 - 1.0).abs() < 1e-4);
    assert_eq!(dated.part(3).original.to_string(), "under 1 %");
    for (place, expected) in [53.16054, 60.59251, 106.9502, 7.253515e-12].into_iter().enumerate() {
        in_proportion(dated.part(place).likelihood_ratio, expected);
    }
    assert_eq!(dated.part(0).made.most_probable(), month(1963, 9));

    let mut without = intruder(replaced);
    without.parts.pop();
    let without = without.weigh().expect("it can be weighed");
    close(year(&without, 1964), 0.998931);
    close(without.part(0).original.value(), 0.997916);
}

#[test]
fn the_prior_of_replacement_moves_the_year_little() {
    for (share, control, in_1964) in [
        (0.01, 0.999810, 0.998963),
        (0.05, 0.999011, 0.998953),
        (0.20, 0.995320, 0.998896),
        (0.50, 0.981501, 0.998517),
    ] {
        let dated = intruder([share; 4]).weigh().expect("it can be weighed");
        close(original(&dated, 0, share), control);
        close(year(&dated, 1964), in_1964);
    }
}

/// Two linked controls, a valve whose month letter is smudged, a finish that came into use, a receipt.
fn linked() -> Instrument {
    let ending_in_nothing = || (1950..=2020).step_by(10);
    let controls = [15, 22].map(|week| part(weeks(ending_in_nothing(), week), &gamma(3.0), 0.0));
    let letters = [(0.7, 8), (0.3, 10)];
    let months = ending_in_nothing()
        .flat_map(|year| letters.map(|(share, number)| (Month::new(year, number).expect("a month"), share)));
    let valve: PartEvidence = part(MadeIn::of(makings(), months), &gamma(3.0), 0.5);
    let [first, second] = controls;
    let mut instrument = instrument(years(1955, 1969), vec![first, second, valve]);
    instrument.harnesses = vec![Harness { members: vec![0, 1], replaced_together: 0.15 }];
    instrument.whole = vec![
        MonthlyEvidence::not_before_ramp(Month::january(1958), Month::january(1962)),
        MonthlyEvidence::document(month(1964, 5), 0.02),
    ];
    instrument
}

#[test]
fn linked_parts_a_smudged_letter_a_ramp_and_a_receipt() {
    let dated = linked().weigh().expect("it can be weighed");
    in_proportion(z(&dated), 7.692270839e-06);
    for (number, expected) in [
        (1958, 0.000113),
        (1959, 0.000369),
        (1960, 0.822359),
        (1961, 0.174608),
        (1962, 0.001182),
        (1963, 0.000890),
        (1964, 0.000381),
    ] {
        close(year(&dated, number), expected);
    }
    for number in 1965..=1969 {
        let share = year(&dated, number);
        assert!((0.0000175..0.0000215).contains(&share), "{number}: {share}");
    }
    for (at, expected) in [
        (month(1960, 6), 0.012054),
        (month(1960, 8), 0.106809),
        (month(1960, 9), 0.186092),
        (month(1960, 10), 0.200030),
        (month(1960, 12), 0.121056),
        (month(1961, 3), 0.024864),
    ] {
        close(dated.assembled().at(at), expected);
    }
    assert_eq!(runs(&dated), ["1960-07 to 1961-03"]);
    let harness = dated.harness(0);
    close(harness.not_together.value(), 0.988849);
    in_proportion(harness.likelihood_ratio, 15.64902);
    // A control of the harness can only have gone with it.
    for control in [0, 1] {
        close(dated.part(control).original.value(), 0.988849);
        in_proportion(dated.part(control).likelihood_ratio, 15.64902);
    }
    close(dated.part(2).original.value(), 0.861677);
    in_proportion(dated.part(2).likelihood_ratio, 6.229466);
}

#[test]
fn the_ratios_of_linked_parts_are_not_to_be_multiplied() {
    let mut independent = linked();
    independent.harnesses.clear();
    independent.parts[0].replaced = 0.15;
    independent.parts[1].replaced = 0.15;
    let independent = independent.weigh().expect("it can be weighed");
    close(year(&independent, 1960), 0.821233);
    close(independent.part(0).original.value(), 0.975775);
    close(independent.part(1).original.value(), 0.981231);
    let ratios = [0, 1].map(|part| independent.part(part).likelihood_ratio);
    in_proportion(ratios[0], 7.108058);
    in_proportion(ratios[1], 9.225663);
    let joint = linked().weigh().expect("it can be weighed").harness(0).likelihood_ratio;
    let product = ratios[0] * ratios[1];
    assert!((product - 65.5765).abs() < 1e-4 && (product / joint - 4.19).abs() < 0.005, "{product} {joint}");
}

/// An independent part is a part of a harness that is never replaced as a whole.
#[test]
fn a_harness_that_never_goes_as_a_whole_is_no_harness() {
    let mut apart = linked();
    apart.parts[0].replaced = 0.15;
    apart.parts[1].replaced = 0.15;
    let mut never = apart.clone();
    apart.harnesses.clear();
    never.harnesses[0].replaced_together = 1e-12;
    let [apart, never] = [apart, never].map(|instrument| instrument.weigh().expect("it can be weighed"));
    for part in 0..3 {
        assert!((apart.part(part).original.value() - never.part(part).original.value()).abs() < 1e-9);
    }
    assert!((year(&apart, 1960) - year(&never, 1960)).abs() < 1e-9);
}

/// The same bits on every machine: logarithms, exponentials and the gamma function are this program's own.
#[test]
fn the_same_marks_weigh_the_same_to_the_last_bit() {
    let dated = intruder([0.10, 0.10, 0.20, 0.10]).weigh().expect("it can be weighed");
    let bits = [
        dated.log_normaliser(),
        dated.assembled().at(month(1964, 4)),
        dated.part(3).likelihood_ratio,
        linked().weigh().expect("it can be weighed").harness(0).likelihood_ratio,
    ]
    .map(f64::to_bits);
    assert_eq!(
        bits,
        [0xc033_f7fc_a473_c69f, 0x3fd2_612c_b40f_d192, 0x3d9f_e6bb_6c44_3714, 0x402f_4c4b_bf07_3cc0],
        "{bits:#x?}"
    );
}
