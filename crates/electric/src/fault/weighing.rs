//! Every single fault and every pair, weighed.

use asfound_measure::Ohms;

use super::answer::FaultError;
use super::assumed::Options;
use super::candidates::{Candidate, Variant, candidates};
use super::edits::{Edits, Leak, Places};
use super::evidence::Evidence;
use super::heard::Hypothesis;
use super::kinds::Fault;
use super::levels::Ear;
use super::ohms::{Grid, Room};
use super::readings::{Joint, Readings, Weight};
use crate::state::Wired;

/// What falls this far below the best, in natural logarithms, is let go: one in a hundred thousand.
pub(super) const LET_GO: f64 = 11.5;

/// A pair that falls this far below the best is let go: one in a thousand, the least that is ever shown.
const PAIR_LET_GO: f64 = 7.0;

/// A pair is told only where it makes what was seen this many times as probable as one fault of it alone does, as a
/// natural logarithm: three times (common practice, no source).
const EXPLAINS_MORE: f64 = 1.1;

/// Pairs that are listened to; what is heard is slower to work out than what a meter shows.
const MOST_PAIRS_HEARD: usize = 1500;

/// A hypothesis that stands.
#[derive(Debug, Clone)]
pub(super) struct Standing {
    pub(super) faults: Vec<Fault>,
    pub(super) sizes: Vec<Option<Ohms>>,
    /// What it changes, at the size that suits best.
    pub(super) edits: Vec<Edits>,
    /// Which way the unknown joins go in it.
    pub(super) way: usize,
    /// `ln` of prior odds and everything seen, sizes summed over.
    pub(super) log: f64,
    /// `ln p` of each reading and of each thing heard, at the size that suits best.
    pub(super) metered: Vec<f64>,
    pub(super) heard: Vec<f64>,
    pub(super) misread: Vec<usize>,
}

/// How many were weighed.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Counts {
    pub(super) singles: usize,
    pub(super) pairs: usize,
    pub(super) left_out: usize,
}

/// One way that the joins go, with all that is needed to weigh faults in it.
pub(super) struct Bench<'w, 'c, 'e> {
    pub(super) way: usize,
    pub(super) ear: Ear<'w, 'c>,
    pub(super) grid: Grid<'c>,
    evidence: &'e Evidence,
    options: &'e Options,
    readings: Readings,
    room: Room,
    joint: Joint,
    values: usize,
    /// `ln` of the odds of this way.
    odds: f64,
}

/// A hypothesis while it is weighed.
struct Weighed {
    log: f64,
    best: Option<(f64, Weight, usize)>,
}

impl<'w, 'c, 'e> Bench<'w, 'c, 'e> {
    pub(super) fn new(
        (way, ways): (usize, f64),
        wired: &'w Wired<'c>,
        places: Places,
        evidence: &'e Evidence,
        options: &'e Options,
    ) -> Self {
        let grid = Grid::new(wired, options.tolerances);
        let readings = Readings::new(&grid, &evidence.metered, options.priors.misread);
        let ear = Ear::new(wired, places, evidence.load);
        let (room, joint) = (Room::default(), Joint::default());
        // Every part, a leak for each of two faults, and the meter's gain.
        let values = wired.circuit().parts().len() + 3;
        Self { way, ear, grid, evidence, options, readings, room, joint, values, odds: -libm::log(ways) }
    }

