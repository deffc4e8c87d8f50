//! What an instrument is to do, as constraints that an experiment can test.

use crate::circuit::Circuit;
use crate::polarity::{Joined, Phase};

/// Where a wish is to hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// Wherever it can be: one state that does it is enough.
    Anywhere,
    /// In this position of this switch; other switches may stand anywhere.
    At {
        /// The switch, by its place among the switches.
        switch: usize,
        /// The position, by its place in the plan.
        position: usize,
    },
    /// Between this position and the next, where the contacts of both touch.
    Between {
        /// The switch, by its place among the switches.
        switch: usize,
        /// The position it leaves.
        from: usize,
    },
}

/// One wish. Coils and knobs are named by their places among the circuit's coils and pots.
///
/// That magnets stay as they are is no wish but a law: no proposal changes the values or signs of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wish {
    /// Just these coils are heard.
    Heard {
        /// Where.
        place: Place,
        /// The coils, rising.
        coils: Vec<usize>,
        /// How they are joined; `None` where either way will do.
        joined: Option<Joined>,
        /// Whether the strings add; `None` where either way will do.
        phase: Option<Phase>,
    },
    /// Hum cancels between the coils heard.
    HumCancels {
        /// Where.
        place: Place,
        /// The coils heard there, rising; empty where it does not matter which.
        coils: Vec<usize>,
    },
    /// Highs stay when this knob is turned down.
    TrebleKept {
        /// The knob.
        knob: usize,
    },
    /// A tone works on this coil and on no other that is heard alone.
    ToneOnly {
        /// The coil.
        coil: usize,
    },
    /// Turning one volume down leaves the other coil heard.
    VolumesIndependent,
    /// One knob turns all down, in every position.
    MasterVolume,
    /// The selector stays in its place.
    KeepSelector,
    /// No hole is made or widened.
    NothingDrilled,
}

impl Wish {
    /// Where it is to hold, where it names a place.
    pub fn place(&self) -> Option<Place> {
        match self {
            Wish::Heard { place, .. } | Wish::HumCancels { place, .. } => Some(*place),
            _ => None,
        }
    }

    /// The coils it names.
    pub fn coils(&self) -> &[usize] {
        match self {
            Wish::Heard { coils, .. } | Wish::HumCancels { coils, .. } => coils,
            Wish::ToneOnly { coil } => std::slice::from_ref(coil),
            _ => &[],
        }
    }
}

/// What is wrong with what was asked.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RewiringError {
    /// A wish names something that the circuit does not have.
    #[error("wish number {wish} names {what} number {read}; the circuit has {count}, counted from 0")]
    NoSuchThing {
        /// The wish, from 0.
        wish: usize,
        /// `coil`, `knob`, `switch` or `position`.
        what: &'static str,
        /// The number read.
        read: usize,
        /// How many there are.
        count: usize,
    },
    /// A wish about how coils are together names fewer than two, or none at all.
    #[error("wish number {wish} names {read} coils; name at least {least}")]
    TooFewCoils {
        /// The wish, from 0.
        wish: usize,
        /// How many it names.
        read: usize,
        /// How many it must name.
        least: usize,
    },
    /// More than is searched.
    #[error(
        "there are {read} {what}; up to {most} are searched together. Leave out what does not matter here"
    )]
    TooMany {
        /// `wishes` or `coils`.
        what: &'static str,
        /// How many there are.
        read: usize,
        /// How many are searched.
        most: usize,
    },
    /// The circuit as it stands cannot be read or solved.
    #[error("{why}")]
    Circuit {
        /// What is wrong, as the circuit says it.
        why: String,
    },
}

/// Wishes that are weighed together.
pub const MOST_WISHES: usize = 12;

/// Coils of a circuit that is searched.
pub const MOST_COILS: usize = 6;

/// Checks wishes against a circuit.
pub(super) fn check(circuit: &Circuit, wishes: &[Wish]) -> Result<(), RewiringError> {
    let coils = circuit.coils().count();
    for (what, read, most) in [("wishes", wishes.len(), MOST_WISHES), ("coils", coils, MOST_COILS)] {
        if read > most {
            return Err(RewiringError::TooMany { what, read, most });
        }
    }
    let knobs = circuit.pots().count();
    let positions: Vec<usize> = circuit.switches().map(|(_, plan)| plan.positions().len()).collect();
    for (wish, it) in wishes.iter().enumerate() {
        let within = |what, read: usize, count: usize| {
            if read < count { Ok(()) } else { Err(RewiringError::NoSuchThing { wish, what, read, count }) }
        };
        it.coils().iter().try_for_each(|&coil| within("coil", coil, coils))?;
        if let Wish::TrebleKept { knob } = it {
            within("knob", *knob, knobs)?;
        }
        let (switch, position) = match it.place() {
            Some(Place::At { switch, position }) => (switch, position),
            Some(Place::Between { switch, from }) => (switch, from + 1),
            Some(Place::Anywhere) | None => (0, 0),
        };
        if !matches!(it.place(), Some(Place::Anywhere) | None) {
            within("switch", switch, positions.len())?;
            within("position", position, positions[switch])?;
        }
        if let Wish::Heard { coils, joined, phase, .. } = it {
            let least = if joined.is_some() || phase.is_some() { 2 } else { 1 };
            if coils.len() < least {
                return Err(RewiringError::TooFewCoils { wish, read: coils.len(), least });
            }
        }
    }
    Ok(())
}
