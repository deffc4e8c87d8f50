//! Papers are set and read back, from the pages as laid out and from the bytes of the file.

use typst::layout::{Frame, FrameItem, Point};

use super::*;
use crate::paper::{Block, Column, Photograph, Section};

/// The smallest PNG: one grey point (written from the chunks of ISO/IEC 15948, clause 11).
const POINT: &[u8] = &[
    0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, b'I', b'H', b'D', b'R', 0, 0, 0, 1, 0, 0, 0,
    1, 8, 0, 0, 0, 0, 0x3a, 0x7e, 0x9b, 0x55, 0, 0, 0, 10, b'I', b'D', b'A', b'T', 0x78, 0xda, 0x63, 0x68, 0,
    0, 0, 0x82, 0, 0x81, 0xda, 0x45, 0x08, 0x3b, 0, 0, 0, 0, b'I', b'E', b'N', b'D', 0xae, 0x42, 0x60, 0x82,
];

fn stamp() -> Stamp {
    Stamp { year: 2026, month: 11, day: 25, ident: "26-014".into() }
}

fn paper(blocks: Vec<Block>) -> Paper {
    let section = Section { heading: "Wiring".into(), intro: None, blocks };
    Paper {
        title: "Short-scale bass".into(),
        number: "26-014".into(),
        language: "en".into(),
        sections: vec![section],
        ..Paper::default()
    }
}

fn column(name: &str, numeric: bool) -> Column {
    Column { name: name.into(), numeric }
}

fn photograph(bytes: &[u8], caption: &str) -> Photograph {
    Photograph { bytes: bytes.to_vec(), caption: caption.into(), ..Photograph::default() }
}

/// One run of text on a page: its words, and where it begins and ends in points from the left.
struct Run {
    words: String,
    left: f64,
    right: f64,
}

fn runs(frame: &Frame, from: Point, into: &mut Vec<Run>) {
    for (at, item) in frame.items() {
        let place = from + *at;
        match item {
            FrameItem::Group(group) => {
                runs(&group.frame, place + Point::new(group.transform.tx, group.transform.ty), into);
            }
            FrameItem::Text(text) => into.push(Run {
                words: text.text.to_string(),
                left: place.x.to_pt(),
                right: (place.x + text.width()).to_pt(),
            }),
            _ => {}
        }
    }
}

/// The runs of each page.
fn read(paper: &Paper) -> Vec<Vec<Run>> {
    let pages = pages(paper, &[]).unwrap();
    let page = |frame: &Frame| {
        let mut found = Vec::new();
        runs(frame, Point::zero(), &mut found);
        found
    };
    pages.pages().iter().map(|one| page(&one.frame)).collect()
}

fn words(pages: &[Vec<Run>]) -> String {
    pages.iter().flatten().map(|run| run.words.as_str()).collect()
}

fn count(hay: &[u8], needle: &str) -> usize {
    hay.windows(needle.len()).filter(|part| *part == needle.as_bytes()).count()
}

#[test]
fn a_paper_with_everything_keeps_its_promises() {
    let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 20">
        <text x="2" y="12" font-family="DejaVu Sans" font-size="9">peak 5 kHz</text></svg>"#;
    let mut paper = paper(vec![
        Block::Caution("Unplug from any amplifier before metering.".into()),
        Block::Finding {
            sentence: "The bridge coil reads low.".into(),
            sure: "Fairly sure.".into(),
            rests_on: vec!["entry 14".into(), "entry 17".into()],
        },
        Block::Facts(vec![("Scale".into(), "762 mm".into())]),
        Block::Plot { svg: svg.into(), caption: "Level".into(), alt: String::new() },
        Block::Plot { svg: "<svg".into(), caption: String::new(), alt: String::new() },
        Block::Photographs(vec![
            photograph(POINT, "As found"),
            photograph(b"no picture", "Not readable"),
            photograph(POINT, ""),
        ]),
        Block::Steps(vec!["Meter choke b.".into()]),
        Block::Note("Cold.".into()),
    ]);
    paper.summary = vec!["Your bass is sound.".into(), "One wire is cut.".into()];
    paper.sections.push(Section { heading: "Nothing here".into(), ..Section::default() });
    paper.colophon = vec!["Head of the chain".into()];
    // The start of a gzip file keeps the type-setter from packing it, so it can be read in place.
    let record = [b"\x1f\x8b\x08".as_slice(), "{\"seq\":1}\r\nkΩ\0\u{7f}".as_bytes()].concat();
    let attached = Attachment {
        name: "record.jsonl.gz".into(),
        media: "application/gzip".into(),
        bytes: record.clone(),
        description: "The record".into(),
    };
    let bytes = pdf(&paper, std::slice::from_ref(&attached), &stamp()).unwrap();
    assert!(bytes.starts_with(b"%PDF-1.7"));
    for claim in [
        "<pdfaid:part>3</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
        "<xmp:CreateDate>2026-11-25",
        "/AFRelationship/Data",
        "/Marked true",
    ] {
        assert_eq!(count(&bytes, claim), 1, "{claim}");
    }
    assert_eq!(bytes, pdf(&paper, &[attached], &stamp()).unwrap(), "the same bytes twice");

    let start = bytes.windows(3).position(|part| part == b"\x1f\x8b\x08").unwrap();
    assert!(bytes[..start].ends_with(b"stream\n"));
    assert!(bytes[start..].starts_with(&record));
    assert!(bytes[start + record.len()..].starts_with(b"\nendstream"));

    let said = words(&read(&paper));
    assert_eq!(said.matches("This picture could not be drawn here.").count(), 2);
    assert!(!said.contains("Nothing here"));
    assert!(said.contains("Rests on entry 14, entry 17"));
}

