//! Tasks laid out one after another: when each begins, given what was laid out before it.

use crate::openings::Openings;
use crate::precedence::Precedence;

/// What does not change from draw to draw. Times are seconds from the start of the plan.
pub(super) struct Frame<'a> {
    pub(super) precedence: &'a Precedence,
    pub(super) openings: Openings,
    /// Before which each cannot begin.
    pub(super) release: Vec<i64>,
    /// Which must be done within one opening.
    pub(super) in_one_go: Vec<bool>,
}

/// How long each takes, in seconds: hands first, then by itself.
#[derive(Clone)]
pub(super) struct Times {
    pub(super) work: Vec<i64>,
    pub(super) wait: Vec<i64>,
}

/// When a task begins, when the hands are free again, and when what follows can begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Slot {
    pub(super) begin: i64,
    pub(super) end: i64,
    pub(super) ready: i64,
}

/// What is laid out so far.
#[derive(Clone)]
pub(super) struct State {
    /// Each task's slot; none where it is still to come.
    pub(super) slots: Vec<Option<Slot>>,
    /// When the hands are free.
    pub(super) free: i64,
    /// When all that is laid out is ready.
    pub(super) finish: i64,
}

impl State {
    pub(super) fn empty(tasks: usize) -> State {
        State { slots: vec![None; tasks], free: 0, finish: 0 }
    }
}

impl Frame<'_> {
    /// When a task could begin for its own part: all it waits for is ready, and its parts are there. None while
    /// something it waits for is not laid out.
    pub(super) fn can_begin(&self, task: usize, state: &State) -> Option<i64> {
        let mut from = self.release[task];
        for &earlier in &self.precedence.after[task] {
            from = from.max(state.slots[earlier]?.ready);
        }
        Some(from)
    }

    /// The slot of a task that can begin from a moment on. One without work needs no hands and begins at once.
    pub(super) fn slot(&self, task: usize, from: i64, free: i64, times: &Times) -> Slot {
        let (work, wait) = (times.work[task], times.wait[task]);
        if work == 0 {
            return Slot { begin: from, end: from, ready: from + wait };
        }
        let at = from.max(free);
        let begin =
            if self.in_one_go[task] { self.openings.open_for(at, work) } else { self.openings.open_from(at) };
        let end = self.openings.worked(begin, work);
        Slot { begin, end, ready: end + wait }
    }

    /// Lays a task out next.
    pub(super) fn lay(&self, task: usize, slot: Slot, state: &mut State, times: &Times) {
        state.slots[task] = Some(slot);
        state.finish = state.finish.max(slot.ready);
        if times.work[task] > 0 {
            state.free = state.free.max(slot.end);
        }
    }

    /// Lays out what needs no hands and has nothing left to wait for, and what follows from that in the same way.
    pub(super) fn lay_handless(&self, after: usize, state: &mut State, times: &Times) {
        for &next in &self.precedence.before[after] {
            self.lay_if_handless(next, state, times);
        }
    }

    /// The beginning of a plan, with what needs no hands and waits for nothing laid out.
    pub(super) fn begun(&self, times: &Times) -> State {
        let mut state = State::empty(times.work.len());
        for task in 0..times.work.len() {
            self.lay_if_handless(task, &mut state, times);
        }
        state
    }

    fn lay_if_handless(&self, task: usize, state: &mut State, times: &Times) {
        if times.work[task] == 0 {
            self.lay_next(task, state, times);
        }
    }

    /// Exactly in this order of the hands, which keeps every dependency. If any time grows, nothing is earlier.
    pub(super) fn in_order(&self, order: &[usize], times: &Times) -> State {
        let mut state = self.begun(times);
        for &task in order {
            self.lay_next(task, &mut state, times);
        }
        state
    }

    /// Lays a task out next, if it is not yet and what it waits for is.
    pub(super) fn lay_next(&self, task: usize, state: &mut State, times: &Times) {
        if state.slots[task].is_some() {
            return;
        }
        if let Some(from) = self.can_begin(task, state) {
            let slot = self.slot(task, from, state.free, times);
            self.lay(task, slot, state, times);
            self.lay_handless(task, state, times);
        }
    }

    /// All in this order of the hands, but a gap in which the hands would wait is filled with the
    /// first later task that fits into it: that delays nothing, whatever the times are.
    pub(super) fn laid_out(&self, order: &[usize], times: &Times) -> State {
        let mut state = self.begun(times);
        for (place, &task) in order.iter().enumerate() {
            while state.slots[task].is_none() {
                let Some(from) = self.can_begin(task, &state) else { break };
                let slot = self.slot(task, from, state.free, times);
                let fits = self.that_fits(&order[place + 1..], slot.begin, &state, times);
                let (next, slot) = fits.unwrap_or((task, slot));
                self.lay(next, slot, &mut state, times);
                self.lay_handless(next, &mut state, times);
            }
        }
        state
    }

    /// The first of these that could be done before the hands begin what is next.
    fn that_fits(&self, later: &[usize], until: i64, state: &State, times: &Times) -> Option<(usize, Slot)> {
        if self.openings.open_from(state.free) >= until {
            return None;
        }
        later.iter().filter(|&&task| state.slots[task].is_none()).find_map(|&task| {
            let slot = self.slot(task, self.can_begin(task, state)?, state.free, times);
            (slot.end <= until).then_some((task, slot))
        })
    }
}
