//! Windmills: where lines of a region chase one another round, each starting at the outline and ending on the next, the
//! parts go round the middle one by one, the first seam begun only and closed last.

use crate::ring::{Bend, bend};
use crate::tokens::{BlockTokens, ChainId};
use shape::{Line, Point, Polygon, WELD};
use std::collections::BTreeMap;

/// A windmill in a region.
#[derive(Clone, Debug)]
pub struct Windmill {
    /// The middle's faces and outline.
    pub middle: (Vec<usize>, Polygon),
    /// The arms in the order they are sewn; arm `i` lies along blade `i`.
    pub arms: Vec<(Vec<usize>, Polygon)>,
    /// The blades, one for each arm.
    pub blades: Vec<Blade>,
}

/// One of the lines that chase one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blade {
    /// Where it meets the region's outline.
    pub outer: Point,
    /// Where the blade before ends on it: a corner of the middle.
    pub near: Point,
    /// Where it ends on the next blade: the next corner of the middle.
    pub end: Point,
}

/// A chain's stretch within a region.
#[derive(Clone, Copy, Debug)]
struct Span {
    line: Line,
    from: f64,
    to: f64,
}

/// The windmill of a convex region, if its lines make one; of several the one with fewest arms, then the first found.
pub fn find(block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Option<Windmill> {
    let spans = spans(block, faces);
    let mut best: Option<Windmill> = None;
    let at_outline = |p: Point| outline.distance_to_boundary(p) < 2.0 * WELD;
    // Each chain that starts at the outline leads on to the one it ends on.
    let mut onward: BTreeMap<ChainId, (ChainId, Point, Point)> = BTreeMap::new();
    for (&id, span) in &spans {
        let (a, b) = (span.line.at(span.from), span.line.at(span.to));
        let (outer, end) = match (at_outline(a), at_outline(b)) {
            (true, false) => (a, b),
            (false, true) => (b, a),
            _ => continue,
        };
        let next = spans.iter().find(|&(&other, s)| {
            let reach = s.line.reach_of(end);
            other != id
                && s.line.offset_of(end).abs() < 2.0 * WELD
                && reach > s.from + 2.0 * WELD
                && reach < s.to - 2.0 * WELD
        });
        if let Some((&next, _)) = next {
            onward.insert(id, (next, outer, end));
        }
    }
    for &start in onward.keys() {
        let mut ring = Vec::new();
        let mut at = start;
        while let Some(&(next, outer, end)) = onward.get(&at) {
            ring.push((outer, end));
            at = next;
            if at == start || ring.len() > onward.len() {
                break;
            }
        }
        if at != start || ring.len() < 3 || best.as_ref().is_some_and(|b| b.arms.len() <= ring.len()) {
            continue;
        }
        if let Some(found) = parts(block, faces, outline, &ring) {
            best = Some(found);
        }
    }
    best
}

/// The chains within a region.
fn spans(block: &BlockTokens, faces: &[usize]) -> BTreeMap<ChainId, Span> {
    let within = |face: usize| faces.binary_search(&face).is_ok();
    let mut spans: BTreeMap<ChainId, Span> = BTreeMap::new();
    for &face in faces {
        let edges = &block.tokens[face].edges;
        for (i, edge) in edges.iter().enumerate() {
            let (Some(neighbour), Some(chain)) = (edge.neighbour, edge.chain) else {
                continue;
            };
            if !within(neighbour) {
                continue;
            }
            let line = block.chains[chain.0];
            let (a, b) = (
                line.reach_of(edge.from),
                line.reach_of(edges[(i + 1) % edges.len()].from),
            );
            let span = spans.entry(chain).or_insert(Span {
                line,
                from: a.min(b),
                to: a.max(b),
            });
            span.from = span.from.min(a.min(b));
            span.to = span.to.max(a.max(b));
        }
    }
    spans
}

/// The middle and the arms; `None` when they do not make up the region.
fn parts(block: &BlockTokens, faces: &[usize], outline: &Polygon, ring: &[(Point, Point)]) -> Option<Windmill> {
    let n = ring.len();
    let blades: Vec<Blade> = (0..n)
        .map(|i| Blade {
            outer: ring[i].0,
            near: ring[(i + n - 1) % n].1,
            end: ring[i].1,
        })
        .collect();
    let corners: Vec<Point> = blades.iter().map(|b| b.end).collect();
    let middle = Polygon::new(corners).counter_clockwise();
    let turns_out = |p: &Polygon| {
        (0..p.len()).all(|i| {
            let (a, b, c) = (p.corner(i), p.corner(i + 1), p.corner(i + 2));
            bend(b - a, c - b) == Bend::Out
        })
    };
    if !turns_out(&middle) {
        return None;
    }
    let inside = middle.centroid();
    let lines = blades
        .iter()
        .map(|b| {
            let line = Line::between(b.outer, b.end)?;
            Some(if line.offset_of(inside) > 0.0 {
                line
            } else {
                line.reversed()
            })
        })
        .collect::<Option<Vec<Line>>>()?;
    let mut outlines = vec![middle];
    for i in 0..n {
        // Beyond its own blade, on the middle's side of the next.
        let arm = outline.left_of(lines[i].reversed()).left_of(lines[(i + 1) % n]);
        outlines.push(arm.simplified(WELD / 2.0));
    }
    let area: f64 = outlines.iter().map(Polygon::signed_area).sum();
    if (area - outline.signed_area()).abs() > WELD * outline.len() as f64 || outlines.iter().any(|o| o.len() < 3) {
        return None;
    }
    let mut held: Vec<Vec<usize>> = vec![Vec::new(); outlines.len()];
    for &face in faces {
        let centre = block.tokens[face].centre;
        let arm = (0..n).find(|&i| lines[i].offset_of(centre) < 0.0 && lines[(i + 1) % n].offset_of(centre) > 0.0);
        held[arm.map_or(0, |i| i + 1)].push(face);
    }
    // A face that lies across a blade would be in no part: the areas of the faces must be those of the parts.
    let fits = held.iter().zip(&outlines).all(|(faces, outline)| {
        let area: f64 = faces.iter().map(|&f| block.tokens[f].area).sum();
        !faces.is_empty() && (area - outline.signed_area()).abs() <= WELD * outline.len() as f64
    });
    if !fits {
        return None;
    }
    let mut all = held.into_iter().zip(outlines);
    let middle = all.next()?;
    Some(Windmill {
        middle,
        arms: all.collect(),
        blades,
    })
}
