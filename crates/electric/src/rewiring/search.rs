//! The search: wirings a few changes away from the one found, the most promising gone on from.

use std::collections::BTreeSet;

use super::answer::Searched;
use super::bench::Bench;
use super::difference::joints_between;
use super::judge::{Judge, Judged};
use super::wires::{Wires, changes, first_lugs, is_metal};
use super::wish::{Place, Wish};
use crate::circuit::{Circuit, Sort, Terminal};
use crate::state::Changes;

/// Changes one after the other that are searched.
pub const DEEPEST: usize = 4;

/// Wirings that are gone on from at each step.
const GONE_ON_FROM: usize = 12;

/// Wirings that are kept to choose proposals from.
const KEPT: usize = 24;

/// A wiring with how it was judged.
#[derive(Debug, Clone)]
pub(super) struct Scored {
    pub(super) wires: Wires,
    pub(super) judged: Vec<Judged>,
    /// States that no wish names and in which other coils are heard than as found.
    pub(super) lost: usize,
    pub(super) joints: usize,
    score: f64,
}

impl Scored {
    /// The wishes met for certain, as bits.
    pub(super) fn met(&self) -> u16 {
        let bits = self.judged.iter().enumerate().filter(|(_, it)| it.share >= 1.0);
        bits.fold(0, |set, (at, _)| set | 1 << at)
    }

    fn missed(&self) -> f64 {
        self.judged.iter().map(|it| it.distance).sum()
    }
}

/// What was found.
pub(super) struct Found {
    pub(super) as_found: Scored,
    /// The best first.
    pub(super) best: Vec<Scored>,
    /// Sets of wishes that some wiring met.
    pub(super) seen: Vec<u16>,
    pub(super) searched: Searched,
}

struct Search<'a, 'c> {
    bench: &'a Bench<'c>,
    wishes: &'a [Wish],
    found: Wires,
    first: Vec<usize>,
    /// Metal that is grounded by wires as found, and must stay so.
    grounded: Vec<Terminal>,
    /// Coils heard as found in each state, and whether a wish names the state.
    heard: Vec<(Vec<usize>, bool)>,
    sleeve: Terminal,
}

/// Searches. A treble bleed is no matter of the search: it is put to whatever is found.
pub(super) fn search(bench: &Bench, wires: &Wires, wishes: &[Wish], most_tried: usize) -> Option<Found> {
    let (_, sleeve) = bench.jack()?;
    let none = Changes::default();
    let heard = bench.states.iter().map(|state| {
        let named = wishes.iter().any(|wish| {
            matches!(wish.place(), Some(Place::At { switch, position }) if state.positions[switch] == position)
        });
        (bench.hear(state, &none).coils, named)
    });
    let mut search = Search {
        bench,
        wishes,
        first: first_lugs(bench.circuit),
        grounded: Vec::new(),
        heard: heard.collect(),
        found: wires.clone(),
        sleeve,
    };
    search.grounded = search.grounded_metal();
    let as_found = search.score(wires.clone());
    Some(search.run(as_found, most_tried))
}

impl Search<'_, '_> {
    fn circuit(&self) -> &Circuit {
        self.bench.circuit
    }

    fn grounded_metal(&self) -> Vec<Terminal> {
        let parts = self.circuit().parts().iter().enumerate();
        let ends = parts.flat_map(|(part, it)| (0..it.lug_count()).map(move |lug| Terminal { part, lug }));
        let case =
            |end: Terminal| matches!(self.circuit().parts()[end.part].sort, Sort::Pot(_)) && end.lug == 3;
        let metal: Vec<Terminal> = ends.filter(|&end| is_metal(self.circuit(), end) || case(end)).collect();
        let points = self.found.points(&self.first);
        metal.into_iter().filter(|&end| self.same(&points, end, self.sleeve)).collect()
    }

    fn same(&self, points: &[u32], a: Terminal, b: Terminal) -> bool {
        points[self.first[a.part] + a.lug] == points[self.first[b.part] + b.lug]
    }

