//! Names of coils, of positions, and of conditions.

use std::collections::BTreeSet;

use asfound_study::conditions::Condition;
use asfound_study::wiring::explain::Explanation;

use crate::lists::{and, or};

/// `neck coil`, whether the trace calls it `neck` or `neck-coil`.
pub(super) fn coil(explanation: &Explanation, coil: usize) -> String {
    let name = explanation.coils[coil].replace(['-', '_'], " ");
    if name.to_lowercase().contains("coil") { name } else { format!("{name} coil") }
}

/// `the neck and bridge coils`, `the neck coil`.
pub(super) fn coils(explanation: &Explanation, which: &[usize]) -> String {
    match which {
        [one] => format!("the {}", coil(explanation, *one)),
        several => {
            let names: Vec<String> = several.iter().map(|&at| explanation.coils[at].replace(['-', '_'], " ")).collect();
            if names.iter().any(|name| name.to_lowercase().contains("coil")) {
                format!("the {}", and(&names))
            } else {
                format!("the {} coils", and(&names))
            }
        }
    }
}

/// The ends of cut leads, once each.
pub(super) fn stubs(explanation: &Explanation) -> Vec<String> {
    let first = explanation.possibilities.first();
    first.map(|one| one.choices.iter().map(|choice| choice.stub.clone()).collect()).unwrap_or_default()
}

/// `on rotary 1 or 2 with push-pull up`; without switches, nothing.
pub(super) fn positions(explanation: &Explanation, states: &[usize]) -> String {
    let short = short_positions(explanation, states);
    if short.is_empty() { String::new() } else { format!("on {short}") }
}

/// `rotary 1 or 2, push-pull up`. A switch that makes no difference here is left out; where states are no such block,
/// each is named.
pub(super) fn short_positions(explanation: &Explanation, states: &[usize]) -> String {
    let switches = &explanation.switches;
    let used: Vec<BTreeSet<usize>> = (0..switches.len())
        .map(|switch| states.iter().map(|&state| explanation.states[state].positions[switch]).collect())
        .collect();
    let block: usize = used.iter().map(BTreeSet::len).product();
    if block == states.len() {
        let mut pieces = Vec::new();
        for (switch, positions) in switches.iter().zip(&used) {
            if positions.len() == switch.positions.len() && positions.len() > 1 {
                continue;
            }
            let names: Vec<&str> = positions.iter().map(|&at| switch.positions[at].as_str()).collect();
            pieces.push(format!("{} {}", switch.name, or(&names)));
        }
        return if pieces.is_empty() && !switches.is_empty() { "every position".to_owned() } else { pieces.join(" with ") };
    }
    let each: Vec<String> = states.iter().map(|&state| one_state(explanation, state)).collect();
    and(&each)
}

fn one_state(explanation: &Explanation, state: usize) -> String {
    let positions = &explanation.states[state].positions;
    let pieces: Vec<String> = explanation
        .switches
        .iter()
        .zip(positions)
        .map(|(switch, &at)| format!("{} {}", switch.name, switch.positions[at]))
        .collect();
    pieces.join(" with ")
}

/// `if choke.b went to rotary.3`, `unless choke.b went to nothing`.
pub(super) fn condition(condition: &Condition) -> String {
    match condition {
        Condition::Unless(other) => format!("unless {}", bare_condition(other)),
        Condition::Other => "in some of the ways that are open".to_owned(),
        plain => format!("if {}", bare_condition(plain)),
    }
}

fn bare_condition(condition: &Condition) -> String {
    match condition {
        Condition::Stub { stub, goes_to } => {
            let ends: Vec<String> =
                goes_to.iter().map(|end| end.clone().unwrap_or_else(|| "nothing".to_owned())).collect();
            if ends == ["nothing"] { format!("{stub} went nowhere") } else { format!("{stub} went to {}", or(&ends)) }
        }
        Condition::Winding { coil, clockwise } => {
            format!("{coil} is wound {}", if *clockwise { "clockwise" } else { "anticlockwise" })
        }
        Condition::StringSigns { coils: [a, b], same } => {
            format!("{a} and {b} answer the string with {}", if *same { "the same sign" } else { "opposite signs" })
        }
        Condition::Windings { coils: [a, b], same } => {
            format!("{a} and {b} are wound {}", if *same { "the same way" } else { "opposite ways" })
        }
        Condition::Both(first, second) => format!("{} and {}", bare_condition(first), bare_condition(second)),
        Condition::Unless(other) => format!("it is not so that {}", bare_condition(other)),
        Condition::Other => "one of several things is so".to_owned(),
    }
}
