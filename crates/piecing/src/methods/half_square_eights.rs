//! Half-square units eight at a time: two large squares, both diagonals drawn and sewn on both sides, cut in four along the
//! middle lines, then each quarter on its diagonal; opened and trimmed.
//!
//! The squares are twice what two at a time takes: 2 (n + 7/8), exactly 2 (n + 2s + √2·s), each half put up to the mark so
//! that the middle lines lie on marks.

use super::half_square::{HalfSquare, cut_in_two, fellow, laid_with_diagonals};
use super::{Method, OwnSeam, Proposal, Taken, UnitView};
use crate::bench::{Bench, corner, edge};
use crate::settings::Settings;
use crate::whys::with_seams;
use measure::Why;
use recipe::{EdgeRef, Give, LineRef, Path, Press, Ruler, Step};
use shape::Polygon;

/// A square of two triangles with its sides on the straight grain, small enough for two large squares.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    let half = HalfSquare::of(unit, settings)?;
    let eights = Eights { half };
    let square = eights.half.square_of_two(settings).times(2, 1, 1).value();
    let can = eights.half.straight && eights.half.fits(square, settings);
    can.then(|| Proposal::new(eights, HANDLING).taken(Taken::ByCount))
}

/// A unit made this way.
#[derive(Clone, Debug)]
struct Eights {
    half: HalfSquare,
}

/// Handling of one unit: an eighth of two squares, two lines, four seams and seven cuts; its own pressing, four trims and
/// two measures.
const HANDLING: u32 = 9;

impl Method for Eights {
    fn name(&self) -> &'static str {
        "half-squares by eights"
    }

    fn label(&self) -> &'static str {
        "Half-square unit"
    }

    fn at_once(&self) -> u32 {
        8
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        vec![self.half.seam(outline)]
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let quarter = self.half.square_of_two(settings);
        let half_way = bench.whys.size(quarter.clone());
        let square = bench.whys.size(quarter.named("square for two units").times(2, 1, 1));
        let unfinished = bench
            .whys
            .with_seams("finished side", self.half.finished, settings.seam);
        let by = bench.whys.given("seam", s);
        let nothing = bench.whys.given("along the line", 0.0);
        let shave = bench.whys.size(Why::Less(
            Box::new(Why::Less(
                Box::new(Why::given("square for two units", half_way.inches())),
                Box::new(Why::given("seam", s).times(1, 2, 1).named("diagonal")),
            )),
            Box::new(with_seams("finished side", self.half.finished, settings.seam).named("unfinished side")),
        ));
        let (a, b) = self.half.squares(bench, square);
        let (diagonals, stack) = laid_with_diagonals(bench, a, b);
        for mark in &diagonals {
            bench.step(Step::Sew {
                stack,
                path: Path::BothSides { mark: mark.clone(), by },
                join: false,
            });
        }
        let beside = |edge: EdgeRef, toward| Ruler::Beside {
            line: LineRef::Edge(edge),
            at: half_way,
            toward,
        };
        let e = |number: u32| edge(a, number);
        // The lower square's corners: left and right below, right and left above.
        let [ll, lr, ur, ul] = [(3, 0), (0, 1), (1, 2), (2, 3)].map(|(x, y)| corner(e(x), e(y)));
        let [left, right] = cut_in_two(bench, stack, beside(e(3), lr), [ll, lr]);
        let [low_left, high_left] = cut_in_two(bench, left, beside(e(0), ul), [ll, ul]);
        let [low_right, high_right] = cut_in_two(bench, right, beside(e(0), ur), [lr, ur]);
        // On which diagonal each quarter is cut; and the legs of its two triangles, in order round each.
        let [falling, rising] = diagonals;
        let middle = |of, number| edge(of, number);
        let quarters = [
            (
                low_left,
                &rising,
                [[e(0), middle(left, 0)], [middle(low_left, 0), e(3)]],
            ),
            (
                high_left,
                &falling,
                [[e(3), middle(high_left, 0)], [middle(left, 0), e(2)]],
            ),
            (
                low_right,
                &falling,
                [[middle(right, 0), e(0)], [e(1), middle(low_right, 0)]],
            ),
            (
                high_right,
                &rising,
                [[middle(high_right, 0), e(1)], [e(2), middle(right, 0)]],
            ),
        ];
        let upper = |leg: EdgeRef| {
            if leg.of == a {
                fellow(b, leg.edge)
            } else {
                edge(leg.of, 1)
            }
        };
        let mut gives = Vec::new();
        for (quarter, diagonal, triangles) in quarters {
            let line = Ruler::Beside {
                line: LineRef::Mark(diagonal.clone()),
                at: nothing,
                toward: lr,
            };
            let corners = triangles.map(|[first, second]| corner(first, second));
            let halves = cut_in_two(bench, quarter, line, corners);
            for (stack, [first, second]) in halves.into_iter().zip(triangles) {
                let into = bench.slot();
                bench.step(Step::Open {
                    stack,
                    press: bench.way(0, Press::TowardLower),
                    into,
                });
                let round = [first, second, upper(second), upper(first)];
                gives.push(self.half.trimmed(bench, into, round, unfinished, shave));
            }
        }
        gives
    }
}
