//! Readings in words: raw beside corrected, each coil weighed, what the jack says, and what is still missing.

mod coil;
mod coil_words;
mod difference;
mod halves;
mod held;
mod jack;
mod polarity;
mod position;
mod reads;
mod sweep;
mod touches;
mod usual;

use asfound_measure::{Ohms, engineering, show_expanded};
use asfound_study::coils::{self, CoilStudied};
use asfound_study::difference::{Difference, Verdict, between, within_parts};
use asfound_study::material::Material;
use asfound_study::readings::{At20, ReadingStudied, study};
use asfound_study::record::{Amount1, Body};
use asfound_study::said::kindred::kindred;
use asfound_study::{
    Job, jack as jacks, parts, polarity as polarities, position as positions, sweeps, touches as touched,
};

use crate::sheet::{Sheet, Step, Table, Told};
use crate::{cautions, entry, line};
use reads::{at_20_words, meter_known, rests};

/// The sheet of the page Readings.
pub(crate) fn sheet(material: &Material) -> Sheet {
    let (job, workshop) = (&*material.job, &*material.workshop);
    let studied = study(job, workshop);
    let mut sheet = Sheet::default();
    for (item, studied) in job.readings.iter().zip(&studied) {
        let mut line = entry::line(item, Body::Reading, job);
        if let Some(at_20) = studied.at_20.as_ref().filter(|_| !at_the_jack(studied)) {
            line.detail = format!("{}; {}", line.detail, at_20_words(studied, at_20));
        }
        sheet.found.push(line);
    }
    sheet.found.extend(job.sweeps.iter().map(|item| entry::line(item, Body::Sweep, job)));
    sheet.found = entry::in_order(sheet.found.into_iter().map(|line| (line.seq, line)).collect());
    sheet.cautions.push(cautions::metering(job).into());
    sheet.means.extend(studied.iter().filter_map(questioned));
    sheet.means.extend(studied.iter().filter_map(odd_temperature));
    let coils = coils::study(job, workshop, &material.past, &material.before.coils);
    let doubts = sheet.means.len();
    sheet.means.extend(of_coils(job, &studied, &coils));
    sheet.means.extend(halves::halves(&studied));
    sheet.means.extend(differences(job, workshop, &coils).iter().map(difference::difference));
    let swept = sweeps::study(job, &material.sweeps, &material.before.sweeps);
    sheet.means.extend(swept.iter().map(sweep::sweep));
    let placed = positions::study(job, &studied, |part| kindred(job, part).construction);
    sheet.means.extend(placed.as_ref().map(position::position));
    let at_jack = jacks::study(job, workshop, &studied, &material.before.jack);
    let should_show = jacks::should_show(job, &studied, at_jack.as_ref());
    match &at_jack {
        // A reading that disagrees is the weightiest finding there is; else the coils come first.
        Some(at_jack) if at_jack.disagrees() => {
            sheet.means.splice(doubts..doubts, jack::jack(at_jack, &should_show));
        }
        Some(at_jack) => sheet.means.extend(jack::jack(at_jack, &should_show)),
        None if !should_show.is_empty() => sheet.means.push(jack::to_check(&should_show)),
        None => {}
    }
    sheet.means.extend(touched::study(job, &studied).as_ref().map(touches::touches));
    let polarity = polarities::study(job, &studied);
    sheet.means.extend(polarity.iter().flat_map(polarity::polarity));
    sheet.means.push(all(&studied));
    if !coils.is_empty() {
        sheet.means.push(held::held(workshop));
    }
    sheet.next = missing(job);
    sheet
}

fn at_the_jack(reading: &ReadingStudied) -> bool {
    reading.method.as_deref().is_some_and(|method| method.starts_with("at the jack"))
}

/// One finding for each coil, in the order in which the coils were named: its latest reading, and what all that was
/// found on it comes to.
fn of_coils(job: &Job, readings: &[ReadingStudied], coils: &[CoilStudied]) -> Vec<Told> {
    let of_part = |part: &str| {
        let latest = readings.iter().rev().find(|reading| {
            reading.part == part && reading.quantity == "resistance" && !at_the_jack(reading)
        });
        let weighed = coils.iter().find(|coil| coil.part == part);
        // A coil whose reading has a value is told by that one; a bound after it stands in the table.
        let told_by = weighed.and_then(|coil| coil.reading).map(|at| &readings[at]).or(latest);
        let reads = told_by.and_then(reads::coil);
        match weighed {
            Some(coil) => coil::coil(coil, told_by, reads),
            None => reads,
        }
    };
    let coils = job.parts.iter().filter(|part| part.item.body.sort == "coil");
    coils.filter_map(|part| of_part(&part.item.body.part)).collect()
}

