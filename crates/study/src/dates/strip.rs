//! The strip of months: the whole, and each part whose marks or materials say when it was made.

use asfound_evidence::{Month, MonthShares};
use asfound_plot::{MonthRow, Plot};

use super::{PartWeighed, Weighed};

/// What stands at the row of the whole.
const WHOLE: &str = "put together";
/// The share of each row that is bracketed.
const BRACKETED: f64 = 0.95;

/// The months of assembly of the whole, and the months of making of each part, on one axis; `None` where nothing dates
/// the whole.
pub fn strip(weighed: &Weighed) -> Option<Plot> {
    let whole = weighed.whole.as_ref()?;
    let dated = || weighed.parts.iter().filter_map(|part| Some((part, part.made.as_ref()?)));
    let all = || dated().map(|(_, made)| made).chain([&whole.months]);
    let first_year = all().filter_map(|shares| Some(shares.months().next()?.0.year())).min()?;
    let start = Month::january(i16::try_from(first_year).ok()?);
    let parts = dated().map(|(part, made)| {
        let row = row(&part.name, made, start);
        match not_before(weighed, part) {
            Some(month) => row.not_before(month - start),
            None => row,
        }
    });
    Some(Plot::months(
        "When it was put together, and when its parts were made",
        first_year,
        row(WHOLE, &whole.months, start),
        parts.collect(),
    ))
}

fn row(name: &str, shares: &MonthShares, start: Month) -> MonthRow {
    let place = |month: Month| usize::try_from(month - start).unwrap_or(0);
    let before = shares.months().next().map_or(0, |(month, _)| place(month));
    let all = std::iter::repeat_n(0.0, before).chain(shares.months().map(|(_, share)| share));
    let runs = shares.highest(BRACKETED);
    MonthRow::new(name, all).within(runs.into_iter().map(|run| place(run.first)..=place(run.last)))
}

/// The latest of the months in which its materials began to be used.
fn not_before(weighed: &Weighed, part: &PartWeighed) -> Option<Month> {
    let materials = part.materials.iter().filter_map(|at| weighed.materials.get(*at));
    materials.filter_map(|seen| Some(Month::january(seen.material.not_before?.from))).max()
}
