//! Names of coils, of positions, and of conditions.

use std::collections::BTreeSet;

use asfound_study::conditions::Condition;
use asfound_study::wiring::explain::Explanation;

use crate::lists::{and, or};

/// A name of the trace as it is said: `tone cap` for `tone-cap`.
pub(crate) fn said(name: &str) -> String {
    name.replace(['-', '_'], " ")
}

/// `the tone cap`; a bare sign such as `c1` goes without the article.
pub(crate) fn part(name: &str) -> String {
    let said = said(name);
    let is_word = |piece: &str| piece.chars().count() > 2 && piece.chars().all(char::is_alphabetic);
    if said.split(' ').any(is_word) { format!("the {said}") } else { said }
}

/// A phrase with its place behind it, where there is one.
pub(super) fn with_place(phrase: &str, place: &str) -> String {
    if place.is_empty() { phrase.to_owned() } else { format!("{phrase} {place}") }
}

/// `neck coil`, whether the trace calls it `neck` or `neck-coil`.
pub(super) fn coil(explanation: &Explanation, coil: usize) -> String {
    coil_named(&explanation.coils[coil])
}

/// The same from the name in the trace.
pub(crate) fn coil_named(name: &str) -> String {
    let name = said(name);
    if has_word(&name, &["coil"]) { name } else { format!("{name} coil") }
}

/// `the neck and bridge coils`, `the neck coil`.
pub(super) fn coils(explanation: &Explanation, which: &[usize]) -> String {
    match which {
        [one] => format!("the {}", coil(explanation, *one)),
        several => {
            let names: Vec<String> = several.iter().map(|&at| said(&explanation.coils[at])).collect();
            if names.iter().any(|name| has_word(name, &["coil"])) {
                format!("the {}", and(&names))
            } else {
                format!("the {} coils", and(&names))
            }
        }
    }
}

/// `volume knob`, whether the trace calls the pot `volume` or `volume-knob`.
pub(super) fn knob(explanation: &Explanation, pot: usize) -> String {
    let name = said(&explanation.pots[pot]);
    if has_word(&name, &["knob", "pot"]) { name } else { format!("{name} knob") }
}

fn has_word(name: &str, words: &[&str]) -> bool {
    name.split(' ').any(|piece| words.iter().any(|word| piece.eq_ignore_ascii_case(word)))
}

/// Coils of which the winding or the pole is not known.
pub(super) fn untapped(explanation: &Explanation) -> Vec<usize> {
    let Some(first) = explanation.possibilities.first() else { return Vec::new() };
    let differs =
        |coil: &usize| explanation.possibilities.iter().any(|one| one.signs[*coil] != first.signs[*coil]);
    (0..explanation.coils.len()).filter(differs).collect()
}

/// Every possibility.
pub(super) fn all(explanation: &Explanation) -> Vec<usize> {
    (0..explanation.possibilities.len()).collect()
}

/// The ends of cut leads, by name.
pub(super) fn stubs(explanation: &Explanation) -> Vec<String> {
    let first = explanation.possibilities.first();
    let mut stubs: Vec<String> =
        first.map(|one| one.choices.iter().map(|choice| choice.stub.clone()).collect()).unwrap_or_default();
    stubs.sort();
    stubs
}

/// `on rotary 1 or 2 with push-pull up`; where it holds for every state, `in every position`; without switches, nothing.
pub(super) fn positions(explanation: &Explanation, states: &[usize]) -> String {
    if explanation.switches.is_empty() {
        return String::new();
    }
    match blocks(explanation, states).as_slice() {
        [] => String::new(),
        [block] if block.is_empty() => "in every position".to_owned(),
        [block] if block.len() > 2 => format!("with {}", and(block)),
        blocks if blocks.len() > MOST_NAMED => {
            format!("in {} of the {} positions", states.len(), explanation.states.len())
        }
        blocks => format!("on {}", and(&blocks.iter().map(|block| one_block(block)).collect::<Vec<_>>())),
    }
}

/// Whether states are all combinations of some positions of each switch, so that one phrase places them.
pub(super) fn is_one_block(explanation: &Explanation, states: &[usize]) -> bool {
    blocks(explanation, states).len() == 1
}

/// How many positions are named in one sentence before nobody reads on.
const MOST_NAMED: usize = 4;

/// `rotary 1 or 2 with push-pull up`. A switch that makes no difference here is left out; where states are no such block,
/// each is named.
pub(super) fn short_positions(explanation: &Explanation, states: &[usize]) -> String {
    let blocks = blocks(explanation, states);
    if blocks.len() > MOST_IN_A_ROW {
        return format!("{} of the {} positions", states.len(), explanation.states.len());
    }
    let told: Vec<String> = blocks
        .iter()
        .map(|block| if block.is_empty() { "every position".to_owned() } else { one_block(block) })
        .collect();
    if explanation.switches.is_empty() { String::new() } else { and(&told) }
}

/// Combinations named one after the other in a row of a table.
const MOST_IN_A_ROW: usize = 16;

