//! What a network does in each position of its switches: which coils are heard and how they are joined, what phase and
//! hum come to, what each knob does, what is shorted, open, dead, floating or live, and what to look at next.
//!
//! Its one design decision: **words are defined by experiments on the solved network**, never by recognising a
//! diagram. Two coils are in series if opening either silences the other, in parallel if shorting either does, and a
//! mixture otherwise; a knob is a volume if turning it takes coils to silence. A network that nobody ever drew is told
//! as well as a common one.
//!
//! What a trace leaves unknown (where a cut lead went, the winding sense and pole of a coil) is gone through in all
//! ways, and each fact is told as certain or as depending: see [`Agreed`].
//!
//! | word | experiment |
//! | --- | --- |
//! | dead | no path from tip to sleeve that visits no point twice runs through the part, knobs in the middle |
//! | silent, faint | the coil's level at the jack stays below [`SILENT_BELOW`] in every band; at least [`FAINT_BELOW`] under the loudest coil in every band |
//! | series, parallel | the coil is taken out, or bridged, and the other falls by [`SILENCED_BY`] in every band or below [`SILENT_BELOW`] |
//! | in phase | the angle between the two coils' contributions, string signs included, is within [`IN_PHASE_WITHIN`]; out of phase beyond [`OUT_OF_PHASE_BEYOND`] |
//! | hum | size of the sum over the coils heard of winding sign × transfer, over the sum of the sizes, at [`HUM_FREQUENCY`] |
//! | knob | the wiper at both ends and at half of the track's ohms |
//! | live metal | a coil's voltage reaches it |
//!
//! A coil's string sign is winding × magnet × connection, its hum sign winding × connection: an outside field knows
//! nothing of the magnet (US patent 2,896,491, 1959). The connection is in the transfer's own sign.

mod agreed;
mod facts;

use asfound_measure::{Decibels, Degrees, Hertz};

pub use agreed::{Agreed, Case};
pub use facts::*;

/// A coil is faint where it is at least this far under the loudest coil in every band. Our convention: a tenth of the
/// other's voltage is heard as colour, not as a second coil.
pub const FAINT_BELOW: Decibels = Decibels(-20.0);

/// A coil is silent where its level at the jack is below this in every band: a thousandth of its voltage. Our
/// convention; it is about where the noise of the input stands.
pub const SILENT_BELOW: Decibels = Decibels(-60.0);

/// A coil is silenced by an experiment that lowers it by this much in every band. Our convention.
pub const SILENCED_BY: Decibels = Decibels(-40.0);

/// Two coils are in phase where the angle between them is within this: together they then make at least √3 of one.
pub const IN_PHASE_WITHIN: Degrees = Degrees(60.0);

/// Two coils are out of phase where the angle between them is beyond this: together they then make less than one.
pub const OUT_OF_PHASE_BEYOND: Degrees = Degrees(120.0);

/// Where hum is told: the strong eighth harmonic of 50 Hz, near the seventh of 60 Hz.
pub const HUM_FREQUENCY: Hertz = Hertz(400.0);

/// Hum cancels where no more than this part of it is left (20 dB down). Our convention.
pub const HUM_CANCELS_BELOW: f64 = 0.1;

/// Hum cancels partly where no more than this part of it is left (3 dB down). Our convention.
pub const HUM_PARTLY_BELOW: f64 = 0.707;

/// A knob or a part does nothing where it changes no band by this much. Our convention: about the least step heard.
pub const KNOB_NOTHING_BELOW: Decibels = Decibels(0.5);

/// A knob cuts treble or bass where one end of the range falls by this much more than the other. Our convention.
pub const KNOB_TILT: Decibels = Decibels(3.0);

/// A knob that silences at its end is a volume where half of its ohms already lower the sound by this much. Our
/// convention.
pub const VOLUME_AT_MIDDLE: Decibels = Decibels(-3.0);

/// A meter reads a short below this many ohms at the jack. Our convention: leads and contacts.
pub const SHORTED_BELOW: asfound_measure::Ohms = asfound_measure::Ohms(1.0);

/// Where a response is taken as flat, to tell the height of its peak.
pub const RESONANCE_REFERENCE: Hertz = Hertz(100.0);

/// Combinations of switch positions told one by one.
pub const MOST_STATES: usize = 4096;

/// Ways to wire what is unknown that are gone through.
pub const MOST_WIRINGS: usize = 64;

/// Possibilities, wirings times signs, that are gone through.
pub const MOST_POSSIBILITIES: usize = 4096;
