//! Hollow pieces: a line may cross them more than once, so that what lies beyond it comes in parts.

use crate::piece::{Cloth, Edge, Left, Name, ON_LINE, onto_piece, stretch};
use crate::sew::LONGEST_TIP;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE};
use crate::work::{PieceAt, View};
use shape::{Line, Motion, Point, Polygon};
use std::rc::Rc;
use terms::Finding;

/// A stretch of an outline that lies beyond a line (to its right), from where it leaves to where it comes back.
pub(crate) struct Part {
    /// Its corners beyond the line, by number, in order.
    pub(crate) corners: Vec<usize>,
    /// Where it leaves and comes back, along the line.
    from: f64,
    to: f64,
    /// Those places, and whether each is a corner of the outline itself.
    ends: [(Point, bool); 2],
}

impl Part {
    /// Whether cloth lies between it and the line; else it is the far side of a bay.
    pub(crate) fn is_cloth(&self) -> bool {
        self.to >= self.from
    }

    /// How far a place is from it.
    pub(crate) fn distance_to(&self, of: &Cloth, p: Point) -> f64 {
        let [first, last] = self.ends.map(|(p, _)| p);
        let inner = self.corners.iter().map(|&k| of.corners[k]);
        let outline: Vec<Point> = std::iter::once(first).chain(inner).chain([last]).collect();
        if holds(&outline, p) {
            return 0.0;
        }
        Polygon::new(outline).distance_to_boundary(p)
    }
}

impl Cloth {
    /// The stretches of its outline beyond a line; none where nothing or all of it is.
    pub(crate) fn parts_beyond(&self, line: Line) -> Vec<Part> {
        let n = self.corners.len();
        let offsets: Vec<f64> = self.corners.iter().map(|&c| line.offset_of(c)).collect();
        let right = |i: usize| offsets[i % n] < -ON_LINE;
        // Where the line crosses edge `i`, the corner of which on the left is `inner`.
        let end = |i: usize, inner: usize| {
            let (a, b) = (offsets[i % n], offsets[(i + 1) % n]);
            let on = offsets[inner % n] <= ON_LINE;
            let crossing = || self.corners[i % n].toward(self.corners[(i + 1) % n], a / (a - b));
            (if on { self.corners[inner % n] } else { crossing() }, on)
        };
        let mut parts = Vec::new();
        for i in (0..n).filter(|&i| !right(i) && right(i + 1)) {
            let corners: Vec<usize> = (i + 1..i + n).take_while(|&k| right(k)).map(|k| k % n).collect();
            let last = i + corners.len();
            let ends = [end(i, i), end(last, last + 1)];
            let [from, to] = ends.map(|(p, _)| line.reach_of(p));
            parts.push(Part {
                corners,
                from,
                to,
                ends,
            });
        }
        parts
    }

    /// Whether without all that lies beyond a line it would be in two parts.
    pub(crate) fn falls_apart(&self, line: Line) -> bool {
        // Seen from the other side, each part of what is left lies behind a stretch of its own.
        !self.convex
            && self
                .parts_beyond(line.reversed())
                .iter()
                .filter(|p| p.is_cloth())
                .count()
                > 1
    }

