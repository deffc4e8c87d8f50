//! The next look: which mark, joint or hole can be expected to tell most for its trouble.

use asfound_evidence::code::{Stamp, read};
use asfound_evidence::look::{NextLook, Outcomes, next_looks};
use asfound_evidence::sign::{Sign, sign};
use asfound_evidence::{Aspect, Dated, PartSort};

use super::asked::{Asked, PartAsked};
use super::{Look, LookOffered, MarkSays};

/// As many are offered; the rest tells less for more trouble.
const MOST_OFFERED: usize = 8;
/// Below this, in bits of both questions together, a look is not worth the walk to the bench.
const LEAST_TOLD: f64 = 0.02;
/// Ways of completing a code that are gone through: two digits that could not be read.
const MOST_UNREAD: usize = 2;

/// How often there is a mark to be found and read on a part of this sort, whether it tells the decade, and the minutes
/// it takes to find it, read it and photograph it. Common practice, no source.
fn mark_on(sort: PartSort) -> Option<(f64, Outcomes, f64)> {
    match sort {
        PartSort::Pot => Some((0.8, Outcomes::MonthInADecade, 4.0)),
        PartSort::Speaker => Some((0.7, Outcomes::MonthInADecade, 3.0)),
        PartSort::Transformer => Some((0.7, Outcomes::MonthInADecade, 4.0)),
        PartSort::Valve => Some((0.4, Outcomes::MonthInADecade, 2.0)),
        PartSort::Capacitor => Some((0.3, Outcomes::MonthInADecade, 3.0)),
        PartSort::Switch => Some((0.2, Outcomes::MonthInADecade, 4.0)),
        _ => None,
    }
}

/// Signs of one cause that exclude one another, what looking for them takes in minutes, and what to look at.
const FOR_SIGNS: [(Look, Aspect, &str, [&str; 3], f64); 3] = [
    (
        Look::Solder,
        Aspect::Joints,
        "solder",
        ["solder-undisturbed", "solder-bright-over-dull", "solder-stub"],
        3.0,
    ),
    (Look::Screws, Aspect::Place, "holes", ["holes-agree", "holes-apart", "holes-plugged"], 10.0),
    (
        Look::Outline,
        Aspect::Place,
        "traces where it sat",
        ["outline-matches", "outline-other", "outline-none"],
        8.0,
    ),
];

/// Looks at the parts, those that tell most for a minute first.
pub(super) fn looks(asked: &Asked, dated: &Dated) -> Vec<LookOffered> {
    let mut all: Vec<NextLook<usize>> = Vec::new();
    let mut kinds: Vec<Look> = Vec::new();
    for (place, part) in asked.parts.iter().enumerate().filter(|(_, part)| part.made_here.is_none()) {
        for (kind, outcomes, succeeds, minutes) in of_part(asked, part) {
            all.push(NextLook { what: all.len(), part: place, outcomes, succeeds, minutes });
            kinds.push(kind);
        }
    }
    let parts: Vec<usize> = all.iter().map(|look| look.part).collect();
    // Looks are made here, of parts that are there, with chances that are chances.
    let Ok(ranked) = next_looks(dated, all) else { return Vec::new() };
    let mut offered: Vec<LookOffered> = ranked
        .about_the_year
        .iter()
        .filter_map(|about_year| {
            let at = about_year.look.what;
            let about_part = ranked.about_the_part.iter().find(|other| other.look.what == at)?;
            let bits = (about_year.look.tells.0, about_part.look.tells.0);
            Some(LookOffered {
                what: kinds[at].clone(),
                part: parts[at],
                bits,
                minutes: about_year.look.minutes,
            })
        })
        .filter(|look| look.bits.0 + look.bits.1 >= LEAST_TOLD)
        .collect();
    let per_minute = |look: &LookOffered| (look.bits.0 + look.bits.1) / look.minutes;
    offered.sort_by(|one, other| per_minute(other).total_cmp(&per_minute(one)));
    offered.truncate(MOST_OFFERED);
    offered
}

/// What can be looked at on a part: what, what can come of it, how often anything does, and the minutes.
fn of_part(asked: &Asked, part: &PartAsked) -> Vec<(Look, Outcomes, f64, f64)> {
    let mut looks = Vec::new();
    let code = |at: &usize| match &asked.marks[*at].says {
        MarkSays::Code(stamp) => Some((*at, stamp)),
        _ => None,
    };
    let codes: Vec<(usize, &Stamp)> = part.marks.iter().filter_map(code).collect();
    match codes.as_slice() {
        [] => looks.extend(
            mark_on(part.part_sort())
                .map(|(succeeds, outcomes, minutes)| (Look::ReadMark, outcomes, succeeds, minutes)),
        ),
        codes => looks.extend(codes.iter().filter_map(|(at, stamp)| {
            Some((Look::ReadDigits(*at), Outcomes::Readings(completed(asked, stamp)?), 0.5, 3.0))
        })),
    }
    for (look, aspect, family, ids, minutes) in FOR_SIGNS {
        let has_aspect = Aspect::of_sort(&part.sort).contains(&aspect);
        if has_aspect && !part.signs.iter().any(|seen| seen.sign.family == family) {
            looks.push((look, Outcomes::Signs(chances(&ids)), 0.9, minutes));
        }
    }
    looks
}

/// How probable each of these signs is on an original part and on one put in later. They were stated one by one; seen as
/// one or the other they come to no more than 1 together.
fn chances(ids: &[&str]) -> Vec<(f64, f64)> {
    let stated = ids.iter().filter_map(|id| sign(id)).map(Sign::of_part);
    let stated: Vec<(f64, f64)> =
        stated.map(|(original, replaced)| (original.value, replaced.value)).collect();
    let sums = stated.iter().fold((1.0_f64, 1.0_f64), |sums, one| (sums.0 + one.0, sums.1 + one.1));
    let over = ((sums.0 - 1.0).max(1.0), (sums.1 - 1.0).max(1.0));
    stated.into_iter().map(|(original, replaced)| (original / over.0, replaced / over.1)).collect()
}

/// A code with each of the digits that could not be read in their places; `None` where all were read, or too many not.
fn completed(asked: &Asked, stamp: &Stamp) -> Option<Vec<asfound_evidence::MadeIn>> {
    let unread = stamp.written.matches('?').count();
    (1..=MOST_UNREAD).contains(&unread).then_some(())?;
    let mut texts = vec![stamp.written.clone()];
    for _ in 0..unread {
        let filled = |text: &String| {
            (0..10).map(|digit| text.replacen('?', &digit.to_string(), 1)).collect::<Vec<_>>()
        };
        texts = texts.iter().flat_map(filled).collect();
    }
    let made = asked.made_span();
    let read = |text: &String| read(stamp.system, text, asked.span()).ok().map(|stamp| stamp.made_in(made));
    Some(texts.iter().filter_map(read).collect::<Vec<_>>()).filter(|read| !read.is_empty())
}
