//! Where everything of the top lies: blocks, sashing, ground and borders, in inches, y up, from the top's lower left.

use crate::{Cell, Corners, Design, LayoutKind, Placement, Sashing};
use shape::{Point, Polygon, Vector};
use std::collections::BTreeMap;
use terms::FabricId;

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Box2 {
    pub low: Point,
    pub high: Point,
}

impl Box2 {
    fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Box2 {
            low: Point::new(x, y),
            high: Point::new(x + width, y + height),
        }
    }

    pub(crate) fn centre(self) -> Point {
        self.low.toward(self.high, 0.5)
    }

    pub(crate) fn polygon(self) -> Polygon {
        Polygon::new(vec![
            self.low,
            Point::new(self.high.x, self.low.y),
            self.high,
            Point::new(self.low.x, self.high.y),
        ])
    }
}

/// A plain rectangle of the top.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Plain {
    pub area: Box2,
    pub fabric: FabricId,
    /// "sashing", "cornerstone", "ground", "border".
    pub role: &'static str,
    /// Whether its long sides run across the top; strips are cut along them.
    pub across: bool,
}

/// The top before any block is looked into.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct TopPlan {
    pub width: f64,
    pub height: f64,
    /// In the order of the file: cells row by row or free placements, then border corners.
    pub blocks: Vec<Placement>,
    pub plain: Vec<Plain>,
    /// Whether the layout's kind can be laid out at all.
    pub known: bool,
}

/// Width and height of the layout within its borders.
fn inner_size(design: &Design) -> (f64, f64) {
    match &design.layout.kind {
        LayoutKind::Straight { cell, rows, sashing } => {
            let (down, across) = (rows.len(), rows.first().map_or(0, Vec::len));
            let along = |cell: f64, count: usize| {
                let lines = sashing
                    .as_ref()
                    .map_or(0.0, |s| s.width * sash_lines(s, count).len() as f64);
                cell * count as f64 + lines
            };
            (along(cell.0, across), along(cell.1, down))
        }
        LayoutKind::Free { size, .. } => *size,
        LayoutKind::OnPoint {
            cell,
            rows,
            sashing,
            float,
        } => {
            // Each cell stands on a corner: its diagonal for equal sides (derived: √2 times the side).
            let sash = sashing.as_ref().map_or(0.0, |s| s.width);
            let across = rows.first().map_or(0, Vec::len) as f64;
            let down = rows.len().div_ceil(2) as f64;
            let diagonal = (cell.0 + sash) * std::f64::consts::SQRT_2;
            (across * diagonal + 2.0 * float, down * diagonal + 2.0 * float)
        }
    }
}

/// The finished size of the top.
pub(crate) fn top_size(design: &Design) -> (f64, f64) {
    let (width, height) = inner_size(design);
    let around: f64 = design.borders.iter().map(|b| 2.0 * b.width).sum();
    (width + around, height + around)
}

/// Lays the top out.
pub(crate) fn lay(design: &Design) -> TopPlan {
    let (width, height) = top_size(design);
    let mut plan = TopPlan {
        width,
        height,
        known: true,
        ..TopPlan::default()
    };
    let around: f64 = design.borders.iter().map(|b| b.width).sum();
    let (inner_width, inner_height) = inner_size(design);
    match &design.layout.kind {
        LayoutKind::Straight { cell, rows, sashing } => {
            let grid = Grid {
                cell: *cell,
                sash: sashing.as_ref(),
                left: around,
                top: around + inner_height,
            };
            lay_cells(&mut plan, design, grid, rows);
            if let Some(sashing) = sashing {
                let across = rows.first().map_or(0, Vec::len);
                lay_sashing(&mut plan, grid, sashing, rows.len(), across);
            }
        }
        LayoutKind::Free { place, .. } => {
            plan.blocks.extend(place.iter().cloned().map(|mut p| {
                p.centre = p.centre + Vector::new(around, around);
                p
            }));
        }
        LayoutKind::OnPoint { .. } => plan.known = false,
    }
    lay_borders(&mut plan, design, around, inner_width, inner_height);
    plan
}

/// Equal cells with or without strips between.
#[derive(Clone, Copy)]
struct Grid<'d> {
    cell: (f64, f64),
    sash: Option<&'d Sashing>,
    left: f64,
    top: f64,
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
fn sash_lines(sashing: &Sashing, count: usize) -> Vec<usize> {
    (0..=count).filter(|&k| sashing.outer || (k > 0 && k < count)).collect()
}

fn lay_cells(plan: &mut TopPlan, design: &Design, grid: Grid, rows: &[Vec<Option<Cell>>]) {
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
                None => plan.plain.extend(design.layout.fill.clone().map(|fabric| Plain {
                    area,
                    fabric,
                    role: "ground",
                    across: width >= height,
                })),
            }
        }
    }
}

fn lay_sashing(plan: &mut TopPlan, grid: Grid, sashing: &Sashing, down: usize, across: usize) {
    let w = sashing.width;
    let (cell_w, cell_h) = grid.cell;
    let strip = |x: f64, y: f64, width: f64, height: f64| Plain {
        area: Box2::new(x, y, width, height),
        fabric: sashing.fabric.clone(),
        role: "sashing",
        across: width >= height,
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
                plan.plain.push(Plain {
                    area: Box2::new(grid.across(k) - w, grid.down(i), w, w),
                    fabric: stone.clone(),
                    role: "cornerstone",
                    across: true,
                });
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

fn lay_borders(plan: &mut TopPlan, design: &Design, around: f64, width: f64, height: f64) {
    let (mut low, mut high) = (Point::new(around, around), Point::new(around + width, around + height));
    for border in &design.borders {
        let w = border.width;
        let (out_low, out_high) = (low - Vector::new(w, w), high + Vector::new(w, w));
        let sides_through = border.corners == (Corners::Butted { sides_first: false });
        // Mitred corners are not planned; their picture is drawn as if butted.
        let top_through = matches!(border.corners, Corners::Butted { sides_first: true } | Corners::Mitred);
        let (side_low, side_high) = if sides_through {
            (out_low.y, out_high.y)
        } else {
            (low.y, high.y)
        };
        let (top_left, top_right) = if top_through {
            (out_low.x, out_high.x)
        } else {
            (low.x, high.x)
        };
        let strip = |x: f64, y: f64, width: f64, height: f64, across: bool| Plain {
            area: Box2::new(x, y, width, height),
            fabric: border.fabric.clone(),
            role: "border",
            across,
        };
        plan.plain
            .push(strip(out_low.x, side_low, w, side_high - side_low, false));
        plan.plain.push(strip(high.x, side_low, w, side_high - side_low, false));
        plan.plain.push(strip(top_left, high.y, top_right - top_left, w, true));
        plan.plain
            .push(strip(top_left, out_low.y, top_right - top_left, w, true));
        if let Corners::Block(name) = &border.corners {
            let corners = [
                Point::new(out_low.x, high.y),
                Point::new(high.x, high.y),
                Point::new(high.x, out_low.y),
                Point::new(out_low.x, out_low.y),
            ];
            for (quarter, corner) in corners.into_iter().enumerate() {
                plan.blocks.push(Placement {
                    block: name.clone(),
                    centre: corner + Vector::new(w / 2.0, w / 2.0),
                    size: (w, w),
                    turn: 90.0 * quarter as f64,
                    flip: false,
                    recolor: BTreeMap::new(),
                });
            }
        }
        (low, high) = (out_low, out_high);
    }
}
