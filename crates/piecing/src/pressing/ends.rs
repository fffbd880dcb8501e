//! Where seams end on the sides of units, which way they go there, and which of them meet.

use super::darker::{Darker, Mix};
use super::sewn::Sewn;
use super::{Met, Outs, Seam};
use crate::class::{ClassId, Placed};
use crate::joints::Joints;
use crate::methods::Toward;
use crate::plan::{Making, Planner};
use shape::{Line, Point, Vector, WELD};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Seams of so nearly the same lean lie on one another when their units are laid together.
const SAME_LEAN: f64 = 1.0e-3;

/// A seam that runs into a side.
#[derive(Clone, Copy, Debug)]
pub(super) struct SeamEnd {
    /// How far along the side.
    pub(super) at: f64,
    /// How far it leans along the side as it goes inward: the cosine of its angle with it.
    lean: f64,
    /// Which.
    pub(super) seam: Seam,
    /// Which way along the side it goes as it is first set: 1 or -1; nothing where it is pressed apart.
    pub(super) way: f64,
    /// Whether the unit whose side it is owns it, not a part of that.
    own: bool,
}

/// What is known of the units of a top while it is decided how they are pressed.
pub(super) struct Room<'p, 'a> {
    pub(super) planner: &'p mut Planner<'a>,
    pub(super) sewn: BTreeMap<ClassId, Rc<Vec<Sewn>>>,
    pub(super) ends: BTreeMap<(ClassId, usize), Rc<Vec<SeamEnd>>>,
    pub(super) first: BTreeMap<ClassId, Rc<Vec<f64>>>,
    /// Which sides of which parts lie along a seam's leg or along a unit's side, whatever way anything is pressed.
    pub(super) along: BTreeMap<Along, Rc<Vec<PartSide>>>,
    pub(super) mixes: BTreeMap<ClassId, Rc<Mix>>,
    /// What was asked of the cloths' colours.
    pub(super) asked: Vec<Darker>,
    pub(super) outs: Outs,
    /// The turns that the designer's pins fix: 1 as first set, -1 turned round.
    pub(super) pinned: BTreeMap<Seam, f64>,
    /// Units whose only seam changes sides where seams cross it.
    pub(super) spun: BTreeSet<ClassId>,
    /// Seams that are pressed apart.
    pub(super) apart: BTreeSet<Seam>,
    pub(super) joints: Joints,
}

/// A stretch of a line along which parts' sides are looked for: a leg of a seam (its lower layer or its upper; by where it begins), or a
/// unit's side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Along {
    Leg(Seam, bool, [u64; 2]),
    Side(ClassId, usize),
}

/// A part's side that lies along a line, and how far along that it begins.
#[derive(Clone, Copy, Debug)]
pub(super) struct PartSide {
    part: usize,
    side: usize,
    start: f64,
}

/// Which layer of a seam.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Layer {
    Lower,
    Upper,
}

impl<'p, 'a> Room<'p, 'a> {
    /// Nothing known yet.
    pub(super) fn of(planner: &'p mut Planner<'a>) -> Self {
        Room {
            planner,
            sewn: BTreeMap::new(),
            ends: BTreeMap::new(),
            first: BTreeMap::new(),
            along: BTreeMap::new(),
            mixes: BTreeMap::new(),
            asked: Vec::new(),
            outs: Outs::default(),
            pinned: BTreeMap::new(),
            spun: BTreeSet::new(),
            apart: BTreeSet::new(),
            joints: Joints::default(),
        }
    }

    /// -1 where a part's own seams, or those within it, are pressed out, else 1.
    fn sign(&self, id: ClassId, part: usize, class: ClassId, own: bool) -> f64 {
        let round = self.outs.round.get(&id);
        let out = round.and_then(|r| r.get(part)).copied().unwrap_or_default();
        let may = self.outs.seamed.get(&class).copied().unwrap_or_default();
        // A seam that is spun turns with those that cross it.
        let turned = if own && !self.spun.contains(&class) {
            out.own && may.own
        } else {
            out.inner && may.inner
        };
        if turned { -1.0 } else { 1.0 }
    }

