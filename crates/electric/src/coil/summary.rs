//! Figures and shares of what is not known, summed up from the draws.

use super::answer::{CoilPart, Condition, Estimate, Figures, PartJudged, PartState, SURE_ENOUGH};
use super::construction::{Construction, Era, Insulation};
use super::draws::{Draw, Draws};
use super::opinions::{Matter, Opinions};
use super::parts::Changed;
use super::prior::{STRATA, pair};
use super::tables::Tables;
use super::weighing::Weighing;
use crate::bobbin::Turns;
use crate::wire::{Build, Gauge, Metres};
use asfound_measure::{Henries, Millimetres, Ohms, Quantity};
use asfound_weigh::Probability;
use std::collections::BTreeMap;
use std::f64::consts::LN_2;

/// Shares of kinds, eras, gauges, builds and insulations.
pub(super) struct Latent {
    pub(super) constructions: Vec<(Construction, Probability)>,
    pub(super) eras: Vec<(Era, Probability)>,
    pub(super) gauges: Vec<(Gauge, Probability)>,
    pub(super) builds: Vec<(Build, Probability)>,
    pub(super) insulations: Vec<(Insulation, Probability)>,
}

impl Latent {
    /// From weighted draws; what is none of these has no share in them.
    pub(super) fn of(draws: &Draws, weights: &[f64], known: f64) -> Self {
        let single_is_less = |build: Build| build == Build::Heavy;
        Self {
            constructions: by_share(draws, weights, known, |draw| draw.coil.blank.construction),
            eras: by_share(draws, weights, known, |draw| draw.coil.blank.era),
            gauges: by_share(draws, weights, known, |draw| draw.coil.blank.gauge),
            builds: by_share(draws, weights, known, |draw| single_is_less(draw.coil.blank.build))
                .into_iter()
                .map(|(heavy, share)| (if heavy { Build::Heavy } else { Build::Single }, share))
                .collect(),
            insulations: by_share(draws, weights, known, |draw| draw.coil.blank.insulation),
        }
    }
}

/// Shares of what a draw is, greatest first.
fn by_share<T: Copy + Ord>(
    draws: &Draws,
    weights: &[f64],
    known: f64,
    of: impl Fn(&Draw) -> T,
) -> Vec<(T, Probability)> {
    let mut shares: BTreeMap<T, f64> = BTreeMap::new();
    for (draw, weight) in draws.kept.iter().zip(weights) {
        *shares.entry(of(draw)).or_default() += weight * known;
    }
    let mut shares: Vec<(T, f64)> = shares.into_iter().collect();
    shares.sort_by(|a, b| b.1.total_cmp(&a.1));
    shares.into_iter().map(|(what, share)| (what, Probability::of_share(share))).collect()
}

/// Each part on its own.
pub(super) fn parts(weighing: &Weighing, weights: &[f64]) -> Vec<PartJudged> {
    let shares = weighing.shares();
    let over_pairs = |holds: &dyn Fn(Changed) -> bool| -> f64 {
        (0..STRATA).map(|stratum| shares[stratum] * weighing.parts[stratum].share(holds)).sum()
    };
    let as_made: f64 =
        (0..STRATA).filter(|stratum| !pair(*stratum).1.rewound()).map(|stratum| shares[stratum]).sum();
    let magnets: f64 =
        weighing.draws.kept.iter().zip(weights).map(|(draw, weight)| weight * draw.magnets_original).sum();
    CoilPart::ALL
        .into_iter()
        .map(|part| {
            let original = match part {
                CoilPart::Magnets => magnets,
                CoilPart::Flatwork => over_pairs(&|state| !state.flatwork),
                CoilPart::Winding => as_made,
                CoilPart::Leads => over_pairs(&|state| !state.leads),
                CoilPart::Joints => over_pairs(&|state| !state.joints),
            };
            let original = original * (1.0 - weighing.none) + 0.5 * weighing.none;
            let moved = log_odds(original) - log_odds(before(part, as_made, weighing.evidence.opinions));
            let state = if original >= SURE_ENOUGH && moved >= LN_2 {
                PartState::Original
            } else if original <= 1.0 - SURE_ENOUGH && moved <= -LN_2 {
                PartState::Changed
            } else {
                PartState::CannotTell
            };
            PartJudged { part, original: Probability::of_share(original), state }
        })
        .collect()
}

