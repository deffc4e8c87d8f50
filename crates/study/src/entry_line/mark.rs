//! Marks in the entry line: `mark lever.a1 on photo 3 at 41 % 27 % from the back`, for a hand without a pointer.

use asfound_record::{Body, Job, Mark1};

use super::{Heard, NotHeard, WhyNot, not_heard};
use crate::doubt::Doubt;
use crate::lugs;
use crate::marks::{self, Picture, WHOLE};

/// Lines that would be right.
const EXAMPLES: [&str; 2] =
    ["mark lever.a1 on photo 1 at 41 % 27 %", "mark volume on photo 1 at 8.5 % 60 % from the back"];

/// The sides from which a picture looks at a circuit.
pub const SIDES: [&str; 2] = ["back", "front"];

/// Hears what stands behind the word `mark`.
pub(super) fn hear(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let incomplete = || not_heard(line, rest, WhyNot::MarkIncomplete, &EXAMPLES);
    let is_gap = |sign: char| sign.is_whitespace() || sign == '%';
    let words: Vec<&str> = rest.split(is_gap).filter(|word| !word.is_empty()).collect();
    let [of, on, kind, which, at, x, y, side @ ..] = words.as_slice() else { return Err(incomplete()) };
    if !on.eq_ignore_ascii_case("on") || !at.eq_ignore_ascii_case("at") {
        return Err(incomplete());
    }
    let picture = picture(line, kind, which, job)?;
    let (x, y) = (along(line, x)?, along(line, y)?);
    let seen_from = seen_from(side).ok_or_else(incomplete)?;
    let known = lugs::known(job);
    // As the trace spells it, where it has it.
    let of = lugs::find(&known, of).map_or_else(|| (*of).to_owned(), |at| known[at].name.clone());
    let doubt = not_traced(&known, &of);
    let body = Mark1 { photograph: picture.original, of, x, y, seen_from };
    Ok(Heard { body: Body::Mark(body), doubt, evidence_lost: None })
}

/// The photograph by its number among the job's photographs, or by its entry.
fn picture(line: &str, kind: &str, which: &str, job: &Job) -> Result<Picture, NotHeard> {
    let pictures = marks::pictures(job);
    let asked: Option<u64> = which.parse().ok();
    let is_meant = |picture: &&Picture| match kind.to_lowercase().as_str() {
        "photo" | "photograph" | "picture" => asked.is_some_and(|asked| picture.number as u64 == asked),
        "entry" => asked == Some(picture.seq),
        _ => false,
    };
    if let Some(found) = pictures.iter().find(is_meant) {
        return Ok(found.clone());
    }
    let hints: Vec<String> =
        pictures.iter().take(3).map(|picture| format!("photo {}", picture.number)).collect();
    Err(NotHeard { hints, ..not_heard(line, which, WhyNot::NoSuchPhotograph, &[]) })
}

/// Per cent of a picture's width or height, in ten-thousandths.
fn along(line: &str, read: &str) -> Result<u32, NotHeard> {
    let plain = read.replace(',', ".");
    let is_decimal = plain.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
    let percent: Option<f64> = plain.parse().ok().filter(|percent| is_decimal && *percent <= 100.0);
    let fail = || not_heard(line, read, WhyNot::NotOnThePicture, &["41 % 27 %", "0 % 0 %", "100 % 100 %"]);
    // Between 0 and 10,000: the whole number is exact.
    percent.map(|percent| (percent * f64::from(WHOLE) / 100.0).round() as u32).ok_or_else(fail)
}

/// `from the back`, `seen from the front`, or nothing; `None` where something else stands there.
fn seen_from(words: &[&str]) -> Option<Option<String>> {
    let words: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let said: Vec<&str> =
        words.iter().map(String::as_str).filter(|word| !["seen", "from", "the"].contains(word)).collect();
    match said.as_slice() {
        [] if words.is_empty() => Some(None),
        [side] if SIDES.contains(side) && words.iter().any(|word| word == "from") => {
            Some(Some((*side).to_owned()))
        }
        _ => None,
    }
}

/// A doubt where the circuit is traced and has no lug or part of this name.
fn not_traced(known: &[lugs::Lug], of: &str) -> Option<Doubt> {
    let is_part = known.iter().any(|lug| lugs::part_of(&lug.name).eq_ignore_ascii_case(of));
    let doubtful = !known.is_empty() && !is_part && lugs::find(known, of).is_none();
    doubtful.then(|| Doubt::NotTraced { likely: lugs::nearest(known, of) })
}
