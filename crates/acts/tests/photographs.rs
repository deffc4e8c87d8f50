//! Whatever a phone sends is kept, and it is said when it cannot be shown.

mod common;

use asfound_acts::{ActError, MOST_BYTES, Trouble};
use common::{photograph, sentence, with_a_job};

/// A JPEG whose header claims more pixels than any camera has.
fn huge_header() -> Vec<u8> {
    let mut bytes = photograph(8, 8);
    let frame = bytes.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    bytes[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xdc, 0xff, 0xdc]);
    bytes
}

#[test]
fn a_picture_is_kept_shown_and_stripped() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let bytes = photograph(1200, 600);
    let kept =
        workshop.keep_photograph(&number, "front.jpg", &bytes, Some("P1"), " front ", Some("p")).unwrap();
    assert_eq!(kept.not_shown, None);
    let job = workshop.job(&number).unwrap();
    let body = &job.photographs[0].body;
    assert_eq!((body.width, body.height, body.caption.as_str()), (Some(1200), Some(600), "front"));
    assert_eq!(body.media, "image/jpeg");
    assert_eq!(job.part("P1").unwrap().photographs, [0]);
    // The page's preview is there already; another size is made when it is asked for.
    assert!(workshop.preview_made(&kept.original, 800).unwrap().is_some());
    assert!(workshop.preview_made(&kept.original, 480).unwrap().is_none());
    assert!(workshop.preview(&kept.original, 480).unwrap().starts_with(&[0xff, 0xd8]));
    assert!(workshop.shareable(body.shareable.as_ref().unwrap()).is_ok());
    assert_eq!(workshop.cards().unwrap()[0].photograph.as_ref(), Some(&kept.original));
    assert_eq!(workshop.pictures_for_paper(&number).unwrap().len(), 1);
    // A reader makes a preview without keeping it.
    let reader = asfound_acts::Workshop::open_to_read(&bench.folder).unwrap();
    assert!(reader.preview(&kept.original, 300).is_ok());
    assert!(workshop.preview_made(&kept.original, 300).unwrap().is_none());
}

#[test]
fn width_and_height_are_those_of_the_upright_picture() {
    let (bench, number) = with_a_job();
    let mut bytes = photograph(40, 20);
    // An Exif block that says: turn by a quarter (tag 0x0112, value 6).
    let block = b"\xff\xe1\x00\x22Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    bytes.splice(2..2, block.iter().copied());
    bench.workshop.keep_photograph(&number, "turned.jpg", &bytes, None, "", None).unwrap();
    let job = bench.workshop.job(&number).unwrap();
    assert_eq!((job.photographs[0].body.width, job.photographs[0].body.height), (Some(20), Some(40)));
}

#[test]
fn what_cannot_be_shown_is_kept_with_the_reason() {
    let (bench, number) = with_a_job();
    let workshop = &bench.workshop;
    let mut broken = photograph(64, 64);
    broken.truncate(broken.len() / 2);
    let heic = [b"\0\0\0\x18ftypheic", &[0; 40][..]].concat();
    let clip = [b"RIFF\0\0\0\0WAVE", &[0; 40][..]].concat();
    let odd = [
        ("rubbish.bin", vec![7; 300], "JPEG, PNG and WebP"),
        ("phone.heic", heic, "HEIC"),
        ("tap.wav", clip, "WAV sound"),
        ("huge.jpg", huge_header(), "65500 by 65500"),
        ("one byte", vec![0], "not a picture"),
    ];
    for (name, bytes, says) in &odd {
        let kept = workshop.keep_photograph(&number, name, bytes, None, "", Some(name)).unwrap();
        let why = kept.not_shown.unwrap();
        assert!(why.contains(says), "{name}: {why}");
        assert_eq!(workshop.why_not_shown(&number, kept.seq).unwrap(), Some(why));
        let error = workshop.preview(&kept.original, 480).unwrap_err();
        assert_eq!(error.trouble(), Trouble::NotThere);
        assert_eq!(&workshop.shareable(&kept.original).unwrap(), bytes, "kept to the byte");
    }
    let kept = workshop.keep_photograph(&number, "cut.jpg", &broken, None, "", None).unwrap();
    let job = workshop.job(&number).unwrap();
    let body = &job.photographs.last().unwrap().body;
    assert_eq!(body.width.is_none(), kept.not_shown.is_some(), "a size is told only of what can be shown");
    assert!(job.photographs.iter().take(odd.len()).all(|item| item.body.width.is_none()));
    assert!(workshop.pictures_for_paper(&number).unwrap().len() <= 1);
    assert!(workshop.verify().unwrap().is_whole());
}

#[test]
fn a_form_sent_twice_keeps_a_photograph_once() {
    let (bench, number) = with_a_job();
    let keep = |bytes: &[u8]| bench.workshop.keep_photograph(&number, "a.jpg", bytes, None, "", Some("d-0"));
    let once = keep(b"rubbish").unwrap();
    assert_eq!(keep(b"rubbish").unwrap(), once);
    assert!(matches!(keep(b"other").unwrap_err(), ActError::SaidBefore { .. }));
    assert_eq!(bench.workshop.job(&number).unwrap().photographs.len(), 1);
}

#[test]
fn a_file_name_is_only_ever_words() {
    let (bench, number) = with_a_job();
    let before = std::fs::read_dir(&bench.folder).unwrap().count();
    let long = "n".repeat(20_000);
    let names = [
        "../../outside.jpg",
        "/etc/passwd",
        "a\0b\n\r",
        "<script>alert(1)</script>",
        "",
        "\u{202e}gpj",
        &long,
    ];
    for (at, name) in names.into_iter().enumerate() {
        bench.workshop.keep_photograph(&number, name, &[at as u8; 9], None, "", None).unwrap();
    }
    let job = bench.workshop.job(&number).unwrap();
    assert_eq!(job.photographs.iter().map(|item| item.body.name.as_str()).collect::<Vec<_>>(), names);
    assert_eq!(std::fs::read_dir(&bench.folder).unwrap().count(), before);
    assert!(!bench.folder.parent().unwrap().join("outside.jpg").exists());
}

#[test]
fn nothing_too_much_and_parts_that_are_not_there_are_refused() {
    let (bench, number) = with_a_job();
    let keep = |bytes: &[u8], part| bench.workshop.keep_photograph(&number, "a", bytes, part, "", None);
    assert!(sentence(&keep(b"", None).unwrap_err()).contains("file"));
    let error = keep(b"a", Some("P9")).unwrap_err();
    assert!(sentence(&error).contains("P1"), "{error}");
    let error = keep(&vec![0; MOST_BYTES as usize + 1], None).unwrap_err();
    assert!(sentence(&error).contains("256 MB"), "{error}");
    assert!(bench.workshop.job(&number).unwrap().photographs.is_empty());
}
