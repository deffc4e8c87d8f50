//! Whether everything can be true together: every part as fitted first, every paper at its word.

use asfound_evidence::code::Stamp;
use asfound_evidence::intervals::{Claim, common, in_order};
use asfound_evidence::repair::{Limits, Repair, Statement, repairs};
use asfound_evidence::{Aspect, Days, Matter};
use jiff::civil::Date;

use super::asked::{Asked, FIRST, PartAsked};
use super::{GivesWay, MarkSays, Reconciled, Together};

/// Holds marks and papers against one another; `None` where nothing bounds the day of assembly.
pub(super) fn together(asked: &Asked) -> Option<Together> {
    let lag = asked.assumptions.value(Matter::LongestLag) as u16;
    let parts = (0..asked.parts.len()).map(GivesWay::Part);
    let papers =
        asked.told.iter().map(|told| GivesWay::Testimony { seq: told.seq, source: told.source.clone() });
    let harnesses = (0..asked.harnesses.len()).map(GivesWay::Harness);
    let things: Vec<GivesWay> = parts.chain(papers).chain(harnesses).collect();
    let mut statements = Vec::new();
    for (place, part) in asked.parts.iter().enumerate().filter(|(_, part)| part.made_here.is_none()) {
        let Some(made) = made(asked, part) else { continue };
        // A harness can give way as a whole: one thing for all its parts, told after the single ones.
        let harness = asked.harnesses.iter().position(|(_, members)| members.contains(&place));
        let harness = harness.map(|at| asked.parts.len() + asked.told.len() + at);
        let rests_on = [Some(place), harness].into_iter().flatten().collect();
        statements.push(Statement { claim: Claim::part(&made, Some(lag)), rests_on });
    }
    for (at, told) in asked.told.iter().enumerate() {
        let rests_on = vec![asked.parts.len() + at];
        statements.push(Statement { claim: Claim::within(told.days), rests_on });
    }
    let whole = Days::new(Date::new(FIRST.year() as i16, 1, 1).ok()?, last_day(asked.inspected)?)?;
    (!statements.is_empty()).then_some(())?;
    let found = repairs(whole, &statements, Limits::default()).ok()?;
    let way = |way: &Repair| Reconciled {
        gives_way: way.given_up.iter().map(|thing| things[*thing].clone()).collect(),
        assembly: way.days.clone(),
    };
    let fewest = found.fewest();
    Some(Together {
        assembly: if fewest == 0 { found.ways[0].days.clone() } else { Vec::new() },
        reconciled: if fewest == 0 { Vec::new() } else { found.ways.iter().map(way).collect() },
        at_least: found.at_least,
        proved: found.gap() == 0 && found.complete_to.is_some_and(|complete| complete >= fewest),
    })
}

/// The days on which a part can have been made, by its marks and materials together; none where these contradict one
/// another, `None` where it has none that say anything.
fn made(asked: &Asked, part: &PartAsked) -> Option<Vec<Days>> {
    let marks = part.marks.iter().filter_map(|at| match &asked.marks[*at].says {
        MarkSays::Code(stamp) => Some(believed(stamp)),
        MarkSays::Date(readings) => Some(readings.clone()),
        MarkSays::Unread | MarkSays::NoCode(_) => None,
    });
    let materials = part.materials.iter().filter_map(|at| {
        let material = asked.materials[*at].material;
        let of_part = material.dates == Aspect::Itself && material.dates_anything();
        let january = |year: i16| Date::new(year, 1, 1).ok();
        let first = material.not_before.and_then(|ramp| january(ramp.from)).unwrap_or(Date::MIN);
        let last = material.not_after.and_then(|ramp| january(ramp.to)).unwrap_or(Date::MAX);
        of_part.then_some(vec![Days { first, last }])
    });
    marks.chain(materials).map(|days| in_order(&days)).reduce(|one, other| common(&one, &other))
}

/// A reading that is hardly believed counts only where there is no other.
fn believed(stamp: &Stamp) -> Vec<Days> {
    let all = || stamp.readings.iter();
    let believed: Vec<Days> =
        all().filter(|reading| !reading.ground.is_doubtful()).map(|reading| reading.days).collect();
    if believed.is_empty() { all().map(|reading| reading.days).collect() } else { believed }
}

/// The first day on which a part can have been there.
pub(super) fn first_day(asked: &Asked, part: &PartAsked) -> Option<Date> {
    made(asked, part)?.first().map(|days| days.first)
}

/// The last day of the month of inspection.
fn last_day(inspected: super::Month) -> Option<Date> {
    let year = i16::try_from(inspected.year()).ok()?;
    Some(Date::new(year, inspected.number() as i8, 1).ok()?.last_of_month())
}
