//! What can be wrong in a trace: the place, what was read, and what would be right.

use std::fmt;

use crate::near::edit_distance;

/// How many faults of one file are told one by one; the rest are only counted.
pub const FAULTS_TOLD: usize = 20;

/// One fault in a trace, with its place.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("line {line}, column {column}: {fault}")]
pub struct TraceFault {
    /// The line, counted from 1.
    pub line: usize,
    /// The column in characters, counted from 1.
    pub column: usize,
    /// What is wrong.
    pub fault: Fault,
}

/// What is wrong at one place of a trace.
///
/// Every kind carries what was read and what would be right there.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// The line does not begin with the word of a part, of a switch's contacts or of a join.
    #[error("`{read}` begins no line{}; a line begins with {}", near(.nearest), list(super::OPENING_WORDS))]
    UnknownOpening {
        /// The word read.
        read: String,
        /// The opening word it is nearest to.
        nearest: Option<String>,
    },
    /// A part has no name.
    #[error("this {sort} has no name; write `{sort} NAME`")]
    NameMissing {
        /// The sort of part.
        sort: &'static str,
    },
    /// A name holds signs that a name cannot hold, or is a word of the grammar.
    #[error(
        "`{read}` cannot be a name; a name holds letters, digits, - and _, and is not `or`, `nothing` or a number"
    )]
    NotAName {
        /// What was read.
        read: String,
    },
    /// Two parts have one name.
    #[error("`{name}` is already the name of the part in line {first_line}; give this one another name")]
    NameTaken {
        /// The name.
        name: String,
        /// The line of the first part with it.
        first_line: usize,
    },
    /// A part lacks a value that it cannot do without.
    #[error("this {sort} has no {what}; write it as in {example}")]
    ValueMissing {
        /// The sort of part.
        sort: &'static str,
        /// The value that is missing.
        what: &'static str,
        /// Lines that would be right.
        example: &'static str,
    },
    /// A value is given twice.
    #[error("the {what} is already given in this line; `{read}` is a second one")]
    ValueTwice {
        /// Which value.
        what: &'static str,
        /// The second one.
        read: String,
    },
    /// A quantity of a dimension that this part does not have.
    #[error("`{read}` is {found}; a {sort} takes {wanted}")]
    WrongDimension {
        /// What was read.
        read: String,
        /// What it measures.
        found: &'static str,
        /// The sort of part.
        sort: &'static str,
        /// What the part takes.
        wanted: &'static str,
    },
    /// A value that must be more than nothing.
    #[error("`{read}` must be more than zero here")]
    NotPositive {
        /// What was read.
        read: String,
    },
    /// A word or number that cannot stand here.
    #[error("`{read}` cannot stand here{}; right would be {wanted}", near(.nearest))]
    UnknownWord {
        /// What was read.
        read: String,
        /// The word it is nearest to.
        nearest: Option<String>,
        /// What would be right.
        wanted: String,
    },
    /// The line ends too soon.
    #[error("the line ends too soon; right would be {wanted}")]
    EndsTooSoon {
        /// What would be right.
        wanted: String,
    },
    /// No plan of a switch has this name.
    #[error("no plan of a switch is called `{read}`{}; plans are {}, or write the contacts out with `lugs` and `at`",
        near(.nearest), list_owned(.plans))]
    UnknownPlan {
        /// What was read.
        read: String,
        /// The plan it is nearest to.
        nearest: Option<String>,
        /// All plans.
        plans: Vec<String>,
    },
    /// No part has this name.
    #[error("no part is called `{read}`{}; name the part in a line of its own first", near(.nearest))]
    NoSuchPart {
        /// What was read.
        read: String,
        /// The part it is nearest to.
        nearest: Option<String>,
    },
    /// The part has no such terminal.
    #[error("`{part}` has no `{read}`{}; it has {}", near(.nearest), list_owned(.terminals))]
    NoSuchTerminal {
        /// The part.
        part: String,
        /// What was read.
        read: String,
        /// The terminal it is nearest to, as it is written.
        nearest: Option<String>,
        /// All terminals of the part, as they are written.
        terminals: Vec<String>,
    },
    /// A part is named without one of its terminals.
    #[error("which terminal of `{part}`? It has {}", list_owned(.terminals))]
    TerminalMissing {
        /// The part.
        part: String,
        /// All terminals of the part, as they are written.
        terminals: Vec<String>,
    },
    /// A join does not say how it is known.
    #[error("how is this join known? End the line with `metered`, `seen`, `matched` or `unknown`")]
    HowMissing,
    /// Several ends are named, but the join is said to be known.
    #[error("a join with `or` is not yet known; end it with `unknown`, or name the one place where it goes")]
    OrButKnown,
    /// A join is unknown, but only one end is named.
    #[error("an unknown join names at least two places it may go to: `or PART.TERMINAL` or `or nothing`")]
    UnknownButOne,
    /// The odds do not match the ends.
    #[error("{odds} odds for {ends} ends; write one number for each, as in `odds 3:1`")]
    OddsCount {
        /// Numbers read.
        odds: usize,
        /// Ends named.
        ends: usize,
    },
    /// A terminal is joined to itself, or named twice as an end.
    #[error("`{read}` stands twice in this join")]
    SamePlaceTwice {
        /// The terminal.
        read: String,
    },
    /// `lugs`, `at` or `between` outside a switch that is written out.
    #[error(
        "`{read}` belongs under a switch that is written out: `switch NAME`, then `lugs`, then `at`; before the name of a plan write `shorting` or `non-shorting`"
    )]
    OutsideSwitch {
        /// The word.
        read: &'static str,
    },
    /// A switch that is written out lacks its lugs or its positions.
    #[error("the switch `{name}` has no {what}; name a plan, or write its contacts out under it")]
    SwitchUnfinished {
        /// The switch.
        name: String,
        /// `lugs` or `positions`.
        what: &'static str,
    },
    /// There is no jack, so there is nothing to listen at.
    #[error("there is no jack; write `jack jack` and join `jack.tip` and `jack.sleeve`")]
    NoJack,
    /// More than one jack.
    #[error("`{name}` is a second jack; only one can be listened at, and the first is in line {first_line}")]
    SecondJack {
        /// The second jack.
        name: String,
        /// The line of the first.
        first_line: usize,
    },
    /// Signs that no text holds: this is not a trace.
    #[error("this is not text; a trace is plain text, one line a part and one line a join")]
    NotText,
    /// The line is longer than [`super::LONGEST_LINE`].
    #[error("this line has {read} characters; a line holds at most {}", super::LONGEST_LINE)]
    LineTooLong {
        /// Characters in the line.
        read: usize,
    },
    /// The text has more lines than [`super::MOST_LINES`].
    #[error("this text has more than {} lines; a trace holds at most that many", super::MOST_LINES)]
    TooManyLines,
    /// The network refused what the trace says.
    #[error("{said}")]
    Refused {
        /// What the network says.
        said: String,
    },
}

