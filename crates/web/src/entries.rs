//! One entry by itself: what it says, what became of it, and how to correct it or strike it out.

use std::sync::Arc;

use asfound_acts::{Said, Workshop};
use asfound_words as words;
use asfound_words::page::{self, Page};
use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Form, Path, draft};
use crate::frame::{Frame, Money};
use crate::job::{Asked, Opened, at_work, job_head, open};
use crate::trouble::Failed;
use crate::{sheet, withhold};

/// Draws one entry with all that was said of it later.
pub(crate) async fn page(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    headers: HeaderMap,
) -> Result<Markup, Failed> {
    let opened = open(Arc::clone(&workshop), number.clone(), &Asked::default()).await?;
    let lines = page::one_entry(&opened.job, seq);
    let Some(line) = lines.iter().find(|line| line.seq == seq) else {
        return Err(Failed::not_there(format!(
            "Job {number} has no entry {seq}. Its history lists those there are."
        )));
    };
    let asked = number.clone();
    let handed_out = at_work(workshop, move |workshop| workshop.handed_out(&asked, seq)).await?;
    let here = format!("/job/{number}/entry/{seq}");
    let money = Money::of(&headers);
    let title = format!("Entry {seq} · {number}");
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money: Some(money) };
    // A sum is not shown in a field either.
    let again = if line.money && money == Money::Hidden { "" } else { &line.again };
    let body = html! {
        main.one id="main" {
            h2 { "Entry " (seq) }
            (sheet::found(&number, &lines, money))
            div.table tabindex="0" role="region" aria-label="How it stands in the chain" {
                table {
                    caption { "How it stands in the chain" }
                    @for (name, value) in page::chained(&opened.job, seq) {
                        tr { th scope="row" { (name) } td.figures { (value) } }
                    }
                }
            }
            @if !opened.from_elsewhere { (to_correct(&opened, seq, again)) }
            (withhold::form(&opened, seq, &handed_out))
        }
    };
    Ok(frame.draw(job_head(&opened, None), body))
}

/// The forms that say something of an entry and leave it as it is.
fn to_correct(opened: &Opened, seq: u64, again: &str) -> Markup {
    let here = format!("/job/{}/entry/{seq}", opened.number);
    html! {
        h3 { "Correct it" }
        p.soft { "The entry stays as it is; the correction stands beside it and is what counts." }
        form method="post" action={ (here) "/correct" } {
            div.field {
                label for="line" { "What is right, in the words of the entry line" }
                // A long line is seen whole on a narrow screen.
                textarea id="line" name="line" rows=(1 + again.chars().count() / 40) autocomplete="off" required { (again) }
            }
            input type="hidden" name="draft" value={ (opened.draft) "-correct" };
            button { "Keep the correction" }
        }
        h3 { "Strike it out" }
        form method="post" action={ (here) "/strike" } {
            div.field {
                label for="why" { "Why" }
                input id="why" name="why" autocomplete="off" required;
            }
            input type="hidden" name="draft" value={ (opened.draft) "-strike" };
            button.quiet { "Strike it out" }
        }
    }
}

#[derive(Deserialize)]
pub(crate) struct CorrectForm {
    line: String,
    #[serde(default)]
    draft: String,
}

/// The field may have been broken into lines to be read; an entry line is one.
fn in_one(line: &str) -> String {
    line.lines().map(str::trim).collect::<Vec<_>>().join(" ")
}

/// Keeps a correction.
pub(crate) async fn correct(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    Form(form): Form<CorrectForm>,
) -> Result<Response, Failed> {
    let asked = number.clone();
    let line = form.line.clone();
    let said = at_work(workshop, move |workshop| {
        workshop.correct(&asked, seq, &in_one(&form.line), &draft(workshop, &form.draft)?)
    })
    .await?;
    Ok(match said {
        Said::Kept { .. } => Redirect::to(&format!("/job/{number}/entry/{seq}")).into_response(),
        Said::NotHeard(error) => {
            Failed::not_taken(words::line::not_heard(&error, &line).sentence).into_response()
        }
    })
}

#[derive(Deserialize)]
pub(crate) struct StrikeForm {
    why: String,
    #[serde(default)]
    draft: String,
}

/// Strikes an entry out.
pub(crate) async fn strike(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    Form(form): Form<StrikeForm>,
) -> Result<Redirect, Failed> {
    let asked = number.clone();
    at_work(workshop, move |workshop| {
        workshop.strike(&asked, seq, &form.why, &draft(workshop, &form.draft)?)
    })
    .await?;
    Ok(Redirect::to(&format!("/job/{number}/entry/{seq}")))
}

#[derive(Deserialize)]
pub(crate) struct DecideForm {
    step: String,
    words: String,
    decision: String,
    page: String,
}

/// Keeps a decision on a step.
pub(crate) async fn decide(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Form(form): Form<DecideForm>,
) -> Result<Redirect, Failed> {
    if !["taken", "later", "done"].contains(&form.decision.as_str()) {
        return Err(Failed::not_taken("A step is taken up, put off, or done already."));
    }
    let page = Page::from_slug(&form.page).unwrap_or(Page::Piece);
    let asked = number.clone();
    at_work(workshop, move |workshop| {
        let draft = workshop.draft_id()?;
        workshop.decide(&asked, &form.step, &form.words, &form.decision, &draft)?;
        Ok(())
    })
    .await?;
    Ok(Redirect::to(&format!("/job/{number}/{}", page.slug())))
}
