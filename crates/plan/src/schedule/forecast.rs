//! When it may really be ready: the plan's order with all times drawn again and again.

use super::frame::Times;
use super::{Schedule, ScheduleFault, Tasks};
use crate::calendar::{Bench, moment};
use crate::three_point::Hours;
use asfound_measure::{Chance, Simulated};
use asfound_weigh::Probability;
use jiff::Timestamp;

/// What may come of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    start: Timestamp,
    finish: Simulated,
    /// Hours of hands in all, in the order in which they were drawn.
    pub(super) hands: Vec<f64>,
    ready: Vec<Simulated>,
}

impl Tasks {
    /// Draws all times so many times from a stated seed, each from its own three figures, and lays them out in the
    /// plan's order. Where the hands would have to wait they take up the first later task that fits into the gap, as a
    /// person would; a task to be done in one go that comes out longer than any opening goes on the next day. Times are
    /// drawn apart from one another: where one surprise delays several tasks, the true spread is wider.
    ///
    /// # Errors
    /// [`ScheduleFault`] for fewer than a thousand draws.
    pub fn forecast(
        &self,
        bench: &Bench,
        start: Timestamp,
        plan: &Schedule,
        draws: usize,
        seed: u64,
    ) -> Result<Forecast, ScheduleFault> {
        let order: Vec<usize> = plan.turns.iter().map(|turn| turn.task).collect();
        let frame = self.frame(bench, start, &order)?;
        let mut chance = Chance::from_seed(seed);
        let mut finish = Vec::with_capacity(draws);
        let mut hands = Vec::with_capacity(draws);
        let mut ready = vec![Vec::with_capacity(draws); self.tasks.len()];
        for _ in 0..draws {
            let times = self.drawn(&mut chance);
            let state = frame.laid_out(&order, &times);
            finish.push(state.finish as f64);
            hands.push(Hours::of_seconds(times.work.iter().sum()).0);
            for (ready, slot) in ready.iter_mut().zip(&state.slots) {
                ready.push(slot.map_or(f64::NAN, |slot| slot.ready as f64));
            }
        }
        Ok(Forecast {
            start,
            finish: Simulated::of_draws(finish)?,
            hands,
            ready: ready.into_iter().map(Simulated::of_draws).collect::<Result<_, _>>()?,
        })
    }

    fn drawn(&self, chance: &mut Chance) -> Times {
        let (work, wait) = self
            .tasks
            .iter()
            .map(|task| (task.attended.draw(chance).seconds(), task.unattended.draw(chance).seconds()))
            .unzip();
        Times { work, wait }
    }
}

impl Forecast {
    /// The moment by which all is ready in this share of the draws.
    ///
    /// # Errors
    /// [`ScheduleFault::Calendar`] beyond the last moment there is.
    pub fn ready_by(&self, share: f64) -> Result<Timestamp, ScheduleFault> {
        self.after_start(&self.finish, share)
    }

    /// The moment by which one task, by place, is ready in this share of the draws: what to tell the owner of one
    /// instrument among several.
    ///
    /// # Errors
    /// [`ScheduleFault::Calendar`] beyond the last moment there is.
    pub fn task_ready_by(&self, task: usize, share: f64) -> Result<Timestamp, ScheduleFault> {
        self.after_start(&self.ready[task], share)
    }

    /// The chance that all is ready by a moment.
    pub fn chance_by(&self, by: Timestamp) -> Probability {
        Probability::of_share(self.finish.share_up_to((by.as_second() - self.start.as_second()) as f64))
    }

    /// Hours of one's own hands in all.
    ///
    /// # Errors
    /// [`ScheduleFault::Draws`] where there were fewer than a thousand draws.
    pub fn hands(&self) -> Result<Simulated, ScheduleFault> {
        Ok(Simulated::of_draws(self.hands.clone())?)
    }

    fn after_start(&self, drawn: &Simulated, share: f64) -> Result<Timestamp, ScheduleFault> {
        Ok(moment(self.start.as_second() + drawn.quantile(share) as i64)?)
    }
}
