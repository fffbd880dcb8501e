//! What every page has: the bar of places, the standing, the two sides, what the checks say.

use super::app::{Moment, Opened};
use super::assets::address;
use crate::living::Worked;
use design::Design;
use maud::{DOCTYPE, Markup, html};
use std::sync::Arc;
use terms::{Finding, Place, Severity};

/// The places of the bar: code and word.
const PLACES: [(&str, &str); 4] = [
    ("draw", "Draw"),
    ("quilt", "Quilt"),
    ("cloth", "Cloth"),
    ("pattern", "Pattern"),
];

/// A page around its inside.
pub(super) fn document(title: &str, scripts: &[&str], inside: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Scantling" }
                link rel="icon" href="data:,";
                // What the others begin with, so that it is not found out file by file.
                @if scripts.contains(&"living.js") {
                    link rel="modulepreload" href=(address("hear.js"));
                }
                link rel="stylesheet" href=(address("pages.css"));
                link rel="stylesheet" href=(address("workshop.css"));
                @for script in scripts {
                    script type="module" src=(address(script)) {}
                }
            }
            body {
                a.skip href="#work" { "Skip to the work" }
                (inside)
                div #notice.notice role="status" aria-live="polite" {}
            }
        }
    }
}

/// The bar with a quilt's places.
pub(super) fn bar(quilt: Option<(&Opened, &Moment)>, here: &str, about: &str) -> Markup {
    html! {
        header.bar {
            a.brand href="/" { "Scantling" }
            @if quilt.is_some() { h1.about { (about) } } @else { p.about { (about) } }
            nav aria-label="Places" {
                a href="/" aria-current=[(here == "shelf").then_some("page")] { "Shelf" }
                @if let Some((opened, _)) = quilt {
                    @for (code, word) in PLACES {
                        a href=(format!("/quilts/{}/{code}", opened.name))
                            aria-current=[(here == code).then_some("page")] { (word) }
                    }
                }
            }
            @if let Some((opened, moment)) = quilt {
                div #standing { (standing(opened.worked().as_deref(), moment)) }
            }
        }
    }
}

/// Whether the quilt is proved, in a word and a mark.
pub(super) fn standing(worked: Option<&Worked>, moment: &Moment) -> Markup {
    let fresh = worked.filter(|w| w.revision == moment.revision);
    let (class, mark, words) = match (&moment.design, fresh) {
        (Err(_), _) => ("stop", "!", "The file cannot be read".to_string()),
        (_, None) => ("working", "…", "Working it out".to_string()),
        (_, Some(w)) if w.proved => ("good", "✓", w.standing.clone()),
        (_, Some(w)) => ("stop", "!", w.standing.clone()),
    };
    html! {
        a.standing.(class) href="#findings" { span.mark aria-hidden="true" { (mark) } " " (words) }
    }
}

/// A quilt's page: the cloth on one side, the living pattern on the other.
pub(super) fn quilt_page(
    opened: &Arc<Opened>,
    moment: &Moment,
    here: &str,
    about: &str,
    leaf: &str,
    scripts: &[&str],
    cloth: Markup,
) -> Markup {
    opened.looked_at(leaf);
    let title = moment
        .design
        .as_ref()
        .map_or(opened.name.clone(), |d| d.quilt.title.clone());
    let mut all = vec!["wish.js", "living.js", "views.js"];
    all.extend(scripts);
    document(
        &title,
        &all,
        html! {
            (bar(Some((opened, moment)), here, about))
            main #work.two data-quilt=(opened.name) data-revision=(moment.revision) data-leaf=(leaf) {
                section #cloth.side aria-label="The cloth" { (cloth) }
                section.side.pattern aria-label="The living pattern" {
                    div.leaves {
                        label for="leaf" { "Pages" }
                        select #leaf {}
                        a.button href=(format!("/quilts/{}/pattern", opened.name)) { "All pages" }
                    }
                    div #pages.pages tabindex="0" aria-label="Pages" { p.soft { "Working it out …" } }
                }
            }
            div #findings.findings aria-label="What the checks say" role="region" { (findings(opened.worked().as_deref(), moment)) }
            div #why.why-panel popover="auto" {}
            dialog #words.words {}
        },
    )
}

