//! Setting triangles: what the sides of a layout on point cut through, cut as the trade does. Side triangles are quarters of a
//! square, corner triangles halves of one, so that their outer sides lie on the straight grain; the squares are the finished long
//! side + 1 1/4 and the finished short side + 7/8 (exactly 2s + 2√2·s and 2s + √2·s, put up to the mark), and the whole up
//! to the mark again.
//!
//! So they come a little large. Their outer sides stand out beyond the blocks' points, and once the rows are sewn together each side of the
//! whole is trimmed by the ruler, a seam (and what the layout floats) beyond where seams cross at the points. Where the layout
//! floats, a triangle is larger than its finished outline at the row's edge too: it is cut level with the row as it is sewn on.
//!
//! A square that comes out on the mark so nearly that no side of its triangles is 3/256 in too long is sewn as it is.

use super::sew_together::{self, NoCommonSide, PartAtPlace, measure_unit};
use crate::at_angle::near_mark;
use crate::bench::{Bench, corner, edge, run};
use crate::ends::inner_angle;
use crate::over::Over;
use crate::patch::{CutWay, PatchCut};
use crate::settings::Settings;
use crate::whys::Whys;
use measure::{Length, Way, Why};
use recipe::{
    DemandShape, EdgeRef, EdgeRun, Give, LineRef, PointRef, Press, Ruler, RulerAngle, SeamRef, Step, TrimLine, Turn,
};
use shape::{Line, Point, Polygon, Vector, WELD};

/// The method's name.
pub const NAME: &str = "setting triangles";

/// Where its longest side is no more than this too long a triangle is sewn as it is, both ends matched.
const AS_IT_IS: f64 = 3.0 / 256.0;

/// The published allowances, 1 1/4 and 7/8, are whole eighths.
const RULE: Length = Length::fraction(1, 8);

/// A triangle as it is cut.
#[derive(Clone, Debug)]
pub struct Triangle {
    /// How.
    pub cut: PatchCut,
    /// What of it lies beyond its finished outline and a seam.
    pub over: Over,
    /// How far its outer sides stand out.
    pub excess: Why,
}

/// The triangle that a patch with these outer sides is cut from; `None` for other shapes, other grain, and more cloth than there is.
pub fn triangle(
    outline: &Polygon,
    outer: &[bool],
    grain: Vector,
    usable: f64,
    settings: &Settings,
    whys: &mut Whys,
) -> Option<Triangle> {
    let lying = Lying::of(outline, outer)?;
    let side = outline.edge(lying.first)?.along;
    if side.dot(grain).abs() > 1.0e-6 && side.cross(grain).abs() > 1.0e-6 {
        return None;
    }
    let (s, mark) = (settings.seam_inches(), settings.ruling.mark());
    let diagonals = if lying.corner { 1 } else { 2 };
    let allowance = Why::Sum(vec![
        Why::given("seam", s).times(2, 1, 1).named("two seams"),
        Why::given("seam", s)
            .times(diagonals, 2, 1)
            .named(if lying.corner { "diagonal" } else { "two diagonals" }),
    ]);
    let finished = if lying.corner {
        Why::given("half of the long side", lying.high)
            .times(1, 2, 1)
            .named("finished short side")
    } else {
        Why::given("from point to long side", lying.high)
            .times(2, 1, 1)
            .named("finished long side")
    };
    let exact = Why::Sum(vec![finished.clone(), allowance.clone()]);
    let near = exact.clone().to_mark(mark, Way::Nearest);
    // The long side is the square's own, or its diagonal.
    let longest = if lying.corner { std::f64::consts::SQRT_2 } else { 1.0 };
    let as_it_is = (0.0..=AS_IT_IS).contains(&(longest * (near.value() - exact.value())));
    let square = if as_it_is {
        near
    } else {
        Why::Sum(vec![finished, allowance.to_mark(mark.min(RULE), Way::Up)]).to_mark(mark, Way::Up)
    };
    if square.value() > usable {
        return None;
    }
    // Half of what the square is too large, since the other half lies at its other side.
    let excess = Why::Quotient(
        Box::new(Why::Less(
            Box::new(Why::given("square as cut", square.value())),
            Box::new(exact),
        )),
        Box::new(Why::Count {
            what: "sides".into(),
            count: 2,
        }),
    );
    let side = whys.size(square);
    let shape = if lying.corner {
        DemandShape::Half {
            width: side,
            height: side,
            rising: true,
        }
    } else {
        DemandShape::Quarter { side }
    };
    let cut = PatchCut {
        shape,
        edges: lying.edges,
        turns: vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters],
        way: CutWay::OfSquare,
        off_grain: false,
    };
    let out = if as_it_is { 0.0 } else { excess.value() };
    let over = Over {
        out: outer.iter().map(|&outer| if outer { out } else { 0.0 }).collect(),
        level: lying.level,
    };
    Some(Triangle { cut, over, excess })
}

