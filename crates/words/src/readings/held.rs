//! What is held of coils before anything is found: every opinion with its source, to be stated anew by a workshop.

use asfound_study::Job;
use asfound_study::coils::{Matter, Opinion, Opinions, opinions};

use crate::sheet::{Table, Told};

/// The finding that lists them; the last on its page.
pub(crate) fn held(workshop: &Job) -> Told {
    let own = opinions(workshop);
    let mut table = Table::with(
        "Held of coils beforehand",
        &["of it", "#held", "#range", "the workshop's own", "source"],
    );
    // What hangs on the jack is assumed in the same way, and is nothing about coils.
    let of_coils =
        |opinion: &&Opinion| !matches!(opinion.matter, Matter::CableCapacitance | Matter::InputResistance);
    table.rows = Opinions::all()
        .iter()
        .filter(of_coils)
        .map(|opinion| {
            let (low, high) = opinion.range;
            let value = own.value(opinion.matter);
            let stated = workshop.assumptions.iter().rev().find(|item| item.body.name == opinion.name);
            vec![
                opinion.name.to_owned(),
                with_unit(value, opinion.unit),
                format!("{} to {}", plain(low), plain(high)),
                stated.map(|item| item.body.source.clone()).unwrap_or_default(),
                opinion.source.to_owned(),
            ]
        })
        .collect();
    let stated = table.rows.iter().filter(|row| !row[3].is_empty()).count();
    Told {
        id: "held".into(),
        sentence: "What is held of coils beforehand is open to the workshop's own.".into(),
        sure: match stated {
            0 => "None is stated anew yet; “asfound assume” with a name, a value and its source does it."
                .into(),
            1 => "One is stated anew by this workshop.".into(),
            several => format!("{several} are stated anew by this workshop."),
        },
        tables: vec![table],
        ..Told::default()
    }
}

fn with_unit(value: f64, unit: &str) -> String {
    format!("{} {unit}", plain(value)).trim_end().to_owned()
}

fn plain(value: f64) -> String {
    if value != 0.0 && value.abs() < 1e-3 {
        return format!("{value:.1e}");
    }
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
