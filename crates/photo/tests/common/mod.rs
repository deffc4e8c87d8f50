//! Pictures made by the tests themselves, with metadata written by hand.

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use img_parts::{Bytes, ImageEXIF, jpeg::Jpeg, png::Png, webp::WebP};

/// Red grows to the right and green downwards, so that every turn looks different.
pub(crate) fn picture(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| Rgb([(x * 255 / width) as u8, (y * 255 / height) as u8, 90]))
}

pub(crate) fn jpeg(width: u32, height: u32) -> Vec<u8> {
    let mut out = Vec::new();
    picture(width, height).write_with_encoder(JpegEncoder::new_with_quality(&mut out, 90)).unwrap();
    out
}

pub(crate) fn encoded(format: ImageFormat, width: u32, height: u32) -> Vec<u8> {
    let mut out = std::io::Cursor::new(Vec::new());
    DynamicImage::ImageRgb8(picture(width, height)).write_to(&mut out, format).unwrap();
    out.into_inner()
}

/// A table entry: tag, type, count, and its four bytes of value or offset.
fn entry(tag: u16, kind: u16, count: u32, value: [u8; 4]) -> Vec<u8> {
    let mut out = tag.to_be_bytes().to_vec();
    out.extend(kind.to_be_bytes());
    out.extend(count.to_be_bytes());
    out.extend(value);
    out
}

/// A big-endian TIFF block (Exif 2.32, 4.6): the turn, a time, and a place of 1°2′3″ north, 4°5′6″ east.
pub(crate) fn exif(orientation: u8) -> Vec<u8> {
    let (first, camera, place, text, angles) = (8_u32, 50_u32, 68_u32, 122_u32, 142_u32);
    let mut out = b"MM\0*".to_vec();
    out.extend(first.to_be_bytes());
    out.extend([0, 3]);
    out.extend(entry(0x0112, 3, 1, [0, orientation, 0, 0]));
    out.extend(entry(0x8769, 4, 1, camera.to_be_bytes()));
    out.extend(entry(0x8825, 4, 1, place.to_be_bytes()));
    out.extend([0; 4]);
    assert_eq!(out.len(), camera as usize);
    out.extend([0, 1]);
    out.extend(entry(0x9003, 2, 20, text.to_be_bytes()));
    out.extend([0; 4]);
    assert_eq!(out.len(), place as usize);
    out.extend([0, 4]);
    out.extend(entry(0x0001, 2, 2, *b"N\0\0\0"));
    out.extend(entry(0x0002, 5, 3, angles.to_be_bytes()));
    out.extend(entry(0x0003, 2, 2, *b"E\0\0\0"));
    out.extend(entry(0x0004, 5, 3, (angles + 24).to_be_bytes()));
    out.extend([0; 4]);
    assert_eq!(out.len(), text as usize);
    out.extend(b"2026:11:03 14:09:12\0");
    assert_eq!(out.len(), angles as usize);
    for number in 1_u32..=6 {
        out.extend(number.to_be_bytes());
        out.extend(1_u32.to_be_bytes());
    }
    out
}

/// A picture of each kind that says where, when and which way up.
pub(crate) fn telling(orientation: u8) -> [Vec<u8>; 3] {
    let block = || Some(Bytes::from(exif(orientation)));
    let mut jpeg_file = Jpeg::from_bytes(jpeg(24, 16).into()).unwrap();
    jpeg_file.set_exif(block());
    let mut png_file = Png::from_bytes(encoded(ImageFormat::Png, 24, 16).into()).unwrap();
    png_file.set_exif(block());
    let mut webp_file = WebP::from_bytes(encoded(ImageFormat::WebP, 24, 16).into()).unwrap();
    webp_file.set_exif(block());
    [
        jpeg_file.encoder().bytes().to_vec(),
        png_file.encoder().bytes().to_vec(),
        webp_file.encoder().bytes().to_vec(),
    ]
}
