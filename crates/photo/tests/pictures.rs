//! What is seen, what leaves, what is shown; and that no file brings the program down.

mod common;

use asfound_photo::{LONGEST_SIDE, Media, NotSeen, Seen, look, preview, without_location};
use common::{encoded, jpeg, telling};
use image::metadata::Orientation;
use image::{DynamicImage, ImageFormat, RgbImage};

fn pixels(bytes: &[u8]) -> RgbImage {
    image::load_from_memory(bytes).expect("decodes").into_rgb8()
}

#[test]
fn a_telling_picture_is_read() {
    for (bytes, media) in telling(6).iter().zip([Media::Jpeg, Media::Png, Media::WebP]) {
        let taken = Some("2026:11:03 14:09:12".to_owned());
        let want = Seen { media, width: 24, height: 16, taken, had_location: true, orientation: 6 };
        assert_eq!(look(bytes), Ok(want));
    }
}

#[test]
fn a_picture_that_tells_nothing_is_upright() {
    for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
        let seen = look(&encoded(format, 20, 10)).expect("a picture");
        assert_eq!((seen.width, seen.height, seen.orientation), (20, 10, 1));
        assert_eq!((seen.taken, seen.had_location), (None, false));
    }
}

#[test]
fn the_copy_keeps_the_pixels_and_the_turn_and_tells_nothing_else() {
    for orientation in 1..=8 {
        for bytes in telling(orientation) {
            let copy = without_location(&bytes).expect("stripped");
            let seen = look(&copy).expect("still a picture");
            assert_eq!((seen.taken, seen.had_location, seen.orientation), (None, false, orientation));
            assert_eq!(pixels(&copy), pixels(&bytes));
            assert!(!copy.windows(4).any(|window| window == b"2026"));
            // Stripping what is stripped changes nothing.
            assert_eq!(without_location(&copy), Ok(copy));
        }
    }
}

#[test]
fn a_picture_without_metadata_is_copied_as_it_is() {
    for bytes in [jpeg(40, 30), encoded(ImageFormat::Png, 40, 30), encoded(ImageFormat::WebP, 40, 30)] {
        assert_eq!(without_location(&bytes), Ok(bytes));
    }
}

#[test]
fn text_packets_and_what_hangs_on_behind_go_too() {
    let packet = b"http://ns.adobe.com/xap/1.0/\0<x exif:GPSLatitude='1,2N'/>";
    let plain = jpeg(40, 30);
    let mut telling = plain[..2].to_vec();
    for (marker, content) in [(0xe1, &packet[..]), (0xed, b"a caption with a town"), (0xfe, b"a comment")] {
        telling.extend([0xff, marker]);
        telling.extend((content.len() as u16 + 2).to_be_bytes());
        telling.extend(content);
    }
    telling.extend(&plain[2..]);
    telling.extend(b"a film with its own GPSLatitude");
    assert!(look(&telling).expect("a picture").had_location);
    assert_eq!(without_location(&telling), Ok(plain));

    let plain = encoded(ImageFormat::Png, 40, 30);
    let mut png = img_parts::png::Png::from_bytes(plain.clone().into()).unwrap();
    for kind in [*b"tEXt", *b"iTXt", *b"zTXt", *b"tIME", *b"prVt"] {
        png.chunks_mut().insert(1, img_parts::png::PngChunk::new(kind, packet[..].into()));
    }
    assert_eq!(without_location(&png.encoder().bytes()), Ok(plain));
}

#[test]
fn every_turn_is_shown_upright() {
    for orientation in 1..=8 {
        for bytes in telling(orientation) {
            let mut want = DynamicImage::ImageRgb8(pixels(&bytes));
            want.apply_orientation(Orientation::from_exif(orientation).expect("1 to 8"));
            let shown = pixels(&preview(&bytes, 4000).expect("shown"));
            assert_eq!(shown.dimensions(), want.to_rgb8().dimensions());
            // One more pass through JPEG at quality 82 moves a smooth picture by a few steps of 255.
            let far = shown.pixels().zip(want.to_rgb8().pixels()).map(|(a, b)| far_apart(a.0, b.0)).max();
            assert!(far <= Some(16), "turn {orientation}: {far:?}");
        }
    }
}

fn far_apart(one: [u8; 3], other: [u8; 3]) -> u8 {
    one.into_iter().zip(other).map(|(a, b)| a.abs_diff(b)).max().unwrap_or(0)
}

#[test]
fn a_preview_is_as_long_as_asked_and_never_larger() {
    for (size, long_side, want) in
        [((400, 100), 40, (40, 10)), ((100, 400), 40, (10, 40)), ((20, 10), 40, (20, 10))]
    {
        let small = preview(&jpeg(size.0, size.1), long_side).expect("shown");
        assert_eq!(pixels(&small).dimensions(), want);
        let seen = look(&small).expect("a picture");
        assert_eq!((seen.media, seen.taken, seen.orientation), (Media::Jpeg, None, 1));
    }
    assert_eq!(pixels(&preview(&jpeg(300, 2), 0).expect("shown")).dimensions(), (1, 1));
}

