//! Seams that turn a corner: the stops where earlier seams left a corner free, turning the upper layer round the needle,
//! and opening a stack that was sewn along several edges.

use crate::maker::Miss;
use crate::scene::Segment;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE};
use crate::work::{Birth, Leg, PieceAt, Stack, Stitch, Stretch, Thing, View};
use recipe::{EdgeRun, End, MarkName, Meet, Slot};
use shape::{Line, Motion, Point};

/// A corner that turns toward the cloth's right by more than this (a sine) is hollow.
const HOLLOW: f64 = 1.0e-6;

const LAYER: [&str; 2] = ["lower", "upper"];

impl Table<'_> {
    /// Does a pivot step.
    pub(crate) fn pivot(
        &mut self,
        slot: Slot,
        (a, b): (&EdgeRun, &EdgeRun),
        (first, last): (&End, &End),
        meets: &[Meet],
    ) -> Outcome<()> {
        let stack = self.stack(slot)?;
        let (lower, upper) = (stack.lower, stack.upper);
        let number = stack.laid.as_ref().map_or(0, |laid| laid.number);
        let sewn = stack.stitches.last().and_then(|s| s.leg.clone());
        let sewn = sewn.filter(|_| stack.laid.is_some());
        let Some(leg) = sewn.filter(|leg| leg.number == number && stack.stitches.len() == number.saturating_add(1))
        else {
            let sentence = "The stack is turned, but no seam was sewn along the edges it lies by.";
            return Err(self.refuse("pivot-off-the-stop", sentence, "Sew to the dot, then turn."));
        };
        if leg.begun.is_some() || *first == End::Open || *last == End::Open {
            return Err(self.bad("A seam that turns is also to be closed later.", "Sew it in one go."));
        }
        // A seam that stopped at its last end goes on at the first end of the next edges, and the other way round.
        let names = |end: &End, stop: &Option<(MarkName, MarkName)>| match (end, stop) {
            (End::Dots { a, b }, Some((dot_a, dot_b))) => a == dot_a && b == dot_b,
            _ => false,
        };
        let onward = if names(first, &leg.dots[1]) {
            true
        } else if names(last, &leg.dots[0]) {
            false
        } else {
            let sentence = "The stack is turned round dots in which the last seam did not stop.";
            let mend = "Sew the seam before to the dots, and turn round those.";
            return Err(self.refuse("pivot-off-the-stop", sentence, mend));
        };
        let (lay, mut laid) = self.lay_edges((lower, a), (upper, b), first, last, meets)?;
        laid.number = number.saturating_add(1);
        let End::Dots { a: dot_a, b: dot_b } = (if onward { first } else { last }) else {
            return Ok(());
        };
        let next = [laid.line, lay.inverse().line(laid.line.reversed())];
        for (layer, (root, dot)) in [(lower, dot_a), (upper, dot_b)].into_iter().enumerate() {
            let dot = self.dot(dot, &View::of(root))?;
            // Round the lower layer the next edges come after the seam's when it goes onward; round the upper, before.
            let (before, after) = if onward == (layer == 0) {
                (leg.runs[layer], next[layer])
            } else {
                (next[layer], leg.runs[layer])
            };
            self.may_turn(root, dot, before, after, LAYER[layer])?;
        }
        let stack = self.stack_mut(slot)?;
        stack.lay = lay;
        stack.laid = Some(laid);
        self.gone.extend(a.0.iter().chain(&b.0));
        Ok(())
    }

    /// Checks that a layer can be turned at a corner: where it is hollow a seam must have stopped there.
    fn may_turn(&mut self, root: usize, dot: Point, before: Line, after: Line, which: &str) -> Outcome<()> {
        if before.along.cross(after.along) >= -HOLLOW {
            return Ok(());
        }
        let stops = self.stops_of(root)?;
        let nearest = stops.iter().map(|s| s.distance(dot)).fold(f64::INFINITY, f64::min);
        if self.misses(Miss::Laid, nearest, TOLERANCE) {
            let sentence = format!("The {which} layer cannot turn at the dot: no seam of it stops there.");
            let mend = "Sew the seam that ends in that corner only to the dot.";
            return Err(self.refuse("corner-sewn-shut", sentence, mend));
        }
        self.held();
        Ok(())
    }

    /// The places of a work where seams stopped, in its own frame.
    pub(crate) fn stops_of(&mut self, root: usize) -> Outcome<Vec<Point>> {
        self.spend(self.stops.len())?;
        let mut found: Vec<Point> = Vec::new();
        for (node, stop) in self.stops.clone() {
            let (at, motion) = self.find(node);
            let stop = motion.point(stop);
            if at == root && found.iter().all(|s| s.distance(stop) > HOLLOW) {
                self.spend(found.len())?;
                found.push(stop);
            }
        }
        Ok(found)
    }

    /// Notes where the seams of a stack that is opened stopped in dots.
    pub(crate) fn keep_stops(&mut self, stack: &Stack) {
        for stitch in &stack.stitches {
            let Some(leg) = &stitch.leg else { continue };
            for (dots, at) in leg.dots.iter().zip([stitch.from, stitch.to]) {
                if dots.is_some() {
                    self.stops.push((stack.lower, stitch.line.at(at)));
                }
            }
        }
    }

    /// Opens a stack that was turned: each path takes cloth off as its own edges lay, and the upper layer comes to lie by
    /// the first path, where every other must put it too.
    pub(crate) fn open_turned(&mut self, slot: Slot, stack: &Stack, into: Slot) -> Outcome<()> {
        let number = stack.laid.as_ref().map_or(0, |laid| laid.number);
        let legs: Vec<(&Stitch, &Leg)> = (stack.stitches.iter())
            .filter_map(|s| Some((s, s.leg.as_ref()?)))
            .collect();
        let in_turn = legs.iter().enumerate().all(|(i, (_, leg))| leg.number == i);
        let (Some(&(first, first_leg)), true) = (
            legs.first(),
            in_turn && legs.len() == stack.stitches.len() && legs.len() == number.saturating_add(1),
        ) else {
            let sentence = "A stack that was turned is not sewn once along each of its edges.";
            return Err(self.refuse("not-sewn-apart", sentence, "Sew once after each turn."));
        };
        let motion = first_leg.lay.then(&Motion::mirror(first.line));
        for (stitch, leg) in &legs {
            let Segment { from, to } = stitch.segment();
            for end in [from, to] {
                let apart = motion.point(leg.lay.inverse().point(end)).distance(end);
                if self.misses(Miss::Laid, apart, TOLERANCE) {
                    let sentence = format!(
                        "Opened along the first edge, another edge of the seam comes to lie {} from its place.",
                        self.say(apart)
                    );
                    let mend = "Check the shapes of the pieces on both sides of the corner.";
                    return Err(self.refuse("turn-does-not-fit", sentence, mend));
                }
            }
        }
        self.held();
        self.keep_stops(stack);
        let mut segments = Vec::new();
        for (stitch, leg) in &legs {
            let view = View {
                lower: stack.lower,
                upper: Some((stack.upper, leg.lay)),
            };
            let loses = stitch.loses.clone().unwrap_or_default();
            let mut along = [Vec::new(), Vec::new()];
            for (layer, pieces) in loses.iter().enumerate() {
                self.fold(pieces, &view, stitch.line, (stitch.from, stitch.to))?;
                along[layer] = self.along(pieces, &view, stitch.line);
            }
            self.sew_together(&along, stitch.join)?;
            segments.push(vec![(stack.lower, stitch.segment())]);
        }
        self.use_up(slot);
        self.link(stack.upper, stack.lower, motion);
        self.put(into, Birth::Other, Thing::Work(stack.lower))?;
        self.seams.insert(into, segments);
        Ok(())
    }

    /// Folds under what lies to the right of a line on some pieces, along a seam between these ends.
    pub(crate) fn fold(&mut self, pieces: &[PieceAt], view: &View, line: Line, ends: (f64, f64)) -> Outcome<()> {
        self.spend(pieces.len())?;
        for &at in pieces {
            self.fold_along(at, view, line, ends)?;
        }
        Ok(())
    }

    /// The stretches of a line that some pieces cover, in order along it.
    pub(crate) fn along(&mut self, pieces: &[PieceAt], view: &View, line: Line) -> Vec<Stretch> {
        let mut found = Vec::new();
        for &at in pieces {
            found.extend(self.stretches_of(at, view, line));
        }
        found.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        found
    }
}
