//! What a coil is: healthy, shorted, merely cold; as made, or wound a second time, and with what.
//!
//! "It reads 4.9k, cold from the van, its tape is newer than its lead: original, rewound, shorted, or merely cold?"
//! [`Found`] holds what was read, measured and seen; [`weigh`] answers with [`Weighed`]: a probability for each
//! [`Condition`] and each [`Hand`], what each [`Piece`] says for and against, turns and wire with intervals, the state of
//! magnets, flatwork, winding, leads and joints each on its own, why a coil looks fuller than it reads, and which
//! [`Look`] tells most for its minutes.
//!
//! **The one decision: nothing unknown is given a value; it is drawn.** Wire within its limits, former, packing, turns,
//! temperature, core, a short's size, a joint's ohms, and the kind of coil where nobody said it: each is drawn from a
//! stated prior, some thousands of times, and the answer is what holds over the draws that agree with what was found.
//! So every figure comes with its spread, and "cannot tell" comes out wherever it is true: a rewinder with like wire
//! matches the ohms, and the ohms then favour nobody.
//!
//! Draws that disagree with a meter by more than its error are worth nothing, and nearly all would. So the best reading
//! of the ohms is *solved* for the turns, and the best inductance for the core's share, with the prior density of the
//! solution times `dN/dR` (or `d core/dL`) as the weight. Nothing is approximated by that; the integral is taken in
//! another variable.
//!
//! Equations and their sources:
//! - ohms, turns and depth: [`crate::bobbin`]; inductance in air: [`crate::inductance`], once for each kind of coil, then
//!   asked by similarity (`L(s·P, s·T, s·h) = s L(P, T, h)`);
//! - `R(t) = R₂₀ [1 + α₂₀ (t − 20 °C)]`: IEC 60028, from `asfound_measure`;
//! - a part of `x N` turns shorted on itself: `Z = R(1−x) + jωL(1−x)² + ω²M²/(Rx + jωLx²)`, `M² = k² L²x²(1−x)²`: two
//!   coupled coils, one closed (any book on circuits); bridged and open instead: `R(1−x)` and `L(1−x)²` without loss;
//! - weights by importance, effective number of draws `(Σw)²/Σw²` (L. Kish, *Survey Sampling*, 1965), rounds shared out
//!   after J. Neyman (1934), draws picked by weight after G. Kitagawa (1996);
//! - likelihood ratios, information, floors: `asfound_weigh` and the sources named there.
//!
//! Every prior is in [`Opinions`], by name, with its source and the range in which another restorer may put it. A leader
//! that changes within those ranges is [`Lead::NotDecided`]. How often stated probabilities come true is shown in
//! `docs/coil.md`.
//!
//! # Limits
//! All readings of ohms are weighed together, as one piece. Opinions about condition and hand are tried at both ends of
//! their ranges; the others are spreads, and the draws go over them. Sights are taken as independent once hand,
//! condition and the state of the parts are known. One fault at a time.

mod answer;
mod bridge;
mod cause;
mod construction;
mod drawn;
mod draws;
mod evidence;
mod feature;
mod found;
mod looks;
mod ohms;
mod opinions;
mod parts;
mod prior;
pub(crate) mod random;
mod said;
mod summary;
mod synthetic;
mod tables;
mod weighing;

pub use answer::{
    Cause, CoilPart, Condition, Considered, Disagreement, ENOUGH, Effort, Estimate, Figures, Hand, Lead,
    Look, Next, OhmsAlone, PartJudged, PartState, Remaining, SURE_ENOUGH, Said, Weighed,
};
pub use asfound_weigh::OpinionError;
pub use construction::{Construction, Era, Insulation, Row, Spread};
pub use feature::{About, Feature};
pub use found::{At, Found, FoundError, OhmsReading, Period, Piece, Shown, Temperature};
pub use opinions::{Matter, Opinion, Opinions};
pub use synthetic::{Synthetic, synthetic};
pub use tables::Tables;
pub use weighing::{DRAWS, weigh, weigh_drawing};
