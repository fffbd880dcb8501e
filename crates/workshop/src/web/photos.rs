//! Photographs of blocks: shown, and kept beside the quilt's file when one is sent.

use super::app::{App, Moment, Opened};
use super::routes;
use crate::file::{PhotoFault, Refused, Step, Wish};
use axum::Json;
use axum::body::Bytes;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde_json::json;
use std::sync::Arc;

/// The photograph of a block, as it is printed.
pub(super) async fn photo(app: &App, quilt: &Arc<Opened>, block: &str) -> Response {
    let design = quilt.moment().design.ok();
    let name = design.and_then(|design| design.block(block).map(|block| block.photo.clone()));
    let Some(name) = name.filter(|name| !name.is_empty()) else {
        return refused(&PhotoFault::Missing);
    };
    let photos = app.photos.clone();
    match tokio::task::spawn_blocking(move || photos.photo(&name)).await {
        Ok(Ok(shown)) => (
            [(header::CONTENT_TYPE, shown.kind.media())],
            Bytes::from_owner(shown.bytes),
        )
            .into_response(),
        Ok(Err(fault)) => refused(&fault),
        Err(_) => refused(&PhotoFault::Unreadable),
    }
}

/// Keeps a photograph and has the file name it.
pub(super) async fn keep(
    app: &App,
    quilt: &Arc<Opened>,
    block: &str,
    base: &str,
    bytes: Bytes,
) -> Result<Moment, Response> {
    let design = quilt.moment().design;
    let index = (design.ok()).and_then(|d| d.blocks.iter().position(|b| b.name == block && !block.contains('/')));
    let Some(index) = index else {
        return Err(routes::refused(&Refused::new(
            "nothing-there",
            "There is no block of this name any more.",
        )));
    };
    let photos = app.photos.clone();
    let of = block.to_string();
    // Looking at a picture takes a while: it is done beside the other requests.
    let kept = tokio::task::spawn_blocking(move || photos.keep(&of, &bytes)).await;
    let name = match kept {
        Ok(Ok(name)) => name,
        Ok(Err(fault)) => return Err(refused(&fault)),
        Err(_) => return Err(refused(&PhotoFault::Unreadable)),
    };
    let wish = Wish::Set {
        at: vec![Step::Key("block".into()), Step::Index(index), Step::Key("photo".into())],
        to: json!(name),
    };
    app.grant(quilt, base, &wish).map_err(|why| routes::refused(&why))
}

/// Why there is none, or none is taken.
pub(super) fn refused(fault: &PhotoFault) -> Response {
    let status = match fault {
        PhotoFault::Missing => StatusCode::NOT_FOUND,
        PhotoFault::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
        PhotoFault::TooManyPixels | PhotoFault::Unreadable => StatusCode::UNPROCESSABLE_ENTITY,
        PhotoFault::Io(_) => StatusCode::INSUFFICIENT_STORAGE,
    };
    let words = match fault {
        PhotoFault::Missing => "There is no photograph of this block.".to_string(),
        fault => format!("This picture is not taken: {fault}."),
    };
    (status, Json(json!({ "code": fault.code(), "words": words }))).into_response()
}
