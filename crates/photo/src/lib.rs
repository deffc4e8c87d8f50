//! Pictures from a phone: what they are, a copy that does not say where they were taken, and a small upright preview.
//!
//! What it answers: can this file be shown, what does it tell about itself, and what may leave the workshop?
//!
//! **The one decision:** the bytes handed in are never changed and never trusted. Each answer is a fresh value from
//! them; a header is weighed before a pixel is decoded; decoders run behind a fence, so that a hostile or broken file
//! is a [`NotSeen`] with a reason and not a fault of the program. A file that cannot be seen is still worth keeping,
//! and keeping it is not this library's business. It does no reading or writing of files.
//!
//! A copy without location keeps every coded pixel bit for bit: blocks of metadata are left out, nothing is decoded.
//! It keeps one thing of the metadata, which way up the picture is, since without it the copy would lie on its side.
//!
//! ```
//! use asfound_photo::{NotSeen, look, preview};
//!
//! let mut file = Vec::new();
//! let encoder = image::codecs::png::PngEncoder::new(&mut file);
//! image::RgbImage::new(64, 32).write_with_encoder(encoder).unwrap();
//!
//! let seen = look(&file).unwrap();
//! assert_eq!((seen.width, seen.height, seen.had_location), (64, 32, false));
//! assert!(preview(&file, 16).unwrap().starts_with(&[0xff, 0xd8]));
//! assert_eq!(look(b"a shopping list"), Err(NotSeen::NotAPicture));
//! ```

mod decode;
mod facts;
mod guard;
mod media;
mod strip;

pub use decode::{LONGEST_SIDE, MOST_MEMORY};
pub use media::Media;

use guard::guarded;

/// What a picture is and what it says about itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    /// The kind of file.
    pub media: Media,
    /// Width in pixels, as it is coded: before it is turned upright.
    pub width: u32,
    /// Height in pixels, as it is coded.
    pub height: u32,
    /// When it was taken, by the camera's clock and in the camera's words. `None` where it does not say.
    pub taken: Option<String>,
    /// Whether it says where it was taken.
    pub had_location: bool,
    /// How it is turned, 1 to 8 (Exif 2.32, tag 0x0112). 1 is upright; where nothing is said it is 1.
    pub orientation: u8,
}

/// Why a file is not shown. In each case it can still be kept.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotSeen {
    /// Nothing known here.
    #[error("this is not a picture that can be shown: JPEG, PNG and WebP can")]
    NotAPicture,
    /// A picture that a phone can send in another form.
    #[error("this is a HEIC or AVIF picture, which cannot be shown here: the phone can send it as JPEG")]
    Heif,
    /// A sound or film, by its name.
    #[error("this is a {0}: it is kept as it is and has no preview")]
    Clip(&'static str),
    /// More pixels than are decoded.
    #[error(
        "this picture is {width} by {height} pixels, more than is decoded here: send it at a smaller size"
    )]
    TooLarge {
        /// Width in pixels.
        width: u32,
        /// Height in pixels.
        height: u32,
    },
    /// The file breaks off or contradicts itself, in the decoder's words.
    #[error("this picture is damaged ({0}): send it again")]
    Damaged(String),
    /// The decoder broke down, in its words.
    #[error("the decoder broke down on this picture ({0}): try it as JPEG")]
    DecoderFailed(String),
}

/// Reads the header and the metadata. No pixel is decoded, so a picture that looks well here may still prove damaged
/// when its [`preview`] is made.
///
/// # Errors
///
/// [`NotSeen`] says why the file cannot be shown.
pub fn look(bytes: &[u8]) -> Result<Seen, NotSeen> {
    let media = Media::of(bytes).ok_or(NotSeen::NotAPicture)?;
    let header = fenced(|| decode::header(bytes, media))?;
    let exif = facts::metadata(bytes);
    Ok(Seen {
        media,
        width: header.width,
        height: header.height,
        taken: exif.as_ref().and_then(facts::taken),
        had_location: facts::has_location(exif.as_ref(), bytes),
        orientation: header.orientation,
    })
}

/// A copy that says neither where nor when nor with what the picture was taken. Its pixels are coded by the same bytes.
///
/// # Errors
///
/// As for [`look`]; and [`NotSeen::Damaged`] where the file breaks off, since what cannot be read cannot be known to
/// hold no place.
pub fn without_location(bytes: &[u8]) -> Result<Vec<u8>, NotSeen> {
    let media = Media::of(bytes).ok_or(NotSeen::NotAPicture)?;
    fenced(|| {
        let orientation = decode::header(bytes, media)?.orientation;
        let stripped = match media {
            Media::Jpeg => strip::jpeg(bytes, orientation),
            Media::Png => strip::png(bytes, orientation),
            Media::WebP => strip::webp(bytes, orientation),
            Media::Heif | Media::Other(_) => None,
        };
        stripped.ok_or_else(|| NotSeen::Damaged("its blocks do not follow each other to the end".to_owned()))
    })
}

/// A small upright JPEG whose longer side is `long_side` pixels, or the picture's own where that is less. It carries no
/// metadata, and shows see-through parts as white.
///
/// # Errors
///
/// As for [`look`], and [`NotSeen::Damaged`] where the pixels cannot be decoded.
pub fn preview(bytes: &[u8], long_side: u32) -> Result<Vec<u8>, NotSeen> {
    let media = Media::of(bytes).ok_or(NotSeen::NotAPicture)?;
    fenced(|| decode::preview(bytes, media, long_side))
}

fn fenced<T>(work: impl FnOnce() -> Result<T, NotSeen>) -> Result<T, NotSeen> {
    guarded(work).unwrap_or_else(|said| Err(NotSeen::DecoderFailed(said)))
}
