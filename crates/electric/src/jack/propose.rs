//! Readings that could be taken at the jack without opening anything.

use super::reading::{FullUp, JackError, Knobs, Plain, PlainReading, Probe, Shown, Traced};
use super::wiring::{Candidate, Readings, plain, traced};
use crate::polarity::Joined;
use crate::state::Setting;

/// Combinations of switch positions of a traced circuit that are proposed from.
const MOST_SETTINGS: usize = 64;

/// A reading that could be taken.
#[derive(Debug, Clone, PartialEq)]
pub enum Proposed {
    /// In a plain arrangement.
    Plain {
        /// The coils to switch on.
        on: Vec<usize>,
        /// How they are joined, where the wiring has both ways.
        joined: Option<Joined>,
        /// How to set the knobs.
        knobs: Knobs,
    },
    /// In a traced circuit.
    Traced(Probe),
}

/// What was asked.
#[derive(Debug, Clone, Copy)]
pub(super) enum Asked<'a> {
    Plain(&'a Plain),
    Traced(&'a Traced),
}

impl Asked<'_> {
    pub(super) fn readings(self) -> usize {
        match self {
            Asked::Plain(asked) => asked.readings.len(),
            Asked::Traced(asked) => asked.readings.len(),
        }
    }

    pub(super) fn candidates(self) -> Result<(Vec<Candidate>, Readings), JackError> {
        match self {
            Asked::Plain(asked) => plain(asked),
            Asked::Traced(asked) => traced(asked),
        }
    }

    /// Readings that were not taken: every position with all knobs full up, each knob at its bottom, and each knob
    /// turned until the reading is largest.
    pub(super) fn proposals(self) -> Vec<Proposed> {
        match self {
            Asked::Plain(asked) => plain_proposals(asked),
            Asked::Traced(asked) => traced_proposals(asked),
        }
    }

    /// Candidates in which the proposals stand in place of the readings, with the same parts in the same places.
    /// A proposal that a wiring has no knob for is left out of it; hence the candidates are made one at a time.
    pub(super) fn with_proposal(self, proposal: &Proposed) -> Vec<Candidate> {
        match (self, proposal) {
            (Asked::Plain(asked), Proposed::Plain { on, joined, knobs }) => {
                let shown = Shown::Over(asfound_measure::Ohms(0.0));
                let reading = PlainReading { on: on.clone(), joined: *joined, knobs: *knobs, shown };
                let asked = Plain { readings: vec![reading], ..asked.clone() };
                plain(&asked).map(|(candidates, _)| candidates).unwrap_or_default()
            }
            (Asked::Traced(asked), Proposed::Traced(probe)) => {
                let shown = Shown::Over(asfound_measure::Ohms(0.0));
                let reading =
                    super::reading::JackReading { probe: probe.clone(), full_up: FullUp::Said, shown };
                let asked = Traced { readings: vec![reading], ..asked.clone() };
                traced(&asked).map(|(candidates, _)| candidates).unwrap_or_default()
            }
            _ => Vec::new(),
        }
    }
}

fn plain_proposals(asked: &Plain) -> Vec<Proposed> {
    let count = asked.coils.len();
    let mut sets: Vec<Vec<usize>> = (0..count).map(|coil| vec![coil]).collect();
    sets.extend((0..count).flat_map(|a| (a + 1..count).map(move |b| vec![a, b])));
    let full = |knobs: Knobs| matches!(knobs, Knobs::FullUp | Knobs::NotSaid);
    let mut proposals = Vec::new();
    for on in sets {
        let volumes = if on.len() == 1 { vec![0, on[0]] } else { on.clone() };
        let turned =
            volumes.iter().flat_map(|&volume| [Knobs::At { volume, share: 0.0 }, Knobs::Largest { volume }]);
        for knobs in [Knobs::FullUp].into_iter().chain(turned) {
            let same = |it: &PlainReading| {
                let mut set = it.on.clone();
                set.sort_unstable();
                set == on && (it.knobs == knobs || full(it.knobs) && full(knobs))
            };
            let new = Proposed::Plain { on: on.clone(), joined: None, knobs };
            if !asked.readings.iter().any(same) && !proposals.contains(&new) {
                proposals.push(new);
            }
        }
    }
    proposals
}

fn traced_proposals(asked: &Traced) -> Vec<Proposed> {
    let mut probes = Vec::new();
    for setting in Setting::every_position(&asked.circuit).take(MOST_SETTINGS) {
        probes.push(Probe { setting: setting.clone(), largest: None });
        for knob in 0..setting.wipers.len() {
            let mut down = setting.clone();
            down.wipers[knob] = 0.0;
            probes.push(Probe { setting: down, largest: None });
            probes.push(Probe { setting: setting.clone(), largest: Some(knob) });
        }
    }
    probes.retain(|probe| !asked.readings.iter().any(|it| it.probe == *probe));
    probes.into_iter().map(Proposed::Traced).collect()
}
