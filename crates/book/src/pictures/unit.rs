//! A unit in the making: its parts apart, the stack right sides together, the work opened, a trim.

use super::canvas::{Anchor, Canvas, INK, Lettering, Pen, View, lettering_width};
use super::cloth::Cloths;
use crate::model::{Edition, Picture};
use crate::numbers::set_length;
use measure::{Length, Measure};
use recipe::{EdgeRef, Press};
use rehearse::{MarkView, PieceView, Segment, UnitScenes, WorkView};
use shape::{Line, Motion, Point, Polygon, Vector};

/// Room about the cloth for rings, arrows and measures, points.
pub(super) const EDGE: f64 = 10.0;
/// Room for a dimension line, points.
const SPAN: f64 = 18.0;

/// What all pictures of one unit share.
pub(crate) struct UnitPictures<'a> {
    pub cloths: &'a Cloths,
    pub measure: Measure,
    /// Points per inch.
    pub scale: f64,
    /// All pictures are turned by this: long works lie level, the top stands upright.
    pub turn: Motion,
    /// Lettering so many times larger.
    pub letters: f64,
}

impl<'a> UnitPictures<'a> {
    /// One scale for the whole unit: its largest work fits a box of points, and small pieces stay small.
    pub(crate) fn new(
        cloths: &'a Cloths,
        edition: &Edition,
        scenes: &UnitScenes,
        turn: Motion,
        (width, height): (f64, f64),
    ) -> Self {
        let mut scale: f64 = 26.0;
        for view in &scenes.after {
            if let Some((low, high)) = bounds(view, turn) {
                scale = scale
                    .min((width - 2.0 * EDGE - SPAN) / (high.x - low.x).max(0.1))
                    .min((height - 2.0 * EDGE) / (high.y - low.y).max(0.1));
            }
        }
        UnitPictures {
            cloths,
            measure: edition.measure,
            scale: scale.max(0.5),
            turn,
            letters: edition.letters(),
        }
    }

    pub(super) fn sheet(&self, low: Point, high: Point, more_left: f64, more_below: f64) -> (Canvas, View) {
        let (w, h) = ((high.x - low.x) * self.scale, (high.y - low.y) * self.scale);
        let canvas = Canvas::lettered(w + 2.0 * EDGE + more_left, h + 2.0 * EDGE + more_below, self.letters);
        let view = View {
            turn: self.turn,
            scale: self.scale,
            low,
            origin: (EDGE + more_left, EDGE + h),
        };
        (canvas, view)
    }

    pub(super) fn piece(&self, canvas: &mut Canvas, at: &View, piece: &PieceView, wrong: bool, named: bool) {
        let cloth = self.cloths.get(&piece.fabric);
        let corners = at.all(&piece.outline);
        if wrong {
            cloth.wrong(canvas, &corners, Some(Pen::CUT));
        } else {
            cloth.right(canvas, &corners, Some(Pen::CUT));
        }
        if named {
            let ink = if wrong { INK } else { cloth.lettering() };
            name_inside(canvas, &corners, piece.piece.as_str(), ink);
        }
    }
}

/// A ring about one end of a seam, with how far the corners run apart there.
pub(crate) struct Overhang {
    /// At the start of the lower run, else at its end.
    pub at_start: bool,
    /// How far.
    pub by: Length,
}

/// The stack right sides together, with its stitching.
pub(crate) fn stacked(
    pictures: &UnitPictures,
    stack: &WorkView,
    cuts: &[Segment],
    overhangs: &[Overhang],
    alt: &str,
) -> Option<Picture> {
    let (low, high) = bounds(stack, pictures.turn)?;
    let more = if overhangs.is_empty() { 0.0 } else { 12.0 };
    let (mut canvas, mut view) = pictures.sheet(low, high, 0.0, 2.0 * more);
    view.origin.1 += more;
    let (below, above): (Vec<_>, Vec<_>) = stack.layers.iter().partition(|l| !l.turned_over);
    for layer in &below {
        for piece in &layer.pieces {
            pictures.piece(&mut canvas, &view, piece, false, above.is_empty());
        }
    }
    for layer in &above {
        for piece in &layer.pieces {
            pictures.piece(&mut canvas, &view, piece, true, false);
        }
    }
    // The hidden edges of the lower layer show through, thinly.
    if !above.is_empty() {
        for piece in below.iter().flat_map(|l| &l.pieces) {
            canvas.outline(&view.all(&piece.outline), "none", Some(Pen::HIDDEN));
        }
    }
    draw_marks(&mut canvas, &view, stack);
    for cut in cuts {
        let (from, to) = longer(*cut, 6.0 / pictures.scale);
        canvas.line(view.at(from), view.at(to), Pen::TRIM);
    }
    for stitch in &stack.stitches {
        canvas.line(view.at(stitch.from), view.at(stitch.to), Pen::STITCH);
    }
    rings(&mut canvas, &view, pictures.measure, stack, &below, overhangs);
    Some(canvas.finish(alt))
}

