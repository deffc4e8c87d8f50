//! Tasks laid out: what is still to be done, in which order, when it is ready and what it costs.

use asfound_plan::estimate::Estimate;
use asfound_plan::library::{Library, Room, Wait};
use asfound_plan::money::Money;
use asfound_plan::risk::Expected;
use asfound_plan::{Bench, Cost, Forecast, Held, Hours, Schedule, Task, Tasks, ThreePoint};
use jiff::Timestamp;
use jiff::civil::DateTime;

use super::lot::units;
use super::spent::Spent;
use super::task::{Choice, TaskSaid};
use super::work::BenchSaid;

/// Draws of a forecast, and the seed they begin from.
const DRAWS: usize = 4_000;
const SEED: u64 = 1;

/// How sure a printed range is at each end: one in ten is under, one in ten is over.
pub const LOW: f64 = 0.1;
/// The upper end.
pub const HIGH: f64 = 0.9;

/// One task's turn, as the wall clock shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnAnswer {
    /// Its name.
    pub name: String,
    /// The task as it was said, by its place among all tasks.
    pub task: usize,
    /// The hands begin.
    pub begins: DateTime,
    /// The hands are free.
    pub hands_free: DateTime,
    /// It has cured.
    pub ready: DateTime,
    /// Hours of hands that are left, likely.
    pub hands: Hours,
    /// Hours by itself, likely.
    pub alone: Hours,
    /// By the name of what it is held.
    pub held: HeldBy,
}

/// Why a task begins no sooner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum HeldBy {
    /// It is the first.
    Nothing,
    /// Parts are waited for.
    Parts,
    /// It waits for this task.
    After(String),
    /// The hands are busy with this one.
    Hands(String),
}

/// One choice, laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct ChoiceAnswer {
    /// Which.
    pub choice: Choice,
    /// Its tasks, by place among all tasks.
    pub tasks: Vec<usize>,
    /// The order.
    pub order: Result<Order, String>,
}

/// An order with its bound, and when all is ready.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// Turns, by begin.
    pub turns: Vec<TurnAnswer>,
    /// When all is ready if each time is the likely one.
    pub finish: DateTime,
    /// Before which no order is ready.
    pub at_least: DateTime,
    /// Whether no order is ready earlier.
    pub proved: bool,
    /// The chain that decides the finish.
    pub critical: Vec<String>,
    /// Ready with one chance in ten, one in two, nine in ten.
    pub ready: [DateTime; 3],
    /// Hours of hands with those chances.
    pub hands: [Hours; 3],
    /// The cost with those chances; `None` where no rate is said.
    pub cost: Option<[Money; 3]>,
    /// The cost as it was drawn.
    pub(super) drawn: Option<Cost>,
    /// The chance to stay within the ceiling that was agreed.
    pub within: Option<f64>,
    /// Clocks that change while something cures, each a sentence without its stop.
    pub clocks: Vec<String>,
}

/// What the tasks of a choice are laid out with.
pub(super) struct Around<'a> {
    pub(super) said: &'a BenchSaid,
    pub(super) bench: &'a Bench,
    pub(super) now: Timestamp,
    pub(super) spent: &'a Spent,
    pub(super) ceiling: Option<Money>,
}

/// Lays out the tasks that belong to a choice.
pub(super) fn lay_out(choice: Choice, all: &[TaskSaid], around: &Around) -> ChoiceAnswer {
    let tasks: Vec<usize> = (0..all.len()).filter(|&task| all[task].belongs(choice)).collect();
    let order = order(&tasks, all, around);
    ChoiceAnswer { choice, tasks, order }
}

/// The tasks of the plan with the said task that each comes from.
fn planned(tasks: &[usize], all: &[TaskSaid], around: &Around) -> Result<(Vec<Task>, Vec<usize>), String> {
    let room = around.said.room.unwrap_or(super::work::USUAL_ROOM);
    let (mut planned, mut from) = (Vec::new(), Vec::new());
    for &place in tasks {
        let said = &all[place];
        let named = |name: &String| {
            let known = tasks.iter().find(|&&other| all[other].name.eq_ignore_ascii_case(name));
            // What is not among the tasks of this choice is not waited for in it, unless nobody knows it at all.
            match (known, all.iter().any(|task| task.name.eq_ignore_ascii_case(name))) {
                (Some(&other), _) => Some(last_of(&all[other])),
                (None, true) => None,
                (None, false) => Some(name.clone()),
            }
        };
        let after: Vec<String> = said.after.iter().filter_map(named).collect();
        let made = of_one(said, room, after, around)?;
        from.extend(std::iter::repeat_n(place, made.len()));
        planned.extend(made);
    }
    Ok((planned, from))
}

/// What follows a task waits for the last of its hands.
fn last_of(said: &TaskSaid) -> String {
    if said.then.is_some() { after_the_wait(&said.name) } else { said.name.clone() }
}

fn after_the_wait(name: &str) -> String {
    format!("{name}, after the wait")
}

