//! Foundation papers at true scale as they are printed, the mirror image of the section; and the paper under the cloth in the
//! pictures of the steps.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, SOFT, View};
use super::template::{BELOW, INCH, MOST_SHEETS, Sheets, THREE, Tile, match_marks, outline_of, square, within};
use super::unit::{UnitPictures, bounds};
use crate::model::{Paper, Picture};
use measure::Length;
use rehearse::WorkView;
use shape::{Line, Motion, Point, Polygon, Vector};

/// A paper to be printed.
pub(crate) struct Printed<'a> {
    /// The recipe's paper.
    pub paper: &'a recipe::Paper,
    /// What it is called: a letter.
    pub name: &'a str,
    /// The cloth of each area in order.
    pub cloths: Vec<String>,
}

/// Margin left and right of a sheet, points: as near the edge as printers go.
const NARROW: f64 = 18.0;

/// Height kept for a bar to measure, points.
const BAR: f64 = 26.0;

/// Height of the page kept for margins, head and foot, points: the words above are two lines at most.
const KEPT: f64 = 210.0;

/// Size of the numbers, points.
const NUMBER: f64 = 15.0;

/// The pages of one paper: a single one where it fits, else tiles with match marks; none where it is too large.
pub(crate) fn paper_pages(printed: &Printed, sheet: Paper) -> Vec<Picture> {
    let place = |c: &recipe::TemplateCorner| Point::new(c.right.to_inches(), c.up.to_inches());
    let (cutting, finished) = (outline_of(&printed.paper.cutting), outline_of(&printed.paper.outline));
    if cutting.len() < 3 || finished.len() < 3 {
        return Vec::new();
    }
    // With the test squares below where that takes no more sheets, else with a bar to measure; as drawn, or turned by a
    // quarter where that takes fewer.
    let (wide, tall) = (sheet.points().0 - 2.0 * NARROW, sheet.points().1 - KEPT);
    let ways = [(0, BELOW), (1, BELOW), (0, BAR), (1, BAR)].map(|(quarters, below)| {
        let turn = Motion::quarter_turns(quarters);
        (turn, below, Sheets::laid(&cutting, turn, (wide, tall - below)))
    });
    let Some((turn, below, sheets)) = ways.into_iter().min_by_key(|(.., sheets)| sheets.count()) else {
        return Vec::new();
    };
    if sheets.count() > MOST_SHEETS {
        return Vec::new();
    }
    let lines: Vec<(Point, Point)> = printed
        .paper
        .lines
        .iter()
        .map(|l| (turn.point(place(&l.from)), turn.point(place(&l.to))))
        .collect();
    let drawing = Drawing {
        cutting: sheets.outline().clone(),
        areas: areas(&turn.polygon(&finished), &lines),
        finished: turn.polygon(&finished),
        lines,
        printed,
        below,
    };
    let tiles = sheets.tiles();
    let many = tiles.len();
    tiles
        .into_iter()
        .enumerate()
        .map(|(i, tile)| drawing.page(tile, i, many))
        .collect()
}

/// The areas in order: as printed, line `i` has area `i + 1` on its left and all before on its right.
fn areas(finished: &Polygon, lines: &[(Point, Point)]) -> Vec<Polygon> {
    let lines: Vec<Line> = lines.iter().filter_map(|&(a, b)| Line::between(a, b)).collect();
    let before = |first: usize| {
        let later = lines.iter().skip(first);
        later.fold(finished.clone(), |o, line| o.left_of(line.reversed()))
    };
    (0..=lines.len())
        .map(|k| match k.checked_sub(1).and_then(|line| lines.get(line)) {
            None => before(k),
            Some(line) => before(k).left_of(*line),
        })
        .collect()
}

/// Everything on a paper, as it lies on the sheets.
struct Drawing<'a> {
    cutting: Polygon,
    finished: Polygon,
    areas: Vec<Polygon>,
    lines: Vec<(Point, Point)>,
    printed: &'a Printed<'a>,
    /// Height kept below for what is to be measured, points.
    below: f64,
}

