//! Two readings compared: are they different, and would a difference of temperature alone explain it?
//!
//! Both are referred to 20 °C, and the difference is judged by its own uncertainty (JCGM 100:2008, 5.2): readings of one
//! meter on one range share its gain error, so their difference is surer than either. What is not known (a temperature,
//! a meter's accuracy, the range) is gone over in its possibilities, and a verdict is given where it holds in all of
//! them. Where a temperature was not taken, the difference of temperature that alone would explain the readings comes
//! before any other explanation. `Different` says only that: not what was done to a coil, nor whether it is original.

use asfound_measure::{
    Amount, Cause, Celsius, Contribution, CopperError, Correlation, Decimal, MeterStatement, Ohms,
    Propagated, UNKNOWN_ROOM, Uncertain, at_20_for, combine, implied_temperature, question_temperature,
    rectangular,
};
use asfound_record::{Amount1, Job, Quantity1};

use crate::readings::{ReadingStudied, TEMPERATURE_HALF_WIDTH, from_wire, statement_of, study};

/// Where a coil can have lain when it was read: a van, an attic, a bench in winter. Common practice, no source.
pub const SOMEWHERE: (Celsius, Celsius) = (Celsius(-15.0), Celsius(45.0));

/// Worse than a hand-held meter in order is on its ohm ranges: ±(3 % + 5 digits). Common practice, no source.
pub(crate) const POOR_METER: MeterStatement =
    MeterStatement { percent: Decimal { mantissa: 3, exponent: 0 }, digits: 5 };
/// What no meter is better than.
const PERFECT_METER: MeterStatement =
    MeterStatement { percent: Decimal { mantissa: 0, exponent: 0 }, digits: 0 };
/// Differences beyond this many standard uncertainties are called different: about one in twenty would be by chance
/// (JCGM 100, 6.3.3).
const COVERAGE: f64 = 2.0;

/// One of the two readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// The entry that began it.
    pub root: u64,
    /// The entry that stands.
    pub seq: u64,
    /// The part's id.
    pub part: String,
    /// The part's name.
    pub name: String,
    /// The text typed.
    pub text: String,
    /// As read.
    pub reading: Ohms,
    /// One unit of the last digit typed.
    pub last_place: Ohms,
    /// The meter's id.
    pub meter: Option<String>,
    /// Its accuracy statement, where the workshop knows it.
    pub statement: Option<MeterStatement>,
    /// The range it stood on, in words.
    pub range: Option<String>,
    /// The temperature taken with it. One that no coil is read at ([`question_temperature`]) counts as not taken: which
    /// scale was meant is then not known.
    pub temperature: Option<Celsius>,
    /// Whether other things lay across the coil: in circuit, or at the jack.
    pub in_circuit: bool,
}

/// Whose readings they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// Two readings of one part.
    OnePart,
    /// Readings of two parts.
    TwoParts,
}

/// Which temperatures were taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Temperatures {
    /// Both.
    Taken,
    /// Only one of them.
    OneMissing,
    /// Neither.
    BothMissing,
}

/// Whether both readings share a meter's gain error.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gain {
    /// One meter, on one range.
    Shared,
    /// Two meters, or two ranges of one.
    Apart,
    /// It was not said; both possibilities are gone over.
    NotKnown,
}

/// A place where a coil would have had the temperature that alone explains the readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// A workshop, 15 °C to 25 °C.
    Workshop,
    /// Out of doors, in a van or an attic: [`SOMEWHERE`].
    Outside,
    /// Nowhere that a coil is read.
    Nowhere,
}

/// The temperature that alone would explain two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TemperatureAlone {
    /// How much warmer the second would have been than the first, with its standard uncertainty; kelvins.
    pub warmer: Uncertain<Celsius>,
    /// The second's temperature, if the first was at the one taken, or at 20 °C where none was. `None` where the
    /// second's own was taken, or beyond −40 °C to 150 °C.
    pub second_at: Option<Celsius>,
    /// The first's temperature, if the second was at the one taken, or at 20 °C where none was. `None` likewise.
    pub first_at: Option<Celsius>,
    /// Where that is.
    pub place: Place,
}

