//! Another wiring: the job's wishes and what lies ready, held against the traced circuit.

use asfound_electric::explain::CoilSigns;
use asfound_electric::polarity::{HumTogether, Phase, Relation};
use asfound_electric::rewiring::{self, Asked, AtHand, HandValue, WirePiece, rewire};
use asfound_electric::trace::Trace;
use asfound_electric::{Circuit, Sign, Sort};
use asfound_measure::{Farads, Millimetres, Ohms};
use asfound_plot::Plot;
use asfound_record::{Job, Part};

use crate::before::Before;
use crate::material::Material;
use crate::parts;
use crate::readings::from_wire;
use crate::said::wishes::{Unread, is_traced, read};
use crate::sound::{self, Compared};

pub use asfound_electric::Terminal;
pub use asfound_electric::polarity::Joined;
pub use asfound_electric::polarity::{Instead, Phase as StringPhase};
pub use asfound_electric::rewiring::{
    Answer, Bleed, Conflict, CutList, DEEPEST, Doing, KnobDown, Met, Place, Proposal, RewiringError,
    SHORT_RUN, Sound, Step, USUAL_RUN, WhyNot, Wish,
};

/// A wish with the entry that says it.
#[derive(Debug, Clone, PartialEq)]
pub struct WishSaid {
    /// The entry.
    pub seq: u64,
    /// The words.
    pub words: String,
    /// What they were read as.
    pub read: Result<Wish, Unread>,
}

/// A part or piece of wire that lies ready, with its entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Ready {
    /// The entry of the part.
    pub seq: u64,
    /// What it is called.
    pub name: String,
    /// `capacitor`, `resistor` or `wire`.
    pub sort: String,
    /// The reading it goes by, as typed; `None` where none was kept.
    pub reading: Option<String>,
}

/// What can be said of other wirings.
#[derive(Debug, Clone)]
pub struct Rewiring {
    /// The wishes.
    pub wishes: Vec<WishSaid>,
    /// What lies ready.
    pub ready: Vec<Ready>,
    /// The entries of the trace.
    pub traced: Vec<u64>,
    /// How far it got.
    pub told: RewiringTold,
}

/// How far the study got.
#[derive(Debug, Clone)]
pub enum RewiringTold {
    /// There is no trace that fits together.
    NoCircuit,
    /// Nothing is wished yet.
    NoWish,
    /// It was asked, and answered; wishes count as [`Rewiring::wishes`] that could be read.
    Answered(Box<Answered>),
    /// It could not be asked.
    Refused(RewiringError),
}

/// An answer with what was asked.
#[derive(Debug, Clone)]
pub struct Answered {
    /// What was asked.
    pub asked: Asked,
    /// The answer.
    pub answer: Answer,
    /// For each proposal, as found and proposed on one plot, with the state it is of; `None` where no position sounds
    /// otherwise, or its phase is not known.
    pub comparisons: Vec<Option<(usize, Plot)>>,
}

/// Answers given before.
pub type RewiredBefore = Before<Asked, Result<Box<Answered>, RewiringError>>;

/// Studies what the wishes come to.
pub fn study(material: &Material) -> Rewiring {
    let job = &*material.job;
    let mut rewiring = Rewiring {
        wishes: Vec::new(),
        ready: Vec::new(),
        traced: job.traces.iter().map(|item| item.seq).collect(),
        told: RewiringTold::NoCircuit,
    };
    let text: String = job.traces.iter().map(|item| item.body.text.trim_end().to_owned() + "\n").collect();
    let known = Trace::read(&text).ok().and_then(|trace| Some((trace.circuit().ok()?, trace)));
    let Some((circuit, trace)) = known else {
        return rewiring;
    };
    for item in &job.wishes {
        let words = item.body.words.clone();
        rewiring.wishes.push(WishSaid { seq: item.seq, read: read(&words, &circuit, job), words });
    }
    let (ready, at_hand, wire) = lying_ready(job, &circuit);
    rewiring.ready = ready;
    let wishes: Vec<Wish> = rewiring.wishes.iter().filter_map(|it| it.read.clone().ok()).collect();
    if wishes.is_empty() {
        rewiring.told = RewiringTold::NoWish;
        return rewiring;
    }
    let signs = signs(material, &circuit);
    let load = sound::load(&material.workshop);
    let asked = Asked { signs, wishes, at_hand, wire, load, ..Asked::of(trace) };
    rewiring.told = match material.before.rewired.answer(asked, answered) {
        Ok(answered) => RewiringTold::Answered(answered),
        Err(error) => RewiringTold::Refused(error),
    };
    rewiring
}

