//! One way of wiring, fitted to all readings at once.

use asfound_measure::{Ohms, Uncertain};

use super::case::{Case, seen_or};
use super::chance::chance_of;
use super::model::{Model, Ready};
use super::reading::{JackError, LEAST_COIL, MOST_COIL, Meter, Shown};
use super::told::{DOUBTFUL_BELOW, RULED_OUT_BELOW, Verdict};
use super::wiring::Readings;
use crate::least_squares::{Fit, NotTold, Problem, Spread, Unknown};

/// No part of an instrument has fewer or more ohms, a leak included. Readings that drive a value out of this meet a wall
/// there, so that the fit has an end to settle at; a value at a wall is not told.
const WALLS: [f64; 2] = [0.05, 1e9];
/// How soft the walls are, as the standard uncertainty of a logarithm beyond them.
const WALL_SPREAD: f64 = 0.1;
/// The longest track that is met, a fifth over its nominal megohm.
const MOST_TRACK: f64 = 1.2e6;

/// A fit, with what is needed to ask it further.
#[derive(Debug)]
pub(super) struct Solved<'c> {
    pub(super) model: Model<'c>,
    /// For each of the model's parts its place among the candidate's known parts.
    pub(super) places: Vec<usize>,
    /// Ohms of the model's parts at the end.
    pub(super) ohms: Vec<f64>,
    pub(super) fit: Fit,
    /// Whether the meter's gain is the last unknown.
    pub(super) gain: bool,
    pub(super) chi_square: f64,
    pub(super) degrees_of_freedom: usize,
}

/// How a case ends.
#[derive(Debug)]
pub(super) enum Ended<'c> {
    Solved(Box<Solved<'c>>),
    CannotShow(usize),
    NotSettled,
}

impl<'c> Case<'c> {
    /// Fits.
    ///
    /// # Errors
    /// [`JackError::Circuit`] where a setting does not fit the circuit.
    pub(super) fn fit(&self, readings: &Readings, meter: Meter) -> Result<Ended<'c>, JackError> {
        let (mut model, mut places) = self.model();
        let start = self.start(&places);
        let counted = self.counted(readings);
        let probes = &self.candidate.probes;
        let mut used = vec![false; places.len()];
        for (reading, _) in &counted {
            let seen = seen_or(&model, probes, *reading, &start)?;
            if seen.ohms().is_none() {
                return Ok(Ended::CannotShow(*reading));
            }
            used.iter_mut().zip(&seen.shares).for_each(|(used, share)| *used |= *share > 0.0);
        }
        // A part that no reading runs through and of which nothing is known has no say and nothing to be told.
        let keep = |at: &usize| used[*at] || self.known[places[*at]].spread().is_some();
        let kept: Vec<usize> = (0..places.len()).filter(keep).collect();
        model.parts = kept.iter().map(|&at| model.parts[at]).collect();
        places = kept.iter().map(|&at| places[at]).collect();
        let ready = |(reading, _): &(usize, Uncertain<Ohms>)| {
            let ready = model.ready(&probes[*reading]);
            ready.map_err(|why| JackError::Circuit { reading: reading + 1, why })
        };
        let ready = counted.iter().map(ready).collect::<Result<_, JackError>>()?;
        let rows = Rows { ready, counted: &counted, case: self, places: &places, meter };
        let Some(fit) = rows.fit(kept.iter().map(|&at| start[at]).collect()) else {
            return Ok(Ended::NotSettled);
        };
        let ohms = fit.point()[..places.len()].to_vec();
        let (chi_square, gain) = (fit.chi_square(), meter.gain > 0.0);
        let degrees_of_freedom = fit.degrees_of_freedom().saturating_sub(places.len());
        let solved = Solved { model, places, ohms, fit, gain, chi_square, degrees_of_freedom };
        if let Some(reading) = self.not_over(&solved, readings)? {
            return Ok(Ended::CannotShow(reading));
        }
        Ok(Ended::Solved(Box::new(solved)))
    }

    /// A reading over the range that should be within it. Coils and tracks that are not known count as large as they
    /// can be.
    fn not_over(&self, solved: &Solved, readings: &Readings) -> Result<Option<usize>, JackError> {
        let (model, places) = self.model();
        let most = |place: &usize| match solved.places.iter().position(|other| other == place) {
            Some(at) => solved.ohms[at],
            None if self.is_coil(*place) => MOST_COIL.0,
            None => MOST_TRACK,
        };
        let ohms: Vec<f64> = places.iter().map(most).collect();
        for (reading, shown) in readings.shown.iter().enumerate() {
            let Shown::Over(Ohms(limit)) = shown else { continue };
            let seen = seen_or(&model, &self.candidate.probes, reading, &ohms)?;
            if Some(reading) != self.without && seen.ohms().is_some_and(|ohms| ohms < *limit) {
                return Ok(Some(reading));
            }
        }
        Ok(None)
    }

    /// Whether a coil had to be made as good as open or shorted to agree.
    fn unlikely(&self, solved: &Solved) -> Option<usize> {
        solved.places.iter().zip(&solved.ohms).find_map(|(&place, &ohms)| {
            let beyond = !(LEAST_COIL.0..=MOST_COIL.0).contains(&ohms);
            (beyond && self.is_coil(place) && self.known[place].spread().is_none()).then_some(place)
        })
    }

    pub(super) fn verdict(&self, solved: &Solved) -> Verdict {
        if let Some(place) = self.unlikely(solved) {
            return Verdict::Unlikely { coil: self.name(place).to_owned() };
        }
        // With as many values as readings the fit is exact, unless values that parts can have do not reach.
        if solved.degrees_of_freedom == 0 && solved.chi_square < 1.0 {
            return Verdict::NothingToTest;
        }
        let chance = chance_of(solved.chi_square, solved.degrees_of_freedom.max(1));
        if chance < RULED_OUT_BELOW {
            Verdict::RuledOut { chance }
        } else if chance < DOUBTFUL_BELOW {
            Verdict::Doubtful { chance }
        } else {
            Verdict::Agrees { chance }
        }
    }
}