/// Switches named in one combination.
const MOST_SWITCHES: usize = 8;

fn one_block(block: &[String]) -> String {
    match block {
        [first, second] => format!("{first} with {second}"),
        many if many.len() > MOST_SWITCHES => {
            format!("{} and {} more switches", many[..MOST_SWITCHES].join(", "), many.len() - MOST_SWITCHES)
        }
        several => several.join(", "),
    }
}

/// States as blocks of switch positions: one block where they are all combinations of some positions of each switch,
/// else a block for each. A switch whose position makes no difference stands in no block.
fn blocks(explanation: &Explanation, states: &[usize]) -> Vec<Vec<String>> {
    let switches = &explanation.switches;
    let used: Vec<BTreeSet<usize>> = (0..switches.len())
        .map(|switch| states.iter().map(|&state| explanation.states[state].positions[switch]).collect())
        .collect();
    if used.iter().map(BTreeSet::len).product::<usize>() == states.len() {
        let matters = |at: usize| used[at].len() < switches[at].positions.len();
        let name = |at: usize| {
            let names: Vec<&str> =
                used[at].iter().map(|&position| switches[at].positions[position].as_str()).collect();
            format!("{} {}", switches[at].name, or(&names))
        };
        return vec![(0..switches.len()).filter(|&at| matters(at)).map(name).collect()];
    }
    let one = |state: usize| {
        let positions = switches.iter().zip(&explanation.states[state].positions);
        positions.map(|(switch, &at)| format!("{} {}", switch.name, switch.positions[at])).collect()
    };
    states.iter().map(|&state| one(state)).collect()
}

/// `if choke.b went to rotary.3`, `unless choke.b went nowhere`.
pub(super) fn condition(condition: &Condition) -> String {
    match condition {
        Condition::Unless(other) => format!("unless {}", bare_condition(other)),
        Condition::Other => "in some of the ways that are open".to_owned(),
        plain => format!("if {}", bare_condition(plain)),
    }
}

/// `choke.b went to rotary.3`, for after an `if`.
pub(super) fn bare_condition(condition: &Condition) -> String {
    match condition {
        Condition::Stub { stub, goes_to } => match ends(goes_to).as_slice() {
            [nowhere] if nowhere == NOWHERE => format!("{stub} went nowhere"),
            ends => format!("{stub} went to {}", or(ends)),
        },
        Condition::Winding { coil, clockwise } => {
            format!("{coil} is wound {}", if *clockwise { "clockwise" } else { "anticlockwise" })
        }
        Condition::StringSigns { coils: [a, b], same } => {
            format!(
                "{a} and {b} answer the string with {}",
                if *same { "the same sign" } else { "opposite signs" }
            )
        }
        Condition::Windings { coils: [a, b], same } => {
            format!("{a} and {b} are wound {}", if *same { "the same way" } else { "opposite ways" })
        }
        Condition::Both(first, second) => match second.as_ref() {
            Condition::Unless(exception) => {
                format!("{}, unless {}", bare_condition(first), bare_condition(exception))
            }
            second => format!("{} and {}", bare_condition(first), bare_condition(second)),
        },
        Condition::Unless(other) => format!("it is not so that {}", bare_condition(other)),
        Condition::Other => "one of several things is so".to_owned(),
    }
}

/// A condition as a label on a line or in a table: `choke.b to rotary.3, same sign`.
pub(super) fn short_condition(explanation: &Explanation, condition: &Condition) -> String {
    // With two coils it is plain which two are meant.
    let pair = |[a, b]: &[String; 2]| {
        if explanation.coils.len() > 2 { format!("{a} and {b} ") } else { String::new() }
    };
    match condition {
        Condition::Stub { stub, goes_to } => match ends(goes_to).as_slice() {
            [nowhere] if nowhere == NOWHERE => format!("{stub} nowhere"),
            ends => format!("{stub} to {}", or(ends)),
        },
        Condition::Winding { coil, clockwise } => {
            format!("{coil} {}", if *clockwise { "clockwise" } else { "anticlockwise" })
        }
        Condition::StringSigns { coils, same } => {
            format!("{}{}", pair(coils), if *same { "same sign" } else { "opposite signs" })
        }
        Condition::Windings { coils, same } => {
            format!("{}wound {}", pair(coils), if *same { "alike" } else { "opposite ways" })
        }
        Condition::Both(first, second) => {
            format!("{}, {}", short_condition(explanation, first), short_condition(explanation, second))
        }
        Condition::Unless(other) if matches!(**other, Condition::Both(..)) => {
            format!("not ({})", short_condition(explanation, other))
        }
        Condition::Unless(other) => format!("not {}", short_condition(explanation, other)),
        Condition::Other => "otherwise".to_owned(),
    }
}

const NOWHERE: &str = "nowhere";

fn ends(goes_to: &[Option<String>]) -> Vec<String> {
    goes_to.iter().map(|end| end.clone().unwrap_or_else(|| NOWHERE.to_owned())).collect()
}
