//! Parts cut larger than their finished outline and a seam: setting triangles, whose outer sides are trimmed once all is
//! sewn together.
//!
//! Such a part has sides that lie *out* by so much beyond where they should, parallel to it. And it may be cut with corners that its
//! finished outline does not have: a side cut *level* is made when the part is sewn on, before that is opened.
//! Where a seam ends at such a side, the raw ends say nothing that a maker could go by, so the seam is placed by its other
//! end, by seams that meet, or by its middle.

use crate::bench::{Bench, corner};
use crate::ends::{EndKind, Inner, end_kind, inner_angle};
use crate::methods::sew_together::{PartAtPlace, SeamEnds, meetings};
use recipe::{EdgeRef, Keep, LineRef, Meet, Ruler, Slot, Step};
use shape::{Line, Point};

/// What of a part is cut beyond its finished outline and a seam; nothing by default.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Over {
    /// For each side how far its raw edge lies further out, in inches; empty where none does.
    pub out: Vec<f64>,
    /// For each side whether it is made by cutting level with what the part is sewn to; empty where none is.
    pub level: Vec<bool>,
}

impl Over {
    /// How far the raw edge of a side lies further out.
    pub fn out(&self, side: usize) -> f64 {
        self.out.get(side).copied().unwrap_or(0.0)
    }

    /// Whether a side is made by cutting level.
    pub fn level(&self, side: usize) -> bool {
        self.level.get(side).copied().unwrap_or(false)
    }

    /// Whether it is cut true all round.
    pub fn is_none(&self) -> bool {
        self.out.iter().all(|&out| out == 0.0) && !self.level.contains(&true)
    }
}

/// How the end of a seam is placed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reached {
    /// As the finished angles say.
    AsDrawn,
    /// By the other end; here the upper layer's raw corner runs so far ahead.
    Ahead(f64),
    /// By seams that meet.
    Joint(Meet),
    /// By the middle of both.
    Middle,
}

/// Two parts to be sewn together.
#[derive(Clone, Debug)]
pub struct Pair {
    /// The second lies below, so that the end that places comes first.
    pub swapped: bool,
    /// Their sides along the seam, the lower one's first.
    pub sides: [usize; 2],
    /// At the start and the end of the lower side.
    pub ends: [Reached; 2],
    /// Joints that meet, as the layers lie.
    pub meets: Vec<Meet>,
}

/// Raw ends this near are one, whatever is said of them.
const ALIKE: f64 = 1.0e-4;

impl Pair {
    /// How two parts are sewn along a line; `None` when they do not share it, or nothing places them.
    pub fn of(parts: [&PartAtPlace; 2], line: Line, seam: f64) -> Option<Self> {
        let sides = [parts[0].side_on(line)?, parts[1].side_on(line)?];
        let pair = Pair {
            swapped: false,
            sides,
            ends: [Reached::AsDrawn; 2],
            meets: meets(parts, sides),
        };
        if parts.iter().all(|part| part.over.is_none()) {
            return Some(pair);
        }
        let ends = [true, false].map(|start| reached(parts, sides, start, seam));
        let ends = [ends[0]?, ends[1]?];
        let out = |start: bool| {
            let side = |layer: usize| end_side(parts[layer], sides[layer], (layer == 0) == start);
            (0..2).any(|layer| parts[layer].over.out(side(layer)) > 0.0)
        };
        if out(true)
            && out(false)
            && let (Some(&first), Some(&last)) = (pair.meets.first(), pair.meets.last())
        {
            let ends = [Reached::Joint(first), Reached::Joint(last)];
            return Some(Pair { ends, ..pair });
        }
        match ends {
            [Reached::Ahead(_), Reached::Ahead(_)] => {
                let even = |layer: usize| is_even(parts[layer], sides[layer]);
                let ends = [Reached::Middle; 2];
                (even(0) && even(1)).then_some(Pair { ends, ..pair })
            }
            [Reached::Ahead(_), Reached::AsDrawn] => {
                let (parts, sides) = ([parts[1], parts[0]], [sides[1], sides[0]]);
                Some(Pair {
                    swapped: true,
                    sides,
                    ends: [reached(parts, sides, true, seam)?, reached(parts, sides, false, seam)?],
                    meets: meets(parts, sides),
                })
            }
            _ => Some(Pair { ends, ..pair }),
        }
    }
}

fn meets(parts: [&PartAtPlace; 2], sides: [usize; 2]) -> Vec<Meet> {
    let [a, b] = parts;
    let length = a.outline.corner(sides[0]).distance(a.outline.corner(sides[0] + 1));
    meetings(&a.joints[sides[0]], &b.joints[sides[1]], length)
}

