//! What stays the same for everybody, and what does not.

mod common;

use asfound_evidence::{
    Assumptions, Instrument, MadeIn, Matter, Moved, PartEvidence, PartSort, Verdict, decide,
    replacement_stock,
};
use common::{makings, month, part, weeks, years};

/// A pot of March 1964, a speaker of May, and a valve.
fn amplifier(valve_made: MadeIn) -> impl Fn(&Assumptions) -> Instrument {
    move |assumptions| {
        let of = |made: MadeIn, sort: PartSort| -> PartEvidence {
            part(made, &sort.lag(assumptions), sort.replaced(assumptions))
        };
        let parts = vec![
            of(weeks([1964], 11), PartSort::Pot),
            of(weeks([1964], 20), PartSort::Speaker),
            of(valve_made.clone(), PartSort::Valve),
        ];
        Instrument { stock: replacement_stock(assumptions), ..common::instrument(years(1958, 1972), parts) }
    }
}

#[test]
fn two_parts_that_agree_and_one_thirty_years_younger_are_decided_for_everybody() {
    let valve = MadeIn::exactly(makings(), month(1994, 5));
    let decisions = decide(&Assumptions::default(), amplifier(valve)).expect("it can be weighed");
    let verdicts: Vec<_> = decisions.parts.iter().map(|part| part.decided()).collect();
    assert_eq!(verdicts, [Some(Verdict::Original), Some(Verdict::Original), Some(Verdict::Replaced)]);
    for part in &decisions.parts {
        assert!(part.least <= part.stated && part.stated <= part.most && part.turns.is_empty());
    }
    assert_eq!(
        decisions.stated,
        amplifier(MadeIn::exactly(makings(), month(1994, 5)))(&Assumptions::default())
            .weigh()
            .expect("it can be weighed")
    );
}

#[test]
fn a_valve_of_the_right_year_turns_on_how_often_valves_are_replaced() {
    let valve = MadeIn::of(makings(), (1..=12).map(|number| (month(1963, number), 1.0 / 12.0)));
    let decisions = decide(&Assumptions::default(), amplifier(valve)).expect("it can be weighed");
    let valve = &decisions.parts[2];
    assert_eq!(valve.decided(), None);
    let on = |wanted: Matter| {
        valve.turns.iter().any(|(moved, _)| matches!(moved, Moved::One(matter, _) if *matter == wanted))
    };
    assert!(on(Matter::ValveReplaced), "{valve:?}");
    assert!(!on(Matter::GuardReplaced) && !on(Matter::CodeMisread));
    assert!(valve.least.value() < valve.most.value());
}

#[test]
fn a_year_is_said_only_if_everybody_would_say_it() {
    let nothing = MadeIn::nothing_known(makings());
    let decisions = decide(&Assumptions::default(), amplifier(nothing)).expect("it can be weighed");
    // With short lags it is 1964; with lags of a year and a half it may as well be 1965.
    assert_eq!(decisions.year(), None);
    let in_1964 = decisions.years.iter().find(|range| range.year == 1964).expect("it is weighed");
    assert!(in_1964.least < in_1964.stated && in_1964.stated < in_1964.most, "{in_1964:?}");
    assert_eq!(decisions.years.len(), 15);
}

#[test]
fn a_value_of_ones_own_outside_the_range_is_an_end_itself() {
    let mut own = Assumptions::default();
    own.set("pot replaced", 0.6).expect("it can be set");
    let decisions = decide(&own, amplifier(weeks([1964], 3))).expect("it can be weighed");
    let pot = &decisions.parts[0];
    assert!(pot.least <= pot.stated && pot.stated <= pot.most);
}

#[test]
fn a_verdict_that_rests_on_a_sign_turns_with_the_range_of_its_figures() {
    let assumptions = Assumptions::default();
    // Screws and outline that agree say that a guard was never changed: with how much weight is an opinion.
    let guarded = |if_replaced: f64| {
        let mut amplifier = amplifier(weeks([1964], 3))(&assumptions);
        let nothing = MadeIn::nothing_known(makings());
        let guard = part(nothing, &PartSort::Guard.lag(&assumptions), 0.3);
        amplifier.parts.push(PartEvidence { if_original: 0.9, if_replaced, ..guard });
        amplifier
    };
    let mut decisions = decide(&assumptions, |_| guarded(0.2)).expect("it can be weighed");
    assert_eq!(decisions.parts[3].decided(), Some(Verdict::Original));
    decisions.also(Moved::SignsMostFor, &guarded(0.1)).expect("it can be weighed");
    assert_eq!(decisions.parts[3].decided(), Some(Verdict::Original));
    decisions.also(Moved::SignsMostAgainst, &guarded(0.7)).expect("it can be weighed");
    assert_eq!(decisions.parts[3].decided(), None);
    assert_eq!(decisions.parts[3].turns, [(Moved::SignsMostAgainst, Verdict::Neither)]);
}
