//! Sewing: the stitch path through both layers of a stack, and what it must and must not go through.

use crate::maker::Miss;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Beyond, EndOf, LaidLayer, Leg, PieceAt, Stitch, Stretch, View};
use recipe::{MarkName, Path, Size, Slot, Stop};
use shape::{Line, Point};

/// A piece outside the run may reach this many seams beyond the stitches at their ends: dog ears do, other cloth must
/// not be caught.
pub(crate) const LONGEST_TIP: f64 = 4.0;

/// The dots a seam's ends stop in, and the end left to be closed later.
type AsLaid = ([Option<(MarkName, MarkName)>; 2], Option<usize>);

pub(crate) const LAYER: [&str; 2] = ["lower", "upper"];

impl Table<'_> {
    /// Does a sew step.
    pub(crate) fn sew(&mut self, slot: Slot, path: &Path, join: bool) -> Outcome<()> {
        let stack = self.stack(slot)?;
        if stack.stitches.len() >= 64 {
            return Err(self.bad("This stack is sewn over and over.", "Sew each seam once."));
        }
        if stack.paper.is_some() && !matches!(path, Path::OnPaper { .. }) {
            let sentence = "What lies over a printed line is sewn elsewhere.";
            return Err(self.bad(sentence, "Sew on the printed line."));
        }
        let open = |laid: &crate::work::Laid| laid.ends.contains(&EndOf::Open);
        if !matches!(path, Path::Beside { .. }) && stack.laid.as_ref().is_some_and(open) {
            let sentence = "The edges were laid together for a seam to be closed later, but another is sewn.";
            return Err(self.bad(sentence, "Sew beside the laid edges, and stop before the open end."));
        }
        let on_marks = matches!(path, Path::OnMark(_) | Path::BothSides { .. });
        if stack.dots.is_some() && !on_marks {
            let sentence = "The layers were laid dot on dot, but what is sewn is no drawn line.";
            return Err(self.bad(sentence, "Sew on a drawn line, or beside one."));
        }
        if stack.pinned.is_some() {
            return self.sew_curve(slot, path, join);
        }
        let mut stitches = match path {
            Path::Beside { by, from, to } => vec![self.sew_beside(slot, *by, from, to)?],
            Path::OnMark(mark) => self.sew_marks(slot, mark, &[0.0])?,
            Path::BothSides { mark, by } => {
                let by = self.positive(*by)?;
                self.sew_marks(slot, mark, &[by, -by])?
            }
            Path::Round { edges, by } => self.sew_round(slot, edges, *by)?,
            Path::OnPaper { beyond } => vec![self.sew_on_paper(slot, *beyond)?],
        };
        for stitch in &mut stitches {
            stitch.join = join;
            self.tally.seams = self.tally.seams.saturating_add(u64::from(self.make.times));
        }
        self.stack_mut(slot)?.stitches.append(&mut stitches);
        Ok(())
    }

    /// Checks that a seam is sewn as wide as the recipe says seams are.
    pub(crate) fn by_the_seam(&mut self, by: Size) -> Outcome<()> {
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
        Ok(())
    }

    fn sew_beside(&mut self, slot: Slot, by: Size, from: &Stop, to: &Stop) -> Outcome<Stitch> {
        self.by_the_seam(by)?;
        let Some(laid) = self.stack(slot)?.laid.clone() else {
            return Err(self.bad("No edges were laid together to sew beside.", "Lay edge on edge first."));
        };
        let stops = [from, to];
        let (dots, begun) = self.stops_as_laid(stops, &laid.ends, laid.number)?;
        let (mut start, mut end) = self.path_ends(&laid.layers)?;
        let [mut a, mut b] = laid.layers;
        if let Some(begun) = begun {
            let stop = self.stop_at(stops[begun], begun, (start, end), &laid.reach)?;
            *(if begun == 0 { &mut start } else { &mut end }) = stop;
            (a.corners[begun], b.corners[begun]) = (Some(stop), Some(stop));
        }
        let quiet = [0, 1].map(|i| match (&dots[i], begun == Some(i)) {
            (Some(_), _) => Beyond::Dot,
            (None, true) => Beyond::Begun,
            (None, false) => Beyond::Sewn,
        });
        let loses = self.sewn_through([&a, &b], (start, end), quiet)?;
        let (lay, line) = (self.stack(slot)?.lay, laid.line);
        let wider = self.stray(|h| h.seam()).unwrap_or(0.0);
        Ok(Stitch {
            line: line.moved_left(self.seam + wider),
            from: start,
            to: end,
            body_known: true,
            loses: Some(loses),
            join: false,
            leg: Some(Leg {
                number: laid.number,
                lay,
                runs: [line, lay.inverse().line(line.reversed())],
                dots,
                begun,
            }),
            sheared: None,
        })
    }

    /// Holds the stops of a seam against how its edges were laid: the dots they stop in, and the end left open.
    fn stops_as_laid(&mut self, stops: [&Stop; 2], ends: &[EndOf; 2], turns: usize) -> Outcome<AsLaid> {
        let mut dots = [None, None];
        let mut begun = None;
        for (i, (stop, end)) in stops.into_iter().zip(ends).enumerate() {
            match (stop, end) {
                (Stop::Raw, EndOf::Through | EndOf::Dots(..)) => {}
                (Stop::Dot, EndOf::Dots(a, b)) => dots[i] = Some((a.clone(), b.clone())),
                (Stop::At(_), EndOf::Open) if turns == 0 => begun = Some(i),
                (Stop::At(_), EndOf::Open) => {
                    return Err(self.bad("A seam that turns is also to be closed later.", "Sew it in one go."));
                }
                (Stop::Dot, _) => {
                    let sentence = "The stitches stop in a dot, but no dots lie on one another at that end.";
                    return Err(self.refuse("stop-not-as-laid", sentence, "Lay that end dot on dot."));
                }
                (Stop::At(_), _) | (_, EndOf::Open) => {
                    let sentence = "A seam stops before its end only where the edges were laid with that end open.";
                    return Err(self.refuse("stop-not-as-laid", sentence, "Lay and sew that end alike."));
                }
            }
        }
        Ok((dots, begun))
    }

    /// Where a seam that is begun stops.
    fn stop_at(&mut self, stop: &Stop, end: usize, path: (f64, f64), reach: &[(f64, f64); 2]) -> Outcome<f64> {
        let Stop::At(by) = stop else {
            return Err(self.bad("A seam stops nowhere.", "Say where it stops."));
        };
        let by = self.positive(*by)?;
        let mend = "Stop some way before the end, with enough sewn to hold.";
        if by < 2.0 * self.seam - TOLERANCE {
            let sentence = format!("The seam is to be begun over only {}.", self.say(by));
            return Err(self.refuse("stop-out-of-place", sentence, mend));
        }
        let (at, left) = if end == 1 {
            let at = path.0 + by;
            (at, reach.iter().map(|r| r.1 - at).fold(f64::INFINITY, f64::min))
        } else {
            let at = path.1 - by;
            (at, reach.iter().map(|r| at - r.0).fold(f64::INFINITY, f64::min))
        };
        if left <= TOLERANCE || !left.is_finite() {
            let sentence = format!("A seam of {} does not stop before the end of its edges.", self.say(by));
            return Err(self.refuse("stop-out-of-place", sentence, mend));
        }
        self.held();
        Ok(at)
    }

    /// The ends of the path: of the two layers' ends the inner ones.
    pub(crate) fn path_ends(&mut self, layers: &[LaidLayer; 2]) -> Outcome<(f64, f64)> {
        // Where neither an edge nor a dot says so, as far as the cloth goes.
        let cloth = |layer: &LaidLayer| layer.cloth().unwrap_or((f64::INFINITY, f64::NEG_INFINITY));
        let [a, b] = layers;
        let (out_a, out_b) = (cloth(a), cloth(b));
        let start = a.ends[0].unwrap_or(out_a.0).max(b.ends[0].unwrap_or(out_b.0));
        let end = a.ends[1].unwrap_or(out_a.1).min(b.ends[1].unwrap_or(out_b.1));
        if !start.is_finite() || !end.is_finite() || end - start <= TOLERANCE {
            let sentence = "The stitch line goes through no cloth.";
            return Err(self.refuse("path-not-covered", sentence, "Check which edges are laid together."));
        }
        Ok((start, end))
    }

    /// Checks what a path goes through in both layers, and says which pieces lose cloth. At a quiet end nothing is looked
    /// at beyond it but the run's own pieces.
    pub(crate) fn sewn_through(
        &mut self,
        layers: [&LaidLayer; 2],
        (start, end): (f64, f64),
        quiet: [Beyond; 2],
    ) -> Outcome<[Vec<PieceAt>; 2]> {
        if beyond(end - start, f64::MAX) || end - start <= TOLERANCE {
            let sentence = "The stitch line goes through no cloth.";
            return Err(self.refuse("path-not-covered", sentence, "Check which edges are laid together."));
        }
        let mut loses = [Vec::new(), Vec::new()];
        for (i, layer) in layers.into_iter().enumerate() {
            self.covered(&layer.crossed, start, end, LAYER[i])?;
            loses[i] = self.loses(layer, (start, end), quiet, LAYER[i])?;
        }
        Ok(loses)
    }

    /// Checks that a layer has cloth all along a stretch of the path.
    pub(crate) fn covered(&mut self, stretches: &[Stretch], start: f64, end: f64, which: &str) -> Outcome<()> {
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
    fn loses(
        &mut self,
        layer: &LaidLayer,
        (start, end): (f64, f64),
        quiet: [Beyond; 2],
        which: &str,
    ) -> Outcome<Vec<PieceAt>> {
        let tip = LONGEST_TIP * self.seam;
        // Where no edge or dot says where the corner is, it lies a seam inside the cloth, or where the run's own pieces
        // begin: dog ears may reach further out than they do.
        let (first, last) = layer.finished(layer.corners, (start, end), self.seam);
        // Beyond a dot the cloth hangs free; so does a tip of it that comes round the corner to this side.
        let tip_of = |end: Beyond, s: &Stretch, out: bool, past: f64| match end {
            Beyond::Sewn => false,
            Beyond::Begun => past <= TOLERANCE,
            Beyond::Dot => past <= TOLERANCE || !s.in_run && out && past <= tip,
        };
        let passed_over = |s: &Stretch| {
            tip_of(quiet[0], s, s.from <= first + TOLERANCE, s.to - first)
                || tip_of(quiet[1], s, s.to >= last - TOLERANCE, last - s.from)
        };
        let near = |s: &Stretch| s.from <= end + tip && s.to >= start - tip && !passed_over(s);
        let mut found = Vec::new();
        for s in &layer.crossed {
            let inside = s.to.min(last) - s.from.max(first);
            let caught = if passed_over(s) {
                false
            } else if inside > TOLERANCE {
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
        // Cloth of the other side of a corner reaches past the dot into the allowance, but lies wholly beyond the path.
        let round_the_corner = |s: &Stretch| {
            let free = |end: Beyond| end != Beyond::Sewn;
            free(quiet[0]) && s.from < first - TOLERANCE || free(quiet[1]) && s.to > last + TOLERANCE
        };
        let outside = (layer.outside.iter()).filter(|s| s.in_run || near(s) && !round_the_corner(s));
        found.extend(outside.map(|s| s.at));
        // A piece half folded loses cloth on both its halves.
        let others: Vec<PieceAt> = found.iter().filter_map(|at| self.halves.get(at).copied()).collect();
        found.extend(others);
        found.sort_unstable();
        found.dedup();
        self.held();
        Ok(found)
    }

    fn sew_marks(&mut self, slot: Slot, mark: &MarkName, beside: &[f64]) -> Outcome<Vec<Stitch>> {
        let stack = self.stack(slot)?;
        let (view, roots, dots) = (stack.view(), [stack.lower, stack.upper], stack.dots);
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
            if let Some(dots) = dots {
                let (from, to) = self.between_dots(line, dots, ends)?;
                stitches.push(Stitch::on_mark(line, from, to));
                continue;
            }
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
            stitches.push(Stitch::on_mark(line, short.0, short.1));
        }
        Ok(stitches)
    }

    /// The path on a mark where the layers were laid dot on dot, checked from dot to dot: what lies beyond the dots is
    /// allowance, where either layer may end first.
    fn between_dots(&mut self, line: Line, dots: [Point; 2], ends: [(f64, f64); 2]) -> Outcome<(f64, f64)> {
        let feet = dots.map(|dot| line.reach_of(dot));
        let (low, high) = (feet[0].min(feet[1]), feet[0].max(feet[1]));
        for (layer, (from, to)) in LAYER.into_iter().zip(ends) {
            let short = (from - low).max(high - to);
            if short > TOLERANCE && self.misses(Miss::Other, short, 0.0) {
                let sentence = format!(
                    "In the {layer} layer the cloth under the stitch line ends {} before the dots.",
                    self.say(short)
                );
                return Err(self.refuse("path-not-covered", sentence, "Check where the dots are."));
            }
            self.held();
        }
        Ok((ends[0].0.max(ends[1].0), ends[0].1.min(ends[1].1)))
    }

    /// The stretches of a line that a piece covers.
    pub(crate) fn stretches_of(&mut self, at: PieceAt, view: &View, line: Line) -> Vec<Stretch> {
        let found = self.stretches_in(at, view, line).into_iter();
        let long = found.filter(|(from, to)| to - from > TOLERANCE);
        long.map(|(from, to)| Stretch {
            at,
            from,
            to,
            beyond: 0.0,
            in_run: true,
        })
        .collect()
    }

    /// The stretches of a line that the pieces of one layer cover.
    pub(crate) fn stretches(&mut self, root: usize, view: &View, line: Line) -> Outcome<Vec<Stretch>> {
        let pieces = self.pieces_of(root);
        self.spend(pieces.len())?;
        let mut found = Vec::new();
        for at in pieces {
            found.extend(self.stretches_of(at, view, line));
        }
        Ok(found)
    }
}