#[test]
fn see_through_parts_show_white() {
    let clear = image::RgbaImage::from_pixel(8, 8, image::Rgba([0, 0, 0, 0]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    DynamicImage::ImageRgba8(clear).write_to(&mut bytes, ImageFormat::Png).unwrap();
    let shown = pixels(&preview(&bytes.into_inner(), 8).expect("shown"));
    assert!(shown.pixels().all(|pixel| pixel.0.iter().all(|value| *value > 250)));
}

/// A PNG of a header and an end that claims to be `width` by `height`.
fn png_claiming(width: u32, height: u32) -> Vec<u8> {
    let mut png = img_parts::png::Png::from_bytes(encoded(ImageFormat::Png, 8, 8).into()).unwrap();
    let mut header = png.chunks()[0].contents().to_vec();
    header[..4].copy_from_slice(&width.to_be_bytes());
    header[4..8].copy_from_slice(&height.to_be_bytes());
    png.chunks_mut()[0] = img_parts::png::PngChunk::new(*b"IHDR", header.into());
    png.encoder().bytes().to_vec()
}

/// A JPEG whose frame header claims another size.
fn jpeg_claiming(width: u16, height: u16) -> Vec<u8> {
    let mut bytes = jpeg(8, 8);
    let frame = bytes.windows(2).position(|pair| pair == [0xff, 0xc0]).expect("a baseline frame");
    bytes[frame + 5..frame + 7].copy_from_slice(&height.to_be_bytes());
    bytes[frame + 7..frame + 9].copy_from_slice(&width.to_be_bytes());
    bytes
}

#[test]
fn too_large_is_said_with_the_size_before_anything_is_decoded() {
    let claims = [
        (png_claiming(30_000, 30_000), 30_000, 30_000),
        (jpeg_claiming(65_500, 65_500), 65_500, 65_500),
        // Two hundred million pixels, as some phones make.
        (jpeg_claiming(16_320, 12_240), 16_320, 12_240),
        // Each side passes, the pixels together do not: 12 000 × 12 000 × 3 bytes are 412 MiB.
        (png_claiming(LONGEST_SIDE, LONGEST_SIDE), LONGEST_SIDE, LONGEST_SIDE),
    ];
    for (bytes, width, height) in claims {
        let want = NotSeen::TooLarge { width, height };
        assert_eq!(look(&bytes), Err(want.clone()));
        assert_eq!(preview(&bytes, 480), Err(want.clone()));
        assert_eq!(without_location(&bytes), Err(want.clone()));
        assert!(want.to_string().contains(&width.to_string()));
    }
}

#[test]
fn no_beginning_of_a_picture_brings_the_program_down() {
    for bytes in telling(6) {
        for end in 0..bytes.len() {
            let part = &bytes[..end];
            let answers = [look(part).err(), preview(part, 8).err(), without_location(part).err()];
            // A part is no whole: the copy says so wherever it breaks off.
            assert!(answers[2].is_some(), "a copy of the first {end} of {} bytes", bytes.len());
            assert!(answers.into_iter().flatten().all(|answer| !matches!(answer, NotSeen::DecoderFailed(_))));
        }
    }
}

#[test]
fn one_wrong_byte_brings_nothing_down() {
    for bytes in telling(3) {
        for at in 0..bytes.len() {
            for wrong in [0xff, bytes[at] ^ 0x10] {
                let mut broken = bytes.clone();
                broken[at] = wrong;
                let answers =
                    [look(&broken).err(), preview(&broken, 8).err(), without_location(&broken).err()];
                assert!(answers.into_iter().flatten().all(|answer| !answer.to_string().is_empty()));
            }
        }
    }
}

#[test]
fn broken_metadata_refuses_no_picture() {
    let mut file = img_parts::jpeg::Jpeg::from_bytes(jpeg(8, 8).into()).unwrap();
    let mut block = common::exif(6);
    // The link to a further table points into nothing.
    block[46..50].copy_from_slice(&0x7fff_ffff_u32.to_be_bytes());
    img_parts::ImageEXIF::set_exif(&mut file, Some(block.into()));
    let seen = look(&file.encoder().bytes()).expect("a picture");
    assert_eq!((seen.orientation, seen.had_location), (6, true));
    assert_eq!(seen.taken.as_deref(), Some("2026:11:03 14:09:12"));
}

#[test]
fn other_files_are_named_where_they_are_known() {
    let clip = |name| Err(NotSeen::Clip(name));
    let known: [(&[u8], Result<Seen, NotSeen>); 8] = [
        (b"", Err(NotSeen::NotAPicture)),
        (b"a shopping list", Err(NotSeen::NotAPicture)),
        (b"\0\0\0\x18ftypheic\0\0\0\0", Err(NotSeen::Heif)),
        (b"\0\0\0\x18ftypisom\0\0\0\0", clip("MPEG-4 film")),
        (b"RIFF\x24\0\0\0WAVEfmt ", clip("WAV sound")),
        (b"fLaC\0\0\0\x22", clip("FLAC sound")),
        (b"OggS\0\x02", clip("Ogg sound or film")),
        (b"\xff\xfb\x90\0", clip("MPEG sound")),
    ];
    for (bytes, want) in known {
        assert_eq!(look(bytes), want);
        assert_eq!(preview(bytes, 480).err(), want.clone().err());
        assert_eq!(without_location(bytes).err(), want.err());
    }
    assert!(NotSeen::Heif.to_string().contains("JPEG"));
    assert_eq!(Media::of(b"ftyp"), None);
}
