//! A plan as it is told: each task's turn, by what it is held, and where the clocks change.

use super::Tasks;
use crate::calendar::{Bench, ClockChange};
use crate::three_point::Hours;
use jiff::Timestamp;
use jiff::civil::DateTime;

/// Why a task begins when it does and not before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// By nothing: it begins with the plan.
    Nothing,
    /// Its parts are not there before.
    Parts,
    /// By a task, by place, that it waits for.
    After(usize),
    /// By a task, by place, that the hands were busy with.
    Hands(usize),
}

/// One task's turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Turn {
    /// Which task, by place.
    pub task: usize,
    /// The hands take it up.
    pub begins: Timestamp,
    /// The hands are free again.
    pub hands_free: Timestamp,
    /// It has cured, and what follows can begin.
    pub ready: Timestamp,
    /// By what it was held.
    pub held: Held,
    /// Whether it also had to wait for the bench to open.
    pub bench_shut: bool,
}

/// A link of the chain that decides the finish.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// Which task, by place.
    pub task: usize,
    /// By what it was held: by the link before it, unless it is the first.
    pub held: Held,
}

/// A plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// Every task's turn, by begin.
    pub turns: Vec<Turn>,
    /// When all is ready, if each time is the most likely.
    pub finish: Timestamp,
    /// The moment before which no order is ready with these times. The finish itself where the order is proved.
    pub at_least: Timestamp,
    /// How many beginnings of orders were looked at.
    pub steps: u32,
}

/// A wait during which the clocks change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WaitOverChange {
    /// Whose wait.
    pub task: String,
    /// The change.
    pub change: ClockChange,
    /// What the wall clock shows when the wait is over.
    pub over_at: DateTime,
}

impl std::fmt::Display for WaitOverChange {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let way = if self.change.forward > 0 { "forward" } else { "back" };
        let by = Hours::of_seconds(i64::from(self.change.forward.abs()));
        let (task, day, time) = (&self.task, self.over_at.date(), self.over_at.time());
        write!(
            to,
            "the clocks go {way} by {by} while “{task}” waits; its hours are kept, and it is over when the clock shows \
             {time} on {day}: set an alarm by that"
        )
    }
}

impl Schedule {
    /// Whether no order at all is ready earlier with these times.
    pub fn is_proved(&self) -> bool {
        self.at_least == self.finish
    }

    /// Why it is not ready before: the chain of tasks, each held by the one before it, of which the last is ready at the
    /// finish. To be earlier, one of them must be shorter.
    pub fn why_not_before(&self) -> Vec<Link> {
        let turn = |task: usize| self.turns.iter().find(|turn| turn.task == task);
        let mut next = self.turns.iter().max_by_key(|turn| turn.ready);
        let mut links = Vec::new();
        while let Some(here) = next {
            links.push(Link { task: here.task, held: here.held });
            next = match here.held {
                Held::After(earlier) | Held::Hands(earlier) => turn(earlier),
                Held::Nothing | Held::Parts => None,
            };
        }
        links.reverse();
        links
    }

    /// The waits during which the clocks change, so that nobody comes back an hour early or late.
    pub fn waits_over_changes(&self, bench: &Bench, tasks: &Tasks) -> Vec<WaitOverChange> {
        let waits = self.turns.iter().filter(|turn| turn.ready > turn.hands_free);
        let over = |turn: &Turn| {
            let (task, over_at) = (tasks.name(turn.task).to_owned(), bench.shown(turn.ready));
            let changes = bench.clock_changes(turn.hands_free, turn.ready).into_iter();
            changes.map(|change| WaitOverChange { task: task.clone(), change, over_at }).collect::<Vec<_>>()
        };
        waits.flat_map(over).collect()
    }
}
