//! Makings written on a scratch bench, only to be counted: nothing of them gets into the recipe.

use crate::bench::{Bench, Handle};
use crate::class::{ClassId, Placed};
use crate::methods::sew_together::{self, PartAtPlace};
use crate::methods::{set_in, windmill};
use crate::pieces::Pieces;
use crate::plan::{Making, Planner};
use crate::tally::Tally;
use crate::tokens::Content;
use crate::whys::Whys;
use recipe::{Press, Slot, Take};
use shape::Polygon;
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::UnitId;

impl Planner<'_> {
    /// What a class takes by its plan.
    pub fn tally(&mut self, id: ClassId) -> Rc<Tally> {
        if let Some(known) = self.tallies.get(&id) {
            return known.clone();
        }
        let plan = self.plan(id);
        let tally = Rc::new(self.tally_of(id, &plan.making));
        self.tallies.insert(id, tally.clone());
        tally
    }

    /// What a class would take if it were made so, its parts by their plans; nothing for what cannot be made.
    pub fn tally_of(&mut self, id: ClassId, making: &Making) -> Tally {
        let class = self.classes.get(id).clone();
        let outline = class.outline.clone();
        if let Making::Piece(cut) = making {
            return Tally::of_piece(&cut.shape, outline.len());
        }
        if let Making::Mosaic(mosaic) = making {
            return mosaic.tally();
        }
        let parts: Vec<Placed> = making.parts().to_vec();
        let inner: Vec<Rc<Tally>> = parts.iter().map(|p| self.tally(p.class)).collect();
        let (mut whys, mut pieces) = (Whys::default(), Pieces::default());
        // Where parts are cut larger, they are placed by their joints.
        let by_joints = parts.iter().any(|part| !self.over(part.class).is_none());
        let mut placed = Vec::with_capacity(parts.len());
        for part in &parts {
            let Some(handle) = self.scratch_handle(part.class, &mut pieces) else {
                return Tally::default();
            };
            let outline = part.motion.polygon(&self.classes.get(part.class).outline);
            let joints = if by_joints {
                self.joints_of(part.class)
            } else {
                vec![Vec::new(); outline.len()]
            };
            placed.push(PartAtPlace {
                handle,
                over: self.over(part.class),
                cut: vec![None; outline.len()],
                joints,
                bows: self.classes.get(part.class).bows.clone(),
                bowed: self.bowed_patches(part),
                outline,
            });
        }
        let mut bench = Bench::new(&mut whys, &mut pieces, self.settings);
        let gives = match making {
            Making::Together {
                seams, set: Some(set), ..
            } => set.write(&mut bench, &outline, &placed, seams, &[]).ok(),
            Making::Together { seams, .. } => sew_together::write(&mut bench, &outline, &placed, seams, &[]).ok(),
            Making::Windmill { blades, .. } => windmill::write(&mut bench, &outline, &placed, blades, &[]).ok(),
            Making::SetIn { legs, .. } => set_in::write(&mut bench, &class, &placed, legs, Press::TowardUpper).ok(),
            Making::Method(method) => Some(method.write(&mut bench)),
            Making::Laid { ground, .. } => placed
                .first()
                .and_then(|p| ground.write(&mut bench, &outline, p, "sheet")),
            Making::Piece(_) | Making::Mosaic(_) | Making::Trapped => None,
        };
        let (taken, steps) = (bench.parts, bench.steps);
        let Some(gives) = gives else { return Tally::default() };
        // Parts are taken in their order; a method of its own takes pieces only.
        let by_slot: BTreeMap<Slot, Rc<Tally>> = taken
            .iter()
            .zip(inner)
            .filter(|(part, _)| matches!(part.take, Take::Unit(_)))
            .map(|(part, tally)| (part.slot, tally))
            .collect();
        Tally::of_making(&taken, &steps, &gives, &pieces, &by_slot)
    }

    /// The patches of a part that have bowed sides, where they lie.
    pub fn bowed_patches(&self, part: &Placed) -> Vec<(Polygon, Vec<bool>)> {
        let class = self.classes.get(part.class);
        if !class.is_bowed() {
            return Vec::new();
        }
        let tokens = class.faces.iter().map(|&face| &self.blocks[class.home].tokens[face]);
        tokens
            .filter(|token| token.bows.contains(&true))
            .map(|token| (part.motion.polygon(&token.outline), token.bows.clone()))
            .collect()
    }

    fn scratch_handle(&mut self, id: ClassId, pieces: &mut Pieces) -> Option<Handle> {
        let plan = self.plan(id);
        let class = self.classes.get(id);
        match &plan.making {
            Making::Trapped => None,
            Making::Piece(cut) => {
                let Content::Patch { fabric, .. } = &self.blocks[class.home].tokens[class.faces[0]].content else {
                    return None;
                };
                let piece = pieces.of(cut.shape.clone(), fabric, cut.turns.clone(), None);
                Some(Handle {
                    take: Take::Piece(piece),
                    edges: cut.edges.clone(),
                })
            }
            _ => Some(Handle {
                take: Take::Unit(UnitId(format!("class/{}", id.0))),
                edges: class.sides.of.iter().map(|&side| side as u32).collect(),
            }),
        }
    }
}
