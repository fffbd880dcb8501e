//! Geese four at a time without waste: two small squares on opposite corners of a large one, a line through both, sewn on
//! both sides, cut on it and opened; then a small square on the large corner that is left of each half, sewn and cut the
//! same way. The trim registers on the goose's point, where the two seams cross.
//!
//! Small squares of the finished height + 7/8 (exactly H + 2s + √2·s, up to the mark). Where the small squares lie over one
//! another by two seams the point comes out a seam inside: so the large square is twice the small one less two seams, which
//! is the trade's finished width + 1 1/4.

use super::flip::corner_leg;
use super::half_square::{LARGEST, cut_in_two};
use super::{Method, OwnSeam, Proposal, Taken, Toward, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use crate::whys::with_seams;
use measure::{Way, Why};
use recipe::{
    CornerRef, DemandShape, EdgeRef, EdgeRun, Give, Lay, LineRef, MarkName, Measured, Path, PointRef, Press, Ruler,
    RulerAngle, Size, Slot, Step, Take, TrimLine, Turn,
};
use shape::{Polygon, WELD};
use terms::FabricId;

/// A goose twice as wide as high with wings of one cloth.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    let geese = Geese::recognise(unit, settings)?;
    Some(Proposal::new(geese, HANDLING).taken(Taken::ByCount))
}

/// A unit made this way.
#[derive(Clone, Debug)]
struct Geese {
    height: f64,
    /// The unit's side on which the goose stands.
    base: usize,
    goose: FabricId,
    wings: FabricId,
}

/// Handling of one unit: a quarter of a large square, four small ones, two layings, a line, two seams, a cut, two openings, and
/// twice a line, a laying, two seams and a cut; its own opening, two lines through the point, four trims and two measures.
const HANDLING: u32 = 16;

impl Geese {
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<Self> {
        let side = rectangle_side(&unit.outline)?;
        let outline = &unit.outline;
        if unit.patches.len() != 3 || !unit.grain_along(side) {
            return None;
        }
        let size = |i: usize| outline.corner(i).distance(outline.corner(i + 1));
        let is_corner = |p: &&super::PatchView| corner_leg(&p.outline, outline).is_some();
        let wings: Vec<_> = unit.patches.iter().filter(is_corner).collect();
        let [one, other] = wings[..] else { return None };
        let goose = unit.patches.iter().find(|p| !is_corner(p))?;
        let base = (0..4).find(|&i| {
            let tip = outline.corner(i + 2).toward(outline.corner(i + 3), 0.5);
            let corners = [outline.corner(i), outline.corner(i + 1), tip];
            let has = |c: &shape::Point| goose.outline.corners().iter().any(|p| p.distance(*c) < WELD);
            goose.outline.len() == 3 && corners.iter().all(has)
        })?;
        let (width, height) = (size(base), size(base + 1));
        if (width - 2.0 * height).abs() > WELD || one.fabric != other.fabric {
            return None;
        }
        let s = settings.seam_inches();
        for length in [s, height + s, width + 2.0 * s, height + 2.0 * s] {
            settings.ruling.on_mark(length)?;
        }
        let geese = Geese {
            height,
            base,
            goose: goose.fabric.clone(),
            wings: one.fabric.clone(),
        };
        let large = geese.large(settings).value();
        settings.ruling.on_mark(large)?;
        let fits = large <= LARGEST && large <= settings.cloth(&geese.goose)?.largest();
        fits.then_some(geese)
    }

    fn small(&self, settings: &Settings) -> Why {
        let s = settings.seam_inches();
        Why::Sum(vec![
            Why::given("finished height", self.height),
            Why::given("seam", s).times(2, 1, 1).named("two seams"),
            Why::given("seam", s).times(1, 2, 1).named("diagonal"),
        ])
        .to_mark(settings.ruling.mark(), Way::Up)
    }

    fn large(&self, settings: &Settings) -> Why {
        Why::Less(
            Box::new(self.small(settings).named("small square").times(2, 1, 1)),
            Box::new(
                Why::given("seam", settings.seam_inches())
                    .times(2, 1, 1)
                    .named("two seams"),
            ),
        )
    }
}

/// What the trim of a goose needs to know.
struct Sizes {
    /// From the point to the side above it, and to each other side.
    above: Size,
    below: Size,
    /// What comes off them.
    off_above: Size,
    off_below: Size,
    width: Size,
    height: Size,
}

