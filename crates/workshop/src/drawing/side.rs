//! One side of a patch: straight, an arc of a circle, or another smooth curve as the file may bring it.

use super::SAME;
use kurbo::{Arc, CubicBez, Line, ParamCurve, ParamCurveArea, ParamCurveNearest, PathEl, PathSeg, Point, Vec2};
use std::f64::consts::TAU;

/// How exactly a nearest point on a curve is sought, inches.
const NEAR: f64 = 1e-7;

/// How closely curves follow an arc where a library wants curves, inches.
const CLOSE: f64 = 1e-5;

/// A side, from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// Straight.
    Straight {
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
    },
    /// An arc of a circle.
    Bow {
        /// Where it begins.
        from: Point,
        /// Where it ends.
        to: Point,
        /// The circle's middle.
        centre: Point,
        /// The angle swept from the start, radians: positive turns clockwise as seen (y down).
        sweep: f64,
    },
    /// Any smooth curve.
    Curve(CubicBez),
}

impl Side {
    /// A straight one.
    pub(crate) fn straight(from: Point, to: Point) -> Side {
        Side::Straight { from, to }
    }

    /// The arc between two points that rises so far to the right of the way from one to the other (y down: clockwise
    /// patches have the cloth there); straight when it hardly rises. Beyond a half circle it does not go.
    pub(crate) fn risen(from: Point, to: Point, rise: f64) -> Side {
        let chord = to - from;
        let length = chord.hypot();
        let rise = rise.clamp(-length / 2.0, length / 2.0);
        if rise.abs() < SAME || length < SAME {
            return Side::straight(from, to);
        }
        // Half the chord h and the rise f give the radius: r = (h² + f²) / 2f, and half the angle: tan(θ/4) = f / h.
        let half = length / 2.0;
        let radius = (half * half + rise * rise) / (2.0 * rise);
        let across = Vec2::new(-chord.y, chord.x) / length;
        Side::Bow {
            from,
            to,
            centre: from.midpoint(to) + across * (rise - radius),
            sweep: -4.0 * libm::atan2(rise, half),
        }
    }

    /// Where it begins.
    pub fn from(&self) -> Point {
        match self {
            Side::Straight { from, .. } | Side::Bow { from, .. } => *from,
            Side::Curve(curve) => curve.p0,
        }
    }

    /// Where it ends.
    pub fn to(&self) -> Point {
        match self {
            Side::Straight { to, .. } | Side::Bow { to, .. } => *to,
            Side::Curve(curve) => curve.p3,
        }
    }

    /// Whether it is straight.
    pub fn is_straight(&self) -> bool {
        matches!(self, Side::Straight { .. })
    }

    /// The circle's radius, of a bow.
    pub(crate) fn radius(&self) -> Option<f64> {
        match self {
            Side::Bow { from, centre, .. } => Some((*from - *centre).hypot()),
            _ => None,
        }
    }

    /// The same side the other way.
    pub(crate) fn reversed(&self) -> Side {
        match *self {
            Side::Straight { from, to } => Side::Straight { from: to, to: from },
            Side::Bow {
                from,
                to,
                centre,
                sweep,
            } => Side::Bow {
                from: to,
                to: from,
                centre,
                sweep: -sweep,
            },
            Side::Curve(curve) => Side::Curve(CubicBez::new(curve.p3, curve.p2, curve.p1, curve.p0)),
        }
    }

    /// The place so far along, from 0 to 1.
    pub fn along(&self, t: f64) -> Point {
        match *self {
            Side::Straight { from, to } => from.lerp(to, t),
            Side::Bow {
                from, centre, sweep, ..
            } => centre + turned(from - centre, sweep * t),
            Side::Curve(curve) => curve.eval(t),
        }
    }

    /// The stretch from one place along to another.
    pub(crate) fn stretch(&self, first: f64, last: f64) -> Side {
        match *self {
            Side::Straight { .. } => Side::straight(self.along(first), self.along(last)),
            Side::Bow { centre, sweep, .. } => Side::Bow {
                from: self.along(first),
                to: self.along(last),
                centre,
                sweep: sweep * (last - first),
            },
            Side::Curve(curve) => Side::Curve(curve.subsegment(first..last)),
        }
    }

    /// The nearest place: how far along it lies, and how far away it is.
    pub(crate) fn nearest(&self, at: Point) -> (f64, f64) {
        match *self {
            Side::Straight { from, to } => {
                let near = Line::new(from, to).nearest(at, NEAR);
                (near.t, near.distance_sq.sqrt())
            }
            Side::Bow {
                from, centre, sweep, ..
            } => {
                let (u, v) = (from - centre, at - centre);
                let mut angle = libm::atan2(u.cross(v), u.dot(v));
                // The angle is measured the way the arc runs.
                if sweep < 0.0 && angle > 0.0 {
                    angle -= TAU;
                }
                if sweep > 0.0 && angle < 0.0 {
                    angle += TAU;
                }
                let mut best = (0.0, (self.along(0.0) - at).hypot());
                for t in [1.0, angle / sweep] {
                    let far = (self.along(t.clamp(0.0, 1.0)) - at).hypot();
                    if (0.0..=1.0).contains(&t) && far < best.1 {
                        best = (t, far);
                    }
                }
                best
            }
            Side::Curve(curve) => {
                let near = curve.nearest(at, NEAR);
                (near.t, near.distance_sq.sqrt())
            }
        }
    }

