//! Which reading to take next, and which would tell two wirings apart.

use asfound_measure::{Ohms, Uncertain};
use nalgebra::{DMatrix, DVector};

use super::case::Case;
use super::fit::Solved;
use super::model::Model;
use super::propose::{Asked, Proposed};
use super::reading::{Meter, Shown};
use super::wiring::{Candidate, Readings, Wiring};

/// How many are named.
pub const MOST_NEXT: usize = 5;

/// Two wirings are told apart by a reading in which they differ by this many standard uncertainties.
pub const TOLD_APART_BEYOND: f64 = 3.0;

/// Spread of the logarithm of a resistance of which nothing is known, for the counting of bits alone: a factor of 20
/// either way.
const NOTHING_KNOWN: f64 = 3.0;

/// A reading worth taking.
#[derive(Debug, Clone, PartialEq)]
pub struct NextReading {
    /// The reading.
    pub take: Proposed,
    /// What it should show, in the wiring that suits best.
    pub expected: Ohms,
    /// What it would tell of all values together, in bits: `½ log₂(1 + j C jᵀ / u²)`.
    pub bits: f64,
    /// The standard uncertainty of the coil that is known worst, as a share of it, now and afterwards.
    pub worst_coil: [f64; 2],
}

/// A reading that would tell two wirings apart.
#[derive(Debug, Clone, PartialEq)]
pub struct TellsApart {
    /// The reading.
    pub take: Proposed,
    /// One wiring and what it should show there.
    pub one: (Wiring, Uncertain<Ohms>),
    /// The other and what it should show.
    pub other: (Wiring, Uncertain<Ohms>),
    /// How far apart these are, in standard uncertainties.
    pub apart_by: f64,
}

/// A fit that stands.
pub(super) struct Standing<'a, 'c> {
    pub(super) case: &'a Case<'c>,
    pub(super) solved: &'a Solved<'c>,
}

impl<'c> Standing<'_, 'c> {
    /// The same model with a proposal's only probe.
    fn model<'n>(&self, proposed: &'n [Candidate]) -> Option<(Model<'n>, &'n Candidate)> {
        let wiring = &self.case.candidate.wiring;
        let same = |it: &&Candidate| match (&it.wiring, wiring) {
            // A proposal may hang on how coils are joined where no reading did, and the other way about.
            (Wiring::Plain { controls, joined }, Wiring::Plain { controls: also, joined: then }) => {
                controls == also && (joined == then || joined.is_none() || then.is_none())
            }
            (one, other) => one == other,
        };
        let candidate = proposed.iter().find(same)?;
        let extra = self.case.extra.is_some();
        // A fault that was supposed has its own circuit; such fits propose nothing.
        (!extra).then(|| {
            let Model { parts, changes, .. } = self.solved.model.clone();
            (Model { circuit: &candidate.circuit, parts, changes }, candidate)
        })
    }
}

/// The share of itself by which a reading is usually uncertain here.
fn usual(readings: &Readings) -> f64 {
    let mut shares: Vec<f64> = readings
        .shown
        .iter()
        .filter_map(|shown| match shown {
            Shown::Ohms(ohms) if ohms.value.0 > 0.0 => Some(ohms.relative()),
            _ => None,
        })
        .collect();
    shares.sort_by(f64::total_cmp);
    shares.get(shares.len() / 2).copied().unwrap_or(0.001)
}

