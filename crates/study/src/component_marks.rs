//! What is marked on resistors and capacitors, read from the words of observations, and held against the meter.
//!
//! ```text
//! tone cap: bands red red orange black, gap, yellow      colours from the crowded end
//! mica cap: dots white brown red / ? blue red            two rows along the arrow, ? for a dot that cannot be read
//! disc cap: marked 103M                                  a printed code or value
//! tone block: block of 0.015, 0.01 and 0.01 uF, one common end
//! ```

mod said;

use asfound_measure::marks::{
    CapacitorMark, MarkFault, MarkedTolerance, NoColour, Series, old_decade, preferred,
};
use asfound_measure::{Farads, Ohms, Volts};
use asfound_record::Job;

use crate::readings::ReadingStudied;

pub use asfound_measure::marks;

/// How a marking was given.
#[derive(Debug, Clone, PartialEq)]
pub enum Manner {
    /// Colours in a row, from the crowded end.
    Bands(Vec<marks::Colour>),
    /// Six dots in two rows.
    Dots,
    /// Printed signs.
    Printed(String),
}

/// What kind of part it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A resistor; values are ohms.
    Resistor,
    /// A capacitor; values are farads.
    Capacitor,
}

/// A value that the marking gives, and on what reading of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Admissible {
    /// In ohms or farads.
    pub value: f64,
    /// Tolerance.
    pub tolerance: MarkedTolerance,
    /// Direct voltage, where marked.
    pub voltage: Option<Volts>,
    /// What it is filled with, where marked.
    pub dielectric: Option<marks::Dielectric>,
    /// Why the marking may be read so, where there is more than one way.
    pub because: &'static str,
}

impl Admissible {
    /// The preferred series that has the value.
    pub fn series(&self) -> Option<Series> {
        preferred(self.value)
    }

    /// Whether it is a round figure from before the preferred series.
    pub fn is_old_decade(&self) -> bool {
        old_decade(self.value)
    }

    /// Least and most that the tolerance allows; `None` where no tolerance is known.
    pub fn limits(&self) -> Option<(f64, f64)> {
        self.tolerance.widest().map(|share| (self.value * (1.0 - share), self.value * (1.0 + share)))
    }
}

/// What the marking says.
#[derive(Debug, Clone, PartialEq)]
pub enum Marking {
    /// A value; more than one where the marking can be read in more than one way, the usual one first.
    Value(Vec<Admissible>),
    /// Several capacitors in one block, with one common end.
    Block(Vec<Farads>),
    /// Colours that make no marking.
    Colours(MarkFault),
    /// A word among the colours that is none.
    NoColour(NoColour),
    /// Signs that give no value.
    Unread(String),
}

/// How a metered value lies to the marked one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lies {
    /// Within the tolerance marked.
    Within,
    /// A resistor that has drifted up no further than old composition parts mostly do ([`USUAL_DRIFT`]).
    DriftedUp,
    /// A resistor beyond [`DRIFT_FLAGGED`].
    DriftedFar,
    /// Outside, by more than the tolerance explains.
    Outside,
    /// No tolerance is known.
    CannotTell,
}

/// A reading of the part beside its marking.
#[derive(Debug, Clone, PartialEq)]
pub struct Metered {
    /// The entry.
    pub seq: u64,
    /// In ohms or farads.
    pub value: f64,
    /// Off the marked value, as a share of it.
    pub off: f64,
    /// What that means.
    pub lies: Lies,
}

/// Old carbon-composition resistors mostly lie up to a fifth above their marking: unused 4.7 kΩ 5 % parts of old stock
/// read 10 to 20 % high, 100 kΩ parts 107 to 122 kΩ (restorers' readings, ik1zyw.blogspot.com, January 2024). Damp air
/// moves them (G. S. Church, IRE Transactions on Component Parts 8, 31, 1961).
pub const USUAL_DRIFT: f64 = 0.20;

/// Beyond this a resistor is flagged (common practice, no source).
pub const DRIFT_FLAGGED: f64 = 0.30;

