//! Choosing how each unit class is made: seam trees, methods and their cost.
//!
//! Regions of a block are cut by through seams only; a region without holes that can be sewn so stays so whichever seam
//! is cut first, so feasibility is greedy and search is only for the better tree. Up to [`EXACT`] faces every direction
//! of through seams is tried (all its seams at once, and its middle seam alone); above that the direction that
//! leaves the fewest different parts.

use crate::class::{ClassId, Classes, Placed};
use crate::methods::joined_strip::JoinedStrip;
use crate::methods::{METHODS, Method, UnitView};
use crate::patch::{PatchCut, cut_patch};
use crate::seams::{Parallel, ThroughSeams, divide};
use crate::settings::Settings;
use crate::tokens::{BlockTokens, Content};
use crate::whys::Whys;
use shape::Line;
use std::collections::BTreeSet;
use std::rc::Rc;

/// Regions of up to so many faces are searched over all directions.
pub const EXACT: usize = 36;

/// How a class is made.
#[derive(Clone, Debug)]
pub enum Making {
    /// One patch, one piece.
    Piece(PatchCut),
    /// By a method of its own.
    Method(Rc<dyn Method>),
    /// Parts sewn one after another along these lines.
    Together {
        /// In order.
        parts: Vec<Placed>,
        /// Between them.
        seams: Vec<Line>,
    },
    /// No through seam: not made.
    Trapped,
}

impl Making {
    /// The method's name.
    pub fn method(&self) -> &'static str {
        match self {
            Making::Piece(cut) if cut.way == crate::patch::CutWay::Template => "template",
            Making::Piece(_) => "plain patches",
            Making::Together { .. } => "plain patches",
            Making::Method(method) => method.name(),
            Making::Trapped => "trapped",
        }
    }
}

/// What a making costs, compared in this order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    /// Trapped regions.
    pub trapped: usize,
    /// Different units to make.
    pub units: usize,
    /// Handling of one such unit, all its parts included.
    pub handling: u64,
}

/// A class's plan.
#[derive(Clone, Debug)]
pub struct Plan {
    /// How.
    pub making: Making,
    /// At what cost.
    pub cost: Cost,
    /// The different units it takes, itself included, single patches left out; in order.
    units: Vec<ClassId>,
}

/// All plans.
pub struct Planner<'a> {
    /// The blocks.
    pub blocks: Vec<BlockTokens>,
    /// The classes.
    pub classes: Classes,
    /// The settings.
    pub settings: &'a Settings,
    /// The derivations.
    pub whys: Whys,
    plans: Vec<Option<Rc<Plan>>>,
    through: ThroughSeams,
}

impl<'a> Planner<'a> {
    /// Nothing planned yet.
    pub fn new(settings: &'a Settings) -> Self {
        Planner {
            blocks: Vec::new(),
            classes: Classes::default(),
            settings,
            whys: Whys::default(),
            plans: Vec::new(),
            through: ThroughSeams::default(),
        }
    }

    /// The class of a whole block.
    pub fn block_class(&mut self, home: usize) -> Placed {
        let faces = (0..self.blocks[home].tokens.len()).collect();
        let outline = self.blocks[home].outline.clone();
        self.classes.of_region(&self.blocks, home, faces, outline)
    }

    /// The plan of a class, made once.
    pub fn plan(&mut self, id: ClassId) -> Rc<Plan> {
        if let Some(Some(plan)) = self.plans.get(id.0) {
            return plan.clone();
        }
        let plan = Rc::new(stacker::maybe_grow(256 * 1024, 4 * 1024 * 1024, || self.choose(id)));
        if self.plans.len() <= id.0 {
            self.plans.resize(self.classes.len().max(id.0 + 1), None);
        }
        self.plans[id.0] = Some(plan.clone());
        plan
    }

