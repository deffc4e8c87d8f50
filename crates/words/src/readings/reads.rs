//! One reading of a coil in words: as read, at 20 °C, and how sure.

use asfound_measure::{Ohms, engineering, show_expanded};
use asfound_study::readings::{At20, ReadingStudied, Shown, TEMPERATURE_HALF_WIDTH, drawn_95};
use asfound_study::record::Amount1;

use crate::lists::capital;
use crate::sheet::{Rest, Step, Told};

/// `6.53 kΩ ± 0.10 kΩ at 20 °C`, or the range where no temperature was taken. Where the meter's accuracy is not known no
/// ± is printed: one of the other causes alone would look surer than a reading with a known meter.
pub(super) fn at_20_words(reading: &ReadingStudied, at_20: &At20) -> String {
    match at_20 {
        At20::Known(worked) if !meter_known(reading) => {
            format!("{} at 20 °C", engineering(worked.value, 3, Ohms::SYMBOL))
        }
        At20::Known(worked) => format!("{} at 20 °C", show_expanded(worked.of::<Ohms>())),
        At20::Between(low, high) => format!(
            "{} to {} at 20 °C, for a room of 15 to 25 °C",
            engineering(low.0, 3, Ohms::SYMBOL),
            engineering(high.0, 3, Ohms::SYMBOL)
        ),
    }
}

pub(super) fn meter_known(reading: &ReadingStudied) -> bool {
    reading.shown.as_ref().is_some_and(|shown| shown.meter_half_width.is_some())
}

pub(super) fn rests(reading: &ReadingStudied) -> Vec<Rest> {
    vec![Rest::on(reading.seq)]
}

/// One coil's resistance as a finding.
pub(super) fn coil(reading: &ReadingStudied) -> Option<Told> {
    if reading.quantity != "resistance" || reading.doubt.is_some() {
        return None;
    }
    let name = capital(&reading.name);
    match (&reading.amount, &reading.at_20) {
        (Amount1::Exactly { .. }, Some(at_20)) => Some(number(&name, reading, at_20)),
        (Amount1::OverRange | Amount1::Over { .. }, _) => Some(over(reading, &name)),
        (Amount1::NotMeasured, _) => Some(Told {
            id: format!("coil-{}", reading.root),
            sentence: format!("{name}: not measured."),
            sure: "Nothing follows from that, either way.".into(),
            rests_on: rests(reading),
            ..Told::default()
        }),
        (Amount1::CannotTell, _) => Some(Told {
            id: format!("coil-{}", reading.root),
            sentence: format!("{name}: the meter could not tell."),
            sure: "Readings that wander come from a poor joint, a warm hand, or hum picked up by the coil."
                .into(),
            rests_on: rests(reading),
            ..Told::default()
        }),
        _ => None,
    }
}

fn number(name: &str, reading: &ReadingStudied, at_20: &At20) -> Told {
    let (sure, step) = match at_20 {
        At20::Known(_) => known_at_20(reading),
        At20::Between(..) => (
            format!("As read: {}, with no temperature taken; copper gains 0.39 % a degree.", reading.text),
            Some(Step {
                id: format!("temperature-{}", reading.root),
                words: format!("Read the {} again with the temperature beside it.", reading.name),
                why: "From 15 to 25 °C is four per cent: more than most meters are wrong by.".into(),
                ..Step::default()
            }),
        ),
    };
    Told {
        id: format!("coil-{}", reading.root),
        sentence: format!("{name} reads {}.", at_20_words(reading, at_20)),
        sure,
        next: step.into_iter().collect(),
        rests_on: rests(reading),
        working: working(reading, at_20),
        assumptions: assumptions(reading),
        would_change: vec![
            "A reading in circuit, or while the coil is warm from the hand or the iron.".into(),
            "Ohms say how much wire there is; not how loud the coil is, nor whether it is original.".into(),
        ],
        ..Told::default()
    }
}

