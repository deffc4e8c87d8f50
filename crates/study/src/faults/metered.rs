//! Readings as evidence: through the plug, and between two lugs of the circuit.

use asfound_electric::fault::{Metered, Probed};
use asfound_electric::jack::Shown;
use asfound_electric::{Changes, Circuit, Setting, Terminal, resistance};
use asfound_measure::{Ohms, Uncertain, rectangular};
use asfound_record::{Amount1, Job, Probing1, Quantity1};

use crate::difference::POOR_METER;
use crate::jack;
use crate::probings::{NotSet, stood};
use crate::readings::{self, ReadingStudied};

/// A reading between two lugs of the circuit, or at its jack.
#[derive(Debug, Clone, PartialEq)]
pub struct MeteredFrom {
    /// The entry.
    pub seq: u64,
    /// What was read, as it was said.
    pub text: String,
    /// What it is to the circuit.
    pub metered: Metered,
}

/// A reading between lugs that cannot be weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unplaced {
    /// The entry.
    pub seq: u64,
    /// Why.
    pub why: WhyUnplaced,
}

/// Why a reading between lugs cannot be weighed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WhyUnplaced {
    /// The circuit has no such lug.
    NoSuchLug {
        /// As it was said.
        read: String,
        /// Lugs with a name near it.
        nearest: Vec<String>,
    },
    /// A switch or knob cannot stand as was said.
    NotSet(NotSet),
    /// What it reads hangs on how a switch stood, and that was not said.
    SwitchNotSaid,
    /// It is no figure and no bound above.
    NoFigure,
}

/// A bound below this, in ohms, is none that a meter could tell.
const LEAST_BOUND: f64 = 0.1;

/// Readings at the jack and probings, each set in the circuit; and probings that cannot be.
pub(super) fn of(
    job: &Job,
    workshop: &Job,
    readings: &[ReadingStudied],
    circuit: &Circuit,
) -> (Vec<MeteredFrom>, Vec<Unplaced>) {
    let mut metered = at_the_jack(job, workshop, readings, circuit);
    let mut unplaced = Vec::new();
    for item in job.probings.iter().filter(|item| item.body.quantity == "resistance") {
        match probed(workshop, &item.body, circuit) {
            Ok(one) => {
                let text = said(&item.body);
                metered.push(MeteredFrom { seq: item.seq, text, metered: one });
            }
            Err(why) => unplaced.push(Unplaced { seq: item.seq, why }),
        }
    }
    metered.sort_by_key(|it| it.seq);
    (metered, unplaced)
}

fn said(body: &Probing1) -> String {
    let stood = body.stood.as_ref().map(|stood| format!(", {stood}")).unwrap_or_default();
    format!("{} to {} {}{stood}", body.from, body.to, body.shown.text)
}

fn probed(workshop: &Job, body: &Probing1, circuit: &Circuit) -> Result<Metered, WhyUnplaced> {
    let lug = |read: &str| {
        circuit
            .terminal(read)
            .map_err(|error| WhyUnplaced::NoSuchLug { read: read.to_owned(), nearest: error.nearest })
    };
    let (from, to) = (lug(&body.from)?, lug(&body.to)?);
    let set = stood::read(circuit, body.stood.as_deref().unwrap_or_default()).map_err(WhyUnplaced::NotSet)?;
    let setting = alike_in_all(circuit, &set, from, to).ok_or(WhyUnplaced::SwitchNotSaid)?;
    let shown = shown(workshop, body.meter.as_deref(), &body.shown).ok_or(WhyUnplaced::NoFigure)?;
    Ok(Metered { probed: Probed { from, to, setting }, shown })
}

/// Settings gone through for a reading of which not every switch was said.
const MOST_SETTINGS: usize = 64;

/// The setting it was read in; where a switch was not said and makes no difference to the reading, any that fits will do.
fn alike_in_all(circuit: &Circuit, set: &stood::Set, from: Terminal, to: Terminal) -> Option<Setting> {
    let settings: Vec<Setting> = set.settings(circuit).take(MOST_SETTINGS + 1).collect();
    let (first, others) = settings.split_first()?;
    if others.is_empty() {
        return Some(first.clone());
    }
    let wired = circuit.possibilities().next()?;
    let read = |setting: &Setting| {
        resistance(&wired, setting, &Changes::default(), from, to).map(|direct| direct.reading)
    };
    let here = read(first).ok()?;
    let alike = others.len() < MOST_SETTINGS && others.iter().all(|other| read(other).ok() == Some(here));
    alike.then(|| first.clone())
}

fn shown(workshop: &Job, meter: Option<&str>, shown: &Quantity1) -> Option<Shown> {
    let written = readings::from_wire(shown)?;
    let value = written.value_in_base();
    let statement = meter.and_then(|id| readings::statement_of(workshop, id)).unwrap_or(POOR_METER);
    match shown.amount {
        Amount1::Exactly { .. } => {
            let (value, last_place) = (value?, written.last_place()?);
            let digits = rectangular(f64::from(statement.digits) * last_place.min(value.abs() / 200.0));
            let display = rectangular(last_place / 2.0);
            // A bare 0 still has the leads in it: a tenth of an ohm at least (common practice, no source).
            let u = (digits * digits + display * display).sqrt().max(0.1);
            (value >= 0.0).then(|| Shown::Ohms(Uncertain::new(Ohms(value), Ohms(u))))
        }
        Amount1::Over { .. } => Some(Shown::Over(Ohms(value?))),
        // Over what range was not said; a hand-held meter's highest reaches 20 MΩ (common practice, no source).
        Amount1::OverRange => Some(Shown::Over(Ohms(20e6))),
        Amount1::Under { .. } => {
            let bound = value?.max(LEAST_BOUND);
            Some(Shown::Ohms(Uncertain::new(Ohms(bound / 2.0), Ohms(rectangular(bound / 2.0)))))
        }
        Amount1::NotMeasured | Amount1::CannotTell => None,
    }
}

/// Readings through the plug, as readings between the two lugs of the circuit's jack. One that does not say how the
/// switches stood is left; page Readings asks for it.
fn at_the_jack(
    job: &Job,
    workshop: &Job,
    readings: &[ReadingStudied],
    circuit: &Circuit,
) -> Vec<MeteredFrom> {
    let Some(part) = circuit.jacks().next() else { return Vec::new() };
    let [tip, sleeve] = [0, 1].map(|lug| Terminal { part, lug });
    let at_jack = readings.iter().filter(|reading| jack::is_at_the_jack(reading));
    at_jack
        .filter_map(|reading| {
            let (probe, _) = jack::set_in(circuit, job, &jack::stood(job, reading))?;
            let statement = reading.meter.as_ref().and_then(|id| readings::statement_of(workshop, id));
            let shown = jack::shown(reading, statement.unwrap_or(POOR_METER).digits)?;
            let text = match reading.method.as_deref().unwrap_or_default() {
                "at the jack" => format!("{} at the jack", reading.text),
                method => format!("{} {method}", reading.text),
            };
            let probed = Probed { from: tip, to: sleeve, setting: probe.setting };
            Some(MeteredFrom { seq: reading.seq, text, metered: Metered { probed, shown } })
        })
        .collect()
}
