//! Files to take away: one at once, or an order that is made beside the requests and heard of step by step.

use super::app::{App, Opened};
use super::page_hand_out;
use super::page_shelf::trouble;
use crate::file::Refused;
use crate::handing::{Export, Handing, Order, Print, Progress, Ready};
use axum::Json;
use axum::body::{Body, Bytes};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use futures_util::{Stream, stream};
use serde::Deserialize;
use std::sync::Arc;
use std::time::Duration;
use tokio::io::AsyncReadExt;

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

/// The file of this name, in the quilt's own size, cloth and measure.
pub(super) async fn file(app: &App, quilt: &Arc<Opened>, file: &str, wanted: Wanted) -> Response {
    let Some(export) = Export::of_file(file) else {
        return (StatusCode::NOT_FOUND, trouble("Not found", "There is no such file.")).into_response();
    };
    let Ok(design) = quilt.moment().design else {
        return not_now("The file cannot be read at the moment; mend it first.");
    };
    let print = Print {
        left_handed: wanted.left == Yes::Yes,
        large: wanted.large == Yes::Yes,
    };
    let photos = app.photos.clone();
    // Setting pages takes a while: it is done beside the other requests.
    let made = tokio::task::spawn_blocking(move || {
        let ready = Ready::of(&design, &photos, || true).ok()?;
        export.make(&ready, None, print).ok()
    })
    .await;
    match made {
        Ok(Some(bytes)) => (away(export.kind(), &format!("{}-{file}", quilt.name)), bytes).into_response(),
        _ => not_now("There is no pattern to hand out yet: see what the checks say and mend it first."),
    }
}

fn not_now(words: &str) -> Response {
    (StatusCode::CONFLICT, trouble("Not yet", words)).into_response()
}

fn away(kind: &str, name: &str) -> [(header::HeaderName, String); 2] {
    [
        (header::CONTENT_TYPE, kind.to_string()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
    ]
}

/// Begins an order; a form without a script is shown the page again, a script is told how far it is.
pub(super) fn begin(app: &App, quilt: &Arc<Opened>, headers: &HeaderMap, form: &[(String, String)]) -> Response {
    let moment = quilt.moment();
    let begun = match &moment.design {
        Err(_) => Err(Refused::new(
            "file-is-broken",
            "The file cannot be read at the moment; mend it first.",
        )),
        Ok(design) => Order::of_form(design, form).and_then(|order| {
            let aside = app.shelf.aside();
            let beside = app.shelf.folder();
            (app.counter).begin(&quilt.name, &moment.revision, design.clone(), order, &aside, beside)
        }),
    };
    match begun {
        Ok(handing) => told(&quilt.name, headers, &handing.progress()),
        Err(refused) => {
            let status = match refused.code.as_str() {
                "handing-out" => StatusCode::CONFLICT,
                _ => StatusCode::UNPROCESSABLE_ENTITY,
            };
            if wants_json(headers) {
                (status, Json(refused)).into_response()
            } else {
                (status, trouble("That did not work", &refused.words)).into_response()
            }
        }
    }
}

/// Stops the order in hand at its next file.
pub(super) fn stop(app: &App, quilt: &Arc<Opened>, headers: &HeaderMap) -> Response {
    let handing = app.counter.of(&quilt.name);
    if let Some(handing) = &handing {
        handing.stop();
    }
    let progress = handing.map_or_else(Progress::default, |h| h.progress());
    told(&quilt.name, headers, &progress)
}

fn told(name: &str, headers: &HeaderMap, progress: &Progress) -> Response {
    if wants_json(headers) {
        (StatusCode::ACCEPTED, Json(progress)).into_response()
    } else {
        Redirect::to(&format!("/quilts/{name}/hand-out")).into_response()
    }
}

fn wants_json(headers: &HeaderMap) -> bool {
    let accept = headers.get(header::ACCEPT).and_then(|value| value.to_str().ok());
    accept.is_some_and(|kinds| kinds.split(',').any(|kind| kind.trim().starts_with("application/json")))
}

/// The steps of the quilt's orders, beginning with how it is now.
pub(super) fn progress(app: &App, name: &str) -> impl Stream<Item = String> + Send + use<> {
    let begun = (app.clone(), name.to_string(), None);
    stream::unfold(begun, |(app, name, heard)| async move {
        loop {
            let now = match app.counter.of(&name) {
                Some(handing) => match &heard {
                    Some((same, last)) if Arc::ptr_eq(same, &handing) => {
                        // A new order comes with a handing of its own, so what is waited for has an end.
                        let mut bell = handing.listen();
                        if *bell.borrow_and_update() == *last {
                            let _ = tokio::time::timeout(LOOK, bell.changed()).await;
                        }
                        let now = handing.progress();
                        if now == *last {
                            continue;
                        }
                        (handing, now)
                    }
                    _ => (handing.clone(), handing.progress()),
                },
                None => {
                    tokio::time::sleep(LOOK).await;
                    continue;
                }
            };
            let told = serde_json::to_string(&now.1).unwrap_or_default();
            return Some((told, (app, name, Some(now))));
        }
    })
}

/// How long a new order may stay unheard of.
const LOOK: Duration = Duration::from_millis(500);

/// The zip that is ready, piece by piece.
pub(super) async fn zip(app: &App, name: &str) -> Response {
    let ready = app
        .counter
        .of(name)
        .and_then(|h: Arc<Handing>| h.zip().map(std::path::Path::to_path_buf));
    let Some(place) = ready else {
        return not_now("No zip is ready. Make the files first.");
    };
    let Ok(file) = tokio::fs::File::open(&place).await else {
        return not_now("The zip is gone. Make the files again.");
    };
    let length = file.metadata().await.map_or(0, |about| about.len());
    let pieces = stream::unfold(Some(file), |file| async move {
        let mut file = file?;
        let mut piece = vec![0; 64 * 1024];
        match file.read(&mut piece).await {
            Ok(0) => None,
            Ok(read) => {
                piece.truncate(read);
                Some((Ok(Bytes::from(piece)), Some(file)))
            }
            Err(error) => Some((Err(error), None)),
        }
    });
    let mut response = (
        away("application/zip", &format!("{name}.zip")),
        Body::from_stream(pieces),
    )
        .into_response();
    response.headers_mut().insert(header::CONTENT_LENGTH, length.into());
    response
}

/// The page.
pub(super) fn page(app: &App, quilt: &Arc<Opened>) -> Response {
    page_hand_out::page(app, quilt).into_response()
}
