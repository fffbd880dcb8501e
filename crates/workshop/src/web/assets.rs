//! The look and the browser's part, inside the program.

use axum::http::header;
use axum::response::{IntoResponse, Response};

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

/// A file of the program's own, when there is one of this name.
pub(super) fn asset(name: &str) -> Option<Response> {
    if name == "pages.css" {
        return Some(([(header::CONTENT_TYPE, CSS)], scoped()).into_response());
    }
    ALL.iter()
        .find(|(known, ..)| *known == name)
        .map(|(_, kind, text)| ([(header::CONTENT_TYPE, *kind)], *text).into_response())
}

/// The look of the book's pages, kept within the living pattern.
fn scoped() -> String {
    format!(
        "@scope (.pages) {{\n{}\n}}\n",
        book::html_look().replace("body {", ":scope {")
    )
}
