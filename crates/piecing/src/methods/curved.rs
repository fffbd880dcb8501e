//! Curved seams: two parts joined along one smooth curve, pinned at the marks printed on their templates. The piece that bends
//! inward lies on top, so that its edge can be eased in.

use super::sew_together::{NoCommonSide, PartAtPlace};
use crate::bench::{Bench, edge};
use crate::bow::{length, marks};
use crate::ends::inner_angle;
use crate::set_in::Leg;
use recipe::{EdgeRef, EdgeRun, Lay, Meet, Press, Slot, Step};
use shape::{Line, Point, WELD};

/// As near as the table asks marks to lie to a curve, and as far apart as two dots must be to be two (see docs/recipe.md).
const ON_CURVE: f64 = 1.0 / 64.0;
const ONE_DOT: f64 = 1.0 / 16.0;

/// Marks of both sides that are drawn as one place lie no further apart than this along the curve.
const SAME: f64 = 1.0e-3;

/// Where two angles together are narrower than this (degrees), raw tips stick out past the edges beside them.
const TIPS: f64 = 172.0;

/// One part along the curve, its own way round.
struct Along {
    slot: Slot,
    /// The straights of its outline.
    straights: Vec<usize>,
    /// The finished chain.
    places: Vec<Point>,
    edges: Vec<EdgeRef>,
    /// Its marks along the chain, as the table counts them.
    marks: Vec<f64>,
}

impl Along {
    fn of(part: &PartAtPlace, slot: Slot, from: Point, to: Point, seam: f64) -> Option<Self> {
        let n = part.outline.len();
        let near = |i: usize, p: Point| part.outline.corner(i).distance(p) < 2.0 * WELD;
        // A part may meet a corner twice; the chain begins with one of the curve's own straights or one before it.
        let starts = (0..n).filter(|&i| near(i, from));
        let straights: Vec<usize> = starts
            .map(|i| {
                let count = (1..n).find(|&k| near(i + k, to)).unwrap_or(0);
                (0..count).map(|k| (i + k) % n).collect::<Vec<_>>()
            })
            .filter(|s| s.iter().any(|&i| part.bows[i]))
            .min_by_key(Vec::len)?;
        let mut places: Vec<Point> = straights.iter().map(|&i| part.outline.corner(i)).collect();
        places.push(part.outline.corner(straights.last()? + 1));
        let mut edges: Vec<EdgeRef> = straights.iter().map(|&i| edge(slot, part.handle.edges[i])).collect();
        edges.dedup();
        let mut along = Along {
            slot,
            straights,
            places,
            edges,
            marks: Vec::new(),
        };
        along.marks = along.marks_of(part, seam);
        Some(along)
    }

    /// The marks printed on the patches along it, as places along it in order.
    fn marks_of(&self, part: &PartAtPlace, seam: f64) -> Vec<f64> {
        let n = part.outline.len();
        let past = |corner: usize| {
            let half = inner_angle(&part.outline, corner % n).map_or(90.0, |a| a.degrees()) / 2.0;
            let tip = 1.0 / libm::tan(half.to_radians()).max(1.0e-6);
            seam * (4.0 + tip.clamp(0.0, 4.0))
        };
        let ends = self.straights.first().zip(self.straights.last());
        let Some((&first, &last)) = ends else { return Vec::new() };
        let (before, after) = (past(first), past(last + 1));
        let mut found: Vec<f64> = Vec::new();
        for (outline, bows) in &part.bowed {
            let has = |a: Point, b: Point| {
                (0..outline.len()).any(|i| {
                    bows[i] && outline.corner(i).distance(a) < WELD && outline.corner(i + 1).distance(b) < WELD
                })
            };
            if !self.places.windows(2).any(|w| has(w[0], w[1])) {
                continue;
            }
            let marks = marks(outline, bows)
                .into_iter()
                .map(|mark| self.nearest(mark, before, after));
            found.extend(marks.filter(|(_, off)| *off <= ON_CURVE).map(|(reach, _)| reach));
        }
        found.sort_by(f64::total_cmp);
        let mut last = f64::NEG_INFINITY;
        found.retain(|&reach| {
            let new = reach - last >= ONE_DOT;
            last = reach;
            new
        });
        found
    }

