//! The number in front of a unit: signs, both decimal marks, grouped digits, letters as decimal marks, fractions.

use crate::decimal::{Decimal, MOST_DIGITS};
use crate::dimension::Dimension;
use crate::read_error::{Problem, ReadError, hints};
use crate::unit::{Unit, plain};
use std::ops::Range;

/// A number as it stood in the text.
pub(crate) struct Number {
    pub(crate) decimal: Decimal,
    /// Where it stood, its letter included.
    pub(crate) place: Range<usize>,
    /// The letter that stood for the decimal sign, as in `6k31`.
    pub(crate) letter: Option<(String, Range<usize>)>,
    /// The number below the line, if it was a fraction.
    pub(crate) denominator: Option<u32>,
}

/// A place in a text, moved forward only.
pub(crate) struct Cursor<'t> {
    pub(crate) text: &'t str,
    pub(crate) at: usize,
}

impl<'t> Cursor<'t> {
    pub(crate) fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(crate) fn skip_space(&mut self) {
        self.at = self.text.len() - self.rest().trim_start().len();
    }

    /// Moves past one of these signs.
    fn one_of(&mut self, signs: &[char]) -> Option<char> {
        let sign = self.rest().chars().next().filter(|c| signs.contains(c))?;
        self.at += sign.len_utf8();
        Some(sign)
    }

    /// Moves past a run of digits, which may be none.
    fn digits(&mut self) -> &'t str {
        let run = leading_digits(self.rest());
        self.at += run.len();
        run
    }

    fn is_digit(&self) -> bool {
        self.rest().starts_with(|c: char| c.is_ascii_digit())
    }
}

fn leading_digits(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    &text[..end]
}

/// Signs that people, keyboards and word processors use for minus.
const MINUS: [char; 5] = ['-', '\u{2212}', '\u{2013}', '\u{FE63}', '\u{FF0D}'];

/// The number at the cursor, which ends up behind it.
pub(crate) fn number(cursor: &mut Cursor<'_>, wanted: Dimension) -> Result<Number, ReadError> {
    let start = cursor.at;
    let negative = cursor.one_of(&MINUS).is_some();
    if !negative {
        cursor.one_of(&['+']);
    }
    let before = grouped_digits(cursor);
    let mut found =
        Number { decimal: Decimal::whole(0), place: start..start, letter: None, denominator: None };
    let mut after = String::new();
    let mark = cursor.at;

    if !before.is_empty() && fraction_follows(cursor.rest()) {
        return fraction(cursor, start, negative, &before, wanted);
    }
    if let Some(sign) = cursor.one_of(&['.', ',']) {
        after = cursor.digits().to_owned();
        refuse_doubtful_marks(cursor, mark..mark + 1, sign, (negative, &before, &after), wanted)?;
    } else if let Some(letter) = letter_mark(cursor.rest(), wanted) {
        cursor.at += letter.len_utf8();
        found.letter = Some((plain(letter.encode_utf8(&mut [0; 4])), mark..cursor.at));
        after = cursor.digits().to_owned();
    }
    let exponent = if found.letter.is_none() { power_of_ten(cursor) } else { Some(0) };

    found.place = start..cursor.at;
    if before.is_empty() && after.is_empty() {
        let end = cursor.rest().chars().next().map_or(cursor.at, |c| cursor.at + c.len_utf8());
        return Err(ReadError::at(cursor.text, start..end, Problem::NoNumber, hints(wanted, None)));
    }
    let decimal = exponent.and_then(|power| Decimal::from_digits(negative, &before, &after, power));
    found.decimal = decimal.ok_or_else(|| {
        ReadError::at(cursor.text, found.place.clone(), Problem::TooLong, hints(wanted, None))
    })?;
    Ok(found)
}

/// Digits, where spaces may set off groups of three: `5 840`. A group before a fraction line is not of the group.
fn grouped_digits(cursor: &mut Cursor<'_>) -> String {
    let mut digits = cursor.digits().to_owned();
    if digits.is_empty() || digits.len() > 3 {
        return digits;
    }
    while let Some(space) = cursor.rest().chars().next().filter(|c| c.is_whitespace() && !c.is_control()) {
        let behind = &cursor.rest()[space.len_utf8()..];
        let group = leading_digits(behind);
        if group.len() != 3 || behind[3..].trim_start().starts_with(['/', '\u{2044}']) {
            break;
        }
        digits.push_str(group);
        cursor.at += space.len_utf8() + 3;
    }
    digits
}

/// A comma before exactly three digits, or a second decimal sign, is asked back.
fn refuse_doubtful_marks(
    cursor: &Cursor<'_>,
    mark: Range<usize>,
    sign: char,
    (negative, before, after): (bool, &str, &str),
    wanted: Dimension,
) -> Result<(), ReadError> {
    let minus = if negative { "-" } else { "" };
    if cursor.rest().starts_with(['.', ',']) && cursor.rest()[1..].starts_with(|c: char| c.is_ascii_digit()) {
        let number = format!("{minus}{before}{after}");
        let has_digits = !before.is_empty() || !after.is_empty();
        let number = (has_digits && number.len() <= MOST_DIGITS).then_some(number);
        let place = cursor.at..cursor.at + 1;
        return Err(ReadError::at(
            cursor.text,
            place,
            Problem::SecondDecimalSign,
            hints(wanted, number.as_deref()),
        ));
    }
    let could_group = (1..=3).contains(&before.len()) && !before.starts_with('0');
    if sign == ',' && could_group && after.len() == 3 {
        let usual = wanted.usual_units();
        let typed = Unit::spelled(&plain(cursor.rest().trim()), wanted);
        let unit = typed.or(wanted.unit_when_bare()).unwrap_or(usual[1]);
        let other = usual.into_iter().find(|other| *other != unit).unwrap_or(unit);
        let hints = [
            format!("{minus}{before}{after} {unit}"),
            format!("{minus}{before}.{after} {unit}"),
            format!("{minus}{before}.{after} {other}"),
        ];
        return Err(ReadError::at(cursor.text, mark, Problem::CommaOrThousands, hints));
    }
    Ok(())
}

