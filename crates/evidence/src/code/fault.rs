//! Why a code cannot be read: the place, what stands there, and what would be right.

use std::fmt;
use std::ops::Range;

/// A stamp that is not a code of the system it was read by, or that no month explains. Nothing is guessed in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeFault {
    /// Where in the text, in bytes; always on the borders of characters.
    pub place: Range<usize>,
    /// What stands there.
    pub read: String,
    /// What is wrong with it.
    pub problem: Problem,
}

/// What can be wrong with a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Problem {
    /// There is nothing to read.
    Empty,
    /// A sign that no code has.
    NotASign,
    /// `[38]` for “3 or 8” was opened and not closed, or has nothing in it.
    OpenBracket,
    /// Fewer signs than the system has.
    TooShort {
        /// How a whole one looks.
        as_in: &'static str,
    },
    /// More signs than the system has.
    TooLong {
        /// How a whole one looks.
        as_in: &'static str,
    },
    /// Letters before the digits of a code that begins with digits.
    LettersInFront,
    /// Letters between digits in one unbroken group.
    LettersInside,
    /// A digit was wanted here.
    NotADigit,
    /// A letter was wanted here.
    NotALetter,
    /// A source number never begins with 0.
    SourceBeginsWithZero,
    /// Weeks are counted from 1.
    WeekZero,
    /// No year has so many weeks.
    WeekBeyond53,
    /// No year of those looked at ends so.
    NoSuchYear {
        /// The first year looked at.
        from: i32,
        /// The last.
        to: i32,
    },
    /// A letter that stands for no year in this system.
    NotAYearLetter {
        /// The letters that do.
        of: &'static str,
    },
    /// A sign that stands for no month in this system.
    NotAMonth {
        /// The signs that do.
        of: &'static str,
    },
    /// A month letter beyond L, the twelfth.
    MonthBeyondL,
    /// A week of a month is 1 to 5.
    WeekOfMonth,
    /// No such day in the calendar.
    NoSuchDay,
    /// Every reading lies later than the month in which the part was looked at.
    LaterThanInspection {
        /// The last month looked at.
        seen: crate::Month,
    },
    /// Every reading lies earlier than the first month looked at.
    EarlierThanSpan {
        /// The first month looked at.
        from: crate::Month,
    },
    /// “Applied for” and “pending” bound nothing.
    PatentNotGranted,
    /// Designs, reissues and patents of other countries are counted apart.
    OtherPatents,
    /// Not the first half of a mark of the services.
    NotAServiceMark,
}

impl CodeFault {
    /// A fault at a place of a text. The place is widened to the borders of characters.
    pub(crate) fn at(text: &str, place: Range<usize>, problem: Problem) -> CodeFault {
        let (mut start, mut end) = (place.start.min(text.len()), place.end.min(text.len()));
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        while !text.is_char_boundary(end) {
            end += 1;
        }
        let end = end.max(start);
        CodeFault { place: start..end, read: text[start..end].to_owned(), problem }
    }
}

impl fmt::Display for CodeFault {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let read = &self.read;
        match self.problem {
            Problem::Empty => write!(
                to,
                "there is no code to read; type the signs as they stand, and ? for each that cannot be read"
            ),
            Problem::NotASign => write!(
                to,
                "“{read}” is no sign of a code; leave out what is not part of the code, and type ? for a sign that cannot be read"
            ),
            Problem::OpenBracket => {
                write!(to, "“{read}” is not closed; write “[38]” for a sign that is 3 or 8")
            }
            Problem::TooShort { as_in } => write!(
                to,
                "“{read}” is too short for this code, which looks like “{as_in}”; type ? for each sign that cannot be read"
            ),
            Problem::TooLong { as_in } => write!(
                to,
                "“{read}” is too long for this code, which looks like “{as_in}”; leave a space before what is not part of it"
            ),
            Problem::LettersInFront => {
                write!(to, "“{read}” stands before the digits; begin with the first digit of the code")
            }
            Problem::LettersInside => write!(
                to,
                "“{read}” has letters between digits; leave a space before what does not belong to the date, or look again whether a letter is a digit"
            ),
            Problem::NotADigit => {
                write!(to, "“{read}” stands where this code has a digit; look again, or type ? for it")
            }
            Problem::NotALetter => {
                write!(to, "“{read}” stands where this code has a letter; look again, or type ? for it")
            }
            Problem::SourceBeginsWithZero => write!(
                to,
                "“{read}” is no source number, which never begins with 0; look whether a digit stands before it"
            ),
            Problem::WeekZero => write!(
                to,
                "“{read}” would be week 0, and weeks run from 01 to 53; look again at these two digits, or type ? for each that cannot be read"
            ),
            Problem::WeekBeyond53 => write!(
                to,
                "“{read}” is no week, as weeks run from 01 to 53; look again at these two digits, or type ? for each that cannot be read"
            ),
            Problem::NoSuchYear { from, to: last } => write!(
                to,
                "no year from {from} to {last} ends in “{read}”; look again at the digits of the year, or type ? for each that cannot be read"
            ),
            Problem::NotAYearLetter { of } => write!(
                to,
                "“{read}” stands for no year in this system, which uses {of}; look again, or type ? for it"
            ),
            Problem::NotAMonth { of } => write!(
                to,
                "“{read}” stands for no month in this system, which uses {of}; look again, or type ? for it"
            ),
            Problem::MonthBeyondL => {
                write!(to, "“{read}” is beyond L, the letter of December; look again, or type ? for it")
            }
            Problem::WeekOfMonth => {
                write!(to, "“{read}” is no week of a month, which is 1 to 5; look again, or type ? for it")
            }
            Problem::NoSuchDay => {
                write!(to, "“{read}” is no day of the calendar; look again at the digits of month and day")
            }
            Problem::LaterThanInspection { seen } => write!(
                to,
                "“{read}” would be later than {seen}, when the part was looked at; look again at the digits, and at the date of the inspection"
            ),
            Problem::EarlierThanSpan { from } => write!(
                to,
                "“{read}” would be earlier than {from}, the first month looked at; look again at the digits, or let the months begin earlier"
            ),
            Problem::PatentNotGranted => write!(
                to,
                "“{read}” bounds nothing, as an application has no date on the part; a number of a granted patent would"
            ),
            Problem::OtherPatents => write!(
                to,
                "“{read}” is not of the numbers known here, which are utility patents of the United States; look this one up by itself, or leave out what is no part of the number"
            ),
            Problem::NotAServiceMark => write!(
                to,
                "“{read}” is no mark of the services, which looks like “KB/C”; type K or J with the letter of the authority, a stroke, and the factory"
            ),
        }
    }
}

impl std::error::Error for CodeFault {}
