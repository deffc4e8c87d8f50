//! Each coil of a job: what the meter and the eye found, weighed; held against its kind; what would tell more.
//!
//! This room gathers what was said and read of a coil, with the entries it stands in, and asks `electric::coil` to weigh
//! it. Nothing is filled in: what was not said stays unknown there.

use std::sync::Arc;

use asfound_electric::bobbin::{Carried, Turns};
use asfound_electric::coil::{
    At, Found, FoundError, OhmsReading, Shown as CoilShown, Tables, Temperature, weigh,
};
use asfound_electric::wire::{Convention, Gauge};
use asfound_measure::{
    Dimension, Henries, Hertz, MeterStatement, Millimetres, Ohms, Ratio, Uncertain, read, rectangular,
};
use asfound_record::{Amount1, Job};

use crate::before::Before;
use crate::difference::{POOR_METER, Verdict, within_parts};
use crate::past::{AmongOwn, PastReading, among};
use crate::readings::{ReadingStudied, TEMPERATURE_HALF_WIDTH, statement_of, study as study_readings};
use crate::said::clauses::{Clause, clauses_of};
use crate::said::features::{FeatureSaid, features};
use crate::said::kindred::{KindSaid, kind_of, kindred};
use crate::usual::{AtTwenty, Held, NoWindow, held};

pub use asfound_electric::coil::{
    Cause, CoilPart, Condition, Considered, Construction, Feature, Hand, Insulation, Lead, Look, Matter,
    Next, Opinion, PartState, Said,
};
pub use asfound_electric::coil::{Opinions, Piece, Weighed};
pub use asfound_electric::wire::{Build, Metres};
pub use asfound_weigh::{Probability, Side};

/// The seed they are drawn from: the same coil is weighed the same on every machine.
pub const SEED: u64 = 20_261_125;

/// Half-width of a micrometer on fine wire. Common practice, no source.
const MICROMETER: Millimetres = Millimetres(0.003);
/// Half-width of a calliper on a soft winding. Common practice, no source.
const CALLIPER: Millimetres = Millimetres(0.2);
/// Half-width of a bridge for inductance, as a share. Common practice, no source.
const BRIDGE: f64 = 0.01;
/// Half-width of a bridge for Q, as a share. Common practice, no source.
const BRIDGE_Q: f64 = 0.03;

/// A coil with what its study says.
#[derive(Debug, Clone, PartialEq)]
pub struct CoilStudied {
    /// The part's id.
    pub part: String,
    /// Its name.
    pub name: String,
    /// Its place.
    pub place: String,
    /// What was gathered.
    pub found: Found,
    /// The entry of each piece of it.
    pub pieces: Vec<(Piece, Vec<u64>)>,
    /// What was said of its kind.
    pub kind: KindSaid,
    /// What the eye saw, as read from the words.
    pub features: Vec<FeatureSaid>,
    /// What was said and then said otherwise.
    pub overruled: Vec<FeatureSaid>,
    /// The latest resistance of the coil alone that has a value, by its place among the readings.
    pub reading: Option<usize>,
    /// Whether a meter's accuracy was not known, and a poor one was taken.
    pub poor_meter: bool,
    /// What came of the weighing.
    pub weighed: Result<Arc<Weighed>, FoundError>,
    /// The coil against the windows of its kind; `None` where it has no value.
    pub held: Option<Result<Vec<Held>, NoWindow>>,
    /// The coil among this workshop's own; `None` where it has no value.
    pub among: Option<AmongOwn>,
    /// Its value at 20 °C as it was held.
    pub at_20: Option<AtTwenty>,
    /// Length of wire by the gauge law, with the least and the most of wire as it is made, where the gauge was said.
    pub wire: Option<WireLength>,
}

/// How much wire there is, from ohms and gauge alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WireLength {
    /// American wire gauge.
    pub gauge: u8,
    /// By the gauge law, unrounded.
    pub by_law: Metres,
    /// The least, of the thinnest wire that passes as that gauge.
    pub least: Metres,
    /// The most, of the thickest.
    pub most: Metres,
    /// Turns that follow from it with least and most, where the kind of coil was said.
    pub turns: Option<Carried<Turns>>,
}

