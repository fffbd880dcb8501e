//! From the design file's words to a drawing.

use super::outline::Outline;
use super::{Drawing, Patch, Placed, SAME, Side};
use kurbo::{CubicBez, Point, Vec2};
use toml_edit::{InlineTable, Table, Value};

/// Arcs of the file are followed this closely, inches.
const ARC: f64 = 1e-5;

/// Why a block cannot be drawn on here (it may still be a good block).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotDrawn(pub String);

/// Reads a block of a design that is known to be sound: `size` is its finished size in inches.
///
/// # Errors
/// When its patches do not cover it once.
pub fn read_block(table: &Table, size: (f64, f64), fallback: &str) -> Result<Drawing, NotDrawn> {
    let grid = pair(table.get("grid").and_then(|item| item.as_value())).unwrap_or((1.0, 1.0));
    let (sx, sy) = (size.0 / grid.0, size.1 / grid.1);
    let mut drawing = Drawing {
        width: size.0,
        height: size.1,
        grid,
        patches: Vec::new(),
        laid: Vec::new(),
        placed: Vec::new(),
    };
    let entries = |key: &str| -> Vec<InlineTable> {
        match table.get(key) {
            Some(item) => match (item.as_array(), item.as_array_of_tables()) {
                (Some(array), _) => array.iter().filter_map(|v| v.as_inline_table().cloned()).collect(),
                (None, Some(tables)) => tables.iter().map(|t| t.clone().into_inline_table()).collect(),
                (None, None) => Vec::new(),
            },
            None => Vec::new(),
        }
    };
    for (i, entry) in entries("patches").iter().enumerate() {
        let text = entry.get("path").and_then(Value::as_str).unwrap_or_default();
        let outline = outline_of(text, sx, sy).ok_or_else(|| NotDrawn(format!("patch {} cannot be read", i + 1)))?;
        let patch = Patch {
            fabric: entry
                .get("fabric")
                .and_then(Value::as_str)
                .unwrap_or(fallback)
                .to_string(),
            entry: Some(i),
            redrawn: false,
            outline,
        };
        if entry.get("on").and_then(Value::as_str) == Some("ground") {
            drawing.laid.push(patch);
        } else {
            drawing.patches.push(patch);
        }
    }
    for (i, entry) in entries("place").iter().enumerate() {
        let placed = placed_of(entry, i, sx, sy)
            .ok_or_else(|| NotDrawn(format!("the placed block {} cannot be read", i + 1)))?;
        drawing.placed.push(placed);
    }
    if drawing.patches.is_empty() && drawing.placed.is_empty() {
        return Ok(Drawing {
            laid: drawing.laid,
            ..Drawing::blank(size.0, size.1, grid, fallback)
        });
    }
    if (drawing.covered() - size.0 * size.1).abs() > 0.01 * size.0.max(size.1) {
        return Err(NotDrawn(
            "its patches leave a gap or lie over one another; mend the file, or begin it afresh".to_string(),
        ));
    }
    Ok(drawing)
}

fn placed_of(entry: &InlineTable, i: usize, sx: f64, sy: f64) -> Option<Placed> {
    let size = pair(entry.get("size"))?;
    let (mut width, mut height) = (size.0 * sx, size.1 * sy);
    let (quarters, slant) = super::quarters_and_slant(entry.get("turn").map_or(Some(0.0), number)?);
    let (left, top) = match (pair(entry.get("at")), pair(entry.get("center"))) {
        (Some(at), _) => (at.0 * sx, at.1 * sy),
        (None, Some(center)) => {
            // With a middle the size is the block's before turning; the box is as seen.
            if quarters % 2 == 1 {
                (width, height) = (height, width);
            }
            (center.0 * sx - width / 2.0, center.1 * sy - height / 2.0)
        }
        (None, None) => return None,
    };
    let recolor = entry.get("recolor").and_then(Value::as_inline_table);
    Some(Placed {
        block: entry.get("block").and_then(Value::as_str)?.to_string(),
        entry: Some(i),
        left,
        top,
        width,
        height,
        quarters,
        slant,
        flip: entry.get("flip").and_then(Value::as_bool).unwrap_or(false),
        recolor: recolor.map_or(Vec::new(), |map| {
            map.iter()
                .filter_map(|(from, to)| Some((from.to_string(), to.as_str()?.to_string())))
                .collect()
        }),
        redrawn: false,
    })
}

