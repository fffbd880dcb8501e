//! Fills the scenes: after each step a view of the work or stack it touched.

use crate::carried::one_piece;
use crate::piece::Cloth;
use crate::scene::{LaidView, LayerView, MarkView, PieceView, Segment, UnitScenes, WorkView};
use crate::table::Table;
use crate::work::{Birth, Drawn, PieceAt, Stretch, Thing, View};
use recipe::{EdgeRef, Recipe, Slot, Step};
use shape::Motion;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::Arc;
use terms::UnitId;

/// Pieces pictured before views are left empty, so that a very large quilt's film stays within memory.
const MOST_VIEWED: usize = 400_000;

/// The film of all makings.
#[derive(Default)]
pub(crate) struct Film {
    pub(crate) scenes: Vec<UnitScenes>,
    /// The kinds of unit that are filmed; all where nothing is said.
    only: Option<BTreeSet<UnitId>>,
    viewed: usize,
    /// How each piece of this making was seen last.
    last: BTreeMap<PieceAt, LastSeen>,
}

/// A piece as it was seen last, with all that its view was made from.
struct LastSeen {
    cloth: Rc<Cloth>,
    motion: Motion,
    over: bool,
    view: Arc<PieceView>,
}

impl Film {
    /// Of these kinds of unit alone.
    pub(crate) fn of(units: BTreeSet<UnitId>) -> Self {
        Film {
            only: Some(units),
            ..Film::default()
        }
    }

    /// Whether the making of a kind of unit is filmed.
    pub(crate) fn wants(&self, unit: &UnitId) -> bool {
        self.only.as_ref().is_none_or(|only| only.contains(unit))
    }

    /// Before the first step: the parts.
    pub(crate) fn begin(&mut self, table: &mut Table) {
        self.last.clear();
        let slots: Vec<Slot> = table.make.parts.iter().map(|p| p.slot).collect();
        let mut parts = Vec::new();
        for slot in slots {
            if let Ok(view) = table.view(slot) {
                parts.push(self.look(table, slot, &[view]));
            }
        }
        self.scenes.push(UnitScenes {
            unit: table.make.unit.clone(),
            parts,
            after: Vec::new(),
        });
    }

    /// After a step.
    pub(crate) fn after(&mut self, table: &mut Table, step: &Step) {
        let (slot, looked): (Slot, Vec<Slot>) = match step {
            Step::Mark { on, .. } | Step::Dot { on, .. } => (*on, vec![*on]),
            Step::Lay { into, .. } | Step::Open { into, .. } | Step::Trim { into, .. } => (*into, vec![*into]),
            Step::Sew { stack, .. } => (*stack, vec![*stack]),
            // Both sides of the cut still lie where they lay: one picture shows them.
            Step::CutApart { stack, keep, .. } => (*stack, keep.iter().map(|k| k.into).collect()),
            Step::Snip { of, .. } | Step::Check { of, .. } | Step::SetAside { of, .. } => (*of, vec![*of]),
            Step::SubCut { of, into, .. } => (*of, into.clone()),
            Step::Pivot { stack, .. } => (*stack, vec![*stack]),
            Step::Close { into, .. } => (*into, vec![*into]),
            Step::Baste { into, .. } | Step::Whip { into, .. } => (*into, vec![*into]),
            Step::TakeOut { of, .. } => (*of, vec![*of]),
            Step::Guide { on, .. } | Step::StitchDown { on, .. } => (*on, vec![*on]),
            Step::Spread { into, .. } | Step::CutOut { into, .. } => (*into, vec![*into]),
            Step::Pare { of, .. } => (*of, vec![*of]),
            Step::Finish { top, .. } => (*top, vec![*top]),
        };
        let views: Vec<View> = looked.iter().filter_map(|&s| table.view(s).ok()).collect();
        let mut view = self.look(table, slot, &views);
        let sections = looked.iter().find_map(|s| match table.slots.get(s) {
            Some((_, Thing::Section(_, section))) => Some(section),
            Some((_, Thing::Stack(stack))) => stack.paper.as_ref().map(|over| &over.section),
            _ => None,
        });
        view.paper = sections.map(|section| section.sheet.seen(section.pieces.len()));
        for &s in &looked {
            if let Ok(stack) = table.stack(s) {
                let stack = stack.clone();
                view.stitches.extend(table.stitches_of(&stack));
                if let Some(laid) = &stack.laid {
                    let seam = laid.line.moved_left(table.seam);
                    view.meets.extend(laid.meets.iter().map(|&at| seam.at(at)));
                }
            }
        }
        view.cuts = std::mem::take(&mut table.cuts);
        view.waste = std::mem::take(&mut table.waste);
        if let Some(scene) = self.scenes.last_mut() {
            scene.after.push(view);
        }
    }

