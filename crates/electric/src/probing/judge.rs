//! Readings taken, judged against the trace.

use crate::circuit::Terminal;
use crate::state::{Setting, Wired};

use super::grid::{Grid, Stage};
use super::survey::{Candidate, Survey};
use super::{Probed, ProbingError, Slip, Span, check_lug};

/// A probing that was made.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// One lug.
    pub from: Terminal,
    /// The other.
    pub to: Terminal,
    /// How everything may have stood: one setting where it was said, else all it may have been. The reading agrees with
    /// what any of them would show.
    pub settings: Vec<Setting>,
    /// What the meter showed, within its own error.
    pub shown: Span,
}

impl Taken {
    /// A probing in a setting that is known.
    pub fn at(probed: Probed, shown: Span) -> Taken {
        Taken { from: probed.from, to: probed.to, settings: vec![probed.setting], shown }
    }
}

/// What one reading says.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Whether the trace as drawn, some way of its unknown joins, may show this.
    pub agrees: bool,
    /// What it should have shown, without the meter's error: one span for each way the unknown joins can go and each
    /// setting it may have been taken in.
    pub expected: Vec<Span>,
}

/// An unknown join that the readings settle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settled {
    /// The join, by index.
    pub join: usize,
    /// Where it goes; `None` is nowhere.
    pub to: Option<Terminal>,
}

/// What all readings say together.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// For each reading, in their order.
    pub readings: Vec<Verdict>,
    /// Pairs of readings that no circuit shows: the same two lugs in the same setting, apart.
    pub contradict: Vec<(usize, usize)>,
    /// Whether the trace as drawn accounts for all of them.
    pub stands: bool,
    /// Ways the unknown joins can go that account for all readings, counted as in [`crate::Circuit::possibilities`].
    pub possibilities: Vec<usize>,
    /// Unknown joins that go one way in all of those.
    pub settled: Vec<Settled>,
    /// Where the trace does not account for all: single slips that account for more of the readings than it does, each
    /// list such as nothing read so far tells apart.
    pub slips: Vec<Vec<Slip>>,
    /// How many of the readings those slips account for.
    pub accounted: usize,
    /// How many of the possible slips the readings exclude.
    pub excluded: usize,
    /// How many possible slips there are that differ for a wire.
    pub of: usize,
}

