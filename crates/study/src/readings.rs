//! Readings: as read, and what they are at 20 °C, with how sure each is.

use asfound_measure::{
    Amount, Cause, Celsius, Dimension, MeterStatement, Ohms, Propagated, Uncertain, Unit, Written, at_20_for,
    drawn_at_20, read, rectangular, when_temperature_unknown,
};
use asfound_record::{Amount1, Item, Job, Quantity1, Reading1};

use crate::doubt::{Doubt, of_figure, of_temperature};

/// One reading as it can be used.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingStudied {
    /// The entry that began it: it keeps its name however often it is corrected.
    pub root: u64,
    /// The entry that stands.
    pub seq: u64,
    /// The part's id.
    pub part: String,
    /// The part's name; the id where the part is not known.
    pub name: String,
    /// The part's sort.
    pub sort: String,
    /// The place where it sat.
    pub place: String,
    /// `resistance`, `inductance` and so on.
    pub quantity: String,
    /// The text typed.
    pub text: String,
    /// What was shown, in the base unit; `None` where it is no number.
    pub shown: Option<Shown>,
    /// How it was given.
    pub amount: Amount1,
    /// The meter.
    pub meter: Option<String>,
    /// How it was taken.
    pub method: Option<String>,
    /// The text typed for the temperature, and the temperature.
    pub temperature: Option<(String, Celsius)>,
    /// What it is at 20 °C, for copper windings.
    pub at_20: Option<At20>,
    /// A doubt about the figure.
    pub doubt: Option<Doubt>,
    /// A doubt about the temperature.
    pub temperature_doubt: Option<Doubt>,
}

/// A number shown by a meter.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// In the base unit of its dimension.
    pub value: f64,
    /// One unit of the last digit shown.
    pub last_place: f64,
    /// Base unit.
    pub unit: Unit,
    /// Half-width from the meter's accuracy statement, in the base unit; `None` where that is not known, or where it is
    /// no reading in ohms: a meter states its accuracy for each kind of range, and the one kept is that for ohms.
    pub meter_half_width: Option<f64>,
}

/// What a copper winding's resistance is at 20 °C.
#[derive(Debug, Clone, PartialEq)]
pub enum At20 {
    /// With a temperature: value and uncertainty, with its working.
    Known(Propagated),
    /// Without one: the range for 15 to 25 °C.
    Between(Ohms, Ohms),
}

impl Shown {
    /// One digit of the meter. What was typed may be rounded by hand, `6M` for 6.03 MΩ; a meter of 200 counts or more
    /// shows at least a two hundredth. Common practice, no source.
    pub fn digit(&self) -> f64 {
        self.last_place.min(self.value.abs() / 200.0)
    }
}

/// How sure a thermometer in the room is taken to be: ±1 °C. Common practice, no source.
pub const TEMPERATURE_HALF_WIDTH: Celsius = Celsius(1.0);

/// Studies every standing reading, in the order in which they were kept.
pub fn study(job: &Job, workshop: &Job) -> Vec<ReadingStudied> {
    job.readings.iter().map(|item| one(job, workshop, item)).collect()
}

fn one(job: &Job, workshop: &Job, item: &Item<Reading1>) -> ReadingStudied {
    let body = &item.body;
    let part = job.part(&body.part).map(|part| &part.item.body);
    let written = from_wire(&body.shown);
    let statement = body.meter.as_ref().and_then(|id| statement_of(workshop, id));
    let shown = written.as_ref().and_then(|written| shown(written, statement.as_ref()));
    let temperature = body.temperature.as_ref().and_then(|typed| {
        let written = from_wire(typed)?;
        Some((typed.text.clone(), Celsius(written.value_in_base()?)))
    });
    let winding = part.is_some_and(|part| ["coil", "choke"].contains(&part.sort.as_str()));
    let exact = matches!(body.shown.amount, Amount1::Exactly { .. });
    let at_20 = (winding && exact && body.quantity == "resistance")
        .then(|| at_20(shown.as_ref()?, temperature.as_ref().map(|(_, celsius)| *celsius)))
        .flatten();
    let is_coil = part.is_some_and(|part| part.sort == "coil");
    ReadingStudied {
        root: item.root,
        seq: item.seq,
        part: body.part.clone(),
        name: part.map_or_else(|| body.part.clone(), |part| part.name.clone()),
        sort: part.map(|part| part.sort.clone()).unwrap_or_default(),
        place: body.place.clone(),
        quantity: body.quantity.clone(),
        text: body.shown.text.clone(),
        shown,
        amount: body.shown.amount.clone(),
        meter: body.meter.clone(),
        method: body.method.clone(),
        temperature,
        at_20,
        doubt: is_coil.then(|| of_figure(&body.quantity, written.as_ref()?)).flatten(),
        temperature_doubt: body.temperature.as_ref().and_then(|typed| of_temperature(&from_wire(typed)?)),
    }
}

