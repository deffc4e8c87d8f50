//! Values that are kept as read, but worth a second look.

use asfound_measure::{Farads, Henries, Ohms};

use super::TraceLine;
use super::build::{ASSUMED_AUDIO_SHARE, ASSUMED_CAPACITANCE, ASSUMED_INDUCTANCE};
use super::statement::{CoilLine, CoilOhms, HowKnown, Law, Statement};
use super::words::{Words, without_comment};

/// A coil below this is asked about: `5.84` is often 5.84 kilohm on a meter that was read without its `k`. Common
/// practice, no source.
pub const COIL_OHMS_QUESTIONED: Ohms = Ohms(100.0);

/// A join above this is asked about: it may run through a part. Common practice, no source.
pub const JOIN_OHMS_QUESTIONED: Ohms = Ohms(10.0);

/// A question about one line. The value typed stands until a person changes it.
#[derive(Debug, Clone, PartialEq)]
pub struct TraceQuestion {
    /// The line, from 1.
    pub line: usize,
    /// The column, from 1.
    pub column: usize,
    /// What is asked.
    pub question: Question,
}

/// What is asked about a line.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Question {
    /// A coil of so few ohms: were kilohms meant?
    CoilOhmsLow {
        /// The coil.
        coil: String,
        /// As typed.
        read: String,
        /// The value that stands.
        stands: Ohms,
        /// The value if kilohms were meant.
        perhaps: Ohms,
    },
    /// A coil that is over what the meter's range reached: open, or very high, or was the range too short?
    CoilOverRange {
        /// The coil.
        coil: String,
        /// The range, as typed.
        read: String,
        /// Its value.
        over: Ohms,
        /// What is reckoned with; `None` is an open winding.
        taken: Option<Ohms>,
    },
    /// The coil was not measured, or in too short a range: a typical resistance is assumed.
    ResistanceAssumed {
        /// The coil.
        coil: String,
        /// The assumed value.
        assumed: Ohms,
    },
    /// A join of so many ohms: does a part lie between?
    JoinOhmsHigh {
        /// As typed.
        read: String,
        /// The value.
        stands: Ohms,
    },
    /// No inductance given: a typical one is assumed.
    InductanceAssumed {
        /// The coil.
        coil: String,
        /// The assumed value.
        assumed: Henries,
    },
    /// A taper that is not linear, not metered at half turn: a typical share is assumed.
    TaperShareAssumed {
        /// The pot.
        pot: String,
        /// The share of the track below the wiper at half turn.
        assumed: f64,
    },
    /// No winding capacitance given: a typical one is assumed.
    CapacitanceAssumed {
        /// The coil.
        coil: String,
        /// The assumed value.
        assumed: Farads,
    },
}

/// All questions, in the order of the lines.
pub(super) fn questions(lines: &[TraceLine]) -> Vec<TraceQuestion> {
    let mut found = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        let mut ask = |read: Option<&str>, question| {
            let column = read.map_or(1, |read| column_of(&line.text, read));
            found.push(TraceQuestion { line: index + 1, column, question });
        };
        match &line.statement {
            Some(Statement::Coil(coil)) => ask_coil(coil, ask),
            Some(Statement::Pot {
                name, law: Some(law @ (Law::Audio(None) | Law::Reverse(None))), ..
            }) => {
                let reverse = matches!(law, Law::Reverse(_));
                let assumed = if reverse { 1.0 - ASSUMED_AUDIO_SHARE } else { ASSUMED_AUDIO_SHARE };
                ask(None, Question::TaperShareAssumed { pot: name.clone(), assumed });
            }
            Some(Statement::Join(join)) => {
                if let HowKnown::Metered(Some(ohms)) = &join.how
                    && ohms.value > JOIN_OHMS_QUESTIONED
                {
                    ask(
                        Some(&ohms.text),
                        Question::JoinOhmsHigh { read: ohms.text.clone(), stands: ohms.value },
                    );
                }
            }
            _ => {}
        }
    }
    found
}

/// What is asked about a coil; a broken winding has no inductance to ask about.
fn ask_coil(coil: &CoilLine, mut ask: impl FnMut(Option<&str>, Question)) {
    let name = || coil.name.clone();
    match &coil.resistance {
        CoilOhms::Read(ohms) if ohms.value < COIL_OHMS_QUESTIONED => {
            let perhaps = ohms.value * 1000.0;
            let (read, stands) = (ohms.text.clone(), ohms.value);
            ask(Some(&ohms.text), Question::CoilOhmsLow { coil: name(), read, stands, perhaps });
        }
        CoilOhms::Over(ohms) => {
            let (read, over) = (ohms.text.clone(), ohms.value);
            ask(
                Some("over"),
                Question::CoilOverRange { coil: name(), read, over, taken: coil.resistance.taken() },
            );
        }
        _ => {}
    }
    let Some(taken) = coil.resistance.taken() else { return };
    if !matches!(coil.resistance, CoilOhms::Read(_)) {
        ask(None, Question::ResistanceAssumed { coil: name(), assumed: taken });
    }
    if coil.inductance.is_none() {
        ask(None, Question::InductanceAssumed { coil: name(), assumed: ASSUMED_INDUCTANCE });
    }
    if coil.capacitance.is_none() {
        ask(None, Question::CapacitanceAssumed { coil: name(), assumed: ASSUMED_CAPACITANCE });
    }
}

/// The column of the first word of `read` in a line; 1 where it is not there.
pub(super) fn column_of(text: &str, read: &str) -> usize {
    let first = read.split_whitespace().next().unwrap_or(read);
    let mut words = Words::of(1, without_comment(text).0);
    while let Some(word) = words.next() {
        if word.text == first {
            return word.column;
        }
    }
    1
}
