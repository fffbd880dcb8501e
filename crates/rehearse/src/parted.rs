//! What a cut parts: each side gets its own copy of every part, with its marks, seams and stops, and the raw edges along
//! the cut get names of their own.

use crate::piece::{Edge, Name, extent, onto_piece};
use crate::scene::Segment;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE};
use crate::work::{Birth, Class, Drawn, Node, PieceAt, Stack, Stitch, Thing, TrimEdge, View};
use recipe::Slot;
use shape::{Line, Motion};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The copies of parts, by the parts they are copies of.
pub(crate) type Twins = BTreeMap<usize, usize>;

impl Table<'_> {
    /// The stack that lies to the left of a cut: a copy of every part, cut. Its edges 0 and 1 are what the cut made on the
    /// lower and the upper layer.
    pub(crate) fn keep_side(
        &mut self,
        stack: &Stack,
        line: Line,
        mut stitches: Vec<Stitch>,
        into: Slot,
    ) -> Outcome<()> {
        let mut twins = Twins::new();
        let lower = self.copy_of(stack.lower, &[line], &mut twins)?;
        let upper = self.copy_of(stack.upper, &[onto_piece(line, &stack.lay)], &mut twins)?;
        self.name_twins(&twins);
        for pieces in stitches.iter_mut().filter_map(|s| s.loses.as_mut()).flatten().flatten() {
            if let Some(&part) = twins.get(&pieces.part) {
                pieces.part = part;
            }
        }
        let new = Stack {
            lower,
            upper,
            lay: stack.lay,
            laid: None,
            dots: stack.dots,
            pinned: None,
            stitches,
            paper: None,
        };
        let view = new.view();
        let owner = self.new_owner();
        let mut edges = Vec::new();
        for (number, root) in [lower, upper].into_iter().enumerate() {
            let name = Name::Born {
                owner,
                edge: number as u32,
            };
            let mut edge = self.cut_off(root, &view, line, name, false)?;
            // Right side up the upper layer's edge runs the other way.
            if number == 1 {
                edge.on.reverse();
            }
            edges.push(edge);
        }
        self.put(into, Birth::Trim(owner, edges), Thing::Stack(Box::new(new)))
    }

    /// A number of its own for something that gives names to edges.
    pub(crate) fn new_owner(&mut self) -> u32 {
        let owner = self.tally.owner;
        self.tally.owner = self.tally.owner.saturating_add(1);
        owner
    }

    /// Cuts off what lies to the right of a line on all pieces of a frame, and says which pieces have an edge there, in
    /// order along the line; with `renamed`, raw edges that lie along it already take the name as well.
    pub(crate) fn cut_off(
        &mut self,
        root: usize,
        view: &View,
        line: Line,
        name: Name,
        renamed: bool,
    ) -> Outcome<TrimEdge> {
        let fresh = Edge::fresh(name, Some(self.action));
        let mut edge = TrimEdge::default();
        let mut on: Vec<(f64, f64, PieceAt)> = Vec::new();
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        for at in pieces {
            self.keep_left(at, view, line, fresh)?;
            if renamed {
                self.rename_along(at, view, line, fresh, false);
            }
            let Some((cloth, motion, _)) = self.piece_in(at, view) else {
                continue;
            };
            let corners: Vec<_> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
            if extent(&corners, line).0.0 <= self.seam + TOLERANCE {
                edge.near.push(at);
            }
            for (i, e) in cloth.edges.iter().enumerate() {
                if e.name == name {
                    let (from, to) = (
                        line.reach_of(corners[i]),
                        line.reach_of(corners[cloth.index_of_next(i)]),
                    );
                    on.push((from.min(to), from.max(to), at));
                }
            }
        }
        on.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        edge.on = on.into_iter().map(|(_, _, at)| at).collect();
        edge.on.dedup();
        Ok(edge)
    }

    /// A copy of every part of a frame in a new frame lying just so, with marks, seams and stops; `within` are the lines
    /// between which it will be cut, in the frame, for what pictures show of its seams.
    pub(crate) fn copy_of(&mut self, old_root: usize, within: &[Line], twins: &mut Twins) -> Outcome<usize> {
        let root = self.new_node();
        let parts = self.members[old_root].clone();
        self.spend(parts.len())?;
        let mut fresh = Vec::new();
        for old in parts {
            let (_, motion) = self.find(self.parts[old].node);
            let node = self.new_node();
            self.nodes[node] = Node { parent: root, motion };
            let mut part = self.parts[old].clone();
            part.node = node;
            part.cut_from = Some(old);
            if self.filming && !part.class.inner.is_empty() {
                part.class = Rc::new(shown_within(&part.class, &motion, within));
            }
            let new = self.parts.len();
            self.parts.push(part);
            self.members[root].push(new);
            twins.insert(old, new);
            fresh.push(new);
        }
        for new in fresh {
            let beside = &self.parts[new].beside;
            self.parts[new].beside = beside.iter().map(|b| twins.get(b).copied().unwrap_or(*b)).collect();
        }
        self.copy_marks_and_seams(old_root, root, within);
        Ok(root)
    }

    /// Lets the names and joins of parts lead to their copies as well.
    pub(crate) fn name_twins(&mut self, twins: &Twins) {
        let twin = |at: &PieceAt| twins.get(&at.part).map(|&part| PieceAt { part, ..*at });
        for (birth, _) in self.slots.values_mut() {
            match birth {
                Birth::Part(parts) => {
                    let new: Vec<usize> = parts.iter().filter_map(|p| twins.get(p).copied()).collect();
                    parts.extend(new);
                }
                Birth::Trim(_, edges) => {
                    for edge in edges {
                        let on: Vec<PieceAt> = edge.on.iter().filter_map(&twin).collect();
                        let near: Vec<PieceAt> = edge.near.iter().filter_map(&twin).collect();
                        edge.on.extend(on);
                        edge.near.extend(near);
                    }
                }
                Birth::Other => {}
            }
        }
        let joins: Vec<(PieceAt, PieceAt)> = self
            .joins
            .iter()
            .filter_map(|(a, b)| Some((twin(a)?, twin(b)?)))
            .collect();
        self.joins.extend(joins);
    }

    fn copy_marks_and_seams(&mut self, old_root: usize, root: usize, within: &[Line]) {
        let mut marks = std::mem::take(&mut self.marks);
        for carriers in marks.values_mut() {
            let mut new = Vec::new();
            for &(node, drawn) in carriers.iter() {
                let (at, motion) = self.find(node);
                if at == old_root {
                    new.push((root, drawn.moved(&motion)));
                }
            }
            carriers.extend(new);
        }
        self.marks = marks;
        let mut seams = std::mem::take(&mut self.seams);
        for carriers in seams.values_mut().flatten() {
            let mut new = Vec::new();
            for &(node, segment) in carriers.iter() {
                let (at, motion) = self.find(node);
                if at == old_root {
                    let (from, to) = (motion.point(segment.from), motion.point(segment.to));
                    let whole = Segment { from, to };
                    // A seam wholly on the other side can still be named: its line is seen along the cut.
                    new.push((root, clipped(whole, within).unwrap_or(whole)));
                }
            }
            carriers.extend(new);
        }
        self.seams = seams;
        for (node, stop) in self.stops.clone() {
            let (at, motion) = self.find(node);
            if at == old_root {
                self.stops.push((root, motion.point(stop)));
            }
        }
    }
}