    /// The meetings at a unit's seam: which two, whether they nest when both turn or neither does, and whether they are
    /// the joining seams of the parts there.
    /// What meets a seam pressed apart nests in no way and is counted beside.
    pub(super) fn meetings_at(&mut self, id: ClassId, k: usize) -> (Vec<Met>, u64) {
        let sewn = self.sewn(id);
        let plan = self.planner.plan(id);
        let parts = plan.making.parts();
        let (mut met, mut never) = (Vec::new(), 0);
        if parts.is_empty() {
            return (met, never);
        }
        for &(from, to) in &sewn[k].legs {
            let Some(line) = Line::between(from, to) else { continue };
            let length = from.distance(to);
            let mut run = |layer| {
                let mut run = self.run((id, k), parts, (line, length), layer);
                run.extend(self.own_on(id, k, (line, length), layer));
                run.sort_by(|a, b| a.at.total_cmp(&b.at));
                run
            };
            let (lower, upper) = (run(Layer::Lower), run(Layer::Upper));
            for (a, b) in paired(&lower, &upper) {
                if a.way * b.way == 0.0 {
                    never += 1;
                    continue;
                }
                // Along the seam the one goes `a.way`, the other `b.way`; opposite ways nest.
                let alike = a.way * b.way < 0.0;
                met.push(((a.seam.min(b.seam), a.seam.max(b.seam), alike), a.own, b.own));
            }
        }
        (met, never)
    }

    /// The seams of a layer's parts that end on a seam, as they lie along it.
    pub(super) fn run(
        &mut self,
        (id, k): Seam,
        parts: &[Placed],
        (line, length): (Line, f64),
        layer: Layer,
    ) -> Vec<SeamEnd> {
        let sewn = self.sewn(id);
        let (of, along) = match layer {
            Layer::Lower => (&sewn[k].lower, 1.0),
            Layer::Upper => (&sewn[k].upper, -1.0),
        };
        let leg = [line.through.x, line.through.y].map(f64::to_bits);
        let key = Along::Leg((id, k), layer == Layer::Lower, leg);
        let sides = match self.along.get(&key) {
            Some(known) => known.clone(),
            None => {
                let mut sides = Vec::new();
                for &part in of {
                    let outline = self.outline(&parts[part]);
                    for side in 0..outline.len() {
                        let (from, to) = (outline.corner(side), outline.corner(side + 1));
                        let on_line = |p: Point| line.offset_of(p).abs() < 2.0 * WELD;
                        let (start, end) = (line.reach_of(from), line.reach_of(to));
                        if on_line(from) && on_line(to) && (end - start) * along >= 0.0 {
                            sides.push(PartSide { part, side, start });
                        }
                    }
                }
                let sides = Rc::new(sides);
                self.along.insert(key, sides.clone());
                sides
            }
        };
        let mut run = Vec::new();
        for &PartSide { part: j, side, start } in sides.iter() {
            let class = parts[j].class;
            for e in self.ends(class, side).iter() {
                let at = start + along * e.at;
                if (-WELD..=length + WELD).contains(&at) {
                    run.push(SeamEnd {
                        at,
                        lean: along * e.lean,
                        way: along * e.way * self.sign(id, j, class, e.own),
                        ..*e
                    });
                }
            }
        }
        run
    }

    /// The sides of a unit's parts that lie on one of its own sides.
    fn on_side(
        &mut self,
        id: ClassId,
        side: usize,
        (line, length): (Line, f64),
        parts: &[Placed],
    ) -> Rc<Vec<PartSide>> {
        if let Some(known) = self.along.get(&Along::Side(id, side)) {
            return known.clone();
        }
        let mut sides = Vec::new();
        for (part, placed) in parts.iter().enumerate() {
            let outline = self.outline(placed);
            let on_line = |p: Point| line.offset_of(p).abs() < 2.0 * WELD;
            for side in 0..outline.len() {
                let (from, to) = (outline.corner(side), outline.corner(side + 1));
                let start = line.reach_of(from);
                // Round a hollow unit another side may lie on the same line.
                let here = start > -2.0 * WELD && line.reach_of(to) < length + 2.0 * WELD;
                if on_line(from) && on_line(to) && here && line.reach_of(to) >= start {
                    sides.push(PartSide { part, side, start });
                }
            }
        }
        let sides = Rc::new(sides);
        self.along.insert(Along::Side(id, side), sides.clone());
        sides
    }

