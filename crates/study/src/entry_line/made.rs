//! A part that the workshop made, in the entry line: `made guard: cut from acrylic sheet, aged; marked 26-014 under the edge`.
//!
//! The next hand must not be fooled by this one: what was made here is known to be new, and its lasting mark says so.

use asfound_record::{Body, Job, Made1};

use super::{Heard, NotHeard, WhyNot, named, not_heard, plain};
use crate::said::clauses::clauses;

/// Lines that would be right.
const EXAMPLES: [&str; 2] = [
    "made guard: cut from acrylic sheet, edges aged; marked 26-014 under the edge",
    "made new knob: turned from brass; marked with a dot inside",
];

/// Words that say a thing was made to look old.
const AGED: &str = "aged|ageing|aging|distressed|antiqued|patinated|worn";

/// Hears what stands behind the word `made`.
pub(super) fn hear(line: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let (part, words) = named(line, rest, job)?;
    let Some(part) = part else {
        return Err(not_heard(line, rest, WhyNot::MadeNoPart, &EXAMPLES));
    };
    let said = clauses(0, words);
    let mark = said.iter().find(|clause| clause.says("marked|mark|signed|stamped|scribed|engraved"));
    let body = Made1 {
        part,
        words: words.to_owned(),
        aged: said.iter().any(|clause| clause.says(AGED)),
        mark: mark.map(|clause| clause.text.clone()),
        happened: None,
    };
    Ok(plain(Body::Made(body)))
}
