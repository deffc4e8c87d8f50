//! Networks of coils, pots and switches: what each position does.

mod circuit;
pub mod explain;
mod complex;
mod direct;
mod equations;
mod linear;
mod nets;
mod network;
mod path;
mod plan;
mod sensitivity;
mod solve;
mod state;
mod taper;
pub mod trace;

pub use circuit::{
    Circuit, CircuitError, Coil, Coupling, Eddy, Join, JoinTo, Known, NoSuchLug, Part, Pot, Sign, Sort, Terminal,
};
pub use complex::Complex;
pub use direct::{Direct, Reading, resistance};
pub use equations::MOST_NETS;
pub use nets::Nets;
pub use network::Unsolvable;
pub use plan::{Between, Plan, PlanError, Position};
pub use sensitivity::{Sensitivity, Value};
pub use solve::{Output, Prepared, Response};
pub use state::{Changes, Load, OnTheWay, Setting, Wired};
pub use taper::Taper;
