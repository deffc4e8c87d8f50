//! The demo's scenario: lines said at the bench, with their times, kept the way a person keeps them.
//!
//! A scenario is plain text, so that the demo shows what typing does and nothing else: a line that begins with a time
//! is said to the entry line at that time; `photo` takes a picture in; `job` opens one.

use std::path::Path;
use std::sync::{Arc, Mutex};

use asfound_acts::{Meter1, NewJob, Said, Workshop};
use asfound_words::line;

use crate::failure::Failure;

/// The number of the job that the demo is about.
pub(crate) const MAIN_JOB: &str = "26-014";

const SCENARIOS: [&str; 3] = [
    include_str!("../demo/bass.txt"),
    include_str!("../demo/lap-steel.txt"),
    include_str!("../demo/amplifier.txt"),
];

/// The trace of the main job's circuit, also kept as a file in the demo's folder for `explain`.
const TRACE: &str = include_str!("../demo/bass.trace");

macro_rules! pictures {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_bytes!(concat!("../demo/pictures/", $name)).as_slice())),*]
    };
}

/// Pictures drawn for the demo.
const PICTURES: [(&str, &[u8]); 12] = pictures![
    "01-front.jpg",
    "02-back.jpg",
    "03-control-cavity.jpg",
    "04-green-stub.jpg",
    "05-neck-coil.jpg",
    "06-bridge-coil.jpg",
    "07-control-plate.jpg",
    "08-volume-pot.jpg",
    "09-headstock.jpg",
    "10-case-dust.jpg",
    "20-valve-amplifier.jpg",
    "21-lap-steel.jpg",
];

/// Makes the demo workshop in a folder.
pub(crate) fn make(folder: &Path) -> Result<(), Failure> {
    let time = Arc::new(Mutex::new("2026-10-01T09:00:00+00:00".to_owned()));
    let clock = Arc::clone(&time);
    let now = move || clock.lock().map_or_else(|poisoned| poisoned.into_inner().clone(), |time| time.clone());
    let workshop = Workshop::start_with_clock(folder, "Tamsin Overbrook, restorer", Box::new(now))?;
    workshop.keep_meter(Meter1 {
        meter: "M1".to_owned(),
        words: "hand-held multimeter, 2,000 counts".to_owned(),
        accuracy: Some("0.8 % + 2".to_owned()),
    })?;
    for scenario in SCENARIOS {
        play(&workshop, scenario, &time)?;
    }
    let trace = folder.join("short-scale-bass.trace");
    std::fs::write(&trace, TRACE).map_err(|error| Failure::file("Writing", &trace, error))
}

/// Plays one scenario. A line that cannot be kept is a fault of the demo and says which.
fn play(workshop: &Workshop, scenario: &str, time: &Mutex<String>) -> Result<(), Failure> {
    let mut number = String::new();
    for (at, text) in scenario.lines().enumerate() {
        let text = text.trim();
        if text.is_empty() || text.starts_with('#') {
            continue;
        }
        let fault =
            |why: &str| Failure::Broken(format!("The demo's scenario, line {}: {why}: {text}", at + 1));
        let (when, said) = text.split_once(' ').ok_or_else(|| fault("no words"))?;
        *time.lock().map_err(|_| fault("the clock stopped"))? = format!("{when}:00+00:00");
        match said.split_once(' ') {
            Some(("job", rest)) => number = open(workshop, rest)?,
            Some(("photo", rest)) => {
                photograph(workshop, &number, rest).map_err(|failure| fault(&failure.to_string()))?
            }
            Some(("trace", _)) => say_trace(workshop, &number, &fault)?,
            _ => say(workshop, &number, said, &format!("demo-{number}-{at}"), &fault)?,
        }
    }
    Ok(())
}

fn say(
    workshop: &Workshop,
    number: &str,
    said: &str,
    draft: &str,
    fault: &impl Fn(&str) -> Failure,
) -> Result<(), Failure> {
    match workshop.say(number, said, draft)? {
        Said::Kept { .. } => Ok(()),
        Said::NotHeard(error) => Err(fault(&line::not_heard(&error, said).sentence)),
    }
}

/// The trace is said line by line, as the meter gave it.
fn say_trace(workshop: &Workshop, number: &str, fault: &impl Fn(&str) -> Failure) -> Result<(), Failure> {
    let mut held = String::new();
    for (at, text) in TRACE.lines().enumerate() {
        if text.trim().is_empty() || text.trim_start().starts_with('#') {
            continue;
        }
        held = text.to_owned();
        say(workshop, number, &held, &format!("demo-trace-{at}"), fault)?;
    }
    if held.is_empty() { Err(fault("the trace is empty")) } else { Ok(()) }
}

/// `NUMBER | title | family | words | maker | serial | origin | owner`
fn open(workshop: &Workshop, rest: &str) -> Result<String, Failure> {
    let mut fields = rest.split('|').map(|field| field.trim().to_owned());
    let mut next = || fields.next().unwrap_or_default();
    let new = NewJob {
        number: next(),
        title: next(),
        family: next(),
        words: next(),
        maker: next(),
        serial: next(),
        origin: next(),
        owner: next(),
    };
    Ok(workshop.open_job(&new)?)
}

/// `FILE | part | caption`, the part empty where it is of the whole piece.
fn photograph(workshop: &Workshop, number: &str, rest: &str) -> Result<(), Failure> {
    let mut fields = rest.split('|').map(str::trim);
    let mut next = || fields.next().unwrap_or_default();
    let (file, part, caption) = (next(), next(), next());
    let bytes = PICTURES.iter().find(|(name, _)| *name == file).map(|(_, bytes)| *bytes);
    let bytes = bytes.ok_or_else(|| Failure::Broken(format!("there is no picture {file}")))?;
    let part = if part.is_empty() { None } else { Some(workshop.part_named(number, part)?) };
    workshop.keep_photograph(number, file, bytes, part.as_deref(), caption, None)?;
    Ok(())
}
