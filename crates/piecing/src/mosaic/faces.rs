//! The patches of a mosaic: their sides, which of them lie on its outer edge, and what shares which edge.

use crate::tokens::{BlockTokens, Content};
use shape::{Point, Polygon, Vector, WELD};
use std::collections::{BTreeMap, BTreeSet};

/// A side of a patch: the patch and its side's number.
pub type SideOf = (usize, usize);

/// One edge of a patch, from one vertex of the drawing to the next.
#[derive(Clone, Copy, Debug)]
pub struct PatchEdge {
    /// Where it begins.
    pub from: usize,
    /// Where it ends.
    pub to: usize,
    /// The patch beyond it; `None` on the mosaic's outer edge.
    pub beyond: Option<usize>,
    /// The side of the patch it is part of.
    pub side: usize,
}

/// One patch.
#[derive(Clone, Debug)]
pub struct Patch {
    /// Its finished outline.
    pub outline: Polygon,
    /// For each side whether it lies on the outer edge.
    pub flat: Vec<bool>,
    /// Its edges in order round.
    pub edges: Vec<PatchEdge>,
    /// The vertices that are its corners.
    corners: BTreeSet<usize>,
}

impl Patch {
    /// Whether a vertex is a corner of it, not only a place along a side.
    pub fn has_corner(&self, vertex: usize) -> bool {
        self.corners.contains(&vertex)
    }
}

/// All patches of a mosaic, by the number of their face.
#[derive(Clone, Debug)]
pub struct Patches {
    /// In order of number.
    pub all: BTreeMap<usize, Patch>,
}

/// One edge round some patches.
#[derive(Clone, Copy, Debug)]
pub struct RimEdge {
    /// The patch it belongs to.
    pub face: usize,
    /// The edge.
    pub edge: PatchEdge,
}

impl Patches {
    /// The patches among some faces of a block.
    ///
    /// # Errors
    /// Why they cannot be basted over cards, in a maker's words.
    pub fn of(block: &BlockTokens, faces: &[usize]) -> Result<Self, String> {
        let mut all = BTreeMap::new();
        for &face in faces {
            let token = &block.tokens[face];
            let Content::Patch { patch, .. } = &token.content else {
                return Err("whole blocks are placed in it, and only single patches are basted over cards".into());
            };
            let number = patch + 1;
            let outline = token.outline.clone();
            if !outline.is_convex(1.0e-9) {
                return Err(format!(
                    "a corner of patch {number} points inward, and no cloth folds over that"
                ));
            }
            let n = outline.len();
            let mut edges = Vec::with_capacity(token.edges.len());
            for (i, edge) in token.edges.iter().enumerate() {
                let onward = &token.edges[(i + 1) % token.edges.len()];
                let side = side_along(&outline, edge.from, onward.from);
                let side = side.ok_or_else(|| format!("the outline of patch {number} is not quite straight"))?;
                edges.push(PatchEdge {
                    from: edge.vertex,
                    to: onward.vertex,
                    beyond: edge.neighbour.filter(|f| faces.binary_search(f).is_ok()),
                    side,
                });
            }
            let mut flat = vec![false; n];
            let mut folded = vec![false; n];
            for edge in &edges {
                flat[edge.side] |= edge.beyond.is_none();
                folded[edge.side] |= edge.beyond.is_some();
            }
            if (0..n).any(|i| flat[i] && folded[i]) {
                return Err(format!("a side of patch {number} lies on the outer edge in part only"));
            }
            if !folded.contains(&true) {
                return Err(format!("patch {number} has no neighbour to be whipped to"));
            }
            let is_corner = |p: Point| (0..n).any(|i| outline.corner(i).distance(p) < WELD);
            let corners = token
                .edges
                .iter()
                .filter(|e| is_corner(e.from))
                .map(|e| e.vertex)
                .collect();
            all.insert(
                face,
                Patch {
                    outline,
                    flat,
                    edges,
                    corners,
                },
            );
        }
        Ok(Patches { all })
    }

    /// The edges round some patches that hang together in one piece without a hole or a pinch, cloth on the left; `None`
    /// when they do not.
    pub fn rim(&self, faces: &BTreeSet<usize>) -> Option<Vec<RimEdge>> {
        let mut next: BTreeMap<usize, RimEdge> = BTreeMap::new();
        for &face in faces {
            for &edge in &self.all.get(&face)?.edges {
                if edge.beyond.is_some_and(|f| faces.contains(&f)) {
                    continue;
                }
                if next.insert(edge.from, RimEdge { face, edge }).is_some() {
                    return None;
                }
            }
        }
        let (&first, _) = next.iter().next()?;
        let mut rim = Vec::with_capacity(next.len());
        let mut at = first;
        loop {
            let edge = *next.get(&at)?;
            rim.push(edge);
            at = edge.edge.to;
            if at == first {
                break;
            }
            if rim.len() > next.len() {
                return None;
            }
        }
        (rim.len() == next.len()).then_some(rim)
    }

    /// The patches that share an edge with one.
    pub fn beside(&self, face: usize) -> BTreeSet<usize> {
        let edges = self.all.get(&face).map_or(&[][..], |p| &p.edges);
        edges.iter().filter_map(|e| e.beyond).collect()
    }

    /// The middle of a patch.
    pub fn middle(&self, face: usize) -> Point {
        self.all.get(&face).map_or(Point::ORIGIN, |p| p.outline.centroid())
    }

    /// The direction of a side.
    pub fn along(&self, (face, side): SideOf) -> Vector {
        let line = self.all.get(&face).and_then(|p| p.outline.edge(side));
        line.map_or(Vector::new(1.0, 0.0), |l| l.along)
    }
}

/// The side of an outline along which an edge runs.
fn side_along(outline: &Polygon, from: Point, to: Point) -> Option<usize> {
    (0..outline.len()).find(|&i| {
        outline.edge(i).is_some_and(|line| {
            let near = |p: Point| line.offset_of(p).abs() < 2.0 * WELD;
            near(from) && near(to) && line.along.dot(to - from) > 0.0
        })
    })
}
