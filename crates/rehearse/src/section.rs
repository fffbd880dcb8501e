//! Sewing on foundation paper: the first piece is spread, each next one is laid over its printed line, sewn on it and
//! opened; at the end the section is cut out along its printed cutting line and is a work like any other.

use crate::maker::Miss;
use crate::paper::Sheet;
use crate::piece::{Edge, Name, extent};
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, PieceAt, Stack, Stitch, Stretch, Thing, View};
use recipe::{AlongLine, Size, Slot};
use shape::{Line, Motion, Point, Polygon};
use std::rc::Rc;

/// A paper with the pieces that are on it, area by area.
#[derive(Clone, Debug)]
pub(crate) struct Section {
    pub(crate) sheet: Rc<Sheet>,
    pub(crate) pieces: Vec<PieceAt>,
}

/// A piece laid over a printed line.
#[derive(Clone, Debug)]
pub(crate) struct OverLine {
    pub(crate) section: Section,
    pub(crate) line: usize,
    pub(crate) piece: PieceAt,
    pub(crate) margin: f64,
}

/// How far inside all of these lines the corner of an outline lies that lies least so; less than nothing where one lies outside.
fn deepest(must: &Polygon, lines: impl Iterator<Item = Line>) -> f64 {
    lines
        .flat_map(|line| must.corners().iter().map(move |&c| line.offset_of(c)))
        .fold(f64::INFINITY, f64::min)
}

