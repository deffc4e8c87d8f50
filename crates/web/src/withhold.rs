//! The content of an entry is taken out for good, and what a person should know then.

use std::sync::Arc;

use asfound_acts::{HandedOut, TakenOut, Workshop};
use asfound_words as words;
use axum::extract::State;
use axum::http::HeaderMap;
use maud::{Markup, html};
use serde::Deserialize;

use crate::asked::{Form, Path, draft};
use crate::frame::{Frame, Money};
use crate::job::{Asked, Opened, at_work, job_head, open};
use crate::trouble::Failed;

/// The form on an entry's page, folded away, since it is rarely needed and cannot be undone.
pub(crate) fn form(opened: &Opened, seq: u64, handed_out: &[HandedOut]) -> Markup {
    html! {
        details {
            summary { "Take its content out for good" }
            p {
                "The words, figures and photographs of this entry are erased from this workshop and cannot be brought \
                 back. Its place and its hash stay, so the chain still verifies and says that something is gone. Copies \
                 already handed out, and copies of this folder, are out of reach. Whether there is a duty to do this, or \
                 a duty not to, is a matter of local law."
            }
            (papers(handed_out))
            form method="post" action={ "/job/" (opened.number) "/entry/" (seq) "/withhold" } {
                div.two {
                    div.field {
                        label for="who" { "Who asked for it or ordered it" }
                        input id="who" name="who" autocomplete="off" required;
                    }
                    div.field {
                        label for="ground" { "On what ground" }
                        input id="ground" name="ground" autocomplete="off" required;
                    }
                }
                input type="hidden" name="draft" value={ (opened.draft) "-withhold" };
                button.quiet { "Take it out for good" }
            }
        }
    }
}

fn papers(handed_out: &[HandedOut]) -> Markup {
    html! {
        @if !handed_out.is_empty() {
            p { "These papers were issued when the entry stood already, and may tell what it says:" }
            ul {
                @for paper in handed_out {
                    li { (paper.title) ", " (words::time::day(&paper.at)) ", told in entry " (paper.seq) }
                }
            }
        }
    }
}

#[derive(Deserialize)]
pub(crate) struct WithholdForm {
    who: String,
    ground: String,
    #[serde(default)]
    draft: String,
}

/// Takes the content out, and answers with what became of it: a second press shows the same page and takes out nothing
/// more.
pub(crate) async fn withhold(
    State(workshop): State<Arc<Workshop>>,
    Path((number, seq)): Path<(String, u64)>,
    headers: HeaderMap,
    Form(form): Form<WithholdForm>,
) -> Result<Markup, Failed> {
    let asked = number.clone();
    let taken_out = at_work(Arc::clone(&workshop), move |workshop| {
        let draft = draft(workshop, &form.draft)?;
        workshop.withhold(&asked, seq, &form.who, &form.ground, &draft)
    })
    .await?;
    let opened = open(workshop, number.clone(), &Asked::default()).await?;
    let here = format!("/job/{number}/entry/{seq}");
    let money = Some(Money::of(&headers));
    let title = format!("Entry {seq} · {number}");
    let frame = Frame { title: &title, here: &here, workshop: &opened.workshop, money };
    Ok(frame.draw(job_head(&opened, None), done(&here, seq, &taken_out)))
}

fn done(here: &str, seq: u64, taken_out: &TakenOut) -> Markup {
    html! {
        main.one id="main" {
            h2 { "Entry " (seq) " is withheld" }
            p.finding { "Its content is gone, and entry " (taken_out.seq) " says so. The chain still verifies." }
            @if let Some(why) = &taken_out.unfinished {
                p.caution {
                    "Traces of it are still in the files, because something was in the way. They are cleared when the \
                     program is started the next time. " (why)
                }
            }
            @if !taken_out.still_shown.is_empty() {
                p { "Other entries show the same files, so these stay. Withhold those entries too if they must go:" }
                ul { @for hash in &taken_out.still_shown { li.figures { (hash) } } }
            }
            (papers(&taken_out.handed_out))
            p { a.button href=(here) { "To the entry" } }
        }
    }
}
