//! Why shapes do not fill their block once: which lie on one another, and what is left open.

use crate::planar::{Fault, Planar};
use shape::{Point, Polygon, WELD};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Most faults of one drawing that are told.
const MOST_TOLD: usize = 20;
/// Most pairs of edges looked at for overlaps.
const MOST_PAIRS: usize = 30_000_000;

/// Explains a failed pairing. `half` knows the face of each half-edge, `missing` the edges that no face runs along,
/// `twice` those that two faces run along the same way.
pub(crate) fn diagnose(
    map: &Planar,
    half: &HashMap<(usize, usize), usize>,
    missing: &[(usize, usize)],
    twice: &[(usize, usize, usize)],
) -> Vec<Fault> {
    let mut faults = overlaps(map, twice);
    if faults.is_empty() {
        faults = gaps(map, half, missing);
    }
    if faults.is_empty() {
        // Something is open but no loop of it closed: point at the first open edge.
        let at = missing
            .first()
            .map_or(Point::ORIGIN, |&(u, v)| map.vertices[u].toward(map.vertices[v], 0.5));
        faults.push(Fault::Gap {
            area: 0.0,
            at,
            around: missing
                .first()
                .and_then(|&(u, v)| half.get(&(v, u)))
                .copied()
                .into_iter()
                .collect(),
        });
    }
    faults
}

fn polygon(map: &Planar, face: usize) -> Polygon {
    Polygon::new(map.faces[face].iter().map(|&v| map.vertices[v]).collect())
}

fn overlaps(map: &Planar, twice: &[(usize, usize, usize)]) -> Vec<Fault> {
    let mut pairs: BTreeSet<(usize, usize)> = BTreeSet::new();
    for &(a, b, _) in twice {
        if a != b && pairs.len() < MOST_TOLD {
            pairs.insert((a.min(b), a.max(b)));
        }
    }
    if pairs.is_empty() {
        crossing_pairs(map, &mut pairs);
    }
    pairs
        .into_iter()
        .map(|(a, b)| {
            let (first, second) = (polygon(map, a), polygon(map, b));
            let shared = common(&first, &second);
            Fault::Overlap {
                faces: (a, b),
                area: shared.as_ref().map(Polygon::signed_area),
                at: shared.map_or_else(|| inner_point(&second), |s| s.centroid()),
            }
        })
        .collect()
}

/// What two convex outlines share; `None` where one is not convex or they share nothing.
fn common(a: &Polygon, b: &Polygon) -> Option<Polygon> {
    if !a.is_convex(WELD) || !b.is_convex(WELD) {
        return None;
    }
    let mut shared = a.clone();
    for i in 0..b.len() {
        shared = shared.left_of(b.edge(i)?);
    }
    (shared.len() >= 3 && shared.signed_area() > 0.0).then_some(shared)
}

fn crossing_pairs(map: &Planar, pairs: &mut BTreeSet<(usize, usize)>) {
    let shapes: Vec<Polygon> = (0..map.faces.len()).map(|f| polygon(map, f)).collect();
    let bounds: Vec<(Point, Point)> = shapes.iter().map(Polygon::bounds).collect();
    let mut order: Vec<usize> = (0..shapes.len()).collect();
    order.sort_by(|&i, &j| bounds[i].0.x.total_cmp(&bounds[j].0.x).then(i.cmp(&j)));
    let mut open: Vec<usize> = Vec::new();
    let mut looked = 0;
    for &i in &order {
        let (low, high) = bounds[i];
        open.retain(|&j| bounds[j].1.x > low.x + WELD);
        for &j in &open {
            looked += map.faces[i].len() * map.faces[j].len();
            if looked > MOST_PAIRS || pairs.len() >= MOST_TOLD {
                return;
            }
            if bounds[j].0.y < high.y - WELD && bounds[j].1.y > low.y + WELD && lie_on_one_another(map, &shapes, i, j) {
                pairs.insert((i.min(j), i.max(j)));
            }
        }
        open.push(i);
    }
}

