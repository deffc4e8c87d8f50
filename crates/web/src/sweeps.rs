//! Measurements come in as files: a bridge's sweep, or two recordings through known resistors.

use std::sync::Arc;

use asfound_acts::{NewSweep, Workshop};
use asfound_words as words;
use asfound_words::page::Page;
use axum::extract::State;
use axum::extract::multipart::Field;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::asked::{Files, Path, draft};
use crate::job::{Opened, at_work};
use crate::pictures::broke_off;
use crate::trouble::Failed;

/// The form that takes a measurement in: plain, so that it works without the script.
pub(crate) fn form(opened: &Opened) -> Markup {
    let number = &opened.number;
    html! {
        details {
            summary { "Keep a sweep or two recordings" }
            form method="post" action={ "/job/" (number) "/sweep" } enctype="multipart/form-data" {
                input type="hidden" name="draft" value={ (opened.draft) "-sweep" };
                div.field {
                    label for="swept" { "Of which part" }
                    select id="swept" name="part" required {
                        @for (id, name) in words::page::part_names(&opened.job) { option value=(id) { (id) " · " (name) } }
                    }
                }
                div.field {
                    label for="files" { "The bridge’s file, or both recordings; anything is kept" }
                    input id="files" name="file" type="file" multiple required;
                }
                @for (id, label, example) in [
                    ("resistor-first", "First recording’s resistor, where recordings were made", "10k"),
                    ("resistor-second", "Second recording’s resistor", "100k"),
                    ("temperature", "How warm the part was", "21C"),
                ] {
                    div.field {
                        label for=(id) { (label) }
                        input id=(id) name=(id) autocomplete="off" placeholder=(example);
                    }
                }
                button { "Keep" }
                p.soft {
                    "Without a bridge: play the "
                    a href="/test-signal.wav" download="test-signal.wav" { "test signal" }
                    " at line level through a known resistor into the coil, out of its circuit, and record both ends of \
                     the resistor, its driven end first. Once more with another resistor."
                }
            }
        }
    }
}

/// Answers the test signal as a sound file.
pub(crate) async fn test_signal() -> Result<Response, Failed> {
    let made = tokio::task::spawn_blocking(asfound_study::sweep_files::test_signal).await;
    let bytes = made.map_err(|_| Failed::broke_off())?;
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static("audio/vnd.wave")),
        (header::CONTENT_DISPOSITION, HeaderValue::from_static("attachment; filename=\"test-signal.wav\"")),
    ];
    Ok((headers, bytes).into_response())
}

/// Takes a measurement in: all files of the form are one entry. What breaks off can be sent again, and is kept once.
pub(crate) async fn keep(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    Files(mut form): Files,
) -> Result<Redirect, Failed> {
    let mut new = NewSweep::default();
    let (mut first, mut second, mut brought) = (String::new(), String::new(), String::new());
    while let Some(field) = form.next_field().await.map_err(broke_off)? {
        match field.name().unwrap_or_default() {
            "part" => new.part = text(field).await?,
            "resistor-first" => first = text(field).await?,
            "resistor-second" => second = text(field).await?,
            "temperature" => new.temperature = text(field).await?,
            "draft" => brought = text(field).await?,
            "file" => {
                let name = field.file_name().unwrap_or("unnamed").to_owned();
                let bytes = field.bytes().await.map_err(broke_off)?;
                // A browser sends an empty file where none was chosen.
                if !bytes.is_empty() {
                    new.files.push((name, bytes.to_vec()));
                }
            }
            _ => {}
        }
    }
    if new.files.is_empty() {
        return Err(Failed::not_taken(
            "No file came with the form. Choose the sweep or both recordings first.",
        ));
    }
    new.resistors = vec![first, second];
    let asked = number.clone();
    let seq = at_work(workshop, move |workshop| {
        let draft = draft(workshop, &brought)?;
        workshop.keep_sweep(&asked, &new, Some(&draft))
    })
    .await?;
    Ok(Redirect::to(&format!("/job/{number}/{}?kept={seq}#entry-{seq}", Page::Readings.slug())))
}

async fn text(field: Field<'_>) -> Result<String, Failed> {
    field.text().await.map_err(broke_off)
}
