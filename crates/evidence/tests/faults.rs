//! What a person can get wrong, and what cannot hold together.

mod common;

use asfound_evidence::{Harness, Instrument, Lag, MadeIn, Month, MonthlyEvidence, Span, WeighingFault};
use common::{instrument, makings, month, part, weeks, years};

fn lag() -> Lag {
    Lag::geometric(6.0, 119).expect("a lag")
}

/// A pot of March 1964.
fn one_pot() -> Instrument {
    instrument(years(1950, 1979), vec![part(weeks([1964], 11), &lag(), 0.1)])
}

fn said(instrument: &Instrument) -> String {
    instrument.weigh().expect_err("it cannot be weighed").to_string()
}

#[test]
fn nothing_at_all_cannot_be_weighed_but_a_paper_alone_can() {
    let mut empty = instrument(years(1950, 1979), vec![]);
    assert!(said(&empty).contains("give a part with a date code"));
    empty.whole.push(MonthlyEvidence::document(month(1964, 5), 0.02));
    let dated = empty.weigh().expect("it can be weighed");
    // 173 months at 1 and 187 at 0.02.
    let share = dated.assembled().within(Span::new(month(1950, 1), month(1964, 5)).expect("a span"));
    assert!((share.value() - 173.0 / (173.0 + 187.0 * 0.02)).abs() < 1e-12);
}

#[test]
fn an_inspection_before_the_assembly_is_refused_and_one_within_it_cuts_it() {
    let mut pot = one_pot();
    pot.inspected = month(1949, 12);
    assert!(said(&pot).contains("inspected in 1949-12, before 1950-01"), "{}", said(&pot));
    pot.inspected = month(1966, 6);
    let dated = pot.weigh().expect("it can be weighed");
    assert_eq!(dated.assembled().months().last().map(|(last, _)| last), Some(month(1966, 6)));
}

#[test]
fn shares_that_leave_nothing_to_weigh_are_refused_with_the_place() {
    for share in [0.0, 1.0, -0.1, 1.1, f64::NAN] {
        let mut pot = one_pot();
        pot.parts[0].replaced = share;
        assert!(said(&pot).starts_with("the share of replaced parts for part 1 is"), "{}", said(&pot));
        let mut pot = one_pot();
        pot.harnesses.push(Harness { members: vec![0], replaced_together: share });
        assert!(said(&pot).contains("harness 1 is") && said(&pot).contains("for instance 0.15"));
    }
    for weight in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let mut pot = one_pot();
        pot.parts[0].if_replaced = weight;
        assert!(said(&pot).contains("1 where there are no signs"));
    }
    for doubt in [0.0, 1.0, f64::NAN] {
        let mut pot = one_pot();
        pot.whole.push(MonthlyEvidence::document(month(1964, 5), doubt));
        assert!(said(&pot).contains("for instance 0.02"));
    }
}

#[test]
fn harnesses_must_name_parts_that_are_there_once() {
    for members in [vec![1], vec![0, 0]] {
        let mut pot = one_pot();
        pot.harnesses.push(Harness { members, replaced_together: 0.2 });
        assert!(matches!(pot.weigh(), Err(WeighingFault::Member { .. })), "{}", said(&pot));
    }
    let mut pot = one_pot();
    pot.harnesses.push(Harness { members: vec![], replaced_together: 0.2 });
    assert!(said(&pot).contains("harness 1 has no parts"));
}

#[test]
fn months_in_the_wrong_order_are_refused() {
    let (early, late) = (month(1958, 1), month(1962, 1));
    for told in [
        MonthlyEvidence::not_before_ramp(late, early),
        MonthlyEvidence::not_after_ramp(early, early),
        MonthlyEvidence::interval(late, early, 0.1),
    ] {
        let mut pot = one_pot();
        pot.whole.push(told);
        assert!(said(&pot).contains("the second month must be the later one"));
    }
}

