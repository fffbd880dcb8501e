//! Curved seams: two curves pinned at their marks, sewn, and opened so that the one chain comes to lie on the other.

use crate::curve::{Chain, Pinned};
use crate::maker::Miss;
use crate::piece::{Cloth, Edge, Left, Name, extent, onto_piece};
use crate::scene::Segment;
use crate::sew::{LAYER, LONGEST_TIP};
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Birth, PieceAt, Sheared, Stack, Stitch, Stretch, Thing, View};
use recipe::{EdgeRun, Meet, Path, Slot, Stop};
use shape::{Line, Motion, Point};
use std::collections::BTreeSet;
use std::rc::Rc;

/// Beyond its ends a chain is followed so many seams to where a piece ends.
const FURTHEST: f64 = 12.0;

impl Table<'_> {
    /// Lays two curves on one another, pinned at their marks.
    pub(crate) fn lay_curve(
        &mut self,
        (a, lower, run_a): (Slot, usize, &EdgeRun),
        (b, upper, run_b): (Slot, usize, &EdgeRun),
        pins: &[Meet],
        into: Slot,
    ) -> Outcome<()> {
        self.closed(lower)?;
        self.closed(upper)?;
        let mut runs = Vec::new();
        let mut chains: Vec<Chain> = Vec::new();
        let mut marks = Vec::new();
        for (layer, (root, names)) in [(lower, run_a), (upper, run_b)].into_iter().enumerate() {
            let view = View::of(root);
            let run = self.run(names, &view)?;
            if !run.is_curve() {
                let sentence = format!("Along the {} layer no edge is bowed.", LAYER[layer]);
                return Err(self.refuse("edge-not-bowed", sentence, "Lay straight edges as edges."));
            }
            let chain = self.curve_of(&run, self.seam, &format!("the {} layer", LAYER[layer]))?;
            marks.push(self.marks_along(&run, &chain, &view)?);
            runs.push(run);
            chains.push(chain);
        }
        let (Ok([chain_a, chain_b]), Ok(runs)) = (<[Chain; 2]>::try_from(chains), runs.try_into()) else {
            return Err(self.bad("Two curves are not two.", ""));
        };
        let places = self.pins(pins, &marks)?;
        let (Some(&[first_a, first_b]), Some(&[last_a, last_b])) = (places.first(), places.last()) else {
            return Err(self.bad("A curve is pinned at no mark.", "Pin both ends at least."));
        };
        let [from_a, to_a] = [first_a, last_a].map(|r| chain_a.at(r));
        let [from_b, to_b] = [first_b, last_b].map(|r| chain_b.at(r));
        let across = |from: Point, to: Point| {
            let along = Line::between(from, to).filter(|_| from.distance(to) > TOLERANCE)?.along;
            let through = from.toward(to, 0.5);
            Some(Line { through, along })
        };
        let (Some(chord), Some(theirs)) = (across(from_a, to_a), across(from_b, to_b)) else {
            let sentence = "The first and the last pin are in one place.";
            return Err(self.bad(sentence, "Pin a curve at both its ends."));
        };
        let mut opened = Motion::line_to_line(theirs, chord, false);
        let apart = |one: &Chain, [from, to]: [f64; 2], other: &Chain, carry: &Motion| {
            let ends = [one.at(from), one.at(to)].into_iter();
            let corners = one.between(from, to).map(|(_, p)| p).chain(ends);
            let off = corners.map(|p| other.nearest(carry.point(p), 4.0 * self.seam).1);
            off.fold(0.0, f64::max)
        };
        let back = opened.inverse();
        let off = apart(&chain_b, [last_b, first_b], &chain_a, &opened).max(apart(
            &chain_a,
            [first_a, last_a],
            &chain_b,
            &back,
        ));
        if self.misses(Miss::Laid, off, TOLERANCE) {
            let sentence = format!(
                "Opened, the two curves come to lie {} apart between their ends.",
                self.say(off)
            );
            let mend = "Check the templates of both pieces, and the seam.";
            return Err(self.refuse("curves-differ", sentence, mend));
        }
        self.held();
        if let Some(by) = self.stray(|h| h.stray(h.maker.end)) {
            opened = opened.then(&Motion::slide(chord.along * by));
        }
        self.gone.extend(run_a.0.iter().chain(&run_b.0));
        self.use_up(a);
        self.use_up(b);
        let pinned = Pinned {
            names: [run_a.clone(), run_b.clone()],
            runs,
            chains: [chain_a, chain_b],
            pins: [[first_a, last_a], [first_b, last_b]],
            opened,
            chord,
        };
        let stack = Stack {
            lower,
            upper,
            lay: opened.then(&Motion::mirror(chord)),
            laid: None,
            dots: None,
            pinned: Some(Rc::new(pinned)),
            stitches: Vec::new(),
            paper: None,
        };
        self.put(into, Birth::Other, Thing::Stack(Box::new(stack)))
    }

    /// The places of the pins along both chains, with the checks that they agree.
    fn pins(&mut self, pins: &[Meet], marks: &[Vec<f64>]) -> Outcome<Vec<[f64; 2]>> {
        let mut places: Vec<[f64; 2]> = Vec::new();
        for pin in pins {
            let mut place = [0.0; 2];
            for (layer, number) in [pin.a, pin.b].into_iter().enumerate() {
                match marks[layer].get(number as usize) {
                    Some(&reach) => place[layer] = reach,
                    None => {
                        let (number, which) = (number.saturating_add(1), LAYER[layer]);
                        let sentence = format!("The curve of the {which} layer has no mark {number}.");
                        return Err(self.refuse("unknown-mark", sentence, "Count the marks along the curve again."));
                    }
                }
            }
            if let Some(before) = places.last()
                && (place[0] <= before[0] || place[1] >= before[1])
            {
                let sentence = "The pins do not follow one another along both curves.";
                return Err(self.bad(sentence, "Name the pins in order along the lower curve."));
            }
            if let Some(first) = places.first() {
                let off = (place[0] - first[0]) - (first[1] - place[1]);
                if self.misses(Miss::Laid, off, TOLERANCE) {
                    let sentence = format!(
                        "Mark {} of the lower curve and mark {} of the upper lie {} apart along the stitch line.",
                        pin.a.saturating_add(1),
                        pin.b.saturating_add(1),
                        self.say(off.abs())
                    );
                    let mend = "Check which marks are pinned, and the templates of both pieces.";
                    return Err(self.refuse("marks-do-not-meet", sentence, mend));
                }
                self.held();
            }
            places.push(place);
        }
        if places.len() < 2 {
            return Err(self.bad("A curve is pinned at fewer than two marks.", "Pin both ends at least."));
        }
        Ok(places)
    }

    /// Sews along pinned curves.
    pub(crate) fn sew_curve(&mut self, slot: Slot, path: &Path, join: bool) -> Outcome<()> {
        let stack = self.stack(slot)?.clone();
        let (Some(pinned), true) = (stack.pinned.clone(), stack.stitches.is_empty()) else {
            return Err(self.bad("A curve is sewn more than once.", "Sew each seam once."));
        };
        let Path::Beside { by, from, to } = path else {
            return Err(self.bad(
                "A curve is sewn otherwise than beside its edges.",
                "Sew beside the edges.",
            ));
        };
        if *from != Stop::Raw || *to != Stop::Raw {
            let sentence = "A curved seam stops before its end.";
            return Err(self.refuse("stop-not-as-laid", sentence, "Sew it from end to end."));
        }
        self.by_the_seam(*by)?;
        let inside = self.seam + self.stray(|h| h.seam()).unwrap_or(0.0);
        let mut tips = [Vec::new(), Vec::new()];
        let mut reach = (f64::INFINITY, f64::NEG_INFINITY);
        for (layer, root) in [stack.lower, stack.upper].into_iter().enumerate() {
            let chain = self.curve_of(&pinned.runs[layer], inside, &format!("the {} layer", LAYER[layer]))?;
            let [first, last] = pinned.pins[layer];
            let (low, high) = (first.min(last), first.max(last));
            let mut stretches = Vec::new();
            for (at, edges) in of_each_piece(&pinned, layer) {
                let (_, from, to) = self.sheared(at, &edges, &chain, root)?;
                stretches.push(stretch_of(at, from, to));
            }
            stretches.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
            self.covered(&stretches, low, high, LAYER[layer])?;
            if layer == 0 {
                reach.0 = stretches.iter().map(|s| s.from).fold(reach.0, f64::min);
                reach.1 = stretches.iter().map(|s| s.to).fold(reach.1, f64::max);
            }
            tips[layer] = self.others(&pinned, layer, root, &chain, (low, high))?;
        }
        self.tally.seams = self.tally.seams.saturating_add(u64::from(self.make.times));
        let chord = pinned.chord;
        let ends = [
            chord.reach_of(pinned.chains[0].at(pinned.pins[0][0])),
            chord.reach_of(pinned.chains[0].at(pinned.pins[0][1])),
        ];
        self.stack_mut(slot)?.stitches.push(Stitch {
            line: chord,
            from: ends[0],
            to: ends[1],
            body_known: true,
            loses: None,
            join,
            leg: None,
            sheared: Some(Rc::new(Sheared { inside, tips, reach })),
        });
        Ok(())
    }

    /// Checks that the stitches catch no piece that is not of the run, and finds the tips beyond the pins.
    fn others(
        &mut self,
        pinned: &Pinned,
        layer: usize,
        root: usize,
        chain: &Chain,
        (low, high): (f64, f64),
    ) -> Outcome<Vec<(PieceAt, Line)>> {
        let view = View::of(root);
        let own: BTreeSet<PieceAt> = pinned.runs[layer].edges.iter().map(|e| e.at).collect();
        let mut near: BTreeSet<PieceAt> = pinned.runs[layer].under.iter().copied().collect();
        for &edge in &pinned.names[layer].0 {
            near.extend(self.near_edge(edge));
        }
        let parts: BTreeSet<usize> = own.iter().map(|at| at.part).collect();
        let beside: BTreeSet<usize> = parts.iter().flat_map(|&p| self.parts[p].beside.clone()).collect();
        for part in beside {
            let class = self.parts[part].class.clone();
            near.extend(class.near.iter().flatten().map(|&piece| PieceAt { part, piece }));
        }
        let reach = LONGEST_TIP * self.seam;
        let ends = [(chain.line_at(low), (-reach, 0.0)), (chain.line_at(high), (0.0, reach))];
        let mut tips = Vec::new();
        for at in near.difference(&own).copied().collect::<Vec<_>>() {
            let Some((cloth, motion, _)) = self.piece_in(at, &view) else {
                continue;
            };
            self.spend(cloth.corners.len())?;
            let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
            let mut caught = 0.0;
            for (a, b, start) in chain.straights(0.0) {
                let (from, to) = ((low - start).max(0.0), (high - start).min(a.distance(b)));
                if to <= from {
                    continue;
                }
                let Some(line) = Line::between(a, b) else { continue };
                for (s, e) in crate::hollow::stretches(&corners, cloth.convex, line.moved_left(1.0e-7)) {
                    caught += (e.min(to) - s.max(from)).max(0.0);
                }
            }
            if caught > TOLERANCE && self.misses(Miss::Other, caught, TOLERANCE) {
                let sentence = format!(
                    "The stitches run over {} of cloth of the {} layer that is not along the curve.",
                    self.say(caught),
                    LAYER[layer]
                );
                let mend = "Fold that cloth away, or sew another seam first.";
                return Err(self.refuse("stitch-catches", sentence, mend));
            }
            for (line, (from, to)) in ends {
                // Reaches along the line are counted from the pin.
                let ((least, _), _) = extent(&corners, line);
                let across = crate::hollow::stretches(&corners, cloth.convex, line.moved_left(1.0e-7));
                let crossed = across.iter().any(|(s, e)| e.min(to) - s.max(from) > TOLERANCE);
                let close = corners.iter().all(|c| c.distance(line.through) <= reach) && -least > TOLERANCE;
                if !crossed && !close || least >= -1.0e-9 {
                    continue;
                }
                let far = self.furthest_beyond(&cloth, &motion, line);
                if far > reach && self.misses(Miss::Other, far, reach) {
                    let sentence = format!(
                        "The stitches catch cloth of the {} layer that is not along the curve, {} beyond the seam.",
                        LAYER[layer],
                        self.say(far)
                    );
                    let mend = "Fold that cloth away, or sew another seam first.";
                    return Err(self.refuse("stitch-catches", sentence, mend));
                }
                tips.push((at, line));
            }
        }
        self.held();
        Ok(tips)
    }

    /// How far a piece, of a hollow one the parts near the place a line goes through, reaches beyond the line.
    fn furthest_beyond(&self, cloth: &Cloth, motion: &Motion, line: Line) -> f64 {
        let own = onto_piece(line, motion);
        if cloth.convex {
            return -extent(&cloth.corners, own).0.0;
        }
        let reach = LONGEST_TIP * self.seam;
        let near = cloth.parts_beyond(own).into_iter();
        let near = near.filter(|part| part.is_cloth() && part.distance_to(cloth, own.through) <= reach);
        near.flat_map(|part| part.corners.clone())
            .map(|k| -own.offset_of(cloth.corners[k]))
            .fold(0.0, f64::max)
    }

    /// A piece of the run without what lies between its raw edges there and the chain (`None` when nothing is left), and
    /// its stretch of the chain. All in the frame of its work.
    fn sheared(
        &mut self,
        at: PieceAt,
        raw: &[usize],
        chain: &Chain,
        root: usize,
    ) -> Outcome<(Option<Cloth>, f64, f64)> {
        let view = View::of(root);
        let Some((cloth, motion, _)) = self.piece_in(at, &view) else {
            return Err(self.bad("A piece of the curve is gone.", "Name what lies on the table."));
        };
        let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
        let n = corners.len();
        self.spend(n)?;
        let Some(&end) = raw.last() else {
            return Err(self.bad("A piece of the curve has no edge of it.", "Name the edges of the run."));
        };
        if raw.windows(2).any(|w| (w[0] + 1) % n != w[1]) {
            return Err(self.bad(
                "An edge of the curve lies on a piece in two parts.",
                "Sew the seam before that cut.",
            ));
        }
        let past = FURTHEST * self.seam;
        // The rest of the outline, counted from where the raw edges end.
        let rest = n - raw.len();
        let corner = |k: usize| corners[(end + 1 + k) % n];
        let mut ahead = None;
        let mut behind = None;
        for k in 0..rest {
            let (a, b) = (corner(k), corner(k + 1));
            if ahead.is_none()
                && let Some((t, reach)) = chain.met_by(a, b, past)
            {
                ahead = Some((k as f64 + t, reach));
            }
            let j = rest - 1 - k;
            if behind.is_none()
                && let Some((t, reach)) = chain.met_by(corner(j + 1), corner(j), past)
            {
                behind = Some((j as f64 + 1.0 - t, reach));
            }
        }
        let (Some((leaves, to)), Some((comes, from))) = (ahead, behind) else {
            let sentence = "The stitch line of the curve does not cross a piece that lies along it.";
            return Err(self.refuse("path-not-covered", sentence, "Check the templates of the curve."));
        };
        if comes <= leaves || to <= from {
            return Ok((None, from, to.max(from)));
        }
        let fold = Edge::fresh(Name::Fold, Some(self.action));
        let place = |k: f64| {
            let whole = (k.floor() as usize).min(rest - 1);
            corner(whole).toward(corner(whole + 1), k - whole as f64)
        };
        let edge = |k: usize| cloth.edges[(end + 1 + k) % n];
        let mut outline: Vec<(Point, Edge)> = vec![(place(leaves), edge((leaves.floor() as usize).min(rest - 1)))];
        let first = leaves.floor() as usize + 1;
        outline.extend(
            (first..rest + 1)
                .filter(|&k| (k as f64) < comes)
                .map(|k| (corner(k), edge(k))),
        );
        outline.push((place(comes), fold));
        outline.extend(chain.between(from, to).map(|(_, p)| (p, fold)));
        let m = outline.len();
        let back = motion.inverse();
        let kept: Vec<(Point, Edge)> = (0..m)
            .filter(|&i| beyond(outline[i].0.distance(outline[(i + 1) % m].0), 1.0e-10))
            .map(|i| (back.point(outline[i].0), outline[i].1))
            .collect();
        let left = (kept.len() >= 3).then(|| cloth.cut_to(kept));
        Ok((left, from, to))
    }

    /// Opens a stack sewn along a curve.
    pub(crate) fn open_curve(&mut self, slot: Slot, stack: &Stack, pinned: &Pinned, into: Slot) -> Outcome<()> {
        let [stitch] = stack.stitches.as_slice() else {
            let sentence = format!("A stack with {} seams cannot be opened.", stack.stitches.len());
            return Err(self.refuse("not-sewn-apart", sentence, "Sew once along the curve first."));
        };
        let Some(sheared) = stitch.sheared.clone() else {
            return Err(self.bad("A curve was not sewn along its edges.", "Sew beside the edges."));
        };
        let takes = self.stray(|h| h.maker.fold).unwrap_or(0.0);
        let mut along: [Vec<Stretch>; 2] = [Vec::new(), Vec::new()];
        for (layer, root) in [stack.lower, stack.upper].into_iter().enumerate() {
            let which = format!("the {} layer", LAYER[layer]);
            let chain = self.curve_of(&pinned.runs[layer], sheared.inside + takes, &which)?;
            let first = pinned.pins[layer][0];
            for (at, edges) in of_each_piece(pinned, layer) {
                let (left, from, to) = self.sheared(at, &edges, &chain, root)?;
                if let Some((before, motion, _)) = self.piece_in(at, &View::of(root)) {
                    let motion = if layer == 0 {
                        motion
                    } else {
                        motion.then(&pinned.opened)
                    };
                    self.show_folded(&before, left.as_ref(), &motion);
                }
                self.parts[at.part].changed.insert(at.piece, left.map(Rc::new));
                along[layer].push(match layer {
                    0 => stretch_of(at, from - first, to - first),
                    _ => stretch_of(at, first - to, first - from),
                });
            }
            for &(at, line) in &sheared.tips[layer] {
                self.fold_tip(at, &View::of(root), line)?;
            }
            along[layer].sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
            if layer == 0 {
                let (from, to) = sheared.reach;
                let inner = chain.between(from, to).map(|(_, p)| p);
                let places: Vec<Point> = std::iter::once(chain.at(from))
                    .chain(inner)
                    .chain([chain.at(to)])
                    .collect();
                let seams = places.windows(2).map(|w| Segment { from: w[0], to: w[1] });
                self.bowed_seams.extend(seams.map(|s| (stack.lower, s)));
            }
        }
        self.sew_together(&along, stitch.join)?;
        self.use_up(slot);
        self.link(stack.upper, stack.lower, pinned.opened);
        self.put(into, Birth::Other, Thing::Work(stack.lower))?;
        self.seams.insert(into, Vec::new());
        Ok(())
    }

    /// Folds a tip under beyond its line; of a hollow piece the parts near the pin.
    fn fold_tip(&mut self, at: PieceAt, view: &View, line: Line) -> Outcome<()> {
        let Some((cloth, motion, _)) = self.piece_in(at, view) else {
            return Ok(());
        };
        let own = onto_piece(line, &motion);
        let fold = Edge::fresh(Name::Fold, Some(self.action));
        if cloth.convex {
            return self.keep_left(at, view, line, fold);
        }
        let reach = LONGEST_TIP * self.seam;
        let near = |part: &crate::hollow::Part| part.distance_to(&cloth, own.through) <= reach;
        let left = match cloth.without_parts(own, fold, &near) {
            None => return Err(self.apart()),
            Some(Left::Whole) => return Ok(()),
            Some(Left::Nothing) => None,
            Some(Left::Part(left)) => Some(Rc::new(left)),
        };
        self.parts[at.part].changed.insert(at.piece, left);
        Ok(())
    }

    /// For pictures: the stitches of a pinned stack, as they run on the lower layer.
    pub(crate) fn stitches_of(&self, stack: &Stack) -> Vec<Segment> {
        let mut all = Vec::new();
        for stitch in &stack.stitches {
            match (&stack.pinned, &stitch.sheared) {
                (Some(pinned), Some(sheared)) => {
                    let (chain, (from, to)) = (&pinned.chains[0], sheared.reach);
                    let inner = chain.between(from, to).map(|(_, p)| p);
                    let places: Vec<Point> = std::iter::once(chain.at(from))
                        .chain(inner)
                        .chain([chain.at(to)])
                        .collect();
                    all.extend(places.windows(2).map(|w| Segment { from: w[0], to: w[1] }));
                }
                _ => all.push(stitch.segment()),
            }
        }
        all
    }
}

fn stretch_of(at: PieceAt, from: f64, to: f64) -> Stretch {
    Stretch {
        at,
        from,
        to,
        beyond: 0.0,
        in_run: true,
    }
}

/// The pieces along a pinned curve in order, each with the numbers of its edges there.
fn of_each_piece(pinned: &Pinned, layer: usize) -> Vec<(PieceAt, Vec<usize>)> {
    let mut pieces: Vec<(PieceAt, Vec<usize>)> = Vec::new();
    for e in &pinned.runs[layer].edges {
        match pieces.iter_mut().find(|(at, _)| *at == e.at) {
            Some((_, edges)) => edges.push(e.edge),
            None => pieces.push((e.at, vec![e.edge])),
        }
    }
    pieces
}
