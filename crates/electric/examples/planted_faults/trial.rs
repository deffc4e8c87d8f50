//! Faults planted in circuits, metered with noise, and looked for.
//!
//! The planted circuit is put together here from parts and joins and read by the general solver, apart from the code
//! that looks for the fault, so that the one is held against the other.

use asfound_electric::fault::{
    Answer, Evidence, Fault, Look, Metered, Options, Probed, Reach, TrackEnd, every_fault, suspects,
};
use asfound_electric::jack::Shown;
use asfound_electric::trace::Trace;
use asfound_electric::{
    Changes, Circuit, Join, JoinTo, Known, Load, Part, Plan, Reading, Setting, Sort, Terminal, resistance,
};
use asfound_measure::{Ohms, Uncertain};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// Ten circuits, common ones and odd ones.
pub(crate) const CIRCUITS: [(&str, &str); 10] = [
    ("one coil", include_str!("one-coil.trace")),
    ("two coils", include_str!("two-coils.trace")),
    ("two volumes", include_str!("two-volumes.trace")),
    ("volumes apart", include_str!("volumes-apart.trace")),
    ("five-way lever", include_str!("../../tests/traces/five-way-lever.trace")),
    ("rotary", include_str!("rotary.trace")),
    ("split", include_str!("split.trace")),
    ("series and parallel", include_str!("series.trace")),
    ("blend", include_str!("blend.trace")),
    ("presets", include_str!("presets.trace")),
];

/// Probings that are followed, after the readings at the plug.
const MOST_PROBINGS: usize = 12;

/// The meter's last range.
const RANGE: f64 = 20e6;

/// How a trial ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ended {
    /// The planted fault came first.
    First,
    /// Another came first although the readings can tell them apart.
    Missed,
    /// No probing tells the planted fault from another one, or from the design, and that was said.
    NotSeparable,
}

/// One trial.
#[derive(Debug, Clone)]
pub(crate) struct Trial {
    /// What was planted.
    pub(crate) fault: Fault,
    /// How it ended.
    pub(crate) ended: Ended,
    /// What came first; where it cannot be separated, what it cannot be told from.
    pub(crate) first: Vec<Fault>,
    /// How many probings were followed.
    pub(crate) probings: usize,
}

struct Draw(ChaCha8Rng);

impl Draw {
    fn share(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low * libm::pow(high / low, self.share())
    }

    /// Nearly normal: the sum of twelve.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }
}

/// The instrument with its fault.
struct Planted {
    parts: Vec<Part>,
    joins: Vec<(Terminal, Terminal)>,
    changes: Changes,
    /// A pot of which a lug is off the track.
    lug_off: Option<Terminal>,
}

/// Runs one trial.
pub(crate) fn trial(which: usize, seed: u64, options: &Options) -> Trial {
    let mut draw = Draw(ChaCha8Rng::seed_from_u64(seed));
    let circuit = Trace::read(CIRCUITS[which].1).expect("it reads").circuit().expect("it is whole");
    let faults = every_fault(&circuit, true);
    let fault = faults[(draw.share() * faults.len() as f64) as usize];
    let planted = plant(&circuit, fault, &mut draw);
    let gain = 1.0 + 0.003 * draw.normal();
    let jack = circuit.jacks().next().expect("there is one");
    let [tip, sleeve] = [0, 1].map(|lug| Terminal { part: jack, lug });
    let mut evidence = Evidence {
        metered: Vec::new(),
        heard: Vec::new(),
        reach: Reach::Everything,
        coated_cavity: Some(true),
        earth_proved: false,
        load: Load::none(),
    };
    for setting in Setting::every_position(&circuit) {
        let probed = Probed { from: tip, to: sleeve, setting };
        evidence.metered.push(meter(&circuit, &planted, probed, gain, &mut draw));
    }
    let mut probings = 0;
    let answer = loop {
        let answer = suspects(&circuit, &evidence, options).expect("the evidence fits");
        let next = answer.next.iter().find_map(|next| match &next.look {
            Look::Meter(probed) => Some(probed.clone()),
            _ => None,
        });
        match next {
            Some(probed) if probings < MOST_PROBINGS => {
                evidence.metered.push(meter(&circuit, &planted, probed, gain, &mut draw));
                probings += 1;
            }
            _ => break answer,
        }
    };
    let (ended, first) = judge(&answer, fault);
    Trial { fault, ended, first, probings }
}