/// One marked part.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedPart {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// The entry that says it.
    pub seq: u64,
    /// Whether it resists or stores.
    pub kind: Kind,
    /// How it was given.
    pub manner: Manner,
    /// What it says.
    pub marking: Marking,
    /// The latest reading of the part, where the marking gives a value.
    pub metered: Option<Metered>,
}

/// Every part whose marking was said, in the order of the parts; of one part the last that was said.
pub fn study(job: &Job, readings: &[ReadingStudied]) -> Vec<MarkedPart> {
    job.parts.iter().filter_map(|part| one(job, readings, part)).collect()
}

fn one(job: &Job, readings: &[ReadingStudied], part: &asfound_record::Part) -> Option<MarkedPart> {
    let body = &part.item.body;
    let kind = kind_of(&body.sort, &body.name)?;
    let seen = part.as_found.iter().chain(&part.later).filter_map(|&at| job.observed.get(at));
    let (seq, (manner, marking)) =
        seen.filter_map(|item| Some((item.seq, said::read(&item.body.words, kind)?))).next_back()?;
    let metered = match &marking {
        Marking::Value(ways) => metered(readings, &body.part, kind, ways),
        _ => None,
    };
    Some(MarkedPart { part: body.part.clone(), name: body.name.clone(), seq, kind, manner, marking, metered })
}

fn kind_of(sort: &str, name: &str) -> Option<Kind> {
    let says = |word: &str| sort.to_lowercase().contains(word) || name.to_lowercase().contains(word);
    match (says("resistor"), says("capacitor") || says("cap ") || name.to_lowercase().ends_with("cap")) {
        (true, false) => Some(Kind::Resistor),
        (false, true) => Some(Kind::Capacitor),
        _ => None,
    }
}

fn metered(readings: &[ReadingStudied], part: &str, kind: Kind, ways: &[Admissible]) -> Option<Metered> {
    let quantity = match kind {
        Kind::Resistor => "resistance",
        Kind::Capacitor => "capacitance",
    };
    let of_part =
        readings.iter().rev().filter(|reading| reading.part == part && reading.quantity == quantity);
    let (seq, value) =
        of_part.filter_map(|reading| Some((reading.seq, reading.shown.as_ref()?.value))).next()?;
    let told: Vec<Metered> = ways.iter().map(|way| held(way, kind, seq, value)).collect();
    // Where a marking can be read in two ways, the meter is held against the one it suits best.
    told.into_iter().min_by(|a, b| a.off.abs().total_cmp(&b.off.abs()))
}

fn held(way: &Admissible, kind: Kind, seq: u64, value: f64) -> Metered {
    let off = value / way.value - 1.0;
    let lies = match way.limits() {
        Some((least, most)) if (least..=most).contains(&value) => Lies::Within,
        _ if kind == Kind::Resistor && (0.0..=USUAL_DRIFT).contains(&off) => Lies::DriftedUp,
        _ if kind == Kind::Resistor && off > DRIFT_FLAGGED => Lies::DriftedFar,
        Some(_) => Lies::Outside,
        None => Lies::CannotTell,
    };
    Metered { seq, value, off, lies }
}

/// What a block gives as its sections are switched in one after the other, beside each other: a section has its first
/// lead on the common end.
pub fn steps_of_block(sections: &[Farads]) -> Vec<Farads> {
    let mut sum = Farads(0.0);
    std::iter::once(sum)
        .chain(sections.iter().map(|section| {
            sum = sum + *section;
            sum
        }))
        .collect()
}

impl From<CapacitorMark> for Admissible {
    fn from(mark: CapacitorMark) -> Self {
        Self {
            value: mark.marked.value.0,
            tolerance: mark.marked.tolerance,
            voltage: mark.voltage,
            dielectric: mark.dielectric,
            because: "",
        }
    }
}

impl From<marks::Marked<Ohms>> for Admissible {
    fn from(marked: marks::Marked<Ohms>) -> Self {
        let (voltage, dielectric) = (None, None);
        Self { value: marked.value.0, tolerance: marked.tolerance, voltage, dielectric, because: "" }
    }
}
