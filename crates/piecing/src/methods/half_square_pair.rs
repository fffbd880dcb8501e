//! Half-square triangles two at a time: two squares, one diagonal, a seam on either side of it, cut apart, trimmed.
//!
//! Squares of finished + 7/8 (exactly n + 2s + s√2 = n + 0.853553 at s = 1/4, up to the mark) open 0.0214 in too large:
//! the unit needs its trim, which registers on the seam's crossing with the raw edge.

use super::half_square::{HalfSquare, cut_in_two};
use super::{Method, OwnSeam, Proposal, UnitView};
use crate::bench::{Bench, corner, edge};
use crate::settings::Settings;
use crate::whys::with_seams;
use measure::Why;
use recipe::{Give, Lay, LineRef, Path, PointRef, Press, Ruler, Slot, Step};
use shape::Polygon;

/// A square of two triangles, its unfinished size on a mark, its sides on the straight grain.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    let half = HalfSquare::of(unit, settings)?;
    half.straight.then(|| Proposal::new(HalfSquarePair { half }, HANDLING))
}

/// A unit made this way.
#[derive(Clone, Debug)]
struct HalfSquarePair {
    half: HalfSquare,
}

/// Handling of one unit: half of two squares, a line, two seams and a cut, and its own pressing and four trims.
const HANDLING: u32 = 11;

impl Method for HalfSquarePair {
    fn name(&self) -> &'static str {
        "half-square pairs"
    }

    fn label(&self) -> &'static str {
        "Half-square unit"
    }

    fn at_once(&self) -> u32 {
        2
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        vec![self.half.seam(outline)]
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let cut = bench.whys.size(self.half.square_of_two(settings));
        let unfinished = bench
            .whys
            .with_seams("finished side", self.half.finished, settings.seam);
        let by = bench.whys.given("seam", s);
        let nothing = bench.whys.given("along the line", 0.0);
        let shave = bench.whys.size(Why::Less(
            Box::new(Why::Less(
                Box::new(Why::given("square as cut", cut.inches())),
                Box::new(Why::given("seam", s).times(1, 2, 1).named("diagonal")),
            )),
            Box::new(with_seams("finished side", self.half.finished, settings.seam).named("unfinished side")),
        ));
        let (a, b) = self.half.squares(bench, cut);
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
        let low_right = corner(edge(a, 0), edge(a, 1));
        let ruler = Ruler::Beside {
            line: LineRef::Mark(line),
            at: nothing,
            toward: low_right,
        };
        let corners = [low_right, corner(edge(a, 2), edge(a, 3))];
        let [first, second] = cut_in_two(bench, stack, ruler, corners);
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
                let round = [edge(a, la[0]), edge(a, la[1]), edge(b, lb[0]), edge(b, lb[1])];
                self.half.trimmed(bench, work, round, unfinished, shave)
            })
            .collect()
    }
}
