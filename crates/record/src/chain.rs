//! Whether a chain is whole, and how two copies of one stand to each other.

use std::fmt;

use crate::entry::{Entry, Head};
use crate::error::EntryError;
use crate::hash::Hash;
use crate::moment;

/// What was found when a chain was checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// The chain's id; empty where no entry could be read.
    pub chain: String,
    /// How many entries were read.
    pub entries: u64,
    /// The head after the last entry that was read. Compare it with one that was handed out earlier: entries cut off
    /// at the end leave no other trace.
    pub head: Option<Head>,
    /// Entries whose content is not there. The chain is whole all the same.
    pub withheld: Vec<u64>,
    /// What is wrong; none where the chain is whole.
    pub faults: Vec<Fault>,
    /// Entries that say an earlier time than the entry before. No fault: a clock is testimony, `seq` is the order.
    pub clock_steps_back: Vec<u64>,
}

impl Report {
    /// Whether nothing is wrong.
    pub fn is_whole(&self) -> bool {
        self.faults.is_empty()
    }
}

/// One thing that is wrong. It displays as a sentence with its place and a remedy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The entry's place; where it could not be read, the place it would have had.
    pub seq: u64,
    /// The line in the file, from 1; `None` where entries did not come from a file.
    pub line: Option<u64>,
    /// What is wrong.
    pub what: FaultKind,
}

/// What can be wrong with an entry in a chain.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum FaultKind {
    /// The line is no sound entry.
    Unsound(EntryError),
    /// The entry belongs to another chain.
    OtherChain {
        /// The chain it names.
        chain: String,
    },
    /// The entry is not the next one.
    Place {
        /// The place that was due.
        due: u64,
    },
    /// The entry does not follow from the one before it.
    Prev {
        /// What it names as the hash before it.
        said: Hash,
        /// The hash before it.
        found: Hash,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "Line {line}, ")?;
        }
        let seq = self.seq;
        match &self.what {
            FaultKind::Unsound(error) => write!(f, "entry {seq}: {error}"),
            FaultKind::OtherChain { chain } => {
                write!(
                    f,
                    "entry {seq}: it belongs to chain {chain}. Chains never merge; keep that one in a file of its own."
                )
            }
            FaultKind::Place { due } => write!(
                f,
                "entry {seq}: entry {due} was due here. Entries were taken out, moved or put in; take them from another copy."
            ),
            FaultKind::Prev { said, found } => write!(
                f,
                "entry {seq}: it follows an entry with the hash {said}, and the one before it has {found}. One of the two was exchanged; take both from another copy."
            ),
        }
    }
}

/// Checks that entries make one whole chain from its first entry on.
///
/// Each entry already agrees with its own hashes, or it could not have been made; here its place is checked.
pub fn verify<'e>(entries: impl Iterator<Item = &'e Entry>) -> Report {
    let mut checker = Checker::default();
    for entry in entries {
        checker.take(entry, None);
    }
    checker.report
}

/// Checks a whole exported file: one entry a line. Several chains may lie in one file, one after the other or mixed;
/// each gets its report, in the order in which they begin.
///
/// A line that cannot be read is put to the chain of the line before it.
pub fn verify_lines(text: &str) -> Vec<Report> {
    let mut checkers: Vec<Checker> = Vec::new();
    let mut current = 0;
    // Only a line feed ends a line: whatever else a program may have put there is part of the line, and a fault.
    for (line, text) in (1..).zip(text.strip_suffix('\n').unwrap_or(text).split('\n')) {
        match Entry::from_line(text) {
            Ok(entry) => {
                current = place_of(&mut checkers, &entry.envelope().chain);
                checkers[current].take(&entry, Some(line));
            }
            Err(error) => {
                if checkers.is_empty() {
                    checkers.push(Checker::default());
                }
                checkers[current].unsound(error, line);
            }
        }
    }
    checkers.into_iter().map(|checker| checker.report).collect()
}

/// The checker of a chain. Lines that could not be read before any chain was named go to the first one that is.
fn place_of(checkers: &mut Vec<Checker>, chain: &str) -> usize {
    let known =
        checkers.iter().position(|checker| checker.report.chain == chain || checker.report.entries == 0);
    known.unwrap_or_else(|| {
        checkers.push(Checker::default());
        checkers.len() - 1
    })
}

/// A chain under check.
struct Checker {
    report: Report,
    /// The place that is due next.
    due: u64,
    /// The hash before it; `None` after a line that could not be read.
    prev: Option<Hash>,
    last_at: Option<String>,
}

impl Default for Checker {
    fn default() -> Checker {
        let report = Report {
            chain: String::new(),
            entries: 0,
            head: None,
            withheld: Vec::new(),
            faults: Vec::new(),
            clock_steps_back: Vec::new(),
        };
        Checker { report, due: 0, prev: Some(Hash::ZERO), last_at: None }
    }
}

impl Checker {
    fn take(&mut self, entry: &Entry, line: Option<u64>) {
        let envelope = entry.envelope();
        let seq = envelope.seq;
        let mut fault = |what| self.report.faults.push(Fault { seq, line, what });
        if self.report.entries == 0 {
            self.report.chain.clone_from(&envelope.chain);
        } else if self.report.chain != envelope.chain {
            fault(FaultKind::OtherChain { chain: envelope.chain.clone() });
            return;
        }
        if seq != self.due {
            fault(FaultKind::Place { due: self.due });
        } else if let Some(found) = self.prev.filter(|found| *found != envelope.prev) {
            fault(FaultKind::Prev { said: envelope.prev, found });
        }
        if entry.body().is_none() {
            self.report.withheld.push(seq);
        }
        if self.last_at.as_ref().is_some_and(|before| moment::steps_back(before, &envelope.at)) {
            self.report.clock_steps_back.push(seq);
        }
        self.last_at = Some(envelope.at.clone());
        self.report.entries += 1;
        let head = entry.after();
        (self.due, self.prev) = (head.next, Some(head.hash));
        self.report.head = Some(head);
    }

    fn unsound(&mut self, error: EntryError, line: u64) {
        self.report.faults.push(Fault { seq: self.due, line: Some(line), what: FaultKind::Unsound(error) });
        self.due += 1;
        self.prev = None;
    }
}

/// How another copy of a chain stands to ours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meeting {
    /// Both hold the same entries.
    Same,
    /// Theirs goes on from where ours ends.
    Extends {
        /// By how many entries.
        by: u64,
    },
    /// Ours goes on from where theirs ends.
    Shorter,
    /// They part ways. Keep theirs beside ours and say so; chains never merge.
    Differs {
        /// The first place at which they are not the same.
        at_seq: u64,
    },
    /// Theirs is a copy of another chain.
    OtherChain,
}

/// Compares two copies, each whole by [`verify`]. Withheld content does not make a difference: hashes stay.
pub fn meet(ours: &[Entry], theirs: &[Entry]) -> Meeting {
    let parted = ours.iter().zip(theirs).find(|(our, their)| our.hash() != their.hash());
    match parted {
        Some((our, their)) if our.envelope().chain != their.envelope().chain => Meeting::OtherChain,
        Some((our, their)) => Meeting::Differs { at_seq: our.envelope().seq.min(their.envelope().seq) },
        None if theirs.len() > ours.len() => Meeting::Extends { by: (theirs.len() - ours.len()) as u64 },
        None if theirs.len() < ours.len() => Meeting::Shorter,
        None => Meeting::Same,
    }
}