fn judge(answer: &Answer, fault: Fault) -> (Ended, Vec<Fault>) {
    let first = answer.ranked[0].faults.clone();
    let Some(place) = answer.ranked.iter().position(|it| it.faults == [fault]) else {
        return (Ended::Missed, first);
    };
    let single = |other: &&usize| answer.ranked[**other].faults.len() < 2;
    if let Some(other) = answer.ranked[place].not_told_from.iter().find(single) {
        return (Ended::NotSeparable, answer.ranked[*other].faults.clone());
    }
    (if place == 0 { Ended::First } else { Ended::Missed }, first)
}

fn plant(circuit: &Circuit, fault: Fault, draw: &mut Draw) -> Planted {
    let mut parts = circuit.parts().to_vec();
    for part in &mut parts {
        match &mut part.sort {
            Sort::Coil(coil) => coil.resistance = coil.resistance * (1.0 + 0.02 * draw.normal()),
            Sort::Pot(pot) => pot.track = pot.track * (0.8 + 0.4 * draw.share()),
            Sort::Resistor(ohms) => *ohms = *ohms * (1.0 + 0.06 * draw.normal()),
            Sort::Choke { resistance, .. } => *resistance = *resistance * (1.0 + 0.02 * draw.normal()),
            _ => {}
        }
    }
    let joins = circuit.joins().iter().enumerate().filter_map(|(index, join)| match join.to {
        JoinTo::One(to) if fault != (Fault::JoinOpen { join: index }) => Some((join.a, to)),
        _ => None,
    });
    let joins = joins.collect();
    let mut planted = Planted { parts, joins, changes: Changes::default(), lug_off: None };
    planted.add(circuit, fault, draw);
    planted
}

impl Planted {
    fn leak(&mut self, a: Terminal, b: Terminal, ohms: f64) {
        let part = self.parts.len();
        self.parts.push(Part::new("leak", Sort::Resistor(Ohms(ohms))));
        self.joins.push((Terminal { part, lug: 0 }, a));
        self.joins.push((Terminal { part, lug: 1 }, b));
    }

    fn add(&mut self, circuit: &Circuit, fault: Fault, draw: &mut Draw) {
        let lug = |part, lug| Terminal { part, lug };
        let jack = circuit.jacks().next().expect("there is one");
        let (tip, sleeve) = (lug(jack, 0), lug(jack, 1));
        match fault {
            Fault::JoinOpen { .. } | Fault::LeadsSwapped { .. } | Fault::CapacitorOpen { .. } => {}
            Fault::CoilOpen { part } => {
                if let Sort::Coil(coil) = &mut self.parts[part].sort {
                    coil.open = true;
                }
            }
            Fault::CoilLeaky { part } | Fault::CapacitorLeaky { part } => {
                self.leak(lug(part, 0), lug(part, 1), draw.between(2e3, 2e6));
            }
            Fault::CoilShorted { part } | Fault::CapacitorShorted { part } => {
                self.changes = Changes::short(part)
            }
            Fault::CoverOnHot { part } => {
                self.joins.retain(|(a, b)| *a != lug(part, 2) && *b != lug(part, 2));
                self.joins.push((lug(part, 2), lug(part, 0)));
            }
            Fault::StrayToGround { terminal } => self.joins.push((terminal, sleeve)),
            Fault::LugTouchesCoating { terminal } => self.leak(terminal, sleeve, draw.between(20.0, 2e5)),
            Fault::ContactDead { part, position, a, b } => {
                if let Sort::Switch(plan) = &self.parts[part].sort {
                    let mut positions = plan.positions().to_vec();
                    positions[position].contacts.retain(|contact| *contact != (a, b));
                    let plan = Plan::new(plan.lugs().to_vec(), positions, plan.between());
                    self.parts[part].sort = Sort::Switch(plan.expect("it is a plan still"));
                }
            }
            Fault::ContactStuck { part, a, b } => self.joins.push((lug(part, a), lug(part, b))),
            Fault::TrackOpen { part, end: TrackEnd::Low } => self.lug_off = Some(lug(part, 0)),
            Fault::TrackOpen { part, end: TrackEnd::High } => self.lug_off = Some(lug(part, 2)),
            Fault::WiperLifted { part } => self.lug_off = Some(lug(part, 1)),
            Fault::TrackOff { part } => {
                let factor =
                    if draw.share() < 0.5 { draw.between(0.12, 0.4) } else { draw.between(2.2, 8.0) };
                if let Sort::Pot(pot) = &mut self.parts[part].sort {
                    pot.track = pot.track * factor;
                }
            }
            Fault::WiperShorted { part, end } => self.joins.push((lug(part, 1), lug(part, end.lug()))),
            Fault::ResistorOpen { part } => self.changes = Changes::open(part),
            Fault::StringGroundBroken => {
                let metal = circuit.parts().iter().position(|part| part.sort == Sort::Metal);
                self.joins.retain(|(a, b)| Some(a.part) != metal && Some(b.part) != metal);
            }
            Fault::TipAndSleeveExchanged => {
                let exchange = |it: &mut Terminal| match *it {
                    it_is if it_is == tip => *it = sleeve,
                    it_is if it_is == sleeve => *it = tip,
                    _ => {}
                };
                self.joins.iter_mut().for_each(|(a, b)| {
                    exchange(a);
                    exchange(b);
                });
            }
        }
    }

