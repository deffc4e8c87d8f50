//! The bench sheet: a page made to be printed and written on.

use std::sync::Arc;

use asfound_acts::Workshop;
use asfound_words::bench_sheet::{BenchSheet, bench_sheet};
use asfound_words::meter_check::check_sheet;
use asfound_words::page::Page;
use asfound_words::sheet::Table;
use asfound_words::viewing::pocket_sheet::pocket_sheet;
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};

use crate::asked::Path;
use crate::frame::{Frame, Money};
use crate::job::{Asked, Opened, at_work, job_head, open};
use crate::trouble::Failed;

/// Draws the sheet of readings that are missing.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(workshop, number.clone(), &Asked::default()).await?;
    let sheet = bench_sheet(&opened.job);
    Ok(draw(&opened, &number, &headers, ("Bench sheet", "bench-sheet"), Page::Readings, &sheet))
}

/// Draws the sheet of the few probings that verify the trace.
pub(crate) async fn check(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(Arc::clone(&workshop), number.clone(), &Asked::default()).await?;
    let asked = number.clone();
    let sheet =
        at_work(workshop, move |workshop| Ok(check_sheet(&workshop.material_at_hand(&asked)?))).await?;
    Ok(draw(&opened, &number, &headers, ("Check sheet", "check-sheet"), Page::MeterCheck, &sheet))
}

/// Draws the sheet of the checks that are open at a viewing.
pub(crate) async fn pocket(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(workshop, number.clone(), &Asked::default()).await?;
    let sheet = pocket_sheet(&opened.job);
    Ok(draw(&opened, &number, &headers, ("Pocket sheet", "pocket-sheet"), Page::Viewing, &sheet))
}

fn draw(
    opened: &Opened,
    number: &str,
    headers: &HeaderMap,
    (name, slug): (&str, &str),
    from: Page,
    sheet: &BenchSheet,
) -> Markup {
    let here = format!("/job/{number}/{slug}");
    let title = format!("{name} · {number}");
    let frame =
        Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(Money::of(headers)) };
    let body = html! {
        main.one.paper id="main" {
            h2 { (name) }
            p.caution { (sheet.caution) }
            p { (sheet.about) }
            @for table in &sheet.tables { (to_fill(table)) }
            p.noprint {
                "Print it with the browser's own print. "
                a href={ "/job/" (number) "/" (from.slug()) } { "Back to the page " (from.title()) }
            }
        }
    };
    frame.draw(job_head(opened, Some(from)), body)
}

/// A table with cells to write in.
pub(crate) fn to_fill(table: &Table) -> Markup {
    html! {
        div.table tabindex="0" role="region" aria-label=(table.caption) {
            table.fill {
                caption { (table.caption) }
                thead { tr { @for column in &table.columns { th scope="col" { (column.name) } } } }
                tbody { @for row in &table.rows { tr { @for cell in row { td { (cell) } } } } }
            }
        }
    }
}