    /// The unit's other seams that end on this one, from one layer's side.
    fn own_on(&mut self, id: ClassId, k: usize, (line, length): (Line, f64), layer: Layer) -> Vec<SeamEnd> {
        let sewn = self.sewn(id);
        let mut run = Vec::new();
        // Through seams beside one another never end on each other.
        if sewn.iter().all(|s| s.lower.len() == 1) {
            return run;
        }
        let first = self.first_ways(id);
        for (j, other) in sewn.iter().enumerate().filter(|(j, _)| *j != k) {
            run.extend(
                ending_on(other, (line, length), (id, j), self.ways_at_ends((id, j), first[j]))
                    .into_iter()
                    .filter(|(_, left)| *left == (layer == Layer::Lower))
                    .map(|(end, _)| end),
            );
        }
        run
    }

    /// The seams that run into a side, from its start.
    pub(super) fn ends(&mut self, id: ClassId, side: usize) -> Rc<Vec<SeamEnd>> {
        if let Some(known) = self.ends.get(&(id, side)) {
            return known.clone();
        }
        // Units within units within units: a log cabin of hundreds of rounds is that deep.
        stacker::maybe_grow(256 * 1024, 4 * 1024 * 1024, || self.find_ends(id, side))
    }

    fn find_ends(&mut self, id: ClassId, side: usize) -> Rc<Vec<SeamEnd>> {
        let plan = self.planner.plan(id);
        let outline = &self.planner.classes.get(id).outline;
        let (line, length) = (
            outline.edge(side),
            outline.corner(side).distance(outline.corner(side + 1)),
        );
        let sewn = self.sewn(id);
        let mut found = Vec::new();
        // The seams of a ground run to its sides whatever is laid on it.
        let nothing = sewn.is_empty() && !matches!(plan.making, Making::Laid { .. });
        if let (Some(line), false) = (line, nothing) {
            let parts = plan.making.parts();
            let sides = self.on_side(id, side, (line, length), parts);
            for &PartSide { part: j, side, start } in sides.iter() {
                let class = parts[j].class;
                let inner = self.ends(class, side);
                found.extend(inner.iter().map(|e| SeamEnd {
                    at: start + e.at,
                    way: self.sign(id, j, class, e.own) * e.way,
                    own: false,
                    ..*e
                }));
            }
            let first = self.first_ways(id);
            for (k, seam) in sewn.iter().enumerate() {
                let ending = ending_on(seam, (line, length), (id, k), self.ways_at_ends((id, k), first[k]));
                found.extend(ending.into_iter().filter(|(_, inside)| *inside).map(|(end, _)| end));
            }
            found.sort_by(|a, b| a.at.total_cmp(&b.at));
        }
        let found = Rc::new(found);
        self.ends.insert((id, side), found.clone());
        found
    }

    /// Which way a seam goes at its beginning and at its end, 1 toward the upper layer.
    fn ways_at_ends(&self, seam: Seam, first: f64) -> [f64; 2] {
        if self.apart.contains(&seam) {
            [0.0, 0.0]
        } else if self.spun.contains(&seam.0) {
            [first, -first]
        } else {
            [first, first]
        }
    }

    /// Which way each seam of a unit would go by itself: 1 toward the upper layer.
    pub(super) fn first_ways(&mut self, id: ClassId) -> Rc<Vec<f64>> {
        if let Some(known) = self.first.get(&id) {
            return known.clone();
        }
        let ways = (0..self.sewn(id).len()).map(|k| self.first_way(id, k)).collect();
        let ways = Rc::new(ways);
        self.first.insert(id, Rc::clone(&ways));
        ways
    }

