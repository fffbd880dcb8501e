//! Seam allowance: the outline to cut for a finished outline.

use crate::{Line, Point, Polygon};

/// Each edge moved outward by `seam` inches, neighbours extended until they meet (mitred, tips untrimmed).
/// The tip beyond a finished corner of inner angle α reaches `seam / tan(α/2)` along either edge (derived).
///
/// `None` for outlines with an edge of no length or two neighbouring edges in one line running back.
pub fn with_allowance(finished: &Polygon, seam: f64) -> Option<Polygon> {
    let n = finished.len();
    let outer: Vec<Line> = (0..n)
        .map(|i| finished.edge(i).map(|e| e.moved_left(-seam)))
        .collect::<Option<_>>()?;
    let corners: Vec<Point> = (0..n)
        .map(|i| {
            let (before, after) = (outer[(i + n - 1) % n], outer[i]);
            // On a straight run the two outer lines are one: the corner moves straight out.
            before
                .crossing(after)
                .or_else(|| (before.along.dot(after.along) > 0.0).then_some(after.through))
        })
        .collect::<Option<_>>()?;
    Some(Polygon::new(corners))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_diagonal_half_needs_two_and_root_two_halves() {
        // exact legs n + s(2 + √2) = n + 0.853553 at s = 1/4 (derived; rounds up to the published n + 7/8)
        let half = Polygon::new(vec![Point::ORIGIN, Point::new(3.0, 0.0), Point::new(0.0, 3.0)]);
        let cut = with_allowance(&half, 0.25).unwrap();
        let leg = cut.corner(0).distance(cut.corner(1));
        assert!((leg - 3.853_553_390_593_274).abs() < 1e-12);
    }
}
