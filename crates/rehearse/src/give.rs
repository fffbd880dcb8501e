//! The end of a making: a finished work is flattened into a class of units, its sides named, or the top's outline drawn.

use crate::piece::{Cloth, extent};
use crate::resolve::Run;
use crate::scene::Segment;
use crate::table::{MOST_PIECES, Table};
use crate::words::{Outcome, TOLERANCE};
use crate::work::{Class, PieceAt, Placed, View};
use recipe::Give;
use shape::Point;
use std::collections::BTreeMap;
use std::rc::Rc;

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

    pub(crate) fn flatten(&mut self, root: usize, runs: &[Run]) -> Outcome<Class> {
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
