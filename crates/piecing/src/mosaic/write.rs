//! A mosaic's units as steps: basting, whipping, taking out cards.

use super::faces::SideOf;
use super::order::{Deed, Pair};
use super::{Brought, Mosaic, MosaicUnit};
use crate::bench::{Bench, edge};
use crate::methods::sew_together::measure_unit;
use recipe::{CardsOut, EdgeRef, EdgeRun, Give, Inside, Slot, Step, Take, Whipped};
use std::collections::{BTreeMap, BTreeSet};
use terms::UnitId;

/// What was done to a unit's patches in its own making.
#[derive(Clone, Debug, Default)]
struct Done {
    /// Sides whipped.
    whipped: BTreeSet<SideOf>,
    /// Patches whose cards are out.
    out: BTreeSet<usize>,
}

/// One unit on the bench.
struct Hands<'m, 'b, 'a> {
    mosaic: &'m Mosaic,
    bench: &'b mut Bench<'a>,
    /// For each part the one that stands for the work it lies in.
    work_of: Vec<usize>,
    /// The slot of each work, by the part that stands for it.
    slots: BTreeMap<usize, Slot>,
    /// For each side of each patch the edge it is called by.
    edges: BTreeMap<SideOf, EdgeRef>,
    /// The card of each patch.
    cards: BTreeMap<usize, String>,
    /// The part each patch belongs to.
    part_of: BTreeMap<usize, usize>,
    done: Done,
}

/// Writes unit `number` of a mosaic, `names` being those of the units before it; `None` when the plan does not hold together.
pub fn write(mosaic: &Mosaic, number: usize, names: &[UnitId], bench: &mut Bench<'_>) -> Option<Vec<Give>> {
    let unit = mosaic.units.get(number)?;
    let whole = number + 1 == mosaic.units.len();
    let mut hands = Hands::of(mosaic, unit, bench);
    for deed in &unit.deeds {
        match deed {
            Deed::Bring(parts) => hands.bring(unit, parts, names)?,
            Deed::Join { a, b, pairs } => hands.join(*a, *b, pairs)?,
            Deed::TakeOut(part) => hands.take_out(*part)?,
        }
    }
    let work = *hands.slots.values().next().filter(|_| hands.slots.len() == 1)?;
    let sides: Vec<EdgeRun> = unit.sides.iter().map(|side| hands.run(side)).collect::<Option<_>>()?;
    if whole {
        let along: Vec<EdgeRef> = mosaic
            .snips
            .iter()
            .filter_map(|s| hands.edges.get(s).copied())
            .collect();
        if !along.is_empty() {
            hands.bench.step(Step::Snip { of: work, along });
        }
        measure_unit(hands.bench, &mosaic.outline, work, &sides);
    }
    Some(vec![Give {
        slot: work,
        sides,
        seams: Vec::new(),
    }])
}

/// What the making of a unit does to its patches.
fn done_by(mosaic: &Mosaic, unit: &MosaicUnit) -> Done {
    let mut done = Done::default();
    for deed in &unit.deeds {
        match deed {
            Deed::Join { pairs, .. } => {
                let sides = pairs.iter().flat_map(|p| p.a.iter().chain(&p.b));
                done.whipped.extend(sides.copied());
            }
            Deed::TakeOut(_) => {
                let ready = unit.faces.iter().filter(|&&f| all_whipped(mosaic, f, &done.whipped));
                done.out.extend(ready.copied().collect::<Vec<_>>());
            }
            Deed::Bring(_) => {}
        }
    }
    done
}

fn all_whipped(mosaic: &Mosaic, face: usize, whipped: &BTreeSet<SideOf>) -> bool {
    let patch = mosaic.patches.all.get(&face);
    patch.is_some_and(|p| (0..p.flat.len()).all(|s| p.flat[s] || whipped.contains(&(face, s))))
}

impl<'m, 'b, 'a> Hands<'m, 'b, 'a> {
    fn of(mosaic: &'m Mosaic, unit: &MosaicUnit, bench: &'b mut Bench<'a>) -> Self {
        let mut part_of = BTreeMap::new();
        for (i, part) in unit.parts.iter().enumerate() {
            match part {
                Brought::Patch(face) => drop(part_of.insert(*face, i)),
                Brought::Unit(_, member) => part_of.extend(member.iter().map(|(f, _)| (*f, i))),
            }
        }
        Hands {
            mosaic,
            bench,
            work_of: (0..unit.parts.len()).collect(),
            slots: BTreeMap::new(),
            edges: BTreeMap::new(),
            cards: BTreeMap::new(),
            part_of,
            done: Done::default(),
        }
    }

    /// Takes parts up; patches of one kind are basted one after another.
    fn bring(&mut self, unit: &MosaicUnit, parts: &[usize], names: &[UnitId]) -> Option<()> {
        let mut kinds: Vec<(recipe::Step, usize)> = Vec::new();
        for &part in parts {
            match &unit.parts[part] {
                Brought::Patch(face) => {
                    let step = self.baste(*face)?;
                    kinds.push((step, part));
                }
                Brought::Unit(number, member) => self.take_unit(part, *number, member, names)?,
            }
        }
        let kind = |step: &Step| match step {
            Step::Baste { piece, card, .. } => {
                let taken = self.bench.parts.iter().find(|p| p.slot == *piece);
                (card.clone(), taken.map(|p| format!("{:?}", p.take)))
            }
            _ => (String::new(), None),
        };
        let mut order: Vec<_> = Vec::new();
        for (step, _) in &kinds {
            let kind = kind(step);
            if !order.contains(&kind) {
                order.push(kind);
            }
        }
        let mut sorted: Vec<(usize, Step)> = (kinds.into_iter())
            .map(|(step, _)| (order.iter().position(|k| *k == kind(&step)).unwrap_or(0), step))
            .collect();
        sorted.sort_by_key(|(at, _)| *at);
        for (_, step) in sorted {
            self.bench.step(step);
        }
        Some(())
    }

