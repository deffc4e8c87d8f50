//! Seals: a signature over a paper, the record it rests on, and its photographs.

use serde::{Deserialize, Serialize};
use serde_json::json;

use crate::entry::Cite;
use crate::hash::Hash;
use crate::json;
use crate::keys::{SigningKey, check_signature};
use crate::kinds::Seal1;

/// What a seal says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// The hash of the whole paper.
    pub paper: Hash,
    /// The last entry of the job's chain when the paper was made.
    pub head: Cite,
    /// The hash of the [`Manifest`] of its photographs.
    pub photographs: Hash,
}

impl Statement {
    /// The bytes that are signed: the canonical form (RFC 8785) of
    /// `{"head":{"chain":…,"hash":…,"seq":…},"paper":…,"photographs":…}`.
    pub fn canonical(&self) -> String {
        let Cite { chain, seq, hash } = &self.head;
        let head = json!({ "chain": chain, "hash": hash.to_string(), "seq": seq });
        let (paper, photographs) = (self.paper.to_string(), self.photographs.to_string());
        json::canonical(&json!({ "head": head, "paper": paper, "photographs": photographs }))
    }
}

/// One photograph of a paper.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Printed {
    /// The hash of the original bytes.
    pub original: Hash,
    /// The hash of the bytes that stand in the paper.
    pub rendition: Hash,
}

/// The photographs of a paper, so that each can be checked without the paper and the paper without them.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    /// The photographs in the order of the paper.
    pub photographs: Vec<Printed>,
}

impl Manifest {
    /// The canonical form (RFC 8785) of `{"photographs":[{"original":…,"rendition":…},…]}`.
    pub fn canonical(&self) -> String {
        let printed = |line: &Printed| json!({ "original": line.original.to_string(), "rendition": line.rendition.to_string() });
        let photographs: Vec<_> = self.photographs.iter().map(printed).collect();
        json::canonical(&json!({ "photographs": photographs }))
    }

    /// The hash that a seal's statement names: SHA-256 over the canonical form.
    pub fn hash(&self) -> Hash {
        Hash::of(self.canonical().as_bytes())
    }
}

/// Signs a statement.
pub fn seal(statement: &Statement, key: &SigningKey) -> Seal1 {
    Seal1 {
        paper: statement.paper.to_string(),
        head: statement.head.clone(),
        photographs: statement.photographs.to_string(),
        public: key.public(),
        signature: key.sign(statement.canonical().as_bytes()),
    }
}

/// Why a seal does not hold.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SealFault {
    /// A hash in it is none.
    #[error(
        "the seal's {field} is not a hash: 64 lower-case hex signs. Take the seal's file from another copy."
    )]
    NoHash {
        /// `paper` or `photographs`.
        field: &'static str,
    },
    /// The signature does not fit the statement and the key.
    #[error(
        "the seal's signature does not fit what it says and its key. The seal was changed; take its file from another copy."
    )]
    Signature,
    /// The paper is not the one that was sealed.
    #[error(
        "the paper has the hash {found}, and the seal says {said}. This is not the paper that was sealed, or it was changed since, even by saving it anew."
    )]
    Paper {
        /// What the seal says.
        said: Hash,
        /// What the paper gives.
        found: Hash,
    },
    /// The list of photographs is not the one that was sealed.
    #[error(
        "the list of photographs has the hash {found}, and the seal says {said}. A line was added, taken out, moved or changed."
    )]
    Photographs {
        /// What the seal says.
        said: Hash,
        /// What the list gives.
        found: Hash,
    },
}

/// Checks that a seal's signature fits what it says. That the key is the workshop's is another question: compare the
/// public key with the one in the workshop's chain, or with one that was handed over by another way.
///
/// # Errors
/// [`SealFault::NoHash`] and [`SealFault::Signature`].
pub fn check_seal(seal: &Seal1) -> Result<(), SealFault> {
    let statement = Statement {
        paper: hash(&seal.paper, "paper")?,
        head: seal.head.clone(),
        photographs: hash(&seal.photographs, "photographs")?,
    };
    let good = check_signature(&seal.public, statement.canonical().as_bytes(), &seal.signature);
    if good { Ok(()) } else { Err(SealFault::Signature) }
}

/// Checks a seal, and that a paper is the one it sealed.
///
/// # Errors
/// As [`check_seal`], and [`SealFault::Paper`].
pub fn check_sealed_paper(seal: &Seal1, paper: &[u8]) -> Result<(), SealFault> {
    check_seal(seal)?;
    let (said, found) = (hash(&seal.paper, "paper")?, Hash::of(paper));
    if said == found { Ok(()) } else { Err(SealFault::Paper { said, found }) }
}

/// Checks a seal, and that a list of photographs is the one it sealed.
///
/// # Errors
/// As [`check_seal`], and [`SealFault::Photographs`].
pub fn check_sealed_photographs(seal: &Seal1, manifest: &Manifest) -> Result<(), SealFault> {
    check_seal(seal)?;
    let (said, found) = (hash(&seal.photographs, "photographs")?, manifest.hash());
    if said == found { Ok(()) } else { Err(SealFault::Photographs { said, found }) }
}

fn hash(text: &str, field: &'static str) -> Result<Hash, SealFault> {
    Hash::from_hex(text).ok_or(SealFault::NoHash { field })
}
