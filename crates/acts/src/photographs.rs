//! Photographs and clips are kept, whatever they are.

use asfound_photo::{Media, Seen, look, preview, without_location};
use asfound_record::{Body, Hash, Photograph1};
use asfound_store::StoreError;

use crate::error::ActError;
use crate::workshop::Workshop;

/// The most that is taken in one piece, in bytes: 256 MB.
pub const MOST_BYTES: u64 = 256_000_000;

/// Long side of the preview that a job's page shows, in pixels. It is made when a picture is kept.
pub const PAGE_PIXELS: u32 = 800;

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
    /// Keeps a file in the vault and an entry that cites it. Bytes that are no picture are kept too. The first preview
    /// is made at once, so that what cannot be decoded is said now and not found out later. The same draft id twice
    /// keeps once.
    ///
    /// # Errors
    /// Where there is nothing in it, no such job or part, or it cannot be written.
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
            let example = "a picture, or any other file: it is kept whatever it is";
            return Err(ActError::Empty { field: "The file", example });
        }
        let size = bytes.len() as u64;
        if size > MOST_BYTES {
            return Err(ActError::TooLarge { megabytes: size / 1_000_000, limit: MOST_BYTES / 1_000_000 });
        }
        let chain = self.writable(number)?;
        self.must_have_part(number, part)?;
        let original = self.store.keep_photograph(bytes)?;
        let shown = look(bytes).and_then(|seen| Ok((seen, preview(bytes, PAGE_PIXELS)?)));
        if let Ok((_, made)) = &shown {
            self.store.keep_preview(original, PAGE_PIXELS, made)?;
        }
        let shareable = match without_location(bytes) {
            Ok(stripped) => Some(self.store.keep_photograph(&stripped)?.to_string()),
            Err(_) => None,
        };
        let seen = shown.as_ref().ok().map(|(seen, _)| seen);
        let upright = seen.map(upright);
        let body = Photograph1 {
            original: original.to_string(),
            bytes: size,
            name: name.to_owned(),
            media: Media::of(bytes).map_or("application/octet-stream", |media| media.media_type()).to_owned(),
            shareable,
            width: upright.map(|(width, _)| width),
            height: upright.map(|(_, height)| height),
            taken: seen.and_then(|seen| seen.taken.clone()),
            part: part.map(str::to_owned),
            caption: caption.trim().to_owned(),
        };
        let cite = self.keep_in(&chain, Body::Photograph(body), None, draft_id)?;
        let not_shown = shown.err().map(|why| why.to_string());
        Ok(PhotographKept { seq: cite.seq, original: original.to_string(), not_shown })
    }

    pub(crate) fn must_have_part(&self, number: &str, part: Option<&str>) -> Result<(), ActError> {
        let job = self.job(number)?;
        match part {
            Some(id) if job.part(id).is_none() => Err(ActError::NoSuchPart {
                name: id.to_owned(),
                nearest: job.parts.iter().map(|part| part.item.body.part.clone()).collect(),
            }),
            _ => Ok(()),
        }
    }

    /// Why the file of an entry has no preview, as a sentence; `None` where it has one or the entry is no photograph.
    ///
    /// # Errors
    /// Where there is no such job, or the file cannot be read.
    pub fn why_not_shown(&self, number: &str, seq: u64) -> Result<Option<String>, ActError> {
        let job = self.job(number)?;
        let Some(Body::Photograph(body)) = job.body(seq) else { return Ok(None) };
        if body.width.is_some() {
            return Ok(None);
        }
        let bytes = self.store.photograph(hash_of(&body.original)?)?;
        let shown = look(&bytes).and_then(|_| preview(&bytes, PAGE_PIXELS));
        Ok(shown.err().map(|why| why.to_string()))
    }

    /// A preview that was made before; `None` where [`Workshop::preview`] must decode the picture for it.
    ///
    /// # Errors
    /// Where the hash is none, or the folder cannot be read.
    pub fn preview_made(&self, original: &str, long_side: u32) -> Result<Option<Vec<u8>>, ActError> {
        Ok(self.store.preview(hash_of(original)?, long_side)?)
    }

    /// A preview as JPEG, upright, no larger than asked for, in pixels of its longer side; made once, thrown away at
    /// will.
    ///
    /// # Errors
    /// Where the picture is not there or cannot be decoded, with the reason.
    pub fn preview(&self, original: &str, long_side: u32) -> Result<Vec<u8>, ActError> {
        if let Some(bytes) = self.preview_made(original, long_side)? {
            return Ok(bytes);
        }
        let hash = hash_of(original)?;
        let bytes = self.store.photograph(hash)?;
        let made = preview(&bytes, long_side).map_err(|why| ActError::NoPicture(why.to_string()))?;
        match self.store.keep_preview(hash, long_side, &made) {
            // It can be made again as often as it is asked for.
            Ok(()) | Err(StoreError::OnlyReading { .. }) => Ok(made),
            Err(error) => Err(error.into()),
        }
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

/// Width and height as the picture is looked at. Turns 5 to 8 stand it on its side (Exif 2.32, tag 0x0112).
fn upright(seen: &Seen) -> (u32, u32) {
    if seen.orientation < 5 { (seen.width, seen.height) } else { (seen.height, seen.width) }
}

pub(crate) fn hash_of(text: &str) -> Result<Hash, ActError> {
    Hash::from_hex(text)
        .ok_or_else(|| ActError::NoPicture("A picture is asked for by its hash, 64 hex signs.".to_owned()))
}
