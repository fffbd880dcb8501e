//! Hourglass units, quarter-square triangles two at a time: two half-square pairs laid on each other, unlike cloths
//! together and seams nested; a diagonal across the seam, sewn on both sides, cut on the line, opened, trimmed.
//!
//! Squares of finished + 1 1/4 (exactly n + 2s + 2s√2 = n + 1.207107 at s = 1/4, up to the mark). The trim registers on
//! the crossing of the two seams, the middle of the unit, and takes the same from all four sides.

use super::{Method, Proposal, UnitView};
use crate::bench::{Bench, corner, edge, run, seam};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use crate::whys::with_seams;
use measure::{Way, Why};
use recipe::{
    CornerRef, DemandShape, EdgeRef, EdgeRun, Give, Keep, Lay, LineRef, Measured, Path, PointRef, Press, Ruler,
    RulerAngle, Size, Slot, Step, Take, TrimLine, Turn,
};
use shape::WELD;
use terms::FabricId;

/// A square of four triangles that meet in its middle.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    let method = Hourglass::recognise(unit, settings)?;
    let spoils = method.mirrored();
    let mut proposal = Proposal::new(method, HANDLING);
    proposal.spoils = spoils;
    Some(proposal)
}

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct Hourglass {
    finished: f64,
    /// The cloth on each side of the unit.
    cloths: [FabricId; 4],
}

/// Handling of one unit: half of two squares, two lines, four seams, two cuts and two openings; its own opening, middle
/// lines and four trims.
const HANDLING: u32 = 17;

/// Two triangles of a pair, opened: two sides of each going round, and where they came from.
#[derive(Clone, Copy)]
struct Pair {
    work: Slot,
    lower: [EdgeRef; 2],
    upper: [EdgeRef; 2],
}

impl Pair {
    /// The corner where its lower cloth has its right angle.
    fn lower_corner(&self) -> CornerRef {
        corner(self.lower[0], self.lower[1])
    }

    /// The corner where its upper cloth has its right angle.
    fn upper_corner(&self) -> CornerRef {
        corner(self.upper[0], self.upper[1])
    }
}

impl Hourglass {
    fn recognise(unit: &UnitView, settings: &Settings) -> Option<Self> {
        let side = rectangle_side(&unit.outline)?;
        let outline = &unit.outline;
        let finished = outline.corner(0).distance(outline.corner(1));
        let high = outline.corner(1).distance(outline.corner(2));
        if (finished - high).abs() > 1.0e-6 || unit.patches.len() != 4 || !unit.grain_along(side) {
            return None;
        }
        // The unit, and half of it from the middle, lie on marks.
        let unfinished = finished + 2.0 * settings.seam_inches();
        settings.ruling.on_mark(unfinished)?;
        settings.ruling.on_mark(unfinished / 2.0)?;
        let middle = outline.corner(0).toward(outline.corner(2), 0.5);
        let on_side = |side: usize| {
            let corners = [outline.corner(side), outline.corner(side + 1), middle];
            unit.patches.iter().find(|patch| {
                let has = |c: &shape::Point| patch.outline.corners().iter().any(|p| p.distance(*c) < WELD);
                patch.outline.len() == 3 && corners.iter().all(has)
            })
        };
        let cloths = [on_side(0)?, on_side(1)?, on_side(2)?, on_side(3)?].map(|patch| patch.fabric.clone());
        // Both pairs begin with a square of n + 2 s + 2 √2 s, up to a mark; of cloth sold in smaller pieces there is none.
        let seam = settings.seam_inches();
        let square = finished + 2.0 * seam * (1.0 + std::f64::consts::SQRT_2) + settings.ruling.mark().to_inches();
        let holds = |fabric: &FabricId| settings.cloth(fabric).is_some_and(|cloth| square <= cloth.largest());
        if !cloths.iter().all(holds) {
            return None;
        }
        // Two alike side by side are one half of a square pair in another drawing, or leave nothing to nest.
        (0..4)
            .all(|i| cloths[i] != cloths[(i + 1) % 4])
            .then_some(Hourglass { finished, cloths })
    }

    /// With four cloths the two units that a stack gives are each other's mirror images.
    fn mirrored(&self) -> bool {
        self.cloths[0] != self.cloths[2] && self.cloths[1] != self.cloths[3]
    }

    /// The side from which the cloths are told: with three cloths, that of one of the two alike.
    fn first(&self) -> usize {
        usize::from(self.cloths[0] != self.cloths[2] && self.cloths[1] == self.cloths[3])
    }

