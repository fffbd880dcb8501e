//! Which items lie side by side, and which meet at a corner only.

use shape::{Point, Polygon, WELD};
use std::collections::BTreeMap;
use terms::Face;

/// How long two patches must lie side by side to count so, inches.
const SIDE_BY_SIDE: f64 = 1.0 / 16.0;

/// Pairs of items, the lower number first: `true` when they lie side by side, `false` when they only meet at a corner.
pub(super) type Met = BTreeMap<(usize, usize), bool>;

/// What meets what; the faces from `pieced` on lie on the others and are compared among themselves only.
pub(super) fn of(faces: &[Face], pieced: usize, home: &BTreeMap<usize, usize>) -> Met {
    let mut boxes: Vec<(Point, Point, usize, usize)> = (home.iter())
        .filter_map(|(&face, &item)| {
            let (low, high) = faces.get(face)?.outline.bounds();
            Some((low, high, face, item))
        })
        .collect();
    boxes.sort_by(|a, b| a.0.x.total_cmp(&b.0.x).then(a.2.cmp(&b.2)));
    let mut met = Met::new();
    let mut open: Vec<usize> = Vec::new();
    for (n, &(low, high, face, item)) in boxes.iter().enumerate() {
        open.retain(|&o| boxes[o].1.x > low.x - WELD);
        for &o in &open {
            let (other_low, other_high, other_face, other) = boxes[o];
            let apart = other_low.y > high.y + WELD || low.y > other_high.y + WELD;
            if apart || other == item || (face < pieced) != (other_face < pieced) {
                continue;
            }
            if let Some(side) = touch(&faces[face].outline, &faces[other_face].outline) {
                *met.entry((item.min(other), item.max(other))).or_insert(false) |= side;
            }
        }
        open.push(n);
    }
    met
}

/// `Some(true)`: side by side; `Some(false)`: at a point.
fn touch(a: &Polygon, b: &Polygon) -> Option<bool> {
    let mut at_point = false;
    for i in 0..a.len() {
        let (p, q) = (a.corner(i), a.corner(i + 1));
        let along = q - p;
        let length = p.distance(q);
        if length <= WELD {
            continue;
        }
        for j in 0..b.len() {
            let (r, s) = (b.corner(j), b.corner(j + 1));
            let off = |c: Point| along.cross(c - p) / length;
            let on = |c: Point| along.dot(c - p) / length;
            let inside = |c: Point| off(c).abs() <= WELD && (-WELD..=length + WELD).contains(&on(c));
            if off(r).abs() <= WELD && off(s).abs() <= WELD {
                let (from, to) = (on(r).min(on(s)).max(0.0), on(r).max(on(s)).min(length));
                if to - from > SIDE_BY_SIDE {
                    return Some(true);
                }
            }
            at_point = at_point || inside(r);
            let other = s - r;
            let other_length = r.distance(s);
            if other_length > WELD {
                let (off, on) = (other.cross(p - r).abs() / other_length, other.dot(p - r) / other_length);
                at_point = at_point || (off <= WELD && (-WELD..=other_length + WELD).contains(&on));
            }
        }
    }
    at_point.then_some(false)
}
