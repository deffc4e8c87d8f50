//! Networks of coils, pots and switches: what each position does.

mod circuit;
mod plan;
mod taper;
pub mod trace;

pub use circuit::{
    Circuit, CircuitError, Coil, Coupling, Eddy, Join, JoinTo, Known, NoSuchLug, Part, Pot, Sign, Sort, Terminal,
};
pub use plan::{Between, Plan, PlanError, Position};
pub use taper::Taper;
