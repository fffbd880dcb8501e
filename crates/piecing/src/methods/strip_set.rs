//! Strip sets: long strips sewn side by side, cut across into lengths, each of which is a unit. Rails, rows of squares and
//! checkerboards are made so, many at a time: seams are sewn once for all lengths, and no small piece is handled.

use super::Method;
use crate::bench::{Bench, corner, edge, run};
use crate::class::{Class, Placed};
use crate::patch::rectangle_side;
use crate::settings::Settings;
use crate::tokens::{BlockTokens, Content};
use design::Prefer;
use measure::{Length, Way, Why};
use recipe::{EdgeRef, EdgeRun, End, Give, Lay, LineRef, Measured, Press, Ruler, Step, Take};
use shape::{Line, Polygon};
use terms::FabricId;

/// Its name.
pub const NAME: &str = "strip sets";

/// Units needed before long strips pay: fewer are as quickly sewn piece by piece.
const FEWEST: u64 = 4;

/// No more strips than these side by side, and none wider across: long seams drift, and a wide strip takes two passes of
/// the ruler (common practice).
const MOST_STRIPS: usize = 7;
const WIDEST: f64 = 8.0;

/// Cut off the end of a set before the first length, to square it (common practice).
const SQUARING: Length = Length::fraction(1, 4);

/// A unit made this way.
#[derive(Clone, Debug)]
pub struct StripSet {
    /// From the lower strip up: finished height and cloth.
    strips: Vec<(f64, FabricId)>,
    /// Finished width of a length.
    length: f64,
    /// Lengths cut from one set.
    lengths: u32,
    /// Side of the unit that is the lower strip's.
    first: usize,
    /// Which way the seams go, from the lowest up.
    ways: Vec<Press>,
}

impl StripSet {
    /// A rectangle of plain rectangles side by side along seams that all run across it, wanted so many times. Unless it is
    /// pinned it is left where few are wanted, and where cloth counts first, since each set is squared at its end.
    pub fn recognise(
        class: &Class,
        blocks: &[BlockTokens],
        parts: &[(Placed, &Class)],
        seams: &[Line],
        ways: &[Press],
        wanted: u64,
        settings: &Settings,
    ) -> Option<Self> {
        let fewest = match blocks[class.home].method_of(&class.faces) {
            Some(pin) if pin == NAME => 1,
            Some(_) => return None,
            None if settings.prefer == Prefer::Cloth => return None,
            None => FEWEST,
        };
        if wanted < fewest || !(2..=MOST_STRIPS).contains(&parts.len()) {
            return None;
        }
        rectangle_side(&class.outline)?;
        let along = seams.first()?.along;
        let first = (0..4).find(|&i| {
            let side = class.outline.edge(i).map(|l| l.along);
            side.is_some_and(|s| s.dot(along) > 1.0 - 1.0e-9)
        })?;
        let size = |i: usize| class.outline.corner(i).distance(class.outline.corner(i + 1));
        let length = size(first);
        let on_mark = |finished: f64| settings.ruling.on_mark(finished + 2.0 * settings.seam_inches());
        on_mark(length)?;
        let mut strips = Vec::new();
        let mut usable = f64::INFINITY;
        for (placed, part) in parts {
            let [face] = part.faces[..] else { return None };
            let Content::Patch {
                fabric,
                up: None,
                grain,
                ..
            } = &blocks[part.home].tokens[face].content
            else {
                return None;
            };
            // The strip's long side is its cloth's width: the patch's grain must be along or across it.
            let grain = placed.motion.vector(*grain);
            let straight = grain.dot(along).abs() < 1.0e-6 || grain.cross(along).abs() < 1.0e-6;
            let outline = placed.motion.polygon(&part.outline);
            rectangle_side(&outline)?;
            let (wide, high) = extents(&outline, along);
            if !straight || (wide - length).abs() > 1.0e-6 || high > WIDEST {
                return None;
            }
            on_mark(high)?;
            usable = usable.min(settings.cloth(fabric)?.usable);
            strips.push((high, fabric.clone()));
        }
        let cut = length + 2.0 * settings.seam_inches();
        let most = ((usable - 2.0 * SQUARING.to_inches()) / cut + 1.0e-9).floor();
        if most < fewest as f64 {
            return None;
        }
        // As many sets as it takes, all alike.
        let sets = (wanted as f64 / most).ceil().max(1.0);
        let lengths = (wanted as f64 / sets).ceil() as u32;
        Some(StripSet {
            strips,
            length,
            lengths,
            first,
            ways: ways.to_vec(),
        })
    }
}

