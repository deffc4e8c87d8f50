//! The entry line in words: how a line was understood, or why not.

use asfound_measure::{Why, WhyInductance, WhyTemperature};
use asfound_study::Job;
use asfound_study::doubt::Doubt;
use asfound_study::entry_line::{Heard, NotHeard, WhyNot};

use crate::entry;
use crate::lists::or;
use crate::page::Page;

/// How a line was understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeardSaid {
    /// What would be kept.
    pub understood: String,
    /// A doubt about a figure.
    pub doubt: Option<String>,
    /// Evidence that the act would end, and the photograph to take first.
    pub evidence: Option<String>,
}

/// Why a line was not understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotHeardSaid {
    /// One sentence.
    pub sentence: String,
    /// The line with carets under the place, for a face of fixed width.
    pub pointer: String,
    /// What would be right.
    pub hints: Vec<String>,
}

/// Says how a line was understood.
pub fn heard(heard: &Heard, job: &Job) -> HeardSaid {
    let (words, detail) = entry::said(&heard.body, job);
    let understood = if detail.is_empty() { words } else { format!("{words}, {detail}") };
    HeardSaid {
        understood,
        doubt: heard.doubt.as_ref().map(doubt),
        evidence: heard.evidence_lost.as_ref().map(|part| {
            format!("The {part} has no photograph yet. This ends its state as found: photograph joints, marks and dust first.")
        }),
    }
}

/// A doubt about a coil's reading. The reading is kept as it was typed.
pub fn doubt(doubt: &Doubt) -> String {
    let why = match doubt {
        Doubt::Ohms(question) => of_ohms(question.why),
        Doubt::Henries(question) => of_henries(question.why),
        Doubt::Temperature(question) => of_temperature(question.why),
        Doubt::NotTraced { .. } => "The traced circuit has no lug or part of this name.",
    };
    match doubt.likely() {
        Some(likely) => format!("{why} Was {likely} meant? It is kept as typed."),
        None => format!("{why} It is kept as typed."),
    }
}

fn of_henries(why: WhyInductance) -> &'static str {
    match why {
        WhyInductance::FarBelowAnyCoil => "No pickup coil has so little inductance.",
        WhyInductance::FarAboveAnyCoil => {
            "No pickup coil has so much inductance: the unit slipped, or it was read near the coil's own resonance."
        }
        WhyInductance::NotAboveNothing => {
            "That is read above the coil's own resonance, or with a cable left on: take it at 120 Hz, its cable off."
        }
    }
}

fn of_temperature(why: WhyTemperature) -> &'static str {
    match why {
        WhyTemperature::TooCold => "No bench is so cold.",
        WhyTemperature::TooWarm => "No bench is so warm.",
    }
}

fn of_ohms(why: Why) -> &'static str {
    match why {
        Why::NearlyShort => "That is next to nothing: a short, or the leads touching each other.",
        Why::FarBelowAnyCoil => "No pickup coil reads so low.",
        Why::FarAboveAnyCoil => {
            "No sound pickup coil reads so high: it is broken and leaking across the break, or the unit slipped."
        }
        Why::Negative => {
            "No resistance is below zero: a charge was left in the circuit, or the coil moved near a magnet. Short it, wait, read again."
        }
    }
}

/// Says why a line was not understood.
pub fn not_heard(error: &NotHeard, line: &str) -> NotHeardSaid {
    let read = &error.read;
    let sentence = match &error.why {
        WhyNot::Empty => "Nothing was said yet.".to_owned(),
        WhyNot::NoSuchPart => format!("No part of this job is called “{read}”."),
        WhyNot::SeveralParts(names) => format!("“{read}” can be {}. Say which.", or(names)),
        WhyNot::NoReading => {
            format!("“{read}” is no reading, and there is no colon before words about the part.")
        }
        WhyNot::NoProbing => {
            format!("“{read}” is not what a meter shows between two lugs, nor how a switch or knob stood.")
        }
        WhyNot::NoSuchLug if read.is_empty() => "A second lug is wanted: the other probe.".to_owned(),
        WhyNot::NoSuchLug => format!("The trace has no lug called “{read}”."),
        WhyNot::NoSuchPosition(said) => format!("“{said}”: it does not stand so in the trace."),
        WhyNot::LeftOver => format!("The reading is understood; “{read}” after it is not."),
        WhyNot::NoWords => "Before the colon stands a part's name, after it words.".to_owned(),
        WhyNot::NoSum => {
            format!("“{read}” is no sum: say what for, the amount, and the currency's three letters.")
        }
        WhyNot::PartIncomplete => format!(
            "“{read}” needs a name, a sort and a place, with commas between; a fourth piece is how many."
        ),
        WhyNot::MarkIncomplete => format!(
            "“{read}” needs a lug or part, the photograph's number, and how far across and down it lies, in per cent."
        ),
        WhyNot::NoSuchPhotograph if error.hints.is_empty() => {
            "The job has no photograph that can be shown: keep one first.".to_owned()
        }
        WhyNot::NoSuchPhotograph => {
            format!("No photograph of this job that can be shown has the number “{read}”.")
        }
        WhyNot::NotOnThePicture => {
            format!(
                "“{read}” is no place on the picture: from 0 % to 100 %, from the left edge, then from the upper."
            )
        }
        WhyNot::TestimonyIncomplete => {
            format!("“{read}” needs who says it or what paper it is, then a colon, then what it says.")
        }
        WhyNot::MadeNoPart => {
            "What was made here is a part: name it first, so that it can never pass for an old one."
                .to_owned()
        }
        WhyNot::Plan(sentence) => format!("“{read}” cannot be read: {}.", sentence.trim_end_matches('.')),
        WhyNot::NoHours => format!("“{read}” needs how long it took with its unit, and on what."),
        WhyNot::Trace(sentence) => format!("This line of the trace cannot be read: {sentence}."),
    };
    let flat: String = line.chars().map(|sign| if sign.is_control() { ' ' } else { sign }).collect();
    let before = line.get(..error.place.start).map_or(0, |text| text.chars().count());
    let under = line.get(error.place.clone()).map_or(1, |text| text.chars().count()).max(1);
    NotHeardSaid {
        sentence,
        pointer: format!("{flat}\n{}{}", " ".repeat(before), "^".repeat(under)),
        hints: error.hints.clone(),
    }
}

/// An example of a line, for an empty entry line.
pub fn example(page: Page) -> &'static str {
    match page {
        Page::Piece => "piece: smells of damp, strings rusted through",
        Page::Viewing => "money asking 1800 GBP",
        Page::Parts => "bridge coil: newer tape over the lead",
        Page::Readings => "neck 6k31 21C at the joints",
        Page::Wiring => "join rotary.a1 neck.hot metered 0.4",
        Page::MeterCheck => "neck.hot volume.3 0.4",
        Page::Faults => "heard position 2 thin",
        Page::Rewiring => "wish bridge and middle in series",
        Page::Dates => "volume pot: stamped 137 6338, on photo 8",
        Page::Plan => "task refret, after clean board, restore",
        Page::Originality => "bridge coil: solder undisturbed, dull and grey",
    }
}
