//! Jobs from other workshops: taken in as a file, listed, read, and gone on from.

use std::sync::Arc;

use asfound_acts::{Elsewhere, Imported, Meeting, Workshop};
use axum::extract::State;
use axum::http::HeaderMap;
use axum::response::Redirect;
use maud::{Markup, html};

use crate::asked::{Files, Form, Path, draft};
use crate::bench::{JobForm, job_card, new_job_fields};
use crate::frame::{Frame, Money};
use crate::job::{Opened, at_work};
use crate::pictures::broke_off;
use crate::trouble::Failed;

/// Jobs from elsewhere as the bench lists them.
pub(crate) fn listed(jobs: &[Elsewhere]) -> Markup {
    html! {
        @if !jobs.is_empty() {
            h2 { "From other workshops, only read here" }
            ul.jobs {
                @for far in jobs {
                    li {
                        (job_card(&far.number, &far.card))
                        @if far.copy > 0 { p.caution { "This copy differs from the one that came first. Look at both." } }
                    }
                }
            }
        }
    }
}

/// The form that takes a file in.
pub(crate) fn take_in_form() -> Markup {
    html! {
        details {
            summary { "Take in a job from another workshop" }
            form method="post" action="/take-in" enctype="multipart/form-data" {
                div.field {
                    label for="lines" { "The job's file of lines, as it was taken out there" }
                    input id="lines" name="lines" type="file" required accept=".jsonl,application/jsonl,text/plain";
                }
                button { "Take it in" }
            }
        }
    }
}

/// What stands above a job from elsewhere, in the place of the entry line.
pub(crate) fn only_read(opened: &Opened) -> Markup {
    let title = opened.job.opened.as_ref().map_or("", |item| item.body.title.as_str());
    html! {
        div.say {
            p { "This job came from another workshop and is only read here." }
            details {
                summary { "Go on with the piece in a job of your own" }
                p { "The new job cites where this one ends. What is left empty is taken over as it was said there." }
                form method="post" action={ "/job/" (opened.number) "/go-on" } {
                    (new_job_fields(&opened.draft, title))
                    button { "Open the job" }
                }
            }
        }
    }
}

/// Opens a job of this workshop that goes on from another one.
pub(crate) async fn go_on(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Form(form): Form<JobForm>,
) -> Result<Redirect, Failed> {
    let number = at_work(workshop, move |workshop| {
        let draft = draft(workshop, &form.draft)?;
        workshop.go_on_from(&number, &form.new_job(), &draft)
    })
    .await?;
    Ok(Redirect::to(&format!("/job/{number}/piece")))
}

/// Takes a file in, and says what became of each chain in it.
pub(crate) async fn take_in(
    State(workshop): State<Arc<Workshop>>,
    headers: HeaderMap,
    Files(mut form): Files,
) -> Result<Markup, Failed> {
    let mut lines = None;
    while let Some(field) = form.next_field().await.map_err(broke_off)? {
        if field.name() == Some("lines") {
            lines = Some(field.bytes().await.map_err(broke_off)?);
        }
    }
    let lines =
        lines.ok_or_else(|| Failed::not_taken("No file came with the form. Choose the job's file first."))?;
    let text = String::from_utf8(lines.to_vec()).map_err(|_| {
        Failed::not_taken("This file is not text, so it holds no lines. Choose the job's file of lines.")
    })?;
    let (name, taken) = at_work(workshop, move |workshop| {
        let mut taken = Vec::new();
        for imported in workshop.take_in(&text)? {
            taken.push((workshop.number_of(&imported.chain, imported.variant)?, imported));
        }
        Ok((workshop.name(), taken))
    })
    .await?;
    let frame = Frame { title: "Taken in", here: "/", workshop: &name, money: Some(Money::of(&headers)) };
    let head = html! { div.who { h1 { "Taken in" } } p {} };
    let body = html! {
        main.one id="main" {
            @for (number, imported) in &taken {
                p.finding { (became(imported)) }
                @if let Some(why) = &imported.unfinished {
                    p.caution { "Traces of what it withholds are cleared at the next start. " (why) }
                }
                @if let Some(number) = number { p { a.button.quiet href={ "/job/" (number) } { "To the job" } } }
            }
            p { a.button href="/" { "To the bench" } }
        }
    };
    Ok(frame.draw(head, body))
}

/// What became of a chain, in a sentence.
fn became(imported: &Imported) -> String {
    match imported.meeting {
        Meeting::Same => "It was here already, entry for entry. Nothing was added.".to_owned(),
        Meeting::Shorter => "A longer copy of it was here already. Nothing was added.".to_owned(),
        Meeting::Extends { .. } if imported.added == 1 => {
            "One entry was taken in. It is only read here.".to_owned()
        }
        Meeting::Extends { .. } => {
            format!("{} entries were taken in. They are only read here.", imported.added)
        }
        Meeting::Differs { at_seq } => format!(
            "It differs from the copy that is here from entry {at_seq} on. It is kept beside that one, so that both can \
             be looked at."
        ),
        Meeting::OtherChain => "It belongs to another chain. Nothing was added.".to_owned(),
    }
}
