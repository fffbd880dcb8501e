//! A new quilt from a drawing in SVG: brought or pasted, looked at, begun.

use super::app::App;
use super::routes::{of_shelf, refused};
use super::shell;
use crate::file::{Refused, is_name};
use crate::svg::{self, Brought, Said, Wanted};
use axum::Json;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use serde_json::json;

/// The page.
pub(super) async fn page() -> Markup {
    let most = svg::MOST_BYTES;
    shell::document(
        "From a drawing",
        &["svg.js"],
        html! {
            (shell::bar(None, "shelf", "A new quilt from a drawing"))
            main #work.shelf.from-drawing {
                h1 { "A new quilt from a drawing" }
                p { "Each closed outline with a plain fill becomes a patch, each colour a cloth. Draw one block." }
                div.two-sides {
                    form #drawing data-most=(most) {
                        label.file { "Drawing (SVG) " input #svg-file type="file" accept=".svg,image/svg+xml"; }
                        label { "or pasted here " textarea name="svg" rows="5" spellcheck="false" autocomplete="off" placeholder="<svg …>" {} }
                        fieldset { legend { "The block" }
                            label { "Width " input name="width" inputmode="decimal" value="12" required; }
                            label { "Height " input name="height" inputmode="decimal" placeholder="in proportion"; }
                            label { "Measured in " select name="metric" { option value="" { "inches" } option value="yes" { "centimetres" } } }
                            label { "Grid across " input name="across" inputmode="numeric" placeholder="found"; }
                            label { "Grid down " input name="down" inputmode="numeric" placeholder="found"; }
                            label { "The block is " select name="page" { option value="" { "what is drawn" } option value="yes" { "the whole page" } } }
                        }
                        fieldset { legend { "Where outlines do not fit" }
                            label { "They lie on one another: " select name="on_top" { option value="" { "tell me" } option value="yes" { "what is drawn later lies on top" } } }
                            label { "Something is open: " select name="ground" { option value="" { "tell me" } option value="yes" { "a ground cloth fills it" } } }
                        }
                        div.row {
                            label { "Name of the quilt " input name="name" required pattern="[a-z0-9][a-z0-9\\-]*" title="Small letters, digits and hyphens" placeholder="from-a-drawing"; }
                            button.primary { "Begin" }
                        }
                    }
                    section #seen aria-label="What was read" aria-live="polite" { p.empty { "Bring a drawing, or paste one; what becomes of it is shown here." } }
                }
            }
        },
    )
}

/// What would become of a drawing, to be looked at.
pub(super) async fn look(Json(wanted): Json<Wanted>) -> Markup {
    match brought(wanted).await {
        Ok(brought) => shown(&brought),
        Err(said) => html! { (list(std::slice::from_ref(&said))) },
    }
}

/// Begins the quilt.
pub(super) async fn begin(State(app): State<App>, Json(wanted): Json<Wanted>) -> Response {
    let name = wanted.name.trim().to_string();
    if !is_name(&name) {
        return of_words("not-a-name", &crate::file::ShelfError::NotAName.to_string());
    }
    let brought = match brought(Wanted {
        name: name.clone(),
        ..wanted
    })
    .await
    {
        Ok(brought) if brought.good => brought,
        Ok(brought) => {
            let stop = brought.said.iter().find(|said| said.stop);
            return of_words(
                "drawing-not-whole",
                &stop.map_or(String::new(), |said| format!("{} {}", said.words, said.mend)),
            );
        }
        Err(said) => return of_words(&said.code, &format!("{} {}", said.words, said.mend)),
    };
    match app.shelf.put_new(&name, &brought.text) {
        Ok(()) => Json(json!({ "to": format!("/quilts/{name}/draw/drawn") })).into_response(),
        Err(crate::file::ShelfError::Taken) => of_words("name-taken", &crate::file::ShelfError::Taken.to_string()),
        Err(error) => of_shelf(&error),
    }
}

fn of_words(code: &str, words: &str) -> Response {
    refused(&Refused {
        code: code.to_string(),
        words: words.to_string(),
    })
}

async fn brought(wanted: Wanted) -> Result<Brought, Said> {
    // A large drawing takes a while: it is read beside the other requests.
    let read = tokio::task::spawn_blocking(move || svg::bring(&wanted)).await;
    read.unwrap_or_else(|_| {
        Err(Said {
            code: "not-svg".into(),
            stop: true,
            words: "This drawing cannot be read.".into(),
            mend: "Save or copy it as plain SVG.".into(),
        })
    })
}

fn shown(brought: &Brought) -> Markup {
    html! {
        (PreEscaped(&brought.picture))
        p { (brought.words) ", " (brought.patches) @if brought.patches == 1 { " patch" } @else { " patches" } }
        div.swatches {
            @for (label, color) in &brought.cloths {
                span.inline { svg.chip viewBox="0 0 10 10" aria-hidden="true" { rect width="10" height="10" fill=(color) {} } (label) }
            }
        }
        @if brought.good { p.state.good { "✓ It fills the block." } }
        (list(&brought.said))
    }
}

fn list(said: &[Said]) -> Markup {
    html! {
        div.findings {
            @for one in said {
                div.finding.(if one.stop { "stop" } else { "note" }) data-code=(one.code) {
                    b { @if one.stop { "Stop" } @else { "Note" } }
                    p { (one.words) @if !one.mend.is_empty() { " " span.soft { (one.mend) } } }
                }
            }
        }
    }
}
