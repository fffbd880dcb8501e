//! Borders round the layout, from the inside out.

use super::{Box2, Plain, TopPlan};
use crate::{Corners, Design, Placement};
use shape::{Point, Vector};
use std::collections::BTreeMap;

pub(super) fn lay_borders(plan: &mut TopPlan, design: &Design, around: f64, width: f64, height: f64) {
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
