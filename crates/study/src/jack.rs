//! Readings taken through the plug, before a screw is turned: what each coil and pot must be.
//!
//! Where the job has a traced circuit and each reading says how its switches stood, the circuit itself is fitted; else
//! plain arrangements are, each that could be. The settings are read from the words that were kept with the reading.

use asfound_electric::jack::{
    COMMON_TRACKS, FullUp, JackReading, Meter, OhmsKnown, Plain, PlainReading, Shown, Traced, read_plain,
    read_traced,
};
use asfound_electric::trace::Trace;
use asfound_electric::{Circuit, Setting, Sort};
use asfound_measure::{Dimension, Ohms, Uncertain, read, rectangular};
use asfound_record::{Amount1, Job};

use crate::before::Before;
use crate::difference::POOR_METER;
use crate::readings::{ReadingStudied, statement_of};
use crate::said::clauses::clauses_of;
use crate::settings::{self, Stood};

mod expected;

pub use expected::{AGREES_WITHIN, ExpectedRow, should_show};

pub use asfound_electric::jack::{
    Answer, Controls, Doubted, Extra, Fault, Fitted, JackError, Kind, Knobs, NextReading, Probe, Proposed,
    Value, Verdict, Wiring,
};
pub use asfound_electric::polarity::Joined as CoilsJoined;

/// What the readings at the jack say.
#[derive(Debug, Clone, PartialEq)]
pub struct JackStudied {
    /// Names of the coils, as the answer counts them in a plain arrangement.
    pub coils: Vec<String>,
    /// The readings used, in the answer's order.
    pub used: Vec<Used>,
    /// Readings that could not be used, with what is missing.
    pub unused: Vec<(u64, String)>,
    /// Whether the job's own traced circuit was fitted.
    pub traced: bool,
    /// Names of the traced circuit's switches with their positions, and of its pots, as settings count them.
    pub controls: (Vec<(String, Vec<String>)>, Vec<String>),
    /// Whether the meter's accuracy was not known, and a poor one was taken.
    pub poor_meter: bool,
    /// What follows; `None` where no reading could be used.
    pub answer: Option<Result<Answer, JackError>>,
    /// Whether for some reading nobody said how the volume stood.
    pub volume_not_said: bool,
}

impl JackStudied {
    /// Whether no way of wiring agrees with all readings, or only one with a fault in it does.
    pub fn disagrees(&self) -> bool {
        let Some(Ok(answer)) = &self.answer else { return false };
        answer
            .standing()
            .next()
            .is_none_or(|best| !best.open.is_empty() || !best.shorted.is_empty() || best.extra.is_some())
    }
}

/// A reading at the jack that was used.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// The entry.
    pub seq: u64,
    /// What was typed.
    pub text: String,
    /// How it stood, in the words kept.
    pub how: String,
    /// The coils that were on, by name; empty in a traced circuit, where the switches say it.
    pub on: Vec<String>,
    /// What was shown, where it is a number.
    pub ohms: Option<Ohms>,
}

/// What the fits are asked, with the meter's gain.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// Of a plain arrangement.
    Plain(Plain, f64),
    /// Of the traced circuit.
    Traced(Box<Traced>, f64),
}

/// What was fitted before: readings that disagree are held against many faults, and that takes a while.
pub type AnsweredBefore = Before<Asked, Result<Answer, JackError>>;

fn fitted(asked: &Asked) -> Result<Answer, JackError> {
    match asked {
        Asked::Plain(plain, gain) => read_plain(plain, Meter { gain: *gain }),
        Asked::Traced(traced, gain) => read_traced(traced, Meter { gain: *gain }),
    }
}

/// Studies the readings at the jack; `None` where there are none.
pub fn study(
    job: &Job,
    workshop: &Job,
    readings: &[ReadingStudied],
    before: &AnsweredBefore,
) -> Option<JackStudied> {
    let at_jack: Vec<&ReadingStudied> = readings.iter().filter(|reading| is_at_the_jack(reading)).collect();
    if at_jack.is_empty() {
        return None;
    }
    let statements: Vec<_> = at_jack
        .iter()
        .map(|reading| reading.meter.as_ref().and_then(|id| statement_of(workshop, id)))
        .collect();
    let poor_meter = statements.iter().any(Option::is_none);
    let statement = statements.into_iter().flatten().next().filter(|_| !poor_meter).unwrap_or(POOR_METER);
    let gain = rectangular(statement.percent.to_f64() / 100.0);
    let mut studied = JackStudied {
        coils: coil_names(job),
        used: Vec::new(),
        unused: Vec::new(),
        traced: false,
        controls: (Vec::new(), Vec::new()),
        poor_meter,
        answer: None,
        volume_not_said: false,
    };
    let shown = |reading: &ReadingStudied| shown(reading, statement.digits);
    match traced(job, readings, &at_jack, &shown) {
        Some((asked, used, controls)) => {
            studied.traced = true;
            studied.used = used;
            studied.controls = controls;
            studied.answer = Some(before.answer(Asked::Traced(Box::new(asked), gain), fitted));
        }
        None => plainly(job, readings, &at_jack, &shown, gain, before, &mut studied),
    }
    if let Some(Ok(answer)) = &studied.answer {
        studied.volume_not_said = answer.full_up.contains(&FullUp::NotSaid);
    }
    Some(studied)
}

