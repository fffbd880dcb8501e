//! Choosing how each unit class is made: seam trees, methods and their cost.
//!
//! Regions of a block are cut by through seams only; a region without holes that can be sewn so stays so whichever seam
//! is cut first, so feasibility is greedy and search is only for the better tree. Up to [`EXACT`] faces every direction
//! of through seams is tried (all its seams at once, and its middle seam alone); above that the direction that
//! leaves the fewest different parts.

use crate::class::{ClassId, Classes, Placed};
use crate::combs::Combs;
use crate::ends::inner_angle;
use crate::methods::foundation::{self, Foundation};
use crate::methods::joined_strip::JoinedStrip;
use crate::methods::setting_triangles::{self, Setting};
use crate::methods::slanted_strip::SlantedStrip;
use crate::methods::{METHODS, Method, Proposal, Taken, UnitView};
use crate::mosaic::{self, Mosaic};
use crate::motif::centred;
use crate::on_ground::{Ground, Grounds, LaidShape};
use crate::patch::{CutWay, PatchCut, cut_bowed, cut_patch};
use crate::ring::Ring;
use crate::seams::{Parallel, ThroughSeams, divide};
use crate::set_in::{self, Join, Leg};
use crate::set_on_point::Larger;
use crate::settings::Settings;
use crate::tally::Tally;
use crate::tokens::{BlockTokens, Content};
use crate::whys::Whys;
use crate::windmill::{self, Blade};
use design::Prefer;
use shape::{Line, Polygon, WELD};
use std::collections::{BTreeMap, BTreeSet};
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
        /// Where it is set on point and its setting triangles are cut larger: how they are trimmed.
        set: Option<Rc<Setting>>,
    },
    /// Parts sewn one after another round a middle, the first seam begun and closed last.
    Windmill {
        /// The middle, then the arms in order.
        parts: Vec<Placed>,
        /// For each arm its line.
        blades: Vec<Blade>,
    },
    /// Two parts joined along several edges, turning in a dot between.
    SetIn {
        /// Both.
        parts: Vec<Placed>,
        /// Along the first part's outline.
        legs: Vec<Leg>,
    },
    /// Patches basted over cards and whipped together.
    Mosaic(Rc<Mosaic>),
    /// A ground on which patches are laid and stitched down.
    Laid {
        /// The ground alone.
        parts: Vec<Placed>,
        /// What lies on it.
        ground: Rc<Ground>,
    },
    /// No seam at all: not made.
    Trapped,
}

impl Making {
    /// The method's name.
    pub fn method(&self) -> &'static str {
        match self {
            Making::Piece(cut) if cut.way == CutWay::Template => "template",
            Making::Piece(_) => "plain patches",
            Making::Together { set: Some(_), .. } => setting_triangles::NAME,
            Making::Together { .. } => "plain patches",
            Making::Windmill { .. } => "partial seam",
            Making::SetIn { legs, .. } if legs.iter().any(|leg| leg.curved) => "curved seam",
            Making::SetIn { legs, .. } if legs.len() > 1 => "set-in seam",
            Making::SetIn { .. } => "plain patches",
            Making::Method(method) => method.name(),
            Making::Mosaic(_) => mosaic::NAME,
            Making::Laid { .. } => "applique",
            Making::Trapped => "trapped",
        }
    }
}

impl Making {
    /// How many units come of it at once.
    pub fn at_once(&self) -> u64 {
        match self {
            Making::Method(method) => u64::from(method.at_once().max(1)),
            _ => 1,
        }
    }

    /// The parts it is made of, as far as they are units or patches of their own.
    pub fn parts(&self) -> &[Placed] {
        match self {
            Making::Together { parts, .. } | Making::Windmill { parts, .. } | Making::SetIn { parts, .. } => parts,
            Making::Laid { parts, .. } => parts,
            Making::Piece(_) | Making::Method(_) | Making::Mosaic(_) | Making::Trapped => &[],
        }
    }
}

