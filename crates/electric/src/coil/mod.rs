//! What a coil is: healthy, shorted, merely cold; as made, or wound a second time, and with what.
//!
//! "It reads 4.9k, cold from the van, its tape is newer than its lead: original, rewound, shorted, or merely cold?"
//! [`Found`] holds what was read, measured and seen; [`Weighed`] answers with a probability for each [`Condition`] and
//! each [`Hand`], what speaks for and against, turns and wire, the state of each part on its own, and which [`Look`]
//! tells most next.

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
mod random;
mod said;
mod summary;
mod synthetic;
mod tables;
mod weighing;

pub use answer::{
    Cause, CoilPart, Condition, Considered, Disagreement, ENOUGH, Effort, Estimate, Figures, Hand, Lead,
    Look, Next, OhmsAlone, PartJudged, PartState, Remaining, SURE_ENOUGH, Said, Weighed,
};
pub use construction::{Construction, Era, Insulation, Row, Spread};
pub use feature::{About, Feature};
pub use found::{At, Found, FoundError, OhmsReading, Period, Piece, QualityFactor, Shown, Temperature};
pub use opinions::{Matter, Opinion, OpinionError, Opinions};
pub use synthetic::{Synthetic, synthetic};
pub use tables::Tables;
pub use weighing::{DRAWS, weigh};
