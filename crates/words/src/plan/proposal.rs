//! The proposal: a paper for the owner, with the choices side by side and room for what is agreed.

use asfound_study::material::Material;
use asfound_study::plan::{Plan, study};

use super::{choice, choices};
use crate::bench_sheet::BenchSheet;
use crate::cautions;
use crate::lists::capital;
use crate::sheet::Table;

/// The proposal to print and sign. It tells the estimate, never what the owner could spend or what a sale charges.
pub fn proposal(material: &Material) -> BenchSheet {
    let job = &*material.job;
    let plan = study(job, &material.before.plans);
    let caution = cautions::of_piece(job).map(str::to_owned).unwrap_or_default();
    if plan.tasks.is_empty() {
        let about = "There is nothing to propose yet: the page Plan says how a task is said.".to_owned();
        return BenchSheet { caution, about, tables: Vec::new() };
    }
    let shown = [choices::side_by_side(&plan), choices::costs(&plan)];
    let mut tables: Vec<Table> = shown.into_iter().flatten().flat_map(|told| told.shown).collect();
    tables.extend(calls(&plan));
    tables.push(to_agree(&plan));
    BenchSheet { caution, about: ABOUT.to_owned(), tables }
}

const ABOUT: &str = "This is an estimate and not a quotation: ranges hold eight chances in ten, and sums are to two digits. \
                     Keeping the piece as it is stays open. What the law of the place says of estimates, quotations and \
                     of an owner's right to withdraw comes first.";

/// What the owner is called for before more is done.
fn calls(plan: &Plan) -> Option<Table> {
    let mut table = Table::with("The owner is asked first", &["when"]);
    table.rows.push(vec!["the sum agreed would be passed".to_owned()]);
    table
        .rows
        .push(vec!["something is found that was not known, or that would take evidence away".to_owned()]);
    let parts = plan.tasks.iter().filter_map(|task| task.not_before.as_ref().map(|(_, what)| what));
    table.rows.extend(parts.map(|what| vec![format!("{what} does not come, or not as ordered")]));
    (!plan.tasks.is_empty()).then_some(table)
}

/// Room to write what is agreed.
fn to_agree(plan: &Plan) -> Table {
    let mut table = Table::with("Agreed", &["choice", "up to, without asking again", "day", "signed"]);
    table.rows = plan
        .choices
        .iter()
        .map(|it| vec![capital(choice(it.choice)), String::new(), String::new(), String::new()])
        .collect();
    table
}
