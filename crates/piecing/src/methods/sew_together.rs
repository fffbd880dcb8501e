//! Plain piecing: parts sewn one after another along through seams, and the ends of each seam placed by what a maker
//! can see.

use super::fitting::Named;
use super::sides;
use crate::bench::{Bench, Handle, corner, run};
use crate::ends::inner_angle;
use crate::seam_end::{self, LayerEnd};
use crate::to_fit::Fit;
use crate::whys::with_seams;
use measure::{Length, Why};
use recipe::{EdgeRef, EdgeRun, End, Give, Lay, Measured, Meet, PointRef, Press, Slot, Step};
use shape::{Line, Polygon, WELD};

/// One part as it lies in the unit.
#[derive(Clone, Debug)]
pub struct PartAtPlace {
    /// How to take it.
    pub handle: Handle,
    /// Its finished outline in the unit's frame; side `i` as in its class.
    pub outline: Polygon,
    /// Joints along each of its sides, from the side's start.
    pub joints: Vec<Vec<f64>>,
    /// For each straight of its outline whether it is one of a curve's.
    pub bows: Vec<bool>,
    /// Its patches with bowed sides, where they lie in the unit.
    pub bowed: Vec<(Polygon, Vec<bool>)>,
}

impl PartAtPlace {
    fn side_on(&self, line: Line) -> Option<usize> {
        (0..self.outline.len()).find(|&i| {
            line.offset_of(self.outline.corner(i)).abs() < 2.0 * WELD
                && line.offset_of(self.outline.corner(i + 1)).abs() < 2.0 * WELD
        })
    }
}

/// What could not be written: the parts do not share the seam that the plan says they share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoCommonSide;

/// Sews the parts in order, each to the one before along `seams[i]`, and says where their sides end up on the unit's
/// outline. Strips among them are fitted as `fits` says.
pub fn write(
    bench: &mut Bench<'_>,
    unit: &Polygon,
    (parts, fits): (&[PartAtPlace], &[Option<Fit>]),
    seams: &[Line],
    ways: &[Press],
) -> Result<Vec<Give>, NoCommonSide> {
    let mut named = Named::take(bench, parts, fits);
    let mut work = named.slots[0];
    for (i, &line) in seams.iter().enumerate() {
        // The second is laid on the first, but for a strip that is trimmed along it.
        let upper = named.upper(i);
        let lower = if upper == i { i + 1 } else { i };
        let lying = |part: usize| if part == i { work } else { named.slots[part] };
        let (a, b) = (&parts[lower], &parts[upper]);
        let a_side = a.side_on(line).ok_or(NoCommonSide)?;
        let b_side = b.side_on(line).ok_or(NoCommonSide)?;
        let past = named.past(bench, upper);
        let joint = SeamEnds {
            named: &named,
            of: [lower, upper],
            lying: [lying(lower), lying(upper)],
            sides: [a_side, b_side],
            parts: [a, b],
        };
        let (first, snip_first) = joint.end(bench, true).ok_or(NoCommonSide)?;
        let (mut last, snip_last) = joint.end(bench, false).ok_or(NoCommonSide)?;
        if let (Some(by), End::Even { a, b }) = (past, &last) {
            last = End::Overhang { a: *a, b: *b, by };
        }
        let length = a.outline.corner(a_side).distance(a.outline.corner(a_side + 1));
        let meets = meetings(&a.joints[a_side], &b.joints[b_side], length);
        let laid = Lay::Edges {
            a: EdgeRun(vec![named.edge(lower, a_side)]),
            b: EdgeRun(vec![named.edge(upper, b_side)]),
            first,
            last,
            meets,
        };
        // Decided of the first and the second part, whichever lies above.
        let press = match (ways.get(i).copied().unwrap_or(Press::TowardUpper), upper == i) {
            (Press::TowardUpper, true) => Press::TowardLower,
            (Press::TowardLower, true) => Press::TowardUpper,
            (press, _) => press,
        };
        let (under, over) = (lying(lower), lying(upper));
        work = bench.sew(under, over, laid, press, false);
        let along: Vec<EdgeRef> = snip_first.into_iter().chain(snip_last).flatten().collect();
        if !along.is_empty() {
            bench.step(Step::Snip { of: work, along });
        }
        if let Some(shave) = past {
            work = named.trim_flush(bench, work, (upper, lower), shave);
        }
    }
    work = named.trim_to_size(bench, work);
    let outlines: Vec<(&PartAtPlace, Vec<EdgeRef>)> = (parts.iter().enumerate())
        .map(|(i, part)| (part, (0..part.outline.len()).map(|side| named.edge(i, side)).collect()))
        .collect();
    let sides = sides::round_named(unit, &outlines)?;
    measure_unit(bench, unit, work, &sides);
    Ok(vec![Give {
        slot: work,
        sides,
        seams: Vec::new(),
    }])
}

