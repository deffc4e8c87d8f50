//! Printing: sheets as plain text, complaints on the error channel.

use std::io::{self, Write};

use asfound_words::sheet::{FoundLine, Sheet, Step, Table, Told};

use crate::failure::Failure;

/// Widest line of running text.
const WIDTH: usize = 96;

/// Writes text to standard output.
pub(crate) fn out(text: &str) -> Result<(), Failure> {
    let mut stdout = io::stdout().lock();
    let written = stdout.write_all(text.as_bytes()).and_then(|()| stdout.flush());
    written.map_err(|error| Failure::File { what: "Writing to standard output".to_owned(), error })
}

/// Says what went wrong, or how far something is.
#[allow(clippy::print_stderr, reason = "the one place that writes to the error channel")]
pub(crate) fn complain(text: &str) {
    eprintln!("{text}");
}

/// How much of what stands behind a finding is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Depth {
    /// The sentence, and how sure it is.
    Headlines,
    /// Tables and assumptions too.
    Tables,
    /// All of it: how it was worked out, and on which entries it rests.
    Working,
}

/// What was found, an entry a line.
pub(crate) fn found(lines: &[FoundLine]) -> String {
    let mut text = String::from("Found\n");
    if lines.is_empty() {
        text.push_str("  Nothing was kept here yet.\n");
    }
    for line in lines {
        let since = if line.since.is_empty() { String::new() } else { format!("  [{}]", line.since) };
        let detail = if line.detail.is_empty() { String::new() } else { format!("  ({})", line.detail) };
        text.push_str(&wrapped(
            &format!("{}{detail}{since}", line.words),
            &format!("{:>5}  ", line.seq),
            "       ",
        ));
    }
    text + "\nMeans\n"
}

/// A sheet's findings and steps as text.
pub(crate) fn sheet(sheet: &Sheet, depth: Depth) -> String {
    let mut text = String::new();
    for caution in &sheet.cautions {
        text.push_str(&wrapped(&format!("Caution: {caution}"), "", ""));
    }
    for told in sheet.now.iter().chain(&sheet.means) {
        text.push('\n');
        text.push_str(&finding(told, depth));
    }
    let told = sheet.now.iter().chain(&sheet.means);
    let steps: Vec<&Step> = told.flat_map(|told| &told.next).chain(&sheet.next).collect();
    if !steps.is_empty() {
        text.push_str("\nNext\n");
        for step in steps {
            text.push_str(&wrapped(&step.words, "  - ", "    "));
            text.push_str(&wrapped(&step.why, "    ", "    "));
            text.push_str(&wrapped(&step.caution, "    ", "    "));
            for answer in &step.answers {
                let said = format!("{}: {}. Say “{}”.", answer.words, answer.means, answer.line);
                text.push_str(&wrapped(&said, "    - ", "      "));
            }
        }
    }
    text
}

fn finding(told: &Told, depth: Depth) -> String {
    let mut text = wrapped(&told.sentence, "", "");
    text.push_str(&wrapped(&told.sure, "  ", "  "));
    text.push_str(&wrapped(&told.caution, "  Caution: ", "  "));
    if depth >= Depth::Tables {
        for shown in told.shown.iter().chain(&told.tables) {
            text.push_str(&table(shown));
        }
    }
    if depth >= Depth::Working {
        text.push_str(&list("How it was worked out", &told.working));
    }
    if depth >= Depth::Tables {
        text.push_str(&list("Taken for granted", &told.assumptions));
        text.push_str(&list("What would change it", &told.would_change));
    }
    if depth >= Depth::Working && !told.rests_on.is_empty() {
        let rests: Vec<&str> = told.rests_on.iter().map(|rest| rest.label.as_str()).collect();
        text.push_str(&wrapped(&format!("Rests on {}.", rests.join(", ")), "  ", "  "));
    }
    text
}

/// Lines under a heading; nothing where there are none.
fn list(heading: &str, lines: &[String]) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let lines = lines.iter().map(|line| wrapped(line, "  - ", "    "));
    format!("  {heading}:\n") + &lines.collect::<String>()
}

/// A table in columns, figures flush right.
fn table(shown: &Table) -> String {
    let width = |at: usize| {
        let cells = shown.rows.iter().map(|row| row[at].chars().count());
        cells.chain([shown.columns[at].name.chars().count()]).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..shown.columns.len()).map(width).collect();
    let line = |cells: &[String]| {
        let mut line = String::from("  ");
        for ((cell, column), width) in cells.iter().zip(&shown.columns).zip(&widths) {
            let blank = " ".repeat(width.saturating_sub(cell.chars().count()));
            if column.numeric {
                line.push_str(&format!("  {blank}{cell}"));
            } else {
                line.push_str(&format!("  {cell}{blank}"));
            }
        }
        line.trim_end().to_owned() + "\n"
    };
    let heads: Vec<String> = shown.columns.iter().map(|column| column.name.clone()).collect();
    let mut text = format!("\n  {}\n{}", shown.caption, line(&heads));
    for row in &shown.rows {
        text.push_str(&line(row));
    }
    text.push('\n');
    text
}

/// Text cut after so many signs, with a mark where it was cut.
pub(crate) fn shortened(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((at, _)) => format!("{} …", &text[..at]),
        None => text.to_owned(),
    }
}

/// Running text in lines of readable width.
pub(crate) fn wrapped(text: &str, first: &str, rest: &str) -> String {
    if text.is_empty() {
        return String::new();
    }
    let mut out = String::new();
    let mut line = first.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            out.push_str(line.trim_end());
            out.push('\n');
            line = rest.to_owned();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    out + line.trim_end() + "\n"
}
