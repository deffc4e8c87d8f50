//! The facts an explanation is made of. Words are types here; sentences are made elsewhere.

use asfound_measure::{Decibels, Degrees, Farads, Henries, Hertz, Ohms};

use super::agreed::Agreed;
use crate::state::Load;

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

/// What is told about a network.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// Names of the coils; facts name a coil by its index here.
    pub coils: Vec<String>,
    /// Names of the pots; facts name a pot by its index here.
    pub pots: Vec<String>,
    /// The switches; a state names their positions.
    pub switches: Vec<SwitchNamed>,
    /// Everything that may be the case with what is not known; weights add up to 1. One, where all is known.
    pub possibilities: Vec<Possibility>,
    /// Every combination of switch positions, the last switch turning fastest.
    pub states: Vec<StateTold>,
    /// States in which the same is to be told, told once; in the order of their first state.
    pub groups: Vec<Group>,
    /// What to look at next, the most telling first; empty where nothing would be decided.
    pub next: Vec<NextLook>,
    /// Parts that do nothing in any state.
    pub dead_parts: Vec<DeadPart>,
    /// What a person should know before acting.
    pub warnings: Vec<Warning>,
    /// What this explanation takes for granted or leaves out.
    pub limits: Vec<Limit>,
    /// The frequencies of every [`Curve`].
    pub frequencies: Vec<Hertz>,
}

/// A switch and its positions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SwitchNamed {
    /// Its name.
    pub name: String,
    /// Names of its positions in their order.
    pub positions: Vec<String>,
}

/// One way in which all that is unknown may turn out.
#[derive(Debug, Clone, PartialEq)]
pub struct Possibility {
    /// Where each cut lead goes, in the order of the unknown joins.
    pub choices: Vec<Choice>,
    /// The signs of each coil, in the order of the coils.
    pub signs: Vec<CoilSigns>,
    /// How likely, 0 to 1.
    pub weight: f64,
}

/// Where one cut lead goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// The end that is there, as `choke.b`.
    pub stub: String,
    /// Where it goes, as `rotary.3`; `None` for nowhere.
    pub goes_to: Option<String>,
}

/// The signs of a coil in one possibility.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CoilSigns {
    /// Clockwise, seen from the string side, from ground to hot.
    pub clockwise: bool,
    /// North at the strings.
    pub north: bool,
}

/// What is told of one combination of switch positions, knobs at their open ends (see [`KnobFact::open_end`]).
#[derive(Debug, Clone, PartialEq)]
pub struct StateTold {
    /// The position of each switch: an index into [`SwitchNamed::positions`].
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
    /// It carries signal.
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

/// Level at the jack over [`Explanation::frequencies`].
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// The sum of the coils that move with the string, each of 1 V, against 1 V.
    pub levels: Vec<Decibels>,
}

/// States in which the same is to be told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// The states: indexes into [`Explanation::states`], rising. The first speaks for all.
    pub states: Vec<usize>,
}

/// Something to look at, and what it would decide.
#[derive(Debug, Clone, PartialEq)]
pub struct NextLook {
    /// What to look at.
    pub what: Look,
    /// Expected information about what the circuit does, in bits.
    pub bits: f64,
    /// The answers it may give, the likeliest first.
    pub answers: Vec<Answer>,
    /// States that may be certain afterwards though they depend now: indexes into [`Explanation::states`].
    pub settles: Vec<usize>,
}

/// Something that can be looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Look {
    /// Where a cut lead goes, as `choke.b`.
    Stub {
        /// The end that is there.
        stub: String,
    },
    /// The winding sense of a coil.
    Winding {
        /// The coil.
        coil: usize,
    },
    /// The pole of a coil at the strings, with a compass.
    Pole {
        /// The coil.
        coil: usize,
    },
    /// The ohms at the jack in one state, cable out.
    JackReading {
        /// The state: an index into [`Explanation::states`].
        state: usize,
    },
}

/// One answer that a look may give.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// What is found.
    pub found: Finding,
    /// How likely, 0 to 1.
    pub weight: f64,
}

/// What a look may find.
#[derive(Debug, Clone, PartialEq)]
pub enum Finding {
    /// The lead goes here; `None` for nowhere.
    GoesTo(Option<String>),
    /// Clockwise or not.
    Clockwise(bool),
    /// North or not.
    North(bool),
    /// The meter reads this.
    Reads(JackOhms),
}

/// A part that does nothing in any state.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeadPart {
    /// Its name.
    pub part: String,
    /// Whether that holds in every possibility, or only in these.
    pub possibilities: DeadIn,
}

/// In which possibilities a part is dead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DeadIn {
    /// In all.
    All,
    /// In these only: indexes into [`Explanation::possibilities`].
    Some(Vec<usize>),
}

/// What a person should know before acting.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// A piece of metal that a hand or string can touch is live in some state and possibility.
    MetalLive {
        /// The metal.
        metal: String,
        /// The states.
        states: Vec<usize>,
    },
    /// No coil: there is nothing to hear.
    NoCoil,
    /// A coil that is heard in no state and no possibility.
    CoilNeverHeard {
        /// The coil.
        coil: usize,
    },
}

/// What an explanation takes for granted or leaves out.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Limit {
    /// Possibilities are weighed alike, because nothing says otherwise.
    EqualWeights,
    /// A coil's inductance was not given.
    InductanceAssumed {
        /// The coil.
        coil: usize,
        /// The value taken.
        assumed: Henries,
    },
    /// A coil's winding capacitance was not given.
    CapacitanceAssumed {
        /// The coil.
        coil: usize,
        /// The value taken.
        assumed: Farads,
    },
    /// Cable and input at the jack.
    LoadAssumed {
        /// What is taken to hang on the jack.
        load: Load,
    },
    /// The middle of a knob is half of its ohms; where that lies on the turn depends on its taper.
    MiddleIsHalfOfOhms,
    /// The coils are taken not to feel each other's fields.
    CoilsNotCoupled,
    /// Only some of the states are told: the first ones.
    StatesLeftOut {
        /// How many are told.
        told: usize,
        /// How many there are.
        of: u64,
    },
    /// Only some of the wirings are gone through: the first in the order of the trace.
    PossibilitiesLeftOut {
        /// How many wirings are gone through.
        told: usize,
        /// How many there are.
        of: u64,
    },
    /// More signs are unknown than can be gone through; these coils are taken as clockwise and north.
    SignsLeftOut {
        /// The coils.
        coils: Vec<usize>,
    },
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
