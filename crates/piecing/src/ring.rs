//! The ring round some faces of a block, vertex by vertex, whether convex or hollow.

use crate::bow::goes_on;
use crate::tokens::BlockTokens;
use shape::{Point, Polygon, Vector, WELD};
use std::collections::BTreeMap;

/// One stretch of a ring: from its vertex to the next one's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The vertex of the drawing where it begins.
    pub vertex: usize,
    /// Where that is.
    pub from: Point,
    /// The face beyond it; `None` on the block's outside.
    pub beyond: Option<usize>,
    /// One of the straights of a curve.
    pub curved: bool,
}

/// The outline of a set of faces, cloth on the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// In order round.
    pub stretches: Vec<Stretch>,
}

/// How an outline goes on at a vertex.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bend {
    /// Straight on.
    None,
    /// Round a corner that sticks out.
    Out,
    /// Into a hollow corner.
    In,
}

impl Ring {
    /// Round these faces (in order of number); `None` when they do not hang together in one piece without a hole or a
    /// pinch.
    pub fn of(block: &BlockTokens, faces: &[usize]) -> Option<Self> {
        let within = |face: usize| faces.binary_search(&face).is_ok();
        let mut next: BTreeMap<usize, (Stretch, usize)> = BTreeMap::new();
        for &face in faces {
            let edges = &block.tokens[face].edges;
            for (i, edge) in edges.iter().enumerate() {
                if edge.neighbour.is_some_and(within) {
                    continue;
                }
                let stretch = Stretch {
                    vertex: edge.vertex,
                    from: edge.from,
                    beyond: edge.neighbour,
                    curved: edge.curved,
                };
                let onward = edges[(i + 1) % edges.len()].vertex;
                if next.insert(edge.vertex, (stretch, onward)).is_some() {
                    return None;
                }
            }
        }
        let (&first, _) = next.iter().next()?;
        let mut stretches = Vec::with_capacity(next.len());
        let mut at = first;
        loop {
            let &(stretch, onward) = next.get(&at)?;
            stretches.push(stretch);
            at = onward;
            if at == first {
                break;
            }
            if stretches.len() > next.len() {
                return None;
            }
        }
        (stretches.len() == next.len()).then_some(Ring { stretches })
    }

    /// How many stretches, and so vertices.
    pub fn len(&self) -> usize {
        self.stretches.len()
    }

    /// Where vertex `i` is, counted round.
    pub fn point(&self, i: usize) -> Point {
        self.stretches[i % self.len()].from
    }

    /// How the ring goes on at vertex `i`. What a weld can turn is straight.
    pub fn bend(&self, i: usize) -> Bend {
        let n = self.len();
        let (before, here, after) = (self.point(i + n - 1), self.point(i), self.point(i + 1));
        if (self.curved(i) || self.curved(i + n - 1)) && goes_on(here - before, after - here) {
            return Bend::None;
        }
        bend(here - before, after - here)
    }

    /// Whether the stretch from vertex `i` is one of the straights of a curve.
    pub fn curved(&self, i: usize) -> bool {
        self.stretches[i % self.len()].curved
    }

    /// Whether a side ends at vertex `i`: at a corner, or where a straight side goes over into a curve.
    pub fn is_corner(&self, i: usize) -> bool {
        let n = self.len();
        self.bend(i) != Bend::None || self.curved(i) != self.curved(i + n - 1)
    }

    /// The outline with its true corners.
    pub fn outline(&self) -> Polygon {
        Polygon::new(self.kept().map(|i| self.point(i)).collect())
    }

    /// For each straight of the outline whether it is one of a curve's.
    pub fn bows(&self) -> Vec<bool> {
        self.kept().map(|i| self.curved(i)).collect()
    }

    /// The vertices of the outline: true corners, and all places of a curve.
    fn kept(&self) -> impl Iterator<Item = usize> + '_ {
        let n = self.len();
        (0..n).filter(move |&i| self.is_corner(i) || self.curved(i) || self.curved(i + n - 1))
    }

    /// How many hollow corners it has.
    pub fn hollows(&self) -> usize {
        (0..self.len()).filter(|&i| self.bend(i) == Bend::In).count()
    }
}

/// How a line that came along `u` goes on along `v`.
pub fn bend(u: Vector, v: Vector) -> Bend {
    let (Some(u1), Some(v1)) = (u.unit(), v.unit()) else {
        return Bend::None;
    };
    let sine = u1.cross(v1);
    // The same measure of straightness as for the chains of a drawing: a weld at the shorter one's end.
    if u1.dot(v1) > 0.0 && sine.abs() * u.length().min(v.length()) <= WELD {
        Bend::None
    } else if sine > 0.0 {
        Bend::Out
    } else {
        Bend::In
    }
}
