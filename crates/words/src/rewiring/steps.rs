//! Steps at the bench, one line each.

use asfound_study::rewiring::Step;

use super::names::Names;
use crate::sheet::Table;

/// Which way the steps go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    There,
    Back,
}

/// Steps with a cell beside each to tick.
pub(super) fn table(caption: &str, steps: &[Step], names: &Names, way: Way) -> Table {
    let mut table = Table::with(caption, &["no.", "step", "done"]);
    table.rows = steps
        .iter()
        .enumerate()
        .map(|(at, step)| vec![(at + 1).to_string(), said(step, names, way), String::new()])
        .collect();
    table
}

fn said(step: &Step, names: &Names, way: Way) -> String {
    match step {
        Step::FreeMetal { coil } => {
            format!("Part the metal of {} from its lead, before anything else.", names.coil(*coil))
        }
        Step::Resolder { stays, from, to } => {
            format!("Unsolder what comes from {stays} at {from}; solder it to {to}.")
        }
        Step::TakeOff { a, b } => format!("Take off the wire between {a} and {b}; keep it in the tray."),
        Step::Free { lead, from } => format!("Unsolder {lead} from {from}; make its end safe."),
        Step::Wire { a, b } => format!("Solder a wire from {a} to {b}."),
        Step::SolderLeg { leg, to } => format!("Solder {leg} to {to}."),
        Step::KeepSelector { name } => match way {
            Way::There => format!("Lift {name} out whole; bag it, with a label that says where it sat."),
            Way::Back => format!("Put {name} back in its place."),
        },
    }
}
