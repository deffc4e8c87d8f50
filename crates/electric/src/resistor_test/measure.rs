//! From two recordings to a sweep.

use super::error::{Note, ResistorTestError, Which};
use super::recording::Channels;
use super::spectrum::{Band, bands};
use crate::complex::Complex;
use crate::state::Load;
use crate::sweep::{Point, Sweep};
use asfound_measure::{Hertz, Ohms};

/// A recording and the resistor that was in series.
#[derive(Debug, Clone, Copy)]
pub struct Recording<'a> {
    /// The bytes of a WAV file with two channels: 1 before the resistor, 2 at the coil.
    pub wav: &'a [u8],
    /// The resistor, as measured.
    pub resistor: Ohms,
}

/// What two recordings say.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The coil's impedance with its uncertainty at each frequency.
    pub sweep: Sweep,
    /// Channel 2 by channel 1 with the same voltage on both, the median over the sweep: how unlike the inputs are. It
    /// does not enter the result. A pure number.
    pub channel_ratio: f64,
    /// Frequencies, of the sweep's own, and how well the channels of both recordings belong together there: the smaller
    /// γ², from 0 to 1.
    pub coherence: Vec<(Hertz, f64)>,
    /// What should be known of it.
    pub notes: Vec<Note>,
}

/// Below this γ² a band is noise, or a hum that only one channel has.
const LEAST_COHERENCE: f64 = 0.9;
/// An uncertainty of every figure that no coherence shows, as a share: the slope is not straight over a band, and two
/// recordings are minutes apart. An assumption.
const NEVER_BETTER: f64 = 5e-4;
/// A band with an uncertainty above this says nothing of use.
const WORST: f64 = 0.1;
/// Fewer usable bands are no sweep of a coil.
const LEAST_BANDS: usize = 24;
/// Resistors need to differ by at least this factor.
const APART: f64 = 1.2;
/// Recordings whose slopes differ by less than this share, in the middle of all bands, show the same.
const ALIKE: f64 = 0.003;
/// Channel 2 this much louder, in the middle of all bands, is no difference between inputs.
const LOUDER: f64 = 1.5;

/// Works out the impedance. The recordings may begin at any time before the signal, and hold it once. `input` is the
/// input of channel 2, taken away where it is given.
///
/// # Errors
/// [`ResistorTestError`], naming recording, channel and place.
pub fn measure(
    first: Recording,
    second: Recording,
    input: Option<Load>,
) -> Result<Measured, ResistorTestError> {
    check_resistors(first.resistor, second.resistor)?;
    let one = Channels::read(Which::First, first.wav)?;
    let two = Channels::read(Which::Second, second.wav)?;
    if first.wav == second.wav {
        return Err(ResistorTestError::SameRecording);
    }
    if one.rate != two.rate {
        return Err(ResistorTestError::TwoRates { first: one.rate, second: two.rate });
    }
    let pairs: Vec<(Band, Band)> = bands(&one).into_iter().zip(bands(&two)).collect();
    let clear: Vec<(Band, Band)> = pairs.iter().filter(|pair| is_clear(pair)).copied().collect();
    if clear.len() < LEAST_BANDS {
        return Err(ResistorTestError::Noise { points: clear.len(), of: pairs.len() });
    }
    check_arrangement(&clear)?;
    let solved: Vec<Solved> =
        clear.iter().map(|(a, b)| Solved::of(a, b, first.resistor, second.resistor)).collect();
    if median(solved.iter().map(|solved| solved.admittance.reciprocal().re)) < 0.0 {
        return Err(ResistorTestError::Swapped);
    }
    let kept: Vec<(&Solved, Point)> =
        solved.iter().filter_map(|solved| Some((solved, solved.point(input)?))).collect();
    if kept.len() < LEAST_BANDS {
        return Err(ResistorTestError::Noise { points: kept.len(), of: pairs.len() });
    }
    let coherence = kept.iter().map(|(solved, point)| (point.frequency, solved.coherence)).collect();
    let notes = notes(&pairs, &kept, input);
    let points = kept.iter().map(|(_, point)| *point).collect();
    let sweep =
        Sweep::new(points).map_err(|_| ResistorTestError::Noise { points: kept.len(), of: pairs.len() })?;
    Ok(Measured {
        sweep,
        channel_ratio: median(solved.iter().map(|solved| solved.channel_ratio)),
        coherence,
        notes,
    })
}

