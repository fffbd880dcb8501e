//! Set-in seams: two parts joined along edges that turn, with the needle down in a dot at each turn. Where the joined work
//! has a hollow corner, the stitches stop in a dot as well, so that the next part can be set in.

use super::sew_together::{NoCommonSide, PartAtPlace, measure_unit, meetings};
use super::{curved, sides};
use crate::bench::{Bench, edge};
use crate::class::Class;
use crate::ends::{Inner, inner_angle};
use crate::seam_end::{LayerEnd, dots, place};
use crate::set_in::{FLAT, Leg, side_between};
use recipe::{EdgeRef, EdgeRun, End, Give, Lay, Path, Press, Slot, Step, Stop};

/// Half of what the table allows between one raw edge of a run and the next (see docs/recipe.md).
const TOGETHER: f64 = 1.0 / 128.0;

/// Sews the second part to the first along the legs.
///
/// # Errors
/// When the parts do not share the edges that the plan says they share.
pub fn write(
    bench: &mut Bench<'_>,
    unit: &Class,
    parts: &[PartAtPlace],
    legs: &[Leg],
    press: Press,
) -> Result<Vec<Give>, NoCommonSide> {
    let [first, second] = parts else {
        return Err(NoCommonSide);
    };
    let slots: Vec<Slot> = parts.iter().map(|p| bench.take(p.handle.take.clone())).collect();
    if let [leg] = legs
        && leg.curved
    {
        let work = curved::write(bench, [first, second], [slots[0], slots[1]], *leg, press)?;
        return given(bench, unit, parts, &slots, work);
    }
    let pair = Pair {
        parts: [first, second],
        slots: [slots[0], slots[1]],
    };
    let by = bench.whys.given("seam", bench.settings.seam_inches());
    let stack = bench.slot();
    let mut snip: Vec<EdgeRef> = Vec::new();
    let mut turned: Option<End> = None;
    let (mut placed, mut sewn) = (Vec::new(), Vec::new());
    for (k, leg) in legs.iter().enumerate() {
        let a = side_between(&first.outline, leg.from, leg.to).ok_or(NoCommonSide)?;
        let b = side_between(&second.outline, leg.to, leg.from).ok_or(NoCommonSide)?;
        let (begin, from) = match turned.take() {
            Some(end) => (end, Stop::Dot),
            None => pair.end(bench, a, b, true, &mut snip)?,
        };
        let (end, to) = if k + 1 < legs.len() {
            let (lower, upper) = pair.layers(a, b, false)?;
            let end = dots(bench, lower, upper);
            turned = Some(end.clone());
            (end, Stop::Dot)
        } else {
            pair.end(bench, a, b, false, &mut snip)?
        };
        let length = leg.from.distance(leg.to);
        let meets = meetings(&first.joints[a], &second.joints[b], length);
        placed.push((pair.edge(0, a), pair.edge(1, b), begin, end, meets));
        sewn.push(Path::Beside { by, from, to });
    }
    // All dots are drawn first, while the pieces lie flat.
    for (k, ((a, b, first, last, meets), path)) in placed.into_iter().zip(sewn).enumerate() {
        let (a, b) = (EdgeRun(vec![a]), EdgeRun(vec![b]));
        bench.step(if k == 0 {
            Step::Lay {
                a: slots[0],
                b: slots[1],
                how: Lay::Edges {
                    a,
                    b,
                    first,
                    last,
                    meets,
                },
                into: stack,
            }
        } else {
            Step::Pivot {
                stack,
                a,
                b,
                first,
                last,
                meets,
            }
        });
        bench.step(Step::Sew {
            stack,
            path,
            join: false,
        });
    }
    let work = bench.slot();
    bench.step(Step::Open {
        stack,
        press,
        into: work,
    });
    if !snip.is_empty() {
        bench.step(Step::Snip { of: work, along: snip });
    }
    given(bench, unit, parts, &slots, work)
}

/// The finished work, measured, with its sides.
fn given(
    bench: &mut Bench<'_>,
    unit: &Class,
    parts: &[PartAtPlace],
    slots: &[Slot],
    work: Slot,
) -> Result<Vec<Give>, NoCommonSide> {
    let sides = if unit.is_bowed() {
        sides::round_bowed(&unit.outline, &unit.bows, &unit.sides, parts, slots)?
    } else {
        let sides = sides::round(&unit.outline, parts, slots)?;
        measure_unit(bench, &unit.outline, work, &sides);
        sides
    };
    Ok(vec![Give {
        slot: work,
        sides,
        seams: Vec::new(),
    }])
}

struct Pair<'a> {
    parts: [&'a PartAtPlace; 2],
    slots: [Slot; 2],
}

impl Pair<'_> {
    fn edge(&self, layer: usize, side: usize) -> EdgeRef {
        edge(self.slots[layer], self.parts[layer].handle.edges[side])
    }

    /// Both layers at the start or the end of a leg on these sides.
    fn layers(&self, a: usize, b: usize, start: bool) -> Result<(LayerEnd, LayerEnd), NoCommonSide> {
        let layer = |layer: usize, side: usize, start: bool| {
            let outline = &self.parts[layer].outline;
            let n = outline.len();
            // A leg's start lies at the start of the lower side and at the end of the upper one.
            let (corner, end) = if start {
                (side, (side + n - 1) % n)
            } else {
                ((side + 1) % n, (side + 1) % n)
            };
            Ok(LayerEnd {
                on: self.slots[layer],
                run: self.edge(layer, side),
                end: self.edge(layer, end),
                angle: inner_angle(outline, corner).ok_or(NoCommonSide)?,
            })
        };
        Ok((layer(0, a, start)?, layer(1, b, !start)?))
    }

    /// An outer end of the whole seam.
    fn end(
        &self,
        bench: &mut Bench<'_>,
        a: usize,
        b: usize,
        start: bool,
        snip: &mut Vec<EdgeRef>,
    ) -> Result<(End, Stop), NoCommonSide> {
        let (lower, upper) = self.layers(a, b, start)?;
        let bowed = |layer: usize, side: usize, start: bool| {
            let n = self.parts[layer].bows.len();
            let beside = if start { side + n - 1 } else { side + 1 };
            self.parts[layer].bows[beside % n]
        };
        // Where a curve runs on across the seam its straights turn a little.
        let across = bowed(0, a, start) || bowed(1, b, !start);
        let flat = lower.angle.degrees() + upper.angle.degrees() <= FLAT;
        if leaves_a_hollow(lower.angle, upper.angle) && !(across && flat) {
            return Ok((dots(bench, lower, upper), Stop::Dot));
        }
        let (end, level) = place(bench, lower, upper);
        // Where a curve goes on across the seam both raw edges meet it in one place, and nothing stands past them; a cut along a
        // hollow curve would take what lies further along it.
        if !(across && meet_on_the_fold(lower.angle, upper.angle, bench.settings.seam_inches())) {
            snip.extend(level.into_iter().flatten());
        }
        Ok((end, Stop::Raw))
    }
}

/// Whether the raw edges beside a seam of that width come to its fold in one place, near enough that the edge runs on: each is as far
/// from the finished corner as the seam over the sine of its angle (*derived*).
fn meet_on_the_fold(a: Inner, b: Inner, seam: f64) -> bool {
    let reach = |angle: Inner| seam / libm::sin(angle.degrees().to_radians()).max(1.0e-6);
    (reach(a) - reach(b)).abs() <= TOGETHER
}

/// Whether two corners side by side make more than a straight line.
fn leaves_a_hollow(a: Inner, b: Inner) -> bool {
    a.degrees() + b.degrees() > 180.0 + 1.0e-3
}
