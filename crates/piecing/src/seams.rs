//! Through seams: straight chains of edges that cross a region from boundary to boundary.

use crate::tokens::{BlockTokens, ChainId};
use shape::{Line, Polygon, WELD};

/// Through seams of one direction, in order across.
#[derive(Clone, Debug, PartialEq)]
pub struct Parallel {
    /// Their lines, all in the same direction, each further left than the one before.
    pub lines: Vec<Line>,
}

/// How far a chain's length may differ from the region's chord and still reach both ends.
const REACH: f64 = 4.0 * WELD;

/// Finds through seams. Keeps its working lists from one region to the next, so that a small region of a large block
/// costs no more than itself.
#[derive(Debug, Default)]
pub struct ThroughSeams {
    /// Which faces are in the region; none between two uses.
    inside: Vec<bool>,
    /// How much of each chain is inside the region; nothing between two uses.
    lengths: Vec<f64>,
}

impl ThroughSeams {
    /// All through seams of a region, grouped by direction; the group with most seams first, then by direction.
    pub fn of(&mut self, block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Vec<Parallel> {
        if self.inside.len() < block.tokens.len() {
            self.inside.resize(block.tokens.len(), false);
        }
        if self.lengths.len() < block.chains.len() {
            self.lengths.resize(block.chains.len(), 0.0);
        }
        for &face in faces {
            self.inside[face] = true;
        }
        let mut met: Vec<ChainId> = Vec::new();
        for &face in faces {
            for edge in &block.tokens[face].edges {
                if let (Some(neighbour), Some(chain)) = (edge.neighbour, edge.chain)
                    && face < neighbour
                    && self.inside[neighbour]
                {
                    if self.lengths[chain.0] == 0.0 {
                        met.push(chain);
                    }
                    self.lengths[chain.0] += edge.length;
                }
            }
        }
        for &face in faces {
            self.inside[face] = false;
        }
        met.sort_unstable();
        met.dedup();
        let mut through = Vec::new();
        for chain in met {
            let (line, length) = (block.chains[chain.0], std::mem::take(&mut self.lengths[chain.0]));
            if chord(outline, line).is_some_and(|c| (c - length).abs() <= REACH) {
                through.push(line);
            }
        }
        by_direction(through)
    }
}

fn by_direction(mut through: Vec<Line>) -> Vec<Parallel> {
    let mut groups: Vec<Parallel> = Vec::new();
    while let Some(&first) = through.first() {
        let (mut same, rest): (Vec<Line>, Vec<Line>) = through
            .into_iter()
            .partition(|l| l.along.cross(first.along).abs() < 1.0e-4);
        for l in &mut same {
            if l.along.dot(first.along) < 0.0 {
                *l = l.reversed();
            }
        }
        same.sort_by(|a, b| first.offset_of(a.through).total_cmp(&first.offset_of(b.through)));
        groups.push(Parallel { lines: same });
        through = rest;
    }
    groups.sort_by(|a, b| {
        let key = |g: &Parallel| (g.lines[0].along.x, g.lines[0].along.y);
        b.lines
            .len()
            .cmp(&a.lines.len())
            .then(key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal))
    });
    groups
}

/// How long the line runs inside a convex outline.
pub(crate) fn chord(outline: &Polygon, line: Line) -> Option<f64> {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut note = |reach: f64| {
        low = low.min(reach);
        high = high.max(reach);
    };
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        let (da, db) = (line.offset_of(a), line.offset_of(b));
        if da.abs() <= WELD / 2.0 {
            note(line.reach_of(a));
        } else if (da > 0.0) != (db > 0.0) && db.abs() > WELD / 2.0 {
            note(line.reach_of(a.toward(b, da / (da - db))));
        }
    }
    (high > low).then_some(high - low)
}

/// The faces and outlines between the lines of a group, from right to left; `None` when a line leaves nothing on one
/// of its sides.
pub fn divide(
    block: &BlockTokens,
    faces: &[usize],
    outline: &Polygon,
    lines: &[Line],
) -> Option<Vec<(Vec<usize>, Polygon)>> {
    let mut bands: Vec<Vec<usize>> = vec![Vec::new(); lines.len() + 1];
    for &face in faces {
        let centre = block.tokens[face].centre;
        // Within the region the lines do not cross, so those that a face lies left of are the first.
        let band = lines.partition_point(|l| l.offset_of(centre) > 0.0);
        bands[band].push(face);
    }
    let mut divided = Vec::with_capacity(bands.len());
    for (i, band) in bands.into_iter().enumerate() {
        let mut part = outline.clone();
        if i > 0 {
            part = part.left_of(lines[i - 1]);
        }
        if i < lines.len() {
            part = part.left_of(lines[i].reversed());
        }
        let part = part.simplified(WELD / 2.0);
        if band.is_empty() || part.len() < 3 {
            return None;
        }
        divided.push((band, part));
    }
    Some(divided)
}
