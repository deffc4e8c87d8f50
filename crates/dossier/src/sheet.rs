//! A paper as data for the template: cleaned texts, split figures, checked pictures.
//!
//! The template is code and is written once. What a person wrote reaches it only through a JSON
//! file and picture files, so that no text can act as markup.

use serde_json::{Value, json};
use typst::foundations::{Bytes, Smart};
use typst::visualize::{ExchangeFormat, RasterImage, SvgImage};

use crate::figures::{self, Figure};
use crate::paper::{Attachment, Block, Column, Paper, PaperError, Photograph, Section};
use crate::signs::{Room, Signs, breakable, by_number, shortened};

/// Up to so many bytes of text a finding or a table of a few rows is kept on one page; more could
/// be higher than a page, and what is kept together and does not fit would be cut.
const WHOLE: usize = 900;

/// What the template reads.
pub(crate) struct Sheet {
    /// The content of `paper.json`.
    pub(crate) data: Value,
    /// The content of `picture-0`, `picture-1` and so on.
    pub(crate) pictures: Vec<Bytes>,
}

/// Turns a paper into what the template reads.
pub(crate) fn sheet(
    paper: &Paper,
    attachments: &[Attachment],
    signs: Signs<'_>,
) -> Result<Sheet, PaperError> {
    let mut maker = Maker { signs, pictures: Vec::new() };
    let (language, region) = language(&paper.language)?;
    let title = match (paper.title.trim(), paper.number.trim()) {
        ("", "") => "Untitled",
        ("", number) => number,
        (title, _) => title,
    };
    let sections = paper
        .sections
        .iter()
        .filter_map(|section| maker.section(section).transpose())
        .collect::<Result<Vec<_>, _>>()?;
    let mut data = json!({
        "title": maker.text(title, Room::Capitals(18)),
        "running_title": maker.line(title, 62),
        "meta_title": maker.line(title, 200),
        "subtitle": maker.text(&paper.subtitle, Room::Capitals(24)),
        "number": maker.line(&paper.number, 40),
        "date": maker.line(&paper.date, 40),
        "prepared_by": maker.text(&paper.prepared_by, Room::Capitals(20)),
        "meta_author": maker.line(&paper.prepared_by, 200),
        "language": language,
        "region": region,
        "summary": maker.texts(&paper.summary, Room::Capitals(24)),
        "sections": sections,
        "colophon": maker.texts(&paper.colophon, Room::Page),
        "colophon_whole": paper.colophon.iter().map(String::len).sum::<usize>() < 3 * WHOLE
            && attachments.len() < 8,
        "foot_note": maker.line(&paper.foot_note, 70),
        "attachments": attachments.iter().map(|file| json!({
            "name": file.name,
            "shown": maker.text(&file.name, Room::Capitals(16)),
            "media": file.media,
            "description": maker.text(&file.description, Room::Capitals(24)),
            "size": size(file.bytes.len()),
        })).collect::<Vec<_>>(),
    });
    // Last, because every text has to be read before it is known which signs were missing.
    data["numbered"] = maker.signs.numbered().iter().take(40).map(|s| by_number(*s)).collect();
    Ok(Sheet { data, pictures: maker.pictures })
}

struct Maker<'a> {
    signs: Signs<'a>,
    pictures: Vec<Bytes>,
}