/// Why it cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Because {
    /// A meter's accuracy is not known: a good one would make them different, a poor one would not.
    MeterNotKnown,
    /// It is not known whether both were read on one range: on one they are different, on two they need not be.
    RangeNotKnown,
    /// One was read in circuit or at the jack, with other things across the coil.
    InCircuit,
}

/// What can be said of two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// They agree within what their uncertainties allow. Where a temperature is missing: if both had the same.
    NotDifferent,
    /// They differ by more than their uncertainties, and no missing temperature explains it. Not more than that.
    Different,
    /// They agree only if the temperatures were so.
    OnlyIfTemperature {
        /// The temperature that alone would explain it.
        alone: TemperatureAlone,
        /// The meter might explain it as well: its accuracy, or whether both were on one range, is not known.
        or_meter: bool,
    },
    /// Not decided, and why.
    CannotTell(Because),
}

/// Two readings of copper windings, compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// The one named first.
    pub first: Side,
    /// The other.
    pub second: Side,
    /// Whose they are.
    pub of: Of,
    /// Which temperatures were taken.
    pub temperatures: Temperatures,
    /// Whether the meter's gain error is shared.
    pub gain: Gain,
    /// The second less the first at 20 °C, with its working. A missing temperature is taken as the other one, or both as
    /// 20 °C; a meter that is not known as exact; a gain that may be shared as not shared.
    pub at_20: Propagated,
    /// Least and most standard uncertainty of the difference, over what is not known of the meters.
    pub uncertainty: (Ohms, Ohms),
    /// Least and most of the second less the first at 20 °C, each missing temperature going from 15 °C to 25 °C. Without
    /// the meters' part. `None` where both were taken.
    pub over_the_room: Option<(Ohms, Ohms)>,
    /// The temperature that alone would explain it, where one is missing.
    pub alone: Option<TemperatureAlone>,
    /// Acts on the part kept between the two readings, where both are of one part.
    pub acts_between: Vec<u64>,
    /// What can be said.
    pub verdict: Verdict,
}

/// Why two readings were not compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotCompared {
    /// There is no standing reading that this entry began.
    NoSuchReading(u64),
    /// It is no resistance of a coil or choke.
    NotAWinding(u64),
    /// It is a bound, over range, or not measured: no value.
    NoValue(u64),
    /// Both are the same reading.
    SameReading(u64),
    /// Its ohms, or its temperature, are none that a coil has.
    Odd(u64, CopperError),
}

/// Compares two standing readings of a job, named by the entries that began them.
///
/// # Errors
/// [`NotCompared`], naming the reading that stands in the way.
pub fn between(job: &Job, workshop: &Job, first: u64, second: u64) -> Result<Difference, NotCompared> {
    let studied = study(job, workshop);
    let of = |root: u64| {
        let found = studied.iter().find(|reading| reading.root == root);
        side(job, workshop, found.ok_or(NotCompared::NoSuchReading(root))?)
    };
    compare(job, of(first)?, of(second)?)
}

/// Every reading of a winding beside the next one of the same part, in the order in which they were kept. What cannot
/// be compared is passed over.
pub fn within_parts(job: &Job, workshop: &Job) -> Vec<Difference> {
    let sides: Vec<Side> =
        study(job, workshop).iter().filter_map(|reading| side(job, workshop, reading).ok()).collect();
    let mut compared = Vec::new();
    for (place, second) in sides.iter().enumerate() {
        let earlier = sides[..place].iter().rev().find(|first| first.part == second.part);
        if let Some(first) = earlier
            && let Ok(difference) = compare(job, first.clone(), second.clone())
        {
            compared.push(difference);
        }
    }
    compared
}

