//! The end of a making: a finished work is flattened into a class of units, its sides named, or the top's outline drawn.

use crate::carried::{Carried, alike};
use crate::cut::UP_AGREES;
use crate::maker::Miss;
use crate::piece::{Cloth, Edge, Left, Name, extent, is_sliver, onto_piece};
use crate::resolve::Run;
use crate::scene::Segment;
use crate::table::{MOST_PIECES, Table};
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Class, PieceAt, Placed, View};
use recipe::{EdgeRun, Give, PrintNote, Size, Slot};
use shape::{Line, Motion, Point, Polygon, Vector};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The finished top, turned upright, its lower left corner at the origin.
pub(crate) struct Top {
    pub(crate) outline: Polygon,
    pub(crate) faces: Vec<TopPiece>,
    /// Faces made of joined pieces: indices into `faces`.
    pub(crate) joined: Vec<Vec<usize>>,
    /// What is laid on them.
    pub(crate) carried: Carried,
}

/// What shows of one piece in the finished top.
pub(crate) struct TopPiece {
    pub(crate) shown: Polygon,
    pub(crate) edges: Vec<Edge>,
    pub(crate) kind: usize,
    pub(crate) up: Vector,
    pub(crate) taken: Option<u32>,
    pub(crate) joined: bool,
}

/// Within the allowance of a unit pieces may share it differently, by no more than this many seams: so do the tips of
/// geese sewn first on the one side or on the other.
const SHARED: f64 = 2.0;

