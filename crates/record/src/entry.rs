//! One entry: an envelope in a chain, and its salted content.

use serde::{Deserialize, Deserializer, Serialize};
use serde_json::{Value, json};

use crate::error::EntryError;
use crate::hash::{Hash, to_hex};
use crate::{json, moment};

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

/// One entry as it is kept: the very bytes that were hashed, and what they say.
///
/// It can be made in ways only that check it, so an `Entry` always agrees with its own hashes. Whether it stands in
/// its chain is [`crate::verify`]'s question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    envelope: Envelope,
    envelope_text: String,
    content_text: Option<String>,
    body: Option<Value>,
    hash: Hash,
}

impl Entry {
    /// Gives a draft its place after `head`. The salt is 32 fresh random bytes: it keeps a withheld body from being
    /// guessed from its hash.
    ///
    /// # Errors
    /// A float, a whole number of 2^53 or more, too deep nesting, a time or a kind that is none, a correction of what
    /// does not come before it in the same chain.
    pub fn make(draft: Draft, head: &Head, salt: [u8; 32]) -> Result<Entry, EntryError> {
        let Draft { at, by, kind, corrects, body } = draft;
        if moment::instant(&at).is_none() {
            return Err(EntryError::Moment { read: at });
        }
        if !is_kind(&kind) {
            return Err(EntryError::Kind { read: kind });
        }
        if let Some(cite) = corrects.as_ref().filter(|cite| cite.chain != head.chain || cite.seq >= head.next)
        {
            return Err(EntryError::Corrects { chain: cite.chain.clone(), seq: cite.seq });
        }
        json::check(&body, "$.body", json::BODY_DEPTH)?;
        let content = json!({ "body": body, "salt": to_hex(&salt) });
        let content_text = json::canonical(&content);
        let body_hash = Hash::of(content_text.as_bytes());
        let Head { chain, next, hash } = head.clone();
        let envelope = Envelope { v: 1, chain, seq: next, at, by, kind, corrects, body_hash, prev: hash };
        let value = serde_json::to_value(&envelope).map_err(|error| shape("envelope", &error))?;
        json::check(&value, "$", json::BODY_DEPTH)?;
        Entry::assemble(envelope, json::canonical(&value), Some((content, content_text)))
    }

    /// Reads an entry back from where it is stored.
    ///
    /// # Errors
    /// Text that is not strict JSON in canonical form, does not have an entry's shape, or does not agree with its hash.
    pub fn from_stored(envelope_text: &str, content_text: Option<&str>) -> Result<Entry, EntryError> {
        let envelope = read_canonical(envelope_text, "envelope")?;
        let content = match content_text {
            Some(text) => Some((read_canonical(text, "content")?, text.to_owned())),
            None => None,
        };
        Entry::assemble(read_envelope(envelope)?, envelope_text.to_owned(), content)
    }

    /// Reads one exported line, without its line end.
    ///
    /// # Errors
    /// As [`Entry::from_stored`], and a hash beside the envelope that is not the envelope's.
    pub fn from_line(line: &str) -> Result<Entry, EntryError> {
        let value = json::read(line, json::LINE_DEPTH)?;
        let Parts { content, envelope, hash } =
            Parts::deserialize(&value).map_err(|error| shape("line", &error))?;
        let envelope_text = json::canonical(&envelope);
        let content = content.map(|value| {
            let text = json::canonical(&value);
            (value, text)
        });
        let content_text = content.as_ref().map(|(_, text)| text.as_str());
        if line_of(content_text, &envelope_text, hash) != line {
            return Err(EntryError::NotCanonical { what: "line" });
        }
        let entry = Entry::assemble(read_envelope(envelope)?, envelope_text, content)?;
        if entry.hash != hash {
            return Err(EntryError::EnvelopeHash { said: hash, found: entry.hash });
        }
        Ok(entry)
    }

