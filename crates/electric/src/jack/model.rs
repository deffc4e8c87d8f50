//! What a meter at the jack would show, and how that moves with each part's ohms.

use asfound_measure::Ohms;

use super::reading::Probe;
use crate::circuit::{Circuit, Coil, Pot, Sort, Terminal};
use crate::direct::{Reading, solve};
use crate::nets::Current;
use crate::network::{Branch, Law, Network, Port, Unsolvable};
use crate::state::Changes;

/// Stands in a circuit for a value that is to be found. Candidates are built with it in every part that may have one.
pub(super) const TO_BE_FOUND: Ohms = Ohms(1e4);

/// Steps that close in on a knob's largest reading. The last are some 1e-8 of a turn wide, and the reading is flat
/// there.
const STEPS: usize = 40;

/// A circuit in which some parts have ohms to be found, with whatever is broken in it.
#[derive(Debug, Clone)]
pub(super) struct Model<'c> {
    pub(super) circuit: &'c Circuit,
    /// Parts, each with its ohms to be found.
    pub(super) parts: Vec<usize>,
    /// What is broken or otherwise.
    pub(super) changes: Changes,
}

/// What a meter would show, with the ohms of it that stand on each part of the model, in their order.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Seen {
    pub(super) reading: Reading,
    pub(super) shares: Vec<f64>,
}

impl Seen {
    /// Ohms of it; nothing where the circuit is open.
    pub(super) fn ohms(&self) -> Option<f64> {
        match self.reading {
            Reading::Ohms(Ohms(ohms)) => Some(ohms),
            Reading::Shorted => Some(0.0),
            Reading::Open => None,
        }
    }
}

/// A model at one probe. Which lugs are one point does not hang on the ohms, so that is found once.
#[derive(Debug, Clone)]
pub(super) struct Ready {
    parts: usize,
    at_rest: Way,
    /// The knob that is turned for the largest reading: at its ends, where lugs become one point, and between them.
    turned: Option<[Way; 2]>,
}

#[derive(Debug, Clone)]
enum Way {
    Shorted,
    Open,
    Live(Live),
}

#[derive(Debug, Clone)]
struct Live {
    nets: usize,
    from: usize,
    to: usize,
    branches: Vec<Branch>,
    /// For each branch the part of the model that it belongs to.
    of: Vec<Option<usize>>,
    /// The pieces of the turned knob's track below and above the wiper.
    pieces: Vec<(usize, bool)>,
}

impl<'c> Model<'c> {
    /// What is shown with these ohms of the model's parts.
    pub(super) fn seen(&self, probe: &Probe, ohms: &[f64]) -> Result<Seen, Unsolvable> {
        self.ready(probe)?.seen(ohms)
    }

    /// The model at one probe, to be asked with many ohms.
    pub(super) fn ready(&self, probe: &Probe) -> Result<Ready, Unsolvable> {
        let parts = self.parts.len();
        let Some(knob) = probe.largest else {
            return Ok(Ready { parts, at_rest: self.way(probe, None)?, turned: None });
        };
        let at = |share: f64| {
            let mut probe = probe.clone();
            probe.setting.wipers[knob] = share;
            self.way(&probe, self.circuit.pots().nth(knob).map(|(part, _)| part))
        };
        Ok(Ready { parts, at_rest: at(0.5)?, turned: Some([at(0.0)?, at(1.0)?]) })
    }

    fn way(&self, probe: &Probe, knob: Option<usize>) -> Result<Way, Unsolvable> {
        let Some(jack) = self.circuit.jacks().next() else { return Err(Unsolvable::NoJack) };
        let wired = self.circuit.possibilities().next().ok_or(Unsolvable::NoJack)?;
        let network = Network::new(&wired, &probe.setting, &self.changes, Current::Direct)?;
        let (tip, sleeve) = (Terminal { part: jack, lug: 0 }, Terminal { part: jack, lug: 1 });
        let (from, to, on_path) = match network.port(tip, sleeve) {
            Port::Shorted => return Ok(Way::Shorted),
            Port::Open => return Ok(Way::Open),
            Port::Live { from, to, on_path } => (from, to, on_path),
        };
        let chosen = network.branches.iter().zip(&on_path).filter(|(_, on)| **on);
        let branches: Vec<Branch> = chosen.map(|(branch, _)| *branch).collect();
        let of = |branch: &Branch| self.parts.iter().position(|part| *part == branch.part);
        let low = knob.map(|part| network.nets.net(Terminal { part, lug: 0 }));
        let piece = |(at, branch): (usize, &Branch)| {
            (Some(branch.part) == knob).then(|| (at, Some(branch.from) == low))
        };
        Ok(Way::Live(Live {
            nets: network.nets.count(),
            from,
            to,
            of: branches.iter().map(of).collect(),
            pieces: branches.iter().enumerate().filter_map(piece).collect(),
            branches,
        }))
    }
}