fn rings(
    canvas: &mut Canvas,
    view: &View,
    measure: Measure,
    stack: &WorkView,
    below: &[&rehearse::LayerView],
    overhangs: &[Overhang],
) {
    let Some(path) = stack.stitches.first() else { return };
    let Some(line) = Line::between(path.from, path.to) else {
        return;
    };
    // Seen along the lower run the cloth lies on the left; a path given the other way round is turned.
    let body = mean(below.iter().flat_map(|l| &l.pieces).map(|p| p.outline.centroid()));
    let (start, end) = if line.offset_of(body) >= 0.0 {
        (path.from, path.to)
    } else {
        (path.to, path.from)
    };
    for overhang in overhangs {
        let (here, there) = if overhang.at_start { (start, end) } else { (end, start) };
        let centre = view.at(here);
        let radius = (overhang.by.to_inches() * view.scale * 0.9).clamp(6.0, 14.0);
        canvas.circle(centre, radius, "none", Some(Pen::RING));
        let outward = view.direction(here - there).unit().unwrap_or(Vector::new(0.0, -1.0));
        let words = set_length(overhang.by, measure);
        let reach = radius + 7.0;
        let at = (centre.0 + outward.x * reach, centre.1 + outward.y * reach);
        canvas.centred(at, &words, Lettering::MEASURE);
    }
}

/// The opened work with its pressing arrow and, at the end of a unit, its measures.
pub(crate) fn opened(
    pictures: &UnitPictures,
    work: &WorkView,
    pressing: &[(&WorkView, Press)],
    sizes: &[Length],
    alt: &str,
) -> Option<Picture> {
    let (low, high) = bounds(work, pictures.turn)?;
    let (across, up) = (high.x - low.x, high.y - low.y);
    let near = |size: &Length, drawn: f64| (size.to_inches() - drawn).abs() < 1.0 / 24.0;
    let width = sizes.iter().find(|s| near(s, across));
    let height = sizes.iter().find(|s| near(s, up));
    let words = |size: Option<&Length>| size.map_or(String::new(), |s| set_length(*s, pictures.measure));
    let narrow = |size: Option<&Length>, drawn: f64| {
        Canvas::span_is_narrow(drawn * pictures.scale, &words(size), pictures.letters)
    };
    let more_left = match height {
        Some(_) if up * pictures.scale < 24.0 => 12.0 + lettering_width(&words(height), 9.5 * pictures.letters),
        Some(_) => lettering_width(&words(height), 9.5 * pictures.letters) + 8.0,
        None => 0.0,
    };
    let more_below = match width {
        Some(_) if narrow(width, across) => SPAN * 1.7,
        Some(_) => SPAN,
        None => 0.0,
    };
    let (mut canvas, view) = pictures.sheet(low, high, more_left, more_below);
    super::paper::beneath(&mut canvas, &view, work);
    for layer in &work.layers {
        for piece in &layer.pieces {
            pictures.piece(&mut canvas, &view, piece, layer.turned_over, false);
        }
    }
    super::guide::laid(pictures, &mut canvas, &view, work);
    super::paper::through(&mut canvas, &view, work);
    draw_marks(&mut canvas, &view, work);
    for (stack, press) in pressing {
        press_arrow(&mut canvas, &view, work, stack, *press);
    }
    if let Some(width) = width {
        let y = view.origin.1 + 13.0;
        canvas.span(
            view.origin.0,
            view.origin.0 + across * view.scale,
            y,
            &set_length(*width, pictures.measure),
        );
    }
    if let Some(height) = height {
        let words = set_length(*height, pictures.measure);
        let short = up * pictures.scale < 24.0;
        let half = lettering_width(&words, 9.5 * pictures.letters) / 2.0;
        let x = view.origin.0 - if short { 8.0 } else { half + 5.0 };
        canvas.upright_span(view.origin.1 - up * view.scale, view.origin.1, x, &words);
    }
    Some(canvas.finish(alt))
}

