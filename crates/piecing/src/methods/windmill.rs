//! Partial seams: parts round a middle. The first arm is sewn to the middle only half way, the others one after another,
//! each along the middle and the end of the arm before; then the first seam is closed.

use super::sew_together::{NoCommonSide, PartAtPlace, measure_unit, meetings};
use super::sides;
use crate::bench::{Bench, edge, seam};
use crate::ends::inner_angle;
use crate::seam_end::{LayerEnd, place};
use crate::set_in::side_between;
use crate::windmill::Blade;
use measure::{Way, Why};
use recipe::{EdgeRef, EdgeRun, End, Give, Lay, Path, Press, Size, Slot, Step, Stop};
use shape::{Line, Point, Polygon};

/// Sews the arms round the middle (the first of `parts`), each arm's seam pressed its way.
///
/// # Errors
/// When the parts do not lie along the blades as the plan says.
pub fn write(
    bench: &mut Bench<'_>,
    unit: &Polygon,
    parts: &[PartAtPlace],
    blades: &[Blade],
    ways: &[Press],
) -> Result<Vec<Give>, NoCommonSide> {
    let slots: Vec<Slot> = parts.iter().map(|p| bench.take(p.handle.take.clone())).collect();
    let mill = Mill::of(parts, &slots, blades)?;
    let by = bench.whys.given("seam", bench.settings.seam_inches());
    let mut snip: Vec<EdgeRef> = Vec::new();
    let way = |i: usize| ways.get(i).copied().unwrap_or(Press::TowardUpper);
    let mut work = slots[0];
    let mut begun = work;
    for i in 0..blades.len() {
        let arm = slots[i + 1];
        let inner = mill.inner_end(bench, i, work, &mut snip)?;
        let (outer, stop) = if i == 0 {
            (End::Open, Stop::At(mill.half_way(bench)))
        } else {
            (mill.outer_end(bench, i, work, arm, &mut snip)?, Stop::Raw)
        };
        let meets = if i == 0 { Vec::new() } else { mill.meets(i) };
        // Going round with the cloth on the left, a run ends at its inner end, or in the other hand begins there.
        let (first, last, from, to) = if mill.forward {
            (outer, inner, stop, Stop::Raw)
        } else {
            (inner, outer, Stop::Raw, stop)
        };
        let stack = bench.slot();
        bench.step(Step::Lay {
            a: work,
            b: arm,
            how: Lay::Edges {
                a: mill.lower_run(i, i > 0),
                b: EdgeRun(vec![mill.blade_edge(i)]),
                first,
                last,
                meets,
            },
            into: stack,
        });
        bench.step(Step::Sew {
            stack,
            path: Path::Beside { by, from, to },
            join: false,
        });
        work = bench.slot();
        bench.step(Step::Open {
            stack,
            press: way(i),
            into: work,
        });
        if i == 0 {
            begun = work;
        }
    }
    let end = mill.outer_end(bench, 0, work, work, &mut snip)?;
    let closed = bench.slot();
    bench.step(Step::Close {
        work,
        seam: seam(begun),
        a: mill.lower_run(0, true),
        b: EdgeRun(vec![mill.blade_edge(0)]),
        end,
        meets: Vec::new(),
        press: way(0),
        into: closed,
    });
    if !snip.is_empty() {
        bench.step(Step::Snip {
            of: closed,
            along: snip,
        });
    }
    let sides = sides::round(unit, parts, &slots)?;
    measure_unit(bench, unit, closed, &sides);
    Ok(vec![Give {
        slot: closed,
        sides,
        seams: Vec::new(),
    }])
}

/// The sides of all parts along the blades.
struct Mill<'a> {
    parts: &'a [PartAtPlace],
    slots: &'a [Slot],
    blades: &'a [Blade],
    /// The middle's outline runs along each blade toward its end.
    forward: bool,
    /// Side of the middle on blade `i`.
    middle: Vec<usize>,
    /// Side of arm `i` on its own blade, and on the next.
    arms: Vec<(usize, usize)>,
}

impl<'a> Mill<'a> {
    fn of(parts: &'a [PartAtPlace], slots: &'a [Slot], blades: &'a [Blade]) -> Result<Self, NoCommonSide> {
        let n = blades.len();
        if parts.len() != n + 1 || n < 3 {
            return Err(NoCommonSide);
        }
        let line = Line::between(blades[0].near, blades[0].end).ok_or(NoCommonSide)?;
        let forward = line.offset_of(parts[0].outline.centroid()) > 0.0;
        let between = |part: usize, from: Point, to: Point| {
            let (from, to) = if forward { (from, to) } else { (to, from) };
            side_between(&parts[part].outline, from, to).ok_or(NoCommonSide)
        };
        let (mut middle, mut arms) = (Vec::new(), Vec::new());
        for (i, blade) in blades.iter().enumerate() {
            let next = &blades[(i + 1) % n];
            middle.push(between(0, blade.near, blade.end)?);
            arms.push((
                between(i + 1, blade.end, blade.outer)?,
                between(i + 1, next.outer, blade.end)?,
            ));
        }
        Ok(Mill {
            parts,
            slots,
            blades,
            forward,
            middle,
            arms,
        })
    }

