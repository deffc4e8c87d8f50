//! Polarity: which end of a coil goes positive, which coils agree, what to swap.
//!
//! It answers: which lead of each coil goes positive when steel touches it; what sign each coil has at the hot output,
//! for the strings and for hum; which pairs are in phase and which cancel hum; which coil is the odd one out; how a
//! coil pair with four leads can be joined; which leads to swap, in which order of steps, and what that will do to
//! tone and hum.
//!
//! # The one decision
//! *Winding sense, magnet polarity and connection are three facts, and each may be unknown.* They are two-valued, and
//! everything that is observed says that a sum of some of them is even or odd: a tap test tells winding and magnet
//! together, an ear at two coils tells the sum of six. So all evidence is a set of linear equations over the two-valued
//! field, and an answer is known exactly when the equations fix it, in all possibilities at once. Nothing is
//! assumed for what nobody looked at. Evidence that contradicts itself is named, and the answers are given without it.
//!
//! # Equations
//! For a coil with winding sense w (clockwise from the string side, followed from one lead to the other, is +),
//! magnet m (north at the strings is +) and connection s (+ where the lead that the winding is followed from is the
//! grounded one): string sign = s w m, hum sign = s w. Two coils are in phase where their string signs agree and
//! cancel hum where their hum signs differ; both need opposite magnets (two coils on opposite poles of one magnet: US
//! patent 2,896,491). In series voltages add; in parallel `V = Σ(E/Z) / Σ(1/Z)`.
//!
//! Which lead goes positive follows from Lenz's law: a north pole's flux comes out towards the strings, and steel that
//! nears it makes it more, so the coil drives a current clockwise as seen from the strings. Inside a source current
//! runs to the positive end; so over a north pole a winding that runs clockwise ends at its positive lead.
//!
//! # Example
//! A pair of coils on four leads without a colour code.
//!
//! ```
//! use asfound_electric::polarity::{CoilSeen, Found, Motion, Needle, Tap, hook_ups, solve};
//! use asfound_measure::Ohms;
//!
//! let mut screws = CoilSeen::new("screw coil", "white", "green");
//! screws.resistance = Some(Ohms(3890.0));
//! let mut slugs = CoilSeen::new("slug coil", "red", "black");
//! slugs.resistance = Some(Ohms(3860.0));
//! let coils = vec![screws, slugs];
//! let taps = vec![
//!     Tap::on_leads(&coils, 0, Motion::Touching, "green", "white", Needle::Up)?,
//!     Tap::on_leads(&coils, 1, Motion::Touching, "black", "red", Needle::Down)?,
//! ];
//! let found = Found { coils, taps, pairs: vec![] };
//! let polarity = solve(&found)?;
//! let hook_ups = hook_ups(&found, &polarity, 0, 1)?;
//! let [first, second] = &hook_ups.series;
//! assert_eq!((first.hot.name.as_str(), first.ground.name.as_str()), ("green", "black"));
//! assert_eq!((second.hot.name.as_str(), second.ground.name.as_str()), ("red", "white"));
//! # Ok::<(), asfound_electric::polarity::PolarityError>(())
//! ```

mod change;
mod conversion;
mod equations;
mod found;
mod hook_up;
mod odd;
mod solve;
mod sum;

pub use change::{Change, Instead, Pairing, Predicted, Remedy, Step, predict, remedies};
pub use conversion::{Conversion, Explanation, LeadsTo, OuterLead, Question, not_cancelling, questions};
pub use found::{
    Between, CoilSeen, Found, HumHeard, JackEnd, Lead, MOST_COILS, MOST_EVIDENCE, Metal, Motion, Needle,
    PairHeard, PolarityError, Tap, Tone, WindingSeen,
};
pub use hook_up::{CoilLead, HookUp, HookUps, Outcome, ParallelHookUp, hook_ups, judge_join};
pub use odd::{OddOneOut, Strings};
pub use solve::{CoilPolarity, Contradiction, Evidence, HumTogether, Phase, Polarity, Relation, solve};
pub use sum::{Joined, Together, Voice, together};
