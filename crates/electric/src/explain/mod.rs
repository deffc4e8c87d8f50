//! What a network does in each position of its switches: which coils are heard and how they are joined, what phase and
//! hum come to, what each knob does, what is shorted, open, dead, floating or live, and what to look at next.
//!
//! Its one design decision: **words are defined by experiments on the solved network**, never by recognising a
//! diagram. Two coils are in series if opening either silences the other, in parallel if shorting either does, and a
//! mixture otherwise; a knob is a volume if turning it takes coils to silence. A network that nobody ever drew is told
//! as well as a common one.
//!
//! What a trace leaves unknown (where a cut lead went, the winding sense and pole of a coil) is gone through in all
//! ways, and each fact is told as certain or as depending: see [`Agreed`].
//!
//! | word | experiment |
//! | --- | --- |
//! | dead | no path from tip to sleeve that visits no point twice runs through the part, knobs half way, and nothing of it is heard |
//! | silent, faint | the coil's level at the jack stays below [`SILENT_BELOW`] in every band; at least [`FAINT_BELOW`] under the loudest coil in every band |
//! | open | the winding is broken, and a path would run through it if it were whole; behind an open coil, the same of another coil |
//! | series, parallel | the coil is taken out, or bridged, and the other falls by [`SILENCED_BY`] in every band or below [`SILENT_BELOW`] |
//! | in phase | the angle between the two coils' contributions, string signs included, is within [`IN_PHASE_WITHIN`]; out of phase beyond [`OUT_OF_PHASE_BEYOND`] |
//! | hum | size of the sum over the coils heard of winding sign × transfer, over the sum of the sizes, at [`HUM_FREQUENCY`] |
//! | knob | the wiper at both ends and at half of the track's ohms |
//! | between | a switch's contacts of two neighbouring positions at once, where that is known or was not tried |
//! | live metal | it is joined to the sleeve, but only through parts; then a grounded string is laid on it |
//!
//! A coil's string sign is winding × magnet × connection, its hum sign winding × connection: an outside field knows
//! nothing of the magnet (US patent 2,896,491, 1959). The connection is in the transfer's own sign.
//!
//! ```
//! use asfound_electric::explain::{CoilWord, Conditions, KnobWord, Look, explain};
//! use asfound_electric::trace::Trace;
//!
//! let trace = Trace::read(
//!     "coil bridge 6k31\n\
//!      pot volume 250k\n\
//!      pot tone 250k\n\
//!      capacitor ct 47n\n\
//!      jack jack\n\
//!      join bridge.hot volume.3 metered\n\
//!      join bridge.ground volume.1 metered\n\
//!      join volume.2 jack.tip metered\n\
//!      join volume.1 jack.sleeve metered\n\
//!      join tone.2 ct.a metered\n\
//!      join ct.b volume.1 metered\n\
//!      join tone.3 volume.3 or nothing unknown # cut\n",
//! )
//! .expect("a trace that can be read");
//! let circuit = trace.circuit().expect("a circuit");
//! let explanation = explain(&circuit, &Conditions::of_trace(&trace)).expect("an explanation");
//!
//! let state = &explanation.states[0];
//! // The coil sounds whichever way the cut lead went; what the tone does depends on it.
//! assert!(state.coils[0].facts().all(|coil| coil.word == CoilWord::Sounds));
//! let tone: Vec<_> = state.knobs[1].facts().map(|knob| &knob.word).collect();
//! assert_eq!(tone, [&KnobWord::TrebleCut, &KnobWord::Nothing]);
//! assert_eq!(explanation.next[0].what, Look::Stub { stub: "tone.3".to_owned() });
//! ```

pub(crate) mod agreed;
mod alike;
mod between;
pub(crate) mod experiment;
mod facts;
pub(crate) mod knobs;
mod left_out;
pub(crate) mod listen;
mod next;
pub(crate) mod possibilities;
mod tell;
mod told;

use std::collections::BTreeMap;
use std::rc::Rc;

use asfound_measure::{Decibels, Degrees, Farads, Hertz, Ohms};

use crate::circuit::{Circuit, Sort, Terminal};
use crate::nets::{Current, Nets, wiper_shares};
use crate::network::Unsolvable;
use crate::state::{Changes, Load, Setting, Wired};
use crate::taper::Taper;
use crate::trace::{Question, Trace};

pub use agreed::{Agreed, Case};
use experiment::{Found, experiment};
pub use facts::*;
use listen::Bench;
use possibilities::{Possible, possible};
use tell::{Telling, groups};
pub use told::*;

/// A coil is faint where it is at least this far under the loudest coil in every band. Our convention: a tenth of the
/// other's voltage is heard as colour, not as a second coil.
pub const FAINT_BELOW: Decibels = Decibels(-20.0);

