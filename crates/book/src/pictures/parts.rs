//! The parts of a unit apart from one another, each lying as it will lie in the finished unit.

use super::canvas::{Canvas, Lettering, Pen, View, lettering_width};
use super::cloth::inside;
use super::unit::{EDGE, UnitPictures, bounds, finished_view, mean};
use crate::model::Picture;
use recipe::Slot;
use rehearse::{PieceView, Segment, UnitScenes, WorkView};
use shape::{Line, Motion, Point, Polygon, Vector};

/// The parts apart, each lying as it will lie in the finished unit.
pub(crate) fn exploded(
    pictures: &UnitPictures,
    scenes: &UnitScenes,
    code: &dyn Fn(Slot) -> Option<String>,
    width: f64,
    alt: &str,
) -> Option<Picture> {
    let last = finished_view(scenes)?;
    let mut placed: Vec<(Motion, &WorkView, Point)> = Vec::new();
    for part in &scenes.parts {
        let (motion, centre) = place_in(part, last);
        placed.push((motion.then(&pictures.turn), part, pictures.turn.point(centre)));
    }
    if placed.is_empty() {
        return None;
    }
    if let [one, other] = placed.as_mut_slice() {
        side_by_side(one, other);
    }
    let middle = mean(placed.iter().map(|(_, _, c)| *c));
    // Move the parts away from the middle until there is room between any two.
    let gap = 7.0 / pictures.scale;
    let mut apart = 0.0;
    let mut boxes = Vec::new();
    for step in 0..24 {
        apart = f64::from(step) * 0.25;
        boxes = placed
            .iter()
            .filter_map(|(motion, view, centre)| {
                let shift = Motion::slide((*centre - middle) * apart);
                bounds(view, motion.then(&shift))
            })
            .collect::<Vec<_>>();
        if !any_overlap(&boxes, gap) {
            break;
        }
    }
    // Parts that never come apart (all about one centre) are put in a row instead.
    if any_overlap(&boxes, gap * 0.5) {
        return Some(in_a_row(pictures, &placed, code, width, alt));
    }
    let low = boxes.iter().fold(Point::new(f64::MAX, f64::MAX), |p, b| {
        Point::new(p.x.min(b.0.x), p.y.min(b.0.y))
    });
    let high = boxes.iter().fold(Point::new(f64::MIN, f64::MIN), |p, b| {
        Point::new(p.x.max(b.1.x), p.y.max(b.1.y))
    });
    let scale = pictures.scale.min((width - 2.0 * EDGE) / (high.x - low.x).max(0.1));
    let smaller = UnitPictures { scale, ..*pictures };
    let (mut canvas, view) = smaller.sheet(low, high, 0.0, 0.0);
    for (motion, part, centre) in &placed {
        let shift = Motion::slide((*centre - middle) * apart);
        let at = View {
            turn: motion.then(&shift),
            ..view
        };
        draw_part(&smaller, &mut canvas, &at, part, code(part.slot));
    }
    Some(canvas.finish(alt))
}

/// Two parts stand level, beside or above one another, whichever is nearer to how they will lie.
fn side_by_side(one: &mut (Motion, &WorkView, Point), other: &mut (Motion, &WorkView, Point)) {
    let (Some(a), Some(b)) = (bounds(one.1, one.0), bounds(other.1, other.0)) else {
        return;
    };
    let apart = other.2 - one.2;
    let off = a.0.toward(a.1, 0.5) - b.0.toward(b.1, 0.5);
    let beside = apart.x.abs() >= apart.y.abs() - 1.0e-6;
    let level = if beside {
        Vector::new(0.0, off.y)
    } else {
        Vector::new(off.x, 0.0)
    };
    other.0 = other.0.then(&Motion::slide(level));
    other.2 = one.2
        + if beside {
            Vector::new(apart.x, 0.0)
        } else {
            Vector::new(0.0, apart.y)
        };
}

fn in_a_row(
    pictures: &UnitPictures,
    placed: &[(Motion, &WorkView, Point)],
    code: &dyn Fn(Slot) -> Option<String>,
    width: f64,
    alt: &str,
) -> Picture {
    let sizes: Vec<(Point, Point)> = placed.iter().filter_map(|(m, v, _)| bounds(v, *m)).collect();
    let gap = 10.0 / pictures.scale;
    let across: f64 = sizes.iter().map(|(l, h)| h.x - l.x + gap).sum();
    let up = sizes.iter().map(|(l, h)| h.y - l.y).fold(0.1, f64::max);
    let scale = pictures.scale.min((width - 2.0 * EDGE) / across.max(0.1));
    let smaller = UnitPictures { scale, ..*pictures };
    let (mut canvas, view) = smaller.sheet(Point::ORIGIN, Point::new(across - gap, up), 0.0, 0.0);
    let mut x = 0.0;
    for ((motion, part, _), (low, high)) in placed.iter().zip(&sizes) {
        let shift = Motion::slide(Vector::new(x - low.x, (up - (high.y - low.y)) / 2.0 - low.y));
        let at = View {
            turn: motion.then(&shift),
            ..view
        };
        draw_part(&smaller, &mut canvas, &at, part, code(part.slot));
        x += high.x - low.x + gap;
    }
    canvas.finish(alt)
}

