//! The record: what was found and done, kept so that a stranger can trust it in thirty years.
//!
//! It answers four questions. What does this entry say, byte for byte ([`Entry`])? Is the chain whole, and what was
//! taken out of it ([`verify`], [`verify_lines`])? What stands now, and what stood before ([`fold`])? Who vouches for a
//! paper ([`check_seal`], [`check_succession`])?
//!
//! # The one decision
//!
//! A chain hashes **envelopes**, and an envelope holds only the hash of its body, taken together with 32 random bytes
//! of salt. So a body can be taken out by duty or on request, and the chain stays whole and says which one is gone;
//! and without the salt, which goes with it, nobody can find a short body, a price or a name, by hashing guesses. The
//! cost is one more hash for each entry, and that a copy with bodies left out is whole too: what is missing is listed,
//! never hidden.
//!
//! With `canonical` the form of RFC 8785, and SHA-256 that of FIPS 180-4:
//!
//! - `body_hash = SHA-256(canonical({body, salt}))`
//! - `hash = SHA-256(canonical(envelope))`, the envelope holding `body_hash` and, as `prev`, the `hash` before it
//! - a signature is Ed25519 (RFC 8032) over the canonical form of a [`Statement`], or over a new key's 32 bytes
//!
//! Bytes that were hashed are kept as they are and never written anew, so a kind or a field that this release does not
//! know passes through untouched. Reading is strict: two programs must not read two things from the same bytes, so a
//! key that stands twice, a number with a point, and a whole number of 2^53 or more are refused with their place.
//!
//! What a chain cannot show: that its last entries were cut off, or that the whole of it was made anew. Both come out
//! when a head that was handed out earlier, on a paper or in a seal, is compared.
//!
//! # Checking a line with nothing of ours
//!
//! An exported line is in canonical form already. Cut the envelope out and hash it:
//!
//! ```text
//! sed -n 1p job.jsonl | sed 's/^.*,"envelope":\(.*\),"hash":"[0-9a-f]*"}$/\1/' | tr -d '\n' | sha256sum
//! ```
//!
//! That gives the line's `hash`, which is `prev` in the next line. The page `docs/record.md` has the rest, with a worked
//! example.
//!
//! # An example
//!
//! ```
//! use asfound_record::{Body, Draft, Entry, Head, Note1, Standing, fold, verify_lines};
//!
//! let draft = |words: &str| {
//!     let body = Body::Note(Note1 { words: words.to_owned() });
//!     Draft {
//!         at: "2026-11-25T09:30:00+01:00".to_owned(),
//!         by: "p-1".to_owned(),
//!         kind: body.kind().unwrap().to_owned(),
//!         corrects: None,
//!         body: body.value().unwrap(),
//!     }
//! };
//! // In use, the salt is random; whoever calls brings it along.
//! let first = Entry::make(draft("Six screws, one of them newer."), &Head::empty("j-1"), [1; 32])?;
//! let corrected = Draft { corrects: Some(first.cite()), ..draft("Six screws, two of them newer.") };
//! let second = Entry::make(corrected, &first.after(), [2; 32])?;
//!
//! let job = fold(&[first.clone(), second.clone()]);
//! assert_eq!(job.notes[0].body.words, "Six screws, two of them newer.");
//! assert_eq!(job.history[0].standing, Standing::Corrected { by: vec![1] });
//!
//! // The first words are withheld: the chain is whole, and says so.
//! let file = [first.without_content().line(), second.line()].join("\n");
//! let report = &verify_lines(&file)[0];
//! assert!(report.is_whole());
//! assert_eq!(report.withheld, [0]);
//!
//! // One sign is changed: that is found, with its place.
//! let touched = file.replace("two of them", "ten of them");
//! assert_eq!(verify_lines(&touched)[0].faults[0].line, Some(2));
//! # Ok::<(), asfound_record::EntryError>(())
//! ```

mod body;
mod chain;
mod entry;
mod error;
mod fold;
mod hash;
mod job;
mod json;
mod keys;
mod kinds;
mod moment;
mod seal;

pub use body::Body;
pub use chain::*;
pub use entry::*;
pub use error::*;
pub use fold::fold;
pub use hash::*;
pub use job::*;
pub use keys::*;
pub use kinds::*;
pub use seal::*;