/// A coil is silent where its level at the jack is below this in every band: a thousandth of its voltage. Our
/// convention; it is about where the noise of the input stands.
pub const SILENT_BELOW: Decibels = Decibels(-60.0);

/// A coil is silenced by an experiment that lowers it by this much in every band. Our convention.
pub const SILENCED_BY: Decibels = Decibels(-40.0);

/// Two coils are in phase where the angle between them is within this: together they then make at least √3 of one.
pub const IN_PHASE_WITHIN: Degrees = Degrees(60.0);

/// Two coils are out of phase where the angle between them is beyond this: together they then make less than one.
pub const OUT_OF_PHASE_BEYOND: Degrees = Degrees(120.0);

/// Where hum is told: the strong eighth harmonic of 50 Hz, near the seventh of 60 Hz.
pub const HUM_FREQUENCY: Hertz = Hertz(400.0);

/// Hum cancels where no more than this part of it is left (20 dB down). Our convention.
pub const HUM_CANCELS_BELOW: f64 = 0.1;

/// Hum cancels partly where no more than this part of it is left (3 dB down). Our convention.
pub const HUM_PARTLY_BELOW: f64 = 0.707;

/// A knob or a part does nothing where it changes no band by this much. Our convention: about the least step heard.
pub const KNOB_NOTHING_BELOW: Decibels = Decibels(0.5);

/// A knob cuts treble or bass where one end of the range falls by this much more than the other. Our convention.
pub const KNOB_TILT: Decibels = Decibels(3.0);

/// A knob that silences at its end is a volume where half of its ohms already lower the sound by this much. Our
/// convention.
pub const VOLUME_AT_MIDDLE: Decibels = Decibels(-3.0);

/// A knob blends a coil in where the coil was silent at its open end, or rises by this much in the lows and the middle.
/// Our convention.
pub const BROUGHT_IN_BY: Decibels = Decibels(12.0);

/// Levels are not told below this.
pub const LEVEL_FLOOR: Decibels = Decibels(-200.0);

/// A meter reads a short below this many ohms at the jack. Our convention: leads and contacts.
pub const SHORTED_BELOW: Ohms = Ohms(1.0);

/// Where a response is taken as flat, to tell the height of its peak.
pub const RESONANCE_REFERENCE: Hertz = Hertz(100.0);

/// Combinations of switch positions told one by one.
pub const MOST_STATES: usize = 4096;

/// Ways to wire what is unknown that are gone through; fewer where there are many states.
pub const MOST_WIRINGS: usize = 64;

/// States times possibilities that are gone through.
pub const MOST_FACTS: usize = 65_536;

/// Nets between tip and sleeve that are explained. The fullest control cavity has a few dozen; an explanation solves
/// thousands of times, so the bound is lower than [`crate::MOST_NETS`].
pub const MOST_UNKNOWNS: usize = 100;

/// Moves of a switch that are tried for what sounds between its positions.
pub const MOST_BETWEEN: usize = 64;

/// Looks that are offered.
pub const MOST_LOOKS: usize = 12;

/// Under which conditions an instrument is explained.
#[derive(Debug, Clone, PartialEq)]
pub struct Conditions {
    /// Cable and input at the jack.
    pub load: Load,
    /// The frequencies of the curves, rising.
    pub frequencies: Vec<Hertz>,
    /// Odds of unknown joins; joins that are not named have candidates that are alike likely.
    pub odds: Vec<Odds>,
    /// Values that were taken because none was read.
    pub assumed: Vec<Assumed>,
}

/// How likely the candidates of an unknown join are against each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Odds {
    /// The join, as an index into [`Circuit::joins`].
    pub join: usize,
    /// A weight for each candidate, in their order; the one for nowhere last, where that may be.
    pub weights: Vec<f64>,
}

/// A coil's value that was taken because none was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumed {
    /// The coil's name.
    pub coil: String,
    /// Which value.
    pub value: AssumedValue,
}

/// Which value was taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AssumedValue {
    /// The resistance.
    Resistance(Ohms),
    /// The inductance.
    Inductance(asfound_measure::Henries),
    /// The winding capacitance.
    Capacitance(Farads),
}

impl Default for Conditions {
    /// A cable and input of 500 pF and 1 megohm (cables 300 to 1000 pF, Lemme 2009; 1 megohm is common practice for an
    /// input, no source), and 400 frequencies from 50 Hz to 10 kHz.
    fn default() -> Self {
        let points = 400;
        let frequency = |point: usize| Hertz(50.0 * libm::pow(200.0, point as f64 / (points - 1) as f64));
        Self {
            load: Load { capacitance: Farads(500e-12), resistance: Some(Ohms(1e6)) },
            frequencies: (0..points).map(frequency).collect(),
            odds: Vec::new(),
            assumed: Vec::new(),
        }
    }
}

