//! Half-rectangle units two at a time, of either hand: two rectangles dotted alike, a line from dot to dot; the one laid
//! across the other, dot on dot; a seam on either side of the line, cut apart on it, opened, trimmed.
//!
//! The finished diagonal ends a seam inside the unit's raw edges, not in its raw corners, so the line is no diagonal of the
//! rectangle as cut. It is that of the finished unit, drawn in the middle: dots as far in as half of what the rectangle is
//! larger. For the seam beside the line to reach from finished corner to finished corner with a seam all round, the rectangle is
//! larger by 2s (1 + H/D) across and 2s (1 + W/D) up, D being the finished diagonal (at 45° both are the trade's 2s + √2·s); the dots
//! lie half of that in, up to the mark. Lines of one slope on both rectangles give units of one hand, of the other slope the other.
//!
//! No ruler has the seam's angle, so the trim finds the finished corner where the seam crosses a line a seam inside one raw edge, and
//! all other sides from there.

use super::{Method, OwnSeam, Proposal, Toward, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use measure::{Way, Why};
use recipe::{
    EdgeRef, Give, Lay, LineRef, MarkName, Measured, Path, PointRef, Press, Ruler, RulerAngle, Size, Slot, Step, Take,
    TrimLine,
};
use shape::{Polygon, WELD};
use terms::FabricId;

/// A rectangle of two triangles.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    Some(Proposal::new(HalfRectangle::recognise(unit, settings)?, HANDLING))
}

/// A unit made this way.
#[derive(Clone, Debug)]
struct HalfRectangle {
    /// Finished, along the unit's sides 0 and 1.
    size: [f64; 2],
    /// Corner of the unit where the lower cloth has its right angle.
    corner: usize,
    lower: FabricId,
    upper: FabricId,
}

/// Handling of one unit: half of two rectangles, four dots, a line, a laying, two seams and a cut; its own opening, two lines,
/// four trims and two measures.
const HANDLING: u32 = 16;

/// What the sides of a unit are for its trim, by number: the base has the lower cloth's long raw edge, and at its near end the
/// sharp corner.
struct Sides {
    base: usize,
    near: usize,
    far: usize,
    opposite: usize,
}

impl HalfRectangle {
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<Self> {
        let [a, b] = &unit.patches[..] else { return None };
        let outline = &unit.outline;
        let side = rectangle_side(outline)?;
        let size = [0, 1].map(|i| outline.corner(i).distance(outline.corner(i + 1)));
        if (size[0] - size[1]).abs() < 1.0e-6 || a.outline.len() != 3 || b.outline.len() != 3 || !unit.grain_along(side)
        {
            return None;
        }
        let s = settings.seam_inches();
        for length in [s, size[0] + 2.0 * s, size[1] + 2.0 * s] {
            settings.ruling.on_mark(length)?;
        }
        let right_angle = |p: &Polygon| {
            let has = |k: usize| p.corners().iter().any(|q| q.distance(outline.corner(k)) < WELD);
            (0..4).find(|&i| [i + 3, i, i + 1].into_iter().all(has))
        };
        let corner = right_angle(&a.outline)?;
        if right_angle(&b.outline)? != (corner + 2) % 4 {
            return None;
        }
        let unit = HalfRectangle {
            size,
            corner,
            lower: a.fabric.clone(),
            upper: b.fabric.clone(),
        };
        let cut = [0, 1].map(|i| unit.cut(i, settings).value());
        // The long side may lie along the cloth's length.
        let fits = |fabric: &FabricId| settings.cloth(fabric).is_some_and(|cloth| cloth.holds(cut[0], cut[1]));
        (fits(&unit.lower) && fits(&unit.upper)).then_some(unit)
    }