/// How a patch lies in its triangle.
struct Lying {
    /// Half of a square, with two outer sides.
    corner: bool,
    /// The first of its outer sides.
    first: usize,
    /// From the long side to the right angle.
    high: f64,
    /// For each side of the patch the triangle's edge.
    edges: Vec<u32>,
    /// For each side whether the triangle goes on beyond it.
    level: Vec<bool>,
}

impl Lying {
    fn of(outline: &Polygon, outer: &[bool]) -> Option<Self> {
        let n = outline.len();
        let angle = |i: usize| inner_angle(outline, i % n).map(|a| a.degrees());
        let is = |i: usize, degrees: f64| angle(i).is_some_and(|a| (a - degrees).abs() < 1.0e-4);
        let before = |i: usize| outer[(i + n - 1) % n];
        let first = (0..n).find(|&i| outer[i] && !before(i))?;
        let outer_sides = outer.iter().filter(|&&o| o).count();
        // The angles from the start of the first outer side on say what it is; then come the edges and what is cut level.
        type Shape = (bool, &'static [f64], &'static [Option<u32>]);
        const SHAPES: [Shape; 5] = [
            (false, &[45.0, 45.0, 90.0], &[Some(0), Some(1), Some(2)]),
            (false, &[135.0, 45.0, 90.0, 90.0], &[Some(0), Some(1), Some(2), None]),
            (false, &[45.0, 135.0, 90.0, 90.0], &[Some(0), None, Some(1), Some(2)]),
            (true, &[45.0, 90.0, 45.0], &[Some(0), Some(1), Some(2)]),
            (
                true,
                &[135.0, 90.0, 135.0, 90.0, 90.0],
                &[Some(0), Some(1), None, Some(2), None],
            ),
        ];
        let (corner, _, numbers) = SHAPES.into_iter().find(|(corner, angles, _)| {
            angles.len() == n
                && outer_sides == 1 + usize::from(*corner)
                && angles.iter().enumerate().all(|(i, &degrees)| is(first + i, degrees))
        })?;
        let of = |side: usize| numbers[(side + n - first) % n];
        let with = |number: u32| (0..n).find(|&side| of(side) == Some(number));
        let high = if corner {
            let long = outline.edge(with(2)?)?;
            long.offset_of(outline.corner(first + 1))
        } else {
            let right_angle = outline.corner(with(2)?);
            outline.edge(first)?.offset_of(right_angle)
        };
        Some(Lying {
            corner,
            first,
            high,
            edges: (0..n).map(|side| of(side).unwrap_or(0)).collect(),
            level: (0..n).map(|side| of(side).is_none()).collect(),
        })
    }
}

/// Where a seam between rows crosses a seam within one of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtPoint {
    /// The seam between rows.
    pub seam: usize,
    /// The row.
    pub row: usize,
    /// The seam in it.
    pub inner: usize,
    /// Where they cross.
    pub at: Point,
}

/// How one side is trimmed.
#[derive(Clone, Debug)]
struct Side {
    /// The points it is trimmed by, the last only where there are two or more.
    points: (AtPoint, Option<AtPoint>),
    /// From the points to the finished side.
    float: f64,
    /// How far the edges that tell what comes off stand out, and why.
    out: (f64, Why),
}

/// How the four sides of what is set on point are trimmed.
#[derive(Clone, Debug)]
pub struct Setting {
    /// By side of the outline; none where nothing stands out.
    sides: Vec<Option<Side>>,
}

/// What stands out on a side: by how much, and why.
pub type Outs = Vec<(f64, Why)>;

