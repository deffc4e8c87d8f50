//! What to look at before buying, what to pay, what to do, what it costs and when it is done.

pub mod billing;
pub mod calendar;
pub mod estimate;
pub mod fees;
pub mod library;
pub mod money;
pub mod network;
mod openings;
mod precedence;
pub mod risk;
pub mod schedule;
mod three_point;
pub mod value;

pub use calendar::{Bench, CalendarFault, ClockChange, Opening};
pub use network::{Activity, CriticalPath, Float, Network};
pub use precedence::PrecedenceFault;
pub use schedule::{Cost, Forecast, Held, Link, Schedule, ScheduleFault, Task, Tasks, Turn, WaitOverChange};
pub use three_point::{Hours, ThreePoint, ThreePointFault};
