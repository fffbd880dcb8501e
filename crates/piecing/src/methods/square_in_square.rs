//! A square standing on its corners in a square: four triangles, halves of squares cut large, sewn to the middle one's
//! sides, opposite ones first; then each side trimmed a seam beyond where two seams cross.
//!
//! The middle is cut true, so that its corners come out in the middles of the sides. Squares for the triangles are half the
//! finished side + 7/8 (exactly n/2 + 2s + √2·s, up to the mark) and a mark more, which the trim takes off.
//!
//! Where the drawing wants the triangles' long edges on the straight grain they are setting triangles: quarters of a square of the
//! long edge + 1 1/4 (exactly 2s + 2√2·s, up to the mark; the whole up to the mark again). What that is too large the trim takes
//! off.

use super::flip::corner_leg;
use super::{Method, PatchView, Proposal, UnitView};
use super::{OwnSeam, Toward};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::{CutWay, PatchCut, cut_patch, rectangle_side};
use crate::settings::Settings;
use crate::whys::{Whys, with_seams};
use measure::{Way, Why};
use recipe::{
    DemandShape, EdgeRun, End, Give, Lay, LineRef, Measured, PointRef, Press, Ruler, RulerAngle, Slot, Step, Take,
    TrimLine, Turn,
};
use shape::{Polygon, Vector, WELD};
use terms::FabricId;

/// A square whose corners are cut off from middle to middle of its sides.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    Some(Proposal::new(SquareInSquare::recognise(unit, settings)?, HANDLING))
}

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct SquareInSquare {
    finished: f64,
    middle: PatchView,
    /// The side of the middle patch that faces each corner of the unit.
    facing: [usize; 4],
    /// The cloth at each corner of the unit.
    cloths: [FabricId; 4],
    /// The triangles' long edges are on the straight grain: quarters of squares, not halves.
    quarters: bool,
}

/// The corners in the order in which their triangles are sewn on.
const SEWN: [usize; 4] = [0, 2, 1, 3];

/// Handling of one unit: the middle and four triangles to cut, four seams, a line and a trim on each side.
const HANDLING: u32 = 44;

impl SquareInSquare {
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<Self> {
        let side = rectangle_side(&unit.outline)?;
        let outline = &unit.outline;
        let finished = outline.corner(0).distance(outline.corner(1));
        let high = outline.corner(1).distance(outline.corner(2));
        if (finished - high).abs() > 1.0e-6 || unit.patches.len() != 5 {
            return None;
        }
        let along =
            |p: &PatchView, line: Vector| p.grain.dot(line).abs() < 1.0e-6 || p.grain.cross(line).abs() < 1.0e-6;
        let diagonal = Vector::new(side.x - side.y, side.x + side.y).unit()?;
        let triangles = || unit.patches.iter().filter(|p| p.outline.len() == 3);
        let quarters = triangles().all(|p| along(p, diagonal));
        let grain = if quarters { diagonal } else { side };
        let at = |corner: usize| {
            unit.patches.iter().find(|p| {
                along(p, grain)
                    && corner_leg(&p.outline, outline)
                        .is_some_and(|(k, leg)| k == corner && (leg - finished / 2.0).abs() < WELD)
            })
        };
        let cloths = [at(0)?, at(1)?, at(2)?, at(3)?].map(|p| p.fabric.clone());
        let middle = unit.patches.iter().find(|p| p.outline.len() == 4)?.clone();
        let half_way = |side: usize| outline.corner(side).toward(outline.corner(side + 1), 0.5);
        let facing = |k: usize| {
            (0..4).find(|&i| {
                let (from, to) = (middle.outline.corner(i), middle.outline.corner(i + 1));
                from.distance(half_way(k + 3)) < WELD && to.distance(half_way(k)) < WELD
            })
        };
        let facing = [facing(0)?, facing(1)?, facing(2)?, facing(3)?];
        let unit = SquareInSquare {
            finished,
            middle,
            facing,
            cloths,
            quarters,
        };
        let cut = unit.middle_cut(settings, &mut Whys::default())?;
        // Between the marks the unit's own size is told about; its middle must then be one that a maker can measure.
        let on_mark = settings
            .ruling
            .on_mark(finished + 2.0 * settings.seam_inches())
            .is_some();
        let sized = on_mark || cut.way == CutWay::Plain;
        let square = unit.square(settings).value();
        let fits = |fabric: &FabricId| settings.cloth(fabric).is_some_and(|cloth| square <= cloth.largest());
        // Off the grain it is left to the patch by patch way, which tells the maker so.
        (sized && unit.cloths.iter().all(fits) && cut.way != CutWay::Template && !cut.off_grain).then_some(unit)
    }

    fn middle_cut(&self, settings: &Settings, whys: &mut Whys) -> Option<PatchCut> {
        cut_patch(&self.middle.outline, self.middle.grain, None, false, settings, whys)
    }
}

impl SquareInSquare {
    /// The square of which the triangles are halves or quarters, exactly.
    fn exact(&self, settings: &Settings) -> Why {
        let s = settings.seam_inches();
        let seams = Why::given("seam", s).times(2, 1, 1).named("two seams");
        if self.quarters {
            return Why::Sum(vec![
                self.long_edge(),
                seams,
                Why::given("seam", s).times(2, 2, 1).named("two diagonals"),
            ]);
        }
        Why::Sum(vec![
            Why::given("half of the finished side", self.finished / 2.0),
            seams,
            Why::given("seam", s).times(1, 2, 1).named("diagonal"),
        ])
    }

