//! The line of marks that British service valves carry: what they were made to, who approved them, which factory.

use super::fault::{CodeFault, Problem};
use super::signs::{self, Sign};
use super::{Ground, Reading, Stamp, System, Told, gather};
use crate::Span;
use jiff::civil::{Date, date};

const AS_IN: &str = "KB/C";

/// The first day of common valve numbers: they came in 1941 (wylie.org.uk/technology/semics/CVseries;
/// bvws.org.uk/405alive/tech/valvenos2.html).
const SINCE: Date = date(1941, 1, 1);

/// Factories and the last day they can have marked a valve (a dealer's page, address withheld because it bears a trade
/// name). `A` stood for two works, one closed before January 1951 and one before April 1964, so that it bounds no more
/// than the later.
const CLOSED: [(&str, Date); 4] =
    [("B", date(1945, 8, 31)), ("C", date(1951, 8, 31)), ("CE", date(1957, 2, 28)), ("A", date(1964, 3, 31))];

/// Reads a line such as `KB/C`: K for the common specification or J for the American one, a letter for the authority, a
/// stroke, one to three letters for the factory. It carries no date; a factory that has closed bounds it from above.
///
/// # Errors
/// The place and what would be right.
pub fn service_valve(text: &str, seen: Span) -> Result<Stamp, CodeFault> {
    let groups = signs::groups(text)?;
    let [approval, factory, rest @ ..] = groups.as_slice() else {
        return Err(CodeFault::at(text, 0..text.len(), Problem::TooShort { as_in: AS_IN }));
    };
    let known =
        approval.first().is_some_and(|sign| sign.letters().any(|letter| letter == 'K' || letter == 'J'));
    if approval.len() != 2 || !known || approval[1].is_digit() {
        return Err(CodeFault::at(text, signs::place(approval), Problem::NotAServiceMark));
    }
    if factory.len() > 3 {
        return Err(CodeFault::at(text, signs::place(factory), Problem::TooLong { as_in: AS_IN }));
    }
    if let Some(digit) = factory.iter().find(|sign| sign.is_digit()) {
        return Err(CodeFault::at(text, digit.start..digit.end, Problem::NotALetter));
    }
    let closed = CLOSED.into_iter().filter(|(letters, _)| can_be(factory, letters));
    let mut told: Vec<(Told, Ground)> =
        closed.map(|(_, last)| (Told::NotAfter { since: SINCE, last }, Ground::Only)).collect();
    if told.is_empty() || factory.iter().any(|sign| !sign.is_certain()) {
        told.push((Told::NotBefore(SINCE), Ground::Only));
    }
    let at = signs::place(factory);
    let as_reading =
        |told, days, ground| Reading { source_at: Some(at.clone()), ..Reading::of(told, days, ground) };
    let (readings, refused) = gather(text, at.clone(), seen, &told, as_reading);
    let beside = rest.first().map_or("", |group| &text[signs::place(group).start..]);
    Stamp::of(System::ServiceValve, text, beside, readings, refused)
}

/// Whether signs can be these letters.
fn can_be(signs: &[Sign], letters: &str) -> bool {
    signs.len() == letters.len()
        && signs
            .iter()
            .zip(letters.chars())
            .all(|(sign, wanted)| sign.letters().any(|letter| letter == wanted))
}
