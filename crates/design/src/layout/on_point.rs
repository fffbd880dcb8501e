//! A layout on point: the lattice of cells stands on its corners and is cut off by the top's sides. What the sides cut
//! through is ground: half a cell is a side triangle, a quarter a corner triangle, its long side on the straight grain.
//!
//! u runs down to the right, v up to the right; the slanting rows that are sewn run along u. Where the sides float beyond the
//! points, strips go whole round the cells and ground lies beyond them; else the sides cut strips and stones off.

use super::{Plain, TopPlan};
use crate::{Cell, Design, Placement, Sashing};
use shape::{Line, Point, Polygon, Vector};
use std::collections::BTreeMap;

/// What is laid out.
pub(super) struct Setting<'d> {
    pub cell: (f64, f64),
    pub rows: &'d [Vec<Option<Cell>>],
    pub sash: Option<&'d Sashing>,
    pub float: f64,
}

/// Half of the root of two.
const HALF: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Lays it out with its lower left at `corner`.
pub(super) fn lay_on_point(plan: &mut TopPlan, design: &Design, setting: Setting, corner: Point) {
    let side = setting.cell.0;
    let sash = setting.sash.map_or(0.0, |s| s.width);
    let step = side + sash;
    let (columns, levels) = (setting.rows.first().map_or(0, Vec::len), setting.rows.len());
    let diagonal = step * std::f64::consts::SQRT_2;
    let width = columns as f64 * diagonal + 2.0 * setting.float;
    let height = levels.div_ceil(2) as f64 * diagonal + 2.0 * setting.float;
    let (low, high) = (corner, corner + Vector::new(width, height));
    // Cell `j` of level `i`, also of the levels and places that the sides cut through.
    let centre = |i: i64, j: i64| {
        let shift = if i.rem_euclid(2) == 0 { 0.5 } else { 1.0 };
        Point::new(
            low.x + setting.float + (j as f64 + shift) * diagonal,
            high.y - setting.float - (i as f64 + 1.0) * diagonal / 2.0,
        )
    };
    let fill = design.layout.fill.clone();
    let sizes: BTreeMap<&str, (f64, f64)> = design.blocks.iter().map(|b| (b.name.as_str(), b.size)).collect();
    for (i, row) in setting.rows.iter().enumerate() {
        for (j, cell) in row.iter().enumerate() {
            let at = centre(i as i64, j as i64);
            match cell {
                Some(cell) => plan.blocks.push(Placement {
                    block: cell.block.clone(),
                    centre: at,
                    size: sizes.get(cell.block.as_str()).copied().unwrap_or(setting.cell),
                    // A block at turn 0 stands with its own top left corner up.
                    turn: 45.0 + f64::from(cell.quarters) * 90.0,
                    flip: cell.flip,
                    recolor: BTreeMap::new(),
                }),
                None => plan.plain.extend(fill.clone().map(|fabric| Plain {
                    outline: slanted(at, side, side),
                    fabric,
                    role: "ground",
                    along: Vector::new(HALF, HALF),
                    lengthwise: false,
                })),
            }
        }
    }
    if let Some(fabric) = &fill {
        let ground = match setting.sash {
            Some(_) if setting.float == 0.0 => halves(&setting, &centre),
            _ => ends(&setting, &centre, low, high),
        };
        plan.plain.extend(ground.into_iter().filter_map(|outline| {
            let outline = clipped(&outline, low, high)?;
            Some(Plain {
                along: outer_side(&outline, low, high),
                outline,
                fabric: fabric.clone(),
                role: "setting triangle",
                lengthwise: false,
            })
        }));
    }
    if setting.sash.is_some() {
        lay_strips(plan, design, &setting, &centre, (low, high));
    }
}

/// The cells that the sides cut through, whole: the levels above and below, and the places left and right of the short levels.
fn halves(setting: &Setting, centre: &dyn Fn(i64, i64) -> Point) -> Vec<Polygon> {
    let (levels, columns) = (
        setting.rows.len() as i64,
        setting.rows.first().map_or(0, Vec::len) as i64,
    );
    let side = setting.cell.0;
    let mut all = Vec::new();
    for i in (-1..=levels).step_by(2) {
        for j in -1..columns {
            if i == -1 || i == levels || j == -1 || j == columns - 1 {
                all.push(slanted(centre(i, j), side, side));
            }
        }
    }
    all
}

/// A slanting row, in inches from the middle of the first cell: from where to where it reaches across (along v) and along (u).
struct Band {
    across: (f64, f64),
    along: (f64, f64),
}