/// What a making costs, compared in this order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    /// Trapped regions.
    pub trapped: usize,
    /// Turns of set-in seams.
    pub turns: usize,
    /// Seams closed in two goes.
    pub partial: usize,
    /// What the designer would rather save: nothing where that is steps; cloth; or how far out the unit may come.
    pub dial: u64,
    /// Different units to make.
    pub units: usize,
    /// Handling of one such unit, all its parts included.
    pub handling: u64,
}

impl Cost {
    /// What plain straight seams would not cost: trapped regions, turns, seams closed in two goes.
    pub fn awkward(self) -> (usize, usize, usize) {
        (self.trapped, self.turns, self.partial)
    }
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

impl Plan {
    /// The same made in another way.
    pub fn made(&self, making: Making) -> Self {
        Plan { making, ..self.clone() }
    }

    /// As easily sewn as another, and no worse in what the designer would rather save.
    fn no_dearer(&self, other: &Plan) -> bool {
        (self.cost.awkward(), self.cost.dial) <= (other.cost.awkward(), other.cost.dial)
    }

    /// A single patch cut so.
    pub(crate) fn of_piece(cut: PatchCut, sides: usize) -> Self {
        let handling = u64::from(cut.way.handling(sides));
        Plan {
            making: Making::Piece(cut),
            cost: Cost {
                handling,
                ..Cost::default()
            },
            units: Vec::new(),
        }
    }

    /// A single patch made by a method.
    pub(crate) fn of_method(method: Rc<dyn Method>, handling: u32) -> Self {
        Plan {
            making: Making::Method(method),
            cost: Cost {
                handling: u64::from(handling),
                ..Cost::default()
            },
            units: Vec::new(),
        }
    }

