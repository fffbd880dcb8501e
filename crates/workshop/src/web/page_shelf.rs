//! Shelf: the quilts of the folder.

use super::app::App;
use super::cloths::Cloths;
use super::shell::{self, capital};
use super::swatch;
use crate::file::{EXAMPLES, ShelfError};
use maud::{Markup, html};
use std::io;

/// The page.
pub(super) fn page(app: &App) -> io::Result<Markup> {
    let quilts = app.shelf.quilts()?;
    let binned = app.shelf.binned()?;
    Ok(shell::document(
        "Shelf",
        &["shelf.js"],
        html! {
            (shell::bar(None, "shelf", &format!("Shelf · {}", app.shelf.folder().display())))
            main #work.shelf {
                div.shelf-head {
                    h1 { "Your quilts" }
                    label { "Find " input #find type="search" autocomplete="off"; }
                }
                @if quilts.is_empty() { p.empty { "The shelf is empty. Begin a quilt below." } }
                ul.quilts {
                    @for quilt in &quilts {
                        li data-name=(quilt.name) {
                            a.open href=(format!("/quilts/{}", quilt.name)) {
                                img src=(format!("/miniatures/{}", quilt.name)) alt="" loading="lazy" width="180" height="180";
                                span.name { (title(app, &quilt.name)) }
                            }
                            (shelf_standing(app, &quilt.name))
                            @if let Some(changed) = quilt.changed { time datetime=(seconds(changed)) data-when=(seconds(changed)) {} }
                            details {
                                summary { "More" }
                                form method="post" action="/shelf/copy" {
                                    input type="hidden" name="name" value=(quilt.name);
                                    label { "Copy as " input name="to" value=(format!("{}-copy", quilt.name)) required; }
                                    button { "Copy" }
                                }
                                form method="post" action="/shelf/rename" {
                                    input type="hidden" name="name" value=(quilt.name);
                                    label { "New name " input name="to" value=(quilt.name) required; }
                                    button { "Rename" }
                                }
                                form method="post" action="/shelf/bin" {
                                    input type="hidden" name="name" value=(quilt.name);
                                    button { "Put into the bin" }
                                }
                            }
                        }
                    }
                }
                section.new {
                    h2 { "A new quilt" }
                    form method="post" action="/shelf/new" {
                        label { "Name " input name="to" required pattern="[a-z0-9][a-z0-9\\-]*" title="Small letters, digits and hyphens" placeholder="first-quilt"; }
                        label { "Begin with "
                            select name="from" {
                                option value="" { "Blank: one block, one cloth" }
                                @for (name, _) in EXAMPLES { option value=(name) { (capital(name)) " (example)" } }
                            }
                        }
                        label { input type="checkbox" name="metric" value="yes"; " In centimetres" }
                        button.primary { "Begin" }
                    }
                    p { a.button href="/drawing" { "Begin from a drawing in SVG" } }
                }
                section.bin {
                    h2 { "Bin" }
                    @if binned.is_empty() { p.soft { "The bin is empty." } } @else {
                        ul { @for quilt in &binned {
                            li {
                                form method="post" action="/shelf/take-back" {
                                    input type="hidden" name="name" value=(quilt.name);
                                    (capital(&quilt.name)) " " button { "Take back" }
                                }
                            }
                        } }
                        form method="post" action="/shelf/empty-bin" { button { "Empty the bin for good" } }
                    }
                }
            }
        },
    ))
}

fn title(app: &App, name: &str) -> String {
    let design = app
        .shelf
        .text(name)
        .ok()
        .and_then(|text| design::read_design(&text).ok());
    design.map_or_else(|| capital(name), |d| d.quilt.title)
}

/// What is known of a quilt without working it out again.
fn shelf_standing(app: &App, name: &str) -> Markup {
    let known = app.known(name);
    html! {
        @match known {
            Some(worked) if worked.proved => { p.state.good { "✓ " (worked.standing) } }
            Some(worked) => { p.state.care { "! " (worked.standing) } }
            None => { p.state.soft { "Not looked at yet" } }
        }
    }
}

fn seconds(time: std::time::SystemTime) -> u64 {
    time.duration_since(std::time::UNIX_EPOCH)
        .map_or(0, |since| since.as_secs())
}

/// A quilt's picture, small.
pub(super) fn miniature(app: &App, name: &str) -> Result<String, ShelfError> {
    let text = app.shelf.text(name)?;
    let Ok(design) = design::read_design(&text) else {
        return Ok("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 10 10\"><path d=\"M1 1 L9 9 M9 1 L1 9\" stroke=\"#A3211B\"/></svg>".into());
    };
    let picture = design.top_picture();
    let (_, high) = picture.outer.bounds();
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\">{}</svg>",
        high.x.max(1.0),
        high.y.max(1.0),
        swatch::top_faces(&Cloths::plain(&design), &picture)
    ))
}

/// A new quilt, from an example or blank; the answer is its name.
pub(super) fn put_new(app: &App, to: &str, from: &str, metric: bool) -> Result<String, ShelfError> {
    let to = to.trim();
    let text = match EXAMPLES.iter().find(|(name, _)| *name == from) {
        Some((_, text)) => (*text).to_string(),
        None => blank(to, metric),
    };
    app.shelf.put_new(to, &text)?;
    Ok(to.to_string())
}

/// A copy of a quilt.
pub(super) fn copy(app: &App, name: &str, to: &str) -> Result<(), ShelfError> {
    app.shelf.copy(name, to.trim())
}

/// Another name.
pub(super) fn rename(app: &App, name: &str, to: &str) -> Result<(), ShelfError> {
    if name == to.trim() {
        return Ok(());
    }
    app.close(name);
    app.shelf.rename(name, to.trim())
}

/// A quilt of one undivided block.
fn blank(name: &str, metric: bool) -> String {
    let title = capital(name);
    let (units, size, grid) = if metric {
        ("metric", "30 cm", 6)
    } else {
        ("inch", "12 in", 4)
    };
    format!(
        r##"format = 1

[quilt]
title = "{title}"
units = "{units}"

[[fabric]]
name = "light"
label = "Light"
color = "#efe8d6"

[[fabric]]
name = "dark"
label = "Dark"
color = "#24405c"

[[fabric]]
name = "accent"
label = "Accent"
color = "#b5523b"

[[block]]
name = "first"
size = "{size}"
grid = [{grid}, {grid}]
patches = [
  {{ fabric = "light", path = "M0 0 H{grid} V{grid} H0 Z" }},
]

[layout]
kind = "straight"
rows = [
  ["first", "first", "first"],
  ["first", "first", "first"],
  ["first", "first", "first"],
]
fill = "light"

[finish]
binding = {{ fabric = "dark" }}
backing = {{ fabric = "light" }}
batting = {{}}
"##
    )
}

/// A page that says what went wrong.
pub(super) fn trouble(title: &str, words: &str) -> Markup {
    shell::document(
        title,
        &[],
        html! {
            (shell::bar(None, "", title))
            main #work.shelf {
                h1 { (title) }
                p { (words) }
                p { a.button href="/" { "Back to the shelf" } }
            }
        },
    )
}
