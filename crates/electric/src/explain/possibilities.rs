//! Everything that may be the case: the ways to wire what is unknown, times the signs that nobody saw.

use super::told::{Choice, CoilSigns, Limit, Possibility};
use super::{Conditions, MOST_FACTS, MOST_STATES, MOST_WIRINGS};
use crate::circuit::{Circuit, JoinTo, Sign};
use crate::state::{Setting, Wired};

/// What is gone through, and how likely each of it is.
pub(crate) struct Possible<'c> {
    /// Ways to wire what is unknown.
    pub(crate) wirings: Vec<Wired<'c>>,
    /// Signs of the coils; every wiring meets every one of these.
    pub(crate) signs: Vec<Vec<CoilSigns>>,
    /// Possibility `wiring * signs.len() + signs`.
    pub(crate) all: Vec<Possibility>,
    /// The weights of `all`.
    pub(crate) weights: Vec<f64>,
    /// How many states are told.
    pub(crate) states: usize,
    /// What is left out.
    pub(crate) limits: Vec<Limit>,
}

impl Possible<'_> {
    /// The possibilities that share a wiring and have signs that `keep` keeps.
    pub(crate) fn of_wiring(&self, wiring: usize, keep: impl Fn(&[CoilSigns]) -> bool) -> Vec<usize> {
        let first = wiring * self.signs.len();
        (0..self.signs.len()).filter(|&index| keep(&self.signs[index])).map(|index| first + index).collect()
    }
}

/// Finds what may be the case, within what can be gone through.
pub(crate) fn possible<'c>(circuit: &'c Circuit, conditions: &Conditions) -> Possible<'c> {
    let mut limits = Vec::new();
    let all_states = Setting::count(circuit);
    let states = usize::try_from(all_states).map_or(MOST_STATES, |count| count.min(MOST_STATES));
    let most_wirings = (MOST_STATES / states.max(1)).clamp(1, MOST_WIRINGS);
    let wirings: Vec<Wired<'c>> = circuit.possibilities().take(most_wirings).collect();
    let all_wirings = circuit.possibility_count();
    if all_wirings > wirings.len() as u128 {
        limits.push(Limit::PossibilitiesLeftOut { told: wirings.len(), of: saturated(all_wirings) });
    }
    let most_signs = (MOST_FACTS / (states.max(1) * wirings.len().max(1))).max(1);
    let signs = signs(circuit, most_signs, &mut limits);

    let mut wiring_weights: Vec<f64> =
        wirings.iter().map(|wired| weight(circuit, wired, conditions)).collect();
    let sum: f64 = wiring_weights.iter().sum();
    wiring_weights.iter_mut().for_each(|weight| *weight /= sum * signs.len() as f64);
    let mut all = Vec::with_capacity(wirings.len() * signs.len());
    for (wired, &weight) in wirings.iter().zip(&wiring_weights) {
        for signs in &signs {
            all.push(Possibility { choices: choices(circuit, wired), signs: signs.clone(), weight });
        }
    }
    if all.len() > 1 && (conditions.odds.is_empty() || signs.len() > 1) {
        limits.push(Limit::EqualWeights);
    }
    let weights = all.iter().map(|possibility| possibility.weight).collect();
    Possible { wirings, signs, all, weights, states, limits }
}

fn saturated(count: u128) -> u64 {
    u64::try_from(count).unwrap_or(u64::MAX)
}

/// All ways to fill in the unknown signs, at most `most`; beyond, the signs of the last coils are left out.
fn signs(circuit: &Circuit, most: usize, limits: &mut Vec<Limit>) -> Vec<Vec<CoilSigns>> {
    let ways = |sign: Option<Sign>| match sign {
        None => [Some(true), Some(false)],
        Some(sign) => [Some(sign == Sign::Plus), None],
    };
    let mut all: Vec<Vec<CoilSigns>> = vec![Vec::new()];
    let mut left_out = Vec::new();
    for (coil, (_, values)) in circuit.coils().enumerate() {
        let mut here: Vec<CoilSigns> = Vec::new();
        for clockwise in ways(values.winding).into_iter().flatten() {
            here.extend(
                ways(values.magnet).into_iter().flatten().map(|north| CoilSigns { clockwise, north }),
            );
        }
        if here.len() > 1 && all.len() * here.len() > most {
            left_out.push(coil);
            here.truncate(1);
        }
        all = all
            .iter()
            .flat_map(|before| here.iter().map(|&signs| before.iter().copied().chain([signs]).collect()))
            .collect();
    }
    if !left_out.is_empty() {
        limits.push(Limit::SignsLeftOut { coils: left_out });
    }
    all
}

/// The joins with candidates: index, stub, how many candidates beside nowhere.
pub(crate) fn open_joins(
    circuit: &Circuit,
) -> impl Iterator<Item = (usize, String, &[crate::circuit::Terminal])> {
    circuit.joins().iter().enumerate().filter_map(|(index, join)| match &join.to {
        JoinTo::One(_) => None,
        JoinTo::Candidates { terminals, .. } => Some((index, circuit.name_of(join.a), terminals.as_slice())),
    })
}

fn choices(circuit: &Circuit, wired: &Wired) -> Vec<Choice> {
    open_joins(circuit)
        .zip(wired.choices())
        .map(|((_, stub, _), choice)| Choice {
            stub,
            goes_to: choice.map(|terminal| circuit.name_of(terminal)),
        })
        .collect()
}

/// The product of the odds of what was chosen; 1 for joins without odds.
fn weight(circuit: &Circuit, wired: &Wired, conditions: &Conditions) -> f64 {
    let of_join = |join: usize, place: usize| {
        let odds = conditions.odds.iter().find(|odds| odds.join == join)?;
        odds.weights.get(place).copied().filter(|weight| weight.is_finite() && *weight > 0.0)
    };
    open_joins(circuit)
        .zip(wired.choices())
        .map(|((join, _, terminals), choice)| {
            let place = match choice {
                Some(chosen) => terminals.iter().position(|terminal| terminal == chosen).unwrap_or(0),
                None => terminals.len(),
            };
            of_join(join, place).unwrap_or(1.0)
        })
        .product()
}