    fn assemble(
        envelope: Envelope,
        envelope_text: String,
        content: Option<(Value, String)>,
    ) -> Result<Entry, EntryError> {
        let hash = Hash::of(envelope_text.as_bytes());
        let Some((content, content_text)) = content else {
            return Ok(Entry { envelope, envelope_text, content_text: None, body: None, hash });
        };
        let found = Hash::of(content_text.as_bytes());
        if found != envelope.body_hash {
            return Err(EntryError::ContentHash { said: envelope.body_hash, found });
        }
        let Content { body, salt: _ } =
            Content::deserialize(content).map_err(|error| shape("content", &error))?;
        Ok(Entry { envelope, envelope_text, content_text: Some(content_text), body: Some(body), hash })
    }

    /// The export form, one line without its end: `{"content":…,"envelope":…,"hash":"…"}`. The stored bytes are pasted,
    /// never written anew, so what this release does not know passes through untouched.
    pub fn line(&self) -> String {
        line_of(self.content_text(), &self.envelope_text, self.hash)
    }

    /// The chained part.
    pub fn envelope(&self) -> &Envelope {
        &self.envelope
    }

    /// The very text of the envelope that is hashed.
    pub fn envelope_text(&self) -> &str {
        &self.envelope_text
    }

    /// The very text of `{body, salt}` that `body_hash` was made of; `None` where it was withheld.
    pub fn content_text(&self) -> Option<&str> {
        self.content_text.as_deref()
    }

    /// The body; `None` where it was withheld.
    pub fn body(&self) -> Option<&Value> {
        self.body.as_ref()
    }

    /// The entry's hash: SHA-256 over the envelope's text.
    pub fn hash(&self) -> Hash {
        self.hash
    }

    /// The entry as something else can name it.
    pub fn cite(&self) -> Cite {
        Cite { chain: self.envelope.chain.clone(), seq: self.envelope.seq, hash: self.hash }
    }

    /// The entry as withholding leaves it: body and salt gone, hash and place unchanged.
    pub fn without_content(&self) -> Entry {
        Entry { content_text: None, body: None, ..self.clone() }
    }

    /// Where the chain stands once this is its last entry.
    pub fn after(&self) -> Head {
        Head { chain: self.envelope.chain.clone(), next: self.envelope.seq + 1, hash: self.hash }
    }
}

/// An exported line taken apart.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Parts {
    #[serde(deserialize_with = "present")]
    content: Option<Value>,
    envelope: Value,
    hash: Hash,
}

/// What `body_hash` is made of.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Content {
    body: Value,
    #[allow(dead_code, reason = "read for its shape: a salt is 64 hex signs like a hash")]
    salt: Hash,
}

/// Reads a field that must be there, even if it is null.
fn present<'de, D: Deserializer<'de>>(source: D) -> Result<Option<Value>, D::Error> {
    Option::deserialize(source)
}

fn line_of(content: Option<&str>, envelope: &str, hash: Hash) -> String {
    format!("{{\"content\":{},\"envelope\":{envelope},\"hash\":\"{hash}\"}}", content.unwrap_or("null"))
}

fn read_canonical(text: &str, what: &'static str) -> Result<Value, EntryError> {
    let value = json::read(text, json::LINE_DEPTH)?;
    if json::canonical(&value) == text { Ok(value) } else { Err(EntryError::NotCanonical { what }) }
}

fn read_envelope(value: Value) -> Result<Envelope, EntryError> {
    // The version is looked at first: of a later one, the other fields may not be these.
    if let Some(read) = value.get("v").and_then(Value::as_u64).filter(|version| *version != 1) {
        return Err(EntryError::Version { read });
    }
    Envelope::deserialize(value).map_err(|error| shape("envelope", &error))
}

fn shape(what: &'static str, error: &serde_json::Error) -> EntryError {
    EntryError::Shape { what, found: error.to_string() }
}

/// A kind is a word in small letters and a version from 1, such as `job-known/1`.
fn is_kind(text: &str) -> bool {
    let Some((name, version)) = text.split_once('/') else { return false };
    let is_name = name.starts_with(|sign: char| sign.is_ascii_lowercase())
        && name.chars().all(|sign| sign.is_ascii_lowercase() || sign == '-');
    is_name && !version.starts_with('0') && version.parse::<u32>().is_ok_and(|_| !version.starts_with('+'))
}
