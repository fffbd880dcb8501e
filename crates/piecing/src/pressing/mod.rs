//! Pressing: which way each seam of a unit goes, once for each kind of unit.
//!
//! A seam goes away from bulk (toward the part with fewer seams running into it), else toward the darker cloth, so that
//! it does not show through. Where two seams meet they should lie opposite ways and nest: each seam of each kind of unit
//! may turn round, and seams that meet are set against one another ([`balance`]); what cannot nest is counted, and so is
//! how many could at most. Where a unit meets its own like, some of its instances are pressed out: all of their seams,
//! and their parts' seams, the other way, which leaves every meeting within them as it was. That makes a second making of
//! the unit, so it is done only where more meetings nest by it.

mod balance;
mod in_and_out;

use crate::class::{ClassId, Placed};
use crate::plan::{Making, Plan, Planner};
use crate::settings::Settings;
use crate::tokens::Content;
use balance::Balance;
use recipe::Press;
use shape::{Line, Polygon, WELD};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// What was decided.
#[derive(Debug, Default)]
pub struct Pressing {
    /// For each kind of unit sewn together from parts, the way of each of its seams.
    pub ways: BTreeMap<ClassId, Vec<Press>>,
    /// How often two seams meet in the whole top.
    pub meetings: u64,
    /// How many of these nest.
    pub nesting: u64,
    /// No choice nests more than so many: proved, and equal to `nesting` where that is the best there is.
    pub at_most: u64,
    /// How often each kind of unit is made for the top, as it is pressed.
    pub times: BTreeMap<Pressed, u64>,
    /// All kinds of unit the top takes, as they are pressed, parts before what they are parts of.
    pub kinds: Vec<Pressed>,
    /// For units some of whose parts go the other way round, which.
    round: BTreeMap<ClassId, Vec<Out>>,
    /// Where a unit has seams that may turn: its own, its parts'.
    seamed: BTreeMap<ClassId, Out>,
}

/// A kind of unit, and what of it is pressed out.
pub type Pressed = (ClassId, Out);

/// What of a unit is pressed out, the other way from its like, so that the two nest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Out {
    /// The seams that join its parts.
    pub own: bool,
    /// Every seam within its parts.
    pub inner: bool,
}

impl Out {
    /// Nothing is.
    pub const NONE: Out = Out {
        own: false,
        inner: false,
    };
}

/// A seam that runs into a side.
#[derive(Clone, Copy, Debug)]
struct SeamEnd {
    /// How far along the side.
    at: f64,
    /// Which.
    seam: Seam,
    /// Which way along the side it goes as it is first set: 1 or -1.
    way: f64,
    /// Whether the unit whose side it is owns it, not a part of that.
    own: bool,
}

/// A seam: the kind of unit that owns it, and its place among that kind's seams.
type Seam = (ClassId, usize);

/// Decides for all units of a top.
pub fn decide(planner: &mut Planner<'_>, top: ClassId) -> Pressing {
    let order = makings(planner, top);
    let mut times: BTreeMap<ClassId, u64> = BTreeMap::from([(top, 1)]);
    for (id, plan) in order.iter().rev() {
        let count = times.get(id).copied().unwrap_or(0);
        for part in plan.making.parts() {
            *times.entry(part.class).or_default() += count;
        }
    }
    let mut room = Room {
        planner,
        ends: BTreeMap::new(),
        first: BTreeMap::new(),
        light: BTreeMap::new(),
        round: BTreeMap::new(),
    };
    let mut best = room.weigh(&order, &times);
    best = room.in_and_out(&order, &times, best);
    let turn = |seam: Seam| best.turns.turns.get(&seam).copied().unwrap_or(1.0);
    let mut decided = Pressing {
        meetings: best.meetings,
        nesting: best.nesting,
        at_most: best.meetings - best.turns.least_lost,
        ..Pressing::default()
    };
    let mut seamed: BTreeMap<ClassId, Out> = BTreeMap::new();
    for (id, plan) in &order {
        let any = |part: &Placed| seamed.get(&part.class).is_some_and(|s| s.own || s.inner);
        let has = Out {
            own: matches!(plan.making, Making::Together { .. }),
            inner: plan.making.parts().iter().any(any),
        };
        seamed.insert(*id, has);
        if let Making::Together { parts, seams } = &plan.making {
            let first = room.first_ways(*id, parts, seams);
            let way = |(k, w): (usize, &f64)| {
                if w * turn((*id, k)) > 0.0 {
                    Press::TowardUpper
                } else {
                    Press::TowardLower
                }
            };
            decided.ways.insert(*id, first.iter().enumerate().map(way).collect());
        }
    }
    decided.round = std::mem::take(&mut room.round);
    decided.seamed = seamed;
    let mut taken: BTreeSet<Pressed> = BTreeSet::from([(top, Out::NONE)]);
    decided.times.insert((top, Out::NONE), 1);
    for (id, plan) in order.iter().rev() {
        for out in ways_of_being(*id, &taken) {
            for (j, part) in plan.making.parts().iter().enumerate() {
                let pressed = decided.part(*id, out, j, part.class);
                let count = decided.times.get(&(*id, out)).copied().unwrap_or(0);
                *decided.times.entry(pressed).or_default() += count;
                taken.insert(pressed);
            }
        }
    }
    let unit = |plan: &Plan| !matches!(plan.making, Making::Piece(_));
    for (id, _) in order.iter().filter(|(_, plan)| unit(plan)) {
        let outs = ways_of_being(*id, &taken);
        decided.kinds.extend(outs.into_iter().map(|out| (*id, out)));
    }
    decided
}

