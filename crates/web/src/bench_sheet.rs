//! The bench sheet: a page made to be printed and written on.

use std::sync::Arc;

use asfound_acts::Workshop;
use asfound_words::bench_sheet::bench_sheet;
use asfound_words::page::Page;
use asfound_words::sheet::Table;
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};

use crate::asked::Path;
use crate::frame::{Frame, Money};
use crate::job::{Asked, job_head, open};
use crate::trouble::Failed;

/// Draws the sheet of a job.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(workshop, number.clone(), &Asked::default()).await?;
    let sheet = bench_sheet(&opened.job);
    let here = format!("/job/{number}/bench-sheet");
    let title = format!("Bench sheet · {number}");
    let money = Some(Money::of(&headers));
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money };
    let body = html! {
        main.one.paper id="main" {
            h2 { "Bench sheet" }
            p.caution { (sheet.caution) }
            p { (sheet.about) }
            @for table in &sheet.tables { (to_fill(table)) }
            p.noprint { "Print it with the browser's own print. " a href={ "/job/" (number) "/readings" } { "Back to the readings" } }
        }
    };
    Ok(frame.draw(job_head(&opened, Some(Page::Readings)), body))
}

fn to_fill(table: &Table) -> Markup {
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
