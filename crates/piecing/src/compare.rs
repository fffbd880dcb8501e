//! The ways in which each kind of unit could be made, side by side.

use crate::by_count::made;
use crate::class::ClassId;
use crate::emit::Emitted;
use crate::plan::{Cost, Making, Plan, Planner};
use crate::tally::{SHARE, Tally};
use crate::tokens::Content;
use design::Prefer;
use measure::UNITS_PER_INCH;
use std::rc::Rc;
use terms::UnitId;

/// One kind of unit and its ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// The unit.
    pub unit: UnitId,
    /// What it is called.
    pub label: String,
    /// How many the quilt takes, spares included.
    pub count: u64,
    /// Its ways, the chosen one first.
    pub ways: Vec<Way>,
    /// Why that one.
    pub because: Because,
}

/// One way of making a unit; all counts for one of it with its parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The method.
    pub method: &'static str,
    /// Cloth in square inches, with its share of units that are made beyond those wanted.
    pub cloth: f64,
    /// Cuts, of pieces and of stacks.
    pub cuts: f64,
    /// Seams.
    pub seams: f64,
    /// Lines of trims.
    pub trims: f64,
    /// How far out the unit may come when every cut and every seam is 1/64 in out the same way; in 1/64 in.
    pub error: u32,
    /// Turns of set-in seams.
    pub turns: usize,
    /// Seams closed in two goes.
    pub partial: usize,
    /// Half of what is made is of no use: the mirror image.
    pub spoils: bool,
    /// How many are made at once.
    pub at_once: u64,
    /// Units made beyond those wanted, since so many are made at once.
    pub over: u64,
    /// Its outer edges are on the bias.
    pub bias: bool,
}

/// Why a way was chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Because {
    /// There is no other.
    OnlyWay,
    /// The designer pinned it.
    Pinned,
    /// The others take set-in or partial seams.
    PlainSeams,
    /// It takes less cloth than any other.
    LeastCloth,
    /// It forgives more than any other.
    MostForgiving,
    /// The others leave the outer edges on the bias.
    StraightEdges,
    /// The others make more at once than are wanted.
    FewWanted,
    /// It takes the fewest units and actions; of those that are equal in what the designer prefers, if anything is.
    FewestSteps,
}

impl Planner<'_> {
    /// The ways of every unit that was made.
    pub fn compare(&mut self, emitted: &Emitted) -> Vec<Compared> {
        let mut all = Vec::new();
        for (make, kind) in emitted.makes.iter().zip(&emitted.kinds) {
            let Some(id) = *kind else { continue };
            let (ways, because) = self.ways(id, emitted.sets.get(&id));
            all.push(Compared {
                unit: make.unit.clone(),
                label: make.label.clone(),
                count: u64::from(make.times) * make.gives.len().max(1) as u64,
                ways,
                because,
            });
        }
        all
    }

    /// The ways of one kind of unit, `set` being its strip set if it is cut from one.
    fn ways(&mut self, id: ClassId, set: Option<&Rc<Plan>>) -> (Vec<Way>, Because) {
        let chosen = set.cloned().unwrap_or_else(|| self.plan(id));
        if self.is_laid_on(id) || self.larger.is_larger(id) {
            let tally = self.tally_of(id, &chosen.making);
            let only = way(chosen.making.method(), &tally, chosen.cost);
            return (vec![only], Because::OnlyWay);
        }
        let class = self.classes.get(id);
        let pin = self.blocks[class.home].method_of(&class.faces).map(str::to_string);
        let wanted = self.wanted.get(&id).copied().unwrap_or(1).max(1);
        let proposed = self.methods(id).into_iter();
        let mut found: Vec<(Plan, bool)> = proposed.map(|(plan, proposal)| (plan, proposal.spoils)).collect();
        let mut plain = self.together(id);
        if plain.iter().all(|p| p.cost.trapped > 0) {
            plain.extend(self.windmill(id));
            plain.extend(self.set_in(id));
        }
        if self.is_regular(id)
            && let Ok(plan) = self.over_card(id)
        {
            found.push((plan, false));
        }
        // Of the ways to divide a unit the best stands for all; windmills and set-in seams are methods of their own.
        plain.sort_by_key(|p| p.cost);
        for plan in plain {
            if plan.cost.trapped == 0 && !found.iter().any(|(p, _)| p.making.method() == plan.making.method()) {
                found.push((plan, false));
            }
        }
        if !found.iter().any(|(p, _)| p.making.method() == chosen.making.method()) {
            found.push((Plan::clone(&chosen), false));
        }
        let by_template = pin.as_deref() == Some("template");
        let is_chosen = |plan: &Plan| !by_template && plan.making.method() == chosen.making.method();
        let is_set = matches!(&chosen.making, Making::Together { set: Some(_), .. });
        let mut rows: Vec<(Way, Cost, bool)> = Vec::new();
        for (plan, spoils) in found {
            let tally = self.tally_of(id, &plan.making);
            let picked = is_chosen(&plan);
            let mut way = way_of(&plan, &tally, spoils, wanted);
            // What is set on point without squares has its triangles cut round templates.
            if is_set && !picked {
                way.method = "template";
            }
            rows.push((way, plan.cost, picked));
        }
        if let Some((tally, cost)) = self.round_templates(id) {
            // With templates pinned the plan is the plain one with each piece cut round its template.
            if by_template {
                rows.retain(|(way, _, _)| way.method != "plain patches");
            }
            rows.push((way("template", &tally, cost), cost, by_template));
        }
        rows.sort_by_key(|(_, _, picked)| !picked);
        let because = because(&rows, pin.is_some(), self.settings.prefer);
        (rows.into_iter().map(|(way, _, _)| way).collect(), because)
    }

    /// The unit from plain patches, each cut round a template; nothing where all are rectangles, which no one would.
    fn round_templates(&mut self, id: ClassId) -> Option<(Tally, Cost)> {
        let class = self.classes.get(id);
        let tokens = &self.blocks[class.home].tokens;
        let patches = || class.faces.iter().map(|&f| &tokens[f]);
        let all_patches = patches().all(|t| matches!(t.content, Content::Patch { .. }));
        let all_rectangles = patches().all(|t| crate::patch::rectangle_side(&t.outline).is_some());
        if !all_patches || all_rectangles {
            return None;
        }
        self.with_templates(|planner| {
            let plan = planner.together(id).into_iter().min_by_key(|p| p.cost)?;
            (plan.cost.trapped == 0).then(|| (planner.tally_of(id, &plan.making), plan.cost))
        })
    }
}

