//! The ends of a seam: by which datum a maker places them.
//!
//! With inner angles α and β at a seam's end, untrimmed tips run ahead of one another by s·|cot(α/2) − cot(β/2)|. Where
//! α = β the raw ends are even; where α + β = 180° the outer edge runs straight on and the raw ends cross on the stitch
//! line; anywhere else the maker dots both seam corners.

use shape::{Polygon, Vector};

/// How an end is placed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EndKind {
    /// Raw ends even.
    Even,
    /// Raw ends cross on the stitch line; the lean of the end is this cotangent, never negative.
    Notch {
        /// |cot α|.
        cotangent: f64,
    },
    /// Dot on dot.
    Dots,
}

/// The inner angle at a corner as its cosine and sine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inner {
    cos: f64,
    sin: f64,
}

impl Inner {
    /// In degrees, from 0 to 360: over 180 at a hollow corner.
    pub fn degrees(self) -> f64 {
        let turned = libm::atan2(self.sin, self.cos).to_degrees();
        if turned < 0.0 { turned + 360.0 } else { turned }
    }
}

/// Inner angle at corner `i` of an outline; `None` where an edge has no length.
pub fn inner_angle(outline: &Polygon, i: usize) -> Option<Inner> {
    let n = outline.len();
    let back: Vector = (outline.corner(i + n - 1) - outline.corner(i)).unit()?;
    let on: Vector = (outline.corner(i + 1) - outline.corner(i)).unit()?;
    Some(Inner {
        cos: on.dot(back),
        sin: on.cross(back),
    })
}

/// Angles closer than this (as a sine) are equal: a ten-thousandth of an inch over a foot and a half.
const SAME: f64 = 1.0e-5;

/// The datum for an end with these inner angles of the two layers.
pub fn end_kind(alpha: Inner, beta: Inner) -> EndKind {
    let sum_sine = alpha.sin * beta.cos + alpha.cos * beta.sin;
    let difference_sine = alpha.sin * beta.cos - alpha.cos * beta.sin;
    if difference_sine.abs() < SAME && alpha.cos * beta.cos + alpha.sin * beta.sin > 0.0 {
        return EndKind::Even;
    }
    if sum_sine.abs() < SAME && alpha.cos * beta.cos - alpha.sin * beta.sin < 0.0 {
        return EndKind::Notch {
            cotangent: (alpha.cos / alpha.sin).abs(),
        };
    }
    EndKind::Dots
}

#[cfg(test)]
mod tests {
    use super::*;
    use shape::Point;

    fn triangle(a: (f64, f64), b: (f64, f64), c: (f64, f64)) -> Polygon {
        Polygon::new([a, b, c].map(|(x, y)| Point::new(x, y)).to_vec())
    }

    #[test]
    fn like_angles_lie_even() {
        // Two halves of a square on their long sides: 45° on 45°.
        let half = triangle((0.0, 0.0), (3.0, 0.0), (0.0, 3.0));
        let a = inner_angle(&half, 1).unwrap();
        assert_eq!(end_kind(a, inner_angle(&half, 2).unwrap()), EndKind::Even);
    }

    #[test]
    fn a_two_to_one_seam_is_placed_by_its_notch() {
        // The outer edge runs straight on: cot α = 1/2 on one side, -1/2 on the other (derived).
        let left = Polygon::new(
            [(0.0, 0.0), (2.25, 0.0), (3.75, 3.0), (0.0, 3.0)]
                .map(|(x, y)| Point::new(x, y))
                .to_vec(),
        );
        let right = Polygon::new(
            [(2.25, 0.0), (6.0, 0.0), (6.0, 3.0), (3.75, 3.0)]
                .map(|(x, y)| Point::new(x, y))
                .to_vec(),
        );
        match end_kind(inner_angle(&left, 1).unwrap(), inner_angle(&right, 0).unwrap()) {
            EndKind::Notch { cotangent } => assert!((cotangent - 0.5).abs() < 1e-12),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_tip_on_a_square_needs_dots() {
        let half = triangle((0.0, 0.0), (3.0, 0.0), (0.0, 3.0));
        let square = Polygon::rectangle(3.0, 3.0);
        let kind = end_kind(inner_angle(&half, 1).unwrap(), inner_angle(&square, 0).unwrap());
        assert_eq!(kind, EndKind::Dots);
    }
}
