//! What sounds between two positions of a switch, on a circuit whose answer is known beforehand.

#[path = "common/explained.rs"]
mod explained;

use asfound_electric::explain::{Agreed, BetweenFact, JackOutput, Limit, MOST_BETWEEN, RelationWord};
use explained::explained;

/// A selector that gives one coil or the other, with these contacts between them.
fn selector(between: &str, a: &str, b: &str) -> String {
    format!(
        "coil neck 6k 2H 100p clockwise north\ncoil bridge 6k 2H 100p clockwise north\njack jack\n\
         switch s\n  lugs out n b g\n  at 1: {a}\n  at 2: {b}\n  between: {between}\n\
         join neck.hot s.n metered\njoin bridge.hot s.b metered\njoin s.out jack.tip metered\n\
         join s.g jack.sleeve metered\njoin neck.ground jack.sleeve metered\njoin bridge.ground jack.sleeve metered\n"
    )
}

#[test]
fn both_coils_sound_in_parallel_where_contacts_bridge() {
    let both =
        BetweenFact { output: JackOutput::Live, coils: vec![0, 1], relation: Some(RelationWord::Parallel) };
    for (between, bridges) in [("both neighbours", true), ("unknown", false)] {
        let explanation = explained(&selector(between, "out-n", "out-b"));
        let [told] = explanation.between.as_slice() else { panic!("{:?}", explanation.between) };
        assert_eq!((told.switch, told.from, told.to, told.bridges), (0, 0, 1, bridges));
        assert_eq!(told.what, Agreed::Certain(both.clone()));
    }
    assert!(explained(&selector("nothing", "out-n", "out-b")).between.is_empty());
}

#[test]
fn what_sounds_at_a_stop_as_well_is_not_told() {
    // One coil, then both: between them both, as at the second stop.
    assert!(explained(&selector("both neighbours", "out-n", "out-n out-b")).between.is_empty());
    // One coil, and a stop that grounds the other lead: both contacts at once mute the output.
    let explanation = explained(&selector("both neighbours", "out-n", "n-g"));
    let [told] = explanation.between.as_slice() else { panic!("{:?}", explanation.between) };
    let Agreed::Certain(fact) = &told.what else { panic!("{told:?}") };
    assert_eq!(fact.output, JackOutput::Shorted);
}

#[test]
fn more_moves_than_are_tried_are_said() {
    let slides: String = (0..6).map(|at| format!("switch s{at} two-pole slide\n")).collect();
    let explanation = explained(&format!(
        "coil neck 6k 2H 100p clockwise north\njack jack\n{slides}\
         join neck.hot jack.tip metered\njoin neck.ground jack.sleeve metered\n"
    ));
    // Each of six switches moves in each of the 32 combinations of the others.
    assert!(explanation.limits.contains(&Limit::MovesLeftOut { tried: MOST_BETWEEN, of: 192 }));
    assert!(explanation.between.is_empty());
}