    /// Without those of its parts beyond a line that `goes` names by their corners; `None` when it would fall apart.
    pub(crate) fn without_parts(&self, line: Line, fresh: Edge, goes: &dyn Fn(&Part) -> bool) -> Option<Left> {
        let n = self.corners.len();
        let parts = self.parts_beyond(line);
        if parts.is_empty() {
            let all = Part {
                corners: (0..n).collect(),
                from: 0.0,
                to: 0.0,
                ends: [(self.corners[0], true); 2],
            };
            let outside = self.corners.iter().any(|&c| line.offset_of(c) < -ON_LINE);
            return Some(if outside && goes(&all) {
                Left::Nothing
            } else {
                Left::Whole
            });
        }
        let going: Vec<&Part> = parts.iter().filter(|p| p.is_cloth() && goes(p)).collect();
        if going.is_empty() {
            return Some(Left::Whole);
        }
        // A bay that reaches into a part from this side of the line divides what would be left.
        let divides = |bay: &Part, part: &Part| !bay.is_cloth() && bay.to > part.from && bay.from < part.to;
        if going.iter().any(|part| parts.iter().any(|bay| divides(bay, part))) {
            return None;
        }
        // In the order of the old outline, so that each edge's straights stay in order.
        let mut kept: Vec<(usize, Point, Edge)> = Vec::new();
        let gone = |k: usize| going.iter().any(|p| p.corners.contains(&k));
        kept.extend(
            (0..n)
                .filter(|&k| !gone(k))
                .map(|k| (2 * k, self.corners[k], self.edges[k])),
        );
        for part in &going {
            let (first, last) = (part.corners[0], part.corners[part.corners.len() - 1]);
            let before = (first + n - 1) % n;
            let [(leaves, at_corner), (returns, on_corner)] = part.ends;
            if at_corner {
                kept.iter_mut().filter(|k| k.0 == 2 * before).for_each(|k| k.2 = fresh);
            } else {
                kept.push((2 * before + 1, leaves, fresh));
            }
            if !on_corner {
                kept.push((2 * last + 1, returns, self.edges[last]));
            }
        }
        kept.sort_by_key(|k| k.0);
        if kept.len() < 3 {
            return Some(Left::Nothing);
        }
        Some(Left::Part(
            self.cut_to(kept.into_iter().map(|(_, p, e)| (p, e)).collect()),
        ))
    }
}

impl Table<'_> {
    /// Folds a piece under along a seam's path: of a hollow one only the parts with a raw edge of the run, or, if none
    /// has one, those near an end of the path.
    pub(crate) fn fold_along(&mut self, at: PieceAt, view: &View, line: Line, ends: (f64, f64)) -> Outcome<()> {
        let fresh = Edge::fresh(Name::Fold, Some(self.action));
        let Some((cloth, motion, _)) = self.piece_in(at, view) else {
            return Ok(());
        };
        let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
        let n = corners.len();
        let near = self.near_enough();
        // At a corner that something is set into, what lies across from an edge may come near to it: all of it lies beyond the stitches
        // and it goes on beyond the allowance, so it is none of what is folded here.
        let across = corners.iter().all(|&c| line.offset_of(c) <= near)
            && corners.iter().any(|&c| line.offset_of(c) < -self.seam - near);
        let of_run = |k: usize| {
            let pair = [corners[k], corners[(k + 1) % n]];
            let [a, b] = pair.map(|c| line.reach_of(c));
            !matches!(cloth.edges[k].name, Name::Fold | Name::Hinge)
                && pair.iter().all(|&c| (line.offset_of(c) + self.seam).abs() <= near)
                && a.max(b).min(ends.1) - a.min(b).max(ends.0) > TOLERANCE
        };
        let runs: Vec<bool> = (0..n).map(of_run).collect();
        if across && !runs.contains(&true) {
            return Ok(());
        }
        if cloth.convex {
            return self.keep_left(at, view, line, fresh);
        }
        let reach = LONGEST_TIP * self.seam;
        let tips = [line.at(ends.0), line.at(ends.1)];
        let back = motion.inverse();
        let goes = |part: &Part| {
            if runs.contains(&true) {
                part.corners.iter().any(|&k| runs[k] || runs[(k + n - 1) % n])
            } else {
                tips.iter().any(|&t| part.distance_to(&cloth, back.point(t)) <= reach)
            }
        };
        let Some(left) = cloth.without_parts(onto_piece(line, &motion), fresh, &goes) else {
            return Err(self.apart());
        };
        let left = match left {
            Left::Whole => return Ok(()),
            Left::Nothing => None,
            Left::Part(part) => Some(Rc::new(part)),
        };
        self.show_folded(&cloth, left.as_deref(), &motion);
        self.parts[at.part].changed.insert(at.piece, left);
        Ok(())
    }

    /// For pictures: what a fold took off a hollow piece, as the old outline with what is left of it cut out.
    pub(crate) fn show_folded(&mut self, before: &Cloth, after: Option<&Cloth>, motion: &Motion) {
        if !self.filming {
            return;
        }
        match after {
            None => self.waste.push(motion.polygon(&before.polygon())),
            Some(after) => {
                // Each fold, with the old corners that lay beyond it.
                let stays: Vec<Point> = after.corners.clone();
                let n = before.corners.len();
                let gone = |k: usize| !stays.contains(&before.corners[k % n]);
                for start in (0..n).filter(|&k| !gone(k) && gone(k + 1)) {
                    let mut round: Vec<Point> = (start..start + n + 1)
                        .take_while(|&k| k == start || gone(k))
                        .map(|k| before.corners[k % n])
                        .collect();
                    round.push(before.corners[(start + round.len()) % n]);
                    self.waste.push(motion.polygon(&Polygon::new(round)));
                }
            }
        }
    }

    /// What is said of a hollow piece that would be parted.
    pub(crate) fn apart(&self) -> Box<Finding> {
        let sentence = "A hollow piece would fall into two parts.";
        self.refuse("piece-falls-apart", sentence, "Sew or cut it otherwise.")
    }

    /// The stretches of a line within a piece, along it in a view.
    pub(crate) fn stretches_in(&mut self, at: PieceAt, view: &View, line: Line) -> Vec<(f64, f64)> {
        let Some((cloth, motion, _)) = self.piece_in(at, view) else {
            return Vec::new();
        };
        let corners: Vec<Point> = cloth.corners.iter().map(|&c| motion.point(c)).collect();
        stretches(&corners, cloth.convex, line)
    }
}