    fn first_way(&mut self, id: ClassId, k: usize) -> f64 {
        if self.spun.contains(&id)
            && let Some(crossed) = self.crossed(id)
        {
            return crossed.first_way();
        }
        let sewn = self.sewn(id);
        let toward_upper = match &sewn[k].by_itself {
            Some(Toward::Upper) => true,
            Some(Toward::Lower) => false,
            Some(Toward::Darker { lower, upper }) => {
                let (lower, upper) = (lower.clone(), upper.clone());
                self.darker(&lower, &upper)
            }
            None => {
                let plan = self.planner.plan(id);
                let parts = plan.making.parts();
                let mut bulk = [0, 0];
                for &(from, to) in &sewn[k].legs {
                    let Some(line) = Line::between(from, to) else { continue };
                    let along = (line, from.distance(to));
                    bulk[0] += self.run((id, k), parts, along, Layer::Lower).len();
                    bulk[1] += self.run((id, k), parts, along, Layer::Upper).len();
                }
                match bulk[1].cmp(&bulk[0]) {
                    std::cmp::Ordering::Less => true,
                    std::cmp::Ordering::Greater => false,
                    std::cmp::Ordering::Equal => {
                        let classes = |of: &[usize]| of.iter().map(|&j| parts[j].class).collect::<Vec<_>>();
                        self.as_dark(&classes(&sewn[k].lower), &classes(&sewn[k].upper))
                    }
                }
            }
        };
        if toward_upper { 1.0 } else { -1.0 }
    }
}

/// Where a seam ends on a stretch of a line, seen from there, and whether it comes from the line's left.
fn ending_on(sewn: &Sewn, (line, length): (Line, f64), seam: Seam, ways: [f64; 2]) -> Vec<(SeamEnd, bool)> {
    let mut ends = Vec::new();
    for &(from, to) in &sewn.legs {
        let Some(along) = (to - from).unit() else { continue };
        let toward_upper: Vector = -along.left();
        for (here, inward, way) in [(from, along, ways[0]), (to, -along, ways[1])] {
            let at = line.reach_of(here);
            let across = line.along.cross(inward);
            if line.offset_of(here).abs() > 2.0 * WELD
                || !(-2.0 * WELD..=length + 2.0 * WELD).contains(&at)
                || across.abs() < SAME_LEAN
            {
                continue;
            }
            let end = SeamEnd {
                at,
                lean: line.along.dot(inward),
                seam,
                way: if toward_upper.dot(line.along) > 0.0 { way } else { -way },
                own: true,
            };
            ends.push((end, across > 0.0));
        }
    }
    ends
}

/// Seams that meet: at one place those that lie on one another, then what is left over in the order of its lean.
fn paired(lower: &[SeamEnd], upper: &[SeamEnd]) -> Vec<(SeamEnd, SeamEnd)> {
    let mut pairs = Vec::new();
    let (mut i, mut j) = (0, 0);
    while let (Some(a), Some(b)) = (lower.get(i), upper.get(j)) {
        if a.at < b.at - 2.0 * WELD {
            i += 1;
            continue;
        }
        if b.at < a.at - 2.0 * WELD {
            j += 1;
            continue;
        }
        let place = a.at.min(b.at);
        let here = |list: &[SeamEnd], from: usize| -> Vec<SeamEnd> {
            list[from..]
                .iter()
                .take_while(|e| e.at < place + 2.0 * WELD)
                .copied()
                .collect()
        };
        let (mut these, mut those) = (here(lower, i), here(upper, j));
        i += these.len();
        j += those.len();
        these.sort_by(|a, b| a.lean.total_cmp(&b.lean));
        those.sort_by(|a, b| a.lean.total_cmp(&b.lean));
        these.retain(|a| {
            let like = those.iter().position(|b| (a.lean - b.lean).abs() < SAME_LEAN);
            if let Some(like) = like {
                pairs.push((*a, those.remove(like)));
            }
            like.is_none()
        });
        pairs.extend(these.into_iter().zip(those));
    }
    pairs
}