    /// The different units it takes, itself included, single patches left out; in order.
    pub(crate) fn units(&self) -> &[ClassId] {
        &self.units
    }
}

/// What sewing so many parts together takes in handling.
pub(crate) fn sewing_together(parts: usize) -> u64 {
    2 * parts as u64
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
    /// Regions of up to so many faces are searched over all directions: [`EXACT`], but for tests.
    pub(crate) exact: usize,
    plans: Vec<Option<Rc<Plan>>>,
    through: ThroughSeams,
    /// What can be sewn on one paper.
    pub(crate) combs: Combs,
    /// Joins that a search for a larger region found.
    joins: BTreeMap<ClassId, Join>,
    /// Classes on which patches are laid.
    grounds: Grounds,
    /// What each class takes by its plan; counted when first asked for.
    pub(crate) tallies: BTreeMap<ClassId, Rc<Tally>>,
    /// How often each class is made for the top, once that is counted.
    pub(crate) wanted: BTreeMap<ClassId, u64>,
    /// Regions for which mosaics over card were pinned and cannot be made, with why.
    pub(crate) not_over_card: BTreeMap<(usize, Vec<usize>), String>,
    /// All patches are cut round templates and no method is taken: only to see what that would cost.
    pub(crate) templates_only: bool,
    /// Classes cut larger than they finish.
    pub(crate) larger: Larger,
}

/// Ways to part a region into the fewest sections that are planned through, to find the one with the fewest units.
const MOST_CUTS: usize = 8;

/// The faces and the outline of each band between through seams.
type Bands = Vec<(Vec<usize>, Polygon)>;

impl<'a> Planner<'a> {
    /// Nothing planned yet.
    pub fn new(settings: &'a Settings) -> Self {
        Planner {
            blocks: Vec::new(),
            classes: Classes::default(),
            settings,
            whys: Whys::default(),
            exact: EXACT,
            plans: Vec::new(),
            through: ThroughSeams::default(),
            combs: Combs::default(),
            joins: BTreeMap::new(),
            grounds: BTreeMap::new(),
            tallies: BTreeMap::new(),
            wanted: BTreeMap::new(),
            not_over_card: BTreeMap::new(),
            templates_only: false,
            larger: Larger::default(),
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

    /// Plans a class otherwise from now on.
    pub(crate) fn replan(&mut self, id: ClassId, plan: Plan) {
        if let Some(known) = self.plans.get_mut(id.0) {
            *known = Some(Rc::new(plan));
            // What it takes is part of what others take.
            self.tallies.clear();
        }
    }

    /// The class of some faces of a block (in order of number).
    pub fn region(&mut self, home: usize, faces: Vec<usize>, outline: Polygon) -> Placed {
        self.classes.of_region(&self.blocks, home, faces, outline)
    }

    /// The class of a block on whose ground these shapes lie.
    pub(crate) fn lay_on(&mut self, home: usize, base: Placed, shapes: Vec<LaidShape>) -> Placed {
        let ground = Ground { base, shapes };
        let outline = self.blocks[home].outline.clone();
        let below = self.classes.get(base.class);
        let symmetries = ground.symmetries(&outline, &below.outline, &below.symmetries);
        let faces = (0..self.blocks[home].tokens.len()).collect();
        let placed = self.classes.of_ground(home, faces, outline, symmetries);
        self.grounds.insert(placed.class, Rc::new(ground));
        placed
    }

    /// Whether a class is a ground with something laid on it.
    pub(crate) fn is_laid_on(&self, id: ClassId) -> bool {
        self.grounds.contains_key(&id)
    }

    fn choose(&mut self, id: ClassId) -> Plan {
        if let Some(ground) = self.grounds.get(&id).cloned() {
            let own = Cost {
                handling: 12 * ground.shapes.len() as u64,
                ..Cost::default()
            };
            let parts = vec![ground.base];
            return self.of_parts(id, own, Making::Laid { parts, ground });
        }
        if let Some(plan) = self.larger.plan(id) {
            return plan;
        }
        let class = self.classes.get(id);
        if let [face] = class.faces[..] {
            return self.single(id, face);
        }
        let block = &self.blocks[class.home];
        let pinned = block.method_of(&class.faces).map(str::to_string);
        // A method would make all at once what is pinned as a unit within.
        let whole = block.pins_inside(&class.faces).is_empty();
        let mut best: Option<Plan> = None;
        let methods = if whole { self.methods(id) } else { Vec::new() };
        for (plan, proposal) in methods {
            // A pin is followed wherever it fits; cloth is thrown away only for it, or for what forgives most.
            let wanted = match &pinned {
                Some(pin) => pin == plan.making.method(),
                None if proposal.taken != Taken::Freely => false,
                None => !proposal.spoils || self.settings.prefer != Prefer::Steps,
            };
            if wanted && best.as_ref().is_none_or(|b| plan.cost < b.cost) {
                best = Some(plan);
            }
        }
        if whole && pinned.as_deref() == Some(mosaic::NAME) && !self.templates_only {
            match self.over_card(id) {
                Ok(plan) => best = Some(plan),
                Err(why) => {
                    let class = self.classes.get(id);
                    self.not_over_card.insert((class.home, class.faces.clone()), why);
                }
            }
        }
        // What a pinned method does not fit is sewn together from smaller units.
        if best.is_none() || pinned.is_none() {
            for candidate in self.together(id) {
                if best.as_ref().is_none_or(|b| candidate.cost < b.cost) {
                    best = Some(candidate);
                }
            }
        }
        // Setting triangles are cut as the trade cuts them wherever that can be.
        if let Some(set) = self.set_on_point(id)
            && best.as_ref().is_none_or(|best| set.no_dearer(best))
        {
            best = Some(set);
        }
        if best.as_ref().is_none_or(|b| b.cost.trapped > 0) {
            for candidate in self.windmill(id).into_iter().chain(self.set_in(id)) {
                if best.as_ref().is_none_or(|b| candidate.cost < b.cost) {
                    best = Some(candidate);
                }
            }
        }
        // A field of equal shapes goes together over card where nothing else will do it, or, for who would rather have it
        // forgiving, where machine seams would turn corners.
        let wanted = match &best {
            None => true,
            Some(best) if self.settings.prefer == Prefer::Forgiving => best.cost.trapped > 0 || best.cost.turns > 0,
            Some(best) => best.cost.trapped > 0,
        };
        if wanted
            && whole
            && pinned.is_none()
            && !self.templates_only
            && self.is_regular(id)
            && let Ok(plan) = self.over_card(id)
        {
            best = Some(plan);
        }
        best.unwrap_or_else(|| Plan {
            making: Making::Trapped,
            cost: Cost {
                trapped: 1,
                units: 1,
                ..Cost::default()
            },
            units: vec![id],
        })
    }

    /// Plans with every patch cut round a template and no method taken, apart from the plans already made.
    pub(crate) fn with_templates<T>(&mut self, look: impl FnOnce(&mut Self) -> T) -> T {
        let (plans, tallies) = (std::mem::take(&mut self.plans), std::mem::take(&mut self.tallies));
        self.templates_only = true;
        let seen = look(self);
        self.templates_only = false;
        (self.plans, self.tallies) = (plans, tallies);
        seen
    }

    /// Every method that makes the unit, whatever is pinned, in order of the register; and how it was proposed.
    pub(crate) fn methods(&mut self, id: ClassId) -> Vec<(Plan, Proposal)> {
        if self.templates_only {
            return Vec::new();
        }
        let class = self.classes.get(id);
        let curved = |&face: &usize| self.blocks[class.home].tokens[face].bows.contains(&true);
        if class.faces.iter().any(curved) {
            return Vec::new();
        }
        let mut proposals: Vec<Proposal> = self.on_paper(id).map(Foundation::proposal).into_iter().collect();
        let view = UnitView::of(self.classes.get(id), &self.blocks);
        let known = METHODS
            .iter()
            .filter_map(|known| Some((known, view.as_ref()?)))
            .filter_map(|(known, view)| (known.recognise)(view, self.settings));
        proposals.extend(known);
        proposals
            .into_iter()
            .map(|proposal| {
                let making = Making::Method(proposal.method.clone());
                let cost = Cost {
                    units: 1,
                    handling: u64::from(proposal.handling),
                    dial: self.dial(id, &making),
                    ..Cost::default()
                };
                let units = vec![id];
                (Plan { making, cost, units }, proposal)
            })
            .collect()
    }

    /// Over card, whatever is pinned.
    ///
    /// # Errors
    /// Why not, in a maker's words.
    pub(crate) fn over_card(&mut self, id: ClassId) -> Result<Plan, String> {
        let class = self.classes.get(id).clone();
        let block = &self.blocks[class.home];
        let found = mosaic::plan(block, &class.faces, &class.outline, self.settings, &mut self.whys)?;
        let cost = Cost {
            units: found.kinds(),
            handling: found.handling(),
            ..Cost::default()
        };
        let making = found.making();
        let cost = Cost {
            dial: self.dial(id, &making),
            ..cost
        };
        let units = vec![id];
        Ok(Plan { making, cost, units })
    }

    /// Whether a class is a field of equal shapes.
    pub(crate) fn is_regular(&self, id: ClassId) -> bool {
        let class = self.classes.get(id);
        mosaic::is_regular(&self.blocks[class.home], &class.faces)
    }

    /// Whether a class is pinned to be sewn on paper.
    fn wants_paper(&self, id: ClassId) -> bool {
        let class = self.classes.get(id);
        self.blocks[class.home].method_of(&class.faces) == Some(foundation::NAME)
    }

    /// Whether paper is worth a look though nobody pinned it: where something else than steps is to be saved, and more than half of
    /// the patches would be cut round templates.
    fn paper_may_pay(&self, id: ClassId) -> bool {
        let class = self.classes.get(id);
        let block = &self.blocks[class.home];
        if self.settings.prefer == Prefer::Steps
            || class.faces.len() < 2
            || class.faces.len() > EXACT
            || block.method_of(&class.faces).is_some()
        {
            return false;
        }
        let mut scratch = Whys::default();
        let by_template = |&&face: &&usize| {
            let token = &block.tokens[face];
            let Content::Patch { up, grain, .. } = token.content else {
                return false;
            };
            let cut = cut_patch(&token.outline, grain, up, false, self.settings, &mut scratch);
            cut.is_some_and(|cut| cut.way == CutWay::Template)
        };
        2 * class.faces.iter().filter(by_template).count() > class.faces.len()
    }

    /// The class as a section on foundation paper, where that is wanted, or may pay, and it is a comb.
    pub(crate) fn on_paper(&mut self, id: ClassId) -> Option<Foundation> {
        if !self.wants_paper(id) && !self.paper_may_pay(id) {
            return None;
        }
        Foundation::recognise(self.classes.get(id), &self.blocks, &mut self.combs, self.settings)
    }

    /// Round a middle, where the lines chase one another.
    pub(crate) fn windmill(&mut self, id: ClassId) -> Option<Plan> {
        let class = self.classes.get(id).clone();
        if !class.is_convex() {
            return None;
        }
        let found = windmill::find(&self.blocks[class.home], &class.faces, &class.outline)?;
        let mut parts = Vec::new();
        for (faces, outline) in std::iter::once(found.middle).chain(found.arms) {
            parts.push(self.region(class.home, faces, outline));
        }
        let own = Cost {
            partial: 1,
            handling: 2 * found.blades.len() as u64 + 3,
            ..Cost::default()
        };
        let blades = found.blades;
        Some(self.of_parts(id, own, Making::Windmill { parts, blades }))
    }

    /// Along edges shared round corners.
    pub(crate) fn set_in(&mut self, id: ClassId) -> Option<Plan> {
        let class = self.classes.get(id).clone();
        let known = self.joins.get(&id).cloned();
        let join = match known {
            Some(join) => join,
            None => {
                let joins = set_in::search(self, class.home, &class.faces)?;
                // What the search found out about the parts on the way is not looked for again.
                for join in &joins {
                    let mut faces = join.faces.concat();
                    faces.sort_unstable();
                    let outline = Ring::of(&self.blocks[class.home], &faces)?.outline();
                    let whole = self.region(class.home, faces.clone(), outline).class;
                    let met = self.classes.get(whole);
                    if met.home == class.home && met.faces == faces {
                        self.joins.entry(whole).or_insert_with(|| join.clone());
                    }
                }
                // A region that comes together as a windmill at last is no join.
                let last = joins.last()?.clone();
                if last.faces[0].len() + last.faces[1].len() != class.faces.len() {
                    return None;
                }
                last
            }
        };
        let parts = set_in::parts_of(self, class.home, &join)?.to_vec();
        let turns = join.legs.len() - 1;
        // A curve is pinned place by place and eased in.
        let curves = join.legs.iter().filter(|leg| leg.curved).count() as u64;
        let own = Cost {
            turns,
            handling: 2 + 4 * turns as u64 + 10 * curves,
            ..Cost::default()
        };
        Some(self.of_parts(id, own, Making::SetIn { parts, legs: join.legs }))
    }

    /// The plan of a unit made of parts, at what it costs itself.
    pub(crate) fn of_parts(&mut self, id: ClassId, own: Cost, making: Making) -> Plan {
        let mut units = vec![id];
        let mut cost = own;
        for part in making.parts() {
            let plan = self.plan(part.class);
            cost.trapped += plan.cost.trapped;
            cost.turns += plan.cost.turns;
            cost.partial += plan.cost.partial;
            cost.handling += plan.cost.handling;
            if self.keeps_point(id, part) {
                cost.handling += u64::from(CutWay::Template.handling(3) - CutWay::AtAngle.handling(3));
            }
            units.extend_from_slice(&plan.units);
        }
        // Sorted run by run already, which the stable sort makes use of.
        units.sort();
        units.dedup();
        cost.units = units.len();
        cost.dial = self.dial(id, &making);
        Plan { making, cost, units }
    }

    /// Whether a wedge that is cut blunt has its point where two sides of the unit meet: they must meet in cloth, so there
    /// it is cut round a template.
    pub(crate) fn keeps_point(&mut self, unit: ClassId, part: &Placed) -> bool {
        let Making::Piece(cut) = &self.plan(part.class).making else {
            return false;
        };
        let Some(blunt) = cut.blunt_corner() else { return false };
        let unit = &self.classes.get(unit).outline;
        let point = part.motion.point(self.classes.get(part.class).outline.corner(blunt));
        let at_point = (0..unit.len()).find(|&i| unit.corner(i).distance(point) < 2.0 * WELD);
        // At a right angle or wider the blunt wedge still reaches to where the unit's raw sides cross.
        at_point
            .and_then(|corner| inner_angle(unit, corner))
            .is_some_and(|angle| angle.degrees() < 89.9)
    }

    /// What the designer would rather save, of a class made so.
    fn dial(&mut self, id: ClassId, making: &Making) -> u64 {
        match self.settings.prefer {
            Prefer::Steps => 0,
            Prefer::Cloth => self.tally_of(id, making).cloth,
            Prefer::Forgiving => u64::from(self.tally_of(id, making).error()),
        }
    }

    fn single(&mut self, id: ClassId, face: usize) -> Plan {
        let class = self.classes.get(id);
        let (outline, home) = (class.outline.clone(), class.home);
        let content = self.blocks[class.home].tokens[face].content.clone();
        let plan = |making, handling: u32| Plan {
            making,
            cost: Cost {
                handling: u64::from(handling),
                ..Cost::default()
            },
            units: Vec::new(),
        };
        let Content::Patch {
            fabric,
            up,
            grain,
            patch,
            role,
        } = content
        else {
            return plan(Making::Trapped, 0);
        };
        let class = self.classes.get(id);
        if class.is_bowed() {
            let sides = class.sides.len();
            let cut = cut_bowed(&outline, &class.bows, grain, up, self.settings);
            return match cut {
                Some(cut) => {
                    let handling = cut.way.handling(sides);
                    plan(Making::Piece(cut), handling)
                }
                None => plan(Making::Trapped, 0),
            };
        }
        if let Some(strip) = JoinedStrip::recognise(&outline, &fabric, up, self.settings) {
            return plan(Making::Method(strip.method), strip.handling);
        }
        if !self.templates_only
            && let Some(strip) = SlantedStrip::recognise(&outline, &role, &fabric, (grain, up), self.settings)
        {
            return plan(Making::Method(strip.method), strip.handling);
        }
        let pinned_with_others = |pin: &&design::Pin| pin.patches.contains(&patch) && pin.method == "template";
        if self.wants_paper(id)
            && !self.templates_only
            && let Some(cut) = cut_patch(&outline, grain, up, false, self.settings, &mut self.whys)
            && cut.way == CutWay::Template
            && let Some(sheet) = self.on_paper(id)
        {
            let proposal = sheet.proposal();
            return plan(Making::Method(proposal.method), proposal.handling);
        }
        let block = &self.blocks[home];
        let by_template = self.templates_only
            || block.method.as_deref() == Some("template")
            || block.pins.iter().any(|pin| pinned_with_others(&pin));
        if !self.classes.get(id).is_convex() {
            return plan(Making::Trapped, 0);
        }
        let motif = self.settings.cloth(&fabric).and_then(|c| Some((c.motif?, up?)));
        if let Some((motif, up)) = motif
            && !by_template
            && let Some(cut) = centred(&outline, up, motif, self.settings, &mut self.whys)
        {
            let handling = cut.way.handling(outline.len());
            return plan(Making::Piece(cut), handling);
        }
        match cut_patch(&outline, grain, up, by_template, self.settings, &mut self.whys) {
            Some(cut) => {
                let handling = cut.way.handling(outline.len());
                plan(Making::Piece(cut), handling)
            }
            None => plan(Making::Trapped, 0),
        }
    }

    /// For each direction of through seams what lies between all of them.
    pub(crate) fn bands(&mut self, id: ClassId) -> Vec<(Vec<Placed>, Vec<Line>)> {
        let class = self.classes.get(id).clone();
        if class.faces.len() < 2 || !class.is_convex() {
            return Vec::new();
        }
        let block = &self.blocks[class.home];
        let groups = self.through.of(block, &class.faces, &class.outline);
        let mut found = Vec::new();
        for Parallel { lines } in groups {
            let block = &self.blocks[class.home];
            let Some(bands) = divide(block, &class.faces, &class.outline, &lines) else {
                continue;
            };
            let mut parts = Vec::with_capacity(bands.len());
            for (faces, outline) in bands {
                parts.push(self.region(class.home, faces, outline));
            }
            found.push((parts, lines));
        }
        found
    }

    /// All ways to divide a class that are worth a look, planned.
    pub(crate) fn together(&mut self, id: ClassId) -> Vec<Plan> {
        let class = self.classes.get(id).clone();
        // Through seams divide what has no hollow corner; the rest goes together along shared edges.
        if !class.is_convex() {
            return Vec::new();
        }
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
        if self.wants_paper(id) && !self.templates_only {
            let block = &self.blocks[class.home];
            let fewest = self.combs.fewest(class.home, block, &class.faces, &class.outline);
            if !fewest.cuts.is_empty() {
                choices = fewest
                    .cuts
                    .iter()
                    .map(|&cut| {
                        self.combs
                            .with_parallels(class.home, block, &class.faces, &class.outline, cut)
                    })
                    .collect();
                choices.truncate(MOST_CUTS);
            }
        }
        let pins = self.blocks[class.home].pins_inside(&class.faces);
        let mut banded: Vec<(Bands, Vec<Line>, usize)> = Vec::new();
        if !pins.is_empty() {
            // What is pinned may be left together by one seam of a direction alone.
            let single = groups.iter().flat_map(|g| g.lines.iter().map(|&line| vec![line]));
            let more: Vec<Vec<Line>> = single.filter(|lines| !choices.contains(lines)).collect();
            choices.extend(more);
        }
        for lines in choices {
            let block = &self.blocks[class.home];
            let Some(bands) = divide(block, &class.faces, &class.outline, &lines) else {
                continue;
            };
            let regions: Vec<Vec<usize>> = bands.iter().map(|(faces, _)| faces.clone()).collect();
            let kept = pins.iter().filter(|pin| block.keeps_whole(pin, &regions)).count();
            banded.push((bands, lines, kept));
        }
        // As many pins as can be followed.
        let most = banded.iter().map(|(_, _, kept)| *kept).max().unwrap_or(0);
        banded.retain(|(_, _, kept)| *kept == most);
        let mut divided: Vec<(Vec<Placed>, Vec<Line>)> = Vec::new();
        for (bands, lines, _) in banded {
            let parts: Vec<Placed> = bands
                .into_iter()
                .map(|(faces, outline)| self.classes.of_region(&self.blocks, class.home, faces, outline))
                .collect();
            divided.push((parts, lines));
        }
        if class.faces.len() > self.exact && !self.wants_paper(id) {
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
                let own = Cost {
                    handling: sewing_together(parts.len()),
                    ..Cost::default()
                };
                let set = None;
                self.of_parts(id, own, Making::Together { parts, seams, set })
            })
            .collect()
    }
}