    /// Takes a patch's piece; the step that bastes it.
    fn baste(&mut self, face: usize) -> Option<Step> {
        let patch = self.mosaic.patches.all.get(&face)?;
        let (fabric, cut) = self.mosaic.cuts.get(&face)?;
        let n = patch.outline.len();
        let card = self.bench.pieces.cards.of(&patch.outline, &patch.flat)?;
        let piece = (self.bench.pieces).of(cut.shape.clone(), fabric, cut.turns.clone(), Some(&patch.outline));
        let slot = self.bench.take(Take::Piece(piece));
        let into = self.bench.slot();
        // The card's flat sides in its own order.
        let mut flat: Vec<(u32, EdgeRef)> = (cut.flat.iter().enumerate())
            .filter_map(|(side, number)| Some((card.side(side, n), edge(slot, (*number)?))))
            .collect();
        flat.sort_by_key(|(side, _)| *side);
        self.edges
            .extend((0..n).map(|side| ((face, side), edge(into, card.side(side, n)))));
        self.slots.insert(*self.part_of.get(&face)?, into);
        self.cards.insert(face, card.name.clone());
        Some(Step::Baste {
            piece: slot,
            side: card.side(cut.side, n),
            card: card.name.clone(),
            along: edge(slot, cut.along),
            inside: (cut.inside.iter())
                .map(|&(side, number, by)| Inside {
                    side: card.side(side, n),
                    edge: edge(slot, number),
                    by,
                })
                .collect(),
            flat: flat.into_iter().map(|(_, e)| e).collect(),
            least: self.mosaic.least,
            most: cut.most,
            into,
        })
    }

    /// Takes a unit made before.
    fn take_unit(&mut self, part: usize, number: usize, member: &[(usize, usize)], names: &[UnitId]) -> Option<()> {
        let unit = self.mosaic.units.get(number)?;
        let slot = self.bench.take(Take::Unit(names.get(number)?.clone()));
        self.slots.insert(part, slot);
        // Where a side of the unit's patch lies here.
        let here = |(face, side): SideOf| {
            let at = unit.faces.iter().position(|&f| f == face)?;
            let &(face, first) = member.get(at)?;
            let n = self.mosaic.patches.all.get(&face)?.outline.len();
            Some((face, (side + first) % n))
        };
        for (i, side) in unit.sides.iter().enumerate() {
            for &s in side {
                self.edges.insert(here(s)?, edge(slot, i as u32));
            }
        }
        let done = done_by(self.mosaic, unit);
        self.done.whipped.extend(done.whipped.into_iter().filter_map(here));
        for (&inner, &(face, _)) in unit.faces.iter().zip(member) {
            let patch = self.mosaic.patches.all.get(&face)?;
            self.cards
                .insert(face, self.bench.pieces.cards.of(&patch.outline, &patch.flat)?.name);
            if done.out.contains(&inner) {
                self.done.out.insert(face);
            }
        }
        Some(())
    }

    fn run(&self, sides: &[SideOf]) -> Option<EdgeRun> {
        let mut edges: Vec<EdgeRef> = sides
            .iter()
            .map(|s| self.edges.get(s).copied())
            .collect::<Option<_>>()?;
        edges.dedup();
        Some(EdgeRun(edges))
    }

    fn join(&mut self, a: usize, b: usize, pairs: &[Pair]) -> Option<()> {
        let (a, b) = (self.work_of[a], self.work_of[b]);
        let edges = (pairs.iter())
            .map(|pair| {
                Some(Whipped {
                    a: self.run(&pair.a)?,
                    b: self.run(&pair.b)?,
                })
            })
            .collect::<Option<Vec<_>>>()?;
        let into = self.bench.slot();
        let (slot_a, slot_b) = (*self.slots.get(&a)?, self.slots.remove(&b)?);
        self.bench.step(Step::Whip {
            a: slot_a,
            b: slot_b,
            edges,
            into,
        });
        self.slots.insert(a, into);
        self.work_of.iter_mut().filter(|w| **w == b).for_each(|w| *w = a);
        let sides = pairs.iter().flat_map(|p| p.a.iter().chain(&p.b));
        self.done.whipped.extend(sides.copied());
        Some(())
    }

    /// Takes out the cards of one work whose sides are all sewn, if there are any.
    fn take_out(&mut self, part: usize) -> Option<()> {
        let work = self.work_of[part];
        let mut counts: BTreeMap<String, u32> = BTreeMap::new();
        for (face, card) in &self.cards {
            let here = self.part_of.get(face).is_some_and(|&p| self.work_of[p] == work);
            if here && !self.done.out.contains(face) && all_whipped(self.mosaic, *face, &self.done.whipped) {
                *counts.entry(card.clone()).or_default() += 1;
                self.done.out.insert(*face);
            }
        }
        if !counts.is_empty() {
            let mut cards: Vec<CardsOut> = (counts.into_iter())
                .map(|(card, count)| CardsOut { card, count })
                .collect();
            // "2" before "10".
            cards.sort_by_key(|c| (c.card.len(), c.card.clone()));
            let of = *self.slots.get(&work)?;
            self.bench.step(Step::TakeOut { of, cards });
        }
        Some(())
    }
}
