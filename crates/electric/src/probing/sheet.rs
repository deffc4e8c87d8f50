//! The check sheet: the few probings that verify the whole trace.

use super::candidates::moves;
use super::cover::{Bits, fewest};
use super::survey::{Candidate, Survey};
use super::{Probed, Slip, Span};

/// Whether fewer probings could do it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// Proved: no smaller set of the probings thought of shows every slip.
    Least,
    /// Not proved: this many are needed at least.
    AtLeast(usize),
}

/// One probing of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Where, and how everything stands.
    pub probed: Probed,
    /// What it should show, with the meter's error: one span where the trace decides it, else one for each way the
    /// unknown joins can go, without repeats, the lowest first.
    pub expected: Vec<Span>,
    /// Slips that it is the first of the sheet to show.
    pub shows: Vec<Slip>,
}

/// Why no probing shows a slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhyUnseen {
    /// Every lug stays at its point: the wire is one of a loop.
    Loop,
    /// No reading changes in any setting: the lugs touch anyway, through a contact that is always closed or a part
    /// without resistance.
    NoDifference,
    /// The reading changes, by less than parts and meter may be off.
    WithinTolerance,
}

/// A slip that no probing shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unseen {
    /// The slip.
    pub slip: Slip,
    /// Why.
    pub why: WhyUnseen,
}

/// The few probings that verify a trace.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckSheet {
    /// In the order in which switches and knobs are moved seldom.
    pub rows: Vec<Row>,
    /// Whether fewer could do it.
    pub proof: Proof,
    /// How many slips the whole sheet shows.
    pub shown: usize,
    /// Slips that no probing shows.
    pub unseen: Vec<Unseen>,
    /// Pairs of ways the unknown joins can go, counted as in [`crate::Circuit::possibilities`], that no probing tells
    /// apart.
    pub alike: Vec<(usize, usize)>,
    /// Whether every pair of lugs was thought of; else those described at the module.
    pub every_pair: bool,
    /// Whether every position of all switches was thought of.
    pub every_position: bool,
    /// Whether slips were laid on every way the unknown joins can go; else on the first only.
    pub slips_of_all: bool,
}

/// A pair of ways to lay the joins that is to be told apart: a drawn one, and another.
type Apart = (usize, usize);

/// What each candidate tells apart.
struct Told {
    apart: Vec<Apart>,
    /// For each candidate, in the candidates' order.
    by: Vec<Bits>,
    /// Whether some reading differs at all, for each pair.
    differs: Bits,
    /// What each candidate shows for each drawn world.
    drawn: Vec<Vec<Span>>,
}

