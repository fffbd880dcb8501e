//! Whether an outline is simple: no two of its edges meet but neighbours at their corner.

use shape::{Point, Polygon};

/// Whether two edges cross or touch where they should not. Edges are met in order of their left ends, so an outline
/// costs little more than its number of corners unless many edges lie above one another.
pub(crate) fn crosses_itself(outline: &Polygon) -> bool {
    let n = outline.len();
    let ends = |i: usize| (outline.corner(i), outline.corner(i + 1));
    let reach = |i: usize| {
        let (a, b) = ends(i);
        (a.x.min(b.x), a.x.max(b.x))
    };
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| reach(i).0.total_cmp(&reach(j).0).then(i.cmp(&j)));
    let mut open: Vec<usize> = Vec::new();
    for &i in &order {
        let (left, _) = reach(i);
        open.retain(|&j| reach(j).1 >= left);
        for &j in &open {
            let (first, second) = (i.min(j), i.max(j));
            let neighbours = second == first + 1 || (first == 0 && second == n - 1);
            let (a, b) = ends(first);
            let (c, d) = ends(second);
            if neighbours {
                // Neighbours may only meet at their corner: one running back along the other touches it.
                let (corner, before, after) = if second == first + 1 { (b, a, d) } else { (a, b, c) };
                let (u, v) = (before - corner, after - corner);
                let turn = u.cross(v).abs() / (u.length() * v.length()).max(f64::MIN_POSITIVE);
                if turn < 1.0e-9 && u.dot(v) > 0.0 {
                    return true;
                }
            } else if meet(a, b, c, d) {
                return true;
            }
        }
        open.push(i);
    }
    false
}

/// Whether two segments have a place in common.
pub(crate) fn meet(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    let (s1, s2) = (side(a, b, c), side(a, b, d));
    let (s3, s4) = (side(c, d, a), side(c, d, b));
    if ((s1 > 0.0) != (s2 > 0.0)) && ((s3 > 0.0) != (s4 > 0.0)) && s1 != 0.0 && s2 != 0.0 && s3 != 0.0 && s4 != 0.0 {
        return true;
    }
    let on = |p: Point, q: Point, r: Point, s: f64| {
        s == 0.0 && r.x >= p.x.min(q.x) && r.x <= p.x.max(q.x) && r.y >= p.y.min(q.y) && r.y <= p.y.max(q.y)
    };
    on(a, b, c, s1) || on(a, b, d, s2) || on(c, d, a, s3) || on(c, d, b, s4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bow_tie_crosses_and_a_square_does_not() {
        let p = |corners: &[(f64, f64)]| Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
        assert!(crosses_itself(&p(&[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)])));
        assert!(!crosses_itself(&Polygon::rectangle(3.0, 2.0)));
        // a spur running back along its own edge
        assert!(crosses_itself(&p(&[(0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 2.0)])));
        // a corner touching a far edge
        assert!(crosses_itself(&p(&[
            (0.0, 0.0),
            (4.0, 0.0),
            (4.0, 4.0),
            (2.0, 0.0),
            (0.0, 4.0)
        ])));
    }
}
