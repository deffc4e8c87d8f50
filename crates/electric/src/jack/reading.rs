//! What was read at the plug, how, and what is known besides.

use asfound_measure::{Ohms, Uncertain};

use crate::circuit::Circuit;
use crate::network::Unsolvable;
use crate::polarity::Joined;
use crate::state::Setting;

/// Track values that pots in instruments mostly have (common practice, no source), to hold against one another where
/// nothing is known.
pub const COMMON_TRACKS: [Ohms; 3] = [Ohms(250e3), Ohms(500e3), Ohms(1e6)];

/// How far a track may lie from its nominal value, as a share of it (common practice, no source).
pub const TRACK_TOLERANCE: f64 = 0.2;

/// A winding above this is taken as open. Whole coils read up to some tens of kilohms (common practice, no source).
pub const MOST_COIL: Ohms = Ohms(100e3);

/// A winding below this is taken as shorted (common practice, no source).
pub const LEAST_COIL: Ohms = Ohms(10.0);

/// What leads, plugs and contacts add to a reading or take from it, as a standard uncertainty; it counts for readings
/// below [`LEAST_COIL`], which are of little else (common practice, no source).
pub const CONTACTS: Ohms = Ohms(1.0);

/// What the meter showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// A number, with the standard uncertainty that this reading has for itself: its last digit, its unsteadiness. The
    /// meter's gain, which all readings share, is apart ([`Meter`]).
    Ohms(Uncertain<Ohms>),
    /// Over a range that reaches this far.
    Over(Ohms),
}

/// The meter that all the readings were taken with, on one range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meter {
    /// Standard uncertainty of its gain, as a share: 0.005 for half a per cent. It is common to all readings, so it
    /// multiplies all values alike.
    pub gain: f64,
}

/// How a reading was taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    /// Switches and knobs; a knob is set by its wiper's share of the ohms, not by its dial.
    pub setting: Setting,
    /// A knob, counted among the pots, that was turned until the reading was largest; its place in `setting` does not
    /// count.
    pub largest: Option<usize>,
}

/// Whether the volume was full up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FullUp {
    /// It was said so.
    Said,
    /// Nobody said; it is read as full up, and the answer says that it hangs on this.
    NotSaid,
    /// It was set otherwise on purpose.
    SetOtherwise,
}

/// One reading at the plug, in a traced circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct JackReading {
    /// How it was taken.
    pub probe: Probe,
    /// Whether the volume was full up.
    pub full_up: FullUp,
    /// What was shown.
    pub shown: Shown,
}

/// What is known of a part's ohms beforehand.
#[derive(Debug, Clone, PartialEq)]
pub enum OhmsKnown {
    /// Nothing.
    Unknown,
    /// It is one of these nominal values, within [`TRACK_TOLERANCE`]; each is held against the readings.
    Nominal(Vec<Ohms>),
    /// It was metered by itself.
    Metered(Uncertain<Ohms>),
}

/// How knobs stood for a reading of a plain arrangement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Knobs {
    /// All full up, and said so.
    FullUp,
    /// Nobody said.
    NotSaid,
    /// One volume with its wiper at this share of its ohms, the others full up.
    At {
        /// Which volume: the coil it belongs to; 0 for a master volume.
        volume: usize,
        /// Wiper's share of the ohms, 0 to 1.
        share: f64,
    },
    /// One volume turned until the reading was largest, the others full up.
    Largest {
        /// Which volume: the coil it belongs to; 0 for a master volume.
        volume: usize,
    },
}

/// One reading of a plain arrangement.
#[derive(Debug, Clone, PartialEq)]
pub struct PlainReading {
    /// The coils that were switched on, by their places in [`Plain::coils`].
    pub on: Vec<usize>,
    /// How they were joined, where that is known for this very position.
    pub joined: Option<Joined>,
    /// How the knobs stood.
    pub knobs: Knobs,
    /// What was shown.
    pub shown: Shown,
}

/// Where the volume controls are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Controls {
    /// There is none, or none that loads the coils.
    NoPot,
    /// One for all coils, behind the selector: coils to its outer lug, wiper to the jack.
    Master,
    /// One for each coil, coil to the outer lug and wiper to the selector: one turned down takes all down with it.
    Coupled,
    /// One for each coil, coil to the wiper and outer lug to the selector: one turned down shorts its own coil and
    /// leaves the others.
    Independent,
}

/// An instrument that was not traced: its coils and what was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Plain {
    /// What the coils are called.
    pub coils: Vec<String>,
    /// Coils that were metered by themselves at some time, by their places in `coils`.
    pub metered: Vec<(usize, Uncertain<Ohms>)>,
    /// Where the volumes are; `None` is not known, and all ways are tried.
    pub controls: Option<Controls>,
    /// How coils that are on together are joined, where a reading does not say; `None` is not known, and both ways are
    /// tried.
    pub joined: Option<Joined>,
    /// What is known of each volume's track.
    pub tracks: OhmsKnown,
    /// The readings.
    pub readings: Vec<PlainReading>,
}

