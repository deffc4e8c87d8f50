//! Which reading disagrees with the rest, and what it would be under each likely fault.

use asfound_measure::{Ohms, Uncertain};

use super::case::{Case, seen_or, with_contacts};
use super::extra::Extra;
use super::fit::{Ended, Solved};
use super::model::Model;
use super::reading::{JackError, Meter, Probe, Shown};
use super::told::Verdict;
use super::wiring::{Readings, Wiring};

/// A reading further than this from what the rest says, in standard uncertainties, disagrees with it.
pub const DISAGREES_BEYOND: f64 = 3.0;

/// A reading within this of what a fault would give, in standard uncertainties, suits the fault.
const SUITS_WITHIN: f64 = 3.0;
/// Places of a wiper at which a volume's reading is held against the one shown.
const WIPER_STEPS: usize = 400;
/// Halvings that pin a resistance down in its logarithm.
const HALVINGS: usize = 60;
/// The least and the most ohms that a leak or a poor contact is sought in.
const EXTRA_BETWEEN: [f64; 2] = [0.1, 1e9];

/// A fault in one reading.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// This coil is not connected in this position, or its winding opens now and then.
    CoilOut {
        /// The coil.
        coil: String,
    },
    /// This coil's leads touch in this position.
    CoilShorted {
        /// The coil.
        coil: String,
    },
    /// A volume stood at this share of its ohms, not full up.
    VolumeAt {
        /// The pot.
        pot: String,
        /// Wiper's share of the ohms.
        share: f64,
    },
    /// The switch stood, or the selector makes contact, as for another reading.
    AsForReading {
        /// Which, counted from 0.
        reading: usize,
    },
    /// A resistance that nobody drew, of this size.
    Extra {
        /// Where.
        extra: Extra,
        /// Its ohms.
        ohms: Ohms,
    },
    /// Tip and sleeve touch: a shorted selector, or a volume at 0.
    OutputShorted,
}

/// What a reading would be under a fault.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    /// The fault.
    pub fault: Fault,
    /// What would be shown; `None` is open.
    pub would_read: Option<Ohms>,
    /// Whether that is what was shown, within its uncertainty. Where a fault has a size, the size was chosen so.
    pub suits: bool,
}

/// A reading that disagrees with the rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubted {
    /// Which, counted from 0.
    pub reading: usize,
    /// The wiring in which the others agree.
    pub wiring: Wiring,
    /// The nominal track of each pot in it.
    pub nominal: Vec<Option<Ohms>>,
    /// What the others say that it should show.
    pub expected: Uncertain<Ohms>,
    /// How far it is off, in standard uncertainties.
    pub off_by: f64,
    /// How well the others agree.
    pub others: Verdict,
    /// What it would be under each fault; what suits comes first.
    pub suspects: Vec<Suspect>,
}

/// Leaves out each reading in turn.
pub(super) fn doubted(case: &Case, readings: &Readings, meter: Meter) -> Result<Vec<Doubted>, JackError> {
    let mut found = Vec::new();
    for (reading, shown) in readings.shown.iter().enumerate() {
        let Shown::Ohms(shown) = shown else { continue };
        let shown = with_contacts(*shown);
        let mut rest = case.clone();
        rest.without = Some(reading);
        let Ended::Solved(solved) = rest.fit(readings, meter)? else { continue };
        let others = rest.verdict(&solved);
        let Some(expected) = solved.expected(&rest, reading).filter(|_| others.stands()) else { continue };
        let (u, v) = (shown.standard_uncertainty.0, expected.standard_uncertainty.0);
        let off_by = (shown.value.0 - expected.value.0).abs() / (u * u + v * v).sqrt();
        if off_by > DISAGREES_BEYOND {
            let suspects = suspects(&rest, &solved, reading, shown)?;
            let wiring = case.candidate.wiring.clone();
            let nominal = case.nominal();
            found.push(Doubted { reading, wiring, nominal, expected, off_by, others, suspects });
        }
    }
    Ok(found)
}

impl Solved<'_> {
    /// What a reading should show, the meter's gain in it; `None` where the values that it hangs on are not told.
    pub(super) fn expected(&self, case: &Case, reading: usize) -> Option<Uncertain<Ohms>> {
        self.shown_by(&self.model, &case.candidate.probes[reading])
    }

    /// What a model with the same parts would show.
    pub(super) fn shown_by(&self, model: &Model, probe: &Probe) -> Option<Uncertain<Ohms>> {
        let parts = self.places.len();
        let ready = model.ready(probe).ok()?;
        ready.seen(&self.ohms).ok()?.ohms()?;
        let figure = |values: &[f64]| {
            let gain = if self.gain { values[parts] } else { 1.0 };
            let seen = ready.seen(&values[..parts]).ok().and_then(|seen| seen.ohms());
            gain * seen.unwrap_or(f64::INFINITY)
        };
        self.fit.derived(figure).ok()
    }
}

struct Suspecting<'a, 'c> {
    case: &'a Case<'c>,
    solved: &'a Solved<'c>,
    reading: usize,
    shown: Uncertain<Ohms>,
}

fn suspects(
    case: &Case,
    solved: &Solved,
    reading: usize,
    shown: Uncertain<Ohms>,
) -> Result<Vec<Suspect>, JackError> {
    let it = Suspecting { case, solved, reading, shown };
    let mut suspects = it.coils()?;
    suspects.extend(it.volumes()?);
    suspects.extend(it.other_positions()?);
    suspects.extend(it.extras());
    let would_read = Some(Ohms(0.0));
    suspects.push(Suspect { fault: Fault::OutputShorted, would_read, suits: it.suits(would_read) });
    // What suits without a size to choose says more than what can be made to suit.
    let sized = |fault: &Fault| matches!(fault, Fault::VolumeAt { .. } | Fault::Extra { .. });
    suspects.sort_by_key(|suspect| (!suspect.suits, sized(&suspect.fault)));
    Ok(suspects)
}

