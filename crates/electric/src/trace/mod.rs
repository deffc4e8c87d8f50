//! A trace: what was found in a control cavity, in the order in which the meter gave it.
//!
//! It answers: which parts are there, what joins them, how each join is known, and what is not known. Its one design
//! decision: **what is not known is written down as such**. A cut lead with two places it may have gone to is one
//! join with `or` in it, a winding sense that nobody saw is left out, and neither is filled in by a default.
//!
//! A trace is plain text, one line a part and one line a join. A `#` that begins a word begins a comment. Capitals
//! and small letters are alike.
//!
//! | line | says |
//! | --- | --- |
//! | `coil NAME OHMS\|open\|over OHMS\|not measured [HENRIES] [FARADS] [clockwise\|anticlockwise\|winding unknown] [north\|south\|pole unknown] [covered]` | a coil, terminals `hot`, `ground` and, where it is covered, `cover`; `open` is a broken winding, `over` what the meter's range could not reach |
//! | `pot NAME OHMS [linear\|audio [SHARE]\|reverse [SHARE]\|taper unknown]` | a pot, lugs `1`, `2` (the wiper), `3`, `case`; SHARE is the part of the track below the wiper at half turn, as metered |
//! | `switch NAME PLAN` | a switch whose contacts are a plan known by name, such as `five-way lever` or `shorting four-way rotary`; [`Plan::names`](crate::Plan::names) lists them |
//! | `switch NAME`, then `lugs LUG...`, `at POSITION: LUG-LUG... \| nothing`, `between: nothing \| both neighbours \| unknown` | a switch written out contact by contact |
//! | `capacitor NAME FARADS`, `resistor NAME OHMS` | terminals `a` and `b` |
//! | `choke NAME OHMS HENRIES` | terminals `a` and `b` |
//! | `jack NAME` | terminals `tip` and `sleeve` |
//! | `metal NAME` | strings, a shield, a plate: one terminal, the name alone |
//! | `post NAME LUGS` | tie points: lugs `1` to `LUGS`, not joined to each other |
//! | `join PLACE PLACE metered [OHMS]` | measured with a meter |
//! | `join PLACE PLACE seen [WHERE]` | seen in the piece or in a photograph |
//! | `join PLACE PLACE matched [WHY]` | inferred from matching stubs |
//! | `join PLACE PLACE or PLACE\|nothing ... [odds N:N...] unknown` | cut: one of several ends, alike likely unless odds are given |
//!
//! Values stand in any order and are told apart by their units; a bare number is ohms, a letter may stand for the
//! decimal sign (`7k2`, `3H4`, `4n7`; IEC 60062). How a join is known must be said.
//!
//! **Signs.** Winding sense is seen from the string side and followed from the ground end to the hot end: clockwise
//! is the positive winding sign. North at the strings is the positive magnet sign. A coil's string sign is winding ×
//! magnet, its hum sign is the winding alone.
//!
//! ```
//! use asfound_electric::trace::Trace;
//!
//! let trace = Trace::read(
//!     "# One coil, one pot, as found\n\
//!      coil bridge 6k31 clockwise\n\
//!      pot volume 250k\n\
//!      jack jack\n\
//!      join bridge.hot volume.3 metered 0.4\n\
//!      join volume.2 jack.tip seen photo 12\n\
//!      join bridge.ground volume.1 seen\n\
//!      join volume.1 jack.sleeve metered\n",
//! )?;
//! assert!(trace.circuit().is_ok());
//!
//! let faults = Trace::read("coil bridge 6k31\njoin brigde.hot jack.tip\n").unwrap_err();
//! assert!(faults.to_string().contains("`metered`, `seen`, `matched` or `unknown`"));
//! # Ok::<(), asfound_electric::trace::TraceFaults>(())
//! ```

mod build;
mod check;
mod fault;
mod join;
mod parse;
mod quantity;
mod question;
mod statement;
mod words;

use std::fmt;

use crate::circuit::Circuit;

use fault::Gathered;
pub use fault::{FAULTS_TOLD, Fault, TraceFault, TraceFaults};
pub use parse::OPENING_WORDS;
pub use question::{COIL_OHMS_QUESTIONED, JOIN_OHMS_QUESTIONED, Question, TraceQuestion};
pub use statement::{
    CoilLine, CoilOhms, End, HowKnown, JoinLine, Law, Place, Pole, Statement, Winding, Written,
};
use words::{Words, without_comment};

