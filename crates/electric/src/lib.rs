//! Networks of coils, pots and switches: what each position does.
//!
//! A circuit comes as it was traced: parts with named lugs, and joins between lugs, each with how it is known.
//! For a state (unknown joins decided, switches and knobs set) this library answers: which lugs are one point;
//! whether the output is shorted, open or live; what each coil gives at the jack and what impedance stands there,
//! at any frequency; how both change with every value; and what an ohmmeter shows between any two lugs.
//! [`trace`] reads a circuit from text and [`explain`] says in findings what each position does.
//!
//! # The one decision
//! *Nothing is put into the equations that is not in the instrument.* There are no small conductances to keep a
//! matrix solvable, no resistance for a closed contact, no default for what is unknown. What would make the
//! equations singular is found in the graph beforehand and is an answer of its own:
//!
//! 1. Joins, closed contacts and parts without resistance merge lugs into **nets** (union-find).
//! 2. Parts merge nets into **islands**. Tip and sleeve in one net is *shorted*; on two islands, *open*; neither is
//!    solved. Each island that is solved has one datum.
//! 3. Only parts on a path from tip to sleeve that visits no net twice carry current (the biconnected component
//!    of an edge between the two), so only those are solved, and a coil on no such path is silent exactly.
//!
//! # Equations
//! A coil is an EMF e in series with R and L (and, if described so finely, an inductance shunted by an eddy loss),
//! with C across both ends: `y = 1/(R + jωL)`, a Norton source `y e`, and `jωC` beside it. Two coupled coils are
//! the inverse of `[[z1, jωM], [jωM, z2]]` with `M = k √(L1 L2)`. The nodal equations `Y v = i` are symmetric, so by
//! reciprocity (J. R. Carson, Bell System Technical Journal 3, 393, 1924) *one* solution with 1 A into the jack gives
//! every coil's transfer, as the current in that coil; its voltage at the tip is the impedance; and with one more
//! substitution per coil the adjoint network (Director and Rohrer, IEEE Transactions on Circuit Theory 16, 318, 1969)
//! gives every sensitivity. The equations are solved dense, with partial pivoting, in our own complex numbers, so
//! that the bits are the same on every machine.
//!
//! Checked in the tests on circuits drawn from stated seeds: against a tableau of every voltage and current, and against a
//! general circuit simulator, which agree to 1e-9 wherever something could be heard.
//!
//! # Example
//! One coil behind a volume control, with a cable and an amplifier: its resonance.
//!
//! ```
//! use asfound_electric::*;
//! use asfound_measure::{Farads, Henries, Hertz, Ohms};
//!
//! let coil = Coil {
//!     resistance: Ohms(6000.0),
//!     inductance: Henries(2.4),
//!     capacitance: Farads(110e-12),
//!     winding: None, // not known, and not needed for one coil
//!     magnet: None,
//!     eddy: None,
//!     cover: false,
//!     open: false,
//! };
//! let parts = vec![
//!     Part::new("neck", Sort::Coil(coil)),
//!     Part::new("volume", Sort::Pot(Pot { track: Ohms(250e3), taper: Taper::Unknown })),
//!     Part::new("jack", Sort::Jack),
//! ];
//! let lugs = Circuit::new(parts.clone(), vec![]).unwrap();
//! let joins = [
//!     ("neck.hot", "volume.3"),
//!     ("neck.ground", "volume.1"),
//!     ("volume.2", "jack.tip"),
//!     ("volume.1", "jack.sleeve"),
//! ]
//! .map(|(a, to)| Join {
//!     a: lugs.terminal(a).unwrap(),
//!     to: JoinTo::One(lugs.terminal(to).unwrap()),
//!     known: Known::Metered { ohms: Some(Ohms(0.1)) },
//! });
//! let circuit = Circuit::new(parts, joins.to_vec()).unwrap();
//!
//! let wired = circuit.possibilities().next().unwrap(); // nothing is unknown, so there is one
//! let load = Load { capacitance: Farads(500e-12), resistance: Some(Ohms(1e6)) };
//! let full_up = Setting::first(&circuit);
//! let mut state = Prepared::new(&wired, &full_up, load, &Changes::default()).unwrap();
//! assert_eq!(state.output(), Output::Live);
//!
//! let low = state.at(Hertz(100.0)).unwrap().transfers[0].abs();
//! let resonance = state.at(Hertz(4046.0)).unwrap().transfers[0].abs();
//! assert!(low < 1.0 && resonance > 2.4);
//!
//! // An ohmmeter at the jack sees the coil and the track side by side.
//! let (tip, sleeve) = (circuit.terminal("jack.tip").unwrap(), circuit.terminal("jack.sleeve").unwrap());
//! let meter = resistance(&wired, &full_up, &Changes::default(), tip, sleeve).unwrap();
//! let Reading::Ohms(Ohms(shown)) = meter.reading else { panic!("something conducts") };
//! assert!((shown - 5859.375).abs() < 1e-6);
//! ```

pub mod band;
pub mod bobbin;
mod check;
mod circuit;
pub mod coil;
mod complex;
mod direct;
mod equations;
pub mod explain;
pub mod fault;
pub mod impedance;
pub mod inductance;
pub mod jack;
pub mod least_squares;
mod linear;
mod near;
mod nets;
mod network;
mod path;
mod plan;
pub mod polarity;
pub mod probing;
pub mod purpose;
pub mod resistor_test;
pub mod rewiring;
mod sensitivity;
mod solve;
mod state;
pub mod sweep;
mod taper;
pub mod touch;
pub mod trace;
pub mod wire;

pub use check::{CircuitError, NoSuchLug};
pub use circuit::{Circuit, Coil, Coupling, Eddy, Join, JoinTo, Known, Part, Pot, Sign, Sort, Terminal};
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
