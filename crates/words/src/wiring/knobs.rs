//! What each knob does, over all positions.

use asfound_study::wiring::DeadIn;
use asfound_study::wiring::explain::{Explanation, KnobWord};

use super::names;
use crate::lists::{capital, or};
use crate::sheet::{Table, Told};

/// What a knob does, after its name.
pub(super) fn words(explanation: &Explanation, word: &KnobWord) -> String {
    let those = |coils: &[usize], all: bool| {
        if all { "the sound".to_owned() } else { names::coils(explanation, coils) }
    };
    match word {
        KnobWord::Nothing => "does nothing".to_owned(),
        KnobWord::Volume { all: true, .. } => "turns the sound down to silence".to_owned(),
        KnobWord::Volume { silences, .. } => {
            format!("turns {} down to silence", names::coils(explanation, silences))
        }
        KnobWord::Kills { silences, all } => {
            format!("cuts {} off at its end, with little change before", those(silences, *all))
        }
        KnobWord::Blend { brings_in, silences } if silences.is_empty() => {
            format!("blends in {}", names::coils(explanation, brings_in))
        }
        KnobWord::Blend { brings_in, silences } => format!(
            "blends from {} to {}",
            names::coils(explanation, silences),
            names::coils(explanation, brings_in)
        ),
        KnobWord::TrebleCut => "takes the highs down".to_owned(),
        KnobWord::BassCut => "takes the lows down".to_owned(),
        KnobWord::Level => "sets the level, without silencing".to_owned(),
    }
}

/// States in which a knob does the same, and what it does there: several things where that depends.
struct Doing {
    what: Vec<String>,
    states: Vec<usize>,
}

/// Each knob as a finding. One that no path runs through is told among the parts that do nothing.
pub(super) fn findings(explanation: &Explanation) -> impl Iterator<Item = Told> + '_ {
    let is_dead = |pot: &usize| {
        let name = &explanation.pots[*pot];
        explanation.dead_parts.iter().any(|dead| dead.part == *name && dead.possibilities == DeadIn::All)
    };
    (0..explanation.pots.len()).filter(move |pot| !is_dead(pot)).map(|pot| finding(explanation, pot))
}

fn finding(explanation: &Explanation, pot: usize) -> Told {
    let doings = doings(explanation, pot);
    let name = format!("the {}", names::knob(explanation, pot));
    let what = |doing: &Doing| {
        if doing.what.len() == 1 { doing.what[0].clone() } else { format!("either {}", or(&doing.what)) }
    };
    let said = |doing: &Doing| names::with_place(&what(doing), &names::positions(explanation, &doing.states));
    let sentence = match doings.as_slice() {
        [only] => format!("{name} {}.", said(only)),
        // Where the more frequent doing takes many words to place, the other is placed and it is elsewhere.
        [first, second] if names::is_one_block(explanation, &first.states) => {
            format!("{name} {}; it {}.", said(first), said(second))
        }
        [first, second] => format!("{name} {}; elsewhere it {}.", said(second), what(first)),
        several => format!("{name} does {} different things, by position.", several.len()),
    };
    let depends = doings.iter().any(|doing| doing.what.len() > 1);
    let mut table = Table::with("What the knob does", &["position", "what it does"]);
    if doings.len() > 2 {
        table.rows = doings
            .iter()
            .map(|doing| vec![names::short_positions(explanation, &doing.states), or(&doing.what)])
            .collect();
    }
    Told {
        id: format!("knob-{}", explanation.pots[pot]),
        sentence: capital(&sentence),
        sure: if depends { "Where the cut leads went decides it." } else { "Certain as traced." }.to_owned(),
        tables: if table.rows.is_empty() { Vec::new() } else { vec![table] },
        working: vec![
            "Found by turning it from end to end on the solved network, the other knobs open.".to_owned(),
        ],
        ..Told::default()
    }
}

/// What a knob does, the most frequent first.
fn doings(explanation: &Explanation, pot: usize) -> Vec<Doing> {
    let mut doings: Vec<Doing> = Vec::new();
    for group in &explanation.groups {
        let mut what: Vec<String> = Vec::new();
        for fact in explanation.states[group.states[0]].knobs[pot].facts() {
            let words = words(explanation, &fact.word);
            if !what.contains(&words) {
                what.push(words);
            }
        }
        match doings.iter_mut().find(|doing| doing.what == what) {
            Some(doing) => doing.states.extend(&group.states),
            None => doings.push(Doing { what, states: group.states.clone() }),
        }
    }
    for doing in &mut doings {
        doing.states.sort_unstable();
    }
    doings.sort_by_key(|doing| std::cmp::Reverse(doing.states.len()));
    doings
}
