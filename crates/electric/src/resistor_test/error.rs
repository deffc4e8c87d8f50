//! What can go wrong with two recordings, and what should be known of a result.

use asfound_measure::{Hertz, Ohms, Seconds};

/// Which of the two recordings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// The one handed over first.
    First,
    /// The other.
    Second,
}

impl std::fmt::Display for Which {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.write_str(match self {
            Self::First => "first",
            Self::Second => "second",
        })
    }
}

/// Which channel of a recording.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Channel {
    /// Channel 1, before the resistor.
    BeforeResistor,
    /// Channel 2, at the coil.
    AtCoil,
}

impl std::fmt::Display for Channel {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        f.write_str(match self {
            Self::BeforeResistor => "channel 1 (before the resistor)",
            Self::AtCoil => "channel 2 (at the coil)",
        })
    }
}

/// Why two recordings give no impedance.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ResistorTestError {
    /// A file without a byte.
    #[error("the {0} recording is an empty file; export it again as WAV")]
    Empty(Which),
    /// Not a WAV file, or of a kind that is not read.
    #[error(
        "the {which} recording is no WAV file that can be read ({why}); export it as WAV with 16, 24 or 32 bits"
    )]
    NotWav {
        /// Which recording.
        which: Which,
        /// What the reader of the file says.
        why: String,
    },
    /// The file ends before its own header says so.
    #[error("the {which} recording is cut off after {:.2} s; copy or export it again", .after.0)]
    CutOff {
        /// Which recording.
        which: Which,
        /// How much is there.
        after: Seconds,
    },
    /// One channel only, or more than two.
    #[error(
        "the {which} recording has {channels} channels where two are needed: 1 before the resistor, 2 at the coil"
    )]
    Channels {
        /// Which recording.
        which: Which,
        /// How many it has.
        channels: u16,
    },
    /// A sample rate that leaves no room for the sweep.
    #[error("the {which} recording runs at {rate} samples a second; record at 44100 to 192000")]
    Rate {
        /// Which recording.
        which: Which,
        /// Samples a second.
        rate: u32,
    },
    /// The recordings have different sample rates.
    #[error("the recordings run at {first} and {second} samples a second; record both at the same rate")]
    TwoRates {
        /// Samples a second of the first.
        first: u32,
        /// Of the second.
        second: u32,
    },
    /// Too short to hold a sweep, or far too long.
    #[error("the {which} recording lasts {:.2} s; it should hold the whole test signal, 2 s to 120 s", .lasts.0)]
    Length {
        /// Which recording.
        which: Which,
        /// How long it is.
        lasts: Seconds,
    },
    /// Nothing on a channel.
    #[error("the {which} recording has nothing on {channel}; check plug, lead and input level")]
    Silent {
        /// Which recording.
        which: Which,
        /// Which channel.
        channel: Channel,
    },
    /// Samples at the end of the scale.
    #[error("the {which} recording is clipped on {channel}: {samples} samples, the first at {:.2} s; turn the level down and record again", .first.0)]
    Clipped {
        /// Which recording.
        which: Which,
        /// Which channel.
        channel: Channel,
        /// How many samples stand at the end of the scale.
        samples: usize,
        /// Where the first is.
        first: Seconds,
    },
    /// A resistor that is not above nought.
    #[error("the resistor of the {which} recording must be above nought ohms")]
    Resistor {
        /// Which recording.
        which: Which,
    },
    /// Two resistors too alike to tell anything.
    #[error("the two resistors, {} Ω and {} Ω, are too much alike; take two of which one is some times the other, such as 10 kΩ and 100 kΩ", .first.0, .second.0)]
    SameResistors {
        /// Of the first recording.
        first: Ohms,
        /// Of the second.
        second: Ohms,
    },
    /// The recordings show the same.
    #[error("both recordings show the same; was one file taken twice, or the resistor not changed?")]
    SameRecording,
    /// The result has a negative resistance throughout.
    #[error(
        "the coil comes out with a negative resistance; the recordings, or the values of their resistors, are swapped"
    )]
    Swapped,
    /// Channel 2 is louder than channel 1.
    #[error(
        "channel 2 is louder than channel 1 in both recordings; the channels are swapped: 1 goes before the resistor, 2 to the coil"
    )]
    ChannelsSwapped,
    /// The channels do not belong to one signal over enough frequencies.
    #[error(
        "only {points} of {of} frequencies are clear of noise; turn the level up, keep mains leads away, and play the whole test signal"
    )]
    Noise {
        /// How many frequencies are usable.
        points: usize,
        /// Of how many.
        of: usize,
    },
}

/// What a person should know of a result.
#[derive(Debug, Clone, PartialEq)]
pub enum Note {
    /// The input of channel 2 was measured with the coil.
    InputNotTakenAway,
    /// Frequencies that noise spoilt have been left out.
    LeftOut {
        /// How many.
        points: usize,
        /// The lowest of them.
        from: Hertz,
        /// The highest of them.
        to: Hertz,
    },
}

impl std::fmt::Display for Note {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        match self {
            Self::InputNotTakenAway => f.write_str(
                "The input of channel 2 lies across the coil and is measured with it; its resistance and capacitance \
                 can be taken away where they are known.",
            ),
            Self::LeftOut { points, from, to } => {
                let (from, to) = (from.0, to.0);
                write!(f, "{points} frequencies between {from:.0} Hz and {to:.0} Hz are left out as too noisy.")
            }
        }
    }
}
