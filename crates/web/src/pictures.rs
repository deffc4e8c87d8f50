//! Photographs come in and are shown.

use std::sync::Arc;

use asfound_acts::Workshop;
use asfound_words as words;
use asfound_words::page::Page;
use axum::extract::{Multipart, Path, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};

use crate::job::{Opened, at_work};
use crate::trouble::Failed;

/// Previews come in these sizes, so that nobody can have the disk filled with others.
const SIZES: [u32; 3] = [480, 800, 1600];

/// The form that takes photographs in: plain, so that a phone's camera serves it without the script.
pub(crate) fn form(opened: &Opened, page: Page) -> Markup {
    let number = &opened.number;
    html! {
        details {
            summary { "Keep a photograph" }
            form method="post" action={ "/job/" (number) "/photograph" } enctype="multipart/form-data" {
                input type="hidden" name="page" value=(page.slug());
                div.field {
                    label for="part" { "Of which part" }
                    select id="part" name="part" {
                        option value="" { "The whole piece" }
                        @for (id, name) in words::page::part_names(&opened.job) { option value=(id) { (id) " · " (name) } }
                    }
                }
                div.field {
                    label for="caption" { "What it shows" }
                    input id="caption" name="caption" autocomplete="off";
                }
                div.field {
                    label for="file" { "Photographs or clips; anything is kept" }
                    input id="file" name="file" type="file" multiple accept="image/jpeg,image/png,image/webp,audio/*,video/*,*/*";
                }
                button { "Keep" }
            }
        }
    }
}

/// Takes photographs in. Parts and caption come before the files in the form.
pub(crate) async fn keep(
    State(workshop): State<Arc<Workshop>>,
    Path(number): Path<String>,
    mut form: Multipart,
) -> Result<Response, Failed> {
    let (mut part, mut caption, mut page) = (None, String::new(), Page::Piece);
    let mut kept = None;
    let too_long = |_| {
        Failed::not_taken("The form broke off, or the file is larger than 256 MB. Send it once more, or in smaller pieces.")
    };
    while let Some(field) = form.next_field().await.map_err(too_long)? {
        match field.name().unwrap_or_default() {
            "part" => part = Some(field.text().await.map_err(too_long)?).filter(|id| !id.is_empty()),
            "caption" => caption = field.text().await.map_err(too_long)?,
            "page" => page = Page::from_slug(&field.text().await.map_err(too_long)?).unwrap_or(Page::Piece),
            "file" => {
                let name = field.file_name().unwrap_or("unnamed").to_owned();
                let bytes = field.bytes().await.map_err(too_long)?;
                if bytes.is_empty() {
                    continue;
                }
                let (asked, of, says) = (number.clone(), part.clone(), caption.clone());
                let done = at_work(Arc::clone(&workshop), move |workshop| {
                    workshop.keep_photograph(&asked, &name, &bytes, of.as_deref(), &says, None)
                })
                .await?;
                kept = Some(done);
            }
            _ => {}
        }
    }
    let Some(done) = kept else {
        return Err(Failed::not_taken("No file came with the form. Choose a photograph first."));
    };
    Ok(Redirect::to(&format!("/job/{number}/{}?kept={seq}#entry-{seq}", page.slug(), seq = done.seq)).into_response())
}

/// Answers a preview by the original's hash.
pub(crate) async fn preview(
    State(workshop): State<Arc<Workshop>>,
    Path((hash, size)): Path<(String, u32)>,
) -> Result<Response, Failed> {
    if !SIZES.contains(&size) {
        return Err(Failed::not_there("Previews come 480, 800 or 1600 pixels long."));
    }
    let bytes = at_work(workshop, move |workshop| workshop.preview(&hash, size)).await?;
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static("image/jpeg")),
        (header::CACHE_CONTROL, HeaderValue::from_static("private, max-age=31536000, immutable")),
    ];
    Ok((headers, bytes).into_response())
}