fn draw_part(pictures: &UnitPictures, canvas: &mut Canvas, at: &View, part: &WorkView, code: Option<String>) {
    let single = part.layers.iter().map(|l| l.pieces.len()).sum::<usize>() == 1;
    for layer in &part.layers {
        for piece in &layer.pieces {
            pictures.piece(canvas, at, piece, layer.turned_over, single && code.is_none());
        }
    }
    if let (true, None, Some(piece)) = (single, &code, part.layers.iter().flat_map(|l| &l.pieces).next()) {
        grain_arrow(pictures, canvas, at, piece);
    }
    for seam in &part.seams {
        canvas.line(at.at(seam.from), at.at(seam.to), Pen::SEAM);
    }
    if let (Some(code), Some((low, high))) = (code, bounds(part, Motion::STILL)) {
        let centre = at.at(low.toward(high, 0.5));
        let half = lettering_width(&code, 9.0) / 2.0 + 3.5;
        let (w, h) = ((high.x - low.x) * at.scale, (high.y - low.y) * at.scale);
        if half * 2.0 > w.max(h) {
            return;
        }
        let plate = [(-half, -7.0), (half, -7.0), (half, 7.0), (-half, 7.0)].map(|(x, y)| (centre.0 + x, centre.1 + y));
        canvas.outline(&plate, "#FFFFFF", Some(Pen::SEAM));
        canvas.centred(
            centre,
            &code,
            Lettering {
                size: 9.0,
                ..Lettering::MEASURE
            },
        );
    }
}

/// The grain below a piece's name, where the piece has room for it.
fn grain_arrow(pictures: &UnitPictures, canvas: &mut Canvas, at: &View, piece: &PieceView) {
    let outline = Polygon::new(
        at.all(&piece.outline)
            .into_iter()
            .map(|(x, y)| Point::new(x, y))
            .collect(),
    );
    let along = at.direction(piece.up);
    let length = 12.0;
    let drop = 8.0 + along.y.abs() * length / 2.0 + 2.0;
    let centre = outline.centroid() + Vector::new(0.0, drop);
    let fits = [-1.0, 1.0].iter().all(|end| {
        let tip = centre + along * (end * length / 2.0);
        (0..outline.len()).all(|i| outline.edge(i).is_none_or(|e| e.offset_of(tip).abs() > 4.0))
            && inside(&outline, tip)
    });
    if fits {
        canvas.grain(
            (centre.x, centre.y),
            along,
            length,
            pictures.cloths.get(&piece.fabric).lettering(),
        );
    }
}

fn any_overlap(boxes: &[(Point, Point)], gap: f64) -> bool {
    boxes.iter().enumerate().any(|(i, (al, ah))| {
        boxes[i + 1..]
            .iter()
            .any(|(bl, bh)| al.x < bh.x + gap && bl.x < ah.x + gap && al.y < bh.y + gap && bl.y < ah.y + gap)
    })
}

/// The motion that carries a part from its own frame to where it lies in the finished work, found by its longest edge
/// that both know, and the middle of what shows of it there.
fn place_in(part: &WorkView, last: &WorkView) -> (Motion, Point) {
    let there: Vec<&PieceView> = last
        .layers
        .iter()
        .flat_map(|l| &l.pieces)
        .map(AsRef::as_ref)
        .filter(|p: &&PieceView| p.edges.iter().any(|(e, _)| e.of == part.slot))
        .collect();
    let mut best: Option<(f64, Motion)> = None;
    for (edge, here) in part.layers.iter().flat_map(|l| &l.pieces).flat_map(|p| &p.edges) {
        for (name, now) in there.iter().flat_map(|p| &p.edges) {
            let length = now.from.distance(now.to).min(here.from.distance(here.to));
            if name != edge || best.as_ref().is_some_and(|b| b.0 >= length) {
                continue;
            }
            let middle = |s: &Segment| s.from.toward(s.to, 0.5);
            if let (Some(from), Some(onto)) = (Line::between(here.from, here.to), Line::between(now.from, now.to)) {
                let from = Line {
                    through: middle(here),
                    ..from
                };
                let onto = Line {
                    through: middle(now),
                    ..onto
                };
                best = Some((length, Motion::line_to_line(from, onto, false)));
            }
        }
    }
    let motion = best.map_or(Motion::STILL, |b| b.1);
    let Some((low, high)) = bounds(part, motion) else {
        return (motion, Point::ORIGIN);
    };
    let own = low.toward(high, 0.5);
    // A unit's side may be several segments of one name: only the direction is taken from an edge, the place from the
    // middle of what shows.
    let mut corners = there.iter().flat_map(|p| p.outline.corners());
    let Some(&first) = corners.next() else {
        return (motion, own);
    };
    let (low, high) = corners.fold((first, first), |(l, h), c| {
        (
            Point::new(l.x.min(c.x), l.y.min(c.y)),
            Point::new(h.x.max(c.x), h.y.max(c.y)),
        )
    });
    let middle = low.toward(high, 0.5);
    (motion.then(&Motion::slide(middle - own)), middle)
}
