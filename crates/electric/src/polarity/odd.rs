//! The odd one out, from which coils agree.

use super::solve::{Phase, Relation};
use crate::circuit::Sign;

/// Which coils stand against the others.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum OddOneOut {
    /// All coils agree.
    None,
    /// One coil stands against two or more.
    One(usize),
    /// Two sides of which neither is one against more; with two coils, one against one.
    Sides {
        /// The side of the first coil.
        one: Vec<usize>,
        /// The other side.
        other: Vec<usize>,
    },
}

/// The string signs of all coils against one another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strings {
    /// Every assignment of signs that remains, the first coil's called plus; one where all pairs are known.
    pub assignments: Vec<Vec<Sign>>,
    /// Who is odd in them: one answer where it is decided, though not every pair may be.
    pub odd: Vec<OddOneOut>,
    /// Pairs to hear, as few as will do. Empty when every pair is known.
    pub missing: Vec<(usize, usize)>,
}

/// Reads the string signs out of the relations that are known.
pub(super) fn strings(count: usize, relations: &[Relation]) -> Strings {
    // Each coil's group and its sign in it, counted from the group's first coil.
    let mut groups: Vec<Vec<(usize, bool)>> = Vec::new();
    for coil in 0..count {
        let against = |first: usize| relations.iter().find(|it| (it.a, it.b) == (first, coil))?.phase;
        match groups.iter_mut().find_map(|group| against(group[0].0).map(|phase| (group, phase))) {
            Some((group, phase)) => group.push((coil, phase == Phase::Out)),
            None => groups.push(vec![(coil, false)]),
        }
    }
    let firsts: Vec<usize> = groups.iter().map(|group| group[0].0).collect();
    let missing = firsts.iter().skip(1).map(|&other| (firsts[0], other)).collect();
    let mut assignments: Vec<Vec<Sign>> = Vec::new();
    for turned in 0..1_usize << groups.len().saturating_sub(1) {
        let mut signs = vec![Sign::Plus; count];
        for (at, group) in groups.iter().enumerate() {
            let turn = at > 0 && turned >> (at - 1) & 1 == 1;
            for &(coil, minus) in group {
                signs[coil] = if minus != turn { Sign::Minus } else { Sign::Plus };
            }
        }
        assignments.push(signs);
    }
    let mut odd: Vec<OddOneOut> = assignments.iter().map(|signs| odd_one(signs)).collect();
    odd.sort();
    odd.dedup();
    Strings { assignments, odd, missing }
}

fn odd_one(signs: &[Sign]) -> OddOneOut {
    let side = |wanted: Sign| -> Vec<usize> {
        signs.iter().enumerate().filter(|(_, sign)| **sign == wanted).map(|(coil, _)| coil).collect()
    };
    let (one, other) = (side(Sign::Plus), side(Sign::Minus));
    match (one.as_slice(), other.as_slice()) {
        (_, []) | ([], _) => OddOneOut::None,
        ([coil], [_, _, ..]) | ([_, _, ..], [coil]) => OddOneOut::One(*coil),
        _ => OddOneOut::Sides { one, other },
    }
}
