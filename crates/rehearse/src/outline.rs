//! Outlines of any simple shape, as pieces laid on a ground have: what lies inside, what two of them share. The other
//! pieces of the table are convex and need none of this.

use crate::words::TOLERANCE;
use shape::{Line, Point, Polygon};

/// Whether a place lies inside an outline of any shape.
pub(crate) fn holds(outline: &Polygon, p: Point) -> bool {
    let mut inside = false;
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}

/// How far round.
pub(crate) fn round(outline: &Polygon) -> f64 {
    (0..outline.len())
        .map(|i| outline.corner(i).distance(outline.corner(i + 1)))
        .sum()
}

/// What an outline shares with a convex one, as one outline of that area: where it falls into several, stretches of no
/// width join them.
pub(crate) fn shared_with(outline: &Polygon, convex: &Polygon) -> Polygon {
    if apart(outline, convex) {
        return Polygon::default();
    }
    let mut shared = outline.clone();
    for i in 0..convex.len() {
        if let Some(edge) = convex.edge(i) {
            shared = shared.left_of(edge);
        }
        if shared.is_empty() {
            break;
        }
    }
    shared
}

/// Whether the upright rectangles round two outlines have nothing in common.
pub(crate) fn apart(a: &Polygon, b: &Polygon) -> bool {
    let ((al, ah), (bl, bh)) = (a.bounds(), b.bounds());
    al.x > bh.x || bl.x > ah.x || al.y > bh.y || bl.y > ah.y
}

/// The area two outlines of any shape share: the one is a sum of triangles from its first corner, some of them counted
/// less than nothing.
pub(crate) fn shared_area(a: &Polygon, b: &Polygon) -> f64 {
    if a.len() < 3 || b.len() < 3 || apart(a, b) {
        return 0.0;
    }
    let first = b.corner(0);
    (1..b.len() - 1)
        .map(|i| {
            let triangle = Polygon::new(vec![first, b.corner(i), b.corner(i + 1)]);
            let sign = triangle.signed_area();
            if sign == 0.0 {
                0.0
            } else {
                shared_with(a, &triangle.counter_clockwise()).signed_area() * sign.signum()
            }
        })
        .sum()
}

/// Whether what is shared is no more than a sliver.
pub(crate) fn is_little(shared: &Polygon) -> bool {
    shared.signed_area() <= TOLERANCE * round(shared) / 2.0
}

/// Whether an outline neither crosses nor touches itself, and encloses cloth on its left.
pub(crate) fn is_simple(outline: &Polygon) -> bool {
    let n = outline.len();
    if n < 3 || outline.signed_area() <= 1.0e-6 {
        return false;
    }
    for i in 0..n {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        let Some(line) = Line::between(a, b) else { return false };
        let length = a.distance(b);
        let (low, high) = (
            Point::new(a.x.min(b.x), a.y.min(b.y)),
            Point::new(a.x.max(b.x), a.y.max(b.y)),
        );
        for j in i + 1..n {
            let (c, d) = (outline.corner(j), outline.corner(j + 1));
            if c.x.min(d.x) > high.x || c.x.max(d.x) < low.x || c.y.min(d.y) > high.y || c.y.max(d.y) < low.y {
                continue;
            }
            if j == i + 1 || (i == 0 && j == n - 1) {
                // Neighbours meet at their corner only: one running back along the other lies on it.
                let (before, corner, after) = if j == i + 1 { (a, b, d) } else { (c, a, b) };
                let (u, v) = (before - corner, after - corner);
                if u.cross(v).abs() <= 1.0e-9 * u.length() * v.length() && u.dot(v) > 0.0 {
                    return false;
                }
                continue;
            }
            let (c_off, d_off) = (line.offset_of(c), line.offset_of(d));
            if (c_off > 0.0 && d_off > 0.0) || (c_off < 0.0 && d_off < 0.0) {
                continue;
            }
            if c_off == 0.0 && d_off == 0.0 {
                let (r, s) = (line.reach_of(c), line.reach_of(d));
                if r.max(s) >= 0.0 && r.min(s) <= length {
                    return false;
                }
                continue;
            }
            let at = line.reach_of(c.toward(d, c_off / (c_off - d_off)));
            if (0.0..=length).contains(&at) {
                return false;
            }
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(corners: &[(f64, f64)]) -> Polygon {
        Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect())
    }

    /// A 4 x 4 square with a notch of 2 x 2 from above.
    fn horseshoe() -> Polygon {
        of(&[
            (0.0, 0.0),
            (4.0, 0.0),
            (4.0, 4.0),
            (3.0, 4.0),
            (3.0, 2.0),
            (1.0, 2.0),
            (1.0, 4.0),
            (0.0, 4.0),
        ])
    }

    #[test]
    fn what_hollow_outlines_share() {
        // *derived*: 16 - 4; its upper half is two strips of 1 x 2.
        let shoe = horseshoe();
        assert_eq!(shoe.signed_area(), 12.0);
        let upper = of(&[(-1.0, 2.0), (5.0, 2.0), (5.0, 5.0), (-1.0, 5.0)]);
        assert!((shared_with(&shoe, &upper).signed_area() - 4.0).abs() < 1e-12);
        assert!((shared_area(&upper, &shoe) - 4.0).abs() < 1e-12);
        assert!((shared_area(&shoe, &shoe) - 12.0).abs() < 1e-12);
        let within = of(&[(1.5, 2.5), (2.5, 2.5), (2.0, 3.0)]);
        assert_eq!(shared_area(&shoe, &within), 0.0);
        assert!(holds(&shoe, Point::new(0.5, 3.0)) && !holds(&shoe, Point::new(2.0, 3.0)));
    }

    #[test]
    fn a_simple_outline_and_others() {
        assert!(is_simple(&horseshoe()));
        assert!(!is_simple(&of(&[(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)])));
        // clockwise
        assert!(!is_simple(&of(&[(0.0, 0.0), (0.0, 2.0), (2.0, 2.0)])));
        // a spur, and a corner that touches the far edge
        assert!(!is_simple(&of(&[
            (0.0, 0.0),
            (2.0, 0.0),
            (2.0, 2.0),
            (2.0, 1.0),
            (0.0, 2.0)
        ])));
        assert!(!is_simple(&of(&[
            (0.0, 0.0),
            (4.0, 0.0),
            (4.0, 2.0),
            (2.0, 0.0),
            (0.0, 2.0)
        ])));
    }
}
