//! Two leaning pieces across a rectangle, cut from strips through two marks.
//!
//! At a 2:1 slope the pieces' own lengths are irrational, but the two edges of the cut differ by exactly half the strip's
//! height, a mark. So the cut goes through two marks, the length is rounded up, both ends of the seam are placed by the
//! notch, and the unit's ends are trimmed from the seam's crossing with the raw edge.

use super::{Method, OwnSeam, Proposal, Toward, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use measure::{Length, Way, Why};
use recipe::{
    DemandShape, EdgeRun, End, Give, Lay, LineRef, Measured, PointRef, Press, Ruler, RulerAngle, Size, Step, Take,
    TrimLine, Turn,
};
use shape::{Motion, Point, Polygon, WELD};
use terms::FabricId;

/// A rectangle divided by one leaning seam from long side to long side.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    AngledPair::recognise(unit, settings).map(|(method, handling)| Proposal::new(method, handling))
}

/// A unit made this way, seen with its long sides across.
#[derive(Clone, Debug)]
pub struct AngledPair {
    width: f64,
    height: f64,
    /// Corner of the unit that is its lower left when seen so.
    first: usize,
    /// Where the seam meets the lower and the upper side, from the left.
    low: f64,
    high: f64,
    left: FabricId,
    right: FabricId,
}

const HANDLING: u32 = 13;

impl AngledPair {
    /// A rectangle divided by one leaning seam from long side to long side, all its figures on marks.
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<(Self, u32)> {
        let [a, b] = &unit.patches[..] else { return None };
        let side = rectangle_side(&unit.outline)?;
        if a.outline.len() != 4 || b.outline.len() != 4 || !unit.grain_along(side) {
            return None;
        }
        (0..4).find_map(|first| {
            let (o, x, y) = (
                unit.outline.corner(first),
                unit.outline.corner(first + 1),
                unit.outline.corner(first + 3),
            );
            let (width, height) = (o.distance(x), o.distance(y));
            let frame = Motion::line_to_line(
                shape::Line::between(o, x)?,
                shape::Line {
                    through: Point::ORIGIN,
                    along: shape::Vector::new(1.0, 0.0),
                },
                false,
            );
            let outlines = [frame.polygon(&a.outline), frame.polygon(&b.outline)];
            let has = |p: &Polygon, c: Point| p.corners().iter().any(|q| q.distance(c) < WELD);
            let left = outlines.iter().position(|p| {
                has(p, Point::ORIGIN) && has(p, Point::new(0.0, height)) && !has(p, Point::new(width, 0.0))
            })?;
            let along = |y: f64| {
                let reach = outlines[left]
                    .corners()
                    .iter()
                    .filter(|c| (c.y - y).abs() < WELD)
                    .map(|c| c.x);
                reach.fold(0.0, f64::max)
            };
            let (low, high) = (along(0.0), along(height));
            let (left, right) = if left == 0 { (a, b) } else { (b, a) };
            let pair = AngledPair {
                width,
                height,
                first,
                low,
                high,
                left: left.fabric.clone(),
                right: right.fabric.clone(),
            };
            pair.fits(settings).then_some((pair, HANDLING))
        })
    }

    fn fits(&self, settings: &Settings) -> bool {
        let s = settings.seam_inches();
        let lean = (self.high - self.low) / self.height;
        // Too steep a lean leaves no piece, too slight a one cannot be told from square.
        (self.high - self.low).abs() > WELD
            && self.low.min(self.high) > 2.0 * s
            && self.width - self.low.max(self.high) > 2.0 * s
            && [
                self.width + 2.0 * s,
                self.height + 2.0 * s,
                lean * (self.height + 2.0 * s),
                self.low,
                lean * s,
                s,
            ]
            .iter()
            .all(|&x| settings.ruling.on_mark(x.abs()).is_some())
    }

    /// One piece: its square end on the left, `finished` long on its lower side.
    fn piece(&self, bench: &mut Bench<'_>, strip: Size, what: &str, finished: f64, lean: f64) -> Leaning {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let mark = settings.ruling.mark();
        // On the lower raw edge the cut lies s/sin α beyond the seam, which itself has moved by s·lean.
        let slant = (1.0 + lean * lean).sqrt();
        let exact = |lower: bool| {
            let moved = if lower { -lean * s } else { lean * (self.height + s) };
            Why::Sum(vec![
                Why::given(what, finished),
                Why::given("seam at the square end", s),
                Why::given("seam along the lean", s * slant),
                Why::given("lean of the seam to this edge", moved),
            ])
        };
        // The longer side is rounded up; the other differs from it by the lean over the strip, a mark.
        let long_is_lower = lean < 0.0;
        let difference = Why::Product(vec![
            Why::given("strip", strip.inches()),
            Why::given("lean, along by up", lean.abs()),
        ]);
        let long = exact(long_is_lower).to_mark(mark, Way::Up);
        let short = Why::Less(Box::new(long.clone()), Box::new(difference)).to_mark(mark, Way::Nearest);
        let shave = bench
            .whys
            .size(Why::Less(Box::new(long.clone()), Box::new(exact(long_is_lower))));
        let (long, short) = (bench.whys.size(long), bench.whys.size(short));
        let (lower, upper) = if long_is_lower { (long, short) } else { (short, long) };
        Leaning {
            shape: DemandShape::Slant {
                height: strip,
                lower,
                upper,
                lead: Length::ZERO,
                ruler: None,
            },
            shave,
        }
    }

