//! Sheets, cards and reports for a machine to read.

use asfound_acts::Card;
use asfound_words::bench;
use asfound_words::sheet::{FoundLine, Sheet, Step, Table, Told};
use serde_json::{Value, json};

/// A sheet: findings with their tables and figures, and steps.
pub(crate) fn sheet(sheet: &Sheet) -> Value {
    json!({
        "cautions": sheet.cautions,
        "found": sheet.found.iter().map(found).collect::<Vec<_>>(),
        "now": sheet.now.as_ref().map(told),
        "means": sheet.means.iter().map(told).collect::<Vec<_>>(),
        "next": sheet.next.iter().map(step).collect::<Vec<_>>(),
    })
}

/// One kept entry.
pub(crate) fn found(line: &FoundLine) -> Value {
    json!({
        "seq": line.seq, "time": line.time, "words": line.words, "detail": line.detail, "since": line.since,
        "photograph": line.photograph, "money": line.money,
    })
}

fn told(told: &Told) -> Value {
    json!({
        "id": told.id, "sentence": told.sentence, "sure": told.sure, "caution": told.caution,
        "next": told.next.iter().map(step).collect::<Vec<_>>(),
        "rests_on": told.rests_on.iter().map(|rest| rest.seq).collect::<Vec<_>>(),
        "working": told.working, "assumptions": told.assumptions, "would_change": told.would_change,
        "tables": told.shown.iter().chain(&told.tables).map(table).collect::<Vec<_>>(),
        "figures": told.figures.iter().map(|figure| {
            let points = figure.plot.table();
            json!({ "caption": figure.caption, "columns": points.header, "rows": points.rows })
        }).collect::<Vec<_>>(),
    })
}

fn step(step: &Step) -> Value {
    json!({
        "id": step.id, "words": step.words, "why": step.why, "caution": step.caution, "decision": step.decision,
        "answers": step.answers.iter().map(|answer| {
            json!({ "words": answer.words, "means": answer.means, "line": answer.line })
        }).collect::<Vec<_>>(),
    })
}

fn table(table: &Table) -> Value {
    let columns: Vec<&str> = table.columns.iter().map(|column| column.name.as_str()).collect();
    json!({ "caption": table.caption, "columns": columns, "rows": table.rows })
}

/// One job's card.
pub(crate) fn card(card: &Card) -> Value {
    json!({
        "number": card.number, "title": card.title, "piece": card.piece, "last_at": card.last_at,
        "entries": card.entries, "waits_for": card.waits.iter().map(bench::waiting).collect::<Vec<_>>(),
    })
}

/// A value on one line, or spread out for reading.
pub(crate) fn text(value: &Value) -> String {
    serde_json::to_string_pretty(value).unwrap_or_default() + "\n"
}
