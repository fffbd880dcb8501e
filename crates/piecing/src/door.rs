//! A door for tests alone: what the planner makes of a block's faces, in bare figures, for those who look for a better way
//! to make it. Nothing in the program goes through here.

use crate::class::ClassId;
use crate::methods::Taken;
use crate::plan::{Cost, Planner, sewing_together};
use crate::ring::Ring;
use crate::settings::Settings;
use crate::tokens::tokens_of;
use design::{BlockIndex, Sheet};
use shape::{Motion, Polygon};

/// What one way to make a unit costs, and the different units it takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figures {
    /// Trapped regions, turns of set-in seams, seams closed in two goes.
    pub awkward: (usize, usize, usize),
    /// Handling, all parts included.
    pub handling: u64,
    /// The units, by the numbers of their classes, in order.
    pub units: Vec<usize>,
}

/// All blocks of a sheet, whole blocks within blocks staying whole.
pub struct Planning<'a> {
    planner: Planner<'a>,
}

impl<'a> Planning<'a> {
    /// The blocks of a sheet; every direction is searched in regions of up to `exact` faces.
    pub fn of(sheet: &Sheet, settings: &'a Settings, exact: usize) -> Self {
        let mut planner = Planner::new(settings);
        planner.exact = exact;
        let mut placed = Vec::new();
        for map in &sheet.blocks {
            let block = tokens_of(map, &|used: BlockIndex| {
                placed
                    .get(used.0)
                    .map_or((ClassId(0), Motion::STILL), |p: &crate::class::Placed| {
                        (p.class, p.motion)
                    })
            });
            planner.blocks.push(block);
            placed.push(planner.block_class(planner.blocks.len() - 1));
        }
        Planning { planner }
    }

    /// How many blocks.
    pub fn blocks(&self) -> usize {
        self.planner.blocks.len()
    }

    /// Whether a block has curved seams: it is then no matter of straight seams from side to side alone.
    pub fn curved(&self, block: usize) -> bool {
        self.planner.blocks[block]
            .tokens
            .iter()
            .any(|token| token.bows.contains(&true))
    }

    /// Whether the designer has pinned a method to a block.
    pub fn pinned(&self, block: usize) -> bool {
        self.planner.blocks[block].method.is_some()
    }

    /// The faces of a block.
    pub fn faces(&self, block: usize) -> Vec<Polygon> {
        let tokens = &self.planner.blocks[block].tokens;
        tokens.iter().map(|token| token.outline.clone()).collect()
    }

    /// The class of some faces of a block (in order of number); `None` when they are not one piece without a hole.
    pub fn region(&mut self, block: usize, faces: &[usize]) -> Option<usize> {
        let outline = Ring::of(&self.planner.blocks[block], faces)?.outline();
        Some(self.planner.region(block, faces.to_vec(), outline).class.0)
    }

    /// Every way to make a class without dividing it by seams.
    pub fn whole(&mut self, class: usize) -> Vec<Figures> {
        let methods = self.planner.methods(ClassId(class)).into_iter();
        methods
            .filter(|(_, proposal)| !proposal.spoils && proposal.taken == Taken::Freely)
            .map(|(plan, _)| figures(plan.cost, plan.units()))
            .collect()
    }

    /// What sewing so many parts together costs in handling, the parts themselves left out.
    pub fn sewing(parts: usize) -> u64 {
        sewing_together(parts)
    }

    /// The planner's own plan.
    pub fn planned(&mut self, class: usize) -> Figures {
        let plan = self.planner.plan(ClassId(class));
        figures(plan.cost, plan.units())
    }
}

fn figures(cost: Cost, units: &[ClassId]) -> Figures {
    Figures {
        awkward: cost.awkward(),
        handling: cost.handling,
        units: units.iter().map(|id| id.0).collect(),
    }
}