    /// Two squares to two opened pairs.
    fn pairs(&self, bench: &mut Bench<'_>, square: Size, by: Size, lower: &FabricId, upper: &FabricId) -> [Pair; 2] {
        let turns = vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters];
        let shape = DemandShape::Rectangle {
            width: square,
            height: square,
        };
        let lower = bench.pieces.of(shape.clone(), lower, turns.clone(), None);
        let upper = bench.pieces.of(shape, upper, turns, None);
        let (a, b) = (bench.take(Take::Piece(lower)), bench.take(Take::Piece(upper)));
        let ends = [corner(edge(b, 3), edge(b, 0)), corner(edge(b, 1), edge(b, 2))];
        let low_right = corner(edge(a, 0), edge(a, 1));
        let keep = [low_right, corner(edge(a, 2), edge(a, 3))];
        let at = corner(edge(a, 3), edge(a, 0));
        let [first, second] = both_sides(bench, by, [a, b], [at, ends[0]], ends, keep);
        let mut open = |stack: Option<Slot>, la: [u32; 2], lb: [u32; 2]| {
            let work = bench.slot();
            if let Some(stack) = stack {
                // All toward the same cloth: laid on each other with unlike cloths together they nest.
                bench.step(Step::Open {
                    stack,
                    press: Press::TowardLower,
                    into: work,
                });
            }
            Pair {
                work,
                lower: la.map(|e| edge(a, e)),
                upper: lb.map(|e| edge(b, e)),
            }
        };
        [open(first, [0, 1], [2, 3]), open(second, [2, 3], [0, 1])]
    }

    /// One pair on another to two units, or the second alone: each opened, with the edges on its sides going round from the
    /// lower cloth of the lower pair.
    fn units(
        &self,
        bench: &mut Bench<'_>,
        by: Size,
        pairs: [Pair; 2],
        wanted: [bool; 2],
    ) -> [Option<(Slot, [EdgeRef; 4])>; 2] {
        let [p, q] = pairs;
        let ends = [q.upper_corner(), q.lower_corner()];
        let keep = [corner(p.upper[1], p.lower[0]), corner(p.lower[1], p.upper[0])];
        let corners = [p.lower_corner(), q.upper_corner()];
        let [first, second] = both_sides_of(bench, by, [p.work, q.work], corners, ends, keep, wanted);
        let mut open = |stack: Option<Slot>, round: [EdgeRef; 4]| {
            let stack = stack?;
            let into = bench.slot();
            bench.step(Step::Open {
                stack,
                press: Press::TowardLower,
                into,
            });
            Some((into, round))
        };
        [
            open(first, [p.lower[0], q.upper[1], q.lower[0], p.upper[1]]),
            open(second, [p.lower[1], p.upper[0], q.lower[1], q.upper[0]]),
        ]
    }
}

fn both_sides(
    bench: &mut Bench<'_>,
    by: Size,
    layers: [Slot; 2],
    corners: [CornerRef; 2],
    ends: [CornerRef; 2],
    keep: [CornerRef; 2],
) -> [Option<Slot>; 2] {
    both_sides_of(bench, by, layers, corners, ends, keep, [true; 2])
}

/// A line from corner to corner on the upper layer, laid corner on corner, sewn on both sides of the line and cut on it;
/// the stack on the side of each of `keep` that is wanted.
fn both_sides_of(
    bench: &mut Bench<'_>,
    by: Size,
    layers: [Slot; 2],
    corners: [CornerRef; 2],
    ends: [CornerRef; 2],
    keep: [CornerRef; 2],
    wanted: [bool; 2],
) -> [Option<Slot>; 2] {
    let nothing = bench.whys.given("along the line", 0.0);
    let line = bench.mark("diagonal");
    bench.step(Step::Mark {
        on: layers[1],
        name: line.clone(),
        line: Ruler::TwoMarks {
            from: PointRef::Corner(ends[0]),
            to: PointRef::Corner(ends[1]),
        },
    });
    let stack = bench.slot();
    bench.step(Step::Lay {
        a: layers[0],
        b: layers[1],
        how: Lay::Corner {
            a: corners[0],
            b: corners[1],
        },
        into: stack,
    });
    bench.step(Step::Sew {
        stack,
        path: Path::BothSides { mark: line.clone(), by },
        join: false,
    });
    let into = wanted.map(|wanted| wanted.then(|| bench.slot()));
    let kept = (0..2)
        .filter_map(|i| {
            Some(Keep {
                corner: keep[i],
                into: into[i]?,
            })
        })
        .collect();
    let offcut = (0..2).filter(|&i| !wanted[i]).map(|i| keep[i]).collect();
    bench.step(Step::CutApart {
        stack,
        line: Ruler::Beside {
            line: LineRef::Mark(line),
            at: nothing,
            toward: keep[0],
        },
        keep: kept,
        offcut,
    });
    into
}