    /// Weighs everything; what stands is not yet compared with other ways.
    pub(super) fn weigh(&mut self, counts: &mut Counts) -> Result<Vec<Standing>, FaultError> {
        let circuit = self.ear.wired.circuit();
        let faults = candidates(circuit, &self.ear.places, self.evidence, &self.options.priors)?;
        counts.singles += faults.len();
        let design = self.metered(&[], f64::NEG_INFINITY).unwrap_or_default();
        self.readings.telling_first(&design);
        let mut standing = vec![self.design(design)];
        let mut best = standing[0].log;
        // How well each explains what was seen, its prior apart; nothing is below what the design explains.
        let by_design = best - self.odds - libm::log(self.options.priors.no_fault);
        let mut explained = vec![by_design; faults.len()];
        for (candidate, explained) in faults.iter().zip(&mut explained) {
            if let Some(single) = self.single(candidate, best - LET_GO) {
                best = best.max(single.log);
                *explained = explained.max(single.log - self.odds - libm::log(candidate.odds));
                standing.push(single);
            }
        }
        if self.options.pairs {
            let pairs = self.pairs(&faults, &explained, best, counts);
            standing.extend(pairs);
        }
        let best = standing.iter().map(|it| it.log).fold(f64::NEG_INFINITY, f64::max);
        standing.retain(|it| it.log >= best - LET_GO);
        Ok(standing)
    }

    fn metered(&mut self, edits: &[&Edits], least: f64) -> Option<Weight> {
        self.readings.weigh(&self.grid, &mut self.room, &mut self.joint, edits, self.values, least)
    }

    fn heard(&self, faults: &[Fault], edits: &[&Edits]) -> Vec<f64> {
        if self.evidence.heard.is_empty() {
            return Vec::new();
        }
        let Some(faulted) = self.ear.faulted(edits) else { return vec![0.0; self.evidence.heard.len()] };
        let of = Hypothesis { faults, edits, faulted: &faulted };
        self.evidence.heard.iter().map(|heard| self.ear.log_likelihood(heard, &of)).collect()
    }

    fn design(&self, weight: Weight) -> Standing {
        let heard = self.heard(&[], &[]);
        Standing {
            faults: Vec::new(),
            sizes: Vec::new(),
            edits: Vec::new(),
            way: self.way,
            log: self.odds
                + libm::log(self.options.priors.no_fault)
                + weight.total()
                + heard.iter().sum::<f64>(),
            metered: weight.each,
            heard,
            misread: weight.misread,
        }
    }

    fn single(&mut self, candidate: &Candidate, least: f64) -> Option<Standing> {
        let prior = self.odds + libm::log(candidate.odds);
        let variants = if self.evidence.metered.is_empty() { &candidate.coarse } else { &candidate.fine };
        let mut logs = Vec::new();
        let mut best: Option<(f64, Weight, Vec<f64>, &Variant)> = None;
        for variant in variants {
            let prior = prior + libm::log(variant.share);
            let edits = [&variant.edits];
            let Some(weight) = self.metered(&edits, least - prior) else { continue };
            if prior + weight.total() < least {
                continue;
            }
            let heard = self.heard(&[candidate.fault], &edits);
            let log = prior + weight.total() + heard.iter().sum::<f64>();
            logs.push(log);
            if best.as_ref().is_none_or(|(other, ..)| log > *other) {
                best = Some((log, weight, heard, variant));
            }
        }
        let (_, weight, heard, variant) = best?;
        Some(Standing {
            faults: vec![candidate.fault],
            sizes: vec![size(variant, weight.moved[0])],
            edits: vec![settled(variant, weight.moved[0])],
            way: self.way,
            log: log_sum(&logs),
            metered: weight.each,
            heard,
            misread: weight.misread,
        })
    }

    /// Pairs, by what a meter shows first; then what stands is listened to, the most promising first. A pair that explains
    /// no more than one of its two does alone is that one, so it is let go.
    fn pairs(
        &mut self,
        faults: &[Candidate],
        explained: &[f64],
        best: f64,
        counts: &mut Counts,
    ) -> Vec<Standing> {
        let mut promising: Vec<(f64, Weighed, usize, usize)> = Vec::new();
        let mut best = best;
        let nothing_heard = self.evidence.heard.is_empty();
        for (first, one) in faults.iter().enumerate() {
            for (second, other) in faults.iter().enumerate().skip(first + 1) {
                if exclude_each_other(one.fault, other.fault) {
                    continue;
                }
                counts.pairs += 1;
                let least = (best - PAIR_LET_GO).max(self.least(faults, explained, first, second));
                if let Some(weighed) = self.pair(one, other, least) {
                    if nothing_heard {
                        best = best.max(weighed.log);
                    }
                    promising.push((weighed.log, weighed, first, second));
                }
            }
        }
        promising.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut standing: Vec<Standing> = Vec::new();
        for (place, (bound, weighed, first, second)) in promising.into_iter().enumerate() {
            if bound < best - PAIR_LET_GO {
                break;
            }
            if !nothing_heard && place >= MOST_PAIRS_HEARD {
                counts.left_out += 1;
                continue;
            }
            if let Some(pair) = self.listened(weighed, &faults[first], &faults[second])
                && pair.log >= self.least(faults, explained, first, second)
            {
                best = best.max(pair.log);
                standing.push(pair);
            }
        }
        standing
    }