/// How far a rectangle reaches along a direction and across it.
fn extents(outline: &Polygon, along: shape::Vector) -> (f64, f64) {
    let reach = |direction: shape::Vector| {
        let d = outline
            .corners()
            .iter()
            .map(|&c| (c - shape::Point::ORIGIN).dot(direction));
        let (low, high) = d.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
        high - low
    };
    (reach(along), reach(along.left()))
}

impl Method for StripSet {
    fn name(&self) -> &'static str {
        NAME
    }

    fn label(&self) -> &'static str {
        if self.strips.len() == 2 { "Pair" } else { "Row" }
    }

    fn write(&self, bench: &mut Bench<'_>) -> Vec<Give> {
        let settings = bench.settings;
        let width = bench
            .whys
            .with_seams("finished width of a length", self.length, settings.seam);
        let squaring = bench.whys.given("squaring the end", SQUARING.to_inches());
        let long = Why::Sum(vec![
            Why::given("length as cut", width.inches()).times(i32::try_from(self.lengths).unwrap_or(1), 1, 1),
            Why::given("squaring the ends", 2.0 * SQUARING.to_inches()),
        ]);
        let long = bench.whys.size(long.to_mark(settings.ruling.mark(), Way::Up));
        let mut round: Vec<[EdgeRef; 4]> = Vec::new();
        let mut slots = Vec::new();
        for (high, fabric) in &self.strips {
            let high = bench
                .whys
                .with_seams("finished height of a strip", *high, settings.seam);
            let (piece, numbers) = bench.pieces.rectangle(long, high, fabric);
            let slot = bench.take(Take::Piece(piece));
            slots.push(slot);
            round.push(numbers.map(|number| edge(slot, number)));
        }
        let mut work = slots[0];
        for i in 1..slots.len() {
            let (below, above) = (round[i - 1], round[i]);
            let how = Lay::Edges {
                a: EdgeRun(vec![below[2]]),
                b: EdgeRun(vec![above[0]]),
                first: End::Even {
                    a: below[1],
                    b: above[1],
                },
                last: End::Even {
                    a: below[3],
                    b: above[3],
                },
                meets: Vec::new(),
            };
            let press = self.ways.get(i - 1).copied().unwrap_or(Press::TowardUpper);
            work = bench.sew(work, slots[i], how, press, false);
        }
        let (lowest, highest) = (round[0], round[round.len() - 1]);
        let (low, high) = (EdgeRun(vec![lowest[0]]), EdgeRun(vec![highest[2]]));
        let across: f64 = self.strips.iter().map(|s| s.0).sum();
        let across = bench
            .whys
            .with_seams("finished height of the set", across, settings.seam);
        bench.step(Step::Check {
            of: work,
            what: Measured::Across(low.clone(), high.clone()),
            is: across,
        });
        let into: Vec<_> = (0..self.lengths).map(|_| bench.slot()).collect();
        let toward = corner(lowest[0], lowest[1]);
        bench.step(Step::SubCut {
            of: work,
            first: Ruler::Beside {
                line: LineRef::Edge(lowest[3]),
                at: squaring,
                toward,
            },
            toward,
            width,
            into: into.clone(),
        });
        into.into_iter()
            .map(|slot| {
                // Going round from the lower side: the cut further on, the upper side, the cut made first.
                let sides = [low.clone(), run(slot, 1), high.clone(), run(slot, 0)];
                Give {
                    slot,
                    sides: (0..4).map(|i| sides[(i + 4 - self.first) % 4].clone()).collect(),
                    seams: Vec::new(),
                }
            })
            .collect()
    }
}
