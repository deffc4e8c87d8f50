//! Photographs come in and are shown.

use std::sync::Arc;

use asfound_acts::{PAGE_PIXELS, PhotographKept, Workshop};
use asfound_words as words;
use asfound_words::page::Page;
use axum::extract::State;
use axum::extract::multipart::MultipartError;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use tokio::sync::Semaphore;

use crate::asked::{Files, Path, draft};
use crate::job::{Opened, at_work};
use crate::trouble::Failed;

/// Previews come in these sizes, so that nobody can have the disk filled with others.
const SIZES: [u32; 4] = [480, PAGE_PIXELS, 1600, 3200];

/// How many pictures are decoded at once: each may take as much memory as its pixels.
const DECODERS: usize = 2;

/// The turns at decoding.
#[derive(Clone)]
pub(crate) struct Decoding(Arc<Semaphore>);

impl Default for Decoding {
    fn default() -> Decoding {
        Decoding(Arc::new(Semaphore::new(DECODERS)))
    }
}

impl Decoding {
    /// Runs work that decodes a picture. The turn goes with the work, which goes on where nobody waits for it any more.
    async fn at_work<T, F>(self, workshop: Arc<Workshop>, work: F) -> Result<T, Failed>
    where
        T: Send + 'static,
        F: FnOnce(&Workshop) -> Result<T, asfound_acts::ActError> + Send + 'static,
    {
        let turn = self.0.acquire_owned().await.map_err(|_| Failed::broke_off())?;
        at_work(workshop, move |workshop| {
            let done = work(workshop);
            drop(turn);
            done
        })
        .await
    }
}

/// The form that takes photographs in: plain, so that a phone's camera serves it without the script.
pub(crate) fn form(opened: &Opened, page: Page) -> Markup {
    let number = &opened.number;
    html! {
        details {
            summary { "Keep a photograph" }
            form method="post" action={ "/job/" (number) "/photograph" } enctype="multipart/form-data" {
                input type="hidden" name="page" value=(page.slug());
                input type="hidden" name="draft" value={ (opened.draft) "-photograph" };
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

/// What the form says before its files.
#[derive(Default)]
struct Said {
    part: Option<String>,
    caption: String,
    page: String,
    draft: String,
}

/// Takes photographs in. The other fields come before the files in the form. Each file is kept as it arrives, under
/// the form's draft id and its place in the form: what breaks off can be sent again, and is kept once.
pub(crate) async fn keep(
    State(workshop): State<Arc<Workshop>>,
    State(decoding): State<Decoding>,
    Path(number): Path<String>,
    Files(mut form): Files,
) -> Result<Redirect, Failed> {
    let mut said = Said::default();
    let mut kept: Vec<PhotographKept> = Vec::new();
    let mut place = 0;
    while let Some(field) = form.next_field().await.map_err(broke_off)? {
        match field.name().unwrap_or_default() {
            "part" => said.part = Some(field.text().await.map_err(broke_off)?).filter(|id| !id.is_empty()),
            "caption" => said.caption = field.text().await.map_err(broke_off)?,
            "page" => said.page = field.text().await.map_err(broke_off)?,
            "draft" => said.draft = field.text().await.map_err(broke_off)?,
            "file" => {
                let name = field.file_name().unwrap_or("unnamed").to_owned();
                let bytes = field.bytes().await.map_err(broke_off)?;
                place += 1;
                if bytes.is_empty() {
                    continue;
                }
                let (asked, part, caption, brought) =
                    (number.clone(), said.part.clone(), said.caption.clone(), said.draft.clone());
                let keeping = decoding.clone().at_work(Arc::clone(&workshop), move |workshop| {
                    let draft = format!("{}-{place}", draft(workshop, &brought)?);
                    workshop.keep_photograph(&asked, &name, &bytes, part.as_deref(), &caption, Some(&draft))
                });
                kept.push(keeping.await?);
            }
            _ => {}
        }
    }
    let (Some(first), Some(last)) = (kept.first(), kept.last()) else {
        return Err(Failed::not_taken("No file came with the form. Choose a photograph first."));
    };
    let page = Page::from_slug(&said.page).unwrap_or(Page::Piece).slug();
    let until = if last.seq > first.seq { format!("&until={}", last.seq) } else { String::new() };
    Ok(Redirect::to(&format!("/job/{number}/{page}?kept={}{until}#entry-{}", first.seq, last.seq)))
}

/// Why a form with files could not be read to its end.
pub(crate) fn broke_off(error: MultipartError) -> Failed {
    match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Failed::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            "The files are larger than 300 MB together. Those before the limit are kept; send the others one by one. \
             The most that one may have is 256 MB.",
        ),
        _ => Failed::not_taken(
            "The form broke off on its way. Send it once more: what was kept of it is not kept twice.",
        ),
    }
}

/// Answers a preview by the original's hash.
pub(crate) async fn preview(
    State(workshop): State<Arc<Workshop>>,
    State(decoding): State<Decoding>,
    Path((hash, size)): Path<(String, u32)>,
) -> Result<Response, Failed> {
    if !SIZES.contains(&size) {
        return Err(Failed::not_there("Previews come 480, 800, 1600 or 3200 pixels long."));
    }
    let asked = hash.clone();
    let bytes =
        match at_work(Arc::clone(&workshop), move |workshop| workshop.preview_made(&asked, size)).await? {
            Some(bytes) => bytes,
            None => decoding.at_work(workshop, move |workshop| workshop.preview(&hash, size)).await?,
        };
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static("image/jpeg")),
        (header::CACHE_CONTROL, HeaderValue::from_static("private, max-age=31536000, immutable")),
    ];
    Ok((headers, bytes).into_response())
}