    fn look(&mut self, table: &mut Table, slot: Slot, views: &[View]) -> WorkView {
        let mut out = WorkView {
            slot,
            ..WorkView::default()
        };
        let trims: BTreeMap<u32, Slot> = table
            .slots
            .iter()
            .filter_map(|(&s, (birth, _))| match birth {
                Birth::Trim(owner, _) => Some((*owner, s)),
                _ => None,
            })
            .collect();
        let mut laid = Seen::default();
        for view in views {
            let roots = [Some(view.lower), view.upper.map(|(root, _)| root)];
            for (layer, root) in roots.into_iter().enumerate() {
                let Some(root) = root else { continue };
                if out.layers.len() <= layer {
                    out.layers.push(LayerView {
                        turned_over: layer == 1,
                        pieces: Vec::new(),
                    });
                }
                let mut pieces = table.pieces_of(root);
                pieces.sort_unstable();
                self.viewed = self.viewed.saturating_add(pieces.len());
                if self.viewed > MOST_VIEWED {
                    continue;
                }
                for at in pieces {
                    let Some((cloth, motion, over)) = table.piece_in(at, view) else {
                        continue;
                    };
                    let Some(view) = self.piece(table, at, &cloth, &motion, over, &trims) else {
                        continue;
                    };
                    laid.add(&cloth, &motion, over, table.recipe);
                    out.sheet.extend(cloth.line.as_ref().map(|line| motion.polygon(line)));
                    out.layers[layer].pieces.push(view);
                }
                if layer == 0 && self.viewed <= MOST_VIEWED {
                    out.seams.extend(table.seams_in(root));
                }
            }
            if self.viewed <= MOST_VIEWED {
                marks(table, view, &mut out);
                sheets(table, view, &mut out);
            }
        }
        out.laid = laid.views();
        out
    }

    /// How a piece is seen; the same view as before when it lies as it lay.
    fn piece(
        &mut self,
        table: &Table,
        at: PieceAt,
        cloth: &Rc<Cloth>,
        motion: &Motion,
        over: bool,
        trims: &BTreeMap<u32, Slot>,
    ) -> Option<Arc<PieceView>> {
        let part = &table.parts[at.part];
        let half = table.halves.get(&at).and_then(|half| part.cloth(half.piece));
        if let (Some(last), None) = (self.last.get(&at), half)
            && Rc::ptr_eq(&last.cloth, cloth)
            && last.motion == *motion
            && last.over == over
        {
            return Some(last.view.clone());
        }
        // A piece half folded is pictured as the one piece it is.
        let outline = table.outline_with_half(at, cloth)?;
        let mut edges = Vec::new();
        let shown = [Some(cloth), half].into_iter().flatten();
        for (cloth, i, edge) in shown.flat_map(|c| c.edges.iter().enumerate().map(move |(i, e)| (c, i, e))) {
            let Some((owner, edge)) = edge.name.born() else {
                continue;
            };
            let of = if owner == part.class.owner {
                Some(part.slot)
            } else {
                trims.get(&owner).copied()
            };
            let Some(of) = of else { continue };
            let from = motion.point(cloth.corners[i]);
            let to = motion.point(cloth.corners[cloth.index_of_next(i)]);
            let (from, to) = if over { (to, from) } else { (from, to) };
            edges.push((EdgeRef { of, edge }, Segment { from, to }));
        }
        let kind = &table.recipe.pieces[cloth.kind];
        let view = Arc::new(PieceView {
            of: part.slot,
            part: at.part as u32,
            cut_from: part.cut_from.map(|part| part as u32),
            number: at.piece,
            lies: *motion,
            piece: kind.piece.clone(),
            fabric: kind.fabric.clone(),
            outline: motion.polygon(&outline),
            edges,
            up: motion.vector(cloth.up),
        });
        // What was pictured with its other half is not seen so again once that is sewn.
        if half.is_some() {
            self.last.remove(&at);
        } else {
            let seen = LastSeen {
                cloth: cloth.clone(),
                motion: *motion,
                over,
                view: view.clone(),
            };
            self.last.insert(at, seen);
        }
        Some(view)
    }
}

/// Pieces laid on those in a view, each with its number; what several carry is one.
#[derive(Default)]
struct Seen(Vec<(u32, LaidView)>);

impl Seen {
    fn add(&mut self, cloth: &Cloth, motion: &Motion, turned_over: bool, recipe: &Recipe) {
        for laid in &cloth.laid {
            let outline = motion.polygon(&laid.outline);
            let same = |(number, view): &(u32, LaidView)| *number == laid.number && one_piece(&view.outline, &outline);
            if !self.0.iter().any(same) {
                let note = &recipe.pieces[laid.kind];
                let view = LaidView {
                    piece: note.piece.clone(),
                    fabric: note.fabric.clone(),
                    outline,
                    turned_over,
                };
                self.0.push((laid.number, view));
            }
        }
    }

    /// In the order they were stitched down, which is from below up.
    fn views(mut self) -> Vec<LaidView> {
        self.0.sort_by_key(|f| f.0);
        self.0.into_iter().map(|(_, view)| view).collect()
    }
}

fn sheets(table: &mut Table, view: &View, out: &mut WorkView) {
    for i in 0..table.sheets.len() {
        if let Some((motion, _)) = table.lies(table.sheets[i].node, view) {
            out.sheet
                .extend(table.sheets[i].shapes.iter().map(|s| motion.polygon(&s.line)));
        }
    }
}

fn marks(table: &mut Table, view: &View, out: &mut WorkView) {
    for (name, carriers) in table.marks.clone() {
        for (node, drawn) in carriers {
            let Some((motion, over)) = table.lies(node, view) else {
                continue;
            };
            match drawn {
                Drawn::Dot(dot) => out.marks.push(MarkView::Dot(name.clone(), motion.point(dot))),
                Drawn::Line(line) => {
                    let line = motion.line(line);
                    let root = match view.upper {
                        Some((upper, _)) if over => upper,
                        _ => view.lower,
                    };
                    let stretches: Vec<Stretch> = table.stretches(root, view, line).unwrap_or_default();
                    let drawn = crate::open::ends_of(&stretches, line).unwrap_or(Segment {
                        from: line.through,
                        to: line.through,
                    });
                    out.marks.push(MarkView::Line(name.clone(), line, drawn));
                }
            }
        }
    }
}
