//! The entry line: how a line was understood, and keeping it.

use std::sync::Arc;

use asfound_acts::{Said, Workshop};
use asfound_words as words;
use asfound_words::page::Page;
use axum::extract::State;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Form, Path, Query, draft};
use crate::job::{Asked, Opened, at_work, open};
use crate::trouble::Failed;

/// The line above every page of a job.
pub(crate) fn entry_line(opened: &Opened, page: Page, asked: &Asked, heard: Markup) -> Markup {
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
        }
    }
}

/// What the form before this page kept. A file that cannot be shown is told with the reason.
fn just_kept(opened: &Opened, asked: &Asked) -> Markup {
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
    asked: &Asked,
) -> Result<Markup, Failed> {
    if asked.line.trim().is_empty() {
        return Ok(html! {});
    }
    understood(Arc::clone(workshop), opened, page, asked.line.clone()).await
}

async fn understood(
    workshop: Arc<Workshop>,
    opened: &Opened,
    page: Page,
    line: String,
) -> Result<Markup, Failed> {
    let (number, asked) = (opened.number.clone(), line.clone());
    let heard = at_work(workshop, move |workshop| workshop.understand(&number, &asked)).await?;
    let number = &opened.number;
    Ok(match heard {
        Ok(heard) => {
            let said = words::line::heard(&heard, &opened.job);
            html! {
                span { "Understood:" }
                strong { (said.understood) }
                form.keep method="post" action={ "/job/" (number) "/say" } {
                    (hidden(&line, page, &opened.draft))
                    button { "Keep" }
                }
                a.button.quiet.not-that href={ "/job/" (number) "/" (page.slug()) } { "Not that" }
                @if let Some(doubt) = &said.doubt { p.doubt { (doubt) } }
                @if let Some(evidence) = &said.evidence { p.doubt { (evidence) } }
            }
        }
        Err(error) => {
            let said = words::line::not_heard(&error, &line);
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
                    (hidden(&line, page, &opened.draft))
                    button.quiet { "Keep it as a note" }
                }
            }
        }
    })
}

fn hidden(line: &str, page: Page, draft: &str) -> Markup {
    html! {
        input type="hidden" name="line" value=(line);
        input type="hidden" name="page" value=(page.slug());
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
}

/// Answers how a line was understood, as the piece of page that the script puts in.
pub(crate) async fn heard(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Query(query): Query<HeardQuery>,
) -> Result<Markup, Failed> {
    let page = Page::from_slug(&query.page).unwrap_or(Page::Piece);
    let opened = open(Arc::clone(&workshop), number, &Asked::default()).await?;
    if query.line.trim().is_empty() {
        return Ok(html! {});
    }
    understood(workshop, &opened, page, query.line).await
}

/// A line to keep.
#[derive(Deserialize)]
pub(crate) struct LineForm {
    line: String,
    #[serde(default)]
    page: String,
    #[serde(default)]
    draft: String,
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
    let here = format!("/job/{number}/{}", page.slug());
    Ok(match said {
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
