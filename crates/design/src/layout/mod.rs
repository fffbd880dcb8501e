//! Where everything of the top lies: blocks, sashing, ground and borders, in inches, y up, from the top's lower left.

mod borders;
mod ground;
mod on_point;
pub(crate) mod rounds;
mod straight;

use crate::scraps::{Scraps, choose};
use crate::{Design, LayoutKind, Placement};
use borders::lay_borders;
use shape::{Point, Polygon, Vector};
use straight::{Grid, lay_cells, lay_sashing, sash_lines};
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

/// A plain piece of the top that belongs to no block.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Plain {
    pub outline: Polygon,
    pub fabric: FabricId,
    /// "sashing", "cornerstone", "ground", "border", "setting triangle".
    pub role: &'static str,
    /// Along which its straight grain runs: the long sides of a strip, the outer side of a setting triangle.
    pub along: Vector,
    /// The cloth's length, not its width, runs along there: one long piece.
    pub lengthwise: bool,
}

impl Plain {
    /// An upright rectangle; strips are cut along its long sides.
    fn upright(area: Box2, fabric: FabricId, role: &'static str, across: bool) -> Self {
        let along = if across {
            Vector::new(1.0, 0.0)
        } else {
            Vector::new(0.0, 1.0)
        };
        Plain {
            outline: area.polygon(),
            fabric,
            role,
            along,
            lengthwise: false,
        }
    }
}

/// The top before any block is looked into.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct TopPlan {
    pub width: f64,
    pub height: f64,
    /// In the order of the file: cells row by row or free placements, then the units and corners of each border.
    pub blocks: Vec<Placement>,
    /// How many of them belong to the layout; the rest to borders.
    pub of_layout: usize,
    pub plain: Vec<Plain>,
    /// The cloth of what is scrappy.
    pub scraps: Scraps,
}

/// Width and height of the layout within its borders.
pub(crate) fn inner_size(design: &Design) -> (f64, f64) {
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
    let inner = inner_size(design);
    let (rounds, _) = rounds::rounds(design, inner);
    rounds
        .last()
        .map_or(inner, |round| (round.outer.width(), round.outer.height()))
}

/// Lays the top out.
pub(crate) fn lay(design: &Design) -> TopPlan {
    let (width, height) = top_size(design);
    let mut plan = TopPlan {
        width,
        height,
        ..TopPlan::default()
    };
    let (inner_width, inner_height) = inner_size(design);
    let (rounds, corner) = rounds::rounds(design, (inner_width, inner_height));
    match &design.layout.kind {
        LayoutKind::Straight { cell, rows, sashing } => {
            let grid = Grid {
                cell: *cell,
                sash: sashing.as_ref(),
                left: corner.x,
                top: corner.y + inner_height,
            };
            lay_cells(&mut plan, design, grid, rows);
            if let Some(sashing) = sashing {
                let across = rows.first().map_or(0, Vec::len);
                lay_sashing(&mut plan, grid, sashing, rows.len(), across);
            }
        }
        LayoutKind::Free { place, .. } => {
            plan.blocks.extend(place.iter().cloned().map(|mut p| {
                p.centre = p.centre + (corner - Point::ORIGIN);
                p
            }));
            let whole = Box2::new(corner.x, corner.y, inner_width, inner_height);
            ground::lay_ground(&mut plan, design, whole);
        }
        LayoutKind::OnPoint {
            cell,
            rows,
            sashing,
            float,
        } => {
            let setting = on_point::Setting {
                cell: *cell,
                rows,
                sash: sashing.as_ref(),
                float: *float,
            };
            on_point::lay_on_point(&mut plan, design, setting, corner);
        }
    }
    plan.of_layout = plan.blocks.len();
    lay_borders(&mut plan, design, &rounds);
    choose(&mut plan, design);
    plan
}
