//! What an explanation says where something is broken, not measured, or too much to go through. All values invented.

#[path = "common/explained.rs"]
mod explained;

use asfound_electric::Unsolvable;
use asfound_electric::explain::{
    Agreed, CoilWord, Conditions, DeadWhy, Explanation, JackOhms, JackOutput, Limit, MOST_UNKNOWNS, Warning,
    explain,
};
use asfound_electric::trace::Trace;
use asfound_measure::{Hertz, Ohms};
use explained::{explained, joined};

const ONE_COIL: &str = "coil bridge 6k3 2H5 115p clockwise north";

fn coil_words(explanation: &Explanation, state: usize) -> Vec<CoilWord> {
    explanation.states[state].coils.iter().map(|fact| fact.certain().unwrap().word).collect()
}

const SERIES: &[(&str, &str)] = &[("a.hot", "jack.tip"), ("a.ground", "b.hot"), ("b.ground", "jack.sleeve")];
const PARALLEL: &[(&str, &str)] =
    &[("a.hot", "jack.tip"), ("b.hot", "jack.tip"), ("a.ground", "jack.sleeve"), ("b.ground", "jack.sleeve")];

#[test]
fn an_open_coil_is_dead_and_so_is_one_in_series_with_it() {
    let open = CoilWord::Dead(DeadWhy::Open);
    for broken in ["open", "over 2M"] {
        let parts = format!("coil a {broken}\ncoil b 6k 2H 100p clockwise north");
        let explanation = explained(&joined(&parts, SERIES));
        assert_eq!(coil_words(&explanation, 0), [open, CoilWord::Dead(DeadWhy::BehindOpen)]);
        assert_eq!(explanation.states[0].ohms, Agreed::Certain(JackOhms::Open));
        assert_eq!(explanation.states[0].output, Agreed::Certain(JackOutput::Open));
        assert_eq!(
            explanation.warnings,
            [Warning::CoilOpen { coil: 0 }, Warning::CoilNeverHeard { coil: 1 }]
        );
        assert!(explanation.limits.contains(&Limit::BreakLetsNothingThrough));
        // In parallel the other is heard as if the broken one were not there.
        let explanation = explained(&joined(&parts, PARALLEL));
        assert_eq!(coil_words(&explanation, 0), [open, CoilWord::Sounds]);
        assert_eq!(explanation.states[0].ohms, Agreed::Certain(JackOhms::Reads(Ohms(6000.0))));
        let alone = explained(&joined("coil b 6k 2H 100p clockwise north", &[PARALLEL[1], PARALLEL[3]]));
        assert_eq!(explanation.states[0].curve, alone.states[0].curve);
    }
    // Two that are broken in one row, and one whose end is loose as well.
    let explanation = explained(&joined("coil a open\ncoil b open", SERIES));
    assert_eq!(coil_words(&explanation, 0), [open, open]);
    let explanation = explained(&joined("coil a open\ncoil b open", &PARALLEL[..3]));
    assert_eq!(coil_words(&explanation, 0), [open, CoilWord::Dead(DeadWhy::EndLoose)]);
    let explanation = explained(&joined("coil a 6k\ncoil b 6k", SERIES));
    assert!(!explanation.limits.contains(&Limit::BreakLetsNothingThrough));
}

#[test]
fn a_coil_not_measured_is_told_as_assumed() {
    let explanation = explained(&joined("coil a not measured\ncoil b 6k 2H 100p", SERIES));
    let limit = Limit::ResistanceAssumed { coil: 0, assumed: Ohms(7000.0) };
    assert!(explanation.limits.contains(&limit));
    // 7k taken and 6k as read, in series; a few roundings.
    let JackOhms::Reads(both) = explanation.states[0].ohms.certain().unwrap() else { panic!() };
    assert!((both.0 - 13_000.0).abs() < 1e-9, "{both:?}");
}

#[test]
fn odds_weigh_the_possibilities() {
    let text = joined(
        &format!("{ONE_COIL}\nresistor r 10k"),
        &[("bridge.ground", "jack.sleeve"), ("r.a", "jack.tip"), ("r.b", "bridge.hot")],
    ) + "join bridge.hot jack.tip or nothing odds 3:1 unknown\n";
    let explanation = explained(&text);
    let weights: Vec<f64> = explanation.possibilities.iter().map(|it| it.weight).collect();
    assert_eq!(weights, [0.75, 0.25]);
    assert!(!explanation.limits.contains(&Limit::EqualWeights));
    // H(3/4) = 0.8113 bits, worked by hand.
    assert!((explanation.next[0].bits - 0.811_278).abs() < 1e-6, "{:?}", explanation.next[0]);
}

