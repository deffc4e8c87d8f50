//! From the lines of a trace to a network.

use std::collections::BTreeMap;

use asfound_measure::{Farads, Henries, Ohms};

use super::fault::{Fault, Gathered, TraceFaults, nearest};
use super::statement::{CoilLine, End, HowKnown, JoinLine, Law, Place, Pole, Statement, Winding};
use super::{TraceLine, key};
use crate::circuit::{Circuit, Coil, Join, JoinTo, Known, Part, Pot, Sign, Sort, Terminal};
use crate::plan::{Between, Plan, Position};
use crate::taper::Taper;

/// Resistance taken where a coil was not measured: 5 to 10 kilohms are the rule for a single coil (common practice, no
/// source).
pub const ASSUMED_RESISTANCE: Ohms = Ohms(7000.0);

/// A coil over a range that reaches this far is taken as open; one over a shorter range as not measured, because whole
/// coils read up to here (common practice, no source).
pub const OPEN_FROM_RANGE: Ohms = Ohms(20_000.0);

/// Inductance taken where a coil has none written: about the average of a single coil, of 1 to 10 H for most pickups
/// (Lemme, The Secrets of Electric Guitar Pickups, 2009).
pub const ASSUMED_INDUCTANCE: Henries = Henries(2.4);

/// Winding capacitance taken where a coil has none written: within the 80 to 200 pF of Lemme (2009).
pub const ASSUMED_CAPACITANCE: Farads = Farads(120e-12);

/// Share of the track at half turn taken for an audio taper that was not metered (0.10 to 0.30 are met in the trade;
/// common practice, no source). Only a knob's dial needs it: ends and half of the ohms do not.
pub const ASSUMED_AUDIO_SHARE: f64 = 0.15;

/// The plan of this name.
pub(super) fn plan_named(read: &str) -> Result<Plan, Fault> {
    Plan::named(read).ok_or_else(|| Fault::UnknownPlan {
        read: read.to_owned(),
        nearest: nearest(read, Plan::names().collect::<Vec<_>>().iter().map(String::as_str)),
        plans: Plan::names_in_short().collect(),
    })
}

/// Builds the network of lines that are known to fit together.
pub(super) fn circuit(lines: &[TraceLine]) -> Result<Circuit, TraceFaults> {
    let mut faults = Gathered::default();
    jacks(lines, &mut faults);
    let parts = parts(lines, &mut faults);
    let index: BTreeMap<String, usize> =
        parts.iter().enumerate().map(|(index, part)| (key(&part.name), index)).collect();
    let joins = lines
        .iter()
        .filter_map(|line| match &line.statement {
            Some(Statement::Join(said)) => join(said, &parts, &index),
            _ => None,
        })
        .collect();
    match Circuit::new(parts, joins) {
        Ok(circuit) => faults.answer(circuit),
        Err(errors) => {
            for error in errors {
                faults.at(1, 1, Fault::Refused { said: error.to_string() });
            }
            Err(faults.told())
        }
    }
}

/// The jack must be there, and one only.
fn jacks(lines: &[TraceLine], faults: &mut Gathered) {
    let mut first = None;
    for (index, line) in lines.iter().enumerate() {
        if let Some(Statement::Jack { name }) = &line.statement {
            match first {
                None => first = Some(index + 1),
                Some(first_line) => {
                    faults.at(index + 1, 1, Fault::SecondJack { name: name.clone(), first_line })
                }
            }
        }
    }
    if first.is_none() {
        faults.at(lines.len().max(1), 1, Fault::NoJack);
    }
}

fn parts(lines: &[TraceLine], faults: &mut Gathered) -> Vec<Part> {
    let mut parts = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        let Some(statement) = &line.statement else { continue };
        let sort = match statement {
            Statement::Coil(said) => Sort::Coil(coil(said)),
            Statement::Pot { track, law, .. } => {
                Sort::Pot(Pot { track: track.value, taper: taper(law.as_ref()) })
            }
            Statement::Switch { plan: Some(plan), .. } => match plan_named(plan) {
                Ok(plan) => Sort::Switch(plan),
                Err(fault) => {
                    faults.at(index + 1, 1, fault);
                    continue;
                }
            },
            Statement::Switch { plan: None, .. } => match written_out(&lines[index + 1..]) {
                Ok(plan) => Sort::Switch(plan),
                Err(said) => {
                    faults.at(index + 1, 1, Fault::Refused { said });
                    continue;
                }
            },
            Statement::Capacitor { value, .. } => Sort::Capacitor(value.value),
            Statement::Resistor { value, .. } => Sort::Resistor(value.value),
            Statement::Choke { resistance, inductance, .. } => {
                Sort::Choke { resistance: resistance.value, inductance: inductance.value }
            }
            Statement::Jack { .. } => Sort::Jack,
            Statement::Metal { .. } => Sort::Metal,
            Statement::Post { lugs, .. } => Sort::Post { lugs: *lugs },
            Statement::Lugs(_) | Statement::At { .. } | Statement::Between(_) | Statement::Join(_) => {
                continue;
            }
        };
        if let Some((_, name)) = statement.part() {
            parts.push(Part::new(name, sort));
        }
    }
    parts
}