/// Path data as an outline in inches.
fn outline_of(text: &str, sx: f64, sy: f64) -> Option<Outline> {
    use svgtypes::PathSegment as Seg;
    let mut sides: Vec<Side> = Vec::new();
    let (mut at, mut begun, mut moved) = (Point::ZERO, Point::ZERO, false);
    // The mirror image of the last handle, for the short forms of curves.
    let mut handle: Option<(bool, Point)> = None;
    let inches = |p: Point| Point::new(p.x * sx, p.y * sy);
    let curve = |a: Point, b: Point, c: Point, d: Point| {
        straight_if_flat(CubicBez::new(inches(a), inches(b), inches(c), inches(d)))
    };
    for segment in svgtypes::PathParser::from(text) {
        let segment = segment.ok()?;
        let from = |abs: bool, x: f64, y: f64| if abs { Point::new(x, y) } else { at + Vec2::new(x, y) };
        let mirrored = |cubic: bool| match handle {
            Some((was_cubic, p)) if was_cubic == cubic => at + (at - p),
            _ => at,
        };
        let (next, new_handle) = match segment {
            Seg::MoveTo { abs, x, y } => {
                if moved {
                    return None;
                }
                begun = from(abs, x, y);
                moved = true;
                (begun, None)
            }
            Seg::LineTo { abs, x, y } => (from(abs, x, y), None),
            Seg::HorizontalLineTo { abs, x } => (Point::new(if abs { x } else { at.x + x }, at.y), None),
            Seg::VerticalLineTo { abs, y } => (Point::new(at.x, if abs { y } else { at.y + y }), None),
            Seg::CurveTo {
                abs,
                x1,
                y1,
                x2,
                y2,
                x,
                y,
            } => {
                let (b, c, d) = (from(abs, x1, y1), from(abs, x2, y2), from(abs, x, y));
                sides.push(curve(at, b, c, d));
                (d, Some((true, c)))
            }
            Seg::SmoothCurveTo { abs, x2, y2, x, y } => {
                let (b, c, d) = (mirrored(true), from(abs, x2, y2), from(abs, x, y));
                sides.push(curve(at, b, c, d));
                (d, Some((true, c)))
            }
            Seg::Quadratic { abs, x1, y1, x, y } => {
                let (b, d) = (from(abs, x1, y1), from(abs, x, y));
                let raised = kurbo::QuadBez::new(at, b, d).raise();
                sides.push(curve(raised.p0, raised.p1, raised.p2, raised.p3));
                (d, Some((false, b)))
            }
            Seg::SmoothQuadratic { abs, x, y } => {
                let (b, d) = (mirrored(false), from(abs, x, y));
                let raised = kurbo::QuadBez::new(at, b, d).raise();
                sides.push(curve(raised.p0, raised.p1, raised.p2, raised.p3));
                (d, Some((false, b)))
            }
            Seg::EllipticalArc {
                abs,
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
            } => {
                let d = from(abs, x, y);
                let arc = kurbo::SvgArc {
                    from: at,
                    to: d,
                    radii: Vec2::new(rx, ry),
                    x_rotation: x_axis_rotation.to_radians(),
                    large_arc,
                    sweep,
                };
                sides.extend(arc_sides(&arc, sx, sy));
                (d, None)
            }
            Seg::ClosePath { .. } => (begun, None),
        };
        if matches!(
            segment,
            Seg::LineTo { .. } | Seg::HorizontalLineTo { .. } | Seg::VerticalLineTo { .. } | Seg::ClosePath { .. }
        ) {
            sides.push(Side::straight(inches(at), inches(next)));
        }
        at = next;
        handle = new_handle;
    }
    (sides.len() >= 2).then(|| Outline::new(sides))
}

/// An arc of the file: a bow when it is an arc of a circle in inches, else curves that follow it.
fn arc_sides(arc: &kurbo::SvgArc, sx: f64, sy: f64) -> Vec<Side> {
    let put = |p: Point| Point::new(p.x * sx, p.y * sy);
    let (from, to) = (put(arc.from), put(arc.to));
    let Some(whole) = kurbo::Arc::from_svg_arc(arc) else {
        return vec![Side::straight(from, to)];
    };
    let (rx, ry) = (whole.radii.x * sx, whole.radii.y * sy);
    let round = (rx - ry).abs() < SAME && (arc.x_rotation == 0.0 || sx == sy);
    // Beyond a half circle it is drawn in two.
    if round && whole.sweep_angle.abs() <= std::f64::consts::PI + 1e-9 {
        return vec![Side::Bow {
            from,
            to,
            centre: put(whole.center),
            sweep: whole.sweep_angle,
        }];
    }
    let mut made: Vec<Side> = Vec::new();
    let mut last = from;
    for element in whole.append_iter(ARC) {
        if let kurbo::PathEl::CurveTo(p1, p2, p3) = element {
            made.push(Side::Curve(CubicBez::new(last, put(p1), put(p2), put(p3))));
            last = put(p3);
        }
    }
    if let Some(side) = made.pop() {
        made.push(side.between(side.from(), to));
    }
    made
}

/// A curve that is straight is a straight side.
fn straight_if_flat(curve: CubicBez) -> Side {
    let way = curve.p3 - curve.p0;
    let off = |p: Point| (way.cross(p - curve.p0) / way.hypot().max(SAME)).abs();
    if way.hypot() > SAME && off(curve.p1) < ARC && off(curve.p2) < ARC {
        return Side::straight(curve.p0, curve.p3);
    }
    Side::Curve(curve)
}

/// Two numbers, or one for both.
pub(crate) fn pair(value: Option<&Value>) -> Option<(f64, f64)> {
    match value? {
        Value::Array(array) => Some((number(array.get(0)?)?, number(array.get(1)?)?)),
        other => number(other).map(|n| (n, n)),
    }
}

pub(crate) fn number(value: &Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|n| n as f64))
}
