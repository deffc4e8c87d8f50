//! The workshop's signing key: made silently at the first start, kept in the folder's `keys`.

use asfound_record::{Body, SigningKey, succession, succession_after_loss};
use asfound_store::Store;

use crate::error::ActError;
use crate::workshop::{Workshop, random_bytes};

/// The file's name in the folder's `keys`.
const FILE: &str = "signing.key";

/// Takes the key from the folder, or makes one where there is none.
///
/// # Errors
/// Where the file is there and is no key, or a new one cannot be written.
pub(crate) fn take_or_make(store: &Store) -> Result<SigningKey, ActError> {
    let secret = if store.keys()?.iter().any(|name| name == FILE) {
        store.key(FILE)?.try_into().map_err(|_| ActError::BadKey(FILE.to_owned()))?
    } else {
        let secret = random_bytes()?;
        store.keep_key(FILE, &secret)?;
        secret
    };
    Ok(SigningKey::from_secret(secret))
}

/// The entry that brings the first key into use.
pub(crate) fn first(key: &SigningKey) -> Body {
    Body::Key(succession(None, key, "first start of the workshop"))
}

impl Workshop {
    /// Keeps the succession where the key at hand is not the one that was last in use: its file was lost, and nothing
    /// can sign for the new one. A key that was made and not told of, because the program was cut off, is told of here
    /// too.
    pub(crate) fn tell_of_new_key(&self) -> Result<(), ActError> {
        let Some(key) = &self.key else { return Ok(()) };
        let about = self.about()?;
        let body = match about.keys.last() {
            Some(last) if last.body.public == key.public() => return Ok(()),
            Some(last) => {
                let why = "the key before it was not in the folder any more";
                Body::Key(succession_after_loss(&last.body.public, key, why))
            }
            None => first(key),
        };
        self.keep_in_workshop(body).map(drop)
    }
}
