//! Value in three states, and time as money.

mod common;

use asfound_plan::billing::{
    Adding, BillingFault, Hands, Minutes, PartOfUnit, QuarterHours, Read, Span, Step, Storage, price, times,
};
use asfound_plan::money::{Money, Rate, Rounding};
use asfound_plan::value::{Opinion, Rise, Says, State, Value, ValueFault};
use common::{euro, pound, pounds, rate};
use proptest::prelude::*;

fn said(state: State, says: Says) -> Opinion {
    Opinion { state, says, whose: "a restorer".to_owned(), source: "asked on 3 May".to_owned() }
}

fn sum(low: &str, high: &str) -> Says {
    Says::Sum { low: Some(pounds(low)), high: pounds(high) }
}

fn half_to_two_thirds() -> Says {
    Says::Share { low: Some(rate("50")), high: Rate::parts(2, 3).expect("not of nothing") }
}

/// A solid body with a carved edge, badly refinished: a perfect one would fetch 25 000, this one at best 20 % of that,
/// and well refinished half to two thirds.
fn refinished() -> Vec<Opinion> {
    vec![
        said(State::FullyOriginal, sum("25000", "25000")),
        said(State::AsFound, Says::Share { low: None, high: rate("20") }),
        said(State::Restored, half_to_two_thirds()),
    ]
}

#[test]
fn badly_and_well_refinished() {
    let value = Value::of(pound(), refinished()).expect("sound");
    let found = value.in_state(State::AsFound).expect("small").expect("said");
    assert_eq!((found.low, found.high), (None, pounds("5000")));
    let after = value.in_state(State::Restored).expect("small").expect("said");
    assert_eq!((after.low, after.high), (Some(pounds("12500")), pounds("16666.67")));
    let rise = value.rise(State::AsFound, State::Restored).expect("small").expect("both said");
    let expected = Rise { low: Some(pounds("7500")), high: pounds("11666.67"), from_highest_before: true };
    assert_eq!(rise, expected);
    assert_eq!(value.opinions()[after.by[0].opinion].whose, "a restorer");
}

/// What is drawn from is the range in whole pounds, and only where both of its ends were said.
#[test]
fn a_range_with_both_ends_can_be_drawn_from() {
    let value = Value::of(pound(), refinished()).expect("sound");
    let worth = |state| value.in_state(state).expect("small").expect("said");
    let after = worth(State::Restored).expected("well refinished").expect("both ends");
    assert_eq!((after.figure.quantile(0.0), after.figure.quantile(1.0)), (12_500.0, 16_666.67));
    assert_eq!(worth(State::AsFound).expected("as found"), None);
}

#[test]
fn several_words_on_one_state_stand_side_by_side() {
    let mut opinions = refinished();
    opinions.push(said(State::AsFound, sum("3000", "3000")));
    opinions.push(said(State::Restored, sum("9000", "9000")));
    let value = Value::of(pound(), opinions).expect("sound");
    let found = value.in_state(State::AsFound).expect("small").expect("said");
    assert_eq!((found.low, found.high, found.by.len()), (None, pounds("5000"), 2));
    let after = value.in_state(State::Restored).expect("small").expect("said");
    assert_eq!((after.low, after.high, after.by.len()), (Some(pounds("9000")), pounds("16666.67"), 2));
}

/// Half of `up to 25 000` has no lowest sum either.
#[test]
fn a_share_of_up_to_is_up_to() {
    let mut opinions = refinished();
    opinions[0].says = Says::Sum { low: None, high: pounds("25000") };
    let value = Value::of(pound(), opinions).expect("sound");
    let after = value.in_state(State::Restored).expect("small").expect("said");
    assert_eq!((after.low, after.high), (None, pounds("16666.67")));
    let rise = value.rise(State::AsFound, State::Restored).expect("small").expect("both said");
    assert_eq!((rise.low, rise.high), (None, pounds("11666.67")));
}

#[test]
fn a_share_of_what_nobody_named_is_no_sum() {
    let value = Value::of(pound(), refinished().split_off(1)).expect("sound");
    for state in [State::AsFound, State::Restored, State::FullyOriginal] {
        assert_eq!(value.in_state(state), Ok(None));
    }
    assert_eq!(value.rise(State::AsFound, State::Restored), Ok(None));
}

#[test]
fn a_value_is_somebodys_word() {
    let fault = |opinion: Opinion| Value::of(pound(), vec![opinion]).expect_err("unsound");
    let mut unsigned = said(State::AsFound, sum("1", "2"));
    unsigned.source = " ".to_owned();
    assert_eq!(
        fault(unsigned).to_string(),
        "value, opinion 1: whose word it is or where it stands is missing; write both, also for your own"
    );
    assert_eq!(fault(said(State::AsFound, sum("2", "1"))), ValueFault::Range(1));
    assert_eq!(fault(said(State::AsFound, sum("-2", "1"))), ValueFault::Range(1));
    assert_eq!(fault(said(State::FullyOriginal, half_to_two_thirds())), ValueFault::Share(1));
    let over = Says::Share { low: None, high: rate("120") };
    assert_eq!(fault(said(State::Restored, over)), ValueFault::Share(1));
    let falling = Says::Share { low: Some(rate("60")), high: rate("50") };
    assert_eq!(fault(said(State::Restored, falling)), ValueFault::Range(1));
    let euros = Says::Sum { low: None, high: Money::read("5", euro()).expect("a sum") };
    assert!(fault(said(State::Restored, euros)).to_string().contains("5.00 EUR stands among values in GBP"));
}