fn coil(said: &CoilLine) -> Coil {
    Coil {
        resistance: said.resistance.taken().unwrap_or(ASSUMED_RESISTANCE),
        inductance: said.inductance.as_ref().map_or(ASSUMED_INDUCTANCE, |written| written.value),
        capacitance: said.capacitance.as_ref().map_or(ASSUMED_CAPACITANCE, |written| written.value),
        winding: said.winding.map(|winding| match winding {
            Winding::Clockwise => Sign::Plus,
            Winding::Anticlockwise => Sign::Minus,
        }),
        magnet: said.pole.map(|pole| match pole {
            Pole::North => Sign::Plus,
            Pole::South => Sign::Minus,
        }),
        eddy: None,
        cover: said.cover,
        open: said.resistance.taken().is_none(),
    }
}

fn taper(law: Option<&Law>) -> Taper {
    let share = |share: &Option<super::Written<f64>>| share.as_ref().map(|written| written.value);
    match law {
        None => Taper::Unknown,
        Some(Law::Linear) => Taper::Linear,
        Some(Law::Audio(metered)) => Taper::Audio { middle: share(metered).unwrap_or(ASSUMED_AUDIO_SHARE) },
        Some(Law::Reverse(metered)) => {
            Taper::Reverse { middle: share(metered).unwrap_or(1.0 - ASSUMED_AUDIO_SHARE) }
        }
    }
}

/// The plan in the lines under a switch.
fn written_out(below: &[TraceLine]) -> Result<Plan, String> {
    let mut lugs: Vec<String> = Vec::new();
    let mut positions = Vec::new();
    let mut between = Between::Unknown;
    for line in below {
        match &line.statement {
            None => {}
            Some(Statement::Lugs(said)) => lugs.extend(said.iter().cloned()),
            Some(Statement::At { position, pairs }) => {
                let at = |lug: &str| lugs.iter().position(|known| key(known) == key(lug));
                let contacts = pairs.iter().filter_map(|(a, b)| Some((at(a)?, at(b)?))).collect();
                positions.push(Position { name: position.clone(), contacts });
            }
            Some(Statement::Between(said)) => between = *said,
            Some(_) => break,
        }
    }
    Plan::new(lugs, positions, between).map_err(|error| error.to_string())
}

fn terminal(place: &Place, parts: &[Part], index: &BTreeMap<String, usize>) -> Option<Terminal> {
    let part = *index.get(&key(&place.part))?;
    let lug = match &place.terminal {
        None => 0,
        Some(wanted) => parts[part].lugs().iter().position(|lug| key(lug) == key(wanted))?,
    };
    Some(Terminal { part, lug })
}

fn join(said: &JoinLine, parts: &[Part], index: &BTreeMap<String, usize>) -> Option<Join> {
    let a = terminal(&said.from, parts, index)?;
    let mut terminals = Vec::new();
    let mut or_nothing = false;
    for end in &said.to {
        match end {
            End::At(place) => terminals.push(terminal(place, parts, index)?),
            End::Nothing => or_nothing = true,
        }
    }
    let known = match &said.how {
        HowKnown::Metered(ohms) => Known::Metered { ohms: ohms.as_ref().map(|written| written.value) },
        HowKnown::Seen(place) => Known::Seen { where_: (!place.is_empty()).then(|| place.clone()) },
        HowKnown::Matched(_) => Known::Matched,
        HowKnown::Unknown => Known::Unknown,
    };
    let to = match (&said.how, terminals.as_slice()) {
        (HowKnown::Unknown, _) => JoinTo::Candidates { terminals, or_nothing },
        (_, [one]) => JoinTo::One(*one),
        _ => return None,
    };
    Some(Join { a, to, known })
}

/// The odds of each join that has them; joins are counted as the network counts them.
pub(super) fn odds(lines: &[TraceLine]) -> Vec<(usize, Vec<f64>)> {
    let joins = lines.iter().filter_map(|line| match &line.statement {
        Some(Statement::Join(join)) => Some(join),
        _ => None,
    });
    joins
        .enumerate()
        .filter(|(_, join)| !join.odds.is_empty())
        .map(|(index, join)| {
            let (places, nowhere): (Vec<_>, Vec<_>) =
                join.to.iter().zip(&join.odds).partition(|(end, _)| **end != End::Nothing);
            (index, places.into_iter().chain(nowhere).map(|(_, &odds)| f64::from(odds)).collect())
        })
        .collect()
}
