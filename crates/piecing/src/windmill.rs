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

/// The most arms looked for, and the most rings of lines tried.
const MOST_ARMS: usize = 6;
const MOST_TRIES: usize = 2_000;

/// A line that starts at the outline, with the places where it could end on another such line.
#[derive(Clone, Debug)]
struct Start {
    outer: Point,
    /// The line it ends on, where, and how far along that one lies from its own start; nearest first.
    ends: Vec<(usize, Point, f64)>,
}

/// The windmill of a convex region, if its lines make one; of several the one with fewest arms, then the first found.
pub fn find(block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Option<Windmill> {
    let starts = starts(block, faces, outline);
    (3..=MOST_ARMS).find_map(|arms| {
        let mut rings = Rings {
            starts: &starts,
            arms,
            under_way: Vec::new(),
            found: Vec::new(),
        };
        (0..starts.len()).for_each(|first| rings.go_on(first, f64::NEG_INFINITY));
        rings.found.iter().find_map(|ring| parts(block, faces, outline, ring))
    })
}

/// All lines of a region that start at its outline.
fn starts(block: &BlockTokens, faces: &[usize], outline: &Polygon) -> Vec<Start> {
    let spans = spans(block, faces);
    let at_outline = |p: Point| outline.distance_to_boundary(p) < 2.0 * WELD;
    let mut lines: Vec<(Span, bool)> = Vec::new();
    for span in spans.values() {
        let (from, to) = (span.line.at(span.from), span.line.at(span.to));
        match (at_outline(from), at_outline(to)) {
            (true, false) => lines.push((*span, true)),
            (false, true) => lines.push((*span, false)),
            _ => {}
        }
    }
    let outer = |&(span, forward): &(Span, bool)| span.line.at(if forward { span.from } else { span.to });
    let place = |i: usize, line: &(Span, bool)| {
        let start = outer(line);
        let mut ends: Vec<(usize, Point, f64)> = Vec::new();
        for (j, other) in lines.iter().enumerate() {
            let Some(p) = line.0.line.crossing(other.0.line).filter(|_| i != j) else {
                continue;
            };
            let within = |s: &Span| {
                let reach = s.line.reach_of(p);
                reach > s.from - 2.0 * WELD && reach < s.to + 2.0 * WELD
            };
            let along = p.distance(outer(other));
            if within(&line.0) && within(&other.0) && along > 2.0 * WELD && p.distance(start) > 2.0 * WELD {
                ends.push((j, p, along));
            }
        }
        ends.sort_by(|a, b| a.1.distance(start).total_cmp(&b.1.distance(start)).then(a.0.cmp(&b.0)));
        Start { outer: start, ends }
    };
    lines.iter().enumerate().map(|(i, line)| place(i, line)).collect()
}

/// One line of a ring: which, where it starts, where it ends.
type OnRing = (usize, Point, Point);

/// The rings of so many lines.
struct Rings<'a> {
    starts: &'a [Start],
    arms: usize,
    under_way: Vec<OnRing>,
    found: Vec<Vec<(Point, Point)>>,
}

impl Rings<'_> {
    /// Goes on with line `at`, on which the one before ended so far from its start: it must end beyond that. Rings begin
    /// with their first line in order, so that each is found once.
    fn go_on(&mut self, at: usize, near: f64) {
        let here = &self.starts[at];
        let first = self.under_way.first().map_or(at, |r| r.0);
        if self.under_way.iter().any(|r| r.0 == at) || self.found.len() >= MOST_TRIES {
            return;
        }
        for &(next, end, along) in &here.ends {
            if end.distance(here.outer) <= near + 2.0 * WELD || next < first {
                continue;
            }
            self.under_way.push((at, here.outer, end));
            if next != first && self.under_way.len() < self.arms {
                self.go_on(next, along);
            } else if next == first && self.under_way.len() == self.arms {
                let opening = self.under_way[0];
                if along + 2.0 * WELD < opening.1.distance(opening.2) {
                    self.found.push(self.under_way.iter().map(|r| (r.1, r.2)).collect());
                }
            }
            self.under_way.pop();
        }
    }
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
