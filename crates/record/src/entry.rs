//! One entry: an envelope in a chain, and its salted content.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::hash::Hash;
use crate::json;

/// Names an entry by chain, place and hash, wherever it lies.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Cite {
    /// The chain's id.
    pub chain: String,
    /// Its place in the chain.
    pub seq: u64,
    /// Its hash.
    pub hash: Hash,
}

/// The chained part of an entry. Its hash is SHA-256 (FIPS 180-4) over its canonical form (RFC 8785).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Envelope {
    /// Version of the envelope: 1.
    pub v: u32,
    /// The chain it belongs to.
    pub chain: String,
    /// Its place: 0 for the first.
    pub seq: u64,
    /// When it was written, RFC 3339 with offset. Testimony, not order.
    pub at: String,
    /// Opaque id of who wrote it.
    pub by: String,
    /// Kind with its version, such as `reading/1`.
    pub kind: String,
    /// The entry it corrects.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corrects: Option<Cite>,
    /// SHA-256 over the canonical form of `{body, salt}`.
    pub body_hash: Hash,
    /// Hash of the entry before; all zeros for the first.
    pub prev: Hash,
}

/// Where a chain stands: what the next entry follows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// The chain's id.
    pub chain: String,
    /// The place the next entry takes.
    pub next: u64,
    /// Hash of the last entry; zeros for an empty chain.
    pub hash: Hash,
}

impl Head {
    /// The head of a chain that has no entry yet.
    pub fn empty(chain: impl Into<String>) -> Head {
        Head { chain: chain.into(), next: 0, hash: Hash::ZERO }
    }

    /// The last entry as a citation; `None` for an empty chain.
    pub fn cite(&self) -> Option<Cite> {
        let seq = self.next.checked_sub(1)?;
        Some(Cite { chain: self.chain.clone(), seq, hash: self.hash })
    }
}

/// What is to be kept, before it has a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// When, RFC 3339 with offset.
    pub at: String,
    /// Opaque id of who.
    pub by: String,
    /// Kind with its version.
    pub kind: String,
    /// What it corrects.
    pub corrects: Option<Cite>,
    /// The body: no floats, integers below 2^53.
    pub body: Value,
}