impl Suspecting<'_, '_> {
    fn suits(&self, would_read: Option<Ohms>) -> bool {
        would_read.is_some_and(|Ohms(ohms)| {
            (ohms - self.shown.value.0).abs() <= SUITS_WITHIN * self.shown.standard_uncertainty.0
        })
    }

    fn suspect(&self, fault: Fault, would_read: Option<f64>) -> Suspect {
        let would_read = would_read.map(Ohms);
        Suspect { fault, suits: self.suits(would_read), would_read }
    }

    fn with(&self, model: &Model, reading: usize) -> Result<Option<f64>, JackError> {
        Ok(seen_or(model, &self.case.candidate.probes, reading, &self.solved.ohms)?.ohms())
    }

    fn coils(&self) -> Result<Vec<Suspect>, JackError> {
        let parts = &self.solved.model.parts;
        let mut suspects = Vec::new();
        let seen = seen_or(&self.solved.model, &self.case.candidate.probes, self.reading, &self.solved.ohms)?;
        for (at, &part) in parts.iter().enumerate() {
            if !self.case.is_coil(self.solved.places[at]) || seen.shares[at] <= 0.0 {
                continue;
            }
            let coil = || self.case.name(self.solved.places[at]).to_owned();
            let mut out = self.solved.model.clone();
            out.changes.opened.push(part);
            let mut shorted = self.solved.model.clone();
            shorted.changes.shorted.push(part);
            suspects.push(self.suspect(Fault::CoilOut { coil: coil() }, self.with(&out, self.reading)?));
            let would_read = self.with(&shorted, self.reading)?;
            suspects.push(self.suspect(Fault::CoilShorted { coil: coil() }, would_read));
        }
        Ok(suspects)
    }

    /// Every place of each volume at which the reading is the one shown.
    fn volumes(&self) -> Result<Vec<Suspect>, JackError> {
        let circuit = &self.case.candidate.circuit;
        let probe = &self.case.candidate.probes[self.reading];
        let mut suspects = Vec::new();
        for (knob, (part, _)) in circuit.pots().enumerate() {
            let told = |why| JackError::Circuit { reading: self.reading + 1, why };
            let ready =
                self.solved.model.ready(&Probe { largest: Some(knob), ..probe.clone() }).map_err(told)?;
            let off = |share: f64| -> Result<f64, JackError> {
                let seen = ready.turned(&self.solved.ohms, share).map_err(told)?;
                Ok(seen.ohms().unwrap_or(f64::INFINITY) - self.shown.value.0)
            };
            // The ends themselves join lugs; they are other faults.
            let place = |step: usize| (step as f64 / WIPER_STEPS as f64).clamp(1e-9, 1.0 - 1e-9);
            for step in 0..WIPER_STEPS {
                let (mut low, mut high) = (place(step), place(step + 1));
                let rises = off(low)? < 0.0;
                if rises == (off(high)? < 0.0) {
                    continue;
                }
                for _ in 0..HALVINGS {
                    let middle = (low + high) / 2.0;
                    if (off(middle)? < 0.0) == rises { low = middle } else { high = middle }
                }
                let fault = Fault::VolumeAt { pot: circuit.parts()[part].name.clone(), share: low };
                suspects.push(self.suspect(fault, Some(off(low)? + self.shown.value.0)));
            }
        }
        Ok(suspects)
    }

    fn other_positions(&self) -> Result<Vec<Suspect>, JackError> {
        let probes = &self.case.candidate.probes;
        let mut suspects = Vec::new();
        for reading in (0..probes.len()).filter(|&reading| probes[reading] != probes[self.reading]) {
            let would_read = self.with(&self.solved.model, reading)?;
            suspects.push(self.suspect(Fault::AsForReading { reading }, would_read));
        }
        Ok(suspects)
    }

    /// Each resistance that nobody drew, of the size that gives the reading shown, where there is one.
    fn extras(&self) -> Vec<Suspect> {
        let extras = Extra::all(self.case.candidate).into_iter();
        extras
            .filter_map(|extra| {
                let (ohms, would_read) = self.size_of(&extra)?;
                let fault = Fault::Extra { extra, ohms: Ohms(ohms) };
                Some(self.suspect(fault, Some(would_read)))
            })
            .collect()
    }

    fn size_of(&self, extra: &Extra) -> Option<(f64, f64)> {
        let with = extra.added_to(self.case.candidate)?;
        let mut model = Model { circuit: &with.circuit, ..self.solved.model.clone() };
        model.parts.push(with.known.last()?.0);
        let ready = model.ready(&with.probes[self.reading]).ok()?;
        let shown = |ln: f64| {
            let ohms: Vec<f64> = self.solved.ohms.iter().copied().chain([libm::exp(ln)]).collect();
            ready.seen(&ohms).ok()?.ohms()
        };
        let [mut low, mut high] = EXTRA_BETWEEN.map(libm::log);
        let target = self.shown.value.0;
        // More ohms anywhere never make a reading smaller.
        if shown(low)? > target || shown(high)? < target {
            return None;
        }
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            if shown(middle)? < target { low = middle } else { high = middle }
        }
        Some((libm::exp(low), shown(low)?))
    }
}