/// Readings of one coil that do not agree, and coils of one kind that differ.
fn differences(job: &Job, workshop: &Job, coils: &[CoilStudied]) -> Vec<Difference> {
    let mut told: Vec<Difference> = within_parts(job, workshop);
    let readings = study(job, workshop);
    let coils: Vec<&CoilStudied> = coils.iter().filter(|coil| !coil::is_open(coil)).collect();
    for (at, first) in coils.iter().enumerate() {
        for second in &coils[at + 1..] {
            let alike =
                first.found.construction.is_some() && first.found.construction == second.found.construction;
            if alike
                && let (Some(a), Some(b)) = (first.reading, second.reading)
                && let Ok(difference) = between(job, workshop, readings[a].root, readings[b].root)
            {
                told.push(difference);
            }
        }
    }
    // A broken coil differs from everything, itself before included, and that says nothing.
    told.retain(|it| {
        let sound = |part: &str| coils.iter().any(|coil| coil.part == part);
        it.verdict != Verdict::NotDifferent && sound(&it.first.part) && sound(&it.second.part)
    });
    told
}

fn questioned(reading: &ReadingStudied) -> Option<Told> {
    let doubt = reading.doubt.as_ref()?;
    Some(Told {
        id: format!("question-{}", reading.root),
        sentence: format!("The {} was typed as {}; that is odd for a coil.", reading.name, reading.text),
        sure: line::doubt(doubt),
        next: vec![Step {
            id: format!("reread-{}", reading.root),
            words: format!("Read the {} again, with the range and its unit in view.", reading.name),
            why: "One reading settles whether the unit slipped.".into(),
            ..Step::default()
        }],
        rests_on: rests(reading),
        ..Told::default()
    })
}

/// A temperature at which no bench is: most likely the unit slipped.
fn odd_temperature(reading: &ReadingStudied) -> Option<Told> {
    let doubt = reading.temperature_doubt.as_ref()?;
    let (text, _) = reading.temperature.as_ref()?;
    Some(Told {
        id: format!("temperature-of-{}", reading.root),
        sentence: format!("The {} was typed with a temperature of {text}.", reading.name),
        sure: format!("{} It is reckoned with as typed.", line::doubt(doubt)),
        rests_on: rests(reading),
        ..Told::default()
    })
}

fn all(studied: &[ReadingStudied]) -> Told {
    let mut table =
        Table::with("As read, and at 20 °C", &["part", "#as read", "at", "how", "meter", "#at 20 °C"]);
    table.rows = studied
        .iter()
        .map(|reading| {
            vec![
                // Ohms are what most readings are; any other quantity is named.
                if reading.quantity == "resistance" {
                    reading.name.clone()
                } else {
                    format!("{}, {}", reading.name, reading.quantity)
                },
                match reading.amount {
                    Amount1::NotMeasured => "not measured".to_owned(),
                    Amount1::CannotTell => "cannot tell".to_owned(),
                    Amount1::OverRange => "over range".to_owned(),
                    _ => reading.text.clone(),
                },
                reading.temperature.as_ref().map_or_else(|| "not taken".to_owned(), |(text, _)| text.clone()),
                reading.method.clone().unwrap_or_else(|| "not said".to_owned()),
                reading.meter.clone().unwrap_or_else(|| "not said".to_owned()),
                match reading.at_20.as_ref().filter(|_| !at_the_jack(reading)) {
                    Some(At20::Known(worked)) if !meter_known(reading) => {
                        engineering(worked.value, 3, Ohms::SYMBOL)
                    }
                    Some(At20::Known(worked)) => show_expanded(worked.of::<Ohms>()),
                    Some(At20::Between(low, high)) => {
                        format!(
                            "{} – {}",
                            engineering(low.0, 3, Ohms::SYMBOL),
                            engineering(high.0, 3, Ohms::SYMBOL)
                        )
                    }
                    None => String::new(),
                },
            ]
        })
        .collect();
    let sentence = match studied.len() {
        0 => "Nothing is metered yet.".to_owned(),
        1 => "One reading stands.".to_owned(),
        several => format!("{several} readings stand."),
    };
    Told {
        id: "all".into(),
        sentence,
        sure: match studied.len() {
            0 => "Not measured is not the same as good or bad.".into(),
            _ => "Each is kept as it was typed; what it is at 20 °C stands beside it.".into(),
        },
        tables: if table.rows.is_empty() { Vec::new() } else { vec![table] },
        ..Told::default()
    }
}

fn missing(job: &Job) -> Vec<Step> {
    let unmeasured = parts::known(job).into_iter().filter(|part| part.unmeasured);
    unmeasured
        .map(|part| Step {
            id: format!("measure-{}", part.id),
            words: format!("Put the meter to the {}.", part.name),
            why: format!("At the {}; not measured yet.", part.place),
            caution: cautions::metering(job).into(),
            ..Step::default()
        })
        .collect()
}
