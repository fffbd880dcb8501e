//! Pressing: which way each seam of a unit goes, once for each kind of unit.
//!
//! A seam goes away from bulk (toward the part with fewer seams running into it), else toward the darker cloth, so that
//! it does not show through. Where two seams meet they should lie opposite ways and nest: each seam of each kind of unit,
//! whether it joins parts or is a method's own ([`sewn`]), may turn round, and seams that meet are set against one
//! another ([`balance`]); what cannot nest is counted, and so is how many could at most. Where a unit meets its own like,
//! some of its instances are pressed out: all of their seams, and their parts' seams, the other way, which leaves every
//! meeting within them as it was. That makes a second making of the unit, so it is done only where enough more meetings
//! nest by it ([`in_and_out`]). docs/pressing.md says the rules.

mod balance;
mod darker;
mod ends;
mod in_and_out;
mod pinned;
mod sewn;
mod spun;

pub use darker::Darker;
pub use in_and_out::Dearer;

use crate::class::ClassId;
use crate::plan::{Making, Plan, Planner};
use balance::Balance;
use design::PressPin;
use ends::Room;
use recipe::Press;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// What was decided.
#[derive(Debug, Default)]
pub struct Pressing {
    /// For each kind of unit with seams that may turn, the way of each of them.
    pub ways: BTreeMap<ClassId, Vec<Press>>,
    /// How many meetings nest.
    pub nesting: Nesting,
    /// What more makings would gain that were not worth it.
    pub dearer: Option<Dearer>,
    /// How often each kind of unit is made for the top, as it is pressed.
    pub times: BTreeMap<Pressed, u64>,
    /// All kinds of unit the top takes, as they are pressed, parts before what they are parts of.
    pub kinds: Vec<Pressed>,
    /// What was asked of the cloths' colours: in other colours with the same answers all of this is the same.
    pub asked: Vec<Darker>,
    /// Pinned ways that no seam answers, each with its block.
    pub unfollowed: Vec<(usize, PressPin)>,
    outs: Outs,
}

/// How many meetings of seams nest in a whole top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Nesting {
    /// How often two seams meet.
    pub meetings: u64,
    /// How many of these nest.
    pub nesting: u64,
    /// With the makings there are no choice nests more than so many: proved, and equal to `nesting` where that is the best.
    pub at_most: u64,
}

/// Which parts of which units are pressed out.
#[derive(Debug, Default)]
struct Outs {
    /// For units some of whose parts go the other way round, which.
    round: BTreeMap<ClassId, Vec<Out>>,
    /// Where a unit has seams that may turn: its own, its parts'.
    seamed: BTreeMap<ClassId, Out>,
    /// Units whose seam is spun: it turns with those within the parts.
    spun: BTreeSet<ClassId>,
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
    let mut room = Room::of(planner);
    for (id, plan) in &order {
        // What is pinned one way is not made the other way besides.
        let pinned = !room.planner.blocks[room.planner.classes.get(*id).home]
            .presses
            .is_empty();
        let sewn = room.sewn(*id);
        for (k, _) in sewn.iter().enumerate().filter(|(_, seam)| seam.fixed) {
            room.pinned.insert((*id, k), 1.0);
        }
        let has = Out {
            own: !sewn.is_empty() && few_at_once(plan) && !pinned && sewn.iter().all(|seam| !seam.fixed),
            inner: plan.making.parts().iter().any(|part| {
                let within = room.outs.seamed.get(&part.class);
                within.is_some_and(|s| s.own || s.inner)
            }),
        };
        room.outs.seamed.insert(*id, has);
    }
    let unfollowed = room.pin(&order);
    room.lay_apart(&order);
    let plain = room.weigh(&order, &times);
    let bound = plain.meetings - plain.turns.least_lost;
    let plain = room.spin(&order, &times, plain);
    let (best, dearer) = room.in_and_out(&order, &times, plain);
    let turn = |seam: Seam| best.turns.turns.get(&seam).copied().unwrap_or(1.0);
    let mut decided = Pressing {
        nesting: Nesting {
            meetings: best.meetings,
            nesting: best.nesting,
            // Not spun, as many as were proved before might nest.
            at_most: (best.meetings - best.turns.least_lost).max(if room.spun.is_empty() { 0 } else { bound }),
        },
        dearer,
        unfollowed,
        ..Pressing::default()
    };
    for (id, _) in &order {
        let first = room.first_ways(*id);
        let way = |(k, w): (usize, &f64)| {
            let seam = (*id, k);
            match (w * turn(seam) > 0.0, room.spun.contains(id)) {
                _ if room.apart.contains(&seam) => Press::Open,
                (true, false) => Press::TowardUpper,
                (false, false) => Press::TowardLower,
                (true, true) => Press::SpunUpper,
                (false, true) => Press::SpunLower,
            }
        };
        if !first.is_empty() {
            decided.ways.insert(*id, first.iter().enumerate().map(way).collect());
        }
    }
    decided.outs = std::mem::take(&mut room.outs);
    decided.asked = std::mem::take(&mut room.asked);
    let taken = taken(&order, &decided.outs);
    decided.times.insert((top, Out::NONE), 1);
    for (id, plan) in order.iter().rev() {
        for out in ways_of_being(*id, &taken) {
            for (j, part) in plan.making.parts().iter().enumerate() {
                let pressed = decided.part(*id, out, j, part.class);
                let count = decided.times.get(&(*id, out)).copied().unwrap_or(0);
                *decided.times.entry(pressed).or_default() += count;
            }
        }
    }
    for (id, plan) in &order {
        if is_unit(plan) {
            let outs = ways_of_being(*id, &taken);
            decided.kinds.extend(outs.into_iter().map(|out| (*id, out)));
        }
    }
    decided
}

