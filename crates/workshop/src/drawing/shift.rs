//! A point where seams meet is moved; the patches round it follow. It stops before any patch would cross itself or vanish.

use super::outline::Outline;
use super::{Drawing, Refusal, SAME, Side, same};
use kurbo::Point;

/// How often the way is halved to find where the point must stop: enough for a thousandth of an inch across a quilt.
const HALVINGS: u32 = 20;

impl Drawing {
    /// Moves the point where seams meet from one place towards another, as far as the cloth allows. The block's corners stay;
    /// a point on the block's edge or on a placed block's box slides along it.
    ///
    /// # Errors
    /// When no seams meet there, or the point cannot move at all.
    pub fn shift(&self, from: Point, to: Point) -> Result<Drawing, Refusal> {
        let corners = self.points();
        let Some(point) = corners.iter().copied().find(|p| same(*p, from)) else {
            return Err(Refusal::new(
                "no-point-there",
                "No seams meet at this place. Take hold of a point where they do.",
            ));
        };
        let to = self.allowed(point, to)?;
        let way = to - point;
        if way.hypot() < SAME {
            return Ok(self.clone());
        }
        if let Some(whole) = self.moved(point, to) {
            return Ok(whole);
        }
        let (mut free, mut stopped) = (0.0f64, 1.0f64);
        let mut best = None;
        for _ in 0..HALVINGS {
            let middle = (free + stopped) / 2.0;
            match self.moved(point, point + way * middle) {
                Some(drawn) => {
                    free = middle;
                    best = Some(drawn);
                }
                None => stopped = middle,
            }
        }
        best.ok_or_else(|| {
            Refusal::new(
                "cannot-move",
                "Moved that way a patch would cross itself or vanish at once. Move the point another way.",
            )
        })
    }

    /// Where the point may go: held to the lines it lies on.
    fn allowed(&self, point: Point, to: Point) -> Result<Point, Refusal> {
        let on = |a: f64, b: f64| (a - b).abs() < SAME;
        let mut along_x = on(point.y, 0.0) || on(point.y, self.height);
        let mut along_y = on(point.x, 0.0) || on(point.x, self.width);
        for placed in self.placed.iter().filter(|placed| !placed.upright()) {
            let corners = placed.corners();
            if (0..4).any(|i| lies_on(point, corners[i], corners[(i + 1) % 4])) {
                return Err(Refusal::new(
                    "corner-stays",
                    "A point on the side of a block that stands at an angle stays where it is.",
                ));
            }
        }
        for placed in self.placed.iter().filter(|placed| placed.upright()) {
            let (right, low) = (placed.left + placed.width, placed.top + placed.height);
            let within_x = point.x > placed.left - SAME && point.x < right + SAME;
            let within_y = point.y > placed.top - SAME && point.y < low + SAME;
            along_x |= within_x && (on(point.y, placed.top) || on(point.y, low));
            along_y |= within_y && (on(point.x, placed.left) || on(point.x, right));
        }
        match (along_x, along_y) {
            (true, true) => Err(Refusal::new(
                "corner-stays",
                "A corner of the block, or of a block placed in it, stays where it is. Change its size instead.",
            )),
            (true, false) => Ok(Point::new(to.x.clamp(0.0, self.width), point.y)),
            (false, true) => Ok(Point::new(point.x, to.y.clamp(0.0, self.height))),
            (false, false) => Ok(Point::new(to.x.clamp(0.0, self.width), to.y.clamp(0.0, self.height))),
        }
    }

    /// With the point there, when all patches are still sound.
    fn moved(&self, point: Point, to: Point) -> Option<Drawing> {
        let mut drawn = self.clone();
        for patch in &mut drawn.patches {
            if !patch.outline.touches(point) {
                continue;
            }
            let cornered = patch.outline.with_corner(point);
            if !cornered.has_corner(point) {
                continue;
            }
            let follow = |at: Point| if same(at, point) { to } else { at };
            let sides: Vec<Side> = cornered
                .sides()
                .iter()
                .map(|side| side.between(follow(side.from()), follow(side.to())))
                .collect();
            // Turned inside out is not moved.
            if sides.iter().map(Side::signed_area).sum::<f64>() <= 0.0 {
                return None;
            }
            let outline = Outline::new(sides);
            if !outline.sound() {
                return None;
            }
            patch.outline = outline.without_idle_corners();
            patch.redrawn = true;
        }
        // All cloth still covers the block once: what one patch lost another gained, to a hair, or the halving above would
        // creep as far as is let through.
        ((drawn.covered() - self.covered()).abs() < 1e-5).then_some(drawn)
    }
}

/// Whether the point lies on the straight between two others.
fn lies_on(point: Point, a: Point, b: Point) -> bool {
    let (way, to) = (b - a, point - a);
    let along = way.dot(to) / way.hypot2();
    (-1e-9..=1.0 + 1e-9).contains(&along) && (way.cross(to) / way.hypot()).abs() < SAME
}