impl Method for Hourglass {
    fn name(&self) -> &'static str {
        "hourglass pairs"
    }

    fn label(&self) -> &'static str {
        "Hourglass unit"
    }

    fn at_once(&self) -> u32 {
        let alike = self.cloths[0] == self.cloths[2] && self.cloths[1] == self.cloths[3];
        if alike || self.mirrored() { 2 } else { 4 }
    }

    /// In the middle, where the two pairs' seams are laid on one another. At the corners nothing is known: the two units of
    /// a stack are pressed round their middles in opposite senses, and which comes to lie where is not said.
    fn nests_within(&self) -> u64 {
        1
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let diagonals = || Why::given("seam", s).times(2, 2, 1).named("two diagonals");
        let exact = Why::Sum(vec![
            Why::given("finished side", self.finished),
            Why::given("seam", s).times(2, 1, 1).named("two seams"),
            diagonals(),
        ]);
        let square = bench.whys.size(exact.to_mark(settings.ruling.mark(), Way::Up));
        let unfinished = bench.whys.with_seams("finished side", self.finished, settings.seam);
        let half = |of: Why| {
            Why::Quotient(
                Box::new(of),
                Box::new(Why::Count {
                    what: "halves".into(),
                    count: 2,
                }),
            )
        };
        let whole = || with_seams("finished side", self.finished, settings.seam).named("unfinished side");
        let from_middle = bench.whys.size(half(whole()));
        let shave = bench.whys.size(half(Why::Less(
            Box::new(Why::Less(
                Box::new(Why::given("square as cut", square.inches())),
                Box::new(diagonals()),
            )),
            Box::new(whole()),
        )));
        let by = bench.whys.given("seam", s);
        let first = self.first();
        let cloth = |i: usize| &self.cloths[(first + i) % 4];
        // Going round from `first`: lower cloth of the lower pair, its upper cloth, lower and upper cloth of the upper pair.
        let lower = self.pairs(bench, square, by, cloth(0), cloth(1));
        let alike = cloth(0) == cloth(2) && cloth(1) == cloth(3);
        let stacks = if alike {
            vec![[lower[0], lower[1]]]
        } else {
            let upper = self.pairs(bench, square, by, cloth(2), cloth(3));
            vec![[lower[0], upper[0]], [lower[1], upper[1]]]
        };
        let wanted = [!self.mirrored(), true];
        let mut gives = Vec::new();
        for pairs in stacks {
            let [one, other] = self.units(bench, by, pairs, wanted);
            // The second unit goes round as the drawing does, the first the other way: with two alike across from each
            // other it is the same unit seen from the other one.
            let from = [if alike { first } else { first + 2 }, first];
            for ((work, round), from) in [one, other]
                .into_iter()
                .zip(from)
                .filter_map(|(unit, f)| Some((unit?, f)))
            {
                gives.push(trimmed(
                    bench,
                    work,
                    pairs[0].work,
                    round,
                    from,
                    [unfinished, from_middle, shave],
                ));
            }
        }
        gives
    }
}

/// Trims an opened unit to size from its middle, where the seams cross; its edge `round[0]` lies on side `from`.
fn trimmed(bench: &mut Bench<'_>, work: Slot, pair: Slot, round: [EdgeRef; 4], from: usize, sizes: [Size; 3]) -> Give {
    let [unfinished, from_middle, shave] = sizes;
    let across_seam = LineRef::Seam(seam(work));
    let mut middle_line = |like: EdgeRef| {
        let name = bench.mark("through the middle");
        bench.step(Step::Mark {
            on: work,
            name: name.clone(),
            line: Ruler::Angle {
                line: across_seam.clone(),
                angle: RulerAngle::FortyFive,
                through: PointRef::Crossing(across_seam.clone(), LineRef::Seam(seam(pair))),
                like,
            },
        });
        LineRef::Mark(name)
    };
    let lines = [middle_line(round[0]), middle_line(round[1])];
    let into = bench.slot();
    let line = |number: usize, toward: CornerRef| TrimLine {
        ruler: Ruler::Beside {
            line: lines[number % 2].clone(),
            at: from_middle,
            toward,
        },
        off: EdgeRun(vec![round[number]]),
        shave,
    };
    let cut = edge(into, 0);
    bench.step(Step::Trim {
        of: work,
        lines: vec![
            line(0, corner(round[3], round[0])),
            line(2, corner(round[1], round[2])),
            line(1, corner(cut, round[1])),
            line(3, corner(round[3], cut)),
        ],
        into,
    });
    for (p, q) in [(0, 1), (2, 3)] {
        bench.step(Step::Check {
            of: into,
            what: Measured::Across(run(into, p), run(into, q)),
            is: unfinished,
        });
    }
    // Line 1 lies across from line 0, lines 2 and 3 before and after.
    let going_round = [0, 2, 1, 3];
    Give {
        slot: into,
        sides: (0..4).map(|i| run(into, going_round[(i + 8 - from) % 4])).collect(),
        // The last seam lies along one diagonal of the one unit and the other of the other.
        seams: Vec::new(),
    }
}
