//! All that is told of a network: what may be the case, every state, what to look at next, and what is taken for granted.

use asfound_measure::{Farads, Henries, Hertz, Ohms};

use super::agreed::Agreed;
use super::facts::{JackOutput, RelationWord, StateTold};
use crate::state::Load;

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
    /// What sounds between two positions of a switch, where that is something else than in both.
    pub between: Vec<BetweenTold>,
    /// What to look at next, the most telling first; empty where nothing would be decided.
    pub next: Vec<NextLook>,
    /// Parts that do nothing in any state.
    pub dead_parts: Vec<DeadPart>,
    /// What a person should know before acting.
    pub warnings: Vec<Warning>,
    /// What this explanation takes for granted or leaves out.
    pub limits: Vec<Limit>,
    /// The frequencies of every [`super::Curve`].
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

impl CoilSigns {
    /// Winding × magnet, the sign of what the string gives: positive where they agree (US patent 2,896,491, 1959).
    ///
    /// Steel that comes near raises the flux through the coil; the EMF opposes it (Lenz's law). With north at the
    /// strings it therefore runs clockwise, seen from there, and in a clockwise winding from ground to hot: the hot end
    /// goes positive. Turning either the winding or the magnet turns the sign, so any two of the three give the third.
    pub fn string_positive(self) -> bool {
        self.clockwise == self.north
    }
}

/// States in which the same is to be told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// The states: indexes into [`Explanation::states`], rising. The first speaks for all.
    pub states: Vec<usize>,
}

/// What sounds while one switch goes from its position in one state to its next, if the contacts of both touch at once.
#[derive(Debug, Clone, PartialEq)]
pub struct BetweenTold {
    /// The switch.
    pub switch: usize,
    /// The state it leaves: an index into [`Explanation::states`].
    pub from: usize,
    /// The state it comes to.
    pub to: usize,
    /// Whether its contacts are known to bridge; else that was not tried and is only possible.
    pub bridges: bool,
    /// What sounds meanwhile.
    pub what: Agreed<BetweenFact>,
}

/// What sounds between two positions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BetweenFact {
    /// What the jack gives.
    pub output: JackOutput,
    /// The coils that are heard.
    pub coils: Vec<usize>,
    /// How they are joined, where there are several; a mixture where not all pairs are joined alike.
    pub relation: Option<RelationWord>,
}

/// Something to look at, and what it would decide.
#[derive(Debug, Clone, PartialEq)]
pub struct NextLook {
    /// What to look at.
    pub what: Look,
    /// Expected information about what the circuit does, in bits. For a winding or a pole it is what this look adds
    /// once another coil's is known too, where that is more: only signs against each other decide.
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
    /// A steel blade laid on a coil with a meter or scope across it: gives winding × magnet, the string sign. With the
    /// pole known the winding follows, see [`CoilSigns::string_positive`].
    Tap {
        /// The coil.
        coil: usize,
    },
    /// The winding sense of a coil, seen where its winding is open to view.
    Winding {
        /// The coil.
        coil: usize,
    },
    /// The pole of a coil at the strings, with a compass.
    Pole {
        /// The coil.
        coil: usize,
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
    /// As the blade comes down, the hot end goes positive against the ground end, or negative.
    KicksUp(bool),
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
    /// A coil whose winding is broken, by the meter.
    CoilOpen {
        /// The coil.
        coil: usize,
    },
    /// A coil that is whole and is heard in no state and no possibility.
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
    /// A coil's resistance was not given.
    ResistanceAssumed {
        /// The coil.
        coil: usize,
        /// The value taken.
        assumed: Ohms,
    },
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
    /// A broken winding is taken to let nothing through. By its capacitance some highs may pass, thin and weak; how much
    /// hangs on where it broke.
    BreakLetsNothingThrough,
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
        /// Each switch, in the order of the switches.
        by_switch: Vec<SwitchOver>,
    },
    /// Only some moves of a switch were tried for what sounds between its positions: the first.
    MovesLeftOut {
        /// How many were tried.
        tried: usize,
        /// How many there are.
        of: usize,
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

/// A switch among more states than are told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SwitchOver {
    /// Its name.
    pub name: String,
    /// Names of its positions in their order.
    pub positions: Vec<String>,
    /// How many of them, from the first on, stand in some state that is told.
    pub told: usize,
}