    fn what(direction: usize) -> &'static str {
        ["finished width", "finished height"][direction % 2]
    }

    fn finished(&self, direction: usize) -> Why {
        Why::given(Self::what(direction), self.size[direction % 2])
    }

    /// Exactly how far in the dots must be, measured along sides of a direction.
    fn exact(&self, direction: usize, settings: &Settings) -> Why {
        let s = || Why::given("seam", settings.seam_inches());
        let [w, h] = self.size;
        let diagonal = Why::given("finished diagonal", (w * w + h * h).sqrt());
        let share = Why::Quotient(Box::new(self.finished(direction + 1)), Box::new(diagonal));
        Why::Sum(vec![s(), Why::Product(vec![s(), share])])
    }

    /// How far in the dots are marked.
    fn inset(&self, direction: usize, settings: &Settings) -> Why {
        self.exact(direction, settings).to_mark(settings.ruling.mark(), Way::Up)
    }

    /// What is cut.
    fn cut(&self, direction: usize, settings: &Settings) -> Why {
        let inset = self.inset(direction, settings).named("dot from the edge");
        Why::Sum(vec![
            self.finished(direction),
            inset.times(2, 1, 1).named("twice the dots"),
        ])
    }

    /// How much further in than exactly the dots are.
    fn over(&self, direction: usize, settings: &Settings) -> Why {
        Why::Less(
            Box::new(Why::given("dot from the edge", self.inset(direction, settings).value())),
            Box::new(self.exact(direction, settings)),
        )
    }

    /// What a unit moved along its seam down to its base loses at the base's ends.
    fn lean(&self, base: usize, settings: &Settings) -> Why {
        let slope = Why::Quotient(Box::new(self.finished(base)), Box::new(self.finished(base + 1)));
        Why::Product(vec![self.over(base + 1, settings), slope])
    }

    /// The sides, the base being one whose near end has cloth enough: of the two raw edges of the lower cloth one always is,
    /// the longer if both are.
    fn sides(&self, settings: &Settings) -> Sides {
        let k = self.corner;
        let along = Sides {
            base: (k + 3) % 4,
            near: (k + 2) % 4,
            far: k,
            opposite: (k + 1) % 4,
        };
        let across = Sides {
            base: k,
            near: (k + 1) % 4,
            far: (k + 3) % 4,
            opposite: (k + 2) % 4,
        };
        let enough = |sides: &Sides| {
            let base = sides.base;
            self.over(base, settings).value() >= self.lean(base, settings).value() - 1.0e-9
        };
        let long = |sides: &Sides| self.size[sides.base % 2];
        if enough(&along) && (long(&along) > long(&across) || !enough(&across)) {
            along
        } else {
            across
        }
    }
}

impl Method for HalfRectangle {
    fn name(&self) -> &'static str {
        "half-rectangle pairs"
    }

    fn label(&self) -> &'static str {
        "Half-rectangle unit"
    }

    fn at_once(&self) -> u32 {
        2
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        vec![OwnSeam {
            from: outline.corner(self.corner + 1),
            to: outline.corner(self.corner + 3),
            toward: Toward::Darker {
                lower: self.lower.clone(),
                upper: self.upper.clone(),
            },
            fixed: false,
        }]
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let cut = [0, 1].map(|i| bench.whys.size(self.cut(i, settings)));
        let inset = [0, 1].map(|i| bench.whys.size(self.inset(i, settings)));
        let by = bench.whys.given("seam", settings.seam_inches());
        let nothing = bench.whys.given("along the line", 0.0);
        let [(lower, numbers), (upper, _)] =
            [&self.lower, &self.upper].map(|cloth| bench.pieces.rectangle(cut[0], cut[1], cloth));
        let (a, b) = (bench.take(Take::Piece(lower)), bench.take(Take::Piece(upper)));
        let side = |of: Slot, side: usize| edge(of, numbers[side % 4]);
        let k = self.corner;
        let dots =
            [a, b].map(|of| [k + 3, k + 1].map(|at| dot(bench, of, [side(of, at + 3), side(of, at)], at, inset)));
        let line = bench.mark("line");
        bench.step(Step::Mark {
            on: b,
            name: line.clone(),
            line: Ruler::TwoMarks {
                from: PointRef::Dot(dots[1][0].clone()),
                to: PointRef::Dot(dots[1][1].clone()),
            },
        });
        let stack = bench.slot();
        let [on_a, on_b] = dots;
        bench.step(Step::Lay {
            a,
            b,
            how: Lay::TwoDots { a: on_a, b: on_b },
            into: stack,
        });
        bench.step(Step::Sew {
            stack,
            path: Path::BothSides { mark: line.clone(), by },
            join: false,
        });
        let corners = [k, k + 2].map(|at| corner(side(a, at + 3), side(a, at)));
        let ruler = Ruler::Beside {
            line: LineRef::Mark(line),
            at: nothing,
            toward: corners[0],
        };
        let halves = super::half_square::cut_in_two(bench, stack, ruler, corners);
        let mut gives = Vec::new();
        // The second unit is the first turned end for end.
        for (stack, turned) in halves.into_iter().zip([0, 2]) {
            let work = bench.slot();
            bench.step(Step::Open {
                stack,
                press: bench.way(0, Press::TowardLower),
                into: work,
            });
            let round = [0, 1, 2, 3].map(|i| {
                let of = if i == k || i == (k + 3) % 4 { a } else { b };
                side(of, i + turned)
            });
            gives.push(self.trimmed(bench, work, round));
        }
        gives
    }
}

