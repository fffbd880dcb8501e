//! Joining without through seams: where no straight seam crosses a region, two parts at a time are joined along edges
//! they share, turning in a dot at each corner between (a set-in seam).
//!
//! The search works upward from single faces: joins of one kind (parts and edges alike) are done together, so that what
//! repeats in the drawing is made in the same way; of several orders tried, the one with the fewest turns is kept, then
//! the one that turns least within one seam, then the one with the fewest different units. Up to [`MOST_FACES`] faces; beyond, a region stays trapped.

use crate::class::{ClassId, Placed};
use crate::ends::inner_angle;
use crate::plan::Planner;
use crate::ring::{Bend, Ring};
use crate::tokens::{BlockTokens, Content};
use crate::windmill;
use shape::{Point, Polygon, WELD};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Two corners together are hollow beyond this (degrees): a straight line, and what the straights of curves turn there.
pub const FLAT: f64 = 188.0;

/// More parts than this are not brought together.
pub const MOST_FACES: usize = 120;

/// Orders tried, shared out over the size of the region.
const TRIES: usize = 24;

/// One leg of a set-in seam: an edge shared by two parts from corner to corner, the first part on its left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// One smooth curve, or with one in it.
    pub curved: bool,
}

/// Two parts that make a region, and the edges they share.
#[derive(Clone, Debug)]
pub struct Join {
    /// The faces of both.
    pub faces: [Vec<usize>; 2],
    /// In order along the first part's outline; a turn between each and the next.
    pub legs: Vec<Leg>,
}

/// A part on the way up.
#[derive(Clone, Debug)]
struct Part {
    faces: Vec<usize>,
    ring: Rc<Ring>,
    class: ClassId,
}

/// A join that could be done next.
#[derive(Clone, Debug)]
struct Candidate {
    pair: (usize, usize),
    legs: Vec<Leg>,
    faces: Vec<usize>,
    ring: Rc<Ring>,
    /// What makes two joins one kind, and what is wanted first.
    rank: Rank,
}

/// Turns, hollow corners of the result, parts of two kinds, length shared (longest first), kinds, length in thousandths.
type Rank = (usize, usize, bool, i64, ClassId, ClassId);

/// A whole order of joins.
#[derive(Clone, Debug)]
struct Order {
    turns: usize,
    partial: usize,
    /// The most turns in one seam.
    worst: usize,
    kinds: usize,
    joins: Vec<Join>,
}

impl Order {
    /// What is wanted first: few turns, few seams closed in two goes, no seam with many turns, few different units.
    fn rank(&self) -> (usize, usize, usize, usize) {
        (self.turns, self.partial, self.worst, self.kinds)
    }
}

/// The joins that make a region of a block, the last one last; `None` when none of the orders tried ends in one piece.
pub fn search(planner: &mut Planner<'_>, home: usize, faces: &[usize]) -> Option<Vec<Join>> {
    if faces.len() < 2 {
        return None;
    }
    let single: Vec<Vec<usize>> = faces.iter().map(|&face| vec![face]).collect();
    from_parts(planner, home, &single).or_else(|| {
        // Round a middle that is made by itself, such as a whole quilt in its mitred border.
        let middle = middle(planner, home, faces)?;
        let outer = faces.iter().filter(|face| middle.binary_search(face).is_err());
        let parts = outer.map(|&face| vec![face]).chain([middle.clone()]);
        from_parts(planner, home, &parts.collect::<Vec<_>>())
    })
}

/// What lies inside the faces along the region's outline, or inside further rounds of them, in order of number: the most that goes
/// together straight, but for what its blocks cost by themselves; else the most that can be made at all. (Borders of one corner are then
/// sewn to one another first.)
fn middle(planner: &mut Planner<'_>, home: usize, faces: &[usize]) -> Option<Vec<usize>> {
    let mut made = None;
    let mut inner = faces.to_vec();
    loop {
        inner = within(&planner.blocks[home], &inner);
        let ring = (inner.len() > 1)
            .then(|| Ring::of(&planner.blocks[home], &inner))
            .flatten()
            .filter(|ring| ring.hollows() == 0);
        let Some(ring) = ring else { return made };
        let class = planner.region(home, inner.clone(), ring.outline()).class;
        let cost = planner.plan(class).cost;
        if cost.trapped == 0 && cost.awkward() == inherent(planner, home, &inner) {
            return Some(inner);
        }
        if cost.trapped == 0 && made.is_none() {
            made = Some(inner.clone());
        }
    }
}