impl Conditions {
    /// The usual conditions, with the odds that a trace gives and the values taken where it gives none.
    pub fn of_trace(trace: &Trace) -> Self {
        let assumed = trace
            .questions()
            .into_iter()
            .filter_map(|question| match question.question {
                Question::ResistanceAssumed { coil, assumed } => {
                    Some(Assumed { coil, value: AssumedValue::Resistance(assumed) })
                }
                Question::InductanceAssumed { coil, assumed } => {
                    Some(Assumed { coil, value: AssumedValue::Inductance(assumed) })
                }
                Question::CapacitanceAssumed { coil, assumed } => {
                    Some(Assumed { coil, value: AssumedValue::Capacitance(assumed) })
                }
                _ => None,
            })
            .collect();
        let odds = trace.odds().into_iter().map(|(join, weights)| Odds { join, weights }).collect();
        Self { odds, assumed, ..Self::default() }
    }
}

/// Explains a circuit.
///
/// # Errors
/// [`Unsolvable`] where there is no jack, or the network is too large or has no single answer. A shorted or open output
/// is no error but a fact.
pub fn explain(circuit: &Circuit, conditions: &Conditions) -> Result<Explanation, Unsolvable> {
    let circuit = &as_explained(circuit);
    let possible = possible(circuit, conditions);
    let settings: Vec<Setting> = Setting::every_position(circuit).take(possible.states).collect();
    let bench = Bench::new(circuit, conditions.load);
    let found = all_experiments(&bench, conditions, &possible, &settings)?;
    let (between, moves_left_out) = between::between(&bench, &possible, &settings, &found)?;
    let telling = Telling { circuit, possible: &possible, frequencies: &conditions.frequencies };
    let states = telling.states(&settings, &found);
    let names = |sort: fn(&Sort) -> bool| {
        circuit
            .parts()
            .iter()
            .filter(|part| sort(&part.sort))
            .map(|part| part.name.clone())
            .collect::<Vec<_>>()
    };
    Ok(Explanation {
        coils: names(|sort| matches!(sort, Sort::Coil(_))),
        pots: names(|sort| matches!(sort, Sort::Pot(_))),
        switches: switches(circuit),
        groups: groups(&states),
        next: next::looks(circuit, &possible, &states),
        dead_parts: dead_parts(circuit, &possible, &found),
        warnings: warnings(circuit, &states),
        limits: limits(circuit, conditions, &possible, &states).into_iter().chain(moves_left_out).collect(),
        between,
        possibilities: possible.all,
        states,
        frequencies: conditions.frequencies.clone(),
    })
}

/// The same circuit with linear tapers: a knob is then set by its share of the ohms, which needs no taper to be known.
///
/// Broken coils are without their capacitance: how much of a sound comes through where a winding is broken hangs on where
/// it broke, so no level is told for it.
pub fn as_explained(circuit: &Circuit) -> Circuit {
    let mut parts = circuit.parts().to_vec();
    for part in &mut parts {
        match &mut part.sort {
            Sort::Pot(pot) => pot.taper = Taper::Linear,
            Sort::Coil(coil) if coil.open => coil.capacitance = Farads(0.0),
            _ => {}
        }
    }
    let same = Circuit::new(parts, circuit.joins().to_vec());
    let same = same.and_then(|same| same.with_couplings(circuit.couplings().to_vec()));
    // A checked circuit changed so passes every check; the copy stands in for what cannot happen.
    same.unwrap_or_else(|_| circuit.clone())
}

/// For each state, what was found in each wiring. Wirings and states that come to the same nets share one finding.
fn all_experiments(
    bench: &Bench,
    conditions: &Conditions,
    possible: &Possible,
    settings: &[Setting],
) -> Result<Vec<Vec<Rc<Found>>>, Unsolvable> {
    let mut known: BTreeMap<Vec<u32>, Rc<Found>> = BTreeMap::new();
    let mut all = Vec::with_capacity(settings.len());
    for setting in settings {
        let mut found = Vec::with_capacity(possible.wirings.len());
        for wired in &possible.wirings {
            let half = half_way(setting);
            let nets = nets_of_all(wired, &half);
            if let Some(same) = known.get(&nets) {
                found.push(Rc::clone(same));
                continue;
            }
            let new = Rc::new(experiment(bench, wired, &half, &conditions.frequencies)?);
            known.insert(nets, Rc::clone(&new));
            found.push(new);
        }
        all.push(found);
    }
    Ok(all)
}

/// A state with every knob half way: what is joined to what wherever the knobs stand.
pub(crate) fn half_way(state: &Setting) -> Setting {
    let mut half = state.clone();
    half.wipers.iter_mut().for_each(|wiper| *wiper = 0.5);
    half
}

