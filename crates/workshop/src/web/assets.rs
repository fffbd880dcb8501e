//! The look and the browser's part, inside the program.

use crate::living::fingerprint;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use std::sync::LazyLock;

const CSS: &str = "text/css; charset=utf-8";
const JS: &str = "text/javascript; charset=utf-8";

const ALL: [(&str, &str, &str); 18] = [
    ("workshop.css", CSS, include_str!("../../assets/workshop.css")),
    ("wish.js", JS, include_str!("../../assets/wish.js")),
    ("living.js", JS, include_str!("../../assets/living.js")),
    ("draw.js", JS, include_str!("../../assets/draw.js")),
    ("quilt.js", JS, include_str!("../../assets/quilt.js")),
    ("free.js", JS, include_str!("../../assets/free.js")),
    ("pictures.js", JS, include_str!("../../assets/pictures.js")),
    ("tracing.js", JS, include_str!("../../assets/tracing.js")),
    ("controls.js", JS, include_str!("../../assets/controls.js")),
    ("views.js", JS, include_str!("../../assets/views.js")),
    ("hear.js", JS, include_str!("../../assets/hear.js")),
    ("sewn.js", JS, include_str!("../../assets/sewn.js")),
    ("hand-out.js", JS, include_str!("../../assets/hand-out.js")),
    ("words.js", JS, include_str!("../../assets/words.js")),
    ("svg.js", JS, include_str!("../../assets/svg.js")),
    ("placement.js", JS, include_str!("../../assets/placement.js")),
    ("print.js", JS, include_str!("../../assets/print.js")),
    ("shelf.js", JS, include_str!("../../assets/shelf.js")),
];

/// The look of the book's pages, kept within the living pattern.
static PAGES: LazyLock<String> = LazyLock::new(|| {
    let look = book::html_look().replace("body {", ":scope {");
    format!("@scope (.pages) {{\n{look}\n}}\n")
});

/// Fingerprint of all of them: the files of another program have another address, so that a browser may keep these for good.
static EDITION: LazyLock<String> = LazyLock::new(|| {
    let all = ALL.iter().map(|(_, _, text)| *text).chain([PAGES.as_str()]);
    fingerprint(&all.collect::<Vec<_>>().join("\n"))
});

/// Kept for a year, which is as long as is ever kept (RFC 9111), and never asked for again (RFC 8246).
const FOR_GOOD: &str = "max-age=31536000, immutable";

/// Where a file of the program's own is found.
pub(super) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", EDITION.as_str())
}

/// A file of the program's own, when there is one of this name.
pub(super) fn asset(edition: &str, name: &str) -> Option<Response> {
    let (kind, text) = match ALL.iter().find(|(known, ..)| *known == name) {
        Some((_, kind, text)) => (*kind, *text),
        None if name == "pages.css" => (CSS, PAGES.as_str()),
        None => return None,
    };
    // A page of an older program gets what there is, but is not to keep it.
    let keep = if edition == EDITION.as_str() {
        FOR_GOOD
    } else {
        "no-store"
    };
    Some(([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, keep)], text).into_response())
}
