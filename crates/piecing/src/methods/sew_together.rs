//! Plain piecing: parts sewn one after another along through seams, and the ends of each seam placed by what a maker
//! can see.

use super::{setting_triangles, sides, slanted_strip};
use crate::bench::{Bench, Handle, corner, edge, run, seam};
use crate::ends::inner_angle;
use crate::over::{self, Over, Pair, Reached};
use crate::seam_end::{self, LayerEnd};
use crate::whys::with_seams;
use design::LaidBy;
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
    /// What of it is cut beyond its finished outline and a seam.
    pub over: Over,
    /// Edges that came of cutting it level with what it is sewn to, by side.
    pub cut: Vec<Option<EdgeRef>>,
}

impl PartAtPlace {
    /// The edge on one of its sides, `slot` being what it was taken as.
    pub fn edge(&self, slot: Slot, side: usize) -> EdgeRef {
        match self.cut.get(side) {
            Some(Some(cut)) => *cut,
            _ => edge(slot, self.handle.edges[side]),
        }
    }

    /// The side that lies along a line.
    pub fn side_on(&self, line: Line) -> Option<usize> {
        (0..self.outline.len()).find(|&i| {
            line.offset_of(self.outline.corner(i)).abs() < 2.0 * WELD
                && line.offset_of(self.outline.corner(i + 1)).abs() < 2.0 * WELD
        })
    }
}

/// What could not be written: the parts do not share the seam that the plan says they share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoCommonSide;

/// Sews the parts in order, each to the one before along `seams[i]`, its layers placed as `laid_by` says, and says where
/// their sides end up on the unit's outline; and which seams could not be laid so.
pub fn write(
    bench: &mut Bench<'_>,
    unit: &Polygon,
    parts: &[PartAtPlace],
    seams: &[Line],
    ways: &[Press],
    laid_by: &[LaidBy],
) -> Result<(Vec<Give>, Vec<usize>), NoCommonSide> {
    let sewn = join(bench, parts, seams, ways, laid_by)?;
    let sides = sides::round(unit, &sewn.parts, &sewn.slots)?;
    let exact: Vec<bool> = (0..unit.len())
        .map(|side| !unit.edge(side).is_some_and(|line| sewn.reaches_over(line)))
        .collect();
    measure_exact(bench, unit, sewn.work, &sides, &exact);
    // What is trimmed later is trimmed by its seams.
    let named = exact.contains(&false);
    let give = Give {
        slot: sewn.work,
        sides,
        seams: sewn.opened.iter().filter(|_| named).map(|&slot| seam(slot)).collect(),
    };
    Ok((vec![give], sewn.otherwise))
}

/// Parts sewn to one another.
#[derive(Clone, Debug)]
pub struct Joined {
    /// All of them.
    pub work: Slot,
    /// The parts, their edges as they now are.
    pub parts: Vec<PartAtPlace>,
    /// What each was taken as.
    pub slots: Vec<Slot>,
    /// What opening each seam made.
    pub opened: Vec<Slot>,
    /// The seams whose layers could not be placed as asked.
    pub otherwise: Vec<usize>,
}

impl Joined {
    /// Whether a part on this line is cut beyond it.
    fn reaches_over(&self, line: Line) -> bool {
        let over = |part: &PartAtPlace| {
            let side = part.side_on(line);
            side.is_some_and(|side| part.over.out(side) > 0.0 && part.cut[side].is_none())
        };
        self.parts.iter().any(over)
    }
}

