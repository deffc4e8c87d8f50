//! Activities, what each waits for, and how long the longest chain takes: the critical path, with hands for all.
//!
//! Forward and backward pass: J. E. Kelley and M. R. Walker, *Critical-path planning and scheduling*, Proceedings of the
//! Eastern Joint Computer Conference, 160 (1959). Mean and variance of a chain are those of its activities added, and
//! the chance of being done by a time is printed as if the chain were normal and alone (D. G. Malcolm, J. H. Roseboom,
//! C. E. Clark and W. Fazar, Operations Research 7, 646, 1959).
//!
//! **That printed chance is too hopeful**, since a chain that is nearly as long may be late instead (K. R. MacCrimmon
//! and C. A. Ryavec, Operations Research 12, 16, 1964): for two alike of mean 10 and deviation 2 it says 84 % at 12,
//! where 71 % is true. So it is kept for comparison with published figures, and [`Network::simulated`] is beside it.
//!
//! ```
//! use asfound_plan::{Activity, Hours, Network, ThreePoint};
//! let times = |of, a, m, b| ThreePoint::new(of, Hours(a), Hours(m), Hours(b));
//! let network = Network::new(vec![
//!     Activity { name: "strip".into(), takes: times("strip", 2.0, 4.0, 6.0)?, after: vec![] },
//!     Activity { name: "wind".into(), takes: times("wind", 1.0, 2.0, 3.0)?, after: vec![] },
//!     Activity { name: "fit".into(), takes: times("fit", 1.0, 1.0, 1.0)?, after: vec!["strip".into(), "wind".into()] },
//! ])?;
//! let path = network.critical_path();
//! assert_eq!(path.chain, [0, 2]);
//! assert_eq!(path.takes, Hours(5.0));
//! assert_eq!(path.slack(1), Hours(2.0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::precedence::{Precedence, PrecedenceFault};
use crate::three_point::{Hours, ThreePoint};
use asfound_measure::{Chance, SimulateError, Simulated};

/// One thing to be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Activity {
    /// Its name; no other has it.
    pub name: String,
    /// How long it takes.
    pub takes: ThreePoint,
    /// The names of what must be done before.
    pub after: Vec<String>,
}

/// Activities in an order that can be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    activities: Vec<Activity>,
    precedence: Precedence,
}

/// When an activity can begin at the earliest and at the latest, in hours from the start.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Float {
    /// Earliest begin.
    pub earliest: Hours,
    /// Latest begin that delays nothing.
    pub latest: Hours,
}

/// The longest chain, from mean times.
#[derive(Debug, Clone, PartialEq)]
pub struct CriticalPath {
    /// Its activities, by place, from the first to the last. Of chains alike in length, one with the largest variance.
    pub chain: Vec<usize>,
    /// Its mean time.
    pub takes: Hours,
    /// Its variance in square hours, from [`ThreePoint::printed_variance`].
    pub variance: f64,
    /// Every activity's earliest and latest begin.
    pub floats: Vec<Float>,
}

impl CriticalPath {
    /// How much later than at the earliest an activity can begin and delay nothing.
    pub fn slack(&self, activity: usize) -> Hours {
        Hours(self.floats[activity].latest.0 - self.floats[activity].earliest.0)
    }

    /// The chance of being done by a time as it is printed: `Φ((t − μ)/σ)` of this chain alone. Too hopeful wherever
    /// another chain is nearly as long.
    pub fn printed_chance(&self, by: Hours) -> f64 {
        let over = by.0 - self.takes.0;
        if self.variance <= 0.0 {
            return if over >= 0.0 { 1.0 } else { 0.0 };
        }
        0.5 * libm::erfc(-over / (2.0 * self.variance).sqrt())
    }
}

impl Network {
    /// Checks names and dependencies.
    ///
    /// # Errors
    /// [`PrecedenceFault`] for a name that stands twice, one that is not there, and a circle.
    pub fn new(activities: Vec<Activity>) -> Result<Network, PrecedenceFault> {
        let precedence =
            Precedence::new(activities.iter().map(|one| (one.name.as_str(), one.after.as_slice())))?;
        Ok(Network { activities, precedence })
    }

    /// The activities as listed.
    pub fn activities(&self) -> &[Activity] {
        &self.activities
    }

    /// The longest chain by mean times.
    pub fn critical_path(&self) -> CriticalPath {
        let means: Vec<f64> = self.activities.iter().map(|one| one.takes.mean().0).collect();
        let ends = self.ends(&means);
        let takes = ends.iter().copied().fold(0.0, f64::max);
        let mut latest = vec![takes; means.len()];
        for &here in self.precedence.order.iter().rev() {
            let deadline =
                self.precedence.before[here].iter().map(|&next| latest[next]).fold(takes, f64::min);
            latest[here] = deadline - means[here];
        }
        let floats = (0..means.len())
            .map(|here| Float { earliest: Hours(ends[here] - means[here]), latest: Hours(latest[here]) })
            .collect();
        let (chain, variance) = self.widest_chain(&means, &ends, takes);
        CriticalPath { chain, takes: Hours(takes), variance, floats }
    }

    /// When each is done if all begin as early as they can.
    fn ends(&self, takes: &[f64]) -> Vec<f64> {
        let mut ends = vec![0.0; takes.len()];
        for &here in &self.precedence.order {
            let begin = self.precedence.after[here].iter().map(|&earlier| ends[earlier]).fold(0.0, f64::max);
            ends[here] = begin + takes[here];
        }
        ends
    }

    /// Of the chains that take as long as all, the one with the largest variance, and that.
    fn widest_chain(&self, means: &[f64], ends: &[f64], takes: f64) -> (Vec<usize>, f64) {
        // Sums of sixths in another order differ in their last bits; a millionth of the whole is no difference.
        let alike = |one: f64, other: f64| (one - other).abs() <= 1e-6 * takes.max(1.0);
        let mut variance = vec![0.0; means.len()];
        let mut from = vec![None; means.len()];
        for &here in &self.precedence.order {
            let begin = ends[here] - means[here];
            let held =
                self.precedence.after[here].iter().copied().filter(|&earlier| alike(ends[earlier], begin));
            from[here] = held.max_by(|&one, &other| f64::total_cmp(&variance[one], &variance[other]));
            variance[here] = from[here].map_or(0.0, |earlier: usize| variance[earlier])
                + self.activities[here].takes.printed_variance();
        }
        let last = (0..means.len())
            .filter(|&here| alike(ends[here], takes))
            .max_by(|&one, &other| f64::total_cmp(&variance[one], &variance[other]));
        let mut chain: Vec<usize> = std::iter::successors(last, |&here| from[here]).collect();
        chain.reverse();
        (chain, last.map_or(0.0, |here| variance[here]))
    }

    /// The time of all in hours, drawn so many times from a stated seed. Every chain takes part, so the bias of the
    /// printed chance is gone.
    ///
    /// # Errors
    /// [`SimulateError`] for fewer than a thousand draws.
    pub fn simulated(&self, draws: usize, seed: u64) -> Result<Simulated, SimulateError> {
        let mut chance = Chance::from_seed(seed);
        let mut drawn = vec![0.0; self.activities.len()];
        let whole = std::iter::repeat_with(|| {
            for (takes, one) in drawn.iter_mut().zip(&self.activities) {
                *takes = one.takes.draw(&mut chance).0;
            }
            self.ends(&drawn).into_iter().fold(0.0, f64::max)
        });
        Simulated::of_draws(whole.take(draws).collect())
    }
}