fn step(what: &str, least: u32, most: u32, hands: Hands) -> Step {
    Step { what: what.to_owned(), takes: Span { least: Minutes(least), most: Minutes(most) }, hands }
}

fn span(least: u32, most: u32) -> Span {
    Span { least: Minutes(least), most: Minutes(most) }
}

/// A neck pressed straight with heat: set up, heated, clamped for six hours, set up again.
#[test]
fn hands_are_paid_for_and_a_clamp_is_not() {
    let steps = |heat: u32| {
        [
            step("clamp it up", 10, 10, Hands::Attended),
            step("heat", heat, 20, Hands::Watched),
            step("stay clamped", 360, 360, Hands::Alone),
            step("set it up", 45, 60, Hands::Attended),
        ]
    };
    let found = times(&steps(10)).expect("a day");
    assert_eq!(
        (found.attended, found.with_watched, found.elapsed),
        (span(55, 70), span(65, 90), span(425, 450))
    );
    assert_eq!(times(&steps(20)).expect("a day").with_watched, span(75, 90));
    let at = |by_the_hour| price(Minutes(90), pounds(by_the_hour)).round(Rounding::HalfEven);
    assert_eq!((at("50"), at("70")), (Ok(pounds("75")), Ok(pounds("105"))));
}

/// 1 h 24 min by quarters of an hour; fetched on day 63, with an hour from day 30 and two from day 60.
#[test]
fn terms_with_two_readings_show_both() {
    let quarters = QuarterHours { unit: Minutes(15), part: Some(PartOfUnit::CountsWhole) };
    assert_eq!(quarters.billed(Minutes(84)), Ok(Read::Decided(Minutes(90))));
    let steps = vec![(30, Minutes(60)), (60, Minutes(120))];
    let storage = |adding| Storage { steps: steps.clone(), adding };
    let open = Read::Open(vec![(Adding::LastOnly, Minutes(120)), (Adding::OnTop, Minutes(180))]);
    assert_eq!(storage(None).charged(63), Ok(open));
    assert_eq!(storage(Some(Adding::OnTop)).charged(63), Ok(Read::Decided(Minutes(180))));
    assert_eq!(storage(None).charged(30), Ok(Read::Decided(Minutes(60))));
    assert_eq!(storage(None).charged(59), Ok(Read::Decided(Minutes(60))));
    assert_eq!(storage(None).charged(29), Ok(Read::Decided(Minutes(0))));
    assert_eq!(Minutes(84).to_string(), "1 h 24 min");
}

#[test]
fn terms_that_cannot_be_billed_by() {
    assert_eq!(QuarterHours { unit: Minutes(0), part: None }.billed(Minutes(1)), Err(BillingFault::Unit));
    let falling = Storage { steps: vec![(60, Minutes(1)), (30, Minutes(1))], adding: None };
    assert_eq!(falling.charged(1), Err(BillingFault::Days(30)));
    let long = [step("wait", u32::MAX, u32::MAX, Hands::Alone), step("look", 1, 1, Hands::Attended)];
    assert_eq!(times(&long), Err(BillingFault::TooLong));
}

proptest! {
    /// What is billed covers what it took, and by less than a unit too much; to the nearest it is off by half a unit.
    #[test]
    fn billed_time_is_near_what_it_took(took in 0_u32..100_000, unit in 1_u32..240) {
        for part in [PartOfUnit::CountsWhole, PartOfUnit::ToTheNearest] {
            let terms = QuarterHours { unit: Minutes(unit), part: Some(part) };
            let Ok(Read::Decided(Minutes(billed))) = terms.billed(Minutes(took)) else { panic!("it is said") };
            prop_assert_eq!(billed % unit, 0);
            match part {
                PartOfUnit::CountsWhole => prop_assert!(billed >= took && billed - took < unit),
                PartOfUnit::ToTheNearest => prop_assert!(2 * billed.abs_diff(took) <= unit),
            }
        }
    }

    /// A rise never promises more than the ends of both ranges allow.
    #[test]
    fn a_rise_lies_between_its_ends(low in 0_i64..1_000_000, on in 0_i64..1_000_000, after in 0_i64..1_000_000) {
        let pence = |minor| Money::of_minor(minor, pound()).expect("small");
        let range = |low, high| Says::Sum { low: Some(pence(low)), high: pence(high) };
        let opinions = vec![said(State::AsFound, range(low, low + on)), said(State::Restored, range(after, after + on))];
        let value = Value::of(pound(), opinions).expect("sound");
        let rise = value.rise(State::AsFound, State::Restored).expect("small").expect("both said");
        prop_assert_eq!(rise.low.expect("a low end").minor(), after - low - on);
        prop_assert_eq!(rise.high.minor(), after + on - low);
        prop_assert!(!rise.from_highest_before);
    }
}
