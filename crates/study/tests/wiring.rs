//! The wiring: which entry a line of the trace came from, and conditions that tell exactly what they say.

mod common;

use std::sync::LazyLock;

use asfound_study::conditions::{Condition, share, when};
use asfound_study::wiring::{
    Explanation, WiringTold, declared_names, of_text, open_questions, response, study,
};
use common::Ledger;
use proptest::prelude::*;

const BASS: &str = include_str!("../../asfound/demo/bass.trace");

fn explained(trace: &str) -> Explanation {
    match of_text(trace) {
        WiringTold::Explained(explained) => explained.explanation,
        other => panic!("{other:?}"),
    }
}

/// Three coils of which nothing is tapped, and two cut leads: 2 × 3 ways times 64 signs.
const OPEN: &str = "
coil neck 7k2
coil middle 6k
coil bridge 4k9
switch rotary two-way rotary
pot volume 500k
capacitor c 2n2
jack jack
join neck.hot rotary.a1 metered
join middle.hot rotary.a2 metered
join bridge.hot rotary.a1 or rotary.a2 unknown
join c.a rotary.a1 or rotary.a2 or nothing unknown
join c.b volume.1 metered
join rotary.a0 volume.3 metered
join volume.2 jack.tip metered
join volume.1 jack.sleeve metered
join neck.ground volume.1 metered
join middle.ground volume.1 metered
join bridge.ground volume.1 metered
";

static OPEN_EXPLAINED: LazyLock<Explanation> = LazyLock::new(|| explained(OPEN));
static BASS_EXPLAINED: LazyLock<Explanation> = LazyLock::new(|| explained(BASS));

#[test]
fn an_empty_job_has_no_wiring_and_blank_lines_are_none() {
    assert_eq!(study(&Ledger::opened().job).told, WiringTold::NothingTraced);
    assert_eq!(of_text("# only words\n\n"), WiringTold::NothingTraced);
}

#[test]
fn a_job_is_studied_like_its_trace() {
    let WiringTold::Explained(told) = study(&Ledger::with(BASS).job).told else { panic!() };
    assert_eq!(told.explanation, explained(BASS));
}

#[test]
fn a_fault_names_the_entry_it_came_from() {
    let mut job = Ledger::opened();
    let coil = job.say("coil neck 7k2");
    let join = job.say("join neck.hot nothere.1 metered");
    let wiring = study(&job.job);
    assert_eq!(wiring.entries, [(coil.seq, 1), (join.seq, 2)]);
    let WiringTold::NotYet(faults) = &wiring.told else { panic!() };
    let lines: Vec<usize> = faults.told.iter().map(|fault| fault.line).collect();
    assert!(lines.contains(&2), "{faults:?}");
    assert_eq!(wiring.entry_of_line(2), Some(join.seq));
    // A corrected line is told by what stands.
    let right = job.hear("join neck.hot jack.tip metered").unwrap().body;
    let correction = job.correct(&join, &right);
    assert_eq!(study(&job.job).entry_of_line(2), Some(correction.seq));
}

#[test]
fn entries_of_several_lines_are_counted_through() {
    use asfound_study::record::{Body, Trace1};
    let mut job = Ledger::opened();
    let text = "coil neck 7k2\n\njack jack\n".to_owned();
    let first = job.keep(&Body::Trace(Trace1 { grammar: 1, text }));
    let second = job.say("pot volume 500k");
    let wiring = study(&job.job);
    let places: Vec<_> = (1..=4).map(|line| wiring.place_of_line(line)).collect();
    let expected = [(first.seq, 1), (first.seq, 2), (first.seq, 3), (second.seq, 1)];
    assert_eq!(places, expected.map(Some));
    assert_eq!(wiring.place_of_line(0), None);
}

#[test]
fn what_a_trace_declares_and_leaves_open() {
    let job = Ledger::with(BASS).job;
    assert!(declared_names(&job).contains(&"big-cap".to_owned()));
    let open = open_questions(&job);
    assert_eq!(open.unknown_joins, ["choke.b", "small-cap.b"]);
    assert_eq!(open.untapped_coils, ["bridge"]);
}

