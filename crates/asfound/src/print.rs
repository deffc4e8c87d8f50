//! Printing: sheets as plain text, complaints on the error channel.

use std::io::{self, Write};

use asfound_words::sheet::{Sheet, Step, Table, Told};

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

/// A sheet's findings and steps as text.
pub(crate) fn sheet(sheet: &Sheet, tables: bool) -> String {
    let mut text = String::new();
    for caution in &sheet.cautions {
        text.push_str(&wrapped(&format!("Caution: {caution}"), "", ""));
    }
    for told in &sheet.means {
        text.push('\n');
        text.push_str(&finding(told, tables));
    }
    let steps: Vec<&Step> = sheet.means.iter().flat_map(|told| &told.next).chain(&sheet.next).collect();
    if !steps.is_empty() {
        text.push_str("\nNext\n");
        for step in steps {
            text.push_str(&wrapped(&step.words, "  - ", "    "));
            text.push_str(&wrapped(&step.why, "    ", "    "));
            text.push_str(&wrapped(&step.caution, "    ", "    "));
        }
    }
    text
}

fn finding(told: &Told, tables: bool) -> String {
    let mut text = wrapped(&told.sentence, "", "");
    text.push_str(&wrapped(&told.sure, "  ", "  "));
    text.push_str(&wrapped(&told.caution, "  Caution: ", "  "));
    if tables {
        for shown in &told.tables {
            text.push_str(&table(shown));
        }
        for (heading, lines) in
            [("Taken for granted", &told.assumptions), ("What would change it", &told.would_change)]
        {
            if !lines.is_empty() {
                text.push_str(&format!("  {heading}:\n"));
                for line in lines {
                    text.push_str(&wrapped(line, "  - ", "    "));
                }
            }
        }
    }
    text
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