    /// Where the endless line through a point in a direction meets it, as how far along.
    pub(crate) fn meets(&self, through: Point, direction: Vec2) -> Vec<f64> {
        let unit = direction / direction.hypot();
        match *self {
            Side::Straight { from, to } => {
                let (a, b) = (unit.cross(from - through), unit.cross(to - through));
                if (a - b).abs() < 1e-12 {
                    return Vec::new();
                }
                let t = a / (a - b);
                if (0.0..=1.0).contains(&t) { vec![t] } else { Vec::new() }
            }
            Side::Bow { from, centre, .. } => {
                let radius = (from - centre).hypot();
                let far = unit.cross(centre - through);
                if far.abs() >= radius {
                    return Vec::new();
                }
                let foot = through + unit * unit.dot(centre - through);
                let half = (radius * radius - far * far).sqrt();
                let on = |at: Point| {
                    let (t, off) = self.nearest(at);
                    (off < SAME).then_some(t)
                };
                [foot - unit * half, foot + unit * half]
                    .into_iter()
                    .filter_map(on)
                    .collect()
            }
            Side::Curve(curve) => {
                let ends = [curve.p0, curve.p1, curve.p2, curve.p3];
                let reach = ends.iter().map(|p| (*p - through).hypot()).fold(1.0, f64::max) * 2.0;
                let line = Line::new(through - unit * reach, through + unit * reach);
                let found = PathSeg::Cubic(curve).intersect_line(line);
                found
                    .iter()
                    .map(|crossing| crossing.segment_t.clamp(0.0, 1.0))
                    .collect()
            }
        }
    }

    /// Its share of the signed area of an outline (positive for outlines that run clockwise as seen).
    pub(crate) fn signed_area(&self) -> f64 {
        match *self {
            Side::Straight { from, to } => from.to_vec2().cross(to.to_vec2()) / 2.0,
            Side::Bow { from, to, sweep, .. } => {
                let radius = self.radius().unwrap_or(0.0);
                // Chord and segment: r² (θ − sin θ) / 2.
                from.to_vec2().cross(to.to_vec2()) / 2.0 + radius * radius * (sweep - libm::sin(sweep)) / 2.0
            }
            Side::Curve(curve) => curve.signed_area(),
        }
    }

    /// As curves that a library understands.
    pub(crate) fn segments(&self) -> Vec<PathSeg> {
        match *self {
            Side::Straight { from, to } => vec![PathSeg::Line(Line::new(from, to))],
            Side::Bow {
                from,
                to,
                centre,
                sweep,
            } => {
                let radius = (from - centre).hypot();
                let arc = Arc {
                    center: centre,
                    radii: Vec2::new(radius, radius),
                    start_angle: libm::atan2(from.y - centre.y, from.x - centre.x),
                    sweep_angle: sweep,
                    x_rotation: 0.0,
                };
                let mut made: Vec<PathSeg> = Vec::new();
                let mut last = from;
                for element in arc.append_iter(CLOSE) {
                    if let PathEl::CurveTo(p1, p2, p3) = element {
                        made.push(PathSeg::Cubic(CubicBez::new(last, p1, p2, p3)));
                        last = p3;
                    }
                }
                if let Some(PathSeg::Cubic(curve)) = made.last_mut() {
                    curve.p3 = to;
                }
                made
            }
            Side::Curve(curve) => vec![PathSeg::Cubic(curve)],
        }
    }

    /// The same side beginning and ending exactly there; both lie within a hair of its own ends, or are moved to by hand,
    /// when a bow keeps its rise in proportion to its chord and another curve its shape.
    pub(crate) fn between(&self, from: Point, to: Point) -> Side {
        if from == self.from() && to == self.to() {
            return *self;
        }
        match *self {
            Side::Straight { .. } => Side::straight(from, to),
            Side::Bow { sweep, .. } => {
                let rise = -libm::tan(sweep / 4.0) * (to - from).hypot() / 2.0;
                Side::risen(from, to, rise)
            }
            Side::Curve(curve) => {
                let (a, b) = (from - curve.p0, to - curve.p3);
                Side::Curve(CubicBez::new(
                    from,
                    curve.p1 + a * (2.0 / 3.0) + b * (1.0 / 3.0),
                    curve.p2 + a * (1.0 / 3.0) + b * (2.0 / 3.0),
                    to,
                ))
            }
        }
    }

    /// Carried by a turn or a flip that keeps lengths.
    pub(crate) fn carried(&self, to: impl Fn(Point) -> Point, flip: bool) -> Side {
        match *self {
            Side::Straight { from, to: end } => Side::straight(to(from), to(end)),
            Side::Bow {
                from,
                to: end,
                centre,
                sweep,
            } => Side::Bow {
                from: to(from),
                to: to(end),
                centre: to(centre),
                sweep: if flip { -sweep } else { sweep },
            },
            Side::Curve(c) => Side::Curve(CubicBez::new(to(c.p0), to(c.p1), to(c.p2), to(c.p3))),
        }
    }
}

/// A vector turned by an angle, clockwise as seen (y down).
fn turned(v: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    Vec2::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
}
