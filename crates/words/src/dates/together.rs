//! Whether all can be true at once, and what would have to give way.

use asfound_study::dates::{GivesWay, Reconciled, Together, Weighed};

use super::when;
use crate::lists::and;
use crate::sheet::{Table, Told};

/// Ways that are said one by one.
const MOST_SAID: usize = 3;
/// Sets that are listed.
const MOST_LISTED: usize = 20;

/// The finding; `None` where nothing has a day to hold against another.
pub(super) fn told(weighed: &Weighed) -> Option<Told> {
    let together = weighed.together.as_ref()?;
    Some(if together.assembly.is_empty() { apart(weighed, together) } else { agreed(together) })
}

fn agreed(together: &Together) -> Told {
    Told {
        id: "together".into(),
        sentence: "Every mark and every paper can be true together.".into(),
        sure: format!(
            "It was then put together {}; this takes each at its word and weighs nothing.",
            when::intervals(&together.assembly)
        ),
        ..Told::default()
    }
}

fn apart(weighed: &Weighed, together: &Together) -> Told {
    let ways: Vec<String> =
        together.reconciled.iter().map(|one| format!("if {}", gives_way(weighed, one))).collect();
    let sure = match (ways.len(), together.proved) {
        (0, _) => format!("At least {} of them would have to give way.", together.at_least),
        (1..=MOST_SAID, true) => format!("The rest agrees {}.", ways.join("; or ")),
        (several, true) => format!("The rest agrees in {several} ways, none of which is preferred here."),
        (several, false) => format!(
            "{several} ways make the rest agree; at least {} have to give way, and that fewer than these do is not ruled out.",
            together.at_least
        ),
    };
    let mut table = Table::with("What would have to give way", &["if", "the rest was put together"]);
    table.rows = together
        .reconciled
        .iter()
        .take(MOST_LISTED)
        .map(|one| vec![gives_way(weighed, one), when::intervals(&one.assembly)])
        .collect();
    let mut tables = vec![table];
    tables.retain(|table| !table.rows.is_empty());
    Told {
        id: "together".into(),
        sentence: "Not every mark and paper can be true of one piece put together once.".into(),
        sure,
        working: vec![
            "Each is taken at its word and no probability is in this; what is listed are sets of which nothing can be spared. A part put in later is common, and says nothing against the rest.".into(),
        ],
        tables,
        ..Told::default()
    }
}

/// `the choke was put in later and the receipt (entry 12) is wrong`.
fn gives_way(weighed: &Weighed, one: &Reconciled) -> String {
    let said = |it: &GivesWay| match it {
        GivesWay::Part(at) => {
            let name = weighed.parts.get(*at).map_or("part", |part| part.name.as_str());
            format!("the {name} was put in later")
        }
        GivesWay::Harness(at) => {
            let name = weighed.harnesses.get(*at).map_or("harness", |(name, _)| name.as_str());
            format!("{} was put in later, in one go", with_article(name))
        }
        GivesWay::Testimony { seq, source } if source == "looks" => {
            format!("the looks (entry {seq}) mislead")
        }
        GivesWay::Testimony { seq, source } => format!("the {source} (entry {seq}) is wrong"),
    };
    and(&one.gives_way.iter().map(said).collect::<Vec<_>>())
}

/// A name that may have its article already.
fn with_article(name: &str) -> String {
    if name.starts_with("the ") { name.to_owned() } else { format!("the {name}") }
}
