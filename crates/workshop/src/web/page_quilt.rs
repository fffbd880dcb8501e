//! Quilt: the layout, and everything round it.

use super::app::{Moment, Opened};
use super::cloths::Cloths;
use super::shell::{self, capital, hands};
use super::{controls, free_blocks, swatch};
use design::{Cell, Design, LayoutKind};
use maud::{Markup, PreEscaped, html};
use std::sync::Arc;

/// The page, or only its cloth side.
pub(super) fn page(opened: &Arc<Opened>, only_cloth: bool) -> Markup {
    let moment = opened.moment();
    let cloth = match &moment.design {
        Ok(design) => cloth(opened, &moment, design),
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
    shell::quilt_page(
        opened,
        &moment,
        "quilt",
        &title,
        "cover",
        &["quilt.js", "free.js", "controls.js"],
        cloth,
    )
}

fn cloth(opened: &Arc<Opened>, moment: &Moment, design: &Design) -> Markup {
    let cloths = Cloths::of(opened, design);
    let picture = design.top_picture();
    let (low, high) = picture.outer.bounds();
    let (w, h) = ((high.x - low.x).max(1.0), (high.y - low.y).max(1.0));
    let rows = rows(design);
    // A picture has no parts that can be taken hold of; a free layout's has.
    let role = if rows.is_empty() { "group" } else { "img" };
    let unit = swatch::unit(design).0;
    html! {
        div.tools role="toolbar" aria-label="What the hand does" {
            @if !rows.is_empty() {
                button type="button" data-cell="put" aria-pressed="true" { "Lay" }
                button type="button" data-cell="turn" aria-pressed="false" { "Turn" }
                button type="button" data-cell="flip" aria-pressed="false" { "Flip" }
                button type="button" data-cell="swap" aria-pressed="false" { "Swap" }
                button type="button" data-cell="empty" aria-pressed="false" { "Empty" }
                span.gap {}
            }
            (hands(moment))
        }
        div.views role="group" aria-label="How it is shown" {
            label { "View "
                select #view {
                    option value="" { "Colour" }
                    option value="grey" { "Grey" }
                    option value="lines" { "Lines only" }
                    option value="no-red" { "As seen without red" }
                    option value="no-green" { "As seen without green" }
                    option value="no-blue" { "As seen without blue" }
                }
            }
            button type="button" data-zoom="in" { "Nearer" }
            button type="button" data-zoom="out" { "Farther" }
            button type="button" data-zoom="fit" { "Whole" }
            button type="button" data-zoom="real" { "Real size" }
        }
        div.stage {
            svg #top.board viewBox=(format!("0 0 {w} {h}")) data-width=(w) data-height=(h) role=(role)
                aria-label=(format!("{}, {} by {} {unit}", design.quilt.title, swatch::told(design, w), swatch::told(design, h))) {
                (PreEscaped(swatch::top_faces(&cloths, &picture)))
                (free_blocks::handles(design))
            }
        }
        p.soft { (swatch::told(design, w)) " × " (swatch::told(design, h)) " " (unit) " finished" }
        @if rows.is_empty() {
            (free_blocks::hold(design))
        } @else {
            (cells(&cloths, &rows))
        }
        nav.shelf-of-blocks aria-label="Blocks to lay" {
            @for (i, block) in design.blocks.iter().enumerate() {
                button type="button" data-lay=(block.name) aria-pressed=(if i == 0 { "true" } else { "false" }) {
                    (swatch::thumbnail(&cloths, block)) span { (capital(&block.name)) }
                }
            }
            a.button href=(format!("/quilts/{}/draw", opened.name)) { "Draw blocks" }
        }
        (controls::quilt(&moment.text, design))
        (cloths.pictures())
    }
}

fn rows(design: &Design) -> Vec<Vec<Option<Cell>>> {
    match &design.layout.kind {
        LayoutKind::Straight { rows, .. } | LayoutKind::OnPoint { rows, .. } => rows.clone(),
        LayoutKind::Free { .. } => Vec::new(),
    }
}

/// The cells as a grid of buttons: what lies in each can be read, pressed and reached by the arrow keys.
fn cells(cloths: &Cloths, rows: &[Vec<Option<Cell>>]) -> Markup {
    let design = cloths.design;
    let across = rows.iter().map(Vec::len).max().unwrap_or(0);
    html! {
        div.cells-head {
            h2 { "Cells" }
            form #size-of-cells {
                label { "Across " input name="columns" type="number" min="1" max="200" value=(across) required; }
                label { "Down " input name="rows" type="number" min="1" max="200" value=(rows.len()) required; }
                button { "Set" }
                button type="button" data-fill="" { "Fill with the block chosen" }
                button type="button" data-fill="turns" { "Fill, turning" }
            }
        }
        table #cells.cells role="grid" aria-label="Cells of the layout" {
            @for (r, row) in rows.iter().enumerate() {
                tr role="row" {
                    @for (c, cell) in row.iter().enumerate() {
                        td role="gridcell" {
                            button type="button" data-row=(r) data-column=(c) tabindex=(if r == 0 && c == 0 { "0" } else { "-1" })
                                aria-label=(words(r, c, cell.as_ref())) {
                                @if let Some(block) = cell.as_ref().and_then(|cell| design.block(&cell.block)) {
                                    (turned(cloths, block, cell.as_ref()))
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn words(r: usize, c: usize, cell: Option<&Cell>) -> String {
    let place = format!("Row {}, column {}: ", r + 1, c + 1);
    match cell {
        None => place + "empty",
        Some(cell) => {
            let flip = if cell.flip { ", flipped" } else { "" };
            let turn = match cell.quarters {
                0 => String::new(),
                q => format!(", turned {}°", u32::from(q) * 90),
            };
            format!("{place}{}{flip}{turn}", capital(&cell.block))
        }
    }
}

fn turned(cloths: &Cloths, block: &design::Block, cell: Option<&Cell>) -> Markup {
    let (w, h) = block.size;
    let (quarters, flip) = cell.map_or((0, false), |cell| (cell.quarters, cell.flip));
    let flipped = if flip {
        format!(" translate({w} 0) scale(-1 1)")
    } else {
        String::new()
    };
    let turn = format!("rotate({} {} {}){flipped}", u32::from(quarters) * 90, w / 2.0, h / 2.0);
    html! {
        svg viewBox=(format!("0 0 {w} {h}")) aria-hidden="true" {
            // A layout of hundreds of cells draws each of its blocks once, below, and shows it again here.
            g transform=(turn) {
                @match swatch::face_of(cloths.design, block) {
                    Some(face) => use href=(format!("#{face}")) {},
                    None => (PreEscaped(swatch::block_faces(cloths, block, 8))),
                }
            }
        }
    }
}
