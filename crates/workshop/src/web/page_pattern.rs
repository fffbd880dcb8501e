//! Pattern: all the pages, watched step by step, handed out.

use super::answers::{Living, LivingLeaf};
use super::app::Opened;
use super::shell;
use axum::Json;
use maud::{Markup, html};
use std::sync::Arc;

/// The page.
pub(super) fn page(opened: &Arc<Opened>, only_cloth: bool) -> Markup {
    let moment = opened.moment();
    let out = |file: &str| format!("/quilts/{}/out/{file}", opened.name);
    let side = html! {
        h2 { "Hand out" }
        form.hand-out method="get" action=(out("booklet.pdf")) {
            label { input type="checkbox" name="left" value="yes"; " For the left hand" }
            label { input type="checkbox" name="large" value="yes"; " Large print" }
            button { "Booklet (PDF)" }
            button formaction=(out("booklet.html")) { "Booklet (one page for the browser)" }
            button formaction=(out("cut-list.csv")) { "Cut list (spreadsheet)" }
            button formaction=(out("recipe.json")) { "Recipe (for other programs)" }
        }
        p { a.button href=(format!("/quilts/{}/hand-out", opened.name)) { "More: sizes, colourways, parts, all files at once" } }
        h2 { "Watch it sewn" }
        p.soft { "Step by step through what is sewn; each picture is what lay on the virtual table." }
        div.sewn role="group" aria-label="Watch it sewn" {
            button type="button" data-step="back" { "Back" }
            button type="button" data-step="play" aria-pressed="false" { "Play" }
            button type="button" data-step="on" { "On" }
            output #step-count {}
        }
        div #step.step-stage aria-live="polite" { p.soft { "Press On to begin." } }
    };
    if only_cloth {
        return side;
    }
    let title = moment
        .design
        .as_ref()
        .map_or(opened.name.clone(), |d| d.quilt.title.clone());
    shell::quilt_page(
        opened,
        &moment,
        "pattern",
        &title,
        "*",
        &["sewn.js", "controls.js", "words.js"],
        side,
    )
}

/// The living pages: what each section's fingerprint is, and the markup of those the window has not.
pub(super) fn living(opened: &Arc<Opened>, have: &str) -> Json<Living> {
    let moment = opened.moment();
    let worked = opened.worked();
    let had: Vec<&str> = have.split(',').collect();
    let leaves = worked.as_ref().map_or(Vec::new(), |worked| {
        worked
            .leaves
            .iter()
            .map(|leaf| LivingLeaf {
                name: leaf.name.clone(),
                print: leaf.print.clone(),
                markup: (!had.contains(&leaf.print.as_str())).then(|| leaf.markup.clone()),
            })
            .collect()
    });
    Json(Living {
        revision: moment.revision.clone(),
        worked: worked.as_ref().map(|w| w.revision.clone()),
        undo: moment.undo.clone(),
        redo: moment.redo.clone(),
        standing: shell::standing(worked.as_deref(), &moment).into_string(),
        findings: shell::findings(worked.as_deref(), &moment).into_string(),
        leaves,
    })
}
