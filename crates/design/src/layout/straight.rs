//! Straight rows of equal cells, with or without strips between.

use super::{Box2, Plain, TopPlan};
use crate::{Cell, Design, Placement, Sashing};
use std::collections::BTreeMap;

/// Equal cells with or without strips between.
#[derive(Clone, Copy)]
pub(super) struct Grid<'d> {
    pub cell: (f64, f64),
    pub sash: Option<&'d Sashing>,
    pub left: f64,
    pub top: f64,
}

impl Grid<'_> {
    /// Where column `j` begins, from the left.
    fn across(self, j: usize) -> f64 {
        self.left + along(self.cell.0, self.sash, j)
    }

    /// Where row `i` begins, from the top.
    fn down(self, i: usize) -> f64 {
        self.top - along(self.cell.1, self.sash, i)
    }
}

fn along(cell: f64, sash: Option<&Sashing>, index: usize) -> f64 {
    let (width, lines) = sash.map_or((0.0, index), |s| (s.width, index + usize::from(s.outer)));
    cell * index as f64 + width * lines as f64
}

/// Which lines between (and around) `count` cells carry a strip: line `k` lies before cell `k`.
pub(super) fn sash_lines(sashing: &Sashing, count: usize) -> Vec<usize> {
    (0..=count).filter(|&k| sashing.outer || (k > 0 && k < count)).collect()
}

pub(super) fn lay_cells(plan: &mut TopPlan, design: &Design, grid: Grid, rows: &[Vec<Option<Cell>>]) {
    let sizes: BTreeMap<&str, (f64, f64)> = design.blocks.iter().map(|b| (b.name.as_str(), b.size)).collect();
    let (width, height) = grid.cell;
    for (i, row) in rows.iter().enumerate() {
        for (j, cell) in row.iter().enumerate() {
            let area = Box2::new(grid.across(j), grid.down(i) - height, width, height);
            match cell {
                Some(cell) => plan.blocks.push(Placement {
                    block: cell.block.clone(),
                    centre: area.centre(),
                    size: sizes.get(cell.block.as_str()).copied().unwrap_or(grid.cell),
                    turn: f64::from(cell.quarters) * 90.0,
                    flip: cell.flip,
                    recolor: BTreeMap::new(),
                }),
                None => {
                    let ground = |fabric| Plain::upright(area, fabric, "ground", width >= height);
                    plan.plain.extend(design.layout.fill.clone().map(ground));
                }
            }
        }
    }
}

pub(super) fn lay_sashing(plan: &mut TopPlan, grid: Grid, sashing: &Sashing, down: usize, across: usize) {
    let w = sashing.width;
    let (cell_w, cell_h) = grid.cell;
    let strip = |x: f64, y: f64, width: f64, height: f64| {
        let area = Box2::new(x, y, width, height);
        Plain::upright(area, sashing.fabric.clone(), "sashing", width >= height)
    };
    let uprights = sash_lines(sashing, across);
    let levels = sash_lines(sashing, down);
    let whole = sashing.cornerstones.is_none();
    let inner = |lines: &[usize], count: usize| -> Vec<usize> {
        lines
            .iter()
            .copied()
            .filter(|&k| !whole || (k > 0 && k < count))
            .collect()
    };
    // Short strips between the blocks of each row; line k's strip lies just before cell k.
    for i in 0..down {
        for &k in &inner(&uprights, across) {
            plan.plain
                .push(strip(grid.across(k) - w, grid.down(i) - cell_h, w, cell_h));
        }
    }
    if let Some(stone) = &sashing.cornerstones {
        for &i in &levels {
            for j in 0..across {
                plan.plain.push(strip(grid.across(j), grid.down(i), cell_w, w));
            }
            for &k in &uprights {
                let area = Box2::new(grid.across(k) - w, grid.down(i), w, w);
                plan.plain
                    .push(Plain::upright(area, stone.clone(), "cornerstone", true));
            }
        }
        return;
    }
    // Whole strips between rows, as wide as the row of blocks and short strips.
    let row_left = grid.across(0);
    let row_width = grid.across(across) - w - row_left;
    for &i in &inner(&levels, down) {
        plan.plain.push(strip(row_left, grid.down(i), row_width, w));
    }
    if sashing.outer {
        // Sides run the rows' height, then top and bottom run through.
        let (high, low) = (grid.down(0), grid.down(down) + w);
        plan.plain.push(strip(row_left - w, low, w, high - low));
        plan.plain.push(strip(row_left + row_width, low, w, high - low));
        plan.plain.push(strip(row_left - w, high, row_width + 2.0 * w, w));
        plan.plain.push(strip(row_left - w, low - w, row_width + 2.0 * w, w));
    }
}