fn answered(asked: &Asked) -> Result<Box<Answered>, RewiringError> {
    let answer = rewire(asked)?;
    let comparisons = answer.proposals.iter().map(|it| comparison(asked, &answer, it)).collect();
    Ok(Box::new(Answered { asked: asked.clone(), answer, comparisons }))
}

/// The first state that sounds otherwise, as found and proposed.
fn comparison(asked: &Asked, answer: &Answer, proposal: &Proposal) -> Option<(usize, Plot)> {
    let state = *proposal.changed.first()?;
    let (before, now) = (answer.sounds.get(state)?, proposal.sounds.get(state)?);
    let is_known = |it: &Sound| it.coils.len() < 2 || it.phase.is_some();
    if !is_known(before) || !is_known(now) {
        return None;
    }
    let (found, proposed) = (signed(&answer.as_found, asked), signed(&proposal.circuit, asked));
    let named = [("as found", &found, &before.setting), ("proposed", &proposed, &now.setting)];
    let compared: Vec<Compared> =
        sound::compare(&named, asked.load).into_iter().collect::<Result<_, _>>().ok()?;
    Some((state, sound::comparison("As found and proposed", &compared)))
}

/// The circuit with the first of the ways that ears and taps leave for the signs. Where they leave more than one, the
/// words say so; the plot shows the one.
fn signed(circuit: &Circuit, asked: &Asked) -> Circuit {
    let Some(signs) = asked.signs.first() else { return circuit.clone() };
    let mut parts = circuit.parts().to_vec();
    let mut next = signs.iter();
    for part in &mut parts {
        if let Sort::Coil(coil) = &mut part.sort
            && let Some(signs) = next.next()
        {
            let sign = |plus: bool| Some(if plus { Sign::Plus } else { Sign::Minus });
            (coil.winding, coil.magnet) = (sign(signs.clockwise), sign(signs.north));
        }
    }
    Circuit::new(parts, circuit.joins().to_vec()).unwrap_or_else(|_| circuit.clone())
}

/// Parts of the job that no line of the trace uses, with what a meter showed of them.
fn lying_ready(job: &Job, circuit: &Circuit) -> (Vec<Ready>, Vec<AtHand>, Vec<WirePiece>) {
    let (mut ready, mut at_hand, mut wire) = (Vec::new(), Vec::new(), Vec::new());
    for part in &job.parts {
        let body = &part.item.body;
        let sort = body.sort.to_lowercase();
        if !["capacitor", "resistor", "wire"].contains(&sort.as_str()) {
            continue;
        }
        let name = traced_name(&body.name);
        let in_trace = parts::name_in_trace(job, part);
        let known = [in_trace.as_deref(), Some(name.as_str()), Some(&short_name(&body.name, &sort))]
            .into_iter()
            .flatten()
            .any(|traced| is_traced(circuit, traced));
        if known {
            continue;
        }
        let quantity = match sort.as_str() {
            "capacitor" => "capacitance",
            "resistor" => "resistance",
            _ => "length",
        };
        let original = !is_new(body);
        let read = value(job, part, quantity);
        ready.push(Ready {
            seq: part.item.seq,
            name: body.name.clone(),
            sort: sort.clone(),
            reading: read.as_ref().map(|(text, _)| text.clone()),
        });
        let Some((_, value)) = read else { continue };
        match sort.as_str() {
            "capacitor" => {
                at_hand.push(AtHand { name, value: HandValue::Capacitor(Farads(value)), original })
            }
            "resistor" => at_hand.push(AtHand { name, value: HandValue::Resistor(Ohms(value)), original }),
            _ => wire.push(WirePiece { name: body.name.clone(), length: Millimetres(1e3 * value), original }),
        }
    }
    (ready, at_hand, wire)
}