fn check_resistors(first: Ohms, second: Ohms) -> Result<(), ResistorTestError> {
    for (which, resistor) in [(Which::First, first), (Which::Second, second)] {
        if !resistor.0.is_normal() || resistor.0 <= 0.0 {
            return Err(ResistorTestError::Resistor { which });
        }
    }
    let ratio = first.0.max(second.0) / first.0.min(second.0);
    if ratio < APART { Err(ResistorTestError::SameResistors { first, second }) } else { Ok(()) }
}

fn is_clear((a, b): &(Band, Band)) -> bool {
    let usable = |band: &Band| band.coherence >= LEAST_COHERENCE && band.relative_uncertainty.is_finite();
    usable(a) && usable(b)
}

/// Whether the channels are the right way round, and the recordings not the same.
fn check_arrangement(clear: &[(Band, Band)]) -> Result<(), ResistorTestError> {
    // A passive coil behind a resistor never has more voltage than stands before it.
    let loud = |slope: fn(&(Band, Band)) -> Complex| median(clear.iter().map(|pair| 1.0 / slope(pair).abs()));
    if loud(|pair| pair.0.slope) > LOUDER && loud(|pair| pair.1.slope) > LOUDER {
        return Err(ResistorTestError::ChannelsSwapped);
    }
    let difference = median(clear.iter().map(|(a, b)| (a.slope - b.slope).abs() / a.slope.abs()));
    if difference < ALIKE { Err(ResistorTestError::SameRecording) } else { Ok(()) }
}

/// One band, solved.
struct Solved {
    middle: f64,
    frequency: f64,
    /// In siemens, the input of channel 2 with it.
    admittance: Complex,
    /// Standard uncertainty of the admittance in siemens.
    uncertainty: f64,
    channel_ratio: f64,
    coherence: f64,
}

impl Solved {
    /// `u = (a - b)/(b R_A - a R_B)`; by its derivatives `∂u/∂a = b (R_A - R_B)/D²` and `∂u/∂b = -a (R_A - R_B)/D²`, with
    /// D the divisor, the uncertainties of the slopes become that of u.
    fn of(a: &Band, b: &Band, first: Ohms, second: Ohms) -> Self {
        let divisor = b.slope * first.0 - a.slope * second.0;
        let admittance = (a.slope - b.slope) / divisor;
        let size = divisor.abs();
        let both = libm::hypot(a.relative_uncertainty, b.relative_uncertainty);
        let sensitivity = a.slope.abs() * b.slope.abs() * (first.0 - second.0).abs() / (size * size);
        let channel_ratio = ((Complex::ONE + admittance * first.0) / a.slope).abs();
        let frequency = 0.5 * (a.frequency + b.frequency);
        let coherence = a.coherence.min(b.coherence);
        Self {
            middle: a.middle,
            frequency,
            admittance,
            uncertainty: sensitivity * both,
            channel_ratio,
            coherence,
        }
    }

    /// The coil alone, where it is told well enough.
    fn point(&self, input: Option<Load>) -> Option<Point> {
        let omega = 2.0 * std::f64::consts::PI * self.frequency;
        let across = input.map_or(Complex::ZERO, |load| {
            Complex::new(load.resistance.map_or(0.0, |load| 1.0 / load.0), omega * load.capacitance.0)
        });
        let coil = self.admittance - across;
        let relative = libm::hypot(self.uncertainty / coil.abs(), NEVER_BETTER);
        let told = relative <= WORST && coil.abs().is_normal();
        told.then(|| Point::complex(Hertz(self.frequency), coil.reciprocal(), Some(relative)))
    }
}

fn notes(pairs: &[(Band, Band)], kept: &[(&Solved, Point)], input: Option<Load>) -> Vec<Note> {
    let mut notes = Vec::new();
    if input.is_none() {
        notes.push(Note::InputNotTakenAway);
    }
    let is_kept = |middle: f64| kept.iter().any(|(solved, _)| solved.middle == middle);
    let lost: Vec<f64> = pairs.iter().map(|(a, _)| a.middle).filter(|middle| !is_kept(*middle)).collect();
    if let (Some(from), Some(to)) = (lost.first(), lost.last()) {
        notes.push(Note::LeftOut { points: lost.len(), from: Hertz(*from), to: Hertz(*to) });
    }
    notes
}

/// The middle of some numbers; nought of none.
fn median(numbers: impl Iterator<Item = f64>) -> f64 {
    let mut numbers: Vec<f64> = numbers.collect();
    numbers.sort_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).copied().unwrap_or(0.0)
}