    fn score(&self, wires: Wires) -> Scored {
        let changes = as_changes(self.circuit(), &self.found, &wires);
        let judge = Judge::new(self.bench, &changes);
        let judged: Vec<Judged> = self
            .wishes
            .iter()
            .map(|wish| match wish {
                Wish::TrebleKept { .. } => Judged::MET,
                _ => judge.judge(wish),
            })
            .collect();
        let other = |(heard, (before, named)): &(&super::bench::Heard, &(Vec<usize>, bool))| {
            !named && heard.coils != *before
        };
        let lost = judge.heard.iter().zip(&self.heard).filter(other).count();
        let joints = joints_between(self.circuit(), &self.found.wires, &wires.wires);
        let missed: f64 = judged.iter().map(|it| it.distance).sum();
        let score = 3.0 * missed + 0.5 * lost as f64 + 0.05 * joints as f64;
        Scored { wires, judged, lost, joints, score }
    }

    /// Whether leads alone will not do: other coils are wished at a place, or joined otherwise, or a knob's work.
    fn needs_more(&self, as_found: &Scored) -> bool {
        self.wishes.iter().zip(&as_found.judged).any(|(wish, judged)| match wish {
            Wish::Heard { .. } => judged.distance >= 1.0,
            Wish::ToneOnly { .. } | Wish::MasterVolume => judged.distance > 0.0,
            Wish::HumCancels { .. } => judged.distance >= 2.0,
            _ => false,
        })
    }

    fn run(&self, as_found: Scored, most_tried: usize) -> Found {
        let whole = self.needs_more(&as_found);
        let mut known: BTreeSet<Vec<u32>> = BTreeSet::from([self.found.points(&self.first)]);
        let mut searched = Searched { tried: 0, complete_to: 0, cut: false };
        let mut best = Vec::new();
        let mut seen = BTreeSet::from([as_found.met()]);
        let mut front = vec![as_found.clone()];
        let mut complete = true;
        for depth in 1..=DEEPEST {
            if as_found.missed() == 0.0 || front.is_empty() {
                break;
            }
            let mut next: Vec<Scored> = Vec::new();
            'front: for from in &front {
                for doing in changes(self.circuit(), &from.wires, &self.first, whole) {
                    let Some(wires) = from.wires.after(self.circuit(), doing) else { continue };
                    let points = wires.points(&self.first);
                    if self.grounded.iter().any(|&end| !self.same(&points, end, self.sleeve))
                        || !known.insert(points)
                    {
                        continue;
                    }
                    if searched.tried >= most_tried {
                        searched.cut = true;
                        break 'front;
                    }
                    searched.tried += 1;
                    let scored = self.score(wires);
                    seen.insert(scored.met());
                    next.push(scored);
                }
            }
            if complete && searched.tried < most_tried {
                searched.complete_to = depth;
            }
            next.sort_by(|a, b| a.score.total_cmp(&b.score));
            best.extend(next.iter().take(KEPT).cloned());
            let done = next.iter().any(|it| it.missed() == 0.0);
            searched.cut |= depth == DEEPEST && !next.is_empty() || next.len() > GONE_ON_FROM;
            complete &= next.len() <= GONE_ON_FROM;
            next.truncate(GONE_ON_FROM);
            front = next;
            if searched.tried >= most_tried || done {
                break;
            }
        }
        // Where every wish is met, nothing better was missed.
        searched.cut &= !best.iter().any(|it| it.missed() == 0.0);
        best.sort_by_key(rank);
        best.truncate(KEPT);
        Found { as_found, best, seen: seen.into_iter().collect(), searched }
    }
}

/// Wishes met first, then sounds kept, then joints.
fn rank(it: &Scored) -> (std::cmp::Reverse<u32>, usize, usize) {
    (std::cmp::Reverse(it.met().count_ones()), it.lost, it.joints)
}

/// A wiring as an experiment on the one found: what is gone is parted, what is new is bridged.
fn as_changes(circuit: &Circuit, found: &Wires, now: &Wires) -> Changes {
    let gone = |join: &crate::circuit::Join| match join.to {
        crate::circuit::JoinTo::One(end) => !now.wires.contains(&super::wires::wire(join.a, end)),
        crate::circuit::JoinTo::Candidates { .. } => false,
    };
    let joins = circuit.joins().iter().enumerate();
    Changes {
        parted: joins.filter(|(_, join)| gone(join)).map(|(at, _)| at).collect(),
        bridged: now.wires.difference(&found.wires).copied().collect(),
        ..Changes::default()
    }
}
