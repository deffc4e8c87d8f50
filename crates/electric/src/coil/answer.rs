//! What came of the weighing.

use super::construction::{Construction, Era, Insulation};
use super::found::Piece;
use super::opinions::Matter;
use crate::bobbin::Turns;
use crate::wire::{Build, Gauge, Metres};
use asfound_measure::{Henries, Millimetres, Ohms};
use asfound_weigh::{Bits, Probability, Side, Strength};

/// What ails the coil, or nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Condition {
    /// Nothing ails it.
    Healthy,
    /// A part of its turns is shorted on itself: fewer ohms, less inductance, and loss.
    PartShorted,
    /// A part is bridged out and open: fewer ohms, less inductance, no loss.
    PartBridged,
    /// The wire is broken; what is read, if anything, leaks across the break.
    Open,
    /// Extra resistance of a joint in series.
    JointInSeries,
    /// Nothing ails it; it was colder or warmer than said.
    OtherTemperature,
}

impl Condition {
    /// All of them.
    pub const ALL: [Condition; 6] = [
        Condition::Healthy,
        Condition::PartShorted,
        Condition::PartBridged,
        Condition::Open,
        Condition::JointInSeries,
        Condition::OtherTemperature,
    ];
}

/// Who wound it, with what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// The winding is as made.
    AsMade,
    /// Rewound with wire of the gauge and build it was made with.
    RewoundAlike,
    /// Rewound with another wire: another gauge or another build.
    RewoundOtherwise,
}

impl Hand {
    /// All of them.
    pub const ALL: [Hand; 3] = [Hand::AsMade, Hand::RewoundAlike, Hand::RewoundOtherwise];

    /// Whether it was wound a second time.
    pub const fn rewound(self) -> bool {
        !matches!(self, Hand::AsMade)
    }
}

/// One alternative with its probability and what speaks for and against it.
#[derive(Debug, Clone, PartialEq)]
pub struct Considered<T> {
    /// The alternative.
    pub what: T,
    /// Its probability, all of what was found taken together.
    pub probability: Probability,
    /// Its probability before anything was found.
    pub before: Probability,
    /// Each piece, strongest first.
    pub speaks: Vec<Said>,
}

/// What one piece says about one alternative, against all other alternatives together, each by its share without it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Said {
    /// The piece.
    pub piece: Piece,
    /// Natural logarithm of the likelihood ratio; above 0 it speaks for.
    pub log_ratio: f64,
}

impl Said {
    /// The word of the scale, and whom it supports.
    pub fn strength(&self) -> (Strength, Side) {
        Strength::of_log(self.log_ratio)
    }
}

/// A mean with its 95 % interval, equal shares cut off at both ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate<Q> {
    /// The mean.
    pub mean: Q,
    /// 2.5 % lie below.
    pub low: Q,
    /// 2.5 % lie above.
    pub high: Q,
}

/// What a leader's lead is worth.
#[derive(Debug, Clone, PartialEq)]
pub enum Lead<T> {
    /// It leads for every opinion within its stated range, one taken at a time.
    Decided(T),
    /// It leads with the opinions in force; with another within its range, another would.
    NotDecided {
        /// Leads with the opinions in force.
        leader: T,
        /// Opinions that change the leader, the value at which it does, and to whom. An empty list: two alternatives
        /// are so near each other that the draws cannot tell which leads.
        turned_by: Vec<(Matter, f64, T)>,
    },
}

impl<T: Copy> Lead<T> {
    /// Who leads, decided or not.
    pub fn leader(&self) -> T {
        match self {
            Lead::Decided(leader) | Lead::NotDecided { leader, .. } => *leader,
        }
    }
}

/// A part of the coil that may be original or changed on its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CoilPart {
    /// Rods or bars.
    Magnets,
    /// The plates.
    Flatwork,
    /// The wire itself.
    Winding,
    /// The leads.
    Leads,
    /// The joints at the coil.
    Joints,
}

impl CoilPart {
    /// All of them.
    pub const ALL: [CoilPart; 5] =
        [CoilPart::Magnets, CoilPart::Flatwork, CoilPart::Winding, CoilPart::Leads, CoilPart::Joints];
}