fn press_arrow(canvas: &mut Canvas, view: &View, work: &WorkView, stack: &WorkView, press: Press) {
    let pieces = || work.layers.iter().flat_map(|l| &l.pieces);
    // The seam just opened is the path it was sewn on; the frame has stayed.
    let Some(path) = stack
        .stitches
        .iter()
        .find(|s| pieces().any(|p| lies_along(&p.outline, s)))
    else {
        return;
    };
    let Some(line) = Line::between(path.from, path.to) else {
        return;
    };
    let lower: Vec<EdgeRef> = stack
        .layers
        .iter()
        .filter(|l| !l.turned_over)
        .flat_map(|l| &l.pieces)
        .flat_map(|p| p.edges.iter().map(|e| e.0))
        .collect();
    let of_lower = pieces().filter(|p| p.edges.iter().any(|e| lower.contains(&e.0)));
    let side = line.offset_of(mean(of_lower.map(|p| p.outline.centroid())));
    let toward_lower = if side >= 0.0 {
        line.along.left()
    } else {
        -line.along.left()
    };
    let middle = view.at(path.from.toward(path.to, 0.5));
    let room = path.from.distance(path.to) * view.scale;
    let length = room.clamp(10.0, 16.0);
    match press {
        Press::TowardLower => canvas.arrow(middle, view.direction(toward_lower), length),
        Press::TowardUpper => canvas.arrow(middle, view.direction(-toward_lower), length),
        Press::Open => {
            canvas.arrow(middle, view.direction(toward_lower), length * 0.8);
            canvas.arrow(middle, view.direction(-toward_lower), length * 0.8);
        }
        Press::SpunLower | Press::SpunUpper => {
            // By turns, from each place where joints meet to the next.
            let mut turns: Vec<f64> = stack.meets.iter().map(|&at| line.reach_of(at)).collect();
            turns.extend([0.0, path.from.distance(path.to)]);
            turns.sort_by(f64::total_cmp);
            let mut way = if press == Press::SpunLower {
                toward_lower
            } else {
                -toward_lower
            };
            for stretch in turns.windows(2) {
                let place = view.at(line.at((stretch[0] + stretch[1]) / 2.0));
                let room = (stretch[1] - stretch[0]) * view.scale;
                canvas.arrow(place, view.direction(way), room.clamp(10.0, 16.0));
                way = -way;
            }
        }
    }
}

/// A trim, or a strip set cut into lengths: what stays, what comes off hatched, the ruler's lines, a trim's shaves beside
/// them.
pub(crate) fn trimmed(pictures: &UnitPictures, work: &WorkView, shaves: &[Length], alt: &str) -> Option<Picture> {
    let (mut low, mut high) = bounds(work, pictures.turn)?;
    for corner in work
        .waste
        .iter()
        .flat_map(|w| w.corners())
        .map(|&c| pictures.turn.point(c))
    {
        low = Point::new(low.x.min(corner.x), low.y.min(corner.y));
        high = Point::new(high.x.max(corner.x), high.y.max(corner.y));
    }
    let (mut canvas, mut view) = pictures.sheet(low, high, 2.0 * SPAN, 2.0 * SPAN);
    view.origin = (view.origin.0 - SPAN, view.origin.1 + SPAN);
    for layer in &work.layers {
        for piece in &layer.pieces {
            pictures.piece(&mut canvas, &view, piece, layer.turned_over, false);
        }
    }
    for waste in &work.waste {
        canvas.waste(&view.all(waste), Some(Pen::HIDDEN));
    }
    let body = mean(work.layers.iter().flat_map(|l| &l.pieces).map(|p| p.outline.centroid()));
    for (i, cut) in work.cuts.iter().enumerate() {
        let (from, to) = longer(*cut, 6.0 / view.scale);
        canvas.line(view.at(from), view.at(to), Pen::TRIM);
        let (Some(line), Some(shave)) = (Line::between(from, to), shaves.get(i)) else {
            continue;
        };
        let out = if line.offset_of(body) >= 0.0 {
            -line.along.left()
        } else {
            line.along.left()
        };
        let at = view.at(from.toward(to, 0.5) + out * (shave.to_inches() + 10.0 / view.scale));
        canvas.centred(at, &crate::numbers::about(*shave, pictures.measure), Lettering::MEASURE);
    }
    Some(canvas.finish(alt))
}

