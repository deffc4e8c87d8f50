//! How far sound parts, joins and the meter may lie from what the trace gives.

use asfound_measure::Ohms;

use crate::circuit::{Circuit, Sort};
use crate::network::{Branch, Law};
use crate::taper::Taper;

use super::ProbingError;

/// How far a value may lie from the one traced, as shares of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Below it.
    pub under: f64,
    /// Above it.
    pub over: f64,
}

impl Margin {
    /// The same on both sides.
    pub const fn both(share: f64) -> Self {
        Self { under: share, over: share }
    }
}

/// What every part, join and meter may be off by. Limits, not standard uncertainties.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerances {
    /// Coils and chokes, as metered: ±2 % for 15 to 25 °C around 20 °C (copper, 0.00393 per kelvin, IEC 60028) and ±1 %
    /// for the meter that was used.
    pub winding: Margin,
    /// Tracks of pots: ±20 % as sold. Common practice, no source.
    pub track: Margin,
    /// Resistors: old composition drifts upwards, by up to a fifth in parts that were never used; new film stays within
    /// a tenth. Common practice, no source.
    pub resistor: Margin,
    /// Single parts that are known better, by index: a pot that was metered out of the circuit.
    pub parts: Vec<(usize, Margin)>,
    /// What a join, a closed contact or a wiper at its end may show: up to this much. The same figure above which a
    /// traced join is asked about. Common practice, no source.
    pub touching: Ohms,
    /// What nothing at all may show: from this much on, for damp and fingers. Common practice, no source.
    pub open_from: Ohms,
    /// The meter, as a share of what it shows; two readings are told apart only where they differ by more.
    pub meter: f64,
    /// A knob between its ends: how far the wiper's share of the track may lie from its law. Where the law is not known
    /// the share may be anything. Common practice, no source.
    pub turn: f64,
}

impl Default for Tolerances {
    fn default() -> Self {
        Self {
            winding: Margin::both(0.03),
            track: Margin::both(0.2),
            resistor: Margin { under: 0.1, over: 0.2 },
            parts: Vec::new(),
            touching: crate::trace::JOIN_OHMS_QUESTIONED,
            open_from: Ohms(5e6),
            meter: 0.01,
            turn: 0.1,
        }
    }
}

/// A wiper between its ends is taken to stand at least this share of the track from either: nearer, it is at the end.
const NEAREST_TO_END: f64 = 0.02;

impl Tolerances {
    /// Whether every figure can be.
    ///
    /// # Errors
    /// [`ProbingError::Tolerance`] for the first that cannot.
    pub fn check(&self) -> Result<(), ProbingError> {
        let margins =
            [("windings", self.winding), ("tracks", self.track), ("resistors", self.resistor)].into_iter();
        let single = self.parts.iter().map(|(_, margin)| ("single parts", *margin));
        for (of, margin) in margins.chain(single) {
            if !(0.0..1.0).contains(&margin.under) || !(0.0..10.0).contains(&margin.over) {
                let read = if (0.0..1.0).contains(&margin.under) { margin.over } else { margin.under };
                return Err(ProbingError::Tolerance { of, read });
            }
        }
        for (of, read) in [("the meter", self.meter), ("the turn of a knob", self.turn)] {
            if !(0.0..1.0).contains(&read) {
                return Err(ProbingError::Tolerance { of, read });
            }
        }
        let floor = self.touching.0;
        if !(floor >= 0.0 && self.open_from.0 > floor) {
            return Err(ProbingError::Tolerance { of: "what touches", read: floor });
        }
        Ok(())
    }

    /// The margin of a part.
    pub fn margin(&self, circuit: &Circuit, part: usize) -> Margin {
        let single = self.parts.iter().find(|(known, _)| *known == part);
        single.map_or_else(
            || match circuit.parts()[part].sort {
                Sort::Pot(_) => self.track,
                Sort::Resistor(_) => self.resistor,
                _ => self.winding,
            },
            |(_, margin)| *margin,
        )
    }

    /// Least and most ohms of a branch at direct current; `sort` is its part as it now is.
    pub(super) fn of_branch(&self, circuit: &Circuit, sort: &Sort, branch: &Branch) -> Option<[f64; 2]> {
        let Law::Resistance(ohms) = branch.law else { return None };
        let margin = self.margin(circuit, branch.part);
        let (under, over) = (1.0 - margin.under, 1.0 + margin.over);
        let Sort::Pot(pot) = sort else { return Some([ohms * under, ohms * over]) };
        let share = ohms / pot.track.0;
        if share >= 1.0 {
            return Some([ohms * under, ohms * over]);
        }
        let (least, most) = match pot.taper {
            Taper::Unknown => (0.0, 1.0),
            _ => (share - self.turn, share + self.turn),
        };
        let within = |share: f64| share.clamp(NEAREST_TO_END, 1.0 - NEAREST_TO_END);
        Some([pot.track.0 * under * within(least), pot.track.0 * over * within(most)])
    }
}