    fn long_edge(&self) -> Why {
        Why::given("half of the finished side", self.finished / 2.0)
            .times(1, 2, 1)
            .named("long edge")
    }

    /// That square as cut.
    fn square(&self, settings: &Settings) -> Why {
        let (s, mark) = (settings.seam_inches(), settings.ruling.mark());
        if self.quarters {
            let allowance = Why::Sum(vec![
                Why::given("seam", s).times(2, 1, 1).named("two seams"),
                Why::given("seam", s).times(2, 2, 1).named("two diagonals"),
            ]);
            return Why::Sum(vec![self.long_edge(), allowance.to_mark(mark, Way::Up)]).to_mark(mark, Way::Up);
        }
        if settings.ruling.on_mark(self.finished + 2.0 * s).is_none() {
            // The corners of a square set on point: by the trade's n/√2 + 7/8, up to the mark.
            let allowance = Why::Sum(vec![
                Why::given("seam", s).times(2, 1, 1).named("two seams"),
                Why::given("seam", s).times(1, 2, 1).named("diagonal"),
            ]);
            let half = Why::given("half of the finished side", self.finished / 2.0);
            return Why::Sum(vec![half, allowance.to_mark(mark, Way::Up)]).to_mark(mark, Way::Up);
        }
        Why::Sum(vec![
            self.exact(settings).to_mark(mark, Way::Up),
            Why::given("a mark to trim off", mark.to_inches()),
        ])
    }
}

impl Method for SquareInSquare {
    fn name(&self) -> &'static str {
        "square in a square by triangles"
    }

    fn label(&self) -> &'static str {
        "Square in a square"
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        let half_way = |side: usize| outline.corner(side).toward(outline.corner(side + 1), 0.5);
        let one = |k: usize| OwnSeam {
            from: half_way(k + 3),
            to: half_way(k),
            toward: Toward::Upper,
            fixed: false,
        };
        SEWN.into_iter().map(one).collect()
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let all = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        let Some(cut) = self.middle_cut(settings, bench.whys) else {
            return Vec::new();
        };
        let square = bench.whys.size(self.square(settings));
        let over = Why::Less(
            Box::new(Why::given("square as cut", square.inches())),
            Box::new(self.exact(settings)),
        );
        // The triangle lies by its long edge: what it is too large moves each short edge out by half, of a quarter by a share of
        // √2/4.
        let shave = bench.whys.size(if self.quarters {
            over.times(1, 2, 4)
        } else {
            Why::Quotient(
                Box::new(over),
                Box::new(Why::Count {
                    what: "halves".into(),
                    count: 2,
                }),
            )
        });
        let unfinished = bench
            .whys
            .size(with_seams("finished side", self.finished, settings.seam));
        let by = bench.whys.given("seam", s);
        let outline = Some(&self.middle.outline);
        let piece = bench
            .pieces
            .of(cut.shape, &self.middle.fabric, cut.turns.clone(), outline);
        let middle = bench.take(Take::Piece(piece));
        let triangles = [0, 1, 2, 3].map(|k: usize| {
            let shape = match self.quarters {
                true => DemandShape::Quarter { side: square },
                false => DemandShape::Half {
                    width: square,
                    height: square,
                    rising: true,
                },
            };
            let piece = bench.pieces.of(shape, &self.cloths[k], all.clone(), None);
            bench.take(Take::Piece(piece))
        });
        // Going round a triangle: its long edge, the side before the unit's corner, the side after it.
        let [long, before, after] = if self.quarters { [0, 1, 2] } else { [2, 0, 1] };
        let mut work = middle;
        let mut sewn = [middle; 4];
        for (number, k) in SEWN.into_iter().enumerate() {
            let laid = Lay::Edges {
                a: run(middle, cut.edges[self.facing[k]]),
                b: run(triangles[k], long),
                first: End::Centre,
                last: End::Centre,
                meets: Vec::new(),
            };
            let press = bench.way(number, Press::TowardUpper);
            work = bench.sew(work, triangles[k], laid, press, false);
            sewn[k] = work;
        }
        let seam_of = |k: usize| LineRef::Seam(seam(sewn[k % 4]));
        let lines: Vec<LineRef> = (0..4)
            .map(|k| {
                let name = bench.mark("through the point");
                bench.step(Step::Mark {
                    on: work,
                    name: name.clone(),
                    line: Ruler::Angle {
                        line: seam_of(k),
                        angle: RulerAngle::FortyFive,
                        through: PointRef::Crossing(seam_of(k), seam_of(k + 1)),
                        like: edge(triangles[k], after),
                    },
                });
                LineRef::Mark(name)
            })
            .collect();
        let into: Slot = bench.slot();
        let trims = lines.into_iter().enumerate().map(|(k, line)| {
            let side_before = if k == 0 {
                edge(triangles[0], before)
            } else {
                edge(into, k as u32 - 1)
            };
            TrimLine {
                ruler: Ruler::Beside {
                    line,
                    at: by,
                    toward: corner(side_before, edge(triangles[k], after)),
                },
                off: EdgeRun(vec![edge(triangles[k], after), edge(triangles[(k + 1) % 4], before)]),
                shave,
            }
        });
        bench.step(Step::Trim {
            of: work,
            lines: trims.collect(),
            into,
        });
        for (p, q) in [(0, 2), (1, 3)] {
            bench.step(Step::Check {
                of: into,
                what: Measured::Across(run(into, p), run(into, q)),
                is: unfinished,
            });
        }
        vec![Give {
            slot: into,
            sides: (0..4).map(|k| run(into, k)).collect(),
            seams: Vec::new(),
        }]
    }
}
