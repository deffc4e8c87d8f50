//! A way of wiring with everything decided that a fit needs decided.

use asfound_measure::{Ohms, Uncertain};

use super::extra::Extra;
use super::model::{Model, Seen, with_ohms};
use super::reading::{CONTACTS, JackError, LEAST_COIL, OhmsKnown, Probe, Shown, TRACK_TOLERANCE};
use super::told::Kind;
use super::wiring::{Candidate, Readings};
use crate::circuit::Sort;
use crate::state::Changes;

/// Wirings with nominal tracks that are held against the readings.
pub(super) const MOST_CASES: usize = 256;

/// Where coils start in a fit, each a little above the one before: alike ones would hide which of two roots is which.
const COIL_START: f64 = 6000.0;
/// Where a track starts of which nothing is known.
const TRACK_START: f64 = 3e5;
/// Where a resistance ahead of the tip starts.
const SERIES_START: f64 = 100.0;
/// A candidate with what is decided about it for one fit.
#[derive(Debug, Clone)]
pub(super) struct Case<'c> {
    pub(super) candidate: &'c Candidate,
    /// What is known of each of the candidate's coils and pots, nominal values chosen.
    pub(super) known: Vec<Beforehand>,
    pub(super) open: Vec<usize>,
    pub(super) shorted: Vec<usize>,
    pub(super) extra: Option<Extra>,
    /// A reading that is left out.
    pub(super) without: Option<usize>,
}

/// What is known of a part, decided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Beforehand {
    Nothing,
    Nominal(f64),
    Metered(f64, f64),
    Fixed(f64),
}

impl Beforehand {
    /// Its value and standard uncertainty. A tolerance is rectangular: a/√3 (JCGM 100:2008, 4.3.7).
    pub(super) fn spread(self) -> Option<(f64, f64)> {
        match self {
            Beforehand::Nominal(value) => Some((value, value * TRACK_TOLERANCE / 3.0_f64.sqrt())),
            Beforehand::Metered(value, uncertainty) => Some((value, uncertainty)),
            Beforehand::Nothing | Beforehand::Fixed(_) => None,
        }
    }
}

impl<'c> Case<'c> {
    /// Every choice of nominal values for a candidate, nothing open or shorted. Values of parts on which no reading
    /// hangs are not chosen between.
    pub(super) fn all(candidate: &'c Candidate, readings: &Readings) -> Result<Vec<Self>, JackError> {
        let case = |known| Case {
            candidate,
            known,
            open: Vec::new(),
            shorted: Vec::new(),
            extra: None,
            without: None,
        };
        let blank = case(vec![Beforehand::Nothing; candidate.known.len()]);
        let (model, places) = blank.model();
        let start = blank.start(&places);
        let mut has_say = vec![false; candidate.known.len()];
        for (reading, _) in blank.counted(readings) {
            let seen = seen_or(&model, &candidate.probes, reading, &start)?;
            has_say.iter_mut().zip(&seen.shares).for_each(|(say, share)| *say |= *share > 0.0);
        }
        let mut choices: Vec<Vec<Beforehand>> = vec![Vec::new()];
        for ((_, known), has_say) in candidate.known.iter().zip(has_say) {
            let ways: Vec<Beforehand> = match known {
                OhmsKnown::Nominal(values) if has_say && !values.is_empty() => {
                    values.iter().map(|value| Beforehand::Nominal(value.0)).collect()
                }
                OhmsKnown::Nominal(_) | OhmsKnown::Unknown => vec![Beforehand::Nothing],
                OhmsKnown::Metered(ohms) => {
                    vec![Beforehand::Metered(ohms.value.0, ohms.standard_uncertainty.0)]
                }
            };
            let with = |choice: &Vec<Beforehand>, way| choice.iter().copied().chain([way]).collect();
            choices = choices
                .iter()
                .flat_map(|choice| ways.iter().map(|way| with(choice, *way)).collect::<Vec<_>>())
                .collect();
            if choices.len() > MOST_CASES {
                return Err(too_many(choices.len()));
            }
        }
        Ok(choices.into_iter().map(case).collect())
    }

    pub(super) fn kind(&self, place: usize) -> Kind {
        match self.candidate.circuit.parts()[self.candidate.known[place].0].sort {
            Sort::Coil(_) => Kind::Coil,
            Sort::Pot(_) => Kind::Track,
            _ => Kind::Extra,
        }
    }

    pub(super) fn is_coil(&self, place: usize) -> bool {
        self.kind(place) == Kind::Coil
    }

    pub(super) fn name(&self, place: usize) -> &'c str {
        &self.candidate.circuit.parts()[self.candidate.known[place].0].name
    }

    fn changes(&self) -> Changes {
        Changes { opened: self.open.clone(), shorted: self.shorted.clone(), ..Changes::default() }
    }

    /// The model of all parts whose ohms are not fixed, and their places.
    pub(super) fn model(&self) -> (Model<'c>, Vec<usize>) {
        let circuit = &self.candidate.circuit;
        let mut changes = self.changes();
        let mut places = Vec::new();
        for (place, known) in self.known.iter().enumerate() {
            let part = self.candidate.known[place].0;
            match known {
                Beforehand::Fixed(ohms) => {
                    let sort = with_ohms(&circuit.parts()[part].sort, Ohms(*ohms));
                    changes = changes.clone().replace(circuit, part, sort).unwrap_or(changes);
                }
                _ => places.push(place),
            }
        }
        let parts = places.iter().map(|&place| self.candidate.known[place].0).collect();
        (Model { circuit, parts, changes }, places)
    }

    pub(super) fn start(&self, places: &[usize]) -> Vec<f64> {
        let of = |(at, &place): (usize, &usize)| match self.known[place].spread() {
            Some((value, _)) => value,
            None if self.is_coil(place) => COIL_START * (1.0 + 0.07 * at as f64),
            None if self.extra == Some(Extra::AheadOfTip) && self.kind(place) == Kind::Extra => SERIES_START,
            None => TRACK_START * (1.0 + 0.03 * at as f64),
        };
        places.iter().enumerate().map(of).collect()
    }

    /// The readings that count in the fit: those with a number. What leads and contacts do is in their uncertainty.
    pub(super) fn counted(&self, readings: &Readings) -> Vec<(usize, Uncertain<Ohms>)> {
        let with = |(reading, shown): (usize, &Shown)| match shown {
            Shown::Ohms(ohms) if Some(reading) != self.without => Some((reading, with_contacts(*ohms))),
            _ => None,
        };
        readings.shown.iter().enumerate().filter_map(with).collect()
    }
}

/// A reading of little but leads and contacts is no surer than they are.
pub(super) fn with_contacts(shown: Uncertain<Ohms>) -> Uncertain<Ohms> {
    let own = shown.standard_uncertainty.0;
    let least = if shown.value.0 < LEAST_COIL.0 { CONTACTS.0 } else { 0.0 };
    Uncertain::new(shown.value, Ohms(own.max(least)))
}

/// The error for more than is tried.
pub(super) fn too_many(read: usize) -> JackError {
    let (read, most) = (read as u128, MOST_CASES as u128);
    JackError::TooMany { what: "ways to wire it and nominal tracks together", read, most }
}

/// What a reading would be.
pub(super) fn seen_or(
    model: &Model,
    probes: &[Probe],
    reading: usize,
    ohms: &[f64],
) -> Result<Seen, JackError> {
    let seen = model.seen(&probes[reading], ohms);
    seen.map_err(|why| JackError::Circuit { reading: reading + 1, why })
}