/// How a unit occurs.
fn ways_of_being(id: ClassId, taken: &BTreeSet<Pressed>) -> Vec<Out> {
    let all = Out { own: true, inner: true };
    taken.range((id, Out::NONE)..=(id, all)).map(|(_, out)| *out).collect()
}

impl Pressing {
    /// How the j-th part of a unit is pressed; what has no seams to turn is never made twice.
    pub fn part(&self, id: ClassId, out: Out, j: usize, part: ClassId) -> Pressed {
        let round = self.round.get(&id).and_then(|r| r.get(j)).copied().unwrap_or_default();
        let has = self.seamed.get(&part).copied().unwrap_or_default();
        let pressed = Out {
            own: has.own && out.inner != round.own,
            inner: has.inner && out.inner != round.inner,
        };
        (part, pressed)
    }

    /// The ways of a unit's seams.
    pub fn ways_of(&self, (id, out): Pressed) -> Vec<Press> {
        let ways = self.ways.get(&id).map_or(&[][..], Vec::as_slice);
        let other = |way: &Press| match (out.own, way) {
            (true, Press::TowardUpper) => Press::TowardLower,
            (true, Press::TowardLower) => Press::TowardUpper,
            (_, way) => *way,
        };
        ways.iter().map(other).collect()
    }

    /// Kinds of unit that are made in more ways than one, and in how many.
    pub fn in_more_ways(&self) -> BTreeMap<ClassId, usize> {
        let mut ways = BTreeMap::new();
        for (id, _) in &self.kinds {
            *ways.entry(*id).or_insert(0) += 1;
        }
        ways.retain(|_, ways| *ways > 1);
        ways
    }
}

/// All classes a top takes, parts before what they are parts of.
pub(crate) fn makings(planner: &mut Planner<'_>, top: ClassId) -> Vec<(ClassId, Rc<Plan>)> {
    let mut order = Vec::new();
    let mut seen: BTreeMap<ClassId, bool> = BTreeMap::new();
    let mut stack = vec![(top, false)];
    while let Some((id, parts_done)) = stack.pop() {
        if parts_done {
            order.push((id, planner.plan(id)));
            continue;
        }
        if seen.insert(id, true).is_some() {
            continue;
        }
        stack.push((id, true));
        stack.extend(planner.plan(id).making.parts().iter().map(|p| (p.class, false)));
    }
    order
}

/// Which seams turn round.
struct Turns {
    turns: BTreeMap<Seam, f64>,
    least_lost: u64,
}

