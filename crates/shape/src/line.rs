//! Directed straight lines without ends.

use crate::{Point, Vector};

/// A directed straight line; its left is the side of positive [`Line::offset_of`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// A place on it.
    pub through: Point,
    /// Its direction, one inch long.
    pub along: Vector,
}

impl Line {
    /// From one place to another; `None` when they are one place.
    pub fn between(from: Point, to: Point) -> Option<Self> {
        (to - from).unit().map(|along| Line { through: from, along })
    }

    /// How far `p` lies to the left of the line (negative: to the right).
    pub fn offset_of(self, p: Point) -> f64 {
        self.along.cross(p - self.through)
    }

    /// How far along the line, from [`Line::through`], the foot of `p` lies.
    pub fn reach_of(self, p: Point) -> f64 {
        self.along.dot(p - self.through)
    }

    /// The place so far along the line.
    pub fn at(self, reach: f64) -> Point {
        self.through + self.along * reach
    }

    /// The parallel line so far to the left.
    pub fn moved_left(self, by: f64) -> Self {
        Line {
            through: self.through + self.along.left() * by,
            along: self.along,
        }
    }

    /// The same line in the other direction.
    pub fn reversed(self) -> Self {
        Line {
            through: self.through,
            along: -self.along,
        }
    }

    /// Where two lines cross; `None` when they are parallel within 1e-9 of the sine of their angle.
    pub fn crossing(self, other: Line) -> Option<Point> {
        let sine = self.along.cross(other.along);
        if sine.abs() < 1.0e-9 {
            return None;
        }
        Some(self.at((other.through - self.through).cross(other.along) / sine))
    }

    /// The mirror image of `p` across the line.
    pub fn mirror(self, p: Point) -> Point {
        p - self.along.left() * (2.0 * self.offset_of(p))
    }
}
