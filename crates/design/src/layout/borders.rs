//! Borders round the layout, from the inside out.

use super::{Box2, Plain, TopPlan};
use crate::{Border, Corners, Design, Placement};
use shape::{Point, Polygon, Vector};
use std::collections::BTreeMap;

pub(super) fn lay_borders(plan: &mut TopPlan, design: &Design, around: f64, width: f64, height: f64) {
    let (mut low, mut high) = (Point::new(around, around), Point::new(around + width, around + height));
    for border in &design.borders {
        let w = border.width;
        let (out_low, out_high) = (low - Vector::new(w, w), high + Vector::new(w, w));
        let sides_through = border.corners == (Corners::Butted { sides_first: false });
        if border.corners == Corners::Mitred {
            lay_mitred(plan, design, border, (low, high), (out_low, out_high));
            (low, high) = (out_low, out_high);
            continue;
        }
        let top_through = border.corners == (Corners::Butted { sides_first: true });
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
        let strip = |x: f64, y: f64, width: f64, height: f64, across: bool| {
            let area = Box2::new(x, y, width, height);
            Plain {
                lengthwise: border.lengthwise,
                ..Plain::upright(area, border.fabric.clone(), "border", across)
            }
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

/// Four strips that meet at half a right angle in the corners: each is as long inside as the side it lies along, and longer
/// outside by twice its width.
fn lay_mitred(
    plan: &mut TopPlan,
    design: &Design,
    border: &Border,
    (low, high): (Point, Point),
    (out_low, out_high): (Point, Point),
) {
    // A mitred strip is cut in one piece, with a point at each end that reaches s (1 + √2) beyond the corner, up to a mark.
    let usable = design
        .fabric(&border.fabric)
        .map_or(f64::INFINITY, |fabric| fabric.usable);
    let points = 2.0 * design.quilt.seam * (1.0 + std::f64::consts::SQRT_2) + design.quilt.ruler;
    let longest = (out_high.x - out_low.x).max(out_high.y - out_low.y);
    let along = border.lengthwise || longest + points > usable;
    let round = |low: Point, high: Point| [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
    let (inner, outer) = (round(low, high), round(out_low, out_high));
    for side in 0..4 {
        let next = (side + 1) % 4;
        plan.plain.push(Plain {
            outline: Polygon::new(vec![outer[side], outer[next], inner[next], inner[side]]),
            fabric: border.fabric.clone(),
            role: "border",
            along: if side % 2 == 0 {
                Vector::new(1.0, 0.0)
            } else {
                Vector::new(0.0, 1.0)
            },
            lengthwise: along,
        });
    }
}