/// The readings that would tell most of the coils and pots, in one fit.
pub(super) fn next(asked: Asked, it: &Standing, readings: &Readings, meter: Meter) -> Vec<NextReading> {
    let Some(covariance) = in_logarithms(it, readings, meter) else { return Vec::new() };
    let share = usual(readings);
    let mut found: Vec<NextReading> = Vec::new();
    for take in asked.proposals() {
        let proposed = asked.with_proposal(&take);
        let Some((model, candidate)) = it.model(&proposed) else { continue };
        let Ok(seen) = model.seen(&candidate.probes[0], &it.solved.ohms) else { continue };
        let Some(expected) = seen.ohms().filter(|ohms| *ohms > 0.0) else { continue };
        let mut row = DVector::from_element(covariance.nrows(), expected / (share * expected));
        for (at, part) in seen.shares.iter().enumerate() {
            row[at] = part / (share * expected);
        }
        let moved = &covariance * &row;
        let gained = row.dot(&moved);
        let after = &covariance - &moved * moved.transpose() / (1.0 + gained);
        let worst = |covariance: &DMatrix<f64>| {
            let coils = (0..it.solved.places.len()).filter(|&at| it.case.is_coil(it.solved.places[at]));
            coils.map(|at| covariance[(at, at)].max(0.0).sqrt()).fold(0.0, f64::max)
        };
        let bits = 0.5 * libm::log2(1.0 + gained);
        let worst_coil = [worst(&covariance), worst(&after)];
        found.push(NextReading { take, expected: Ohms(expected), bits, worst_coil });
    }
    let gain = |it: &NextReading| it.worst_coil[1];
    found.sort_by(|a, b| gain(a).total_cmp(&gain(b)).then(b.bits.total_cmp(&a.bits)));
    found.truncate(MOST_NEXT);
    found
}

/// Covariance of the logarithms of all values, the meter's gain last where it is one, with a broad spread for what is
/// not known: a direction that no reading fixes then counts as very uncertain, not as known.
fn in_logarithms(it: &Standing, readings: &Readings, meter: Meter) -> Option<DMatrix<f64>> {
    let parts = it.solved.places.len();
    let count = parts + usize::from(it.solved.gain);
    let mut information = DMatrix::identity(count, count) / (NOTHING_KNOWN * NOTHING_KNOWN);
    for (reading, shown) in readings.shown.iter().enumerate() {
        let Shown::Ohms(shown) = shown else { continue };
        let seen = it.solved.model.seen(&it.case.candidate.probes[reading], &it.solved.ohms).ok()?;
        let mut row = DVector::from_element(count, seen.ohms()?);
        for (at, share) in seen.shares.iter().enumerate() {
            row[at] = *share;
        }
        row /= shown.standard_uncertainty.0;
        information += &row * row.transpose();
    }
    for (at, place) in it.solved.places.iter().enumerate() {
        if let Some((value, spread)) = it.case.known[*place].spread() {
            information[(at, at)] += (value / spread) * (value / spread);
        }
    }
    if it.solved.gain {
        information[(parts, parts)] += 1.0 / (meter.gain * meter.gain);
    }
    information.cholesky().map(|it| it.inverse())
}

/// Readings in which two standing wirings differ, the plainest first.
pub(super) fn apart(asked: Asked, standing: &[Standing], readings: &Readings) -> Vec<TellsApart> {
    let share = usual(readings);
    let mut found = Vec::new();
    let mut seen: Vec<(&Wiring, usize)> = Vec::new();
    for (index, it) in standing.iter().enumerate() {
        if !seen.iter().any(|(wiring, _)| **wiring == it.case.candidate.wiring) {
            seen.push((&it.case.candidate.wiring, index));
        }
    }
    if seen.len() < 2 {
        return found;
    }
    for take in asked.proposals() {
        let proposed = asked.with_proposal(&take);
        let shown = |index: usize| {
            let it: &Standing = &standing[index];
            let (model, candidate) = it.model(&proposed)?;
            let shown = it.solved.shown_by(&model, &candidate.probes[0])?;
            Some((it.case.candidate.wiring.clone(), shown))
        };
        let all: Vec<(Wiring, Uncertain<Ohms>)> =
            seen.iter().filter_map(|(_, index)| shown(*index)).collect();
        for (at, one) in all.iter().enumerate() {
            for other in &all[at + 1..] {
                let apart_by = apart_by(one.1, other.1, share);
                if apart_by > TOLD_APART_BEYOND {
                    let (one, other) = (one.clone(), other.clone());
                    found.push(TellsApart { take: take.clone(), one, other, apart_by });
                }
            }
        }
    }
    found.sort_by(|a, b| b.apart_by.total_cmp(&a.apart_by));
    found.truncate(MOST_NEXT);
    found
}

fn apart_by(one: Uncertain<Ohms>, other: Uncertain<Ohms>, share: f64) -> f64 {
    let own = share * one.value.0.max(other.value.0);
    let squares = [one.standard_uncertainty.0, other.standard_uncertainty.0, own].map(|u| u * u);
    (one.value.0 - other.value.0).abs() / squares.iter().sum::<f64>().sqrt()
}
