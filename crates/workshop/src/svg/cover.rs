//! Who covers what: shapes that lie on one another are parted as the eye sees them, what is left open becomes ground, and an outline
//! with a hole is cut open. Plane sets are a library's work; curves are followed by fine chains and found again afterwards.

use super::outline::{Outline, Side};
use super::read::Shape;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use kurbo::{CubicBez, ParamCurve, ParamCurveNearest, Point};

/// Straights that a curve is followed by: a quarter circle of 12 in is then missed by less than a thousandth (r (1 − cos θ/2)).
const FINE: usize = 64;

/// A point this near to a curve lies on it, inches.
const ON: f64 = 2e-3;

/// What is narrower than this (area over half the way round) is no patch but what rounding left, inches.
const SLIVER: f64 = 1.0 / 64.0;

type Contour = Vec<[f64; 2]>;
type Region = Vec<Vec<Contour>>;

/// A patch of the block to be: its colour, or none for ground.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    pub(super) fill: Option<[u8; 3]>,
    pub(super) outline: Outline,
}

/// Parts the shapes. `on_top`: the later cut away what is beneath; `ground`: what stays open is filled.
pub(super) fn part(shapes: &[Shape], size: (f64, f64), on_top: bool, ground: bool) -> Vec<Piece> {
    let mut chains = Chains::default();
    let regions: Vec<Region> = shapes.iter().map(|shape| region(shape, &mut chains)).collect();
    let mut pieces: Vec<Vec<Piece>> = vec![Vec::new(); shapes.len()];
    let mut above: Region = Vec::new();
    for (i, (shape, region)) in shapes.iter().zip(&regions).enumerate().rev() {
        let seen = if on_top && !above.is_empty() {
            set(region, &above, OverlayRule::Difference)
        } else {
            region.clone()
        };
        let untouched = shape.loops.len() == 1 && (area(&seen) - area(region)).abs() < 1e-6 * area(region).max(1.0);
        pieces[i] = if untouched {
            let outline = shape.loops[0].clone();
            vec![Piece {
                fill: Some(shape.fill),
                outline,
            }]
        } else {
            patches(&seen, &chains, Some(shape.fill))
        };
        if on_top || ground {
            above = set(&above, region, OverlayRule::Union);
        }
    }
    let mut all: Vec<Piece> = pieces.into_iter().flatten().collect();
    if ground {
        let (w, h) = size;
        let whole = vec![vec![vec![[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]]]];
        all.extend(patches(&set(&whole, &above, OverlayRule::Difference), &chains, None));
    }
    all
}

/// A shape as a region, its holes holes.
fn region(shape: &Shape, chains: &mut Chains) -> Region {
    let contours: Vec<Contour> = shape.loops.iter().map(|outline| chains.follow(outline)).collect();
    if contours.len() == 1 {
        return vec![contours];
    }
    let rule = if shape.even_odd {
        FillRule::EvenOdd
    } else {
        FillRule::NonZero
    };
    contours.overlay_as::<i64>(&Vec::<Contour>::new(), OverlayRule::Subject, rule)
}

fn set(a: &Region, b: &Region, rule: OverlayRule) -> Region {
    a.overlay_as::<i64>(b, rule, FillRule::NonZero)
}

fn signed(contour: &Contour) -> f64 {
    let n = contour.len();
    (0..n)
        .map(|i| {
            let (a, b) = (contour[i], contour[(i + 1) % n]);
            a[0] * b[1] - a[1] * b[0]
        })
        .sum::<f64>()
        / 2.0
}

fn area(region: &Region) -> f64 {
    // Holes run the other way round.
    region
        .iter()
        .map(|shape| shape.iter().map(signed).sum::<f64>().abs())
        .sum()
}

fn patches(region: &Region, chains: &Chains, fill: Option<[u8; 3]>) -> Vec<Piece> {
    let mut open = Vec::new();
    for shape in region {
        cut_open(shape, &mut open, 0);
    }
    open.iter()
        .filter(|contour| {
            let n = contour.len();
            let round: f64 = (0..n)
                .map(|i| point(contour[i]).distance(point(contour[(i + 1) % n])))
                .sum();
            n >= 3 && signed(contour).abs() > SLIVER * round / 2.0
        })
        .map(|contour| Piece {
            fill,
            outline: chains.outline(contour),
        })
        .collect()
}

/// A shape with holes is cut along upright lines through them until none is left.
fn cut_open(shape: &[Contour], out: &mut Vec<Contour>, depth: usize) {
    let Some(outer) = shape.first() else { return };
    let Some(hole) = shape.get(1) else {
        out.extend(unpinched(outer.clone()));
        return;
    };
    if depth > 200 {
        return;
    }
    let at = upright_through(hole);
    let far = 4.0e3;
    let half = |a: f64, b: f64| vec![vec![vec![[a, -far], [b, -far], [b, far], [a, far]]]];
    let whole: Region = vec![shape.to_vec()];
    for side in [half(-far, at), half(at, far)] {
        for part in set(&whole, &side, OverlayRule::Intersect) {
            cut_open(&part, out, depth + 1);
        }
    }
}