impl Drawing<'_> {
    fn page(&self, tile: Tile, number: usize, many: usize) -> Picture {
        let (low, high) = self.cutting.bounds();
        let whole = many == 1;
        let (w, h) = if whole {
            ((high.x - low.x) * INCH + 16.0, (high.y - low.y) * INCH + 16.0)
        } else {
            (tile.w, tile.h)
        };
        let mut canvas = Canvas::true_scale(w.max(250.0), h + self.below);
        let window = tile.window(low, high);
        let view = View {
            turn: Motion::STILL,
            scale: INCH,
            low: if whole { low } else { window.corner(0) },
            origin: (8.0, h - 8.0),
        };
        let mut shown = self.cutting.clone();
        if !whole {
            for side in (0..window.len()).filter_map(|i| window.edge(i)) {
                shown = shown.left_of(side);
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
        }
        let around = |o: &Polygon| (0..o.len()).map(|i| (o.corner(i), o.corner(i + 1))).collect::<Vec<_>>();
        let strokes = [
            (around(&self.cutting), Pen::CUT_HERE),
            (around(&self.finished), Pen::SEAM),
            (self.lines.clone(), Pen::SEW_HERE),
        ];
        for (ends, pen) in strokes {
            for (a, b) in ends {
                let part = if whole { Some((a, b)) } else { within(a, b, &window) };
                if let Some((a, b)) = part {
                    canvas.line(view.at(a), view.at(b), pen);
                }
            }
        }
        // A line has the number of the area it adds.
        for (i, &(a, b)) in self.lines.iter().enumerate() {
            let middle = a.toward(b, 0.5);
            let on_sheet = (0..window.len()).all(|k| window.edge(k).is_some_and(|e| e.offset_of(middle) > 0.1));
            if whole || on_sheet {
                let at = view.at(middle);
                let long = a.distance(b) * INCH;
                let radius = 6.5f64.min(long / 4.0);
                canvas.circle(at, radius, "#FFFFFF", Some(Pen::HAIR));
                let number = Lettering {
                    size: radius * 1.25,
                    color: SOFT,
                    bold: false,
                    anchor: Anchor::Middle,
                    turned: false,
                };
                canvas.centred(at, &(i + 2).to_string(), number);
            }
        }
        for (k, area) in self.areas.iter().enumerate() {
            let on_sheet = |p: Point| (0..window.len()).all(|i| window.edge(i).is_some_and(|e| e.offset_of(p) > 0.05));
            if area.len() >= 3 && (whole || on_sheet(area.centroid())) {
                self.name_area(&mut canvas, &view, area, k);
            }
        }
        let y = h + 18.0;
        let what = if self.below >= BELOW {
            square(&mut canvas, 8.0, y, INCH, "1 in");
            square(&mut canvas, 8.0 + INCH + 18.0, y, THREE * INCH, "3 cm");
            "test squares of 1 in and 3 cm"
        } else {
            bar(&mut canvas, 8.0, y, 2.0 * INCH, "2 in");
            bar(&mut canvas, 8.0 + 2.0 * INCH + 30.0, y, 5.0 * INCH / 2.54, "5 cm");
            "test bars of 2 in and 5 cm"
        };
        let part = if whole {
            String::new()
        } else {
            format!(", sheet {} of {many}", number + 1)
        };
        canvas.finish(format!(
            "Foundation paper {}{part}, at true scale, with {what}",
            self.printed.name
        ))
    }

    /// The section's letter and the area's number, with its cloth where there is room.
    fn name_area(&self, canvas: &mut Canvas, view: &View, area: &Polygon, k: usize) {
        let at = view.at(area.centroid());
        let room = area.distance_to_boundary(area.centroid()) * INCH;
        let words = format!("{}{}", self.printed.name, k + 1);
        let size = NUMBER.min(room * 1.1).max(6.0);
        let number = Lettering {
            size,
            color: INK,
            bold: true,
            anchor: Anchor::Middle,
            turned: false,
        };
        canvas.centred(at, &words, number);
        let cloth = self.printed.cloths.get(k).map_or("", String::as_str);
        let small = Lettering {
            size: 8.5,
            color: SOFT,
            bold: false,
            anchor: Anchor::Middle,
            turned: false,
        };
        let wide = super::canvas::lettering_width(cloth, 8.5) / 2.0;
        if room > size / 2.0 + 12.0 && room > wide * 0.9 {
            canvas.centred((at.0, at.1 + size / 2.0 + 7.0), cloth, small);
        }
    }
}

