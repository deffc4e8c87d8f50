//! What a file is, from its first bytes alone.

/// What kind of file was handed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Media {
    /// A JPEG picture.
    Jpeg,
    /// A PNG picture.
    Png,
    /// A WebP picture.
    WebP,
    /// A picture in the HEIF family (HEIC, AVIF), which is known but not decoded here.
    Heif,
    /// A sound or film by its name, as in `WAV sound`. It is kept as it is and never opened.
    Other(&'static str),
}

impl Media {
    /// Reads the kind off the first bytes. `None` where they say nothing that is known here.
    ///
    /// Signatures: JPEG, ITU-T T.81 B.1.1.3; PNG, W3C PNG 3rd edition 5.2; RIFF and WebP, RFC 9649 2.4; ISO base media
    /// files and their brands, ISO/IEC 14496-12 4.3 and 23008-12; FLAC, RFC 9639 6; Ogg, RFC 3533 6; Matroska, RFC 9559
    /// with the EBML header of RFC 8794 11.2.1; MPEG audio, ISO/IEC 11172-3 2.4.1.3 and the common ID3v2 tag before it.
    pub fn of(bytes: &[u8]) -> Option<Self> {
        let found = match bytes {
            [0xff, 0xd8, 0xff, ..] => Self::Jpeg,
            [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n', ..] => Self::Png,
            [b'R', b'I', b'F', b'F', _, _, _, _, kind @ ..] => return Self::of_riff(kind),
            [_, _, _, _, b'f', b't', b'y', b'p', rest @ ..] => return Self::of_brand(rest),
            [b'f', b'L', b'a', b'C', ..] => Self::Other("FLAC sound"),
            [b'O', b'g', b'g', b'S', ..] => Self::Other("Ogg sound or film"),
            [0x1a, 0x45, 0xdf, 0xa3, ..] => Self::Other("Matroska film"),
            [b'I', b'D', b'3', ..] => Self::Other("MPEG sound"),
            // Eleven set bits begin a frame; layer III leaves 01 in the next bits but one.
            [0xff, second, ..] if second & 0xe6 == 0xe2 => Self::Other("MPEG sound"),
            [b'F', b'O', b'R', b'M', _, _, _, _, b'A', b'I', b'F', ..] => Self::Other("AIFF sound"),
            _ => return None,
        };
        Some(found)
    }

    fn of_riff(kind: &[u8]) -> Option<Self> {
        match kind {
            [b'W', b'E', b'B', b'P', ..] => Some(Self::WebP),
            [b'W', b'A', b'V', b'E', ..] => Some(Self::Other("WAV sound")),
            [b'A', b'V', b'I', b' ', ..] => Some(Self::Other("AVI film")),
            _ => None,
        }
    }

    fn of_brand(brand: &[u8]) -> Option<Self> {
        let brand = brand.get(..4)?;
        let pictures: [&[u8; 4]; 10] =
            [b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1", b"avif", b"avis"];
        Some(match brand {
            _ if pictures.iter().any(|known| brand == *known) => Self::Heif,
            [b'M', b'4', b'A', _] => Self::Other("MPEG-4 sound"),
            _ => Self::Other("MPEG-4 film"),
        })
    }

    /// The registered media type of a picture (IANA), to be sent with its bytes. A sound or film is sent as plain bytes,
    /// since its first bytes do not say what is inside.
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Jpeg => "image/jpeg",
            Self::Png => "image/png",
            Self::WebP => "image/webp",
            Self::Heif => "image/heif",
            Self::Other(_) => "application/octet-stream",
        }
    }
}