/// How the end at the start (or end) of the lower side comes out: as drawn, or with one corner ahead.
fn reached(parts: [&PartAtPlace; 2], sides: [usize; 2], start: bool, seam: f64) -> Option<Reached> {
    let own = |layer: usize| (layer == 0) == start;
    let ends = [0, 1].map(|layer| end_side(parts[layer], sides[layer], own(layer)));
    let outs = [0, 1].map(|layer| parts[layer].over.out(ends[layer]));
    let level = (0..2).any(|layer| is_level(parts[layer], sides[layer], own(layer)));
    // Ends that stand out say nothing of where the finished corner is, even where both do alike.
    let as_drawn = outs == [0.0; 2];
    if as_drawn && !level {
        return Some(Reached::AsDrawn);
    }
    let line = parts[0].outline.edge(sides[0])?;
    let at = |layer: usize| Some(line.reach_of(raw_corner(parts[layer], sides[layer], ends[layer], seam)?));
    let ahead = at(1)? - at(0)?;
    Some(Reached::Ahead(if start { -ahead } else { ahead }))
}

/// The side next to one along a seam, at that one's own start or end.
fn beside(part: &PartAtPlace, side: usize, start: bool) -> usize {
    let n = part.outline.len();
    (side + if start { n - 1 } else { 1 }) % n
}

/// The side whose raw edge ends a seam at the start or end of a part's own side: the one beside it, past what is cut level
/// later.
pub fn end_side(part: &PartAtPlace, side: usize, start: bool) -> usize {
    let next = beside(part, side, start);
    if is_level(part, side, start) {
        beside(part, next, start)
    } else {
        next
    }
}

/// Whether a part is cut level at the start or end of one of its sides, and that is not done yet.
pub fn is_level(part: &PartAtPlace, side: usize, start: bool) -> bool {
    let next = beside(part, side, start);
    part.over.level(next) && !matches!(part.cut.get(next), Some(Some(_)))
}

fn angle(part: &PartAtPlace, side: usize, start: bool) -> Option<Inner> {
    inner_angle(&part.outline, (side + usize::from(!start)) % part.outline.len())
}

/// Whether a part is as much out at one end of a side as at the other.
fn is_even(part: &PartAtPlace, side: usize) -> bool {
    let out = |start| part.over.out(end_side(part, side, start));
    let (Some(a), Some(b)) = (angle(part, side, true), angle(part, side, false)) else {
        return false;
    };
    end_kind(a, b) == EndKind::Even
        && (out(true) - out(false)).abs() < ALIKE
        && is_level(part, side, true) == is_level(part, side, false)
}

/// Where a part's raw edge along a seam ends.
fn raw_corner(part: &PartAtPlace, side: usize, end: usize, seam: f64) -> Option<Point> {
    let raw = |side: usize| Some(part.outline.edge(side)?.moved_left(-seam - part.over.out(side)));
    raw(side)?.crossing(raw(end)?)
}

/// Whether parts go together along these lines.
pub fn goes_together(parts: &[PartAtPlace], seams: &[Line], seam: f64) -> bool {
    let mut pairs = parts.windows(2).zip(seams);
    parts.len() == seams.len() + 1 && pairs.all(|(pair, &line)| Pair::of([&pair[0], &pair[1]], line, seam).is_some())
}

/// An edge that cutting level made: of the lower or the upper layer, on which side of its part.
pub type Level = (usize, usize, EdgeRef);

/// Cuts what is to be cut level with the other layer's ends, before the stack is opened; with what the stack then is.
pub fn cut_level(bench: &mut Bench<'_>, joint: &SeamEnds<'_>, mut stack: Slot) -> (Vec<Level>, Slot) {
    let mut made = Vec::new();
    for start in [true, false] {
        for layer in [0, 1] {
            let (part, side, own) = (joint.parts[layer], joint.sides[layer], (layer == 0) == start);
            if !is_level(part, side, own) {
                continue;
            }
            let run = joint.edge(layer, side);
            let tip = |start: bool| {
                let end = joint.edge(layer, joint.end_side(layer, start));
                if (layer == 0) == start {
                    corner(end, run)
                } else {
                    corner(run, end)
                }
            };
            let at = bench.whys.given("flush", 0.0);
            let other = 1 - layer;
            let line = LineRef::Edge(joint.edge(other, joint.end_side(other, start)));
            let into = bench.slot();
            bench.step(Step::CutApart {
                stack,
                line: Ruler::Beside {
                    line,
                    at,
                    toward: tip(start),
                },
                keep: vec![Keep {
                    corner: tip(!start),
                    into,
                }],
                offcut: vec![tip(start)],
            });
            stack = into;
            let edge = EdgeRef {
                of: into,
                edge: layer as u32,
            };
            made.push((layer, beside(part, side, own), edge));
        }
    }
    (made, stack)
}
