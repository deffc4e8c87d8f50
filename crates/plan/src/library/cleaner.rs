//! Which cleaner harms which material. What is not known gets a dry brush.

use crate::table::{Row, TableFault, rows};

/// What is known of a cleaner on a material.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finding {
    /// It harms it.
    Unsafe,
    /// Only after a trial where it does not show.
    TestFirst,
    /// It is usually used, and still tried first.
    Usual,
}

/// A cleaner on a material.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cleaning {
    /// The material.
    pub material: String,
    /// The cleaner.
    pub cleaner: String,
    /// What is known.
    pub finding: Finding,
    /// Why.
    pub why: String,
    /// Where it is from.
    pub source: String,
}

/// What to say to a cleaner in a hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Advice<'a> {
    /// The material is not known, or nothing is known of the two together: a dry brush only.
    DryBrushOnly,
    /// Known.
    Known(&'a Cleaning),
}

/// Reads the table.
pub(super) fn read(text: &str) -> Result<Vec<Cleaning>, TableFault> {
    rows("cleaners", text, ["material", "cleaner", "finding", "why", "source"])?
        .iter()
        .map(cleaning)
        .collect()
}

fn cleaning(row: &Row<5>) -> Result<Cleaning, TableFault> {
    let [material, cleaner, finding, why, source] = row.fields.map(str::to_owned);
    let finding = match finding.as_str() {
        "unsafe" => Finding::Unsafe,
        "test" => Finding::TestFirst,
        "usual" => Finding::Usual,
        _ => return Err(row.wrong(&finding, "unsafe, test or usual")),
    };
    Ok(Cleaning { material, cleaner, finding, why, source })
}
