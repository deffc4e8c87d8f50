//! `sweep`: a measurement that came as a file, or as two recordings, kept with its part.

use std::path::{Path, PathBuf};

use asfound_acts::NewSweep;
use asfound_words::page;

use crate::failure::Failure;
use crate::{patiently, print};

/// What is said beside the files.
pub(crate) struct Beside<'a> {
    pub(crate) resistors: &'a [String],
    pub(crate) temperature: Option<&'a str>,
    pub(crate) method: Option<&'a str>,
    pub(crate) meter: Option<&'a str>,
}

pub(crate) fn run(
    folder: &Path,
    number: &str,
    part: &str,
    files: &[PathBuf],
    beside: &Beside<'_>,
) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let said = |text: Option<&str>| text.unwrap_or_default().to_owned();
    let new = NewSweep {
        part: workshop.part_named(number, part)?,
        files: files.iter().map(|file| read(file)).collect::<Result<_, Failure>>()?,
        resistors: beside.resistors.to_vec(),
        temperature: said(beside.temperature),
        method: said(beside.method),
        meter: said(beside.meter),
    };
    let draft = workshop.draft_id()?;
    let seq = workshop.keep_sweep(number, &new, Some(&draft))?;
    let kept = page::one_entry(&*workshop.job(number)?, seq);
    let words = kept.iter().map(|line| format!("{}, {}", line.words, line.detail)).collect::<String>();
    print::out(&format!("Kept as entry {seq}: {words}\nWhat it means: asfound sheet {number} readings\n"))
}

/// A file's name and its bytes.
fn read(file: &Path) -> Result<(String, Vec<u8>), Failure> {
    let bytes = std::fs::read(file).map_err(|error| Failure::file("Reading", file, error))?;
    if bytes.is_empty() {
        return Err(Failure::NotTaken(format!(
            "{} is empty: there is nothing in it to keep. Look at the file.",
            file.display()
        )));
    }
    let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    Ok((name, bytes))
}
