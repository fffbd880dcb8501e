//! SVG path data (W3C SVG 2, chapter 9) as an outline: one closed subpath, curves as fine chains of straights. Every place of a
//! chain lies on the curve, and a curve drawn backward gives the same places.

use shape::{Point, Polygon, Vector};
use svgtypes::{PathParser, PathSegment};

/// Most corners one patch may have, curves flattened.
pub(crate) const MOST_CORNERS: usize = 1000;

/// A chain lies no further off its curve than this, inches, at the size it is drawn to.
const FINE: f64 = 1.0 / 1000.0;

/// No straight of a curve turns by more than this from the one before, radians (3 degrees).
const SMOOTH: f64 = std::f64::consts::PI / 60.0;

/// Where a curve bends most its straights are halved for that, but none shorter than this, inches: below lie the places that are
/// welded, and bends that are sewn as a point.
const HALVED: f64 = 1.0 / 50.0;

/// Straights of any drawing are that short when they have been halved so often.
const HALVINGS: usize = 24;

/// Fewest and most straights to a curve; a multiple of four before any is halved, so that its middle and quarters are places
/// of it. The most keep a half circle of 186 in within [`FINE`] (derived: r (1 - cos(pi / 960))).
const STRAIGHTS: (f64, f64) = (4.0, 480.0);

fn straights(wanted: f64) -> u32 {
    // A hair of rounding must not make one side of a seam finer than the other.
    let whole = ((wanted - 1.0e-6) / 4.0).ceil() * 4.0;
    whole.clamp(STRAIGHTS.0, STRAIGHTS.1) as u32
}

/// A drawn outline in the file's units, y down.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Drawn {
    pub corners: Vec<Point>,
    /// For each corner whether the straight from it to the next is one of a curve's.
    pub bowed: Vec<bool>,
}

impl Drawn {
    /// The outline in inches, y up from a height, counter-clockwise, and for each edge whether it is one of a curve's.
    pub(crate) fn outline(self, unit: (f64, f64), height: f64) -> (Polygon, Vec<bool>) {
        let corners = self.corners.iter();
        let round = Polygon::new(
            corners
                .map(|c| Point::new(c.x * unit.0, height - c.y * unit.1))
                .collect(),
        );
        let mut bows = self.bowed;
        if round.signed_area() < 0.0 {
            // Turned round, each straight but the closing one stands at the place of another.
            let last = bows.len().saturating_sub(1);
            bows[..last].reverse();
        }
        (round.counter_clockwise(), bows)
    }
}

/// Why a path is no outline, and at which byte of the text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PathError {
    pub at: usize,
    pub message: String,
    pub expected: &'static str,
}

