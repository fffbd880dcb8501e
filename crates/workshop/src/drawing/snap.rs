//! Where the hand aims: drawn to points, to the block's grid and its halves, and to the angles the trade uses.

use super::{Drawing, same};
use kurbo::Point;

/// What the aim is held to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Snap {
    /// A place where seams meet.
    Point,
    /// A line of the grid crossing another.
    Grid,
    /// Half way between.
    Half,
    /// A seam.
    Seam,
    /// Nothing: as typed.
    Free,
}

/// Where the hand aims.
#[derive(Clone, Debug, PartialEq)]
pub struct Aim {
    /// The place, inches.
    pub at: Point,
    /// What it is held to.
    pub snap: Snap,
    /// The cut's length and slant, when one has begun: "6.71 in · 2 : 1".
    pub words: String,
}

/// Slants the trade has words for: rise over run.
const SLANTS: [(f64, &str); 9] = [
    (0.0, "level"),
    (f64::INFINITY, "upright"),
    (1.0, "45°"),
    (2.0, "2 : 1"),
    (0.5, "1 : 2"),
    (3.0, "3 : 1"),
    (1.0 / 3.0, "1 : 3"),
    // tan 60° and tan 30°.
    (1.732_050_807_568_877_2, "60°"),
    (0.577_350_269_189_625_8, "30°"),
];

/// The place aimed at: `reach` inches are near enough to be drawn to something. `from` is where the cut began.
pub fn aim(drawing: &Drawing, at: Point, from: Option<Point>, reach: f64, inches: bool) -> Aim {
    let at = Point::new(at.x.clamp(0.0, drawing.width), at.y.clamp(0.0, drawing.height));
    let nearest = drawing
        .points()
        .into_iter()
        .map(|p| ((p - at).hypot(), p))
        .filter(|(far, _)| *far < reach)
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let grid = |halves: f64| {
        let (step_x, step_y) = (
            drawing.width / drawing.grid.0 / halves,
            drawing.height / drawing.grid.1 / halves,
        );
        let p = Point::new(
            ((at.x / step_x).round() * step_x).clamp(0.0, drawing.width),
            ((at.y / step_y).round() * step_y).clamp(0.0, drawing.height),
        );
        ((p - at).hypot() < reach).then_some(p)
    };
    let (place, snap) = if let Some((_, p)) = nearest {
        (p, Snap::Point)
    } else if let Some(p) = grid(1.0) {
        (p, Snap::Grid)
    } else if let Some(p) = grid(2.0) {
        (p, Snap::Half)
    } else if let Some(p) = on_seam(drawing, at, reach) {
        (p, Snap::Seam)
    } else {
        (at, Snap::Free)
    };
    let (place, slant) = match from {
        Some(from) if !same(from, place) && matches!(snap, Snap::Free | Snap::Seam) => {
            held_to_slant(from, place, reach)
        }
        Some(from) => (place, slant_of(from, place)),
        None => (place, None),
    };
    let place = Point::new(place.x.clamp(0.0, drawing.width), place.y.clamp(0.0, drawing.height));
    let words = from.map_or(String::new(), |from| told(from, place, slant, inches));
    Aim { at: place, snap, words }
}

fn on_seam(drawing: &Drawing, at: Point, reach: f64) -> Option<Point> {
    drawing
        .patches
        .iter()
        .flat_map(|patch| patch.sides())
        .map(|side| {
            let (t, far) = side.nearest(at);
            (far, side.along(t))
        })
        .filter(|(far, _)| *far < reach)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, p)| p)
}

/// Turned a little to the nearest slant the trade uses, when that is near enough.
fn held_to_slant(from: Point, at: Point, reach: f64) -> (Point, Option<&'static str>) {
    let way = at - from;
    let mut best: Option<(f64, Point, &'static str)> = None;
    for (slant, word) in SLANTS {
        for sign in [1.0, -1.0] {
            let along = if slant.is_infinite() {
                kurbo::Vec2::new(0.0, 1.0)
            } else {
                kurbo::Vec2::new(1.0, slant * sign).normalize()
            };
            let p = from + along * way.dot(along);
            let far = (p - at).hypot();
            if far < reach && best.as_ref().is_none_or(|(found, ..)| far < *found) {
                best = Some((far, p, word));
            }
        }
    }
    best.map_or((at, None), |(_, p, word)| (p, Some(word)))
}

/// The word for a cut's slant, when the trade has one.
fn slant_of(from: Point, to: Point) -> Option<&'static str> {
    let way = to - from;
    SLANTS
        .into_iter()
        .find(|(slant, _)| {
            if slant.is_infinite() {
                way.x.abs() < 1e-6
            } else {
                (way.y.abs() - slant * way.x.abs()).abs() < 1e-6
            }
        })
        .map(|(_, word)| word)
}

fn told(from: Point, to: Point, slant: Option<&str>, inches: bool) -> String {
    let length = (to - from).hypot();
    let length = if inches {
        format!("{} in", trimmed(length, 2))
    } else {
        format!("{} cm", trimmed(length * 2.54, 2))
    };
    match slant {
        Some(slant) => format!("{length} · {slant}"),
        None => length,
    }
}

/// A number with so many places at most, without idle noughts.
pub(crate) fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" {
        "0".to_string()
    } else {
        text.to_string()
    }
}