    fn choose(&mut self, id: ClassId) -> Plan {
        let class = self.classes.get(id);
        if let [face] = class.faces[..] {
            return self.single(id, face);
        }
        let mut best: Option<Plan> = None;
        let alone = |making, handling: u32| Plan {
            making,
            cost: Cost {
                trapped: 0,
                units: 1,
                handling: u64::from(handling),
            },
            units: vec![id],
        };
        let pinned = self.blocks[class.home].method.clone();
        if let Some(view) = UnitView::of(class, &self.blocks) {
            best = METHODS
                .iter()
                .filter_map(|known| (known.recognise)(&view, self.settings))
                .map(|proposal| alone(Making::Method(proposal.method), proposal.handling))
                .filter(|p| pinned.as_ref().is_none_or(|pin| pin == p.making.method()))
                .min_by_key(|p| p.cost);
        }
        // A pinned method is taken wherever it fits; what it does not fit is sewn together from smaller units.
        if best.is_none() || pinned.is_none() {
            for candidate in self.together(id) {
                if best.as_ref().is_none_or(|b| candidate.cost < b.cost) {
                    best = Some(candidate);
                }
            }
        }
        best.unwrap_or_else(|| Plan {
            making: Making::Trapped,
            cost: Cost {
                trapped: 1,
                units: 1,
                handling: 0,
            },
            units: vec![id],
        })
    }

    fn single(&mut self, id: ClassId, face: usize) -> Plan {
        let class = self.classes.get(id);
        let (outline, home) = (class.outline.clone(), class.home);
        let content = self.blocks[class.home].tokens[face].content.clone();
        let plan = |making, handling: u32| Plan {
            making,
            cost: Cost {
                trapped: 0,
                units: 0,
                handling: u64::from(handling),
            },
            units: Vec::new(),
        };
        let Content::Patch { fabric, up, grain, .. } = content else {
            return plan(Making::Trapped, 0);
        };
        if up.is_none()
            && let Some(strip) = JoinedStrip::recognise(&outline, &fabric, self.settings)
        {
            return plan(Making::Method(strip.method), strip.handling);
        }
        let by_template = self.blocks[home].method.as_deref() == Some("template");
        match cut_patch(&outline, grain, up, by_template, self.settings, &mut self.whys) {
            Some(cut) => {
                let handling = cut.way.handling(outline.len());
                plan(Making::Piece(cut), handling)
            }
            None => plan(Making::Trapped, 0),
        }
    }

    /// All ways to divide a class that are worth a look, planned.
    fn together(&mut self, id: ClassId) -> Vec<Plan> {
        let class = self.classes.get(id).clone();
        let block = &self.blocks[class.home];
        let groups = self.through.of(block, &class.faces, &class.outline);
        let mut choices: Vec<Vec<Line>> = Vec::new();
        for Parallel { lines } in &groups {
            choices.push(lines.clone());
            // The middle seam alone, where it leaves two halves alike in number.
            if lines.len() > 1 {
                choices.push(vec![lines[lines.len() / 2]]);
            }
        }
        let mut divided: Vec<(Vec<Placed>, Vec<Line>)> = Vec::new();
        for lines in choices {
            let Some(bands) = divide(&self.blocks[class.home], &class.faces, &class.outline, &lines) else {
                continue;
            };
            let parts: Vec<Placed> = bands
                .into_iter()
                .map(|(faces, outline)| self.classes.of_region(&self.blocks, class.home, faces, outline))
                .collect();
            divided.push((parts, lines));
        }
        if class.faces.len() > EXACT {
            let different = |parts: &[Placed]| parts.iter().map(|p| p.class).collect::<BTreeSet<_>>().len();
            // Two halves alike first; else the direction whose parts repeat most, all its seams at once: rows
            // rather than deep trees.
            let best = (0..divided.len()).min_by_key(|&i| {
                let (parts, count) = (different(&divided[i].0), divided[i].0.len());
                let halves = count == 2 && parts == 2 && divided.len() > 1;
                (
                    usize::from(parts > 1),
                    usize::from(halves),
                    parts * 1024 / count,
                    std::cmp::Reverse(count),
                )
            });
            divided = best.map(|i| divided.swap_remove(i)).into_iter().collect();
        }
        divided
            .into_iter()
            .map(|(parts, seams)| {
                let mut units = vec![id];
                let mut cost = Cost::default();
                for part in &parts {
                    let plan = self.plan(part.class);
                    cost.trapped += plan.cost.trapped;
                    cost.handling += plan.cost.handling + 2;
                    units.extend_from_slice(&plan.units);
                }
                // Sorted run by run already, which the stable sort makes use of.
                units.sort();
                units.dedup();
                cost.units = units.len();
                Plan {
                    making: Making::Together { parts, seams },
                    cost,
                    units,
                }
            })
            .collect()
    }
}
