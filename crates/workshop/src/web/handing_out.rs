//! Files to take away: the booklet and what goes with it, made when they are asked for.

use super::app::Opened;
use super::page_shelf::trouble;
use crate::living::{source_of, worked_edition};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use std::sync::Arc;

/// For whom.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub(super) struct Wanted {
    /// "yes" for the left hand.
    #[serde(default)]
    left: Yes,
    /// "yes" for large print.
    #[serde(default)]
    large: Yes,
}

/// A ticked box of a form.
#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
enum Yes {
    /// Ticked.
    Yes,
    /// Not.
    #[default]
    #[serde(other)]
    No,
}

/// The file of this name.
pub(super) async fn file(quilt: &Arc<Opened>, file: &str, wanted: Wanted) -> Response {
    let moment = quilt.moment();
    let Ok(design) = moment.design else {
        return not_now("The file cannot be read at the moment; mend it first.");
    };
    let file = file.to_string();
    let name = quilt.name.clone();
    let wanted_file = file.clone();
    // Setting pages takes a while: it is done beside the other requests.
    let made = tokio::task::spawn_blocking(move || {
        let edition = worked_edition(&design, wanted.left == Yes::Yes, wanted.large == Yes::Yes);
        let (source, pattern) = source_of(&design)?;
        Some(match wanted_file.as_str() {
            "booklet.pdf" => ("application/pdf", book::compose(&source, &edition).to_pdf().ok()?),
            "booklet.html" => (
                "text/html; charset=utf-8",
                book::compose(&source, &edition).to_html().into_bytes(),
            ),
            "cut-list.csv" => ("text/csv; charset=utf-8", book::cut_list_csv(&pattern).into_bytes()),
            "recipe.json" => ("application/json", pattern.to_json().into_bytes()),
            _ => return None,
        })
    })
    .await;
    match made {
        Ok(Some((kind, bytes))) => {
            let away = format!("attachment; filename=\"{name}-{file}\"");
            (
                [
                    (header::CONTENT_TYPE, kind.to_string()),
                    (header::CONTENT_DISPOSITION, away),
                ],
                bytes,
            )
                .into_response()
        }
        _ => not_now("There is no pattern to hand out yet: see what the checks say and mend it first."),
    }
}

fn not_now(words: &str) -> Response {
    (StatusCode::CONFLICT, trouble("Not yet", words)).into_response()
}
