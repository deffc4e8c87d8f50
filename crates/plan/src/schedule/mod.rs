//! What to do in which order, with one pair of hands, and when all is ready.
//!
//! A task takes hands for some hours while the bench is open, and then time of its own, through nights and days off:
//! glue in clamps, lacquer that hardens, a part at another craftsman. So **the order matters, and mostly for one reason:
//! what cures longest must begin first.** [`Tasks::planned`] looks for the order that is ready first and says the moment
//! before which no order is ([`Schedule::at_least`]); where the two are the same, the order is proved.
//! [`Tasks::forecast`] draws all times again and again and says when it may really be ready.
//!
//! **The one decision: whole seconds on one time line.** Calendar, cures, order and bound reckon in the same integers, so
//! an order that is as early as the bound is so exactly, and the same question has the same answer everywhere.
//!
//! One machine, begins apart, waits after each operation and an order that must be kept: finding the earliest finish is
//! hard in general (J. K. Lenstra, A. H. G. Rinnooy Kan and P. Brucker, Annals of Discrete Mathematics 1, 343, 1977), so
//! the search has a stated number of steps and tells what it could not prove.
//!
//! # Example
//! Two jobs on one bench. Strip, spray, let the lacquer harden for three days, sand; wind a coil, pot it, let it set over
//! night; fit it when both are ready.
//!
//! ```
//! use asfound_plan::{Bench, Hours, Task, Tasks, ThreePoint};
//! use jiff::{civil::{date, time}, tz::TimeZone};
//!
//! let task = |name: &str, hands: f64, alone: f64, after: &[&str]| Task {
//!     name: name.into(),
//!     attended: ThreePoint::fixed(name, Hours(hands)).unwrap(),
//!     unattended: ThreePoint::fixed(name, Hours(alone)).unwrap(),
//!     after: after.iter().map(|&one| one.into()).collect(),
//!     not_before: None,
//!     in_one_go: false,
//! };
//! let tasks = Tasks::new(vec![
//!     task("wind", 5.0, 0.0, &[]),
//!     task("pot", 1.0, 12.0, &["wind"]),
//!     task("strip", 4.0, 0.0, &[]),
//!     task("spray", 2.0, 72.0, &["strip"]),
//!     task("sand", 3.0, 0.0, &["spray"]),
//!     task("fit", 2.0, 0.0, &["sand", "pot"]),
//! ])?;
//! let bench = Bench::weekdays(TimeZone::UTC, time(9, 0, 0, 0), time(17, 0, 0, 0))?;
//! let thursday = bench.moment(date(2024, 5, 2).at(9, 0, 0, 0))?;
//! let plan = tasks.planned(&bench, thursday, Tasks::STEPS)?;
//! assert!(plan.is_proved());
//! assert_eq!(bench.shown(plan.finish), date(2024, 5, 6).at(14, 0, 0, 0)); // the Monday
//! assert_eq!(tasks.name(plan.turns[0].task), "strip"); // the long cure first
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bound;
mod cost;
mod fault;
mod forecast;
mod frame;
mod search;
mod turns;

pub use cost::Cost;
pub use fault::ScheduleFault;
pub use forecast::Forecast;
pub use turns::{Held, Link, Schedule, Turn, WaitOverChange};

use crate::calendar::{Bench, moment};
use crate::precedence::Precedence;
use crate::three_point::{Hours, ThreePoint};
use frame::{Frame, State, Times};
use jiff::Timestamp;

/// One thing to be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// Its name; no other has it.
    pub name: String,
    /// How long it takes one's own hands. None at all for what others do.
    pub attended: ThreePoint,
    /// How long it then takes by itself.
    pub unattended: ThreePoint,
    /// The names of what must be done, and have cured, before.
    pub after: Vec<String>,
    /// Before this it cannot begin: parts are waited for.
    pub not_before: Option<Timestamp>,
    /// Whether it must be done within one opening of the bench, as a glue that sets must.
    pub in_one_go: bool,
}