/// What can be said of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartState {
    /// Original: at least [`SURE_ENOUGH`], and what was seen of it has at least doubled the odds. A prior alone is no
    /// finding.
    Original,
    /// Changed, likewise.
    Changed,
    /// Cannot tell: nothing that was found bears on it, or it does not point one way enough.
    CannotTell,
}

/// The probability from which a part is called original or changed. A choice, no source.
pub const SURE_ENOUGH: f64 = 0.80;

/// A part with its state. Each is judged on its own: a rewind on original magnets is neither original nor replaced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartJudged {
    /// Which part.
    pub part: CoilPart,
    /// Probability that it is original.
    pub original: Probability,
    /// What can be said.
    pub state: PartState,
}

/// Why a coil looks fuller, or emptier, than its ohms would have it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cause {
    /// Thicker insulation, or thicker copper, than nominal wire as made (thinner, for a coil that looks empty).
    WireOrBuild,
    /// Wound looser (or tighter) than the middle of wild-wound coils.
    Packing,
    /// A longer or shorter mean turn, or another winding height, than the table has.
    MeanTurn,
    /// Part of the turns are there to see but not to measure: shorted or bridged out.
    PartShorted,
    /// Rewound with another wire.
    AnotherWire,
    /// Extra ohms in a joint, for a coil that looks empty.
    Joint,
    /// The temperature was not what it was taken to be.
    Temperature,
}

impl Cause {
    /// All of them.
    pub const ALL: [Cause; 7] = [
        Cause::WireOrBuild,
        Cause::Packing,
        Cause::MeanTurn,
        Cause::PartShorted,
        Cause::AnotherWire,
        Cause::Joint,
        Cause::Temperature,
    ];
}

/// A remaining explanation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remaining {
    /// The chief cause: the one that contributes most.
    pub cause: Cause,
    /// How probable it is that it is the chief cause.
    pub probability: Probability,
}

/// Which way look and ohms disagree, and what may be the chief cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Disagreement {
    /// Mean of depth over the depth that nominal wire would need for such ohms; above 1 the coil looks fuller.
    pub depth_ratio: f64,
    /// Causes by probability, greatest first. They exclude each other.
    pub causes: Vec<Remaining>,
}

/// What follows from the coil's figures where the temperature, wire and former are as judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// Turns on the former, those in a short included.
    pub turns: Estimate<Turns>,
    /// Length of all that wire.
    pub wire_length: Estimate<Metres>,
    /// Depth of the winding.
    pub depth: Estimate<Millimetres>,
    /// Share of the winding's section that is copper.
    pub copper_fill: Estimate<f64>,
    /// Resistance at 20 °C, of coil and joints.
    pub ohms_at_20: Estimate<Ohms>,
    /// Low-frequency inductance.
    pub inductance: Estimate<Henries>,
}

/// A look that may be made next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Look {
    /// The coil's temperature, with a thermometer left at it, and the ohms again.
    Temperature,
    /// A micrometer on an end that is loose already, over the insulation. Never scrape for it.
    MicrometerOnLooseEnd,
    /// Width over the winding, for its depth.
    OutsideDepth,
    /// Inductance at 120 Hz, series.
    InductanceLow,
    /// Inductance at 1 kHz, series.
    InductanceMiddle,
    /// Q at 1 kHz.
    QualityMiddle,
    /// Q at 10 kHz.
    QualityHigh,
    /// A sweep for the resonance and its height.
    Sweep,
    /// Photographs of tape, leads, flatwork and joints, looked at closely.
    Photographs,
    /// The wire's colour under a good light.
    WireColour,
    /// Ohms again at the coil's own ends, past joints and leads.
    OhmsPastTheJoints,
    /// A light tap on the rods with the coil plugged in: does it live?
    Tap,
}

impl Look {
    /// All of them.
    pub const ALL: [Look; 12] = [
        Look::Temperature,
        Look::MicrometerOnLooseEnd,
        Look::OutsideDepth,
        Look::InductanceLow,
        Look::InductanceMiddle,
        Look::QualityMiddle,
        Look::QualityHigh,
        Look::Sweep,
        Look::Photographs,
        Look::WireColour,
        Look::OhmsPastTheJoints,
        Look::Tap,
    ];

