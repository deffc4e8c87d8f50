//! What an entry can say: one frozen wire structure for each released kind.
//!
//! A field is never renamed, retyped or removed here; a new meaning is a new kind (`reading/2`), and the old one is
//! read for ever. Fields that a later release adds are ignored on reading and kept in the stored bytes.
//! Numbers are decimal text with a unit in the UCUM code (<https://ucum.org>), so that no float reaches the record.

use serde::{Deserialize, Serialize};

use crate::entry::Cite;

/// Names an entry by where it stands and by its hash.
pub type Cited = Cite;

/// The workshop itself: the first entry of the workshop's chain.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Workshop1 {
    /// The workshop's name as its owner writes it.
    pub name: String,
}

/// A person, known elsewhere only by an opaque id, so that the name can be withheld in one place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person1 {
    /// The opaque id that envelopes and bodies use.
    pub person: String,
    /// The name as it is to be printed.
    pub name: String,
    /// `restorer`, `owner`, or other words.
    pub role: String,
}

/// A meter and its accuracy statement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Meter1 {
    /// Short id written beside readings, such as `M1`.
    pub meter: String,
    /// What it is, in plain words.
    pub words: String,
    /// Its accuracy statement as printed in its leaflet, such as `0.9 % + 2`; absent where not known.
    pub accuracy: Option<String>,
}

/// A job is known to the workshop: written in the workshop's chain when the job's own chain begins.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JobKnown1 {
    /// The job's chain.
    pub chain: String,
    /// The job's number as it stands on labels, such as `26-014`.
    pub number: String,
}

/// A signing key comes into use.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key1 {
    /// The Ed25519 public key (RFC 8032), hex.
    pub public: String,
    /// The key it takes over from, hex; absent for the first.
    pub succeeds: Option<String>,
    /// Signature by the old key over the bytes of the new public key, hex; absent where the old key was lost.
    pub signed_by_old: Option<String>,
    /// Why it was made, in words.
    pub why: String,
}

/// A paper was sealed: the signed statement is kept whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seal1 {
    /// SHA-256 of the whole paper, hex.
    pub paper: String,
    /// The head of the job's chain when the paper was made.
    pub head: Cited,
    /// SHA-256 over the manifest of photographs, hex.
    pub photographs: String,
    /// The public key, hex.
    pub public: String,
    /// Ed25519 signature over the canonical form of the statement, hex.
    pub signature: String,
}

/// A job begins: the first entry of a job's chain.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Job1 {
    /// The number on labels and papers.
    pub number: String,
    /// One line that says what the job is about.
    pub title: String,
    /// Where a chain from elsewhere is continued: the head it goes on from.
    pub continues: Option<Cited>,
}

/// The piece (an instrument or an amplifier); its id holds across jobs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Piece1 {
    /// Id of the piece across jobs.
    pub piece: String,
    /// `guitar`, `bass`, `amplifier` or other words.
    pub family: String,
    /// The piece in plain words.
    pub words: String,
    /// Maker as said by whom, in words; absent where not known.
    pub maker: Option<String>,
    /// Serial number as read; `?` for signs that could not be read.
    pub serial: Option<String>,
    /// Where it came from and how it was found, in words.
    pub origin: Option<String>,
    /// The owner's person id.
    pub owner: Option<String>,
}

/// A part of the piece, as a thing that can be taken off, measured and kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Part1 {
    /// Id of the part within the job; also its short number on labels.
    pub part: String,
    /// What it is: `neck coil`, `volume pot`, `guard screw`.
    pub name: String,
    /// `coil`, `pot`, `switch`, `capacitor`, `choke`, `plate`, `guard`, `tuner` or other words.
    pub sort: String,
    /// The place where it was found: a place is not a part.
    pub place: String,
    /// How many, for a group kept together.
    pub count: u32,
    /// The name it has in the traced circuit, where it has one.
    pub traced_as: Option<String>,
}

/// Something seen, said apart from what it may mean.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Observed1 {
    /// The part; absent where it is of the whole piece.
    pub part: Option<String>,
    /// What was seen, in words.
    pub words: String,
    /// `true`: this is as found, even if a treatment came before it was seen; `false`: a later state;
    /// absent: as found if no act has disturbed the part yet.
    pub as_found: Option<bool>,
    /// When it was seen, if that is not when it was written, in words or RFC 3339.
    pub happened: Option<String>,
}

/// How an amount was given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum Amount1 {
    /// The number shown.
    Exactly {
        /// Decimal text with the digits that were typed.
        decimal: String,
    },
    /// More than this.
    Over {
        /// Decimal text.
        decimal: String,
    },
    /// Less than this.
    Under {
        /// Decimal text.
        decimal: String,
    },
    /// The meter showed its sign for over range.
    OverRange,
    /// It was looked at and not measured.
    NotMeasured,
    /// It was tried and nothing can be said.
    CannotTell,
}

