//! Half-square triangles two at a time: two squares, one diagonal, a seam on either side of it, cut apart, trimmed.
//!
//! Squares of finished + 7/8 (exactly n + 2s + s√2 = n + 0.853553 at s = 1/4, up to the mark) open 0.0214 in too large:
//! the unit needs its trim, which registers on the seam's crossing with the raw edge.

use super::{Method, OwnSeam, Proposal, Toward, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use crate::whys::with_seams;
use measure::{Way, Why};
use recipe::{
    DemandShape, EdgeRef, EdgeRun, Give, Keep, Lay, LineRef, Measured, Path, PointRef, Press, Ruler, RulerAngle, Slot,
    Step, Take, TrimLine, Turn,
};
use shape::{Polygon, WELD};
use terms::FabricId;

/// A square of two triangles, its unfinished size on a mark.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    HalfSquarePair::recognise(unit, settings).map(|(method, handling)| Proposal::new(method, handling))
}

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct HalfSquarePair {
    finished: f64,
    /// Corner of the unit where the lower cloth has its right angle.
    corner: usize,
    lower: FabricId,
    upper: FabricId,
}

/// Handling of one unit: half of two squares, a line, two seams and a cut, and its own pressing and four trims.
const HANDLING: u32 = 11;

impl HalfSquarePair {
    /// A square of two triangles, unfinished size on a mark.
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<(Self, u32)> {
        let [a, b] = &unit.patches[..] else { return None };
        let side = rectangle_side(&unit.outline)?;
        let (w, h) = (
            unit.outline.corner(0).distance(unit.outline.corner(1)),
            unit.outline.corner(1).distance(unit.outline.corner(2)),
        );
        if (w - h).abs() > 1.0e-6 || a.outline.len() != 3 || b.outline.len() != 3 || !unit.grain_along(side) {
            return None;
        }
        settings.ruling.on_mark(w + 2.0 * settings.seam_inches())?;
        let right_angle = |p: &Polygon| {
            (0..4).find(|&i| {
                let c = unit.outline.corner(i);
                // The triangle has this corner and both its neighbours, so its right angle is here.
                [i + 3, i, i + 1]
                    .iter()
                    .all(|&k| p.corners().iter().any(|q| q.distance(unit.outline.corner(k)) < WELD))
                    && p.corners().iter().any(|q| q.distance(c) < WELD)
            })
        };
        let corner = right_angle(&a.outline)?;
        if right_angle(&b.outline)? != (corner + 2) % 4 {
            return None;
        }
        let pair = HalfSquarePair {
            finished: w,
            corner,
            lower: a.fabric.clone(),
            upper: b.fabric.clone(),
        };
        Some((pair, HANDLING))
    }
}