/// The raw edges of an opened goose going round from its base: the wing before the point's right one, what lies above the
/// point, and the other wing.
struct Round {
    base: EdgeRef,
    right: EdgeRef,
    above: [EdgeRef; 2],
    left: EdgeRef,
}

impl Method for Geese {
    fn name(&self) -> &'static str {
        "geese by fours"
    }

    fn label(&self) -> &'static str {
        "Goose"
    }

    fn at_once(&self) -> u32 {
        4
    }

    /// Both toward the wings: of four made at once either wing may be the one sewn first, and the second seam lies over the
    /// first one's end.
    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        let [near, far] = [self.base, self.base + 1].map(|i| outline.corner(i));
        let tip = outline.corner(self.base + 2).toward(outline.corner(self.base + 3), 0.5);
        let one = |(from, to)| OwnSeam {
            from,
            to,
            toward: Toward::Upper,
            fixed: true,
        };
        [(far, tip), (tip, near)].map(one).to_vec()
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let small = bench.whys.size(self.small(settings));
        let large = bench.whys.size(self.large(settings));
        let by = bench.whys.given("seam", s);
        let nothing = bench.whys.given("along the line", 0.0);
        let turns = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        let square = |side: Size| DemandShape::Rectangle {
            width: side,
            height: side,
        };
        let goose = bench.pieces.of(square(large), &self.goose, turns.clone(), None);
        let wing = bench.pieces.of(square(small), &self.wings, turns, None);
        let a = bench.take(Take::Piece(goose));
        let [one, other, third, fourth] = [0; 4].map(|_| bench.take(Take::Piece(wing.clone())));
        let (low, high) = (corner(edge(a, 3), edge(a, 0)), corner(edge(a, 1), edge(a, 2)));
        let stack = on_corner(bench, a, one, low);
        let stack = on_corner(bench, stack, other, high);
        let line = diagonal(bench, stack, low, high);
        let keep = [corner(edge(a, 0), edge(a, 1)), corner(edge(a, 2), edge(a, 3))];
        let halves = both_sides(bench, stack, line, [by, nothing], keep);
        let halves = halves.map(|stack| open(bench, stack));
        let sizes = self.sizes(bench, large, small);
        // The second half is the first turned half round: on each the square that lies at the first edge's far end, and the one
        // at the second's.
        let mut gives = Vec::new();
        for (half, square, [first, second], near, far) in [
            (halves[0], third, [0, 1], one, other),
            (halves[1], fourth, [2, 3], other, one),
        ] {
            let right_angle = corner(edge(a, first), edge(a, second));
            let from = corner(edge(square, 3), edge(square, 0));
            let line = diagonal(bench, square, from, corner(edge(square, 1), edge(square, 2)));
            let stack = on_corner(bench, half, square, right_angle);
            let keep = [
                corner(edge(near, 3), edge(a, first)),
                corner(edge(a, second), edge(far, 0)),
            ];
            let geese = both_sides(bench, stack, line, [by, nothing], keep);
            let rounds = [
                Round {
                    base: edge(a, first),
                    right: edge(square, 0),
                    above: [edge(square, 1), edge(near, 2)],
                    left: edge(near, 3),
                },
                Round {
                    base: edge(a, second),
                    right: edge(far, 0),
                    above: [edge(far, 1), edge(square, 2)],
                    left: edge(square, 3),
                },
            ];
            for (stack, round) in geese.into_iter().zip(rounds) {
                let work = open(bench, stack);
                gives.push(self.trimmed(bench, work, half, &round, &sizes));
            }
        }
        gives
    }
}

impl Geese {
    fn sizes(&self, bench: &mut Bench<'_>, large: Size, small: Size) -> Sizes {
        let seam_length = bench.settings.seam;
        let s = seam_length.to_inches();
        let seam = || Why::given("seam", s);
        let half = || {
            Why::given("large square as cut", large.inches())
                .times(1, 1, 2)
                .named("half of the large square")
        };
        let height = || Why::given("finished height", self.height);
        let below = || Why::Sum(vec![height(), seam()]);
        let less = |from: Why, take: Why| Why::Less(Box::new(from), Box::new(take));
        let small = Why::given("small square as cut", small.inches());
        Sizes {
            above: bench.whys.given("seam", s),
            below: bench.whys.size(below()),
            off_above: bench.whys.size(less(less(small, half()), seam())),
            off_below: bench
                .whys
                .size(less(less(half(), seam().times(1, 2, 1).named("diagonal")), below())),
            width: bench.whys.with_seams("finished width", 2.0 * self.height, seam_length),
            height: bench.whys.size(with_seams("finished height", self.height, seam_length)),
        }
    }