#[test]
fn more_states_than_can_be_told_are_said() {
    let slides: String = (0..13).map(|at| format!("switch s{at} two-pole slide\n")).collect();
    let text = joined(
        &format!("{ONE_COIL}\npot volume 250k\n{slides}"),
        &[
            ("bridge.hot", "volume.3"),
            ("bridge.ground", "volume.1"),
            ("volume.2", "jack.tip"),
            ("volume.1", "jack.sleeve"),
        ],
    );
    let circuit = Trace::read(&text).unwrap().circuit().unwrap();
    // Few frequencies, because the curves are not what is asked here.
    let conditions = Conditions { frequencies: vec![Hertz(100.0), Hertz(1000.0)], ..Conditions::default() };
    let explanation = explain(&circuit, &conditions).unwrap();
    assert_eq!(explanation.states.len(), 4096);
    let Limit::StatesLeftOut { told: 4096, of: 8192, by_switch } = &explanation.limits[0] else {
        panic!("{:?}", explanation.limits[0])
    };
    // The last switch turns fastest, so of the first one only `up` is told.
    assert_eq!(by_switch.iter().map(|it| it.told).collect::<Vec<_>>(), [&[1][..], &[2; 12]].concat());
    assert_eq!(by_switch[0].name, "s0");
    assert_eq!(by_switch[0].positions, ["up", "down"]);
    assert_eq!(explanation.groups.len(), 1);
}

#[test]
fn more_possibilities_than_can_be_gone_through_are_said() {
    let stubs: String =
        (1..=8).map(|at| format!("join tag.{at} jack.tip or jack.sleeve or nothing unknown\n")).collect();
    let coils: String = (0..9).map(|at| format!("coil c{at} 6k 2H 100p\n")).collect();
    let text = joined(&format!("{coils}post tag 8"), &[("c0.hot", "jack.tip"), ("c0.ground", "jack.sleeve")])
        + &stubs;
    let circuit = Trace::read(&text).unwrap().circuit().unwrap();
    // Few frequencies, because the curves are not what is asked here.
    let conditions = Conditions { frequencies: vec![Hertz(100.0), Hertz(1000.0)], ..Conditions::default() };
    let explanation = explain(&circuit, &conditions).unwrap();
    assert!(explanation.limits.contains(&Limit::PossibilitiesLeftOut { told: 64, of: 6561 }));
    assert!(
        explanation
            .limits
            .iter()
            .any(|limit| matches!(limit, Limit::SignsLeftOut { coils } if !coils.is_empty()))
    );
    assert!(explanation.possibilities.len() <= 65_536);
}

#[test]
fn values_that_were_taken_are_limits() {
    let explanation = explained(&joined(
        "coil bridge 6k3",
        &[("bridge.hot", "jack.tip"), ("bridge.ground", "jack.sleeve")],
    ));
    let assumed = |limit: &Limit| {
        matches!(limit, Limit::InductanceAssumed { coil: 0, .. } | Limit::CapacitanceAssumed { coil: 0, .. })
    };
    assert_eq!(explanation.limits.iter().filter(|limit| assumed(limit)).count(), 2);
}

#[test]
fn a_network_larger_than_can_be_explained_is_refused() {
    let rungs = 120;
    let parts: String = (0..rungs).map(|at| format!("resistor r{at} 1k\nresistor s{at} 1M\n")).collect();
    let joins: String = (0..rungs)
        .map(|at| {
            let next = if at + 1 < rungs { format!("r{}.a", at + 1) } else { "jack.tip".to_owned() };
            format!("join r{at}.b {next} metered\njoin s{at}.a r{at}.b metered\njoin s{at}.b jack.sleeve metered\n")
        })
        .collect();
    let text =
        joined(&format!("{ONE_COIL}\n{parts}"), &[("bridge.hot", "r0.a"), ("bridge.ground", "jack.sleeve")]);
    let circuit = Trace::read(&(text + &joins)).unwrap().circuit().unwrap();
    let refused = explain(&circuit, &Conditions::default()).unwrap_err();
    assert_eq!(refused, Unsolvable::TooLarge { nets: 121, most: MOST_UNKNOWNS });
}