    /// The circuit as it stands in a setting: a pot with a lug off is two resistors between tie points.
    fn in_setting(&self, circuit: &Circuit, setting: &Setting) -> (Circuit, Setting) {
        let mut now = Planted {
            parts: self.parts.clone(),
            joins: self.joins.clone(),
            changes: Changes::default(),
            lug_off: None,
        };
        let mut setting = setting.clone();
        if let Some(off) = self.lug_off
            && let Sort::Pot(pot) = &self.parts[off.part].sort
        {
            let knob = circuit.pots().position(|(part, _)| part == off.part).expect("it is a pot");
            let share = pot.taper.fraction(setting.wipers.remove(knob));
            now.parts[off.part].sort = Sort::Post { lugs: 4 };
            let lug = |lug| Terminal { part: off.part, lug };
            let track = pot.track.0;
            match off.lug {
                0 => now.leak(lug(1), lug(2), track * (1.0 - share)),
                1 => now.leak(lug(0), lug(2), track),
                _ => now.leak(lug(0), lug(1), track * share),
            }
        }
        let join = |(a, to): (Terminal, Terminal)| Join { a, to: JoinTo::One(to), known: Known::Unknown };
        let joins = now.joins.into_iter().map(join).collect();
        (Circuit::new(now.parts, joins).expect("it is a circuit still"), setting)
    }
}

/// What a meter of four digits shows: its gain a little off, contacts of some tenths of an ohm, the last digit rounded.
fn meter(circuit: &Circuit, planted: &Planted, probed: Probed, gain: f64, draw: &mut Draw) -> Metered {
    let (now, setting) = planted.in_setting(circuit, &probed.setting);
    let wired = now.possibilities().next().expect("nothing is unknown");
    let read =
        resistance(&wired, &setting, &planted.changes, probed.from, probed.to).expect("it can be solved");
    let ohms = match read.reading {
        Reading::Ohms(Ohms(ohms)) => ohms,
        Reading::Shorted => 0.0,
        Reading::Open => f64::INFINITY,
    };
    if ohms > RANGE {
        return Metered { probed, shown: Shown::Over(Ohms(RANGE)) };
    }
    let shown = ohms * gain + (0.3 * draw.normal()).abs();
    let digit = libm::pow(10.0, libm::log10(shown.max(1.0)).floor() - 3.0).max(0.1);
    let shown = (shown / digit).round() * digit;
    Metered { probed, shown: Shown::Ohms(Uncertain::rectangular(Ohms(shown), Ohms(digit / 2.0))) }
}
