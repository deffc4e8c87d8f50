//! Bytes to text, and fields to numbers.

use super::error::SweepError;

/// The most lines that are read: a hundred times what an analyser writes.
pub(super) const MOST_LINES: usize = 100_000;

/// Text of a file in UTF-8, in UTF-16 with its mark, or in the one-byte code that older instruments write.
pub(super) fn decoded(bytes: &[u8]) -> Result<String, SweepError> {
    let text = match bytes {
        [0xFF, 0xFE, rest @ ..] => wide(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => wide(rest, u16::from_be_bytes),
        [0xEF, 0xBB, 0xBF, rest @ ..] => narrow(rest),
        _ => narrow(bytes),
    };
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let no_text = |character: char| character.is_control() && !matches!(character, '\n' | '\t' | '\u{1a}');
    if let Some(line) = text.lines().position(|line| line.contains(no_text)) {
        return Err(SweepError::NotText { line: line + 1 });
    }
    if text.lines().nth(MOST_LINES).is_some() {
        return Err(SweepError::TooLong { most: MOST_LINES });
    }
    Ok(text)
}

fn narrow(bytes: &[u8]) -> String {
    // Latin-1 gives each byte the character of its own number, so nothing is lost.
    std::str::from_utf8(bytes)
        .map_or_else(|_| bytes.iter().map(|byte| char::from(*byte)).collect(), str::to_owned)
}

fn wide(bytes: &[u8], join: fn([u8; 2]) -> u16) -> String {
    let units: Vec<u16> = bytes.chunks_exact(2).map(|pair| join([pair[0], pair[1]])).collect();
    String::from_utf16_lossy(&units)
}

/// What separates the fields of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Between {
    Semicolon,
    Tab,
    Comma,
    Blanks,
}

impl Between {
    /// What the lines agree on: a semicolon or a tab is never part of a number, a comma may be.
    pub(super) fn of<'a>(lines: impl Iterator<Item = &'a str> + Clone) -> Self {
        let has = |mark: char| lines.clone().any(|line| line.contains(mark));
        if has(';') {
            return Self::Semicolon;
        }
        if has('\t') {
            return Self::Tab;
        }
        // “100,5 6200,1”: as many blanks as there are numbers less one, and commas only inside them.
        let words = |line: &str| line.split_whitespace().filter(|word| number(word, ',').is_some()).count();
        let bare =
            lines.clone().any(|line| words(line) >= 2 && words(line) == line.split_whitespace().count());
        if has(',') && !bare { Self::Comma } else { Self::Blanks }
    }

    /// The fields of a line, without blanks and quotes around them. A separator within quotes belongs to its field.
    pub(super) fn fields(self, line: &str) -> Vec<String> {
        let mark = match self {
            Self::Blanks => {
                return line.split_whitespace().map(|word| word.trim_matches('"').to_owned()).collect();
            }
            Self::Semicolon => ';',
            Self::Tab => '\t',
            Self::Comma => ',',
        };
        let mut quoted = false;
        let fields = line.split(|character: char| {
            quoted ^= character == '"';
            character == mark && !quoted
        });
        let mut fields: Vec<String> =
            fields.map(|field| field.trim().trim_matches('"').trim().to_owned()).collect();
        // A separator at the end of every line is a habit of some programs.
        if fields.last().is_some_and(String::is_empty) {
            fields.pop();
        }
        fields
    }
}

/// A finite number with the given decimal mark, and nothing else in the field.
pub(super) fn number(field: &str, decimal: char) -> Option<f64> {
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | 'e' | 'E') || c == decimal;
    if !field.contains(|c: char| c.is_ascii_digit()) || !field.chars().all(plain) {
        return None;
    }
    // “100,” is a number and a separator, not a decimal comma.
    if decimal == ',' && (field.starts_with(',') || field.ends_with(',')) {
        return None;
    }
    field.replace(decimal, ".").parse::<f64>().ok().filter(|number| number.is_finite())
}
