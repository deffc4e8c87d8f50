//! The figures of one response: peak, corner and slope.

use asfound_measure::{Decibels, Hertz};
use std::f64::consts::TAU;

use super::State;
use super::contracted::{Contracted, Filled, Room, SIDE_BY_SIDE};
use crate::explain::{KNOB_NOTHING_BELOW, LEVEL_FLOOR, RESONANCE_REFERENCE};
use crate::network::Unsolvable;

/// Decibels per octave; falling is below nought.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct PerOctave(pub f64);

/// The peak of a response.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// Where it stands.
    pub at: Hertz,
    /// Its level at the jack.
    pub level: Decibels,
    /// Its height above the level at [`RESONANCE_REFERENCE`].
    pub height: Decibels,
}

/// What a response comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// The level at [`RESONANCE_REFERENCE`].
    pub reference: Decibels,
    /// The highest peak above that frequency, where it stands out by [`KNOB_NOTHING_BELOW`].
    pub peak: Option<Peak>,
    /// The highest frequency at which no more than 3 dB (half of the power) are missing against the reference, where that
    /// lies inside the frequencies.
    pub corner: Option<Hertz>,
    /// How fast the level falls from one to two octaves above the peak, or above the corner where there is no peak.
    pub slope: Option<PerOctave>,
}

/// A contracted state with the frequencies at which it is heard.
pub(super) struct Sweep {
    pub(super) contracted: Contracted,
    pub(super) frequencies: Vec<Hertz>,
    /// Angular frequencies, the last repeated to fill the last block.
    omega: Vec<[f64; SIDE_BY_SIDE]>,
    reference: usize,
}

/// Room for the solutions of a sweep.
pub(super) struct Rooms {
    pub(super) filled: Filled,
    block: Room<SIDE_BY_SIDE>,
    two: Room<2>,
    /// Squares of the levels, as many as there are frequencies.
    pub(super) squares: Vec<f64>,
}

impl Sweep {
    pub(super) fn new(state: &State<'_>, frequencies: &[Hertz]) -> Result<Self, Unsolvable> {
        let mut frequencies = frequencies.to_vec();
        frequencies.sort_by(|a, b| a.0.total_cmp(&b.0));
        let contracted = Contracted::new(state, &frequencies)?;
        let block = |part: &[Hertz]| {
            let mut block = [TAU * part[part.len() - 1].0; SIDE_BY_SIDE];
            block.iter_mut().zip(part).for_each(|(omega, frequency)| *omega = TAU * frequency.0);
            block
        };
        let omega = frequencies.chunks(SIDE_BY_SIDE).map(block).collect();
        let above = frequencies.iter().position(|&frequency| frequency >= RESONANCE_REFERENCE);
        let reference = above.unwrap_or(0);
        Ok(Self { contracted, frequencies, omega, reference })
    }

    pub(super) fn rooms(&self) -> Rooms {
        Rooms {
            filled: self.contracted.filled(),
            block: self.contracted.room(),
            two: self.contracted.room(),
            squares: vec![0.0; self.frequencies.len()],
        }
    }

    /// Solves at every frequency with these values.
    ///
    /// # Errors
    /// [`Unsolvable::Singular`] where there is no single answer.
    pub(super) fn solve(&self, factors: &[f64], rooms: &mut Rooms) -> Result<(), Unsolvable> {
        self.contracted.fill(factors, &mut rooms.filled);
        let blocks = rooms.squares.chunks_mut(SIDE_BY_SIDE);
        let mut finite = true;
        for (out, omega) in blocks.zip(&self.omega) {
            let squares = self.contracted.squares(&rooms.filled, omega, &mut rooms.block);
            out.copy_from_slice(&squares[..out.len()]);
            finite &= squares.iter().all(|square| square.is_finite());
        }
        if finite { Ok(()) } else { Err(Unsolvable::Singular) }
    }

