//! Fault finding: what is wrong with a traced circuit, from what a meter shows and what is heard.
//!
//! It answers: which fault, or which two, account for the readings between any two lugs (or at the plug alone) and for
//! what is heard; how probable each is and what speaks for it; which faults nothing within reach tells apart; and which
//! reading or listening test to make next. That there is no fault, and what is found is the design, is weighed like the
//! rest, and so is that the fault is not in the list.
//!
//! # The one decision
//! *A fault is a change of the network, and nothing else is said of it.* Every fault at every place, and every pair, is
//! built into the traced circuit, which is then metered and listened to by computation; whatever the instrument shows is
//! held against that. No table says which symptom belongs to which fault, so odd circuits are served as well as common
//! ones. What words mean to the ear, what a touch does to a hum and how common faults are is common practice without a
//! source, stands in constants and in [`Priors`], and can be changed.
//!
//! # Equations
//! Posterior share of faults `F`: `p(F) Π p(seen | F)`, with prior odds that multiply for a pair, by the crate
//! `asfound-weigh`. Readings are weighed on `y = ln(R + 1 Ω)` and all together: part values that may lie off the trace,
//! `x_j (1 + u_j ε_j)`, and the meter's gain shift every reading by Cohn's theorem (Proceedings of the American
//! Mathematical Society 1, 316, 1950), `∂R/∂x_j = i_j²` for one ampere through the meter, so that
//! `cov(y_k, y_l) = Σ_j s_kj s_lj u_j² + δ_kl n_k²` (JCGM 102:2011, 6.2), and each reading is weighed with those before it
//! known. A size that a fault has (a leak, a track) is summed over a ladder of values and refined by the same covariance.
//! A pair is looked at further only while what is left to see could still lift it to a share that counts. The next look is
//! the one with the most expected information for its trouble (D. V. Lindley, Annals of Mathematical Statistics 27, 986,
//! 1956).
//!
//! # Example
//! One coil on a volume control; nothing is heard, and the meter at the plug shows the bare track.
//!
//! ```
//! use asfound_electric::fault::*;
//! use asfound_electric::{Load, Setting, jack::Shown, trace::Trace};
//! use asfound_measure::{Farads, Ohms, Uncertain};
//!
//! let circuit = Trace::read(
//!     "coil neck 6k\n pot volume 250k\n jack jack\n join neck.hot volume.3 seen\n join volume.2 jack.tip seen\n\
//!      join volume.1 jack.sleeve seen\n join neck.ground volume.1 seen\n",
//! )?
//! .circuit()?;
//! let setting = Setting::first(&circuit);
//! let at = |lug| circuit.terminal(lug).expect("it is there");
//! let probed = Probed { from: at("jack.tip"), to: at("jack.sleeve"), setting: setting.clone() };
//! let shown = Shown::Ohms(Uncertain::rectangular(Ohms(248e3), Ohms(500.0)));
//! let evidence = Evidence {
//!     metered: vec![Metered { probed, shown }],
//!     heard: vec![Heard::Silent { setting }],
//!     reach: Reach::Everything,
//!     coated_cavity: Some(false),
//!     earth_proved: false,
//!     load: Load { capacitance: Farads(500e-12), resistance: Some(Ohms(1e6)) },
//! };
//! let answer = suspects(&circuit, &evidence, &Options::default())?;
//! // A joint of the coil's leads, an end of the track, or the coil; one probing tells them apart.
//! let leading: Vec<&[Fault]> = answer.ranked[..4].iter().map(|it| it.faults.as_slice()).collect();
//! assert!(leading.contains(&[Fault::JoinOpen { join: 0 }].as_slice()));
//! assert!(leading.contains(&[Fault::CoilOpen { part: 0 }].as_slice()));
//! assert!(matches!(answer.next[0].look, Look::Meter(_)));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod answer;
mod assumed;
mod candidates;
mod check;
mod edits;
mod evidence;
mod faulted;
mod heard;
mod kinds;
mod levels;
mod looks;
mod ohms;
mod readings;
mod suspects;
#[cfg(test)]
mod tests;
mod weighing;

pub use answer::{Answer, Contradiction, FaultError, Look, NextLook, Shows, Sounds, SpeaksOf, Suspicion};
pub use asfound_weigh::{Side, Strength};
pub use assumed::{Options, Priors, Tolerances};
pub use candidates::every_fault;
pub use evidence::{About, Evidence, Heard, Metered, Probed, Reach, Touched};
pub use kinds::{Fault, TrackEnd};
pub use looks::MOST_NEXT;
pub use suspects::{MOST_RANKED, suspects};
