//! Sew-and-flip: a square on a corner of a rectangle, sewn on its diagonal, trimmed a seam beyond it, pressed over.
//!
//! The outer size never changes. Two corners that meet in the middle of a long side make a goose.

use super::{Method, OwnSeam, Proposal, Toward, UnitView};
use crate::bench::{Bench, corner, edge, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use measure::Why;
use recipe::{
    DemandShape, EdgeRef, EdgeRun, Give, Keep, Lay, LineRef, Measured, Path, PointRef, Press, Ruler, Slot, Step, Take,
    Turn,
};
use shape::{Polygon, WELD};
use terms::FabricId;

/// A rectangle with corners cut off at 45°.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    Flip::recognise(unit, settings).map(|(method, handling)| Proposal::new(method, handling))
}

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct Flip {
    width: f64,
    height: f64,
    base: FabricId,
    /// Corner of the unit, finished leg, cloth; in the order they are sewn.
    corners: Vec<FlipCorner>,
    /// From this finished leg on what is cut off is kept, inches.
    keep: Option<f64>,
}

/// One flipped corner.
#[derive(Clone, Debug)]
struct FlipCorner {
    at: usize,
    leg: f64,
    fabric: FabricId,
}

impl Flip {
    /// A rectangle whose corners are cut off at 45° by one to four patches, the rest being one patch.
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<(Self, u32)> {
        let side = rectangle_side(&unit.outline)?;
        if !(2..=5).contains(&unit.patches.len()) || !unit.grain_along(side) {
            return None;
        }
        let outline = &unit.outline;
        let (width, height) = (
            outline.corner(0).distance(outline.corner(1)),
            outline.corner(1).distance(outline.corner(2)),
        );
        let mut corners = Vec::new();
        let mut base = None;
        for patch in &unit.patches {
            match corner_leg(&patch.outline, outline) {
                Some((at, leg)) => corners.push(FlipCorner {
                    at,
                    leg,
                    fabric: patch.fabric.clone(),
                }),
                None if base.is_none() => base = Some(patch),
                None => return None,
            }
        }
        let base = base?;
        corners.sort_by_key(|c| c.at);
        let seam = settings.seam_inches();
        let marks = |x: f64| settings.ruling.on_mark(x + 2.0 * seam).is_some();
        if !marks(width) || !marks(height) || !corners.iter().all(|c| marks(c.leg)) {
            return None;
        }
        for side in 0..4 {
            let length = if side % 2 == 0 { width } else { height };
            let legs: Vec<f64> = corners
                .iter()
                .filter(|c| c.at == side || c.at == (side + 1) % 4)
                .map(|c| c.leg)
                .collect();
            let left = length - legs.iter().sum::<f64>();
            // Either the corners take the whole side, or the base still reaches the raw edge between the folds.
            let meets = left.abs() < WELD && !legs.is_empty();
            if !meets && left < 2.0 * seam {
                return None;
            }
        }
        let handling = 2 + 9 * corners.len() as u32;
        Some((
            Flip {
                width,
                height,
                base: base.fabric.clone(),
                corners,
                keep: settings.keep_corners,
            },
            handling,
        ))
    }

    /// Two corners that meet: a goose.
    pub fn is_goose(&self) -> bool {
        let [a, b] = &self.corners[..] else { return false };
        let (long, short) = (self.width.max(self.height), self.width.min(self.height));
        (a.leg - short).abs() < WELD && (b.leg - short).abs() < WELD && (long - 2.0 * short).abs() < WELD
    }

    /// Whether what is cut off a corner is sewn first: a spare half-square unit.
    fn kept(&self, c: &FlipCorner, settings: &Settings) -> bool {
        let raw = self.spare_side(c.leg, settings.seam_inches()).value();
        // What finishes to less than two seams is a scrap.
        self.keep.is_some_and(|least| c.leg >= least - WELD) && raw >= 4.0 * settings.seam_inches()
    }

