//! Placement sheets at true scale, which show where pieces lie on a ground; and the ground with what lies on it so far.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View};
use super::template::{BELOW, INCH, MOST_SHEETS, Sheets, THREE, Tile, match_marks, outline_of, square, within};
use super::unit::{UnitPictures, bounds};
use crate::model::{Paper, Picture};
use recipe::Guide;
use rehearse::WorkView;
use shape::{Motion, Point, Polygon};

/// Height of the page kept for margins, head and foot, points.
const KEPT: f64 = 226.0;

/// The pages of one sheet: a single one where it fits, else tiles with match marks; none where it is too large.
pub(crate) fn guide_pages(guide: &Guide, paper: Paper) -> Vec<Picture> {
    let outline = outline_of(&guide.outline);
    if outline.len() < 3 {
        return Vec::new();
    }
    let shapes: Vec<Polygon> = guide.shapes.iter().map(|shape| outline_of(&shape.line)).collect();
    // A shape that is sewn into a seam reaches beyond the finished outline.
    let (low, high) = shapes.iter().chain([&outline]).map(Polygon::bounds).fold(
        outline.bounds(),
        |(low, high): (Point, Point), (a, b)| {
            (
                Point::new(low.x.min(a.x), low.y.min(a.y)),
                Point::new(high.x.max(b.x), high.y.max(b.y)),
            )
        },
    );
    let all = Polygon::new(vec![low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)]);
    let room = (paper.text_width(), paper.points().1 - KEPT - BELOW);
    let [upright, turned] = [0, 1].map(|quarters| {
        let turn = Motion::quarter_turns(quarters);
        (turn, Sheets::laid(&all, turn, room))
    });
    let (turn, sheets) = if turned.1.count() < upright.1.count() {
        turned
    } else {
        upright
    };
    if sheets.count() > MOST_SHEETS {
        return Vec::new();
    }
    let drawing = Drawing {
        name: &guide.name,
        bounds: sheets.outline().bounds(),
        outline: turn.polygon(&outline),
        shapes: shapes.iter().map(|shape| turn.polygon(shape)).collect(),
    };
    let tiles = sheets.tiles();
    let many = tiles.len();
    let page = |(number, tile)| drawing.page(tile, number, many);
    tiles.into_iter().enumerate().map(page).collect()
}

/// Everything on a sheet, as it is printed.
struct Drawing<'a> {
    name: &'a str,
    bounds: (Point, Point),
    outline: Polygon,
    shapes: Vec<Polygon>,
}

