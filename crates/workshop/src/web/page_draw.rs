//! Draw: one block, divided by hand.

use super::app::{Moment, Opened};
use super::cloths::Cloths;
use super::controls::Desk;
use super::shell::{self, capital, hands};
use super::swatch;
use super::tracing_controls::{self, Shown};
use crate::drawing::{self, Drawing, Repeat};
use crate::file::size_of_block;
use design::Design;
use maud::{Markup, PreEscaped, html};
use std::sync::Arc;
use toml_edit::{DocumentMut, Item};

/// What the hand can do here: code, word, and what to do with it.
const HANDS: [(&str, &str, &str); 6] = [
    (
        "divide",
        "Divide",
        "Press where the cut begins and again where it ends.",
    ),
    ("bow", "Bow", "Press on a seam and again where it should pass."),
    (
        "shift",
        "Move a point",
        "Press on a point where seams meet and again where it should go.",
    ),
    ("join", "Join", "Press on a patch and again on its neighbour."),
    ("dress", "Dress", "Press on patches to dress them in the fabric chosen."),
    (
        "pin",
        "Pin",
        "Press on patches, one after another; what is pinned of them is said under “Pins” below.",
    ),
];

/// The drawing of a block.
pub(super) fn drawing_of(text: &str, design: &Design, block: &str) -> Result<Drawing, String> {
    let size = size_of_block(design, block).ok_or_else(|| format!("There is no block called {block} any more."))?;
    let document: DocumentMut = text.parse().map_err(|_| "The file cannot be read.".to_string())?;
    let table = document
        .get("block")
        .and_then(Item::as_array_of_tables)
        .and_then(|tables| {
            tables
                .iter()
                .find(|t| t.get("name").and_then(Item::as_str) == Some(block))
        })
        .ok_or_else(|| format!("There is no block called {block} in the file."))?;
    let fallback = design.fabrics.first().map_or("", |fabric| fabric.name.as_str());
    drawing::read_block(table, size, fallback).map_err(|why| format!("This block cannot be drawn on here: {}.", why.0))
}

/// The page, or only its cloth side.
pub(super) fn page(opened: &Arc<Opened>, block: &str, only_cloth: bool) -> Markup {
    let moment = opened.moment();
    let cloth = match &moment.design {
        Ok(design) => cloth(opened, &moment, design, block),
        Err(_) => {
            html! { div.tools { (hands(&moment)) } p.empty { "The file cannot be read at the moment; what is wrong stands below." } }
        }
    };
    if only_cloth {
        return cloth;
    }
    let title = moment
        .design
        .as_ref()
        .map_or(opened.name.clone(), |d| d.quilt.title.clone());
    let about = format!("{title} · block {}", capital(block));
    shell::quilt_page(
        opened,
        &moment,
        "draw",
        &about,
        block,
        &["draw.js", "tracing.js", "controls.js"],
        cloth,
    )
}

fn cloth(opened: &Arc<Opened>, moment: &Moment, design: &Design, name: &str) -> Markup {
    let cloths = Cloths::of(opened, design);
    let drawing = drawing_of(&moment.text, design, name);
    let index = design.blocks.iter().position(|b| b.name == name);
    html! {
        div.blocks {
            nav.shelf-of-blocks aria-label="Blocks" {
                @for block in &design.blocks {
                    a href=(format!("/quilts/{}/draw/{}", opened.name, block.name))
                        aria-current=[(block.name == name).then_some("true")] title=(capital(&block.name)) {
                        (swatch::thumbnail(&cloths, block))
                        span { (capital(&block.name)) }
                    }
                }
                (new_block(design))
            }
        }
        @match (&drawing, index) {
            (Ok(drawing), Some(index)) => { (drawn(opened, moment, &cloths, name, drawing, index)) }
            (Err(words), _) => { div.tools { (hands(moment)) } p.empty { (words) } }
            _ => { p.empty { "There is no such block any more." } }
        }
        (cloths.pictures())
    }
}

