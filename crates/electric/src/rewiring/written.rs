//! A wiring written as a trace again: the lines as typed, without the joins that are gone, and with those that are new.

use std::collections::BTreeSet;

use super::answer::{Bleed, Doing};
use super::wires::{Wire, Wires, wire};
use crate::circuit::{Circuit, Join, JoinTo, Known, Part, Sort, Terminal};
use crate::polarity::Joined;
use crate::trace::{HowKnown, Statement, Trace};

/// How a join of a proposal is known: it is not there yet.
pub(super) const PLANNED: &str = "seen planned";

/// The circuit of a wiring, its bleeds with it. `base` is the circuit as it stands; its parts keep their places.
pub(super) fn circuit(base: &Circuit, wires: &Wires) -> Option<Circuit> {
    let mut parts = base.parts().to_vec();
    let mut all: Vec<Wire> = wires.wires.iter().copied().collect();
    for doing in &wires.doings {
        if let Doing::Bleed { knob, bleed } = doing {
            let (pot, _) = base.pots().nth(*knob)?;
            all.extend(fit(&mut parts, pot, bleed));
        }
    }
    let known = Known::Seen { where_: Some("planned".to_owned()) };
    let joins = all.into_iter().map(|(a, to)| Join { a, to: JoinTo::One(to), known: known.clone() });
    Circuit::new(parts, joins.collect()).ok()
}

/// Adds the parts of a bleed and answers their wires.
fn fit(parts: &mut Vec<Part>, pot: usize, bleed: &Bleed) -> Vec<Wire> {
    let (wiper, upper) = (Terminal { part: pot, lug: 1 }, Terminal { part: pot, lug: 2 });
    let at = |part: usize, lug| Terminal { part, lug };
    let capacitor = parts.len();
    parts.push(Part::new(bleed.capacitor.name.clone(), Sort::Capacitor(bleed.capacitor.value)));
    let Some((resistor, joined)) = &bleed.resistor else {
        return vec![wire(upper, at(capacitor, 0)), wire(wiper, at(capacitor, 1))];
    };
    let added = parts.len();
    parts.push(Part::new(resistor.name.clone(), Sort::Resistor(resistor.value)));
    let mut wires = vec![wire(upper, at(capacitor, 0)), wire(wiper, at(added, 1))];
    wires.push(match joined {
        Joined::Series => wire(at(capacitor, 1), at(added, 0)),
        Joined::Parallel => wire(wiper, at(capacitor, 1)),
    });
    if *joined == Joined::Parallel {
        wires.push(wire(upper, at(added, 0)));
    }
    wires
}

/// The trace of a circuit near the one found: `base` is the circuit as it stands, `now` the new one, whose parts begin
/// with those of `base`.
pub(super) fn trace(found: &Trace, base: &Circuit, now: &Circuit) -> String {
    let mut left: BTreeSet<Wire> = wires_of(now);
    let mut text = String::new();
    for line in found.lines() {
        match &line.statement {
            Some(Statement::Join(join)) => {
                if join.how == HowKnown::Unknown {
                    continue;
                }
                let name = |place: &crate::trace::Place| match &place.terminal {
                    Some(terminal) => format!("{}.{terminal}", place.part),
                    None => format!("{}.case", place.part),
                };
                let ends = [
                    Some(name(&join.from)),
                    join.to.first().map(|end| match end {
                        crate::trace::End::At(place) => name(place),
                        crate::trace::End::Nothing => String::new(),
                    }),
                ];
                let ends = ends.map(|name| name.and_then(|name| base.terminal(&name).ok()));
                if let [Some(a), Some(b)] = ends
                    && left.remove(&wire(a, b))
                {
                    text += &line.text;
                    text.push('\n');
                }
            }
            _ => {
                text += &line.text;
                text.push('\n');
            }
        }
    }
    text = text.trim_end().to_owned() + "\n";
    for part in &now.parts()[base.parts().len()..] {
        text += &part_line(part);
    }
    for (a, b) in left {
        text += &format!("join {} {} {PLANNED}\n", now.name_of(a), now.name_of(b));
    }
    text
}

pub(super) fn wires_of(circuit: &Circuit) -> BTreeSet<Wire> {
    Wires::of(circuit.joins()).wires
}

/// The line of a part that is put in.
fn part_line(part: &Part) -> String {
    match &part.sort {
        Sort::Capacitor(value) if value.0 < 0.9995e-9 => {
            format!("capacitor {} {}p\n", part.name, short(value.0 * 1e12))
        }
        Sort::Capacitor(value) => format!("capacitor {} {}n\n", part.name, short(value.0 * 1e9)),
        Sort::Resistor(value) => format!("resistor {} {}k\n", part.name, short(value.0 / 1e3)),
        // Only these two are put in beside a circuit; a selector is written by the one who makes it.
        _ => String::new(),
    }
}

/// A number with no more digits than a part can be told by.
fn short(value: f64) -> String {
    let rounded = (value * 1e4).round() / 1e4;
    format!("{rounded}")
}