impl Method for HalfSquarePair {
    fn name(&self) -> &'static str {
        "half-square pairs"
    }

    fn label(&self) -> &'static str {
        "Half-square unit"
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        let toward = Toward::Darker {
            lower: self.lower.clone(),
            upper: self.upper.clone(),
        };
        vec![OwnSeam {
            from: outline.corner(self.corner + 1),
            to: outline.corner(self.corner + 3),
            toward,
        }]
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let exact = Why::Sum(vec![
            Why::given("finished side", self.finished),
            Why::given("seam", s).times(2, 1, 1).named("two seams"),
            Why::given("seam", s).times(1, 2, 1).named("diagonal"),
        ]);
        let cut = bench.whys.size(exact.to_mark(settings.ruling.mark(), Way::Up));
        let unfinished = bench.whys.with_seams("finished side", self.finished, settings.seam);
        let by = bench.whys.given("seam", s);
        let nothing = bench.whys.given("along the line", 0.0);
        let shave = bench.whys.size(Why::Less(
            Box::new(Why::Less(
                Box::new(Why::given("square as cut", cut.inches())),
                Box::new(Why::given("seam", s).times(1, 2, 1).named("diagonal")),
            )),
            Box::new(with_seams("finished side", self.finished, settings.seam).named("unfinished side")),
        ));
        let turns = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        let square = DemandShape::Rectangle {
            width: cut,
            height: cut,
        };
        let lower = bench.pieces.of(square.clone(), &self.lower, turns.clone(), None);
        let upper = bench.pieces.of(square, &self.upper, turns, None);
        let (a, b) = (bench.take(Take::Piece(lower)), bench.take(Take::Piece(upper)));
        let line = bench.mark("diagonal");
        bench.step(Step::Mark {
            on: b,
            name: line.clone(),
            line: Ruler::TwoMarks {
                from: PointRef::Corner(corner(edge(b, 3), edge(b, 0))),
                to: PointRef::Corner(corner(edge(b, 1), edge(b, 2))),
            },
        });
        let stack = bench.slot();
        bench.step(Step::Lay {
            a,
            b,
            how: Lay::Corner {
                a: corner(edge(a, 3), edge(a, 0)),
                b: corner(edge(b, 3), edge(b, 0)),
            },
            into: stack,
        });
        bench.step(Step::Sew {
            stack,
            path: Path::BothSides { mark: line.clone(), by },
            join: false,
        });
        let (first, second) = (bench.slot(), bench.slot());
        let low_right = corner(edge(a, 0), edge(a, 1));
        bench.step(Step::CutApart {
            stack,
            line: Ruler::Beside {
                line: LineRef::Mark(line),
                at: nothing,
                toward: low_right,
            },
            keep: vec![
                Keep {
                    corner: low_right,
                    into: first,
                },
                Keep {
                    corner: corner(edge(a, 2), edge(a, 3)),
                    into: second,
                },
            ],
            offcut: Vec::new(),
        });
        // The second unit is the first turned end for end, edge for edge.
        let halves: [(Slot, [u32; 2], [u32; 2]); 2] = [(first, [0, 1], [2, 3]), (second, [2, 3], [0, 1])];
        halves
            .into_iter()
            .map(|(stack, la, lb)| {
                let work = bench.slot();
                bench.step(Step::Open {
                    stack,
                    press: bench.way(0, Press::TowardLower),
                    into: work,
                });
                let trimmed = bench.slot();
                let round = [edge(a, la[0]), edge(a, la[1]), edge(b, lb[0]), edge(b, lb[1])];
                let off = |e: usize| EdgeRun(vec![round[e]]);
                let seam_line = LineRef::Seam(seam(work));
                // Both first cuts start where the seam crosses the raw edge; the first gives that edge its new name.
                let at_seam = |start: EdgeRef, like: usize| Ruler::Angle {
                    line: seam_line.clone(),
                    angle: RulerAngle::FortyFive,
                    through: PointRef::Crossing(seam_line.clone(), LineRef::Edge(start)),
                    like: round[like],
                };
                let beside = |line: u32, toward| Ruler::Beside {
                    line: LineRef::Edge(edge(trimmed, line)),
                    at: unfinished,
                    toward,
                };
                bench.step(Step::Trim {
                    of: work,
                    lines: vec![
                        TrimLine {
                            ruler: at_seam(round[0], 0),
                            off: off(0),
                            shave: nothing,
                        },
                        TrimLine {
                            ruler: at_seam(edge(trimmed, 0), 3),
                            off: off(3),
                            shave: nothing,
                        },
                        TrimLine {
                            ruler: beside(1, corner(round[1], round[2])),
                            off: off(1),
                            shave,
                        },
                        TrimLine {
                            ruler: beside(0, corner(edge(trimmed, 2), round[2])),
                            off: off(2),
                            shave,
                        },
                    ],
                    into: trimmed,
                });
                for (p, q) in [(1, 2), (0, 3)] {
                    bench.step(Step::Check {
                        of: trimmed,
                        what: Measured::Across(run(trimmed, p), run(trimmed, q)),
                        is: unfinished,
                    });
                }
                // Going round: line 0 is the side before the lower cloth's right angle, then 2, 3, 1.
                let round = [0, 2, 3, 1];
                let sides = (0..4)
                    .map(|i| run(trimmed, round[(i + 4 + 1 - self.corner) % 4]))
                    .collect();
                Give {
                    slot: trimmed,
                    sides,
                    seams: vec![seam(work)],
                }
            })
            .collect()
    }
}
