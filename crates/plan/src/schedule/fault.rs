//! Why tasks make no plan.

use crate::calendar::CalendarFault;
use crate::precedence::PrecedenceFault;
use crate::three_point::Hours;
use asfound_measure::SimulateError;

/// Why tasks make no plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ScheduleFault {
    /// Names or dependencies.
    #[error(transparent)]
    Order(#[from] PrecedenceFault),
    /// Moments.
    #[error(transparent)]
    Calendar(#[from] CalendarFault),
    /// It does not fit into any opening.
    #[error(
        "“{task}” is to be done in one go and takes {takes}, and the bench is never open for longer than {longest}; part \
         it in two, or open the bench for longer on one day"
    )]
    TooLongForOneGo {
        /// Which.
        task: String,
        /// What it likely takes.
        takes: Hours,
        /// The longest opening.
        longest: Hours,
    },
    /// An order that was given leaves one out, or names one twice.
    #[error("the order names “{0}” not exactly once; give every task that takes hands one place")]
    NotOnce(String),
    /// An order that was given breaks a dependency.
    #[error("the order has “{task}” before “{waits_for}”, for which it waits; put “{waits_for}” first")]
    TooEarly {
        /// Which.
        task: String,
        /// For what it waits.
        waits_for: String,
    },
    /// Draws.
    #[error(transparent)]
    Draws(#[from] SimulateError),
}