    /// The nearest place of the chain, straight on beyond its ends: how far along, and how far off.
    fn nearest(&self, p: Point, before: f64, after: f64) -> (f64, f64) {
        let mut best = (0.0, f64::INFINITY);
        let mut start = 0.0;
        let count = self.places.len() - 1;
        for (i, w) in self.places.windows(2).enumerate() {
            let straight = w[0].distance(w[1]);
            if let Some(line) = Line::between(w[0], w[1]) {
                let low = if i == 0 { -before } else { 0.0 };
                let high = straight + if i + 1 == count { after } else { 0.0 };
                let reach = line.reach_of(p).clamp(low, high);
                let off = line.at(reach).distance(p);
                if off < best.1 {
                    best = (start + reach, off);
                }
            }
            start += straight;
        }
        best
    }

    /// How much it turns to the left in all: more than nothing where its cloth bulges out.
    fn turn(&self) -> f64 {
        let ways: Vec<_> = self.places.windows(2).filter_map(|w| (w[1] - w[0]).unit()).collect();
        ways.windows(2).map(|w| w[0].cross(w[1])).sum()
    }
}

/// Sews the second part to the first along a curve, and gives the opened work.
///
/// # Errors
/// When the parts do not share the curve that the plan says they share.
pub fn write(
    bench: &mut Bench<'_>,
    parts: [&PartAtPlace; 2],
    slots: [Slot; 2],
    leg: Leg,
    press: Press,
) -> Result<Slot, NoCommonSide> {
    let seam = bench.settings.seam_inches();
    let first = Along::of(parts[0], slots[0], leg.from, leg.to, seam).ok_or(NoCommonSide)?;
    let second = Along::of(parts[1], slots[1], leg.to, leg.from, seam).ok_or(NoCommonSide)?;
    let mut snip = Vec::new();
    for at_start in [true, false] {
        snip.extend(tips(parts, [&first, &second], at_start).into_iter().flatten());
    }
    let (lower, upper) = if first.turn() >= 0.0 {
        (first, second)
    } else {
        (second, first)
    };
    let whole = length(&lower.places);
    let mut pins: Vec<Meet> = Vec::new();
    for (a, reach) in lower.marks.iter().enumerate() {
        let on = *reach > -SAME && *reach < whole + SAME;
        let b = (upper.marks.iter()).position(|theirs| on && (reach - (whole - theirs)).abs() < SAME);
        pins.extend(b.map(|b| Meet {
            a: a as u32,
            b: b as u32,
        }));
    }
    let at = |pin: Option<&Meet>| pin.map_or(f64::NAN, |pin| lower.marks[pin.a as usize]);
    let (begins, ends) = (at(pins.first()), at(pins.last()));
    if pins.len() < 2 || begins.abs() > SAME || (ends - whole).abs() > SAME {
        return Err(NoCommonSide);
    }
    let how = Lay::Curve {
        a: EdgeRun(lower.edges),
        b: EdgeRun(upper.edges),
        pins,
    };
    let work = bench.sew(lower.slot, upper.slot, how, press, false);
    if !snip.is_empty() {
        bench.step(Step::Snip { of: work, along: snip });
    }
    Ok(work)
}

/// The edges beside an end of the seam, where raw tips stick out past them.
fn tips(parts: [&PartAtPlace; 2], along: [&Along; 2], at_start: bool) -> Option<[EdgeRef; 2]> {
    let mut edges = Vec::new();
    let mut angles = 0.0;
    for (layer, (part, along)) in parts.into_iter().zip(along).enumerate() {
        let n = part.outline.len();
        // The second part's curve runs the other way.
        let (corner, beside) = if (layer == 0) == at_start {
            let first = *along.straights.first()?;
            (first, (first + n - 1) % n)
        } else {
            let after = (along.straights.last()? + 1) % n;
            (after, after)
        };
        angles += inner_angle(&part.outline, corner)?.degrees();
        edges.push(edge(along.slot, part.handle.edges[beside]));
    }
    let [a, b] = edges[..] else { return None };
    (angles < TIPS).then_some([a, b])
}
