//! Faces, style and script, served by the program itself, so that a page needs no network.

use std::sync::LazyLock;

use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};

use crate::asked::Path;
use crate::trouble::Failed;

/// The style sheet, with what the plots need.
static STYLE: LazyLock<String> =
    LazyLock::new(|| format!("{}\n{}", include_str!("style.css"), asfound_plot::css()));
/// The page script.
const SCRIPT: &str = include_str!("script.js");

/// The addresses of style and script carry the release, so that a browser never shows an old one.
pub(crate) const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The serif faces come with the typesetter's assets, which hold several families; they are told apart by the name
/// that the font program itself carries.
fn serif(name: &str) -> Option<&'static [u8]> {
    typst_assets::fonts().find(|bytes| {
        bytes.starts_with(b"OTTO") && bytes.windows(name.len()).any(|window| window == name.as_bytes())
    })
}

static SERIF: LazyLock<Option<&'static [u8]>> = LazyLock::new(|| serif("LibertinusSerif-Regular"));
static SERIF_ITALIC: LazyLock<Option<&'static [u8]>> = LazyLock::new(|| serif("LibertinusSerif-Italic"));

/// Answers a face by its name.
pub(crate) async fn face(Path(name): Path<String>) -> Result<Response, Failed> {
    let found = match name.as_str() {
        "serif.otf" => SERIF.map(|bytes| (bytes, "font/otf")),
        "serif-italic.otf" => SERIF_ITALIC.map(|bytes| (bytes, "font/otf")),
        "sans.ttf" => Some((dejavu::sans::regular(), "font/ttf")),
        _ => None,
    };
    let (bytes, media) = found.ok_or_else(|| Failed::not_there("There is no face of this name."))?;
    Ok(lasting(bytes, media))
}

/// Answers the style sheet.
pub(crate) async fn style() -> Response {
    lasting(STYLE.as_bytes(), "text/css; charset=utf-8")
}

/// Answers the script.
pub(crate) async fn script() -> Response {
    lasting(SCRIPT.as_bytes(), "text/javascript; charset=utf-8")
}

fn lasting(bytes: &'static [u8], media: &'static str) -> Response {
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static(media)),
        (header::CACHE_CONTROL, HeaderValue::from_static("public, max-age=86400")),
    ];
    (headers, bytes).into_response()
}
