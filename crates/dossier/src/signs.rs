//! Making any text printable without losing what was written.
//!
//! An archival PDF may not hold a sign without a glyph (ISO 19005-3, 6.2.11.8) nor one from the
//! private use areas (6.2.11.7.3). Rather than refuse a paper for one odd sign, the sign is
//! written by its number, and the paper says so. The test is made against one face, the one
//! every other falls back on: a letter and the accent above it must come from the same face.

use std::collections::BTreeSet;

use typst::text::FontInfo;

/// Where a long word may be broken although it has no space.
pub(crate) const BREAK: char = '\u{200b}';

/// Reads text of people and remembers which signs had to be written by number.
pub(crate) struct Signs<'a> {
    face: &'a FontInfo,
    numbered: BTreeSet<char>,
}

impl<'a> Signs<'a> {
    /// Signs of the face that all others fall back on.
    pub(crate) fn new(face: &'a FontInfo) -> Self {
        Self { face, numbered: BTreeSet::new() }
    }

    /// The signs that were written by number so far.
    pub(crate) fn numbered(&self) -> &BTreeSet<char> {
        &self.numbered
    }

    /// The text with only signs that can be printed. Line ends become `\n`.
    pub(crate) fn printable(&mut self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut before = '\0';
        for sign in text.replace("\r\n", "\n").chars() {
            match sign {
                '\n' | '\r' | '\u{2028}' | '\u{2029}' => out.push('\n'),
                // Spaces of scripts whose letters are not in the faces.
                '\t' | '\u{1680}' | '\u{3000}' => out.push(' '),
                BREAK => out.push(BREAK),
                // A joiner is meant for the letters on both sides of it.
                '\u{200c}' | '\u{200d}' if before.is_alphabetic() && self.prints(before) => {
                    out.push(sign);
                }
                _ if is_silent(sign) => {}
                _ if self.prints(sign) => out.push(sign),
                _ => {
                    out.push_str(&by_number(sign));
                    self.numbered.insert(sign);
                }
            }
            before = sign;
        }
        out
    }

    fn prints(&self, sign: char) -> bool {
        let private = matches!(u32::from(sign), 0xe000..=0xf8ff | 0xf0000..);
        !private && !sign.is_control() && self.face.coverage.contains(u32::from(sign))
    }
}

/// How a sign is written when no face holds it: `[U+1F3B8]`.
pub(crate) fn by_number(sign: char) -> String {
    format!("[U+{:04X}]", u32::from(sign))
}

/// Signs that print nothing: variation selectors, tags, joiners out of place, and the overrides
/// of direction, which could make a line read otherwise than it was written.
fn is_silent(sign: char) -> bool {
    matches!(u32::from(sign),
        0x34f | 0x61c | 0x180b..=0x180e | 0x200c..=0x200f | 0x202a..=0x202e | 0x2060..=0x206f
        | 0xfe00..=0xfe0f | 0xfeff | 0xfff9..=0xfffb | 0xe0000..=0xe0fff)
}

/// How wide the place is that a text must fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Room {
    /// The whole width of the page: a hash of 64 signs stays in one piece.
    Page,
    /// A column of about so many capitals.
    Capitals(usize),
}

/// The text with places to break in words that are too long for their room.
pub(crate) fn breakable(text: &str, room: Room) -> String {
    let (limit, piece) = match room {
        Room::Page => (24, 8),
        Room::Capitals(n) => (n, (n / 2).clamp(3, 8)),
    };
    let mut out = String::with_capacity(text.len());
    for word in text.split_inclusive([' ', '\n', BREAK]) {
        let length = word.chars().count();
        let hash =
            room == Room::Page && length <= 65 && word.trim_end().bytes().all(|b| b.is_ascii_hexdigit());
        if length <= limit || hash {
            out.push_str(word);
            continue;
        }
        let mut run = 0;
        for sign in word.chars() {
            if run >= piece && !is_mark(sign) && !sign.is_whitespace() && sign != BREAK {
                out.push(BREAK);
                run = 0;
            }
            out.push(sign);
            run += 1;
        }
    }
    out
}

/// Marks that belong to the letter before them.
fn is_mark(sign: char) -> bool {
    matches!(u32::from(sign),
        0x300..=0x36f | 0x483..=0x489 | 0x591..=0x5c7 | 0x64b..=0x65f | 0x670
        | 0x6d6..=0x6ed | 0x1ab0..=0x1aff | 0x1dc0..=0x1dff | 0x200c | 0x200d
        | 0x20d0..=0x20ff | 0xfe20..=0xfe2f)
}

/// At most so many signs, with an ellipsis where something was left out.
pub(crate) fn shortened(text: &str, signs: usize) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if line.chars().count() <= signs {
        return line;
    }
    let kept: String = line.chars().take(signs.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_words_get_places_to_break_and_hashes_stay_whole() {
        let word = "x".repeat(30);
        assert!(breakable(&word, Room::Page).contains(BREAK));
        assert_eq!(breakable("a pickup", Room::Page), "a pickup");
        let hash = "0123456789abcdef".repeat(4);
        assert_eq!(breakable(&hash, Room::Page), hash);
        assert!(breakable(&hash, Room::Capitals(20)).contains(BREAK));
        assert_eq!(breakable(&word, Room::Capitals(8)).replace(BREAK, ""), word);
    }

    #[test]
    fn a_long_title_is_shortened_for_the_running_head() {
        assert_eq!(shortened("one two", 20), "one two");
        assert_eq!(shortened("one two three", 8), "one two…");
    }
}
