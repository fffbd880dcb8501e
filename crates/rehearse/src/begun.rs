//! Seams begun and closed later: until then a piece is folded only along the part that is sewn. It is kept as two convex
//! halves which meet in a hinge, the line square to the path through the place where the stitches stop.

use crate::piece::{Cloth, Edge, Left, Name, onto_piece};
use crate::table::Table;
use crate::words::{Outcome, beyond};
use crate::work::{Begun, Birth, Class, Leg, PieceAt, Placed, Stack, Stitch, Thing, TrimEdge, View};
use recipe::Slot;
use shape::{Line, Motion, Point, Polygon, Vector};
use std::collections::BTreeSet;
use std::rc::Rc;

/// The halves of a piece meet within this, since the same lines cut both.
const MEETS: f64 = 1.0e-6;

impl Table<'_> {
    /// Checks that no seam of a work is only begun.
    pub(crate) fn closed(&mut self, root: usize) -> Outcome<()> {
        for node in self.begun.iter().map(|b| b.node).collect::<Vec<_>>() {
            if self.find(node).0 == root {
                let sentence = "A seam was begun and is not closed.";
                return Err(self.refuse("seam-not-closed", sentence, "Close the seam first."));
            }
        }
        Ok(())
    }

    /// Where a run has no piece of what hangs loose by a begun seam, that is folded out of the way.
    pub(crate) fn fold_flaps_away(&self, in_run: &BTreeSet<PieceAt>, near: &mut BTreeSet<PieceAt>) {
        for begun in &self.begun {
            if !in_run.iter().any(|at| begun.flap.contains(&at.part)) {
                near.retain(|at| !begun.flap.contains(&at.part));
            }
        }
    }

    /// Opens a stack whose seam is begun: only along what is sewn is anything folded under.
    pub(crate) fn open_begun(
        &mut self,
        slot: Slot,
        stack: &Stack,
        stitch: &Stitch,
        leg: &Leg,
        end: usize,
        into: Slot,
    ) -> Outcome<()> {
        let view = stack.view();
        let (stop, sewn) = if end == 1 {
            (stitch.line.at(stitch.to), -stitch.line.along)
        } else {
            (stitch.line.at(stitch.from), stitch.line.along)
        };
        // The sewn part lies to the left of the hinge.
        let hinge = Line {
            through: stop,
            along: -sewn.left(),
        };
        let loses = stitch.loses.clone().unwrap_or_default();
        let mut along = [Vec::new(), Vec::new()];
        let mut halves = Vec::new();
        for (layer, pieces) in loses.iter().enumerate() {
            let mut folded = Vec::new();
            for &at in pieces {
                if self.halves.contains_key(&at) {
                    let sentence = "A piece is half folded along one begun seam, and another is begun on it.";
                    return Err(self.bad(sentence, "Close the first seam before the next is begun."));
                }
                if let Some(loose) = self.fold_half(at, &view, stitch.line, hinge)? {
                    halves.push((at, loose));
                }
                let at_sewn = self.corners_in(at, &view).is_some_and(|corners| {
                    let reach = corners.iter().map(|&c| hinge.offset_of(c));
                    reach.fold(f64::NEG_INFINITY, f64::max) > MEETS
                });
                if at_sewn {
                    folded.push(at);
                }
            }
            along[layer] = self.along(&folded, &view, stitch.line);
        }
        self.sew_together(&along, stitch.join)?;
        self.keep_stops(stack);
        let flap = self.members[stack.upper].iter().copied().collect();
        self.use_up(slot);
        self.link(stack.upper, stack.lower, leg.lay.then(&Motion::mirror(stitch.line)));
        self.put(into, Birth::Other, Thing::Work(stack.lower))?;
        self.begun.push(Begun {
            of: into,
            node: stack.lower,
            line: stitch.line,
            from: stitch.from,
            to: stitch.to,
            end,
            join: stitch.join,
            flap,
            halves,
        });
        Ok(())
    }

    /// Folds a piece under beyond a line, as far as it lies to the left of the hinge; where it goes on to the right, that
    /// becomes a half of its own, whose number is given back.
    fn fold_half(&mut self, at: PieceAt, view: &View, line: Line, hinge: Line) -> Outcome<Option<PieceAt>> {
        let fold = Edge::fresh(Name::Fold, Some(self.action));
        let cut = Edge::fresh(Name::Hinge, None);
        let Some((cloth, motion, _)) = self.piece_in(at, view) else {
            return Ok(None);
        };
        if !cloth.convex {
            let sentence = "A piece with a hollow edge would be half folded along a begun seam.";
            return Err(self.bad(sentence, "Sew its seams in one go."));
        }
        let sewn = match cloth.keep_left(onto_piece(hinge, &motion), cut) {
            Left::Nothing => return Ok(None),
            Left::Whole => {
                self.keep_left(at, view, line, fold)?;
                return Ok(None);
            }
            Left::Part(sewn) => sewn,
        };
        let Left::Part(loose) = cloth.keep_left(onto_piece(hinge.reversed(), &motion), cut) else {
            self.keep_left(at, view, line, fold)?;
            return Ok(None);
        };
        let folded = match sewn.keep_left(onto_piece(line, &motion), fold) {
            Left::Whole => return Ok(None),
            Left::Nothing => {
                // All of the sewn half is allowance: the loose one is what is left of the piece.
                self.parts[at.part].changed.insert(at.piece, Some(Rc::new(loose)));
                return Ok(None);
            }
            Left::Part(folded) => folded,
        };
        Ok(Some(self.split(at, folded, loose)))
    }

    /// Puts two halves in a piece's place; both are found wherever the piece was.
    fn split(&mut self, at: PieceAt, sewn: Cloth, loose: Cloth) -> PieceAt {
        let part = &mut self.parts[at.part];
        let mut class = Class::clone(&part.class);
        let half = PieceAt {
            piece: class.pieces.len() as u32,
            ..at
        };
        for (number, side) in class.sides.iter_mut().enumerate() {
            let name = Name::Born {
                owner: class.owner,
                edge: number as u32,
            };
            put_beside(side, at.piece, half.piece, comes_first(&loose, &sewn, name));
        }
        for near in &mut class.near {
            put_beside(near, at.piece, half.piece, false);
        }
        for (birth, _) in self.slots.values_mut() {
            let Birth::Trim(owner, edges) = birth else { continue };
            for (number, TrimEdge { on, near }) in edges.iter_mut().enumerate() {
                let name = Name::Born {
                    owner: *owner,
                    edge: number as u32,
                };
                put_beside(on, at, half, comes_first(&loose, &sewn, name));
                put_beside(near, at, half, false);
            }
        }
        if let Some(whole) = class.pieces.get(at.piece as usize) {
            let placed = Placed {
                cloth: Rc::new(loose),
                motion: whole.motion,
                face: whole.face,
            };
            class.pieces.push(placed);
        }
        part.class = Rc::new(class);
        part.changed.insert(at.piece, Some(Rc::new(sewn)));
        self.halves.insert(at, half);
        self.halves.insert(half, at);
        half
    }

    /// Makes the two halves of a piece one again.
    pub(crate) fn join_halves(&mut self, at: PieceAt, half: PieceAt) -> Outcome<()> {
        self.halves.remove(&at);
        self.halves.remove(&half);
        let part = &self.parts[at.part];
        let (one, other) = (part.cloth(at.piece).cloned(), part.cloth(half.piece).cloned());
        let whole = match (one, other) {
            (Some(one), Some(other)) => match joined(&one, &other) {
                Some(whole) if Polygon::new(whole.corners.clone()).is_convex(MEETS) => Some(Rc::new(whole)),
                _ => {
                    let sentence = "A piece that was half folded is cut or folded otherwise on its two halves.";
                    return Err(self.bad(sentence, "Close the seam before that."));
                }
            },
            (one, other) => one.or(other),
        };
        let changed = &mut self.parts[at.part].changed;
        changed.insert(at.piece, whole);
        changed.insert(half.piece, None);
        Ok(())
    }

    /// For pictures: the outline of a piece with its other half, if it is half folded; `None` for the second half, which
    /// is pictured with the first.
    pub(crate) fn outline_with_half(&self, at: PieceAt, cloth: &Cloth) -> Option<Polygon> {
        let Some(&half) = self.halves.get(&at) else {
            return Some(cloth.polygon());
        };
        let other = self.parts[half.part].cloth(half.piece);
        let whole = other.and_then(|other| joined(cloth, other));
        match whole {
            Some(whole) => (at < half).then(|| whole.polygon()),
            None => Some(cloth.polygon()),
        }
    }
}