/// A plan's way, with what is made of it beyond those wanted.
fn way_of(plan: &Plan, tally: &Tally, spoils: bool, wanted: u64) -> Way {
    let at_once = plan.making.at_once();
    let made = made(wanted, at_once);
    let mut way = way(plan.making.method(), tally, plan.cost);
    way.cloth *= made as f64 / wanted as f64;
    way.spoils = spoils;
    way.at_once = at_once;
    way.over = made - wanted;
    way.bias = matches!(&plan.making, Making::Method(method) if method.bias());
    way
}

fn way(method: &'static str, tally: &Tally, cost: Cost) -> Way {
    let square = (UNITS_PER_INCH * UNITS_PER_INCH) as f64;
    let share = |count: u64| count as f64 / SHARE as f64;
    Way {
        method,
        cloth: tally.cloth as f64 / square,
        cuts: share(tally.cuts),
        seams: share(tally.seams),
        trims: share(tally.trims),
        error: tally.error(),
        turns: cost.turns,
        partial: cost.partial,
        spoils: false,
        at_once: 1,
        over: 0,
        bias: false,
    }
}

fn because(rows: &[(Way, Cost, bool)], pinned: bool, prefer: Prefer) -> Because {
    let [(first, cost, _), others @ ..] = rows else {
        return Because::OnlyWay;
    };
    if others.is_empty() {
        return Because::OnlyWay;
    }
    if pinned {
        return Because::Pinned;
    }
    if others.iter().all(|(_, other, _)| other.awkward() > cost.awkward()) {
        return Because::PlainSeams;
    }
    if !first.bias && others.iter().all(|(way, _, _)| way.bias) {
        return Because::StraightEdges;
    }
    // What is not chosen for its bias is no rival in what follows.
    let rivals: Vec<&(Way, Cost, bool)> = others.iter().filter(|(way, _, _)| !way.bias).collect();
    let others = rivals.iter();
    let fewer = |other: &Cost| (other.dial, other.units, other.handling) < (cost.dial, cost.units, cost.handling);
    if others
        .clone()
        .any(|(way, other, _)| way.over > first.over && fewer(other))
    {
        return Because::FewWanted;
    }
    let mut others = others;
    match prefer {
        Prefer::Cloth if others.all(|(way, _, _)| way.cloth > first.cloth) => Because::LeastCloth,
        Prefer::Forgiving if others.all(|(way, _, _)| way.error > first.error) => Because::MostForgiving,
        _ => Because::FewestSteps,
    }
}
