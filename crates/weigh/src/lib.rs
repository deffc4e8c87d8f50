//! Hypotheses weighed against what was found, and the worth of the next look.
//!
//! It answers: how probable is each explanation now ([`Question::weigh`])? What does each piece of evidence say for
//! and against it, and how strongly in words ([`Weighed::speaks`], [`Strength`])? Would another restorer, with other
//! prior opinions inside a stated range, come to the same leader ([`Question::decision`])? And which look next tells
//! most for its trouble ([`information`], [`rank`])?
//!
//! **The one decision: nothing is ever certain, and the doubt has a name.** Beside the explanations somebody thought of
//! stands always *none of these*, with a prior share of its own, and a [`Probability`] cannot hold less than
//! [`Probability::FLOOR`]. So 0 and 1 are never shown, no single look can end a question by itself, and a case that
//! fits nothing is seen as such instead of being handed to the least bad explanation.
//!
//! Equations and their sources:
//! - posterior share `p(H|E) ∝ p(H) Π p(E|H)`, for pieces of evidence that are independent once H is known:
//!   T. Bayes, Philosophical Transactions 53, 370 (1763);
//! - likelihood ratio of one piece, against *all* other explanations: posterior odds with the piece over posterior
//!   odds without it (I. J. Good, *Probability and the Weighing of Evidence*, 1950);
//! - its words: ENFSI, *Guideline for Evaluative Reporting in Forensic Science* (2015), table of verbal equivalents;
//! - information of a look `I = Σ p(h,y) log₂ [p(h,y)/(p(h) p(y))]`: C. E. Shannon, Bell System Technical Journal 27,
//!   379 (1948); its worth before the look is made: D. V. Lindley, Annals of Mathematical Statistics 27, 986 (1956);
//! - bias of that sum when the table was counted from draws: G. A. Miller, *Note on the bias of information
//!   estimates* (1955).
//!
//! # Example
//! A screening test: one in a hundred has the fault, the test finds 80 % of the faulty ones and cries wolf for 9.6 % of
//! the sound ones. What does a cry mean? (D. M. Eddy, in Kahneman, Slovic and Tversky, *Judgment under Uncertainty*,
//! 1982: 7.8 %.)
//!
//! ```
//! use asfound_weigh::*;
//! let mut question = Question::new(vec![("faulty", 0.01), ("sound", 0.99)], NO_OTHER)?;
//! question.add(Evidence::new("the test cries", vec![libm::log(0.80), libm::log(0.096)]))?;
//! let weighed = question.weigh();
//! assert_eq!((weighed.share(0) * 1000.0).round(), 78.0);
//! assert_eq!(weighed.leader(), Some(1));
//! let cry = &weighed.speaks(0)[0];
//! assert_eq!(cry.strength(), Strength::Weak); // eight times as probable if faulty; "weak" is a word of the scale
//! # Ok::<(), WeighError>(())
//! ```

mod look;
mod opinions;
mod probability;
mod question;
mod strength;

pub use look::{Bits, Look, LookError, Ranked, entropy, information, information_of_counts, rank};
pub use opinions::{Matter, Opinion, OpinionError, Opinions};
pub use probability::{NotAProbability, Probability};
pub use question::{Decision, Evidence, NO_OTHER, NONE_OF_THESE, Question, Speaks, WeighError, Weighed};
pub use strength::{Side, Strength};
