//! Metadata taken out of a file without touching its picture.
//!
//! What is kept is listed, not what goes: a block nobody thought of then goes too.

use img_parts::png::Png;
use img_parts::webp::WebP;
use img_parts::{Bytes, ImageEXIF};

use crate::facts::only_orientation;

/// PNG chunks that bear on the picture (W3C PNG 3rd edition, 5.6 and 11).
const PNG_KEPT: [&[u8; 4]; 20] = [
    b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP",
    b"mDCV", b"cLLI", b"bKGD", b"hIST", b"pHYs", b"sPLT", b"acTL", b"fcTL", b"fdAT",
];
/// WebP chunks that bear on the picture (RFC 9649, 2.5 to 2.7).
const WEBP_KEPT: [&[u8; 4]; 7] = [b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"];
/// The bits of the first byte of `VP8X` that announce EXIF and XMP (RFC 9649, 2.7.1).
const WEBP_METADATA_BITS: u8 = 0x08 | 0x04;

/// A PNG file with its picture only. `orientation` from 1 to 8; 1 is upright and needs no mention.
pub(crate) fn png(bytes: &[u8], orientation: u8) -> Option<Vec<u8>> {
    let mut png = Png::from_bytes(Bytes::copy_from_slice(bytes)).ok()?;
    // A file that breaks off between two chunks is read without complaint.
    png.chunks().last().filter(|chunk| &chunk.kind() == b"IEND")?;
    png.chunks_mut().retain(|chunk| PNG_KEPT.contains(&&chunk.kind()));
    if orientation != 1 {
        png.set_exif(Some(only_orientation(orientation).into()));
    }
    Some(png.encoder().bytes().to_vec())
}

/// A WebP file with its picture only.
pub(crate) fn webp(bytes: &[u8], orientation: u8) -> Option<Vec<u8>> {
    let mut webp = WebP::from_bytes(Bytes::copy_from_slice(bytes)).ok()?;
    webp.chunks_mut().retain(|chunk| WEBP_KEPT.contains(&&chunk.id()));
    for chunk in webp.chunks_mut().iter_mut().filter(|chunk| &chunk.id() == b"VP8X") {
        if let img_parts::riff::RiffContent::Data(data) = chunk.content_mut() {
            let mut flags = data.to_vec();
            *flags.first_mut()? &= !WEBP_METADATA_BITS;
            *data = flags.into();
        }
    }
    if orientation != 1 {
        webp.set_exif(Some(only_orientation(orientation).into()));
    }
    Some(webp.encoder().bytes().to_vec())
}

/// A JPEG file with its picture only (markers: ITU-T T.81, table B.1).
///
/// It ends at the end of the first picture: a camera may append a second one, or a film, each with a place of its own.
pub(crate) fn jpeg(bytes: &[u8], orientation: u8) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(bytes.len());
    out.extend(bytes.get(..2)?);
    if orientation != 1 {
        let block = only_orientation(orientation);
        let length = u16::try_from(block.len() + 8).ok()?;
        out.extend([0xff, 0xe1]);
        out.extend(length.to_be_bytes());
        out.extend(b"Exif\0\0");
        out.extend(block);
    }
    let mut at = 2;
    loop {
        // Before a marker any number of fill bytes may stand.
        while *bytes.get(at)? == 0xff && *bytes.get(at + 1)? == 0xff {
            at += 1;
        }
        let marker = (*bytes.get(at)? == 0xff).then_some(*bytes.get(at + 1)?)?;
        match marker {
            END => {
                out.extend([0xff, END]);
                return Some(out);
            }
            // Markers that stand alone: TEM and the restarts.
            0x01 | 0xd0..=0xd7 => {
                out.extend([0xff, marker]);
                at += 2;
            }
            _ => {
                let length = u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]);
                let next = at + 2 + usize::from(length.max(2));
                let segment = bytes.get(at..next)?;
                if kept_in_jpeg(marker, &segment[4..]) {
                    out.extend(segment);
                }
                at = next;
                if marker == START_OF_SCAN {
                    let end = scan_end(bytes, at);
                    out.extend(&bytes[at..end]);
                    at = end;
                }
            }
        }
    }
}

const END: u8 = 0xd9;
const START_OF_SCAN: u8 = 0xda;

/// Of the application blocks, those that bear on the picture: the JFIF header, a colour profile, and the block that
/// says how colours are coded (ITU-T T.871 10.1; ICC.1:2022 annex B.4; ITU-T T.872 6.5.3). No comments.
fn kept_in_jpeg(marker: u8, content: &[u8]) -> bool {
    match marker {
        0xe0 => content.starts_with(b"JFIF\0"),
        0xe2 => content.starts_with(b"ICC_PROFILE\0"),
        0xee => content.starts_with(b"Adobe"),
        0xe1..=0xef | 0xfe => false,
        _ => true,
    }
}

/// Where the coded data of a scan ends: at the next `ff` that neither a nought nor a restart follows.
fn scan_end(bytes: &[u8], from: usize) -> usize {
    let mut at = from;
    while at + 1 < bytes.len() {
        if bytes[at] == 0xff && !matches!(bytes[at + 1], 0x00 | 0xd0..=0xd7 | 0xff) {
            return at;
        }
        at += 1;
    }
    bytes.len()
}
