use super::unknown::checked_sum;
use super::{Unknown, ViewingFault};

/// Something that can be looked at, metered or asked, and what it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    about: Vec<usize>,
    minutes: f64,
    /// A row for each joint state of `about`, the last unknown running fastest; a column for each outcome.
    shows: Vec<Vec<f64>>,
}

impl Check {
    /// `about` are the places of unknowns in the viewing's list. `shows` has a row for each joint state of them, in the
    /// order in which the last of them runs fastest, and in each row how probable every outcome is in that state.
    ///
    /// # Errors
    /// [`ViewingFault::Minutes`], [`ViewingFault::AboutNothing`], [`ViewingFault::Table`],
    /// [`ViewingFault::Probabilities`].
    pub fn new(about: Vec<usize>, minutes: f64, mut shows: Vec<Vec<f64>>) -> Result<Self, ViewingFault> {
        if !minutes.is_finite() || minutes <= 0.0 {
            return Err(ViewingFault::Minutes(minutes));
        }
        let twice = about.iter().enumerate().any(|(at, unknown)| about[..at].contains(unknown));
        if about.is_empty() || twice {
            return Err(ViewingFault::AboutNothing);
        }
        let outcomes = shows.first().map_or(0, Vec::len);
        if outcomes == 0 || shows.iter().any(|row| row.len() != outcomes) {
            return Err(ViewingFault::Table { rows: shows.len(), wanted: None });
        }
        for row in &mut shows {
            let sum = checked_sum(row.iter().copied())?;
            row.iter_mut().for_each(|share| *share /= sum);
        }
        Ok(Self { about, minutes, shows })
    }

    /// A check on several unknowns that shows the worst that any of them shows by itself. Outcomes rise from good to bad;
    /// for each unknown `alone` has a row for each of its states. The worst is within an outcome where each is, so the
    /// shares up to an outcome multiply.
    ///
    /// # Errors
    /// As [`Check::new`].
    pub fn worst_of(about: Vec<usize>, minutes: f64, alone: &[Vec<Vec<f64>>]) -> Result<Self, ViewingFault> {
        let outcomes = alone.first().and_then(|rows| rows.first()).map_or(0, Vec::len);
        let mut up_to: Vec<Vec<f64>> = vec![vec![1.0; outcomes]];
        for rows in alone {
            if rows.iter().any(|row| row.len() != outcomes) {
                return Err(ViewingFault::Table { rows: rows.len(), wanted: None });
            }
            let further = |joint: &Vec<f64>| -> Vec<Vec<f64>> {
                rows.iter().map(|row| joint.iter().zip(running(row)).map(|(a, b)| a * b).collect()).collect()
            };
            up_to = up_to.iter().flat_map(further).collect();
        }
        let apart = |sums: Vec<f64>| {
            let before = std::iter::once(0.0).chain(sums.clone());
            sums.iter().zip(before).map(|(sum, before)| (sum - before).clamp(0.0, 1.0)).collect()
        };
        Self::new(about, minutes, up_to.into_iter().map(apart).collect())
    }

    pub(super) fn fits(&self, at: usize, unknowns: &[Unknown]) -> Result<(), ViewingFault> {
        let mut states = 1_usize;
        for &unknown in &self.about {
            let known = unknowns.get(unknown).ok_or(ViewingFault::NoSuchUnknown { check: at, unknown })?;
            states = states.saturating_mul(known.states().len());
        }
        if states == self.shows.len() {
            Ok(())
        } else {
            Err(ViewingFault::Table { rows: self.shows.len(), wanted: Some(states) })
        }
    }

    /// The unknowns it bears on.
    pub fn about(&self) -> &[usize] {
        &self.about
    }

    /// How long it takes.
    pub fn minutes(&self) -> f64 {
        self.minutes
    }

    /// How many outcomes it has.
    pub fn outcomes(&self) -> usize {
        self.shows[0].len()
    }

    /// How probable each outcome is, a row for each joint state of the unknowns it bears on, the last running fastest.
    pub fn table(&self) -> &[Vec<f64>] {
        &self.shows
    }
}

fn running(row: &[f64]) -> impl Iterator<Item = f64> + '_ {
    row.iter().scan(0.0, |sum, share| {
        *sum += share;
        Some(*sum)
    })
}
