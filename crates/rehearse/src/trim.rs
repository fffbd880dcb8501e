//! The ruler and the cutter on opened work: snipping dog ears, trimming to a line, and measuring.

use crate::maker::Miss;
use crate::piece::{Cloth, Edge, Name, extent};
use crate::resolve::RawEdge;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, PieceAt, Thing, TrimEdge, View};
use recipe::{EdgeRef, Measured, Size, Slot, TrimLine};
use shape::{Line, Point, Polygon};
use std::collections::BTreeSet;
use std::rc::Rc;

/// A dog ear lies within so many seams of an end of the edge it is snipped level with.
const LONGEST_EAR: f64 = 8.0;

impl Table<'_> {
    /// Does a snip step.
    pub(crate) fn snip(&mut self, of: Slot, along: &[EdgeRef]) -> Outcome<()> {
        let root = self.work(of)?;
        self.no_card_in(root)?;
        let view = View::of(root);
        for &edge in along {
            let edges = self.raw_edges(edge, &view)?;
            if edges.iter().any(|e| e.bowed) {
                // At each of its ends a bowed edge has a line of its own.
                let (first, last) = (edges.first().map(|e| e.from), edges.last().map(|e| e.to));
                for (at_end, end) in [(false, first), (true, last)] {
                    let line = self.end_line(edge, at_end, &view)?;
                    self.snip_by(root, line, &end.into_iter().collect::<Vec<_>>())?;
                }
                continue;
            }
            let line = self.edge_line(edge, &view)?;
            let ends: Vec<Point> = edges.iter().flat_map(|e| [e.from, e.to]).collect();
            self.snip_by(root, line, &ends)?;
        }
        Ok(())
    }

    /// Cuts off the ears beyond a line near some places on it.
    fn snip_by(&mut self, root: usize, line: Line, ends: &[Point]) -> Outcome<()> {
        let view = View::of(root);
        let fresh = Edge::fresh(Name::Loose, Some(self.action));
        let (reach, near) = (LONGEST_EAR * self.seam, self.near_enough());
        for at in self.reaching(root, line)? {
            let Some(corners) = self.corners_in(at, &view) else {
                continue;
            };
            // Edges that lie along the line keep their names; only what sticks out past them goes.
            let n = corners.len();
            let on = |p: Point| line.offset_of(p).abs() <= near;
            let lies_along =
                (0..n).any(|i| on(corners[i]) && on(corners[(i + 1) % n]) && long(corners[i], corners[(i + 1) % n]));
            // Round a hollow work the line goes on through other cloth: an ear is near an end of the edge, and the
            // piece it belongs to lies on this side.
            let beyond = Polygon::new(corners.clone()).left_of(line.reversed());
            let is_ear = corners.iter().any(|&c| line.offset_of(c) > TOLERANCE)
                && beyond
                    .corners()
                    .iter()
                    .all(|&c| ends.iter().any(|&e| e.distance(c) <= reach));
            if !lies_along && is_ear {
                self.keep_left(at, &view, line, fresh)?;
            }
        }
        if self.filming {
            self.show_cut(root, line)?;
        }
        Ok(())
    }

    /// Does a trim step.
    pub(crate) fn trim(&mut self, of: Slot, lines: &[TrimLine], into: Slot) -> Outcome<()> {
        let root = self.work(of)?;
        self.no_card_in(root)?;
        let owner = self.tally.owner;
        self.tally.owner = self.tally.owner.saturating_add(1);
        // The new edges can be named by the lines that come after them.
        self.put(into, Birth::Trim(owner, Vec::new()), Thing::Spent)?;
        for (number, trim) in lines.iter().enumerate() {
            let edge = self.trim_line(root, trim, owner, number as u32)?;
            self.gone.extend(&trim.off.0);
            if let Some((Birth::Trim(_, edges), _)) = self.slots.get_mut(&into) {
                edges.push(edge);
            }
        }
        self.use_up(of);
        if let Some((_, thing)) = self.slots.get_mut(&into) {
            *thing = Thing::Work(root);
        }
        Ok(())
    }

    fn trim_line(&mut self, root: usize, trim: &TrimLine, owner: u32, number: u32) -> Outcome<TrimEdge> {
        let view = View::of(root);
        let ruler = self.ruler(&trim.ruler, &view)?;
        let shave = self.positive(trim.shave)?;
        let off = self.run(&trim.off, &view)?;
        self.straight(&off, "what a trim takes off")?;
        let told = off.edges.iter().map(|e| (e.at, e.edge)).collect::<BTreeSet<_>>();
        if told.len() < off.edges.len() {
            let sentence = "What is trimmed off is told twice of one edge.";
            return Err(self.refuse("edge-twice", sentence, "Name each edge that comes off once."));
        }
        let mut side = ruler.offset_of(off.middle());
        let strays = self.tally.hands.as_ref().is_some_and(|hands| hands.maker.strays());
        if strays || !beyond(side, self.near_enough()) {
            let middle = ruler.offset_of(self.middle_of(root)?);
            // Hands that stray may bring all that should come off to lie on the ruler's other side: the body lies further.
            if !beyond(side, self.near_enough()) || strays && side.abs() < middle.abs() / 2.0 {
                side = -middle;
            }
        }
        let mut line = if side < 0.0 { ruler } else { ruler.reversed() };
        if let Some(by) = self.stray(|h| h.cut_edge()) {
            line = line.moved_left(by);
        }
        for e in &off.edges {
            for p in [e.from, e.to] {
                let comes_off = -line.offset_of(p);
                if self.misses(Miss::Measured, comes_off - shave, TOLERANCE) {
                    let mend = "Check the sizes of the pieces and the seams before this.";
                    let (say_off, say_shave) = (self.say(comes_off.abs()), self.say(shave));
                    // When the middle of the work lies on the same side, the cloth ends before it reaches the ruler.
                    let middle = self.middle_of(root)?;
                    if comes_off < 0.0 || line.offset_of(middle) < 0.0 {
                        let sentence = format!("The cloth ends {say_off} before it reaches the ruler.");
                        return Err(self.refuse("window-not-covered", sentence, mend));
                    }
                    let sentence = format!("Trimming takes off {say_off} where the recipe says {say_shave}.");
                    return Err(self.refuse("shave-differs", sentence, mend));
                }
            }
        }
        self.held();
        if self.filming {
            self.show_cut(root, line)?;
        }

        let name = Name::Born { owner, edge: number };
        let fresh = Edge::fresh(name, Some(self.action));
        let mut edge = TrimEdge::default();
        let mut on: Vec<(f64, f64, PieceAt)> = Vec::new();
        let short = self.fall_short(&off.edges, line);
        let mut cut = self.reaching(root, line)?;
        cut.extend(
            short
                .iter()
                .map(|e| e.at)
                .filter(|at| !cut.contains(at))
                .collect::<Vec<_>>(),
        );
        for at in cut {
            self.keep_left(at, &view, line, fresh)?;
            self.rename_along(at, &view, line, fresh, false);
            for raw in short.iter().filter(|e| e.at == at) {
                // What hands cut too small is that side all the same.
                if let Some(own) = Line::between(raw.from, raw.to) {
                    self.rename_along(at, &view, own, fresh, false);
                }
            }
            let Some((cloth, motion, _)) = self.piece_in(at, &view) else {
                continue;
            };
            let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
            let (offsets, _) = extent(&corners, line);
            if offsets.0 <= self.seam + TOLERANCE || short.iter().any(|e| e.at == at) {
                edge.near.push(at);
            }
            for (i, e) in cloth.edges.iter().enumerate() {
                if e.name == name {
                    let to = corners[cloth.index_of_next(i)];
                    on.push((line.reach_of(corners[i]), line.reach_of(to), at));
                }
            }
        }
        on.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        if on.is_empty() {
            let sentence = "The ruler lies where there is no cloth.";
            return Err(self.refuse("window-not-covered", sentence, "Check where the ruler is laid."));
        }
        for pair in on.windows(2) {
            let gap = pair[1].0 - pair[0].1;
            if gap > TOLERANCE && self.misses(Miss::Other, gap, 0.0) {
                let sentence = format!("Along the ruler {} of the trimmed edge has no cloth.", self.say(gap));
                return Err(self.refuse("window-not-covered", sentence, "Check the sizes of the pieces."));
            }
        }
        self.held();
        edge.on = on.into_iter().map(|(_, _, at)| at).collect();
        edge.on.dedup();
        Ok(edge)
    }

    /// Of the edges that a trim is to take off those that, with hands that stray, do not reach its ruler.
    fn fall_short(&self, off: &[RawEdge], line: Line) -> Vec<RawEdge> {
        if !self.tally.hands.as_ref().is_some_and(|hands| hands.maker.strays()) {
            return Vec::new();
        }
        let inside = |e: &&RawEdge| line.offset_of(e.from) > 0.0 && line.offset_of(e.to) > 0.0;
        off.iter().filter(inside).copied().collect()
    }

    /// Raw edges that lie along a trim's line take its name, folded ones do not.
    pub(crate) fn rename_along(&mut self, at: PieceAt, view: &View, line: Line, fresh: Edge, all_at_once: bool) {
        let Some((cloth, motion, _)) = self.piece_in(at, view) else {
            return;
        };
        let near = self.near_enough();
        let lies = |p: Point| line.offset_of(motion.point(p)).abs() <= near;
        let along: Vec<usize> = (0..cloth.edges.len())
            .filter(|&i| {
                let (from, to) = (cloth.corners[i], cloth.corners[cloth.index_of_next(i)]);
                let e = cloth.edges[i];
                // One cut-out's sides are cut all at once: none takes another's.
                let of_one_cut = e.made == fresh.made && all_at_once;
                !of_one_cut
                    && !matches!(e.name, Name::Fold | Name::Hinge)
                    && e.name != fresh.name
                    && lies(from)
                    && lies(to)
                    && long(from, to)
            })
            .collect();
        if along.is_empty() {
            return;
        }
        let mut renamed = Cloth::clone(&cloth);
        for i in along {
            renamed.edges[i].name = fresh.name;
        }
        self.parts[at.part].changed.insert(at.piece, Some(Rc::new(renamed)));
    }

    /// The pieces of a work that reach across a line or up to it.
    fn reaching(&mut self, root: usize, line: Line) -> Outcome<Vec<PieceAt>> {
        let view = View::of(root);
        let mut found = Vec::new();
        for part in self.members[root].clone() {
            self.spend(1)?;
            let Some((motion, _)) = self.lies(self.parts[part].node, &view) else {
                continue;
            };
            let class = self.parts[part].class.clone();
            if line.offset_of(motion.point(class.middle)) > class.radius + self.seam + TOLERANCE {
                continue;
            }
            self.spend(class.pieces.len())?;
            for piece in 0..class.pieces.len() as u32 {
                let at = PieceAt { part, piece };
                let Some((cloth, motion, _)) = self.piece_in(at, &view) else {
                    continue;
                };
                if line.offset_of(motion.point(cloth.middle)) <= cloth.radius + self.seam + TOLERANCE {
                    found.push(at);
                }
            }
        }
        Ok(found)
    }

    /// The middle of the box round a work.
    fn middle_of(&mut self, root: usize) -> Outcome<Point> {
        let view = View::of(root);
        let (mut low, mut high) = (
            Point::new(f64::INFINITY, f64::INFINITY),
            Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
        );
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        for at in pieces {
            for c in self.corners_in(at, &view).unwrap_or_default() {
                low = Point::new(low.x.min(c.x), low.y.min(c.y));
                high = Point::new(high.x.max(c.x), high.y.max(c.y));
            }
        }
        Ok(low.toward(high, 0.5))
    }

    fn show_cut(&mut self, root: usize, line: Line) -> Outcome<()> {
        let all = self.stretches(root, &View::of(root), line)?;
        self.cuts.extend(crate::open::ends_of(&all, line));
        Ok(())
    }

    /// Does a check step.
    pub(crate) fn check(&mut self, of: Slot, what: &Measured, is: Size) -> Outcome<()> {
        let view = View::of(self.work(of)?);
        let wanted = self.positive(is)?;
        let mut found = Vec::new();
        match what {
            Measured::Across(from, to) => {
                let (from, to) = (self.run(from, &view)?, self.run(to, &view)?);
                self.flush(&from, "the side measured from")?;
                self.flush(&to, "the side measured to")?;
                for e in &to.edges {
                    found.extend([e.from, e.to].map(|p| from.line.offset_of(p).abs()));
                }
            }
            Measured::Between(from, to) => {
                let (from, to) = (self.point(from, &view)?, self.point(to, &view)?);
                found.push(from.distance(to));
            }
        }
        for measured in found {
            if self.misses(Miss::Measured, measured - wanted, TOLERANCE) {
                let sentence = format!(
                    "This should measure {} but measures {}.",
                    self.say(wanted),
                    self.say(measured)
                );
                return Err(self.refuse(
                    "size-differs",
                    sentence,
                    "Check the cut sizes and the seams before this.",
                ));
            }
        }
        self.held();
        Ok(())
    }
}

fn long(from: Point, to: Point) -> bool {
    from.distance(to) > TOLERANCE
}
