//! What the metadata says: when, where, which way up. Trouble in it never refuses a picture.

use std::io::Cursor;

use exif::{Context, Exif, In, Reader, Tag, Value};

use crate::guard::guarded;

/// The metadata of a picture, as far as it can be read.
pub(crate) fn metadata(bytes: &[u8]) -> Option<Exif> {
    let read = || {
        // Cameras and editors write tables that break the letter of the standard; what can be read counts.
        let mut reader = Reader::new();
        reader.continue_on_error(true);
        let found = reader.read_from_container(&mut Cursor::new(bytes));
        found.or_else(|error| error.distill_partial_result(|_| {})).ok()
    };
    guarded(read).ok().flatten()
}

/// `DateTimeOriginal` as the camera wrote it (`2026:11:03 14:09:12`), with no zone: a camera's clock is testimony.
pub(crate) fn taken(exif: &Exif) -> Option<String> {
    let field = exif.get_field(Tag::DateTimeOriginal, In::PRIMARY)?;
    let Value::Ascii(lines) = &field.value else { return None };
    let text = String::from_utf8_lossy(lines.first()?).trim().to_owned();
    // Cameras without a set clock write blanks between the colons (Exif 2.32, 4.6.5).
    text.chars().any(|c| c.is_ascii_digit()).then_some(text)
}

/// Whether the picture says where it was taken: any field of the GPS table but its version, or the like in an XMP packet.
pub(crate) fn has_location(exif: Option<&Exif>, bytes: &[u8]) -> bool {
    let telling = |tag: Tag| tag.context() == Context::Gps && tag != Tag::GPSVersionID;
    let in_exif = exif.is_some_and(|exif| exif.fields().any(|field| telling(field.tag)));
    // XMP stands in the file as plain text, in pictures inside the picture as well.
    in_exif || bytes.windows(11).any(|window| window == b"GPSLatitude")
}

/// A metadata block that says which way up the picture is, and nothing else: a TIFF header and a table of one entry
/// (Exif 2.32, 4.5.2 and 4.6.2).
pub(crate) fn only_orientation(orientation: u8) -> Vec<u8> {
    let mut block = b"MM\0*\0\0\0\x08\0\x01".to_vec();
    // Tag 0x0112, type 3 (SHORT), one of them; the value stands left in its four bytes.
    block.extend([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0]);
    block.extend([0; 4]);
    block
}