/// Whether a part is said to be new: by its name or the place it lies.
fn is_new(body: &asfound_record::Part1) -> bool {
    let words = format!("{} {}", body.name, body.place).to_lowercase();
    words
        .split(|sign: char| !sign.is_alphanumeric())
        .any(|word| ["new", "stock", "drawer", "modern"].contains(&word))
}

/// A name as a trace can hold it.
fn traced_name(name: &str) -> String {
    let plain = |sign: char| if sign.is_alphanumeric() || sign == '_' { sign } else { '-' };
    let name: String = name.trim().to_lowercase().chars().map(plain).collect();
    if name.starts_with(|sign: char| sign.is_ascii_digit()) { format!("part-{name}") } else { name }
}

fn short_name(name: &str, sort: &str) -> String {
    let lower = name.to_lowercase();
    traced_name(lower.strip_suffix(sort).unwrap_or(&lower).trim())
}

/// The last reading of a quantity of a part: the text typed, and its value in the base unit.
fn value(job: &Job, part: &Part, quantity: &str) -> Option<(String, f64)> {
    part.readings.iter().rev().filter_map(|&at| job.readings.get(at)).find_map(|item| {
        if item.body.quantity != quantity {
            return None;
        }
        let written = from_wire(&item.body.shown)?;
        Some((item.body.shown.text.clone(), written.value_in_base()?))
    })
}

/// The ways the coils' signs may be: those that the trace leaves open and that agree with what was tapped, seen and
/// heard. None where nothing beside the trace is known.
fn signs(material: &Material, circuit: &Circuit) -> Vec<Vec<CoilSigns>> {
    let job = &*material.job;
    let readings = crate::readings::study(job, &material.workshop);
    let Some(studied) = crate::polarity::study(job, &readings) else { return Vec::new() };
    let Ok(polarity) = &studied.solved else { return Vec::new() };
    // Which coil of the trace a coil of the job is.
    let place = |coil: usize| {
        let body = &job.part(studied.said.parts.get(coil)?)?.item.body;
        let named = |part: &usize| {
            let name = &circuit.parts()[*part].name;
            body.traced_as.as_deref().is_some_and(|it| it.eq_ignore_ascii_case(name))
                || short_name(&body.name, "coil").eq_ignore_ascii_case(name)
        };
        circuit.coils().map(|(part, _)| part).position(|part| named(&part))
    };
    let relations: Vec<(usize, usize, &Relation)> = polarity
        .relations
        .iter()
        .filter(|it| it.phase.is_some() || it.hum.is_some() || it.magnets_alike.is_some())
        .filter_map(|it| Some((place(it.a)?, place(it.b)?, it)))
        .collect();
    if relations.is_empty() {
        return Vec::new();
    }
    let open = rewiring::signs_left_open(circuit);
    let agrees = |signs: &Vec<CoilSigns>| {
        relations.iter().all(|&(a, b, relation)| {
            let alike = |of: fn(CoilSigns) -> bool| of(signs[a]) == of(signs[b]);
            let phase = if alike(CoilSigns::string_positive) { Phase::In } else { Phase::Out };
            let hum = if alike(|it| it.clockwise) { HumTogether::Adds } else { HumTogether::Cancels };
            relation.ways.contains(&(phase, hum))
        })
    };
    // Where words contradict the trace nothing agrees, and the trace stands: the page Readings names the contradiction.
    open.into_iter().filter(agrees).collect()
}
