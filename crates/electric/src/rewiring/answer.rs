//! What is answered: proposals with their steps, what cannot be had together, and how far was searched.

use asfound_measure::{Farads, Millimetres, Ohms};

use super::wish::Wish;
use crate::circuit::{Circuit, Terminal};
use crate::explain::CoilSigns;
use crate::polarity::{Instead, Joined, Phase};
use crate::state::{Load, Setting};
use crate::trace::Trace;

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// The circuit as found.
    pub trace: Trace,
    /// What the coils' signs may be, each way as one list in the order of the coils; empty for all ways that the trace
    /// leaves open. Ears and taps that say more than the trace make it shorter.
    pub signs: Vec<Vec<CoilSigns>>,
    /// What it is to do.
    pub wishes: Vec<Wish>,
    /// Parts that lie ready, kept originals among them.
    pub at_hand: Vec<AtHand>,
    /// Pieces of wire that lie ready.
    pub wire: Vec<WirePiece>,
    /// Cable and input.
    pub load: Load,
    /// How many wirings are tried at most.
    pub most_tried: usize,
}

/// A part that lies ready.
#[derive(Debug, Clone, PartialEq)]
pub struct AtHand {
    /// What it is called; letters, digits, `-` and `_`, as a trace names it.
    pub name: String,
    /// Its value, as measured.
    pub value: HandValue,
    /// Whether it came out of this instrument.
    pub original: bool,
}

/// The value of a part that lies ready.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HandValue {
    /// A capacitor.
    Capacitor(Farads),
    /// A resistor.
    Resistor(Ohms),
}

/// A piece of wire that lies ready.
#[derive(Debug, Clone, PartialEq)]
pub struct WirePiece {
    /// What it is called, with its colour.
    pub name: String,
    /// How long.
    pub length: Millimetres,
    /// Whether it came out of this instrument.
    pub original: bool,
}

/// One thing that is done to the wiring.
#[derive(Debug, Clone, PartialEq)]
pub enum Doing {
    /// A coil's two leads change places; metal tied to the lead that comes to hot is freed first and grounded by a wire
    /// of its own.
    SwapLeads {
        /// The coil, by its place among the coils.
        coil: usize,
    },
    /// All that is soldered to two lugs of one part changes places.
    Exchange {
        /// One lug.
        a: Terminal,
        /// The other.
        b: Terminal,
    },
    /// What is soldered to a lug comes off it, and the lug is joined elsewhere.
    Move {
        /// The lug or lead.
        lug: Terminal,
        /// Where it goes; `None` leaves it free.
        to: Option<Terminal>,
    },
    /// A treble bleed is put across a volume's wiper and its upper lug.
    Bleed {
        /// The knob.
        knob: usize,
        /// How it is made.
        bleed: Bleed,
    },
    /// A selector with more contacts takes the place of the old one, which is kept.
    NewSelector {
        /// The switch, by its place among the switches.
        switch: usize,
        /// Poles of the new one.
        poles: usize,
        /// Positions of the new one.
        positions: usize,
    },
}

/// How a treble bleed is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Bleed {
    /// The capacitor.
    pub capacitor: Fitted<Farads>,
    /// The resistor, with how it stands to the capacitor; `None` for a capacitor alone.
    pub resistor: Option<(Fitted<Ohms>, Joined)>,
}

/// A part put in.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted<T> {
    /// The part at hand; `None` for a new one of a preferred value.
    pub at_hand: Option<usize>,
    /// Its name in the trace.
    pub name: String,
    /// Its value.
    pub value: T,
}

/// One step at the bench.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// Part a coil's metal from its lead; this comes before anything else.
    FreeMetal {
        /// The coil.
        coil: usize,
    },
    /// A wire or lead that is soldered at one end is taken off the other end and soldered elsewhere.
    Resolder {
        /// The end that stays.
        stays: String,
        /// From where.
        from: String,
        /// To where.
        to: String,
    },
    /// A wire is taken off at both ends and kept.
    TakeOff {
        /// One end.
        a: String,
        /// The other.
        b: String,
    },
    /// A lead or leg is taken off, its free end made safe.
    Free {
        /// The lead.
        lead: String,
        /// From where.
        from: String,
    },
    /// A wire is put in.
    Wire {
        /// One end.
        a: String,
        /// The other.
        b: String,
    },
    /// A part's leg or a lead is soldered on.
    SolderLeg {
        /// The leg or lead.
        leg: String,
        /// Where.
        to: String,
    },
    /// The old selector comes out whole and is kept.
    KeepSelector {
        /// Its name.
        name: String,
    },
}

/// Whether a wish is met, by experiment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Met {
    /// In everything that may be the case.
    Yes,
    /// It hangs on signs or contacts that nobody looked at: in this share of the ways.
    Depends(f64),
    /// No.
    No,
}