/// Sews the parts in order, each to the one before along `seams[i]`.
///
/// # Errors
/// Two parts that share no side along their seam, or whose ends nothing that a maker can see would place.
pub fn join(
    bench: &mut Bench<'_>,
    parts: &[PartAtPlace],
    seams: &[Line],
    ways: &[Press],
    laid_by: &[LaidBy],
) -> Result<Joined, NoCommonSide> {
    let mut otherwise = Vec::new();
    let slots: Vec<Slot> = parts.iter().map(|p| bench.take(p.handle.take.clone())).collect();
    for (part, &slot) in parts.iter().zip(&slots).filter(|(part, _)| !part.over.is_none()) {
        setting_triangles::measure_corner(bench, part, slot);
        slanted_strip::measure_standing_out(bench, part, slot);
    }
    let mut parts = parts.to_vec();
    let (mut work, mut opened) = (slots[0], Vec::with_capacity(seams.len()));
    for (i, &line) in seams.iter().enumerate() {
        let pair = Pair::of([&parts[i], &parts[i + 1]], line, bench.settings.seam_inches()).ok_or(NoCommonSide)?;
        // The layer that lies below is the one whose seam begins at the end that places.
        let (low, high) = if pair.swapped { (i + 1, i) } else { (i, i + 1) };
        let lying = |part: usize| if part == i { work } else { slots[part] };
        let (a, b) = (&parts[low], &parts[high]);
        let joint = SeamEnds {
            slots: [slots[low], slots[high]],
            lying: [lying(low), lying(high)],
            sides: pair.sides,
            parts: [a, b],
        };
        let (first, snip_first) = joint.end(bench, true, &pair.ends[0]).ok_or(NoCommonSide)?;
        let (last, snip_last) = joint.end(bench, false, &pair.ends[1]).ok_or(NoCommonSide)?;
        let square = |end: &End| matches!(end, End::Even { .. });
        let first = match (laid_by.get(i), pair.meets.first()) {
            (None | Some(LaidBy::Ends), _) => first,
            (Some(LaidBy::Seams), Some(&meet)) => End::Match(meet),
            (Some(LaidBy::Middle), _) if square(&first) && square(&last) => End::Centre,
            _ => {
                otherwise.push(i);
                first
            }
        };
        let laid = Lay::Edges {
            a: EdgeRun(vec![a.edge(slots[low], pair.sides[0])]),
            b: EdgeRun(vec![b.edge(slots[high], pair.sides[1])]),
            first,
            last,
            meets: pair.meets.clone(),
        };
        let press = ways.get(i).copied().unwrap_or(Press::TowardUpper);
        let press = match press {
            Press::TowardUpper if pair.swapped => Press::TowardLower,
            Press::TowardLower if pair.swapped => Press::TowardUpper,
            as_it_is => as_it_is,
        };
        let stack = bench.lay_and_sew(lying(low), lying(high), laid, false);
        let whole = stack;
        let (level, stack) = over::cut_level(bench, &joint, stack);
        // A stack that was cut level is whole no more, and is not spun.
        let press = if stack != whole && press.is_spun() {
            Press::TowardUpper
        } else {
            press
        };
        work = bench.slot();
        bench.step(Step::Open {
            stack,
            press,
            into: work,
        });
        opened.push(work);
        for (layer, side, cut) in level {
            parts[[low, high][layer]].cut[side] = Some(cut);
        }
        let along: Vec<EdgeRef> = snip_first.into_iter().chain(snip_last).flatten().collect();
        if !along.is_empty() {
            bench.step(Step::Snip { of: work, along });
        }
    }
    Ok(Joined {
        work,
        parts,
        slots,
        opened,
        otherwise,
    })
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

/// Two parts about to be sewn together, the lower one first.
pub struct SeamEnds<'a> {
    /// Where the two parts' edges were born.
    pub slots: [Slot; 2],
    /// What the two parts now are or belong to.
    pub lying: [Slot; 2],
    /// Their sides along the seam.
    pub sides: [usize; 2],
    /// The parts.
    pub parts: [&'a PartAtPlace; 2],
}

impl SeamEnds<'_> {
    /// The edge on a side of a layer.
    pub fn edge(&self, layer: usize, side: usize) -> EdgeRef {
        self.parts[layer].edge(self.slots[layer], side)
    }

    /// The side of a layer whose raw edge ends the seam at the start (or end) of the lower run, which is the end (or start) of
    /// the upper one.
    pub fn end_side(&self, layer: usize, start: bool) -> usize {
        over::end_side(self.parts[layer], self.sides[layer], (layer == 0) == start)
    }

    /// The end at the start (or end) of the lower run, with the edges to snip along afterwards.
    pub fn end(&self, bench: &mut Bench<'_>, start: bool, reached: &Reached) -> Option<(End, Option<Vec<EdgeRef>>)> {
        let ends = [self.end_side(0, start), self.end_side(1, start)];
        let [a, b] = [self.edge(0, ends[0]), self.edge(1, ends[1])];
        match reached {
            Reached::AsDrawn => {
                let layer = |layer: usize| {
                    let outline = &self.parts[layer].outline;
                    let corner = self.sides[layer] + usize::from((layer == 0) != start);
                    Some(LayerEnd {
                        on: self.lying[layer],
                        run: self.edge(layer, self.sides[layer]),
                        end: self.edge(layer, ends[layer]),
                        angle: inner_angle(outline, corner % outline.len())?,
                    })
                };
                let (end, snip) = seam_end::place(bench, layer(0)?, layer(1)?);
                Some((end, snip.map(Vec::from)))
            }
            Reached::Ahead(by) => {
                let by = bench.whys.given("how far the larger corner runs ahead", *by);
                Some((End::Overhang { a, b, by }, self.tips(ends, start)))
            }
            Reached::Joint(meet) => Some((End::Match(*meet), None)),
            Reached::Middle => Some((End::Centre, self.tips(ends, start))),
        }
    }

    /// Where one layer is cut true at an end and the other is not, the edge with which the other's tip is snipped level; none where
    /// what runs over is cut level or trimmed flush.
    fn tips(&self, ends: [usize; 2], start: bool) -> Option<Vec<EdgeRef>> {
        let [_lower, _upper] = self.parts;
        let level = |layer: usize| over::is_level(self.parts[layer], self.sides[layer], (layer == 0) == start);
        if level(0) || level(1) {
            return None;
        }
        let true_cut = [0, 1]
            .into_iter()
            .filter(|&layer| self.parts[layer].over.out(ends[layer]) == 0.0);
        Some(true_cut.map(|layer| self.edge(layer, ends[layer])).collect())
    }
}

/// The unit's size after sewing: across each pair of parallel sides, or else along its first side.
pub fn measure_unit(bench: &mut Bench<'_>, unit: &Polygon, of: Slot, sides: &[EdgeRun]) {
    measure_exact(bench, unit, of, sides, &vec![true; unit.len()]);
}

/// The same between those of its sides that are cut true.
fn measure_exact(bench: &mut Bench<'_>, unit: &Polygon, of: Slot, sides: &[EdgeRun], exact: &[bool]) {
    let n = unit.len();
    let mut measured = false;
    for i in 0..n {
        let Some(line) = unit.edge(i) else { continue };
        let opposite = (i + 1..n).find(|&j| {
            unit.edge(j)
                .is_some_and(|e| e.along.dot(line.along) < 0.0 && e.along.cross(line.along).abs() < 1.0e-7)
        });
        if let Some(j) = opposite.filter(|&j| exact[i] && exact[j]) {
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
    if !measured && exact.iter().all(|&exact| exact) {
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
