//! Templates at true scale: one inch on the page is one inch.
//!
//! The page has every corner where the recipe has it, as far as the numbers of a PDF go (24 bits: about 1/1 000 000 in across a
//! sheet). What comes out of a printer is coarser, dots of 1/600 in or so on paper that gives: hence the test squares.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View};
use crate::model::{Paper, Picture};
use recipe::{Template, TemplateCorner};
use shape::{Line, Motion, Point, Polygon, Vector};

/// Points in an inch.
pub(super) const INCH: f64 = 72.0;
/// Height of the page kept for margins, head and foot, points.
const KEPT: f64 = 226.0;
/// Height kept besides for the test squares, where they do not fit into the template itself, points.
pub(super) const BELOW: f64 = 104.0;

/// A template that needs more sheets than this is not printed.
pub(super) const MOST_SHEETS: usize = 30;

/// The cut outline of a template, with all places that its bowed edges go through.
pub(crate) fn template_outline(template: &Template) -> Polygon {
    let places = template.outline().into_iter();
    Polygon::new(
        places
            .map(|(c, _)| Point::new(c.right.to_inches(), c.up.to_inches()))
            .collect(),
    )
}

/// The stitch line inside a cut outline; where a point is cut blunt its two sides meet in the finished corner.
fn stitch_line(outline: &Polygon, seam: f64) -> Option<Polygon> {
    let mut edges: Vec<(Line, f64)> = (0..outline.len())
        .filter_map(|i| Some((outline.edge(i)?, outline.corner(i).distance(outline.corner(i + 1)))))
        .collect();
    loop {
        let n = edges.len();
        if n < 3 {
            return None;
        }
        let corner = |i: usize| {
            let (before, after) = (edges[(i + n - 1) % n].0, edges[i % n].0);
            let straight_on = before.along.cross(after.along).abs() < 1.0e-6 && before.along.dot(after.along) > 0.0;
            let (a, b) = (before.moved_left(seam), after.moved_left(seam));
            let along = Some(after.through + after.along.left() * seam);
            if straight_on { along } else { a.crossing(b) }
        };
        let corners: Vec<Point> = (0..n).map(corner).collect::<Option<_>>()?;
        // An edge that would run backward is the end of a blunt point, narrower than its two allowances.
        let backward = (0..n)
            .find(|&i| edges[i].1 < 4.0 * seam && (corners[(i + 1) % n] - corners[i]).dot(edges[i].0.along) < 0.0);
        match backward {
            Some(i) => drop(edges.remove(i)),
            None => return Some(Polygon::new(corners)),
        }
    }
}

/// The pages of one template: a single one where it fits, else tiles with match marks; none where it is too large.
pub(crate) fn template_pages(template: &Template, seam: f64, for_pieces: &str, paper: Paper) -> Vec<Picture> {
    let outline = template_outline(template);
    if outline.len() < 3 {
        return Vec::new();
    }
    // As it lies on the cloth, or turned by a quarter where that takes fewer sheets.
    let marks: Vec<Point> = (template.marks.iter())
        .map(|c| Point::new(c.right.to_inches(), c.up.to_inches()))
        .collect();
    let lies = [0, 1].map(|quarters| Sheets::of(&outline, &marks, Motion::quarter_turns(quarters), paper));
    let [upright, turned] = lies;
    let sheets = if turned.count() < upright.count() {
        turned
    } else {
        upright
    };
    if sheets.count() > MOST_SHEETS {
        return Vec::new();
    }
    let tiles = sheets.tiles();
    tiles
        .into_iter()
        .map(|tile| page(template, &sheets, seam, for_pieces, tile))
        .collect()
}

/// Corners of printed matter as an outline, inches.
pub(super) fn outline_of(corners: &[TemplateCorner]) -> Polygon {
    let place = |c: &TemplateCorner| Point::new(c.right.to_inches(), c.up.to_inches());
    Polygon::new(corners.iter().map(place).collect())
}

/// How a template is spread over sheets.
pub(super) struct Sheets {
    /// The outline as it is printed.
    outline: Polygon,
    /// How the recipe's template is turned to lie so.
    turn: Motion,
    /// Dots along its bowed edges.
    marks: Vec<Point>,
    /// Direction of the cloth's length on it.
    grain: Vector,
    /// Lower left corner of the two test squares, where both fit inside the template.
    squares: Option<Point>,
    columns: usize,
    rows: usize,
    /// The window of one sheet, points.
    w: f64,
    h: f64,
}

impl Sheets {
    fn of(outline: &Polygon, marks: &[Point], turn: Motion, paper: Paper) -> Self {
        let marks = marks.iter().map(|&m| turn.point(m)).collect();
        let outline = turn.polygon(outline);
        let (low, high) = outline.bounds();
        let count = |size: f64, room: f64| (size * INCH / (room - 16.0)).ceil().max(1.0) as usize;
        let (w, tall) = (paper.text_width(), paper.points().1 - KEPT);
        let squares = inside(&outline);
        let (columns, rows) = (count(high.x - low.x, w), count(high.y - low.y, tall));
        let one = columns == 1 && rows == 1 && squares.is_some();
        let h = if one { tall } else { tall - BELOW };
        let grain = turn.vector(Vector::new(0.0, 1.0));
        Sheets {
            squares: if one { squares } else { None },
            columns,
            rows: count(high.y - low.y, h),
            outline,
            turn,
            marks,
            grain,
            w,
            h,
        }
    }