/// What is heard in a state.
#[derive(Debug, Clone, PartialEq)]
pub struct Sound {
    /// How the switches stand.
    pub setting: Setting,
    /// The coils heard.
    pub coils: Vec<usize>,
    /// How they are joined, where there are two or more and all pairs are joined alike.
    pub joined: Option<Joined>,
    /// Whether the strings add, where there are two or more and it does not hang on unknown signs.
    pub phase: Option<Phase>,
    /// What a meter shows at the jack, cable out, knobs at their open ends; `None` is over range.
    pub ohms: Option<Ohms>,
}

/// A reading that a proposal is tested by.
#[derive(Debug, Clone, PartialEq)]
pub struct Probing {
    /// One lug.
    pub a: String,
    /// The other.
    pub b: String,
    /// How switches and knobs stand.
    pub setting: Setting,
    /// What the meter shows; `None` is over range.
    pub ohms: Option<Ohms>,
}

/// A knob at its closed end, and what the meter then shows.
#[derive(Debug, Clone, PartialEq)]
pub struct KnobDown {
    /// The knob.
    pub knob: usize,
    /// The state, as an index into [`Proposal::sounds`].
    pub state: usize,
    /// Coils still heard.
    pub heard: Vec<usize>,
    /// Coils that are shorted by it.
    pub shorted: Vec<usize>,
    /// What the meter shows at the jack; `None` is over range.
    pub ohms: Option<Ohms>,
}

/// Another wiring.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// What is done, in the order of the search.
    pub doings: Vec<Doing>,
    /// Its trace; [`Trace::read`] reads it.
    pub trace: String,
    /// The circuit of that trace.
    pub circuit: Circuit,
    /// Whether each wish is met, by experiment on that circuit.
    pub met: Vec<Met>,
    /// What is heard in each state, on that circuit.
    pub sounds: Vec<Sound>,
    /// States, as indexes into `sounds`, whose sound is another than as found.
    pub changed: Vec<usize>,
    /// What turning each volume down does where more than one coil is heard.
    pub knobs_down: Vec<KnobDown>,
    /// A few readings that tell whether it was soldered right.
    pub probings: Vec<Probing>,
    /// What is done at the bench, in order.
    pub steps: Vec<Step>,
    /// How to come back to as found.
    pub way_back: Vec<Step>,
    /// Joints that are opened or made: lugs at which something is soldered or unsoldered.
    pub joints: usize,
    /// New parts, by name.
    pub new_parts: Vec<String>,
    /// Parts of the instrument that come out and are kept, by name.
    pub kept: Vec<String>,
    /// The wire it takes.
    pub cuts: CutList,
}

/// What wire is cut from what.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CutList {
    /// Pieces to cut: the wire's two ends, its length, and the piece at hand it comes from; `None` is new wire.
    pub cuts: Vec<Cut>,
    /// New wire that is needed in all.
    pub new_wire: Millimetres,
}

/// One piece of wire to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// One end.
    pub a: String,
    /// The other.
    pub b: String,
    /// How long.
    pub length: Millimetres,
    /// The piece at hand it is cut from, as an index into [`Asked::wire`]; `None` is new wire.
    pub from: Option<usize>,
}

/// Wishes that cannot be had together, none of which can be left out of the set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// The wishes, by their places in [`Asked::wishes`]. Dropping any one of them ends the conflict.
    pub wishes: Vec<usize>,
    /// Why.
    pub why: WhyNot,
}

/// Why wishes cannot be had together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WhyNot {
    /// One place cannot sound in two ways.
    SamePlace,
    /// One knob for all, and a knob for each alone.
    MasterAgainstIndependent,
    /// In phase and hum-cancelling needs opposite magnets, and these two have the same pole at the strings.
    LikeMagnets {
        /// One coil.
        a: usize,
        /// The other.
        b: usize,
    },
    /// Out of phase and hum-cancelling needs like magnets, and these two have opposite poles at the strings.
    OppositeMagnets {
        /// One coil.
        a: usize,
        /// The other.
        b: usize,
    },
    /// One coil alone has nothing to cancel its hum.
    OneCoil,
    /// Nothing was found within what was searched; that is no proof.
    NotFound,
}

/// How far was searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Searched {
    /// Wirings tried.
    pub tried: usize,
    /// Every wiring that is so many changes away was tried, of the changes that [`super`] names.
    pub complete_to: usize,
    /// Whether the search ended at its bound with a wish unmet.
    pub cut: bool,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The circuit as it stands: cut leads loose.
    pub as_found: Circuit,
    /// What is heard as found.
    pub sounds: Vec<Sound>,
    /// Whether each wish is met as found.
    pub met: Vec<Met>,
    /// Other wirings: those of the kept selector first, then one of a new selector where that does more. The best first:
    /// wishes met, then sounds kept, joints and new parts.
    /// Empty where all wishes are met as found, and where nothing helps.
    pub proposals: Vec<Proposal>,
    /// What cannot be had together.
    pub conflicts: Vec<Conflict>,
    /// What can be done about hum where no wiring should.
    pub instead: Vec<Instead>,
    /// Cut leads that were taken as loose.
    pub loose: Vec<String>,
    /// How far was searched.
    pub searched: Searched,
}