/// What the blocks among some faces cost by themselves in trapped seams, turns and seams closed in two goes: no way of joining them can
/// save that.
pub fn inherent(planner: &mut Planner<'_>, home: usize, faces: &[usize]) -> (usize, usize, usize) {
    let mut sum = (0, 0, 0);
    for &face in faces {
        if let Content::Unit { class, .. } = planner.blocks[home].tokens[face].content {
            let (trapped, turns, partial) = planner.plan(class).cost.awkward();
            sum = (sum.0 + trapped, sum.1 + turns, sum.2 + partial);
        }
    }
    sum
}

/// Those of some faces that do not lie along the outline of all of them, in order of number.
fn within(block: &BlockTokens, faces: &[usize]) -> Vec<usize> {
    let all: BTreeSet<usize> = faces.iter().copied().collect();
    let lies_within = |&face: &usize| {
        let inside = |beyond: Option<usize>| beyond.is_some_and(|face| all.contains(&face));
        Ring::of(block, &[face]).is_some_and(|ring| ring.stretches.iter().all(|s| inside(s.beyond)))
    };
    all.iter().copied().filter(lies_within).collect()
}

/// The joins that bring these parts together.
fn from_parts(planner: &mut Planner<'_>, home: usize, start: &[Vec<usize>]) -> Option<Vec<Join>> {
    if start.len() > MOST_FACES || start.len() < 2 {
        return None;
    }
    let mut known = Known::default();
    let tries = (TRIES * 12 / start.len()).clamp(2, TRIES);
    let mut best: Option<Order> = None;
    for attempt in 0..tries {
        let found = join_up(planner, home, start, attempt, &mut known);
        if let Some(order) = found
            && best.as_ref().is_none_or(|b| order.rank() < b.rank())
        {
            best = Some(order);
        }
    }
    best.map(|order| order.joins)
}

/// What the orders tried have in common: the same faces come together again and again.
#[derive(Default)]
struct Known {
    classes: BTreeMap<Vec<usize>, ClassId>,
    rings: BTreeMap<Vec<usize>, Option<Rc<Ring>>>,
}

impl Known {
    /// The ring round some faces.
    fn ring(&mut self, block: &BlockTokens, faces: &[usize]) -> Option<Rc<Ring>> {
        if let Some(known) = self.rings.get(faces) {
            return known.clone();
        }
        let ring = Ring::of(block, faces).map(Rc::new);
        self.rings.insert(faces.to_vec(), ring.clone());
        ring
    }
}

fn class_of(planner: &mut Planner<'_>, home: usize, faces: &[usize], ring: &Ring, known: &mut Known) -> ClassId {
    if let Some(&class) = known.classes.get(faces) {
        return class;
    }
    let class = planner.region(home, faces.to_vec(), ring.outline()).class;
    known.classes.insert(faces.to_vec(), class);
    class
}

