//! Layouts on point, planned so that their setting triangles are cut from squares: the rows are sewn from them larger than they
//! finish, and what they make is trimmed. What is
//! cut so is a kind of unit of its own.

use crate::bench::Handle;
use crate::class::{ClassId, Placed};
use crate::joints::Joints;
use crate::methods::setting_triangles::{self, AtPoint, Outs, Setting};
use crate::methods::sew_together::PartAtPlace;
use crate::methods::slanted_strip::SlantedStrip;
use crate::over::{Over, goes_together};
use crate::patch::rectangle_side;
use crate::plan::{Cost, Making, Plan, Planner, sewing_together};
use crate::tokens::Content;
use measure::Why;
use recipe::Take;
use shape::{Line, Polygon, WELD};
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::PieceId;

/// The kinds of unit that are cut larger than they finish.
#[derive(Debug, Default)]
pub(crate) struct Larger {
    known: BTreeMap<ClassId, Known>,
    /// By the kind that is cut true and the sides that are outer ones; the same kind where it stays so.
    of: BTreeMap<(ClassId, Vec<bool>), ClassId>,
}

#[derive(Debug)]
struct Known {
    plan: Plan,
    over: Over,
    /// For each side that stands out, why by so much.
    excess: Vec<Option<Why>>,
}

impl Larger {
    /// How a kind of unit that is cut larger is made.
    pub(crate) fn plan(&self, id: ClassId) -> Option<Plan> {
        self.known.get(&id).map(|known| known.plan.clone())
    }

    /// Whether a kind of unit is cut larger than it finishes.
    pub(crate) fn is_larger(&self, id: ClassId) -> bool {
        self.known.contains_key(&id)
    }
}

/// What the layout calls the ground that the sides of a layout on point cut through.
const SET: &str = "setting triangle";

/// What it calls the strips between the blocks.
const STRIP: &str = "sashing";

