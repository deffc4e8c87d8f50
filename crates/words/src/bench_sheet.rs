//! A sheet to print and write on at the bench: the readings still missing, with room for each.

use asfound_study::Job;
use asfound_study::missing::{Missing, Needs, study};

use crate::cautions;
use crate::sheet::Table;

/// What goes on the sheet of paper.
#[derive(Debug, Clone, Default)]
pub struct BenchSheet {
    /// What can hurt, first.
    pub caution: String,
    /// How to fill it in.
    pub about: String,
    /// One table for each tool that is taken up; cells left empty are to be written in.
    pub tables: Vec<Table>,
}

/// The bench sheet of a job. With nothing missing it has no table.
pub fn bench_sheet(job: &Job) -> BenchSheet {
    let missing = study(job);
    let tables = [
        (Needs::Meter, "With the multimeter"),
        (Needs::Calliper, "With calliper and micrometer"),
        (Needs::Bridge, "With a bridge for inductance, where one is at hand"),
    ];
    let tables: Vec<Table> = tables
        .into_iter()
        .filter_map(|(needs, caption)| table(caption, missing.iter().filter(|it| it.needs == needs)))
        .collect();
    let about = if tables.is_empty() {
        "Nothing is missing: every part that is measured has its reading.".to_owned()
    } else {
        "Write what the display shows, with its unit; over range and not measured are answers too. Note the room's temperature, the meter and its range.".to_owned()
    };
    BenchSheet { caution: cautions::metering(job).to_owned(), about, tables }
}

fn table<'m>(caption: &str, missing: impl Iterator<Item = &'m Missing>) -> Option<Table> {
    let columns = ["no.", "part", "measure", "as read", "room", "meter, range", "said at the bench as"];
    let mut table = Table::with(caption, &columns);
    table.rows = missing
        .map(|it| {
            let said = format!("{} {}", it.part, it.said_as);
            let blank = String::new;
            vec![it.part.clone(), it.name.clone(), it.quantity.to_owned(), blank(), blank(), blank(), said]
        })
        .collect();
    (!table.rows.is_empty()).then_some(table)
}
