//! What to look at next: how much each look would tell about what the circuit does.
//!
//! Possibilities in which every fact is the same are one class. What a look tells is the mutual information between its
//! answer and the class (C. E. Shannon, Bell System Technical Journal 27, 379, 1948): the entropy of the classes less
//! what is expected to be left of it. A stub that changes nothing that can be heard or metered tells nothing.
//!
//! An unknown join is a lead that was cut, so nothing that is metered now can tell where it went: only the stub can.

use std::collections::BTreeMap;

use super::MOST_LOOKS;
use super::agreed::{Agreed, Case};
use super::facts::StateTold;
use super::possibilities::{Possible, open_joins};
use super::told::{Answer, CoilSigns, Finding, Look, NextLook};
use crate::circuit::Circuit;

/// Looks in the order of what they tell.
pub(super) fn looks(circuit: &Circuit, possible: &Possible, states: &[StateTold]) -> Vec<NextLook> {
    let count = possible.all.len();
    if count < 2 {
        return Vec::new();
    }
    let by_state: Vec<Vec<usize>> = states.iter().map(|state| classes(state, count)).collect();
    let mut overall = vec![0; count];
    for classes in &by_state {
        refine(&mut overall, classes);
    }
    let candidates: Vec<Candidate> = candidates(circuit, possible)
        .into_iter()
        .map(|(what, findings)| {
            let answers = numbered(&findings);
            let bits = information(&overall, &answers, &possible.weights);
            Candidate { what, findings, answers, bits }
        })
        .collect();
    let mut looks: Vec<NextLook> = candidates
        .iter()
        .map(|look| {
            let (bits, answers) = with_another(look, &candidates, &overall, &possible.weights);
            NextLook {
                what: look.what.clone(),
                bits,
                answers: weighed(&look.findings, &look.answers, &possible.weights),
                settles: settled(&by_state, &answers),
            }
        })
        .filter(|look| look.bits > 1e-9)
        .collect();
    // A blade and a compass need nothing opened, so they come before a look that tells as much.
    let opened = |look: &NextLook| matches!(look.what, Look::Stub { .. } | Look::Winding { .. });
    looks.sort_by(|a, b| {
        // Rounded, so that looks that tell the same do not change places for a last digit.
        let rounded = |bits: f64| (bits * 1e6).round();
        rounded(b.bits).total_cmp(&rounded(a.bits)).then_with(|| opened(a).cmp(&opened(b)))
    });
    looks.truncate(MOST_LOOKS);
    looks
}

/// A look, and what it would find in each possibility.
struct Candidate {
    what: Look,
    findings: Vec<Finding>,
    /// The findings numbered, equal ones with one number.
    answers: Vec<usize>,
    /// What it tells alone.
    bits: f64,
}

/// What a look tells, and the answers that count for it: its own, or, for a sign, its own beside another coil's.
///
/// Only signs against each other decide phase and hum. Where no winding is known, one winding alone tells nothing, but
/// it is the first half of a comparison; so it counts for what it adds to the best other one.
fn with_another(
    look: &Candidate,
    all: &[Candidate],
    classes: &[usize],
    weights: &[f64],
) -> (f64, Vec<usize>) {
    let mut best = (look.bits, look.answers.clone());
    for other in all.iter().filter(|other| compares(&look.what, &other.what)) {
        let mut together = look.answers.clone();
        refine(&mut together, &other.answers);
        let gain = information(classes, &together, weights) - other.bits;
        if gain > best.0 + 1e-9 {
            best = (gain, together);
        }
    }
    best
}

/// Whether two looks are at the same kind of sign of two coils.
fn compares(a: &Look, b: &Look) -> bool {
    match (a, b) {
        (Look::Tap { coil: a }, Look::Tap { coil: b })
        | (Look::Winding { coil: a }, Look::Winding { coil: b })
        | (Look::Pole { coil: a }, Look::Pole { coil: b }) => a != b,
        _ => false,
    }
}

/// Every look with what it would find in each possibility.
fn candidates(circuit: &Circuit, possible: &Possible) -> Vec<(Look, Vec<Finding>)> {
    let mut candidates = Vec::new();
    for (index, (_, stub, _)) in open_joins(circuit).enumerate() {
        let findings =
            possible.all.iter().map(|it| Finding::GoesTo(it.choices[index].goes_to.clone())).collect();
        candidates.push((Look::Stub { stub }, findings));
    }
    for (coil, (_, values)) in circuit.coils().enumerate() {
        let each = |finding: fn(CoilSigns) -> Finding| -> Vec<Finding> {
            possible.all.iter().map(|it| finding(it.signs[coil])).collect()
        };
        if values.winding.is_none() || values.magnet.is_none() {
            candidates.push((Look::Tap { coil }, each(|it| Finding::KicksUp(it.string_positive()))));
        }
        if values.magnet.is_none() {
            candidates.push((Look::Pole { coil }, each(|it| Finding::North(it.north))));
        }
        if values.winding.is_none() {
            candidates.push((Look::Winding { coil }, each(|it| Finding::Clockwise(it.clockwise))));
        }
    }
    candidates
}

