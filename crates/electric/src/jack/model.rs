//! What a meter at the jack would show, and how that moves with each part's ohms.

use asfound_measure::Ohms;

use super::reading::Probe;
use crate::circuit::{Circuit, Coil, Pot, Sort, Terminal};
use crate::direct::{Reading, resistance};
use crate::network::Unsolvable;
use crate::state::Changes;

/// Halvings of the interval in which a knob's largest reading is sought; more do not move a double.
const HALVINGS: usize = 60;

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

impl Model<'_> {
    /// What is shown with these ohms of the model's parts.
    pub(super) fn seen(&self, probe: &Probe, ohms: &[f64]) -> Result<Seen, Unsolvable> {
        match probe.largest {
            None => self.at(probe, ohms),
            Some(knob) => self.largest(probe, knob, ohms),
        }
    }

    fn at(&self, probe: &Probe, ohms: &[f64]) -> Result<Seen, Unsolvable> {
        let Some(jack) = self.circuit.jacks().next() else { return Err(Unsolvable::NoJack) };
        let mut changes = self.changes.clone();
        for (&part, &ohms) in self.parts.iter().zip(ohms) {
            let sort = with_ohms(&self.circuit.parts()[part].sort, ohms);
            // Ohms out of a double's range are no value for a part; a fit must not go there.
            changes = changes.replace(self.circuit, part, sort).ok_or(Unsolvable::Singular)?;
        }
        let wired = self.circuit.possibilities().next().ok_or(Unsolvable::NoJack)?;
        let (tip, sleeve) = (Terminal { part: jack, lug: 0 }, Terminal { part: jack, lug: 1 });
        let direct = resistance(&wired, &probe.setting, &changes, tip, sleeve)?;
        let share = |part: &usize| {
            let found = direct.shares.iter().find(|(other, _)| other == part);
            found.map_or(0.0, |(_, Ohms(ohms))| *ohms)
        };
        Ok(Seen { shares: self.parts.iter().map(share).collect(), reading: direct.reading })
    }

    /// The largest reading as one knob turns. At the top the reading does not move with the knob, so the shares there
    /// are those of the knob standing still.
    fn largest(&self, probe: &Probe, knob: usize, ohms: &[f64]) -> Result<Seen, Unsolvable> {
        let turned = |share: f64| {
            let mut turned = probe.clone();
            turned.largest = None;
            turned.setting.wipers[knob] = share;
            self.at(&turned, ohms)
        };
        let size = |share: f64| turned(share).map(|seen| seen.ohms().unwrap_or(f64::INFINITY));
        let (mut low, mut high) = (0.0, 1.0);
        // A reading behind a volume rises and then falls as the knob turns, so thirds close in on its top.
        for _ in 0..HALVINGS {
            let third = (high - low) / 3.0;
            let (a, b) = (low + third, high - third);
            if size(a)? < size(b)? { low = a } else { high = b }
        }
        let ends = [0.0, (low + high) / 2.0, 1.0];
        let mut best = turned(ends[0])?;
        for share in &ends[1..] {
            let seen = turned(*share)?;
            if seen.ohms().unwrap_or(f64::INFINITY) > best.ohms().unwrap_or(f64::INFINITY) {
                best = seen;
            }
        }
        Ok(best)
    }
}

/// The same part with other ohms.
pub(super) fn with_ohms(sort: &Sort, ohms: f64) -> Sort {
    match sort {
        Sort::Coil(coil) => Sort::Coil(Coil { resistance: Ohms(ohms), ..*coil }),
        Sort::Pot(pot) => Sort::Pot(Pot { track: Ohms(ohms), ..*pot }),
        Sort::Resistor(_) => Sort::Resistor(Ohms(ohms)),
        other => other.clone(),
    }
}