/// How sure a reading with a temperature is, and what would make it surer.
fn known_at_20(reading: &ReadingStudied) -> (String, Option<Step>) {
    let at = reading.temperature.as_ref().map(|(text, _)| format!(" at {text}")).unwrap_or_default();
    let as_read = format!("As read: {}{at}.", reading.text);
    if meter_known(reading) {
        return (format!("{as_read} About nineteen times in twenty it lies within the ±."), None);
    }
    let words = match &reading.meter {
        Some(meter) => format!("Copy the accuracy statement of meter {meter} from its leaflet."),
        None => format!("Say which meter read the {}, with its accuracy statement.", reading.name),
    };
    let step = Step {
        id: format!("meter-{}", reading.root),
        words,
        why: "Without it nobody can say how sure the figure is.".into(),
        ..Step::default()
    };
    (format!("{as_read} How sure cannot be said: the meter's accuracy is not known."), Some(step))
}

fn working(reading: &ReadingStudied, at_20: &At20) -> Vec<String> {
    match at_20 {
        At20::Known(_) if !meter_known(reading) => {
            vec!["R₂₀ = R / (1 + α (t − 20 °C)), α = 0.00393 per kelvin for copper (IEC 60028).".into()]
        }
        At20::Known(worked) => {
            let shares: Vec<String> = worked
                .contributions
                .iter()
                .map(|share| format!("{} {}", share.input.name, engineering(share.in_result().abs(), 2, Ohms::SYMBOL)))
                .collect();
            let drawn = drawn_95(reading).map(|(low, high)| {
                let ends = [low, high].map(|end| engineering(end.0, 4, Ohms::SYMBOL));
                format!("Drawn from the meter's statement, its last digit, the temperature and the coefficient, each even between its limits, 95 in 100 lie from {} to {} (JCGM 101).", ends[0], ends[1])
            });
            let worked = [
                "R₂₀ = R / (1 + α (t − 20 °C)), α = 0.00393 per kelvin for copper (IEC 60028).".to_owned(),
                format!("Standard uncertainty from {} (JCGM 100, 5.1.2); the ± is twice the root of the sum of their squares, which covers about 95 % (6.2.1).", shares.join(", ")),
            ];
            worked.into_iter().chain(drawn).collect()
        }
        At20::Between(..) => vec![
            "R₂₀ = R / (1 + α (t − 20 °C)), α = 0.00393 per kelvin for copper (IEC 60028), for t from 15 to 25 °C.".into(),
        ],
    }
}

fn assumptions(reading: &ReadingStudied) -> Vec<String> {
    let mut assumptions = vec!["The winding is copper.".to_owned()];
    if reading.temperature.is_some() {
        let half = TEMPERATURE_HALF_WIDTH.0;
        assumptions
            .push(format!("The temperature is right to ±{half} °C, and the coil has taken the room's."));
    }
    match &reading.shown {
        Some(Shown { meter_half_width: None, .. }) => {
            assumptions.push("The meter's accuracy is not known, so no ± is given.".into());
        }
        Some(Shown { meter_half_width: Some(_), .. }) => {
            assumptions.push("The meter keeps its accuracy statement.".into());
        }
        None => {}
    }
    if reading.method.is_none() {
        assumptions.push(
            "It was taken at the coil's own joints, with nothing else across it: how was not said.".into(),
        );
    }
    assumptions
}

fn over(reading: &ReadingStudied, name: &str) -> Told {
    let bound = match &reading.amount {
        Amount1::Over { .. } => format!("reads {}", reading.text),
        _ => "is over the meter's range".to_owned(),
    };
    Told {
        id: format!("coil-{}", reading.root),
        sentence: format!("{name} {bound}: that is a bound, not a value."),
        sure: "A higher range tells whether it is only large, or open.".into(),
        next: vec![Step {
            id: format!("range-{}", reading.root),
            words: format!(
                "Read the {} on a higher range; if megohms show, reflow the joints at the coil's own flatwork, not at the pots.",
                reading.name
            ),
            why: "A poor joint is the first suspect, and the coil's own joint spares the old ones (common practice, no source).".into(),
            caution: "Solder fumes and old lead: extract, wash hands. Heat near old plastic and insulation: brief, shielded.".into(),
            ..Step::default()
        }],
        rests_on: rests(reading),
        ..Told::default()
    }
}
