//! A patch's outline: sides end to end, clockwise as seen (the cloth on the right of each side, y down).

use super::{NARROWEST, SAME, Side, same};
use kurbo::{BezPath, Point, Shape};

/// How far a flattened bow may be from itself where crossings are looked for, inches.
const FLAT: f64 = 0.002;

/// Sides end to end, closed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Outline {
    sides: Vec<Side>,
}

impl Outline {
    /// From sides that follow one another; ends that are the same point within [`SAME`] become exactly so, sides of no
    /// length vanish, and the whole runs clockwise as seen.
    pub(crate) fn new(sides: Vec<Side>) -> Outline {
        let mut kept: Vec<Side> = sides
            .into_iter()
            .filter(|side| !(side.is_straight() && same(side.from(), side.to())))
            .collect();
        for i in 0..kept.len() {
            let next = kept[(i + 1) % kept.len()].from();
            kept[i] = kept[i].between(kept[i].from(), next);
        }
        let mut outline = Outline { sides: kept };
        if outline.signed_area() < 0.0 {
            outline.sides = outline.sides.iter().rev().map(Side::reversed).collect();
        }
        outline
    }

    /// A straight-sided one.
    pub(crate) fn of_corners(corners: &[Point]) -> Outline {
        let n = corners.len();
        Outline::new(
            (0..n)
                .map(|i| Side::straight(corners[i], corners[(i + 1) % n]))
                .collect(),
        )
    }

    pub(crate) fn sides(&self) -> &[Side] {
        &self.sides
    }

    /// As a path, for what a library can tell of it.
    pub(crate) fn path(&self) -> BezPath {
        let mut path = BezPath::from_path_segments(self.sides.iter().flat_map(Side::segments));
        path.close_path();
        path
    }

    /// Positive when it runs clockwise as seen (y down).
    pub(crate) fn signed_area(&self) -> f64 {
        self.sides.iter().map(Side::signed_area).sum()
    }

    pub(crate) fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// A point well inside: of a grid of places, the one farthest from the sides.
    pub(crate) fn middle(&self) -> Point {
        let path = self.path();
        let around = path.bounding_box();
        let steps = 12;
        let mut best = (f64::MIN, around.center());
        for row in 1..steps {
            for column in 1..steps {
                let at = Point::new(
                    around.x0 + around.width() * f64::from(column) / f64::from(steps),
                    around.y0 + around.height() * f64::from(row) / f64::from(steps),
                );
                if !path.contains(at) {
                    continue;
                }
                let far = self.distance(at);
                // A little nearer to the first found keeps the choice steady where several are alike.
                if far > best.0 + 1e-9 {
                    best = (far, at);
                }
            }
        }
        best.1
    }

    /// From the point to the nearest side.
    fn distance(&self, at: Point) -> f64 {
        self.sides
            .iter()
            .map(|side| side.nearest(at).1)
            .fold(f64::MAX, f64::min)
    }

    /// With a corner at the point, when it lies within a side (and not at its ends).
    pub(crate) fn with_corner(&self, at: Point) -> Outline {
        let mut sides = Vec::with_capacity(self.sides.len() + 1);
        for side in &self.sides {
            let (t, far) = side.nearest(at);
            if far < SAME && !same(side.from(), at) && !same(side.to(), at) {
                sides.push(side.stretch(0.0, t).between(side.from(), at));
                sides.push(side.stretch(t, 1.0).between(at, side.to()));
            } else {
                sides.push(*side);
            }
        }
        Outline { sides }
    }

    /// Carried by a turn or a flip that keeps lengths.
    pub(crate) fn carried(&self, to: impl Fn(Point) -> Point, flip: bool) -> Outline {
        Outline::new(self.sides.iter().map(|side| side.carried(&to, flip)).collect())
    }

    /// Whether the point is one of its corners.
    pub(crate) fn has_corner(&self, at: Point) -> bool {
        self.sides.iter().any(|side| same(side.from(), at))
    }

    /// Whether the point lies on its sides.
    pub(crate) fn touches(&self, at: Point) -> bool {
        self.distance(at) < SAME
    }

