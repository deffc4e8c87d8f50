//! The workshop's signing key: made silently at the first start, kept in the folder's `keys`.

use asfound_record::{Key1, SigningKey};
use asfound_store::Store;

use crate::error::ActError;
use crate::workshop::random_bytes;

/// The file's name in the folder's `keys`.
const FILE: &str = "signing.key";

/// The key that seals papers.
pub(crate) struct Keys {
    signing: SigningKey,
}

impl Keys {
    /// Takes the key from the folder, or makes one where there is none.
    ///
    /// # Errors
    /// Where the file is there and is no key, or a new one cannot be written.
    pub(crate) fn open(store: &Store) -> Result<Keys, ActError> {
        let secret = if store.keys()?.iter().any(|name| name == FILE) {
            store.key(FILE)?.try_into().map_err(|_| ActError::BadKey(FILE.to_owned()))?
        } else {
            let secret = random_bytes()?;
            store.keep_key(FILE, &secret)?;
            secret
        };
        Ok(Keys { signing: SigningKey::from_secret(secret) })
    }

    /// The entry that brings the first key into use.
    pub(crate) fn first(&self) -> Key1 {
        asfound_record::succession(None, &self.signing, "first start of the workshop")
    }

    pub(crate) fn signing(&self) -> &SigningKey {
        &self.signing
    }
}
