//! Reading what people write at a bench.

use crate::decimal::Decimal;
use crate::dimension::Dimension;
use crate::number::{Cursor, Number, number};
use crate::read_error::{Problem, ReadError, hints, with_units};
use crate::unit::{Unit, plain};
use std::fmt;
use std::ops::Range;

/// What was written, kept as it was typed, and how it was understood.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Written {
    /// The text, byte for byte as typed.
    pub text: String,
    /// How much, or why there is no number.
    pub amount: Amount,
    /// The unit typed; the base unit of the dimension where none was.
    pub unit: Unit,
    /// The number below the line where the amount was a fraction, as 8 in `12-3/8`.
    pub denominator: Option<u32>,
}

/// How much. Having no number is an answer too, and differs from zero and from blank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Amount {
    /// The number shown.
    Exactly(Decimal),
    /// More than this.
    Over(Decimal),
    /// Less than this.
    Under(Decimal),
    /// Nobody measured it.
    NotMeasured,
    /// The meter showed more than its range.
    OverRange,
    /// Looked at, and it cannot be told.
    CannotTell,
}

impl Amount {
    /// The number, where there is one: of a bound, the bound.
    pub const fn number(self) -> Option<Decimal> {
        match self {
            Self::Exactly(number) | Self::Over(number) | Self::Under(number) => Some(number),
            Self::NotMeasured | Self::OverRange | Self::CannotTell => None,
        }
    }
}

impl Written {
    /// What the unit measures.
    pub const fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// The number in the base unit of its dimension: ohm, farad, henry, hertz, °C, mm, g, V, A, s or °. Of `over` and
    /// `under` it is the bound; `None` where there is no number.
    pub fn value_in_base(&self) -> Option<f64> {
        self.amount.number().map(|number| self.unit.to_base(number))
    }

    /// One unit of the last digit typed, in the base unit: 10 (ohms) for `6k31`. For a fraction, one part of the
    /// division typed. This is the resolution of what was written, which may be coarser than the meter's.
    pub fn last_place(&self) -> Option<f64> {
        let number = self.amount.number()?;
        Some(match self.denominator {
            Some(parts) => self.unit.difference_to_base(Decimal::whole(1)) / f64::from(parts),
            None => self.unit.difference_to_base(number.last_place()),
        })
    }
}

impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// Words that open a bound, and whether it is an upper side that is open. Longer ones stand first.
const BOUNDS: [(&str, bool); 10] = [
    ("greater than", true),
    ("more than", true),
    ("over", true),
    ("above", true),
    (">", true),
    ("less than", false),
    ("under", false),
    ("below", false),
    ("<", false),
    ("fewer than", false),
];

/// Answers without a number. `OL` and `0L` are what meters show.
const ANSWERS: [(&str, Amount); 11] = [
    ("not measured", Amount::NotMeasured),
    ("unmeasured", Amount::NotMeasured),
    ("over range", Amount::OverRange),
    ("over-range", Amount::OverRange),
    ("overrange", Amount::OverRange),
    ("over load", Amount::OverRange),
    ("overload", Amount::OverRange),
    ("o.l", Amount::OverRange),
    ("ol", Amount::OverRange),
    ("0l", Amount::OverRange),
    ("cannot tell", Amount::CannotTell),
];

