//! From what a recipe points at (edges, corners, lines, places, the ruler) to places on the table.

use crate::maker::Miss;
use crate::piece::{Cloth, Name};
use crate::scene::Segment;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, Drawn, PieceAt, View};
use recipe::{CornerRef, EdgeRef, EdgeRun, LineRef, MarkName, PointRef, Ruler, SeamRef};
use shape::{Line, Motion, Point};
use std::collections::BTreeSet;

/// A straight piece of raw edge on one piece; cloth on the left.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RawEdge {
    pub(crate) at: PieceAt,
    /// Which edge of the piece.
    pub(crate) edge: usize,
    pub(crate) from: Point,
    pub(crate) to: Point,
    /// Folded over a card.
    pub(crate) over: bool,
    /// Its finished ends, where it has any: the corners of the card it is folded over, or left flat beside.
    pub(crate) finished: [Option<Point>; 2],
    /// One of the straights of a bowed edge.
    pub(crate) bowed: bool,
}

/// Edges in order, with the line of the longest.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub(crate) edges: Vec<RawEdge>,
    /// Pieces whose edge in the run is wholly folded under: nothing of it lies at the raw edge, but the stitches may
    /// still cross the piece.
    pub(crate) under: Vec<PieceAt>,
    pub(crate) line: Line,
    /// The outermost ends, along the line.
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Run {
    /// Whether it has a bowed edge in it.
    pub(crate) fn is_curve(&self) -> bool {
        self.edges.iter().any(|e| e.bowed)
    }

    pub(crate) fn middle(&self) -> Point {
        self.line.at((self.low + self.high) / 2.0)
    }
}

/// The edges of a piece that carry a name, in their order along it: it may go on past the corner that the piece's outline begins with.
fn in_order(cloth: &Cloth, name: (u32, u32)) -> Vec<usize> {
    let has: Vec<bool> = cloth.edges.iter().map(|e| e.name.born() == Some(name)).collect();
    let n = has.len();
    let first = (0..n).find(|&i| has[i] && !has[(i + n - 1) % n]).unwrap_or(0);
    (0..n).map(|i| (first + i) % n).filter(|&i| has[i]).collect()
}

/// Two directions are equally near a third when these cosines differ by no more.
const ALIKE: f64 = 1.0e-6;