/// A class whose seams are shown only between some lines of the frame it lies in.
fn shown_within(class: &Class, motion: &Motion, within: &[Line]) -> Class {
    let back = motion.inverse();
    let inner = class.inner.iter().filter_map(|s| {
        let lies = Segment {
            from: motion.point(s.from),
            to: motion.point(s.to),
        };
        let Segment { from, to } = clipped(lies, within)?;
        Some(Segment {
            from: back.point(from),
            to: back.point(to),
        })
    });
    Class {
        inner: inner.collect(),
        ..class.clone()
    }
}

/// What of a segment lies to the left of all the lines.
fn clipped(segment: Segment, within: &[Line]) -> Option<Segment> {
    let Segment { mut from, mut to } = segment;
    for line in within {
        let (a, b) = (line.offset_of(from), line.offset_of(to));
        if a <= 0.0 && b <= 0.0 {
            return None;
        }
        let crossing = from.toward(to, a / (a - b));
        if a < 0.0 {
            from = crossing;
        } else if b < 0.0 {
            to = crossing;
        }
    }
    Some(Segment { from, to })
}

impl Drawn {
    fn moved(self, motion: &Motion) -> Self {
        match self {
            Drawn::Line(line) => Drawn::Line(motion.line(line)),
            Drawn::Dot(dot) => Drawn::Dot(motion.point(dot)),
        }
    }
}