/// Reads one simple closed outline, drawn in units of so many inches across and down, of at most so many corners. Whether it
/// crosses itself is for the caller to check.
pub(crate) fn read(text: &str, unit: (f64, f64), most: usize) -> Result<Drawn, PathError> {
    let fail = |at: usize, message: &str, expected: &'static str| PathError {
        at,
        message: message.to_string(),
        expected,
    };
    let mut pen = Pen { unit, ..Pen::default() };
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
        if pen.corners.len() > most {
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
    let mut closing = false;
    if first == last && pen.corners.len() > 1 {
        pen.corners.pop();
        closing = pen.bowed.pop().unwrap_or(false);
        closed = true;
    }
    if !closed {
        return Err(fail(text.len(), "the path is not closed", "Z at its end"));
    }
    // Each straight was noted with the corner it came to; what has no length is left out.
    let arrived = pen.corners.iter().copied().zip(pen.bowed.iter().copied());
    let (mut corners, mut arrivals): (Vec<Point>, Vec<bool>) = (Vec::new(), Vec::new());
    for (corner, bowed) in arrived {
        if corners.last() != Some(&corner) {
            corners.push(corner);
            arrivals.push(bowed);
        }
    }
    pen.corners = corners;
    if pen.corners.len() < 3 {
        return Err(fail(text.len(), "the path encloses nothing", "at least three corners"));
    }
    let bowed = arrivals.into_iter().skip(1).chain([closing]).collect();
    Ok(Drawn {
        corners: pen.corners,
        bowed,
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
    /// For each corner whether a curve came to it.
    bowed: Vec<bool>,
    /// Inches to a unit, across and down.
    unit: (f64, f64),
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
        self.bowed.push(false);
        self.at = to;
    }

    fn bend(&mut self, to: Point) {
        self.corners.push(to);
        self.bowed.push(true);
        self.at = to;
    }

    /// A length in inches.
    fn inches(&self, v: Vector) -> Vector {
        Vector::new(v.x * self.unit.0, v.y * self.unit.1)
    }

    fn curve(&mut self, first: Point, second: Point, to: Point) {
        let from = self.at;
        // Within an eighth of the square of a step times the second derivative, the largest at an end (derived).
        let bend = |a: Point, b: Point, c: Point| self.inches((a - b) + (c - b)).length() * 6.0;
        let most = bend(from, first, second).max(bend(first, second, to));
        let place = |t: f64| {
            let (a, b, c) = (from.toward(first, t), first.toward(second, t), second.toward(to, t));
            let (d, e) = (a.toward(b, t), b.toward(c, t));
            d.toward(e, t)
        };
        let count = straights((most / (8.0 * FINE)).sqrt());
        let mut at: Vec<f64> = (0..=count).map(|i| f64::from(i) / f64::from(count)).collect();
        for halvings in 0..=HALVINGS {
            let inner: Vec<Point> = at[1..at.len() - 1].iter().map(|&t| place(t)).collect();
            let places: Vec<Point> = std::iter::once(from).chain(inner).chain([to]).collect();
            let halved = self.too_wide(&places);
            if halvings == HALVINGS || !halved.contains(&true) {
                places.into_iter().skip(1).for_each(|p| self.bend(p));
                return;
            }
            let inner = (1..at.len()).flat_map(|i| {
                let middle = halved[i - 1].then(|| (at[i - 1] + at[i]) / 2.0);
                middle.into_iter().chain([at[i]])
            });
            at = std::iter::once(0.0).chain(inner).collect();
        }
    }

    /// For each straight of a chain whether it is to be halved, since it turns too widely from one beside it.
    fn too_wide(&self, places: &[Point]) -> Vec<bool> {
        let ways: Vec<Vector> = places.windows(2).map(|w| self.inches(w[1] - w[0])).collect();
        let wide = |i: usize| {
            let (a, b) = (ways[i], ways[i + 1]);
            libm::atan2(a.cross(b), a.dot(b)).abs() > SMOOTH + 1.0e-6
        };
        let turns: Vec<bool> = (0..ways.len().saturating_sub(1)).map(wide).collect();
        let beside = |i: usize| turns.get(i) == Some(&true) || i > 0 && turns.get(i - 1) == Some(&true);
        (0..ways.len())
            .map(|i| beside(i) && ways[i].length() > HALVED)
            .collect()
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
        // A chord of a circle lies r(1 - cos(a/2)) within it (derived).
        let radius = rx.max(ry) * self.unit.0.max(self.unit.1);
        let fine = 2.0 * libm::acos((1.0 - FINE / radius.max(FINE)).clamp(-1.0, 1.0));
        let count = straights(turn.abs() / fine.min(SMOOTH));
        for i in 1..count {
            let a = start + turn * f64::from(i) / f64::from(count);
            let (px, py) = (rx * libm::cos(a), ry * libm::sin(a));
            self.bend(Point::new(
                cos * px - sin * py + centre.x,
                sin * px + cos * py + centre.y,
            ));
        }
        self.bend(to);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_straight_command() {
        let drawn = read("m1 1 h2 V3 l-2,0 z", (1.0, 1.0), MOST_CORNERS).unwrap();
        assert!(!drawn.bowed.contains(&true));
        let corners: Vec<(f64, f64)> = drawn.corners.iter().map(|c| (c.x, c.y)).collect();
        assert_eq!(corners, [(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)]);
        assert_eq!(
            read("M0 0 L2 0 L0 2 L0 0", (1.0, 1.0), MOST_CORNERS)
                .unwrap()
                .corners
                .len(),
            3
        );
    }

    #[test]
    fn a_quarter_circle_keeps_its_radius() {
        // every place of the arc is 2 from its centre (derived)
        let drawn = read("M2 0 A2 2 0 0 1 0 2 L0 0 Z", (1.0, 1.0), MOST_CORNERS).unwrap();
        let count = drawn.bowed.iter().filter(|b| **b).count();
        assert_eq!(drawn.bowed, [vec![true; count], vec![false; 2]].concat());
        assert_eq!(count % 4, 0);
        // and no chord more than 1/1000 in within it
        assert!(2.0 * (1.0 - libm::cos(std::f64::consts::FRAC_PI_4 / count as f64)) <= 0.001);
        for c in drawn.corners.iter().take(count + 1) {
            assert!((libm::hypot(c.x, c.y) - 2.0).abs() < 1e-12, "{c:?}");
        }
        assert!(drawn.corners.iter().all(|c| c.x >= -1e-12 && c.y >= -1e-12));
    }

    #[test]
    fn a_curve_drawn_backward_has_the_same_places() {
        for (there, back) in [
            ("M3 0 A3 2 10 0 1 0 2 L0 0 Z", "M0 2 A3 2 10 0 0 3 0 L0 0 Z"),
            ("M3 0 C3 1 1 2 0 2 L0 0 Z", "M0 2 C1 2 3 1 3 0 L0 0 Z"),
        ] {
            let (there, back) = (
                read(there, (2.0, 1.5), MOST_CORNERS).unwrap(),
                read(back, (2.0, 1.5), MOST_CORNERS).unwrap(),
            );
            let count = there.bowed.iter().filter(|b| **b).count();
            assert_eq!(there.corners.len(), back.corners.len());
            for i in 0..=count {
                assert!(there.corners[i].distance(back.corners[count - i]) < 1e-12);
            }
        }
    }

    #[test]
    fn a_small_curve_turns_no_more_than_a_large_one() {
        // An S of 1/2 in: at 1/1000 in alone its straights would turn by 7 degrees. And a bend as in a tall narrow heart, whose
        // straights are halved there alone.
        for text in ["M0 0 C0.4 0 0.1 0.5 0.5 0.5 L0 0.5 Z", "M0 8 C0 0 2 0 2 8 Z"] {
            let places = |unit: f64| {
                let drawn = read(text, (unit, unit), MOST_CORNERS).unwrap();
                let count = drawn.bowed.iter().filter(|b| **b).count();
                drawn.corners[..(count + 1).min(drawn.corners.len())].to_vec()
            };
            for unit in [0.25, 0.5, 1.0, 4.0] {
                let places = places(unit);
                let ways: Vec<Vector> = places.windows(2).map(|w| (w[1] - w[0]) * unit).collect();
                assert!(ways.len() < 200, "{text} {unit}: {}", ways.len());
                for w in ways.windows(2) {
                    let turn = libm::atan2(w[0].cross(w[1]), w[0].dot(w[1])).abs();
                    let short = w.iter().all(|w| w.length() <= HALVED);
                    assert!(turn <= SMOOTH + 1.0e-6 || short, "{text} {unit}: {}", turn.to_degrees());
                }
            }
        }
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
            assert!(read(text, (1.0, 1.0), MOST_CORNERS).is_err(), "{text}");
        }
    }
}