#[test]
fn a_ramp_rises_evenly_and_its_counterpart_falls() {
    let (from, to) = (month(1958, 1), month(1962, 1));
    let (rises, falls) =
        (MonthlyEvidence::not_before_ramp(from, to), MonthlyEvidence::not_after_ramp(from, to));
    for (at, expected) in
        [(month(1957, 1), 0.0), (month(1959, 1), 0.25), (month(1960, 1), 0.5), (to, 1.0), (to + 9, 1.0)]
    {
        assert_eq!(rises.at(at), expected);
        assert_eq!(falls.at(at), 1.0 - expected);
    }
}

#[test]
fn every_part_of_another_year_still_has_an_answer() {
    let parts = [1951, 1955, 1959, 1963, 1967, 1971, 1975].map(|year| part(weeks([year], 20), &lag(), 0.1));
    let dated = instrument(years(1950, 1979), parts.to_vec()).weigh().expect("it can be weighed");
    // What is earliest can be original in every explanation; all else was put in later.
    assert!(dated.part(0).original > dated.part(6).original);
}

#[test]
fn what_cannot_hold_together_is_named_and_nothing_else() {
    // A pot made after the last month in which it may have been put in: nobody can have fitted it.
    let mut late = one_pot();
    late.parts.push(part(
        MadeIn::exactly(Span::years(1930, 2030).expect("a span"), month(2025, 1)),
        &lag(),
        0.1,
    ));
    let fault = late.weigh().expect_err("it cannot be");
    assert!(
        matches!(&fault, WeighingFault::CannotHold { parts, whole, .. } if *parts == [1] && whole.is_empty())
    );
    assert!(fault.to_string().contains("the marks on part 2 cannot hold together"), "{fault}");
    // Two ramps that leave no month between them; the pot and the paper agree with either.
    let mut ramps = one_pot();
    ramps.whole = vec![
        MonthlyEvidence::document(month(1970, 1), 0.1),
        MonthlyEvidence::not_after_ramp(month(1958, 1), month(1960, 1)),
        MonthlyEvidence::not_before_ramp(month(1965, 1), month(1968, 1)),
    ];
    let fault = ramps.weigh().expect_err("it cannot be");
    assert!(
        matches!(&fault, WeighingFault::CannotHold { parts, whole, .. } if parts.is_empty() && *whole == [1, 2])
    );
    // A part that nothing explains.
    let mut nothing = one_pot();
    nothing.parts[0].made_in = MadeIn::of(makings(), []);
    assert!(matches!(nothing.weigh(), Err(WeighingFault::CannotHold { parts, .. }) if parts == [0]));
}

#[test]
fn an_instrument_inspected_in_the_month_it_was_made_has_no_later_parts() {
    let mut new = one_pot();
    new.assembly = Span::new(month(1964, 5), month(1964, 5)).expect("a span");
    new.inspected = month(1964, 5);
    let dated = new.weigh().expect("it can be weighed");
    assert_eq!(dated.part(0).original.to_string(), "over 99 %");
    assert_eq!(dated.assembled().most_probable(), Month::new(1964, 5).expect("a month"));
}

#[test]
fn a_part_known_to_be_new_dates_nothing_and_is_not_original() {
    let mut pot = one_pot();
    let without = pot.weigh().expect("it can be weighed");
    let mut new = part(MadeIn::exactly(makings(), month(1964, 2)), &lag(), 0.1);
    new.known_new = true;
    pot.parts.push(new);
    pot.harnesses.push(Harness { members: vec![1], replaced_together: 0.2 });
    let dated = pot.weigh().expect("it can be weighed");
    assert_eq!(dated.assembled(), without.assembled());
    assert_eq!(dated.log_normaliser(), without.log_normaliser());
    assert_eq!(dated.part(1).original.to_string(), "under 1 %");
    assert_eq!(dated.part(1).made.most_probable(), month(1964, 2));
    assert_eq!(dated.without(1), *without.assembled());
    assert!((dated.harness(0).not_together.value() - 0.8).abs() < 1e-12);
}
