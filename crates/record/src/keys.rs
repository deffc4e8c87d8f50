//! Signing keys, and how one takes over from another (Ed25519, RFC 8032).

use ed25519_dalek::{Signature, Signer, VerifyingKey};

use crate::hash::{from_hex, to_hex};
use crate::kinds::Key1;

/// A key that signs. Made of 32 secret random bytes, which whoever calls brings along: there is no chance in here.
pub struct SigningKey(ed25519_dalek::SigningKey);

impl SigningKey {
    /// The key of 32 secret bytes (RFC 8032 §5.1.5).
    pub fn from_secret(secret: [u8; 32]) -> SigningKey {
        SigningKey(ed25519_dalek::SigningKey::from_bytes(&secret))
    }

    /// The public key, 64 hex signs.
    pub fn public(&self) -> String {
        to_hex(self.0.verifying_key().as_bytes())
    }

    /// The signature over bytes, 128 hex signs.
    pub fn sign(&self, bytes: &[u8]) -> String {
        to_hex(&self.0.sign(bytes).to_bytes())
    }
}

/// A secret is never printed.
impl std::fmt::Debug for SigningKey {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "SigningKey(public {})", self.public())
    }
}

/// Whether a signature over bytes is good. Weak keys and signatures with two written forms are not (RFC 8032 §5.1.7,
/// checked strictly).
pub fn check_signature(public_hex: &str, bytes: &[u8], signature_hex: &str) -> bool {
    let (Some(key), Some(signature)) = (public_key(public_hex), sized::<64>(signature_hex)) else {
        return false;
    };
    key.verify_strict(bytes, &Signature::from_bytes(&signature)).is_ok()
}

/// A new key, signed by the old one. With no old key it is the first.
pub fn succession(old: Option<&SigningKey>, new: &SigningKey, why: &str) -> Key1 {
    Key1 {
        public: new.public(),
        succeeds: old.map(SigningKey::public),
        signed_by_old: old.map(|old| old.sign(new.0.verifying_key().as_bytes())),
        why: why.to_owned(),
    }
}

/// A new key after the old one was lost: it names the old one and cannot be signed by it.
pub fn succession_after_loss(old_public_hex: &str, new: &SigningKey, why: &str) -> Key1 {
    Key1 {
        public: new.public(),
        succeeds: Some(old_public_hex.to_owned()),
        signed_by_old: None,
        why: why.to_owned(),
    }
}

/// What is true of one key in a line of keys. `at` is its place in the list that was checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeyFinding {
    /// The first key; nothing vouches for it but the chain it stands in.
    First {
        /// Its place.
        at: usize,
    },
    /// The key before it signed for it.
    Vouched {
        /// Its place.
        at: usize,
    },
    /// It names the key before it and is not signed by it, because that one was lost. Whether the same hand holds it
    /// must be known from elsewhere.
    Unsigned {
        /// Its place.
        at: usize,
    },
    /// The signature of the old key does not fit.
    BadSignature {
        /// Its place.
        at: usize,
    },
    /// It takes over from another key than the one before it, from itself, or from none although one stands before it.
    Break {
        /// Its place.
        at: usize,
    },
    /// It is no key: not 64 hex signs that name a sound point of the curve.
    NoKey {
        /// Its place.
        at: usize,
    },
}

/// Checks a line of keys in the order in which they came into use: one finding for each.
pub fn check_succession(keys: &[Key1]) -> Vec<KeyFinding> {
    let before = std::iter::once(None).chain(keys.iter().map(Some));
    keys.iter().zip(before).enumerate().map(|(at, (key, before))| check_key(at, key, before)).collect()
}

fn check_key(at: usize, key: &Key1, before: Option<&Key1>) -> KeyFinding {
    let Some(public) = public_key(&key.public) else { return KeyFinding::NoKey { at } };
    match (before, &key.succeeds, &key.signed_by_old) {
        (None, None, None) => KeyFinding::First { at },
        (Some(before), Some(old), _) if *old != before.public || *old == key.public => {
            KeyFinding::Break { at }
        }
        (Some(_), Some(_), None) => KeyFinding::Unsigned { at },
        (Some(_), Some(old), Some(signature)) => {
            let good = check_signature(old, public.as_bytes(), signature);
            if good { KeyFinding::Vouched { at } } else { KeyFinding::BadSignature { at } }
        }
        _ => KeyFinding::Break { at },
    }
}

fn public_key(hex: &str) -> Option<VerifyingKey> {
    VerifyingKey::from_bytes(&sized(hex)?).ok().filter(|key| !key.is_weak())
}

fn sized<const N: usize>(hex: &str) -> Option<[u8; N]> {
    from_hex(hex)?.try_into().ok()
}
