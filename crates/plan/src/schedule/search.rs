//! The order of the hands that is ready first: branch and bound.
//!
//! An order is built from its beginning. Of the tasks that could come next only those are tried that begin before
//! another could be done: a task that fits whole into the gap before another may as well stand there (B. Giffler and
//! G. L. Thompson, Operations Research 8, 487, 1960). A beginning is given up when the bound says that it cannot end
//! before the best order known, or when the same tasks were done before with nothing later.

use super::bound::{at_least, latest_ends, may_keep};
use super::frame::{Frame, State, Times};
use std::collections::BTreeMap;

/// What the search came to.
pub(super) struct Found {
    pub(super) order: Vec<usize>,
    /// The second before which no order is ready.
    pub(super) at_least: i64,
    pub(super) steps: u32,
}

/// Beginnings kept for comparison, in all.
const KEPT: usize = 100_000;

struct Search<'a> {
    frame: &'a Frame<'a>,
    times: &'a Times,
    best: Vec<usize>,
    finish: i64,
    at_least: i64,
    /// The latest ends that would be better than the best; none when nothing can be.
    ends: Option<Vec<i64>>,
    steps: u32,
    most_steps: u32,
    seen: BTreeMap<Vec<u64>, Vec<Vec<i64>>>,
    kept: usize,
}

/// The best order within so many steps.
pub(super) fn search(frame: &Frame, times: &Times, most_steps: u32) -> Found {
    let begun = frame.begun(times);
    let as_listed: Vec<usize> =
        frame.precedence.order.iter().copied().filter(|&task| times.work[task] > 0).collect();
    let mut finish = frame.laid_out(&as_listed, times).finish;
    let mut best = as_listed;
    let floor = at_least(frame, times, &begun, finish);
    // Dives with ends due as if all were ready by the bound, or somewhat later.
    for share in 0..=8 {
        let by = floor + (finish - floor) * share / 8;
        if finish == floor {
            break;
        }
        if let Some(ends) = latest_ends(frame, times, by) {
            let order = dive(frame, times, begun.clone(), &ends);
            let other = frame.laid_out(&order, times).finish;
            if other < finish {
                (finish, best) = (other, order);
            }
        }
    }
    let ends = latest_ends(frame, times, finish - 1);
    let (seen, steps, kept) = (BTreeMap::new(), 0, 0);
    let mut search =
        Search { frame, times, best, finish, at_least: floor, ends, steps, most_steps, seen, kept };
    let all_tried = search.from(&begun, &mut Vec::new());
    let at_least = if all_tried { search.finish } else { floor };
    Found { order: search.best, at_least, steps: search.steps }
}

/// One order: always the task that begins first, of several the one whose end is due first.
fn dive(frame: &Frame, times: &Times, mut state: State, ends: &[i64]) -> Vec<usize> {
    let mut order = Vec::new();
    while let Some(&(task, _)) = next(frame, times, &state, ends).first() {
        frame.lay_next(task, &mut state, times);
        order.push(task);
    }
    order
}

/// The tasks that may come next with their begins, the most promising first.
fn next(frame: &Frame, times: &Times, state: &State, ends: &[i64]) -> Vec<(usize, i64)> {
    let mut first_done = i64::MAX;
    let mut found = Vec::new();
    for task in 0..times.work.len() {
        if times.work[task] == 0 || state.slots[task].is_some() {
            continue;
        }
        if let Some(from) = frame.can_begin(task, state) {
            let slot = frame.slot(task, from, state.free, times);
            first_done = first_done.min(slot.end);
            found.push((task, slot.begin));
        }
    }
    found.retain(|&(_, begin)| begin < first_done);
    let first = found.iter().map(|&(_, begin)| begin).min().unwrap_or(0);
    found.sort_by_key(|&(task, begin)| (begin > first, ends[task], begin));
    found
}

impl Search<'_> {
    /// Tries every order with this beginning; false if steps ran out before.
    fn from(&mut self, state: &State, order: &mut Vec<usize>) -> bool {
        if self.finish <= self.at_least || self.ends.is_none() {
            return true;
        }
        if self.steps >= self.most_steps {
            return false;
        }
        self.steps += 1;
        let hands = self.best.len();
        if order.len() == hands {
            if state.finish < self.finish {
                self.finish = state.finish;
                self.best.clone_from(order);
                self.ends = latest_ends(self.frame, self.times, self.finish - 1);
            }
            return true;
        }
        let Some(ends) = &self.ends else { return true };
        if state.finish >= self.finish || !may_keep(self.frame, self.times, state, ends) {
            return true;
        }
        let candidates = next(self.frame, self.times, state, ends);
        if !self.is_new(state) {
            return true;
        }
        let mut all_tried = true;
        for (task, _) in candidates {
            let mut with = state.clone();
            self.frame.lay_next(task, &mut with, self.times);
            order.push(task);
            all_tried &= self.from(&with, order);
            order.pop();
            if !all_tried && self.steps >= self.most_steps {
                break;
            }
        }
        all_tried || self.finish <= self.at_least
    }

    /// Whether no beginning with the same tasks was at least as early in all that matters from here on.
    fn is_new(&mut self, state: &State) -> bool {
        let mut done = vec![0_u64; state.slots.len().div_ceil(64)];
        let mut matters = vec![state.free, state.finish];
        for (task, slot) in state.slots.iter().enumerate() {
            let Some(slot) = slot else { continue };
            done[task / 64] |= 1 << (task % 64);
            if self.frame.precedence.before[task].iter().any(|&next| state.slots[next].is_none()) {
                matters.push(slot.ready);
            }
        }
        let others = self.seen.entry(done).or_default();
        if others.iter().any(|other| other.iter().zip(&matters).all(|(one, this)| one <= this)) {
            return false;
        }
        if self.kept < KEPT {
            self.kept += 1;
            others.push(matters);
        }
        true
    }
}
