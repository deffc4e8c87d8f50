//! What is soldered and unsoldered between one wiring and another.

use std::collections::BTreeSet;

use super::answer::Step;
use super::wires::{is_lead, is_metal};
use crate::circuit::{Circuit, JoinTo, Sort, Terminal};

/// One wire changed.
#[derive(Debug, Clone, PartialEq)]
enum Changed<T> {
    /// It stays at one end and moves at the other.
    Moved { stays: T, from: T, to: T },
    /// It is gone.
    Off(T, T),
    /// It is new.
    On(T, T),
}

/// What sort of end a wire has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    Metal,
    Lead,
    Lug,
}

fn end_of(circuit: &Circuit, end: Terminal) -> End {
    match end {
        _ if is_metal(circuit, end) => End::Metal,
        _ if is_lead(circuit, end) => End::Lead,
        _ => End::Lug,
    }
}

/// Pairs every wire that is gone with a new one that shares an end, since that is one wire moved: first by metal, then
/// by leads, which nobody replaces, then by lugs.
fn difference<T: Ord + Clone>(
    before: &BTreeSet<(T, T)>,
    after: &BTreeSet<(T, T)>,
    end: &dyn Fn(&T) -> End,
) -> Vec<Changed<T>> {
    let mut gone: Vec<(T, T)> = before.difference(after).cloned().collect();
    let mut new: Vec<(T, T)> = after.difference(before).cloned().collect();
    let mut changed = Vec::new();
    for sort in [End::Metal, End::Lead, End::Lug] {
        let mut at = 0;
        while at < gone.len() {
            match partner(&gone[at], &new, |stays| end(stays) == sort) {
                Some((other, moved)) => {
                    new.remove(other);
                    gone.remove(at);
                    changed.push(moved);
                }
                None => at += 1,
            }
        }
    }
    changed.extend(gone.into_iter().map(|(a, b)| Changed::Off(a, b)));
    changed.extend(new.into_iter().map(|(a, b)| Changed::On(a, b)));
    changed
}

fn partner<T: Ord + Clone>(
    gone: &(T, T),
    new: &[(T, T)],
    may_stay: impl Fn(&T) -> bool,
) -> Option<(usize, Changed<T>)> {
    for (stays, from) in [(&gone.0, &gone.1), (&gone.1, &gone.0)] {
        if !may_stay(stays) {
            continue;
        }
        for (at, (a, b)) in new.iter().enumerate() {
            let to = if a == stays {
                b
            } else if b == stays {
                a
            } else {
                continue;
            };
            let (stays, from, to) = (stays.clone(), from.clone(), to.clone());
            return Some((at, Changed::Moved { stays, from, to }));
        }
    }
    None
}

/// The joints that changes open or make. A lead is no joint where it is soldered to something else.
fn joints<T: Ord + Clone>(changed: &[Changed<T>], end: &dyn Fn(&T) -> End) -> usize {
    let mut all: BTreeSet<T> = BTreeSet::new();
    for it in changed {
        match it {
            Changed::Moved { from, to, .. } => all.extend([from.clone(), to.clone()]),
            Changed::Off(a, b) | Changed::On(a, b) => match (end(a) == End::Lead, end(b) == End::Lead) {
                (true, _) => drop(all.insert(b.clone())),
                (_, true) => drop(all.insert(a.clone())),
                _ => all.extend([a.clone(), b.clone()]),
            },
        }
    }
    all.len()
}

/// The wires of a circuit whose joins are all known, by the names of their ends.
fn named(circuit: &Circuit) -> BTreeSet<(String, String)> {
    let wires = circuit.joins().iter().filter_map(|join| {
        let JoinTo::One(to) = join.to else { return None };
        let (a, b) = (circuit.name_of(join.a), circuit.name_of(to));
        Some(if a <= b { (a, b) } else { (b, a) })
    });
    wires.filter(|(a, b)| a != b).collect()
}

/// What is done at the bench, and how many joints it opens or makes.
pub(super) fn steps(before: &Circuit, after: &Circuit) -> (Vec<Step>, usize) {
    let ends = [before, after];
    let terminal = |name: &String| ends.iter().find_map(|it| it.terminal(name).ok().map(|end| (*it, end)));
    let end = |name: &String| terminal(name).map_or(End::Lug, |(circuit, end)| end_of(circuit, end));
    let lead = |name: &String| end(name) == End::Lead;
    let changed = difference(&named(before), &named(after), &end);
    let count = joints(&changed, &end);
    let mut first = Vec::new();
    let (mut off, mut moved, mut on) = (Vec::new(), Vec::new(), Vec::new());
    for it in changed {
        match it {
            Changed::Moved { stays, from, to } => match coil_metal(before, &stays, &from) {
                Some(coil) => first.extend([Step::FreeMetal { coil }, Step::Wire { a: stays, b: to }]),
                None => moved.push(Step::Resolder { stays, from, to }),
            },
            Changed::Off(a, b) => off.push(match (lead(&a), lead(&b)) {
                (true, _) => Step::Free { lead: a, from: b },
                (_, true) => Step::Free { lead: b, from: a },
                _ => Step::TakeOff { a, b },
            }),
            Changed::On(a, b) => on.push(match (lead(&a), lead(&b)) {
                (true, _) => Step::SolderLeg { leg: a, to: b },
                (_, true) => Step::SolderLeg { leg: b, to: a },
                _ => Step::Wire { a, b },
            }),
        }
    }
    (first.into_iter().chain(off).chain(moved).chain(on).collect(), count)
}

/// The coil whose metal is tied to its own lead by this wire.
fn coil_metal(circuit: &Circuit, metal: &str, lead: &str) -> Option<usize> {
    let (metal, lead) = (circuit.terminal(metal).ok()?, circuit.terminal(lead).ok()?);
    let is_coil = matches!(circuit.parts()[lead.part].sort, Sort::Coil(_)) && lead.lug < 2;
    let own = is_metal(circuit, metal) && is_coil;
    own.then(|| circuit.coils().position(|(part, _)| part == lead.part)).flatten()
}

/// The joints between two wirings of one circuit.
pub(super) fn joints_between(
    circuit: &Circuit,
    before: &BTreeSet<(Terminal, Terminal)>,
    after: &BTreeSet<(Terminal, Terminal)>,
) -> usize {
    let end = |end: &Terminal| end_of(circuit, *end);
    joints(&difference(before, after, &end), &end)
}
