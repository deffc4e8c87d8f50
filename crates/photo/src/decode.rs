//! Pictures decoded within limits, turned upright and made small.

use std::io::Cursor;

use fast_image_resize::{FilterType, ResizeAlg, ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits, RgbImage};

use crate::{Media, NotSeen};

/// The longest side that is decoded, in pixels. The largest sensors in phones and cameras stay below it; two hundred
/// million pixels do not.
pub const LONGEST_SIDE: u32 = 12_000;
/// The most memory that the decoded pixels of one picture may take, in bytes: 256 MiB.
pub const MOST_MEMORY: u64 = 256 * 1024 * 1024;
/// How much of the picture a preview keeps, from 1 to 100.
const PREVIEW_QUALITY: u8 = 82;

/// The size and the turn of a picture, read from its header.
pub(crate) struct Header {
    pub(crate) width: u32,
    pub(crate) height: u32,
    pub(crate) orientation: u8,
}

/// A decoder that has read the header and found the picture within the limits.
fn open(bytes: &[u8], media: Media) -> Result<impl ImageDecoder + '_, NotSeen> {
    let format = match media {
        Media::Jpeg => ImageFormat::Jpeg,
        Media::Png => ImageFormat::Png,
        Media::WebP => ImageFormat::WebP,
        Media::Heif => return Err(NotSeen::Heif),
        Media::Other(name) => return Err(NotSeen::Clip(name)),
    };
    // Memory is limited from the first byte; the sides are compared below, where they can be told.
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(MOST_MEMORY);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(damaged)?;
    let (width, height) = decoder.dimensions();
    if width.max(height) > LONGEST_SIDE || decoder.total_bytes() > MOST_MEMORY {
        return Err(NotSeen::TooLarge { width, height });
    }
    Ok(decoder)
}

fn damaged(error: ImageError) -> NotSeen {
    NotSeen::Damaged(error.to_string())
}

pub(crate) fn header(bytes: &[u8], media: Media) -> Result<Header, NotSeen> {
    let mut decoder = open(bytes, media)?;
    let (width, height) = decoder.dimensions();
    // Trouble with the turn is trouble with metadata, and never refuses a picture.
    let orientation = decoder.orientation().map_or(1, Orientation::to_exif);
    Ok(Header { width, height, orientation })
}

pub(crate) fn preview(bytes: &[u8], media: Media, long_side: u32) -> Result<Vec<u8>, NotSeen> {
    let mut decoder = open(bytes, media)?;
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let picture = DynamicImage::from_decoder(decoder).map_err(damaged)?;
    let mut small = DynamicImage::ImageRgb8(shrink(on_white(picture), long_side)?);
    // Turned after it was made small: the same picture for a fraction of the work.
    small.apply_orientation(orientation);
    let mut out = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut out, PREVIEW_QUALITY);
    small.write_with_encoder(encoder).map_err(|error| NotSeen::DecoderFailed(error.to_string()))?;
    Ok(out)
}

/// JPEG has no see-through pixels: what shows through is taken as white paper.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let picture = picture.into_rgba8();
    let mut out = RgbImage::new(picture.width(), picture.height());
    for (to, from) in out.pixels_mut().zip(picture.pixels()) {
        let [red, green, blue, alpha] = from.0.map(u32::from);
        let mixed = |ink: u32| ((ink * alpha + 255 * (255 - alpha) + 127) / 255) as u8;
        to.0 = [red, green, blue].map(mixed);
    }
    out
}

/// Makes the longer side `long_side` pixels long, with a Lanczos window of three lobes. Nothing is made larger.
fn shrink(picture: RgbImage, long_side: u32) -> Result<RgbImage, NotSeen> {
    let (width, height) = picture.dimensions();
    let longest = width.max(height);
    let wanted = long_side.clamp(1, longest.max(1));
    if wanted == longest {
        return Ok(picture);
    }
    let scaled = |side: u32| {
        let rounded = (u64::from(side) * u64::from(wanted) + u64::from(longest) / 2) / u64::from(longest);
        (rounded as u32).max(1)
    };
    let source = DynamicImage::ImageRgb8(picture);
    let mut target = DynamicImage::new_rgb8(scaled(width), scaled(height));
    let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3));
    let resized = Resizer::new().resize(&source, &mut target, &options);
    resized.map_err(|error| NotSeen::DecoderFailed(error.to_string()))?;
    Ok(target.into_rgb8())
}
