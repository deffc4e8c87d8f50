//! The trade's operations: hours, waits, hazards, what each takes away and whether it can be undone.

use super::cure::{Room, TooCold};
use super::{Cure, Hazard, Library};
use crate::schedule::Task;
use crate::table::{Row, TableFault, rows, said};
use crate::three_point::ThreePoint;
use jiff::Timestamp;

/// An operation.
#[derive(Debug, Clone, PartialEq)]
pub struct Operation {
    /// Its id in the table.
    pub id: String,
    /// What is done.
    pub name: String,
    /// On what sort of part.
    pub area: String,
    /// One's own hands before the wait.
    pub attended: ThreePoint,
    /// What goes by itself then.
    pub waits: Wait,
    /// One's own hands after the wait.
    pub then: Option<ThreePoint>,
    /// Whether the first part must not stand half done over night.
    pub in_one_go: bool,
    /// What is used up or put in.
    pub materials: Vec<String>,
    /// The hazards, by id.
    pub hazards: Vec<String>,
    /// The evidence it takes away; empty where it takes none.
    pub photograph_first: String,
    /// Whether it can be undone.
    pub reversible: Reversible,
    /// Where the figures are from.
    pub source: String,
}

/// What goes by itself.
#[derive(Debug, Clone, PartialEq)]
pub enum Wait {
    /// Nothing.
    Nothing,
    /// A material, by its id among the cures.
    Cure(String),
    /// A time.
    Hours(ThreePoint),
}

/// Whether an operation can be undone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reversible {
    /// Wholly.
    Fully,
    /// It can, and will show.
    WithTrace,
    /// It cannot.
    No,
}

impl Operation {
    /// The tasks of a plan that the operation makes: one, or two where hands are wanted again after the wait. What comes
    /// after the operation waits for the last of them.
    ///
    /// # Errors
    /// [`TooCold`] where its material does not cure in the room.
    pub fn tasks(
        &self,
        name: &str,
        library: &Library,
        room: Room,
        after: Vec<String>,
        not_before: Option<Timestamp>,
    ) -> Result<Vec<Task>, TooCold> {
        let unattended = match &self.waits {
            Wait::Nothing => ThreePoint::NONE,
            Wait::Hours(hours) => *hours,
            // The library holds every cure that its operations name; a wait that it does not hold is none.
            Wait::Cure(id) => match library.cure(id) {
                Some(cure) => cure.time(room)?.hours,
                None => ThreePoint::NONE,
            },
        };
        let first = Task {
            name: name.to_owned(),
            attended: self.attended,
            unattended,
            after,
            not_before,
            in_one_go: self.in_one_go,
        };
        let last = self.then.map(|attended| Task {
            name: format!("{name}, after the wait"),
            attended,
            unattended: ThreePoint::NONE,
            after: vec![name.to_owned()],
            not_before: None,
            in_one_go: false,
        });
        Ok(std::iter::once(first).chain(last).collect())
    }
}

/// Reads the table; cures and hazards are those it may name.
pub(super) fn read(text: &str, cures: &[Cure], hazards: &[Hazard]) -> Result<Vec<Operation>, TableFault> {
    let heading = [
        "id",
        "operation",
        "area",
        "attended",
        "waits",
        "then",
        "in_one_go",
        "materials",
        "hazards",
        "photograph_first",
        "reversible",
        "source",
    ];
    rows("operations", text, heading)?.iter().map(|row| operation(row, cures, hazards)).collect()
}

fn operation(row: &Row<12>, cures: &[Cure], hazards: &[Hazard]) -> Result<Operation, TableFault> {
    let [
        id,
        name,
        area,
        attended,
        waits,
        then,
        in_one_go,
        materials,
        dangers,
        photograph_first,
        reversible,
        source,
    ] = row.fields;
    let listed: Vec<String> = said(dangers).split_whitespace().map(str::to_owned).collect();
    if let Some(unknown) = listed.iter().find(|id| hazards.iter().all(|hazard| hazard.id != **id)) {
        return Err(row.wrong(unknown, "ids of the table of hazards, parted by blanks, or -"));
    }
    Ok(Operation {
        id: id.to_owned(),
        name: name.to_owned(),
        area: area.to_owned(),
        attended: row.hours(name, attended)?.unwrap_or(ThreePoint::NONE),
        waits: wait(row, name, waits, cures)?,
        then: row.hours(name, then)?,
        in_one_go: row.yes(in_one_go)?,
        materials: said(materials)
            .split(',')
            .map(str::trim)
            .filter(|one| !one.is_empty())
            .map(str::to_owned)
            .collect(),
        hazards: listed,
        photograph_first: said(photograph_first).to_owned(),
        reversible: match reversible {
            "fully" => Reversible::Fully,
            "trace" => Reversible::WithTrace,
            "no" => Reversible::No,
            _ => return Err(row.wrong(reversible, "fully, trace or no")),
        },
        source: source.to_owned(),
    })
}

fn wait(row: &Row<12>, name: &str, field: &str, cures: &[Cure]) -> Result<Wait, TableFault> {
    match field.strip_prefix("cure:") {
        Some(id) if cures.iter().any(|cure| cure.id == id) => Ok(Wait::Cure(id.to_owned())),
        Some(_) => Err(row.wrong(field, "cure: with an id of the table of cures, as cure:hide-glue-clamps")),
        None => Ok(row.hours(name, field)?.map_or(Wait::Nothing, Wait::Hours)),
    }
}