fn drawn(opened: &Opened, moment: &Moment, cloths: &Cloths, name: &str, drawing: &Drawing, index: usize) -> Markup {
    let design = cloths.design;
    let traced = tracing_controls::traced(opened, name);
    let first = design.fabrics.first().map_or("", |f| f.name.as_str());
    let unit = swatch::unit(design).0;
    html! {
        div.tools role="toolbar" aria-label="What the hand does" {
            @for (i, (code, word, _)) in HANDS.iter().enumerate() {
                button type="button" data-hand=(code) aria-pressed=(if i == 0 { "true" } else { "false" }) { (word) }
            }
            span.gap {}
            button type="button" data-act="turn" { "Turn" }
            button type="button" data-act="flip" { "Flip" }
            label.inline { "Repeat "
                select #repeat { @for (code, word, _) in Repeat::WORDS { option value=(code) { (word) } } }
            }
            span.gap {}
            (hands(moment))
        }
        p #advice.soft aria-live="polite" { (HANDS[0].2) }
        @for (code, _, advice) in HANDS { p hidden data-advice=(code) { (advice) } }
        (board(cloths, name, drawing, traced.as_ref()))
        (swatch::swatches(cloths, first))
        details.typed {
            summary { "Typed measures" }
            form #typed {
                p { "Places in " (unit) " from the top left corner." }
                label { "From across " input name="ax" inputmode="decimal" required; }
                label { "down " input name="ay" inputmode="decimal" required; }
                label { "To across " input name="bx" inputmode="decimal" required; }
                label { "down " input name="by" inputmode="decimal" required; }
                button { "Do it" }
            }
        }
        details.typed {
            summary { "Place a block inside" }
            form #lay {
                label { "Block "
                    select name="what" {
                        @for block in design.blocks.iter().filter(|b| b.name != name) { option value=(block.name) { (capital(&block.name)) } }
                        @for (known, _) in design::collection() { option value=(format!("std/{known}")) { (capital(known)) " (collection)" } }
                    }
                }
                label { "Left, " (unit) " " input name="x" inputmode="decimal" value="0" required; }
                label { "Top, " (unit) " " input name="y" inputmode="decimal" value="0" required; }
                label { "Width, " (unit) " " input name="w" inputmode="decimal" value=(swatch::told(design, drawing.width / 2.0)) required; }
                label { "Height, " (unit) " " input name="h" inputmode="decimal" value=(swatch::told(design, drawing.height / 2.0)) required; }
                label { "Turned by, degrees " input name="turn" inputmode="decimal" value="0" required; }
                button { "Lay it in" }
                button type="button" data-act="take-out" { "Take out the block under the aim" }
            }
        }
        (tracing_controls::controls(design, name, drawing, traced.as_ref()))
        (super::pin_controls::pins(&Desk::of(&moment.text, design), &design.blocks[index], index))
        details.typed open[false] {
            summary { "This block" }
            (super::controls::block(&moment.text, design, index))
        }
    }
}