/// A bar to measure, with its length beside it.
fn bar(canvas: &mut Canvas, x: f64, y: f64, length: f64, words: &str) {
    canvas.line((x, y), (x + length, y), Pen::CUT);
    for end in [x, x + length] {
        canvas.line((end, y - 6.0), (end, y + 6.0), Pen::CUT);
    }
    canvas.centred((x + length / 2.0, y - 6.0), words, Lettering::MEASURE);
}

/// Cloth on the paper, as laid: the first piece, or the next right side down over its line, with how far it reaches beyond the
/// line's start in a ring there.
pub(crate) fn laid_on_paper(
    pictures: &UnitPictures,
    work: &WorkView,
    (line, at_end): (usize, bool),
    by: Length,
    alt: &str,
) -> Option<Picture> {
    let (low, high) = bounds(work, pictures.turn)?;
    let room = Vector::new(1.0, 1.0) * (20.0 / pictures.scale);
    let (mut canvas, view) = pictures.sheet(low - room, high + room, 0.0, 0.0);
    beneath(&mut canvas, &view, work);
    let over = work.layers.iter().any(|l| l.turned_over);
    for layer in &work.layers {
        for piece in &layer.pieces {
            pictures.piece(&mut canvas, &view, piece, layer.turned_over, !over);
        }
    }
    for piece in work
        .layers
        .iter()
        .filter(|l| over && !l.turned_over)
        .flat_map(|l| &l.pieces)
    {
        canvas.outline(&view.all(&piece.outline), "none", Some(Pen::HIDDEN));
    }
    through(&mut canvas, &view, work);
    for stitch in &work.stitches {
        canvas.line(view.at(stitch.from), view.at(stitch.to), Pen::STITCH);
    }
    if let Some(line) = work.paper.as_ref().and_then(|p| p.lines.get(line)) {
        let (here, there) = if at_end {
            (line.to, line.from)
        } else {
            (line.from, line.to)
        };
        if !over {
            canvas.line(view.at(line.from), view.at(line.to), Pen::DRAWN);
        }
        let outward = view.direction(here - there).unit().unwrap_or(Vector::new(0.0, -1.0));
        let centre = view.at(here);
        canvas.circle(centre, 6.0, "none", Some(Pen::RING));
        let at = (centre.0 + outward.x * 15.0, centre.1 + outward.y * 15.0);
        let words = crate::numbers::set_length(by, pictures.measure);
        canvas.circle(at, 7.0, "#FFFFFF", None);
        canvas.centred(at, &words, Lettering::MEASURE);
    }
    Some(canvas.finish(alt))
}

/// The paper under the cloth, as it lies in a step's picture: printed side down, its lines showing through.
pub(super) fn beneath(canvas: &mut Canvas, view: &View, work: &WorkView) {
    let Some(paper) = &work.paper else { return };
    canvas.outline(&view.all(&paper.cutting), "#FFFFFF", Some(Pen::CUT_HERE));
    for line in &paper.lines {
        canvas.line(view.at(line.from), view.at(line.to), Pen::HIDDEN);
    }
    for (k, area) in paper.areas.iter().enumerate().skip(paper.pieces) {
        let room = area.distance_to_boundary(area.centroid()) * view.scale;
        let how = Lettering {
            size: 9.0f64.min(room * 1.4),
            color: SOFT,
            bold: false,
            anchor: Anchor::Middle,
            turned: false,
        };
        if how.size >= 4.0 {
            canvas.centred(view.at(area.centroid()), &(k + 1).to_string(), how);
        }
    }
}

/// What of the paper must be seen through the cloth: the cutting line.
pub(super) fn through(canvas: &mut Canvas, view: &View, work: &WorkView) {
    let Some(paper) = &work.paper else { return };
    let n = paper.cutting.len();
    for i in 0..n {
        let (a, b) = (paper.cutting.corner(i), paper.cutting.corner(i + 1));
        canvas.line(view.at(a), view.at(b), Pen::PLATE);
        canvas.line(view.at(a), view.at(b), Pen::CUT_HERE);
    }
}
