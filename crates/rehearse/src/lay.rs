//! Laying one thing on another, right sides together: placing by a datum, checking the other end and the joints.

use crate::hollow::stretches;
use crate::maker::Miss;
use crate::piece::extent;
use crate::resolve::Run;
use crate::table::Table;
use crate::words::Outcome;
use crate::words::TOLERANCE;
use crate::work::{Birth, EndOf, Laid, LaidLayer, PieceAt, Stack, Stretch, Thing, View};
use recipe::{CornerRef, EdgeRun, End, Lay, MarkName, Meet, Slot};
use shape::{Line, Motion, Point};
use std::collections::BTreeSet;

/// One of the two things laid, in its own frame, right side up.
pub(crate) struct Side {
    pub(crate) view: View,
    pub(crate) run: Run,
    pub(crate) layer: LaidLayer,
}

/// What an end says of where the stitches may stop.
fn end_of(end: &End) -> EndOf {
    match end {
        End::Dots { a, b } => EndOf::Dots(a.clone(), b.clone()),
        End::Open => EndOf::Open,
        _ => EndOf::Through,
    }
}

impl Table<'_> {
    /// Does a lay step.
    pub(crate) fn lay(&mut self, a: Slot, b: Slot, how: &Lay, into: Slot) -> Outcome<()> {
        if let Lay::OverPaper { line, along } = how {
            return self.lay_over_paper(a, b, *line, along, into);
        }
        let upper = self.work(b)?;
        let below = match self.slots.get(&a) {
            Some((_, Thing::Stack(stack))) => Some(Stack::clone(stack)),
            _ => None,
        };
        if let Some(below) = &below {
            self.may_lie_on(below, how)?;
        }
        let lower = match &below {
            Some(below) => below.lower,
            None => self.work(a)?,
        };
        self.no_card_in(lower)?;
        self.no_card_in(upper)?;
        if lower == upper {
            return Err(self.bad("A thing cannot be laid on itself.", "Lay two things together."));
        }
        let mut dots = None;
        if let Lay::Curve {
            a: run_a,
            b: run_b,
            pins,
        } = how
        {
            return self.lay_curve((a, lower, run_a), (b, upper, run_b), pins, into);
        }
        let (lay, laid) = match how {
            Lay::Edges {
                a,
                b,
                first,
                last,
                meets,
            } => {
                let (lay, laid) = self.lay_edges((lower, a), (upper, b), first, last, meets)?;
                self.gone.extend(a.0.iter().chain(&b.0));
                (lay, Some(laid))
            }
            Lay::Corner { a, b } => (self.lay_corner(lower, upper, *a, *b)?, None),
            Lay::TwoDots { a, b } => {
                let (lay, on) = self.lay_dots(lower, upper, a, b)?;
                dots = Some(on);
                (lay, None)
            }
            Lay::Curve { .. } | Lay::OverPaper { .. } => return Ok(()),
        };
        let stack = match below {
            // From now on both are the upper layer, in the frame of what lay there first.
            Some(below) => {
                self.link(upper, below.upper, lay.then(&below.lay.inverse()));
                Stack { laid: None, ..below }
            }
            None => Stack {
                lower,
                upper,
                lay,
                laid,
                dots,
                pinned: None,
                stitches: Vec::new(),
                paper: None,
            },
        };
        self.use_up(a);
        self.use_up(b);
        self.put(into, Birth::Other, Thing::Stack(Box::new(stack)))
    }

    /// Checks that something can be laid on a stack.
    fn may_lie_on(&mut self, below: &Stack, how: &Lay) -> Outcome<()> {
        if below.paper.is_some() {
            let sentence = "Something is laid on a piece that lies over a printed line.";
            return Err(self.bad(sentence, "Sew and open that first."));
        }
        if !below.stitches.is_empty() {
            let sentence = "Something is laid on a stack that is sewn already.";
            return Err(self.bad(sentence, "Lay everything together first, then sew."));
        }
        if below.dots.is_some() || matches!(how, Lay::TwoDots { .. }) {
            let sentence = "More than two things are laid together by dots.";
            return Err(self.bad(sentence, "Lay two at a time."));
        }
        let open_below = below.laid.as_ref().is_some_and(|laid| laid.ends.contains(&EndOf::Open));
        if below.pinned.is_some() || matches!(how, Lay::Curve { .. }) {
            let sentence = "A curve is pinned with more than two things laid together.";
            return Err(self.bad(sentence, "Sew two at a time."));
        }
        let open_here = matches!(how, Lay::Edges { first, last, .. } if *first == End::Open || *last == End::Open);
        if open_below || open_here {
            let sentence = "A seam to be closed later is begun with more than two things laid together.";
            return Err(self.bad(sentence, "Sew two at a time."));
        }
        Ok(())
    }

    pub(crate) fn lay_edges(
        &mut self,
        (lower, run_a): (usize, &EdgeRun),
        (upper, run_b): (usize, &EdgeRun),
        first: &End,
        last: &End,
        meets: &[Meet],
    ) -> Outcome<(Motion, Laid)> {
        let mut a = self.side(lower, run_a, "the lower layer")?;
        let mut b = self.side(upper, run_b, "the upper layer")?;

        for (side, is_a) in [(&mut a, true), (&mut b, false)] {
            side.layer.ends = [
                self.path_end(first, side, is_a, true, 0.0)?,
                self.path_end(last, side, is_a, false, 0.0)?,
            ];
            let seam = self.seam;
            side.layer.corners = [
                self.path_end(first, side, is_a, true, seam)?,
                self.path_end(last, side, is_a, false, seam)?,
            ];
        }

        // Where the upper layer comes to lie: its reach `r` falls on `onto - (r - from)` of the lower run's line. An open
        // end says nothing, so the other one places.
        let (placing, at_first) = match (first, last) {
            (End::Open, End::Open) => {
                return Err(self.bad("Nothing says how the two edges lie.", "Leave only one end open."));
            }
            (End::Open, _) => (last, false),
            _ => (first, true),
        };
        let (place_a, place_b) = (
            self.datum(placing, &a, true, at_first)?,
            self.datum(placing, &b, false, at_first)?,
        );
        let (mut onto, from) = (self.upper_at(placing, place_a, at_first)?, place_b);
        if let Some(by) = self.stray(|h| h.stray(h.maker.end)) {
            onto += by;
        }
        let fall = |reach: f64| onto - (reach - from);
        self.check_end(placing, &a, &b, at_first, &fall)?;
        if at_first && *last != End::Open {
            self.comes_out(last, &a, &b, false, &fall)?;
        }
        let meets = self.meet(meets, &a, &b, &fall)?;
        for end in b.layer.ends.iter_mut().chain(&mut b.layer.corners).flatten() {
            *end = fall(*end);
        }
        for s in b.layer.crossed.iter_mut().chain(&mut b.layer.outside) {
            (s.from, s.to) = (fall(s.to), fall(s.from));
        }
        b.layer
            .crossed
            .sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        let motion = Motion::line_to_line(
            Line {
                through: b.run.line.at(from),
                along: b.run.line.along,
            },
            Line {
                through: a.run.line.at(onto),
                along: -a.run.line.along,
            },
            true,
        );
        let laid = Laid {
            line: a.run.line,
            layers: [a.layer, b.layer],
            ends: [end_of(first), end_of(last)],
            reach: [(a.run.low, a.run.high), (fall(b.run.high), fall(b.run.low))],
            number: 0,
            meets,
        };
        Ok((motion, laid))
    }

    /// Resolves one run and looks at what the stitch line will cross.
    fn side(&mut self, root: usize, run: &EdgeRun, which: &str) -> Outcome<Side> {
        let view = View::of(root);
        let resolved = self.run(run, &view)?;
        self.flush(&resolved, which)?;
        let layer = self.layer(run, &resolved, &view, None)?;
        Ok(Side {
            view,
            run: resolved,
            layer,
        })
    }

    /// The pieces of a run, with the other halves of those half folded.
    pub(crate) fn pieces_of_run(&self, run: &Run) -> BTreeSet<PieceAt> {
        let own = run.edges.iter().map(|e| e.at).chain(run.under.iter().copied());
        own.flat_map(|at| [Some(at), self.halves.get(&at).copied()])
            .flatten()
            .collect()
    }

    /// The pieces of a layer on and beyond its stitch line, near the run. When a begun seam is closed both runs lie in one
    /// work: then the other run's pieces are passed over, and of the rest those that reach further on its side.
    pub(crate) fn layer(
        &mut self,
        names: &EdgeRun,
        run: &Run,
        view: &View,
        closing_on: Option<&BTreeSet<PieceAt>>,
    ) -> Outcome<LaidLayer> {
        let in_run = self.pieces_of_run(run);
        let mut near: BTreeSet<PieceAt> = in_run.clone();
        for &edge in &names.0 {
            near.extend(self.near_edge(edge));
        }
        let parts: BTreeSet<usize> = in_run.iter().map(|at| at.part).collect();
        let beside: BTreeSet<usize> = parts
            .iter()
            .flat_map(|&p| self.parts[p].beside.iter().copied())
            .filter(|p| !parts.contains(p))
            .collect();
        let (middle, half) = (run.middle(), (run.high - run.low) / 2.0 + 4.0 * self.seam);
        for part in beside {
            let node = self.parts[part].node;
            let Some((motion, _)) = self.lies(node, view) else {
                continue;
            };
            let class = self.parts[part].class.clone();
            let (offset, reach) = (
                run.line.offset_of(motion.point(class.middle)),
                run.line.reach_of(motion.point(class.middle)) - run.line.reach_of(middle),
            );
            if offset.abs() <= class.radius + 2.0 * self.seam && reach.abs() <= class.radius + half {
                near.extend(class.near.iter().flatten().map(|&piece| PieceAt { part, piece }));
            }
        }
        self.spend(near.len())?;
        self.fold_flaps_away(&in_run, &mut near);

        let path = run.line.moved_left(self.seam);
        let mut layer = LaidLayer {
            crossed: Vec::new(),
            outside: Vec::new(),
            ends: [None, None],
            corners: [None, None],
        };
        for at in near {
            let Some(corners) = self.corners_in(at, view) else {
                continue;
            };
            let (offsets, reaches) = extent(&corners, path);
            if offsets.0 >= -1.0e-9 {
                continue;
            }
            if let Some(other) = closing_on
                && !in_run.contains(&at)
                && (other.contains(&at) || -offsets.0 > offsets.1)
            {
                continue;
            }
            let found = |from, to| Stretch {
                at,
                from,
                to,
                beyond: -offsets.0,
                in_run: in_run.contains(&at),
            };
            // A hair inside the path, so that what only touches it from beyond does not count as crossed.
            let convex = self.parts[at.part].cloth(at.piece).is_none_or(|c| c.convex);
            let across = stretches(&corners, convex, path.moved_left(1.0e-7));
            if !across.is_empty() && (offsets.1 > TOLERANCE || in_run.contains(&at)) {
                layer
                    .crossed
                    .extend(across.into_iter().map(|(from, to)| found(from, to)));
            } else {
                layer.outside.push(found(reaches.0, reaches.1));
            }
        }
        layer
            .crossed
            .sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        Ok(layer)
    }

    fn lay_corner(&mut self, lower: usize, upper: usize, a: CornerRef, b: CornerRef) -> Outcome<Motion> {
        let (view_a, view_b) = (View::of(lower), View::of(upper));
        let (at_a, at_b) = (self.corner(a, &view_a)?, self.corner(b, &view_b)?);
        let onto = self.edge_line(a.before, &view_a)?;
        let from = self.edge_line(b.after, &view_b)?;
        let motion = Motion::line_to_line(
            Line {
                through: at_b,
                along: from.along,
            },
            Line {
                through: at_a,
                along: -onto.along,
            },
            true,
        );
        // The other two edges, compared at the far end of the shorter one.
        let after = self.run(&EdgeRun(vec![a.after]), &view_a)?;
        let before = self.run(&EdgeRun(vec![b.before]), &view_b)?;
        let long_a = after.high - after.line.reach_of(at_a);
        let long_b = before.line.reach_of(at_b) - before.low;
        let short = long_a.min(long_b);
        let end_a = at_a + after.line.along * short;
        let end_b = motion.point(at_b + before.line.along * -short);
        let apart = end_a.distance(end_b);
        if self.misses(Miss::Laid, apart, TOLERANCE) {
            let sentence = format!(
                "Corner on corner, the second edges come to lie {} apart.",
                self.say(apart)
            );
            return Err(self.refuse("ends-not-even", sentence, "Lay corners of one angle on each other."));
        }
        self.held();
        Ok(motion)
    }

    /// Dot on dot, two and two; the lower layer's dots, in the stack's frame.
    fn lay_dots(
        &mut self,
        lower: usize,
        upper: usize,
        a: &[MarkName; 2],
        b: &[MarkName; 2],
    ) -> Outcome<(Motion, [Point; 2])> {
        let (view_a, view_b) = (View::of(lower), View::of(upper));
        let [a1, a2] = [self.dot(&a[0], &view_a)?, self.dot(&a[1], &view_a)?];
        let [b1, b2] = [self.dot(&b[0], &view_b)?, self.dot(&b[1], &view_b)?];
        let (on_a, on_b) = (a1.distance(a2), b1.distance(b2));
        let (Some(along_a), Some(along_b)) = ((a2 - a1).unit(), (b2 - b1).unit()) else {
            return Err(self.bad("Two dots to lay by are one.", "Dot two places."));
        };
        if on_a.min(on_b) <= 2.0 * self.seam {
            return Err(self.bad("Two dots to lay by are hardly apart.", "Dot places further apart."));
        }
        let mut onto = a1;
        if let Some(by) = self.stray(|h| h.stray(h.maker.end)) {
            onto = onto + along_a * by;
        }
        let from = Line {
            through: b1,
            along: along_b,
        };
        let onto = Line {
            through: onto,
            along: along_a,
        };
        let motion = Motion::line_to_line(from, onto, true);
        let off = motion.point(b2).distance(a2);
        if self.misses(Miss::Laid, off, TOLERANCE) {
            let sentence = format!(
                "With one dot on its fellow the others come to lie {} apart.",
                self.say(off)
            );
            return Err(self.refuse("ends-not-even", sentence, "Dot both pieces alike."));
        }
        self.held();
        Ok((motion, [a1, a2]))
    }
}
