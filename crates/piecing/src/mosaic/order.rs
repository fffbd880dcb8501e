//! The order of whipping: patch to patch, so that each is joined along one connected run of edges, from corner to corner.
//!
//! Small mosaics grow from the middle, round after round (a flower: centre, then one petal after another); large ones are
//! whipped in rows, and each row to those before it. After each round and each row the cards whose sides are all sewn
//! come out.

use super::faces::{Patches, SideOf};
use shape::Point;
use std::collections::{BTreeMap, BTreeSet};

/// Mosaics of more parts are whipped in rows where they lie in rows.
const ROUNDS: usize = 40;

/// Middles that differ by less lie in one row, inches.
const ROW: f64 = 0.02;

/// Middles tried before an order is given up.
const STARTS: usize = 8;

/// A run of sides of the one work and a run of the other that lie together; each in its own order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Of the work in hand.
    pub a: Vec<SideOf>,
    /// Of what is joined to it.
    pub b: Vec<SideOf>,
}

/// One thing done.
#[derive(Clone, Debug)]
pub enum Deed {
    /// Parts are basted, or taken up.
    Bring(Vec<usize>),
    /// The work that holds the first part takes the one that holds the other.
    Join {
        /// A part of the work in hand.
        a: usize,
        /// A part of what is joined to it.
        b: usize,
        /// The edges, in order along the first.
        pairs: Vec<Pair>,
    },
    /// Cards whose sides are all sewn come out of the work that holds this part.
    TakeOut(usize),
}

/// Some patches on the way, and the vertices on or within their rim.
#[derive(Clone, Debug, Default)]
struct Work {
    faces: BTreeSet<usize>,
    vertices: BTreeSet<usize>,
}

/// Parts of a mosaic, each some patches already in one piece.
pub struct Parts<'a> {
    /// The patches.
    pub patches: &'a Patches,
    /// For each part its patches.
    pub faces: Vec<Vec<usize>>,
}