fn side(job: &Job, workshop: &Job, reading: &ReadingStudied) -> Result<Side, NotCompared> {
    let root = reading.root;
    let winding = ["coil", "choke"].contains(&reading.sort.as_str()) && reading.quantity == "resistance";
    if !winding {
        return Err(NotCompared::NotAWinding(root));
    }
    let exact = matches!(reading.amount, Amount1::Exactly { .. });
    let shown = reading.shown.as_ref().filter(|_| exact).ok_or(NotCompared::NoValue(root))?;
    if shown.value <= 0.0 {
        return Err(NotCompared::Odd(root, CopperError::Resistance(shown.value)));
    }
    let kept = job.readings.iter().find(|item| item.root == root);
    let method = reading.method.as_deref().unwrap_or_default();
    Ok(Side {
        root,
        seq: reading.seq,
        part: reading.part.clone(),
        name: reading.name.clone(),
        text: reading.text.clone(),
        reading: Ohms(shown.value),
        last_place: Ohms(shown.last_place),
        meter: reading.meter.clone(),
        statement: reading.meter.as_ref().and_then(|id| statement_of(workshop, id)),
        range: kept.and_then(|item| item.body.range.clone()),
        temperature: kept.and_then(|item| taken(item.body.temperature.as_ref()?)),
        in_circuit: method.starts_with("in circuit") || method.starts_with("at the jack"),
    })
}

fn taken(typed: &Quantity1) -> Option<Celsius> {
    let written = from_wire(typed)?;
    let exact = matches!(written.amount, Amount::Exactly(_)) && question_temperature(&written).is_none();
    exact.then(|| written.value_in_base().map(Celsius)).flatten()
}

fn compare(job: &Job, first: Side, second: Side) -> Result<Difference, NotCompared> {
    if first.root == second.root {
        return Err(NotCompared::SameReading(first.root));
    }
    let of = if first.part == second.part { Of::OnePart } else { Of::TwoParts };
    let gain = gain(&first, &second);
    let pair = Pair { first: &first, second: &second, of };
    let temperatures = match (first.temperature, second.temperature) {
        (Some(_), Some(_)) => Temperatures::Taken,
        (None, None) => Temperatures::BothMissing,
        _ => Temperatures::OneMissing,
    };
    let at_20 = pair.worked(stated(&first), stated(&second), gain == Gain::Shared)?;
    let uncertainty = pair.least_and_most(gain)?;
    let over_the_room = match temperatures {
        Temperatures::Taken => None,
        _ => Some(pair.over_the_room()?),
    };
    let alone = match temperatures {
        Temperatures::Taken => None,
        _ => Some(pair.alone(uncertainty.1)),
    };
    let acts_between = if of == Of::OnePart { acts_between(job, &first, &second) } else { Vec::new() };
    let mut difference = Difference {
        of,
        temperatures,
        gain,
        at_20,
        uncertainty,
        over_the_room,
        alone,
        acts_between,
        verdict: Verdict::NotDifferent,
        first,
        second,
    };
    difference.verdict = verdict(&difference);
    Ok(difference)
}

fn verdict(of: &Difference) -> Verdict {
    if of.first.in_circuit || of.second.in_circuit {
        return Verdict::CannotTell(Because::InCircuit);
    }
    let apart = of.at_20.value.abs();
    let (least, most) = (COVERAGE * of.uncertainty.0.0, COVERAGE * of.uncertainty.1.0);
    let agrees = apart <= least;
    if agrees && may_be_equally_warm(of) {
        return Verdict::NotDifferent;
    }
    if let Some(alone) = of.alone.filter(|alone| alone.place != Place::Nowhere) {
        return Verdict::OnlyIfTemperature { alone, or_meter: !agrees && apart <= most };
    }
    if apart > most {
        return Verdict::Different;
    }
    let known = of.first.statement.is_some() && of.second.statement.is_some();
    Verdict::CannotTell(if known { Because::RangeNotKnown } else { Because::MeterNotKnown })
}

/// Whether the difference was worked out at temperatures that were taken, or at one that an unwritten room can have.
fn may_be_equally_warm(of: &Difference) -> bool {
    match (of.first.temperature, of.second.temperature) {
        (Some(_), Some(_)) | (None, None) => true,
        (Some(taken), None) | (None, Some(taken)) => is_in(UNKNOWN_ROOM, taken, 0.0),
    }
}

fn is_in((cold, warm): (Celsius, Celsius), temperature: Celsius, margin: f64) -> bool {
    temperature.0 >= cold.0 - margin && temperature.0 <= warm.0 + margin
}

