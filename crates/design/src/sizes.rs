//! The same quilt in another size, or in other cloth: each is a design of its own, planned and proved like any other.

use crate::{Block, Border, Design, Layout, LayoutKind, Placement, Spacer};
use shape::Point;
use std::collections::BTreeMap;

/// The name of the size that the plain layout has.
pub const BASE: &str = "base";

impl Design {
    /// The names of all sizes, `base` first.
    pub fn size_names(&self) -> Vec<&str> {
        std::iter::once(BASE)
            .chain(self.sizes.iter().map(|size| size.name.as_str()))
            .collect()
    }

    /// The size meant when none is named.
    pub fn default_size(&self) -> &str {
        self.sizes
            .iter()
            .find(|size| size.default)
            .map_or(BASE, |size| size.name.as_str())
    }

    /// The quilt in the size of that name, a design without further sizes; `None` when there is no such size.
    pub fn at_size(&self, name: &str) -> Option<Design> {
        let mut design = Design {
            sizes: Vec::new(),
            ..self.clone()
        };
        if name == BASE {
            if self.default_size() != BASE {
                in_proportion(&mut design, &self.at_size(self.default_size())?);
            }
            return Some(design);
        }
        let size = self.sizes.iter().find(|size| size.name == name)?;
        if let Some(layout) = &size.layout {
            design.layout = layout.clone();
        }
        if let Some(borders) = &size.borders {
            design.borders.clone_from(borders);
        }
        if let Some(finish) = &size.finish {
            design.finish = finish.clone();
        }
        let mut design = design.scaled(size.scale);
        if name != self.default_size() {
            in_proportion(&mut design, &self.at_size(self.default_size())?);
        }
        Some(design)
    }

    /// How often each block is placed on the top itself, all its turns and twins together.
    pub fn placed_blocks(&self) -> BTreeMap<String, u32> {
        counted(crate::layout::lay(self).blocks)
    }

    /// Those of them that lie in borders: units and corners.
    pub fn border_blocks(&self) -> BTreeMap<String, u32> {
        let mut plan = crate::layout::lay(self);
        counted(plan.blocks.split_off(plan.of_layout))
    }

    /// Blocks, cells, sashing, borders and places of a free layout so many times as large; seams, binding and what reaches beyond the
    /// top stay as they are.
    pub fn scaled(mut self, by: f64) -> Design {
        if by == 1.0 {
            return self;
        }
        self.blocks.iter_mut().for_each(|block| scale_block(block, by));
        scale_layout(&mut self.layout, by);
        for Border { width, spacer, .. } in &mut self.borders {
            *width *= by;
            if let Some(Spacer::Widths(sides, ends)) = spacer {
                (*sides, *ends) = (*sides * by, *ends * by);
            }
        }
        self
    }

    /// The quilt in the cloth of that colourway, a design without further colourways; `None` when there is no such.
    pub fn in_colorway(&self, name: &str) -> Option<Design> {
        let colorway = self.colorways.iter().find(|colorway| colorway.name == name)?;
        let mut design = Design {
            colorways: Vec::new(),
            ..self.clone()
        };
        for fabric in &mut design.fabrics {
            let Some(other) = colorway.fabrics.get(&fabric.name) else {
                continue;
            };
            if let Some(label) = &other.label {
                fabric.label.clone_from(label);
            }
            if let Some(color) = other.color {
                fabric.color = color;
            }
            if let Some(price) = other.price {
                fabric.price = Some(price);
            }
        }
        Some(design)
    }
}

fn counted(placed: Vec<Placement>) -> BTreeMap<String, u32> {
    let mut counts = BTreeMap::new();
    for placed in placed {
        *counts.entry(placed.block).or_default() += 1;
    }
    counts
}

/// The parts' counts are those of the default size; in another they go with how often the block is placed, rounded up.
fn in_proportion(design: &mut Design, default: &Design) {
    if design.parts.is_empty() {
        return;
    }
    let (here, there) = (design.placed_blocks(), default.placed_blocks());
    for (name, count) in design.parts.iter_mut().flat_map(|part| part.blocks.iter_mut()) {
        let of = |counts: &BTreeMap<String, u32>| u64::from(counts.get(name).copied().unwrap_or(0));
        // All stays all.
        if *count != u32::MAX && of(&there) > 0 {
            let scaled = (u64::from(*count) * of(&here)).div_ceil(of(&there));
            *count = u32::try_from(scaled).unwrap_or(u32::MAX);
        }
    }
}

fn scale_block(block: &mut Block, by: f64) {
    block.size = (block.size.0 * by, block.size.1 * by);
    block.patches.iter_mut().for_each(|patch| patch.scale(by));
    block.place.iter_mut().for_each(|placed| scale_placement(placed, by));
}

fn scale_placement(placed: &mut Placement, by: f64) {
    placed.centre = Point::new(placed.centre.x * by, placed.centre.y * by);
    placed.size = (placed.size.0 * by, placed.size.1 * by);
}

fn scale_layout(layout: &mut Layout, by: f64) {
    match &mut layout.kind {
        LayoutKind::Straight { cell, sashing, .. } => {
            *cell = (cell.0 * by, cell.1 * by);
            if let Some(sashing) = sashing {
                sashing.width *= by;
            }
        }
        LayoutKind::OnPoint {
            cell, sashing, float, ..
        } => {
            *cell = (cell.0 * by, cell.1 * by);
            *float *= by;
            if let Some(sashing) = sashing {
                sashing.width *= by;
            }
        }
        LayoutKind::Free { size, place } => {
            *size = (size.0 * by, size.1 * by);
            place.iter_mut().for_each(|placed| scale_placement(placed, by));
        }
    }
}