impl Planner<'_> {
    /// What of a kind of unit is cut larger than it finishes.
    pub(crate) fn over(&self, id: ClassId) -> Over {
        self.larger.known.get(&id).map(|k| k.over.clone()).unwrap_or_default()
    }

    /// What is set on point, its triangles cut from squares and trimmed; `None` for anything else.
    pub(crate) fn set_on_point(&mut self, id: ClassId) -> Option<Plan> {
        if self.templates_only {
            return None;
        }
        let class = self.classes.get(id).clone();
        let along = rectangle_side(&class.outline)?;
        let tokens = &self.blocks[class.home].tokens;
        // All its triangles are at its own sides: what they are part of besides is no more than rows of it.
        let at_side = |face: &usize| {
            on_sides(&tokens[*face].outline, &class.outline)
                .iter()
                .any(Option::is_some)
        };
        let is_set = |face: &&usize| matches!(&tokens[**face].content, Content::Patch { role, .. } if role == SET);
        // Strips and stones that the sides cut through are cut larger with them.
        let is_cut = |face: &usize| {
            let strip = matches!(&tokens[*face].content, Content::Patch { role, .. } if role == STRIP);
            is_set(&face) || strip || tokens[*face].outline.len() == 3
        };
        let mut set = class.faces.iter().filter(is_set).peekable();
        if set.peek().is_none() || !set.all(at_side) || !(class.faces.iter().filter(|face| at_side(face))).all(is_cut) {
            return None;
        }
        for (rows, seams) in self.bands(id) {
            let slanting = |line: &Line| (line.along.dot(along).abs() - line.along.cross(along).abs()).abs() < 1.0e-6;
            if seams.iter().all(slanting)
                && let Some(plan) = self.set_rows(id, &class.outline, &rows, seams)
            {
                return Some(plan);
            }
        }
        None
    }

    fn set_rows(&mut self, id: ClassId, outline: &Polygon, rows: &[Placed], seams: Vec<Line>) -> Option<Plan> {
        let mut parts: Vec<Placed> = Vec::with_capacity(rows.len());
        for row in rows {
            let outer = self.outer(row, outline);
            let class = self.larger_row(row.class, &outer);
            // One ground, one way: where one triangle cannot be cut so, none is.
            if !self.larger.is_larger(class) && self.has_triangle(class) {
                return None;
            }
            parts.push(Placed { class, ..*row });
        }
        let places = self.places(&parts);
        if !goes_together(&places, &seams, self.settings.seam_inches()) {
            return None;
        }
        let crossings = self.crossings(&parts, &seams);
        let outs = self.outs(&parts, outline);
        let set = Setting::of(outline, &crossings, &outs, self.settings)?;
        let own = Cost {
            // A line drawn and a trim for each side, and measuring it.
            handling: sewing_together(parts.len()) + 2 * set.lines() as u64 + 2,
            ..Cost::default()
        };
        let set = (!set.is_none()).then(|| Rc::new(set));
        Some(self.of_parts(id, own, Making::Together { parts, seams, set }))
    }

    fn has_triangle(&self, id: ClassId) -> bool {
        let class = self.classes.get(id);
        let set = |content: &Content| matches!(content, Content::Patch { role, .. } if role == SET);
        class
            .faces
            .iter()
            .any(|&face| set(&self.blocks[class.home].tokens[face].content))
    }

    /// For each side of a part whether it lies on a side of what it is part of.
    fn outer(&self, part: &Placed, whole: &Polygon) -> Vec<bool> {
        let outline = part.motion.polygon(&self.classes.get(part.class).outline);
        on_sides(&outline, whole).iter().map(Option::is_some).collect()
    }

    /// The kind of row that is made with triangles cut from squares at its outer sides; the same kind where there are none.
    fn larger_row(&mut self, id: ClassId, outer: &[bool]) -> ClassId {
        if !outer.contains(&true) {
            return id;
        }
        let key = (id, outer.to_vec());
        if let Some(&known) = self.larger.of.get(&key) {
            return known;
        }
        let found = if self.classes.get(id).faces.len() == 1 {
            self.larger_piece(id, outer)
        } else {
            self.larger_of_parts(id, outer)
        };
        let class = found.unwrap_or(id);
        self.larger.of.insert(key, class);
        class
    }

    fn larger_piece(&mut self, id: ClassId, outer: &[bool]) -> Option<ClassId> {
        let class = self.classes.get(id);
        let Content::Patch {
            fabric,
            up,
            grain,
            role,
            ..
        } = &self.blocks[class.home].tokens[class.faces[0]].content
        else {
            return None;
        };
        if role == STRIP && class.outline.len() == 4 {
            let strip = SlantedStrip::standing_out(&class.outline, role, fabric, (*grain, *up), self.settings)?;
            return self.larger_strip(id, outer, strip);
        }
        if up.is_some() {
            return None;
        }
        let cloth = self.settings.cloth(fabric)?;
        if cloth.motif.is_some() || class.is_bowed() {
            return None;
        }
        let (outline, grain, usable) = (class.outline.clone(), *grain, cloth.usable);
        let cut = setting_triangles::triangle(&outline, outer, grain, usable, self.settings, &mut self.whys)?;
        let why = cut.excess;
        let known = Known {
            plan: Plan::of_piece(cut.cut, outline.len()),
            excess: outer.iter().map(|&outer| outer.then(|| why.clone())).collect(),
            over: cut.over,
        };
        Some(self.add_larger(id, outer, known))
    }

    /// A strip of sashing all of whose slanted ends are cut off by outer sides.
    fn larger_strip(&mut self, id: ClassId, outer: &[bool], (strip, why): (SlantedStrip, Why)) -> Option<ClassId> {
        let outline = self.classes.get(id).outline.clone();
        if strip.slanted(&outline) != outer {
            return None;
        }
        let plan = match strip.one_piece(self.settings, &mut self.whys) {
            Some(cut) => Plan::of_piece(cut, outline.len()),
            None => {
                let proposal = strip.proposal();
                Plan::of_method(proposal.method, proposal.handling)
            }
        };
        let out = outer.iter().map(|&outer| if outer { why.value() } else { 0.0 });
        let known = Known {
            plan,
            over: Over {
                out: out.collect(),
                ..Over::default()
            },
            excess: outer.iter().map(|&outer| outer.then(|| why.clone())).collect(),
        };
        Some(self.add_larger(id, outer, known))
    }

    fn larger_of_parts(&mut self, id: ClassId, outer: &[bool]) -> Option<ClassId> {
        let whole = self.classes.get(id).outline.clone();
        // The longest row first: nothing in it is a row of its own.
        let mut ways = self.bands(id);
        ways.sort_by_key(|(parts, _)| std::cmp::Reverse(parts.len()));
        for (parts, seams) in ways {
            let mut larger = Vec::with_capacity(parts.len());
            for part in &parts {
                let sides = part.motion.polygon(&self.classes.get(part.class).outline);
                let at = on_sides(&sides, &whole);
                let out: Vec<bool> = at.iter().map(|side| side.is_some_and(|side| outer[side])).collect();
                let single = self.classes.get(part.class).faces.len() == 1;
                let class = if single {
                    self.larger_row(part.class, &out)
                } else {
                    part.class
                };
                larger.push(Placed { class, ..*part });
            }
            let places = self.places(&larger);
            let any = places.iter().any(|place| !place.over.is_none());
            let cut_so = larger.iter().any(|part| self.larger.is_larger(part.class));
            if !cut_so || any && !goes_together(&places, &seams, self.settings.seam_inches()) {
                continue;
            }
            let mut out = vec![0.0; whole.len()];
            let mut excess = vec![None; whole.len()];
            for (part, place) in larger.iter().zip(&places) {
                for (side, at) in on_sides(&place.outline, &whole).into_iter().enumerate() {
                    let Some(at) = at else { continue };
                    if place.over.out(side) > 0.0 {
                        out[at] = place.over.out(side);
                        excess[at] = self.excess(part.class, side);
                    }
                }
            }
            let own = Cost {
                handling: sewing_together(larger.len()),
                ..Cost::default()
            };
            let making = Making::Together {
                parts: larger,
                seams,
                set: None,
            };
            let class = self.classes.of_larger(id, outer);
            let known = Known {
                plan: self.of_parts(class, own, making),
                over: Over { out, ..Over::default() },
                excess,
            };
            self.larger.known.insert(class, known);
            return Some(class);
        }
        None
    }

    fn add_larger(&mut self, id: ClassId, outer: &[bool], known: Known) -> ClassId {
        let class = self.classes.of_larger(id, outer);
        self.larger.known.insert(class, known);
        class
    }

    fn excess(&self, id: ClassId, side: usize) -> Option<Why> {
        self.larger.known.get(&id)?.excess.get(side)?.clone()
    }

    /// Parts as they lie, only to see how they go together.
    fn places(&self, parts: &[Placed]) -> Vec<PartAtPlace> {
        let one = |part: &Placed| {
            let class = self.classes.get(part.class);
            let outline = part.motion.polygon(&class.outline);
            let n = outline.len();
            PartAtPlace {
                handle: Handle {
                    take: Take::Piece(PieceId::new("")),
                    edges: (0..n as u32).collect(),
                },
                joints: self.joints_of(part.class),
                bows: class.bows.clone(),
                bowed: Vec::new(),
                over: self.over(part.class),
                cut: vec![None; n],
                outline,
            }
        };
        parts.iter().map(one).collect()
    }

    /// The joints along each side of a kind of unit.
    pub(crate) fn joints_of(&self, id: ClassId) -> Vec<Vec<f64>> {
        let mut joints = Joints::default();
        (0..self.classes.get(id).outline.len())
            .map(|side| joints.along(&self.classes, &self.blocks, self.settings, id, side))
            .collect()
    }

    /// Where seams between rows cross seams of rows that are cut larger: only these name their seams.
    fn crossings(&mut self, rows: &[Placed], seams: &[Line]) -> Vec<AtPoint> {
        let mut found = Vec::new();
        for (row, part) in rows.iter().enumerate() {
            let out = self.over(part.class).out.iter().any(|&out| out > 0.0);
            let plan = self.plan(part.class);
            let Making::Together { seams: inner, .. } = &plan.making else {
                continue;
            };
            if !out {
                continue;
            }
            for (number, line) in inner.iter().enumerate() {
                let line = part.motion.line(*line);
                // A row lies between the seam before it and the seam after it.
                for seam in [row.checked_sub(1), Some(row)].into_iter().flatten() {
                    let at = seams.get(seam).and_then(|between| between.crossing(line));
                    found.extend(at.map(|at| AtPoint {
                        seam,
                        row,
                        inner: number,
                        at,
                    }));
                }
            }
        }
        found
    }

    /// What stands out on each side of the whole, and why.
    fn outs(&self, rows: &[Placed], whole: &Polygon) -> Vec<Outs> {
        let mut outs: Vec<Outs> = vec![Vec::new(); whole.len()];
        for part in rows {
            let outline = part.motion.polygon(&self.classes.get(part.class).outline);
            let over = self.over(part.class);
            for (side, at) in on_sides(&outline, whole).into_iter().enumerate() {
                if let (Some(at), Some(why)) = (at, self.excess(part.class, side)) {
                    outs[at].push((over.out(side), why));
                }
            }
        }
        outs
    }
}

/// For each side of a part the side of the whole it lies on.
fn on_sides(part: &Polygon, whole: &Polygon) -> Vec<Option<usize>> {
    let on = |i: usize| {
        (0..whole.len()).find(|&k| {
            whole.edge(k).is_some_and(|line| {
                line.offset_of(part.corner(i)).abs() < 2.0 * WELD
                    && line.offset_of(part.corner(i + 1)).abs() < 2.0 * WELD
            })
        })
    };
    (0..part.len()).map(on).collect()
}