/// The cloth with its patches, points, grid and aim.
fn board(cloths: &Cloths, name: &str, drawing: &Drawing, traced: Option<&Shown>) -> Markup {
    let design = cloths.design;
    // What is drawn lies thinly over a picture that is traced.
    let over = traced.map(|shown| shown.traced.cloth);
    let (w, h) = (drawing.width, drawing.height);
    let margin = w.max(h) * 0.06;
    let view = format!("{} {} {} {}", -margin, -margin, w + 2.0 * margin, h + 2.0 * margin);
    let hair = w.max(h) / 400.0;
    let block = design.block(name);
    let (unit, per) = swatch::unit(design);
    html! {
        svg #board.board viewBox=(view) data-block=(name) data-width=(w) data-height=(h)
            data-per=(per) data-grid=(format!("{} {}", drawing.grid.0, drawing.grid.1))
            tabindex="0" role="application"
            aria-label=(format!("Block {}, {} by {} {unit}. Arrow keys move the aim on the grid, Enter presses, Escape lets go.", capital(name), swatch::told(design, w), swatch::told(design, h)))
            stroke-width=(hair) {
            @if let Some(shown) = traced { (shown.picture()) }
            g.placed fill-opacity=[over] {
                @if let Some(block) = block {
                    @for placed in &drawing.placed {
                        (placed_block(cloths, block, placed))
                    }
                }
            }
            g.patches fill-opacity=[over] {
                @for patch in &drawing.patches {
                    path d=(swatch::sides_path(patch.sides())) fill=(cloths.fill(&patch.fabric, 0.0))
                        data-entry=[patch.entry] role="img"
                        aria-label=(format!("{}, {}", swatch::label(design, &patch.fabric), swatch::shape_word(patch.sides()))) {}
                }
                @for patch in &drawing.laid {
                    path.laid d=(swatch::sides_path(patch.sides())) fill=(cloths.fill(&patch.fabric, 0.0))
                        data-entry=[patch.entry] role="img"
                        aria-label=(format!("{}, {} laid on the ground", swatch::label(design, &patch.fabric), swatch::shape_word(patch.sides()))) {}
                }
            }
            g.grid aria-hidden="true" {
                @for i in 1..steps(drawing.grid.0) { line x1=(w * i as f64 / drawing.grid.0) y1="0" x2=(w * i as f64 / drawing.grid.0) y2=(h) {} }
                @for i in 1..steps(drawing.grid.1) { line x1="0" y1=(h * i as f64 / drawing.grid.1) x2=(w) y2=(h * i as f64 / drawing.grid.1) {} }
            }
            g.rulers aria-hidden="true" font-size=(margin * 0.45) {
                @for i in marks(w) { text x=(i) y=(-margin * 0.3) text-anchor="middle" { (swatch::told(design, i)) } }
                @for i in marks(h) { text x=(-margin * 0.25) y=(i) text-anchor="end" dominant-baseline="central" { (swatch::told(design, i)) } }
            }
            g.numbers aria-hidden="true" font-size=(w.max(h) / 32.0) {
                @for (patch, at) in drawing.patches.iter().map(|patch| (patch, patch.middle())) {
                    @if let Some(entry) = patch.entry { text x=(at.x) y=(at.y) text-anchor="middle" dominant-baseline="central" { (entry + 1) } }
                }
            }
            g.points aria-hidden="true" {
                @for point in drawing.points() { circle cx=(point.x) cy=(point.y) r=(w.max(h) / 130.0) {} }
            }
            g #aim aria-hidden="true" {
                path #line d="" {}
                circle #begun r=(w.max(h) / 75.0) visibility="hidden" {}
                circle #at r=(w.max(h) / 85.0) visibility="hidden" {}
            }
            rect.outer x="0" y="0" width=(w) height=(h) fill="none" {}
        }
        p #aimed.aimed role="status" aria-live="polite" {}
    }
}

fn placed_block(cloths: &Cloths, block: &design::Block, placed: &drawing::Placed) -> Markup {
    // Only this placed block of the block, drawn by its placement as the design reads it.
    let only = placed.entry.and_then(|i| block.place.get(i)).cloned();
    let mut alone = block.clone();
    alone.patches = Vec::new();
    alone.place = only.into_iter().collect();
    let faces = swatch::block_faces(cloths, &alone, 8);
    let corners = placed.corners().map(|c| format!("{:.4},{:.4}", c.x, c.y));
    html! {
        g.inner role="img" aria-label=(format!("Block {}", capital(&placed.block))) {
            (PreEscaped(faces))
            polygon.box points=(corners.join(" ")) fill="none" {}
        }
    }
}

fn steps(grid: f64) -> usize {
    if grid.fract() == 0.0 && grid <= 200.0 {
        grid as usize
    } else {
        1
    }
}

/// Where the rulers' figures stand.
fn marks(length: f64) -> Vec<f64> {
    let parts = 4;
    (0..=parts).map(|i| length * f64::from(i) / f64::from(parts)).collect()
}

fn new_block(design: &Design) -> Markup {
    let size = design.blocks.first().map_or(12.0, |b| b.size.0);
    let size = format!("{} {}", swatch::told(design, size), swatch::unit(design).0);
    html! {
        details.new-block {
            summary { "New block" }
            form #new-block data-fabric=(design.fabrics.first().map_or("", |f| f.name.as_str())) {
                label { "Name " input name="name" required pattern="[a-z0-9][a-z0-9\\-]*" title="Small letters, digits and hyphens"; }
                label { "Width " input name="width" value=(size) required; }
                label { "Height " input name="height" value=(size) required; }
                label { "Grid across " input name="across" inputmode="decimal" value="4" required; }
                label { "Grid down " input name="down" inputmode="decimal" value="4" required; }
                button { "Begin" }
            }
        }
    }
}