    /// How far the finished unit's raw end lies from where the seam crosses the lower raw edge.
    fn beyond_crossing(&self, bench: &mut Bench<'_>, left: bool, lean: f64) -> Size {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let (finished, moved) = if left {
            (self.low, -lean * s)
        } else {
            (self.width - self.low, lean * s)
        };
        bench.whys.size(
            Why::Sum(vec![
                Why::given("finished lower length", finished),
                Why::given("seam at the end", s),
                Why::given("lean of the seam over its allowance", moved),
            ])
            .to_mark(settings.ruling.mark(), Way::Nearest),
        )
    }

    fn patch(&self, left: bool) -> Polygon {
        let p = Point::new;
        let (w, h) = (self.width, self.height);
        if left {
            Polygon::new(vec![p(0.0, 0.0), p(self.low, 0.0), p(self.high, h), p(0.0, h)])
        } else {
            Polygon::new(vec![p(self.low, 0.0), p(w, 0.0), p(w, h), p(self.high, h)])
        }
    }
}

impl Method for AngledPair {
    fn name(&self) -> &'static str {
        "angled strips"
    }

    fn label(&self) -> &'static str {
        "Leaning unit"
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        let on = |from: usize, to: usize, reach: f64| {
            let (from, to) = (outline.corner(from), outline.corner(to));
            from.toward(to, reach / from.distance(to))
        };
        let toward = Toward::Darker {
            lower: self.left.clone(),
            upper: self.right.clone(),
        };
        vec![OwnSeam {
            from: on(self.first, self.first + 1, self.low),
            to: on(self.first + 3, self.first + 2, self.high),
            toward,
            fixed: false,
        }]
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let mark = settings.ruling.mark();
        let lean = (self.high - self.low) / self.height;
        let strip = bench.whys.with_seams("finished height", self.height, settings.seam);
        let width = bench.whys.with_seams("finished width", self.width, settings.seam);
        let left = self.piece(bench, strip, "finished lower length", self.low, lean);
        // Turned end for end, the right piece has its square end on the left too: its upper side is its lower edge.
        let right = self.piece(bench, strip, "finished upper length", self.width - self.high, lean);
        let turns = vec![Turn::As, Turn::Half];
        let a_piece = bench
            .pieces
            .of(left.shape, &self.left, turns.clone(), Some(&self.patch(true)));
        let b_piece = bench
            .pieces
            .of(right.shape, &self.right, turns, Some(&self.patch(false)));
        let (a, b) = (bench.take(Take::Piece(a_piece)), bench.take(Take::Piece(b_piece)));
        let about = bench
            .whys
            .overhang(settings.seam, lean.abs(), Length::from_units((mark.units() / 2).max(1)));
        let laid = Lay::Edges {
            a: run(a, 1),
            b: run(b, 1),
            first: End::Notch {
                a: edge(a, 0),
                b: edge(b, 2),
                about,
            },
            last: End::Notch {
                a: edge(a, 2),
                b: edge(b, 0),
                about,
            },
            meets: Vec::new(),
        };
        let press = bench.way(0, Press::TowardLower);
        let work = bench.sew(a, b, laid, press, false);
        // Both ends are trimmed so far from where the seam crosses the lower raw edge, square to that edge.
        let line = bench.mark("square across");
        let seam_line = LineRef::Seam(seam(work));
        bench.step(Step::Mark {
            on: work,
            name: line.clone(),
            line: Ruler::Angle {
                line: LineRef::Edge(edge(a, 0)),
                angle: RulerAngle::Ninety,
                through: PointRef::Crossing(seam_line, LineRef::Edge(edge(a, 0))),
                like: edge(a, 3),
            },
        });
        let (to_left, to_right) = (
            self.beyond_crossing(bench, true, lean),
            self.beyond_crossing(bench, false, lean),
        );
        let trimmed = bench.slot();
        let left_corner = corner(edge(a, 2), edge(a, 3));
        let right_corner = corner(edge(b, 2), edge(b, 3));
        bench.step(Step::Trim {
            of: work,
            lines: vec![
                TrimLine {
                    ruler: Ruler::Beside {
                        line: LineRef::Mark(line.clone()),
                        at: to_left,
                        toward: left_corner,
                    },
                    off: run(a, 3),
                    shave: left.shave,
                },
                TrimLine {
                    ruler: Ruler::Beside {
                        line: LineRef::Mark(line),
                        at: to_right,
                        toward: right_corner,
                    },
                    off: run(b, 3),
                    shave: right.shave,
                },
            ],
            into: trimmed,
        });
        let round = [
            EdgeRun(vec![edge(a, 0), edge(b, 2)]),
            run(trimmed, 1),
            EdgeRun(vec![edge(b, 0), edge(a, 2)]),
            run(trimmed, 0),
        ];
        let check = |what, is| Step::Check { of: trimmed, what, is };
        bench.step(check(Measured::Across(round[3].clone(), round[1].clone()), width));
        bench.step(check(Measured::Across(round[0].clone(), round[2].clone()), strip));
        let sides = (0..4).map(|i| round[(i + 4 - self.first) % 4].clone()).collect();
        vec![Give {
            slot: trimmed,
            sides,
            seams: vec![seam(work)],
        }]
    }
}

struct Leaning {
    shape: DemandShape,
    shave: Size,
}
