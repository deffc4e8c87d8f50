//! Testimony in the entry line: what a person says of the piece, or a paper that goes with it.
//!
//! ```text
//! claim seller: all original, 1962                    what somebody says of the whole
//! claim owner on bridge coil: never touched           of one part
//! document receipt, 12 May 1964: one bass, used       a paper, and the date that stands on it
//! ```

use asfound_record::{Body, Job, Testimony1};

use super::{Heard, NotHeard, WhyNot, not_heard, part_or_whole, plain};

/// What a person says.
pub const CLAIM: &str = "claim";
/// A paper.
pub const DOCUMENT: &str = "document";

/// Lines that would be right.
const EXAMPLES: [&str; 3] = [
    "claim seller: all original, 1962",
    "claim owner on bridge coil: never touched",
    "document receipt, 12 May 1964: one bass, used",
];

/// Hears what stands behind the word `claim` or `document`.
pub(super) fn hear(line: &str, manner: &str, rest: &str, job: &Job) -> Result<Heard, NotHeard> {
    let incomplete = || not_heard(line, rest, WhyNot::TestimonyIncomplete, &EXAMPLES);
    let (who, words) = rest.split_once(':').ok_or_else(incomplete)?;
    // `owner on the telephone` speaks of the whole: only a part of the job is a part.
    let of_part = who
        .rsplit_once(" on ")
        .and_then(|(who, name)| Some((who, part_or_whole(line, name.trim(), job).ok().flatten()?)));
    let (who, part) = of_part.map_or((who, None), |(who, part)| (who, Some(part)));
    let (source, dated) = match who.split_once(',') {
        Some((source, dated)) => (source.trim(), Some(dated.trim()).filter(|dated| !dated.is_empty())),
        None => (who.trim(), None),
    };
    let words = words.trim();
    if source.is_empty() || words.is_empty() {
        return Err(incomplete());
    }
    Ok(plain(Body::Testimony(Testimony1 {
        manner: manner.to_owned(),
        source: source.to_owned(),
        dated: dated.map(str::to_owned),
        words: words.to_owned(),
        part,
    })))
}