pub(crate) fn is_at_the_jack(reading: &ReadingStudied) -> bool {
    let method = reading.method.as_deref().unwrap_or_default();
    reading.quantity == "resistance" && method.starts_with("at the jack")
}

fn coil_names(job: &Job) -> Vec<String> {
    let coils = job.parts.iter().map(|part| &part.item.body).filter(|body| body.sort == "coil");
    coils.map(|body| body.name.clone()).collect()
}

/// What the meter showed, with the uncertainty that one reading has for itself.
pub(crate) fn shown(reading: &ReadingStudied, digits: u32) -> Option<Shown> {
    let shown = reading.shown.as_ref()?;
    match reading.amount {
        Amount1::Exactly { .. } if shown.value >= 0.0 => {
            let (digits, display) =
                (rectangular(f64::from(digits) * shown.digit()), rectangular(shown.last_place / 2.0));
            let u = (digits * digits + display * display).sqrt();
            Some(Shown::Ohms(Uncertain::new(Ohms(shown.value), Ohms(u))))
        }
        Amount1::Over { .. } => Some(Shown::Over(Ohms(shown.value))),
        _ => None,
    }
}

pub(crate) fn stood(job: &Job, reading: &ReadingStudied) -> Vec<Stood> {
    let method = reading.method.as_deref().unwrap_or_default();
    settings::all(method.trim_start_matches("at the jack"), job)
}

type ControlNames = (Vec<(String, Vec<String>)>, Vec<String>);

/// The job's own circuit with every reading set in it; `None` where there is no circuit that holds together, or a
/// reading does not say how a switch stood.
fn traced(
    job: &Job,
    readings: &[ReadingStudied],
    at_jack: &[&ReadingStudied],
    shown: &impl Fn(&ReadingStudied) -> Option<Shown>,
) -> Option<(Traced, Vec<Used>, ControlNames)> {
    let lines: Vec<&str> = job.traces.iter().map(|item| item.body.text.trim_end()).collect();
    if lines.is_empty() {
        return None;
    }
    let circuit = Trace::read(&lines.join("\n")).ok()?.circuit().ok()?;
    circuit.jacks().next()?;
    let mut used = Vec::new();
    let mut set = Vec::new();
    for reading in at_jack {
        let (probe, full_up) = set_in(&circuit, job, &stood(job, reading))?;
        set.push(JackReading { probe, full_up, shown: shown(reading)? });
        used.push(told(reading, Vec::new()));
    }
    let known = circuit
        .pots()
        .map(|(part, pot)| (part, pot_known(job, readings, &circuit, part, pot.track)))
        .collect();
    let names = (
        circuit
            .switches()
            .map(|(part, plan)| {
                let positions = plan.positions().iter().map(|position| position.name.clone()).collect();
                (circuit.parts()[part].name.clone(), positions)
            })
            .collect(),
        circuit.pots().map(|(part, _)| circuit.parts()[part].name.clone()).collect(),
    );
    Some((Traced { circuit, known, readings: set }, used, names))
}

fn told(reading: &ReadingStudied, on: Vec<String>) -> Used {
    let how = reading.method.as_deref().unwrap_or_default().trim_start_matches("at the jack");
    let how = how.trim_start_matches([',', ' ']);
    let how = if how.is_empty() { reading.name.as_str() } else { how };
    let exactly = matches!(reading.amount, Amount1::Exactly { .. });
    let ohms = reading.shown.as_ref().filter(|_| exactly).map(|shown| Ohms(shown.value));
    Used { seq: reading.seq, text: reading.text.clone(), how: how.to_owned(), on, ohms }
}

