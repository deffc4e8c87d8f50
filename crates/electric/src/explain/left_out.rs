//! What is said of states that are too many to be told one by one.

use super::facts::StateTold;
use super::told::{Limit, SwitchOver};
use crate::circuit::Circuit;
use crate::state::Setting;

/// The limit, where there are more states than are told: with each switch and how far it is told.
pub(super) fn states_left_out(circuit: &Circuit, states: &[StateTold]) -> Option<Limit> {
    let of = Setting::count(circuit);
    if of <= states.len() as u128 {
        return None;
    }
    Some(Limit::StatesLeftOut {
        told: states.len(),
        of: u64::try_from(of).unwrap_or(u64::MAX),
        by_switch: by_switch(circuit, states),
    })
}

/// The states told are the first ones and the last switch turns fastest, so of each switch the first positions are told.
fn by_switch(circuit: &Circuit, states: &[StateTold]) -> Vec<SwitchOver> {
    circuit
        .switches()
        .enumerate()
        .map(|(switch, (part, plan))| SwitchOver {
            name: circuit.parts()[part].name.clone(),
            positions: plan.positions().iter().map(|position| position.name.clone()).collect(),
            told: states.iter().map(|state| state.positions[switch] + 1).max().unwrap_or(0),
        })
        .collect()
}