/// Sets seams against one another; of a group of seams that meet, as many as can go their first way.
fn set_against(meetings: &BTreeMap<(Seam, Seam, bool), u64>, times: &BTreeMap<ClassId, u64>) -> Turns {
    let mut seams: Vec<Seam> = meetings.keys().flat_map(|&(a, b, _)| [a, b]).collect();
    seams.sort_unstable();
    seams.dedup();
    let place = |seam: &Seam| seams.binary_search(seam).unwrap_or_default();
    let mut balance = Balance::of(seams.len());
    let mut group: Vec<usize> = (0..seams.len()).collect();
    fn first_of(group: &mut [usize], mut at: usize) -> usize {
        while group[at] != at {
            group[at] = group[group[at]];
            at = group[at];
        }
        at
    }
    for (&(a, b, alike), &times) in meetings {
        let (a, b) = (place(&a), place(&b));
        balance.meet(a, b, alike, times);
        let (ra, rb) = (first_of(&mut group, a), first_of(&mut group, b));
        group[ra.max(rb)] = ra.min(rb);
    }
    let settled = balance.settle();
    // Turning a whole group round nests as many, so it goes the way by which most seams go as first set.
    let mut as_first = vec![0_i64; seams.len()];
    for (i, (owner, _)) in seams.iter().enumerate() {
        let often = times
            .get(owner)
            .map_or(0, |&t| i64::try_from(t).unwrap_or(i64::MAX / 4));
        as_first[first_of(&mut group, i)] += settled.turns[i] * often;
    }
    let mut turns = BTreeMap::new();
    for (i, &seam) in seams.iter().enumerate() {
        let round = as_first[first_of(&mut group, i)] < 0;
        turns.insert(seam, if (settled.turns[i] < 0) == round { 1.0 } else { -1.0 });
    }
    Turns {
        turns,
        least_lost: settled.least_lost,
    }
}

struct Room<'p, 'a> {
    planner: &'p mut Planner<'a>,
    ends: BTreeMap<(ClassId, usize), Rc<Vec<SeamEnd>>>,
    first: BTreeMap<ClassId, Rc<Vec<f64>>>,
    light: BTreeMap<ClassId, f64>,
    /// For units some of whose parts are pressed out, which.
    round: BTreeMap<ClassId, Vec<Out>>,
}

/// Two seams that meet, and whether they nest when both turn or neither does.
type Meeting = (Seam, Seam, bool);

/// A meeting at a seam, and whether its two seams are the joining seams of the parts there.
type Met = (Meeting, bool, bool);

impl Room<'_, '_> {
    /// -1 where a part's own seams, or those within it, are pressed out, else 1.
    fn sign(&self, id: ClassId, part: usize, own: bool) -> f64 {
        let out = self
            .round
            .get(&id)
            .and_then(|r| r.get(part))
            .copied()
            .unwrap_or_default();
        if if own { out.own } else { out.inner } {
            -1.0
        } else {
            1.0
        }
    }

    fn outline(&self, part: &Placed) -> Polygon {
        part.motion.polygon(&self.planner.classes.get(part.class).outline)
    }

    /// Pairs of seams that run into a seam from both sides at one place.
    fn facing(&mut self, a: &Placed, b: &Placed, line: Line) -> Vec<(SeamEnd, SeamEnd)> {
        let (Some(side_a), Some(side_b)) = (side_on(&self.outline(a), line), side_on(&self.outline(b), line)) else {
            return Vec::new();
        };
        let outline = self.outline(a);
        let length = outline.corner(side_a).distance(outline.corner(side_a + 1));
        let (ends_a, ends_b) = (self.ends(a.class, side_a), self.ends(b.class, side_b));
        let mut pairs = Vec::new();
        for x in ends_a.iter() {
            if let Some(y) = ends_b.iter().find(|y| (x.at - (length - y.at)).abs() < WELD) {
                pairs.push((*x, *y));
            }
        }
        pairs
    }

    /// The seams that run into a side, from its start.
    fn ends(&mut self, id: ClassId, side: usize) -> Rc<Vec<SeamEnd>> {
        if let Some(known) = self.ends.get(&(id, side)) {
            return known.clone();
        }
        // Units within units within units: a log cabin of hundreds of rounds is that deep.
        stacker::maybe_grow(256 * 1024, 4 * 1024 * 1024, || self.find_ends(id, side))
    }

