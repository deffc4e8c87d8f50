//! Response of all coils together, by their powers, and what can be read off it.

use asfound_measure::{Decibels, Hertz};

use super::NOTCH_DEPTH;
use crate::explain::LEVEL_FLOOR;
use crate::network::Unsolvable;
use crate::solve::{Output, Prepared};
use crate::state::{Changes, Load, Setting, Wired};

/// Level over frequency.
pub(super) struct Response {
    frequencies: Vec<Hertz>,
    pub(super) levels: Vec<f64>,
}

/// A dip in a response.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dip {
    pub(super) at: Hertz,
    pub(super) place: usize,
    pub(super) depth: Decibels,
}

impl Response {
    pub(super) fn new(
        wired: &Wired,
        setting: &Setting,
        load: Load,
        changes: &Changes,
        frequencies: &[Hertz],
    ) -> Result<Self, Unsolvable> {
        let mut prepared = Prepared::new(wired, setting, load, changes)?;
        let mut levels = vec![LEVEL_FLOOR.0; frequencies.len()];
        if prepared.output() == Output::Live {
            for (level, &frequency) in levels.iter_mut().zip(frequencies) {
                let transfers = &prepared.at(frequency)?.transfers;
                let power: f64 = transfers.iter().map(|it| it.re * it.re + it.im * it.im).sum();
                *level = if power > 0.0 { (10.0 * libm::log10(power)).max(LEVEL_FLOOR.0) } else { *level };
            }
        }
        Ok(Self { frequencies: frequencies.to_vec(), levels })
    }

    /// The highest frequency at which no more than 3 dB are missing against the level at `from`; `None` where that is the
    /// last one or there is none.
    pub(super) fn upper_corner(&self, from: Hertz) -> Option<Hertz> {
        let start = self.frequencies.iter().position(|&frequency| frequency >= from)?;
        let wanted = self.levels[start] - HALF;
        let last = (start..self.levels.len()).rev().find(|&at| self.levels[at] >= wanted)?;
        self.between(last, last.checked_add(1)?, wanted)
    }

    /// The lowest frequency at which no more than 3 dB are missing against the level at `from`.
    pub(super) fn lower_corner(&self, from: Hertz) -> Option<Hertz> {
        let start = self.frequencies.iter().position(|&frequency| frequency >= from)?;
        let wanted = self.levels[start] - HALF;
        let first = (0..=start).find(|&at| self.levels[at] >= wanted)?;
        self.between(first, first.checked_sub(1)?, wanted)
    }

    /// Where the level passes a value between two neighbouring places.
    fn between(&self, inside: usize, outside: usize, wanted: f64) -> Option<Hertz> {
        let (here, beyond) = (*self.levels.get(inside)?, *self.levels.get(outside)?);
        let share = if here == beyond { 0.0 } else { (here - wanted) / (here - beyond) };
        let (from, to) = (self.frequencies[inside].0, self.frequencies[outside].0);
        Some(Hertz(from * libm::pow(to / from, share)))
    }

    /// The deepest dip that is a notch.
    pub(super) fn notch(&self) -> Option<Dip> {
        let count = self.levels.len();
        let mut right = vec![f64::NEG_INFINITY; count + 1];
        for at in (0..count).rev() {
            right[at] = right[at + 1].max(self.levels[at]);
        }
        let mut left = f64::NEG_INFINITY;
        let mut deepest: Option<Dip> = None;
        for at in 0..count {
            let depth = Decibels(left.min(right[at + 1]) - self.levels[at]);
            if depth >= NOTCH_DEPTH && deepest.is_none_or(|known| depth > known.depth) {
                deepest = Some(Dip { at: self.frequencies[at], place: at, depth });
            }
            left = left.max(self.levels[at]);
        }
        deepest
    }
}

/// Half of the power, in decibels.
const HALF: f64 = 3.010_299_956_639_812;