impl Table<'_> {
    /// Puts a printed paper into a slot that was never used.
    pub(crate) fn take_paper(&mut self, slot: Slot, sheet: Rc<Sheet>) -> Outcome<()> {
        self.spend(1)?;
        let root = self.new_node();
        let pieces = Vec::new();
        self.put(slot, Birth::Other, Thing::Section(root, Section { sheet, pieces }))
    }

    pub(crate) fn section(&self, slot: Slot) -> Outcome<(usize, Section)> {
        match self.slots.get(&slot) {
            Some((_, Thing::Section(root, section))) => Ok((*root, section.clone())),
            other => Err(self.not_here(slot, other, "a foundation paper")),
        }
    }

    /// The next line to be sewn, which must be the one named.
    fn next_line(&self, section: &Section, line: u32) -> Outcome<usize> {
        let next = section.pieces.len().checked_sub(1);
        let line = line as usize;
        if next != Some(line) || line >= section.sheet.lines.len() {
            let sentence = format!(
                "Line {} of the paper is taken, which is not the next to be sewn.",
                line.saturating_add(1)
            );
            return Err(self.refuse(
                "line-out-of-order",
                sentence,
                "Sew the lines in the order they are numbered.",
            ));
        }
        Ok(line)
    }

    fn by_the_seam_past(&mut self, past: Size) -> Outcome<f64> {
        let inches = self.positive(past)?;
        if past.len != self.recipe.seam.len {
            let sentence = format!(
                "The cloth is to end {} past the line, but seams are {}.",
                self.say(inches),
                self.say(self.seam)
            );
            return Err(self.refuse(
                "seam-not-allowance",
                sentence,
                "Leave the pattern's seam past the line.",
            ));
        }
        self.held();
        Ok(inches)
    }

    /// How a piece comes to lie along a line, right side up.
    fn laid_along(&mut self, slot: Slot, along: &AlongLine, line: Line) -> Outcome<(usize, PieceAt, Motion)> {
        let root = self.work(slot)?;
        let at = match (self.slots.get(&slot), self.pieces_of(root).as_slice()) {
            (Some((Birth::Part(_), _)), &[at]) => at,
            _ => {
                let sentence = "Only a single cut piece is laid on foundation paper.";
                return Err(self.bad(sentence, "Lay the pieces one by one."));
            }
        };
        let edges = self.raw_edges(along.edge, &View::of(root))?;
        let &[edge] = edges.as_slice() else {
            return Err(self.refuse(
                "unknown-edge",
                "The piece has no such edge.",
                "Name an edge of the piece.",
            ));
        };
        let own = Line::between(edge.from, edge.to).ok_or_else(|| self.bad("An edge has no length.", ""))?;
        let (past, before) = (self.positive(along.past)?, self.real(along.beyond)?);
        let strays = self.stray(|h| h.stray(h.maker.end)).unwrap_or(0.0);
        let onto = Line {
            through: line.moved_left(-past).at(strays - before),
            along: line.along,
        };
        Ok((root, at, Motion::line_to_line(own, onto, false)))
    }

    /// Checks that a piece covers what it must, so far inside its raw edges all round.
    fn covers(&mut self, at: PieceAt, view: &View, section: &Section, area: usize, margin: f64) -> Outcome<()> {
        let lies_in = self.piece_in(at, view).map(|(cloth, motion, _)| {
            let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
            let raw = (0..corners.len()).filter(|&i| cloth.edges[i].name != Name::Fold);
            let lines = raw.filter_map(|i| Line::between(corners[i], corners[cloth.index_of_next(i)]));
            deepest(&section.sheet.must(area), lines)
        });
        self.reaches(lies_in.unwrap_or(f64::NEG_INFINITY), area, margin)
    }

    /// Checks that what an area asks for lies so far inside the raw edges of its piece.
    fn reaches(&mut self, lies_in: f64, area: usize, margin: f64) -> Outcome<()> {
        let lacks = margin - lies_in;
        if (beyond(lies_in, 1.0e6) || lacks > TOLERANCE) && self.misses(Miss::Other, lacks, TOLERANCE) {
            let sentence = if lies_in.is_finite() && lies_in < -TOLERANCE {
                let short = self.say(-lies_in);
                format!(
                    "The piece of area {} falls {short} short of covering it with its seam.",
                    area + 1
                )
            } else if lies_in.is_finite() {
                let (there, said) = (self.say(lies_in.max(0.0)), self.say(margin));
                format!(
                    "The piece of area {} covers it with its seam by only {there} where the recipe says {said}.",
                    area + 1
                )
            } else {
                format!("The piece of area {} does not lie on it.", area + 1)
            };
            return Err(self.refuse(
                "piece-falls-short",
                sentence,
                "Cut the piece larger, or lay it elsewhere.",
            ));
        }
        self.held();
        Ok(())
    }

    /// Does a spread step.
    pub(crate) fn spread(&mut self, on: Slot, piece: Slot, along: &AlongLine, into: Slot) -> Outcome<()> {
        let (root, mut section) = self.section(on)?;
        if !section.pieces.is_empty() {
            return Err(self.bad(
                "There is cloth on the paper already.",
                "Spread the first piece on bare paper.",
            ));
        }
        let margin = self.positive(along.margin)?;
        let line = section.sheet.along(0);
        let line = line.ok_or_else(|| self.bad("The paper has no sides.", ""))?;
        let (upper, at, motion) = self.laid_along(piece, along, line)?;
        self.link(upper, root, motion);
        self.covers(at, &View::of(root), &section, 0, margin)?;
        section.pieces.push(at);
        self.use_up(on);
        self.use_up(piece);
        self.put(into, Birth::Other, Thing::Section(root, section))
    }

    /// Does a pare step.
    pub(crate) fn pare(&mut self, of: Slot, line: u32, past: Size) -> Outcome<()> {
        let (root, section) = self.section(of)?;
        let line = self.next_line(&section, line)?;
        let past = self.by_the_seam_past(past)?;
        let (line, _) = section.sheet.lines[line];
        let strays = self.stray(|h| h.cut_edge()).unwrap_or(0.0);
        let ruler = line.moved_left(past + strays).reversed();
        let fresh = Edge {
            name: Name::Loose,
            made: Some(self.action),
            bowed: false,
        };
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        for at in pieces {
            self.keep_left(at, &View::of(root), ruler, fresh)?;
        }
        if self.filming {
            let all = self.stretches(root, &View::of(root), ruler)?;
            self.cuts.extend(crate::open::ends_of(&all, ruler));
        }
        Ok(())
    }

    /// Lays a piece over a printed line of a section.
    pub(crate) fn lay_over_paper(&mut self, a: Slot, b: Slot, line: u32, along: &AlongLine, into: Slot) -> Outcome<()> {
        let (root, section) = self.section(a)?;
        let number = self.next_line(&section, line)?;
        let past = self.by_the_seam_past(along.past)?;
        let margin = self.positive(along.margin)?;
        let (line, _) = section.sheet.lines[number];
        let (upper, piece, motion) = self.laid_along(b, along, line)?;
        self.level_past(root, &section, number, past)?;
        // The edge that is laid along the line goes under with the fold, so its margin is looked at while it is there.
        let laid = std::iter::once(line.moved_left(-past));
        let lies_in = deepest(&section.sheet.must(number + 1), laid);
        self.reaches(lies_in, number + 1, margin)?;
        let lay = motion.then(&Motion::mirror(line));
        self.use_up(a);
        self.use_up(b);
        let paper = OverLine {
            section,
            line: number,
            piece,
            margin,
        };
        let stack = Stack {
            lower: root,
            upper,
            lay,
            laid: None,
            dots: None,
            stitches: Vec::new(),
            paper: Some(paper),
            pinned: None,
        };
        self.put(into, Birth::Other, Thing::Stack(Box::new(stack)))
    }

    /// Checks that what lies there ends as far past the line as the piece that is laid on it, no more and no less.
    fn level_past(&mut self, root: usize, section: &Section, number: usize, past: f64) -> Outcome<()> {
        let (view, sheet) = (View::of(root), &section.sheet);
        let (line, _) = sheet.lines[number];
        if let Some((from, to)) = sheet.within(number, line) {
            for s in self.stretches(root, &view, line)? {
                if s.to.min(to) - s.from.max(from) <= TOLERANCE {
                    continue;
                }
                let corners = self.corners_in(s.at, &view).unwrap_or_default();
                let reaches = extent(&corners, line).0.1;
                if reaches - past > TOLERANCE && self.misses(Miss::Other, reaches - past, TOLERANCE) {
                    let sentence = format!(
                        "Cloth under the piece reaches {} past the line, but the piece only {}.",
                        self.say(reaches),
                        self.say(past)
                    );
                    let mend = "Fold the paper back on the line and trim the cloth first.";
                    return Err(self.refuse("raw-edges-not-level", sentence, mend));
                }
            }
        }
        let ruler = line.moved_left(past - TOLERANCE);
        if let Some(wanted) = sheet.within(number, ruler) {
            let found = self.stretches(root, &view, ruler)?;
            if let Some(gap) = gap_in(found, wanted)
                && self.misses(Miss::Other, gap, TOLERANCE)
            {
                let sentence = format!(
                    "Over {} of the line the cloth under the piece does not reach {} past it.",
                    self.say(gap),
                    self.say(past)
                );
                return Err(self.refuse("allowance-short", sentence, "Cut the pieces before this larger."));
            }
        }
        self.held();
        Ok(())
    }

    /// Sews on the printed line that a piece was laid over.
    pub(crate) fn sew_on_paper(&mut self, slot: Slot, further: Size) -> Outcome<Stitch> {
        let stack = self.stack(slot)?.clone();
        let further = self.positive(further)?;
        let Some(OverLine {
            section, line: number, ..
        }) = &stack.paper
        else {
            let sentence = "Nothing was laid over a printed line to be sewn on it.";
            return Err(self.bad(sentence, "Lay a piece over the line first."));
        };
        if !stack.stitches.is_empty() {
            return Err(self.bad("A printed line is sewn twice.", "Sew each line once."));
        }
        let sheet = &section.sheet;
        let (line, length) = sheet.lines[*number];
        let (from, to) = (-further, length + further);
        if let Some((low, high)) = sheet.within(*number, line) {
            let short = (from - low).max(high - to);
            if beyond(short.max(0.0), TOLERANCE) {
                let sentence = format!(
                    "The stitches stop {} before the edge of the seam allowance.",
                    self.say(short)
                );
                return Err(self.refuse(
                    "stitches-stop-short",
                    sentence,
                    "Sew further beyond the ends of the line.",
                ));
            }
            for (layer, root) in [stack.lower, stack.upper].into_iter().enumerate() {
                let found = self.stretches(root, &stack.view(), line)?;
                if let Some(gap) = gap_in(found, (low, high))
                    && self.misses(Miss::Other, gap, TOLERANCE)
                {
                    let which = crate::sew::LAYER[layer];
                    let sentence = format!(
                        "Over {} of the printed line there is no cloth in the {which} layer.",
                        self.say(gap)
                    );
                    let mend = "Cut the pieces larger, or lay them elsewhere.";
                    return Err(self.refuse("path-not-covered", sentence, mend));
                }
            }
            self.nothing_caught(&stack, section, line, (0.0, length), (low, high))?;
        }
        let strays = self.stray(|h| h.stray(h.maker.seam)).unwrap_or(0.0);
        let path = line.moved_left(strays).reversed();
        Ok(Stitch {
            line: path,
            from: -to,
            to: -from,
            body_known: true,
            loses: None,
            join: false,
            leg: None,
            sheared: None,
        })
    }

    /// Checks that no piece is sewn down whose area lies elsewhere.
    fn nothing_caught(
        &mut self,
        stack: &Stack,
        section: &Section,
        line: Line,
        (start, end): (f64, f64),
        (low, high): (f64, f64),
    ) -> Outcome<()> {
        for s in self.stretches(stack.lower, &stack.view(), line)? {
            if s.to.min(end) - s.from.max(start) <= TOLERANCE {
                continue;
            }
            let area = section.pieces.iter().position(|&at| at == s.at);
            let near = area.is_some_and(|area| {
                let corners = section.sheet.area(area).corners().to_vec();
                let ((lowest, highest), reach) = extent(&corners, line);
                let close = lowest <= self.seam + TOLERANCE && highest >= -self.seam - TOLERANCE;
                close && reach.0 <= high + TOLERANCE && reach.1 >= low - TOLERANCE
            });
            if !near && self.misses(Miss::Other, s.to - s.from, 0.0) {
                let sentence = "The stitches go through a piece that lies elsewhere on the paper.";
                let mend = "Trim it off the seams before this.";
                return Err(self.refuse("cloth-caught", sentence, mend));
            }
        }
        self.held();
        Ok(())
    }

    /// After a piece was folded over its line: the section goes on, if the piece covers what it must.
    pub(crate) fn opened_on_paper(&mut self, root: usize, over: OverLine, into: Slot) -> Outcome<()> {
        let OverLine {
            mut section,
            line: number,
            piece,
            margin,
        } = over;
        self.covers(piece, &View::of(root), &section, number + 1, margin)?;
        section.pieces.push(piece);
        let (line, length) = section.sheet.lines[number];
        let seam = crate::scene::Segment {
            from: line.at(length),
            to: line.at(0.0),
        };
        self.put(into, Birth::Other, Thing::Section(root, section))?;
        self.seams.insert(into, vec![vec![(root, seam)]]);
        Ok(())
    }
}

/// The longest place without cloth between two places of a line, if any is longer than nothing.
pub(crate) fn gap_in(mut found: Vec<Stretch>, (from, to): (f64, f64)) -> Option<f64> {
    found.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
    let mut reached = from;
    let mut gap = 0.0f64;
    for s in &found {
        if s.from.min(to) > reached {
            gap = gap.max(s.from.min(to) - reached);
        }
        reached = reached.max(s.to);
    }
    gap = gap.max(to - reached);
    (gap > TOLERANCE).then_some(gap)
}
