//! A closed outline of straight sides and curves, y down.

use kurbo::{BezPath, CubicBez, ParamCurve, Point, Shape};
use std::fmt::Write;

/// One side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Side {
    /// Straight, to here.
    Line(Point, Point),
    /// Curved.
    Curve(CubicBez),
}

impl Side {
    pub(super) fn from(&self) -> Point {
        match self {
            Side::Line(from, _) => *from,
            Side::Curve(c) => c.p0,
        }
    }

    pub(super) fn to(&self) -> Point {
        match self {
            Side::Line(_, to) => *to,
            Side::Curve(c) => c.p3,
        }
    }

    /// With its ends elsewhere; handles go with the end they belong to.
    pub(super) fn between(&self, from: Point, to: Point) -> Side {
        match self {
            Side::Line(..) => Side::Line(from, to),
            Side::Curve(c) => Side::Curve(CubicBez::new(from, c.p1 + (from - c.p0), c.p2 + (to - c.p3), to)),
        }
    }

    fn reversed(&self) -> Side {
        match self {
            Side::Line(from, to) => Side::Line(*to, *from),
            Side::Curve(c) => Side::Curve(CubicBez::new(c.p3, c.p2, c.p1, c.p0)),
        }
    }
}

/// Sides end to end, clockwise as seen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Outline {
    pub(super) sides: Vec<Side>,
}

impl Outline {
    /// From sides that follow one another; those shorter than `same` vanish, curves no farther than that from a straight are
    /// straight.
    pub(super) fn new(sides: Vec<Side>, same: f64) -> Outline {
        let mut kept: Vec<Side> = sides.into_iter().map(|side| straightened(side, same)).collect();
        kept.retain(|side| !matches!(side, Side::Line(a, b) if a.distance(*b) <= same));
        for i in 0..kept.len() {
            let next = kept[(i + 1) % kept.len()].from();
            kept[i] = kept[i].between(kept[i].from(), next);
        }
        let mut outline = Outline { sides: kept };
        if outline.path().area() < 0.0 {
            outline.sides = outline.sides.iter().rev().map(Side::reversed).collect();
        }
        outline
    }

    pub(super) fn corners(&self) -> impl Iterator<Item = Point> + '_ {
        self.sides.iter().map(Side::from)
    }

    pub(super) fn path(&self) -> BezPath {
        let mut path = BezPath::new();
        let Some(first) = self.sides.first() else {
            return path;
        };
        path.move_to(first.from());
        for side in &self.sides {
            match side {
                Side::Line(_, to) => path.line_to(*to),
                Side::Curve(c) => path.curve_to(c.p1, c.p2, c.p3),
            }
        }
        path.close_path();
        path
    }

    pub(super) fn area(&self) -> f64 {
        self.path().area().abs()
    }

    /// Every point through a map that keeps straights straight.
    pub(super) fn carried(&self, to: impl Fn(Point) -> Point, same: f64) -> Outline {
        let side = |side: &Side| match side {
            Side::Line(a, b) => Side::Line(to(*a), to(*b)),
            Side::Curve(c) => Side::Curve(CubicBez::new(to(c.p0), to(c.p1), to(c.p2), to(c.p3))),
        };
        Outline::new(self.sides.iter().map(side).collect(), same)
    }

    /// Its corners moved, each to where `to` says; curves follow their ends. Straight corners that are no corners any more go.
    pub(super) fn moved(&self, to: impl Fn(Point) -> Point) -> Outline {
        let sides = self
            .sides
            .iter()
            .map(|side| side.between(to(side.from()), to(side.to())))
            .collect();
        Outline::new(sides, 1e-9).without_idle_corners()
    }

    /// Corners in the middle of a straight are taken out.
    pub(super) fn without_idle_corners(mut self) -> Outline {
        let mut i = 0;
        while self.sides.len() > 2 && i < self.sides.len() {
            let next = (i + 1) % self.sides.len();
            if let (Side::Line(a, b), Side::Line(_, c)) = (self.sides[i], self.sides[next]) {
                let (u, v) = (b - a, c - b);
                if u.cross(v).abs() <= 1e-9 * u.hypot() * v.hypot() && u.dot(v) > 0.0 {
                    self.sides[i] = Side::Line(a, c);
                    self.sides.remove(next);
                    i = i.saturating_sub(usize::from(next == 0));
                    continue;
                }
            }
            i += 1;
        }
        self
    }

    /// Path data; numbers to so many places.
    pub(super) fn text(&self, places: usize) -> String {
        let number = |v: f64| crate::drawing::trimmed(v, places);
        let put = |p: Point| format!("{} {}", number(p.x), number(p.y));
        let mut sides = self.sides.clone();
        // Always from the topmost corner, the leftmost of these, so that the same outline is the same text.
        let first = (0..sides.len()).min_by(|&a, &b| {
            let (p, q) = (sides[a].from(), sides[b].from());
            p.y.total_cmp(&q.y).then(p.x.total_cmp(&q.x))
        });
        sides.rotate_left(first.unwrap_or(0));
        let Some(start) = sides.first() else {
            return String::new();
        };
        let mut text = format!("M{}", put(start.from()));
        let count = sides.len();
        for (i, side) in sides.iter().enumerate() {
            match side {
                Side::Line(..) if i + 1 == count => {}
                Side::Line(a, b) if number(a.y) == number(b.y) => {
                    let _ = write!(text, " H{}", number(b.x));
                }
                Side::Line(a, b) if number(a.x) == number(b.x) => {
                    let _ = write!(text, " V{}", number(b.y));
                }
                Side::Line(_, b) => {
                    let _ = write!(text, " L{}", put(*b));
                }
                Side::Curve(c) => {
                    let _ = write!(text, " C{} {} {}", put(c.p1), put(c.p2), put(c.p3));
                }
            }
        }
        text + " Z"
    }
}

fn straightened(side: Side, same: f64) -> Side {
    let Side::Curve(c) = side else { return side };
    let way = c.p3 - c.p0;
    let length = way.hypot();
    let off = |p: Point| {
        if length <= same {
            p.distance(c.p0)
        } else {
            (way.cross(p - c.p0) / length).abs()
        }
    };
    if off(c.p1) <= same && off(c.p2) <= same && c.eval(0.5).distance(c.p0.midpoint(c.p3)) <= length / 2.0 + same {
        return Side::Line(c.p0, c.p3);
    }
    side
}
