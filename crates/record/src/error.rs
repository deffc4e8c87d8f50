//! What can be wrong with one entry, said with the place and what would be right.

use crate::hash::Hash;

/// Why an entry could not be made or read. Each says where, what was read, and what would be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum EntryError {
    /// The text is not JSON (RFC 8259).
    #[error(
        "line {line}, column {column}: this is not JSON ({what}). An entry is one JSON object on one line."
    )]
    NotJson {
        /// Line within the text that was read, from 1.
        line: usize,
        /// Column in bytes, from 1.
        column: usize,
        /// What the reader met.
        what: String,
    },
    /// A key stands twice in one object, so that two readers could read two different things.
    #[error("{path}: this key stands twice in its object. Keep one of the two.")]
    Duplicate {
        /// JSON path of the second one.
        path: String,
    },
    /// A number with a point or an exponent, which programs round differently.
    #[error(
        "{path}: the number {read} has a point or an exponent. Write it as decimal text, such as \"{read}\"."
    )]
    Float {
        /// JSON path of the number.
        path: String,
        /// The number as it was understood.
        read: String,
    },
    /// A whole number that not every program can hold exactly.
    #[error(
        "{path}: the number {read} is 2^53 or more in size. Write it as decimal text, such as \"{read}\"."
    )]
    TooBig {
        /// JSON path of the number.
        path: String,
        /// The number as it was understood.
        read: String,
    },
    /// Objects and lists inside one another beyond reason.
    #[error("{path}: lists and objects lie more than {limit} deep here. Flatten them.")]
    TooDeep {
        /// JSON path of the place.
        path: String,
        /// The depth that is allowed.
        limit: usize,
    },
    /// The text is right JSON, but not in the one form that is hashed.
    #[error(
        "the {what} is not in canonical form (RFC 8785): no spaces, keys in order, shortest signs. Nothing may be written anew after hashing; take the text from the copy it came from."
    )]
    NotCanonical {
        /// `envelope`, `content` or `line`.
        what: &'static str,
    },
    /// The JSON does not have the fields an entry has.
    #[error("the {what} does not have the shape of an entry: {found}.")]
    Shape {
        /// `envelope`, `content` or `line`.
        what: &'static str,
        /// What was met instead.
        found: String,
    },
    /// The envelope is of a version that this release cannot check.
    #[error(
        "envelope version {read}: this release checks version 1 only. Read the file with a later release."
    )]
    Version {
        /// The version that was read.
        read: u64,
    },
    /// The content is not the one that the envelope's hash was made of.
    #[error(
        "the content has the hash {found}, and its envelope says {said}. The content or the envelope was changed; take the line from another copy."
    )]
    ContentHash {
        /// What the envelope says.
        said: Hash,
        /// What the content gives.
        found: Hash,
    },
    /// The envelope is not the one that the hash beside it was made of.
    #[error(
        "the envelope has the hash {found}, and the line says {said}. The line was changed; take it from another copy."
    )]
    EnvelopeHash {
        /// What the line says.
        said: Hash,
        /// What the envelope gives.
        found: Hash,
    },
    /// The time is not one.
    #[error(
        "$.at: \"{read}\" is not a time with its offset (RFC 3339). Write it like 2026-11-25T09:30:00+01:00."
    )]
    Moment {
        /// What was given.
        read: String,
    },
    /// The kind is not a name with a version.
    #[error(
        "$.kind: \"{read}\" is not a kind. A kind is a word in small letters and a version, such as reading/1."
    )]
    Kind {
        /// What was given.
        read: String,
    },
    /// A correction names something that does not come before it in its own chain.
    #[error(
        "$.corrects: entry {seq} of chain {chain} does not come before this one in its own chain. Correct an earlier entry of the same chain; of another chain, say it in words."
    )]
    Corrects {
        /// The chain that was named.
        chain: String,
        /// The place that was named.
        seq: u64,
    },
}
