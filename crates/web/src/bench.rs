//! The start page: each job, what it waits for, and a form to open one.

use std::sync::Arc;

use asfound_acts::{Card, NewJob, Workshop};
use asfound_words as words;
use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::Redirect;
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Form, Query, draft};
use crate::elsewhere;
use crate::frame::{Frame, Money};
use crate::job::at_work;
use crate::trouble::Failed;

/// How many places are shown that have the words looked for; the latest come first.
const MOST_FOUND: u32 = 50;

/// Draws the start page.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let (name, cards, from_elsewhere, draft) = at_work(workshop, |workshop| {
        Ok((workshop.name(), workshop.cards()?, workshop.from_elsewhere()?, workshop.draft_id()?))
    })
    .await?;
    let money = Some(Money::of(&headers));
    let frame = Frame { title: &format!("Bench · {name}"), here: "/", workshop: &name, money };
    let head = html! { div.who { h1 { "Bench" } span { (words::bench::count_of_jobs(cards.len())) } } p {} };
    let body = html! {
        main.one id="main" {
            @if cards.is_empty() {
                p.finding { "No job yet. Open the first one below: a title is enough." }
            } @else {
                ul.jobs {
                    @for card in &cards { li { (job_card(&card.number, card)) } }
                }
            }
            (elsewhere::listed(&from_elsewhere))
            (find_form(""))
            (new_job_form(&draft))
            (elsewhere::take_in_form())
        }
    };
    Ok(frame.draw(head, body))
}

/// A job's card. `number` is the one in its address.
pub(crate) fn job_card(number: &str, card: &Card) -> Markup {
    html! {
        a href={ "/job/" (number) } {
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
            label for="find" { "Find words in what was kept" }
            div.two {
                input id="find" name="words" type="search" value=(typed);
                div { button.quiet { "Find" } }
            }
        }
    }
}

fn new_job_form(draft: &str) -> Markup {
    html! {
        details {
            summary { "Open a job" }
            form method="post" action="/jobs" { (new_job_fields(draft, "")) button { "Open the job" } }
        }
    }
}

/// What can be said of a job when it is opened.
pub(crate) fn new_job_fields(draft: &str, title: &str) -> Markup {
    let field = |name: &str, label: &str| {
        html! { div.field { label for=(name) { (label) } input id=(name) name=(name) autocomplete="off"; } }
    };
    html! {
        input type="hidden" name="draft" value=(draft);
        div.field {
            label for="title" { "What the job is about (this alone is enough)" }
            input id="title" name="title" value=(title) required autocomplete="off";
        }
        div.two {
            (field("family", "Guitar, bass, amplifier"))
            (field("words", "The piece in plain words"))
            (field("maker", "Maker, as said by whom"))
            (field("serial", "Serial number as read, ? for signs not read"))
            (field("origin", "Where it came from, how it was found"))
            (field("owner", "Owner"))
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
    #[serde(default)]
    pub(crate) draft: String,
}

impl JobForm {
    /// What the form says, without a number: the next free one is given.
    pub(crate) fn new_job(self) -> NewJob {
        NewJob {
            number: String::new(),
            title: self.title,
            family: self.family,
            words: self.words,
            maker: self.maker,
            serial: self.serial,
            origin: self.origin,
            owner: self.owner,
        }
    }
}

/// Opens a job and goes to it.
pub(crate) async fn open_job(
    State(workshop): State<Arc<Workshop>>,
    Form(form): Form<JobForm>,
) -> Result<Redirect, Failed> {
    let number = at_work(workshop, move |workshop| {
        let draft = draft(workshop, &form.draft)?;
        workshop.open_job_once(&form.new_job(), &draft)
    })
    .await?;
    Ok(Redirect::to(&format!("/job/{number}/piece")))
}

#[derive(Deserialize)]
pub(crate) struct FindForm {
    #[serde(default)]
    words: String,
}

/// Kinds whose words may tell a sum; while money is hidden none of them is found.
const MONEY: [&str; 4] = ["money/1", "terms/1", "task/1", "hours/1"];

/// Finds words in everything that was kept.
pub(crate) async fn find(
    State(workshop): State<Arc<Workshop>>,
    Query(form): Query<FindForm>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let money = Money::of(&headers);
    let wanted = form.words.clone();
    let (name, rows) = at_work(workshop, move |workshop| {
        let mut rows = Vec::new();
        for hit in workshop.search(&wanted, MOST_FOUND)? {
            let hidden = money == Money::Hidden && MONEY.contains(&hit.kind.as_str());
            if let Some(number) = workshop.number_of(&hit.cite.chain, hit.variant)?.filter(|_| !hidden) {
                rows.push((number, hit.cite.seq, hit.excerpt));
            }
        }
        Ok((workshop.name(), rows))
    })
    .await?;
    let frame = Frame { title: "Found words", here: "/", workshop: &name, money: Some(money) };
    let head = html! { div.who { h1 { "Found words" } span { (rows.len()) @if rows.len() == 1 { " place" } @else { " places" } } } p {} };
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