/// The slanting rows of cells by their number across, each with the numbers of its first and its last cell along.
fn slanting_rows(setting: &Setting, centre: &dyn Fn(i64, i64) -> Point) -> BTreeMap<i64, (i64, i64)> {
    let step = setting.cell.0 + setting.sash.map_or(0.0, |s| s.width);
    let (u, v) = (Vector::new(HALF, -HALF), Vector::new(HALF, HALF));
    let origin = centre(0, 0);
    let mut rows: BTreeMap<i64, (i64, i64)> = BTreeMap::new();
    for (i, row) in setting.rows.iter().enumerate() {
        for j in 0..row.len() {
            let from = centre(i as i64, j as i64) - origin;
            let place = |axis: Vector| (from.dot(axis) / step).round() as i64;
            let (along, across) = (place(u), place(v));
            let reach = rows.entry(across).or_insert((along, along));
            *reach = (reach.0.min(along), reach.1.max(along));
        }
    }
    rows
}

/// The rows that strips make between the rows of cells and outside them: below, by number, each with its first and last cell.
fn strip_rows(rows: &BTreeMap<i64, (i64, i64)>) -> BTreeMap<i64, (i64, i64)> {
    let mut strips: BTreeMap<i64, (i64, i64)> = BTreeMap::new();
    for (&across, &(first, last)) in rows {
        for above in [across - 1, across] {
            let reach = strips.entry(above).or_insert((first, last));
            *reach = (reach.0.min(first), reach.1.max(last));
        }
    }
    strips
}

/// All slanting rows, strips with the cells, in order across.
fn bands(setting: &Setting, rows: &BTreeMap<i64, (i64, i64)>) -> Vec<Band> {
    let (side, width) = (setting.cell.0, setting.sash.map_or(0.0, |s| s.width));
    let step = side + width;
    let band = |middle: f64, wide: f64, (first, last): (i64, i64)| Band {
        across: (middle * step - wide / 2.0, middle * step + wide / 2.0),
        along: (
            first as f64 * step - side / 2.0 - width,
            last as f64 * step + side / 2.0 + width,
        ),
    };
    let mut all: Vec<Band> = rows
        .iter()
        .map(|(&across, &reach)| band(across as f64, side, reach))
        .collect();
    if setting.sash.is_some() {
        let strips = strip_rows(rows);
        all.extend(
            strips
                .iter()
                .map(|(&below, &reach)| band(below as f64 + 0.5, width, reach)),
        );
    }
    all.sort_by(|a, b| a.across.0.total_cmp(&b.across.0));
    all
}

/// What is left at both ends of every slanting row out to the top's sides, and beyond the first and the last row: so
/// the seams between rows run from side to side, however far the sides float beyond the points.
fn ends(setting: &Setting, centre: &dyn Fn(i64, i64) -> Point, low: Point, high: Point) -> Vec<Polygon> {
    let (u, v) = (Vector::new(HALF, -HALF), Vector::new(HALF, HALF));
    let origin = centre(0, 0);
    let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
    let whole = Polygon::new(corners.to_vec());
    // What of the top lies beyond a line across `axis`, so far from the first cell's middle.
    let beyond = |part: &Polygon, axis: Vector, far: f64, further: bool| {
        let line = Line {
            through: origin + axis * far,
            along: axis.left() * -1.0,
        };
        part.left_of(if further { line } else { line.reversed() })
    };
    let mut all = Vec::new();
    let bands = bands(setting, &slanting_rows(setting, centre));
    for Band { across, along } in &bands {
        let band = beyond(&whole, v, across.0, true);
        let band = beyond(&band, v, across.1, false);
        all.push(beyond(&band, u, along.0, false));
        all.push(beyond(&band, u, along.1, true));
    }
    if let (Some(first), Some(last)) = (bands.first(), bands.last()) {
        all.push(beyond(&whole, v, first.across.0, false));
        all.push(beyond(&whole, v, last.across.1, true));
    }
    all
}

/// The direction of the longest side that lies on the top's side: the straight grain of a setting triangle. A corner
/// triangle has two, and then either will do.
fn outer_side(outline: &Polygon, low: Point, high: Point) -> Vector {
    let (across, up) = (Vector::new(1.0, 0.0), Vector::new(0.0, 1.0));
    let mut best = (0.0, across);
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        let on = |of: fn(Point) -> f64, at: f64| (of(a) - at).abs() < 1e-6 && (of(b) - at).abs() < 1e-6;
        let along = if on(|p| p.y, low.y) || on(|p| p.y, high.y) {
            across
        } else if on(|p| p.x, low.x) || on(|p| p.x, high.x) {
            up
        } else {
            continue;
        };
        if a.distance(b) > best.0 + 1e-6 {
            best = (a.distance(b), along);
        }
    }
    best.1
}

/// A square or rectangle standing on its corner: `along` runs down to the right, `across` up to the right.
fn slanted(centre: Point, along: f64, across: f64) -> Polygon {
    let (u, v) = (
        Vector::new(HALF, -HALF) * (along / 2.0),
        Vector::new(HALF, HALF) * (across / 2.0),
    );
    Polygon::new(vec![centre - u - v, centre + u - v, centre + u + v, centre - u + v])
}