/// Pairs of joints that lie on one another when the upper run (counted from its own start) runs against the lower.
pub fn meetings(a: &[f64], b: &[f64], length: f64) -> Vec<Meet> {
    a.iter()
        .enumerate()
        .filter_map(|(i, x)| {
            let j = b.iter().position(|y| (x - (length - y)).abs() < WELD)?;
            Some(Meet {
                a: i as u32,
                b: j as u32,
            })
        })
        .collect()
}

struct SeamEnds<'a> {
    /// How the parts' edges are called.
    named: &'a Named<'a>,
    /// The numbers of the two parts, the lower layer first.
    of: [usize; 2],
    /// What the two parts now are or belong to.
    lying: [Slot; 2],
    sides: [usize; 2],
    parts: [&'a PartAtPlace; 2],
}

impl SeamEnds<'_> {
    /// The end at the start (or end) of the lower run, with the edges to snip along afterwards.
    fn end(&self, bench: &mut Bench<'_>, start: bool) -> Option<(End, Option<[EdgeRef; 2]>)> {
        let [a, b] = self.parts;
        let (an, bn) = (a.outline.len(), b.outline.len());
        // The lower run's start is the upper run's end.
        let (a_corner, b_corner) = if start {
            (self.sides[0], self.sides[1] + 1)
        } else {
            (self.sides[0] + 1, self.sides[1])
        };
        let (a_end, b_end) = if start {
            ((self.sides[0] + an - 1) % an, (self.sides[1] + 1) % bn)
        } else {
            ((self.sides[0] + 1) % an, (self.sides[1] + bn - 1) % bn)
        };
        let edge_of = |layer: usize, side: usize| self.named.edge(self.of[layer], side);
        let layer = |layer: usize, end: usize, outline: &Polygon, corner: usize| {
            Some(LayerEnd {
                on: self.lying[layer],
                run: edge_of(layer, self.sides[layer]),
                end: edge_of(layer, end),
                angle: inner_angle(outline, corner)?,
            })
        };
        let lower = layer(0, a_end, &a.outline, a_corner % an)?;
        let upper = layer(1, b_end, &b.outline, b_corner % bn)?;
        Some(seam_end::place(bench, lower, upper))
    }
}

/// The unit's size after sewing: across each pair of parallel sides, or else along its first side.
pub fn measure_unit(bench: &mut Bench<'_>, unit: &Polygon, of: Slot, sides: &[EdgeRun]) {
    let n = unit.len();
    let mut measured = false;
    for i in 0..n {
        let Some(line) = unit.edge(i) else { continue };
        let opposite = (i + 1..n).find(|&j| {
            unit.edge(j)
                .is_some_and(|e| e.along.dot(line.along) < 0.0 && e.along.cross(line.along).abs() < 1.0e-7)
        });
        if let Some(j) = opposite {
            let across = line.offset_of(unit.corner(j));
            // Round a hollow unit the parallel side may lie behind.
            if across <= WELD {
                continue;
            }
            let snapped = bench.settings.ruling.on_mark(across).map_or(across, Length::to_inches);
            let is = bench
                .whys
                .size(with_seams("finished across", snapped, bench.settings.seam));
            bench.step(Step::Check {
                of,
                what: Measured::Across(sides[i].clone(), sides[j].clone()),
                is,
            });
            measured = true;
        }
    }
    if !measured {
        // A triangle or a kite: its longest raw side, from raw corner to raw corner.
        let longest = (0..n)
            .map(|i| (i, unit.corner(i).distance(unit.corner(i + 1))))
            .fold((0, 0.0), |best, x| if x.1 > best.1 + WELD { x } else { best })
            .0;
        let (before, side, after) = ((longest + n - 1) % n, longest, (longest + 1) % n);
        let ends = |run: &EdgeRun| (run.0.first().copied(), run.0.last().copied());
        if let (Some(raw), (_, Some(b)), (Some(s0), Some(s1)), (Some(a), _)) = (
            shape::allowance::with_allowance(unit, bench.settings.seam_inches()),
            ends(&sides[before]),
            ends(&sides[side]),
            ends(&sides[after]),
        ) {
            let length = raw.corner(side).distance(raw.corner(side + 1));
            let is = bench.whys.size(Why::given("raw corner to raw corner", length));
            let what = Measured::Between(PointRef::Corner(corner(b, s0)), PointRef::Corner(corner(s1, a)));
            bench.step(Step::Check { of, what, is });
        }
    }
}

/// A making that only finishes what is there already.
pub fn finish(bench: &mut Bench<'_>, top: Slot, sides: Vec<EdgeRun>, up: usize) {
    let seam = bench.whys.given("seam", bench.settings.seam_inches());
    bench.step(Step::Finish {
        top,
        sides,
        up: up as u32,
        seam,
    });
}

/// The sides of a part taken whole.
pub fn sides_of(handle: &Handle, slot: Slot) -> Vec<EdgeRun> {
    handle.edges.iter().map(|&e| run(slot, e)).collect()
}
