//! Cutting a stack apart, and opening one: each layer loses what lies beyond the stitch path, the upper one folds over.

use crate::piece::{Edge, Name};
use crate::scene::Segment;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, Laid, PieceAt, Stack, Stitch, Stretch, Thing};
use recipe::{CornerRef, Keep, Press, Ruler, Slot};
use shape::{Line, Motion};
use terms::Finding;

/// What a cut leaves of a path and is no longer than this many seams comes loose.
const LOOSE: f64 = 2.0;

impl Table<'_> {
    /// Does a cut-apart step.
    pub(crate) fn cut_apart(&mut self, slot: Slot, ruler: &Ruler, keep: &[Keep], offcut: &[CornerRef]) -> Outcome<()> {
        let stack = self.stack(slot)?.clone();
        self.closed(stack.lower)?;
        self.closed(stack.upper)?;
        if stack.paper.is_some() {
            return Err(self.bad("A section on paper is cut apart.", "Sew on the printed line, and open."));
        }
        if stack.pinned.is_some() {
            return Err(self.bad("A stack pinned along a curve is cut apart.", "Sew and open it first."));
        }
        if stack.laid.as_ref().is_some_and(|laid| laid.number > 0) {
            return Err(self.bad("A stack that was turned round a dot is cut apart.", "Open it first."));
        }
        if stack
            .stitches
            .iter()
            .any(|s| s.leg.as_ref().is_some_and(|leg| leg.begun.is_some()))
        {
            let sentence = "A stack is cut apart whose seam is to be closed later.";
            return Err(self.bad(sentence, "Open it and close the seam first."));
        }
        let view = stack.view();
        let cut = self.ruler(ruler, &view)?;
        let mut kept: Vec<(bool, Slot)> = Vec::new();
        for k in keep {
            let left = self.side_of(cut, k.corner, &stack)?;
            if kept.iter().any(|&(l, _)| l == left) {
                return Err(self.bad("Two corners kept lie on one side of the cut.", "Keep each side once."));
            }
            kept.push((left, k.into));
        }
        if kept.is_empty() {
            return Err(self.bad("Nothing of the stack is kept.", "Name a corner of what is kept."));
        }
        let mut off = Vec::new();
        for &corner in offcut {
            off.push(self.side_of(cut, corner, &stack)?);
        }
        for side in [true, false] {
            let is_kept = kept.iter().any(|&(l, _)| l == side);
            let is_off = off.contains(&side);
            if is_kept == is_off {
                return Err(self.bad(
                    "A side of the cut must be either kept or named as an offcut.",
                    "Name a corner of what is thrown away.",
                ));
            }
        }
        let segment = self.segment_in(cut, &stack)?;
        self.use_up(slot);
        for &(left, into) in &kept {
            let line = if left { cut } else { cut.reversed() };
            let stitches = self.stitches_left_of(line, &stack)?;
            self.keep_side(&stack, line, stitches, into)?;
        }
        if kept.len() == 2 {
            self.waste.clear();
        }
        self.cuts.extend(segment);
        Ok(())
    }

    /// Whether a corner lies to the left of the cut.
    fn side_of(&mut self, cut: Line, corner: CornerRef, stack: &Stack) -> Outcome<bool> {
        let offset = cut.offset_of(self.corner(corner, &stack.view())?);
        if !beyond(offset, TOLERANCE) {
            return Err(self.bad(
                "A corner named for one side of a cut lies on the cut.",
                "Name another corner.",
            ));
        }
        Ok(offset > 0.0)
    }

    /// The stitch paths on the left of a cut, or what the cut leaves of them. What runs a seam beside the cut has its
    /// body away from it from now on.
    fn stitches_left_of(&mut self, line: Line, stack: &Stack) -> Outcome<Vec<Stitch>> {
        let mut found = Vec::new();
        for stitch in &stack.stitches {
            let mut stitch = stitch.clone();
            let Segment { from, to } = stitch.segment();
            let (a, b) = (line.offset_of(from), line.offset_of(to));
            if !beyond(a, TOLERANCE) && !beyond(b, TOLERANCE) {
                let sentence = "The cut runs along the stitches.";
                return Err(self.refuse("not-sewn-apart", sentence, "Cut beside the stitches."));
            }
            if a <= 0.0 && b <= 0.0 {
                continue;
            }
            if a < 0.0 || b < 0.0 {
                let at = stitch.from + (stitch.to - stitch.from) * a / (a - b);
                let cut_end = usize::from(a > 0.0);
                *(if cut_end == 1 { &mut stitch.to } else { &mut stitch.from }) = at;
                // A few stitches hold nothing once they are cut through.
                if stitch.to - stitch.from <= LOOSE * self.seam + TOLERANCE {
                    continue;
                }
                if let Some(leg) = &mut stitch.leg {
                    leg.dots[cut_end] = None;
                }
            } else if [a, b].iter().all(|o| !beyond(o - self.seam, self.near_enough())) {
                if stitch.line.along.dot(line.along) < 0.0 {
                    (stitch.from, stitch.to) = (-stitch.to, -stitch.from);
                    stitch.line = stitch.line.reversed();
                    if let Some(leg) = &mut stitch.leg {
                        leg.dots.reverse();
                    }
                }
                stitch.body_known = true;
                stitch.loses = None;
                self.held();
            }
            found.push(stitch);
        }
        if found.is_empty() {
            let sentence = "What is kept beside the cut has no seam in it.";
            return Err(self.refuse("not-sewn-apart", sentence, "Sew on each side that is kept."));
        }
        Ok(found)
    }

    /// How far a line runs through the cloth of a stack.
    fn segment_in(&mut self, line: Line, stack: &Stack) -> Outcome<Option<Segment>> {
        if !self.filming {
            return Ok(None);
        }
        let view = stack.view();
        let mut all = self.stretches(stack.lower, &view, line)?;
        all.extend(self.stretches(stack.upper, &view, line)?);
        Ok(ends_of(&all, line))
    }

    /// What is said of a seam that is spun where nothing meets.
    pub(crate) fn spun_in_vain(&self) -> Box<Finding> {
        let sentence = "A seam is pressed to change sides where joints meet, but none meet along it.";
        self.bad(sentence, "Press it to one side, or apart.")
    }

    /// Does an open step.
    pub(crate) fn open(&mut self, slot: Slot, press: Press, into: Slot) -> Outcome<()> {
        let mut stack = self.stack(slot)?.clone();
        let whole = |laid: &Laid| !laid.meets.is_empty() && laid.number == 0;
        let begun = |s: &Stitch| s.leg.as_ref().is_some_and(|leg| leg.begun.is_some());
        if press.is_spun() && (!stack.laid.as_ref().is_some_and(whole) || stack.stitches.iter().any(begun)) {
            return Err(self.spun_in_vain());
        }
        if let Some(pinned) = stack.pinned.clone() {
            return self.open_curve(slot, &stack, &pinned, into);
        }
        if let Some(takes) = self.stray(|h| h.maker.fold) {
            for stitch in &mut stack.stitches {
                stitch.line = stitch.line.moved_left(takes);
            }
        }
        if stack.laid.as_ref().is_some_and(|laid| laid.number > 0) {
            return self.open_turned(slot, &stack, into);
        }
        let [stitch] = stack.stitches.as_slice() else {
            let sentence = format!("A stack with {} seams cannot be opened.", stack.stitches.len());
            return Err(self.refuse("not-sewn-apart", sentence, "Sew once, or cut between the seams first."));
        };
        if !stitch.body_known {
            return Err(self.refuse(
                "seam-not-allowance",
                "The stack was not cut a seam's width from the stitches, so which side of them is the allowance is not said.",
                "Cut the stack a seam's width from the stitches first.",
            ));
        }
        if let Some((leg, end)) = stitch.leg.as_ref().and_then(|leg| Some((leg, leg.begun?))) {
            return self.open_begun(slot, &stack, stitch, leg, end, into);
        }
        self.keep_stops(&stack);
        let view = stack.view();
        let beside = stitch.loses.is_some();
        let loses = match &stitch.loses {
            Some(loses) => loses.clone(),
            None => [self.pieces_of(stack.lower), self.pieces_of(stack.upper)],
        };
        let mut along: [Vec<Stretch>; 2] = [Vec::new(), Vec::new()];
        for (layer, pieces) in loses.into_iter().enumerate() {
            self.spend(pieces.len())?;
            for at in pieces {
                if beside {
                    self.fold_along(at, &view, stitch.line, (stitch.from, stitch.to))?;
                } else {
                    let fresh = Edge::fresh(Name::Fold, Some(self.action));
                    self.keep_left(at, &view, stitch.line, fresh)?;
                }
                along[layer].extend(self.stretches_of(at, &view, stitch.line));
            }
            along[layer].sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        }
        self.sew_together(&along, stitch.join)?;
        self.use_up(slot);
        let motion = stack.lay.then(&Motion::mirror(stitch.line));
        self.link(stack.upper, stack.lower, motion);
        if let Some(over) = stack.paper {
            return self.opened_on_paper(stack.lower, over, into);
        }
        self.put(into, Birth::Other, Thing::Work(stack.lower))?;
        self.seams.insert(into, vec![vec![(stack.lower, stitch.segment())]]);
        Ok(())
    }

    /// Notes which parts now lie beside each other, and joins faces where the recipe says so.
    pub(crate) fn sew_together(&mut self, along: &[Vec<Stretch>; 2], join: bool) -> Outcome<()> {
        let [lower, upper] = along;
        let (mut i, mut j) = (0, 0);
        while i < lower.len() && j < upper.len() {
            let (a, b) = (&lower[i], &upper[j]);
            if a.to.min(b.to) - a.from.max(b.from) > TOLERANCE {
                let (p, q) = (a.at.part, b.at.part);
                self.parts[p].beside.push(q);
                self.parts[q].beside.push(p);
                if join {
                    self.join(a.at, b.at)?;
                }
            }
            if a.to <= b.to {
                i += 1;
            } else {
                j += 1;
            }
        }
        Ok(())
    }

    fn join(&mut self, a: PieceAt, b: PieceAt) -> Outcome<()> {
        let cloth = |at: PieceAt| {
            self.parts[at.part]
                .cloth(at.piece)
                .map(|c| &self.recipe.pieces[c.kind].fabric)
        };
        if cloth(a) != cloth(b) {
            return Err(self.refuse(
                "wrong-fabric",
                "Two pieces joined to make one are of different cloth.",
                "Join pieces of one cloth.",
            ));
        }
        self.held();
        self.joins.push((a, b));
        Ok(())
    }
}

/// From the first to the last place of a line that cloth covers.
pub(crate) fn ends_of(stretches: &[Stretch], line: Line) -> Option<Segment> {
    let low = stretches.iter().map(|s| s.from).fold(f64::INFINITY, f64::min);
    let high = stretches.iter().map(|s| s.to).fold(f64::NEG_INFINITY, f64::max);
    (low < high).then(|| Segment {
        from: line.at(low),
        to: line.at(high),
    })
}
