//! Hand out: which sizes, cloths, measures, parts and files; how far they are; the zip to take away.

use super::app::{App, Opened};
use super::shell::{self, capital};
use super::swatch;
use crate::handing::{Export, Progress, State};
use design::Design;
use maud::{Markup, html};
use std::sync::Arc;

/// The page.
pub(super) fn page(app: &App, opened: &Arc<Opened>) -> Markup {
    let moment = opened.moment();
    let title = moment
        .design
        .as_ref()
        .map_or(opened.name.clone(), |d| d.quilt.title.clone());
    let progress = app
        .counter
        .of(&opened.name)
        .map_or_else(Progress::default, |h| h.progress());
    let stale = progress.state == State::Ready && progress.revision != moment.revision;
    shell::document(
        &format!("Hand out {title}"),
        &["hand-out.js"],
        html! {
            (shell::bar(Some((opened, &moment)), "pattern", &title))
            main #work.shelf data-quilt=(opened.name) {
                h2.first { "Hand out" }
                (how_far(opened, &progress, stale))
                @match &moment.design {
                    Ok(design) => (choices(opened, design)),
                    Err(_) => p.empty { "The file cannot be read at the moment. Mend it first; its other places say what is wrong." },
                }
                p { a.button href=(format!("/quilts/{}/pattern", opened.name)) { "Back to the pattern" } }
            }
        },
    )
}

/// How far the order in hand is; what does not apply is hidden, so that a script need only say what changed.
fn how_far(opened: &Opened, progress: &Progress, stale: bool) -> Markup {
    let busy = progress.state.is_busy();
    let zip = progress.state == State::Ready && progress.folder.is_none();
    let at = |what: &str| format!("/quilts/{}/hand-out/{what}", opened.name);
    html! {
        section #how-far.how-far aria-label="How far it is" data-state=(state_word(progress.state)) hidden[progress.state == State::None] {
            p #how-far-words role="status" { (progress.words) }
            progress #how-far-bar aria-label="Files made" max=(progress.of.max(1)) value=(progress.done) hidden[!busy] {}
            p.soft #how-far-count hidden[!busy] { (progress.done) " of " (progress.of) }
            ul #how-far-notes { @for note in &progress.notes { li { (note) } } }
            p.soft #how-far-stale hidden[!stale] { "The quilt was changed since these were made." }
            div.row {
                form #stop method="post" action=(at("stop")) hidden[!busy] { button { "Stop" } }
                a #take.button.primary href=(at("zip")) download="" hidden[!zip] { "Download the zip" }
                @if busy { noscript { a.button href="" { "See how far it is now" } } }
            }
        }
    }
}

fn state_word(state: State) -> &'static str {
    match state {
        State::None => "none",
        State::Working => "working",
        State::Stopping => "stopping",
        State::Stopped => "stopped",
        State::Ready => "ready",
        State::Failed => "failed",
    }
}

fn choices(opened: &Opened, design: &Design) -> Markup {
    let metric = design.quilt.measure == measure::Measure::Metric;
    let parts: Vec<String> = match opened.worked() {
        Some(worked) => worked.parts.clone(),
        None => design.parts.iter().map(|part| part.name.clone()).collect(),
    };
    let tick = |name: &str, value: &str, on: bool, words: String| {
        html! { label { input type="checkbox" name=(name) value=(value) checked[on]; " " (words) } }
    };
    html! {
        form #order.order method="post" action=(format!("/quilts/{}/hand-out", opened.name)) {
            p.soft { "One file is made for each choice together with each other. Where nothing is ticked, the quilt's own is taken." }
            fieldset { legend { "Sizes" }
                @for size in design.size_names() {
                    (tick("size", size, size == design.default_size(), size_words(design, size)))
                }
            }
            fieldset { legend { "Cloth" }
                (tick("colorway", "", true, "As listed".into()))
                @for colorway in &design.colorways { (tick("colorway", &colorway.name, false, capital(&colorway.name))) }
            }
            fieldset { legend { "Measure" }
                (tick("measure", "inch", !metric, "Inches, on letter paper".into()))
                (tick("measure", "metric", metric, "Centimetres, on A4".into()))
            }
            @if !parts.is_empty() {
                fieldset { legend { "Parts" }
                    (tick("part", "whole", true, "The whole pattern".into()))
                    @for (i, part) in parts.iter().enumerate() { (tick("part", &(i + 1).to_string(), false, format!("{}: {part}", i + 1))) }
                }
            }
            fieldset { legend { "Hands and print" }
                (tick("hand", "right", true, "Right hand".into()))
                (tick("hand", "left", false, "Left hand".into()))
                (tick("print", "usual", true, "Usual print".into()))
                (tick("print", "large", false, "Large print".into()))
            }
            fieldset { legend { "Files" }
                @for export in Export::ALL { (tick("file", export.file(), true, export.words().into())) }
            }
            fieldset { legend { "Where to" }
                label { input type="radio" name="to" value="zip" checked; " A zip to download" }
                label { input type="radio" name="to" value="folder"; " The folder " (opened.name) "-handed-out beside the quilt" }
            }
            button.primary { "Make the files" }
        }
    }
}

fn size_words(design: &Design, name: &str) -> String {
    let Some(sized) = design.at_size(name) else {
        return capital(name);
    };
    let (width, height) = sized.top_size();
    let told = |length: f64| swatch::told(design, length);
    format!(
        "{}, {} × {} {}",
        capital(name),
        told(width),
        told(height),
        swatch::unit(design).0
    )
}
