//! `say` and `photograph`: entries and pictures kept from the command line.

use std::path::{Path, PathBuf};

use asfound_acts::{Said, Workshop};
use asfound_words::line;

use crate::failure::Failure;
use crate::print;

pub(crate) fn run(folder: &Path, number: &str, said: &str) -> Result<(), Failure> {
    let workshop = Workshop::open(folder)?;
    let draft = workshop.draft_id()?;
    match workshop.say(number, said, &draft)? {
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
            let mut text = format!("{}\n\n{}\n", words.sentence, words.pointer);
            if !words.hints.is_empty() {
                text.push_str(&format!("\nRight would be, for instance:\n  {}", words.hints.join("\n  ")));
            }
            text.push_str(&format!(
                "\n\nNothing was kept. To keep it as it is: asfound say {number} note {said}"
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
    let workshop = Workshop::open(folder)?;
    let part = part.map(|name| workshop.part_named(number, name)).transpose()?;
    for file in files {
        let bytes = std::fs::read(file).map_err(|error| Failure::file("Reading", file, error))?;
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let kept = workshop.keep_photograph(number, &name, &bytes, part.as_deref(), "", None)?;
        let mut text = format!("Kept {name} as entry {}.\n", kept.seq);
        if let Some(why) = kept.not_shown {
            text.push_str(&print::wrapped(&format!("No preview can be shown: {why}"), "  ", "  "));
        }
        print::out(&text)?;
    }
    Ok(())
}
