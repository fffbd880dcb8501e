//! Half-square units four at a time: two squares sewn together all round, cut on both diagonals, opened and trimmed. It has
//! the fewest seams of all, but each unit's sides lie where the square's diagonals were: on the bias.
//!
//! A seam all round leaves n − 2s of a square of n, which is the unit's diagonal: the unit opens to (n − 2s)/√2. So
//! n = √2 (finished + 2s) + 2s, up to the mark, and a trim.

use super::half_square::{HalfSquare, cut_in_two, laid_with_diagonals};
use super::{Method, OwnSeam, Proposal, Taken, UnitView};
use crate::bench::{Bench, corner, edge};
use crate::settings::Settings;
use crate::whys::with_seams;
use measure::{Way, Why};
use recipe::{EdgeRef, Give, LineRef, Path, Press, Ruler, Step};
use shape::Polygon;

/// A square of two triangles, small enough for two squares from side to side of four of them. Where the sides are wanted on the
/// straight grain it is left to be pinned.
pub fn recognise(unit: &UnitView, settings: &Settings) -> Option<Proposal> {
    let half = HalfSquare::of(unit, settings)?;
    let taken = if half.straight { Taken::Pinned } else { Taken::ByCount };
    let fours = Fours { half };
    let fits = fours.half.fits(fours.square(settings).value(), settings);
    fits.then(|| Proposal::new(fours, HANDLING).taken(taken))
}

/// A unit made this way.
#[derive(Clone, Debug)]
struct Fours {
    half: HalfSquare,
}

/// Handling of one unit: a quarter of two squares, two lines, a seam with four sides and three cuts; its own pressing, four
/// trims and two measures.
const HANDLING: u32 = 10;

impl Fours {
    fn square(&self, settings: &Settings) -> Why {
        let s = settings.seam_inches();
        Why::Sum(vec![
            with_seams("finished side", self.half.finished, settings.seam)
                .named("unfinished side")
                .times(1, 2, 1)
                .named("its diagonal"),
            Why::given("seam", s).times(2, 1, 1).named("two seams"),
        ])
        .to_mark(settings.ruling.mark(), Way::Up)
    }
}

impl Method for Fours {
    fn name(&self) -> &'static str {
        "half-squares by fours"
    }

    fn label(&self) -> &'static str {
        "Half-square unit"
    }

    fn at_once(&self) -> u32 {
        4
    }

    fn bias(&self) -> bool {
        self.half.straight
    }

    fn seams(&self, outline: &Polygon) -> Vec<OwnSeam> {
        vec![self.half.seam(outline)]
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let s = settings.seam_inches();
        let square = bench.whys.size(self.square(settings));
        let unfinished = bench
            .whys
            .with_seams("finished side", self.half.finished, settings.seam);
        let by = bench.whys.given("seam", s);
        let nothing = bench.whys.given("along the line", 0.0);
        let inside = Why::Less(
            Box::new(Why::given("square as cut", square.inches())),
            Box::new(Why::given("seam", s).times(2, 1, 1).named("two seams")),
        );
        let shave = bench.whys.size(Why::Less(
            Box::new(inside.times(1, 2, 2).named("side of a square with this diagonal")),
            Box::new(with_seams("finished side", self.half.finished, settings.seam).named("unfinished side")),
        ));
        let (a, b) = self.half.squares(bench, square);
        let ([falling, rising], stack) = laid_with_diagonals(bench, a, b);
        let e = |number: u32| edge(a, number);
        bench.step(Step::Sew {
            stack,
            path: Path::Round {
                edges: (0..4).map(e).collect(),
                by,
            },
            join: false,
        });
        let on = |mark: recipe::MarkName| Ruler::Beside {
            line: LineRef::Mark(mark),
            at: nothing,
            toward: corner(e(0), e(1)),
        };
        let corners = [corner(e(0), e(1)), corner(e(2), e(3))];
        let [right, left] = cut_in_two(bench, stack, on(rising), corners);
        // What the first cut left on each half, from its raw edge to that of the second cut.
        let corners = [corner(edge(right, 0), e(0)), corner(e(1), edge(right, 0))];
        let [low, east] = cut_in_two(bench, right, on(falling.clone()), corners);
        let corners = [corner(e(3), edge(left, 0)), corner(edge(left, 0), e(2))];
        let [west, high] = cut_in_two(bench, left, on(falling), corners);
        let legs = [
            (low, [edge(low, 0), edge(right, 0)]),
            (east, [edge(right, 0), edge(east, 0)]),
            (west, [edge(left, 0), edge(west, 0)]),
            (high, [edge(high, 0), edge(left, 0)]),
        ];
        let upper = |leg: EdgeRef| edge(leg.of, 1);
        legs.into_iter()
            .map(|(stack, [first, second])| {
                let into = bench.slot();
                bench.step(Step::Open {
                    stack,
                    press: bench.way(0, Press::TowardLower),
                    into,
                });
                let round = [first, second, upper(second), upper(first)];
                self.half.trimmed(bench, into, round, unfinished, shave)
            })
            .collect()
    }
}