/// Whether a second making, pressed the other way, is worth a thought: of four or eight at once most would be left over.
fn few_at_once(plan: &Plan) -> bool {
    match &plan.making {
        Making::Method(method) => method.at_once() <= 2,
        _ => true,
    }
}

fn is_unit(plan: &Plan) -> bool {
    !matches!(plan.making, Making::Piece(_))
}

/// How all units occur; the top is the last in order.
fn taken(order: &[(ClassId, Rc<Plan>)], outs: &Outs) -> BTreeSet<Pressed> {
    let mut taken = BTreeSet::new();
    taken.extend(order.last().map(|(top, _)| (*top, Out::NONE)));
    for (id, plan) in order.iter().rev() {
        for out in ways_of_being(*id, &taken) {
            let parts = plan.making.parts().iter().enumerate();
            taken.extend(parts.map(|(j, part)| outs.part(*id, out, j, part.class)));
        }
    }
    taken
}

/// How a unit occurs.
fn ways_of_being(id: ClassId, taken: &BTreeSet<Pressed>) -> Vec<Out> {
    let all = Out { own: true, inner: true };
    taken.range((id, Out::NONE)..=(id, all)).map(|(_, out)| *out).collect()
}

impl Outs {
    /// How the j-th part of a unit is pressed; what has no seams to turn is never made twice.
    fn part(&self, id: ClassId, out: Out, j: usize, part: ClassId) -> Pressed {
        let round = self.round.get(&id).and_then(|r| r.get(j)).copied().unwrap_or_default();
        let has = self.seamed.get(&part).copied().unwrap_or_default();
        let pressed = Out {
            own: has.own
                && out.inner
                    != if self.spun.contains(&part) {
                        round.inner
                    } else {
                        round.own
                    },
            inner: has.inner && out.inner != round.inner,
        };
        (part, pressed)
    }
}

impl Pressing {
    /// How the j-th part of a unit is pressed; what has no seams to turn is never made twice.
    pub fn part(&self, id: ClassId, out: Out, j: usize, part: ClassId) -> Pressed {
        self.outs.part(id, out, j, part)
    }

    /// The ways of a unit's seams.
    pub fn ways_of(&self, (id, out): Pressed) -> Vec<Press> {
        let ways = self.ways.get(&id).map_or(&[][..], Vec::as_slice);
        let other = |way: &Press| if out.own { way.turned() } else { *way };
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

/// A pinned way counts for more than all meetings of any top.
const PINNED: u64 = 1 << 40;

/// Which seams turn round.
#[derive(Clone)]
struct Turns {
    turns: BTreeMap<Seam, f64>,
    least_lost: u64,
}

/// Sets seams against one another; of a group of seams that meet, as many as can go their first way.
fn set_against(
    meetings: &BTreeMap<(Seam, Seam, bool), u64>,
    times: &BTreeMap<ClassId, u64>,
    pinned: &BTreeMap<Seam, f64>,
    ties: &[(ClassId, Meeting)],
) -> Turns {
    let mut seams: Vec<Seam> = meetings.keys().flat_map(|&(a, b, _)| [a, b]).collect();
    seams.extend(pinned.keys());
    seams.extend(ties.iter().flat_map(|(_, (a, b, _))| [*a, *b]));
    seams.sort_unstable();
    seams.dedup();
    let place = |seam: &Seam| seams.binary_search(seam).unwrap_or_default();
    // One more that never turns: pinned seams meet it as often as it takes.
    let anchor = seams.len();
    let mut balance = Balance::of(seams.len() + 1);
    let mut group: Vec<usize> = (0..=seams.len()).collect();
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
    for &(_, (a, b, alike)) in ties {
        let (a, b) = (place(&a), place(&b));
        balance.meet(a, b, alike, PINNED);
        let (ra, rb) = (first_of(&mut group, a), first_of(&mut group, b));
        group[ra.max(rb)] = ra.min(rb);
    }
    for (&seam, &turn) in pinned {
        let at = place(&seam);
        balance.meet(at, anchor, turn > 0.0, PINNED);
        let (ra, rb) = (first_of(&mut group, at), first_of(&mut group, anchor));
        group[ra.max(rb)] = ra.min(rb);
    }
    let settled = balance.settle();
    // Turning a whole group round nests as many, so it goes the way by which most seams go as first set.
    let mut as_first = vec![0_i64; seams.len() + 1];
    for (i, (owner, _)) in seams.iter().enumerate() {
        let often = times
            .get(owner)
            .map_or(0, |&t| i64::try_from(t).unwrap_or(i64::MAX / 4));
        as_first[first_of(&mut group, i)] += settled.turns[i] * often;
    }
    if !pinned.is_empty() {
        as_first[first_of(&mut group, anchor)] = settled.turns[anchor] * i64::MAX / 2;
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

/// Two seams that meet, and whether they nest when both turn or neither does.
type Meeting = (Seam, Seam, bool);

/// A meeting at a seam, and whether its two seams are the joining seams of the parts there.
type Met = (Meeting, bool, bool);