/// One said task as tasks of the plan, less what was done of it already.
fn of_one(said: &TaskSaid, room: Room, after: Vec<String>, around: &Around) -> Result<Vec<Task>, String> {
    let wait = wait_of(&said.waits, room)?;
    let spent = around.spent.of(&said.name);
    let not_before = said.not_before.as_ref().map(|(day, _)| {
        around.bench.moment(day.to_datetime(jiff::civil::Time::midnight())).map_err(|fault| fault.to_string())
    });
    let not_before = not_before.transpose()?;
    let begun = |hours: Hours| Hours(spent.hours - hours.0);
    let attended = match spent.done_at {
        Some(_) => ThreePoint::NONE,
        None => less(said.attended, spent.hours),
    };
    let alone = match spent.done_at {
        Some(done) => less(wait, (around.now.as_second() - done.as_second()).max(0) as f64 / 3600.0),
        None => wait,
    };
    let first = Task {
        name: said.name.clone(),
        attended,
        unattended: alone,
        after,
        not_before,
        in_one_go: said.in_one_go && spent.hours == 0.0,
    };
    let last = said.then.map(|then| Task {
        name: after_the_wait(&said.name),
        attended: match spent.done_again {
            true => ThreePoint::NONE,
            false if spent.done_at.is_some() => less(then, begun(said.attended.likely()).0.max(0.0)),
            false => then,
        },
        unattended: ThreePoint::NONE,
        after: vec![said.name.clone()],
        not_before: None,
        in_one_go: false,
    });
    Ok(std::iter::once(first).chain(last).collect())
}

/// What the hours so far come to: an estimate is of all the work, not of what is left.
fn spent_at_rate(places: &[usize], all: &[TaskSaid], around: &Around) -> Option<Expected> {
    let hours: f64 = places.iter().map(|&place| around.spent.of(&all[place].name).hours).sum();
    let rate = around.said.rate.filter(|_| hours > 0.0)?;
    let sum = Estimate::certain(units(rate) * hours).ok()?;
    Some(Expected::new("hours so far", rate.currency(), sum))
}

/// How long it waits by itself.
pub(super) fn wait_of(wait: &Wait, room: Room) -> Result<ThreePoint, String> {
    match wait {
        Wait::Nothing => Ok(ThreePoint::NONE),
        Wait::Hours(hours) => Ok(*hours),
        Wait::Cure(id) => match Library::built_in().cure(id) {
            Some(cure) => cure.time(room).map(|time| time.hours).map_err(|fault| fault.to_string()),
            None => Ok(ThreePoint::NONE),
        },
    }
}

/// What is left of a time after so many hours.
fn less(time: ThreePoint, hours: f64) -> ThreePoint {
    let left = |of: Hours| Hours((of.0 - hours).max(0.0));
    let (low, likely, high) = (left(time.optimistic()), left(time.likely()), left(time.pessimistic()));
    // Three figures that rise still rise when the same is taken from each.
    ThreePoint::new("", low, likely, high).unwrap_or(ThreePoint::NONE)
}

fn order(places: &[usize], all: &[TaskSaid], around: &Around) -> Result<Order, String> {
    let (planned, from) = planned(places, all, around)?;
    let tasks = Tasks::new(planned).map_err(|fault| fault.to_string())?;
    let laid = tasks.planned(around.bench, around.now, Tasks::STEPS).map_err(|fault| fault.to_string())?;
    let forecast =
        tasks.forecast(around.bench, around.now, &laid, DRAWS, SEED).map_err(|fault| fault.to_string())?;
    let costs: Vec<Expected> = places.iter().flat_map(|&place| all[place].costs.clone()).collect();
    let costs: Vec<Expected> = costs.into_iter().chain(spent_at_rate(places, all, around)).collect();
    let cost = around.said.rate.map(|rate| forecast.cost(rate, &costs, SEED)).transpose();
    let cost = cost.map_err(|fault| fault.to_string())?;
    told(&tasks, &from, &laid, &forecast, cost.as_ref(), around).map_err(|fault| fault.to_string())
}

fn told(
    tasks: &Tasks,
    from: &[usize],
    laid: &Schedule,
    forecast: &Forecast,
    cost: Option<&Cost>,
    around: &Around,
) -> Result<Order, Box<dyn std::error::Error>> {
    let shown = |at: Timestamp| around.bench.shown(at);
    let name = |task: usize| tasks.name(task).to_owned();
    let turns = laid.turns.iter().map(|turn| TurnAnswer {
        name: name(turn.task),
        task: from[turn.task],
        begins: shown(turn.begins),
        hands_free: shown(turn.hands_free),
        ready: shown(turn.ready),
        hands: tasks.tasks()[turn.task].attended.likely(),
        alone: tasks.tasks()[turn.task].unattended.likely(),
        held: match turn.held {
            Held::Nothing => HeldBy::Nothing,
            Held::Parts => HeldBy::Parts,
            Held::After(other) => HeldBy::After(name(other)),
            Held::Hands(other) => HeldBy::Hands(name(other)),
        },
    });
    let shares = [LOW, 0.5, HIGH];
    let [soon, even, late] = shares.map(|share| forecast.ready_by(share));
    let drawn = forecast.hands()?;
    let hands = shares.map(|share| Hours(drawn.quantile(share)));
    let sums = cost.map(|cost| shares.map(|share| cost.quantile(share)));
    let sums = sums.map(|[low, even, high]| Ok::<_, asfound_plan::money::MoneyFault>([low?, even?, high?]));
    let within = cost.zip(around.ceiling).map(|(cost, ceiling)| cost.chance_within(ceiling));
    let clocks = laid.waits_over_changes(around.bench, tasks);
    Ok(Order {
        turns: turns.collect(),
        finish: shown(laid.finish),
        at_least: shown(laid.at_least),
        proved: laid.is_proved(),
        critical: laid.why_not_before().iter().map(|link| name(link.task)).collect(),
        ready: [shown(soon?), shown(even?), shown(late?)],
        hands,
        cost: sums.transpose()?,
        drawn: cost.cloned(),
        within: within.transpose()?.map(asfound_weigh::Probability::value),
        clocks: clocks.iter().map(ToString::to_string).collect(),
    })
}
