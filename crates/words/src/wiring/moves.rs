//! What sounds for a moment between two positions of a switch.

use asfound_study::wiring::explain::{BetweenFact, BetweenTold, Explanation, JackOutput};

use super::{names, sound};
use crate::lists::{capital, or};
use crate::sheet::{Table, Told};

/// Moves of one switch between the same two positions that sound alike.
struct Alike<'a> {
    first: &'a BetweenTold,
    /// The states the moves leave.
    from: Vec<usize>,
    what: String,
}

/// What sounds between positions, as one finding.
pub(super) fn finding(explanation: &Explanation) -> Option<Told> {
    let moves = alike(explanation);
    let sentence = match moves.as_slice() {
        [] => return None,
        [one] => format!("Between {}, {}.", place(explanation, one), one.what),
        _ => "Between two positions something else sounds for a moment than at either.".to_owned(),
    };
    let tried = moves.iter().filter(|it| it.first.bridges).count();
    let sure = match moves.len() - tried {
        0 => "The contacts bridge, as traced.",
        all if all == moves.len() => "If the contacts bridge: it was not tried.",
        _ => "The contacts of some bridge, as traced; for the others it was not tried.",
    };
    let mut table = Table::with("Between two positions", &["between", "what sounds", "contacts"]);
    if moves.len() > 1 {
        let contacts = |it: &Alike| if it.first.bridges { "bridge" } else { "not tried" };
        let row = |it: &Alike| vec![place(explanation, it), it.what.clone(), contacts(it).to_owned()];
        table.rows = moves.iter().map(row).collect();
    }
    Some(Told {
        id: "between".into(),
        sentence: capital(&sentence),
        sure: sure.into(),
        tables: if table.rows.is_empty() { Vec::new() } else { vec![table] },
        ..Told::default()
    })
}

fn alike(explanation: &Explanation) -> Vec<Alike<'_>> {
    let mut moves: Vec<Alike> = Vec::new();
    for told in &explanation.between {
        let mut what: Vec<String> = told.what.facts().map(|fact| words(explanation, fact)).collect();
        what.dedup();
        let what = or(&what);
        match moves
            .iter_mut()
            .find(|it| ends(explanation, it.first) == ends(explanation, told) && it.what == what)
        {
            Some(same) => same.from.push(told.from),
            None => moves.push(Alike { first: told, from: vec![told.from], what }),
        }
    }
    moves
}

/// The switch and its positions at both ends of a move.
fn ends(explanation: &Explanation, told: &BetweenTold) -> [usize; 3] {
    let position = |state: usize| explanation.states[state].positions[told.switch];
    [told.switch, position(told.from), position(told.to)]
}

/// `rotary 1 with push-pull down and rotary 2`.
fn place(explanation: &Explanation, moves: &Alike) -> String {
    let [switch, _, to] = ends(explanation, moves.first);
    let switch = &explanation.switches[switch];
    format!(
        "{} and {} {}",
        names::short_positions(explanation, &moves.from),
        switch.name,
        switch.positions[to]
    )
}

fn words(explanation: &Explanation, fact: &BetweenFact) -> String {
    match fact.output {
        JackOutput::Shorted => "the output is shorted".to_owned(),
        JackOutput::Open => "nothing joins tip to sleeve".to_owned(),
        JackOutput::Silent => "no coil is heard".to_owned(),
        JackOutput::Live => {
            let coils = names::coils(explanation, &fact.coils);
            match fact.relation {
                None => format!("{coils} sounds alone"),
                Some(relation) => format!("{coils} sound {}", sound::relation_word(relation)),
            }
        }
    }
}