/// One order of joins. Attempt 0 takes what turns least, attempt 1 what leaves the fewest hollows; later ones take one of
/// the best few by a small sequence of their own.
fn join_up(
    planner: &mut Planner<'_>,
    home: usize,
    start: &[Vec<usize>],
    attempt: usize,
    known: &mut Known,
) -> Option<Order> {
    let mut parts: Vec<Option<Part>> = Vec::new();
    for faces in start {
        let ring = known.ring(&planner.blocks[home], faces)?;
        let class = class_of(planner, home, faces, &ring, known);
        let faces = faces.clone();
        parts.push(Some(Part { faces, ring, class }));
    }
    let mut order = Order {
        turns: 0,
        partial: 0,
        worst: 0,
        kinds: 0,
        joins: Vec::new(),
    };
    let mut kinds: BTreeSet<ClassId> = BTreeSet::new();
    let mut chance = attempt as u64;
    loop {
        // Attempts take turns in looking for windmills: first, or only where nothing else joins.
        let early = attempt % 4 < 2;
        if early && mill(planner, home, &mut parts, &mut order, known) {
            continue;
        }
        let candidates = candidates(&planner.blocks[home], &parts, attempt, known);
        if candidates.is_empty() {
            if !early && mill(planner, home, &mut parts, &mut order, known) {
                continue;
            }
            break;
        }
        let ranks: BTreeSet<Rank> = candidates.iter().map(|c| c.rank).collect();
        // A short step of a linear congruence is chance enough to look elsewhere (constants: Knuth, MMIX).
        chance = chance
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let among = if attempt < 2 { 1 } else { ranks.len().min(3) };
        let rank = *ranks.iter().nth((chance >> 33) as usize % among)?;
        let mut done: BTreeSet<usize> = BTreeSet::new();
        for c in candidates.into_iter().filter(|c| c.rank == rank) {
            let (a, b) = c.pair;
            if done.contains(&a) || done.contains(&b) {
                continue;
            }
            let (Some(first), Some(second)) = (parts[a].take(), parts[b].take()) else {
                continue;
            };
            done.extend([a, b]);
            order.turns += c.legs.len() - 1;
            order.worst = order.worst.max(c.legs.len() - 1);
            let class = class_of(planner, home, &c.faces, &c.ring, known);
            kinds.insert(class);
            order.joins.push(Join {
                faces: [first.faces, second.faces],
                legs: c.legs,
            });
            parts.push(Some(Part {
                faces: c.faces,
                ring: c.ring,
                class,
            }));
        }
        parts.retain(Option::is_some);
    }
    order.kinds = kinds.len();
    (parts.len() == 1).then_some(order)
}

/// Takes a part and all parts round it together where they make a windmill; whether any did.
fn mill(
    planner: &mut Planner<'_>,
    home: usize,
    parts: &mut Vec<Option<Part>>,
    order: &mut Order,
    known: &mut Known,
) -> bool {
    let part_of = part_of(parts);
    for middle in 0..parts.len() {
        let Some(part) = &parts[middle] else { continue };
        let beyond: Option<BTreeSet<usize>> = (part.ring.stretches.iter())
            .map(|s| part_of.get(&s.beyond?).copied())
            .collect();
        let Some(arms) = beyond.filter(|arms| arms.len() >= 3) else {
            continue;
        };
        let mut faces = part.faces.clone();
        faces.extend(
            arms.iter()
                .filter_map(|&a| parts[a].as_ref())
                .flat_map(|p| p.faces.clone()),
        );
        faces.sort_unstable();
        let ring = known.ring(&planner.blocks[home], &faces);
        let Some(ring) = ring.filter(|r| r.hollows() == 0) else {
            continue;
        };
        if windmill::find(&planner.blocks[home], &faces, &ring.outline()).is_none() {
            continue;
        }
        let class = class_of(planner, home, &faces, &ring, known);
        for taken in arms.into_iter().chain([middle]) {
            parts[taken] = None;
        }
        parts.retain(Option::is_some);
        parts.push(Some(Part { faces, ring, class }));
        order.partial += 1;
        return true;
    }
    false
}

/// For each face the part that holds it.
fn part_of(parts: &[Option<Part>]) -> BTreeMap<usize, usize> {
    let mut part_of = BTreeMap::new();
    for (i, part) in parts.iter().enumerate() {
        for &face in part.iter().flat_map(|p| &p.faces) {
            part_of.insert(face, i);
        }
    }
    part_of
}