    /// What a pair must reach to explain more than either of its two.
    fn least(&self, faults: &[Candidate], explained: &[f64], first: usize, second: usize) -> f64 {
        let prior = self.odds + libm::log(faults[first].odds * faults[second].odds);
        prior + explained[first].max(explained[second]) + EXPLAINS_MORE
    }

    fn pair(&mut self, one: &Candidate, other: &Candidate, least: f64) -> Option<Weighed> {
        let prior = self.odds + libm::log(one.odds * other.odds);
        let mut weighed = Weighed { log: f64::NEG_INFINITY, best: None };
        let mut logs = Vec::new();
        for (at, first) in one.coarse.iter().enumerate() {
            for (beside, second) in other.coarse.iter().enumerate() {
                let prior = prior + libm::log(first.share * second.share);
                let Some(weight) = self.metered(&[&first.edits, &second.edits], least - prior) else {
                    continue;
                };
                let log = prior + weight.total();
                logs.push(log);
                if weighed.best.as_ref().is_none_or(|(most, ..)| log > *most) {
                    weighed.best = Some((log, weight, at * other.coarse.len() + beside));
                }
            }
        }
        weighed.log = log_sum(&logs);
        (weighed.log >= least).then_some(weighed)
    }

    fn listened(&self, weighed: Weighed, one: &Candidate, other: &Candidate) -> Option<Standing> {
        let (_, weight, at) = weighed.best?;
        let first = &one.coarse[at / other.coarse.len()];
        let second = &other.coarse[at % other.coarse.len()];
        let faults = vec![one.fault, other.fault];
        let heard = self.heard(&faults, &[&first.edits, &second.edits]);
        Some(Standing {
            log: weighed.log + heard.iter().sum::<f64>(),
            sizes: vec![size(first, weight.moved[0]), size(second, weight.moved[1])],
            edits: vec![settled(first, weight.moved[0]), settled(second, weight.moved[1])],
            faults,
            way: self.way,
            metered: weight.each,
            heard,
            misread: weight.misread,
        })
    }
}

/// The size of a fault, as the readings move it from its step.
fn size(variant: &Variant, moved: f64) -> Option<Ohms> {
    let spread = variant.edits.spread;
    variant.size.map(|size| Ohms(size * libm::exp((moved * spread).clamp(-1.5 * spread, 1.5 * spread))))
}

/// What the fault changes at the size that the readings give it.
fn settled(variant: &Variant, moved: f64) -> Edits {
    let mut edits = variant.edits.clone();
    if let Some(Ohms(size)) = size(variant, moved) {
        edits.leak = edits.leak.map(|leak| Leak { ohms: size, ..leak });
        edits.track = edits.track.map(|(part, _)| (part, size));
    }
    edits
}

/// Two faults of which one leaves no room for the other.
fn exclude_each_other(one: Fault, other: Fault) -> bool {
    let at_one_part = one.part().is_some() && one.part() == other.part();
    let of_contacts = matches!(one, Fault::ContactDead { .. }) && matches!(other, Fault::ContactDead { .. });
    at_one_part && !of_contacts
}

pub(super) fn log_sum(logs: &[f64]) -> f64 {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if most == f64::NEG_INFINITY {
        return most;
    }
    most + libm::log(logs.iter().map(|log| libm::exp(log - most)).sum())
}