/// How many draws an interval of a reading is taken from: enough for the two or three digits that are printed.
const DRAWS: usize = 20_000;
/// Their seed.
const SEED: u64 = 20_261_125;

/// Where a winding's resistance at 20 °C lies, 95 in 100, by drawing (JCGM 101); `None` where no temperature was taken,
/// or the meter's accuracy is not known.
pub fn drawn_95(reading: &ReadingStudied) -> Option<(Ohms, Ohms)> {
    let (Some(At20::Known(_)), Some(shown), Some((_, celsius))) =
        (&reading.at_20, &reading.shown, &reading.temperature)
    else {
        return None;
    };
    let half_widths = [Ohms(shown.meter_half_width?), Ohms(shown.last_place / 2.0)];
    let drawn =
        drawn_at_20(Ohms(shown.value), &half_widths, *celsius, TEMPERATURE_HALF_WIDTH, DRAWS, SEED).ok()?;
    let (low, high) = drawn.symmetric(0.95);
    Some((Ohms(low), Ohms(high)))
}

pub(crate) fn statement_of(workshop: &Job, meter: &str) -> Option<MeterStatement> {
    let known = workshop.meters.iter().rev().find(|item| item.body.meter == meter)?;
    MeterStatement::parse(known.body.accuracy.as_deref()?).ok()
}

fn shown(written: &Written, statement: Option<&MeterStatement>) -> Option<Shown> {
    let value = written.value_in_base()?;
    let last_place = written.last_place()?;
    Some(Shown {
        value,
        last_place,
        unit: written.dimension().base_unit(),
        meter_half_width: statement
            .filter(|_| written.dimension() == Dimension::Resistance)
            .map(|known| known.half_width(Ohms(value), Ohms(last_place)).0),
    })
}

fn at_20(shown: &Shown, temperature: Option<Celsius>) -> Option<At20> {
    let reading = Ohms(shown.value);
    let Some(celsius) = temperature else {
        let (low, high) = when_temperature_unknown(reading);
        return Some(At20::Between(low, high));
    };
    // Where the meter's statement is not known, only its last digit is in the sum, and the words say so.
    let meter = shown.meter_half_width.unwrap_or(0.0);
    let causes = [
        Cause { name: "the meter", standard_uncertainty: Ohms(rectangular(meter)) },
        Cause { name: "its last digit", standard_uncertainty: Ohms(rectangular(shown.last_place / 2.0)) },
    ];
    let air = Uncertain::rectangular(celsius, TEMPERATURE_HALF_WIDTH);
    at_20_for(reading, &causes, air).ok().map(At20::Known)
}

/// The wire form read back: the typed text where it still reads so, else the kept decimal with its unit.
pub fn from_wire(kept: &Quantity1) -> Option<Written> {
    let unit = Unit::from_ucum(&kept.unit)?;
    if let Ok(written) = read(&kept.text, unit.dimension())
        && written.unit == unit
    {
        return Some(written);
    }
    // A later release may read the text in another way; what was understood then is what counts.
    let amount = match &kept.amount {
        Amount1::Exactly { decimal } => Amount::Exactly(decimal.parse().ok()?),
        Amount1::Over { decimal } => Amount::Over(decimal.parse().ok()?),
        Amount1::Under { decimal } => Amount::Under(decimal.parse().ok()?),
        Amount1::OverRange => Amount::OverRange,
        Amount1::NotMeasured => Amount::NotMeasured,
        Amount1::CannotTell => Amount::CannotTell,
    };
    Some(Written { text: kept.text.clone(), amount, unit, denominator: None })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_understood_outlives_the_spelling() {
        let amount = Amount1::Exactly { decimal: "6.31".to_owned() };
        let kept = Quantity1 { text: "six thousand odd".to_owned(), amount, unit: "kOhm".to_owned() };
        let written = from_wire(&kept).expect("a kept decimal is enough");
        assert_eq!(written.value_in_base(), Some(6310.0));
        assert_eq!(written.text, "six thousand odd");
    }
}
