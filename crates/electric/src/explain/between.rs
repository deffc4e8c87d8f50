//! What sounds while a switch stands between two positions, where its contacts bridge or may bridge.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::agreed::gather;
use super::experiment::{Found, experiment};
use super::facts::RelationWord;
use super::listen::Bench;
use super::possibilities::Possible;
use super::told::{BetweenFact, BetweenTold, Limit};
use super::{MOST_BETWEEN, half_way, nets_of_all};
use crate::circuit::Circuit;
use crate::network::Unsolvable;
use crate::plan::Between;
use crate::state::{OnTheWay, Setting};

/// A switch moved from its position in one state to the next: the switch, and both states.
type Move = (usize, usize, usize);

/// Every move of one switch to its next position at which something else sounds than at both ends of the move, and what
/// is left out.
///
/// `found` are the findings of the states told. The experiments are those of a state, without its curve.
pub(super) fn between(
    bench: &Bench,
    possible: &Possible,
    settings: &[Setting],
    found: &[Vec<Rc<Found>>],
) -> Result<(Vec<BetweenTold>, Option<Limit>), Unsolvable> {
    let plans: Vec<Between> = bench.circuit.switches().map(|(_, plan)| plan.between()).collect();
    let moves = moves(bench.circuit, settings);
    let mut known = BTreeMap::new();
    let mut told = Vec::new();
    for &(switch, from, to) in moves.iter().take(MOST_BETWEEN) {
        let mut moving = half_way(&settings[from]);
        moving.on_the_way = Some(OnTheWay { switch, both_touch: true });
        let facts = facts(bench, possible, &moving, &mut known)?;
        let as_at_an_end = |(wiring, fact): (usize, &BetweenFact)| {
            [from, to].iter().any(|&at| *fact == of(&found[at][wiring]))
        };
        if facts.iter().enumerate().all(as_at_an_end) {
            continue;
        }
        let given = facts.into_iter().enumerate();
        let given = given.map(|(wiring, fact)| (fact, possible.of_wiring(wiring, |_| true)));
        let what = gather(given, &possible.weights);
        told.push(BetweenTold { switch, from, to, bridges: plans[switch] == Between::Neighbours, what });
    }
    let left_out = Limit::MovesLeftOut { tried: MOST_BETWEEN, of: moves.len() };
    Ok((told, (moves.len() > MOST_BETWEEN).then_some(left_out)))
}

/// The moves on which contacts may bridge, switch after switch.
fn moves(circuit: &Circuit, settings: &[Setting]) -> Vec<Move> {
    let states: BTreeMap<&[usize], usize> =
        settings.iter().enumerate().map(|(at, setting)| (setting.positions.as_slice(), at)).collect();
    let mut moves = Vec::new();
    for (switch, (_, plan)) in circuit.switches().enumerate() {
        if !plan.between().ways().contains(&true) {
            continue;
        }
        for (from, setting) in settings.iter().enumerate() {
            let mut next = setting.positions.clone();
            next[switch] += 1;
            moves.extend(states.get(next.as_slice()).map(|&to| (switch, from, to)));
        }
    }
    moves
}

/// For each wiring, what sounds; moves that come to the same nets share one experiment.
fn facts(
    bench: &Bench,
    possible: &Possible,
    moving: &Setting,
    known: &mut BTreeMap<Vec<u32>, BetweenFact>,
) -> Result<Vec<BetweenFact>, Unsolvable> {
    let mut facts = Vec::with_capacity(possible.wirings.len());
    for wired in &possible.wirings {
        let nets = nets_of_all(wired, moving);
        let fact = match known.get(&nets) {
            Some(fact) => fact.clone(),
            None => of(&experiment(bench, wired, moving, &[])?),
        };
        known.insert(nets, fact.clone());
        facts.push(fact);
    }
    Ok(facts)
}

fn of(found: &Found) -> BetweenFact {
    let mut words = found.relations.iter().map(|(_, _, relation)| relation.word);
    let first = words.next();
    let relation = if words.all(|word| Some(word) == first) { first } else { Some(RelationWord::Mixture) };
    BetweenFact { output: found.output, coils: found.audible.clone(), relation }
}
