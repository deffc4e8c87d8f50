//! The start page: each job, what it waits for, and a form to open one.

use std::sync::Arc;

use asfound_acts::{Card, NewJob, Workshop};
use asfound_words as words;
use axum::extract::{Form, Query, State};
use axum::http::HeaderMap;
use axum::response::Redirect;
use maud::{Markup, html};
use serde::Deserialize;

use crate::frame::{Frame, Money};
use crate::job::at_work;
use crate::trouble::Failed;

/// Draws the start page.
pub(crate) async fn page(State(workshop): State<Arc<Workshop>>, headers: HeaderMap) -> Result<Markup, Failed> {
    let (name, cards) = at_work(workshop, |workshop| Ok((workshop.name(), workshop.cards()?))).await?;
    let frame = Frame { title: &format!("Bench · {name}"), here: "/", workshop: &name, money: Money::of(&headers) };
    let head = html! { div.who { h1 { "Bench" } span { (words::bench::count_of_jobs(cards.len())) } } p {} };
    let body = html! {
        main.one id="main" {
            @if cards.is_empty() {
                p.finding { "No job yet. Open the first one below: a title is enough." }
            }
            ul.jobs {
                @for card in &cards { li { (job_card(card)) } }
            }
            (find_form(""))
            (new_job_form())
        }
    };
    Ok(frame.draw(head, body))
}

fn job_card(card: &Card) -> Markup {
    html! {
        a href={ "/job/" (card.number) } {
            @if let Some(hash) = &card.photograph {
                img src={ "/picture/" (hash) "/480" } alt="" loading="lazy";
            }
            div.soft.figures { "job " (card.number) " · " (words::time::day(&card.last_at)) }
            h2 { (card.title) }
        }
        @if card.piece != card.title { p.soft { (card.piece) } }
        @if card.waits.is_empty() {
            p { (words::bench::NOTHING_WAITS) }
        } @else {
            ul.waits aria-label="Waits for" {
                @for waiting in card.waits.iter().take(4) { li { (words::bench::waiting(waiting)) } }
            }
        }
    }
}

fn find_form(typed: &str) -> Markup {
    html! {
        form.field method="get" action="/find" role="search" {
            label for="words" { "Find words in what was kept" }
            div.two {
                input id="words" name="words" type="search" value=(typed);
                div { button.quiet { "Find" } }
            }
        }
    }
}

fn new_job_form() -> Markup {
    let field = |name: &str, label: &str| {
        html! { div.field { label for=(name) { (label) } input id=(name) name=(name) autocomplete="off"; } }
    };
    html! {
        details {
            summary { "Open a job" }
            form method="post" action="/jobs" {
                div.field {
                    label for="title" { "What the job is about (this alone is enough)" }
                    input id="title" name="title" required autocomplete="off";
                }
                div.two {
                    (field("family", "Guitar, bass, amplifier"))
                    (field("words", "The piece in plain words"))
                    (field("maker", "Maker, as said by whom"))
                    (field("serial", "Serial number as read, ? for signs not read"))
                    (field("origin", "Where it came from, how it was found"))
                    (field("owner", "Owner"))
                }
                button { "Open the job" }
            }
        }
    }
}

#[derive(Deserialize)]
pub(crate) struct JobForm {
    title: String,
    #[serde(default)]
    family: String,
    #[serde(default)]
    words: String,
    #[serde(default)]
    maker: String,
    #[serde(default)]
    serial: String,
    #[serde(default)]
    origin: String,
    #[serde(default)]
    owner: String,
}

/// Opens a job and goes to it.
pub(crate) async fn open_job(
    State(workshop): State<Arc<Workshop>>,
    Form(form): Form<JobForm>,
) -> Result<Redirect, Failed> {
    let new = NewJob {
        number: String::new(),
        title: form.title,
        family: form.family,
        words: form.words,
        maker: form.maker,
        serial: form.serial,
        origin: form.origin,
        owner: form.owner,
    };
    let number = at_work(workshop, move |workshop| workshop.open_job(&new)).await?;
    Ok(Redirect::to(&format!("/job/{number}/piece")))
}

#[derive(Deserialize)]
pub(crate) struct FindForm {
    #[serde(default)]
    words: String,
}

/// Finds words in everything that was kept.
pub(crate) async fn find(
    State(workshop): State<Arc<Workshop>>,
    Query(form): Query<FindForm>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let wanted = form.words.clone();
    let (name, rows) = at_work(workshop, move |workshop| {
        let about = workshop.about()?;
        let found = workshop.search(&wanted, 50)?;
        let number = |chain: &str| {
            about.jobs.iter().find(|item| item.body.chain == chain).map(|item| item.body.number.clone())
        };
        let rows: Vec<_> =
            found.into_iter().filter_map(|hit| Some((number(&hit.cite.chain)?, hit.cite.seq, hit.excerpt))).collect();
        Ok((workshop.name(), rows))
    })
    .await?;
    let frame = Frame { title: "Found words", here: "/", workshop: &name, money: Money::of(&headers) };
    let head = html! { div.who { h1 { "Found words" } span { (rows.len()) " places" } } p {} };
    let body = html! {
        main.one id="main" {
            (find_form(&form.words))
            @if rows.is_empty() { p.finding { "Nothing kept so far has these words." } }
            @for (number, seq, excerpt) in &rows {
                div.entry {
                    span.soft.figures { (number) }
                    div { a href={ "/job/" (number) "/entry/" (seq) } { "entry " (seq) } " " (excerpt) }
                }
            }
        }
    };
    Ok(frame.draw(head, body))
}
