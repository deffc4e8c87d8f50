//! Who registered a source number, as far as lists are published.

use super::signs::Sign;
use crate::table;
use std::fmt;

const LISTS: &str = include_str!("../../data/source-codes.tsv");

/// A line of a published list of source numbers. A number may have been given to another later, and it names who took
/// responsibility for the part, who need not have made it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Registrant {
    /// The number.
    pub number: u16,
    /// Who, as listed.
    pub name: &'static str,
    /// What kind of part.
    pub kind: &'static str,
    /// The year of the list, where it is known.
    pub listed: Option<i16>,
    /// Which publication names it.
    pub published: &'static str,
}

impl Registrant {
    /// Every line there is, by number.
    pub fn all() -> impl Iterator<Item = Registrant> {
        table::rows::<5>(LISTS).filter_map(|[number, name, kind, listed, published]| {
            Some(Registrant {
                number: number.parse().ok()?,
                name,
                kind,
                listed: listed.parse().ok(),
                published,
            })
        })
    }
}

/// A source number as far as it can be read: one to four digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    signs: [Option<Sign>; 4],
}

impl Source {
    /// From one to four signs that can be digits.
    pub(crate) fn of(read: &[Sign]) -> Source {
        let mut signs = [None; 4];
        for (sign, read) in signs.iter_mut().zip(read) {
            *sign = Some(read.as_digit());
        }
        Source { signs }
    }

    /// The number, where every digit is certain.
    pub fn number(self) -> Option<u16> {
        self.signs.into_iter().flatten().try_fold(0, |so_far, sign| {
            let digit = sign.digits().next().filter(|_| sign.is_certain())?;
            Some(10 * so_far + u16::from(digit))
        })
    }

    /// Whether it can be this number.
    pub fn can_be(self, number: u16) -> bool {
        let digits = number.to_string();
        let signs = self.signs.into_iter().flatten();
        digits.len() == signs.clone().count()
            && signs.zip(digits.bytes()).all(|(sign, digit)| sign.can_be_digit(digit - b'0'))
    }

    /// The lines of the published lists that it can be; none does not mean that it was never registered.
    pub fn registrants(self) -> impl Iterator<Item = Registrant> {
        Registrant::all().filter(move |line| self.can_be(line.number))
    }
}

/// Its digits, `?` for one that cannot be read.
impl fmt::Display for Source {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.signs.iter().flatten().try_for_each(|sign| sign.fmt(to))
    }
}