/// Length of wire of a gauge that has these ohms at 20 °C; `None` for a gauge that is not tabled.
pub fn wire_length(gauge: u8, at_20: Ohms, construction: Option<Construction>) -> Option<WireLength> {
    let known = Gauge::new(gauge).ok()?;
    let made = known.length(at_20, Convention::Rounded);
    Some(WireLength {
        gauge,
        by_law: known.length(at_20, Convention::Unrounded).nominal,
        least: made.least,
        most: made.most,
        turns: construction.and_then(|kind| kind.turns_by_ohms(known, at_20)),
    })
}

/// What was weighed before, and the tables of coils in air, which are made once.
#[derive(Debug, Default)]
pub struct WeighedBefore {
    answers: Before<(Found, Opinions), Result<Arc<Weighed>, FoundError>>,
    tables: Tables,
}

impl WeighedBefore {
    fn weigh(&self, found: &Found, opinions: &Opinions) -> Result<Arc<Weighed>, FoundError> {
        let question = (found.clone(), opinions.clone());
        self.answers
            .answer(question, |(found, opinions)| weigh(found, opinions, &self.tables, SEED).map(Arc::new))
    }
}

/// The workshop's own opinions: those stated in its chain, the latest of a name; names that no opinion has are passed
/// over, since a later release may have renamed them.
pub fn opinions(workshop: &Job) -> Opinions {
    let mut opinions = Opinions::default();
    for item in &workshop.assumptions {
        if let Ok(value) = item.body.value.parse() {
            let _ = opinions.set(&item.body.name, value);
        }
    }
    opinions
}

/// What an opinion is called.
pub fn name_of(matter: Matter) -> &'static str {
    Opinions::all()
        .iter()
        .find(|opinion| opinion.matter == matter)
        .map_or("an opinion", |opinion| opinion.name)
}

/// A likelihood ratio from its logarithm, above one, and whether it was turned over for that.
pub fn ratio(log_ratio: f64) -> (f64, bool) {
    (libm::exp(log_ratio.abs().min(MOST_LOG)), log_ratio < 0.0)
}

/// A ratio beyond this is no more than very large.
const MOST_LOG: f64 = 20.0;

/// Studies every coil of a job of which anything was found.
pub fn study(job: &Job, workshop: &Job, past: &[PastReading], before: &WeighedBefore) -> Vec<CoilStudied> {
    let readings = study_readings(job, workshop);
    let opinions = opinions(workshop);
    let set_aside = set_aside(job, workshop);
    job.parts
        .iter()
        .filter(|part| part.item.body.sort == "coil")
        .map(|part| {
            Gathering { job, workshop, readings: &readings, set_aside: &set_aside }.of(&part.item.body.part)
        })
        .filter(|gathered| !gathered.found.pieces().is_empty())
        .map(|gathered| finished(job, gathered, &readings, past, &opinions, before))
        .collect()
}

/// Readings that a later one of the same coil contradicts: what was true of the coil before is not weighed with what is
/// true of it now. They are told as a difference.
fn set_aside(job: &Job, workshop: &Job) -> Vec<u64> {
    within_parts(job, workshop)
        .iter()
        .filter(|difference| difference.verdict == Verdict::Different)
        .map(|difference| difference.first.seq)
        .collect()
}

fn finished(
    job: &Job,
    gathered: CoilStudied,
    readings: &[ReadingStudied],
    past: &[PastReading],
    opinions: &Opinions,
    before: &WeighedBefore,
) -> CoilStudied {
    let weighed = before.weigh(&gathered.found, opinions);
    let at_20 = gathered.reading.and_then(|at| AtTwenty::of(&readings[at]));
    let kin = kindred(job, &gathered.part);
    let held = at_20.as_ref().map(|coil| held(coil, &kin));
    let among = at_20.as_ref().map(|coil| among(past, &kin, coil, (&job.chain, &gathered.part)));
    let gauge = gathered.kind.gauge.as_ref().map(|said| said.what);
    let wire = gauge
        .zip(at_20.as_ref())
        .and_then(|(gauge, coil)| wire_length(gauge, coil.value, gathered.found.construction));
    CoilStudied { weighed, held, among, at_20, wire, ..gathered }
}

