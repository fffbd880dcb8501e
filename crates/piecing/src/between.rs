//! The seam between two patches, by which a designer names it.

use crate::tokens::{BlockTokens, Content, Token};
use shape::{Line, Point, WELD};

/// How long two patches must lie along a seam together, inches.
const TOGETHER: f64 = 1.0 / 64.0;

/// The face, among some of a block's, that is the patch of this number.
pub fn patch_of(block: &BlockTokens, faces: &[usize], number: u32) -> Option<usize> {
    let of = |&&face: &&usize| match &block.tokens[face].content {
        Content::Patch { patch, .. } => *patch == number,
        Content::Unit { .. } => false,
    };
    faces.iter().find(of).copied()
}

/// Whether a stretch of a seam lies between two patches: then whether the second is on its right, in the upper layer.
pub fn between((start, end): (Point, Point), from: &Token, toward: &Token) -> Option<bool> {
    let line = Line::between(start, end)?;
    let length = start.distance(end);
    let along = |token: &Token| {
        let n = token.outline.len();
        (0..n).find_map(|i| {
            let (a, b) = (token.outline.corner(i), token.outline.corner(i + 1));
            let on = |p: Point| line.offset_of(p).abs() < 2.0 * WELD;
            (on(a) && on(b)).then(|| {
                let (a, b) = (line.reach_of(a), line.reach_of(b));
                (a.min(b).max(0.0), a.max(b).min(length))
            })
        })
    };
    let (one, other) = (along(from)?, along(toward)?);
    let shared = one.1.min(other.1) - one.0.max(other.0);
    let (left, right) = (line.offset_of(from.centre), line.offset_of(toward.centre));
    (shared > TOGETHER && left * right < 0.0).then_some(right < 0.0)
}

/// The same of a seam along a smooth curve, of which the ends are given: both patches have corners there.
pub fn between_along_curve((start, end): (Point, Point), from: &Token, toward: &Token) -> Option<bool> {
    let line = Line::between(start, end)?;
    let meets = |token: &Token| {
        let corners = token.outline.corners();
        let at = |p: Point| corners.iter().any(|c| c.distance(p) < 2.0 * WELD);
        token.bows.contains(&true) && at(start) && at(end)
    };
    let (left, right) = (line.offset_of(from.centre), line.offset_of(toward.centre));
    (meets(from) && meets(toward) && left * right < 0.0).then_some(right < 0.0)
}
