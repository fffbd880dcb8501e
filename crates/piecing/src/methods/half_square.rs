//! What the ways to make half-square units have in common: which units they are, and the trim to size, which registers on
//! the seam's crossing with the raw edge.

use super::{OwnSeam, Toward, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use measure::{Way, Why};
use recipe::{
    DemandShape, EdgeRef, EdgeRun, Give, Lay, LineRef, Measured, PointRef, Ruler, RulerAngle, Size, Slot, Step, Take,
    TrimLine, Turn,
};
use shape::{Polygon, Vector, WELD};
use terms::FabricId;

/// Larger squares than this are not cut on the diagonal: a ruler of 24 in does not reach from corner to corner of 17 in
/// (common practice).
pub(super) const LARGEST: f64 = 16.0;

/// A square of two triangles, its unfinished size on a mark.
#[derive(Clone, Debug)]
pub(super) struct HalfSquare {
    /// Finished side.
    pub(super) finished: f64,
    /// Corner of the unit where the lower cloth has its right angle.
    pub(super) corner: usize,
    /// The cloth of one triangle.
    pub(super) lower: FabricId,
    /// The cloth of the other.
    pub(super) upper: FabricId,
    /// The patches want their grain along the unit's sides; else along its diagonals.
    pub(super) straight: bool,
}

impl HalfSquare {
    /// A square of two triangles, unfinished size on a mark.
    pub(super) fn of(unit: &UnitView, settings: &Settings) -> Option<Self> {
        let [a, b] = &unit.patches[..] else { return None };
        let side = rectangle_side(&unit.outline)?;
        let (w, h) = (
            unit.outline.corner(0).distance(unit.outline.corner(1)),
            unit.outline.corner(1).distance(unit.outline.corner(2)),
        );
        if (w - h).abs() > 1.0e-6 || a.outline.len() != 3 || b.outline.len() != 3 {
            return None;
        }
        let diagonal = Vector::new(side.x - side.y, side.x + side.y).unit()?;
        let straight = unit.grain_along(side);
        if !straight && !unit.grain_along(diagonal) {
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
        Some(HalfSquare {
            finished: w,
            corner,
            lower: a.fabric.clone(),
            upper: b.fabric.clone(),
            straight,
        })
    }

    /// Its one seam: by itself it goes toward the darker cloth.
    pub(super) fn seam(&self, outline: &Polygon) -> OwnSeam {
        OwnSeam {
            from: outline.corner(self.corner + 1),
            to: outline.corner(self.corner + 3),
            toward: Toward::Darker {
                lower: self.lower.clone(),
                upper: self.upper.clone(),
            },
            fixed: false,
        }
    }

    /// Side of the squares that two units come from: exactly n + 2s + √2·s, up to the mark.
    pub(super) fn square_of_two(&self, settings: &Settings) -> Why {
        let s = settings.seam_inches();
        Why::Sum(vec![
            Why::given("finished side", self.finished),
            Why::given("seam", s).times(2, 1, 1).named("two seams"),
            Why::given("seam", s).times(1, 2, 1).named("diagonal"),
        ])
        .to_mark(settings.ruling.mark(), Way::Up)
    }

    /// Whether a square of this size can be cut from both cloths, and cut on its diagonal.
    pub(super) fn fits(&self, square: f64, settings: &Settings) -> bool {
        let usable = |fabric: &FabricId| settings.cloth(fabric).is_some_and(|cloth| square <= cloth.largest());
        square <= LARGEST && usable(&self.lower) && usable(&self.upper)
    }

    /// Two squares of a size, one of each cloth: the lower and the upper.
    pub(super) fn squares(&self, bench: &mut Bench<'_>, side: Size) -> (Slot, Slot) {
        let turns = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        let square = DemandShape::Rectangle {
            width: side,
            height: side,
        };
        let lower = bench.pieces.of(square.clone(), &self.lower, turns.clone(), None);
        let upper = bench.pieces.of(square, &self.upper, turns, None);
        (bench.take(Take::Piece(lower)), bench.take(Take::Piece(upper)))
    }

    /// The unit opened in `work`, trimmed to size: `round` are its raw edges going round, the lower cloth's two first, each
    /// `shave` too long.
    pub(super) fn trimmed(
        &self,
        bench: &mut Bench<'_>,
        work: Slot,
        round: [EdgeRef; 4],
        unfinished: Size,
        shave: Size,
    ) -> Give {
        let nothing = bench.whys.given("along the line", 0.0);
        let trimmed = bench.slot();
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
    }
}

/// Square on square, edges even, both diagonals drawn on the upper one: the names of the one that comes to lie from the lower
/// square's lower right to its upper left, and of the other; and the stack.
pub(super) fn laid_with_diagonals(bench: &mut Bench<'_>, a: Slot, b: Slot) -> ([recipe::MarkName; 2], Slot) {
    let corners = [
        [corner(edge(b, 0), edge(b, 1)), corner(edge(b, 2), edge(b, 3))],
        [corner(edge(b, 3), edge(b, 0)), corner(edge(b, 1), edge(b, 2))],
    ];
    let names = corners.map(|[from, to]| {
        let name = bench.mark("diagonal");
        bench.step(Step::Mark {
            on: b,
            name: name.clone(),
            line: Ruler::TwoMarks {
                from: PointRef::Corner(from),
                to: PointRef::Corner(to),
            },
        });
        name
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
    (names, stack)
}

/// Laid so, the upper square's edge that lies on an edge of the lower one.
pub(super) fn fellow(upper: Slot, lower_edge: u32) -> EdgeRef {
    edge(upper, (7 - lower_edge) % 4)
}

/// Cuts a stack in two along a line, both sides kept.
pub(super) fn cut_in_two(
    bench: &mut Bench<'_>,
    stack: Slot,
    line: Ruler,
    corners: [recipe::CornerRef; 2],
) -> [Slot; 2] {
    let into = [bench.slot(), bench.slot()];
    bench.step(Step::CutApart {
        stack,
        line,
        keep: corners
            .into_iter()
            .zip(into)
            .map(|(corner, into)| recipe::Keep { corner, into })
            .collect(),
        offcut: Vec::new(),
    });
    into
}