/// The nets of the lugs of all parts but switches and posts: all that a state and a wiring come to, since those two
/// conduct nothing by themselves. Numbered in the order of the lugs, so that an idle switch makes no difference.
fn nets_of_all(wired: &Wired, setting: &Setting) -> Vec<u32> {
    let changes = Changes::default();
    let shares = wiper_shares(wired.circuit(), setting, &changes);
    let nets = Nets::new(wired, setting, &shares, &changes, Current::Alternating);
    let mut numbers = vec![None; nets.count()];
    let mut next = 0;
    let parts = wired.circuit().parts().iter().enumerate();
    parts
        .filter(|(_, it)| !matches!(it.sort, Sort::Switch(_) | Sort::Post { .. }))
        .flat_map(|(part, it)| (0..it.lug_count()).map(move |lug| Terminal { part, lug }))
        .map(|terminal| {
            *numbers[nets.net(terminal)].get_or_insert_with(|| {
                next += 1;
                next
            })
        })
        .collect()
}

fn switches(circuit: &Circuit) -> Vec<SwitchNamed> {
    circuit
        .switches()
        .map(|(part, plan)| SwitchNamed {
            name: circuit.parts()[part].name.clone(),
            positions: plan.positions().iter().map(|position| position.name.clone()).collect(),
        })
        .collect()
}

/// Parts through which no path runs in any state.
fn dead_parts(circuit: &Circuit, possible: &Possible, found: &[Vec<Rc<Found>>]) -> Vec<DeadPart> {
    let mut dead = Vec::new();
    for (index, part) in circuit.parts().iter().enumerate() {
        if matches!(part.sort, Sort::Switch(_) | Sort::Jack | Sort::Metal | Sort::Post { .. }) {
            continue;
        }
        let wirings: Vec<usize> = (0..possible.wirings.len())
            .filter(|&wiring| found.iter().all(|state| !state[wiring].on_path[index]))
            .collect();
        let possibilities = if wirings.len() == possible.wirings.len() {
            DeadIn::All
        } else if wirings.is_empty() {
            continue;
        } else {
            DeadIn::Some(wirings.iter().flat_map(|&wiring| possible.of_wiring(wiring, |_| true)).collect())
        };
        dead.push(DeadPart { part: part.name.clone(), possibilities });
    }
    dead
}

fn warnings(circuit: &Circuit, states: &[StateTold]) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let metals = states.first().map_or(0, |state| state.metal.len());
    for metal in 0..metals {
        let is_live = |state: &StateTold| {
            state.metal[metal].fact.facts().any(|fact| matches!(fact, MetalFact::Live { .. }))
        };
        let live: Vec<usize> = (0..states.len()).filter(|&index| is_live(&states[index])).collect();
        if !live.is_empty() {
            warnings.push(Warning::MetalLive { metal: states[0].metal[metal].metal.clone(), states: live });
        }
    }
    if circuit.coils().next().is_none() {
        warnings.push(Warning::NoCoil);
    }
    for (coil, (_, values)) in circuit.coils().enumerate() {
        if values.open {
            warnings.push(Warning::CoilOpen { coil });
            continue;
        }
        let heard = |fact: &CoilFact| matches!(fact.word, CoilWord::Sounds | CoilWord::Faint);
        if !states.iter().any(|state| state.coils[coil].facts().any(heard)) {
            warnings.push(Warning::CoilNeverHeard { coil });
        }
    }
    warnings
}

fn limits(
    circuit: &Circuit,
    conditions: &Conditions,
    possible: &Possible,
    states: &[StateTold],
) -> Vec<Limit> {
    let mut limits: Vec<Limit> = left_out::states_left_out(circuit, states).into_iter().collect();
    limits.extend(possible.limits.iter().cloned());
    for assumed in &conditions.assumed {
        let named = |part: usize| circuit.parts()[part].name.eq_ignore_ascii_case(&assumed.coil);
        if let Some(coil) = circuit.coils().position(|(part, _)| named(part)) {
            limits.push(match assumed.value {
                AssumedValue::Resistance(assumed) => Limit::ResistanceAssumed { coil, assumed },
                AssumedValue::Inductance(assumed) => Limit::InductanceAssumed { coil, assumed },
                AssumedValue::Capacitance(assumed) => Limit::CapacitanceAssumed { coil, assumed },
            });
        }
    }
    if circuit.coils().any(|(_, coil)| coil.open) {
        limits.push(Limit::BreakLetsNothingThrough);
    }
    limits.push(Limit::LoadAssumed { load: conditions.load });
    if circuit.pots().next().is_some() {
        limits.push(Limit::MiddleIsHalfOfOhms);
    }
    if circuit.coils().count() > 1 && circuit.couplings().is_empty() {
        limits.push(Limit::CoilsNotCoupled);
    }
    limits
}
