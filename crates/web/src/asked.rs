//! What an address and a form carry, read; and where it cannot be read, a page that says so.

use asfound_acts::Workshop;
use axum::extract::{FromRequest, FromRequestParts, Request};
use axum::http::StatusCode;
use axum::http::request::Parts;
use serde::de::DeserializeOwned;

use crate::trouble::Failed;

/// The changing parts of an address.
pub(crate) struct Path<T>(pub(crate) T);

/// What stands behind the question mark.
pub(crate) struct Query<T>(pub(crate) T);

/// The fields of a form.
pub(crate) struct Form<T>(pub(crate) T);

/// A form that carries files.
pub(crate) struct Files(pub(crate) axum::extract::Multipart);

impl<S: Send + Sync, T: DeserializeOwned + Send> FromRequestParts<S> for Path<T> {
    type Rejection = Failed;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Path<T>, Failed> {
        let read = axum::extract::Path::from_request_parts(parts, state).await;
        read.map(|axum::extract::Path(read)| Path(read)).map_err(|_| Failed::no_page())
    }
}

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for Query<T> {
    type Rejection = Failed;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Query<T>, Failed> {
        let read = axum::extract::Query::from_request_parts(parts, state).await;
        read.map(|axum::extract::Query(read)| Query(read)).map_err(|_| {
            let sentence =
                "What stands behind the question mark of this address cannot be read. Go back to the page.";
            Failed::new(StatusCode::BAD_REQUEST, sentence)
        })
    }
}

impl<S: Send + Sync, T: DeserializeOwned> FromRequest<S> for Form<T> {
    type Rejection = Failed;

    async fn from_request(request: Request, state: &S) -> Result<Form<T>, Failed> {
        let read = axum::extract::Form::from_request(request, state).await;
        read.map(|axum::extract::Form(read)| Form(read)).map_err(|why| match why.status() {
            StatusCode::PAYLOAD_TOO_LARGE => Failed::new(
                StatusCode::PAYLOAD_TOO_LARGE,
                "The form is too long. Keep long words as a file instead.",
            ),
            _ => Failed::not_taken(
                "The form came without one of its fields, so nothing was kept. Load its page again.",
            ),
        })
    }
}

impl<S: Send + Sync> FromRequest<S> for Files {
    type Rejection = Failed;

    async fn from_request(request: Request, state: &S) -> Result<Files, Failed> {
        let read = axum::extract::Multipart::from_request(request, state).await;
        read.map(Files).map_err(|_| {
            Failed::not_taken("The form carries no files, so nothing was kept. Load its page again.")
        })
    }
}

/// The draft id that a form brought, or a new one where it brought none: what such a form says is kept each time.
pub(crate) fn draft(workshop: &Workshop, brought: &str) -> Result<String, asfound_acts::ActError> {
    if brought.is_empty() { workshop.draft_id() } else { Ok(brought.to_owned()) }
}

/// Words as an address carries them behind its question mark (RFC 3986, 2.1 and 2.3).
pub(crate) fn escaped(text: &str) -> String {
    let sign = |byte: u8| match byte {
        b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => char::from(byte).to_string(),
        _ => format!("%{byte:02X}"),
    };
    text.bytes().map(sign).collect()
}
