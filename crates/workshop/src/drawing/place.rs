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
        let (right, low) = (new.left + new.width, new.top + new.height);
        if new.width < SAME || new.height < SAME {
            return Err(Refusal::new(
                "box-without-size",
                "A placed block needs a width and a height.",
            ));
        }
        if new.left < -SAME || new.top < -SAME || right > self.width + SAME || low > self.height + SAME {
            return Err(Refusal::new(
                "box-leaves-block",
                "The placed block would reach over the edge. Make it smaller or move it inside.",
            ));
        }
        let mut drawn = self.clone();
        let covers = |other: &Placed| {
            other.left > new.left - SAME
                && other.top > new.top - SAME
                && other.left + other.width < right + SAME
                && other.top + other.height < low + SAME
        };
        let meets = |other: &Placed| {
            other.left < right - SAME
                && other.left + other.width > new.left + SAME
                && other.top < low - SAME
                && other.top + other.height > new.top + SAME
        };
        drawn.placed.retain(|other| !covers(other));
        if let Some(other) = drawn.placed.iter().find(|other| meets(other)) {
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
        if (placed.width - placed.height).abs() > SAME {
            placed.quarters = (placed.quarters + 2) % 4;
        } else {
            placed.quarters = (placed.quarters + 1) % 4;
        }
        placed.redrawn = true;
        Ok(drawn)
    }

    /// Flips a placed block, left for right as seen.
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
        placed.quarters = (4 - placed.quarters % 4) % 4;
        placed.redrawn = true;
        Ok(drawn)
    }
}
