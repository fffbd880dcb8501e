//! The sides of what is given or finished: once round the work, each beginning where the one before ends.

use crate::maker::Miss;
use crate::piece::Name;
use crate::resolve::Run;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::View;
use recipe::EdgeRun;
use shape::{Line, Point, Polygon};

/// Whether two sides of which one is folded over cards meet where those cards' corners do: beside it the other's fold runs
/// on through its allowance.
fn meet_folded(before: &Run, after: &Run) -> bool {
    let (Some(last), Some(first)) = (before.edges.last(), after.edges.first()) else {
        return false;
    };
    let finished = last.finished[1].zip(first.finished[0]);
    (last.over || first.over) && finished.is_some_and(|(a, b)| !beyond(a.distance(b), TOLERANCE))
}

impl Table<'_> {
    /// Sides that go once round, each flush.
    pub(crate) fn sides(&mut self, sides: &[EdgeRun], view: &View) -> Outcome<Vec<Run>> {
        let mut runs = Vec::new();
        for (i, side) in sides.iter().enumerate() {
            let run = self.run_of_any(side, view)?;
            if run.edges.iter().any(|e| e.over) && run.edges.iter().any(|e| !e.over) {
                let sentence = format!("Side {} is folded in part and raw in part.", i + 1);
                return Err(self.refuse(
                    "edge-folded",
                    sentence,
                    "Name folded edges and raw ones as sides of their own.",
                ));
            }
            if run.is_curve() {
                self.curve_of(&run, self.seam, &format!("side {}", i + 1))?;
            } else {
                self.flush(&run, &format!("side {}", i + 1))?;
            }
            runs.push(run);
        }
        let ends: Vec<(Point, Point)> = runs
            .iter()
            .filter_map(|r| Some((r.edges.first()?.from, r.edges.last()?.to)))
            .collect();
        for (i, &(_, end)) in ends.iter().enumerate() {
            let next = (i + 1) % ends.len();
            let apart = end.distance(ends[next].0);
            if beyond(apart, TOLERANCE)
                && !meet_folded(&runs[i], &runs[next])
                && !self.hangs_free(&runs[i], &runs[next], view)?
                && !self.blunt(&runs[i], &runs[next], view)
                && !self.goes_on(sides, &runs, i, next, view)?
                && self.misses(Miss::Other, apart, TOLERANCE)
            {
                let sentence = format!(
                    "Side {} ends {} from where the next one begins.",
                    i + 1,
                    self.say(apart)
                );
                return Err(self.refuse(
                    "sides-do-not-close",
                    sentence,
                    "Name all sides in order round the unit.",
                ));
            }
        }
        let mut corners: Vec<Point> = Vec::new();
        for (run, (begins, _)) in runs.iter().zip(&ends) {
            corners.push(*begins);
            // Two sides may go round if they are bowed.
            corners.extend(run.edges.iter().filter(|e| e.bowed).map(|e| e.to));
        }
        let round = Polygon::new(corners);
        if round.len() < 3 || round.signed_area() <= 0.0 {
            let sentence = "The sides do not go once round with the cloth on the left.";
            return Err(self.refuse(
                "sides-do-not-close",
                sentence,
                "Name all sides in order round the unit.",
            ));
        }
        self.held();
        self.write_sizes(&runs);
        Ok(runs)
    }

    /// Whether two sides meet in a hollow corner where a seam stopped in a dot: nothing is folded there beyond the dot, so
    /// that both raw edges run on past each other and their ends say nothing.
    fn hangs_free(&mut self, before: &Run, after: &Run, view: &View) -> Outcome<bool> {
        if before.is_curve() || after.is_curve() {
            return Ok(false);
        }
        let (a, b) = (before.line, after.line);
        if a.along.cross(b.along) >= -TOLERANCE {
            return Ok(false);
        }
        let Some(corner) = a.moved_left(self.seam).crossing(b.moved_left(self.seam)) else {
            return Ok(false);
        };
        let stops = self.stops_of(view.lower)?;
        Ok(stops.iter().any(|stop| !beyond(stop.distance(corner), TOLERANCE)))
    }

    /// Whether one raw edge of one piece leads from the end of a side to the beginning of the next: a point cut blunt.
    fn blunt(&mut self, before: &Run, after: &Run, view: &View) -> bool {
        let (Some(ends), Some(begins)) = (before.edges.last(), after.edges.first()) else {
            return false;
        };
        let Some((cloth, motion, _)) = self.piece_in(ends.at, view) else {
            return false;
        };
        let near = |k: usize, p: Point| motion.point(cloth.corners[k]).distance(p) <= TOLERANCE;
        (ends.bowed || begins.bowed)
            && ends.at == begins.at
            && ends.to.distance(begins.from) <= crate::sew::LONGEST_TIP * self.seam
            && (0..cloth.corners.len()).any(|k| {
                let raw = !matches!(cloth.edges[k].name, Name::Fold | Name::Hinge);
                raw && near(k, ends.to) && near(cloth.index_of_next(k), begins.from)
            })
    }

    /// Whether, where two sides' ends lie apart, cloth of a neighbour goes on along their lines to the corner: so it is
    /// where a dog ear was snipped level with an edge.
    fn goes_on(&mut self, sides: &[EdgeRun], runs: &[Run], i: usize, next: usize, view: &View) -> Outcome<bool> {
        // A curve goes on along its last straight, or comes along its first.
        let (ends, begins) = (runs[i].edges.last(), runs[next].edges.first());
        let (Some(ends), Some(begins)) = (ends, begins) else {
            return Ok(false);
        };
        let beside = |run: &Run, e: &crate::resolve::RawEdge| {
            Line::between(e.from, e.to)
                .filter(|_| run.is_curve())
                .unwrap_or(run.line)
        };
        let (before, after) = (beside(&runs[i], ends), beside(&runs[next], begins));
        let (high, low) = if runs[i].is_curve() || runs[next].is_curve() {
            (before.reach_of(ends.to), after.reach_of(begins.from))
        } else {
            (runs[i].high, runs[next].low)
        };
        let Some(corner) = before.crossing(after) else {
            return Ok(false);
        };
        let named = [sides[i].0.last(), sides[next].0.first()];
        let mut near = Vec::new();
        for edge in named.into_iter().flatten() {
            near.extend(self.near_edge(*edge));
        }
        let gaps = [
            (before, high, before.reach_of(corner)),
            (after, after.reach_of(corner), low),
        ];
        for (line, from, to) in gaps {
            let mut reached = from;
            // Each pass joins the cloth that begins where the last ended; a corner is made of very few pieces.
            for _ in 0..4 {
                for &at in &near {
                    let Some((cloth, motion, _)) = self.piece_in(at, view) else {
                        continue;
                    };
                    let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
                    for (k, &a) in corners.iter().enumerate() {
                        // An edge with a name must be named: only what a snip left may go without.
                        if cloth.edges[k].name != Name::Loose {
                            continue;
                        }
                        let b = corners[(k + 1) % corners.len()];
                        let level =
                            !beyond(line.offset_of(a).abs(), TOLERANCE) && !beyond(line.offset_of(b).abs(), TOLERANCE);
                        let (low, high) = (line.reach_of(a), line.reach_of(b));
                        if level && low <= reached + TOLERANCE && high > reached {
                            reached = high;
                        }
                    }
                }
            }
            if to - reached > TOLERANCE {
                return Ok(false);
            }
        }
        Ok(true)
    }
}
