//! The facts of one state. Words are types here; sentences are made elsewhere.

use asfound_measure::{Decibels, Degrees, Hertz, Ohms};

use super::agreed::Agreed;

/// A band of hearing in which levels are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// 80 to 250 Hz.
    Low,
    /// 250 Hz to 1.5 kHz.
    Middle,
    /// 1.5 to 6 kHz.
    High,
}

/// One figure for each band, in the order low, middle, high.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PerBand<T> {
    /// Low.
    pub low: T,
    /// Middle.
    pub middle: T,
    /// High.
    pub high: T,
}

/// What is told of one combination of switch positions, knobs at their open ends (see [`KnobFact::open_end`]).
#[derive(Debug, Clone, PartialEq)]
pub struct StateTold {
    /// The position of each switch: an index into [`super::SwitchNamed::positions`].
    pub positions: Vec<usize>,
    /// What the jack gives.
    pub output: Agreed<JackOutput>,
    /// Each coil, in the order of the coils.
    pub coils: Vec<Agreed<CoilFact>>,
    /// Each pair of coils of which both can be heard in some possibility.
    pub pairs: Vec<PairTold>,
    /// How far hum cancels.
    pub hum: Agreed<Hum>,
    /// Each pot, in the order of the pots.
    pub knobs: Vec<Agreed<KnobFact>>,
    /// Parts (capacitors, resistors, chokes) that colour the sound here wherever the knobs stand.
    pub colouring: Vec<Colouring>,
    /// Each piece of metal.
    pub metal: Vec<MetalTold>,
    /// Parts with no way to the jack here at all.
    pub floating: Agreed<Vec<String>>,
    /// The peak of the response, by the powers of all coils together, so that no sign moves it; `None` where there is
    /// none.
    pub resonance: Agreed<Option<Resonance>>,
    /// What a meter reads at the jack, cable out.
    pub ohms: Agreed<JackOhms>,
    /// Level of the sum of the coils, signs as known.
    pub curve: Agreed<Curve>,
}

/// What the jack gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JackOutput {
    /// At least one coil is heard.
    Live,
    /// No coil is heard, but there is a path across the jack.
    Silent,
    /// Tip and sleeve are one.
    Shorted,
    /// Nothing joins tip to sleeve.
    Open,
}

/// One coil in one state.
#[derive(Debug, Clone, PartialEq)]
pub struct CoilFact {
    /// In a word.
    pub word: CoilWord,
    /// Level at the jack against the coil's own voltage.
    pub level: PerBand<Decibels>,
}

/// Whether a coil is heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoilWord {
    /// It is heard.
    Sounds,
    /// It is heard, but in every band at least [`super::FAINT_BELOW`] under the loudest coil.
    Faint,
    /// A path runs through it, but in every band it stays below [`super::SILENT_BELOW`].
    Silent,
    /// No path from tip to sleeve runs through it, wherever the knobs stand.
    Dead(DeadWhy),
}

/// Why no path runs through a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeadWhy {
    /// An end of it leads nowhere.
    EndLoose,
    /// Both its ends are one piece.
    Shorted,
    /// It is joined, but off the path.
    Aside,
    /// Its winding is broken; if it were whole, a path would run through it.
    Open,
    /// It is whole, but every path through it runs through a coil whose winding is broken.
    BehindOpen,
}

/// Two coils that are heard together.
#[derive(Debug, Clone, PartialEq)]
pub struct PairTold {
    /// First coil.
    pub a: usize,
    /// Second coil.
    pub b: usize,
    /// How they are joined; `None` in the possibilities where they are not both heard.
    pub relation: Agreed<Option<Relation>>,
    /// Whether the strings add or fight; `None` where they are not both heard.
    pub phase: Agreed<Option<PairPhase>>,
}

/// How two coils are joined, by experiment: one is opened or shorted, and the other is listened to.
#[derive(Debug, Clone, PartialEq)]
pub struct Relation {
    /// In a word.
    pub word: RelationWord,
    /// Change of level of the second coil with the first taken out.
    pub second_with_first_open: Decibels,
    /// Change of level of the second coil with the first bridged.
    pub second_with_first_shorted: Decibels,
    /// Change of level of the first coil with the second taken out.
    pub first_with_second_open: Decibels,
    /// Change of level of the first coil with the second bridged.
    pub first_with_second_shorted: Decibels,
}

/// How two coils are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RelationWord {
    /// Opening either silences the other.
    Series,
    /// Shorting either silences the other.
    Parallel,
    /// Neither.
    Mixture,
}

/// Whether the string signals of two coils add, in each band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairPhase {
    /// In a word.
    pub word: PerBand<PhaseWord>,
    /// The angle between the two at the jack, signs included, 0 to 180°.
    pub angle: PerBand<Degrees>,
}

/// Whether two signals add.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PhaseWord {
    /// Within [`super::IN_PHASE_WITHIN`].
    InPhase,
    /// Between the two.
    InBetween,
    /// Beyond [`super::OUT_OF_PHASE_BEYOND`].
    OutOfPhase,
}

