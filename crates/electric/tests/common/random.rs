//! Circuits drawn from a stated seed: a few parts thrown between a few tie points.
#![allow(dead_code)]

use asfound_electric::{
    Circuit, Coil, Coupling, Eddy, Join, JoinTo, Known, Part, Plan, Setting, Sort, Terminal,
};
use asfound_measure::{Henries, Ohms};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::{capacitor, choke, coil, jack, pot, resistor, switch};

pub(crate) struct Draw(ChaCha8Rng);

impl Draw {
    pub(crate) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    pub(crate) fn below(&mut self, count: usize) -> usize {
        (self.0.next_u64() % count as u64) as usize
    }

    /// Between 0 and 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low * libm::pow(high / low, self.share())
    }

    pub(crate) fn chance(&mut self, one_in: usize) -> bool {
        self.below(one_in) == 0
    }
}

fn posts(draw: &mut Draw, least: usize, spread: usize) -> Part {
    Part::new("post", Sort::Post { lugs: (least + draw.below(spread)) as u8 })
}

fn drawn_coil(draw: &mut Draw, number: usize) -> Part {
    let (ohms, henries, farads) =
        (draw.between(3e3, 2e4), draw.between(1.0, 8.0), draw.between(5e-11, 3e-10));
    let mut part = coil(&format!("coil{number}"), ohms, henries, farads);
    if let (Sort::Coil(coil), true) = (&mut part.sort, draw.chance(3)) {
        let eddy = Eddy { inductance: Henries(draw.between(0.2, 2.0)), loss: Ohms(draw.between(2e4, 5e5)) };
        *coil = Coil { eddy: Some(eddy), cover: true, ..*coil };
    }
    part
}

fn drawn_part(draw: &mut Draw, number: usize) -> Part {
    let name = format!("part{number}");
    match draw.below(6) {
        0 => pot(&name, draw.between(1e5, 1e6)),
        1 => capacitor(&name, draw.between(1e-10, 1e-7)),
        2 => choke(&name, draw.between(1e2, 1e3), draw.between(0.5, 3.0)),
        3 => switch(&name, Plan::two_pole_slide()),
        4 if draw.chance(3) => resistor(&name, 0.0),
        _ => resistor(&name, draw.between(1e3, 1e6)),
    }
}

/// A circuit of up to ten parts and a setting of it.
pub(crate) fn drawn(seed: u64) -> (Circuit, Setting) {
    let draw = &mut Draw::new(seed);
    let mut parts = vec![jack(), posts(draw, 3, 5)];
    for number in 0..1 + draw.below(3) {
        parts.push(drawn_coil(draw, number));
    }
    for number in 0..2 + draw.below(6) {
        parts.push(drawn_part(draw, number));
    }
    wired(draw, parts)
}

/// A circuit of this many parts, jack and tie points not counted, and a setting of it. One part in four is a coil.
pub(crate) fn drawn_of(seed: u64, count: usize) -> (Circuit, Setting) {
    let draw = &mut Draw::new(seed);
    let mut parts = vec![jack(), posts(draw, 3, 1 + count)];
    let coils = (count / 4).max(1);
    for number in 0..count {
        parts.push(if number < coils { drawn_coil(draw, number) } else { drawn_part(draw, number) });
    }
    wired(draw, parts)
}

/// Throws every lug but a few to some tie point, couples two coils of some circuits, sets switches and knobs.
fn wired(draw: &mut Draw, parts: Vec<Part>) -> (Circuit, Setting) {
    let posts = parts[1].lug_count();
    let mut joins = Vec::new();
    for (part, lugs) in parts.iter().map(Part::lug_count).enumerate().filter(|&(part, _)| part != 1) {
        for lug in (0..lugs).filter(|_| part == 0 || !draw.chance(12)).collect::<Vec<_>>() {
            let post = Terminal { part: 1, lug: draw.below(posts) };
            joins.push(Join { a: Terminal { part, lug }, to: JoinTo::One(post), known: Known::Unknown });
        }
    }
    let mut circuit = Circuit::new(parts, joins).expect("drawn parts are right");
    let coils: Vec<usize> = circuit.coils().map(|(part, _)| part).collect();
    if coils.len() > 1 && draw.chance(3) {
        let factor = draw.share() * 1.6 - 0.8;
        let coupling = Coupling { a: coils[0], b: coils[1], factor };
        circuit = circuit.with_couplings(vec![coupling]).expect("two coils");
    }
    let positions = circuit.switches().map(|_| draw.below(2)).collect();
    let turns = circuit.pots().map(|_| [0.0, 1.0, 0.5, draw.share()][draw.below(4)]).collect();
    (circuit, Setting { positions, on_the_way: None, wipers: turns })
}
