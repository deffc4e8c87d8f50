//! What comes out: suspicions in order, what they cannot be told from, and the next look.

use asfound_measure::Ohms;
use asfound_weigh::{Bits, Probability, Side, Strength};

use super::evidence::{About, Probed, Touched};
use super::kinds::Fault;
use crate::direct::Reading;
use crate::network::Unsolvable;
use crate::state::Setting;
use crate::touch::{Caution, OnTouch};

/// What one piece of evidence says about a suspicion, against all others together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeaksOf {
    /// The piece.
    pub about: About,
    /// For the suspicion, for the others, or neither.
    pub side: Side,
    /// How strongly.
    pub strength: Strength,
    /// Natural logarithm of the likelihood ratio.
    pub log_ratio: f64,
}

/// No fault, one fault or two, with their weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspicion {
    /// The faults; none is *it is as traced: what is found is the design*.
    pub faults: Vec<Fault>,
    /// The ohms of each fault that has a size (a leak, a track), as far as the evidence gives it.
    pub sizes: Vec<Option<Ohms>>,
    /// How probable it is now.
    pub probability: Probability,
    /// What speaks for and against it, strongest first. A reading speaks with those before it already known.
    pub speaks: Vec<SpeaksOf>,
    /// Places in [`Answer::ranked`] that no probing within reach tells from it; listening may.
    pub not_told_from: Vec<usize>,
}

impl Suspicion {
    /// Whether it says that there is no fault.
    pub fn is_design(&self) -> bool {
        self.faults.is_empty()
    }
}

/// How a setting sounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sounds {
    /// As it should.
    Normal,
    /// Without its lows.
    Thin,
    /// Without its highs.
    Dark,
    /// Clearly less loud.
    Weak,
    /// Not at all.
    Silent,
}

/// A look that could be made next.
#[derive(Debug, Clone, PartialEq)]
pub enum Look {
    /// Put a meter to two lugs, unplugged.
    Meter(Probed),
    /// Listen to this setting.
    Listen {
        /// The setting.
        setting: Setting,
    },
    /// Tap a coil with a screwdriver and listen whether it is heard.
    Tap {
        /// The coil.
        coil: usize,
        /// The setting.
        setting: Setting,
    },
    /// Touch something and listen to the hum. Proposed only where the protective earth was proved.
    Touch(Touched),
}

/// What a look shows where a suspicion is right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shows {
    /// The meter.
    Meter(Reading),
    /// The ear.
    Sound(Sounds),
    /// A tapped coil is heard, or is not.
    Tapped(bool),
    /// The hum.
    Hum(OnTouch),
}

/// A look with what it tells.
#[derive(Debug, Clone, PartialEq)]
pub struct NextLook {
    /// What to do.
    pub look: Look,
    /// What it shows where each of the leading suspicions is right, by their places in [`Answer::ranked`].
    pub shows: Vec<(usize, Shows)>,
    /// What it can be expected to tell.
    pub tells: Bits,
    /// The trouble it takes (common practice, no source).
    pub minutes: f64,
}

/// Evidence that does not go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Contradiction {
    /// One probing was read twice, with results that one circuit cannot give.
    ReadTwice {
        /// A reading, counted from 0.
        first: usize,
        /// The other.
        second: usize,
    },
    /// The leading suspicion does not account for this piece, so it is taken as misread or misheard.
    NotExplained {
        /// The piece.
        about: About,
    },
}

/// What the evidence says.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Suspicions, the most probable first. One of them, where it has any weight, is the design itself.
    pub ranked: Vec<Suspicion>,
    /// How probable it is that what is wrong is not in the list.
    pub not_listed: Probability,
    /// Looks within reach, the one that tells most for its trouble first. Empty where nothing within reach tells more.
    pub next: Vec<NextLook>,
    /// What comes before the next look, in order.
    pub cautions: Vec<Caution>,
    /// Evidence that does not go together.
    pub contradictions: Vec<Contradiction>,
    /// Coils whose sign is not known; they are taken to work together as traced.
    pub taken_in_phase: Vec<usize>,
    /// How many single faults were weighed.
    pub singles: usize,
    /// How many pairs were weighed or ruled out by a bound.
    pub pairs: usize,
    /// Pairs that were left out because there are too many; the least probable beforehand.
    pub pairs_left_out: usize,
}

/// What is wrong with what was asked.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FaultError {
    /// A circuit without a jack.
    #[error(
        "the circuit has no jack; add one and join its tip and sleeve, so that there is an output to judge by"
    )]
    NoJack,
    /// A reading at a lug that does not exist.
    #[error(
        "reading number {reading} is at a lug that is not in the circuit (part {part}, lug {lug}); name two lugs of parts in the trace, such as `volume.3` and `jack.tip`"
    )]
    NoSuchLug {
        /// Which, counted from 1.
        reading: usize,
        /// The index of the part read.
        part: usize,
        /// The index of the lug read.
        lug: usize,
    },
    /// A reading that is none.
    #[error(
        "reading number {reading} is {read} ohms with a standard uncertainty of {uncertainty}; a reading is 0 or more, and its uncertainty above 0, such as half of its last digit"
    )]
    Shown {
        /// Which, counted from 1.
        reading: usize,
        /// What was read.
        read: f64,
        /// Its uncertainty.
        uncertainty: f64,
    },
    /// A setting that does not fit.
    #[error("{} does not fit the circuit: {why}", place(.about))]
    Setting {
        /// Where.
        about: About,
        /// Why.
        why: Unsolvable,
    },
    /// Something heard of a part that is not of the sort it speaks of.
    #[error("{} speaks of part number {read}, which is no {wanted} of this circuit; name a {wanted} from the trace", place(.about))]
    NotThatSort {
        /// Where.
        about: About,
        /// The index of the part.
        read: usize,
        /// What it should be.
        wanted: &'static str,
    },
    /// A cover is spoken of, but the trace gives the coil none.
    #[error("{} speaks of the cover of `{coil}`, which the trace gives no cover; add `covered` to its line", place(.about))]
    NoCover {
        /// Where.
        about: About,
        /// The coil.
        coil: String,
    },
    /// More open joins than are gone through.
    #[error(
        "the unknown joins can go in {read} ways; up to {most} are weighed. Settle some of them with the meter first"
    )]
    TooManyWays {
        /// How many ways.
        read: u128,
        /// How many are weighed.
        most: u128,
    },
    /// More single faults than are weighed.
    #[error(
        "the circuit has {read} places where a fault can be; up to {most} are weighed. Leave out parts that do not matter here"
    )]
    TooManyFaults {
        /// How many.
        read: usize,
        /// How many are weighed.
        most: usize,
    },
    /// A prior or a tolerance that cannot be.
    #[error("`{name}` is {read}; {wanted}")]
    Assumption {
        /// Which.
        name: &'static str,
        /// What was read.
        read: f64,
        /// What would be right.
        wanted: &'static str,
    },
}

fn place(about: &About) -> String {
    match about {
        About::Metered(at) => format!("reading number {}", at + 1),
        About::Heard(at) => format!("what is heard, number {},", at + 1),
    }
}
