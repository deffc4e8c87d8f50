//! What to look at before buying, what to pay, what to do, what it costs and when it is done.
//!
//! At a viewing: what is often not known and what can be checked ([`checks`]), and what a check is worth in money
//! ([`viewing`]). Before a purchase: what a lot costs all in, and the highest bid under a limit ([`fees`]) or under a chance of loss
//! ([`risk`]); what it is worth in three states, each share with whose rule it is ([`value`]). For the work: the trade's
//! operations with their hours, waits, hazards and what they take away ([`library`]); an order for one pair of hands
//! ([`schedule`]) on a bench that is not always open ([`calendar`]); the finish and the cost as they may turn out; what
//! is billed ([`billing`], [`invoice`]). Beside that the critical path as published networks have it ([`network`]).
//!
//! **The one decision: what is agreed is a whole number, and what is not known is drawn.** Money is whole minor units and
//! rates are exact fractions, moments are whole seconds: a bid, a bill or an order is right exactly, or it is wrong.
//! Hours, prices and values that nobody knows yet are distributions ([`estimate`]), carried through by drawing from a
//! stated seed, since their quantiles do not add. Neither is ever turned quietly into the other.
//!
//! The equations stand with their sources on the page of each module.
//!
//! # Example
//! A headstock is broken and a pot crackles. What comes first, when is it ready, and what may it cost?
//!
//! ```
//! use asfound_measure::Celsius;
//! use asfound_plan::library::{Library, Room};
//! use asfound_plan::money::{Currency, Money};
//! use asfound_plan::{Bench, Tasks};
//! use jiff::{civil::{date, time}, tz::TimeZone};
//!
//! let library = Library::built_in();
//! let room = Room { coldest: Celsius(15.0), warmest: Celsius(25.0) }; // nobody has measured it
//! let mut tasks = Vec::new();
//! for (id, name) in [("clean-pot", "pot"), ("headstock-break", "headstock")] {
//!     let operation = library.operation(id).expect("in the table");
//!     tasks.extend(operation.tasks(name, library, room, vec![], None)?);
//! }
//! let tasks = Tasks::new(tasks)?;
//!
//! let bench = Bench::weekdays(TimeZone::UTC, time(9, 0, 0, 0), time(17, 0, 0, 0))?;
//! let monday = bench.moment(date(2024, 5, 6).at(9, 0, 0, 0))?;
//! let plan = tasks.planned(&bench, monday, Tasks::STEPS)?;
//! assert_eq!(tasks.name(plan.turns[0].task), "headstock"); // its glue takes two days
//! assert!(plan.is_proved());
//!
//! let forecast = tasks.forecast(&bench, monday, &plan, 2_000, 1)?;
//! let cost = forecast.cost(Money::read("60", Currency::of("GBP")?)?, &[], 2)?;
//! assert!(forecast.ready_by(0.9)? > plan.finish); // nine times in ten by then, not by the plan's own hour
//! assert!(cost.quantile(0.9)?.minor() > cost.quantile(0.5)?.minor());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod billing;
pub mod calendar;
pub mod checks;
pub mod estimate;
pub mod fees;
pub mod invoice;
pub mod library;
pub mod money;
pub mod network;
mod openings;
mod precedence;
pub mod risk;
pub mod schedule;
mod table;
mod three_point;
pub mod value;
pub mod viewing;

pub use calendar::{Bench, CalendarFault, ClockChange, Opening};
pub use network::{Activity, CriticalPath, Float, Network};
pub use precedence::PrecedenceFault;
pub use schedule::{Cost, Forecast, Held, Link, Schedule, ScheduleFault, Task, Tasks, Turn, WaitOverChange};
pub use three_point::{Hours, ThreePoint, ThreePointFault};
