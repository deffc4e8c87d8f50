//! A trace with all its slips and all probings worth thinking of, laid out once.

use crate::circuit::{Circuit, JoinTo, Terminal};
use crate::nets::Sets;
use crate::state::Setting;

use super::candidates::{pairs, settings, trouble};
use super::grid::{Grid, Stage};
use super::slips::{Joins, Worlds};
use super::{Probed, ProbingError, Span, Tolerances};

/// Switches that are gone through.
pub const MOST_SWITCHES: usize = 24;

/// Lugs that are gone through.
pub const MOST_LUGS: usize = 300;

/// Ways for the unknown joins that are gone through.
pub const MOST_POSSIBILITIES: usize = 64;

/// Ways to lay the joins, slips of all possibilities together, beyond which slips are laid on the first possibility only.
const MOST_WORLDS: usize = 2_000;

/// What may be chosen.
#[derive(Debug, Clone, PartialEq)]
pub struct Options {
    /// What parts and meter may be off by.
    pub tolerances: Tolerances,
    /// Choices tried for the least sheet before the greedy one is left to stand.
    pub most_choices: usize,
}

impl Default for Options {
    fn default() -> Self {
        Self { tolerances: Tolerances::default(), most_choices: super::cover::MOST_CHOICES }
    }
}

/// A trace, ready to be held against the meter.
pub struct Survey<'c> {
    pub(super) circuit: &'c Circuit,
    pub(super) bare: Circuit,
    pub(super) options: Options,
    pub(super) worlds: Worlds,
    pub(super) settings: Vec<Setting>,
    pub(super) stages: Vec<Stage>,
    pub(super) pairs: Joins,
    pub(super) every_pair: bool,
    pub(super) every_position: bool,
    pub(super) slips_of_all: bool,
}

/// A probing thought of: its place among the settings and among the pairs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Candidate {
    pub(super) setting: usize,
    pub(super) pair: usize,
}

impl<'c> Survey<'c> {
    /// Lays out a circuit's slips and the probings worth thinking of.
    ///
    /// # Errors
    /// [`ProbingError`] where nothing is joined, the trace holds more than one instrument, or there is too much to go
    /// through.
    pub fn new(circuit: &'c Circuit, options: Options) -> Result<Survey<'c>, ProbingError> {
        options.tolerances.check()?;
        check_size(circuit)?;
        check_one_instrument(circuit)?;
        let mut worlds = Worlds::new(circuit, 1);
        let ways = worlds.of_possibility.len();
        let slips_of_all = worlds.all.len() * ways <= MOST_WORLDS;
        if slips_of_all && ways > 1 {
            worlds = Worlds::new(circuit, ways);
        }
        let bare = Circuit::new(circuit.parts().to_vec(), Vec::new()).map_err(|_| ProbingError::NoJoins)?;
        let (settings, every_position) = settings(circuit);
        let stages = settings
            .iter()
            .map(|setting| Stage::new(&bare, setting, &options.tolerances))
            .collect::<Result<Vec<_>, _>>()?;
        let drawn = &worlds.all[0].joins;
        let (pairs, every_pair) = pairs(circuit, drawn);
        let survey = Survey {
            circuit,
            bare,
            options,
            settings,
            stages,
            pairs,
            every_pair,
            every_position,
            slips_of_all,
            worlds,
        };
        Ok(survey)
    }

    /// Every probing thought of, the least trouble first.
    pub(super) fn candidates(&self) -> Vec<Candidate> {
        let mut candidates: Vec<(usize, Candidate)> = Vec::new();
        for (at, setting) in self.settings.iter().enumerate() {
            for (pair, &ends) in self.pairs.iter().enumerate() {
                candidates.push((trouble(self.circuit, ends, setting), Candidate { setting: at, pair }));
            }
        }
        candidates.sort_by_key(|&(trouble, candidate)| (trouble, candidate.setting, candidate.pair));
        candidates.into_iter().map(|(_, candidate)| candidate).collect()
    }

    pub(super) fn probed(&self, candidate: Candidate) -> Probed {
        let (a, b) = self.pairs[candidate.pair];
        let (from, to) = self.lead_first(a, b);
        Probed { from, to, setting: self.settings[candidate.setting].clone() }
    }

    /// The jack's lug goes last, where the other lead stays clipped on.
    fn lead_first(&self, a: Terminal, b: Terminal) -> (Terminal, Terminal) {
        let is_jack = |lug: Terminal| self.circuit.jacks().any(|jack| jack == lug.part);
        if is_jack(a) && !is_jack(b) { (b, a) } else { (a, b) }
    }

    /// What every pair shows in a setting, with one way to lay the joins and with the meter's error.
    pub(super) fn shows(&self, setting: usize, world: usize) -> Vec<Span> {
        let grid = Grid::new(&self.stages[setting], &self.worlds.all[world].joins);
        let meter = self.options.tolerances.meter;
        self.pairs.iter().map(|&(a, b)| grid.span(a, b).through(meter)).collect()
    }
}

fn check_size(circuit: &Circuit) -> Result<(), ProbingError> {
    if circuit.joins().is_empty() {
        return Err(ProbingError::NoJoins);
    }
    let switches = circuit.switches().count();
    if switches > MOST_SWITCHES {
        return Err(ProbingError::TooManySwitches { read: switches, most: MOST_SWITCHES });
    }
    let lugs: usize = circuit.parts().iter().map(|part| part.lug_count()).sum();
    if lugs > MOST_LUGS {
        return Err(ProbingError::TooManyLugs { read: lugs, most: MOST_LUGS });
    }
    let possibilities = circuit.possibility_count();
    if possibilities > MOST_POSSIBILITIES as u128 {
        return Err(ProbingError::TooManyPossibilities { read: possibilities, most: MOST_POSSIBILITIES });
    }
    Ok(())
}

/// Parts that hang together by joins, or may, by index; each part is in one list. The first list holds the output jack,
/// where there is one.
pub fn islands(circuit: &Circuit) -> Vec<Vec<usize>> {
    let mut sets = Sets::new(circuit.parts().len());
    for join in circuit.joins() {
        let ends = match &join.to {
            JoinTo::One(end) => std::slice::from_ref(end),
            JoinTo::Candidates { terminals, .. } => terminals,
        };
        for end in ends {
            sets.join(join.a.part, end.part);
        }
    }
    let (island, count) = sets.numbered();
    let mut islands = vec![Vec::new(); count];
    island.iter().enumerate().for_each(|(part, &island)| islands[island as usize].push(part));
    let jack = circuit.jacks().next();
    islands.sort_by_key(|parts| !jack.is_some_and(|jack| parts.contains(&jack)));
    islands
}

/// Two jacks with no wire between them are two instruments.
fn check_one_instrument(circuit: &Circuit) -> Result<(), ProbingError> {
    let names = |parts: &Vec<usize>| parts.iter().map(|&part| circuit.parts()[part].name.clone()).collect();
    let mut with_jack = islands(circuit);
    with_jack.retain(|parts| circuit.jacks().any(|jack| parts.contains(&jack)));
    if with_jack.len() < 2 {
        return Ok(());
    }
    Err(ProbingError::SeveralInstruments { islands: with_jack.iter().map(names).collect() })
}