/// The rows of one fit: readings, then what is known beforehand, then the gain, then a wall for each part.
struct Rows<'a, 'c> {
    ready: Vec<Ready>,
    counted: &'a [(usize, Uncertain<Ohms>)],
    case: &'a Case<'c>,
    places: &'a [usize],
    meter: Meter,
}

impl Rows<'_, '_> {
    fn priors(&self) -> impl Iterator<Item = (usize, (f64, f64))> {
        let known = |(at, &place): (usize, &usize)| Some((at, self.case.known[place].spread()?));
        self.places.iter().enumerate().filter_map(known)
    }

    fn gains(&self) -> usize {
        usize::from(self.meter.gain > 0.0)
    }

    fn residuals(&self, values: &[f64]) -> Vec<f64> {
        let (ohms, gain) = values.split_at(self.places.len());
        let by = gain.first().copied().unwrap_or(1.0);
        let read = self.ready.iter().zip(self.counted).map(|(ready, (_, shown))| {
            let seen = ready.seen(ohms).ok().and_then(|seen| seen.ohms());
            by * seen.unwrap_or(f64::NAN) - shown.value.0
        });
        let known = self.priors().map(|(at, (value, _))| ohms[at] - value);
        let rows = read.chain(known).chain(gain.iter().map(|gain| gain - 1.0));
        rows.chain(ohms.iter().map(|&ohms| beyond(ohms))).collect()
    }

    /// By Cohn's theorem a reading moves with a part's ohms by its share over the part's ohms.
    fn derivatives(&self, values: &[f64]) -> Vec<Vec<f64>> {
        let (ohms, gain) = values.split_at(self.places.len());
        let by = gain.first().copied().unwrap_or(1.0);
        let first = self.counted.len();
        let walls = first + self.priors().count() + self.gains();
        let rows = walls + self.places.len();
        let mut columns = vec![vec![0.0; rows]; values.len()];
        for (row, ready) in self.ready.iter().enumerate() {
            let Ok(seen) = ready.seen(ohms) else { continue };
            for (at, share) in seen.shares.iter().enumerate() {
                columns[at][row] = by * share / ohms[at];
            }
            if let Some(column) = columns.get_mut(self.places.len()) {
                column[row] = seen.ohms().unwrap_or(0.0);
            }
        }
        for (row, (at, _)) in self.priors().enumerate() {
            columns[at][first + row] = 1.0;
        }
        if self.gains() == 1 {
            columns[self.places.len()][walls - 1] = 1.0;
        }
        for (at, &ohms) in ohms.iter().enumerate().filter(|(_, ohms)| beyond(**ohms) != 0.0) {
            columns[at][walls + at] = 1.0 / ohms;
        }
        columns
    }

    fn fit(&self, mut start: Vec<f64>) -> Option<Fit> {
        let name = |&place: &usize| Unknown::positive(self.case.name(place));
        let mut unknowns: Vec<Unknown> = self.places.iter().map(name).collect();
        let mut spread: Vec<f64> =
            self.counted.iter().map(|(_, shown)| shown.standard_uncertainty.0).collect();
        spread.extend(self.priors().map(|(_, (_, uncertainty))| uncertainty));
        if self.gains() == 1 {
            unknowns.push(Unknown::positive("the meter's gain"));
            spread.push(self.meter.gain);
            start.push(1.0);
        }
        spread.extend(std::iter::repeat_n(WALL_SPREAD, self.places.len()));
        let (residuals, derivatives) = (|x: &[f64]| self.residuals(x), |x: &[f64]| self.derivatives(x));
        let problem =
            Problem::new(unknowns, Spread::Known(spread), &residuals).with_derivatives(&derivatives);
        problem.fit(&[start]).ok()
    }
}

/// How far the logarithm of ohms lies beyond a wall.
fn beyond(ohms: f64) -> f64 {
    libm::log(ohms / ohms.clamp(WALLS[0], WALLS[1]))
}

impl Solved<'_> {
    /// The ohms of a known part, or why they are not told.
    pub(super) fn told(&self, place: usize, name: &str) -> Result<Uncertain<Ohms>, NotTold> {
        match self.places.iter().position(|other| *other == place) {
            Some(at) if beyond(self.ohms[at]) != 0.0 => {
                Err(NotTold::Vague { name: name.to_owned(), with: Vec::new() })
            }
            Some(at) => self.fit.told(at),
            None => Err(NotTold::NoEffect(name.to_owned())),
        }
    }
}