/// The last view of the unit that holds cloth.
pub(crate) fn finished_view(scenes: &UnitScenes) -> Option<&WorkView> {
    scenes
        .after
        .iter()
        .rev()
        .find(|v| v.layers.iter().any(|l| !l.pieces.is_empty()))
}

fn draw_marks(canvas: &mut Canvas, view: &View, work: &WorkView) {
    for mark in &work.marks {
        match mark {
            MarkView::Line(_, _, s) => canvas.line(view.at(s.from), view.at(s.to), Pen::DRAWN),
            MarkView::Dot(_, p) => canvas.circle(view.at(*p), 1.6, INK, None),
        }
    }
}

fn name_inside(canvas: &mut Canvas, corners: &[(f64, f64)], name: &str, ink: &str) {
    let outline = Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
    let (low, high) = outline.bounds();
    let room = if outline.simplified(1e-6).len() == 3 { 0.45 } else { 0.8 };
    let size = ((high.x - low.x) * room / lettering_width(name, 1.0).max(0.5))
        .min((high.y - low.y) * room * 0.8)
        .min(10.0);
    if size >= 4.5 {
        let c = outline.centroid();
        let how = Lettering {
            size,
            color: ink,
            bold: true,
            anchor: Anchor::Middle,
            turned: false,
        };
        canvas.centred((c.x, c.y), name, how);
    }
}

pub(super) fn bounds(view: &WorkView, motion: Motion) -> Option<(Point, Point)> {
    let mut corners = view
        .layers
        .iter()
        .flat_map(|l| &l.pieces)
        .flat_map(|p| p.outline.corners())
        .chain(view.paper.iter().flat_map(|p| p.cutting.corners()))
        .map(|&c| motion.point(c));
    let first = corners.next()?;
    Some(corners.fold((first, first), |(l, h), c| {
        (
            Point::new(l.x.min(c.x), l.y.min(c.y)),
            Point::new(h.x.max(c.x), h.y.max(c.y)),
        )
    }))
}

/// How the pictures of a unit are turned: the quilt's upper side up where it is known, else long works level.
pub(crate) fn turn_for(scenes: &UnitScenes, upper: Option<EdgeRef>) -> Motion {
    let Some(last) = finished_view(scenes) else {
        return Motion::STILL;
    };
    let edges = || last.layers.iter().flat_map(|l| &l.pieces).flat_map(|p| &p.edges);
    let direction = upper
        .and_then(|name| edges().find(|(e, _)| *e == name))
        .map(|(_, s)| s.to - s.from);
    if let Some(d) = direction {
        // With the cloth on its left the upper side runs from right to left. A mosaic lies as its first patch did.
        let aslant = d.x.abs().min(d.y.abs()) > 1.0e-3 * d.x.abs().max(d.y.abs());
        if aslant && let Some(along) = d.unit() {
            let line = |along| Line {
                through: Point::ORIGIN,
                along,
            };
            return Motion::line_to_line(line(along), line(Vector::new(-1.0, 0.0)), false);
        }
        return if d.x.abs() >= d.y.abs() {
            Motion::quarter_turns(if d.x <= 0.0 { 0 } else { 2 })
        } else {
            Motion::quarter_turns(if d.y > 0.0 { 1 } else { 3 })
        };
    }
    match bounds(last, Motion::STILL) {
        Some((low, high)) if high.y - low.y > 1.3 * (high.x - low.x) => Motion::quarter_turns(3),
        _ => Motion::STILL,
    }
}

/// How many times longer than high the finished work is.
pub(crate) fn stretch(scenes: &UnitScenes, turn: Motion) -> f64 {
    finished_view(scenes)
        .and_then(|v| bounds(v, turn))
        .map_or(1.0, |(low, high)| (high.x - low.x) / (high.y - low.y).max(0.1))
}

pub(super) fn mean(points: impl Iterator<Item = Point>) -> Point {
    let (mut sum, mut count) = (Vector::default(), 0.0);
    for p in points {
        sum = sum + (p - Point::ORIGIN);
        count += 1.0;
    }
    if count == 0.0 {
        Point::ORIGIN
    } else {
        Point::ORIGIN + sum * (1.0 / count)
    }
}

fn lies_along(outline: &Polygon, segment: &Segment) -> bool {
    let middle = segment.from.toward(segment.to, 0.5);
    outline.distance_to_boundary(middle) < 0.02
}

fn longer(segment: Segment, by: f64) -> (Point, Point) {
    let along = (segment.to - segment.from).unit().unwrap_or_default();
    (segment.from - along * by, segment.to + along * by)
}