impl Survey<'_> {
    /// The few probings that verify the trace.
    pub fn sheet(&self) -> CheckSheet {
        let candidates = self.candidates();
        let told = self.told(&candidates);
        let cover = fewest(&told.by, told.apart.len(), self.options.most_choices);
        let proof = match cover.least {
            least if least == cover.chosen.len() => Proof::Least,
            least => Proof::AtLeast(least),
        };
        let chosen = self.easier(&candidates, &told.by, cover.chosen);
        let chosen = self.in_order(&candidates, chosen);
        let mut open = Bits::none(told.apart.len());
        (0..told.apart.len()).for_each(|at| open.put(at));
        let mut shown = 0;
        let mut rows = Vec::new();
        for &at in &chosen {
            let mut worlds: Vec<usize> =
                told.by[at].members().filter(|&pair| open.has(pair)).map(|pair| told.apart[pair].1).collect();
            worlds.sort_unstable();
            worlds.dedup();
            open.remove(&told.by[at]);
            // A slip is shown once it is told from every way the unknown joins can go.
            worlds.retain(|&world| !open.members().any(|pair| told.apart[pair].1 == world));
            let shows: Vec<Slip> = worlds.iter().filter_map(|&world| self.first_slip(world)).collect();
            shown += shows.len();
            rows.push(Row { probed: self.probed(candidates[at]), expected: spans(&told.drawn[at]), shows });
        }
        let (unseen, alike) = self.unseen(&told, &open);
        CheckSheet {
            rows,
            proof,
            shown,
            unseen,
            alike,
            every_pair: self.every_pair,
            every_position: self.every_position,
            slips_of_all: self.slips_of_all,
        }
    }

    pub(super) fn first_slip(&self, world: usize) -> Option<Slip> {
        self.worlds.all[world].slips.first().map(|(_, slip)| *slip)
    }

    /// Pairs to be told apart: each drawn world from the drawn ones after it, and from every slip.
    fn told(&self, candidates: &[Candidate]) -> Told {
        let (drawn, all) = (self.worlds.drawn, self.worlds.all.len());
        let mut apart: Vec<Apart> = Vec::new();
        let mut first = Vec::new();
        for world in 1..all {
            first.push(apart.len());
            apart.extend((0..drawn.min(world)).map(|one| (one, world)));
        }
        let mut place = vec![0; self.settings.len() * self.pairs.len()];
        for (at, candidate) in candidates.iter().enumerate() {
            place[candidate.setting * self.pairs.len() + candidate.pair] = at;
        }
        let mut told = Told {
            by: vec![Bits::none(apart.len()); candidates.len()],
            differs: Bits::none(apart.len()),
            drawn: vec![Vec::new(); candidates.len()],
            apart,
        };
        for setting in 0..self.settings.len() {
            let place = &place[setting * self.pairs.len()..];
            let as_drawn: Vec<Vec<Span>> = (0..drawn).map(|world| self.shows(setting, world)).collect();
            for pair in 0..self.pairs.len() {
                told.drawn[place[pair]] = as_drawn.iter().map(|spans| spans[pair]).collect();
            }
            for world in 1..all {
                let shows = self.shows(setting, world);
                for (one, as_drawn) in as_drawn.iter().enumerate().take(world) {
                    let bit = first[world - 1] + one;
                    for (pair, (here, there)) in as_drawn.iter().zip(&shows).enumerate() {
                        if here.apart(there) {
                            told.by[place[pair]].put(bit);
                        } else if differs(here, there) {
                            told.differs.put(bit);
                        }
                    }
                }
            }
        }
        told
    }

    /// Changes single probings of the set for easier ones, while everything stays covered: less trouble, and fewer
    /// settings.
    fn easier(&self, candidates: &[Candidate], by: &[Bits], mut chosen: Vec<usize>) -> Vec<usize> {
        let Some(size) = by.first() else { return chosen };
        for at in 0..chosen.len() {
            let (mut others, mut whole) = (size.clone(), size.clone());
            others.remove(size);
            whole.remove(size);
            for (other, &one) in chosen.iter().enumerate() {
                whole.add(&by[one]);
                if other != at {
                    others.add(&by[one]);
                }
            }
            whole.remove(&others);
            let used = |setting: usize| {
                let mut rest = chosen.iter().enumerate().filter(|(other, _)| *other != at);
                setting == 0 || rest.any(|(_, &one)| candidates[one].setting == setting)
            };
            let best = (0..candidates.len()).filter(|&one| whole.within(&by[one])).min_by_key(|&one| {
                // The order of the candidates is that of their trouble; a setting of its own is more than any lug.
                (usize::from(!used(candidates[one].setting)), one)
            });
            chosen[at] = best.unwrap_or(chosen[at]);
        }
        chosen.sort_unstable();
        chosen.dedup();
        chosen
    }

    /// Orders probings so that each setting comes once, and the next setting is the one with the fewest moves.
    fn in_order(&self, candidates: &[Candidate], chosen: Vec<usize>) -> Vec<usize> {
        let mut rest = chosen;
        let mut ordered = Vec::new();
        let mut stands = 0;
        while !rest.is_empty() {
            let from = &self.settings[stands];
            let nearest = rest.iter().map(|&at| candidates[at].setting);
            stands = nearest.min_by_key(|&to| (moves(from, &self.settings[to]), to)).unwrap_or(stands);
            let (mut here, later): (Vec<usize>, Vec<usize>) =
                rest.into_iter().partition(|&at| candidates[at].setting == stands);
            here.sort_by_key(|&at| self.pairs[candidates[at].pair]);
            ordered.extend(here);
            rest = later;
        }
        ordered
    }

    /// What stays open when every probing of the sheet was made.
    fn unseen(&self, told: &Told, open: &Bits) -> (Vec<Unseen>, Vec<(usize, usize)>) {
        let mut unseen: Vec<Unseen> =
            self.worlds.same.iter().map(|&slip| Unseen { slip, why: WhyUnseen::Loop }).collect();
        let mut alike = Vec::new();
        let possibility = |drawn: usize| {
            self.worlds.of_possibility.iter().position(|&world| world == drawn).unwrap_or(drawn)
        };
        for at in open.members().filter(|&at| at < told.apart.len()) {
            let (drawn, world) = told.apart[at];
            if world < self.worlds.drawn {
                alike.push((possibility(drawn), possibility(world)));
                continue;
            }
            let why = if told.differs.has(at) { WhyUnseen::WithinTolerance } else { WhyUnseen::NoDifference };
            for &(_, slip) in &self.worlds.all[world].slips {
                if !unseen.iter().any(|known| known.slip == slip) {
                    unseen.push(Unseen { slip, why });
                }
            }
        }
        (unseen, alike)
    }
}

/// Whether two spans differ by more than rounding.
fn differs(a: &Span, b: &Span) -> bool {
    let far = |a: f64, b: f64| (a - b).abs() > 1e-9 * (a.abs() + b.abs());
    a.is_open() != b.is_open() || !a.is_open() && (far(a.least.0, b.least.0) || far(a.most.0, b.most.0))
}

/// The spans without repeats, the lowest first.
fn spans(drawn: &[Span]) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    for span in drawn {
        if !spans.iter().any(|known| !differs(known, span)) {
            spans.push(*span);
        }
    }
    spans.sort_by(|a, b| a.least.0.total_cmp(&b.least.0));
    spans
}