impl Table<'_> {
    /// The pieces that may carry an edge, and the name it has on them.
    fn carriers(&mut self, edge: EdgeRef) -> Option<Vec<(PieceAt, (u32, u32))>> {
        let number = edge.edge as usize;
        match &self.slots.get(&edge.of)?.0 {
            Birth::Part(parts) => {
                let mut found = Vec::new();
                for &part in parts {
                    let class = &self.parts[part].class;
                    let name = (class.owner, edge.edge);
                    let pieces = class.sides.get(number)?;
                    found.extend(pieces.iter().map(|&piece| (PieceAt { part, piece }, name)));
                }
                Some(found)
            }
            Birth::Trim(owner, edges) => {
                let name = (*owner, edge.edge);
                Some(edges.get(number)?.on.iter().map(|&at| (at, name)).collect())
            }
            Birth::Other => None,
        }
    }

    /// The pieces that reach near an edge, its own included.
    pub(crate) fn near_edge(&mut self, edge: EdgeRef) -> Vec<PieceAt> {
        let number = edge.edge as usize;
        match self.slots.get(&edge.of) {
            Some((Birth::Part(parts), _)) => {
                let mut found = Vec::new();
                for &part in parts {
                    if let Some(near) = self.parts[part].class.near.get(number) {
                        found.extend(near.iter().map(|&piece| PieceAt { part, piece }));
                    }
                }
                found
            }
            Some((Birth::Trim(_, edges), _)) => edges.get(number).map(|e| e.near.clone()).unwrap_or_default(),
            _ => Vec::new(),
        }
    }

    /// The raw edges that carry a name in a view, in order, cloth on the left.
    pub(crate) fn raw_edges(&mut self, edge: EdgeRef, view: &View) -> Outcome<Vec<RawEdge>> {
        let found = self.named_edges(edge, view)?;
        self.all_raw(&found)?;
        Ok(found)
    }

    fn all_raw(&self, edges: &[RawEdge]) -> Outcome<()> {
        if edges.iter().any(|e| e.over) {
            let sentence = "A raw edge is wanted, but this one is folded over a card.";
            return Err(self.refuse(
                "edge-folded",
                sentence,
                "Whip folded edges; leave the outer sides flat.",
            ));
        }
        Ok(())
    }

    /// The edges, raw or folded over a card, that carry a name in a view, in order, cloth on the left.
    pub(crate) fn named_edges(&mut self, edge: EdgeRef, view: &View) -> Outcome<Vec<RawEdge>> {
        let mut found = Vec::new();
        let mut turned = false;
        let carriers = self.carriers(edge).unwrap_or_default();
        let mut known = false;
        for (at, name) in carriers {
            self.spend(1)?;
            known |= self.lies(self.parts[at.part].node, view).is_some();
            let Some((cloth, motion, over)) = self.piece_in(at, view) else {
                continue;
            };
            turned |= over;
            for i in in_order(&cloth, name) {
                let e = &cloth.edges[i];
                let (from, to) = (cloth.corners[i], cloth.corners[cloth.index_of_next(i)]);
                let mut finished = finished_ends(&cloth, e.name, from, to).map(|p| p.map(|p| motion.point(p)));
                let (from, to) = (motion.point(from), motion.point(to));
                let (from, to) = if over { (to, from) } else { (from, to) };
                if over {
                    finished.reverse();
                }
                found.push(RawEdge {
                    at,
                    edge: i,
                    from,
                    to,
                    over: e.name.is_over(),
                    finished,
                    bowed: e.bowed,
                });
            }
        }
        // An edge wholly cut off is there, but there is nothing left of it to lay or measure. One that was laid to be sewn,
        // or that a trim took off, is gone for good.
        if found.is_empty() && (!known || self.gone.contains(&edge)) {
            let sentence = format!("There is no edge {} of slot {} here.", edge.edge, edge.of.0);
            return Err(self.refuse("unknown-edge", sentence, "Name an edge of what lies on the table."));
        }
        if turned {
            found.reverse();
        }
        Ok(found)
    }

    /// A run of raw edges.
    pub(crate) fn run(&mut self, run: &EdgeRun, view: &View) -> Outcome<Run> {
        let found = self.run_of_any(run, view)?;
        self.all_raw(&found.edges)?;
        Ok(found)
    }

    /// A run of edges, raw or folded over cards.
    pub(crate) fn run_of_any(&mut self, run: &EdgeRun, view: &View) -> Outcome<Run> {
        let mut edges = Vec::new();
        let mut under = Vec::new();
        for &edge in &run.0 {
            let found = self.named_edges(edge, view)?;
            let carriers = self.carriers(edge).unwrap_or_default();
            let seen: BTreeSet<PieceAt> = found.iter().map(|e| e.at).collect();
            under.extend(carriers.into_iter().map(|(at, _)| at).filter(|at| !seen.contains(at)));
            edges.extend(found);
        }
        Ok(Run {
            under,
            ..self.line_of(edges)?
        })
    }

    fn line_of(&mut self, edges: Vec<RawEdge>) -> Outcome<Run> {
        let mut longest: Option<(f64, Line)> = None;
        for e in &edges {
            let length = e.from.distance(e.to);
            if let Some(line) = Line::between(e.from, e.to)
                && longest.is_none_or(|(l, _)| length > l)
            {
                longest = Some((length, line));
            }
        }
        let Some((_, mut line)) = longest else {
            return Err(self.refuse("unknown-edge", "A run of edges is empty.", "Name the edges of the run."));
        };
        if edges.len() > 1 && self.tally.hands.as_ref().is_some_and(|h| h.maker.strays()) {
            line = pulled_straight(&edges, line);
        }
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for e in &edges {
            for p in [e.from, e.to] {
                low = low.min(line.reach_of(p));
                high = high.max(line.reach_of(p));
            }
        }
        Ok(Run {
            edges,
            under: Vec::new(),
            line,
            low,
            high,
        })
    }

    /// The line of one edge; cloth on the left.
    pub(crate) fn edge_line(&mut self, edge: EdgeRef, view: &View) -> Outcome<Line> {
        let edges = self.raw_edges(edge, view)?;
        let run = self.line_of(edges)?;
        self.straight(&run, "an edge named here")?;
        Ok(run.line)
    }

    /// The line of an edge beside what meets it at one of its ends: of a bowed edge that of its last straight (`at_end`) or its
    /// first.
    pub(crate) fn end_line(&mut self, edge: EdgeRef, at_end: bool, view: &View) -> Outcome<Line> {
        let edges = self.raw_edges(edge, view)?;
        if !edges.iter().any(|e| e.bowed) {
            return Ok(self.line_of(edges)?.line);
        }
        let nearest = if at_end { edges.last() } else { edges.first() };
        let line = nearest.and_then(|e| Line::between(e.from, e.to));
        line.ok_or_else(|| self.bad("A bowed edge ends in a straight of no length.", "Name another edge."))
    }

    /// The lines of two edges where they meet.
    fn lines_at_corner(&mut self, a: EdgeRef, b: EdgeRef, view: &View) -> Outcome<(Line, Line)> {
        let (edges_a, edges_b) = (self.raw_edges(a, view)?, self.raw_edges(b, view)?);
        let gap = |before: &[RawEdge], after: &[RawEdge]| {
            let pair = before.last().zip(after.first());
            pair.map_or(f64::INFINITY, |(before, after)| before.to.distance(after.from))
        };
        // Where they meet at both their ends, the first is the one that ends at this corner.
        let onward = gap(&edges_a, &edges_b) <= gap(&edges_b, &edges_a) + TOLERANCE;
        Ok((self.end_line(a, onward, view)?, self.end_line(b, !onward, view)?))
    }

    /// Checks that no edge of a run is bowed.
    pub(crate) fn straight(&mut self, run: &Run, which: &str) -> Outcome<()> {
        if run.is_curve() {
            let sentence = format!("A bowed edge is no line, but {which} has one.");
            return Err(self.refuse("edge-not-straight", sentence, "Name straight edges."));
        }
        Ok(())
    }

    /// Checks that a run is one straight side without gaps.
    pub(crate) fn flush(&mut self, run: &Run, which: &str) -> Outcome<()> {
        self.straight(run, which)?;
        let mut last: Option<f64> = None;
        let mut finished_end: Option<f64> = None;
        for e in &run.edges {
            for p in [e.from, e.to] {
                let off = run.line.offset_of(p);
                if self.misses(Miss::Other, off, TOLERANCE) {
                    let sentence = format!(
                        "The raw edges of {which} are not flush: one lies {} off the line.",
                        self.say(off.abs())
                    );
                    return Err(self.refuse("run-not-flush", sentence, "Check the sizes of the pieces along it."));
                }
            }
            let (from, to) = (run.line.reach_of(e.from), run.line.reach_of(e.to));
            let [finished, next_end] = e.finished.map(|p| p.map(|p| run.line.reach_of(p)));
            // Folds may run on past each other in the allowance: what counts there is where the cards' corners meet.
            let (end, from) = match (finished_end, finished) {
                (Some(end), Some(from)) => (Some(end), from),
                _ => (last, from),
            };
            finished_end = next_end;
            if let Some(end) = end
                && self.misses(Miss::Other, from - end, TOLERANCE)
            {
                let sentence = format!(
                    "Along {which} one raw edge begins {} from where the one before ends.",
                    self.say((from - end).abs())
                );
                return Err(self.refuse("run-not-flush", sentence, "Name every edge of the run in order."));
            }
            last = Some(to);
        }
        self.held();
        Ok(())
    }

    pub(crate) fn cross(&mut self, a: Line, b: Line) -> Outcome<Point> {
        let crossing = a.crossing(b).filter(|p| p.x.abs() < 1.0e6 && p.y.abs() < 1.0e6);
        crossing.ok_or_else(|| {
            self.bad(
                "Two lines that should cross run side by side.",
                "Name two lines that cross.",
            )
        })
    }

    /// A corner.
    pub(crate) fn corner(&mut self, corner: CornerRef, view: &View) -> Outcome<Point> {
        let before = self.end_line(corner.before, true, view)?;
        let after = self.end_line(corner.after, false, view)?;
        self.cross(before, after)
    }

    fn mark(&mut self, name: &MarkName, view: &View) -> Outcome<Drawn> {
        let carriers = self.marks.get(name).cloned().unwrap_or_default();
        for (node, drawn) in carriers {
            if let Some((motion, _)) = self.lies(node, view) {
                return Ok(match drawn {
                    Drawn::Line(line) => Drawn::Line(motion.line(line)),
                    Drawn::Dot(dot) => Drawn::Dot(motion.point(dot)),
                });
            }
        }
        Err(self.bad(
            format!("There is no mark \"{}\" on this.", name.0),
            "Draw the mark before using it.",
        ))
    }

    /// A drawn line.
    pub(crate) fn mark_line(&mut self, name: &MarkName, view: &View) -> Outcome<Line> {
        match self.mark(name, view)? {
            Drawn::Line(line) => Ok(line),
            Drawn::Dot(_) => Err(self.bad(
                format!("Mark \"{}\" is a dot, not a line.", name.0),
                "Name a drawn line.",
            )),
        }
    }

    /// A drawn dot.
    pub(crate) fn dot(&mut self, name: &MarkName, view: &View) -> Outcome<Point> {
        match self.mark(name, view)? {
            Drawn::Dot(dot) => Ok(dot),
            Drawn::Line(_) => Err(self.bad(format!("Mark \"{}\" is a line, not a dot.", name.0), "Name a dot.")),
        }
    }

    /// A sewn seam.
    pub(crate) fn seam_at(&mut self, seam: SeamRef, view: &View) -> Outcome<Segment> {
        let carriers = self
            .seams
            .get(&seam.of)
            .and_then(|s| s.get(seam.seam as usize))
            .cloned();
        for (node, segment) in carriers.unwrap_or_default() {
            if let Some((motion, _)) = self.lies(node, view) {
                return Ok(Segment {
                    from: motion.point(segment.from),
                    to: motion.point(segment.to),
                });
            }
        }
        Err(self.bad(
            format!("There is no seam {} of slot {} here.", seam.seam, seam.of.0),
            "Name a seam of what lies on the table.",
        ))
    }

    /// A straight line a maker can see.
    pub(crate) fn line(&mut self, line: &LineRef, view: &View) -> Outcome<Line> {
        match line {
            LineRef::Edge(edge) => self.edge_line(*edge, view),
            LineRef::Mark(name) => self.mark_line(name, view),
            LineRef::Seam(seam) => {
                let segment = self.seam_at(*seam, view)?;
                Line::between(segment.from, segment.to)
                    .ok_or_else(|| self.bad("A seam has no length.", "Name another seam."))
            }
        }
    }

    /// A place a maker can find.
    pub(crate) fn point(&mut self, point: &PointRef, view: &View) -> Outcome<Point> {
        match point {
            PointRef::Corner(corner) => self.corner(*corner, view),
            PointRef::Crossing(a, b) => {
                let (a, b) = (self.line(a, view)?, self.line(b, view)?);
                self.cross(a, b)
            }
            PointRef::Along { from, edge, by } => {
                let corner = self.corner(*from, view)?;
                let by = self.positive(*by)?;
                let edges = self.raw_edges(*edge, view)?;
                let run = self.line_of(edges)?;
                self.straight(&run, "an edge to measure along")?;
                let start = run.line.reach_of(corner);
                let away = if (run.low + run.high) / 2.0 >= start { by } else { -by };
                Ok(run.line.at(start + away))
            }
            PointRef::FromEdges { a, a_by, b, b_by } => {
                let (a_by, b_by) = (self.positive(*a_by)?, self.positive(*b_by)?);
                let (a, b) = self.lines_at_corner(*a, *b, view)?;
                self.cross(a.moved_left(a_by), b.moved_left(b_by))
            }
            PointRef::Dot(name) => self.dot(name, view),
        }
    }

    /// The line of a ruler's edge.
    pub(crate) fn ruler(&mut self, ruler: &Ruler, view: &View) -> Outcome<Line> {
        match ruler {
            Ruler::Beside { line, at, toward } => {
                let line = self.line(line, view)?;
                let at = self.positive(*at)?;
                if at == 0.0 {
                    return Ok(line);
                }
                let corner = self.corner(*toward, view)?;
                let side = line.offset_of(corner);
                if !beyond(side, TOLERANCE) {
                    return Err(self.bad(
                        "The corner that says which side the ruler goes to lies on the line itself.",
                        "Name a corner clear of the line.",
                    ));
                }
                Ok(line.moved_left(if side > 0.0 { at } else { -at }))
            }
            Ruler::Angle {
                line,
                angle,
                through,
                like,
            } => {
                let line = self.line(line, view)?;
                let through = self.point(through, view)?;
                let like = self.edge_line(*like, view)?;
                let [left, right] =
                    [1.0, -1.0].map(|sign| Motion::turn_degrees(sign * angle.degrees()).vector(line.along));
                // Of two equally so, the one turned counter-clockwise.
                let nearer_left = left.dot(like.along).abs() >= right.dot(like.along).abs() - ALIKE;
                let along = if nearer_left { left } else { right };
                Ok(Line { through, along })
            }
            Ruler::TwoMarks { from, to } => {
                let (from, to) = (self.point(from, view)?, self.point(to, view)?);
                Line::between(from, to)
                    .filter(|_| from.distance(to) > TOLERANCE)
                    .ok_or_else(|| self.bad("The two marks for the ruler are one place.", "Name two places apart."))
            }
        }
    }
}

