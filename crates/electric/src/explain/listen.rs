//! Listening at the jack: levels of each coil in each band, in a state with or without a change.

use asfound_measure::{Decibels, Hertz};

use super::facts::{Band, PerBand};
use super::{LEVEL_FLOOR, MOST_UNKNOWNS, SILENCED_BY, SILENT_BELOW};
use crate::circuit::Circuit;
use crate::complex::Complex;
use crate::network::Unsolvable;
use crate::solve::{Output, Prepared};
use crate::state::{Changes, Load, Setting, Wired};

/// Probes in each band: the middles of three equal steps of its range on a logarithmic scale.
pub(crate) const PROBES: usize = 3;

/// Where all listening is done: a circuit whose tapers are linear (a knob's turn is then its share of the ohms), a
/// load, and the probes.
pub(crate) struct Bench<'c> {
    pub(crate) circuit: &'c Circuit,
    pub(crate) load: Load,
    probes: Vec<Hertz>,
    pub(crate) coils: usize,
}

/// What was heard: for each coil, its transfers at the probes, band after band.
#[derive(Debug, Clone)]
pub(crate) struct Heard {
    transfers: Vec<[Complex; 3 * PROBES]>,
}

impl<'c> Bench<'c> {
    pub(crate) fn new(circuit: &'c Circuit, load: Load) -> Self {
        let mut probes = Vec::with_capacity(3 * PROBES);
        for band in Band::ALL {
            let (from, to) = band.range();
            for probe in 0..PROBES {
                let share = (probe as f64 + 0.5) / PROBES as f64;
                probes.push(Hertz(from.0 * libm::pow(to.0 / from.0, share)));
            }
        }
        Self { circuit, load, probes, coils: circuit.coils().count() }
    }

    /// Listens to a state, something changed or not. A shorted or open output is silence.
    pub(crate) fn listen(
        &self,
        wired: &Wired,
        setting: &Setting,
        changes: &Changes,
    ) -> Result<Heard, Unsolvable> {
        self.listen_to(&mut Prepared::new(wired, setting, self.load, changes)?)
    }

    /// Listens to a state that is made ready.
    fn listen_to(&self, prepared: &mut Prepared) -> Result<Heard, Unsolvable> {
        if prepared.unknowns() > MOST_UNKNOWNS {
            return Err(Unsolvable::TooLarge { nets: prepared.unknowns(), most: MOST_UNKNOWNS });
        }
        let mut transfers = vec![[Complex::ZERO; 3 * PROBES]; self.coils];
        if prepared.output() == Output::Live {
            for (at, &frequency) in self.probes.iter().enumerate() {
                let response = prepared.at(frequency)?;
                for (coil, transfer) in transfers.iter_mut().zip(&response.transfers) {
                    coil[at] = *transfer;
                }
            }
        }
        Ok(Heard { transfers })
    }
}

impl Heard {
    /// Mean square of a coil's transfer in each band.
    fn power(&self, coil: usize) -> PerBand<f64> {
        let of = |band: usize| {
            let probes = &self.transfers[coil][band * PROBES..(band + 1) * PROBES];
            probes.iter().map(|transfer| transfer.re * transfer.re + transfer.im * transfer.im).sum::<f64>()
                / PROBES as f64
        };
        PerBand { low: of(0), middle: of(1), high: of(2) }
    }

    /// Level of one coil in each band.
    pub(crate) fn level(&self, coil: usize) -> PerBand<Decibels> {
        self.power(coil).map(|&power| decibels(power))
    }

    /// Level of some coils together, as the sum of their powers.
    pub(crate) fn level_of(&self, coils: impl IntoIterator<Item = usize>) -> PerBand<Decibels> {
        let mut sum = PerBand::default();
        for coil in coils {
            let power = self.power(coil);
            sum = PerBand {
                low: sum.low + power.low,
                middle: sum.middle + power.middle,
                high: sum.high + power.high,
            };
        }
        sum.map(|&power| decibels(power))
    }

    /// Level of all coils together.
    pub(crate) fn total(&self) -> PerBand<Decibels> {
        self.level_of(0..self.transfers.len())
    }

    /// Whether a coil is above silence in some band.
    pub(crate) fn audible(&self, coil: usize) -> bool {
        any(&self.level(coil), |level| level >= SILENT_BELOW)
    }

    /// The angle of one coil's signal against another's in each band, -180° to 180°.
    pub(crate) fn angle(&self, a: usize, b: usize) -> PerBand<f64> {
        let of = |band: usize| {
            let range = band * PROBES..(band + 1) * PROBES;
            let pairs = self.transfers[a][range.clone()].iter().zip(&self.transfers[b][range]);
            pairs.fold(Complex::ZERO, |sum, (&a, &b)| sum + a * b.conjugate()).angle().to_degrees()
        };
        PerBand { low: of(0), middle: of(1), high: of(2) }
    }

    /// Whether a coil heard before is silenced here.
    pub(crate) fn silenced(&self, before: &Heard, coil: usize) -> bool {
        let change = change(&before.level(coil), &self.level(coil));
        !self.audible(coil) || all(&change, |change| change <= SILENCED_BY)
    }
}

/// A mean square as a level, at least [`LEVEL_FLOOR`].
pub(crate) fn decibels(power: f64) -> Decibels {
    if power > 0.0 { Decibels((10.0 * libm::log10(power)).max(LEVEL_FLOOR.0)) } else { LEVEL_FLOOR }
}

/// What a level changes by, in each band.
pub(crate) fn change(before: &PerBand<Decibels>, after: &PerBand<Decibels>) -> PerBand<Decibels> {
    PerBand {
        low: after.low - before.low,
        middle: after.middle - before.middle,
        high: after.high - before.high,
    }
}

/// Whether something holds in any band.
pub(crate) fn any<T: Copy>(bands: &PerBand<T>, holds: impl Fn(T) -> bool) -> bool {
    holds(bands.low) || holds(bands.middle) || holds(bands.high)
}

/// Whether something holds in every band.
pub(crate) fn all<T: Copy>(bands: &PerBand<T>, holds: impl Fn(T) -> bool) -> bool {
    holds(bands.low) && holds(bands.middle) && holds(bands.high)
}
