//! The words and figures of three circuits with switches, in every state, against an independent nodal solution that
//! was itself checked against a general circuit simulator (worst relative difference 5e-13). Values invented.

#[path = "common/explained.rs"]
mod explained;

use asfound_electric::explain::{
    CoilWord, DeadIn, Explanation, Finding, HumWord, JackOhms, JackOutput, Look, PhaseWord, RelationWord,
    StateTold,
};
use explained::explained;

/// What the table says of a state: its words and the ohms at the jack.
struct Row {
    state: &'static str,
    ohms: f64,
    words: Words,
}

enum Words {
    Nothing,
    Alone(&'static str),
    /// Coils, relation, in phase in the middle band, hum of the arithmetic sum at 400 Hz.
    Pair(&'static str, &'static str, RelationWord, bool, f64),
}

use RelationWord::{Mixture, Parallel, Series};
use Words::{Alone, Nothing, Pair};

const fn row(state: &'static str, ohms: f64, words: Words) -> Row {
    Row { state, ohms, words }
}

fn name_of(explanation: &Explanation, state: &StateTold) -> String {
    let positions = explanation.switches.iter().zip(&state.positions);
    positions.map(|(switch, &at)| switch.positions[at].as_str()).collect::<Vec<_>>().join(" ")
}

fn check(explanation: &Explanation, possibility: usize, rows: &[Row]) {
    assert_eq!(explanation.states.len(), rows.len());
    for row in rows {
        let state = explanation.states.iter().find(|state| name_of(explanation, state) == row.state).unwrap();
        check_state(explanation, state, possibility, row);
    }
}

fn check_state(explanation: &Explanation, state: &StateTold, possibility: usize, row: &Row) {
    let heard: Vec<&str> = explanation
        .coils
        .iter()
        .zip(&state.coils)
        .filter(|(_, fact)| {
            let word = fact.in_possibility(possibility).unwrap().word;
            matches!(word, CoilWord::Sounds | CoilWord::Faint)
        })
        .map(|(name, _)| name.as_str())
        .collect();
    // The printed ohms have one decimal.
    let JackOhms::Reads(ohms) = state.ohms.in_possibility(possibility).unwrap() else {
        panic!("{}", row.state)
    };
    assert!((ohms.0 - row.ohms).abs() < 0.051, "{}: {} {}", row.state, ohms.0, row.ohms);
    let hum = state.hum.in_possibility(possibility).unwrap();
    let output = *state.output.in_possibility(possibility).unwrap();
    match &row.words {
        Nothing => {
            assert_eq!(
                (heard.len(), output, hum.word),
                (0, JackOutput::Silent, HumWord::NoCoil),
                "{}",
                row.state
            );
        }
        Alone(coil) => assert_eq!(
            (heard, output, hum.word),
            (vec![*coil], JackOutput::Live, HumWord::OneCoil),
            "{}",
            row.state
        ),
        Pair(a, b, relation, in_phase, ratio) => {
            assert_eq!((heard, output), (vec![*a, *b], JackOutput::Live), "{}", row.state);
            let pair = state.pairs.iter().find(|pair| {
                (explanation.coils[pair.a].as_str(), explanation.coils[pair.b].as_str()) == (*a, *b)
            });
            let pair = pair.unwrap();
            let told = pair.relation.in_possibility(possibility).unwrap().as_ref().unwrap();
            assert_eq!(told.word, *relation, "{}", row.state);
            let phase = pair.phase.in_possibility(possibility).unwrap().unwrap().word.middle;
            assert_eq!(
                phase,
                if *in_phase { PhaseWord::InPhase } else { PhaseWord::OutOfPhase },
                "{}",
                row.state
            );
            // The printed ratio has three decimals.
            assert!((hum.ratio - ratio).abs() < 0.00051, "{}: {} {ratio}", row.state, hum.ratio);
        }
    }
}

#[test]
fn five_way_lever() {
    let explanation = explained(include_str!("traces/five-way-lever.trace"));
    assert_eq!(explanation.possibilities.len(), 1);
    check(
        &explanation,
        0,
        &[
            row("1", 6145.1, Alone("bridge")),
            row("2", 2983.8, Pair("middle", "bridge", Parallel, true, 1.0)),
            row("3", 5668.5, Alone("middle")),
            row("4", 2842.1, Pair("neck", "middle", Parallel, true, 1.0)),
            row("5", 5572.9, Alone("neck")),
        ],
    );
    assert!(explanation.next.is_empty());
}

#[test]
fn four_slides() {
    let explanation = explained(include_str!("traces/four-slides.trace"));
    let pair = |relation, in_phase, hum| Pair("neck", "bridge", relation, in_phase, hum);
    check(
        &explanation,
        0,
        &[
            row("up up up up", 3253.0, pair(Parallel, true, 1.0)),
            row("up up up down", 117947.3, pair(Parallel, true, 1.0)),
            row("up up down up", 12547.0, pair(Series, true, 1.0)),
            row("up up down down", 120656.7, pair(Series, true, 1.0)),
            row("up down up up", 3253.0, pair(Parallel, false, 0.050)),
            row("up down up down", 117947.3, pair(Parallel, false, 0.050)),
            row("up down down up", 12547.0, pair(Series, false, 0.0)),
            row("up down down down", 120656.7, pair(Series, false, 0.0)),
            row("down up up up", 6714.7, Alone("bridge")),
            row("down up up down", 118945.3, Alone("bridge")),
            row("down up down up", 250000.0, Nothing),
            row("down up down down", 250000.0, Nothing),
            row("down down up up", 6714.7, Alone("bridge")),
            row("down down up down", 118945.3, Alone("bridge")),
            row("down down down up", 250000.0, Nothing),
            row("down down down down", 250000.0, Nothing),
        ],
    );
}

#[test]
fn half_cut_rotary() {
    let explanation = explained(include_str!("traces/half-cut-rotary.trace"));
    let goes_to: Vec<_> = explanation
        .possibilities
        .iter()
        .map(|possibility| possibility.choices[0].goes_to.clone().unwrap())
        .collect();
    assert_eq!(goes_to, ["rotary.a3", "volume.3"]);
    let pair = |relation, in_phase, hum| Pair("neck", "bridge", relation, in_phase, hum);
    check(
        &explanation,
        0,
        &[
            row("1 up", 2898.8, pair(Parallel, true, 0.245)),
            row("1 down", 7097.8, Alone("neck")),
            row("2 up", 2898.8, pair(Parallel, true, 0.245)),
            row("2 down", 4852.4, Alone("bridge")),
            row("3 up", 3313.6, pair(Parallel, true, 0.245)),
            row("3 down", 7505.6, Alone("neck")),
            row("4 up", 500000.0, pair(Parallel, true, 0.245)),
            row("4 down", 500000.0, Alone("bridge")),
        ],
    );
    check(
        &explanation,
        1,
        &[
            row("1 up", 2898.8, pair(Parallel, true, 0.245)),
            row("1 down", 7097.8, Alone("neck")),
            row("2 up", 2898.8, pair(Parallel, true, 0.245)),
            row("2 down", 2964.6, pair(Mixture, true, 0.376)),
            row("3 up", 3313.6, pair(Parallel, true, 0.245)),
            row("3 down", 7505.6, Alone("neck")),
            row("4 up", 3313.6, pair(Parallel, true, 0.245)),
            row("4 down", 7505.6, pair(Mixture, false, 0.988)),
        ],
    );
}

#[test]
fn half_cut_rotary_what_is_certain_and_what_decides() {
    let explanation = explained(include_str!("traces/half-cut-rotary.trace"));
    let state =
        |name: &str| explanation.states.iter().find(|state| name_of(&explanation, state) == name).unwrap();
    // Position 3 is the same wherever the stub went; the ohms differ in 2 down and in 4.
    assert!(state("3 up").curve.certain().is_some() && state("3 up").hum.certain().is_some());
    let differing: Vec<String> = explanation
        .states
        .iter()
        .filter(|state| state.ohms.certain().is_none())
        .map(|state| name_of(&explanation, state))
        .collect();
    assert_eq!(differing, ["2 down", "4 up", "4 down"]);
    // One bit is open, and only the stub can tell it: the lead is cut, so no meter finds where it went.
    let [stub] = explanation.next.as_slice() else { panic!("{:?}", explanation.next) };
    assert_eq!(stub.what, Look::Stub { stub: "choke.b".to_owned() });
    assert!((stub.bits - 1.0).abs() < 1e-9);
    assert_eq!(stub.answers[0].found, Finding::GoesTo(Some("rotary.a3".to_owned())));
    // Positions 1 up and 2 up are one network, whichever way the stub went.
    assert!(explanation.groups.iter().any(|group| {
        let names: Vec<String> =
            group.states.iter().map(|&at| name_of(&explanation, &explanation.states[at])).collect();
        names == ["1 up", "2 up"]
    }));
    assert!(
        explanation.dead_parts.iter().all(|dead| dead.possibilities != DeadIn::All),
        "{:?}",
        explanation.dead_parts
    );
}
