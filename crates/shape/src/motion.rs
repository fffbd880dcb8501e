//! Rigid motions of the plane: turns, slides and turning over.

use crate::{Line, Point, Polygon, Vector};
use serde::{Deserialize, Serialize};

/// A motion that keeps all lengths: flip left-right if `over`, then turn, then slide.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Motion {
    cos: f64,
    sin: f64,
    over: bool,
    slide: Vector,
}

impl Motion {
    /// Nothing moves.
    pub const STILL: Motion = Motion {
        cos: 1.0,
        sin: 0.0,
        over: false,
        slide: Vector { x: 0.0, y: 0.0 },
    };

    /// A slide.
    pub fn slide(by: Vector) -> Self {
        Motion {
            slide: by,
            ..Motion::STILL
        }
    }

    /// Counter-clockwise quarter turns about the origin, exact.
    pub fn quarter_turns(count: i32) -> Self {
        let (cos, sin) = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][count.rem_euclid(4) as usize];
        Motion {
            cos,
            sin,
            ..Motion::STILL
        }
    }

    /// A counter-clockwise turn about the origin, in degrees; whole quarter turns are exact.
    pub fn turn_degrees(degrees: f64) -> Self {
        let quarters = degrees / 90.0;
        if quarters == quarters.round() && quarters.abs() < 1.0e6 {
            return Motion::quarter_turns(quarters as i32);
        }
        let radians = degrees.to_radians();
        Motion {
            cos: libm::cos(radians),
            sin: libm::sin(radians),
            ..Motion::STILL
        }
    }

    /// Left becomes right, about the y axis.
    pub fn flip() -> Self {
        Motion {
            over: true,
            ..Motion::STILL
        }
    }

    /// Whether the motion turns cloth over (it then shows its other side).
    pub fn turns_over(&self) -> bool {
        self.over
    }

    /// The motion that carries line `from` onto line `onto`, direction to direction, `from.through` to
    /// `onto.through`, turned over or not.
    pub fn line_to_line(from: Line, onto: Line, over: bool) -> Self {
        // With a flip first, the direction that must be turned is the flipped one.
        let start = if over {
            Vector::new(-from.along.x, from.along.y)
        } else {
            from.along
        };
        let turned = Motion {
            cos: start.dot(onto.along),
            sin: start.cross(onto.along),
            over,
            slide: Vector::default(),
        };
        let slide = onto.through - turned.point(from.through);
        Motion { slide, ..turned }
    }

    /// The mirror image across `line`.
    pub fn mirror(line: Line) -> Self {
        Motion::line_to_line(line, line, true)
    }

    /// The place `p` is carried to.
    pub fn point(&self, p: Point) -> Point {
        Point::ORIGIN + self.vector(p - Point::ORIGIN) + self.slide
    }

    /// The displacement `v` is turned to.
    pub fn vector(&self, v: Vector) -> Vector {
        let x = if self.over { -v.x } else { v.x };
        Vector::new(self.cos * x - self.sin * v.y, self.sin * x + self.cos * v.y)
    }

    /// The line `l` is carried to; its left side is the image of the left side only when not turned over.
    pub fn line(&self, l: Line) -> Line {
        Line {
            through: self.point(l.through),
            along: self.vector(l.along),
        }
    }

    /// The outline moved; kept counter-clockwise when turned over.
    pub fn polygon(&self, p: &Polygon) -> Polygon {
        let mut corners: Vec<Point> = p.corners().iter().map(|&c| self.point(c)).collect();
        if self.over {
            corners.reverse();
        }
        Polygon::new(corners)
    }

    /// First `self`, then `next`.
    pub fn then(&self, next: &Motion) -> Motion {
        // flip then turn by a = turn by -a then flip: only the sign of this turn's sine changes.
        let sin = if next.over { -self.sin } else { self.sin };
        Motion {
            cos: next.cos * self.cos - next.sin * sin,
            sin: next.sin * self.cos + next.cos * sin,
            over: self.over != next.over,
            slide: next.vector(self.slide) + next.slide,
        }
    }

    /// The motion back.
    pub fn inverse(&self) -> Motion {
        // turned over, the linear part is its own inverse
        let sin = if self.over { self.sin } else { -self.sin };
        let linear = Motion {
            cos: self.cos,
            sin,
            over: self.over,
            slide: Vector::default(),
        };
        let slide = -linear.vector(self.slide);
        Motion { slide, ..linear }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Point, b: Point) {
        assert!(a.distance(b) < 1e-12, "{a:?} {b:?}");
    }

    #[test]
    fn motions_compose_and_undo() {
        let p = Point::new(1.25, -0.75);
        let motions = [
            Motion::turn_degrees(30.0).then(&Motion::slide(Vector::new(2.0, 1.0))),
            Motion::flip().then(&Motion::quarter_turns(1)),
            Motion::flip()
                .then(&Motion::turn_degrees(77.0))
                .then(&Motion::slide(Vector::new(-3.0, 0.5))),
        ];
        for a in motions {
            near(a.inverse().point(a.point(p)), p);
            near(a.then(&a.inverse()).point(p), p);
            for b in motions {
                near(a.then(&b).point(p), b.point(a.point(p)));
            }
        }
    }

    #[test]
    fn a_mirror_keeps_its_line() {
        let line = Line::between(Point::new(1.0, 0.0), Point::new(3.0, 1.0)).unwrap();
        let mirror = Motion::mirror(line);
        near(mirror.point(line.at(4.0)), line.at(4.0));
        let p = Point::new(0.3, 2.0);
        near(mirror.point(p), line.mirror(p));
        near(mirror.then(&mirror).point(p), p);
    }
}