    /// Raw side of the spare unit: the second seam lies two seams beyond the diagonal, and takes √2 seams off each leg of what
    /// the cut leaves, which is √2 seams shorter than the square: n + 2s − 2√2·s. (Derived.)
    fn spare_side(&self, leg: f64, s: f64) -> Why {
        let square = Why::Sum(vec![
            Why::given("finished leg of the corner", leg),
            Why::given("seam", s).times(2, 1, 1).named("two seams"),
        ]);
        Why::Less(
            Box::new(square),
            Box::new(Why::given("seam", s).times(2, 2, 1).named("twice the diagonal")),
        )
    }

    /// Opens what was cut off a corner and lays it aside.
    fn set_aside(&self, bench: &mut Bench<'_>, stack: Slot, (below, above): (EdgeRef, EdgeRef), leg: f64) {
        let side = self.spare_side(leg, bench.settings.seam_inches());
        let is = bench.whys.size(side);
        let work = bench.slot();
        bench.step(Step::Open {
            stack,
            press: Press::TowardUpper,
            into: work,
        });
        bench.step(Step::SetAside {
            of: work,
            label: "half-square unit".into(),
            what: Measured::Across(EdgeRun(vec![below]), EdgeRun(vec![above])),
            is,
        });
    }

    /// Whether the corners take a side wholly, so that the base only touches it in a point.
    fn covered(&self, side: usize) -> bool {
        let length = if side.is_multiple_of(2) {
            self.width
        } else {
            self.height
        };
        let legs: f64 = self
            .corners
            .iter()
            .filter(|c| c.at == side || c.at == (side + 1) % 4)
            .map(|c| c.leg)
            .sum();
        (length - legs).abs() < WELD
    }
}

