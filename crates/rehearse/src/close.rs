//! Closing a seam that was begun: what is left of its edges is laid together and the stitches go on to the end.

use crate::lay::Side;
use crate::maker::Miss;
use crate::resolve::Run;
use crate::scene::Segment;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE};
use crate::work::{Begun, Beyond, Birth, PieceAt, Thing, View};
use recipe::{EdgeRun, End, Meet, SeamRef, Slot};
use shape::Line;
use std::collections::BTreeSet;

impl Table<'_> {
    /// Does a close step.
    pub(crate) fn close(
        &mut self,
        work: Slot,
        seam: SeamRef,
        (a, b): (&EdgeRun, &EdgeRun),
        end: &End,
        meets: &[Meet],
        into: Slot,
    ) -> Outcome<()> {
        let root = self.work(work)?;
        self.no_card_in(root)?;
        let (number, begun) = self.begun_in(root, seam)?;
        if *end == End::Open {
            return Err(self.bad("A seam is closed, but not to its end.", "Say how it ends."));
        }
        let view = View::of(root);
        // Both runs are measured along the path, as it lies now: the lower run along it, the upper against it.
        let (at, motion) = self.find(begun.node);
        let path = if at == root {
            motion.line(begun.line)
        } else {
            begun.line
        };
        let base = path.moved_left(-self.seam);
        let run_a = self.left_of(a, base, &view, "the lower layer")?;
        let run_b = self.left_of(b, path.reversed().moved_left(-self.seam), &view, "the upper layer")?;
        let (own_a, own_b) = (self.pieces_of_run(&run_a), self.pieces_of_run(&run_b));
        let mut side_a = self.one_side(a, run_a, view, &own_b)?;
        let mut side_b = self.one_side(b, run_b, view, &own_a)?;
        let fall = |reach: f64| -reach;
        let (open, sewn) = (begun.end, 1 - begun.end);
        let stop = if open == 1 { begun.to } else { begun.from };
        for (side, is_a) in [(&mut side_a, true), (&mut side_b, false)] {
            let last = self.path_end(end, side, is_a, begun.end == 0, 0.0)?;
            let corner = self.path_end(end, side, is_a, begun.end == 0, self.seam)?;
            let stop = if is_a { stop } else { fall(stop) };
            let layer = &mut side.layer;
            (layer.ends[open], layer.corners[open]) = (last, corner);
            (layer.ends[sewn], layer.corners[sewn]) = (Some(stop), Some(stop));
        }
        self.comes_out(end, &side_a, &side_b, begun.end == 0, &fall)?;
        self.meet(meets, &side_a, &side_b, &fall)?;

        // From here both are measured along the lower run.
        let layer = &mut side_b.layer;
        for end in layer.ends.iter_mut().chain(&mut layer.corners).flatten() {
            *end = fall(*end);
        }
        for s in layer.crossed.iter_mut().chain(&mut layer.outside) {
            (s.from, s.to) = (fall(s.to), fall(s.from));
        }
        (layer.crossed).sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        let layers = [side_a.layer, side_b.layer];
        let (start, far) = self.path_ends(&layers)?;
        let mut quiet = [Beyond::Sewn; 2];
        quiet[sewn] = Beyond::Begun;
        let loses = self.sewn_through([&layers[0], &layers[1]], (start, far), quiet)?;
        let whole = if open == 1 {
            (begun.from, far)
        } else {
            (start, begun.to)
        };
        self.fold_shut(&begun, path, whole, loses, &view)?;
        self.begun.remove(number);
        self.gone.extend(a.0.iter().chain(&b.0));
        self.use_up(work);
        self.put(into, Birth::Other, Thing::Work(root))?;
        let segment = Segment {
            from: path.at(whole.0),
            to: path.at(whole.1),
        };
        self.seams.insert(into, vec![vec![(root, segment)]]);
        Ok(())
    }

    fn begun_in(&mut self, root: usize, seam: SeamRef) -> Outcome<(usize, Begun)> {
        let number = self.begun.iter().position(|b| b.of == seam.of && seam.seam == 0);
        if let Some(number) = number {
            let begun = self.begun[number].clone();
            if self.find(begun.node).0 == root {
                return Ok((number, begun));
            }
        }
        let sentence = format!("Seam {} of slot {} was not begun in this work.", seam.seam, seam.of.0);
        Err(self.refuse("seam-not-begun", sentence, "Name the seam that was begun."))
    }

    /// A run of what is still to be sewn, measured along a line on which its raw edges must lie.
    fn left_of(&mut self, names: &EdgeRun, base: Line, view: &View, which: &str) -> Outcome<Run> {
        let mut run = self.run(names, view)?;
        self.flush(&run, which)?;
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for e in &run.edges {
            for p in [e.from, e.to] {
                let off = base.offset_of(p);
                if self.misses(Miss::Other, off, TOLERANCE) || run.line.along.dot(base.along) <= 0.0 {
                    let sentence = format!(
                        "The raw edge of {which} does not lie a seam's width beyond the seam that was begun, but {} from there.",
                        self.say(off.abs())
                    );
                    let mend = "Name what is left of the edges of that seam.";
                    return Err(self.refuse("close-off-the-seam", sentence, mend));
                }
                low = low.min(base.reach_of(p));
                high = high.max(base.reach_of(p));
            }
        }
        self.held();
        (run.line, run.low, run.high) = (base, low, high);
        Ok(run)
    }

    fn one_side(&mut self, names: &EdgeRun, run: Run, view: View, other: &BTreeSet<PieceAt>) -> Outcome<Side> {
        let layer = self.layer(names, &run, &view, Some(other))?;
        Ok(Side { view, run, layer })
    }

    /// Folds under all that lies beyond the path, makes the halves one and notes what now lies side by side.
    fn fold_shut(
        &mut self,
        begun: &Begun,
        path: Line,
        whole: (f64, f64),
        loses: [Vec<PieceAt>; 2],
        view: &View,
    ) -> Outcome<()> {
        for (layer, pieces) in loses.iter().enumerate() {
            let (line, ends) = if layer == 0 {
                (path, whole)
            } else {
                (path.reversed(), (-whole.1, -whole.0))
            };
            self.fold(pieces, view, line, ends)?;
        }
        for &(at, half) in &begun.halves {
            self.join_halves(at, half)?;
        }
        let along = loses.map(|pieces| self.along(&pieces, view, path));
        self.sew_together(&along, begun.join)
    }
}