/// A quantity as it was typed, with what was understood.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Quantity1 {
    /// The very text typed.
    pub text: String,
    /// What was understood.
    pub amount: Amount1,
    /// Unit as a UCUM code, such as `kOhm`, `Cel`, `[in_i]`.
    pub unit: String,
}

/// A meter's reading. It binds to the part and notes the place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reading1 {
    /// The part's id.
    pub part: String,
    /// The place where the part sat when it was read.
    pub place: String,
    /// `resistance`, `inductance`, `capacitance`, `voltage` and so on.
    pub quantity: String,
    /// What was shown.
    pub shown: Quantity1,
    /// The meter's short id; absent where not said.
    pub meter: Option<String>,
    /// The range it stood on, in words.
    pub range: Option<String>,
    /// The temperature of the part; absent where not taken.
    pub temperature: Option<Quantity1>,
    /// `at the joints`, `in circuit`, `at the jack`; absent where not said.
    pub method: Option<String>,
    /// When it was read, if that is not when it was written.
    pub happened: Option<String>,
}

/// A picture or clip: the bytes lie in the vault under their own hash.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Photograph1 {
    /// SHA-256 of the original bytes, hex.
    pub original: String,
    /// How many bytes.
    pub bytes: u64,
    /// The file's name as it came.
    pub name: String,
    /// Media type as recognised; `application/octet-stream` where it was not.
    pub media: String,
    /// SHA-256 of the copy without location that may leave the house; absent where it could not be made.
    pub shareable: Option<String>,
    /// Width in pixels, upright; absent where it could not be decoded.
    pub width: Option<u32>,
    /// Height in pixels, upright.
    pub height: Option<u32>,
    /// When the camera says it was taken, as it says it.
    pub taken: Option<String>,
    /// The part shown, where one is.
    pub part: Option<String>,
    /// What it shows, in words.
    pub caption: String,
}

/// Lines of the traced circuit. The job's trace is all standing entries of this kind, one after the other.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Trace1 {
    /// The version of the grammar the lines are written in.
    pub grammar: u32,
    /// One or more lines.
    pub text: String,
}

/// Something was done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Act1 {
    /// The part; absent where it is of the whole piece.
    pub part: Option<String>,
    /// What was done, in words.
    pub words: String,
    /// Whether it ends the part's state as found.
    pub disturbs: bool,
    /// Whether the act was left unfinished.
    pub parked: Option<Parked1>,
    /// When it was done, if that is not when it was written.
    pub happened: Option<String>,
}

/// An act left unfinished.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Parked1 {
    /// Why it was stopped.
    pub stopped: String,
    /// What to try next.
    pub next: String,
}

/// Words that fit nowhere else.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note1 {
    /// The words.
    pub words: String,
}

/// A sum of money that was said, asked or paid.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Money1 {
    /// What it is for.
    pub words: String,
    /// Minor units of the currency, such as pence.
    pub minor: i64,
    /// ISO 4217 code.
    pub currency: String,
}

/// A next step that a study offered was taken up, put off, or was done already.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Decided1 {
    /// The step's stable name within its study.
    pub step: String,
    /// The step in the words that were shown.
    pub words: String,
    /// `taken`, `later` or `done`.
    pub decision: String,
}

/// What a paper told somebody: a fact of its own.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Told1 {
    /// SHA-256 of the paper, hex.
    pub paper: String,
    /// What paper it was.
    pub title: String,
    /// Version of the program that worked the findings out.
    pub version: String,
    /// The head of the chain that the findings rest on.
    pub head: Cited,
    /// The sentences as told.
    pub statements: Vec<String>,
    /// The assumptions they were told under.
    pub assumptions: Vec<String>,
}

/// An entry's content was taken out, by duty or on request. The envelope stays.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Withheld1 {
    /// The entry whose content is gone.
    pub of: Cited,
    /// Person id of who asked or ordered.
    pub who: String,
    /// On what ground.
    pub ground: String,
}

/// An entry is struck out by the person who keeps the record. It stays readable.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Struck1 {
    /// Why.
    pub why: String,
}

/// An electrical measurement that came as files: over many frequencies, or recorded. It binds to the part and notes
/// the place, as a reading does. What it says is worked out from the files anew each time it is asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sweep1 {
    /// The part's id.
    pub part: String,
    /// The place where the part sat when it was measured.
    pub place: String,
    /// `impedance sweep`, `resistor test` or other words.
    pub how: String,
    /// The files, as they came.
    pub files: Vec<SweepFile1>,
    /// The known resistors, in the order of the files that need them; none for a sweep that needs none.
    pub resistors: Vec<Quantity1>,
    /// The short id of the meter or bridge; absent where not said.
    pub meter: Option<String>,
    /// The temperature of the part; absent where not taken.
    pub temperature: Option<Quantity1>,
    /// `at the joints`, `out of circuit`; absent where not said.
    pub method: Option<String>,
    /// When it was measured, if that is not when it was written.
    pub happened: Option<String>,
}

