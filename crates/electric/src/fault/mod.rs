//! Fault finding: what is wrong with a traced circuit, from what a meter shows and what is heard.
//!
//! It answers: which fault, or which two, account for the readings between any two lugs (or at the plug alone) and for
//! what is heard; how probable each is and what speaks for it; which faults nothing within reach tells apart; and which
//! reading or listening test to make next.

mod answer;
mod assumed;
mod evidence;
mod kinds;

pub use answer::{Answer, Contradiction, FaultError, Look, NextLook, Shows, Sounds, SpeaksOf, Suspicion};
pub use assumed::{Options, Priors, Tolerances};
pub use evidence::{About, Evidence, Heard, Metered, Probed, Reach, Touched};
pub use kinds::{Fault, TrackEnd};
