//! What places and checks the ends and joints of laid edges.

use crate::lay::Side;
use crate::maker::Miss;
use crate::table::Table;
use crate::words::Outcome;
use crate::words::TOLERANCE;
use crate::work::{PieceAt, Stretch};
use recipe::{EdgeRef, End, Meet};

impl Table<'_> {
    /// Where along the lower run's line an end's place on the upper layer belongs, the lower one's being `place`.
    pub(crate) fn upper_at(&mut self, end: &End, place: f64, at_first: bool) -> Outcome<f64> {
        let ahead = match end {
            End::Overhang { by, .. } => self.real(*by)?,
            _ => 0.0,
        };
        Ok(if at_first { place - ahead } else { place + ahead })
    }

    /// Checks an end that does not place: `fall` carries reaches along the upper run to reaches along the lower.
    pub(crate) fn comes_out(
        &mut self,
        end: &End,
        a: &Side,
        b: &Side,
        at_first: bool,
        fall: &dyn Fn(f64) -> f64,
    ) -> Outcome<()> {
        let (end_a, end_b) = (
            self.datum(end, a, true, at_first)?,
            self.datum(end, b, false, at_first)?,
        );
        let wanted = self.upper_at(end, end_a, at_first)?;
        if self.misses(Miss::Laid, fall(end_b) - wanted, TOLERANCE) {
            let off = self.say((fall(end_b) - wanted).abs());
            let (code, sentence) = match end {
                End::Overhang { .. } => ("overhang-differs", format!("At the far end the overhang is {off} out.")),
                End::Match(_) => (
                    "joints-do-not-meet",
                    format!("At the far end the seams miss each other by {off}."),
                ),
                End::Notch { .. } => (
                    "ends-not-even",
                    format!("At the far end the notch is {off} off the stitch line."),
                ),
                _ => (
                    "ends-not-even",
                    format!("The two edges come out {off} apart at the far end."),
                ),
            };
            return Err(self.refuse(code, sentence, "Check the sizes of what is laid together."));
        }
        self.held();
        self.check_end(end, a, b, at_first, fall)
    }

    /// Checks that joints meet.
    pub(crate) fn meet(&mut self, meets: &[Meet], a: &Side, b: &Side, fall: &dyn Fn(f64) -> f64) -> Outcome<Vec<f64>> {
        let mut places = Vec::with_capacity(meets.len());
        for meet in meets {
            let (joint_a, joint_b) = (self.joint(a, true, meet.a)?, self.joint(b, false, meet.b)?);
            if self.misses(Miss::Laid, fall(joint_b) - joint_a, TOLERANCE) {
                let sentence = format!(
                    "Seam {} of the lower layer and seam {} of the upper one miss each other by {}.",
                    meet.a.saturating_add(1),
                    meet.b.saturating_add(1),
                    self.say((fall(joint_b) - joint_a).abs())
                );
                let mend = "Check the sizes of the pieces along both edges.";
                return Err(self.refuse("joints-do-not-meet", sentence, mend));
            }
            self.held();
            places.push(joint_a);
        }
        Ok(places)
    }

    /// The place of a datum along one run's line, in its own frame.
    pub(crate) fn datum(&mut self, end: &End, side: &Side, is_a: bool, at_first: bool) -> Outcome<f64> {
        let run = &side.run;
        match end {
            End::Even { a, b } | End::Overhang { a, b, .. } => {
                self.corner_along(side, if is_a { *a } else { *b }, is_a == at_first)
            }
            End::Notch { a, b, .. } => {
                let line = self.end_line(if is_a { *a } else { *b }, is_a == at_first, &side.view)?;
                let notch = self.cross(run.line.moved_left(self.seam), line)?;
                Ok(run.line.reach_of(notch))
            }
            End::Dots { a, b } => {
                let dot = self.dot(if is_a { a } else { b }, &side.view)?;
                Ok(run.line.reach_of(dot))
            }
            End::Centre => Ok((run.low + run.high) / 2.0),
            End::Open => Err(self.bad("Nothing is said of this end.", "Say how it lies.")),
            End::Match(meet) => self.joint(side, is_a, if is_a { meet.a } else { meet.b }),
        }
    }

    fn corner_along(&mut self, side: &Side, edge: EdgeRef, at_start: bool) -> Outcome<f64> {
        let line = self.end_line(edge, at_start, &side.view)?;
        let corner = self.cross(side.run.line, line)?;
        Ok(side.run.line.reach_of(corner))
    }

    /// What an end says beyond its place: how far the corners are apart at a notch, how far in the dots are.
    pub(crate) fn check_end(
        &mut self,
        end: &End,
        a: &Side,
        b: &Side,
        at_first: bool,
        fall: &dyn Fn(f64) -> f64,
    ) -> Outcome<()> {
        match end {
            End::Notch {
                a: end_a,
                b: end_b,
                about,
            } => {
                let about = self.positive(*about)?;
                let apart =
                    (fall(self.corner_along(b, *end_b, !at_first)?) - self.corner_along(a, *end_a, at_first)?).abs();
                let half_mark = self.recipe.mark.to_inches().abs() / 2.0 + 1.0e-9;
                if self.misses(Miss::Other, apart - about, half_mark) {
                    let sentence = format!(
                        "One corner runs {} ahead of the other, but the recipe says about {}.",
                        self.say(apart),
                        self.say(about)
                    );
                    return Err(self.refuse("overhang-differs", sentence, "Check how the two pieces are cut."));
                }
                self.held();
            }
            End::Dots { a: dot_a, b: dot_b } => {
                let (dot_a, dot_b) = (self.dot(dot_a, &a.view)?, self.dot(dot_b, &b.view)?);
                let (in_a, in_b) = (a.run.line.offset_of(dot_a), b.run.line.offset_of(dot_b));
                if self.misses(Miss::Laid, in_a - in_b, TOLERANCE) {
                    let sentence = format!(
                        "One dot lies {} in from its edge and the other {}.",
                        self.say(in_a),
                        self.say(in_b)
                    );
                    return Err(self.refuse("ends-not-even", sentence, "Dot both pieces alike."));
                }
                self.held();
            }
            _ => {}
        }
        Ok(())
    }

    /// Joint `number` of a run, in its own order.
    fn joint(&mut self, side: &Side, is_a: bool, number: u32) -> Outcome<f64> {
        // Beyond a finished corner the tips of neighbours may lie on the stitch line: they are no part of the seam. The upper
        // run's own first end lies at the last. How the other layer lies is not known yet.
        let layer = &side.layer;
        let known = if is_a {
            layer.corners
        } else {
            [layer.corners[1], layer.corners[0]]
        };
        let cloth = layer.cloth().unwrap_or((f64::INFINITY, f64::NEG_INFINITY));
        let (low, high) = layer.finished(known, cloth, self.seam);
        let mut sewn: Vec<Stretch> = Vec::new();
        for s in side
            .layer
            .crossed
            .iter()
            .filter(|s| s.in_run && s.to.min(high) - s.from.max(low) > TOLERANCE)
        {
            match sewn.last_mut() {
                // The two halves of a piece half folded are one piece.
                Some(last) if self.halves.get(&last.at) == Some(&s.at) => last.to = last.to.max(s.to),
                _ => sewn.push(*s),
            }
        }
        if self.tally.hands.is_some() {
            sewn = self.joints_as_meant(side, is_a, sewn, number as usize);
        }
        let number = number as usize;
        match (sewn.get(number), sewn.get(number.saturating_add(1))) {
            (Some(before), Some(after)) => Ok((before.to + after.from) / 2.0),
            _ => Err(self.bad(
                format!("There is no seam {} along this edge.", number.saturating_add(1)),
                "Count the seams along the edge again.",
            )),
        }
    }

    /// With hands that stray, the stretches of the pieces between which joints lie when nothing strays. Where the cloth
    /// no longer reaches the stitch line at the joint that is wanted, the raw edges say where it lies.
    fn joints_as_meant(&mut self, side: &Side, is_a: bool, sewn: Vec<Stretch>, number: usize) -> Vec<Stretch> {
        let parts = &self.parts;
        let kind = |at: PieceAt| parts[at.part].cloth(at.piece).map_or(0, |c| c.kind);
        let found: Vec<(Stretch, usize)> = sewn.iter().map(|s| (*s, kind(s.at))).collect();
        let at = (self.action.make, self.action.step, is_a);
        let Some(hands) = &mut self.tally.hands else {
            return sewn;
        };
        let meant = hands.as_meant(at, &found);
        let gap = match (meant.get(number), meant.get(number.saturating_add(1))) {
            (Some(a), Some(b)) => (b.from - a.to).max(self.seam - (a.to - a.from).min(b.to - b.from)),
            _ => 0.0,
        };
        if !hands.maker.strays() || gap <= self.seam / 2.0 {
            return meant;
        }
        let run = &side.run;
        let mut raw: Vec<(Stretch, usize)> = (run.edges.iter())
            .map(|e| {
                let (from, to) = (run.line.reach_of(e.from), run.line.reach_of(e.to));
                let (at, beyond, in_run) = (e.at, 0.0, true);
                let stretch = Stretch {
                    at,
                    from,
                    to,
                    beyond,
                    in_run,
                };
                (stretch, kind(at))
            })
            .collect();
        raw.sort_by(|a, b| a.0.from.total_cmp(&b.0.from));
        hands.as_meant(at, &raw)
    }

    /// Where the stitch line crosses a line so far inside the end edge, as far as an edge or a dot says so: with nothing
    /// inside, where it ends in a layer; a seam inside, where the finished corner is.
    pub(crate) fn path_end(
        &mut self,
        end: &End,
        side: &Side,
        is_a: bool,
        at_first: bool,
        inside: f64,
    ) -> Outcome<Option<f64>> {
        match end {
            End::Even { a, b } | End::Overhang { a, b, .. } | End::Notch { a, b, .. } => {
                let line = self.end_line(if is_a { *a } else { *b }, is_a == at_first, &side.view)?;
                let at = self.cross(side.run.line.moved_left(self.seam), line.moved_left(inside))?;
                Ok(Some(side.run.line.reach_of(at)))
            }
            End::Dots { .. } => Ok(Some(self.datum(end, side, is_a, at_first)?)),
            End::Centre | End::Match(_) | End::Open => Ok(None),
        }
    }
}
