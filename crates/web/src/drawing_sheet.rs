//! The drawing of the circuit on a page made to be printed: from the back or the front, for either hand.

use std::sync::Arc;

use asfound_acts::Workshop;
use asfound_words::page::Page;
use asfound_words::sheet::Table;
use asfound_words::wiring::{DrawingSheet, Side, View, drawing_sheet};
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Path, Query};
use crate::frame::{Frame, Money};
use crate::job::{Asked, at_work, job_head, open};
use crate::sheet;
use crate::trouble::Failed;

/// How the drawing is asked for; what is not said is as it is seen when the back is off.
#[derive(Deserialize, Default)]
pub(crate) struct Seen {
    /// `back` or `front`.
    #[serde(default)]
    seen: String,
    /// `right` or `left`.
    #[serde(default)]
    hand: String,
}

impl Seen {
    fn view(&self) -> View {
        View {
            side: if self.seen == "front" { Side::Front } else { Side::Back },
            left_handed: self.hand == "left",
        }
    }
}

/// Every way it can be looked at: how it is asked for, and what it is called.
const VIEWS: [(&str, &str, &str); 4] = [
    ("back", "right", "From the back"),
    ("front", "right", "From the front"),
    ("back", "left", "Left-handed, from the back"),
    ("front", "left", "Left-handed, from the front"),
];

/// Draws the sheet of a job.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Query(seen): Query<Seen>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(Arc::clone(&workshop), number.clone(), &Asked::default()).await?;
    let (job, view) = (Arc::clone(&opened.job), seen.view());
    let body = at_work(workshop, move |_| Ok(drawn(&number, &drawing_sheet(&job, view), view))).await?;
    let here = format!("/job/{}/drawing", opened.number);
    let title = format!("The circuit, drawn · {}", opened.number);
    let money = Some(Money::of(&headers));
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money };
    Ok(frame.draw(job_head(&opened, Some(Page::Wiring)), body))
}

fn drawn(number: &str, shown: &DrawingSheet, view: View) -> Markup {
    html! {
        main.one.paper.drawing id="main" {
            h2 { "The circuit, drawn" }
            (views(number, Some(view)))
            @match &shown.figure {
                Some(figure) => (sheet::plot(figure)),
                None => p { (shown.instead) },
            }
            @if !shown.joins.rows.is_empty() {
                p.caution { (shown.caution) }
                p { (shown.about) }
                (to_check(&shown.joins))
            }
            p.noprint { "Print it with the browser's own print. " a href={ "/job/" (number) "/wiring" } { "Back to the wiring" } }
        }
    }
}

/// Links to the sheet in every view; the one shown is marked.
pub(crate) fn views(number: &str, shown: Option<View>) -> Markup {
    html! {
        nav.views aria-label="Views of the drawing" {
            span { "To print" }
            @for (side, hand, name) in VIEWS {
                @let this = Seen { seen: side.to_owned(), hand: hand.to_owned() }.view();
                a href={ "/job/" (number) "/drawing?seen=" (side) "&hand=" (hand) }
                    aria-current=[(shown == Some(this)).then_some("page")] { (name) }
            }
        }
    }
}

fn to_check(table: &Table) -> Markup {
    html! {
        div.table tabindex="0" role="region" aria-label=(table.caption) {
            table.check {
                caption { (table.caption) }
                thead { tr { @for column in &table.columns { th scope="col" { (column.name) } } } }
                tbody { @for row in &table.rows { tr { @for cell in row { td { (cell) } } } } }
            }
        }
    }
}
