//! The sheet of another wiring: a page made to be printed and ticked.

use std::sync::Arc;

use asfound_acts::Workshop;
use asfound_words::page::Page;
use asfound_words::rewiring::rewiring_sheet;
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};

use crate::asked::Path;
use crate::bench_sheet::to_fill;
use crate::frame::{Frame, Money};
use crate::job::{Asked, at_work, job_head, open};
use crate::trouble::Failed;

/// Draws the sheet of one proposal, by its id.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path((number, id)): Path<(String, String)>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(Arc::clone(&workshop), number.clone(), &Asked::default()).await?;
    let (asked_for, wanted) = (number.clone(), id.clone());
    let sheet =
        at_work(workshop, move |workshop| Ok(rewiring_sheet(&workshop.material(&asked_for)?, &wanted)))
            .await?;
    let Some(sheet) = sheet else {
        return Err(Failed::not_there(
            "No such wiring is offered for this job now. The page Rewiring lists those that are.",
        ));
    };
    let here = format!("/job/{number}/rewiring-sheet/{id}");
    let title = format!("{} · {number}", sheet.title);
    let frame =
        Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(Money::of(&headers)) };
    let body = html! {
        main.one.paper id="main" {
            h2 { (sheet.title) }
            p.caution { (sheet.caution) }
            p { (sheet.about) }
            @for table in &sheet.tables { (to_fill(table)) }
            p.noprint { "Print it with the browser's own print. " a href={ "/job/" (number) "/rewiring" } { "Back to the rewiring" } }
        }
    };
    Ok(frame.draw(job_head(&opened, Some(Page::Rewiring)), body))
}