/// Reads what was typed as a quantity of the dimension wanted.
///
/// Both decimal signs, any space, the letter as decimal sign (`6k31`), fractions of an inch, bounds (`over 20k`) and
/// answers without a number (`OL`, `not measured`, `cannot tell`) are read. What can mean two things is asked back:
/// - `6,310`: decimals or thousands. `0,310`, `6,31` and `6.310` are not in doubt.
/// - A bare `m` behind a resistance: `M` is mega and `mohm` is milli, but a lone `m` is written for both.
/// - A number with no unit, except for ohms, hertz, volts and degrees of arc, where nobody means another.
/// - `66K` as a temperature. `K` with a space before it, or `kelvin`, is kelvin; behind a resistance `K` is kilo.
/// - `mF` and `MF` behind a capacitance: a millionth on old parts, a thousandth on new ones.
///
/// # Errors
/// [`ReadError`] with the place, what was read there, and three texts that would be right.
///
/// ```
/// use asfound_measure::{Dimension, read};
/// let neck = read("6k31", Dimension::Resistance)?;
/// assert_eq!(neck.value_in_base(), Some(6310.0));
/// assert_eq!(neck.last_place(), Some(10.0));
/// # Ok::<(), asfound_measure::ReadError>(())
/// ```
pub fn read(text: &str, expected: Dimension) -> Result<Written, ReadError> {
    let mut cursor = Cursor { text, at: 0 };
    cursor.skip_space();
    if cursor.rest().is_empty() {
        return Err(ReadError::at(text, 0..text.len(), Problem::Empty, hints(expected, None)));
    }
    if let Some(answer) = answer_without_number(&mut cursor, expected) {
        return answer;
    }
    let bound = bound(&mut cursor);
    cursor.skip_space();
    let number = number(&mut cursor, expected)?;
    let spaced = cursor.rest().starts_with(char::is_whitespace);
    cursor.skip_space();
    let place = cursor.at..cursor.at + cursor.rest().trim_end().len();
    let unit = Behind { text, place, spaced, number: &number, wanted: expected }.unit()?;
    let amount = match bound {
        None => Amount::Exactly(number.decimal),
        Some(true) => Amount::Over(number.decimal),
        Some(false) => Amount::Under(number.decimal),
    };
    Ok(Written { text: text.to_owned(), amount, unit, denominator: number.denominator })
}

/// Moves past a word that opens a bound; true where the upper side is open.
fn bound(cursor: &mut Cursor<'_>) -> Option<bool> {
    BOUNDS.into_iter().find_map(|(word, over)| {
        starts_with_words(cursor.rest(), word).map(|length| {
            cursor.at += length;
            over
        })
    })
}

/// `OL` and its like, perhaps with a unit behind; `None` where the text opens otherwise.
fn answer_without_number(cursor: &mut Cursor<'_>, wanted: Dimension) -> Option<Result<Written, ReadError>> {
    let rest = cursor.rest().replace(['’', '\''], "");
    let cannot = rest.trim_end().eq_ignore_ascii_case("cant tell");
    let (length, amount) = if cannot {
        (cursor.rest().len(), Amount::CannotTell)
    } else {
        ANSWERS
            .into_iter()
            .find_map(|(words, amount)| Some((starts_with_words(cursor.rest(), words)?, amount)))?
    };
    cursor.at += length;
    let behind = cursor.rest().trim();
    let unit = match behind.trim_start_matches('.') {
        "" => Some(wanted.base_unit()),
        unit => Unit::spelled(&plain(unit), wanted),
    };
    let text = cursor.text;
    Some(match unit {
        Some(unit) => Ok(Written { text: text.to_owned(), amount, unit, denominator: None }),
        None => {
            cursor.skip_space();
            let place = cursor.at..cursor.at + cursor.rest().trim_end().len();
            Err(ReadError::at(text, place, Problem::MoreText, hints(wanted, None)))
        }
    })
}

/// How many bytes of `text` the words take, in any case and with any spaces between; words end at a word's border.
fn starts_with_words(text: &str, words: &str) -> Option<usize> {
    let mut rest = text;
    for (position, word) in words.split(' ').enumerate() {
        if position > 0 {
            let trimmed = rest.trim_start();
            if trimmed.len() == rest.len() {
                return None;
            }
            rest = trimmed;
        }
        let head = rest.get(..word.len()).filter(|head| head.eq_ignore_ascii_case(word))?;
        rest = &rest[head.len()..];
    }
    // `over20k` is plain enough; `olive` and `overt` are not.
    let ends = !words.ends_with(char::is_alphabetic) || !rest.starts_with(char::is_alphabetic);
    ends.then_some(text.len() - rest.len())
}

