//! The weighing, part by part: what comes out, and at which ends of the assumptions something else would.

use asfound_evidence::{
    Assumptions, Decisions, Matter, Moved, PartDecision, Verdict as Decided, WeighingFault, decide,
};
use asfound_weigh::Probability;

use super::asked::{Asked, PartAsked};
use super::together::first_day;
use super::{Flips, MonthShares, PartWeighed, Verdict, WholeDated};

/// The months of assembly that are told hold this share.
const TOLD: f64 = 0.95;
/// From this probability on a replacement is told as one of the period, or as a later one.
const WHEN_DECIDED: f64 = 0.9;

/// Weighs what was asked, under the assumptions in force and at the ends of their ranges.
pub(super) fn weigh(asked: &Asked) -> Result<Decisions, WeighingFault> {
    let mut decisions =
        decide(&asked.assumptions, |assumptions: &Assumptions| asked.instrument(assumptions))?;
    let most_for =
        asked.with_signs(&asked.assumptions, |signs| (signs.if_original.most, signs.if_replaced.least));
    let most_against =
        asked.with_signs(&asked.assumptions, |signs| (signs.if_original.least, signs.if_replaced.most));
    decisions.also(Moved::SignsMostFor, &most_for)?;
    decisions.also(Moved::SignsMostAgainst, &most_against)?;
    Ok(decisions)
}

/// When the whole was put together; `None` where nothing dates it.
pub(super) fn whole(asked: &Asked, decisions: &Decisions, parts: &[PartWeighed]) -> Option<WholeDated> {
    asked.dates_anything().then_some(())?;
    let originals = asked.parts.iter().zip(parts).filter(|(_, part)| part.verdict == Verdict::Original);
    let months = decisions.stated.assembled().clone();
    Some(WholeDated {
        highest: months.highest(TOLD),
        year: most_probable_year(&months)?,
        everybody: decisions.year(),
        not_before: originals.filter_map(|(part, _)| first_day(asked, part)).max(),
        months,
    })
}

fn most_probable_year(months: &MonthShares) -> Option<(i32, Probability)> {
    months.years().max_by(|(_, one), (_, other)| one.value().total_cmp(&other.value()))
}

/// What comes out for each part.
pub(super) fn parts(asked: &Asked, decisions: &Decisions) -> Vec<PartWeighed> {
    let dates_whole = asked.dates_anything();
    (0..asked.parts.len()).map(|place| part(asked, decisions, place, dates_whole)).collect()
}

fn part(asked: &Asked, decisions: &Decisions, place: usize, dates_whole: bool) -> PartWeighed {
    let PartAsked { id, name, sort, marks, materials, signs, made_here } = asked.parts[place].clone();
    let dated = decisions.stated.part(place);
    let period = asked.assumptions.value(Matter::PeriodRepair).max(1.0) as usize;
    let in_period = decisions.stated.replaced_within(place, period);
    let is_dated = asked.is_dated(&asked.parts[place]);
    let without = (dates_whole && is_dated && made_here.is_none())
        .then(|| most_probable_year(&decisions.stated.without(place)))
        .flatten();
    let hangs = asked.harnesses.iter().find(|(_, members)| members.contains(&place));
    let flips = flips(&decisions.parts[place]);
    let looked_at = asked.parts[place].says_something(&asked.marks);
    PartWeighed {
        verdict: match made_here {
            Some(_) => Verdict::MadeHere,
            None if !looked_at => Verdict::NotDecided,
            None => verdict(&decisions.parts[place], in_period, is_dated),
        },
        looked_at,
        part: id,
        name,
        sort,
        marks,
        materials,
        signs,
        harness: hangs.map(|(name, _)| name.clone()),
        original: dated.original,
        least: decisions.parts[place].least,
        most: decisions.parts[place].most,
        prior: dated.prior,
        likelihood_ratio: dated.likelihood_ratio,
        in_period,
        made: is_dated.then_some(dated.made),
        without,
        flips,
    }
}

fn verdict(decision: &PartDecision, in_period: Probability, is_dated: bool) -> Verdict {
    match decision.decided() {
        Some(Decided::Original) => Verdict::Original,
        // When it was put in is told only where something on it has a date.
        Some(Decided::Replaced) if is_dated && in_period.value() > WHEN_DECIDED => Verdict::PeriodReplacement,
        Some(Decided::Replaced) if is_dated && in_period.value() < 1.0 - WHEN_DECIDED => {
            Verdict::LaterReplacement
        }
        Some(Decided::Replaced) => Verdict::Replaced,
        Some(Decided::Neither) | None => Verdict::NotDecided,
    }
}

/// What turns the verdict: single assumptions, each with the end of its range at which it does, and the figures of the
/// signs.
fn flips(decision: &PartDecision) -> Vec<Flips> {
    let single = decision.turns.iter().filter_map(|(moved, _)| match moved {
        Moved::One(matter, at) => {
            let row = Assumptions::all().iter().find(|row| row.matter == *matter)?;
            Some(Flips::Assumption { name: row.name, at: *at, unit: row.unit })
        }
        Moved::SignsMostFor | Moved::SignsMostAgainst => Some(Flips::Signs),
        Moved::AllToTheLeast | Moved::AllToTheMost => None,
    });
    single.collect()
}
