//! Before when no order can be done, whatever it is.
//!
//! Suppose all is to be ready by a second `T`. Then each task has a latest end: what follows it, cures included, must
//! still fit. And it has an earliest begin. If even hands that could lay a task down and take it up again at will could
//! not keep all latest ends, no order is ready by `T`. Those hands do best to hold, at any time, the task whose end is due
//! first (J. R. Jackson, *Scheduling a production line to minimize maximum tardiness*, University of California, 1955;
//! with begins apart: W. A. Horn, Naval Research Logistics Quarterly 21, 177, 1974). To try `T` after `T` is the
//! destructive bound of R. Klein and A. Scholl (European Journal of Operational Research 112, 322, 1999).
//!
//! The bench's closed hours drop out: hands only move while it is open, so begins and ends are put on the clock of open
//! seconds, on which hands work without a break.

use super::frame::{Frame, State, Times};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// The latest end of each task's work if all is to be ready by a second; none where that cannot be.
pub(super) fn latest_ends(frame: &Frame, times: &Times, by: i64) -> Option<Vec<i64>> {
    let mut ends = vec![0; times.work.len()];
    let mut begins = vec![0; times.work.len()];
    for &task in frame.precedence.order.iter().rev() {
        let ready = frame.precedence.before[task].iter().map(|&next| begins[next]).fold(by, i64::min);
        ends[task] = ready - times.wait[task];
        let work = times.work[task];
        if frame.in_one_go[task] {
            begins[task] = frame.openings.begin_whole_by(ends[task], work)?;
            ends[task] = ends[task].min(frame.openings.worked(begins[task], work));
        } else {
            begins[task] = frame.openings.begin_by(ends[task], work)?;
        }
        if begins[task] < frame.release[task] {
            return None;
        }
    }
    Some(ends)
}

/// Work still to come: earliest begin, how long, latest end, all in open seconds.
#[derive(Clone, Copy)]
struct Piece {
    begin: i64,
    work: i64,
    end: i64,
}

/// Whether hands that may change tasks at will could keep every latest end from here on.
pub(super) fn may_keep(frame: &Frame, times: &Times, state: &State, ends: &[i64]) -> bool {
    let mut ready = vec![0; times.work.len()];
    let mut pieces = Vec::with_capacity(times.work.len());
    for &task in &frame.precedence.order {
        if let Some(slot) = state.slots[task] {
            ready[task] = slot.ready;
            continue;
        }
        let after = frame.precedence.after[task].iter().map(|&earlier| ready[earlier]);
        let from = after.fold(frame.release[task], i64::max);
        let slot = frame.slot(task, from, state.free, times);
        if slot.end > ends[task] {
            return false;
        }
        ready[task] = slot.ready;
        if times.work[task] > 0 {
            pieces.push(Piece {
                begin: frame.openings.open_before(slot.begin),
                work: times.work[task],
                end: frame.openings.open_before(ends[task]),
            });
        }
    }
    due_first(pieces)
}

/// Always the piece that is due first.
fn due_first(mut pieces: Vec<Piece>) -> bool {
    pieces.sort_unstable_by_key(|piece| piece.begin);
    let mut begun: BinaryHeap<Reverse<(i64, i64)>> = BinaryHeap::new();
    let mut coming = pieces.into_iter().peekable();
    let mut now = 0;
    loop {
        if begun.is_empty() {
            let Some(next) = coming.peek() else { return true };
            now = now.max(next.begin);
        }
        while let Some(piece) = coming.next_if(|piece| piece.begin <= now) {
            begun.push(Reverse((piece.end, piece.work)));
        }
        let Some(Reverse((end, work))) = begun.pop() else { continue };
        let until = coming.peek().map_or(i64::MAX, |next| next.begin);
        let worked = work.min(until - now);
        now += worked;
        if worked < work {
            begun.push(Reverse((end, work - worked)));
        } else if now > end {
            return false;
        }
    }
}

/// The first second by which all might be ready, known that it may be by `most`.
pub(super) fn at_least(frame: &Frame, times: &Times, begun: &State, most: i64) -> i64 {
    let might = |by: i64| {
        begun.finish <= by
            && latest_ends(frame, times, by).is_some_and(|ends| may_keep(frame, times, begun, &ends))
    };
    let (mut cannot, mut might_be) = (-1, most);
    while cannot + 1 < might_be {
        let middle = cannot + (might_be - cannot) / 2;
        if might(middle) { might_be = middle } else { cannot = middle }
    }
    might_be
}