/// All faults of one text, at most [`FAULTS_TOLD`] one by one.
#[derive(Debug, Clone, PartialEq)]
pub struct TraceFaults {
    /// The first faults, in the order of the lines; never empty.
    pub told: Vec<TraceFault>,
    /// How many more there are.
    pub more: usize,
}

impl fmt::Display for TraceFaults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.told.iter().enumerate() {
            if index > 0 {
                writeln!(f)?;
            }
            write!(f, "{fault}")?;
        }
        if self.more > 0 {
            write!(f, "\nand {} more", self.more)?;
        }
        Ok(())
    }
}

impl std::error::Error for TraceFaults {}

/// Gathers faults while a text is read.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    all: Vec<TraceFault>,
}

impl Gathered {
    /// Keeps a fault.
    pub(super) fn push(&mut self, fault: TraceFault) {
        self.all.push(fault);
    }

    /// Keeps a fault of a place.
    pub(super) fn at(&mut self, line: usize, column: usize, fault: Fault) {
        self.push(TraceFault { line, column, fault });
    }

    /// `value` where nothing was wrong.
    pub(super) fn answer<T>(self, value: T) -> Result<T, TraceFaults> {
        if self.all.is_empty() { Ok(value) } else { Err(self.told()) }
    }

    /// What was gathered, in the order of the lines.
    pub(super) fn told(mut self) -> TraceFaults {
        self.all.sort_by_key(|fault| (fault.line, fault.column));
        let more = self.all.len().saturating_sub(FAULTS_TOLD);
        self.all.truncate(FAULTS_TOLD);
        TraceFaults { told: self.all, more }
    }
}

fn near(nearest: &Option<String>) -> String {
    nearest.as_ref().map(|word| format!(" (nearest: `{word}`)")).unwrap_or_default()
}

fn list(words: &[&str]) -> String {
    words.join(", ")
}

fn list_owned(words: &[String]) -> String {
    words.join(", ")
}

/// The candidate nearest to `read` by edit distance, where it is near enough to be a slip of the hand: at most a
/// third of the letters, and one at least.
pub(super) fn nearest<'a>(read: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let read = read.to_lowercase();
    let allowed = (read.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| (edit_distance(&read, &candidate.to_lowercase()), candidate))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate.to_owned())
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_word_far_from_all_has_no_nearest() {
        assert_eq!(nearest("xyzzy", ["coil", "pot"]), None);
        assert_eq!(nearest("cpil", ["coil", "pot"]), Some("coil".to_owned()));
    }
}