/// A file of a measurement: the bytes lie in the vault under their own hash.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SweepFile1 {
    /// SHA-256 of the bytes, hex.
    pub original: String,
    /// How many bytes.
    pub bytes: u64,
    /// The file's name as it came.
    pub name: String,
    /// Media type as recognised; `application/octet-stream` where it was not.
    pub media: String,
    /// What it is to the measurement: `sweep`, `recording with resistor A`, `recording with resistor B`.
    pub role: String,
}

/// The workshop's own value for something that a study takes for granted. Of one name the latest stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Assumption1 {
    /// The name under which the studies know it.
    pub name: String,
    /// The value as decimal text, in the unit that goes with the name.
    pub value: String,
    /// Where the value comes from, in words.
    pub source: String,
}

/// What a meter showed between two lugs of the circuit, nothing unsoldered for it. The lugs are named as in the trace.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Probing1 {
    /// The lug under one probe, such as `neck.hot`.
    pub from: String,
    /// The lug under the other.
    pub to: String,
    /// How switches and knobs stood, in words; absent where not said.
    pub stood: Option<String>,
    /// `resistance`, `capacitance` or other words.
    pub quantity: String,
    /// What was shown.
    pub shown: Quantity1,
    /// The meter's short id; absent where not said.
    pub meter: Option<String>,
    /// The range it stood on, in words.
    pub range: Option<String>,
    /// The temperature of the piece; absent where not taken.
    pub temperature: Option<Quantity1>,
    /// How it was done, in words; absent where not said.
    pub method: Option<String>,
    /// When it was done, if that is not when it was written.
    pub happened: Option<String>,
}

/// A place on a photograph: here is this lug, or this part. Of one name on one photograph the latest stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mark1 {
    /// SHA-256 of the photograph's original bytes, hex.
    pub photograph: String,
    /// The lug or part, named as in the trace: `lever.a1`, `volume`.
    pub of: String,
    /// How far from the left edge of the upright picture, in ten-thousandths of its width.
    pub x: u32,
    /// How far from the upper edge of the upright picture, in ten-thousandths of its height.
    pub y: u32,
    /// From where the picture looks at the circuit: `back`, `front`; absent where not said.
    pub seen_from: Option<String>,
}

/// What somebody says of the piece, or a paper that goes with it: testimony, kept apart from what was seen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Testimony1 {
    /// `claim` for what a person says, `document` for a paper.
    pub manner: String,
    /// Who says it, or what paper it is: `seller`, `receipt`.
    pub source: String,
    /// The date that the paper bears or that goes with the claim, as written; absent where it has none.
    pub dated: Option<String>,
    /// What it says, in words.
    pub words: String,
    /// The part it speaks of; absent where it is of the whole piece.
    pub part: Option<String>,
}

/// A part was made, or made to look old, by this workshop: so it is known to be new, whatever it looks like.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made1 {
    /// The part's id.
    pub part: String,
    /// What was made, from what and how.
    pub words: String,
    /// Whether it was made to look old.
    pub aged: bool,
    /// The discreet, lasting mark by which the next hand knows it, and where it is; absent where it has none.
    pub mark: Option<String>,
    /// When it was made, if that is not when it was written.
    pub happened: Option<String>,
}

/// What is charged, agreed or promised, in words: the terms of a sale, a rate by the hour, what the owner agreed to, what
/// is due later. What it says is read from the words anew each time it is asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Terms1 {
    /// Of what: `lot`, `work`, `agreed`, `due` or other words.
    pub of: String,
    /// The words.
    pub words: String,
}

/// Something to be done: its hours, what it waits for, which option it belongs to, in words. Of one name the latest
/// stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Task1 {
    /// Its name within the job.
    pub task: String,
    /// What it takes, in words.
    pub words: String,
}

/// Time that a person spent.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hours1 {
    /// On which task, by its name; other words where it was none of them.
    pub task: String,
    /// How many minutes.
    pub minutes: u32,
    /// Whether the hands are done with the task. What cures then cures from there on.
    pub done: bool,
    /// Materials and other words; empty where none were said.
    pub words: String,
    /// When it was, if that is not when it was written.
    pub happened: Option<String>,
}

/// What the instrument is to do, as its owner or the restorer said it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wish1 {
    /// The words.
    pub words: String,
}
