//! Puts the experiments of all wirings together with the signs of the coils: what is told of one state.

use std::collections::BTreeMap;
use std::rc::Rc;

use asfound_measure::{Decibels, Degrees, Hertz};

use super::agreed::{Agreed, Alike, gather};
use super::experiment::{Found, colourers, metals};
use super::facts::{
    Colouring, Curve, Hum, HumWord, MetalTold, PairPhase, PairTold, PhaseWord, Resonance, StateTold,
};
use super::listen::decibels;
use super::possibilities::Possible;
use super::told::{CoilSigns, Group};
use super::{
    HUM_CANCELS_BELOW, HUM_PARTLY_BELOW, IN_PHASE_WITHIN, KNOB_NOTHING_BELOW, OUT_OF_PHASE_BEYOND,
    RESONANCE_REFERENCE,
};
use crate::circuit::Circuit;
use crate::complex::Complex;
use crate::state::Setting;

/// One state over all possibilities.
pub(super) struct Telling<'a> {
    pub(super) circuit: &'a Circuit,
    pub(super) possible: &'a Possible<'a>,
    pub(super) frequencies: &'a [Hertz],
}

impl Telling<'_> {
    /// Tells every state. States in which the same was found are worked out once.
    pub(super) fn states(&self, settings: &[Setting], found: &[Vec<Rc<Found>>]) -> Vec<StateTold> {
        let mut first: BTreeMap<Vec<*const Found>, usize> = BTreeMap::new();
        let mut told: Vec<StateTold> = Vec::with_capacity(settings.len());
        for (index, (setting, found)) in settings.iter().zip(found).enumerate() {
            let positions = setting.positions.clone();
            let same = *first.entry(found.iter().map(Rc::as_ptr).collect()).or_insert(index);
            told.push(match told.get(same) {
                Some(state) => StateTold { positions, ..state.clone() },
                None => self.state(positions, found),
            });
        }
        told
    }

    /// Tells a state from what was found in each wiring.
    fn state(&self, positions: Vec<usize>, found: &[Rc<Found>]) -> StateTold {
        let coils = self.circuit.coils().count();
        StateTold {
            positions,
            output: self.plain(found, |found| found.output),
            coils: (0..coils).map(|coil| self.plain(found, |found| found.coils[coil].clone())).collect(),
            pairs: self.pairs(found),
            hum: self.by_signs(found, |signs| sign(signs.clockwise), hum),
            knobs: (0..self.circuit.pots().count())
                .map(|knob| self.plain(found, |found| found.knobs[knob].clone()))
                .collect(),
            colouring: self.colouring(found),
            metal: metals(self.circuit)
                .into_iter()
                .enumerate()
                .map(|(index, (metal, _))| MetalTold {
                    metal,
                    fact: self.plain(found, |it| it.metal[index].clone()),
                })
                .collect(),
            floating: self.plain(found, |found| found.floating.clone()),
            resonance: self.plain(found, |found| resonance(found, self.frequencies)),
            ohms: self.plain(found, |found| found.ohms),
            curve: self
                .by_signs(found, string_sign, |found, signs| curve(found, signs, self.frequencies.len())),
        }
    }

    /// A fact that no sign changes.
    fn plain<T: Alike>(&self, found: &[Rc<Found>], fact: impl Fn(&Found) -> T) -> Agreed<T> {
        let given = found
            .iter()
            .enumerate()
            .map(|(wiring, found)| (fact(found), self.possible.of_wiring(wiring, |_| true)));
        gather(given, &self.possible.weights)
    }

    /// A fact that hangs on how the signs of the coils heard stand to each other; turning all of them changes nothing.
    fn by_signs<T: Alike>(
        &self,
        found: &[Rc<Found>],
        sign_of: impl Fn(&CoilSigns) -> f64,
        fact: impl Fn(&Found, &[f64]) -> T,
    ) -> Agreed<T> {
        let mut given = Vec::new();
        for (wiring, found) in found.iter().enumerate() {
            let mut patterns: BTreeMap<Vec<bool>, Vec<usize>> = BTreeMap::new();
            for possibility in self.possible.of_wiring(wiring, |_| true) {
                let signs = &self.possible.all[possibility].signs;
                let first = found.audible.first().map_or(1.0, |&coil| sign_of(&signs[coil]));
                let pattern = found.audible.iter().map(|&coil| sign_of(&signs[coil]) == first).collect();
                patterns.entry(pattern).or_default().push(possibility);
            }
            for (pattern, possibilities) in patterns {
                let mut signs = vec![0.0; self.possible.all[possibilities[0]].signs.len()];
                for (&coil, same) in found.audible.iter().zip(pattern) {
                    signs[coil] = sign(same);
                }
                given.push((fact(found, &signs), possibilities));
            }
        }
        gather(given, &self.possible.weights)
    }

    fn pairs(&self, found: &[Rc<Found>]) -> Vec<PairTold> {
        let mut named: Vec<(usize, usize)> =
            found.iter().flat_map(|found| found.relations.iter().map(|(a, b, _)| (*a, *b))).collect();
        named.sort_unstable();
        named.dedup();
        named
            .into_iter()
            .map(|(a, b)| {
                let relation = |found: &Found| {
                    found
                        .relations
                        .iter()
                        .find(|it| (it.0, it.1) == (a, b))
                        .map(|(_, _, relation)| relation.clone())
                };
                let same = |signs: &[CoilSigns]| string_sign(&signs[a]) == string_sign(&signs[b]);
                let mut phases = Vec::new();
                for (wiring, found) in found.iter().enumerate() {
                    for alike in [true, false] {
                        let possibilities = self.possible.of_wiring(wiring, |signs| same(signs) == alike);
                        if !possibilities.is_empty() {
                            phases.push((relation(found).map(|_| phase(found, a, b, alike)), possibilities));
                        }
                    }
                }
                let phase = gather(phases, &self.possible.weights);
                PairTold { a, b, relation: self.plain(found, relation), phase }
            })
            .collect()
    }

    fn colouring(&self, found: &[Rc<Found>]) -> Vec<Colouring> {
        colourers(self.circuit)
            .into_iter()
            .enumerate()
            .filter(|(index, _)| found.iter().any(|found| found.colouring[*index].is_some()))
            .map(|(index, part)| Colouring {
                part: self.circuit.parts()[part].name.clone(),
                without: self.plain(found, |found| found.colouring[index]),
            })
            .collect()
    }
}