/// A dot so far in from the two edges at a corner.
fn dot(bench: &mut Bench<'_>, on: Slot, edges: [EdgeRef; 2], at: usize, inset: [Size; 2]) -> MarkName {
    let name = bench.mark("dot");
    // In from a side that runs up lies across, and the other way round.
    let across = |side: usize| inset[(side + 1) % 2];
    bench.step(Step::Dot {
        on,
        name: name.clone(),
        at: PointRef::FromEdges {
            a: edges[0],
            a_by: across(at + 3),
            b: edges[1],
            b_by: across(at),
        },
    });
    name
}

impl HalfRectangle {
    /// The unit opened in `work`, whose raw edges lie as its sides, trimmed to size.
    fn trimmed(&self, bench: &mut Bench<'_>, work: Slot, round: [EdgeRef; 4]) -> Give {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let sides = self.sides(settings);
        let Sides {
            base,
            near,
            far,
            opposite,
        } = sides;
        let over = |direction| self.over(direction, settings);
        let by = bench.whys.given("seam", s);
        let nothing = bench.whys.given("along the line", 0.0);
        let at_near = Why::Less(Box::new(over(base)), Box::new(self.lean(base, settings)));
        let off_near = bench.whys.size(at_near);
        let off_far = bench.whys.size(Why::Sum(vec![over(base), self.lean(base, settings)]));
        let off_opposite = bench.whys.size(over(base + 1).times(2, 1, 1));
        let one_seam = Why::Sum(vec![self.finished(base), Why::given("seam", s)]);
        let to_far = bench.whys.size(one_seam);
        let mut across = |direction: usize| {
            bench
                .whys
                .with_seams(Self::what(direction), self.size[direction % 2], settings.seam)
        };
        let (high, wide) = (across(base + 1), across(base));
        let away = corner(round[far], round[opposite]);
        let inner = bench.mark("a seam inside");
        bench.step(Step::Mark {
            on: work,
            name: inner.clone(),
            line: Ruler::Beside {
                line: LineRef::Edge(round[base]),
                at: by,
                toward: away,
            },
        });
        let upright = bench.mark("through the finished corner");
        bench.step(Step::Mark {
            on: work,
            name: upright.clone(),
            line: Ruler::Angle {
                line: LineRef::Edge(round[base]),
                angle: RulerAngle::Ninety,
                through: PointRef::Crossing(LineRef::Seam(seam(work)), LineRef::Mark(inner)),
                like: round[near],
            },
        });
        let into = bench.slot();
        let cut = |side: usize, line: LineRef, at, toward, shave| TrimLine {
            ruler: Ruler::Beside { line, at, toward },
            off: recipe::EdgeRun(vec![round[side]]),
            shave,
        };
        let upright = LineRef::Mark(upright);
        let trimmed = edge(into, 0);
        let lines = vec![
            cut(base, LineRef::Edge(round[base]), nothing, away, nothing),
            cut(near, upright.clone(), by, corner(trimmed, round[near]), off_near),
            cut(far, upright, to_far, corner(trimmed, round[far]), off_far),
            cut(
                opposite,
                LineRef::Edge(trimmed),
                high,
                corner(edge(into, 2), round[opposite]),
                off_opposite,
            ),
        ];
        bench.step(Step::Trim { of: work, lines, into });
        for (p, q, is) in [(0, 3, high), (1, 2, wide)] {
            bench.step(Step::Check {
                of: into,
                what: Measured::Across(run(into, p), run(into, q)),
                is,
            });
        }
        let number = |side: usize| [base, near, far, opposite].iter().position(|&s| s == side);
        Give {
            slot: into,
            sides: (0..4).filter_map(number).map(|n| run(into, n as u32)).collect(),
            seams: vec![seam(work)],
        }
    }
}