/// Tasks in an order that can be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Tasks {
    tasks: Vec<Task>,
    precedence: Precedence,
}

impl Tasks {
    /// Steps of the search that take well under a second for eighty tasks.
    pub const STEPS: u32 = 50_000;

    /// Checks names and dependencies.
    ///
    /// # Errors
    /// [`ScheduleFault::Order`].
    pub fn new(tasks: Vec<Task>) -> Result<Tasks, ScheduleFault> {
        let precedence = Precedence::new(tasks.iter().map(|one| (one.name.as_str(), one.after.as_slice())))?;
        Ok(Tasks { tasks, precedence })
    }

    /// The name of a task, by place.
    pub fn name(&self, task: usize) -> &str {
        &self.tasks[task].name
    }

    /// The tasks as listed.
    pub fn tasks(&self) -> &[Task] {
        &self.tasks
    }

    /// The order that is ready first, found within so many steps, and what was proved of it.
    ///
    /// # Errors
    /// [`ScheduleFault`] where a task fits into no opening, or the plan lasts too long.
    pub fn planned(&self, bench: &Bench, start: Timestamp, steps: u32) -> Result<Schedule, ScheduleFault> {
        let (frame, times) = (self.frame(bench, start, &self.precedence.order)?, self.likely());
        self.check_one_go(&frame, &times)?;
        let found = search::search(&frame, &times, steps);
        let state = frame.laid_out(&found.order, &times);
        self.schedule(&frame, &state, &times, start, found.at_least, found.steps)
    }

    /// The plan for an order of the hands that is given, by names. It is ready no earlier than [`Tasks::planned`] found
    /// possible; its [`Schedule::at_least`] is the bound alone.
    ///
    /// # Errors
    /// [`ScheduleFault`] also where the order is not one.
    pub fn in_order(
        &self,
        bench: &Bench,
        start: Timestamp,
        order: &[&str],
    ) -> Result<Schedule, ScheduleFault> {
        let times = self.likely();
        let order = self.read_order(order, &times)?;
        let frame = self.frame(bench, start, &order)?;
        self.check_one_go(&frame, &times)?;
        let state = frame.in_order(&order, &times);
        let at_least = bound::at_least(&frame, &times, &frame.begun(&times), state.finish);
        self.schedule(&frame, &state, &times, start, at_least, 0)
    }

    fn read_order(&self, names: &[&str], times: &Times) -> Result<Vec<usize>, ScheduleFault> {
        let mut order: Vec<usize> = Vec::new();
        for (task, one) in self.tasks.iter().enumerate() {
            if times.work[task] > 0 && names.iter().filter(|&&name| name == one.name).count() != 1 {
                return Err(ScheduleFault::NotOnce(one.name.clone()));
            }
        }
        for &name in names {
            let place = self.tasks.iter().position(|one| one.name == name);
            let task = place.ok_or_else(|| ScheduleFault::NotOnce(name.to_owned()))?;
            if let Some(missing) =
                self.hands_before(task, times).into_iter().find(|early| !order.contains(early))
            {
                let (task, waits_for) = (name.to_owned(), self.name(missing).to_owned());
                return Err(ScheduleFault::TooEarly { task, waits_for });
            }
            if times.work[task] > 0 {
                order.push(task);
            }
        }
        Ok(order)
    }

    /// The tasks that take hands and that a task waits for, straight or by way of some that take none.
    fn hands_before(&self, task: usize, times: &Times) -> Vec<usize> {
        let mut found = Vec::new();
        let mut looked = self.precedence.after[task].clone();
        while let Some(earlier) = looked.pop() {
            if times.work[earlier] > 0 {
                found.push(earlier);
            } else {
                looked.extend(&self.precedence.after[earlier]);
            }
        }
        found
    }

    fn likely(&self) -> Times {
        Times {
            work: self.tasks.iter().map(|task| task.attended.likely().seconds()).collect(),
            wait: self.tasks.iter().map(|task| task.unattended.likely().seconds()).collect(),
        }
    }

