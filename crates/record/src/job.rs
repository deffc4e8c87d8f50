//! What a chain says once it is folded: the job as it stands, and its whole history.

use crate::entry::Head;
use crate::fold::Kept;
use crate::hash::Hash;
use crate::kinds::{
    Act1, Assumption1, Decided1, Hours1, Job1, JobKnown1, Key1, Made1, Mark1, Meter1, Money1, Note1,
    Observed1, Part1, Person1, Photograph1, Piece1, Probing1, Reading1, Seal1, Sweep1, Task1, Terms1,
    Testimony1, Told1, Trace1, Wish1, Workshop1,
};

/// Something that stands: the newest version that can be read of what one entry began.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item<T> {
    /// The entry that began it. Its place among others is this one's, however often it was corrected.
    pub root: u64,
    /// The entry that says what stands now.
    pub seq: u64,
    /// When that entry was written: testimony, not order.
    pub at: String,
    /// Opaque id of who wrote it.
    pub by: String,
    /// What it says.
    pub body: T,
    /// Every version, the root first.
    pub versions: Vec<u64>,
    /// Two corrections name the same entry, so that two people may have meant two things. The later one stands.
    pub contested: bool,
}

/// A part, with everything that names it. The lists are places in the job's lists of the same names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The part itself.
    pub item: Item<Part1>,
    /// Places in [`Job::observed`]: how it was found.
    pub as_found: Vec<usize>,
    /// Places in [`Job::observed`]: how it was after something had been done to it.
    pub later: Vec<usize>,
    /// Places in [`Job::readings`].
    pub readings: Vec<usize>,
    /// Places in [`Job::sweeps`].
    pub sweeps: Vec<usize>,
    /// Places in [`Job::photographs`].
    pub photographs: Vec<usize>,
    /// Places in [`Job::acts`].
    pub acts: Vec<usize>,
    /// The first standing act, on this part or on the whole piece, that ended its state as found.
    pub first_disturbed: Option<u64>,
}

/// What is said of the whole piece and of no part. The lists are places in the job's lists.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Whole {
    /// Places in [`Job::observed`]: how it was found.
    pub as_found: Vec<usize>,
    /// Places in [`Job::observed`]: how it was after something had been done to the whole.
    pub later: Vec<usize>,
    /// Places in [`Job::photographs`].
    pub photographs: Vec<usize>,
    /// Places in [`Job::acts`].
    pub acts: Vec<usize>,
    /// The first standing act on the whole piece that ended its state as found.
    pub first_disturbed: Option<u64>,
}

/// How an entry stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// It is what stands.
    Stands,
    /// Something later stands in its place.
    Corrected {
        /// The entries that name it; where none does, the later rival that stands.
        by: Vec<u64>,
    },
    /// It was struck out. It stays readable.
    Struck {
        /// The entry that strikes it.
        by: u64,
    },
    /// Its content was taken out.
    Withheld {
        /// The `withheld/1` entry that says so; absent in a copy that was given without it.
        by: Option<u64>,
    },
    /// It stands, and this release cannot read it: kept untouched.
    Unread,
}

/// One line of the history.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The entry's place.
    pub seq: u64,
    /// When it was written, as the clock said.
    pub at: String,
    /// Opaque id of who wrote it.
    pub by: String,
    /// Its kind.
    pub kind: String,
    /// How it stands.
    pub standing: Standing,
    /// Its hash.
    pub hash: Hash,
    /// The clock says an earlier time than the entry before did.
    pub clock_stepped_back: bool,
}

/// Something about the chain that a person should know. Nothing was left out for it.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum FoldFinding {
    /// A second part has the id of an earlier one. Both are kept; what names the id belongs to the earlier one.
    SamePart {
        /// The later part's entry.
        seq: u64,
        /// The id.
        part: String,
    },
    /// A second entry says what the piece is, without correcting the first. The later one stands as the piece.
    SecondPiece {
        /// The later entry.
        seq: u64,
    },
    /// A second entry opens the job, without correcting the first. The first one stands.
    SecondOpening {
        /// The later entry.
        seq: u64,
    },
    /// A correction names an entry that is not in this chain before it. It stands on its own.
    CorrectsNothing {
        /// The correction.
        seq: u64,
    },
    /// A `withheld/1` names an entry that is not in this chain before it.
    WithholdsNothing {
        /// The `withheld/1` entry.
        seq: u64,
    },
    /// Entries are missing before this one.
    Gap {
        /// The entry after the gap.
        seq: u64,
    },
    /// An entry does not come after the ones already folded, and was not taken in.
    NotAfter {
        /// The entry's place.
        seq: u64,
    },
    /// An entry of another chain, which was not taken in: chains never merge.
    OtherChain {
        /// The entry's place in its own chain.
        seq: u64,
        /// That chain.
        chain: String,
    },
}