pub use build::{
    ASSUMED_AUDIO_SHARE, ASSUMED_CAPACITANCE, ASSUMED_INDUCTANCE, ASSUMED_RESISTANCE, OPEN_FROM_RANGE,
};

/// The version of this grammar; a kept trace carries the version it was written in.
pub const GRAMMAR_VERSION: u32 = 1;

/// Lines a trace may have. The fullest control cavity has a few hundred joins.
pub const MOST_LINES: usize = 10_000;

/// Characters a line may have.
pub const LONGEST_LINE: usize = 500;

/// One line of a trace.
#[derive(Debug, Clone, PartialEq)]
pub struct TraceLine {
    /// The line as typed, with its comment.
    pub text: String,
    /// What it says; `None` for a blank line or a comment alone.
    pub statement: Option<Statement>,
}

impl TraceLine {
    /// The line's comment, without its `#`, where it has one.
    pub fn comment(&self) -> Option<&str> {
        without_comment(&self.text).1.map(str::trim)
    }
}

/// A trace whose lines can all be read, and whose joins end at parts that are there.
///
/// It prints as it was typed, to the letter; every line then ends with a line feed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Trace {
    lines: Vec<TraceLine>,
}

impl Trace {
    /// Reads a whole trace.
    ///
    /// # Errors
    /// All that is wrong, with line, column, what was read and what would be right.
    pub fn read(text: &str) -> Result<Self, TraceFaults> {
        let mut faults = Gathered::default();
        let mut lines = Vec::new();
        let mut unread = Vec::new();
        // Some editors put a byte order mark before the first line.
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        for (index, text) in text.lines().enumerate() {
            if index == MOST_LINES {
                faults.at(index + 1, 1, Fault::TooManyLines);
                break;
            }
            match read_numbered(index + 1, text) {
                Ok(line) => lines.push(line),
                Err(fault) => {
                    unread.push(index + 1);
                    faults.push(fault);
                    lines.push(TraceLine { text: text.to_owned(), statement: None });
                }
            }
        }
        check::lines(&lines, &unread, &mut faults);
        faults.answer(Self { lines })
    }

    /// The lines in the order they were typed.
    pub fn lines(&self) -> &[TraceLine] {
        &self.lines
    }

    /// The network that the trace describes.
    ///
    /// # Errors
    /// Where something is missing that a network cannot do without, such as the jack.
    pub fn circuit(&self) -> Result<Circuit, TraceFaults> {
        build::circuit(&self.lines)
    }

    /// The odds of unknown joins, where they are given: the join, as an index into [`Circuit::joins`], and a weight for
    /// each candidate in their order, the one for nowhere last.
    pub fn odds(&self) -> Vec<(usize, Vec<f64>)> {
        build::odds(&self.lines)
    }

    /// Values that are kept as read but look like a slip, and values assumed where none was given.
    pub fn questions(&self) -> Vec<TraceQuestion> {
        question::questions(&self.lines)
    }
}

impl fmt::Display for Trace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.lines.iter().try_for_each(|line| writeln!(f, "{}", line.text))
    }
}

/// Reads one line alone, as typed at the bench; whether its parts are there is not asked.
///
/// # Errors
/// What is wrong in the line; the line counts as the first.
pub fn read_line(text: &str) -> Result<TraceLine, TraceFault> {
    read_numbered(1, text)
}

/// A name as it is compared: capitals and small letters are alike.
fn key(name: &str) -> String {
    name.to_lowercase()
}

fn read_numbered(line: usize, text: &str) -> Result<TraceLine, TraceFault> {
    let length = text.chars().count();
    if length > LONGEST_LINE {
        return Err(TraceFault {
            line,
            column: LONGEST_LINE + 1,
            fault: Fault::LineTooLong { read: length },
        });
    }
    if let Some(at) =
        text.chars().position(|c| (c.is_control() && c != '\t') || c == char::REPLACEMENT_CHARACTER)
    {
        return Err(TraceFault { line, column: at + 1, fault: Fault::NotText });
    }
    let said = without_comment(text).0;
    let mut words = Words::of(line, said);
    let statement = if words.peek().is_none() { None } else { Some(parse::statement(&mut words)?) };
    Ok(TraceLine { text: text.to_owned(), statement })
}