/// Whether along an edge that both halves of a piece have, `one` comes before `other`.
fn comes_first(one: &Cloth, other: &Cloth, name: Name) -> bool {
    let find = |cloth: &Cloth| {
        let i = cloth.edges.iter().position(|e| e.name == name)?;
        Some((cloth.corners[i], cloth.corners[cloth.index_of_next(i)]))
    };
    match (find(one), find(other)) {
        (Some((from, to)), Some((start, _))) => (to - from).dot(start - from) > 0.0,
        _ => false,
    }
}

/// Puts a piece's new half beside it in a list, before it or after. The piece stays in the list even where only the
/// half has the edge: once the seam is closed it has it again.
fn put_beside<T: Copy + PartialEq>(list: &mut Vec<T>, piece: T, half: T, before: bool) {
    if let Some(i) = list.iter().position(|&p| p == piece) {
        list.insert(if before { i } else { i + 1 }, half);
    }
}

/// The outline round two halves that meet in their hinge, which may reach further on one of them.
fn joined(one: &Cloth, other: &Cloth) -> Option<Cloth> {
    let hinge_of = |cloth: &Cloth| cloth.edges.iter().position(|e| e.name == Name::Hinge);
    let mut round: Vec<(Point, Edge)> = Vec::new();
    let pair = [(one, hinge_of(one)?), (other, hinge_of(other)?)];
    for (cloth, hinge) in pair {
        let n = cloth.corners.len();
        // From the end of the hinge round to its start; there the other half goes on.
        for k in 1..=n {
            let i = (hinge + k) % n;
            round.push((cloth.corners[i], cloth.edges[i]));
        }
    }
    // Where the halves end in one place along the hinge, nothing of it is left; straight on nothing turns.
    let mut whole: Vec<(Point, Edge)> = Vec::new();
    let n = round.len();
    for i in 0..n {
        let (at, edge) = round[i];
        let next = round[(i + 1) % n].0;
        if edge.name == Name::Hinge && !beyond(at.distance(next), MEETS) {
            continue;
        }
        whole.push((at, edge));
    }
    let n = whole.len();
    let straight = |i: usize| {
        let (before, at, next) = (whole[(i + n - 1) % n], whole[i], whole[(i + 1) % n]);
        let (a, b): (Vector, Vector) = (at.0 - before.0, next.0 - at.0);
        let apart = a.unit().zip(b.unit()).map(|(a, b)| (a.cross(b), a.dot(b)));
        before.1.name == at.1.name && apart.is_none_or(|(cross, dot)| cross.abs() < MEETS && dot > 0.0)
    };
    let kept: Vec<(Point, Edge)> = (0..n).filter(|&i| !straight(i)).map(|i| whole[i]).collect();
    if kept.len() < 3 {
        return None;
    }
    Some(one.cut_to(kept))
}