impl FoldFinding {
    /// The place of the entry that it is about.
    pub fn seq(&self) -> u64 {
        match self {
            FoldFinding::SamePart { seq, .. }
            | FoldFinding::SecondPiece { seq }
            | FoldFinding::SecondOpening { seq }
            | FoldFinding::CorrectsNothing { seq }
            | FoldFinding::WithholdsNothing { seq }
            | FoldFinding::Gap { seq }
            | FoldFinding::NotAfter { seq }
            | FoldFinding::OtherChain { seq, .. } => *seq,
        }
    }
}

/// A chain, folded. For a job's chain and for the workshop's: lists that do not occur are empty.
///
/// Every list is in the order in which things were begun; nothing is sorted by a clock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// The chain's id; empty before the first entry.
    pub chain: String,
    /// Where the chain stands.
    pub head: Head,
    /// How the job was opened.
    pub opened: Option<Item<Job1>>,
    /// The piece: the last one said, where several are.
    pub piece: Option<Item<Piece1>>,
    /// The parts.
    pub parts: Vec<Part>,
    /// What is said of the whole piece.
    pub whole: Whole,
    /// What was seen.
    pub observed: Vec<Item<Observed1>>,
    /// What meters showed.
    pub readings: Vec<Item<Reading1>>,
    /// Measurements that came as files.
    pub sweeps: Vec<Item<Sweep1>>,
    /// Pictures and clips.
    pub photographs: Vec<Item<Photograph1>>,
    /// Places on photographs. What stands of a lug on a photograph is the latest.
    pub marks: Vec<Item<Mark1>>,
    /// Lines of the traced circuit.
    pub traces: Vec<Item<Trace1>>,
    /// What a meter showed between two lugs of the circuit.
    pub probings: Vec<Item<Probing1>>,
    /// What was done.
    pub acts: Vec<Item<Act1>>,
    /// Parts that this workshop made.
    pub made: Vec<Item<Made1>>,
    /// What persons and papers say.
    pub testimonies: Vec<Item<Testimony1>>,
    /// What is charged, agreed and promised.
    pub terms: Vec<Item<Terms1>>,
    /// What is to be done, in the order it was said; of one name the latest is what counts.
    pub tasks: Vec<Item<Task1>>,
    /// Time spent.
    pub hours: Vec<Item<Hours1>>,
    /// What the instrument is to do.
    pub wishes: Vec<Item<Wish1>>,
    /// Other words.
    pub notes: Vec<Item<Note1>>,
    /// Sums.
    pub money: Vec<Item<Money1>>,
    /// Next steps taken up, put off or done.
    pub decided: Vec<Item<Decided1>>,
    /// What papers told somebody.
    pub told: Vec<Item<Told1>>,
    /// The workshop itself, in its own chain.
    pub workshop: Option<Item<Workshop1>>,
    /// Persons.
    pub persons: Vec<Item<Person1>>,
    /// Meters.
    pub meters: Vec<Item<Meter1>>,
    /// Jobs that the workshop knows.
    pub jobs: Vec<Item<JobKnown1>>,
    /// Signing keys.
    pub keys: Vec<Item<Key1>>,
    /// Seals.
    pub seals: Vec<Item<Seal1>>,
    /// The workshop's own values for what studies take for granted, an item for each time one was begun anew. What
    /// stands of a name is [`Job::assumption`].
    pub assumptions: Vec<Item<Assumption1>>,
    /// Every entry, in order, nothing left out.
    pub history: Vec<Line>,
    /// Entries that stand and cannot be read by this release.
    pub others: Vec<u64>,
    /// Entries that stand and name a part id that no standing part has. They are in their lists all the same.
    pub unbound: Vec<u64>,
    /// What a person should know about the chain itself.
    pub findings: Vec<FoldFinding>,
    /// What was taken in so far, for taking in more.
    pub(crate) kept: Kept,
}

impl Job {
    /// The part with this id: the first, where two have it.
    pub fn part(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.item.body.part == id)
    }

    /// The workshop's own value of this name: the last said, where it was said more than once.
    pub fn assumption(&self, name: &str) -> Option<&Item<Assumption1>> {
        self.assumptions.iter().filter(|item| item.body.name == name).max_by_key(|item| item.seq)
    }
}
