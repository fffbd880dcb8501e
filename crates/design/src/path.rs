//! SVG path data (W3C SVG 2, chapter 9) as an outline: one closed subpath, curves flattened for the picture.

use shape::{Point, Vector};
use svgtypes::{PathParser, PathSegment};

/// Most corners one patch may have, curves flattened.
pub(crate) const MOST_CORNERS: usize = 1000;

/// Straight pieces to a curve; enough for a picture: a quarter circle of 12 in stays within 1/150 in (derived: r(1 − cos(π/4n))).
const PIECES_PER_CURVE: u32 = 24;

/// A drawn outline in the file's units, y down.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawn {
    pub corners: Vec<Point>,
    pub curved: bool,
}

/// Why a path is no outline, and at which byte of the text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PathError {
    pub at: usize,
    pub message: String,
    pub expected: &'static str,
}

/// Reads one simple closed outline. Whether it crosses itself is for the caller to check.
pub(crate) fn read(text: &str) -> Result<Drawn, PathError> {
    let fail = |at: usize, message: &str, expected: &'static str| PathError {
        at,
        message: message.to_string(),
        expected,
    };
    let mut pen = Pen::default();
    let mut parser = PathParser::from(text);
    let mut closed = false;
    let mut count = 0usize;
    loop {
        let segment = match parser.next() {
            None => break,
            Some(Ok(segment)) => segment,
            Some(Err(error)) => {
                return Err(PathError {
                    at: error_position(&error).saturating_sub(1),
                    message: format!("the path cannot be read after {count} commands"),
                    expected: "SVG path data such as \"M0 0 H2 V2 H0 Z\"",
                });
            }
        };
        count += 1;
        let whole = "one closed outline: M, then lines, then Z";
        if closed {
            return Err(fail(text.len(), "the path goes on after it was closed", whole));
        }
        match segment {
            PathSegment::MoveTo { .. } if !pen.corners.is_empty() => {
                return Err(fail(text.len(), "the path has a second M", whole));
            }
            PathSegment::ClosePath { .. } => closed = true,
            other => pen.draw(other),
        }
        if !pen.at.x.is_finite() || !pen.at.y.is_finite() || pen.corners.iter().rev().take(64).any(|c| far(*c)) {
            return Err(fail(
                text.len(),
                "the path leaves any drawing",
                "coordinates in grid units",
            ));
        }
        if pen.corners.len() > MOST_CORNERS {
            return Err(fail(text.len(), "the path has more than 1000 corners", "at most 1000"));
        }
    }
    let Some((&first, &last)) = pen.corners.first().zip(pen.corners.last()) else {
        return Err(fail(
            0,
            "the path is empty",
            "SVG path data such as \"M0 0 H2 V2 H0 Z\"",
        ));
    };
    if first == last && pen.corners.len() > 1 {
        pen.corners.pop();
        closed = true;
    }
    if !closed {
        return Err(fail(text.len(), "the path is not closed", "Z at its end"));
    }
    pen.corners.dedup();
    if pen.corners.len() < 3 {
        return Err(fail(text.len(), "the path encloses nothing", "at least three corners"));
    }
    Ok(Drawn {
        corners: pen.corners,
        curved: pen.curved,
    })
}

fn far(p: Point) -> bool {
    !(p.x.abs() < 1.0e6 && p.y.abs() < 1.0e6)
}

/// The reader counts characters; all that may stand before a fault is plain ASCII, so they are bytes as well.
fn error_position(error: &svgtypes::Error) -> usize {
    use svgtypes::Error as E;
    match error {
        E::UnexpectedData(at) | E::InvalidNumber(at) | E::InvalidChar(_, at) | E::InvalidString(_, at) => *at,
        _ => 0,
    }
}

#[derive(Default)]
struct Pen {
    corners: Vec<Point>,
    at: Point,
    /// The last control point of a cubic or quadratic curve, for the smooth commands.
    cubic: Option<Point>,
    quadratic: Option<Point>,
    curved: bool,
}