/// What stands behind a number.
struct Behind<'a> {
    text: &'a str,
    /// Where the unit stands; empty where there is none.
    place: Range<usize>,
    /// Whether a space stands before it.
    spaced: bool,
    number: &'a Number,
    wanted: Dimension,
}

impl Behind<'_> {
    fn unit(&self) -> Result<Unit, ReadError> {
        let typed = self.text.get(self.place.clone()).unwrap_or_default();
        let spelling = plain(typed);
        let unit = match &self.number.letter {
            Some((letter, place)) => self.unit_with_letter(letter, place.clone(), &spelling)?,
            None if spelling.is_empty() => self.unit_of_bare_number()?,
            None => self.unit_spelled(&spelling, self.place.clone())?,
        };
        if unit == Unit::Kelvin && spelling == "K" && !self.spaced {
            return Err(self.error(self.place.clone(), Problem::KelvinOrKilo));
        }
        if self.number.denominator.is_some() && !matches!(unit, Unit::Inch | Unit::Foot) {
            let mut error = self.error(self.place.clone(), Problem::FractionNeedsInches);
            error.hints[0] = format!("{} mm", self.number.decimal);
            error.hints[1] = format!("{} in", self.text.get(self.number.place.clone()).unwrap_or_default());
            error.hints[2] = format!("{} in", self.number.decimal);
            return Err(error);
        }
        Ok(unit)
    }

    /// `6k31`, perhaps with `ohm` behind it: the letter and what follows are one unit.
    fn unit_with_letter(&self, letter: &str, place: Range<usize>, behind: &str) -> Result<Unit, ReadError> {
        let unit = self.unit_spelled(letter, place)?;
        if !behind.is_empty() && Unit::spelled(behind, self.wanted) != Some(unit) {
            let joined = [letter, behind].concat();
            if Unit::spelled(&joined, self.wanted) != Some(unit) {
                // `6k31 F`: what follows is blamed for what it is, not for what the joined word would be.
                self.unit_spelled(behind, self.place.clone())?;
                return Err(self.error(self.place.clone(), Problem::MoreText));
            }
        }
        Ok(unit)
    }

    fn unit_of_bare_number(&self) -> Result<Unit, ReadError> {
        if self.number.denominator.is_some() {
            return Ok(Unit::Inch);
        }
        self.wanted
            .unit_when_bare()
            .ok_or_else(|| self.error(self.number.place.clone(), Problem::MissingUnit(self.wanted)))
    }

    fn unit_spelled(&self, spelling: &str, place: Range<usize>) -> Result<Unit, ReadError> {
        if let Some(unit) = Unit::spelled(spelling, self.wanted) {
            return Ok(unit);
        }
        if let Some(units) = Unit::could_be(spelling, self.wanted) {
            let mut error = self.error(place, Problem::WhichUnit(self.wanted));
            error.hints = with_units(&self.number.decimal.to_string(), units);
            return Err(error);
        }
        let elsewhere =
            Dimension::ALL.into_iter().find(|d| *d != self.wanted && Unit::spelled(spelling, *d).is_some());
        if let Some(found) = elsewhere {
            return Err(self.error(place, Problem::WrongDimension { found, wanted: self.wanted }));
        }
        // A known unit with more behind it: the surplus is the fault, not the unit.
        let typed = self.text.get(place.clone()).unwrap_or_default();
        if let Some((first, surplus)) = typed.split_once(char::is_whitespace)
            && Unit::spelled(&plain(first), self.wanted).is_some()
        {
            let surplus = place.end - surplus.trim_start().len()..place.end;
            return Err(self.error(surplus, Problem::MoreText));
        }
        Err(self.error(place, Problem::UnknownUnit(self.wanted)))
    }

    fn error(&self, place: Range<usize>, problem: Problem) -> ReadError {
        let number = self.number.decimal.to_string();
        ReadError::at(self.text, place, problem, hints(self.wanted, Some(&number)))
    }
}
