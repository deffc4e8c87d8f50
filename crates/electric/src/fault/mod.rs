//! Fault finding: what is wrong with a traced circuit, from what a meter shows and what is heard.
//!
//! It answers: which fault, or which two, account for the readings between any two lugs (or at the plug alone) and for
//! what is heard; how probable each is and what speaks for it; which faults nothing within reach tells apart; and which
//! reading or listening test to make next.

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