#[test]
fn what_a_person_wrote_is_printed_and_never_obeyed() {
    let markup = "#set text(size: 90pt) $x^2$ \\ \"q\" *b* _i_ `r` <l> @ref // c /* d */ #panic()";
    let odd = "שלום مرحبا q\u{303}\u{331} \u{7} 🎸 漢 \u{e000} \u{202e}live";
    let long = "Wm".repeat(5_000);
    let cell = "W".repeat(300);
    let mut paper = paper(vec![
        Block::Paragraph(format!("{markup}\n{odd}")),
        Block::Finding { sentence: long.clone(), sure: markup.into(), rests_on: vec![] },
        Block::Table {
            caption: markup.into(),
            columns: vec![column(markup, false), column("n", true), column("m", true)],
            rows: vec![vec![cell.clone(), "1.5".into(), cell], vec![markup.into()]],
        },
    ]);
    paper.title = markup.into();
    let pages = read(&paper);
    let said = words(&pages);
    // On the paper, in the running head in part, and in the tables.
    assert!(said.matches(markup).count() >= 3, "{}", &said[..400]);
    assert!(said.contains("[U+0007]") && said.contains("[U+1F3B8]") && said.contains("[U+E000]"));
    assert_eq!(said.matches("Wm").count(), 5_000, "every sign of a long word is on the paper");
    // A4 is 595.3 pt wide and the margin is 26 mm, 73.7 pt. A letter may lean out by a point.
    let outside = pages.iter().flatten().find(|run| run.left < 84. || run.right > 522.6);
    assert!(outside.is_none(), "outside the margins: {:?}", outside.map(|run| &run.words));
    pdf(&paper, &[], &stamp()).unwrap();
}

#[test]
fn a_paper_with_nothing_on_it_is_still_a_paper() {
    let empty = Paper { language: "en".into(), ..Paper::default() };
    assert!(pdf(&empty, &[], &stamp()).unwrap().starts_with(b"%PDF-"));
    let said = words(&read(&empty));
    assert!(said.contains("Untitled") && said.contains("page 1 of 1"), "{said}");
}

#[test]
fn three_hundred_rows_repeat_their_head_and_align_their_figures() {
    let readings = ["6.31 kΩ", "251.4 kΩ", "not measured", "47 kΩ"];
    let rows = (0..300).map(|n| vec![format!("row {n}"), readings[n % 4].into()]).collect();
    let columns = vec![column("where", false), column("as read", true)];
    let pages = read(&paper(vec![Block::Table { caption: "Coils".into(), columns, rows }]));
    assert!(pages.len() > 6, "{} pages", pages.len());
    for page in &pages[1..] {
        assert_eq!(page.iter().filter(|run| run.words == "as read").count(), 1);
        assert!(words(std::slice::from_ref(page)).contains("26-014"), "the running head");
    }
    let said = words(&pages);
    assert!((0..300).all(|n| said.contains(&format!("row {n}"))));
    // Where the decimal sign stands, or would stand: one place for every reading.
    let signs: Vec<f64> = pages
        .iter()
        .flatten()
        .filter(|run| run.words.starts_with(".31") || run.words.starts_with(".4"))
        .map(|run| run.left)
        .chain(pages.iter().flatten().filter(|run| run.words == "47").map(|run| run.right))
        .collect();
    assert!(signs.len() >= 225);
    // A hundredth of a point is far below what a printer can show.
    assert!(signs.iter().all(|x| (x - signs[0]).abs() < 0.01), "{signs:?}");
}

#[test]
fn what_cannot_be_right_is_named() {
    let file = |name: &str, media: &str| Attachment {
        name: name.into(),
        media: media.into(),
        bytes: vec![],
        description: String::new(),
    };
    let refused = |paper: &Paper, files: &[Attachment]| pdf(paper, files, &stamp()).unwrap_err();
    let good = paper(vec![]);
    for name in ["", "a/b", "..", "a\\b", "a\nb"] {
        let said = refused(&good, &[file(name, "text/csv")]);
        assert_eq!(said, PaperError::AttachmentName { read: name.into() });
    }
    let twice = [file("a.csv", "text/csv"), file("a.csv", "text/csv")];
    assert_eq!(refused(&good, &twice), PaperError::AttachmentTwice { name: "a.csv".into() });
    let odd = refused(&good, &[file("a.csv", "csv")]);
    assert_eq!(odd, PaperError::AttachmentMedia { name: "a.csv".into(), read: "csv".into() });
    let language = Paper { language: "english".into(), ..good.clone() };
    assert_eq!(refused(&language, &[]), PaperError::Language { read: "english".into() });
    let day = Stamp { day: 31, ..stamp() };
    assert_eq!(pdf(&good, &[], &day).unwrap_err(), PaperError::Date { year: 2026, month: 11, day: 31 });
    let rows = vec![vec!["1".into()], vec!["1".into(), "2".into()]];
    let table = Block::Table { caption: "Coils".into(), columns: vec![column("a", true)], rows };
    let said = refused(&paper(vec![table]), &[]).to_string();
    assert!(said.starts_with("row 2 of the table `Coils` has 2 cells for 1 columns"), "{said}");
}