impl Pen {
    fn draw(&mut self, segment: PathSegment) {
        let here = self.at;
        let place = |abs: bool, x: f64, y: f64| {
            if abs {
                Point::new(x, y)
            } else {
                here + Vector::new(x, y)
            }
        };
        let (mut cubic, mut quadratic) = (None, None);
        match segment {
            PathSegment::MoveTo { abs, x, y } | PathSegment::LineTo { abs, x, y } => self.line(place(abs, x, y)),
            PathSegment::HorizontalLineTo { abs, x } => {
                let x = if abs { x } else { here.x + x };
                self.line(Point::new(x, here.y));
            }
            PathSegment::VerticalLineTo { abs, y } => {
                let y = if abs { y } else { here.y + y };
                self.line(Point::new(here.x, y));
            }
            PathSegment::CurveTo {
                abs,
                x1,
                y1,
                x2,
                y2,
                x,
                y,
            } => {
                let second = place(abs, x2, y2);
                self.curve(place(abs, x1, y1), second, place(abs, x, y));
                cubic = Some(second);
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                let first = self.cubic.map_or(here, |c| here + (here - c));
                let second = place(abs, x2, y2);
                self.curve(first, second, place(abs, x, y));
                cubic = Some(second);
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => {
                let control = place(abs, x1, y1);
                self.bow(control, place(abs, x, y));
                quadratic = Some(control);
            }
            PathSegment::SmoothQuadratic { abs, x, y } => {
                let control = self.quadratic.map_or(here, |c| here + (here - c));
                self.bow(control, place(abs, x, y));
                quadratic = Some(control);
            }
            PathSegment::EllipticalArc {
                abs,
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
            } => self.arc(
                (rx.abs(), ry.abs()),
                x_axis_rotation,
                large_arc,
                sweep,
                place(abs, x, y),
            ),
            PathSegment::ClosePath { .. } => {}
        }
        self.cubic = cubic;
        self.quadratic = quadratic;
    }

    fn line(&mut self, to: Point) {
        self.corners.push(to);
        self.at = to;
    }

    fn curve(&mut self, first: Point, second: Point, to: Point) {
        self.curved = true;
        let from = self.at;
        for i in 1..PIECES_PER_CURVE {
            let t = f64::from(i) / f64::from(PIECES_PER_CURVE);
            let (a, b, c) = (from.toward(first, t), first.toward(second, t), second.toward(to, t));
            let (d, e) = (a.toward(b, t), b.toward(c, t));
            self.corners.push(d.toward(e, t));
        }
        self.line(to);
    }

    /// A quadratic curve is the cubic one with its control points two thirds of the way.
    fn bow(&mut self, control: Point, to: Point) {
        let from = self.at;
        self.curve(from.toward(control, 2.0 / 3.0), to.toward(control, 2.0 / 3.0), to);
    }

    /// From ends to centre as in SVG 2, appendix B.2.
    fn arc(&mut self, (mut rx, mut ry): (f64, f64), rotation: f64, large: bool, sweep: bool, to: Point) {
        let from = self.at;
        if rx == 0.0 || ry == 0.0 || from == to {
            return self.line(to);
        }
        self.curved = true;
        let angle = rotation.to_radians();
        let (cos, sin) = (libm::cos(angle), libm::sin(angle));
        let half = (from - to) * 0.5;
        let (x, y) = (cos * half.x + sin * half.y, cos * half.y - sin * half.x);
        let spread = (x / rx) * (x / rx) + (y / ry) * (y / ry);
        if spread > 1.0 {
            // Radii too short to reach are made just long enough.
            rx *= spread.sqrt();
            ry *= spread.sqrt();
        }
        let rest = (1.0 / spread.min(1.0) - 1.0).max(0.0).sqrt() * if large == sweep { -1.0 } else { 1.0 };
        let (cx, cy) = (rest * rx * y / ry, -rest * ry * x / rx);
        let middle = from.toward(to, 0.5);
        let centre = Point::new(cos * cx - sin * cy + middle.x, sin * cx + cos * cy + middle.y);
        let start = libm::atan2((y - cy) / ry, (x - cx) / rx);
        let end = libm::atan2((-y - cy) / ry, (-x - cx) / rx);
        let full = std::f64::consts::TAU;
        let mut turn = (end - start) % full;
        if sweep && turn < 0.0 {
            turn += full;
        } else if !sweep && turn > 0.0 {
            turn -= full;
        }
        for i in 1..PIECES_PER_CURVE {
            let a = start + turn * f64::from(i) / f64::from(PIECES_PER_CURVE);
            let (px, py) = (rx * libm::cos(a), ry * libm::sin(a));
            self.corners.push(Point::new(
                cos * px - sin * py + centre.x,
                sin * px + cos * py + centre.y,
            ));
        }
        self.line(to);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_straight_command() {
        let drawn = read("m1 1 h2 V3 l-2,0 z").unwrap();
        assert!(!drawn.curved);
        let corners: Vec<(f64, f64)> = drawn.corners.iter().map(|c| (c.x, c.y)).collect();
        assert_eq!(corners, [(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)]);
        assert_eq!(read("M0 0 L2 0 L0 2 L0 0").unwrap().corners.len(), 3);
    }

    #[test]
    fn a_quarter_circle_keeps_its_radius() {
        // every place of the arc is 2 from its centre (derived)
        let drawn = read("M2 0 A2 2 0 0 1 0 2 L0 0 Z").unwrap();
        assert!(drawn.curved);
        for c in drawn.corners.iter().take(25) {
            assert!((libm::hypot(c.x, c.y) - 2.0).abs() < 1e-12, "{c:?}");
        }
        assert!(drawn.corners.iter().all(|c| c.x >= -1e-12 && c.y >= -1e-12));
    }

    #[test]
    fn what_is_no_outline() {
        for text in [
            "",
            "Z",
            "M0 0",
            "M0 0 H2 V2",
            "M0 0 H2 Z",
            "M0 0 H1 V1 Z M3 3 H4 V4 Z",
            "M0 0 Q",
            "hello",
            "M0 0 H1e999 V2 Z",
            "M0 0 A1e300 1e300 0 0 1 1e300 1 Z",
        ] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}
