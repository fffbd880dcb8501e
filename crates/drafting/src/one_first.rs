//! One block first: what a single block of each kind takes, to be cut, sewn and measured before all the rest is cut.

use crate::parts::{taken, used};
use crate::{Draft, cloths_to_cut};
use design::Design;
use recipe::{Bought, Demand};
use std::collections::BTreeMap;
use terms::UnitId;

/// Cutting for one block of a kind, to be made before all the rest is cut.
#[derive(Clone, Debug)]
pub struct OneFirst {
    /// The block.
    pub block: String,
    /// The unit that is the whole of it.
    pub unit: UnitId,
    /// What its pieces are cut as.
    pub demands: Vec<Demand>,
    /// The cloth for one alone.
    pub bought: Bought,
}

impl Draft {
    /// What one block of each kind made in the part takes, cut by itself; a block whose pieces were all or partly cut in earlier parts was
    /// made first there.
    pub(crate) fn one_of_each(&self, design: &Design, times: &[u32], cut: &[Demand]) -> Vec<OneFirst> {
        let makes = &self.pattern.recipe.makes;
        let recipe = &self.pattern.recipe;
        let place: BTreeMap<&UnitId, usize> = makes.iter().enumerate().map(|(i, make)| (&make.unit, i)).collect();
        let mut first = Vec::new();
        for (name, kinds) in self.blocks_made() {
            let Some(&kind) = kinds.iter().find(|&&i| times[i] > 0) else {
                continue;
            };
            let mut once = vec![0_u32; makes.len()];
            once[kind] = 1;
            for i in (0..kind).rev() {
                let need = taken(makes, &place, &once)[i];
                once[i] = u32::try_from(need.div_ceil(makes[i].gives.len().max(1) as u64)).unwrap_or(u32::MAX);
            }
            let used = used(makes, &once);
            let demands: Vec<Demand> = self
                .demands
                .iter()
                .filter_map(|demand| {
                    let count = u32::try_from(*used.get(&demand.piece)?).ok()?;
                    Some(Demand {
                        count,
                        ..demand.clone()
                    })
                })
                .collect();
            let cut_here = |one: &Demand| cut.iter().any(|demand| demand.piece == one.piece);
            if !demands.iter().all(cut_here) {
                continue;
            }
            // The list is for the shop's counter; its derivations are those of any cutting.
            let mut whys = Vec::new();
            let cut = cutting::plan_cutting(
                &demands,
                &[],
                &cloths_to_cut(design),
                recipe.mark,
                recipe.measure,
                &mut whys,
            );
            first.push(OneFirst {
                block: name.to_string(),
                unit: makes[kind].unit.clone(),
                demands,
                bought: without_whys(cut.bought),
            });
        }
        first
    }
}

/// The cutting's figures stand alone here: the derivations they point to are not those of the pattern.
fn without_whys(mut bought: Bought) -> Bought {
    for cloth in &mut bought.cloths {
        for size in [&mut cloth.length, &mut cloth.usable, &mut cloth.bound] {
            size.why = None;
        }
        if let Some(pieces) = &mut cloth.pieces {
            pieces.each.why = None;
        }
    }
    bought
}
