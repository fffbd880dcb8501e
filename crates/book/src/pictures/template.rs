//! Templates at true scale: one inch on the page is one inch.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View};
use crate::model::{Paper, Picture};
use recipe::Template;
use shape::{Motion, Point, Polygon};

/// Points in an inch.
const INCH: f64 = 72.0;
/// Height of the page kept for margins, head, test squares and foot, points.
const KEPT: f64 = 330.0;

/// A template that needs more sheets than this is not printed.
const MOST_SHEETS: usize = 30;

/// The pages of one template: a single one where it fits, else tiles with match marks; none where it is too large.
pub(crate) fn template_pages(template: &Template, seam: f64, for_pieces: &str, paper: Paper) -> Vec<Picture> {
    let outline = Polygon::new(
        template
            .corners
            .iter()
            .map(|c| Point::new(c.right.to_inches(), c.up.to_inches()))
            .collect(),
    );
    if outline.len() < 3 {
        return Vec::new();
    }
    let (low, high) = outline.bounds();
    let (w, h) = (paper.text_width(), paper.points().1 - KEPT);
    let count = |size: f64, room: f64| (size * INCH / room).ceil().max(1.0) as usize;
    let (columns, rows) = (count(high.x - low.x, w - 16.0), count(high.y - low.y, h - 16.0));
    let mut pages = Vec::new();
    if columns.saturating_mul(rows) > MOST_SHEETS {
        return pages;
    }
    for row in 0..rows {
        for column in 0..columns {
            let tile = Tile {
                column,
                row,
                columns,
                rows,
                w,
                h,
            };
            pages.push(page(template, &outline, low, high, seam, for_pieces, tile));
        }
    }
    pages
}

#[derive(Clone, Copy)]
struct Tile {
    column: usize,
    row: usize,
    columns: usize,
    rows: usize,
    w: f64,
    h: f64,
}

fn page(
    template: &Template,
    outline: &Polygon,
    low: Point,
    high: Point,
    seam: f64,
    for_pieces: &str,
    tile: Tile,
) -> Picture {
    let whole = tile.columns == 1 && tile.rows == 1;
    let (w, h) = if whole {
        ((high.x - low.x) * INCH + 16.0, (high.y - low.y) * INCH + 16.0)
    } else {
        (tile.w, tile.h)
    };
    let below = 104.0;
    let mut canvas = Canvas::new(w.max(250.0), h + below);
    let (inner_w, inner_h) = (tile.w - 16.0, tile.h - 16.0);
    // Rows are counted from the top of the template, as the pages are read.
    let top_of_tile = high.y - (tile.row as f64) * inner_h / INCH;
    let left_of_tile = low.x + (tile.column as f64) * inner_w / INCH;
    let view = View {
        turn: Motion::STILL,
        scale: INCH,
        low: Point::new(left_of_tile, if whole { low.y } else { top_of_tile - inner_h / INCH }),
        origin: (8.0, h - 8.0),
    };
    let mut shown = outline.clone();
    if !whole {
        for (p, along) in [
            (Point::new(left_of_tile, 0.0), shape::Vector::new(0.0, -1.0)),
            (
                Point::new(left_of_tile + inner_w / INCH, 0.0),
                shape::Vector::new(0.0, 1.0),
            ),
            (Point::new(0.0, top_of_tile), shape::Vector::new(-1.0, 0.0)),
            (
                Point::new(0.0, top_of_tile - inner_h / INCH),
                shape::Vector::new(1.0, 0.0),
            ),
        ] {
            shown = shown.left_of(shape::Line { through: p, along });
        }
        canvas.outline(
            &[(8.0, 8.0), (w - 8.0, 8.0), (w - 8.0, h - 8.0), (8.0, h - 8.0)],
            "none",
            Some(Pen::HIDDEN),
        );
        match_marks(&mut canvas, tile, w, h);
    }
    if shown.len() >= 3 {
        canvas.outline(&view.all(&shown), "#FFFFFF", Some(Pen::CUT));
        let stitched = shape::allowance::with_allowance(outline, -seam);
        if let (Some(stitched), true) = (stitched, whole) {
            canvas.outline(&view.all(&stitched), "none", Some(Pen::STITCH));
        }
        let c = shown.centroid();
        let at = view.at(c);
        let words = Lettering {
            size: 15.0,
            color: INK,
            bold: true,
            anchor: Anchor::Middle,
            turned: false,
        };
        canvas.centred(at, &template.name, words);
        canvas.centred(
            (at.0, at.1 + 16.0),
            for_pieces,
            Lettering {
                size: 10.0,
                ..Lettering::WORDS
            },
        );
    }
    let y = h + 18.0;
    square(&mut canvas, 8.0, y, INCH, "1 in");
    let three = 3.0 / 2.54 * INCH;
    square(&mut canvas, 8.0 + INCH + 24.0, y, three, "3 cm");
    let part = if whole {
        String::new()
    } else {
        format!(
            ", sheet {} of {}",
            tile.row * tile.columns + tile.column + 1,
            tile.rows * tile.columns
        )
    };
    canvas.finish(format!(
        "Template {}{part}, at true scale, with test squares of 1 in and 3 cm",
        template.name
    ))
}

fn square(canvas: &mut Canvas, x: f64, y: f64, side: f64, words: &str) {
    canvas.outline(
        &[(x, y), (x + side, y), (x + side, y + side), (x, y + side)],
        "none",
        Some(Pen::CUT),
    );
    canvas.centred(
        (x + side / 2.0, y + side / 2.0),
        words,
        Lettering {
            size: 10.0,
            ..Lettering::MEASURE
        },
    );
}

/// Half diamonds on the shared sides, lettered alike on both sheets.
fn match_marks(canvas: &mut Canvas, tile: Tile, w: f64, h: f64) {
    let letter = |n: usize| char::from(b'A' + (n % 26) as u8).to_string();
    let upright = |row: usize, column: usize| letter(row * tile.columns.saturating_sub(1) + column);
    let level =
        |row: usize, column: usize| letter(tile.rows * tile.columns.saturating_sub(1) + row * tile.columns + column);
    let mut mark = |x: f64, y: f64, dx: f64, dy: f64, words: String| {
        let corners = [
            (x - dy * 8.0, y - dx * 8.0),
            (x + dx * 8.0, y + dy * 8.0),
            (x + dy * 8.0, y + dx * 8.0),
        ];
        canvas.outline(&corners, INK, None);
        canvas.centred(
            (x + dx * 18.0, y + dy * 18.0),
            &words,
            Lettering {
                size: 12.0,
                ..Lettering::MEASURE
            },
        );
    };
    if tile.column + 1 < tile.columns {
        mark(w - 8.0, h / 2.0, -1.0, 0.0, upright(tile.row, tile.column));
    }
    if tile.column > 0 {
        mark(8.0, h / 2.0, 1.0, 0.0, upright(tile.row, tile.column - 1));
    }
    if tile.row + 1 < tile.rows {
        mark(w / 2.0, h - 8.0, 0.0, -1.0, level(tile.row, tile.column));
    }
    if tile.row > 0 {
        mark(w / 2.0, 8.0, 0.0, 1.0, level(tile.row - 1, tile.column));
    }
}