/// A setting of the circuit from what was said; `None` where a switch's position was not.
pub(crate) fn set_in(circuit: &Circuit, job: &Job, stood: &[Stood]) -> Option<(Probe, FullUp)> {
    let mut setting = Setting::first(circuit);
    let mut full_up = FullUp::NotSaid;
    let called = |part: &Option<String>, name: &str, circuit_name: &str| {
        let known = part.as_ref().and_then(|id| job.part(id)).map(|part| &part.item.body);
        let names = [
            Some(name),
            known.map(|body| body.name.as_str()),
            known.and_then(|body| body.traced_as.as_deref()),
        ];
        names.into_iter().flatten().any(|name| name.replace(' ', "-").eq_ignore_ascii_case(circuit_name))
    };
    let count = circuit.switches().count();
    for (at, (part, plan)) in circuit.switches().enumerate() {
        let circuit_name = &circuit.parts()[part].name;
        let said = stood.iter().find_map(|it| match it {
            // With one switch, any word for a switch means it.
            Stood::Switch { part, name, position } if count == 1 || called(part, name, circuit_name) => {
                Some(position)
            }
            _ => None,
        });
        setting.positions[at] = match said {
            Some(position) => plan.position(position)?,
            None if plan.positions().len() == 1 => 0,
            None => return None,
        };
    }
    for (at, (part, _)) in circuit.pots().enumerate() {
        let circuit_name = &circuit.parts()[part].name;
        let said = stood.iter().find_map(|it| match it {
            Stood::Knob { part, name, turn } => {
                let loosely = circuit_name.to_lowercase().contains(&name.to_lowercase());
                (called(part, name, circuit_name) || loosely).then_some(*turn)
            }
            _ => None,
        });
        // Between its ends a knob's share of the ohms hangs on its taper, which nobody knows yet.
        match said {
            Some(turn) if turn == 0.0 || turn == 1.0 => {
                setting.wipers[at] = turn;
                full_up = if turn == 1.0 && full_up != FullUp::SetOtherwise {
                    FullUp::Said
                } else {
                    FullUp::SetOtherwise
                };
            }
            Some(_) => return None,
            None => {}
        }
    }
    Some((Probe { setting, largest: None }, full_up))
}

/// What is known of a pot: metered by itself, else printed or traced.
fn pot_known(
    job: &Job,
    readings: &[ReadingStudied],
    circuit: &Circuit,
    part: usize,
    traced: Ohms,
) -> OhmsKnown {
    let Sort::Pot(_) = circuit.parts()[part].sort else { return OhmsKnown::Unknown };
    let name = &circuit.parts()[part].name;
    let id = job.parts.iter().map(|part| &part.item.body).find(|body| {
        body.sort == "pot"
            && (body.traced_as.as_deref() == Some(name)
                || body.name.replace(' ', "-").eq_ignore_ascii_case(name))
    });
    id.and_then(|body| metered(readings, &body.part)).unwrap_or_else(|| OhmsKnown::Nominal(vec![traced]))
}

/// A pot's track as it was metered by itself.
fn metered(readings: &[ReadingStudied], part: &str) -> Option<OhmsKnown> {
    let alone = |reading: &&ReadingStudied| {
        let method = reading.method.as_deref().unwrap_or_default();
        reading.part == part
            && reading.quantity == "resistance"
            && ["out of circuit", "lead lifted", "at the joints"].iter().any(|way| method.starts_with(way))
    };
    let shown = readings.iter().rev().find(alone)?.shown.as_ref().filter(|shown| shown.value > 0.0)?;
    let meter = shown.meter_half_width.unwrap_or(0.03 * shown.value);
    let u = rectangular(meter).max(rectangular(shown.last_place));
    Some(OhmsKnown::Metered(Uncertain::new(Ohms(shown.value), Ohms(u))))
}

fn plainly(
    job: &Job,
    readings: &[ReadingStudied],
    at_jack: &[&ReadingStudied],
    shown: &impl Fn(&ReadingStudied) -> Option<Shown>,
    gain: f64,
    before: &AnsweredBefore,
    studied: &mut JackStudied,
) {
    let ids: Vec<String> = job
        .parts
        .iter()
        .filter(|part| part.item.body.sort == "coil")
        .map(|part| part.item.body.part.clone())
        .collect();
    let mut set = Vec::new();
    for reading in at_jack {
        match plain_reading(job, &ids, reading, shown) {
            Ok(plain) => {
                let on = plain.on.iter().map(|coil| studied.coils[*coil].clone()).collect();
                set.push(plain);
                studied.used.push(told(reading, on));
            }
            Err(missing) => studied.unused.push((reading.seq, missing)),
        }
    }
    if set.is_empty() {
        return;
    }
    // A coil that was on in no reading is no part of the question.
    let on: Vec<usize> =
        (0..ids.len()).filter(|coil| set.iter().any(|reading| reading.on.contains(coil))).collect();
    for reading in &mut set {
        reading.on = reading.on.iter().filter_map(|coil| on.iter().position(|kept| kept == coil)).collect();
    }
    let names: Vec<String> = on.iter().map(|coil| studied.coils[*coil].clone()).collect();
    let asked = Plain {
        coils: names.clone(),
        controls: controls(job),
        joined: None,
        tracks: tracks(job, readings),
        metered: Vec::new(),
        readings: set,
    };
    studied.coils = names;
    studied.answer = Some(before.answer(Asked::Plain(asked, gain), fitted));
}