impl Maker<'_> {
    fn text(&mut self, text: &str, room: Room) -> String {
        breakable(&self.signs.printable(text.trim()), room)
    }

    fn line(&mut self, text: &str, signs: usize) -> String {
        let shown = self.signs.printable(text);
        shortened(&shown.replace(crate::signs::BREAK, ""), signs)
    }

    fn texts(&mut self, texts: &[String], room: Room) -> Vec<String> {
        texts.iter().map(|text| self.text(text, room)).filter(|text| !text.is_empty()).collect()
    }

    /// A section, or nothing if there is nothing in it.
    fn section(&mut self, section: &Section) -> Result<Option<Value>, PaperError> {
        let mut blocks = Vec::new();
        for block in &section.blocks {
            blocks.extend(self.block(block)?);
        }
        let intro = self.text(section.intro.as_deref().unwrap_or_default(), Room::Capitals(24));
        if blocks.is_empty() && intro.is_empty() {
            return Ok(None);
        }
        let turned = section.blocks.iter().any(|block| {
            matches!(block, Block::Table { columns, rows, .. } if columns.len() > 9 && !rows.is_empty())
        });
        Ok(Some(json!({
            "heading": self.text(&section.heading, Room::Capitals(20)),
            "intro": intro,
            "turned": turned,
            "blocks": blocks,
        })))
    }

    /// A block, or nothing if there is nothing in it.
    fn block(&mut self, block: &Block) -> Result<Option<Value>, PaperError> {
        let words = Room::Capitals(24);
        Ok(match block {
            Block::Paragraph(text) => self.said("paragraph", text),
            Block::Caution(text) => self.said("caution", text),
            Block::Note(text) => self.said("note", text),
            Block::Finding { sentence, sure, rests_on } => {
                let sentence = self.text(sentence, Room::Capitals(22));
                let whole = sentence.len() < WHOLE;
                (!sentence.is_empty()).then(|| {
                    json!({
                        "kind": "finding",
                        "sentence": sentence,
                        "whole": whole,
                        "sure": self.text(sure, words),
                        "rests_on": self.texts(rests_on, words),
                    })
                })
            }
            Block::Facts(facts) => {
                let rows: Vec<_> = facts
                    .iter()
                    .filter(|(name, fact)| !name.trim().is_empty() || !fact.trim().is_empty())
                    .map(|(name, fact)| {
                        (self.text(name, Room::Capitals(12)), self.text(fact, Room::Capitals(22)))
                    })
                    .collect();
                (!rows.is_empty()).then(|| json!({ "kind": "facts", "rows": rows }))
            }
            Block::Table { caption, columns, rows } => self.table(caption, columns, rows)?,
            Block::Plot { svg, caption, alt } => Some(self.plot(svg, caption, alt)),
            Block::Photographs(photographs) => {
                let pictures: Vec<_> = photographs.iter().map(|p| self.photograph(p)).collect();
                (!pictures.is_empty()).then(|| json!({ "kind": "photographs", "pictures": pictures }))
            }
            Block::Steps(steps) => {
                let steps = self.texts(steps, words);
                (!steps.is_empty()).then(|| json!({ "kind": "steps", "steps": steps }))
            }
        })
    }

    fn said(&mut self, kind: &str, text: &str) -> Option<Value> {
        let text = self.text(text, Room::Capitals(24));
        (!text.is_empty()).then(|| json!({ "kind": kind, "text": text }))
    }

    fn table(
        &mut self,
        caption: &str,
        columns: &[Column],
        rows: &[Vec<String>],
    ) -> Result<Option<Value>, PaperError> {
        if let Some(at) = rows.iter().position(|row| row.len() > columns.len()) {
            return Err(PaperError::RowTooLong {
                caption: caption.to_owned(),
                row: at + 1,
                cells: rows[at].len(),
                columns: columns.len(),
            });
        }
        if columns.is_empty() || rows.is_empty() {
            return Ok(None);
        }
        let room = Room::Capitals((70 / columns.len()).clamp(8, 20));
        let whole = rows.len() <= 8 && rows.iter().flatten().map(String::len).sum::<usize>() < WHOLE;
        let heads: Vec<_> =
            columns.iter().enumerate().map(|(at, c)| self.head(c, longest(rows, at), room)).collect();
        let rows: Vec<Vec<Value>> = rows
            .iter()
            .map(|row| {
                (0..columns.len())
                    .map(|at| {
                        let cell = row.get(at).map_or("", String::as_str);
                        self.cell(cell, heads[at]["numeric"] == true, room)
                    })
                    .collect()
            })
            .collect();
        Ok(Some(json!({
            "kind": "table",
            "caption": self.text(caption, Room::Capitals(24)),
            "columns": heads,
            "whole": whole,
            "rows": rows,
        })))
    }

    /// A column's head. Figures too long to stand on one line are set as words.
    fn head(&mut self, column: &Column, longest: usize, room: Room) -> Value {
        json!({
            "name": self.text(&column.name, room),
            "numeric": column.numeric && longest <= 24,
            "longest": longest.max(column.name.chars().count()),
        })
    }

    fn cell(&mut self, cell: &str, numeric: bool, room: Room) -> Value {
        if !numeric {
            return json!({ "words": self.text(cell, room) });
        }
        match figures::split(&self.signs.printable(cell)) {
            Figure::Number(before, after) => json!({ "before": before, "after": after }),
            Figure::Words(words) => json!({ "words": words }),
        }
    }

    fn plot(&mut self, svg: &str, caption: &str, alt: &str) -> Value {
        // The signs of the drawing's own markup are all printable, so only its texts change.
        let bytes = Bytes::from_string(self.signs.printable(svg));
        // A picture inside a drawing would be a way to files that are not part of the paper.
        let drawn = !svg.contains("<image") && SvgImage::new(bytes.clone()).is_ok();
        let shape = drawn.then(|| json!({ "file": self.keep(bytes) }));
        let alt = self.described(alt, caption, "A plot without a description.");
        let caption = self.text(caption, Room::Capitals(24));
        json!({ "kind": "plot", "caption": caption, "alt": alt, "picture": shape })
    }

    fn photograph(&mut self, photograph: &Photograph) -> Value {
        let bytes = Bytes::new(photograph.bytes.clone());
        let shape = aspect(&bytes).map(|aspect| json!({ "file": self.keep(bytes), "aspect": aspect }));
        json!({
            "picture": shape,
            "alt": self.described(
                &photograph.alt,
                &photograph.caption,
                "A photograph without a description.",
            ),
            "caption": self.text(&photograph.caption, Room::Capitals(16)),
            "hash": self.text(&photograph.hash_short, Room::Capitals(16)),
        })
    }

    /// The words for somebody who cannot see a picture: never empty (ISO 14289-1, 7.3).
    fn described(&mut self, alt: &str, caption: &str, otherwise: &str) -> String {
        let said = [alt, caption].into_iter().find(|text| !text.trim().is_empty());
        self.line(said.unwrap_or(otherwise), 4000)
    }

    fn keep(&mut self, bytes: Bytes) -> usize {
        self.pictures.push(bytes);
        self.pictures.len() - 1
    }
}

