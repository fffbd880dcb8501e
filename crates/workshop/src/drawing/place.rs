//! A block is placed inside: it replaces the cloth beneath it. Taken out again, plain cloth fills its place.

use super::outline::Outline;
use super::{Drawing, Patch, Placed, Refusal, SAME};
use kurbo::Point;

impl Drawing {
    /// Places a block; patches beneath are cut away along its box, and blocks wholly beneath it are taken out.
    ///
    /// # Errors
    /// When the box leaves the block, cuts through another placed block, or leaves a sliver beside it.
    pub fn place(&self, new: Placed) -> Result<Drawing, Refusal> {
        if new.width < SAME || new.height < SAME {
            return Err(Refusal::new(
                "box-without-size",
                "A placed block needs a width and a height.",
            ));
        }
        let inside = |p: &Point| p.x > -SAME && p.y > -SAME && p.x < self.width + SAME && p.y < self.height + SAME;
        if !new.corners().iter().all(inside) {
            return Err(Refusal::new(
                "box-leaves-block",
                "The placed block would reach over the edge. Make it smaller or move it inside.",
            ));
        }
        let mut drawn = self.clone();
        drawn.placed.retain(|other| !new.covers(other));
        if let Some(other) = drawn.placed.iter().find(|other| other.meets(&new)) {
            return Err(Refusal::new(
                "cuts-placed-block",
                format!(
                    "Part of the block {} lies here. Take it out first, or cover it whole.",
                    other.block
                ),
            ));
        }
        let corners = new.corners();
        for i in 0..4 {
            // A side along seams divides nothing; that is as good.
            if let Ok(cut) = drawn.divide_within(corners[i], corners[(i + 1) % 4]) {
                drawn = cut;
            }
        }
        let inside = |at: Point| new.holds(at);
        drawn.patches.retain(|patch| !inside(patch.middle()));
        drawn.placed.push(new);
        if (drawn.covered() - self.width * self.height).abs() > 1e-3 {
            return Err(Refusal::new(
                "cannot-cut-out",
                "The cloth beside this box would become too narrow to be sewn. Move or resize it.",
            ));
        }
        Ok(drawn)
    }

    /// Takes a placed block out; its box becomes one patch.
    ///
    /// # Errors
    /// When there is no such placed block.
    pub fn take_out(&self, which: usize, fabric: &str) -> Result<Drawing, Refusal> {
        let mut drawn = self.clone();
        if which >= drawn.placed.len() {
            return Err(Refusal::new("no-block-there", "There is no placed block here."));
        }
        let placed = drawn.placed.remove(which);
        drawn.patches.push(Patch {
            fabric: fabric.to_string(),
            entry: None,
            redrawn: true,
            outline: Outline::of_corners(&placed.corners()),
        });
        Ok(drawn)
    }

    /// Like `divide`, but the cut is clipped to its ends: patches it only reaches into are cut on to their edge all the same,
    /// which is cloth beside the box and may be joined again.
    fn divide_within(&self, from: Point, to: Point) -> Result<Drawing, Refusal> {
        self.divide(from, to)
    }

    /// Turns a placed block by a quarter, clockwise.
    ///
    /// # Errors
    /// When there is none, or its box is not square.
    pub fn turn_placed(&self, which: usize) -> Result<Drawing, Refusal> {
        let mut drawn = self.clone();
        let placed = drawn
            .placed
            .get_mut(which)
            .ok_or_else(|| Refusal::new("no-block-there", "There is no placed block here."))?;
        let quarters = if (placed.width - placed.height).abs() > SAME {
            2
        } else {
            1
        };
        if placed.upright() {
            placed.quarters = (placed.quarters + quarters) % 4;
        } else {
            placed.slant = (placed.slant + 90.0 * f64::from(quarters)).rem_euclid(360.0);
        }
        placed.redrawn = true;
        Ok(drawn)
    }

    /// Flips a placed block, left for right as seen; one that stands at an angle in its own frame, so that its box stays.
    ///
    /// # Errors
    /// When there is none.
    pub fn flip_placed(&self, which: usize) -> Result<Drawing, Refusal> {
        let mut drawn = self.clone();
        let placed = drawn
            .placed
            .get_mut(which)
            .ok_or_else(|| Refusal::new("no-block-there", "There is no placed block here."))?;
        // A flip as seen after q quarter turns is a flip before 4 - q of them.
        placed.flip = !placed.flip;
        if placed.upright() {
            placed.quarters = (4 - placed.quarters % 4) % 4;
        }
        placed.redrawn = true;
        Ok(drawn)
    }
}