fn plain_reading(
    job: &Job,
    ids: &[String],
    reading: &ReadingStudied,
    shown: &impl Fn(&ReadingStudied) -> Option<Shown>,
) -> Result<PlainReading, String> {
    let stood = stood(job, reading);
    let mut on: Vec<usize> = stood
        .iter()
        .filter_map(|it| match it {
            Stood::Coil(part) => ids.iter().position(|known| known == part),
            _ => None,
        })
        .collect();
    on.extend(ids.iter().position(|known| *known == reading.part));
    if on.is_empty() && ids.len() == 1 {
        on.push(0);
    }
    on.sort_unstable();
    on.dedup();
    if on.is_empty() {
        return Err("which coils were on: say it as “jack 5.81k neck and bridge”".to_owned());
    }
    let volume = stood.iter().find_map(|it| match it {
        Stood::Knob { part, name, turn } if !is_tone(job, part.as_deref(), name) => {
            Some((part.clone(), *turn))
        }
        _ => None,
    });
    let knobs = match volume {
        None => Knobs::NotSaid,
        Some((_, 1.0)) => Knobs::FullUp,
        Some((part, 0.0)) => Knobs::At { volume: volume_of(job, ids, part.as_deref()), share: 0.0 },
        Some(_) => {
            return Err(
                "a volume between its ends says little, for its taper is not known: read it full up or shut"
                    .to_owned(),
            );
        }
    };
    let shown = shown(reading).ok_or("a figure: over which range was it?")?;
    Ok(PlainReading { on, joined: None, knobs, shown })
}

fn is_tone(job: &Job, part: Option<&str>, name: &str) -> bool {
    let full = part.and_then(|id| job.part(id)).map(|part| part.item.body.name.to_lowercase());
    full.unwrap_or_else(|| name.to_lowercase()).contains("tone")
}

/// The coil that a volume belongs to, where its name says so; else the first.
fn volume_of(job: &Job, ids: &[String], part: Option<&str>) -> usize {
    let Some(body) = part.and_then(|id| job.part(id)).map(|part| &part.item.body) else { return 0 };
    let said = format!("{} {}", body.name, body.place).to_lowercase();
    let of_place =
        |id: &String| job.part(id).is_some_and(|coil| said.contains(&coil.item.body.place.to_lowercase()));
    ids.iter().position(of_place).unwrap_or(0)
}

/// Where the volumes are, as far as parts and words say it.
fn controls(job: &Job) -> Option<Controls> {
    let volumes = job
        .parts
        .iter()
        .map(|part| &part.item.body)
        .filter(|body| body.sort == "pot" && body.name.to_lowercase().contains("volume"));
    let count: u32 = volumes.map(|body| body.count).sum();
    let said = clauses_of(job, None);
    let says = |pattern: &str| said.iter().any(|clause| clause.says(pattern));
    if says("no pot|pots|volume") {
        Some(Controls::NoPot)
    } else if count == 1 || says("one|single|master volume") {
        Some(Controls::Master)
    } else {
        None
    }
}

/// What is known of the volumes' tracks: metered by itself where there is one volume, printed, or nothing.
fn tracks(job: &Job, readings: &[ReadingStudied]) -> OhmsKnown {
    let volumes: Vec<_> = job
        .parts
        .iter()
        .map(|part| &part.item.body)
        .filter(|body| body.sort == "pot" && body.name.to_lowercase().contains("volume"))
        .collect();
    if let [one] = volumes.as_slice()
        && let Some(known) = metered(readings, &one.part)
    {
        return known;
    }
    let printed: Vec<Ohms> = volumes
        .iter()
        .flat_map(|body| clauses_of(job, Some(&body.part)))
        .flat_map(|clause| clause.words().to_vec())
        .filter(|word| word.ends_with(['k', 'm']) || word.contains("meg"))
        .filter_map(|word| read(&word, Dimension::Resistance).ok()?.value_in_base())
        .filter(|ohms| (1e4..=1e7).contains(ohms))
        .map(Ohms)
        .collect();
    match printed.first() {
        Some(track) => OhmsKnown::Nominal(vec![*track]),
        None => OhmsKnown::Nominal(COMMON_TRACKS[..2].to_vec()),
    }
}