    /// Without corners that turn nowhere: between straight sides in line, or bows of one circle.
    pub(crate) fn without_idle_corners(&self) -> Outline {
        let n = self.sides.len();
        let corners: Vec<usize> = (0..n)
            .filter(|&i| !goes_on(&self.sides[(i + n - 1) % n], &self.sides[i]))
            .collect();
        if corners.len() == n || corners.len() < 2 {
            return self.clone();
        }
        let mut sides = Vec::with_capacity(corners.len());
        for (k, &from) in corners.iter().enumerate() {
            let to = corners[(k + 1) % corners.len()];
            let count = (to + n - from - 1) % n + 1;
            let end = self.sides[to].from();
            sides.push(match self.sides[from] {
                Side::Bow {
                    from: start, centre, ..
                } if count > 1 => Side::Bow {
                    from: start,
                    to: end,
                    centre,
                    sweep: (0..count).map(|j| swept(&self.sides[(from + j) % n])).sum(),
                },
                Side::Straight { from: start, .. } => Side::straight(start, end),
                other => other,
            });
        }
        Outline { sides }
    }

    /// Corners of a straight-sided likeness, bows flattened.
    pub(crate) fn flat(&self) -> Vec<Point> {
        let mut corners: Vec<Point> = Vec::new();
        kurbo::flatten(self.path(), FLAT, |element| {
            if let kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) = element
                && corners.last().is_none_or(|last| !same(*last, p))
            {
                corners.push(p);
            }
        });
        if corners.len() > 1 && same(corners[0], corners[corners.len() - 1]) {
            corners.pop();
        }
        corners
    }

    /// Whether it is a patch that can be: it never crosses or touches itself, runs clockwise, and is no sliver.
    pub(crate) fn sound(&self) -> bool {
        let flat = self.flat();
        let n = flat.len();
        if n < 3 || self.signed_area() <= 0.0 {
            return false;
        }
        for i in 0..n {
            let (a, b) = (flat[i], flat[(i + 1) % n]);
            for j in i + 1..n {
                let (c, d) = (flat[j], flat[(j + 1) % n]);
                let next = j == i + 1;
                let closing = i == 0 && j == n - 1;
                if next || closing {
                    // Neighbours must not fold back on each other.
                    let (tip, one, other) = if next { (b, a, d) } else { (a, b, c) };
                    let (u, v) = (one - tip, other - tip);
                    if u.cross(v).abs() < SAME * u.hypot().max(v.hypot()) && u.dot(v) > 0.0 {
                        return false;
                    }
                } else if apart(a, b, c, d) < SAME {
                    return false;
                }
            }
        }
        // Twice the area over the way round is the mean width of a sliver.
        let round: f64 = (0..n).map(|i| (flat[(i + 1) % n] - flat[i]).hypot()).sum();
        self.area() * 2.0 / round > NARROWEST / 2.0
    }
}

/// Whether one side goes on as the other without a corner.
fn goes_on(before: &Side, after: &Side) -> bool {
    match (before, after) {
        (Side::Straight { from, to: tip }, Side::Straight { to, .. }) => {
            let (a, b) = (*tip - *from, *to - *tip);
            let across = a.cross(b).abs() / a.hypot().max(b.hypot()).max(SAME);
            across < SAME && a.dot(b) > 0.0
        }
        (
            Side::Bow { centre, sweep, .. },
            Side::Bow {
                centre: other,
                sweep: more,
                ..
            },
        ) => (*centre - *other).hypot() < SAME && sweep * more > 0.0,
        _ => false,
    }
}

fn swept(side: &Side) -> f64 {
    match side {
        Side::Bow { sweep, .. } => *sweep,
        _ => 0.0,
    }
}

/// From one straight piece to another: nothing when they cross.
fn apart(a: Point, b: Point, c: Point, d: Point) -> f64 {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    let (s1, s2) = (side(a, b, c), side(a, b, d));
    let (s3, s4) = (side(c, d, a), side(c, d, b));
    if s1 * s2 < 0.0 && s3 * s4 < 0.0 {
        return 0.0;
    }
    let to = |p: Point, q: Point, r: Point| Side::straight(p, q).nearest(r).1;
    to(a, b, c).min(to(a, b, d)).min(to(c, d, a)).min(to(c, d, b))
}
