//! Photographs and clips are kept, whatever they are.

use asfound_photo::{Media, look, preview, without_location};
use asfound_record::{Body, Hash, Photograph1};

use crate::error::ActError;
use crate::workshop::Workshop;

/// The most that is taken in one piece.
pub const MOST_BYTES: u64 = 256 * 1024 * 1024;

/// Long side of a picture on paper: 80 mm at about 300 dots an inch.
const PAPER_PIXELS: u32 = 1000;

/// A file that was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotographKept {
    /// Its place in the job's chain.
    pub seq: u64,
    /// SHA-256 of the original bytes, hex.
    pub original: String,
    /// Why no preview can be shown, where none can. The file is kept all the same.
    pub not_shown: Option<String>,
}

impl Workshop {
    /// Keeps a file in the vault and an entry that cites it. Bytes that are no picture are kept too.
    ///
    /// # Errors
    /// Where there is nothing in it, no such job, or it cannot be written.
    pub fn keep_photograph(
        &self,
        number: &str,
        name: &str,
        bytes: &[u8],
        part: Option<&str>,
        caption: &str,
        draft_id: Option<&str>,
    ) -> Result<PhotographKept, ActError> {
        if bytes.is_empty() {
            return Err(ActError::Empty { field: "The file", example: "a picture, or any other file: it is kept whatever it is" });
        }
        let size = bytes.len() as u64;
        if size > MOST_BYTES {
            return Err(ActError::TooLarge { megabytes: size / 1_000_000, limit: MOST_BYTES / 1_000_000 });
        }
        self.writable(number)?;
        let original = self.store.keep_photograph(bytes)?;
        let seen = look(bytes);
        let shareable = match without_location(bytes) {
            Ok(stripped) => Some(self.store.keep_photograph(&stripped)?.to_string()),
            Err(_) => None,
        };
        let decoded = seen.as_ref().ok();
        let body = Photograph1 {
            original: original.to_string(),
            bytes: size,
            name: name.to_owned(),
            media: Media::of(bytes).map_or("application/octet-stream", |media| media.media_type()).to_owned(),
            shareable,
            width: decoded.map(|seen| seen.width),
            height: decoded.map(|seen| seen.height),
            taken: decoded.and_then(|seen| seen.taken.clone()),
            part: part.map(str::to_owned),
            caption: caption.trim().to_owned(),
        };
        let seq = self.keep(number, Body::Photograph(body), None, draft_id)?;
        Ok(PhotographKept { seq, original: original.to_string(), not_shown: seen.err().map(|why| why.to_string()) })
    }

    /// A preview as JPEG, upright, no larger than asked for; made once, thrown away at will.
    ///
    /// # Errors
    /// Where the picture is not there or cannot be decoded, with the reason.
    pub fn preview(&self, original: &str, long_side: u32) -> Result<Vec<u8>, ActError> {
        let hash = hash_of(original)?;
        if let Some(bytes) = self.store.preview(hash, long_side)? {
            return Ok(bytes);
        }
        let bytes = self.store.photograph(hash)?;
        let made = preview(&bytes, long_side).map_err(|why| ActError::NoPicture(why.to_string()))?;
        self.store.keep_preview(hash, long_side, &made)?;
        Ok(made)
    }

    /// The job's photographs as they go on paper: upright, shrunk, without location. What cannot be decoded is left out.
    ///
    /// # Errors
    /// Where there is no such job, or the folder cannot be read.
    pub fn pictures_for_paper(&self, number: &str) -> Result<Vec<(String, Vec<u8>)>, ActError> {
        let job = self.job(number)?;
        let mut pictures = Vec::new();
        for item in job.photographs.iter().filter(|item| item.body.width.is_some()) {
            if let Ok(jpeg) = self.preview(&item.body.original, PAPER_PIXELS) {
                pictures.push((item.body.original.clone(), jpeg));
            }
        }
        Ok(pictures)
    }

    /// The copy that may leave the house, by its own hash.
    ///
    /// # Errors
    /// Where it is not there or damaged.
    pub fn shareable(&self, hash: &str) -> Result<Vec<u8>, ActError> {
        Ok(self.store.photograph(hash_of(hash)?)?)
    }
}

fn hash_of(text: &str) -> Result<Hash, ActError> {
    Hash::from_hex(text).ok_or_else(|| ActError::NoPicture("A picture is asked for by its hash, 64 hex signs.".to_owned()))
}
