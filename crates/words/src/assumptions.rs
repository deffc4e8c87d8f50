//! What is taken for granted in this workshop, in words: each opinion with its value, range and source.

use asfound_measure::engineering;
use asfound_study::Job;
use asfound_study::own_values::{InForce, in_force};

/// One opinion as it is listed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Its name: what a value of one's own is kept under.
    pub name: String,
    /// The value in force, with its unit.
    pub value: String,
    /// Whether the value is the workshop's own.
    pub own: bool,
    /// Where the value in force comes from.
    pub source: String,
    /// The value as the program comes with it, and the range within which others might put it.
    pub comes: String,
}

/// Every opinion with the value in force in this workshop.
pub fn list(workshop: &Job) -> Vec<Listed> {
    in_force(workshop).iter().map(listed).collect()
}

fn listed(one: &InForce) -> Listed {
    let (least, most) = one.range;
    let range = format!("{} to {}", figure(least, one.unit), figure(most, one.unit));
    Listed {
        name: one.name.to_owned(),
        value: figure(one.value, one.unit),
        own: one.own_source.is_some(),
        source: one.own_source.clone().unwrap_or_else(|| one.source.to_owned()),
        comes: format!("comes as {}, usual {range}", figure(one.comes, one.unit)),
    }
}

/// An opinion with its value, and how far others might put it from there: `pot replaced 0.1 (0.03 to 0.3)`.
pub(crate) fn in_range(one: &InForce) -> String {
    let (least, most) = one.range;
    format!("{} {} ({least} to {most})", one.name, figure(one.value, one.unit))
}

/// A share as it is, a figure with its unit.
pub(crate) fn figure(value: f64, unit: &str) -> String {
    match unit {
        "" => value.to_string(),
        "°C" | "months" => format!("{value} {unit}"),
        unit => engineering(value, 3, unit),
    }
}