/// The longest cell of a column, in signs.
fn longest(rows: &[Vec<String>], at: usize) -> usize {
    rows.iter().filter_map(|row| row.get(at)).map(|cell| cell.chars().count()).max().unwrap_or(0)
}

/// Width over height, or nothing if the picture cannot go into an archival paper.
fn aspect(bytes: &Bytes) -> Option<f64> {
    let format = ExchangeFormat::detect(bytes)?;
    // Four inks need a profile of the press they were mixed for (ISO 19005-3, 6.2.4.3).
    if format == ExchangeFormat::Jpg && components(bytes) == Some(4) {
        return None;
    }
    let image = RasterImage::new(bytes.clone(), format, Smart::Auto).ok()?;
    Some(f64::from(image.width()) / f64::from(image.height().max(1)))
}

/// How many colour components a JPEG has, from its frame header (ITU-T T.81, B.2.2).
fn components(jpeg: &[u8]) -> Option<u8> {
    let mut at = 2;
    loop {
        let [0xff, marker, high, low] = *jpeg.get(at..at + 4)? else { return None };
        // Frame headers are C0 to CF, but for C4, C8 and CC, which are tables and a reserve.
        if matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
            return jpeg.get(at + 9).copied();
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
    }
}

/// The language and the region of a tag (RFC 5646): two or three letters, then perhaps two more.
fn language(tag: &str) -> Result<(String, Option<String>), PaperError> {
    let refuse = || PaperError::Language { read: shortened(tag, 40) };
    let letters = |part: &str, most: usize| {
        (2..=most).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_alphabetic())
    };
    let mut parts = tag.trim().split('-');
    let language = parts.next().filter(|part| letters(part, 3)).ok_or_else(refuse)?;
    let region = parts.find(|part| letters(part, 2)).map(str::to_ascii_uppercase);
    Ok((language.to_ascii_lowercase(), region))
}

/// A file's size as people read it.
fn size(bytes: usize) -> String {
    match bytes {
        0..1_000 => format!("{bytes} B"),
        1_000..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        _ => format!("{}.{} MB", bytes / 1_000_000, bytes % 1_000_000 / 100_000),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn language_tags_are_read_or_refused() {
        assert_eq!(language("en").unwrap(), ("en".into(), None));
        assert_eq!(language("pt-br").unwrap(), ("pt".into(), Some("BR".into())));
        assert_eq!(language("zh-Hant-TW").unwrap(), ("zh".into(), Some("TW".into())));
        for read in ["", "english", "e", "12", "#en"] {
            assert!(language(read).is_err(), "{read}");
        }
    }

    #[test]
    fn four_inks_are_seen_in_the_frame_header() {
        let with = |n| {
            let mut jpeg = vec![0xff, 0xd8, 0xff, 0xe0, 0, 4, 0, 0, 0xff, 0xc0, 0, 20];
            jpeg.extend([8, 0, 9, 0, 9, n]);
            jpeg
        };
        assert_eq!(components(&with(4)), Some(4));
        assert_eq!(components(&with(3)), Some(3));
        assert_eq!(components(&[0xff, 0xd8]), None);
    }
}
