//! The drawing for somebody who does not see it, and the list of its joins.

use super::nets::Nets;
use super::{Circuit, Join, Side};
use crate::mark::Known;
use crate::table::Table;

pub(super) fn description(circuit: &Circuit) -> String {
    let side = match circuit.view.side {
        Side::Back => "Seen from the back",
        Side::Front => "Seen from the front",
    };
    let hand = if circuit.view.left_handed { ", mirrored for a left-handed instrument" } else { "" };
    let nets = Nets::of(circuit);
    let joins: Vec<String> = circuit
        .sound_joins()
        .map(|(_, join)| {
            let letter = nets.letter(join.from).unwrap_or_default();
            let how = if join.said.is_empty() { String::new() } else { format!(", {}", join.said) };
            format!("{letter}: {} to {}{how}", circuit.name_of(join.from), ends(circuit, join))
        })
        .collect();
    let joins = if joins.is_empty() { "no joins".to_owned() } else { joins.join("; ") };
    let parts: Vec<&str> = circuit.parts.iter().map(|part| part.name.as_str()).collect();
    format!("{side}{hand}. Parts: {}. Joins: {joins}.", parts.join(", "))
}

pub(super) fn table(circuit: &Circuit) -> Table {
    let nets = Nets::of(circuit);
    let row = |join: &Join| {
        let mark = if join.known == Known::Unknown { "?" } else { "" };
        vec![
            format!("{}{mark}", nets.letter(join.from).unwrap_or_default()),
            circuit.name_of(join.from),
            ends(circuit, join),
            join.said.clone(),
        ]
    };
    Table {
        header: ["line", "from", "to", "how it is known"].map(str::to_owned).to_vec(),
        rows: circuit.sound_joins().map(|(_, join)| row(join)).collect(),
    }
}

fn ends(circuit: &Circuit, join: &Join) -> String {
    let nothing = join.or_nothing.then(|| "nothing".to_owned());
    let ends: Vec<String> = join.to.iter().map(|tip| circuit.name_of(*tip)).chain(nothing).collect();
    ends.join(" or ")
}