fn sign(positive: bool) -> f64 {
    if positive { 1.0 } else { -1.0 }
}

/// Winding × magnet; the connection is in the transfer.
fn string_sign(signs: &CoilSigns) -> f64 {
    sign(signs.string_positive())
}

/// Whether the strings of two coils add, whose string signs are alike or not.
fn phase(found: &Found, a: usize, b: usize, signs_alike: bool) -> PairPhase {
    let angle = found.heard.angle(a, b).map(|angle| {
        let angle = angle.abs();
        Degrees(if signs_alike { angle } else { 180.0 - angle })
    });
    PairPhase { word: angle.map(|&angle| phase_word(angle)), angle }
}

/// The word for an angle of 0 to 180°.
pub(super) fn phase_word(angle: Degrees) -> PhaseWord {
    if angle <= IN_PHASE_WITHIN {
        PhaseWord::InPhase
    } else if angle > OUT_OF_PHASE_BEYOND {
        PhaseWord::OutOfPhase
    } else {
        PhaseWord::InBetween
    }
}

fn hum(found: &Found, signs: &[f64]) -> Hum {
    let mut sum = Complex::ZERO;
    let mut sizes = 0.0;
    for &coil in &found.audible {
        sum += found.hum[coil] * signs[coil];
        sizes += found.hum[coil].abs();
    }
    let ratio = if sizes > 0.0 { sum.abs() / sizes } else { 0.0 };
    Hum { word: hum_word(found.audible.len(), ratio), ratio }
}

/// The word for a ratio between so many coils.
pub(super) fn hum_word(coils: usize, ratio: f64) -> HumWord {
    match coils {
        0 => HumWord::NoCoil,
        1 => HumWord::OneCoil,
        _ if ratio <= HUM_CANCELS_BELOW => HumWord::Cancels,
        _ if ratio <= HUM_PARTLY_BELOW => HumWord::Partly,
        _ => HumWord::Adds,
    }
}

fn curve(found: &Found, signs: &[f64], points: usize) -> Curve {
    let level = |point: usize| {
        let sum = found
            .audible
            .iter()
            .fold(Complex::ZERO, |sum, &coil| sum + found.curve[coil][point] * signs[coil]);
        decibels(sum.re * sum.re + sum.im * sum.im)
    };
    Curve { levels: (0..points).map(level).collect() }
}

