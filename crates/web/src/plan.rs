//! The page Plan: hours written down in two touches, and the proposal to print.

use std::sync::Arc;

use asfound_acts::Workshop;
use asfound_words::page::Page;
use asfound_words::plan::{hours_to_press, proposal};
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};

use crate::asked::Path;
use crate::bench_sheet::to_fill;
use crate::frame::{Frame, Money};
use crate::job::{Asked, Opened, at_work, job_head, open};
use crate::trouble::Failed;

/// One touch says how long, the next keeps it: the line is shown as understood in between, as if it had been typed.
pub(crate) fn hours(opened: &Opened) -> Markup {
    let tasks = hours_to_press(&opened.job);
    html! {
        @if !tasks.is_empty() {
            form.hours method="get" action={ "/job/" (opened.number) "/plan" } aria-label="Write hours down" {
                @for (task, buttons) in &tasks {
                    p {
                        span { (task) " " }
                        @for button in buttons {
                            button.quiet name="line" value=(button.line) aria-label=(button.name) { (button.shown) }
                            " "
                        }
                    }
                }
            }
        }
    }
}

/// Draws the proposal. It tells sums, so it is not drawn while money is hidden.
pub(crate) async fn paper(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(Arc::clone(&workshop), number.clone(), &Asked::default()).await?;
    let asked_for = number.clone();
    let sheet =
        at_work(workshop, move |workshop| Ok(proposal(&workshop.material_at_hand(&asked_for)?))).await?;
    let here = format!("/job/{number}/proposal");
    let title = format!("Proposal · {number}");
    let money = Money::of(&headers);
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(money) };
    let body = html! {
        main.one.paper id="main" {
            h2 { "Proposal" }
            @if money == Money::Hidden {
                p { "The proposal tells sums, and money is hidden now." }
            } @else {
                @if !sheet.caution.is_empty() { p.caution { (sheet.caution) } }
                p { (sheet.about) }
                @for table in &sheet.tables { (to_fill(table)) }
            }
            p.noprint { "Print it with the browser's own print. " a href={ "/job/" (number) "/plan" } { "Back to the plan" } }
        }
    };
    Ok(frame.draw(job_head(&opened, Some(Page::Plan)), body))
}
