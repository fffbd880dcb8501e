//! A seam is bowed: the arc of a circle from end to end through the place it is pulled to. Pulled back to the straight, it is
//! straight again.

use super::join::opposite;
use super::outline::Outline;
use super::{Drawing, Refusal, Side, same};
use kurbo::Point;

/// A seam pulled less than this out of the straight stays straight, inches.
const SLACK: f64 = 1.0 / 32.0;

impl Drawing {
    /// Bows the seam nearest to `near` so that it passes through `through`.
    ///
    /// # Errors
    /// When no seam between two patches is there, or a patch would cross itself or vanish.
    pub fn bow(&self, near: Point, through: Point) -> Result<Drawing, Refusal> {
        let corners = self.points();
        let mut drawn = self.clone();
        for patch in &mut drawn.patches {
            for corner in &corners {
                if patch.outline.touches(*corner) {
                    patch.outline = patch.outline.with_corner(*corner);
                }
            }
        }
        let seam = drawn.seam_near(near)?;
        let pulled = pulled(seam.from(), seam.to(), through);
        let too_far = || {
            Refusal::new(
                "bowed-too-far",
                "Bowed so far, a patch would cross itself or vanish. Pull the seam less far.",
            )
        };
        for patch in &mut drawn.patches {
            let swap = |side: &Side| {
                if alike(side, &seam) {
                    Some(pulled)
                } else if opposite(side, &seam) {
                    Some(pulled.reversed())
                } else {
                    None
                }
            };
            let sides = patch.outline.sides();
            if sides.iter().any(|side| swap(side).is_some()) {
                let new: Vec<Side> = sides.iter().map(|side| swap(side).unwrap_or(*side)).collect();
                if new.iter().map(Side::signed_area).sum::<f64>() <= 0.0 {
                    return Err(too_far());
                }
                patch.outline = Outline::new(new);
                patch.redrawn = true;
                if !patch.outline.sound() {
                    return Err(too_far());
                }
            }
        }
        if (drawn.covered() - self.covered()).abs() > 1e-5 {
            return Err(too_far());
        }
        for patch in &mut drawn.patches {
            patch.outline = patch.outline.without_idle_corners();
        }
        Ok(drawn)
    }

    /// The seam between two patches nearest to a place.
    fn seam_near(&self, near: Point) -> Result<Side, Refusal> {
        let mut best: Option<(f64, Side)> = None;
        for (i, patch) in self.patches.iter().enumerate() {
            for side in patch.outline.sides() {
                let far = side.nearest(near).1;
                if best.as_ref().is_some_and(|(found, _)| *found <= far + 1e-9) {
                    continue;
                }
                let shared = self
                    .patches
                    .iter()
                    .enumerate()
                    .any(|(j, other)| j != i && other.outline.sides().iter().any(|s| opposite(side, s)));
                if shared {
                    best = Some((far, *side));
                }
            }
        }
        best.map(|(_, side)| side).ok_or_else(|| {
            Refusal::new(
                "no-seam-there",
                "There is no seam between two patches here. The block's edge and placed blocks stay straight.",
            )
        })
    }
}

/// The arc from one end to the other through a place; straight when it is hardly pulled.
fn pulled(from: Point, to: Point, through: Point) -> Side {
    let chord = to - from;
    let rise = chord.cross(through - from.midpoint(to)) / chord.hypot();
    Side::risen(from, to, if rise.abs() < SLACK { 0.0 } else { rise })
}

/// Whether two sides run the same way along the same line.
fn alike(one: &Side, other: &Side) -> bool {
    same(one.from(), other.from()) && same(one.to(), other.to()) && (one.along(0.5) - other.along(0.5)).hypot() < 0.005
}