impl Ready {
    /// What is shown with these ohms of the model's parts.
    pub(super) fn seen(&self, ohms: &[f64]) -> Result<Seen, Unsolvable> {
        let Some(ends) = &self.turned else { return self.at_rest.seen(self.parts, ohms, None) };
        let size = |seen: &Seen| seen.ohms().unwrap_or(f64::INFINITY);
        let mut best = self.largest_between(ohms)?;
        for end in ends {
            let seen = end.seen(self.parts, ohms, None)?;
            if size(&seen) > size(&best) {
                best = seen;
            }
        }
        Ok(best)
    }

    /// What is shown with the knob that is turned at this share of its ohms, between its ends.
    pub(super) fn turned(&self, ohms: &[f64], share: f64) -> Result<Seen, Unsolvable> {
        self.at_rest.seen(self.parts, ohms, Some(share))
    }

    /// The largest reading as the knob turns between its ends: behind a volume the reading rises and then falls, so
    /// golden sections close in on its top. At the top the reading does not move with the knob, so the shares there
    /// are those of the knob standing still.
    fn largest_between(&self, ohms: &[f64]) -> Result<Seen, Unsolvable> {
        const SECTION: f64 = 0.618_033_988_749_894_9;
        let size = |share: f64| self.turned(ohms, share).map(|seen| seen.ohms().unwrap_or(f64::INFINITY));
        let (mut low, mut high) = (0.0, 1.0);
        let (mut a, mut b) = (1.0 - SECTION, SECTION);
        let (mut size_a, mut size_b) = (size(a)?, size(b)?);
        for _ in 0..STEPS {
            if size_a < size_b {
                (low, a, size_a) = (a, b, size_b);
                b = low + SECTION * (high - low);
                size_b = size(b)?;
            } else {
                (high, b, size_b) = (b, a, size_a);
                a = high - SECTION * (high - low);
                size_a = size(a)?;
            }
        }
        self.turned(ohms, (low + high) / 2.0)
    }
}

impl Way {
    fn seen(&self, parts: usize, ohms: &[f64], turned: Option<f64>) -> Result<Seen, Unsolvable> {
        let none = |reading| Ok(Seen { reading, shares: vec![0.0; parts] });
        match self {
            Way::Shorted => none(Reading::Shorted),
            Way::Open => none(Reading::Open),
            Way::Live(live) => live.seen(parts, ohms, turned),
        }
    }
}

impl Live {
    fn seen(&self, parts: usize, ohms: &[f64], turned: Option<f64>) -> Result<Seen, Unsolvable> {
        let mut branches = self.branches.clone();
        for (branch, of) in branches.iter_mut().zip(&self.of) {
            if let (Law::Resistance(drawn), Some(part)) = (&mut branch.law, of) {
                *drawn *= ohms[*part] / TO_BE_FOUND.0;
            }
        }
        if let Some(share) = turned {
            // Drawn with the wiper in the middle.
            for &(at, low) in &self.pieces {
                if let Law::Resistance(drawn) = &mut branches[at].law {
                    *drawn *= 2.0 * if low { share } else { 1.0 - share };
                }
            }
        }
        let right = |branch: &Branch| match branch.law {
            Law::Resistance(ohms) => ohms.is_normal() && ohms > 0.0,
            _ => true,
        };
        // Ohms out of a double's range are no value for a part; a fit must not go there.
        if !branches.iter().all(right) {
            return Err(Unsolvable::Singular);
        }
        let chosen: Vec<&Branch> = branches.iter().collect();
        let direct = solve(self.nets, &chosen, self.from, self.to)?;
        let mut shares = vec![0.0; parts];
        for (branch, of) in self.branches.iter().zip(&self.of) {
            let found = direct.shares.iter().find(|(part, _)| *part == branch.part);
            if let (Some(part), Some((_, Ohms(share)))) = (of, found) {
                shares[*part] = *share;
            }
        }
        Ok(Seen { reading: direct.reading, shares })
    }
}

/// The same part with other ohms.
pub(super) fn with_ohms(sort: &Sort, ohms: Ohms) -> Sort {
    match sort {
        Sort::Coil(coil) => Sort::Coil(Coil { resistance: ohms, ..*coil }),
        Sort::Pot(pot) => Sort::Pot(Pot { track: ohms, ..*pot }),
        Sort::Resistor(_) => Sort::Resistor(ohms),
        other => other.clone(),
    }
}