impl Setting {
    /// Sees by what each side can be trimmed, given the places where seams cross and what stands out on each; `None` when a side
    /// cannot.
    pub fn of(outline: &Polygon, crossings: &[AtPoint], outs: &[Outs], settings: &Settings) -> Option<Self> {
        let mut sides = Vec::with_capacity(outs.len());
        for (side, outs) in outs.iter().enumerate() {
            let line = outline.edge(side)?;
            let Some(out) = what_comes_off(outs) else {
                sides.push(None);
                continue;
            };
            let float = crossings
                .iter()
                .map(|c| line.offset_of(c.at))
                .filter(|&d| d > -WELD && near_mark(d + settings.seam_inches(), settings).is_some())
                .min_by(f64::total_cmp)?;
            let mut points: Vec<&AtPoint> = (crossings.iter())
                .filter(|c| (line.offset_of(c.at) - float).abs() < WELD)
                .collect();
            points.sort_by(|a, b| line.reach_of(a.at).total_cmp(&line.reach_of(b.at)));
            let first = **points.first()?;
            let last = points.last().filter(|p| p.at.distance(first.at) > 1.0);
            sides.push(Some(Side {
                points: (first, last.map(|&&last| last)),
                float: if float < WELD { 0.0 } else { float },
                out,
            }));
        }
        Some(Setting { sides })
    }

    /// Whether nothing stands out at all.
    pub fn is_none(&self) -> bool {
        self.sides.iter().all(Option::is_none)
    }

    /// How many lines are cut.
    pub fn lines(&self) -> usize {
        self.sides.iter().flatten().count()
    }

    /// Sews the rows together and trims the whole.
    ///
    /// # Errors
    /// Rows that do not go together.
    pub fn write(
        &self,
        bench: &mut Bench<'_>,
        unit: &Polygon,
        rows: &[PartAtPlace],
        seams: &[Line],
        ways: &[Press],
    ) -> Result<Vec<Give>, NoCommonSide> {
        let sewn = sew_together::join(bench, rows, seams, ways, &[])?;
        let raw: Vec<Vec<(EdgeRef, f64)>> = (0..unit.len()).map(|side| edges_on(unit, side, &sewn)).collect();
        if raw.iter().any(Vec::is_empty) {
            return Err(NoCommonSide);
        }
        let seam_between = |point: &AtPoint| {
            LineRef::Seam(SeamRef {
                of: sewn.opened[point.seam],
                seam: 0,
            })
        };
        let place = |point: &AtPoint| {
            let inner = SeamRef {
                of: sewn.slots[point.row],
                seam: point.inner as u32,
            };
            PointRef::Crossing(seam_between(point), LineRef::Seam(inner))
        };
        let standing_out = |k: usize, side: &Side| -> Vec<EdgeRef> {
            let told = raw[k].iter().filter(|(_, out)| is_near(*out, side.out.0));
            told.map(|(edge, _)| *edge).collect()
        };
        let mut lines = Vec::new();
        for (k, side) in self.sides.iter().enumerate() {
            let Some(side) = side else { continue };
            let off = standing_out(k, side);
            let &like = off.first().ok_or(NoCommonSide)?;
            let line = match &side.points {
                (first, Some(last)) => Ruler::TwoMarks {
                    from: place(first),
                    to: place(last),
                },
                (only, None) => Ruler::Angle {
                    line: seam_between(only),
                    angle: RulerAngle::FortyFive,
                    through: place(only),
                    like,
                },
            };
            let name = bench.mark("through the points");
            bench.step(Step::Mark {
                on: sewn.work,
                name: name.clone(),
                line,
            });
            lines.push((k, side, off, LineRef::Mark(name)));
        }
        let into = bench.slot();
        // What each side is once it is cut.
        let mut sides: Vec<Vec<EdgeRef>> = raw.iter().map(|on| on.iter().map(|(e, _)| *e).collect()).collect();
        let mut trims = Vec::new();
        for (number, (k, side, off, line)) in (0..).zip(lines) {
            let before = sides[(k + 3) % 4].last().copied().ok_or(NoCommonSide)?;
            let &after = off.first().ok_or(NoCommonSide)?;
            let seam = Why::given("seam", bench.settings.seam_inches());
            let at = if side.float > 0.0 {
                Why::Sum(vec![Why::given("float beyond the points", side.float), seam])
                    .to_mark(bench.settings.ruling.mark(), Way::Nearest)
            } else {
                seam
            };
            trims.push(TrimLine {
                ruler: Ruler::Beside {
                    line,
                    at: bench.whys.size(at),
                    toward: corner(before, after),
                },
                off: EdgeRun(off),
                shave: bench.whys.size(side.out.1.clone()),
            });
            sides[k] = vec![edge(into, number)];
        }
        bench.step(Step::Trim {
            of: sewn.work,
            lines: trims,
            into,
        });
        let sides: Vec<EdgeRun> = sides.into_iter().map(EdgeRun).collect();
        measure_unit(bench, unit, into, &sides);
        Ok(vec![Give {
            slot: into,
            sides,
            seams: Vec::new(),
        }])
    }
}