/// Numbers findings so that equal ones have one number.
fn numbered(findings: &[Finding]) -> Vec<usize> {
    let mut known: Vec<&Finding> = Vec::new();
    findings
        .iter()
        .map(|finding| {
            known.iter().position(|&other| other == finding).unwrap_or_else(|| {
                known.push(finding);
                known.len() - 1
            })
        })
        .collect()
}

fn weighed(findings: &[Finding], answers: &[usize], weights: &[f64]) -> Vec<Answer> {
    let mut told: Vec<Answer> = Vec::new();
    for ((finding, &answer), weight) in findings.iter().zip(answers).zip(weights) {
        if answer == told.len() {
            told.push(Answer { found: finding.clone(), weight: 0.0 });
        }
        told[answer].weight += weight;
    }
    told.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    told
}

/// Parts `classes` by what is different in `by`.
fn refine(classes: &mut [usize], by: &[usize]) {
    let mut numbers = BTreeMap::new();
    for (class, &other) in classes.iter_mut().zip(by) {
        let next = numbers.len();
        *class = *numbers.entry((*class, other)).or_insert(next);
    }
}

/// Classes of the possibilities in which everything told of a state is the same.
fn classes(state: &StateTold, count: usize) -> Vec<usize> {
    let mut classes = vec![0; count];
    part(&mut classes, &state.output);
    part(&mut classes, &state.hum);
    part(&mut classes, &state.floating);
    part(&mut classes, &state.resonance);
    part(&mut classes, &state.ohms);
    part(&mut classes, &state.curve);
    state.coils.iter().for_each(|fact| part(&mut classes, fact));
    state.knobs.iter().for_each(|fact| part(&mut classes, fact));
    for pair in &state.pairs {
        part(&mut classes, &pair.relation);
        part(&mut classes, &pair.phase);
    }
    state.colouring.iter().for_each(|it| part(&mut classes, &it.without));
    state.metal.iter().for_each(|it| part(&mut classes, &it.fact));
    classes
}

fn part<T>(classes: &mut [usize], fact: &Agreed<T>) {
    if let Agreed::Depends(cases) = fact {
        let mut by = vec![0; classes.len()];
        for (number, Case { possibilities, .. }) in cases.iter().enumerate() {
            possibilities.iter().for_each(|&at| by[at] = number);
        }
        refine(classes, &by);
    }
}

/// Entropy in bits of numbered things with weights that add up to `whole`.
fn entropy(numbers: impl Iterator<Item = (usize, f64)>, whole: f64) -> f64 {
    let mut sums: BTreeMap<usize, f64> = BTreeMap::new();
    numbers.for_each(|(number, weight)| *sums.entry(number).or_default() += weight);
    let share = |weight: f64| weight / whole;
    sums.values().filter(|&&sum| sum > 0.0).map(|&sum| -share(sum) * libm::log2(share(sum))).sum()
}

/// What an answer tells about the class, in bits.
fn information(classes: &[usize], answers: &[usize], weights: &[f64]) -> f64 {
    let all = || classes.iter().copied().zip(weights.iter().copied());
    let mut left = 0.0;
    for answer in 0..=answers.iter().copied().max().unwrap_or(0) {
        let here = || all().zip(answers).filter(|&(_, &given)| given == answer).map(|(it, _)| it);
        let weight: f64 = here().map(|(_, weight)| weight).sum();
        if weight > 0.0 {
            left += weight * entropy(here(), weight);
        }
    }
    (entropy(all(), 1.0) - left).max(0.0)
}

/// States that depend now, and are certain after some answer.
fn settled(by_state: &[Vec<usize>], answers: &[usize]) -> Vec<usize> {
    let one_class = |classes: &[usize], answer: usize| {
        let mut here =
            classes.iter().zip(answers).filter(|&(_, &given)| given == answer).map(|(class, _)| class);
        here.next().is_some_and(|first| here.all(|class| class == first))
    };
    let most = answers.iter().copied().max().unwrap_or(0);
    (0..by_state.len())
        .filter(|&state| {
            let classes = &by_state[state];
            classes.iter().any(|&class| class != classes[0])
                && (0..=most).any(|answer| one_class(classes, answer))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{information, refine};

    #[test]
    fn an_even_split_tells_one_bit_and_an_idle_look_none() {
        let weights = [0.25; 4];
        assert_eq!(information(&[0, 0, 1, 1], &[0, 0, 1, 1], &weights), 1.0);
        assert_eq!(information(&[0, 0, 1, 1], &[0, 1, 0, 1], &weights), 0.0);
        assert_eq!(information(&[0, 1, 2, 3], &[0, 0, 1, 1], &weights), 1.0);
    }

    #[test]
    fn classes_part_where_either_differs() {
        let mut classes = vec![0, 0, 1, 1];
        refine(&mut classes, &[0, 1, 0, 0]);
        assert_eq!(classes, [0, 1, 2, 2]);
    }
}