    fn edge(&self, part: usize, side: usize) -> EdgeRef {
        edge(self.slots[part], self.parts[part].handle.edges[side])
    }

    /// Arm `i`'s edge on its own blade.
    fn blade_edge(&self, i: usize) -> EdgeRef {
        self.edge(i + 1, self.arms[i].0)
    }

    /// The arm before arm `i`.
    fn before(&self, i: usize) -> usize {
        (i + self.blades.len() - 1) % self.blades.len()
    }

    /// The middle's edge on blade `i`, with the end of the arm before.
    fn lower_run(&self, i: usize, with_arm: bool) -> EdgeRun {
        let mut run = vec![self.edge(0, self.middle[i])];
        if with_arm {
            let before = self.before(i);
            run.insert(0, self.edge(before + 1, self.arms[before].1));
        }
        if !self.forward {
            run.reverse();
        }
        EdgeRun(run)
    }

    /// One layer at one end of a side: at the end toward which the outline runs, or the other.
    fn layer(&self, on: Slot, part: usize, side: usize, at_end: bool) -> Result<LayerEnd, NoCommonSide> {
        let outline = &self.parts[part].outline;
        let n = outline.len();
        let (corner, end) = if at_end {
            ((side + 1) % n, (side + 1) % n)
        } else {
            (side, (side + n - 1) % n)
        };
        Ok(LayerEnd {
            on,
            run: self.edge(part, side),
            end: self.edge(part, end),
            angle: inner_angle(outline, corner).ok_or(NoCommonSide)?,
        })
    }

    /// Where blade `i` ends on the next.
    fn inner_end(
        &self,
        bench: &mut Bench<'_>,
        i: usize,
        work: Slot,
        snip: &mut Vec<EdgeRef>,
    ) -> Result<End, NoCommonSide> {
        let lower = self.layer(work, 0, self.middle[i], self.forward)?;
        let upper = self.layer(self.slots[i + 1], i + 1, self.arms[i].0, !self.forward)?;
        let (end, level) = place(bench, lower, upper);
        snip.extend(level.into_iter().flatten());
        Ok(end)
    }

    /// Where blade `i` meets the outline.
    fn outer_end(
        &self,
        bench: &mut Bench<'_>,
        i: usize,
        lower_on: Slot,
        upper_on: Slot,
        snip: &mut Vec<EdgeRef>,
    ) -> Result<End, NoCommonSide> {
        let before = self.before(i);
        let lower = self.layer(lower_on, before + 1, self.arms[before].1, !self.forward)?;
        let upper = self.layer(upper_on, i + 1, self.arms[i].0, self.forward)?;
        let (end, level) = place(bench, lower, upper);
        snip.extend(level.into_iter().flatten());
        Ok(end)
    }

    /// How far the first seam is sewn before it is left: half of the middle's raw edge, at least two seams.
    fn half_way(&self, bench: &mut Bench<'_>) -> Size {
        let (settings, blade) = (bench.settings, self.blades[0]);
        let raw = blade.near.distance(blade.end) + 2.0 * settings.seam_inches();
        let half = Why::given("middle's raw edge", raw).times(1, 1, 2).named("half of it");
        let half = half.to_mark(settings.ruling.mark(), Way::Nearest);
        let least = Why::given("seam", settings.seam_inches())
            .times(2, 1, 1)
            .named("two seams");
        let enough = half.length() >= least.length();
        bench.whys.size(if enough { half } else { least })
    }

    /// Joints of the middle and the arm before that lie on joints of arm `i`.
    fn meets(&self, i: usize) -> Vec<recipe::Meet> {
        let (before, blade) = (self.before(i), self.blades[i]);
        let arm_end = &self.parts[before + 1].joints[self.arms[before].1];
        let middle = &self.parts[0].joints[self.middle[i]];
        let (arm_length, middle_length) = (blade.outer.distance(blade.near), blade.near.distance(blade.end));
        // Along the lower run, from its start: the two edges' own joints and the one between them.
        let mut lower = Vec::new();
        let (first, first_length, second) = if self.forward {
            (arm_end, arm_length, middle)
        } else {
            (middle, middle_length, arm_end)
        };
        lower.extend(first.iter().copied());
        lower.push(first_length);
        lower.extend(second.iter().map(|j| first_length + j));
        let upper = &self.parts[i + 1].joints[self.arms[i].0];
        meetings(&lower, upper, arm_length + middle_length)
    }
}