    /// Openings for as long as this order can last when all takes longest. A search that looks beyond them sees a bench
    /// that is always open, and so nothing that is ready before their end.
    fn frame(&self, bench: &Bench, start: Timestamp, order: &[usize]) -> Result<Frame<'_>, ScheduleFault> {
        let from = start.as_second();
        let second = |task: &Task| task.not_before.map_or(0, |moment| (moment.as_second() - from).max(0));
        let release: Vec<i64> = self.tasks.iter().map(second).collect();
        let until = from + release.iter().copied().max().unwrap_or(0);
        let longest = Times {
            work: self.tasks.iter().map(|task| task.attended.pessimistic().seconds()).collect(),
            wait: self.tasks.iter().map(|task| task.unattended.pessimistic().seconds()).collect(),
        };
        let in_one_go = self.tasks.iter().map(|task| task.in_one_go).collect();
        let openings = bench.openings(from, until, longest.work.iter().sum())?;
        let mut frame = Frame { precedence: &self.precedence, openings, release, in_one_go };
        let order = self.precedence.all_after(order);
        let mut asked = frame.openings.all();
        while frame.in_order(&order, &longest).finish > frame.openings.end() {
            asked *= 2;
            frame.openings = bench.openings(from, until, asked)?;
        }
        Ok(frame)
    }

    fn check_one_go(&self, frame: &Frame, times: &Times) -> Result<(), ScheduleFault> {
        let longest = frame.openings.longest();
        let too_long =
            (0..self.tasks.len()).find(|&task| frame.in_one_go[task] && times.work[task] > longest);
        too_long.map_or(Ok(()), |task| {
            Err(ScheduleFault::TooLongForOneGo {
                task: self.name(task).to_owned(),
                takes: Hours::of_seconds(times.work[task]),
                longest: Hours::of_seconds(longest),
            })
        })
    }

    fn schedule(
        &self,
        frame: &Frame,
        state: &State,
        times: &Times,
        start: Timestamp,
        at_least: i64,
        steps: u32,
    ) -> Result<Schedule, ScheduleFault> {
        let at = |second: i64| moment(start.as_second() + second);
        let mut turns = Vec::with_capacity(self.tasks.len());
        for (task, slot) in state.slots.iter().enumerate() {
            let Some(slot) = slot else { continue };
            let (held, from) = held(frame, state, times, task);
            turns.push(Turn {
                task,
                begins: at(slot.begin)?,
                hands_free: at(slot.end)?,
                ready: at(slot.ready)?,
                held,
                bench_shut: slot.begin > from,
            });
        }
        // What takes no time at all stands before what waits for it.
        let place = |task| self.precedence.order.iter().position(|&other| other == task);
        turns.sort_by_key(|turn| (turn.begins, turn.hands_free, place(turn.task)));
        Ok(Schedule { turns, finish: at(state.finish)?, at_least: at(at_least)?, steps })
    }
}

/// By what a task that was laid out is held, and until when.
fn held(frame: &Frame, state: &State, times: &Times, task: usize) -> (Held, i64) {
    let from = frame.can_begin(task, state).unwrap_or(0);
    let begin = state.slots[task].map_or(0, |slot| slot.begin);
    if times.work[task] > 0 {
        let hands = (0..times.work.len()).filter(|&other| other != task && times.work[other] > 0);
        let before =
            hands.filter_map(|other| Some((other, state.slots[other]?.end))).filter(|&(_, end)| end <= begin);
        if let Some((other, end)) = before.max_by_key(|&(_, end)| end)
            && end > from
        {
            return (Held::Hands(other), end);
        }
    }
    let ready = |earlier: &&usize| state.slots[**earlier].is_some_and(|slot| slot.ready == from);
    if let Some(&earlier) = frame.precedence.after[task].iter().find(ready) {
        return (Held::After(earlier), from);
    }
    (if from > 0 { Held::Parts } else { Held::Nothing }, from)
}