impl Parts<'_> {
    fn work(&self, part: usize) -> Work {
        let mut work = Work::default();
        self.add(&mut work, &self.faces[part]);
        work
    }

    fn add(&self, work: &mut Work, faces: &[usize]) {
        for face in faces {
            work.faces.insert(*face);
            if let Some(patch) = self.patches.all.get(face) {
                work.vertices.extend(patch.edges.iter().map(|e| e.from));
            }
        }
    }

    /// The edges along which a work can be whipped to another in one connected run; `None` if it cannot be.
    fn joint(&self, work: &Work, other: &Work) -> Option<Vec<Pair>> {
        let rim = self.patches.rim(&other.faces)?;
        let n = rim.len();
        let on = |i: usize| rim[i % n].edge.beyond.is_some_and(|f| work.faces.contains(&f));
        let begin = (0..n).find(|&i| on(i) && !on(i + n - 1))?;
        let count = (0..n).take_while(|&k| on(begin + k)).count();
        // One run only, and elsewhere not so much as a corner in common: else a hole would be closed in.
        if (count..n).any(|k| on(begin + k)) {
            return None;
        }
        if (count + 1..n).any(|k| work.vertices.contains(&rim[(begin + k) % n].edge.from)) {
            return None;
        }
        // Along the work the edges come in the other order.
        let mut shared = Vec::with_capacity(count);
        for k in (0..count).rev() {
            let theirs = rim[(begin + k) % n];
            let face = theirs.edge.beyond?;
            let ours = (self.patches.all.get(&face)?.edges.iter())
                .find(|e| e.from == theirs.edge.to && e.beyond == Some(theirs.face))?;
            shared.push(((face, ours.side), (theirs.face, theirs.edge.side), theirs.edge.to));
        }
        let mut pairs: Vec<Pair> = Vec::new();
        for (i, &(a, b, vertex)) in shared.iter().enumerate() {
            let before = i.checked_sub(1).map(|j| shared[j]);
            // A pair ends where both have a corner; where only one has, the run goes on straight.
            let goes_on = before.is_some_and(|(a0, b0, _)| a0 == a || b0 == b);
            match pairs.last_mut() {
                Some(pair) if goes_on => {
                    if pair.a.last() != Some(&a) {
                        pair.a.push(a);
                    }
                    // Their own order runs against ours.
                    if pair.b.first() != Some(&b) {
                        pair.b.insert(0, b);
                    }
                }
                _ => pairs.push(Pair { a: vec![a], b: vec![b] }),
            }
            let ends = i == 0 && !self.both_turn(a, b, vertex);
            if ends {
                return None;
            }
        }
        let &(a, b, _) = shared.last()?;
        self.both_turn(a, b, rim[begin].edge.from).then_some(pairs)
    }

    /// Whether a vertex is a corner of both patches: only from corner to corner can be whipped.
    fn both_turn(&self, a: SideOf, b: SideOf, vertex: usize) -> bool {
        let turns = |(face, _): SideOf| self.patches.all.get(&face).is_some_and(|p| p.has_corner(vertex));
        turns(a) && turns(b)
    }

    /// The parts that share an edge with each part.
    fn beside(&self) -> Vec<BTreeSet<usize>> {
        let mut part_of: BTreeMap<usize, usize> = BTreeMap::new();
        for (part, faces) in self.faces.iter().enumerate() {
            part_of.extend(faces.iter().map(|&f| (f, part)));
        }
        let beside = |part: usize| {
            let near = self.faces[part].iter().flat_map(|&f| self.patches.beside(f));
            near.filter_map(|f| part_of.get(&f).copied())
                .filter(|&p| p != part)
                .collect()
        };
        (0..self.faces.len()).map(beside).collect()
    }

    fn middle(&self, part: usize) -> Point {
        let faces = &self.faces[part];
        let count = faces.len().max(1) as f64;
        let sum = faces.iter().fold((0.0, 0.0), |s, &f| {
            let m = self.patches.middle(f);
            (s.0 + m.x, s.1 + m.y)
        });
        Point::new(sum.0 / count, sum.1 / count)
    }

    /// The order in which all parts come together.
    ///
    /// # Errors
    /// A patch that cannot be joined, when none of the orders tried ends in one piece.
    pub fn order(&self) -> Result<Vec<Deed>, usize> {
        let count = self.faces.len();
        if count > ROUNDS {
            for down in [true, false] {
                if let Some(deeds) = self.in_rows(down) {
                    return Ok(deeds);
                }
            }
        }
        let beside = self.beside();
        let mut low = Point::new(f64::INFINITY, f64::INFINITY);
        let mut high = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        for m in (0..count).map(|part| self.middle(part)) {
            low = Point::new(low.x.min(m.x), low.y.min(m.y));
            high = Point::new(high.x.max(m.x), high.y.max(m.y));
        }
        let middle = low.toward(high, 0.5);
        let mut starts: Vec<usize> = (0..count).collect();
        // Of those as near the middle the first; what drawing and turning add to a distance is no difference.
        let near = |part: usize| (self.middle(part).distance(middle) * 1.0e3).round() as i64;
        starts.sort_by_key(|&part| near(part));
        let mut stuck = 0;
        for &start in starts.iter().take(STARTS) {
            match self.in_rounds(start, &beside) {
                Ok(deeds) => return Ok(deeds),
                Err(part) => stuck = part,
            }
        }
        Err(self.faces[stuck].first().copied().unwrap_or(0))
    }

    /// Round after round about a part; the part at which it gets stuck.
    fn in_rounds(&self, start: usize, beside: &[BTreeSet<usize>]) -> Result<Vec<Deed>, usize> {
        let mut work = self.work(start);
        let mut deeds = vec![Deed::Bring(vec![start])];
        let mut done = BTreeSet::from([start]);
        let mut last = start;
        let mut waiting: BTreeSet<usize> = BTreeSet::new();
        while done.len() < self.faces.len() {
            let next: BTreeSet<usize> = (done.iter().flat_map(|&p| beside[p].iter().copied()))
                .filter(|p| !done.contains(p))
                .collect();
            let round: BTreeSet<usize> = next.union(&waiting).copied().collect();
            let mut left = round;
            let mut joins = Vec::new();
            let mut brought = Vec::new();
            loop {
                let mut by_nearness: Vec<usize> = left.iter().copied().collect();
                // Going round: what lies beside the last one first.
                by_nearness.sort_by_key(|p| (!beside[last].contains(p), *p));
                let found = by_nearness.into_iter().find_map(|p| {
                    let other = self.work(p);
                    Some((p, self.joint(&work, &other)?))
                });
                let Some((part, pairs)) = found else { break };
                left.remove(&part);
                self.add(&mut work, &self.faces[part]);
                done.insert(part);
                brought.push(part);
                last = part;
                let (a, b) = (start, part);
                joins.push(Deed::Join { a, b, pairs });
            }
            if brought.is_empty() {
                return Err(left.first().copied().unwrap_or(start));
            }
            waiting = left;
            deeds.push(Deed::Bring(brought));
            deeds.append(&mut joins);
            deeds.push(Deed::TakeOut(start));
        }
        Ok(deeds)
    }

    /// Row by row, from above or from the left; `None` where the parts do not lie so.
    fn in_rows(&self, down: bool) -> Option<Vec<Deed>> {
        let beside = self.beside();
        let place = |part: usize| {
            let m = self.middle(part);
            if down { (-m.y, m.x) } else { (m.x, -m.y) }
        };
        let mut order: Vec<usize> = (0..self.faces.len()).collect();
        order.sort_by(|&p, &q| place(p).0.total_cmp(&place(q).0));
        let mut rows: Vec<Vec<usize>> = Vec::new();
        for part in order {
            match rows.last_mut() {
                Some(row) if place(part).0 - place(row[row.len() - 1]).0 < ROW => row.push(part),
                _ => rows.push(vec![part]),
            }
        }
        let mut pieces: Vec<Vec<usize>> = Vec::new();
        for row in &mut rows {
            row.sort_by(|&p, &q| place(p).1.total_cmp(&place(q).1));
            for &part in row.iter() {
                match pieces.last_mut() {
                    Some(piece) if beside[piece[piece.len() - 1]].contains(&part) => piece.push(part),
                    _ => pieces.push(vec![part]),
                }
            }
        }
        // Rows that fall into many short pieces are none.
        if pieces.len() * 3 > self.faces.len() {
            return None;
        }
        let mut made: Vec<(Work, Vec<Deed>)> = Vec::new();
        for piece in &pieces {
            let mut work = self.work(piece[0]);
            let mut deeds = vec![Deed::Bring(piece.clone())];
            for &part in &piece[1..] {
                let pairs = self.joint(&work, &self.work(part))?;
                self.add(&mut work, &self.faces[part]);
                let (a, b) = (piece[0], part);
                deeds.push(Deed::Join { a, b, pairs });
            }
            made.push((work, deeds));
        }
        let first = pieces[0][0];
        let (mut whole, mut deeds) = made[0].clone();
        let mut left: Vec<usize> = (1..pieces.len()).collect();
        while !left.is_empty() {
            let found = left
                .iter()
                .enumerate()
                .find_map(|(i, &p)| Some((i, p, self.joint(&whole, &made[p].0)?)));
            let (i, p, pairs) = found?;
            left.remove(i);
            deeds.extend(made[p].1.iter().cloned());
            let (a, b) = (first, pieces[p][0]);
            deeds.push(Deed::Join { a, b, pairs });
            let faces: Vec<usize> = made[p].0.faces.iter().copied().collect();
            self.add(&mut whole, &faces);
            deeds.push(Deed::TakeOut(first));
        }
        Some(deeds)
    }
}
