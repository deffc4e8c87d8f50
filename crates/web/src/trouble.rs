//! Trouble, as a page with one sentence and the way on.

use std::any::Any;

use asfound_acts::{ActError, Trouble};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;

use crate::frame::Frame;

/// What a handler answers where it cannot do what was asked.
pub(crate) struct Failed(StatusCode, String);

impl From<ActError> for Failed {
    fn from(error: ActError) -> Failed {
        let status = match error.trouble() {
            Trouble::NotThere => StatusCode::NOT_FOUND,
            Trouble::NotTaken => StatusCode::UNPROCESSABLE_ENTITY,
            Trouble::Broken => StatusCode::INTERNAL_SERVER_ERROR,
        };
        Failed(status, error.to_string())
    }
}

impl Failed {
    /// With a status of its own.
    pub(crate) fn new(status: StatusCode, sentence: impl Into<String>) -> Failed {
        Failed(status, sentence.into())
    }

    /// A form that does not say what it must.
    pub(crate) fn not_taken(sentence: impl Into<String>) -> Failed {
        Failed(StatusCode::UNPROCESSABLE_ENTITY, sentence.into())
    }

    /// What is not there.
    pub(crate) fn not_there(sentence: impl Into<String>) -> Failed {
        Failed(StatusCode::NOT_FOUND, sentence.into())
    }

    /// An address that is none of ours.
    pub(crate) fn no_page() -> Failed {
        Failed::not_there("There is no page at this address. The bench lists all jobs.")
    }

    /// Work that broke off: a fault of the program.
    pub(crate) fn broke_off() -> Failed {
        let sentence = "The program broke off in the middle of this. Nothing that was kept is lost; go back and try once more.";
        Failed(StatusCode::INTERNAL_SERVER_ERROR, sentence.to_owned())
    }
}

impl IntoResponse for Failed {
    fn into_response(self) -> Response {
        let frame = Frame { title: "Not done", here: "/", workshop: "Bench", money: None };
        let page = frame.draw(
            html! { div.who { h1 { "Not done" } } },
            html! {
                main.one id="main" {
                    p.trouble role="alert" { (self.1) }
                    p { a.button href="/" { "To the bench" } }
                }
            },
        );
        (self.0, page).into_response()
    }
}

/// Any address that is none of ours.
pub(crate) async fn not_there() -> Failed {
    Failed::no_page()
}

/// An address of ours, asked for in another way than it can be.
pub(crate) async fn not_so() -> Failed {
    let sentence = "This address takes what a form sends and has no page of its own, or the other way round. Go to the bench.";
    Failed(StatusCode::METHOD_NOT_ALLOWED, sentence.to_owned())
}

/// A fault of the program, told plainly; what was kept before it stays kept.
pub(crate) fn panicked(_: Box<dyn Any + Send + 'static>) -> Response {
    Failed::broke_off().into_response()
}
