//! The entry line: how a line was understood, and keeping it.

use std::sync::Arc;

use asfound_acts::{Said, Workshop};
use asfound_words as words;
use asfound_words::page::Page;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Form, Path, Query, draft, escaped};
use crate::job::{Asked, Opened, at_work, open};
use crate::marks;
use crate::photograph::{self, Doing};
use crate::trace_form::{self, Fields};
use crate::trouble::Failed;

/// The line above every page of a job.
pub(crate) fn entry_line(
    opened: &Opened,
    page: Page,
    asked: &Asked,
    fields: &Fields,
    heard: Markup,
) -> Markup {
    let number = &opened.number;
    html! {
        div.say {
            form.line method="get" action={ "/job/" (number) "/" (page.slug()) }
                data-heard={ "/job/" (number) "/heard" } data-page=(page.slug()) {
                label.unseen for="line" { "Say what you found" }
                input id="line" name="line" value=(asked.line) autocomplete="off" autocapitalize="off" spellcheck="false"
                    enterkeyhint="done" placeholder=(words::line::example(page));
                button.quiet { "Read" }
            }
            div.heard id="heard" aria-live="polite" { (heard) }
            (just_kept(opened, asked))
            @if page == Page::Wiring { (trace_form::forms(opened, fields)) }
        }
    }
}

/// What the form before this page kept. A file that cannot be shown is told with the reason.
pub(crate) fn just_kept(opened: &Opened, asked: &Asked) -> Markup {
    let Some(first) = asked.kept else { return html! {} };
    let link = |seq: u64| html! { a href={ "/job/" (opened.number) "/entry/" (seq) } { (seq) } };
    html! {
        p.kept role="status" {
            @match asked.until.filter(|last| *last > first) {
                None => { "Kept as entry " (link(first)) "." }
                Some(last) => { "Kept as entries " (link(first)) " to " (link(last)) "." }
            }
        }
        @for (seq, why) in &opened.not_shown {
            p.kept { "Of entry " (seq) " no preview can be shown: " (why) ". The file itself is kept as it came." }
        }
    }
}

/// How the line in the page's address was understood, where there is one: the way without the script.
pub(crate) async fn understood_here(
    workshop: &Arc<Workshop>,
    opened: &Opened,
    page: Page,
    line: &str,
    fields: &Fields,
) -> Result<Markup, Failed> {
    let from = SaidAt { page, beside: None, tracing: &fields.tracing };
    understood(workshop, opened, from, line).await
}

/// The same beside a photograph, to which the line leads back once it is kept.
pub(crate) async fn understood_beside(
    workshop: &Arc<Workshop>,
    opened: &Opened,
    beside: Beside,
    line: &str,
) -> Result<Markup, Failed> {
    let from = SaidAt { page: Page::Wiring, beside: Some(beside), tracing: "join" };
    understood(workshop, opened, from, line).await
}

/// A photograph beside which a line is said, and how near it is.
#[derive(Clone, Copy)]
pub(crate) struct Beside {
    pub(crate) photograph: u64,
    pub(crate) zoom: u32,
}

impl Beside {
    /// As a form carries it; `None` where it does not.
    fn carried(photograph: &str, zoom: &str) -> Option<Beside> {
        photograph.parse().ok().map(|photograph| Beside { photograph, zoom: marks::zoom(zoom) })
    }
}

/// From where a line is said, and so where it leads back to.
#[derive(Clone, Copy)]
struct SaidAt<'a> {
    page: Page,
    beside: Option<Beside>,
    /// The form whose fields made it; empty where it was typed.
    tracing: &'a str,
}

impl SaidAt<'_> {
    /// The address without what it carries.
    fn address(self, number: &str) -> String {
        match self.beside {
            Some(beside) => {
                photograph::address(number, beside.photograph, Doing::Looking, beside.zoom, "", "")
            }
            None => format!("/job/{number}/{}", self.page.slug()),
        }
    }
}

async fn understood(
    workshop: &Arc<Workshop>,
    opened: &Opened,
    from: SaidAt<'_>,
    line: &str,
) -> Result<Markup, Failed> {
    if line.trim().is_empty() {
        return Ok(html! {});
    }
    let (number, asked) = (opened.number.clone(), line.to_owned());
    let heard = at_work(Arc::clone(workshop), move |workshop| workshop.understand(&number, &asked)).await?;
    let number = &opened.number;
    Ok(match heard {
        Ok(heard) => {
            let said = words::line::heard(&heard, &opened.job);
            html! {
                span { "Understood:" }
                strong { (said.understood) }
                form.keep method="post" action={ "/job/" (number) "/say" } {
                    (hidden(line, from, &opened.draft))
                    button { "Keep" }
                }
                a.button.quiet.not-that href=(from.address(number)) { "Not that" }
                @if let Some(doubt) = &said.doubt { p.doubt { (doubt) } }
                @if let Some(evidence) = &said.evidence { p.doubt { (evidence) } }
            }
        }
        Err(error) => {
            let said = words::line::not_heard(&error, line);
            html! {
                p { strong { (said.sentence) } }
                pre aria-hidden="true" { (said.pointer) }
                @if !said.hints.is_empty() {
                    p { "Any of these would be right: "
                        @for (at, hint) in said.hints.iter().enumerate() {
                            @if at > 0 { ", " }
                            em { (hint) }
                        }
                        "."
                    }
                }
                form method="post" action={ "/job/" (number) "/note" } {
                    (hidden(line, from, &opened.draft))
                    button.quiet { "Keep it as a note" }
                }
            }
        }
    })
}