impl Survey<'_> {
    /// Judges readings.
    ///
    /// # Errors
    /// [`ProbingError`] where a probing names a lug or setting that the circuit does not have.
    pub fn judge(&self, taken: &[Taken]) -> Result<Judged, ProbingError> {
        let shows = self.would_show(taken)?;
        let agrees = |world: usize, reading: usize| agree(&shows[world][reading], &taken[reading]);
        let count = |world: usize| (0..taken.len()).filter(|&reading| agrees(world, reading)).count();
        let (drawn, all) = (self.worlds.drawn, self.worlds.all.len());
        let counts: Vec<usize> = (0..all).map(count).collect();
        let readings = (0..taken.len())
            .map(|reading| Verdict {
                agrees: (0..drawn).any(|world| agrees(world, reading)),
                expected: (0..drawn).flat_map(|world| shows[world][reading].iter().copied()).collect(),
            })
            .collect();
        let best_drawn = counts[..drawn].iter().copied().max().unwrap_or(0);
        let best = counts.iter().copied().max().unwrap_or(0);
        let stands = best_drawn == taken.len();
        let slips = (drawn..all)
            .filter(|&world| !stands && counts[world] == best && best > best_drawn)
            .map(|world| self.worlds.all[world].slips.iter().map(|(_, slip)| *slip).collect())
            .collect();
        let possibilities: Vec<usize> = (0..self.worlds.of_possibility.len())
            .filter(|&at| counts[self.worlds.of_possibility[at]] == taken.len())
            .collect();
        Ok(Judged {
            readings,
            contradict: contradictions(taken),
            stands,
            settled: self.settled(&possibilities),
            possibilities,
            slips,
            accounted: best,
            excluded: (drawn..all).filter(|&world| counts[world] < taken.len()).count(),
            of: all - drawn,
        })
    }

    /// The probing to make next: the one that tells most of what is still possible apart. While the trace may still be
    /// right that is the trace from its slips; after that, the slips from each other. `None` where nothing more can be
    /// told, or no single slip accounts for the readings.
    ///
    /// # Errors
    /// As [`Survey::judge`].
    pub fn next(&self, taken: &[Taken]) -> Result<Option<Probed>, ProbingError> {
        let shows = self.would_show(taken)?;
        let possible: Vec<usize> = (0..self.worlds.all.len())
            .filter(|&world| shows[world].iter().zip(taken).all(|(shows, taken)| agree(shows, taken)))
            .collect();
        let drawn = possible.iter().filter(|&&world| world < self.worlds.drawn).count();
        let from = if drawn > 0 { drawn } else { possible.len() };
        let mut best: Option<(usize, usize, Candidate)> = None;
        let candidates = self.candidates();
        for setting in 0..self.settings.len() {
            let spans: Vec<Vec<Span>> = possible.iter().map(|&world| self.shows(setting, world)).collect();
            for (trouble, &candidate) in candidates.iter().enumerate().filter(|(_, it)| it.setting == setting)
            {
                let span = |world: usize| &spans[world][candidate.pair];
                let told = (0..from)
                    .map(|a| (a + 1..possible.len()).filter(|&b| span(a).apart(span(b))).count())
                    .sum();
                let better = best.is_none_or(|(most, least, _)| (told, least) > (most, trouble));
                if told > 0 && better {
                    best = Some((told, trouble, candidate));
                }
            }
        }
        Ok(best.map(|(_, _, candidate)| self.probed(candidate)))
    }

    /// What each way to lay the joins would show for each reading in each of its settings, without the meter's error.
    fn would_show(&self, taken: &[Taken]) -> Result<Vec<Vec<Vec<Span>>>, ProbingError> {
        let mut stages: Vec<(&Setting, Stage)> = Vec::new();
        for one in taken {
            check_lug(self.circuit, one.from)?;
            check_lug(self.circuit, one.to)?;
            for setting in &one.settings {
                if !stages.iter().any(|(known, _)| *known == setting) {
                    stages.push((setting, Stage::new(&self.bare, setting, &self.options.tolerances)?));
                }
            }
        }
        let shows = self.worlds.all.iter().map(|world| {
            let grids: Vec<(&Setting, Grid)> =
                stages.iter().map(|(setting, stage)| (*setting, Grid::new(stage, &world.joins))).collect();
            let show = |one: &Taken| {
                let stood = grids.iter().filter(|(setting, _)| one.settings.contains(setting));
                stood.map(|(_, grid)| grid.span(one.from, one.to)).collect()
            };
            taken.iter().map(show).collect()
        });
        Ok(shows.collect())
    }

    fn settled(&self, possibilities: &[usize]) -> Vec<Settled> {
        if self.worlds.of_possibility.len() < 2 {
            return Vec::new();
        }
        let all: Vec<Wired> = self.circuit.possibilities().collect();
        let goes = |at: usize, join: usize| {
            all[at].joins().find(|(index, _, _)| *index == join).map(|(_, _, end)| end)
        };
        let joins = self.circuit.joins().iter().enumerate();
        let open = joins.filter(|(_, join)| !matches!(join.to, crate::circuit::JoinTo::One(_)));
        open.filter_map(|(join, _)| {
            let to = goes(*possibilities.first()?, join);
            let one_way = possibilities.iter().all(|&at| goes(at, join) == to);
            one_way.then_some(Settled { join, to })
        })
        .collect()
    }
}

/// Whether a reading may be what one of its settings shows.
fn agree(shows: &[Span], taken: &Taken) -> bool {
    shows.iter().any(|span| !span.apart(&taken.shown))
}

fn contradictions(taken: &[Taken]) -> Vec<(usize, usize)> {
    let same = |a: &Taken, b: &Taken| {
        let ends = (a.from == b.from && a.to == b.to) || (a.from == b.to && a.to == b.from);
        ends && a.settings.len() == 1 && a.settings == b.settings
    };
    let mut pairs = Vec::new();
    for (at, one) in taken.iter().enumerate() {
        for (other, two) in taken.iter().enumerate().skip(at + 1) {
            if same(one, two) && one.shown.apart(&two.shown) {
                pairs.push((at, other));
            }
        }
    }
    pairs
}
