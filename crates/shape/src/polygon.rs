//! Outlines of straight edges.

use crate::{Line, Point};
use serde::{Deserialize, Serialize};

/// A simple closed outline, counter-clockwise. Edge `i` runs from corner `i` to corner `i + 1`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Polygon {
    corners: Vec<Point>,
}

impl Polygon {
    /// From its corners in order; the caller sees to the direction (see [`Polygon::counter_clockwise`]).
    pub fn new(corners: Vec<Point>) -> Self {
        Polygon { corners }
    }

    /// The rectangle from the origin to (`width`, `height`).
    pub fn rectangle(width: f64, height: f64) -> Self {
        Polygon::new(vec![
            Point::ORIGIN,
            Point::new(width, 0.0),
            Point::new(width, height),
            Point::new(0.0, height),
        ])
    }

    /// The same outline, turned round if it ran clockwise.
    pub fn counter_clockwise(mut self) -> Self {
        if self.signed_area() < 0.0 {
            self.corners.reverse();
        }
        self
    }

    /// The corners in order.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// How many corners, and so edges.
    pub fn len(&self) -> usize {
        self.corners.len()
    }

    /// Whether there is no outline at all.
    pub fn is_empty(&self) -> bool {
        self.corners.is_empty()
    }

    /// Corner `i`, counted round.
    pub fn corner(&self, i: usize) -> Point {
        self.corners[i % self.corners.len()]
    }

    /// The line of edge `i`, cloth on its left; `None` for an edge of no length.
    pub fn edge(&self, i: usize) -> Option<Line> {
        Line::between(self.corner(i), self.corner(i + 1))
    }

    /// Area, positive when counter-clockwise, square inches.
    pub fn signed_area(&self) -> f64 {
        let Some(&o) = self.corners.first() else { return 0.0 };
        let twice: f64 = self.corners.windows(2).map(|w| (w[0] - o).cross(w[1] - o)).sum();
        twice / 2.0
    }

    /// The centre of its area; the first corner where there is no area.
    pub fn centroid(&self) -> Point {
        let Some(&o) = self.corners.first() else {
            return Point::ORIGIN;
        };
        let (mut x, mut y, mut twice) = (0.0, 0.0, 0.0);
        for w in self.corners.windows(2) {
            let (a, b) = (w[0] - o, w[1] - o);
            let area = a.cross(b);
            twice += area;
            x += (a.x + b.x) * area;
            y += (a.y + b.y) * area;
        }
        if twice == 0.0 {
            o
        } else {
            Point::new(o.x + x / (3.0 * twice), o.y + y / (3.0 * twice))
        }
    }

    /// Lower left and upper right of the enclosing upright rectangle.
    pub fn bounds(&self) -> (Point, Point) {
        let mut low = Point::new(f64::INFINITY, f64::INFINITY);
        let mut high = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        for c in &self.corners {
            low = Point::new(low.x.min(c.x), low.y.min(c.y));
            high = Point::new(high.x.max(c.x), high.y.max(c.y));
        }
        (low, high)
    }

    /// Whether no corner turns right by more than `noise` inches off the line of its neighbours.
    pub fn is_convex(&self, noise: f64) -> bool {
        let n = self.len();
        (0..n).all(|i| {
            Line::between(self.corner(i), self.corner(i + 1))
                .is_none_or(|edge| edge.offset_of(self.corner(i + 2)) >= -noise)
        })
    }

    /// Distance from `p` to the nearest place of the outline.
    pub fn distance_to_boundary(&self, p: Point) -> f64 {
        (0..self.len())
            .map(|i| distance_to_segment(p, self.corner(i), self.corner(i + 1)))
            .fold(f64::INFINITY, f64::min)
    }

    /// The larger of the two greatest distances from a corner of one outline to the other outline. For outlines of
    /// straight edges without needles thinner than the answer this is their Hausdorff distance.
    pub fn difference(&self, other: &Polygon) -> f64 {
        let one_way =
            |a: &Polygon, b: &Polygon| a.corners.iter().map(|&c| b.distance_to_boundary(c)).fold(0.0, f64::max);
        one_way(self, other).max(one_way(other, self))
    }

    /// What lies to the left of `line`. Exact for convex outlines; the caller sees to convexity. Empty when nothing
    /// does. Corners within `1e-12` of the line count as on it.
    pub fn left_of(&self, line: Line) -> Polygon {
        let mut kept = Vec::with_capacity(self.len() + 1);
        for i in 0..self.len() {
            let (a, b) = (self.corner(i), self.corner(i + 1));
            let (da, db) = (line.offset_of(a), line.offset_of(b));
            if da >= -1.0e-12 {
                kept.push(a);
            }
            if (da > 1.0e-12 && db < -1.0e-12) || (da < -1.0e-12 && db > 1.0e-12) {
                kept.push(a.toward(b, da / (da - db)));
            }
        }
        if kept.len() < 3 {
            Polygon::default()
        } else {
            Polygon::new(kept)
        }
    }

    /// Without corners nearer than `weld` to the one before, and without corners on a straight run (within `weld`).
    pub fn simplified(&self, weld: f64) -> Polygon {
        let mut corners: Vec<Point> = Vec::with_capacity(self.len());
        for &c in &self.corners {
            if corners.last().is_none_or(|l| l.distance(c) > weld) {
                corners.push(c);
            }
        }
        while corners.len() > 1 && corners[0].distance(corners[corners.len() - 1]) <= weld {
            corners.pop();
        }
        let mut i = 0;
        while corners.len() > 3 && i < corners.len() {
            let n = corners.len();
            let (a, b, c) = (corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
            if distance_to_segment(b, a, c) <= weld {
                corners.remove(i);
                i = i.saturating_sub(1);
            } else {
                i += 1;
            }
        }
        Polygon::new(corners)
    }
}

fn distance_to_segment(p: Point, a: Point, b: Point) -> f64 {
    let ab = b - a;
    let square = ab.dot(ab);
    if square == 0.0 {
        return p.distance(a);
    }
    let share = ((p - a).dot(ab) / square).clamp(0.0, 1.0);
    p.distance(a.toward(b, share))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn area_and_halves() {
        let p = Polygon::rectangle(4.0, 2.0);
        assert_eq!(p.signed_area(), 8.0);
        let diagonal = Line::between(Point::new(4.0, 2.0), Point::ORIGIN).unwrap();
        assert_eq!(p.left_of(diagonal).signed_area(), 4.0);
        assert_eq!(p.left_of(diagonal).len(), 3);
        assert!(p.is_convex(0.0));
    }

    #[test]
    fn straight_corners_go() {
        let p = Polygon::new(vec![
            Point::ORIGIN,
            Point::new(1.0, 0.0),
            Point::new(2.0, 0.0),
            Point::new(2.0, 2.0),
            Point::new(0.0, 2.0),
        ]);
        assert_eq!(p.simplified(1e-9).len(), 4);
    }
}