#[test]
fn a_silent_state_has_no_plot_and_silent_cases_no_curve() {
    let silent = "coil neck 7k2\npot volume 500k\njack jack\njoin neck.hot neck.ground metered\n\
        join volume.2 jack.tip metered\njoin volume.1 jack.sleeve metered\njoin neck.ground volume.1 metered\n";
    let explanation = explained(silent);
    assert!(response(&explanation, &explanation.groups[0], "silence", None, |_| String::new()).is_none());
    let explanation = explained(BASS);
    for group in &explanation.groups {
        if let Some(plot) = response(&explanation, group, "response", None, |_| "curve".to_owned()) {
            assert!(!plot.description().contains("−200"), "{}", plot.description());
        }
    }
}

/// The plainest words for a set hold in exactly its members, among those it was told from.
fn tells_exactly(
    explanation: &Explanation,
    set: &[usize],
    among: &[usize],
) -> Result<Condition, TestCaseError> {
    let condition = when(explanation, set, among);
    for &at in among {
        if let Some(holds) = condition.holds_in(explanation, at) {
            prop_assert_eq!(holds, set.contains(&at), "{:?} in {}", &condition, at);
        }
    }
    Ok(condition)
}

#[test]
fn nothing_to_tell_apart_is_no_condition() {
    let explanation = explained(OPEN);
    let all: Vec<usize> = (0..explanation.possibilities.len()).collect();
    assert_eq!(when(&explanation, &[], &all), Condition::Other);
    assert_eq!(when(&explanation, &all, &all), Condition::Other);
    assert_eq!(share(&explanation, &all), 1.0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Sets that are one fact, two, three, one without another, and what is left of each.
    #[test]
    fn facts_together_and_their_exceptions_are_told_exactly(
        goes in proptest::option::of(0..2_usize), c_goes in proptest::option::of(0..3_usize),
        signs in proptest::option::of(any::<bool>()), without in proptest::option::of(0..3_usize), turned: bool, fewer in 1..4_usize,
    ) {
        let explanation = &*OPEN_EXPLAINED;
        let ends = [Some("rotary.a1"), Some("rotary.a2"), None];
        let among: Vec<usize> = (0..explanation.possibilities.len()).filter(|at| at % fewer == 0).collect();
        let in_it = |at: &usize| {
            let one = &explanation.possibilities[*at];
            let end = |stub: &str| one.choices.iter().find(|choice| choice.stub == stub).and_then(|choice| choice.goes_to.clone());
            let is_at = |stub: &str, to: usize| end(stub).as_deref() == ends[to];
            let same = one.signs[0].string_positive() == one.signs[2].string_positive();
            let together = goes.is_none_or(|to| is_at("bridge.hot", to))
                && c_goes.is_none_or(|to| is_at("c.a", to))
                && signs.is_none_or(|wanted| same == wanted);
            let exception = without.is_some_and(|to| is_at("c.a", to) && is_at("bridge.hot", 0));
            (together && !exception) != turned
        };
        let set: Vec<usize> = among.iter().copied().filter(in_it).collect();
        let condition = tells_exactly(explanation, &set, &among)?;
        let is_plain = without.is_none() && !set.is_empty() && set.len() < among.len();
        if is_plain && !turned {
            prop_assert_ne!(condition, Condition::Other);
        }
    }

    /// Any set at all: told exactly, or not at all.
    #[test]
    fn no_condition_claims_more_than_it_holds(chosen in proptest::collection::vec(any::<bool>(), 16), every in 1..5_usize) {
        let explanation = &*BASS_EXPLAINED;
        let among: Vec<usize> = (0..explanation.possibilities.len()).step_by(every).collect();
        let set: Vec<usize> = among.iter().copied().filter(|at| chosen[at % 16]).collect();
        tells_exactly(explanation, &set, &among)?;
    }
}
