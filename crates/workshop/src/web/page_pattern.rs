//! Pattern: all the pages, watched step by step, handed out.

use super::answers::{Living, LivingLeaf};
use super::app::Opened;
use super::{page_sewn, shell, window};
use axum::Json;
use maud::{Markup, html};
use serde_json::{Map, Value as Json_};
use std::collections::{BTreeMap, BTreeSet};
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
        p.soft { "Each making as it was done on the virtual table: where the pieces lay, how they were turned, sewn, opened and pressed." }
        (page_sewn::player(opened))
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

/// The living pages: what each section's fingerprint is, the markup of those the window has not, and the colours that
/// their drawings call by name.
pub(super) fn living(opened: &Arc<Opened>, have: &str, show: &str) -> Json<Living> {
    opened.looked_at(show);
    let nothing_yet = have.is_empty();
    let have: BTreeSet<&str> = have.split(',').collect();
    let mut living = living_now(opened, &|print| have.contains(print), show);
    if nothing_yet {
        living.drawings = window::along(opened, &living.leaves, &mut BTreeSet::new());
    }
    Json(living)
}

/// The same for a window that has some of the leaves.
pub(super) fn living_now(opened: &Arc<Opened>, has: &dyn Fn(&str) -> bool, show: &str) -> Living {
    let moment = opened.moment();
    let worked = opened.worked();
    let leaves = worked.as_ref().map_or(Vec::new(), |worked| {
        worked
            .leaves
            .iter()
            .map(|leaf| LivingLeaf {
                name: leaf.name.clone(),
                print: leaf.print.clone(),
                markup: ((show == "*" || show == leaf.name) && !has(&leaf.print)).then(|| leaf.markup.clone()),
            })
            .collect()
    });
    let book = worked.as_ref().and_then(|worked| worked.book.as_ref());
    Living {
        revision: moment.revision.clone(),
        worked: worked.as_ref().map(|w| w.revision.clone()),
        whole: worked.as_ref().is_some_and(|w| w.whole),
        working: moment.design.is_ok() && worked.as_ref().is_none_or(|w| w.revision != moment.revision),
        undo: moment.undo.clone(),
        redo: moment.redo.clone(),
        standing: shell::standing(worked.as_deref(), &moment).into_string(),
        findings: shell::findings(worked.as_deref(), &moment).into_string(),
        makings: page_sewn::choices(worked.as_deref()).into_string(),
        colors: book.map(|book| book.colors.clone()),
        leaves,
        drawings: BTreeMap::new(),
    }
}

/// The insides of drawings by their fingerprints; those that are no longer on the pages are left out.
pub(super) fn drawings(opened: &Arc<Opened>, wanted: &str) -> Json<Json_> {
    let worked = opened.worked();
    let found: Map<String, Json_> = wanted
        .split(',')
        .filter_map(|print| {
            let inside = worked.as_ref()?.drawings.get(print)?;
            Some((print.to_string(), Json_::String(inside.clone())))
        })
        .collect();
    Json(Json_::Object(found))
}
