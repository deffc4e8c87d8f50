//! SHA-256 digests, written as lower-case hex.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest, Sha256};

/// A SHA-256 digest (FIPS 180-4).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash(pub [u8; 32]);

impl Hash {
    /// What the first entry of a chain names as the entry before it.
    pub const ZERO: Hash = Hash([0; 32]);

    /// The digest of bytes.
    pub fn of(bytes: &[u8]) -> Hash {
        Hash(Sha256::digest(bytes).into())
    }

    /// Reads 64 lower-case hex signs; anything else is `None`.
    pub fn from_hex(text: &str) -> Option<Hash> {
        let bytes = from_hex(text)?;
        Some(Hash(bytes.try_into().ok()?))
    }

    /// The first eight signs, for people.
    pub fn short(&self) -> String {
        to_hex(&self.0[..4])
    }
}

impl std::fmt::Display for Hash {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&to_hex(&self.0))
    }
}

impl std::fmt::Debug for Hash {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Hash({self})")
    }
}

impl Serialize for Hash {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Hash {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Hash::from_hex(&text).ok_or_else(|| serde::de::Error::custom("a hash is 64 lower-case hex signs"))
    }
}

/// Bytes as lower-case hex.
pub fn to_hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Lower-case hex as bytes; `None` where it is not hex, has capitals, or an odd length.
pub fn from_hex(text: &str) -> Option<Vec<u8>> {
    let digit = |sign: u8| match sign {
        b'0'..=b'9' => Some(sign - b'0'),
        b'a'..=b'f' => Some(sign - b'a' + 10),
        _ => None,
    };
    let (pairs, rest) = text.as_bytes().as_chunks::<2>();
    if !rest.is_empty() {
        return None;
    }
    pairs.iter().map(|&[high, low]| Some(digit(high)? << 4 | digit(low)?)).collect()
}