fn hidden(line: &str, from: SaidAt<'_>, draft: &str) -> Markup {
    html! {
        input type="hidden" name="line" value=(line);
        input type="hidden" name="page" value=(from.page.slug());
        @if let Some(beside) = from.beside {
            input type="hidden" name="photograph" value=(beside.photograph);
            input type="hidden" name="zoom" value=(beside.zoom);
        }
        @if !from.tracing.is_empty() { input type="hidden" name="tracing" value=(from.tracing); }
        input type="hidden" name="draft" value=(draft);
    }
}

/// What the script asks with.
#[derive(Deserialize)]
pub(crate) struct HeardQuery {
    #[serde(default)]
    line: String,
    #[serde(default)]
    page: String,
    #[serde(default)]
    photograph: String,
    #[serde(default)]
    zoom: String,
}

/// Answers how a line was understood, as the piece of page that the script puts in.
pub(crate) async fn heard(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Query(query): Query<HeardQuery>,
    Query(fields): Query<Fields>,
) -> Result<Markup, Failed> {
    let page = Page::from_slug(&query.page).unwrap_or(Page::Piece);
    let opened = open(Arc::clone(&workshop), number, &Asked::default()).await?;
    let beside = Beside::carried(&query.photograph, &query.zoom);
    let line = if query.line.is_empty() { fields.line() } else { query.line };
    let from = SaidAt { page, beside, tracing: &fields.tracing };
    understood(&workshop, &opened, from, &line).await
}

/// A line to keep.
#[derive(Deserialize)]
pub(crate) struct LineForm {
    line: String,
    #[serde(default)]
    page: String,
    #[serde(default)]
    draft: String,
    #[serde(default)]
    photograph: String,
    #[serde(default)]
    zoom: String,
    #[serde(default)]
    tracing: String,
}

/// Keeps a line.
pub(crate) async fn say(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Form(form): Form<LineForm>,
) -> Result<Response, Failed> {
    let page = Page::from_slug(&form.page).unwrap_or(Page::Piece);
    let asked = number.clone();
    let (line, brought) = (form.line.clone(), form.draft);
    let said = at_work(workshop, move |workshop| {
        workshop.left_at(&asked, page.slug())?;
        workshop.say(&asked, &line, &draft(workshop, &brought)?)
    })
    .await?;
    let beside = Beside::carried(&form.photograph, &form.zoom);
    let from = SaidAt { page, beside, tracing: &form.tracing };
    let here = from.address(&number);
    Ok(match said {
        // A form of fields is there again for the next line; what was kept stands below.
        Said::Kept { seq, .. } if beside.is_some() => {
            Redirect::to(&format!("{here}&kept={seq}")).into_response()
        }
        Said::Kept { seq, .. } if !from.tracing.is_empty() => {
            Redirect::to(&format!("{here}?kept={seq}&tracing={}", escaped(from.tracing))).into_response()
        }
        // At a viewing the thumb rests where the next check comes up.
        Said::Kept { seq, .. } if page == Page::Viewing => {
            Redirect::to(&format!("{here}?kept={seq}")).into_response()
        }
        Said::Kept { seq, .. } => Redirect::to(&format!("{here}?kept={seq}#entry-{seq}")).into_response(),
        Said::NotHeard(error) => {
            let said = words::line::not_heard(&error, &form.line);
            Failed::not_taken(said.sentence).into_response()
        }
    })
}

/// Keeps a line as a note, whatever it says. A note is of the whole piece, and shows on that page.
pub(crate) async fn note(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Form(form): Form<LineForm>,
) -> Result<Redirect, Failed> {
    let asked = number.clone();
    let seq = at_work(workshop, move |workshop| {
        workshop.left_at(&asked, Page::Piece.slug())?;
        workshop.keep_note(&asked, &form.line, &draft(workshop, &form.draft)?)
    })
    .await?;
    Ok(Redirect::to(&format!("/job/{number}/piece?kept={seq}#entry-{seq}")))
}
