//! Watch it sewn: a making told to the window that plays it, and its strip to print.

use super::app::Opened;
use super::shell;
use crate::file::Photos;
use crate::handing::Print;
use crate::living::{InSight, Memory, Worked, work};
use crate::sewn;
use axum::Json;
use maud::{Markup, html};
use serde_json::Value;
use std::sync::Arc;

/// The player's place on a page: which unit, the hands, the stage, what is done.
pub(super) fn player(opened: &Opened) -> Markup {
    let worked = opened.worked();
    html! {
        div.sewn {
            label for="making" { "Unit" }
            select #making { (choices(worked.as_deref())) }
            a.button #strip href=(format!("/quilts/{}/strip/0", opened.name)) { "All steps on one page, to print" }
        }
        div.sewn role="group" aria-label="Watch it sewn" {
            button type="button" data-step="back" { "Back" }
            button type="button" data-step="play" aria-pressed="false" { "Play" }
            button type="button" data-step="on" { "On" }
            label { "Speed "
                select #pace {
                    option value="0.5" { "slow" }
                    option value="1" selected { "plain" }
                    option value="2" { "quick" }
                }
            }
            output #step-count {}
        }
        p #step-words.step-words aria-live="polite" { "Press Play, or On for one step at a time." }
        div #step.step-stage tabindex="0" role="group" aria-label="The table: left and right arrow for one step, space to play or to stop" {}
    }
}

/// The units that can be watched, as the choices of a list.
pub(super) fn choices(worked: Option<&Worked>) -> Markup {
    let source = worked.and_then(|worked| worked.source.as_ref());
    let all = source.map_or(Vec::new(), sewn::makings);
    html! {
        @for making in &all {
            option value=(making.number) {
                (making.title) @if making.count > 1 { " (make " (making.count) ")" }
            }
        }
    }
}

/// What became of the quilt last; worked out now when someone comes straight here, before anything was.
fn worked_out(opened: &Opened) -> Option<Arc<Worked>> {
    opened.worked().or_else(|| {
        let moment = opened.moment();
        let design = moment.design.ok()?;
        let edition = Print::default().edition(design.quilt.measure);
        let photos = Photos::of(opened.shelf.folder());
        let beside = (&photos, &mut Memory::default());
        let none = (InSight::default, drop::<Worked>, || ());
        work(&moment.revision, &design, &edition, beside, || true, none).map(Arc::new)
    })
}

/// The film of a making; `None` when there is none.
pub(super) fn film(opened: &Opened, number: usize) -> Option<Json<Value>> {
    let worked = worked_out(opened)?;
    sewn::told(worked.source.as_ref()?, number).map(Json)
}

/// The strip of a making; `None` when there is none.
pub(super) fn strip(opened: &Opened, number: usize) -> Option<Markup> {
    let worked = worked_out(opened)?;
    let (source, book) = (worked.source.as_ref()?, worked.book.as_ref()?);
    let strip = sewn::strip(source, book, number)?;
    let (_, film) = sewn::watched(source, number)?;
    let size = (film.bounds.1.x - film.bounds.0.x).max(film.bounds.1.y - film.bounds.0.y);
    let making = sewn::makings(source)
        .into_iter()
        .find(|making| making.number == number)?;
    let title = format!("{}: {}", source.pattern.recipe.title, making.title);
    Some(shell::document(
        &title,
        &["print.js"],
        html! {
            (shell::bar(None, "", &title))
            main #work.strip-page {
                h1 { (making.title) }
                p {
                    "Make " (making.count) ". "
                    @if strip.alike > 0 { "What is cut apart is shown once: do the same with each part. " }
                    (book.standing.words) "."
                }
                p.on-screen {
                    button type="button" data-print="" { "Print" } " "
                    a.button href=(format!("/quilts/{}/pattern", opened.name)) { "Back to the pattern" }
                }
                (sewn::wrong_side(size / 60.0))
                ol.strip {
                    @for panel in &strip.panels {
                        li {
                            figure { (panel.picture) }
                            @for (i, words) in panel.words.iter().enumerate() {
                                p { @if let (Some(number), 0) = (panel.number, i) { b { (number) ". " } } (words) }
                            }
                        }
                    }
                }
            }
        },
    ))
}