/// How far hum cancels between the coils that are heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hum {
    /// In a word.
    pub word: HumWord,
    /// The sum of the coils' hum over the sum of its sizes at [`super::HUM_FREQUENCY`]; 1 adds fully, 0 cancels.
    pub ratio: f64,
}

/// How far hum cancels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HumWord {
    /// No coil is heard.
    NoCoil,
    /// One coil is heard: nothing to cancel it.
    OneCoil,
    /// More than one is heard, and the ratio is above [`super::HUM_PARTLY_BELOW`].
    Adds,
    /// In between.
    Partly,
    /// At most [`super::HUM_CANCELS_BELOW`].
    Cancels,
}

/// What one knob does in one state.
#[derive(Debug, Clone, PartialEq)]
pub struct KnobFact {
    /// In a word.
    pub word: KnobWord,
    /// The end at which the most is heard; the other knobs stand at theirs. `None` where both ends are alike.
    pub open_end: Option<KnobEnd>,
    /// Change of level of all coils together from the open end to the middle (half of the track's ohms).
    pub at_middle: PerBand<Decibels>,
    /// Change of level of all coils together from the open end to the other end.
    pub at_other_end: PerBand<Decibels>,
}

/// An end of a pot's track.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KnobEnd {
    /// The wiper at lug 1.
    Lug1,
    /// The wiper at lug 3.
    Lug3,
}

/// What a knob does, by experiment.
#[derive(Debug, Clone, PartialEq)]
pub enum KnobWord {
    /// Nowhere a change of [`super::KNOB_NOTHING_BELOW`].
    Nothing,
    /// It takes these coils down to silence, evenly enough to be used as a volume.
    Volume {
        /// The coils it silences.
        silences: Vec<usize>,
        /// Whether they are all that were heard.
        all: bool,
    },
    /// It does next to nothing on its way and silences these coils at its end.
    Kills {
        /// The coils it silences.
        silences: Vec<usize>,
        /// Whether they are all that were heard.
        all: bool,
    },
    /// It brings in these coils as it leaves the open end, the others still heard.
    Blend {
        /// The coils it brings in.
        brings_in: Vec<usize>,
        /// The coils it silences on the way, if any.
        silences: Vec<usize>,
    },
    /// The highs fall more than the lows.
    TrebleCut,
    /// The lows fall more than the highs.
    BassCut,
    /// All bands change about alike, but nothing is silenced.
    Level,
}

/// A part that colours the sound in a state.
#[derive(Debug, Clone, PartialEq)]
pub struct Colouring {
    /// The part's name.
    pub part: String,
    /// Change of level of all coils together if the part were taken out; `None` where the part does nothing.
    pub without: Agreed<Option<PerBand<Decibels>>>,
}

/// A piece of metal in a state.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalTold {
    /// Its name.
    pub metal: String,
    /// What it is joined to.
    pub fact: Agreed<MetalFact>,
}

/// What a piece of metal is joined to.
#[derive(Debug, Clone, PartialEq)]
pub enum MetalFact {
    /// The sleeve.
    Grounded,
    /// Nothing.
    Floating,
    /// It is joined to the sleeve, but only through parts, so that it carries signal.
    Live {
        /// Ohms from the metal to the sleeve by the meter; `None` where none.
        ohms_to_sleeve: Option<Ohms>,
        /// Change of level of all coils together when a grounded string touches it.
        when_touched: PerBand<Decibels>,
    },
}

/// The peak of a response.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resonance {
    /// Where it is.
    pub at: Hertz,
    /// Its height above the level at [`super::RESONANCE_REFERENCE`].
    pub height: Decibels,
}

/// What a meter reads at the jack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JackOhms {
    /// This many ohms.
    Reads(Ohms),
    /// Over range: no path for direct current.
    Open,
}

/// Level at the jack over [`super::Explanation::frequencies`].
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The sum of the coils that move with the string, each of 1 V, against 1 V.
    pub levels: Vec<Decibels>,
}

impl<T> PerBand<T> {
    /// The figure of one band.
    pub fn of(&self, band: Band) -> &T {
        match band {
            Band::Low => &self.low,
            Band::Middle => &self.middle,
            Band::High => &self.high,
        }
    }

    /// Each figure turned into another.
    pub fn map<U>(&self, mut turn: impl FnMut(&T) -> U) -> PerBand<U> {
        PerBand { low: turn(&self.low), middle: turn(&self.middle), high: turn(&self.high) }
    }
}

impl Band {
    /// All bands, from low to high.
    pub const ALL: [Self; 3] = [Self::Low, Self::Middle, Self::High];

    /// Where it begins and ends. The bounds are our convention: the fundamentals of the lowest strings, the body of
    /// the sound, and the range of loaded resonances (2 to 5 kHz, Lemme 2009) with its neighbourhood.
    pub fn range(self) -> (Hertz, Hertz) {
        match self {
            Self::Low => (Hertz(80.0), Hertz(250.0)),
            Self::Middle => (Hertz(250.0), Hertz(1500.0)),
            Self::High => (Hertz(1500.0), Hertz(6000.0)),
        }
    }
}