fn gain(first: &Side, second: &Side) -> Gain {
    let differ = |a: &Option<String>, b: &Option<String>| a.is_some() && b.is_some() && a != b;
    if differ(&first.meter, &second.meter) || differ(&first.range, &second.range) {
        Gain::Apart
    } else if first.meter.is_some()
        && first.meter == second.meter
        && first.range.is_some()
        && second.range.is_some()
    {
        Gain::Shared
    } else {
        Gain::NotKnown
    }
}

fn stated(side: &Side) -> MeterStatement {
    side.statement.unwrap_or(PERFECT_METER)
}

fn acts_between(job: &Job, first: &Side, second: &Side) -> Vec<u64> {
    let between = first.seq.min(second.seq)..first.seq.max(second.seq);
    let acts = job.part(&first.part).map(|part| part.acts.as_slice()).unwrap_or_default();
    acts.iter().map(|place| job.acts[*place].seq).filter(|seq| between.contains(seq)).collect()
}

/// Two readings on their way to 20 °C.
struct Pair<'a> {
    first: &'a Side,
    second: &'a Side,
    of: Of,
}

impl Pair<'_> {
    /// The second less the first at 20 °C by these meters. A missing temperature is taken as the other.
    fn worked(
        &self,
        first_meter: MeterStatement,
        second_meter: MeterStatement,
        gain_shared: bool,
    ) -> Result<Propagated, NotCompared> {
        let taken = self.first.temperature.or(self.second.temperature);
        let air = taken.map_or(Uncertain::new(Celsius(20.0), Celsius(0.0)), thermometer);
        let first = at_20(self.first, first_meter, self.first.temperature.map_or(air, thermometer))?;
        let second = at_20(self.second, second_meter, self.second.temperature.map_or(air, thermometer))?;
        let equally_warm = self.first.temperature.is_none() || self.second.temperature.is_none();
        let shares = [gain_shared, false, false, equally_warm, self.of == Of::OnePart];
        Ok(less(&second, &first, shares))
    }

    /// The least and the most standard uncertainty over what may be so of the meters.
    fn least_and_most(&self, gain: Gain) -> Result<(Ohms, Ohms), NotCompared> {
        let meters = |side: &Side| match side.statement {
            Some(statement) => vec![statement],
            None => vec![PERFECT_METER, POOR_METER],
        };
        let shared = match gain {
            Gain::Shared => vec![true],
            Gain::Apart => vec![false],
            Gain::NotKnown => vec![true, false],
        };
        let mut found: Vec<f64> = Vec::new();
        for first in meters(self.first) {
            for second in meters(self.second) {
                for shared in &shared {
                    found.push(self.worked(first, second, *shared)?.standard_uncertainty);
                }
            }
        }
        let least = found.iter().copied().fold(f64::INFINITY, f64::min);
        Ok((Ohms(least), Ohms(found.iter().copied().fold(0.0, f64::max))))
    }

    fn over_the_room(&self) -> Result<(Ohms, Ohms), NotCompared> {
        let ends = |side: &Side| -> Result<(f64, f64), NotCompared> {
            let at = |room: Celsius| {
                let air = Uncertain::new(side.temperature.unwrap_or(room), Celsius(0.0));
                at_20(side, PERFECT_METER, air).map(|worked| worked.value)
            };
            Ok((at(UNKNOWN_ROOM.1)?, at(UNKNOWN_ROOM.0)?))
        };
        let (first, second) = (ends(self.first)?, ends(self.second)?);
        Ok((Ohms(second.0 - first.1), Ohms(second.1 - first.0)))
    }

    fn alone(&self, uncertainty: Ohms) -> TemperatureAlone {
        let (first, second) = (self.first, self.second);
        let room = Celsius(20.0);
        let from_first = first.temperature.or(second.temperature.is_none().then_some(room));
        let from_second = second.temperature.or(first.temperature.is_none().then_some(room));
        let implied = |from: &Side, at: Option<Celsius>, to: &Side, more: f64| {
            implied_temperature(from.reading, at?, to.reading + Ohms(more)).ok()
        };
        let second_at = implied(first, from_first, second, 0.0);
        let first_at = implied(second, from_second, first, 0.0);
        let spread = |at: Option<Celsius>, moved: Option<Celsius>| match (at, moved) {
            (Some(at), Some(moved)) => (moved.0 - at.0).abs(),
            _ => 0.0,
        };
        let u = spread(second_at, implied(first, from_first, second, -uncertainty.0))
            .max(spread(first_at, implied(second, from_second, first, -uncertainty.0)));
        let warmer = match (from_first, second_at, from_second, first_at) {
            (Some(first), Some(second), ..) | (_, _, Some(second), Some(first)) => second.0 - first.0,
            // Beyond all that copper is read at: warmer or colder without end.
            _ => f64::INFINITY.copysign(second.reading.0 - first.reading.0),
        };
        let warmer = Uncertain::new(Celsius(warmer), Celsius(u));
        TemperatureAlone { warmer, second_at, first_at, place: self.place(&warmer, [second_at, first_at]) }
    }

    /// By the best estimate where it lies in a workshop or out of doors; nowhere only if it lies there with all of its
    /// uncertainty.
    fn place(&self, warmer: &Uncertain<Celsius>, temperatures: [Option<Celsius>; 2]) -> Place {
        let margin = COVERAGE * warmer.standard_uncertainty.0;
        let both_missing = self.first.temperature.is_none() && self.second.temperature.is_none();
        let any_in = |room, margin| temperatures.into_iter().flatten().any(|at| is_in(room, at, margin));
        // Of two unwritten temperatures, each may be at either end of the room.
        let width = UNKNOWN_ROOM.1.0 - UNKNOWN_ROOM.0.0;
        if any_in(UNKNOWN_ROOM, 0.0) || both_missing && warmer.value.0.abs() <= width {
            Place::Workshop
        } else if any_in(SOMEWHERE, margin) {
            Place::Outside
        } else {
            Place::Nowhere
        }
    }
}