struct Gathering<'a> {
    job: &'a Job,
    workshop: &'a Job,
    readings: &'a [ReadingStudied],
    set_aside: &'a [u64],
}

impl Gathering<'_> {
    fn of(&self, part: &str) -> CoilStudied {
        let body = self.job.part(part).map(|kept| kept.item.body.clone());
        let said = self.clauses(part);
        let (standing, overruled) = features(&said);
        let kind = kind_of(self.job, part);
        let mut gathered = CoilStudied {
            part: part.to_owned(),
            name: body.as_ref().map(|body| body.name.clone()).unwrap_or_default(),
            place: body.map(|body| body.place).unwrap_or_default(),
            found: Found {
                features: standing.iter().map(|said| said.feature).collect(),
                construction: kind.construction.as_ref().map(|said| said.what),
                period: kind.period.as_ref().map(|said| said.what),
                ..Found::default()
            },
            pieces: standing.iter().map(|said| (Piece::Seen(said.feature), vec![said.seq])).collect(),
            features: standing,
            overruled,
            kind,
            reading: None,
            poor_meter: false,
            weighed: Err(FoundError::Nothing),
            held: None,
            among: None,
            at_20: None,
            wire: None,
        };
        for (at, reading) in self.readings.iter().enumerate().filter(|(_, reading)| reading.part == part) {
            self.take(&mut gathered, at, reading, &said);
        }
        gathered
    }

    /// What was seen on the coil and what was done to it, in the order of the entries.
    fn clauses(&self, part: &str) -> Vec<Clause> {
        let mut said = clauses_of(self.job, Some(part));
        let done = self.job.acts.iter().filter(|item| item.body.part.as_deref() == Some(part));
        said.extend(done.flat_map(|item| crate::said::clauses::clauses(item.seq, &item.body.words)));
        said.sort_by_key(|clause| clause.seq);
        said
    }

    fn take(&self, gathered: &mut CoilStudied, at: usize, reading: &ReadingStudied, said: &[Clause]) {
        let (quantity, frequency) = match reading.quantity.split_once(" at ") {
            Some((quantity, frequency)) => (quantity, frequency_of(frequency)),
            None => (reading.quantity.as_str(), None),
        };
        let exactly = matches!(reading.amount, Amount1::Exactly { .. });
        let shown = reading.shown.as_ref().filter(|shown| exactly && shown.value > 0.0);
        let millimetres = |least: Millimetres| {
            let shown = shown?;
            let digit = rectangular(shown.last_place / 2.0);
            let u = (digit * digit + rectangular(least.0) * rectangular(least.0)).sqrt();
            Some(Uncertain::new(Millimetres(shown.value), Millimetres(u)))
        };
        let share = |share: f64| {
            let shown = shown?;
            let (digit, bridge) = (rectangular(shown.last_place / 2.0), rectangular(shown.value * share));
            Some((shown.value, (digit * digit + bridge * bridge).sqrt()))
        };
        let found = &mut gathered.found;
        let piece = match quantity {
            "resistance" => return self.take_ohms(gathered, at, reading, said),
            "winding depth" => set(&mut found.depth, millimetres(CALLIPER), Piece::Depth),
            "outer width" => set(&mut found.outer_width, millimetres(CALLIPER), Piece::OuterWidth),
            "outer length" => set(&mut found.outer_length, millimetres(CALLIPER), Piece::OuterLength),
            "winding height" => set(&mut found.winding_height, millimetres(CALLIPER), Piece::WindingHeight),
            "wire diameter" => {
                set(&mut found.wire_over_insulation, millimetres(MICROMETER), Piece::WireOverInsulation)
            }
            "bare wire diameter" => set(&mut found.wire_bare, millimetres(MICROMETER), Piece::WireBare),
            "inductance" => frequency.zip(share(BRIDGE)).map(|(frequency, (value, u))| {
                found.inductance.push(At { frequency, read: Uncertain::new(Henries(value), Henries(u)) });
                Piece::Inductance(found.inductance.len() - 1)
            }),
            "Q" => frequency.zip(share(BRIDGE_Q)).map(|(frequency, (value, u))| {
                let read = Uncertain::new(Ratio(value), Ratio(u));
                found.quality.push(At { frequency, read });
                Piece::Quality(found.quality.len() - 1)
            }),
            _ => None,
        };
        if let Some(piece) = piece {
            gathered.pieces.retain(|(other, _)| *other != piece);
            gathered.pieces.push((piece, vec![reading.seq]));
        }
    }

    fn take_ohms(&self, gathered: &mut CoilStudied, at: usize, reading: &ReadingStudied, said: &[Clause]) {
        let method = reading.method.as_deref().unwrap_or_default();
        let alone = !method.starts_with("in circuit") && !method.starts_with("at the jack");
        if !alone || self.set_aside.contains(&reading.seq) {
            return;
        }
        let statement = reading.meter.as_ref().and_then(|id| statement_of(self.workshop, id));
        gathered.poor_meter |= statement.is_none();
        let statement = statement.unwrap_or(POOR_METER);
        let Some(shown) = self.shown(reading, statement) else { return };
        if matches!(shown, CoilShown::Ohms(_)) {
            gathered.reading = Some(at);
        }
        let temperature = match &reading.temperature {
            Some((_, celsius)) => {
                Temperature::Measured(Uncertain::rectangular(*celsius, TEMPERATURE_HALF_WIDTH))
            }
            None if said.iter().any(|clause| clause.says("cold")) => Temperature::Cold,
            None if said.iter().any(|clause| clause.says("warm|hot")) => Temperature::Warm,
            None => Temperature::NotSaid,
        };
        let meters: Vec<&Option<String>> = self.readings.iter().map(|other| &other.meter).collect();
        // A meter that was not named is another one each time.
        let meter = match &reading.meter {
            Some(_) => meters.iter().position(|other| **other == reading.meter).unwrap_or(at),
            None => meters.len() + at,
        };
        gathered.found.ohms.push(OhmsReading {
            shown,
            temperature,
            meter: u32::try_from(meter).unwrap_or(u32::MAX),
            gain_uncertainty: rectangular(statement.percent.to_f64() / 100.0),
        });
        match gathered.pieces.iter_mut().find(|(piece, _)| *piece == Piece::Ohms) {
            Some((_, seqs)) => seqs.push(reading.seq),
            None => gathered.pieces.push((Piece::Ohms, vec![reading.seq])),
        }
    }

    /// What the meter showed of the coil; `None` for what is no figure of it, or most likely a slip of the unit.
    fn shown(&self, reading: &ReadingStudied, statement: MeterStatement) -> Option<CoilShown> {
        match (&reading.amount, &reading.shown) {
            (Amount1::Exactly { .. }, Some(shown)) if shown.value > 0.0 => {
                // Far above any coil it is broken and leaks, whatever else may have been meant.
                if shown.value < LEAST_OF_A_COIL.0 {
                    return None;
                }
                let digits = f64::from(statement.digits) * shown.digit();
                let (digits, display) = (rectangular(digits), rectangular(shown.last_place / 2.0));
                let u = (digits * digits + display * display).sqrt();
                Some(CoilShown::Ohms(Uncertain::new(Ohms(shown.value), Ohms(u))))
            }
            (Amount1::Over { .. }, Some(shown)) if shown.value > 0.0 => {
                Some(CoilShown::Over(Ohms(shown.value)))
            }
            (Amount1::OverRange, _) => {
                let kept = self.job.readings.iter().find(|item| item.seq == reading.seq)?;
                let range = read(kept.body.range.as_deref()?, Dimension::Resistance).ok()?.value_in_base()?;
                (range > 0.0).then_some(CoilShown::Over(Ohms(range)))
            }
            _ => None,
        }
    }
}

/// Below this a reading is a short or a slip, and says nothing of the winding. Common practice, no source.
const LEAST_OF_A_COIL: Ohms = Ohms(100.0);

/// Sets a measure that was taken; the last one stands.
fn set<T>(place: &mut Option<T>, measured: Option<T>, piece: Piece) -> Option<Piece> {
    let measured = measured?;
    *place = Some(measured);
    Some(piece)
}

fn frequency_of(text: &str) -> Option<Hertz> {
    let hertz = read(text, Dimension::Frequency).ok()?.value_in_base()?;
    (hertz > 0.0).then_some(Hertz(hertz))
}
