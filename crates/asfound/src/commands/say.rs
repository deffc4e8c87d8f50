//! `say` and `photograph`: entries and pictures kept from the command line.

use std::path::{Path, PathBuf};

use asfound_acts::{Said, Workshop};
use asfound_words::line;

use crate::failure::Failure;
use crate::{patiently, print};

/// A line that still fits a screen.
const SCREEN: usize = 300;

pub(crate) fn run(folder: &Path, number: &str, said: &str) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let draft = workshop.draft_id()?;
    tell(&workshop, number, said, workshop.say(number, said, &draft)?)
}

/// Keeps a correction.
pub(crate) fn correct(folder: &Path, number: &str, entry: u64, said: &str) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let draft = workshop.draft_id()?;
    tell(&workshop, number, said, workshop.correct(number, entry, said, &draft)?)
}

/// Strikes an entry out.
pub(crate) fn strike(folder: &Path, number: &str, entry: u64, why: &str) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let draft = workshop.draft_id()?;
    let seq = workshop.strike(number, entry, why, &draft)?;
    print::out(&format!("Entry {entry} is struck out by entry {seq}. It stays readable in the history.\n"))
}

/// What was kept, or why nothing was.
fn tell(workshop: &Workshop, number: &str, said: &str, answer: Said) -> Result<(), Failure> {
    match answer {
        Said::Kept { seq, heard } => {
            let words = line::heard(&heard, &*workshop.job(number)?);
            let mut text = format!("Kept as entry {seq}: {}\n", words.understood);
            for more in [words.doubt, words.evidence].into_iter().flatten() {
                text.push_str(&print::wrapped(&more, "  ", "  "));
            }
            print::out(&text)
        }
        Said::NotHeard(error) => {
            let words = line::not_heard(&error, said);
            // A line longer than a screen would push the sentence out of sight.
            let pointer =
                if said.chars().count() > SCREEN { String::new() } else { format!("\n{}\n", words.pointer) };
            let mut text = format!("{}\n{pointer}", print::shortened(&words.sentence, SCREEN));
            if !words.hints.is_empty() {
                text.push_str(&format!("\nRight would be, for instance:\n  {}", words.hints.join("\n  ")));
            }
            text.push_str(&format!(
                "\n\nNothing was kept. To keep it as it is: asfound say {number} note {}",
                print::shortened(said, SCREEN)
            ));
            Err(Failure::NotTaken(text))
        }
    }
}

pub(crate) fn photographs(
    folder: &Path,
    number: &str,
    files: &[PathBuf],
    part: Option<&str>,
) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let part = part.map(|name| workshop.part_named(number, name)).transpose()?;
    for file in files {
        let bytes = std::fs::read(file).map_err(|error| Failure::file("Reading", file, error))?;
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if bytes.is_empty() {
            return Err(Failure::NotTaken(format!(
                "{} is empty: there is nothing in it to keep. Look at the file.",
                file.display()
            )));
        }
        let kept = workshop.keep_photograph(number, &name, &bytes, part.as_deref(), "", None)?;
        let mut text = format!("Kept {name} as entry {}.\n", kept.seq);
        if let Some(why) = kept.not_shown {
            text.push_str(&print::wrapped(&format!("No preview can be shown: {why}"), "  ", "  "));
        }
        print::out(&text)?;
    }
    Ok(())
}