fn lie_on_one_another(map: &Planar, shapes: &[Polygon], i: usize, j: usize) -> bool {
    let (a, b) = (&map.faces[i], &map.faces[j]);
    let side = |p: usize, q: usize, r: usize| {
        let (p, q, r) = (map.vertices[p], map.vertices[q], map.vertices[r]);
        (q - p).cross(r - p)
    };
    // Outlines of many corners are only tested by their inner points; the work would grow with the product.
    if a.len() * b.len() <= 10_000 {
        for (k, &p) in a.iter().enumerate() {
            let q = a[(k + 1) % a.len()];
            for (l, &r) in b.iter().enumerate() {
                let s = b[(l + 1) % b.len()];
                if p == r || p == s || q == r || q == s {
                    continue;
                }
                if side(p, q, r) * side(p, q, s) < 0.0 && side(r, s, p) * side(r, s, q) < 0.0 {
                    return true;
                }
            }
        }
    }
    contains(&shapes[j], inner_point(&shapes[i])) || contains(&shapes[i], inner_point(&shapes[j]))
}

fn contains(outline: &Polygon, p: Point) -> bool {
    let mut inside = false;
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            inside = !inside;
        }
    }
    inside
}

/// A place within a simple counter-clockwise outline: in the ear at its lowest corner, or on the way from that corner
/// to the corner furthest into that ear.
fn inner_point(outline: &Polygon) -> Point {
    let n = outline.len();
    let lowest = (0..n)
        .min_by(|&i, &j| {
            let (a, b) = (outline.corner(i), outline.corner(j));
            a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x))
        })
        .unwrap_or(0);
    let (before, at, after) = (
        outline.corner(lowest + n - 1),
        outline.corner(lowest),
        outline.corner(lowest + 1),
    );
    let in_ear = |p: Point| {
        (at - before).cross(p - before) > 0.0
            && (after - at).cross(p - at) > 0.0
            && (before - after).cross(p - after) > 0.0
    };
    let deepest = outline
        .corners()
        .iter()
        .copied()
        .filter(|&p| in_ear(p))
        .max_by(|&p, &q| {
            let depth = |r: Point| (before - after).cross(r - after);
            depth(p).total_cmp(&depth(q))
        });
    match deepest {
        Some(p) => at.toward(p, 0.5),
        None => Point::new((before.x + at.x + after.x) / 3.0, (before.y + at.y + after.y) / 3.0),
    }
}

/// Walks along the missing edges: each loop that runs counter-clockwise encloses ground that no shape covers.
fn gaps(map: &Planar, half: &HashMap<(usize, usize), usize>, missing: &[(usize, usize)]) -> Vec<Fault> {
    let mut from: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for &(u, v) in missing {
        from.entry(u).or_default().push(v);
    }
    let mut faults = Vec::new();
    while let Some((&start, _)) = from.first_key_value() {
        let mut walk = vec![start];
        let mut around: BTreeSet<usize> = BTreeSet::new();
        let mut at = start;
        let mut came: Option<Point> = None;
        while let Some(ways) = from.get_mut(&at) {
            let pick = leftmost(map, at, came, ways);
            let next = ways.swap_remove(pick);
            if ways.is_empty() {
                from.remove(&at);
            }
            around.extend(half.get(&(next, at)));
            came = Some(map.vertices[at]);
            at = next;
            if at == start {
                break;
            }
            walk.push(at);
        }
        let outline = Polygon::new(walk.into_iter().map(|v| map.vertices[v]).collect());
        let area = outline.signed_area();
        if at == start && area > 0.0 {
            faults.push(Fault::Gap {
                area,
                at: outline.centroid(),
                around: around.into_iter().collect(),
            });
            if faults.len() >= MOST_TOLD {
                break;
            }
        }
    }
    faults
}

/// Of several ways on, the one that keeps closest to the left, so that loops touching at a corner stay apart.
fn leftmost(map: &Planar, at: usize, came: Option<Point>, ways: &[usize]) -> usize {
    let Some(came) = came else { return 0 };
    let here = map.vertices[at];
    let ahead = here - came;
    let angle = |v: usize| {
        let way = map.vertices[v] - here;
        libm::atan2(ahead.cross(way), ahead.dot(way))
    };
    (0..ways.len())
        .max_by(|&i, &j| angle(ways[i]).total_cmp(&angle(ways[j])))
        .unwrap_or(0)
}
