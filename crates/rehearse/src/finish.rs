//! The finish: the top with its outline and what shows of every piece.

use crate::carried::Carried;
use crate::piece::{Edge, Left, Name, onto_piece};
use crate::table::Table;
use crate::words::Outcome;
use crate::work::View;
use recipe::{EdgeRun, Size, Slot};
use shape::{Line, Motion, Point, Polygon, Vector};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The finished top, turned upright, its lower left corner at the origin.
pub(crate) struct Top {
    pub(crate) outline: Polygon,
    pub(crate) faces: Vec<TopPiece>,
    /// Faces made of joined pieces: indices into `faces`.
    pub(crate) joined: Vec<Vec<usize>>,
    /// What is laid on them.
    pub(crate) carried: Carried,
}

/// What shows of one piece in the finished top.
pub(crate) struct TopPiece {
    pub(crate) shown: Polygon,
    pub(crate) edges: Vec<Edge>,
    pub(crate) kind: usize,
    pub(crate) up: Vector,
    pub(crate) taken: Option<u32>,
    pub(crate) joined: bool,
}

impl Table<'_> {
    /// Does a finish step.
    pub(crate) fn finish(&mut self, slot: Slot, sides: &[EdgeRun], up: u32, seam: Size) -> Outcome<Top> {
        let view = View::of(self.work(slot)?);
        self.closed(view.lower)?;
        self.no_card_in(view.lower)?;
        self.all_down(view.lower)?;
        let seam = self.positive(seam)?;
        let runs = self.sides(sides, &view)?;
        for run in &runs {
            self.straight(run, "a side of the top")?;
        }
        let Some(upper) = runs.get(up as usize) else {
            return Err(self.bad("The top has no such upper side.", "Name one of its sides."));
        };
        let class = self.flatten(view.lower, &runs)?;
        let left = Line {
            through: Point::ORIGIN,
            along: Vector::new(-1.0, 0.0),
        };
        let turn = Motion::line_to_line(upper.line, left, false);
        let lines: Vec<Line> = runs.iter().map(|r| turn.line(r.line).moved_left(seam)).collect();
        let mut corners = Vec::new();
        for i in 0..lines.len() {
            let before = lines[(i + lines.len() - 1) % lines.len()];
            corners.push(self.cross(before, lines[i])?);
        }
        let outline = Polygon::new(corners);
        let (low, _) = outline.bounds();
        let to_origin = Motion::slide(Point::ORIGIN - low);
        let outline = to_origin.polygon(&outline);
        let motion = turn.then(&to_origin);
        let lines: Vec<Line> = lines.iter().map(|&l| to_origin.line(l)).collect();
        let convex = outline.is_convex(1.0e-6);
        let near: Vec<std::collections::BTreeSet<u32>> =
            class.near.iter().map(|n| n.iter().copied().collect()).collect();
        let fresh = Edge::fresh(Name::Loose, Some(self.action));
        let mut top = Top {
            outline,
            faces: Vec::with_capacity(class.pieces.len()),
            joined: Vec::new(),
            carried: Carried::default(),
        };
        let mut groups: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        'pieces: for (i, placed) in class.pieces.iter().enumerate() {
            let motion = placed.motion.then(&motion);
            let mut cloth = placed.cloth.clone();
            for (side, &line) in lines.iter().enumerate() {
                // Round a concave top only what lies at a side can be cut off along it.
                if convex || near[side].contains(&(i as u32)) {
                    let line = onto_piece(line, &motion);
                    self.stays_whole(&cloth, line)?;
                    match cloth.keep_left(line, fresh) {
                        Left::Whole => {}
                        Left::Nothing => continue 'pieces,
                        Left::Part(part) => cloth = Rc::new(part),
                    }
                }
            }
            top.carried.add(&cloth, &motion);
            if placed.face != 0 {
                groups.entry(placed.face).or_default().push(top.faces.len());
            }
            top.faces.push(TopPiece {
                shown: motion.polygon(&cloth.polygon()),
                edges: cloth.edges.clone(),
                kind: cloth.kind,
                up: motion.vector(cloth.up),
                taken: cloth.taken,
                joined: placed.face != 0,
            });
        }
        top.joined = groups.into_values().collect();
        self.held();
        self.use_up(slot);
        Ok(top)
    }
}
