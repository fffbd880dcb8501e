//! A seam all round: beside every edge of the lower layer in turn, each path turning at the corner into the next.

use crate::piece::Name;
use crate::resolve::Run;
use crate::sew::LAYER;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Stack, Stitch, View};
use recipe::{EdgeRef, EdgeRun, Size, Slot};

impl Table<'_> {
    /// The paths of a seam all round.
    pub(crate) fn sew_round(&mut self, slot: Slot, edges: &[EdgeRef], by: Size) -> Outcome<Vec<Stitch>> {
        self.by_the_seam(by)?;
        let stack = self.stack(slot)?.clone();
        let sides: Vec<EdgeRun> = edges.iter().map(|&e| EdgeRun(vec![e])).collect();
        let runs = self.sides(&sides, &View::of(stack.lower))?;
        for run in &runs {
            self.straight(run, "an edge sewn all round")?;
        }
        let n = runs.len();
        let mut stitches = Vec::new();
        for (i, run) in runs.iter().enumerate() {
            let (before, after) = (runs[(i + n - 1) % n].line, runs[(i + 1) % n].line);
            let corners = [self.cross(run.line, before)?, self.cross(run.line, after)?];
            let [low, high] = corners.map(|c| run.line.reach_of(c));
            self.level(&stack, run, low, high)?;
            let line = run.line.moved_left(self.seam);
            let ends = [
                self.cross(line, before.moved_left(self.seam))?,
                self.cross(line, after.moved_left(self.seam))?,
            ];
            let [from, to] = ends.map(|c| line.reach_of(c));
            if to - from <= TOLERANCE {
                let sentence = format!("Along edge {} there is no room for a seam all round.", i + 1);
                return Err(self.refuse(
                    "path-not-covered",
                    sentence,
                    "Check the sizes of what is laid together.",
                ));
            }
            for (layer, root) in [stack.lower, stack.upper].into_iter().enumerate() {
                let mut stretches = self.stretches(root, &stack.view(), line)?;
                stretches.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
                self.covered(&stretches, from, to, LAYER[layer])?;
            }
            stitches.push(Stitch {
                line,
                from,
                to,
                body_known: true,
                loses: None,
                join: false,
                leg: None,
                sheared: None,
            });
        }
        Ok(stitches)
    }

    /// Checks that raw edges of the upper layer lie along an edge of the lower from corner to corner.
    fn level(&mut self, stack: &Stack, run: &Run, low: f64, high: f64) -> Outcome<()> {
        let view = stack.view();
        let pieces = self.pieces_of(stack.upper);
        self.spend(pieces.len())?;
        let mut along = Vec::new();
        for at in pieces {
            let Some((cloth, motion, _)) = self.piece_in(at, &view) else {
                continue;
            };
            for (i, e) in cloth.edges.iter().enumerate() {
                let ends = [cloth.corners[i], cloth.corners[cloth.index_of_next(i)]].map(|c| motion.point(c));
                let raw = !matches!(e.name, Name::Fold | Name::Hinge);
                if raw && ends.iter().all(|&c| !beyond(run.line.offset_of(c), TOLERANCE)) {
                    let [a, b] = ends.map(|c| run.line.reach_of(c));
                    along.push((a.min(b), a.max(b)));
                }
            }
        }
        along.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let mut reached = low;
        for (from, to) in along {
            if from > reached + TOLERANCE {
                break;
            }
            reached = reached.max(to);
        }
        if high - reached > TOLERANCE {
            let sentence = format!(
                "Along an edge sewn all round, the upper layer's edge is not level with the lower's over {}.",
                self.say(high - reached)
            );
            let mend = "Lay two layers of one size on each other.";
            return Err(self.refuse("ends-not-even", sentence, mend));
        }
        self.held();
        Ok(())
    }
}
