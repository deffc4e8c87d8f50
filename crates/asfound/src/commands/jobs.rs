//! `open`, `jobs`, `history`, `lines`: jobs opened, listed, read and taken out.

use std::path::Path;

use asfound_acts::{NewJob, Workshop};
use asfound_words::{bench, page, time};
use serde_json::Value;

use crate::failure::Failure;
use crate::{json, patiently, print};

pub(crate) fn open(folder: &Path, title: &str) -> Result<(), Failure> {
    let workshop = patiently::open(folder)?;
    let number = workshop.open_job(&NewJob { title: title.to_owned(), ..NewJob::default() })?;
    print::out(&format!(
        "Job {number} is open. Say what you find: asfound say {number} part neck coil, coil, neck\n"
    ))
}

pub(crate) fn list(folder: &Path, for_machine: bool) -> Result<(), Failure> {
    let workshop = Workshop::open_to_read(folder)?;
    let cards = workshop.cards()?;
    if for_machine {
        return print::out(&json::text(&Value::Array(cards.iter().map(json::card).collect())));
    }
    let mut text = format!("{}: {}\n", workshop.name(), bench::count_of_jobs(cards.len()));
    for card in &cards {
        text.push_str(&format!("\n{}  {}  ({})\n", card.number, card.title, time::day(&card.last_at)));
        for waiting in &card.waits {
            text.push_str(&print::wrapped(&bench::waiting(waiting), "        – ", "          "));
        }
    }
    print::out(&text)
}

pub(crate) fn history(folder: &Path, number: &str, for_machine: bool) -> Result<(), Failure> {
    let workshop = Workshop::open_to_read(folder)?;
    let job = workshop.job(number)?;
    let lines = page::history(&job);
    if for_machine {
        return print::out(&json::text(&Value::Array(lines.iter().map(json::found).collect())));
    }
    let mut text = String::new();
    for line in &lines {
        let since = if line.since.is_empty() { String::new() } else { format!("  [{}]", line.since) };
        let detail = if line.detail.is_empty() { String::new() } else { format!("  ({})", line.detail) };
        let first = format!("{:>5}  {}  ", line.seq, line.time);
        text.push_str(&print::wrapped(
            &format!("{}{detail}{since}", line.words),
            &first,
            "                         ",
        ));
    }
    text.push_str(&format!("\n{}\n", page::about_history(&job)));
    print::out(&text)
}

pub(crate) fn lines(folder: &Path, number: &str, without_money: bool) -> Result<(), Failure> {
    let workshop = Workshop::open_to_read(folder)?;
    let lines = if without_money { workshop.lines_without_money(number)? } else { workshop.lines(number)?.0 };
    print::out(&lines)
}
