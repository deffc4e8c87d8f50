//! The sheet of a proposal to print: steps to tick, readings with room for what is read, and the way back.

use asfound_measure::engineering;
use asfound_study::material::Material;
use asfound_study::rewiring::{Answered, Proposal, RewiringTold, study};

use super::IRON;
use super::names::Names;
use super::proposal::{headline, id};
use super::steps::{Way, table};
use crate::cautions;
use crate::sheet::Table;

/// What goes on the sheet of paper.
#[derive(Debug, Clone, Default)]
pub struct RewiringSheet {
    /// What is done, in one clause.
    pub title: String,
    /// What can hurt or be lost, first.
    pub caution: String,
    /// How to use it.
    pub about: String,
    /// Steps, readings, way back; empty cells are to be written in.
    pub tables: Vec<Table>,
}

/// The sheet of the proposal with this id, where it is still offered.
pub fn rewiring_sheet(material: &Material, wanted: &str) -> Option<RewiringSheet> {
    let rewiring = study(material);
    let RewiringTold::Answered(answered) = &rewiring.told else { return None };
    let names = Names::of(answered, &rewiring);
    let proposal = answered.answer.proposals.iter().find(|it| id(it, &names) == wanted)?;
    Some(RewiringSheet {
        title: headline(proposal, &names),
        caution: format!("{} {IRON}", cautions::metering(&material.job)),
        about: "Tick each step as it is done. Then take the readings with the cable out and every knob open; one that is off says where to look before the plate goes back. The way back brings it to as found.".into(),
        tables: tables(answered, proposal, &names),
    })
}

fn tables(answered: &Answered, proposal: &Proposal, names: &Names) -> Vec<Table> {
    let shown = |ohms: Option<asfound_measure::Ohms>| match ohms {
        None => "over range".to_owned(),
        // What touches shows the leads and no more.
        Some(ohms) if ohms.0 < 0.5 => "0 Ω".to_owned(),
        Some(ohms) => engineering(ohms.0, 4, "Ω"),
    };
    let mut readings =
        Table::with("Readings that test it", &["between", "switches", "should read", "as read"]);
    let jack = proposal
        .sounds
        .iter()
        .map(|it| vec!["tip and sleeve".to_owned(), names.position(it), shown(it.ohms), String::new()]);
    let probed = proposal.probings.iter().map(|it| {
        vec![format!("{} and {}", it.a, it.b), "first positions".to_owned(), shown(it.ohms), String::new()]
    });
    readings.rows = jack.chain(probed).collect();
    let mut wire = Table::with("Wire to cut", &["from", "to", "length, mm", "cut from", "cut"]);
    wire.rows = proposal
        .cuts
        .cuts
        .iter()
        .map(|cut| {
            let piece = cut.from.and_then(|at| answered.asked.wire.get(at)).map(|it| it.name.clone());
            let piece = piece.unwrap_or_else(|| "new wire".into());
            vec![cut.a.clone(), cut.b.clone(), format!("{:.0}", cut.length.0), piece, String::new()]
        })
        .collect();
    let steps = table("Steps", &proposal.steps, names, Way::There);
    let back = table("The way back", &proposal.way_back, names, Way::Back);
    [steps, wire, readings, back].into_iter().filter(|table| !table.rows.is_empty()).collect()
}
