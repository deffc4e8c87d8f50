//! What to look at next.

use asfound_study::dates::{Look, LookOffered, Weighed};

use crate::sheet::{Step, Table};

/// Looks that are listed.
const MOST_LISTED: usize = 12;

/// The look that tells most for its trouble.
pub(crate) fn first(weighed: &Weighed) -> Option<Step> {
    weighed.looks.first().map(|offered| step(weighed, offered))
}

/// The look at a part that tells most for its trouble.
pub(crate) fn first_of_part(weighed: &Weighed, part: usize) -> Option<Step> {
    weighed.looks.iter().find(|offered| offered.part == part).map(|offered| step(weighed, offered))
}

fn step(weighed: &Weighed, offered: &LookOffered) -> Step {
    let part = weighed.parts.get(offered.part);
    let (id, name) = part.map_or(("", "part"), |part| (part.part.as_str(), part.name.as_str()));
    let (key, words) = what(weighed, &offered.what, name);
    let (of_year, of_part) = offered.bits;
    let tells = match (of_year, of_part) {
        (year, part) if year >= 2.0 * part => "Of all looks it tells most of the year for its trouble",
        (year, part) if part >= 2.0 * year => "Of all looks it tells most of the part for its trouble",
        _ => "It tells of the year and of the part",
    };
    Step {
        id: format!("{key}-{id}"),
        words,
        why: format!("{tells}: about {:.0} minutes.", offered.minutes),
        caution: caution(&offered.what).into(),
        ..Step::default()
    }
}

/// A key for the step, and what to do.
fn what(weighed: &Weighed, look: &Look, name: &str) -> (&'static str, String) {
    match look {
        Look::ReadMark => ("read-mark", format!("Look for a date code on the {name}, and photograph it.")),
        Look::ReadDigits(at) => {
            let text = weighed.marks.get(*at).map(|mark| format!(" “{}”", mark.text)).unwrap_or_default();
            ("read-digits", format!("Read the missing signs of{text} on the {name}, in light from one side."))
        }
        Look::Solder => {
            ("see-solder", format!("Look at the solder of the {name}: one dull skin, or bright over dull?"))
        }
        Look::Screws => (
            "see-screws",
            format!("Lift the {name} and see whether its screw holes agree, and whether there are others."),
        ),
        Look::Outline => {
            ("see-outline", format!("Look at the edge of the {name}: do outline, dust and wear fit it?"))
        }
    }
}

/// What is lost by a look made without care.
fn caution(look: &Look) -> &'static str {
    match look {
        Look::Screws => "Photograph the screws and their order first; an undisturbed slot is evidence.",
        Look::ReadMark | Look::ReadDigits(_) | Look::Solder | Look::Outline => "",
    }
}

/// What each look can be expected to tell.
pub(crate) fn table(weighed: &Weighed) -> Table {
    let columns = ["look", "#bits on the year", "#bits on the part", "#minutes"];
    let mut table = Table::with("What each look can be expected to tell", &columns);
    table.rows = weighed
        .looks
        .iter()
        .take(MOST_LISTED)
        .map(|offered| {
            let name = weighed.parts.get(offered.part).map_or("part", |part| part.name.as_str());
            let (_, words) = what(weighed, &offered.what, name);
            let (year, part) = offered.bits;
            vec![words, format!("{year:.2}"), format!("{part:.2}"), format!("{:.0}", offered.minutes)]
        })
        .collect();
    table
}
