//! Hours spent against hours thought of, and what is curing now.

use asfound_plan::library::Room;
use asfound_plan::{Bench, ThreePoint};
use asfound_record::{Hours1, Item};
use jiff::civil::DateTime;
use jiff::{SignedDuration, Timestamp};

use super::order::wait_of;
use super::task::TaskSaid;
use super::work::moment_of;

/// All hours that were written down.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Spent {
    /// By task, in the order in which work on them began.
    pub by_task: Vec<SpentOn>,
}

/// Hours on one task.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SpentOn {
    /// The task, as it is called in the plan, else as it was said.
    pub name: String,
    /// Hours so far.
    pub hours: f64,
    /// When the hands were done with it, before the wait.
    pub done_at: Option<Timestamp>,
    /// Whether the hands were done with it a second time, after the wait.
    pub done_again: bool,
    /// Materials and other words.
    pub words: Vec<String>,
    /// The entries.
    pub rests_on: Vec<u64>,
    /// The hours that were thought of, before and after the wait; `None` for what is not in the plan.
    pub thought: Option<(ThreePoint, Option<ThreePoint>)>,
}

/// Something that cures now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Curing {
    /// The task.
    pub name: String,
    /// Over at the soonest, likely, and at the latest, as the wall clock shows it.
    pub over: [DateTime; 3],
    /// The entry that says that the hands were done.
    pub seq: u64,
}

/// Adds the hours up.
pub(super) fn add_up(hours: &[Item<Hours1>], tasks: &[TaskSaid]) -> Spent {
    let mut spent = Spent::default();
    for item in hours {
        let said = tasks.iter().find(|task| task.name.eq_ignore_ascii_case(&item.body.task));
        let name = said.map_or(&item.body.task, |task| &task.name);
        let known = spent.by_task.iter().position(|on| on.name == *name);
        let place = known.unwrap_or_else(|| {
            let thought = said.map(|task| (task.attended, task.then));
            spent.by_task.push(SpentOn { name: name.clone(), thought, ..SpentOn::default() });
            spent.by_task.len() - 1
        });
        let on = &mut spent.by_task[place];
        on.hours += f64::from(item.body.minutes) / 60.0;
        on.rests_on.push(item.seq);
        if !item.body.words.is_empty() {
            on.words.push(item.body.words.clone());
        }
        if item.body.done {
            on.done_again = on.done_at.is_some();
            let happened = item.body.happened.as_deref().and_then(moment_of);
            on.done_at = on.done_at.or(happened).or_else(|| moment_of(&item.at));
        }
    }
    spent
}

impl Spent {
    /// What was spent on a task; nothing where nothing was.
    pub(super) fn of(&self, name: &str) -> SpentOn {
        self.by_task.iter().find(|on| on.name == name).cloned().unwrap_or_default()
    }

    /// All hours.
    pub fn hours(&self) -> f64 {
        self.by_task.iter().map(|on| on.hours).sum()
    }

    /// What cures at a moment.
    pub(super) fn curing(
        &self,
        tasks: &[TaskSaid],
        room: Room,
        bench: &Bench,
        now: Timestamp,
    ) -> Vec<Curing> {
        let one = |on: &SpentOn| {
            let task = tasks.iter().find(|task| task.name == on.name)?;
            let wait = wait_of(&task.waits, room).ok()?;
            let over = |hours: asfound_plan::Hours| {
                let span = SignedDuration::from_secs((hours.0 * 3600.0).round() as i64);
                on.done_at.and_then(|done| done.checked_add(span).ok())
            };
            let moments = [over(wait.optimistic())?, over(wait.likely())?, over(wait.pessimistic())?];
            // What comes after it was begun: then it had cured.
            let gone_on = on.done_again || self.begun_after(on, &task.name, tasks);
            let seq = *on.rests_on.last()?;
            let curing = !gone_on && moments[2] > now;
            curing.then(|| Curing { name: on.name.clone(), over: moments.map(|at| bench.shown(at)), seq })
        };
        self.by_task.iter().filter_map(one).collect()
    }

    fn begun_after(&self, on: &SpentOn, name: &str, tasks: &[TaskSaid]) -> bool {
        let last = on.rests_on.last().copied().unwrap_or_default();
        let follows = |task: &&TaskSaid| task.after.iter().any(|after| after.eq_ignore_ascii_case(name));
        let begun = |task: &TaskSaid| self.of(&task.name).rests_on.iter().any(|seq| *seq > last);
        tasks.iter().filter(follows).any(begun)
    }
}

impl SpentOn {
    /// Whether more was spent than the longest that was thought of, and it is not done.
    pub fn is_over(&self) -> bool {
        let longest = self
            .thought
            .map(|(before, after)| before.pessimistic().0 + after.map_or(0.0, |after| after.pessimistic().0));
        longest.is_some_and(|longest| self.hours > longest) && !self.is_done()
    }

    /// Whether the hands are done with it.
    pub fn is_done(&self) -> bool {
        match self.thought {
            Some((_, Some(_))) => self.done_again,
            _ => self.done_at.is_some(),
        }
    }
}
