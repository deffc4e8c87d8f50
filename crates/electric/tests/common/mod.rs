//! Circuits written briefly, for the tests of this crate. Each test uses some of it.
#![allow(dead_code)]

use asfound_electric::{
    Changes, Circuit, Coil, Complex, Join, JoinTo, Known, Load, Part, Plan, Pot, Prepared, Response, Setting,
    Sign, Sort, Taper, Terminal, Wired,
};
use asfound_measure::{Farads, Henries, Hertz, Ohms};

pub(crate) fn coil(name: &str, ohms: f64, henries: f64, farads: f64) -> Part {
    signed_coil(name, ohms, henries, farads, Sign::Plus)
}

/// A coil whose winding and magnet have this sign, as in a set where one coil is reversed in both.
pub(crate) fn signed_coil(name: &str, ohms: f64, henries: f64, farads: f64, sign: Sign) -> Part {
    let coil = Coil {
        resistance: Ohms(ohms),
        inductance: Henries(henries),
        capacitance: Farads(farads),
        winding: Some(sign),
        magnet: Some(sign),
        eddy: None,
        cover: false,
        open: false,
    };
    Part::new(name, Sort::Coil(coil))
}

pub(crate) fn pot(name: &str, ohms: f64) -> Part {
    Part::new(name, Sort::Pot(Pot { track: Ohms(ohms), taper: Taper::Linear }))
}

pub(crate) fn capacitor(name: &str, farads: f64) -> Part {
    Part::new(name, Sort::Capacitor(Farads(farads)))
}

pub(crate) fn resistor(name: &str, ohms: f64) -> Part {
    Part::new(name, Sort::Resistor(Ohms(ohms)))
}

pub(crate) fn choke(name: &str, ohms: f64, henries: f64) -> Part {
    Part::new(name, Sort::Choke { resistance: Ohms(ohms), inductance: Henries(henries) })
}

pub(crate) fn switch(name: &str, plan: Plan) -> Part {
    Part::new(name, Sort::Switch(plan))
}

pub(crate) fn jack() -> Part {
    Part::new("jack", Sort::Jack)
}

/// Parts with joins written `A.a - B.b, C.c - D.d | E.e | nothing`.
pub(crate) fn circuit(parts: Vec<Part>, joins: &str) -> Circuit {
    let bare = Circuit::new(parts.clone(), Vec::new()).expect("parts are right");
    let find = |name: &str| bare.terminal(name).expect("the lug exists");
    let joins = joins.split(',').map(str::trim).filter(|join| !join.is_empty());
    let joins = joins.map(|join| {
        let (a, to) = join.split_once(" - ").expect("a join has two ends");
        let ends: Vec<&str> = to.split('|').map(str::trim).collect();
        let to = match ends.as_slice() {
            [one] => JoinTo::One(find(one)),
            _ => JoinTo::Candidates {
                terminals: ends.iter().filter(|&&end| end != "nothing").map(|end| find(end)).collect(),
                or_nothing: ends.contains(&"nothing"),
            },
        };
        Join { a: find(a.trim()), to, known: Known::Unknown }
    });
    Circuit::new(parts, joins.collect()).expect("the circuit is right")
}

pub(crate) fn only(circuit: &Circuit) -> Wired<'_> {
    assert_eq!(circuit.possibility_count(), 1);
    circuit.possibilities().next().expect("one way")
}

pub(crate) fn load(farads: f64, ohms: f64) -> Load {
    Load { capacitance: Farads(farads), resistance: Some(Ohms(ohms)) }
}

/// Everything full up in the first positions.
pub(crate) fn prepared(circuit: &Circuit, load: Load) -> Prepared {
    Prepared::new(&only(circuit), &Setting::first(circuit), load, &Changes::default())
        .expect("it can be prepared")
}

pub(crate) fn answer(prepared: &mut Prepared, hertz: f64) -> Response {
    prepared.at(Hertz(hertz)).expect("it can be solved").clone()
}

pub(crate) fn degrees(number: Complex) -> f64 {
    number.angle().to_degrees()
}

/// Smallest distance between two angles in degrees.
pub(crate) fn angle_apart(a: f64, b: f64) -> f64 {
    let apart = (a - b).rem_euclid(360.0);
    apart.min(360.0 - apart)
}

pub(crate) fn lug(circuit: &Circuit, name: &str) -> Terminal {
    circuit.terminal(name).expect("the lug exists")
}
