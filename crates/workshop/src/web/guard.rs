//! The door: only this computer's own pages are let in. A page of another site that guesses the address is turned away by its
//! `Host` or its `Origin`, and nothing that is shown may load anything from elsewhere.

use super::routes::Hosts;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// What a page may load: this server's own files, and pictures written into the page. (By CSP 3 'self' takes in the WebSockets of the same
/// host and port.)
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; \
    form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// Lets a request in, or not, and marks what goes out.
pub(super) async fn guard(State(hosts): State<Hosts>, request: Request, next: Next) -> Response {
    let mut response = match admitted(&hosts, request.method(), request.headers()) {
        true => next.run(request).await,
        false => (
            StatusCode::FORBIDDEN,
            "This request does not come from the workshop's own pages, so it is not answered.",
        )
            .into_response(),
    };
    let headers = response.headers_mut();
    let fixed = |text: &'static str| HeaderValue::from_static(text);
    headers.insert(header::CONTENT_SECURITY_POLICY, fixed(POLICY));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, fixed("nosniff"));
    // With no referrer at all a browser hides where a form comes from, and the door would turn its own forms away.
    headers.insert(header::REFERRER_POLICY, fixed("same-origin"));
    headers.insert("cross-origin-opener-policy", fixed("same-origin"));
    headers.insert("cross-origin-resource-policy", fixed("same-origin"));
    headers.entry(header::CACHE_CONTROL).or_insert(fixed("no-store"));
    response
}

fn admitted(hosts: &Hosts, method: &Method, headers: &HeaderMap) -> bool {
    let text = |name: header::HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
    if !text(header::HOST).is_some_and(|host| hosts.know(host)) {
        return false;
    }
    // A WebSocket is opened by a GET that any page may send, and nothing keeps that page from hearing what is said on it.
    let listens = headers.contains_key(header::UPGRADE);
    if !listens && (method == Method::GET || method == Method::HEAD) {
        return true;
    }
    // Browsers name the page that writes; a program without a browser names none and is the owner's own.
    match text(header::ORIGIN) {
        Some(origin) => origin.strip_prefix("http://").is_some_and(|host| hosts.know(host)),
        None => headers
            .get("sec-fetch-site")
            .is_none_or(|site| site == "same-origin" || site == "none"),
    }
}