fn log_odds(share: f64) -> f64 {
    libm::log(share / (1.0 - share))
}

/// Share of a part that is original as far as the hand alone goes, before anything was seen of the part itself; of the
/// winding, its prior share.
fn before(part: CoilPart, as_made: f64, opinions: &Opinions) -> f64 {
    let [if_as_made, if_rewound] = match part {
        CoilPart::Magnets => [Matter::MagnetsChangedIfAsMade, Matter::MagnetsChangedIfRewound],
        CoilPart::Flatwork => [Matter::FlatworkChangedIfAsMade, Matter::FlatworkChangedIfRewound],
        CoilPart::Leads => [Matter::LeadsChangedIfAsMade, Matter::LeadsChangedIfRewound],
        CoilPart::Joints => [Matter::JointsChangedIfAsMade, Matter::JointsChangedIfRewound],
        CoilPart::Winding => return 1.0 - opinions.value(Matter::Rewound),
    };
    1.0 - as_made * opinions.value(if_as_made) - (1.0 - as_made) * opinions.value(if_rewound)
}

/// Turns, wire and the like, over draws of equal weight.
pub(super) fn figures(draws: &[&Draw], tables: &Tables) -> Figures {
    Figures {
        turns: estimate(draws, |draw| Turns(draw.coil.wound.turns.value())),
        wire_length: estimate(draws, |draw| Metres(draw.coil.wound.wire_length.value())),
        depth: estimate(draws, |draw| Millimetres(draw.coil.wound.depth.value())),
        copper_fill: bare_estimate(draws.iter().map(|draw| draw.coil.wound.copper_fill).collect()),
        ohms_at_20: estimate(draws, |draw| Ohms(draw.coil.ohms_at_20())),
        inductance: estimate(draws, |draw| {
            let left = 1.0 - draw.coil.blank.lost;
            Henries(draw.coil.whole_inductance(tables) * left * left)
        }),
    }
}

/// Resistance of a bad joint, over the draws that have one; `None` where none has.
pub(super) fn joint(draws: &[&Draw]) -> Option<Estimate<Ohms>> {
    let with: Vec<&Draw> = among(draws, &[Condition::JointInSeries]);
    (!with.is_empty()).then(|| estimate(&with, |draw| Ohms(draw.coil.blank.joint)))
}

/// Share of turns shorted or bridged out, over the draws that have them.
pub(super) fn lost_turns(draws: &[&Draw]) -> Option<Estimate<f64>> {
    let with: Vec<&Draw> = among(draws, &[Condition::PartShorted, Condition::PartBridged]);
    (!with.is_empty()).then(|| bare_estimate(with.iter().map(|draw| draw.coil.blank.lost).collect()))
}

/// The fewest draws an interval is stated of.
const FEWEST: usize = 20;

fn among<'d>(draws: &[&'d Draw], conditions: &[Condition]) -> Vec<&'d Draw> {
    let with: Vec<&Draw> =
        draws.iter().copied().filter(|draw| conditions.contains(&draw.coil.blank.condition)).collect();
    if with.len() < FEWEST { Vec::new() } else { with }
}

fn estimate<Q: Quantity>(draws: &[&Draw], of: impl Fn(&Draw) -> Q) -> Estimate<Q> {
    let bare = bare_estimate(draws.iter().map(|draw| of(draw).size()).collect());
    Estimate { mean: Q::of(bare.mean), low: Q::of(bare.low), high: Q::of(bare.high) }
}

fn bare_estimate(mut values: Vec<f64>) -> Estimate<f64> {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let place = (share * values.len() as f64) as usize;
        values.get(place.min(values.len().saturating_sub(1))).copied().unwrap_or(f64::NAN)
    };
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    Estimate { mean, low: at(0.025), high: at(0.975) }
}
