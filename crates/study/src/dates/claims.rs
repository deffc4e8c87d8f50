//! Claims held against what was found: which parts would have to be later if the claimed years were true, and which parts
//! that are said to be original come out otherwise.

use asfound_evidence::{Aspect, DECIDED, Dated, Month, MonthlyEvidence, Span};

use super::asked::Asked;
use super::{ClaimHeld, PartWeighed, Verdict};
use crate::said::dating::{ClaimSaid, Claimed};

/// With so little doubt a claim is taken at its word, to see what follows from it.
const AT_ITS_WORD: f64 = 1e-9;

/// Holds every claim against the weighing.
pub(super) fn claims(
    said: &[ClaimSaid],
    asked: &Asked,
    dated: Option<&Dated>,
    parts: &[PartWeighed],
) -> Vec<ClaimHeld> {
    said.iter().map(|claim| held(claim, asked, dated, parts)).collect()
}

fn held(claim: &ClaimSaid, asked: &Asked, dated: Option<&Dated>, parts: &[PartWeighed]) -> ClaimHeld {
    let years = years(claim);
    let span = years.and_then(|(first, last)| Span::years(first as i16, last as i16));
    let spoken_of = spoken_of(claim, parts);
    let of = |verdicts: &[Verdict]| -> Vec<usize> {
        spoken_of.iter().copied().filter(|place| verdicts.contains(&parts[*place].verdict)).collect()
    };
    let replaced =
        [Verdict::PeriodReplacement, Verdict::LaterReplacement, Verdict::Replaced, Verdict::MadeHere];
    ClaimHeld {
        seq: claim.seq,
        source: claim.source.clone(),
        words: claim.words.clone(),
        years,
        original: !spoken_of.is_empty(),
        years_hold: span.and_then(|span| Some(dated?.assembled().within(span))),
        against_years: span.map(|span| against_years(asked, span)).unwrap_or_default(),
        against_original: of(&replaced),
        not_decided: of(&[Verdict::NotDecided]),
        parts: spoken_of,
    }
}

/// From the first to the last year that is claimed of the whole.
fn years(claim: &ClaimSaid) -> Option<(i32, i32)> {
    claim.part.is_none().then_some(())?;
    let days =
        claim.years.iter().filter_map(|date| date.envelope()).reduce(|one, other| one.around(other))?;
    Some((i32::from(days.first.year()), i32::from(days.last.year())))
}

/// The parts that are claimed to be original.
fn spoken_of(claim: &ClaimSaid, parts: &[PartWeighed]) -> Vec<usize> {
    let excepted = |part: &PartWeighed, but: &[String]| {
        but.iter().any(|words| {
            let words = words.to_lowercase();
            words.contains(&part.name.to_lowercase()) || words.contains(&part.sort.to_lowercase())
        })
    };
    let is_meant = |part: &PartWeighed| {
        claim.claimed.iter().any(|claimed| match claimed {
            Claimed::AllOriginal { but } => !excepted(part, but),
            Claimed::Original(of) if of.aspect == Aspect::Itself => {
                of.parts.is_empty() || of.parts.contains(&part.part)
            }
            Claimed::Original(_) | Claimed::Altered(_) => false,
        })
    };
    (0..parts.len()).filter(|place| is_meant(&parts[*place])).collect()
}

/// Parts that would be replacements if the whole were of these years, with how probable that is then.
fn against_years(asked: &Asked, span: Span) -> Vec<(usize, super::Probability)> {
    let within = asked.span();
    let clamp = |month: Month| month.clamp(within.first, within.last);
    let mut instrument = asked.instrument(&asked.assumptions);
    instrument.whole.push(MonthlyEvidence::interval(clamp(span.first), clamp(span.last), AT_ITS_WORD));
    let Ok(dated) = instrument.weigh() else { return Vec::new() };
    let replaced = |place: usize| {
        let original = dated.original(place).value();
        (original < 1.0 - DECIDED).then(|| (place, super::Probability::of_share(1.0 - original)))
    };
    let weighed = (0..asked.parts.len()).filter(|place| asked.parts[*place].made_here.is_none());
    weighed.filter_map(replaced).collect()
}
