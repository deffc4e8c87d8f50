//! Pages and forms, on this machine's own address.
//!
//! A page shows a job as Found, Means, Next, with the entry line above. One design decision shapes the room: **a page is
//! a drawing of a [`Sheet`](asfound_words::sheet::Sheet)**. What it says was worked out by a study and put in words
//! before it came here, so that paper and page say the same; a page works nothing out. GET never changes anything; every
//! form works without the script; the script only makes the entry line quicker.
//!
//! Requests are refused unless `Host` is one of this machine's own names, and unless a form comes from our own pages
//! (`Sec-Fetch-Site`, or `Origin` against `Host`: <https://w3c.github.io/webappsec-fetch-metadata/>).

mod asked;
mod bench;
mod bench_sheet;
mod drawing_sheet;
mod elsewhere;
mod entries;
mod files;
mod frame;
mod guard;
mod job;
mod labels;
mod line;
mod marks;
mod photograph;
mod pictures;
mod plan;
mod rewiring_sheet;
mod sheet;
mod sweeps;
mod trace_form;
mod trouble;
mod viewing;
mod withhold;

use std::sync::Arc;

use asfound_acts::Workshop;
use axum::Router;
use axum::extract::{DefaultBodyLimit, FromRef};
use axum::routing::{get, post};
use tokio::net::TcpListener;
use tower_http::catch_panic::CatchPanicLayer;

use crate::pictures::Decoding;

/// The most that a form with files may carry, in bytes: a long video from a phone still fits.
const MOST_FILES: usize = 300_000_000;

/// The most that any other form may carry, in bytes: more than anybody types.
const MOST_WORDS: usize = 1_000_000;

/// What the handlers share.
#[derive(Clone)]
struct House {
    workshop: Arc<Workshop>,
    decoding: Decoding,
}

impl FromRef<House> for Arc<Workshop> {
    fn from_ref(house: &House) -> Arc<Workshop> {
        Arc::clone(&house.workshop)
    }
}

impl FromRef<House> for Decoding {
    fn from_ref(house: &House) -> Decoding {
        house.decoding.clone()
    }
}

/// All pages over one open workshop, for an address with this port.
pub fn pages(workshop: Arc<Workshop>, port: u16) -> Router {
    let files = Router::new()
        .route("/take-in", post(elsewhere::take_in))
        .route("/job/{number}/photograph", post(pictures::keep))
        .route("/job/{number}/sweep", post(sweeps::keep))
        .layer(DefaultBodyLimit::max(MOST_FILES));
    let router = Router::new()
        .route("/", get(bench::page))
        .route("/jobs", post(bench::open_job))
        .route("/money", post(frame::money))
        .route("/find", get(bench::find))
        .route("/job/{number}", get(job::return_to))
        .route("/job/{number}/history", get(job::history))
        .route("/job/{number}/lines", get(job::lines))
        .route("/job/{number}/bench-sheet", get(bench_sheet::page))
        .route("/job/{number}/check-sheet", get(bench_sheet::check))
        .route("/job/{number}/pocket-sheet", get(bench_sheet::pocket))
        .route("/job/{number}/drawing", get(drawing_sheet::page))
        .route("/job/{number}/proposal", get(plan::paper))
        .route("/job/{number}/rewiring-sheet/{id}", get(rewiring_sheet::page))
        .route("/job/{number}/heard", get(line::heard))
        .route("/job/{number}/say", post(line::say))
        .route("/job/{number}/note", post(line::note))
        .route("/job/{number}/decide", post(entries::decide))
        .route("/job/{number}/go-on", post(elsewhere::go_on))
        .route("/job/{number}/entry/{seq}", get(entries::page))
        .route("/job/{number}/entry/{seq}/correct", post(entries::correct))
        .route("/job/{number}/entry/{seq}/strike", post(entries::strike))
        .route("/job/{number}/entry/{seq}/withhold", post(withhold::withhold))
        .route("/job/{number}/photograph/{seq}", get(photograph::page))
        .route("/job/{number}/photograph/{seq}/press", get(marks::press))
        .route("/job/{number}/photograph/{seq}/mark", post(marks::make))
        .route("/job/{number}/{page}", get(job::page))
        .route("/picture/{hash}/{size}", get(pictures::preview))
        .route("/test-signal.wav", get(sweeps::test_signal))
        .route("/faces/{name}", get(files::face))
        .route("/style.css", get(files::style))
        .route("/script.js", get(files::script))
        .layer(DefaultBodyLimit::max(MOST_WORDS))
        .merge(files)
        .fallback(trouble::not_there)
        .method_not_allowed_fallback(trouble::not_so)
        .layer(CatchPanicLayer::custom(trouble::panicked))
        .with_state(House { workshop, decoding: Decoding::default() });
    guard::guarded(router, port)
}

/// Serves the pages until `stop` is done.
///
/// # Errors
/// Where the address cannot be listened on any more.
pub async fn serve(
    listener: TcpListener,
    workshop: Arc<Workshop>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let port = listener.local_addr()?.port();
    axum::serve(listener, pages(workshop, port)).with_graceful_shutdown(stop).await
}