    fn find_ends(&mut self, id: ClassId, side: usize) -> Rc<Vec<SeamEnd>> {
        let plan = self.planner.plan(id);
        let mut found = Vec::new();
        let line = self.planner.classes.get(id).outline.edge(side);
        if let (Making::Together { parts, seams }, Some(line)) = (&plan.making, line) {
            let first = self.first_ways(id, parts, seams);
            let mut before: Option<f64> = None;
            for (k, part) in parts.iter().enumerate() {
                let outline = self.outline(part);
                let Some(own) = side_on(&outline, line) else {
                    before = None;
                    continue;
                };
                let from = line.reach_of(outline.corner(own));
                let inner = self.ends(part.class, own);
                found.extend(inner.iter().map(|e| SeamEnd {
                    at: from + e.at,
                    way: self.sign(id, k, e.own) * e.way,
                    own: false,
                    ..*e
                }));
                if let Some(earlier) = before {
                    let later_along = if from > earlier { 1.0 } else { -1.0 };
                    found.push(SeamEnd {
                        at: from.max(earlier),
                        seam: (id, k - 1),
                        way: first[k - 1] * later_along,
                        own: true,
                    });
                }
                before = Some(from);
            }
            found.sort_by(|a, b| a.at.total_cmp(&b.at));
        }
        if let (Making::Laid { parts, .. }, Some(line)) = (&plan.making, line) {
            // What is laid on a ground adds no seam to its sides.
            for part in parts {
                let outline = self.outline(part);
                let Some(own) = side_on(&outline, line) else { continue };
                let from = line.reach_of(outline.corner(own));
                let inner = self.ends(part.class, own);
                found.extend(inner.iter().map(|e| SeamEnd {
                    at: from + e.at,
                    own: false,
                    ..*e
                }));
            }
        }
        let found = Rc::new(found);
        self.ends.insert((id, side), found.clone());
        found
    }

    /// Which way each seam of a unit would go by itself: 1 toward the later part.
    fn first_ways(&mut self, id: ClassId, parts: &[Placed], seams: &[Line]) -> Rc<Vec<f64>> {
        if let Some(known) = self.first.get(&id) {
            return known.clone();
        }
        let ways = seams
            .iter()
            .enumerate()
            .map(|(k, &line)| self.first_way(&parts[k], &parts[k + 1], line))
            .collect();
        let ways = Rc::new(ways);
        self.first.insert(id, Rc::clone(&ways));
        ways
    }

    fn first_way(&mut self, a: &Placed, b: &Placed, line: Line) -> f64 {
        let bulk = |room: &mut Self, part: &Placed| {
            side_on(&room.outline(part), line).map_or(0, |side| room.ends(part.class, side).len())
        };
        let (bulk_a, bulk_b) = (bulk(self, a), bulk(self, b));
        if bulk_a != bulk_b {
            return if bulk_b < bulk_a { 1.0 } else { -1.0 };
        }
        if self.light(b.class) <= self.light(a.class) {
            1.0
        } else {
            -1.0
        }
    }

    /// Mean luminance of a unit's cloth, by area.
    fn light(&mut self, id: ClassId) -> f64 {
        if let Some(&known) = self.light.get(&id) {
            return known;
        }
        let class = self.planner.classes.get(id).clone();
        let (mut sum, mut area) = (0.0, 0.0);
        for &face in &class.faces {
            let token = &self.planner.blocks[class.home].tokens[face];
            let (share, content) = (token.area, token.content.clone());
            let light = match content {
                Content::Patch { fabric, .. } => luminance(self.planner.settings, &fabric),
                Content::Unit { class, .. } => self.light(class),
            };
            sum += share * light;
            area += share;
        }
        let light = if area > 0.0 { sum / area } else { 0.5 };
        self.light.insert(id, light);
        light
    }
}

fn side_on(outline: &Polygon, line: Line) -> Option<usize> {
    (0..outline.len()).find(|&i| {
        line.offset_of(outline.corner(i)).abs() < 2.0 * WELD && line.offset_of(outline.corner(i + 1)).abs() < 2.0 * WELD
    })
}

/// Relative luminance of a cloth's colour: 0.2126 R + 0.7152 G + 0.0722 B of the linear sRGB components (WCAG 2.2,
/// definition of relative luminance). Middling where the colour cannot be read.
fn luminance(settings: &Settings, fabric: &terms::FabricId) -> f64 {
    let Some(color) = settings.cloth(fabric).map(|c| c.note.color.as_str()) else {
        return 0.5;
    };
    let channel = |from: usize| -> Option<f64> {
        let value = f64::from(u8::from_str_radix(color.get(from..from + 2)?, 16).ok()?) / 255.0;
        Some(if value <= 0.04045 {
            value / 12.92
        } else {
            libm::pow((value + 0.055) / 1.055, 2.4)
        })
    };
    match (channel(1), channel(3), channel(5)) {
        (Some(r), Some(g), Some(b)) => 0.2126 * r + 0.7152 * g + 0.0722 * b,
        _ => 0.5,
    }
}
