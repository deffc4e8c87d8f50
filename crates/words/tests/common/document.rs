//! A sheet as a plain document, for tests that read like one.

use std::fmt::Write;

use asfound_words::sheet::{Answer, Figure, Sheet, Step, Table, Told};

/// The whole sheet.
pub(crate) fn document(sheet: &Sheet) -> String {
    let mut text = String::new();
    let x = &mut text;
    for line in &sheet.found {
        let detail = if line.detail.is_empty() { String::new() } else { format!("  ({})", line.detail) };
        let since = if line.since.is_empty() { String::new() } else { format!("  [{}]", line.since) };
        writeln!(x, "{:>3}  {}{detail}{since}", line.seq, line.words).unwrap();
    }
    for caution in &sheet.cautions {
        writeln!(x, "\n! {caution}").unwrap();
    }
    sheet.figures.iter().for_each(|one| figure(x, one));
    sheet.now.iter().chain(&sheet.means).for_each(|one| told(x, one));
    if !sheet.next.is_empty() {
        writeln!(x, "\n== next").unwrap();
        sheet.next.iter().for_each(|one| step(x, one));
    }
    text
}

fn told(x: &mut String, told: &Told) {
    writeln!(x, "\n== {}\n{}", told.id, told.sentence).unwrap();
    let line = |x: &mut String, name: &str, text: &str| {
        if !text.is_empty() {
            writeln!(x, "  {name}: {text}").unwrap();
        }
    };
    line(x, "how sure", &told.sure);
    line(x, "caution", &told.caution);
    told.next.iter().for_each(|one| step(x, one));
    let rests: Vec<String> = told.rests_on.iter().map(|rest| rest.label.clone()).collect();
    line(x, "rests on", &rests.join(", "));
    told.working.iter().for_each(|text| line(x, "worked out", text));
    told.assumptions.iter().for_each(|text| line(x, "assumed", text));
    told.would_change.iter().for_each(|text| line(x, "would change it", text));
    told.shown.iter().chain(&told.tables).for_each(|one| table(x, one));
    told.figures.iter().for_each(|one| figure(x, one));
}

fn figure(x: &mut String, figure: &Figure) {
    writeln!(x, "  figure {}: {}\n    {}", figure.id, figure.caption, figure.plot.description()).unwrap();
}

fn step(x: &mut String, step: &Step) {
    writeln!(x, "  -> {} [{}]{}", step.words, step.id, decision(step)).unwrap();
    writeln!(x, "     {}", step.why).unwrap();
    if !step.caution.is_empty() {
        writeln!(x, "     ! {}", step.caution).unwrap();
    }
    step.answers.iter().for_each(|one| answer(x, one));
}

fn answer(x: &mut String, answer: &Answer) {
    writeln!(x, "     [{}] {} <{}>", answer.words, answer.means, answer.line).unwrap();
}

fn decision(step: &Step) -> String {
    if step.decision.is_empty() { String::new() } else { format!(" ({})", step.decision) }
}

fn table(x: &mut String, table: &Table) {
    let names: Vec<&str> = table.columns.iter().map(|column| column.name.as_str()).collect();
    writeln!(x, "  table: {}\n    {}", table.caption, names.join(" | ")).unwrap();
    for row in &table.rows {
        assert_eq!(row.len(), table.columns.len(), "{}", table.caption);
        writeln!(x, "    {}", row.join(" | ")).unwrap();
    }
}