/// The highest point of all coils' powers together that has lower ones on both sides and stands out from the lows;
/// between the points by the parabola through the three highest.
///
/// Powers, not the sum: where two coils fight, what is left over has peaks that belong to no circuit.
fn resonance(found: &Found, frequencies: &[Hertz]) -> Option<Resonance> {
    let level = |point: usize| {
        let size = |coil: &usize| {
            let transfer = found.curve[*coil][point];
            transfer.re * transfer.re + transfer.im * transfer.im
        };
        decibels(found.audible.iter().map(size).sum())
    };
    let levels: Vec<Decibels> = (0..frequencies.len()).map(level).collect();
    let reference = frequencies.iter().position(|&frequency| frequency >= RESONANCE_REFERENCE)?;
    let last = levels.len().checked_sub(1)?;
    let peak = (reference.max(1)..last)
        .filter(|&at| levels[at] >= levels[at - 1] && levels[at] > levels[at + 1])
        .max_by(|&a, &b| levels[a].0.total_cmp(&levels[b].0))?;
    let (before, here, after) = (levels[peak - 1].0, levels[peak].0, levels[peak + 1].0);
    let bend = before - 2.0 * here + after;
    let shift = if bend < 0.0 { 0.5 * (before - after) / bend } else { 0.0 };
    let height = Decibels(here - 0.25 * (before - after) * shift - levels[reference].0);
    let step = libm::log(frequencies[peak + 1].0 / frequencies[peak - 1].0) / 2.0;
    let at = Hertz(frequencies[peak].0 * libm::exp(shift * step));
    (height >= KNOB_NOTHING_BELOW).then_some(Resonance { at, height })
}

/// States that are told in the same words, gathered.
pub(super) fn groups(states: &[StateTold]) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (index, state) in states.iter().enumerate() {
        match groups.iter_mut().find(|group| told_alike(&states[group.states[0]], state)) {
            Some(group) => group.states.push(index),
            None => groups.push(Group { states: vec![index] }),
        }
    }
    groups
}

fn told_alike(a: &StateTold, b: &StateTold) -> bool {
    let each = |a: usize, b: usize, alike: &dyn Fn(usize) -> bool| a == b && (0..a).all(alike);
    a.output.alike(&b.output)
        && a.ohms.alike(&b.ohms)
        && a.hum.alike(&b.hum)
        && each(a.coils.len(), b.coils.len(), &|at| a.coils[at].alike(&b.coils[at]))
        && each(a.pairs.len(), b.pairs.len(), &|at| {
            let (a, b) = (&a.pairs[at], &b.pairs[at]);
            (a.a, a.b) == (b.a, b.b) && a.relation.alike(&b.relation) && a.phase.alike(&b.phase)
        })
        && each(a.knobs.len(), b.knobs.len(), &|at| a.knobs[at].alike(&b.knobs[at]))
        && each(a.colouring.len(), b.colouring.len(), &|at| {
            a.colouring[at].part == b.colouring[at].part
                && a.colouring[at].without.alike(&b.colouring[at].without)
        })
        && each(a.metal.len(), b.metal.len(), &|at| a.metal[at].fact.alike(&b.metal[at].fact))
        && a.floating.alike(&b.floating)
        && a.resonance.alike(&b.resonance)
        && a.curve.alike(&b.curve)
}

#[cfg(test)]
mod tests {
    use asfound_measure::Degrees;

    use super::{hum_word, phase_word};
    use crate::explain::{HumWord, PhaseWord};

    #[test]
    fn phase_words_change_at_their_bounds() {
        for (angle, word) in [
            (0.0, PhaseWord::InPhase),
            (60.0, PhaseWord::InPhase),
            (60.001, PhaseWord::InBetween),
            (120.0, PhaseWord::InBetween),
            (120.001, PhaseWord::OutOfPhase),
            (180.0, PhaseWord::OutOfPhase),
        ] {
            assert_eq!(phase_word(Degrees(angle)), word, "{angle}");
        }
    }

    #[test]
    fn hum_words_change_at_their_bounds() {
        for (coils, ratio, word) in [
            (0, 0.0, HumWord::NoCoil),
            (1, 1.0, HumWord::OneCoil),
            (2, 0.1, HumWord::Cancels),
            (2, 0.1001, HumWord::Partly),
            (3, 0.707, HumWord::Partly),
            (3, 0.708, HumWord::Adds),
        ] {
            assert_eq!(hum_word(coils, ratio), word, "{coils} {ratio}");
        }
    }
}