/// What of a convex outline lies in the rectangle; `None` when it is no more than a sliver.
fn clipped(polygon: &Polygon, low: Point, high: Point) -> Option<Polygon> {
    let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
    let mut part = polygon.clone();
    for i in 0..4 {
        part = part.left_of(Line::between(corners[i], corners[(i + 1) % 4])?);
        if part.is_empty() {
            return None;
        }
    }
    let part = part.simplified(shape::WELD / 2.0);
    (part.len() >= 3 && part.signed_area() > 1e-3).then_some(part)
}

/// Strips between the cells, all cut off by the top's sides: with cornerstones each as long as a cell and a stone at every
/// crossing; without, short strips within the slanting rows and whole ones between them.
fn lay_strips(
    plan: &mut TopPlan,
    design: &Design,
    setting: &Setting,
    centre: &dyn Fn(i64, i64) -> Point,
    (low, high): (Point, Point),
) {
    let Some(sashing) = setting.sash else { return };
    // A strip whose end is a corner of the top is cut in one piece, with a point at each end that reaches s (1 + √2) beyond the corner,
    // up to a mark; where the cloth is not as wide as that, along it. Others are joined.
    let usable = design
        .fabric(&sashing.fabric)
        .map_or(f64::INFINITY, |fabric| fabric.usable);
    let most = usable - 2.0 * design.quilt.seam * (1.0 + std::f64::consts::SQRT_2) - design.quilt.ruler;
    let (side, width) = (setting.cell.0, sashing.width);
    let step = side + width;
    let (u, v) = (Vector::new(HALF, -HALF), Vector::new(HALF, HALF));
    let (half_u, half_v) = (u * (step / 2.0), v * (step / 2.0));
    let (levels, columns) = (
        setting.rows.len() as i64,
        setting.rows.first().map_or(0, Vec::len) as i64,
    );
    let mut add = |outline: Polygon, fabric: &terms::FabricId, role: &'static str, along: Vector| {
        if let Some(outline) = clipped(&outline, low, high) {
            // Half a stone has its long side on the top's side, and there the grain must be straight.
            let along = if outline.len() == 3 {
                outer_side(&outline, low, high)
            } else {
                along
            };
            let reach = outline.corners().iter().map(|c| (*c - low).dot(along));
            let (near, far) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(n, f), r| (n.min(r), f.max(r)));
            plan.plain.push(Plain {
                lengthwise: role == "sashing" && outline.len() != 4 && far - near > most,
                outline,
                fabric: fabric.clone(),
                role,
                along,
            });
        }
    };
    if setting.float > 0.0 {
        // Strips go round the cells, and no further.
        let rows = slanting_rows(setting, centre);
        let at = |along: f64, across: f64| centre(0, 0) + u * (along * step) + v * (across * step);
        for (&across, &(first, last)) in &rows {
            for before in first - 1..=last {
                let place = at(before as f64 + 0.5, across as f64);
                add(slanted(place, width, side), &sashing.fabric, "sashing", v);
            }
        }
        for (&below, &(first, last)) in &strip_rows(&rows) {
            let across = below as f64 + 0.5;
            let Some(stone) = &sashing.cornerstones else {
                let long = (last - first) as f64 * step + side + 2.0 * width;
                let place = at((first + last) as f64 / 2.0, across);
                add(slanted(place, long, width), &sashing.fabric, "sashing", u);
                continue;
            };
            for along in first..=last {
                add(
                    slanted(at(along as f64, across), side, width),
                    &sashing.fabric,
                    "sashing",
                    u,
                );
            }
            for before in first - 1..=last {
                add(
                    slanted(at(before as f64 + 0.5, across), width, width),
                    stone,
                    "cornerstone",
                    u,
                );
            }
        }
        return;
    }
    let mut told: Vec<i64> = Vec::new();
    // Each cell of the lattice owns the strips to its lower right and upper right, and the stone at its right corner.
    for i in -1..=levels {
        for j in -2..=columns + 1 {
            let at = centre(i, j);
            add(slanted(at + half_u, width, side), &sashing.fabric, "sashing", v);
            if let Some(stone) = &sashing.cornerstones {
                add(slanted(at + half_v, side, width), &sashing.fabric, "sashing", u);
                add(slanted(at + half_u + half_v, width, width), stone, "cornerstone", u);
                continue;
            }
            let between = ((at - centre(0, 0)).dot(v) / step).round() as i64;
            if !told.contains(&between) {
                told.push(between);
                let long = 2.0 * (low.distance(high) + step);
                add(slanted(at + half_v, long, width), &sashing.fabric, "sashing", u);
            }
        }
    }
}
