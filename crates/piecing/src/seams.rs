//! Through seams: straight chains of edges that cross a region from boundary to boundary.

use crate::tokens::{BlockTokens, ChainId};
use shape::{Line, Polygon, WELD};
use std::collections::BTreeMap;

/// Through seams of one direction, in order across.
#[derive(Clone, Debug, PartialEq)]
pub struct Parallel {
    /// Their lines, all in the same direction, each further left than the one before.
    pub lines: Vec<Line>,
}

/// How far a chain's length may differ from the region's chord and still reach both ends.
const REACH: f64 = 4.0 * WELD;

/// All through seams of a region, grouped by direction; the group with most seams first, then by direction.
pub fn through_seams(block: &BlockTokens, faces: &[usize], inside: &[bool], outline: &Polygon) -> Vec<Parallel> {
    let mut lengths: BTreeMap<ChainId, f64> = BTreeMap::new();
    for &face in faces {
        for edge in &block.tokens[face].edges {
            if let (Some(neighbour), Some(chain)) = (edge.neighbour, edge.chain)
                && face < neighbour
                && inside[neighbour]
            {
                *lengths.entry(chain).or_default() += edge.length;
            }
        }
    }
    let mut through: Vec<Line> = lengths
        .into_iter()
        .map(|(chain, length)| (block.chains[chain.0], length))
        .filter(|&(line, length)| chord(outline, line).is_some_and(|c| (c - length).abs() <= REACH))
        .map(|(line, _)| line)
        .collect();
    let mut groups: Vec<Parallel> = Vec::new();
    while let Some(&first) = through.first() {
        let (mut same, rest): (Vec<Line>, Vec<Line>) =
            through.into_iter().partition(|l| l.along.cross(first.along).abs() < 1.0e-4);
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
        b.lines.len().cmp(&a.lines.len()).then(key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal))
    });
    groups
}

/// How long the line runs inside a convex outline.
fn chord(outline: &Polygon, line: Line) -> Option<f64> {
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
        let band = lines.iter().filter(|l| l.offset_of(centre) > 0.0).count();
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
