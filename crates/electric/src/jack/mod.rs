//! Readings at the jack: coils and pots from what a meter shows at the plug.
//!
//! It answers: what ohms has each coil and each volume, from readings through the plug in several positions, with
//! nothing opened; which ways of wiring agree with the readings and which do not; which reading disagrees with the
//! rest and what it would be under each likely fault; which reading to take next.
//!
//! # The one decision
//! *All readings are fitted at once to the network itself*, traced or built from a plain arrangement, not put into a
//! formula for one circuit. Whatever a meter can show through a plug is then read by one rule, with its uncertainty;
//! the closed formulas for simple circuits are the tests. Where the wiring, a nominal track or a coil's soundness is
//! not known, every way is fitted and those that stand are told; nothing is assumed. Faults are supposed only where no
//! wiring stands without one.
//!
//! # Equations
//! The reading of a network of resistances moves with each of them by its share of the meter's current squared
//! (M. Cohn, Proceedings of the American Mathematical Society 1, 316, 1950), which makes the slopes of the fit exact.
//! Weighted least squares over readings, values known beforehand and one gain of the meter that all readings share:
//! `χ² = Σ ((g R(x) − r)/u)² + Σ ((x − x₀)/u₀)² + ((g − 1)/u_g)²`. A track's tolerance counts as rectangular (JCGM
//! 100:2008, 4.3.7), and its ends are tried as well. Checked against the closed forms of a coil behind one volume,
//! of coils side by side and in series, and of two volumes joined either way, whose figures a general circuit simulator
//! repeats to eight digits.
//!
//! # Example
//! Two coils on one volume, read in three positions.
//!
//! ```
//! use asfound_electric::jack::*;
//! use asfound_measure::{Ohms, Uncertain};
//!
//! let read = |on: &[usize], ohms: f64| PlainReading {
//!     on: on.to_vec(),
//!     joined: None,
//!     knobs: Knobs::FullUp,
//!     shown: Shown::Ohms(Uncertain::rectangular(Ohms(ohms), Ohms(0.5))),
//! };
//! let asked = Plain {
//!     coils: vec!["neck".into(), "bridge".into()],
//!     metered: vec![],
//!     controls: None,
//!     joined: None,
//!     tracks: OhmsKnown::Nominal(COMMON_TRACKS.to_vec()),
//!     readings: vec![read(&[0], 5808.0), read(&[1], 6207.0), read(&[0, 1], 3038.0)],
//! };
//! let answer = read_plain(&asked, Meter { gain: 0.0 })?;
//! let stands = answer.standing().next().expect("one way agrees");
//! assert!(matches!(stands.wiring, Wiring::Plain { controls: Controls::Master, .. }));
//! let neck = stands.value("neck").and_then(|it| it.ohms.as_ref().ok()).expect("it is told");
//! assert!((neck.value.0 - 5950.0).abs() < 5.0);
//! # Ok::<(), JackError>(())
//! ```

mod answer;
mod case;
mod chance;
mod doubt;
mod expected;
mod extra;
mod fit;
mod model;
mod next;
mod propose;
mod reading;
mod told;
mod wiring;

pub use answer::{Answer, Caution, Span, read_plain, read_traced};
pub use doubt::{DISAGREES_BEYOND, Doubted, Fault, Suspect};
pub use expected::expected;
pub use extra::Extra;
pub use next::{MOST_NEXT, NextReading, TOLD_APART_BEYOND, TellsApart};
pub use propose::Proposed;
pub use reading::{
    COMMON_TRACKS, CONTACTS, Controls, FullUp, JackError, JackReading, Knobs, LEAST_COIL, MOST_COIL, Meter,
    OhmsKnown, Plain, PlainReading, Probe, Shown, TRACK_TOLERANCE, Traced,
};
pub use told::{DOUBTFUL_BELOW, Fitted, Kind, RULED_OUT_BELOW, Value, Verdict};
pub use wiring::{MOST_PLAIN_COILS, MOST_WIRINGS, Wiring};