/// A letter with a digit behind it that stands for the decimal sign in any dimension that has such letters.
fn letter_mark(rest: &str, wanted: Dimension) -> Option<char> {
    let letter = rest.chars().next().filter(|c| c.is_alphabetic())?;
    if !rest[letter.len_utf8()..].starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let spelling = plain(letter.encode_utf8(&mut [0; 4]));
    // Other dimensions are looked at too, so that `2n2` for a resistance is answered with "capacitance".
    let known =
        |d: Dimension| Unit::spelled(&spelling, d).is_some() || Unit::could_be(&spelling, d).is_some();
    let marks = |d: Dimension| d.takes_letter_as_decimal_sign() && known(d);
    (wanted.takes_letter_as_decimal_sign() && Dimension::ALL.into_iter().any(marks)).then_some(letter)
}

/// `e3` behind a number, as instruments send it. `None` when the power is beyond all reason.
fn power_of_ten(cursor: &mut Cursor<'_>) -> Option<i32> {
    let start = cursor.at;
    if cursor.one_of(&['e', 'E']).is_none() {
        return Some(0);
    }
    let negative = cursor.one_of(&MINUS).is_some();
    if !negative {
        cursor.one_of(&['+']);
    }
    if !cursor.is_digit() {
        cursor.at = start;
        return Some(0);
    }
    let power: i32 = cursor.digits().parse().ok()?;
    Some(if negative { -power } else { power })
}

/// Whether `3/8` is being finished, or `-3/8` or ` 3/8` follows the whole number.
fn fraction_follows(rest: &str) -> bool {
    let is_line = |text: &str| text.starts_with(['/', '\u{2044}']);
    if is_line(rest) {
        return true;
    }
    let trimmed = rest.trim_start();
    let behind = trimmed.strip_prefix(MINUS).map(str::trim_start).unwrap_or(trimmed);
    let above = leading_digits(behind);
    behind.len() < rest.len() && !above.is_empty() && is_line(&behind[above.len()..])
}

/// A fraction of an inch, alone or behind a whole number; the cursor stands behind the first digits.
fn fraction(
    cursor: &mut Cursor<'_>,
    start: usize,
    negative: bool,
    before: &str,
    wanted: Dimension,
) -> Result<Number, ReadError> {
    let (whole, above) = if cursor.rest().starts_with(['/', '\u{2044}']) {
        ("0", before)
    } else {
        cursor.skip_space();
        cursor.one_of(&MINUS);
        cursor.skip_space();
        (before, cursor.digits())
    };
    let line = cursor.at;
    cursor.one_of(&['/', '\u{2044}']);
    let below = cursor.digits();
    let place = start..cursor.at;
    let value = fraction_value(whole, above, below);
    let Some((mut decimal, denominator)) = value else {
        let place = if below.is_empty() { line..cursor.at } else { place };
        return Err(ReadError::at(cursor.text, place, Problem::Fraction, hints(wanted, None)));
    };
    if wanted != Dimension::Length {
        let number = if negative { format!("-{decimal}") } else { decimal.to_string() };
        return Err(ReadError::at(
            cursor.text,
            place,
            Problem::FractionNeedsInches,
            hints(wanted, Some(number.as_str())),
        ));
    }
    if negative {
        decimal.mantissa = -decimal.mantissa;
    }
    Ok(Number { decimal, place, letter: None, denominator: Some(denominator) })
}

/// The exact decimal of a fraction, for the divisions that rules carry: halves to hundred-and-twenty-eighths, and
/// tenths, twentieths, fiftieths and hundredths.
fn fraction_value(whole: &str, above: &str, below: &str) -> Option<(Decimal, u32)> {
    let whole: i64 = whole.parse().ok().filter(|n| *n < 1_000_000)?;
    let above: i64 = above.parse().ok()?;
    let denominator: u32 = below.parse().ok()?;
    let (scale, exponent) = match denominator {
        2 | 4 | 8 | 16 | 32 | 64 | 128 => (10_000_000, -7),
        10 | 20 | 50 | 100 => (100, -2),
        _ => return None,
    };
    // Above the line stands less than below it, but for a lone `9/8`, which some write; more is a slip.
    if above >= i64::from(denominator) * if whole == 0 { 100 } else { 1 } {
        return None;
    }
    let mut mantissa = whole * scale + above * (scale / i64::from(denominator));
    let mut exponent = exponent;
    while exponent < 0 && mantissa % 10 == 0 {
        mantissa /= 10;
        exponent += 1;
    }
    Some((Decimal { mantissa, exponent }, denominator))
}