    /// Spread over sheets of so many points each, without squares inside.
    pub(super) fn laid(outline: &Polygon, turn: Motion, (w, h): (f64, f64)) -> Self {
        let outline = turn.polygon(outline);
        let (low, high) = outline.bounds();
        // What fits exactly fits, whatever the rounding.
        let count = |size: f64, room: f64| (size * INCH / (room - 16.0) - 1.0e-6).ceil().max(1.0) as usize;
        Sheets {
            squares: None,
            columns: count(high.x - low.x, w),
            rows: count(high.y - low.y, h),
            grain: turn.vector(Vector::new(0.0, 1.0)),
            outline,
            turn,
            marks: Vec::new(),
            w,
            h,
        }
    }

    pub(super) fn count(&self) -> usize {
        self.columns.saturating_mul(self.rows)
    }

    /// The outline as it lies on the sheets.
    pub(super) fn outline(&self) -> &Polygon {
        &self.outline
    }

    /// The sheets, row by row.
    pub(super) fn tiles(&self) -> Vec<Tile> {
        let places = (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| (row, column)));
        let tile = |(row, column)| Tile {
            column,
            row,
            columns: self.columns,
            rows: self.rows,
            w: self.w,
            h: self.h,
        };
        places.map(tile).collect()
    }
}

/// Side of the metric test square, inches.
pub(super) const THREE: f64 = 3.0 / 2.54;

/// Where the two test squares, side by side, fit inside a template clear of its name and arrow; lower left corner. The
/// nearest such place below or above the name.
fn inside(outline: &Polygon) -> Option<Point> {
    let c = outline.centroid();
    let (w, h, free) = (1.0 + 0.25 + THREE, THREE, 0.3);
    let fits = |p: Point| (0..outline.len()).all(|i| outline.edge(i).is_some_and(|e| e.offset_of(p) > free));
    let corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
    let tenths = |n: i32| f64::from(n) / 10.0;
    // The name stands within 0.4 in below and 1 in above the centre.
    let lower = (0..20).map(|i| -h - 0.4 - tenths(i));
    let upper = (0..20).map(|i| 1.0 + tenths(i));
    lower
        .zip(upper)
        .flat_map(|(below, above)| [below, above])
        .find_map(|y| {
            (0..20).flat_map(|i| [tenths(i), -tenths(i)]).find_map(|x| {
                let low = Point::new(c.x - w / 2.0 + x, c.y + y);
                corners
                    .iter()
                    .all(|&(x, y)| fits(low + Vector::new(x, y)))
                    .then_some(low)
            })
        })
}

#[derive(Clone, Copy)]
pub(super) struct Tile {
    column: usize,
    row: usize,
    columns: usize,
    rows: usize,
    pub(super) w: f64,
    pub(super) h: f64,
}

impl Tile {
    /// What of the drawing, which lies between two corners, falls on this sheet. Rows are counted from the top, as the pages are read.
    pub(super) fn window(&self, low: Point, high: Point) -> Polygon {
        let (w, h) = ((self.w - 16.0) / INCH, (self.h - 16.0) / INCH);
        let (left, top) = (low.x + self.column as f64 * w, high.y - self.row as f64 * h);
        Polygon::new(vec![
            Point::new(left, top - h),
            Point::new(left + w, top - h),
            Point::new(left + w, top),
            Point::new(left, top),
        ])
    }
}