/// The stretches of a line within an outline of any shape, as reaches along it in order.
pub(crate) fn stretches(corners: &[Point], convex: bool, line: Line) -> Vec<(f64, f64)> {
    if convex {
        return stretch(corners, line).into_iter().collect();
    }
    // A hair inside, so that an edge along the line counts as a whole.
    let line = line.moved_left(1.0e-7);
    let mut crossings: Vec<f64> = Vec::new();
    for (i, &a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let (da, db) = (line.offset_of(a), line.offset_of(b));
        if (da > 0.0) != (db > 0.0) {
            crossings.push(line.reach_of(a.toward(b, da / (da - db))));
        }
    }
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Whether a place lies within an outline of any shape.
pub(crate) fn holds(corners: &[Point], p: Point) -> bool {
    let mut inside = false;
    for (i, &a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;
    use shape::Vector;

    /// A comb of two teeth: 5 wide, 1 high at its back, the teeth 2 further up, from 0 to 2 and from 3 to 5.
    fn comb() -> Cloth {
        let corners = [
            (0., 0.),
            (5., 0.),
            (5., 3.),
            (3., 3.),
            (3., 1.),
            (2., 1.),
            (2., 3.),
            (0., 3.),
        ];
        let named = |edge| Edge::fresh(Name::Born { owner: 1, edge }, None);
        let outline = (0..).zip(corners).map(|(i, (x, y))| (Point::new(x, y), named(i)));
        Cloth::new(outline.collect(), 0, Vector::new(0.0, 1.0))
    }

    fn up_to(y: f64) -> Line {
        Line {
            through: Point::new(0.0, y),
            along: Vector::new(-1.0, 0.0),
        }
    }

    #[test]
    fn one_tooth_goes_alone() {
        // derived: the back 5, a tooth 2 x 2, and half the other left
        let comb = comb();
        let line = up_to(2.0);
        let fold = Edge::fresh(Name::Fold, None);
        let right = |part: &Part| part.corners.iter().all(|&k| comb.corners[k].x >= 3.0);
        let Some(Left::Part(left)) = comb.without_parts(line, fold, &right) else {
            panic!("a tooth goes");
        };
        assert!((left.polygon().signed_area() - (5.0 + 4.0 + 2.0)).abs() < 1e-12);
        assert_eq!(left.edges.iter().filter(|e| e.name == Name::Fold).count(), 1);
        assert!(!comb.falls_apart(line));
        // without its back it would be two teeth
        assert!(comb.falls_apart(up_to(2.0).reversed()));
        let all = |_: &Part| true;
        assert!(comb.without_parts(up_to(2.0).reversed(), fold, &all).is_none());
    }

    #[test]
    fn a_line_runs_through_both_teeth() {
        let found = stretches(&comb().corners, false, up_to(2.0));
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|(from, to)| (to - from - 2.0).abs() < 1e-9));
    }
}
