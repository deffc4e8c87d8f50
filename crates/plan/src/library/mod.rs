//! What the trade does, with what, how long it takes, and what it can hurt or take away.
//!
//! **The one decision: it is a table, not a program.** Every figure stands in a text with its source beside it, and a
//! workshop's own rows take the place of those that come with the program. Most hours here have no published source and
//! say so; they are where a first estimate begins, and a bench's own figures are better from the first job on.
//!
//! A material that is not known gets a dry brush. A cure takes its time from the tin and the room: where no figure for
//! the temperature is known, that is said and nothing is reckoned.
//!
//! ```
//! use asfound_measure::Celsius;
//! use asfound_plan::library::{Advice, Library, Room};
//!
//! let library = Library::built_in();
//! let mend = library.operation("headstock-break").unwrap();
//! let room = Room { coldest: Celsius(15.0), warmest: Celsius(25.0) };
//! let tasks = mend.tasks("glue the headstock", library, room, vec![], None)?;
//! assert_eq!(tasks.len(), 2);
//! assert_eq!(tasks[0].unattended.likely().0, 48.0);
//! assert_eq!(library.cleaning(None, "naphtha"), Advice::DryBrushOnly);
//! # Ok::<(), asfound_plan::library::TooCold>(())
//! ```

mod cleaner;
mod cure;
mod operation;

pub use crate::table::TableFault;
pub use cleaner::{Advice, Cleaning, Finding};
pub use cure::{Cure, CureTime, Room, TooCold};
pub use operation::{Operation, Reversible, Wait};

use std::sync::LazyLock;

/// The sentence that follows every caution.
pub const DEFERS: &str = "Local codes and licensed practice come first.";

/// What can hurt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hazard {
    /// Its id in the table.
    pub id: String,
    /// The caution that opens a step, without capital or stop.
    pub caution: String,
    /// Where it is from.
    pub source: String,
}

/// The texts of the tables. An empty text is a table without rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tables<'a> {
    /// Operations.
    pub operations: &'a str,
    /// How long materials take.
    pub cures: &'a str,
    /// What can hurt.
    pub hazards: &'a str,
    /// Which cleaner harms which material.
    pub cleaners: &'a str,
}

impl Tables<'static> {
    /// Those that come with the program.
    pub const BUILT_IN: Tables<'static> = Tables {
        operations: include_str!("../../data/operations.tsv"),
        cures: include_str!("../../data/cures.tsv"),
        hazards: include_str!("../../data/hazards.tsv"),
        cleaners: include_str!("../../data/cleaners.tsv"),
    };
}

/// The tables, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Library {
    operations: Vec<Operation>,
    cures: Vec<Cure>,
    hazards: Vec<Hazard>,
    cleanings: Vec<Cleaning>,
}

static BUILT_IN: LazyLock<Library> = LazyLock::new(|| {
    Library::read(&[Tables::BUILT_IN]).expect("the tests read the tables that come with the program")
});

impl Library {
    /// The one that comes with the program.
    pub fn built_in() -> &'static Library {
        &BUILT_IN
    }

    /// Reads tables one after another: a row takes the place of an earlier one with its id.
    ///
    /// # Errors
    /// [`TableFault`] with the place of what cannot be read.
    pub fn read(tables: &[Tables]) -> Result<Library, TableFault> {
        let mut library = Library { operations: vec![], cures: vec![], hazards: vec![], cleanings: vec![] };
        for text in tables {
            for hazard in read_hazards(text.hazards)? {
                put(&mut library.hazards, hazard, |one, other| one.id == other.id);
            }
            for cure in cure::read(text.cures)? {
                put(&mut library.cures, cure, |one, other| one.id == other.id);
            }
            for cleaning in cleaner::read(text.cleaners)? {
                let same = |one: &Cleaning, other: &Cleaning| {
                    (&one.material, &one.cleaner) == (&other.material, &other.cleaner)
                };
                put(&mut library.cleanings, cleaning, same);
            }
            for operation in operation::read(text.operations, &library.cures, &library.hazards)? {
                put(&mut library.operations, operation, |one, other| one.id == other.id);
            }
        }
        Ok(library)
    }

    /// Every operation.
    pub fn operations(&self) -> &[Operation] {
        &self.operations
    }

    /// An operation by its id.
    pub fn operation(&self, id: &str) -> Option<&Operation> {
        self.operations.iter().find(|operation| operation.id == id)
    }

    /// Every cure.
    pub fn cures(&self) -> &[Cure] {
        &self.cures
    }

    /// A cure by its id.
    pub fn cure(&self, id: &str) -> Option<&Cure> {
        self.cures.iter().find(|cure| cure.id == id)
    }

    /// The hazards of an operation. To each belongs [`DEFERS`].
    pub fn hazards<'a>(&'a self, operation: &'a Operation) -> impl Iterator<Item = &'a Hazard> {
        self.hazards.iter().filter(|hazard| operation.hazards.contains(&hazard.id))
    }

    /// Every cleaner on every material that something is known of.
    pub fn cleanings(&self) -> &[Cleaning] {
        &self.cleanings
    }

    /// What to say to a cleaner on a material; none if the material is not known.
    pub fn cleaning(&self, material: Option<&str>, cleaner: &str) -> Advice<'_> {
        let known = self
            .cleanings
            .iter()
            .find(|one| Some(one.material.as_str()) == material && one.cleaner == cleaner);
        known.map_or(Advice::DryBrushOnly, Advice::Known)
    }
}

/// In the place of the same, or at the end.
fn put<T>(list: &mut Vec<T>, new: T, same: impl Fn(&T, &T) -> bool) {
    match list.iter_mut().find(|old| same(old, &new)) {
        Some(old) => *old = new,
        None => list.push(new),
    }
}

fn read_hazards(text: &str) -> Result<Vec<Hazard>, TableFault> {
    let rows = crate::table::rows("hazards", text, ["id", "caution", "source"])?;
    let hazard = |row: &crate::table::Row<3>| {
        let [id, caution, source] = row.fields.map(str::to_owned);
        Hazard { id, caution, source }
    };
    Ok(rows.iter().map(hazard).collect())
}
