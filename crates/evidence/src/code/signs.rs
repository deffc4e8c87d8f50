//! The signs of a code as they were read: each one certain, or any of several.

use super::fault::{CodeFault, Problem};
use std::fmt;
use std::ops::Range;

/// A sign of a code: what it can be, of the digits 0 to 9 and the letters A to Z. `?` can be any, `[38]` 3 or 8.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Sign {
    /// A bit for each, digits first.
    can_be: u64,
    /// First byte in the text.
    pub(crate) start: usize,
    /// One past its last byte.
    pub(crate) end: usize,
}

const ANY: u64 = (1 << 36) - 1;
const DIGITS: u64 = (1 << 10) - 1;

impl Sign {
    /// The digits it can be.
    pub(crate) fn digits(self) -> impl Iterator<Item = u8> + Clone {
        (0..10).filter(move |digit| self.can_be >> digit & 1 == 1)
    }

    /// The letters it can be.
    pub(crate) fn letters(self) -> impl Iterator<Item = char> + Clone {
        ('A'..='Z').zip(10..36).filter(move |(_, bit)| self.can_be >> bit & 1 == 1).map(|(letter, _)| letter)
    }

    /// Whether it can be this digit.
    pub(crate) fn can_be_digit(self, digit: u8) -> bool {
        digit < 10 && self.can_be >> digit & 1 == 1
    }

    /// Whether it can be no digit.
    pub(crate) fn is_letter(self) -> bool {
        self.can_be & DIGITS == 0
    }

    /// Whether it can be no letter.
    pub(crate) fn is_digit(self) -> bool {
        self.can_be & !DIGITS == 0
    }

    /// Whether one thing only.
    pub(crate) fn is_certain(self) -> bool {
        self.can_be.count_ones() == 1
    }

    /// The same where only digits stand.
    pub(crate) fn as_digit(self) -> Sign {
        Sign { can_be: self.can_be & DIGITS, ..self }
    }
}

/// As it is typed: itself, `?` or `[38]`.
impl fmt::Display for Sign {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.can_be == ANY || self.can_be == DIGITS {
            return to.write_str("?");
        }
        let signs: String =
            self.digits().map(|digit| char::from(b'0' + digit)).chain(self.letters()).collect();
        if self.is_certain() { to.write_str(&signs) } else { write!(to, "[{signs}]") }
    }
}

/// Where signs stand in the text, from the first to the last.
pub(crate) fn place(signs: &[Sign]) -> Range<usize> {
    match (signs.first(), signs.last()) {
        (Some(first), Some(last)) => first.start..last.end,
        _ => 0..0,
    }
}

fn bit(sign: char) -> Option<u32> {
    sign.to_digit(36)
}

/// What parts a code into groups without being a sign of it.
fn parts_groups(sign: char) -> bool {
    sign.is_whitespace() || "-\u{2010}\u{2011}\u{2012}\u{2013}\u{2014}\u{2212}./,:·•".contains(sign)
}

/// Splits a text into groups of signs, at spaces, hyphens, points and strokes. At least one group, none of them empty.
pub(crate) fn groups(text: &str) -> Result<Vec<Vec<Sign>>, CodeFault> {
    let mut groups: Vec<Vec<Sign>> = Vec::new();
    let (mut at, mut open) = (0, false);
    while let Some(sign) = text[at..].chars().next() {
        let after = at + sign.len_utf8();
        if parts_groups(sign) {
            (at, open) = (after, false);
            continue;
        }
        let read = match sign {
            '?' => Sign { can_be: ANY, start: at, end: after },
            '[' => {
                let inside = text[after..].split_once(']').map(|(inside, _)| inside);
                let Some((inside, can_be)) = inside.and_then(|inside| Some((inside, alternatives(inside)?)))
                else {
                    return Err(CodeFault::at(text, at..text.len(), Problem::OpenBracket));
                };
                Sign { can_be, start: at, end: after + inside.len() + 1 }
            }
            _ => match bit(sign) {
                Some(bit) => Sign { can_be: 1 << bit, start: at, end: after },
                None => return Err(CodeFault::at(text, at..after, Problem::NotASign)),
            },
        };
        at = read.end;
        if open && let Some(group) = groups.last_mut() {
            group.push(read);
        } else {
            groups.push(vec![read]);
            open = true;
        }
    }
    if groups.is_empty() { Err(CodeFault::at(text, 0..text.len(), Problem::Empty)) } else { Ok(groups) }
}

/// What stands in brackets, as bits; `None` where that is nothing or no sign.
fn alternatives(inside: &str) -> Option<u64> {
    let can_be = inside
        .chars()
        .filter(|sign| !parts_groups(*sign))
        .map(bit)
        .try_fold(0, |so_far, bit| Some(so_far | 1_u64 << bit?))?;
    (can_be != 0).then_some(can_be)
}

/// The signs of a code that has between `least` and `most` of them, from as many groups as fit, and where the last ends.
pub(crate) fn leading(
    text: &str,
    least: usize,
    most: usize,
    as_in: &'static str,
) -> Result<(Vec<Sign>, usize), CodeFault> {
    let mut signs: Vec<Sign> = Vec::new();
    for group in groups(text)? {
        if signs.len() + group.len() <= most {
            signs.extend(group);
        } else if signs.is_empty() {
            return Err(CodeFault::at(text, place(&group), Problem::TooLong { as_in }));
        } else {
            break;
        }
    }
    let whole = place(&signs);
    if signs.len() < least {
        return Err(CodeFault::at(text, whole, Problem::TooShort { as_in }));
    }
    Ok((signs, whole.end))
}
