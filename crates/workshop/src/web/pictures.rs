//! Pictures brought to the workshop and shown by it.

use super::app::App;
use super::routes::{of_shelf, refused};
use crate::file::{Refused, ShelfError};
use crate::pictures::{self, Picture, PictureError, Traced, Tracing, measured};
use axum::Json;
use axum::body::Bytes;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::json;

/// A picture beside the quilts.
pub(super) async fn show(State(app): State<App>, Path((_, file)): Path<(String, String)>) -> Response {
    let read = tokio::task::spawn_blocking(move || app.shelf.picture(&file)).await;
    match read {
        Ok(Ok(bytes)) => match measured(&bytes) {
            // Its name is of its bytes, so what was fetched once stays right; one put there by hand may be another tomorrow.
            Some((kind, _)) => (
                [(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "no-cache")],
                bytes,
            )
                .into_response(),
            None => of_shelf(&ShelfError::Missing),
        },
        Ok(Err(error)) => of_shelf(&error),
        Err(_) => of_shelf(&ShelfError::Missing),
    }
}

#[derive(Deserialize)]
pub(super) struct Of {
    #[serde(default)]
    of: String,
}

async fn decoded(bytes: Bytes) -> Result<Picture, PictureError> {
    let unread = PictureError {
        code: "not-a-picture",
        words: "This picture could not be read.".to_string(),
    };
    tokio::task::spawn_blocking(move || pictures::decode(&bytes))
        .await
        .unwrap_or(Err(unread))
}

fn not_taken(error: PictureError) -> Response {
    let status = match error.code {
        "picture-too-large" => StatusCode::PAYLOAD_TOO_LARGE,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    (status, Json(json!({ "code": error.code, "words": error.words }))).into_response()
}

/// Keeps a picture; the answer is its name and its pixels.
pub(super) async fn keep(
    State(app): State<App>,
    Path(name): Path<String>,
    Query(query): Query<Of>,
    bytes: Bytes,
) -> Response {
    if let Err(error) = app.quilt(&name) {
        return of_shelf(&error);
    }
    let picture = match decoded(bytes).await {
        Ok(picture) => picture,
        Err(error) => return not_taken(error),
    };
    match app.shelf.put_picture(&query.of, &picture) {
        Ok(file) => Json(json!({ "picture": file, "width": picture.size.0, "height": picture.size.1 })).into_response(),
        Err(error) => refused(&Refused {
            code: "not-saved".into(),
            words: error.to_string(),
        }),
    }
}

/// The main colours of a photograph; it is not kept.
pub(super) async fn colours(State(app): State<App>, Path(name): Path<String>, bytes: Bytes) -> Response {
    if let Err(error) = app.quilt(&name) {
        return of_shelf(&error);
    }
    match decoded(bytes).await {
        Ok(picture) => {
            let found = tokio::task::spawn_blocking(move || pictures::main_colours(&picture.image)).await;
            Json(json!({ "colours": found.unwrap_or_default() })).into_response()
        }
        Err(error) => not_taken(error),
    }
}

/// Lays a picture beneath a block, or takes it away (`null`).
pub(super) async fn trace(
    State(app): State<App>,
    Path((name, block)): Path<(String, String)>,
    Json(wanted): Json<Option<Traced>>,
) -> Response {
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    let known = quilt.moment().design.is_ok_and(|design| design.block(&block).is_some());
    let sound = wanted
        .as_ref()
        .is_none_or(|traced| traced.sound() && app.shelf.picture(&traced.picture).is_ok());
    if !known || !sound {
        return refused(&Refused {
            code: "no-tracing".into(),
            words: "This picture cannot be laid beneath the block: its measures are out of reason, or it is not there."
                .into(),
        });
    }
    let place = app.shelf.tracing(&name);
    let mut tracing = Tracing::read(&place);
    match wanted {
        Some(traced) => tracing.0.insert(block, traced),
        None => tracing.0.remove(&block),
    };
    match tracing.keep(&place) {
        Ok(()) => Json(json!({})).into_response(),
        Err(error) => refused(&Refused {
            code: "not-saved".into(),
            words: format!("It could not be kept: {error}."),
        }),
    }
}

/// A block has another name: what lies beneath it goes along. A quilt without it is still a quilt, so nothing is told when that fails.
pub(super) fn renamed(app: &App, quilt: &str, from: &str, to: &str) {
    let place = app.shelf.tracing(quilt);
    let mut tracing = Tracing::read(&place);
    if let Some(traced) = tracing.0.remove(from) {
        tracing.0.insert(to.to_string(), traced);
        let _ = tracing.keep(&place);
    }
}