/// So far from what is printed what comes off may be, three quarters of what the table allows.
const NEARLY: f64 = 3.0 / 256.0;

/// Whether an edge that stands out by `out` can be told what comes off of it by a figure.
fn is_near(out: f64, printed: f64) -> bool {
    out > 0.0 && (out - printed).abs() <= NEARLY + 1.0e-9
}

/// What comes off along a side: the one figure that holds for most of what stands out there, in the middle between its least and its
/// largest. Side and corner triangles come so near to alike that it often holds for both; the ends of strips stand out otherwise.
fn what_comes_off(outs: &Outs) -> Option<(f64, Why)> {
    let mut out: Vec<&(f64, Why)> = outs.iter().filter(|(out, _)| *out > 0.0).collect();
    out.sort_by(|a, b| a.0.total_cmp(&b.0));
    let from = |least: f64| out.iter().filter(move |o| o.0 >= least && o.0 - least <= 2.0 * NEARLY);
    let mut most: Option<&(f64, Why)> = None;
    for least in &out {
        if most.is_none_or(|m| from(least.0).count() > from(m.0).count()) {
            most = Some(least);
        }
    }
    let least = most?;
    let largest = from(least.0).next_back()?;
    if largest.0 - least.0 < 1.0e-4 {
        return Some(least.clone());
    }
    let both = Why::Sum(vec![least.1.clone(), largest.1.clone()]);
    Some((least.0.midpoint(largest.0), both.times(1, 1, 2).named("in the middle")))
}

/// The edges along a side of the outline in order, each with how far it stands out.
fn edges_on(unit: &Polygon, side: usize, sewn: &sew_together::Joined) -> Vec<(EdgeRef, f64)> {
    let Some(line) = unit.edge(side) else { return Vec::new() };
    let mut on: Vec<(f64, EdgeRef, f64)> = Vec::new();
    for (row, &slot) in sewn.parts.iter().zip(&sewn.slots) {
        for i in 0..row.outline.len() {
            let (a, b) = (row.outline.corner(i), row.outline.corner(i + 1));
            let level = line.offset_of(a).abs() < 2.0 * WELD && line.offset_of(b).abs() < 2.0 * WELD;
            if level && line.reach_of(b) > line.reach_of(a) {
                on.push((line.reach_of(a), row.edge(slot, i), row.over.out(i)));
            }
        }
    }
    on.sort_by(|a, b| a.0.total_cmp(&b.0));
    on.into_iter().map(|(_, edge, out)| (edge, out)).collect()
}

/// Measures the short side of a corner triangle before it is sewn on: no trim tells how much of it comes off.
pub fn measure_corner(bench: &mut Bench<'_>, part: &PartAtPlace, slot: recipe::Slot) {
    let recipe::Take::Piece(piece) = &part.handle.take else {
        return;
    };
    let Some(DemandShape::Half { width, .. }) = bench.pieces.shape(piece) else {
        return;
    };
    let is = *width;
    let side = |number: u32| run(slot, number).0[0];
    let ends = [corner(side(0), side(1)), corner(side(1), side(2))].map(PointRef::Corner);
    let [from, to] = ends;
    bench.step(Step::Check {
        of: slot,
        what: recipe::Measured::Between(from, to),
        is,
    });
}