/// Undo and redo, with what they would do.
pub(super) fn hands(moment: &Moment) -> Markup {
    let words = |what: &Option<String>, verb: &str| match what {
        Some(label) => format!("{verb}: {label}"),
        None => format!("Nothing to {}", verb.to_lowercase()),
    };
    html! {
        button type="button" data-deed="undo" title=(words(&moment.undo, "Undo")) disabled[moment.undo.is_none()] { "Undo" }
        button type="button" data-deed="redo" title=(words(&moment.redo, "Redo")) disabled[moment.redo.is_none()] { "Redo" }
    }
}

/// What the checks say, each with the place it is about and its mend.
pub(super) fn findings(worked: Option<&Worked>, moment: &Moment) -> Markup {
    let design = match &moment.design {
        Err(errors) => {
            return html! {
                @for error in errors.iter().take(5) {
                    div.finding.stop {
                        b { "Stop" }
                        p { "Line " (error.line) ": " (error.message) @if !error.expected.is_empty() { " — expected " (error.expected) } }
                    }
                }
                p.soft { "The file was changed outside the workshop. Mend it there, or undo that change here." }
            };
        }
        Ok(design) => design,
    };
    let Some(worked) = worked else {
        return html! {};
    };
    html! {
        @if worked.findings.is_empty() { p.soft { "The checks have nothing to say." } }
        @for finding in &worked.findings { (one(&moment.text, design, finding)) }
    }
}

fn one(text: &str, design: &Design, finding: &Finding) -> Markup {
    let (class, word) = match finding.severity {
        Severity::Stop => ("stop", "Stop"),
        Severity::Care => ("care", "Care"),
        Severity::Note => ("note", "Note"),
    };
    let (block, patches, at) = match &finding.place {
        Place::Block { name, patches, at } => (
            Some(name.clone()),
            patches.iter().map(u32::to_string).collect::<Vec<_>>().join(" "),
            at.map(|at| format!("{} {}", at.x, at.y)),
        ),
        Place::Top { at } => (None, String::new(), Some(format!("{} {}", at.x, at.y))),
        _ => (None, String::new(), None),
    };
    // "mill flipped" is drawn as "mill": a name in the file has no space.
    let block = block.map(|name| name.split(' ').next().unwrap_or_default().to_string());
    let drawn_here = block.as_ref().is_some_and(|name| design.block(name).is_some());
    html! {
        div.finding.(class) data-code=(finding.code) data-block=[block.as_deref()] data-patches=[(!patches.is_empty()).then_some(&patches)]
            data-at=[at.as_deref()] {
            b { (word) }
            p {
                span.of { (place(design, &finding.place)) } " " (finding.sentence)
                @if !finding.mend.is_empty() { " " span.soft { (finding.mend) } }
            }
            @if let Some(mend) = super::swatch::mend(text, design, finding) {
                button type="button" data-wish=(mend.1) { (mend.0) }
            }
            @if drawn_here {
                button type="button" data-show="" { "Show" }
            }
        }
    }
}

/// Where, in words that need no file.
fn place(design: &Design, place: &Place) -> String {
    match place {
        Place::Quilt => String::new(),
        Place::Block { name, .. } if name == "top" => "The top:".to_string(),
        Place::Block { name, .. } => format!("{}:", capital(name)),
        Place::Fabric(id) => design
            .fabrics
            .iter()
            .find(|f| &f.name == id)
            .map_or(format!("{id}:"), |f| format!("{}:", f.label)),
        other => format!("{}:", capital(&other.to_string())),
    }
}

/// "flying-geese" as words: "Flying geese".
pub(super) fn capital(name: &str) -> String {
    let words = name.strip_prefix("std/").unwrap_or(name).replace('-', " ");
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => words,
    }
}
