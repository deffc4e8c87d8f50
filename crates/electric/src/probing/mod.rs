//! A trace held against the meter: what each probing should show, which few probings verify the whole trace, and what
//! readings taken say of it.
//!
//! It answers: what an ohmmeter shows between any two lugs in any position, within which limits; which smallest set of
//! such readings would show every single slip of the trace; and, once some are taken, which slips are excluded, which
//! would account for them, and where the unknown joins go.
//!
//! # The one decision
//! *A probing is chosen by what it tells apart, never by how telling it looks.* Every single slip is laid out beside the
//! trace as drawn: each join missing, each end of a join at a lug it is easily taken for, each bridge between lugs that
//! lie near or between two points ([`Slip`]). Slips that put every lug at the same point as another are one, so what no
//! meter can see is known before a resistance is reckoned. A probing tells two of them apart where the limits of what it
//! would show, with the meter's own error, do not meet; and the sheet is the least set of probings that tells the trace
//! as drawn from every slip, and the ways the unknown joins can go from each other.
//!
//! A sheet shows *that* something is wrong. To know *which* slip it is, each next probing is chosen by what was read so
//! far ([`Survey::next`]): that takes far fewer probings than a fixed list that tells every slip from every other.
//!
//! # Equations
//! At direct current capacitors block and coils are their resistance. With the inverse `G` of an island's nodal
//! conductances, less one point, an ohmmeter shows `G_ii + G_jj - 2 G_ij` between two points. It never falls when a
//! resistance grows (Rayleigh's law of monotony; J. C. Maxwell, A Treatise on Electricity and Magnetism, 1873), so its
//! limits are those with every part at its least and every part at its most. The least set of probings is set covering
//! (R. M. Karp, in Complexity of Computer Computations, 1972), solved by branch and bound; where that would take too long
//! the greedy answer stands with a bound beside it (V. Chvátal, Mathematics of Operations Research 4, 233, 1979). The
//! three are cited from memory.
//!
//! # Example
//! ```
//! use asfound_electric::probing::{Options, Proof, Survey};
//! use asfound_electric::trace::Trace;
//!
//! let trace = Trace::read(
//!     "coil bridge 8k\n\
//!      pot volume 500k\n\
//!      jack jack\n\
//!      join bridge.hot volume.3 seen\n\
//!      join bridge.ground jack.sleeve seen\n\
//!      join volume.2 jack.tip seen\n\
//!      join volume.1 jack.sleeve seen\n",
//! )?;
//! let circuit = trace.circuit()?;
//! let survey = Survey::new(&circuit, Options::default()).unwrap();
//! let sheet = survey.sheet();
//! assert_eq!(sheet.proof, Proof::Least);
//! assert!(sheet.rows.len() <= 4 && sheet.shown > 20); // a few readings show dozens of slips
//! # Ok::<(), asfound_electric::trace::TraceFaults>(())
//! ```

mod candidates;
mod cover;
mod expected;
mod grid;
mod judge;
mod sheet;
mod slips;
mod survey;
mod tolerances;

use asfound_measure::Ohms;

use crate::circuit::{Circuit, Terminal};
use crate::network::Unsolvable;

pub use crate::fault::Probed;
pub use expected::{Expected, expected};
pub use judge::{Judged, Settled, Taken, Verdict};
pub use sheet::{CheckSheet, Proof, Row, Unseen, WhyUnseen};
pub use slips::Slip;
pub use survey::{MOST_LUGS, MOST_POSSIBILITIES, MOST_SWITCHES, Options, Survey, islands};
pub use tolerances::{Margin, Tolerances};

/// Limits of a reading. `most` is infinite where nothing may conduct at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Least.
    pub least: Ohms,
    /// Most; may be infinite.
    pub most: Ohms,
}

impl Span {
    /// What nothing at all shows.
    pub fn open(tolerances: &Tolerances) -> Span {
        Span { least: tolerances.open_from, most: Ohms(f64::INFINITY) }
    }

    /// Whether it is what nothing at all shows.
    pub fn is_open(&self) -> bool {
        self.most.0.is_infinite()
    }

    /// Whether the two have no ohm in common.
    pub fn apart(&self, other: &Span) -> bool {
        self.most.0 < other.least.0 || other.most.0 < self.least.0
    }

    /// The same with the meter's error, as a share, on both sides.
    pub fn through(&self, meter: f64) -> Span {
        Span { least: self.least * (1.0 - meter), most: self.most * (1.0 + meter) }
    }
}

/// Why a trace cannot be held against the meter. Parts are told by name.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ProbingError {
    /// A lug or setting that the circuit does not have.
    #[error(transparent)]
    Unsolvable(#[from] Unsolvable),
    /// A tolerance that cannot be.
    #[error("the tolerance of {of} is {read}; a share from 0 to below 1 is right, such as 0.03")]
    Tolerance {
        /// What it is of.
        of: &'static str,
        /// What was read.
        read: f64,
    },
    /// Nothing is joined yet.
    #[error("nothing is joined yet, so there is nothing to verify; trace a join")]
    NoJoins,
    /// More switches than can be gone through.
    #[error(
        "{read} switches; up to {most} are gone through. Trace the instrument without those that are not wired"
    )]
    TooManySwitches {
        /// How many there are.
        read: usize,
        /// How many are gone through.
        most: usize,
    },
    /// More lugs than can be gone through.
    #[error("{read} lugs; up to {most} are gone through. Leave out parts that nothing is joined to")]
    TooManyLugs {
        /// How many there are.
        read: usize,
        /// How many are gone through.
        most: usize,
    },
    /// More ways for the unknown joins than can be gone through.
    #[error(
        "the unknown joins can go {read} ways; up to {most} are gone through. Settle some of them by eye first"
    )]
    TooManyPossibilities {
        /// How many there are.
        read: u128,
        /// How many are gone through.
        most: usize,
    },
    /// Two instruments in one trace.
    #[error(
        "the trace holds {} instruments that nothing joins; trace each in a job of its own, or add the join between them",
        .islands.len()
    )]
    SeveralInstruments {
        /// For each, the names of its parts.
        islands: Vec<Vec<String>>,
    },
}

/// Checks that a circuit has a lug.
fn check_lug(circuit: &Circuit, lug: Terminal) -> Result<(), ProbingError> {
    let parts = circuit.parts();
    let no_such = |what, read, count| Err(Unsolvable::NoSuchThing { what, read, count }.into());
    match parts.get(lug.part) {
        None => no_such("part", lug.part, parts.len()),
        Some(part) if lug.lug >= part.lug_count() => no_such("lug", lug.lug, part.lug_count()),
        Some(_) => Ok(()),
    }
}