/// Where a hole is cut through: along an upright side of it, else through a corner between its left and right, else its middle.
fn upright_through(hole: &Contour) -> f64 {
    let n = hole.len();
    let upright = (0..n).find(|&i| {
        let (a, b) = (hole[i], hole[(i + 1) % n]);
        (a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() > 1e-6
    });
    if let Some(i) = upright {
        return hole[i][0];
    }
    let left = hole.iter().map(|p| p[0]).fold(f64::INFINITY, f64::min);
    let right = hole.iter().map(|p| p[0]).fold(f64::NEG_INFINITY, f64::max);
    let middle = (left + right) / 2.0;
    let inside = hole
        .iter()
        .map(|p| p[0])
        .filter(|x| *x > left + 1e-6 && *x < right - 1e-6);
    inside
        .min_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()))
        .unwrap_or(middle)
}

/// An outline that meets itself at a corner is as many outlines.
fn unpinched(contour: Contour) -> Vec<Contour> {
    for i in 0..contour.len() {
        for j in i + 1..contour.len() {
            if point(contour[i]).distance(point(contour[j])) < 1e-9 {
                let inner: Contour = contour[i..j].to_vec();
                let outer: Contour = contour[j..].iter().chain(&contour[..i]).copied().collect();
                return unpinched(inner).into_iter().chain(unpinched(outer)).collect();
            }
        }
    }
    vec![contour]
}

fn point(p: [f64; 2]) -> Point {
    Point::new(p[0], p[1])
}

/// The curves, and the corners of everything, to be found again.
#[derive(Default)]
struct Chains {
    curves: Vec<CubicBez>,
    corners: Vec<Point>,
}

impl Chains {
    fn follow(&mut self, outline: &Outline) -> Contour {
        let mut contour = Vec::new();
        for side in &outline.sides {
            self.corners.push(side.from());
            match side {
                Side::Line(a, _) => contour.push([a.x, a.y]),
                Side::Curve(c) => {
                    self.curves.push(*c);
                    contour.extend((0..FINE).map(|i| {
                        let p = c.eval(i as f64 / FINE as f64);
                        [p.x, p.y]
                    }));
                }
            }
        }
        contour
    }

    /// A contour with its corners exactly where they were, and its chains the curves they followed.
    fn outline(&self, contour: &Contour) -> Outline {
        let places: Vec<Point> = contour.iter().map(|p| self.exact(point(*p))).collect();
        let n = places.len();
        let steps: Vec<Option<(usize, f64, f64)>> =
            (0..n).map(|i| self.along(places[i], places[(i + 1) % n])).collect();
        // Begin where a new side begins, so that no curve is told in two.
        let goes_on = |i: usize| match (steps[(i + n - 1) % n], steps[i]) {
            (Some((a, t0, t1)), Some((b, u0, u1))) => a == b && (t1 - u0).abs() < 1e-3 && (t1 > t0) == (u1 > u0),
            _ => false,
        };
        let first = (0..n).find(|&i| !goes_on(i)).unwrap_or(0);
        let mut sides = Vec::new();
        let mut k = 0;
        while k < n {
            let i = (first + k) % n;
            let mut last = k;
            while last + 1 < n && steps[i].is_some() && goes_on((first + last + 1) % n) {
                last += 1;
            }
            let (from, to) = (places[i], places[(first + last + 1) % n]);
            match (steps[i], steps[(first + last) % n]) {
                (Some((curve, t0, _)), Some((_, _, t1))) if (t1 - t0).abs() > 1e-6 => {
                    let (low, high) = (t0.min(t1), t0.max(t1));
                    let part = self.curves[curve].subsegment(low..high);
                    let part = if t1 > t0 {
                        part
                    } else {
                        CubicBez::new(part.p3, part.p2, part.p1, part.p0)
                    };
                    sides.push(Side::Curve(part).between(from, to));
                }
                _ => sides.push(Side::Line(from, to)),
            }
            k = last + 1;
        }
        Outline::new(sides, 1e-6).without_idle_corners()
    }

    /// The corner that was there before, where there was one.
    fn exact(&self, p: Point) -> Point {
        let nearest = self
            .corners
            .iter()
            .min_by(|a, b| a.distance_squared(p).total_cmp(&b.distance_squared(p)));
        nearest.copied().filter(|corner| corner.distance(p) < 1e-5).unwrap_or(p)
    }

    /// Which curve a short straight runs along, and between which of its parameters.
    fn along(&self, a: Point, b: Point) -> Option<(usize, f64, f64)> {
        self.curves.iter().enumerate().find_map(|(i, curve)| {
            let bounds = kurbo::Rect::from_points(curve.p0, curve.p3)
                .union_pt(curve.p1)
                .union_pt(curve.p2)
                .inflate(ON, ON);
            if !bounds.contains(a) || !bounds.contains(b) {
                return None;
            }
            let on = |p: Point| {
                let near = curve.nearest(p, 1e-9);
                (near.distance_sq < ON * ON).then_some(near.t)
            };
            let (t0, t1) = (on(a)?, on(b)?);
            // A chord across is no part of the curve.
            ((t1 - t0).abs() <= 0.2 && on(a.midpoint(b)).is_some()).then_some((i, t0, t1))
        })
    }
}
