//! The drawing laid into a block: scaled to its size, its corners held to a grid that is named or found.

use super::outline::{Outline, Side};
use super::read::Shape;
use kurbo::{Point, Rect, Shape as _};

/// Finest grid that is looked for.
const FINEST: u32 = 64;

/// How far a corner may lie from the grid that is found, of the block's side; half an eighth of an inch on 12 in.
const OFF: f64 = 0.005;

/// A drawing in inches from the block's left top.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    /// Width and height.
    pub(super) size: (f64, f64),
    /// Drawing units across and down; `None` when the corners lie on no grid.
    pub(super) grid: Option<(f64, f64)>,
    /// The shapes.
    pub(super) shapes: Vec<Shape>,
    /// Farthest that a corner was moved.
    pub(super) moved: f64,
}

/// Where the block is in the drawing: round all that is drawn, or the page.
pub(super) fn frame(shapes: &[Shape], page: Option<(f64, f64)>) -> Rect {
    if let Some((w, h)) = page {
        return Rect::new(0.0, 0.0, w, h);
    }
    let boxes = shapes
        .iter()
        .flat_map(|shape| &shape.loops)
        .map(|outline| outline.path().bounding_box());
    boxes.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
}

/// Lays it: `size` is the block's, inches; `grid` named, or else sought.
pub(super) fn lay(shapes: &[Shape], frame: Rect, size: (f64, f64), named: Option<(f64, f64)>) -> Laid {
    let (sx, sy) = (size.0 / frame.width(), size.1 / frame.height());
    let scaled = |p: Point| Point::new((p.x - frame.x0) * sx, (p.y - frame.y0) * sy);
    let same = size.0.max(size.1) * 1e-5;
    let each = |shapes: &[Shape], to: &dyn Fn(&Outline) -> Outline| -> Vec<Shape> {
        let all = shapes.iter().map(|shape| Shape {
            loops: shape
                .loops
                .iter()
                .map(to)
                .filter(|o| o.sides.len() >= 2 && o.area() > same)
                .collect(),
            ..shape.clone()
        });
        all.filter(|shape: &Shape| !shape.loops.is_empty()).collect()
    };
    let shapes = each(shapes, &|outline| outline.carried(scaled, same));
    let corners: Vec<Point> = shapes.iter().flat_map(|s| &s.loops).flat_map(real_corners).collect();
    let grid = named.or_else(|| {
        let across = sought(corners.iter().map(|p| p.x / size.0))?;
        let down = sought(corners.iter().map(|p| p.y / size.1))?;
        let both = least_common(across, down);
        let square = (size.0 - size.1).abs() < 1e-9 && both <= FINEST;
        Some(if square {
            (both.into(), both.into())
        } else {
            (across.into(), down.into())
        })
    });
    let near = OFF * size.0.max(size.1);
    let targets = clusters(&corners, grid, size, near);
    let reach = if grid.is_some() { same } else { near };
    let to = |p: Point| {
        let nearest = targets
            .iter()
            .map(|(from, to)| (from.distance(p), *to))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match nearest {
            Some((distance, to)) if distance <= reach => to,
            _ => p,
        }
    };
    let moved = targets.iter().map(|(from, to)| from.distance(*to)).fold(0.0, f64::max);
    Laid {
        size,
        grid,
        shapes: each(&shapes, &|outline| outline.moved(to)),
        moved,
    }
}

/// Corners where the outline turns; where two curves run on into each other there is none.
fn real_corners(outline: &Outline) -> Vec<Point> {
    let n = outline.sides.len();
    let way_out = |side: &Side| match side {
        Side::Line(a, b) => *b - *a,
        Side::Curve(c) => [c.p1 - c.p0, c.p2 - c.p0, c.p3 - c.p0]
            .into_iter()
            .find(|v| v.hypot() > 1e-9)
            .unwrap_or_default(),
    };
    let way_in = |side: &Side| match side {
        Side::Line(a, b) => *b - *a,
        Side::Curve(c) => [c.p3 - c.p2, c.p3 - c.p1, c.p3 - c.p0]
            .into_iter()
            .find(|v| v.hypot() > 1e-9)
            .unwrap_or_default(),
    };
    (0..n)
        .filter(|&i| {
            let (before, after) = (&outline.sides[(i + n - 1) % n], &outline.sides[i]);
            let (u, v) = (way_in(before), way_out(after));
            let curved = matches!(before, Side::Curve(_)) && matches!(after, Side::Curve(_));
            // Half a degree.
            !(curved && u.dot(v) > 0.0 && u.cross(v).abs() < 0.009 * u.hypot() * v.hypot())
        })
        .map(|i| outline.sides[i].from())
        .collect()
}

/// The coarsest division that all values (of the whole) lie on.
fn sought(values: impl Iterator<Item = f64> + Clone) -> Option<u32> {
    (1..=FINEST).find(|&n| {
        let n = f64::from(n);
        // A fine grid must be met more closely, or anything would lie on it.
        let off = OFF.min(0.12 / n);
        values.clone().all(|v| (v - (v * n).round() / n).abs() <= off)
    })
}

fn least_common(a: u32, b: u32) -> u32 {
    let (mut x, mut y) = (a, b);
    while y > 0 {
        (x, y) = (y, x % y);
    }
    a / x.max(1) * b
}

/// Where each corner goes: to the grid's nearest crossing, or with no grid to the middle of the corners near it, and to the block's
/// side when it lies near that.
fn clusters(corners: &[Point], grid: Option<(f64, f64)>, size: (f64, f64), near: f64) -> Vec<(Point, Point)> {
    let mut sorted: Vec<Point> = corners.to_vec();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    if let Some((across, down)) = grid {
        let (ux, uy) = (size.0 / across, size.1 / down);
        return sorted
            .iter()
            .map(|p| (*p, Point::new((p.x / ux).round() * ux, (p.y / uy).round() * uy)))
            .collect();
    }
    let to_side = |v: f64, whole: f64| {
        if v.abs() <= near {
            0.0
        } else if (v - whole).abs() <= near {
            whole
        } else {
            v
        }
    };
    let mut groups: Vec<Vec<Point>> = Vec::new();
    for p in sorted {
        match groups.iter_mut().rev().find(|group| group[0].distance(p) <= near) {
            Some(group) => group.push(p),
            None => groups.push(vec![p]),
        }
    }
    groups
        .into_iter()
        .flat_map(|group| {
            let n = group.len() as f64;
            let sum = group.iter().fold((0.0, 0.0), |s, p| (s.0 + p.x, s.1 + p.y));
            let middle = Point::new(to_side(sum.0 / n, size.0), to_side(sum.1 / n, size.1));
            group.into_iter().map(move |p| (p, middle))
        })
        .collect()
}
