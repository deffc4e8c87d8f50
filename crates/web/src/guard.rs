//! Who may ask: this machine, under its own name.
//!
//! A page on the network that points a name at this machine sends a foreign `Host`; a form on such a page sends a
//! foreign `Origin`. Both are refused.

use axum::Router;
use axum::extract::{Request, State};
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use tower_http::csrf::{CsrfLayer, ProtectionError};

/// Nothing from elsewhere is loaded, and no page frames ours.
const POLICY: &str = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'";

/// Lays the guards around the pages. The port is the one that the program listens on.
pub(crate) fn guarded(router: Router, port: u16) -> Router {
    router
        .layer(CsrfLayer::new().with_rejection_response(from_elsewhere))
        .layer(middleware::from_fn_with_state(port, only_own_names))
        .layer(middleware::map_response(with_headers))
}

/// The names under which this machine may be asked.
fn own_names(port: u16) -> [String; 3] {
    [format!("127.0.0.1:{port}"), format!("localhost:{port}"), format!("[::1]:{port}")]
}

async fn only_own_names(State(port): State<u16>, request: Request, next: Next) -> Response {
    let host = request.headers().get(header::HOST).and_then(|value| value.to_str().ok());
    let own = host.is_some_and(|host| own_names(port).iter().any(|name| name.eq_ignore_ascii_case(host)));
    if own {
        return next.run(request).await;
    }
    let sentence = format!("This workshop answers only to its own address, http://127.0.0.1:{port}/.\n");
    (StatusCode::MISDIRECTED_REQUEST, sentence).into_response()
}

/// What a form from another page is answered.
fn from_elsewhere(_: ProtectionError) -> Response {
    let sentence = "This form does not come from a page of this workshop, so nothing was done.\n";
    (StatusCode::FORBIDDEN, sentence).into_response()
}

async fn with_headers(mut response: Response) -> Response {
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    // A page from elsewhere cannot show our pictures either.
    let resource_policy = HeaderName::from_static("cross-origin-resource-policy");
    headers.insert(resource_policy, HeaderValue::from_static("same-origin"));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("same-origin"));
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}