    /// The figures of what was solved last.
    pub(super) fn figures(&self, rooms: &mut Rooms) -> Figures {
        let reference = level(rooms.squares[self.reference]);
        let peak = self.peak(&rooms.squares, reference);
        let corner = self.corner(&rooms.squares);
        let slope = peak.map(|peak| peak.at).or(corner).and_then(|from| {
            let omega = [2.0, 4.0].map(|times| times * TAU * from.0);
            let [one, two] = self.contracted.squares(&rooms.filled, &omega, &mut rooms.two);
            let (one, two) = (level(one), level(two));
            (two > LEVEL_FLOOR).then_some(PerOctave(two.0 - one.0))
        });
        Figures { reference, peak, corner, slope }
    }

    fn peak(&self, squares: &[f64], reference: Decibels) -> Option<Peak> {
        let last = squares.len().checked_sub(1)?;
        let peak = (self.reference.max(1)..last)
            .filter(|&at| squares[at] >= squares[at - 1] && squares[at] > squares[at + 1])
            .max_by(|&a, &b| squares[a].total_cmp(&squares[b]))?;
        let [before, here, after] = [peak - 1, peak, peak + 1].map(|at| level(squares[at]).0);
        let [left, middle, right] = [peak - 1, peak, peak + 1].map(|at| libm::log(self.frequencies[at].0));
        // Vertex of the parabola through three points, by divided differences.
        let (rise, fall) = ((here - before) / (middle - left), (after - here) / (right - middle));
        let bend = (fall - rise) / (right - left);
        let shift = if bend < 0.0 { -(rise + bend * (middle - left)) / (2.0 * bend) } else { 0.0 };
        let slope_here = rise + bend * (middle - left);
        let level = Decibels(here + slope_here * shift + bend * shift * shift);
        let height = Decibels(level.0 - reference.0);
        (height >= KNOB_NOTHING_BELOW).then(|| Peak { at: Hertz(libm::exp(middle + shift)), level, height })
    }

    fn corner(&self, squares: &[f64]) -> Option<Hertz> {
        let half = squares[self.reference] / 2.0;
        let last = squares.iter().rposition(|&square| square >= half)?;
        let (here, beyond) = (*squares.get(last)?, *squares.get(last + 1)?);
        let share = if beyond > 0.0 { libm::log(here / half) / libm::log(here / beyond) } else { 0.0 };
        let (from, to) = (self.frequencies[last].0, self.frequencies[last + 1].0);
        Some(Hertz(from * libm::pow(to / from, share)))
    }
}

/// A square as a level, at least [`LEVEL_FLOOR`].
pub(super) fn level(square: f64) -> Decibels {
    if square > 0.0 { Decibels((10.0 * libm::log10(square)).max(LEVEL_FLOOR.0)) } else { LEVEL_FLOOR }
}

/// The figures of a state with every part as named. The frequencies rise; peak and corner are looked for among them.
///
/// # Errors
/// [`Unsolvable`] where the state has no output to solve, or is asked with wrong settings, signs or frequencies.
pub fn figures(state: &State<'_>, frequencies: &[Hertz]) -> Result<Figures, Unsolvable> {
    let sweep = Sweep::new(state, frequencies)?;
    let mut rooms = sweep.rooms();
    sweep.solve(&sweep.contracted.as_named(), &mut rooms)?;
    Ok(sweep.figures(&mut rooms))
}

/// The level of a state at each frequency with every part as named, in rising order of the frequencies.
///
/// # Errors
/// As [`figures`].
pub fn levels(state: &State<'_>, frequencies: &[Hertz]) -> Result<Vec<Decibels>, Unsolvable> {
    let sweep = Sweep::new(state, frequencies)?;
    let mut rooms = sweep.rooms();
    sweep.solve(&sweep.contracted.as_named(), &mut rooms)?;
    Ok(rooms.squares.iter().map(|&square| level(square)).collect())
}
