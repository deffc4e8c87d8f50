//! What is claimed of the years, held against what was found.

use asfound_study::dates::{ClaimHeld, Weighed};

use crate::likely::in_hundred;
use crate::lists::and;
use crate::sheet::{Rest, Table, Told};

/// From here on the marks go with the claim.
const GOES_WITH: f64 = 0.5;
/// Below this they go against it.
const GOES_AGAINST: f64 = 0.05;

/// `The seller says “all original, 1962”`.
pub(crate) fn quoted(claim: &ClaimHeld) -> String {
    format!("The {} says “{}”", claim.source, claim.words.trim_end_matches('.'))
}

/// The finding on the years of a claim; `None` where it names none.
pub(super) fn of_years(claim: &ClaimHeld, weighed: &Weighed) -> Option<Told> {
    let (first, last) = claim.years?;
    let years = if first == last { first.to_string() } else { format!("{first} to {last}") };
    let said = quoted(claim);
    let (sentence, sure) = match claim.years_hold {
        None => (
            format!("{said}, and nothing found dates it yet."),
            "The claim is kept; it is not weighed as a mark.".to_owned(),
        ),
        Some(share) => {
            let verdict = match share.value() {
                share if share >= GOES_WITH => format!("and what was found goes with {years}"),
                share if share < GOES_AGAINST => format!("and what was found does not go with {years}"),
                _ => format!("and what was found leaves {years} open"),
            };
            let share = format!("By what was found {years} has {} in 100.", in_hundred(share));
            (format!("{said}, {verdict}."), format!("{share} {}", if_true(claim, weighed, &years)))
        }
    };
    Some(Told {
        id: format!("claimed-years-{}", claim.seq),
        sentence,
        sure: sure.trim().to_owned(),
        rests_on: vec![Rest::on(claim.seq)],
        tables: later_parts(claim, weighed, &years).into_iter().collect(),
        would_change: vec!["A paper of the time that names the piece.".into()],
        ..Told::default()
    })
}

/// Parts that are named one by one.
const MOST_NAMED: usize = 3;

/// What would have to give way if the claimed years were true.
fn if_true(claim: &ClaimHeld, weighed: &Weighed, years: &str) -> String {
    let later: Vec<&str> = claim
        .against_years
        .iter()
        .filter_map(|(at, _)| weighed.parts.get(*at))
        .map(|part| part.name.as_str())
        .collect();
    match later.as_slice() {
        [] => String::new(),
        [one] => format!("If {years} were true, the {one} would be a later part."),
        few if few.len() <= MOST_NAMED => {
            let few: Vec<String> = few.iter().map(|name| format!("the {name}")).collect();
            format!("If {years} were true, {} would be later parts.", and(&few))
        }
        many => format!("If {years} were true, {} parts would be later parts.", many.len()),
    }
}

fn later_parts(claim: &ClaimHeld, weighed: &Weighed, years: &str) -> Option<Table> {
    let mut table = Table::with(&format!("If {years} were true"), &["part", "#put in later, of 100"]);
    let rows = claim.against_years.iter().filter_map(|(at, share)| Some((weighed.parts.get(*at)?, share)));
    table.rows = rows.map(|(part, share)| vec![part.name.clone(), in_hundred(*share)]).collect();
    (!table.rows.is_empty()).then_some(table)
}
