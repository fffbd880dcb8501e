//! Sewing: the stitch path through both layers of a stack, and what it must and must not go through.

use crate::maker::Miss;
use crate::piece::stretch;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, not_yet};
use crate::work::{LaidLayer, PieceAt, Stitch, Stretch, View};
use recipe::{MarkName, Path, Size, Slot, Stop};
use shape::Line;

/// A piece outside the run may reach this many seams beyond the stitches at their ends: dog ears do, other cloth must
/// not be caught.
const LONGEST_TIP: f64 = 4.0;

const LAYER: [&str; 2] = ["lower", "upper"];

impl Table<'_> {
    /// Does a sew step.
    pub(crate) fn sew(&mut self, slot: Slot, path: &Path, join: bool) -> Outcome<()> {
        let stack = self.stack(slot)?;
        if stack.stitches.len() >= 64 {
            return Err(self.bad("This stack is sewn over and over.", "Sew each seam once."));
        }
        let mut stitches = match path {
            Path::Beside { by, from, to } => vec![self.sew_beside(slot, *by, from, to)?],
            Path::OnMark(mark) => self.sew_marks(slot, mark, &[0.0])?,
            Path::BothSides { mark, by } => {
                let by = self.positive(*by)?;
                self.sew_marks(slot, mark, &[by, -by])?
            }
            Path::Round { .. } => return Err(not_yet("a seam all round", &self.here())),
            Path::OnPaper(_) => return Err(not_yet("sewing on a printed line", &self.here())),
        };
        for stitch in &mut stitches {
            stitch.join = join;
            self.tally.seams = self.tally.seams.saturating_add(u64::from(self.make.times));
        }
        self.stack_mut(slot)?.stitches.append(&mut stitches);
        Ok(())
    }

    fn sew_beside(&mut self, slot: Slot, by: Size, from: &Stop, to: &Stop) -> Outcome<Stitch> {
        if *from != Stop::Raw || *to != Stop::Raw {
            return Err(not_yet("a seam that stops before the raw edge", &self.here()));
        }
        let inches = self.positive(by)?;
        if by.len != self.recipe.seam.len {
            let sentence = format!(
                "The seam is sewn {} from the raw edge, but seams are {}.",
                self.say(inches),
                self.say(self.seam)
            );
            return Err(self.refuse("seam-not-allowance", sentence, "Sew with the pattern's seam."));
        }
        self.held();
        let Some(laid) = self.stack(slot)?.laid.clone() else {
            return Err(self.bad("No edges were laid together to sew beside.", "Lay edge on edge first."));
        };
        let outermost = |layer: &LaidLayer| {
            let low = layer.crossed.iter().map(|s| s.from).fold(f64::INFINITY, f64::min);
            let high = layer.crossed.iter().map(|s| s.to).fold(f64::NEG_INFINITY, f64::max);
            (low, high)
        };
        let [a, b] = &laid.layers;
        let (out_a, out_b) = (outermost(a), outermost(b));
        let start = a.ends[0].unwrap_or(out_a.0).max(b.ends[0].unwrap_or(out_b.0));
        let end = a.ends[1].unwrap_or(out_a.1).min(b.ends[1].unwrap_or(out_b.1));
        if !start.is_finite() || !end.is_finite() || end - start <= TOLERANCE {
            let sentence = "The stitch line goes through no cloth.";
            return Err(self.refuse("path-not-covered", sentence, "Check which edges are laid together."));
        }
        let wider = self.stray(|h| h.seam()).unwrap_or(0.0);
        let mut loses = [Vec::new(), Vec::new()];
        for (i, layer) in laid.layers.iter().enumerate() {
            self.covered(&layer.crossed, start, end, LAYER[i])?;
            loses[i] = self.loses(layer, start, end, LAYER[i])?;
        }
        Ok(Stitch {
            line: laid.line.moved_left(self.seam + wider),
            from: start,
            to: end,
            body_known: true,
            loses: Some(loses),
            join: false,
        })
    }

    /// Checks that a layer has cloth all along a stretch of the path.
    fn covered(&mut self, stretches: &[Stretch], start: f64, end: f64, which: &str) -> Outcome<()> {
        let mut reached = start;
        for s in stretches {
            if s.from > reached + TOLERANCE && self.misses(Miss::Other, s.from - reached, 0.0) {
                break;
            }
            reached = reached.max(s.to);
        }
        if reached < end - TOLERANCE && self.misses(Miss::Other, end - reached, 0.0) {
            let sentence = format!(
                "In the {which} layer the cloth under the stitch line ends {} too early.",
                self.say(end - reached)
            );
            return Err(self.refuse(
                "path-not-covered",
                sentence,
                "Check the sizes of the pieces along the seam.",
            ));
        }
        self.held();
        Ok(())
    }

    /// The pieces that will lose their allowance: the run's, and others only at the path's ends.
    fn loses(&mut self, layer: &LaidLayer, start: f64, end: f64, which: &str) -> Outcome<Vec<PieceAt>> {
        let tip = LONGEST_TIP * self.seam;
        // Where no edge or dot says where the corner is, it lies a seam inside the cloth, or where the run's own pieces
        // begin: dog ears may reach further out than they do.
        let own = || layer.crossed.iter().filter(|s| s.in_run);
        let low = own().map(|s| s.from).fold(f64::INFINITY, f64::min);
        let high = own().map(|s| s.to).fold(f64::NEG_INFINITY, f64::max);
        let first = layer.corners[0].unwrap_or((start + self.seam).max(low));
        let last = layer.corners[1].unwrap_or((end - self.seam).min(high));
        let near = |s: &Stretch| s.from <= end + tip && s.to >= start - tip;
        let mut found = Vec::new();
        for s in &layer.crossed {
            let inside = s.to.min(last) - s.from.max(first);
            let caught = if inside > TOLERANCE {
                s.beyond > TOLERANCE
            } else {
                near(s) && s.beyond > tip
            };
            if !s.in_run && caught && self.misses(Miss::Other, inside.max(0.0), -1.0) {
                let sentence = format!(
                    "The stitches catch cloth of the {which} layer that is not along the edge, {} beyond the seam.",
                    self.say(s.beyond)
                );
                return Err(self.refuse(
                    "stitch-catches",
                    sentence,
                    "Fold that cloth away, or sew another seam first.",
                ));
            }
            if s.in_run || near(s) {
                found.push(s.at);
            }
        }
        found.extend(layer.outside.iter().filter(|s| s.in_run || near(s)).map(|s| s.at));
        self.held();
        Ok(found)
    }

    fn sew_marks(&mut self, slot: Slot, mark: &MarkName, beside: &[f64]) -> Outcome<Vec<Stitch>> {
        let stack = self.stack(slot)?;
        let (view, roots) = (stack.view(), [stack.lower, stack.upper]);
        let drawn = self.mark_line(mark, &view)?;
        let mut stitches = Vec::new();
        for &by in beside {
            let wider = if by == 0.0 {
                self.stray(|h| h.stray(h.maker.seam))
            } else {
                self.stray(|h| h.seam() * by.signum())
            };
            let line = drawn.moved_left(wider.map_or(by, |w| by + w));
            let mut ends = [(0.0, 0.0); 2];
            for (i, &root) in roots.iter().enumerate() {
                let mut stretches = self.stretches(root, &view, line)?;
                stretches.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
                let low = stretches.first().map_or(0.0, |s| s.from);
                let high = stretches.iter().map(|s| s.to).fold(low, f64::max);
                if high - low <= TOLERANCE {
                    let sentence = format!("The stitch line misses the {} layer.", LAYER[i]);
                    return Err(self.refuse("path-not-covered", sentence, "Check where the line is drawn."));
                }
                self.covered(&stretches, low, high, LAYER[i])?;
                ends[i] = (low, high);
            }
            let [a, b] = ends;
            let (short, long) = if a.1 - a.0 <= b.1 - b.0 { (a, b) } else { (b, a) };
            let past = (long.0 - short.0).max(short.1 - long.1);
            if past > TOLERANCE && self.misses(Miss::Other, past, 0.0) {
                let sentence = format!(
                    "Along the drawn line one layer ends {} before the other.",
                    self.say(past)
                );
                return Err(self.refuse(
                    "path-not-covered",
                    sentence,
                    "Lay the layers so that both lie under the line.",
                ));
            }
            self.held();
            stitches.push(Stitch {
                line,
                from: short.0,
                to: short.1,
                body_known: false,
                loses: None,
                join: false,
            });
        }
        Ok(stitches)
    }

    /// The stretches of a line that the pieces of one layer cover.
    pub(crate) fn stretches(&mut self, root: usize, view: &View, line: Line) -> Outcome<Vec<Stretch>> {
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        let mut found = Vec::new();
        for at in pieces {
            let Some(corners) = self.corners_in(at, view) else {
                continue;
            };
            if let Some((from, to)) = stretch(&corners, line)
                && to - from > TOLERANCE
            {
                found.push(Stretch {
                    at,
                    from,
                    to,
                    beyond: 0.0,
                    in_run: true,
                });
            }
        }
        Ok(found)
    }
}