fn thermometer(celsius: Celsius) -> Uncertain<Celsius> {
    Uncertain::rectangular(celsius, TEMPERATURE_HALF_WIDTH)
}

/// One side at 20 °C. Its contributions: gain, digits, last digit, temperature, coefficient of copper.
fn at_20(side: &Side, meter: MeterStatement, air: Uncertain<Celsius>) -> Result<Propagated, NotCompared> {
    let of = |meter: MeterStatement| meter.standard_uncertainty(side.reading, side.last_place);
    let causes = [
        Cause { name: "the meter's gain", standard_uncertainty: of(MeterStatement { digits: 0, ..meter }) },
        Cause {
            name: "the meter's digits",
            standard_uncertainty: of(MeterStatement { percent: PERFECT_METER.percent, ..meter }),
        },
        Cause { name: "its last digit", standard_uncertainty: Ohms(rectangular(side.last_place.0 / 2.0)) },
    ];
    at_20_for(side.reading, &causes, air).map_err(|error| NotCompared::Odd(side.root, error))
}

/// `second − first`; contributions of one place in both lists are the same influence where `shares` says so.
fn less(second: &Propagated, first: &Propagated, shares: [bool; 5]) -> Propagated {
    let turned =
        first.contributions.iter().map(|part| Contribution { sensitivity: -part.sensitivity, ..*part });
    let contributions: Vec<Contribution> = second.contributions.iter().copied().chain(turned).collect();
    let (each, all) = (shares.len(), contributions.len());
    let row = |i: usize| {
        let together = |j: usize| i == j || i % each == j % each && shares[i % each];
        (0..all).map(|j| if together(j) { 1.0 } else { 0.0 }).collect()
    };
    let correlation = Correlation::new((0..all).map(row).collect());
    let value = second.value - first.value;
    // Influences shared wholly or not at all cannot contradict one another. If ever they did, nothing would be sure.
    combine(value, contributions, correlation.ok().as_ref()).unwrap_or(Propagated {
        value,
        standard_uncertainty: f64::INFINITY,
        contributions: Vec::new(),
    })
}