impl Table<'_> {
    /// The class of the units given, which must all be alike.
    pub(crate) fn give_all(&mut self, gives: &[Give]) -> Outcome<Vec<Class>> {
        if self.tally.hands.is_some() {
            // No two units of a wobbly maker are alike: all are kept.
            let all: Outcome<Vec<(Class, Vec<Run>)>> = gives.iter().map(|g| self.give(g)).collect();
            return Ok(all?.into_iter().map(|(class, _)| class).collect());
        }
        if gives.len() > 1 {
            // Cards in cloth are counted for each unit by itself.
            for give in gives {
                self.no_card_in(self.work(give.slot)?)?;
            }
        }
        let mut first: Option<(Class, Vec<Run>)> = None;
        for give in gives {
            let (class, runs) = self.give(give)?;
            match &first {
                None => first = Some((class, runs)),
                Some(first) => {
                    if let Some(sentence) = self.unlike(first, &(class, runs))? {
                        let mend = "Name the sides of both in the same order, or make them apart.";
                        return Err(self.refuse("gives-not-alike", sentence, mend));
                    }
                    self.held();
                }
            }
        }
        Ok(first.map(|(class, _)| class).into_iter().collect())
    }

    fn give(&mut self, give: &Give) -> Outcome<(Class, Vec<Run>)> {
        let root = self.work(give.slot)?;
        self.closed(root)?;
        self.all_down(root)?;
        let view = View::of(root);
        let runs = self.sides(&give.sides, &view)?;
        let mut seams = Vec::new();
        for &seam in &give.seams {
            seams.push(self.seam_at(seam, &view)?);
        }
        let mut class = self.flatten(root, &runs)?;
        class.seams = seams;
        class.stops = self.stops_of(root)?;
        class.cards = self.cards_in[root];
        self.use_up(give.slot);
        Ok((class, runs))
    }

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

    fn flatten(&mut self, root: usize, runs: &[Run]) -> Outcome<Class> {
        let view = View::of(root);
        let owner = self.tally.owner;
        self.tally.owner = self.tally.owner.saturating_add(1);
        let mut named: BTreeMap<PieceAt, Vec<(usize, u32)>> = BTreeMap::new();
        for (side, run) in runs.iter().enumerate() {
            for e in &run.edges {
                named.entry(e.at).or_default().push((e.edge, side as u32));
            }
            for &at in &run.under {
                named.entry(at).or_default();
            }
        }
        let count: usize = self.members[root]
            .iter()
            .map(|&p| self.parts[p].class.pieces.len())
            .sum();
        if count > MOST_PIECES {
            return Err(self.refuse(
                "too-long",
                "A unit has more pieces than any quilt.",
                "Make it in fewer pieces.",
            ));
        }
        self.spend(count)?;
        let mut parts = self.members[root].clone();
        parts.sort_unstable();
        let faces = self.face_numbers(&parts);
        let mut class = Class {
            owner,
            sides: vec![Vec::new(); runs.len()],
            near: vec![Vec::new(); runs.len()],
            ..Class::default()
        };
        let mut places: BTreeMap<PieceAt, u32> = BTreeMap::new();
        let (mut low, mut high) = (
            Point::new(f64::INFINITY, f64::INFINITY),
            Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
        );
        for part in parts {
            let Some((frame, _)) = self.lies(self.parts[part].node, &view) else {
                continue;
            };
            let part_class = self.parts[part].class.clone();
            let group = faces.groups.get(&part);
            for (piece, placed) in part_class.pieces.iter().enumerate() {
                let at = PieceAt {
                    part,
                    piece: piece as u32,
                };
                let Some(cloth) = self.parts[part].cloth(at.piece) else {
                    continue;
                };
                let mut cloth = cloth.clone();
                if let Some(names) = named.get(&at) {
                    let mut renamed = Cloth::clone(&cloth);
                    for &(edge, side) in names {
                        renamed.edges[edge].name = renamed.edges[edge].name.renamed(owner, side);
                    }
                    cloth = Rc::new(renamed);
                    places.insert(at, class.pieces.len() as u32);
                }
                let motion = placed.motion.then(&frame);
                let (middle, r) = (motion.point(cloth.middle), cloth.radius);
                low = Point::new(low.x.min(middle.x - r), low.y.min(middle.y - r));
                high = Point::new(high.x.max(middle.x + r), high.y.max(middle.y + r));
                let face = if placed.face == 0 {
                    faces.pieces.get(&at)
                } else {
                    group.and_then(|numbers| numbers.get(placed.face as usize))
                };
                class.pieces.push(Placed {
                    cloth,
                    motion,
                    face: face.copied().unwrap_or(0),
                });
            }
        }
        class.middle = low.toward(high, 0.5);
        class.radius = low.distance(high) / 2.0;
        for (side, run) in runs.iter().enumerate() {
            let on = &mut class.sides[side];
            on.extend(run.edges.iter().filter_map(|e| places.get(&e.at)));
            on.extend(run.under.iter().filter_map(|at| places.get(at)));
            on.dedup();
        }
        let bowed: usize = runs.iter().filter(|r| r.is_curve()).map(|r| r.edges.len()).sum();
        self.spend(class.pieces.len().saturating_mul(bowed))?;
        self.find_near(&mut class, runs);
        if self.filming {
            class.inner = self.seams_in(root);
        }
        Ok(class)
    }

    /// For each side the pieces within the seam allowance of it.
    fn find_near(&self, class: &mut Class, runs: &[Run]) {
        let reach = self.seam + self.near_enough();
        let curves: Vec<bool> = runs.iter().map(Run::is_curve).collect();
        // Beyond an acute corner the stitches run on past the raw edge: at 15° by a seam's cotangent, 3.7 seams.
        let past = 4.0 * self.seam + TOLERANCE;
        for (i, placed) in class.pieces.iter().enumerate() {
            let middle = placed.motion.point(placed.cloth.middle);
            let around = placed.cloth.radius + past;
            for (side, run) in runs.iter().enumerate() {
                if curves[side] {
                    let near = |e: &crate::resolve::RawEdge| middle.distance(e.from.toward(e.to, 0.5));
                    let nearest = run.edges.iter().map(near).fold(f64::INFINITY, f64::min);
                    let longest = run.edges.iter().map(|e| e.from.distance(e.to)).fold(0.0, f64::max);
                    if nearest <= around + longest / 2.0 {
                        class.near[side].push(i as u32);
                    }
                    continue;
                }
                let (offset, along) = (run.line.offset_of(middle), run.line.reach_of(middle));
                if offset.abs() > around || along < run.low - around || along > run.high + around {
                    continue;
                }
                let corners: Vec<Point> = placed.cloth.corners.iter().map(|&c| placed.motion.point(c)).collect();
                let (offsets, reaches) = extent(&corners, run.line);
                let close = offsets.0 <= reach && offsets.1 >= -reach;
                if close && reaches.0 <= run.high + past && reaches.1 >= run.low - past {
                    class.near[side].push(i as u32);
                }
            }
        }
    }

    /// All seams within a work, for pictures.
    pub(crate) fn seams_in(&mut self, root: usize) -> Vec<Segment> {
        let view = View::of(root);
        let mut all = Vec::new();
        for part in self.members[root].clone() {
            let Some((motion, _)) = self.lies(self.parts[part].node, &view) else {
                continue;
            };
            all.extend(self.parts[part].class.inner.iter().map(|s| Segment {
                from: motion.point(s.from),
                to: motion.point(s.to),
            }));
        }
        let opened: Vec<(usize, Segment)> = self
            .seams
            .iter()
            .filter(|(slot, _)| matches!(self.slots.get(slot), Some((crate::work::Birth::Other, _))))
            .flat_map(|(_, seams)| seams.iter().flatten().copied())
            .collect();
        let begun: Vec<(usize, Segment)> = self.begun.iter().map(|b| (b.node, b.segment())).collect();
        let bowed = self.bowed_seams.clone();
        for (node, s) in opened.into_iter().chain(begun).chain(bowed) {
            if let Some((motion, _)) = self.lies(node, &view) {
                all.push(Segment {
                    from: motion.point(s.from),
                    to: motion.point(s.to),
                });
            }
        }
        all
    }

    /// New face numbers for pieces joined into one face, now or in a part.
    fn face_numbers(&self, parts: &[usize]) -> FaceNumbers {
        let mut numbers = FaceNumbers::default();
        let mut links: Vec<u32> = vec![0];
        let mut fresh = || {
            links.push(links.len() as u32);
            links.len() as u32 - 1
        };
        for &part in parts {
            let group = numbers.groups.entry(part).or_default();
            for placed in self.parts[part].class.pieces.iter().filter(|p| p.face != 0) {
                numbered(group, placed.face, &mut fresh);
            }
        }
        let mut pairs = Vec::new();
        for &(a, b) in &self.joins {
            let mut number = |at: PieceAt| {
                let face = self.parts[at.part].class.pieces[at.piece as usize].face;
                if face == 0 {
                    *numbers.pieces.entry(at).or_insert_with(&mut fresh)
                } else {
                    numbered(numbers.groups.entry(at.part).or_default(), face, &mut fresh)
                }
            };
            pairs.push((number(a), number(b)));
        }
        let root = |links: &[u32], mut n: u32| {
            while links[n as usize] != n {
                n = links[n as usize];
            }
            n
        };
        for (a, b) in pairs {
            let (a, b) = (root(&links, a), root(&links, b));
            links[a.max(b) as usize] = a.min(b);
        }
        numbers.pieces.values_mut().for_each(|n| *n = root(&links, *n));
        let groups = numbers.groups.values_mut().flatten();
        groups.for_each(|n| *n = root(&links, *n));
        numbers
    }

    /// In what two units given by one making differ, if they do.
    fn unlike(&mut self, a: &(Class, Vec<Run>), b: &(Class, Vec<Run>)) -> Outcome<Option<String>> {
        let curved = a.1.iter().chain(&b.1).any(Run::is_curve);
        // By the longest side, straight from where it begins to where it ends.
        let straight = |run: &Run| {
            let (first, last) = run.edges.first().zip(run.edges.last())?;
            Line::between(first.from, last.to).map(|line| (line, first.from.distance(last.to)))
        };
        let lengths: Vec<f64> = a.1.iter().map(|run| straight(run).map_or(0.0, |s| s.1)).collect();
        let most = lengths.iter().copied().fold(0.0, f64::max);
        let longest = lengths.iter().position(|&length| length >= most - TOLERANCE);
        let Some(k) = longest.filter(|_| a.1.len() == b.1.len()) else {
            return Ok(Some(
                "Two units of one making have not the same number of sides.".into(),
            ));
        };
        let at = |run: &Run| straight(run).map_or(run.line, |s| s.0);
        let motion = Motion::line_to_line(at(&b.1[k]), at(&a.1[k]), false);
        // Of a unit with no hollow corner the finished outline shows what must be alike exactly.
        let finished: Vec<Line> = a.1.iter().map(|run| run.line.moved_left(self.seam)).collect();
        let round: Vec<Point> = a.1.iter().filter_map(|r| Some(r.edges.first()?.from)).collect();
        let convex = !curved && Polygon::new(round).is_convex(TOLERANCE);
        let shared = if convex {
            SHARED * self.seam + TOLERANCE
        } else {
            TOLERANCE
        };
        let inside = |outline: &Polygon| finished.iter().fold(outline.clone(), |o, &line| o.left_of(line));
        let same = |one: &Polygon, other: &Polygon| {
            if !convex {
                return one.difference(other) <= TOLERANCE;
            }
            let (within, beside) = (inside(one), inside(other));
            let alike = match (is_sliver(&within), is_sliver(&beside)) {
                (false, false) => within.difference(&beside) <= TOLERANCE,
                (one, other) => one == other,
            };
            alike && one.difference(other) <= shared
        };
        for (i, (one, other)) in a.1.iter().zip(&b.1).enumerate() {
            // Where along a side one piece meets the next may differ in the allowance, but not where the side ends.
            let last = one.edges.len().saturating_sub(1);
            let unlike = one.edges.iter().zip(&other.edges).enumerate().any(|(k, (e, f))| {
                let apart = [motion.point(f.from).distance(e.from), motion.point(f.to).distance(e.to)];
                let allowed = [k == 0, k == last].map(|at_end| if at_end { TOLERANCE } else { shared });
                apart
                    .iter()
                    .zip(allowed)
                    .any(|(&apart, allowed)| beyond(apart, allowed))
            });
            if one.edges.len() != other.edges.len() || unlike {
                return Ok(Some(format!("Two units of one making differ along side {}.", i + 1)));
            }
        }
        // A seam may turn only where one stopped, so both must have their stops alike.
        let lacks = |some: &[Point], others: &[Point], carry: &dyn Fn(Point) -> Point| {
            some.iter()
                .any(|&s| others.iter().all(|&o| carry(s).distance(o) > TOLERANCE))
        };
        let back = motion.inverse();
        if lacks(&b.0.stops, &a.0.stops, &|p| motion.point(p)) || lacks(&a.0.stops, &b.0.stops, &|p| back.point(p)) {
            return Ok(Some(
                "In two units of one making the seams do not stop in the same places.".into(),
            ));
        }
        // Every piece of the one must lie where a like piece of the other lies.
        let (ours, theirs) = (&a.0.pieces, &b.0.pieces);
        self.spend(ours.len().saturating_mul(theirs.len()))?;
        let mut free: Vec<&Placed> = theirs.iter().collect();
        for placed in ours {
            let shape = placed.motion.polygon(&placed.cloth.polygon());
            let up = placed.motion.vector(placed.cloth.up);
            let found = free.iter().position(|other| {
                let carried = other.motion.then(&motion);
                other.cloth.kind == placed.cloth.kind
                    && same(&shape, &carried.polygon(&other.cloth.polygon()))
                    && self.up_agrees(placed.cloth.kind, up, carried.vector(other.cloth.up))
                    && alike(
                        (&placed.cloth, &placed.motion),
                        (&other.cloth, &carried),
                        |kind, a, b| self.up_agrees(kind, a, b),
                    )
            });
            match found {
                Some(i) => drop(free.swap_remove(i)),
                None => return Ok(Some("Two units of one making differ in a piece or its print.".into())),
            }
        }
        Ok((!free.is_empty()).then(|| "Two units of one making differ in their pieces.".into()))
    }

    fn up_agrees(&self, kind: usize, a: Vector, b: Vector) -> bool {
        match self.prints.get(kind).copied().unwrap_or_default() {
            PrintNote::None => true,
            PrintNote::TwoWay => a.dot(b).abs() >= UP_AGREES,
            PrintNote::OneWay => a.dot(b) >= UP_AGREES,
        }
    }

    /// Does a finish step.
    pub(crate) fn finish(&mut self, slot: Slot, sides: &[EdgeRun], up: u32, seam: Size) -> Outcome<Top> {
        let view = View::of(self.work(slot)?);
        self.closed(view.lower)?;
        self.no_card_in(view.lower)?;
        self.all_down(view.lower)?;
        let seam = self.positive(seam)?;
        let runs = self.sides(sides, &view)?;
        for run in &runs {
            self.straight(run, "a side of the top")?;
        }
        let Some(upper) = runs.get(up as usize) else {
            return Err(self.bad("The top has no such upper side.", "Name one of its sides."));
        };
        let class = self.flatten(view.lower, &runs)?;
        let left = Line {
            through: Point::ORIGIN,
            along: Vector::new(-1.0, 0.0),
        };
        let turn = Motion::line_to_line(upper.line, left, false);
        let lines: Vec<Line> = runs.iter().map(|r| turn.line(r.line).moved_left(seam)).collect();
        let mut corners = Vec::new();
        for i in 0..lines.len() {
            let before = lines[(i + lines.len() - 1) % lines.len()];
            corners.push(self.cross(before, lines[i])?);
        }
        let outline = Polygon::new(corners);
        let (low, _) = outline.bounds();
        let to_origin = Motion::slide(Point::ORIGIN - low);
        let outline = to_origin.polygon(&outline);
        let motion = turn.then(&to_origin);
        let lines: Vec<Line> = lines.iter().map(|&l| to_origin.line(l)).collect();
        let convex = outline.is_convex(1.0e-6);
        let near: Vec<std::collections::BTreeSet<u32>> =
            class.near.iter().map(|n| n.iter().copied().collect()).collect();
        let fresh = Edge::fresh(Name::Loose, Some(self.action));
        let mut top = Top {
            outline,
            faces: Vec::with_capacity(class.pieces.len()),
            joined: Vec::new(),
            carried: Carried::default(),
        };
        let mut groups: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        'pieces: for (i, placed) in class.pieces.iter().enumerate() {
            let motion = placed.motion.then(&motion);
            let mut cloth = placed.cloth.clone();
            for (side, &line) in lines.iter().enumerate() {
                // Round a concave top only what lies at a side can be cut off along it.
                if convex || near[side].contains(&(i as u32)) {
                    let line = onto_piece(line, &motion);
                    self.stays_whole(&cloth, line)?;
                    match cloth.keep_left(line, fresh) {
                        Left::Whole => {}
                        Left::Nothing => continue 'pieces,
                        Left::Part(part) => cloth = Rc::new(part),
                    }
                }
            }
            top.carried.add(&cloth, &motion);
            if placed.face != 0 {
                groups.entry(placed.face).or_default().push(top.faces.len());
            }
            top.faces.push(TopPiece {
                shown: motion.polygon(&cloth.polygon()),
                edges: cloth.edges.clone(),
                kind: cloth.kind,
                up: motion.vector(cloth.up),
                taken: cloth.taken,
                joined: placed.face != 0,
            });
        }
        top.joined = groups.into_values().collect();
        self.held();
        self.use_up(slot);
        Ok(top)
    }
}

/// Whether two sides of which one is folded over cards meet where those cards' corners do: beside it the other's fold runs
/// on through its allowance.
fn meet_folded(before: &Run, after: &Run) -> bool {
    let (Some(last), Some(first)) = (before.edges.last(), after.edges.first()) else {
        return false;
    };
    let finished = last.finished[1].zip(first.finished[0]);
    (last.over || first.over) && finished.is_some_and(|(a, b)| !beyond(a.distance(b), TOLERANCE))
}

#[derive(Default)]
struct FaceNumbers {
    pieces: BTreeMap<PieceAt, u32>,
    /// For each part the new number at the place of the old; 0 where there is none.
    groups: BTreeMap<usize, Vec<u32>>,
}

/// The new number of an old one, given now if it had none.
fn numbered(group: &mut Vec<u32>, old: u32, fresh: &mut impl FnMut() -> u32) -> u32 {
    let at = old as usize;
    if group.len() <= at {
        group.resize(at + 1, 0);
    }
    if group[at] == 0 {
        group[at] = fresh();
    }
    group[at]
}