fn page(template: &Template, sheets: &Sheets, seam: f64, for_pieces: &str, tile: Tile) -> Picture {
    let outline = &sheets.outline;
    let (low, high) = outline.bounds();
    let whole = tile.columns == 1 && tile.rows == 1;
    let (w, h) = if whole {
        ((high.x - low.x) * INCH + 16.0, (high.y - low.y) * INCH + 16.0)
    } else {
        (tile.w, tile.h)
    };
    let below = if sheets.squares.is_some() { 0.0 } else { BELOW };
    let mut canvas = Canvas::true_scale(w.max(250.0), h + below);
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
    // What of an edge of the drawing lies on this sheet.
    let window = Polygon::new(vec![
        Point::new(left_of_tile, top_of_tile - inner_h / INCH),
        Point::new(left_of_tile + inner_w / INCH, top_of_tile - inner_h / INCH),
        Point::new(left_of_tile + inner_w / INCH, top_of_tile),
        Point::new(left_of_tile, top_of_tile),
    ]);
    let mut shown = outline.clone();
    if !whole {
        for i in 0..window.len() {
            if let Some(side) = window.edge(i) {
                shown = shown.left_of(side);
            }
        }
        canvas.outline(
            &[(8.0, 8.0), (w - 8.0, 8.0), (w - 8.0, h - 8.0), (8.0, h - 8.0)],
            "none",
            Some(Pen::HIDDEN),
        );
        match_marks(&mut canvas, tile, w, h);
    }
    if shown.len() >= 3 {
        canvas.outline(&view.all(&shown), "#FFFFFF", None);
        // What is laid on a ground has its finished line printed with it; what is sewn is stitched a seam inside.
        let stitched = match &template.applique {
            Some(laid) => Some(sheets.turn.polygon(&outline_of(&laid.line))),
            None => stitch_line(outline, seam),
        };
        let drawn = [(Some(outline.clone()), Pen::CUT), (stitched, Pen::STITCH)];
        for (outline, pen) in drawn {
            for i in 0..outline.as_ref().map_or(0, Polygon::len) {
                let ends = outline.as_ref().map(|o| (o.corner(i), o.corner(i + 1)));
                let part = ends.and_then(|(a, b)| if whole { Some((a, b)) } else { within(a, b, &window) });
                if let Some((a, b)) = part {
                    canvas.line(view.at(a), view.at(b), pen);
                }
            }
        }
        for mark in &sheets.marks {
            if whole || within(*mark, *mark + Vector::new(1.0e-6, 0.0), &window).is_some() {
                print_mark(&mut canvas, &view, outline, *mark, seam);
            }
        }
        let c = place_for_name(&shown);
        canvas.grain(
            view.at(c + Vector::new(0.0, 0.62)),
            view.direction(sheets.grain),
            34.0,
            INK,
        );
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
    let (x, y) = match sheets.squares {
        // From the lower left corner up to the upper one of the taller square.
        Some(low) => view.at(low + Vector::new(0.0, THREE)),
        None => (8.0, h + 18.0),
    };
    square(&mut canvas, x, y, INCH, "1 in");
    square(&mut canvas, x + INCH + 18.0, y, THREE * INCH, "3 cm");
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

/// A mark: a dot on the stitch line, and a tick from there out to the edge.
fn print_mark(canvas: &mut Canvas, view: &View, outline: &Polygon, mark: Point, seam: f64) {
    let off = |i: usize| {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        let reach = outline
            .edge(i)
            .map_or(0.0, |e| e.reach_of(mark).clamp(0.0, a.distance(b)));
        outline.edge(i).map_or(f64::INFINITY, |e| e.at(reach).distance(mark))
    };
    let nearest = (0..outline.len()).min_by(|&i, &j| off(i).total_cmp(&off(j)));
    // Where two edges are equally near, a corner: its dot says enough.
    let beside = (0..outline.len()).filter(|&i| off(i) < seam + 1.0 / 64.0);
    let ways: Vec<Vector> = beside.filter_map(|i| outline.edge(i)).map(|e| e.along).collect();
    let turns = ways.iter().any(|u| ways.iter().any(|v| u.dot(*v) < 0.9));
    if let Some(edge) = nearest.and_then(|i| outline.edge(i)).filter(|_| !turns) {
        let out = mark - edge.along.left() * edge.offset_of(mark);
        canvas.line(view.at(mark), view.at(out), Pen::CUT);
    }
    canvas.circle(view.at(mark), 2.2, INK, None);
}

/// Where a template's name stands: its centre, or beside it where that lies in the hollow of a bow.
fn place_for_name(outline: &Polygon) -> Point {
    let c = outline.centroid();
    let holds = |p: Point| {
        let crossed = (0..outline.len()).filter(|&i| {
            let (a, b) = (outline.corner(i), outline.corner(i + 1));
            (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
        });
        crossed.count() % 2 == 1
    };
    let room = |p: Point| {
        if holds(p) {
            outline.distance_to_boundary(p)
        } else {
            -1.0
        }
    };
    if room(c) > 0.45 || outline.is_convex(1.0e-6) {
        return c;
    }
    let (low, high) = outline.bounds();
    let share = |n: i32| f64::from(n) / 16.0;
    let all = (1..16).flat_map(|i| (1..16).map(move |j| (share(i), share(j))));
    let places = all.map(|(x, y)| Point::new(low.x + (high.x - low.x) * x, low.y + (high.y - low.y) * y));
    // The roomiest place; of several alike the first.
    places.fold(c, |best, p| if room(p) > room(best) + 1.0e-9 { p } else { best })
}

/// The part of a stretch from `a` to `b` that lies in a convex window.
pub(super) fn within(a: Point, b: Point, window: &Polygon) -> Option<(Point, Point)> {
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for i in 0..window.len() {
        let side = window.edge(i)?;
        let (da, db) = (side.offset_of(a), side.offset_of(b));
        if da < 0.0 && db < 0.0 {
            return None;
        }
        if da < 0.0 {
            from = from.max(da / (da - db));
        } else if db < 0.0 {
            to = to.min(da / (da - db));
        }
    }
    (from < to).then(|| (a.toward(b, from), a.toward(b, to)))
}

pub(super) fn square(canvas: &mut Canvas, x: f64, y: f64, side: f64, words: &str) {
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
pub(super) fn match_marks(canvas: &mut Canvas, tile: Tile, w: f64, h: f64) {
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