impl Method for Flip {
    fn name(&self) -> &'static str {
        if self.is_goose() {
            "goose by sew-and-flip"
        } else {
            "sew-and-flip corners"
        }
    }

    fn label(&self) -> &'static str {
        if self.is_goose() {
            "Goose"
        } else {
            "Unit with flipped corners"
        }
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        let one = |c: &FlipCorner| {
            let tip = outline.corner(c.at);
            let leg = |to: shape::Point| tip.toward(to, c.leg / tip.distance(to));
            OwnSeam {
                from: leg(outline.corner(c.at + 3)),
                to: leg(outline.corner(c.at + 1)),
                toward: Toward::Upper,
                fixed: false,
            }
        };
        self.corners.iter().map(one).collect()
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let all = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        let (what_w, what_h) = if (self.width - self.height).abs() < 1.0e-6 {
            ("finished side", "finished side")
        } else {
            ("finished width", "finished height")
        };
        let width = bench.whys.with_seams(what_w, self.width, settings.seam);
        let height = bench.whys.with_seams(what_h, self.height, settings.seam);
        let by = bench.whys.given("seam", settings.seam_inches());
        let (base, base_edge) = bench.pieces.rectangle(width, height, &self.base);
        let a = bench.take(Take::Piece(base));
        let mut work = a;
        let mut seams = Vec::new();
        // For each side of the unit: the edges that lie on it, in order.
        let mut sides: Vec<Vec<recipe::EdgeRef>> = (0..4)
            .map(|i| {
                if self.covered(i) {
                    Vec::new()
                } else {
                    vec![edge(a, base_edge[i])]
                }
            })
            .collect();
        for (number, c) in self.corners.iter().enumerate() {
            let square = bench
                .whys
                .with_seams("finished leg of the corner", c.leg, settings.seam);
            let shape = DemandShape::Rectangle {
                width: square,
                height: square,
            };
            let piece = bench.pieces.of(shape, &c.fabric, all.clone(), None);
            let b = bench.take(Take::Piece(piece));
            let line = bench.mark("diagonal");
            bench.step(Step::Mark {
                on: b,
                name: line.clone(),
                line: Ruler::TwoMarks {
                    from: PointRef::Corner(corner(edge(b, 0), edge(b, 1))),
                    to: PointRef::Corner(corner(edge(b, 2), edge(b, 3))),
                },
            });
            let (before, after) = ((c.at + 3) % 4, c.at);
            let here = corner(edge(a, base_edge[before]), edge(a, base_edge[after]));
            let stack = bench.slot();
            bench.step(Step::Lay {
                a: work,
                b,
                how: Lay::Corner {
                    a: here,
                    b: corner(edge(b, 3), edge(b, 0)),
                },
                into: stack,
            });
            let spare = self.kept(c, settings).then(|| {
                let name = bench.mark("second line");
                let two = bench.whys.size(
                    Why::given("seam", settings.seam_inches())
                        .times(2, 1, 1)
                        .named("two seams"),
                );
                bench.step(Step::Mark {
                    on: stack,
                    name: name.clone(),
                    line: Ruler::Beside {
                        line: LineRef::Mark(line.clone()),
                        at: two,
                        toward: here,
                    },
                });
                name
            });
            for mark in std::iter::once(&line).chain(&spare) {
                bench.step(Step::Sew {
                    stack,
                    path: Path::OnMark(mark.clone()),
                    join: false,
                });
            }
            let kept = bench.slot();
            let aside = spare.map(|_| bench.slot());
            let mut keep = vec![Keep {
                corner: corner(edge(b, 1), edge(b, 2)),
                into: kept,
            }];
            keep.extend(aside.map(|into| Keep { corner: here, into }));
            bench.step(Step::CutApart {
                stack,
                line: Ruler::Beside {
                    line: LineRef::Mark(line),
                    at: by,
                    toward: here,
                },
                keep,
                offcut: if aside.is_none() { vec![here] } else { Vec::new() },
            });
            work = bench.slot();
            bench.step(Step::Open {
                stack: kept,
                press: bench.way(number, Press::TowardUpper),
                into: work,
            });
            if let Some(stack) = aside {
                self.set_aside(bench, stack, (edge(a, base_edge[before]), edge(b, 3)), c.leg);
            }
            seams.push(seam(work));
            // Folded over, the square's edge 1 lies on the side before the corner, its edge 2 on the side after.
            sides[before].push(edge(b, 1));
            sides[after].insert(0, edge(b, 2));
            bench.step(Step::Check {
                of: work,
                what: Measured::Between(
                    PointRef::Corner(corner(edge(b, 1), edge(b, 2))),
                    PointRef::Crossing(LineRef::Seam(seam(work)), LineRef::Edge(edge(b, 2))),
                ),
                is: square,
            });
        }
        let runs: Vec<EdgeRun> = sides.into_iter().map(EdgeRun).collect();
        for (i, is) in [(0, height), (1, width)] {
            bench.step(Step::Check {
                of: work,
                what: Measured::Across(runs[i].clone(), runs[i + 2].clone()),
                is,
            });
        }
        vec![Give {
            slot: work,
            sides: runs,
            seams,
        }]
    }
}

/// The unit's corner a right isosceles patch sits on, and its leg.
pub(super) fn corner_leg(patch: &Polygon, unit: &Polygon) -> Option<(usize, f64)> {
    if patch.len() != 3 {
        return None;
    }
    (0..3).find_map(|i| {
        let tip = patch.corner(i);
        let at = (0..4).find(|&k| unit.corner(k).distance(tip) < WELD)?;
        let (a, b) = (patch.corner(i + 1) - tip, patch.corner(i + 2) - tip);
        let along = unit.edge(at)?.along;
        let up = -unit.edge(at + 3)?.along;
        let legs = (a.length() - b.length()).abs() < 1.0e-6;
        let on_sides = along.cross(a).abs() < 1.0e-6 && up.cross(b).abs() < 1.0e-6;
        (legs && on_sides).then_some((at, a.length()))
    })
}
