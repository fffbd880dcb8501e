//! Rectangles as they lie in a rectangular unit, seen with the unit's side 0 below.

use super::UnitView;
use crate::patch::rectangle_side;
use shape::{Line, Motion, Point, Vector, WELD};
use terms::FabricId;

/// A rectangle as it lies in the unit, side 0 of the unit's outline below.
#[derive(Clone, Debug)]
pub(super) struct Block {
    pub(super) low: Point,
    pub(super) high: Point,
    pub(super) fabric: FabricId,
}

impl Block {
    pub(super) fn size(&self) -> Vector {
        self.high - self.low
    }

    /// Where a side lies: its place across, 0 lower, 1 right, 2 upper, 3 left.
    pub(super) fn reach(&self, side: usize) -> f64 {
        [self.low.y, self.high.x, self.high.y, self.low.x][side]
    }

    /// Whether this covers the whole of a side of the other, which holds it.
    pub(super) fn covers(&self, side: usize, all: &Block) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < 2.0 * WELD;
        [side, side + 1, side + 3]
            .iter()
            .all(|i| near(self.reach(i % 4), all.reach(i % 4)))
    }
}

/// The unit and its patches, and the motion that lays the unit so; `None` where one of them is no rectangle.
pub(super) fn blocks(unit: &UnitView) -> Option<(Block, Vec<Block>, Motion)> {
    rectangle_side(&unit.outline)?;
    let flat = Line {
        through: Point::ORIGIN,
        along: Vector::new(1.0, 0.0),
    };
    let frame = Motion::line_to_line(unit.outline.edge(0)?, flat, false);
    let block = |outline, fabric: &FabricId| {
        let (low, high) = frame.polygon(outline).bounds();
        Block {
            low,
            high,
            fabric: fabric.clone(),
        }
    };
    let mut all = Vec::new();
    for patch in &unit.patches {
        rectangle_side(&patch.outline)?;
        all.push(block(&patch.outline, &patch.fabric));
    }
    Some((block(&unit.outline, &unit.patches.first()?.fabric), all, frame))
}
