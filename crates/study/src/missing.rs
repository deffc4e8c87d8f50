//! What has not been measured yet, part by part: what a bench sheet leaves room for.

use asfound_record::{Job, Part};

use crate::parts::is_electrical;

/// One reading that is still missing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// The part's id.
    pub part: String,
    /// The part's name.
    pub name: String,
    /// What is to be measured, as a reading's quantity is kept.
    pub quantity: &'static str,
    /// How it is said at the bench behind the part's name, with a dash for the figure.
    pub said_as: &'static str,
    /// Whether it takes more than a multimeter.
    pub needs: Needs,
}

/// What a reading takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needs {
    /// A multimeter.
    Meter,
    /// A calliper or a micrometer.
    Calliper,
    /// A bridge for inductance.
    Bridge,
}

const OF_A_COIL: [(&str, &str, Needs); 9] = [
    ("resistance", "— k — C at the joints", Needs::Meter),
    ("leak to frame", "leak to frame over — M", Needs::Meter),
    ("winding depth", "depth — mm", Needs::Calliper),
    ("winding height", "height — mm", Needs::Calliper),
    ("outer length", "outer length — mm", Needs::Calliper),
    ("pole span", "pole span — mm", Needs::Calliper),
    ("inductance at 120 Hz", "— H at 120 Hz", Needs::Bridge),
    ("inductance at 1 kHz", "— H at 1 kHz", Needs::Bridge),
    ("Q at 1 kHz", "Q — at 1 kHz", Needs::Bridge),
];

/// Everything that a bench sheet asks for, in the order of the parts.
pub fn study(job: &Job) -> Vec<Missing> {
    job.parts.iter().flat_map(|part| of_part(job, part)).collect()
}

fn of_part(job: &Job, part: &Part) -> Vec<Missing> {
    let body = &part.item.body;
    let asked: &[(&'static str, &'static str, Needs)] = match body.sort.as_str() {
        "coil" => &OF_A_COIL,
        "capacitor" => &[("capacitance", "— n", Needs::Meter)],
        sort if is_electrical(sort) => &[("resistance", "— ohm", Needs::Meter)],
        _ => &[],
    };
    let has = |quantity: &str| {
        job.readings.iter().any(|item| item.body.part == body.part && item.body.quantity == quantity)
    };
    asked
        .iter()
        .filter(|(quantity, ..)| !has(quantity))
        .map(|(quantity, said_as, needs)| Missing {
            part: body.part.clone(),
            name: body.name.clone(),
            quantity,
            said_as,
            needs: *needs,
        })
        .collect()
}