/// A circuit that was traced, and readings at its jack.
#[derive(Debug, Clone, PartialEq)]
pub struct Traced {
    /// The circuit. Its values of coils and pots do not count.
    pub circuit: Circuit,
    /// What is known of coils and pots, by part; what is not listed is unknown.
    pub known: Vec<(usize, OhmsKnown)>,
    /// The readings.
    pub readings: Vec<JackReading>,
}

/// What is wrong with what was given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum JackError {
    /// No reading.
    #[error("there is no reading at the jack; take one with the instrument unplugged from any amplifier")]
    NoReading,
    /// A reading without a usable uncertainty.
    #[error(
        "reading number {reading} is {read} ohms with a standard uncertainty of {uncertainty}; a reading is 0 or \
         more, and its uncertainty above 0, such as half of its last digit"
    )]
    Reading {
        /// Which, counted from 1.
        reading: usize,
        /// What was read.
        read: f64,
        /// Its uncertainty.
        uncertainty: f64,
    },
    /// A meter's gain that cannot be.
    #[error("the meter's gain is uncertain by {read}; give a share from 0 to below 1, such as 0.005")]
    Gain {
        /// What was read.
        read: f64,
    },
    /// A reading that names a coil that is not there, or one twice, or none.
    #[error("reading number {reading} has {what}; name each coil that was on once, from 0 to {last}")]
    Coils {
        /// Which, counted from 1.
        reading: usize,
        /// What is wrong.
        what: &'static str,
        /// The last coil.
        last: usize,
    },
    /// A knob's place that is none.
    #[error("reading number {reading} has a wiper at {read}; its share of the ohms lies between 0 and 1")]
    Share {
        /// Which, counted from 1.
        reading: usize,
        /// What was read.
        read: f64,
    },
    /// A value known beforehand that cannot be.
    #[error("a value of {read} ohms is given as known; it must be above 0, and so must its uncertainty")]
    Known {
        /// What was read.
        read: f64,
    },
    /// Ohms that are not one for each coil.
    #[error("ohms of {read} coils are given for {wanted} coils; give one for each")]
    CoilCount {
        /// How many were given.
        read: usize,
        /// How many coils there are.
        wanted: usize,
    },
    /// Values known beforehand of a part that has none to find.
    #[error("part number {read} is no coil and no pot of this circuit")]
    NoSuchPart {
        /// What was read.
        read: usize,
    },
    /// Names that are taken, or cannot be a part's.
    #[error("the coils cannot be named so: {why}")]
    Names {
        /// What is wrong.
        why: String,
    },
    /// More than is held against the readings at once.
    #[error("there are {read} {what}; up to {most} are tried. Settle some of what is not known first")]
    TooMany {
        /// `ways to wire it` or `coils`.
        what: &'static str,
        /// How many there are.
        read: u128,
        /// How many are tried.
        most: u128,
    },
    /// No way of wiring has the knobs that the readings name.
    #[error("no way of wiring has a volume for every coil that the readings name one for")]
    NoSuchKnob,
    /// The circuit cannot answer in this setting.
    #[error("reading number {reading}: {why}")]
    Circuit {
        /// Which, counted from 1.
        reading: usize,
        /// Why.
        why: Unsolvable,
    },
}

pub(super) fn check_shown(reading: usize, shown: &Shown) -> Result<(), JackError> {
    let (read, uncertainty) = match shown {
        Shown::Ohms(ohms) => (ohms.value.0, ohms.standard_uncertainty.0),
        Shown::Over(limit) => (limit.0, 1.0),
    };
    let right = read.is_finite() && read >= 0.0 && uncertainty.is_normal() && uncertainty > 0.0;
    if right { Ok(()) } else { Err(JackError::Reading { reading: reading + 1, read, uncertainty }) }
}

pub(super) fn check_known(known: &OhmsKnown) -> Result<(), JackError> {
    let positive = |read: f64| {
        if read.is_finite() && read > 0.0 { Ok(()) } else { Err(JackError::Known { read }) }
    };
    match known {
        OhmsKnown::Unknown => Ok(()),
        OhmsKnown::Nominal(values) => values.iter().try_for_each(|value| positive(value.0)),
        OhmsKnown::Metered(ohms) => {
            positive(ohms.value.0).and_then(|()| positive(ohms.standard_uncertainty.0))
        }
    }
}

pub(super) fn check_meter(meter: Meter) -> Result<(), JackError> {
    let read = meter.gain;
    if (0.0..1.0).contains(&read) { Ok(()) } else { Err(JackError::Gain { read }) }
}