    /// Minutes of trouble with the thing at hand. Common practice, no source.
    pub const fn minutes(self) -> f64 {
        match self {
            Look::Temperature => 10.0,
            Look::MicrometerOnLooseEnd => 4.0,
            Look::OutsideDepth => 3.0,
            Look::InductanceLow | Look::InductanceMiddle => 3.0,
            Look::QualityMiddle | Look::QualityHigh => 3.0,
            Look::Sweep => 12.0,
            Look::Photographs => 5.0,
            Look::WireColour => 2.0,
            Look::OhmsPastTheJoints => 4.0,
            Look::Tap => 2.0,
        }
    }
}

/// A look with what it can be expected to tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Next {
    /// The look.
    pub look: Look,
    /// Expected bits about condition and hand together, or, where look and ohms disagree and it is more, about the
    /// chief cause.
    pub tells: Bits,
    /// The trouble.
    pub minutes: f64,
    /// What the list is sorted by.
    pub bits_per_minute: f64,
}

/// What the ohms alone cannot do.
#[derive(Debug, Clone, PartialEq)]
pub struct OhmsAlone {
    /// Pairs of hands of which the ohms favour neither by a factor of two.
    pub cannot_tell_hands: Vec<(Hand, Hand)>,
    /// Pairs of conditions likewise.
    pub cannot_tell_conditions: Vec<(Condition, Condition)>,
}

/// How much the draws are worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effort {
    /// How many were drawn.
    pub draws: usize,
    /// Effective sample size `(Σw)²/Σw²` (L. Kish, *Survey Sampling*, 1965).
    pub effective: f64,
    /// Whether that is enough ([`ENOUGH`]). If not, what was found is far from anything the table holds, and the
    /// figures are rough.
    pub enough: bool,
}

/// Effective draws from which the probabilities are good to about four in a hundred: √(¼/200) = 0.035.
pub const ENOUGH: f64 = 200.0;

/// The whole answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Each condition, in the order of [`Condition::ALL`].
    pub conditions: Vec<Considered<Condition>>,
    /// Each hand, in the order of [`Hand::ALL`].
    pub hands: Vec<Considered<Hand>>,
    /// Whether the leading condition leads whatever one's opinions within their ranges.
    pub condition_lead: Lead<Condition>,
    /// Likewise for the hand.
    pub hand_lead: Lead<Hand>,
    /// That none of this fits.
    pub none_of_these: Probability,
    /// Kinds of coil; one entry where it was stated.
    pub constructions: Vec<(Construction, Probability)>,
    /// Periods of making.
    pub eras: Vec<(Era, Probability)>,
    /// Gauges, by number.
    pub gauges: Vec<(Gauge, Probability)>,
    /// Builds of the insulation.
    pub builds: Vec<(Build, Probability)>,
    /// Insulations.
    pub insulations: Vec<(Insulation, Probability)>,
    /// Magnets, flatwork, winding, leads, joints.
    pub parts: Vec<PartJudged>,
    /// Turns, wire, depth and the like.
    pub figures: Figures,
    /// Resistance of a joint in series if there is one.
    pub joint: Option<Estimate<Ohms>>,
    /// Share of turns lost if a part is shorted or bridged.
    pub lost_turns: Option<Estimate<f64>>,
    /// Where a depth or a fill was given beside the ohms: do they agree, and if not, why?
    pub disagreement: Option<Disagreement>,
    /// What the ohms alone cannot tell; `None` where no ohms were read.
    pub ohms_alone: Option<OhmsAlone>,
    /// Looks not made yet, by bits for each minute of trouble.
    pub next: Vec<Next>,
    /// What the draws are worth.
    pub effort: Effort,
}

impl Weighed {
    /// The probability of a condition.
    pub fn condition(&self, condition: Condition) -> Probability {
        self.conditions[condition as usize].probability
    }

    /// The probability of a hand.
    pub fn hand(&self, hand: Hand) -> Probability {
        self.hands[hand as usize].probability
    }

    /// The probability that the coil was rewound, with whatever wire.
    pub fn rewound(&self) -> Probability {
        let hands = [Hand::RewoundAlike, Hand::RewoundOtherwise];
        Probability::of_share(hands.map(|hand| self.hand(hand).value()).iter().sum())
    }

    /// What is said of a part.
    pub fn part(&self, part: CoilPart) -> PartJudged {
        self.parts[part as usize]
    }
}