/// The finished ends of an edge of a basted piece: the card's corners at both ends of a folded side, and of a side left
/// flat where it meets a folded one.
fn finished_ends(cloth: &Cloth, name: Name, from: Point, to: Point) -> [Option<Point>; 2] {
    let Some((card, line)) = cloth.card.as_ref().zip(Line::between(from, to)) else {
        return [None, None];
    };
    let n = card.corners.len();
    let side = card.side_of(line);
    let (before, after) = ((side + n - 1) % n, (side + 1) % n);
    if name.is_over() {
        return [Some(card.corners[side]), Some(card.corners[after])];
    }
    if !card.flat[side] {
        return [None, None];
    }
    [
        Some(card.corners[side]).filter(|_| !card.flat[before]),
        Some(card.corners[after]).filter(|_| !card.flat[after]),
    ]
}

/// The line of an edge that strays, pulled straight from its first end to its last: one patch a little askew does not turn
/// the whole edge.
fn pulled_straight(edges: &[RawEdge], line: Line) -> Line {
    let ends = || edges.iter().flat_map(|e| [e.from, e.to]);
    let reach = |p: &Point| line.reach_of(*p);
    let first = ends().min_by(|a, b| reach(a).total_cmp(&reach(b)));
    let last = ends().max_by(|a, b| reach(a).total_cmp(&reach(b)));
    let straight = first.zip(last).and_then(|(first, last)| Line::between(first, last));
    straight.unwrap_or(line)
}