    /// A goose opened in `work`, of a half opened in `half`, trimmed to size from its point.
    fn trimmed(&self, bench: &mut Bench<'_>, work: Slot, half: Slot, round: &Round, sizes: &Sizes) -> Give {
        let point = PointRef::Crossing(LineRef::Seam(seam(work)), LineRef::Seam(seam(half)));
        let mut through_point = |like: EdgeRef| {
            let name = bench.mark("through the point");
            bench.step(Step::Mark {
                on: work,
                name: name.clone(),
                line: Ruler::Angle {
                    line: LineRef::Seam(seam(work)),
                    angle: RulerAngle::FortyFive,
                    through: point.clone(),
                    like,
                },
            });
            LineRef::Mark(name)
        };
        let (level, upright) = (through_point(round.base), through_point(round.left));
        let into = bench.slot();
        let line = |line: &LineRef, at, toward, off: &[EdgeRef], shave| TrimLine {
            ruler: Ruler::Beside {
                line: line.clone(),
                at,
                toward,
            },
            off: EdgeRun(off.to_vec()),
            shave,
        };
        let top = edge(into, 0);
        let lines = vec![
            line(
                &level,
                sizes.above,
                corner(round.right, round.above[0]),
                &round.above[..1],
                sizes.off_above,
            ),
            line(
                &level,
                sizes.below,
                corner(round.left, round.base),
                &[round.base],
                sizes.off_below,
            ),
            line(
                &upright,
                sizes.below,
                corner(top, round.left),
                &[round.left],
                sizes.off_below,
            ),
            line(
                &upright,
                sizes.below,
                corner(round.right, top),
                &[round.right],
                sizes.off_below,
            ),
        ];
        bench.step(Step::Trim { of: work, lines, into });
        for (p, q, is) in [(0, 1, sizes.height), (2, 3, sizes.width)] {
            bench.step(Step::Check {
                of: into,
                what: Measured::Across(run(into, p), run(into, q)),
                is,
            });
        }
        // Going round from the base.
        let round = [1, 3, 0, 2];
        Give {
            slot: into,
            sides: (0..4).map(|i| run(into, round[(i + 4 - self.base) % 4])).collect(),
            // Either wing may have been sewn first.
            seams: Vec::new(),
        }
    }
}

/// A square laid on a corner.
fn on_corner(bench: &mut Bench<'_>, a: Slot, b: Slot, at: CornerRef) -> Slot {
    let into = bench.slot();
    bench.step(Step::Lay {
        a,
        b,
        how: Lay::Corner {
            a: at,
            b: corner(edge(b, 3), edge(b, 0)),
        },
        into,
    });
    into
}

/// A line from corner to corner.
fn diagonal(bench: &mut Bench<'_>, on: Slot, from: CornerRef, to: CornerRef) -> MarkName {
    let name = bench.mark("diagonal");
    bench.step(Step::Mark {
        on,
        name: name.clone(),
        line: Ruler::TwoMarks {
            from: PointRef::Corner(from),
            to: PointRef::Corner(to),
        },
    });
    name
}

/// A stack sewn on both sides of a line and cut on it; the stacks on the sides of `keep`.
fn both_sides(
    bench: &mut Bench<'_>,
    stack: Slot,
    name: MarkName,
    [by, nothing]: [Size; 2],
    keep: [CornerRef; 2],
) -> [Slot; 2] {
    bench.step(Step::Sew {
        stack,
        path: Path::BothSides { mark: name.clone(), by },
        join: false,
    });
    let line = Ruler::Beside {
        line: LineRef::Mark(name),
        at: nothing,
        toward: keep[0],
    };
    cut_in_two(bench, stack, line, keep)
}

fn open(bench: &mut Bench<'_>, stack: Slot) -> Slot {
    let into = bench.slot();
    bench.step(Step::Open {
        stack,
        press: Press::TowardUpper,
        into,
    });
    into
}