impl Drawing<'_> {
    fn page(&self, tile: Tile, number: usize, many: usize) -> Picture {
        let (low, high) = self.bounds;
        let whole = many == 1;
        let (w, h) = if whole {
            ((high.x - low.x) * INCH + 16.0, (high.y - low.y) * INCH + 16.0)
        } else {
            (tile.w, tile.h)
        };
        let mut canvas = Canvas::true_scale(w.max(250.0), h + BELOW);
        let window = tile.window(low, high);
        let view = View {
            turn: Motion::STILL,
            scale: INCH,
            low: if whole { low } else { window.corner(0) },
            origin: (8.0, h - 8.0),
        };
        if !whole {
            let frame = [(8.0, 8.0), (w - 8.0, 8.0), (w - 8.0, h - 8.0), (8.0, h - 8.0)];
            canvas.outline(&frame, "none", Some(Pen::HIDDEN));
            match_marks(&mut canvas, tile, w, h);
        }
        let mut stroke = |a: Point, b: Point, pen: Pen| {
            let part = if whole { Some((a, b)) } else { within(a, b, &window) };
            if let Some((a, b)) = part {
                canvas.line(view.at(a), view.at(b), pen);
            }
        };
        let around = |o: &Polygon| (0..o.len()).map(|i| (o.corner(i), o.corner(i + 1))).collect::<Vec<_>>();
        // Creases through the middle, to lay the sheet by.
        let (low, high) = self.outline.bounds();
        let middle = low.toward(high, 0.5);
        stroke(Point::new(middle.x, low.y), Point::new(middle.x, high.y), Pen::DRAWN);
        stroke(Point::new(low.x, middle.y), Point::new(high.x, middle.y), Pen::DRAWN);
        for (a, b) in around(&self.outline) {
            stroke(a, b, Pen::STITCH);
        }
        for shape in &self.shapes {
            for (a, b) in around(shape) {
                stroke(a, b, Pen::CUT);
            }
        }
        for (k, shape) in self.shapes.iter().enumerate() {
            let place = self.place_of(k, shape);
            let on_sheet = (0..window.len()).all(|i| window.edge(i).is_some_and(|e| e.offset_of(place) > 0.1));
            if whole || on_sheet {
                let at = view.at(place);
                canvas.circle(at, 8.0, "#FFFFFF", Some(Pen::HAIR));
                let number = Lettering {
                    size: 10.0,
                    color: INK,
                    bold: true,
                    anchor: Anchor::Middle,
                    turned: false,
                };
                canvas.centred(at, &(k + 1).to_string(), number);
            }
        }
        let y = h + 18.0;
        square(&mut canvas, 8.0, y, INCH, "1 in");
        square(&mut canvas, 8.0 + INCH + 18.0, y, THREE * INCH, "3 cm");
        let part = if whole {
            String::new()
        } else {
            format!(", sheet {} of {many}", number + 1)
        };
        canvas.finish(format!(
            "Placement sheet {}{part}, at true scale, with test squares of 1 in and 3 cm",
            self.name
        ))
    }

    /// Where a shape's number stands: inside it, as far as may be from its line and from the shapes that lie above it.
    fn place_of(&self, k: usize, shape: &Polygon) -> Point {
        let (low, high) = shape.bounds();
        let mut best = (f64::NEG_INFINITY, shape.centroid());
        for i in 1..16 {
            for j in 1..16 {
                let share = |n: i32| f64::from(n) / 16.0;
                let p = Point::new(low.x + (high.x - low.x) * share(i), low.y + (high.y - low.y) * share(j));
                let clear = self.shapes[k + 1..]
                    .iter()
                    .map(|above| depth(above, p))
                    .fold(depth(shape, p), |least, above| least.min(-above));
                if clear > best.0 + 1.0e-9 {
                    best = (clear, p);
                }
            }
        }
        best.1
    }
}

/// How far inside an outline of any shape a place lies; less than nothing outside.
fn depth(outline: &Polygon, p: Point) -> f64 {
    let crosses = |i: usize| {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)
    };
    let inside = (0..outline.len()).filter(|&i| crosses(i)).count() % 2 == 1;
    let far = outline.distance_to_boundary(p);
    if inside { far } else { -far }
}

/// A ground with what is stitched down so far; of the sheet on it the shapes still to come in thin lines.
pub(crate) fn ground_so_far(pictures: &UnitPictures, work: &WorkView, alt: &str) -> Option<Picture> {
    let (low, high) = bounds(work, pictures.turn)?;
    let (mut canvas, view) = pictures.sheet(low, high, 0.0, 0.0);
    for layer in &work.layers {
        for piece in &layer.pieces {
            pictures.piece(&mut canvas, &view, piece, layer.turned_over, false);
        }
    }
    laid(pictures, &mut canvas, &view, work);
    for shape in work.sheet.iter().skip(work.laid.len()) {
        canvas.outline(&view.all(shape), "none", Some(Pen::HIDDEN));
    }
    Some(canvas.finish(alt))
}

/// What is stitched down on a work, from below up, its stitches along its edge.
pub(super) fn laid(pictures: &UnitPictures, canvas: &mut Canvas, view: &View, work: &WorkView) {
    for piece in work.laid.iter().filter(|piece| !piece.turned_over) {
        let corners = view.all(&piece.outline);
        pictures
            .cloths
            .get(&piece.fabric)
            .right(canvas, &corners, Some(Pen::CUT));
    }
}