/// All joins that could be done now, in a fixed order.
fn candidates(block: &BlockTokens, parts: &[Option<Part>], attempt: usize, known: &mut Known) -> Vec<Candidate> {
    let part_of = part_of(parts);
    let mut found = Vec::new();
    for (a, first) in parts.iter().enumerate() {
        let Some(first) = first else { continue };
        let beyond: BTreeSet<usize> = first
            .ring
            .stretches
            .iter()
            .filter_map(|s| part_of.get(&s.beyond?).copied())
            .filter(|&b| b > a)
            .collect();
        for b in beyond {
            let Some(second) = &parts[b] else { continue };
            let Some(legs) = shared(first, second) else { continue };
            let mut faces = [first.faces.clone(), second.faces.clone()].concat();
            faces.sort_unstable();
            let Some(ring) = known.ring(block, &faces) else {
                continue;
            };
            let length: f64 = legs.iter().map(|l| l.from.distance(l.to)).sum();
            let (turns, hollows) = (legs.len() - 1, ring.hollows());
            let (ahead, behind) = if attempt % 2 == 1 {
                (hollows, turns)
            } else {
                (turns, hollows)
            };
            let (low, high) = (first.class.min(second.class), first.class.max(second.class));
            let rank = (ahead, behind, low != high, -(length * 1.0e3).round() as i64, low, high);
            found.push(Candidate {
                pair: (a, b),
                legs,
                faces,
                ring,
                rank,
            });
        }
    }
    found
}

/// The legs along which two parts lie together, if they are one chain of whole sides of both.
fn shared(first: &Part, second: &Part) -> Option<Vec<Leg>> {
    let n = first.ring.len();
    let on = |i: usize| {
        first.ring.stretches[i % n]
            .beyond
            .is_some_and(|face| second.faces.binary_search(&face).is_ok())
    };
    let begin = (0..n).find(|&i| on(i) && !on(i + n - 1))?;
    let count = (0..n).take_while(|&k| on(begin + k)).count();
    if (count..n).any(|k| on(begin + k)) {
        return None;
    }
    // Both ends must be corners of both parts: a side that went on beyond could not be sewn in one go.
    let m = second.ring.len();
    let mut ends = Vec::new();
    for at in [begin, begin + count] {
        let vertex = first.ring.stretches[at % n].vertex;
        let theirs = (0..m).find(|&j| second.ring.stretches[j].vertex == vertex)?;
        if !first.ring.is_corner(at) || !second.ring.is_corner(theirs) {
            return None;
        }
        ends.push((at % n, theirs));
    }
    let mut legs = Vec::new();
    let mut from = first.ring.point(begin);
    let mut curved = false;
    for k in 1..=count {
        curved |= first.ring.curved(begin + k - 1);
        if k == count || first.ring.bend(begin + k) != Bend::None {
            let to = first.ring.point(begin + k);
            legs.push(Leg { from, to, curved });
            (from, curved) = (to, false);
        }
    }
    // A curve is sewn from raw edge to raw edge in one go: it neither turns in a dot nor stops in one.
    if legs.iter().any(|leg| leg.curved) {
        let hollow = |&(i, j): &(usize, usize)| {
            let inner = |ring: &Ring, i: usize| {
                let n = ring.len();
                let corners = [ring.point(i + n - 1), ring.point(i), ring.point(i + 1)];
                inner_angle(&Polygon::new(corners.to_vec()), 1).map_or(360.0, |a| a.degrees())
            };
            inner(&first.ring, i) + inner(&second.ring, j) > FLAT
        };
        if legs.len() > 1 || ends.iter().any(hollow) {
            return None;
        }
    }
    Some(legs)
}

/// The side of an outline that runs between two places, if one does.
pub fn side_between(outline: &shape::Polygon, from: Point, to: Point) -> Option<usize> {
    (0..outline.len())
        .find(|&i| outline.corner(i).distance(from) < 2.0 * WELD && outline.corner(i + 1).distance(to) < 2.0 * WELD)
}

/// The parts of a join as classes.
pub fn parts_of(planner: &mut Planner<'_>, home: usize, join: &Join) -> Option<[Placed; 2]> {
    let mut place = |faces: &Vec<usize>| {
        let outline = Ring::of(&planner.blocks[home], faces)?.outline();
        Some(planner.region(home, faces.clone(), outline))
    };
    Some([place(&join.faces[0])?, place(&join.faces[1])?])
}
