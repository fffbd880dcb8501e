//! From a drawing back to the design file's words.

use super::snap::trimmed;
use super::{Drawing, Patch, Side};
use kurbo::Point;
use std::fmt::Write;

/// Decimal places of a coordinate in grid units: a millionth is far below anything welded.
const PLACES: usize = 6;

/// One entry of the file's list of patches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Which entry of the list as read it comes from; what else it says is kept.
    pub from: Option<usize>,
    /// Its role.
    pub fabric: String,
    /// New path data; `None` when the file's own is still right.
    pub path: Option<String>,
}

/// The entries of `patches`, in the file's order as far as they come from there; new ones follow their origin.
pub fn entries(drawing: &Drawing) -> Vec<Entry> {
    let mut all: Vec<&Patch> = drawing.patches.iter().chain(&drawing.laid).collect();
    all.sort_by_key(|patch| patch.entry.unwrap_or(usize::MAX));
    all.into_iter()
        .map(|patch| Entry {
            from: patch.entry,
            fabric: patch.fabric.clone(),
            path: (patch.redrawn || patch.entry.is_none()).then(|| path_text(drawing, patch)),
        })
        .collect()
}

/// A patch's path data in grid units.
pub fn path_text(drawing: &Drawing, patch: &Patch) -> String {
    let (sx, sy) = (drawing.grid.0 / drawing.width, drawing.grid.1 / drawing.height);
    let mut sides = patch.sides().to_vec();
    // Always from the topmost corner, the leftmost of these, so that the same outline is the same text.
    let first = (0..sides.len()).min_by(|&a, &b| {
        let (p, q) = (sides[a].from(), sides[b].from());
        p.y.total_cmp(&q.y).then(p.x.total_cmp(&q.x))
    });
    sides.rotate_left(first.unwrap_or(0));
    let Some(first) = sides.first() else {
        return String::new();
    };
    let put = |p: Point| {
        let number = |v: f64| trimmed(v, PLACES);
        (number(p.x * sx), number(p.y * sy))
    };
    let (x, y) = put(first.from());
    let mut text = format!("M{x} {y}");
    let mut last = (x, y);
    for (i, side) in sides.iter().enumerate() {
        let closing = i + 1 == sides.len();
        let (x, y) = put(side.to());
        match side {
            Side::Bow { sweep, .. } => {
                let radius = side.radius().unwrap_or(0.0);
                let (rx, ry) = (trimmed(radius * sx, PLACES), trimmed(radius * sy, PLACES));
                let large = u8::from(sweep.abs() > std::f64::consts::PI);
                // Positive turns clockwise as seen, which is the file's sweep flag.
                let flag = u8::from(*sweep > 0.0);
                let _ = write!(text, " A{rx} {ry} 0 {large} {flag} {x} {y}");
            }
            Side::Curve(cubic) => {
                let ((ax, ay), (bx, by)) = (put(cubic.p1), put(cubic.p2));
                let _ = write!(text, " C{ax} {ay} {bx} {by} {x} {y}");
            }
            Side::Straight { .. } if closing => {}
            _ if y == last.1 => {
                let _ = write!(text, " H{x}");
            }
            _ if x == last.0 => {
                let _ = write!(text, " V{y}");
            }
            _ => {
                let _ = write!(text, " L{x} {y}");
            }
        }
        last = (x, y);
    }
    text.push_str(" Z");
    text
}

/// The entries of `place`: from which, and in grid units the top left of the box and its size; for a block that stands at an
/// angle the middle and the size.
pub fn places(drawing: &Drawing) -> Vec<(Option<usize>, [f64; 4])> {
    let (sx, sy) = (drawing.grid.0 / drawing.width, drawing.grid.1 / drawing.height);
    drawing
        .placed
        .iter()
        .map(|p| {
            let at = if p.upright() {
                Point::new(p.left, p.top)
            } else {
                p.middle()
            };
            (p.entry, [at.x * sx, at.y * sy, p.width * sx, p.height * sy])
        })
        .collect()
}
