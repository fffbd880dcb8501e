//! Borders round the layout, from the inside out.

use super::rounds::{Repeat, Round};
use super::{Box2, Plain, TopPlan};
use crate::{Corners, Design, Placement};
use shape::{Point, Polygon, Vector};
use std::collections::BTreeMap;

pub(super) fn lay_borders(plan: &mut TopPlan, design: &Design, rounds: &[Round]) {
    for round in rounds {
        lay_spacer(plan, round);
        if round.runs.is_some() {
            lay_units(plan, design, round);
        } else if round.border.corners == Corners::Mitred {
            lay_mitred(plan, round);
        } else {
            lay_strips(plan, round);
        }
        lay_corners(plan, round);
    }
}

fn strip(round: &Round, area: Box2, across: bool) -> Plain {
    Plain {
        lengthwise: round.border.lengthwise,
        ..Plain::upright(area, round.border.fabric.clone(), "border", across)
    }
}

/// Plain strips within a pieced border, sides first, where it has any.
fn lay_spacer(plan: &mut TopPlan, round: &Round) {
    let (within, inner) = (round.within, round.inner);
    let mut add = |x: f64, y: f64, width: f64, height: f64, across: bool| {
        if width > 0.0 && height > 0.0 {
            plan.plain.push(strip(round, Box2::new(x, y, width, height), across));
        }
    };
    let (left, right) = (within.low.x - inner.low.x, inner.high.x - within.high.x);
    let (bottom, top) = (within.low.y - inner.low.y, inner.high.y - within.high.y);
    add(inner.low.x, within.low.y, left, within.height(), false);
    add(within.high.x, within.low.y, right, within.height(), false);
    add(inner.low.x, within.high.y, inner.width(), top, true);
    add(inner.low.x, inner.low.y, inner.width(), bottom, true);
}

/// Whether top and bottom, and whether the sides, run through over the corners.
fn through(round: &Round) -> (bool, bool) {
    match round.border.corners {
        Corners::Butted { sides_first } => (sides_first, !sides_first),
        Corners::Mitred | Corners::Block(_) | Corners::Stones(_) => (false, false),
    }
}

/// Four plain strips, butted or between corners of their own.
fn lay_strips(plan: &mut TopPlan, round: &Round) {
    let (inner, outer, w) = (round.inner, round.outer, round.border.width);
    let (top_through, sides_through) = through(round);
    let side = if sides_through { outer } else { inner };
    let end = if top_through { outer } else { inner };
    for x in [outer.low.x, inner.high.x] {
        let area = Box2::new(x, side.low.y, w, side.height());
        plan.plain.push(strip(round, area, false));
    }
    for y in [inner.high.y, outer.low.y] {
        let area = Box2::new(end.low.x, y, end.width(), w);
        plan.plain.push(strip(round, area, true));
    }
}

/// The units of a pieced border: clockwise along each side, their upper side outwards.
fn lay_units(plan: &mut TopPlan, design: &Design, round: &Round) {
    let (Some(runs), Some(repeat)) = (round.runs, Repeat::of(design, round.border)) else {
        return;
    };
    let (inner, w) = (round.inner, round.border.width);
    let (top_through, sides_through) = through(round);
    let starts = [
        Point::new(inner.low.x, inner.high.y),
        inner.high,
        Point::new(inner.high.x, inner.low.y),
        inner.low,
    ];
    let along = [
        Vector::new(1.0, 0.0),
        Vector::new(0.0, -1.0),
        Vector::new(-1.0, 0.0),
        Vector::new(0.0, 1.0),
    ];
    for (side, run) in runs.into_iter().enumerate() {
        let runs_through = if side % 2 == 0 { top_through } else { sides_through };
        let (along, outward) = (along[side], along[side].left());
        let mut start = starts[side];
        if runs_through {
            start = start - along * w;
        }
        // What is left within the welding is spread over all of them.
        let stretch = if run.is_even() { run.length / run.reach } else { 1.0 };
        for i in 0..run.count {
            let unit = i % round.border.units.len();
            let cell = &round.border.units[unit];
            let middle = (repeat.reach(i) + repeat.lengths[unit] / 2.0) * stretch;
            plan.blocks.push(Placement {
                block: cell.block.clone(),
                centre: start + along * middle + outward * (w / 2.0),
                size: repeat.sizes[unit],
                turn: 90.0 * ((side + usize::from(cell.quarters)) % 4) as f64,
                flip: cell.flip,
                recolor: BTreeMap::new(),
            });
        }
    }
}

/// Blocks or plain squares in the corners.
fn lay_corners(plan: &mut TopPlan, round: &Round) {
    let (inner, outer, w) = (round.inner, round.outer, round.border.width);
    let corners = [
        Point::new(outer.low.x, inner.high.y),
        inner.high,
        Point::new(inner.high.x, outer.low.y),
        outer.low,
    ];
    for (quarter, corner) in corners.into_iter().enumerate() {
        match &round.border.corners {
            Corners::Block(name) => plan.blocks.push(Placement {
                block: name.clone(),
                centre: corner + Vector::new(w / 2.0, w / 2.0),
                size: (w, w),
                turn: 90.0 * quarter as f64,
                flip: false,
                recolor: BTreeMap::new(),
            }),
            Corners::Stones(fabric) => {
                let area = Box2::new(corner.x, corner.y, w, w);
                plan.plain
                    .push(Plain::upright(area, fabric.clone(), "cornerstone", true));
            }
            Corners::Butted { .. } | Corners::Mitred => {}
        }
    }
}

/// Four strips that meet at half a right angle in the corners: each is as long inside as the side it lies along, and longer
/// outside by twice its width.
fn lay_mitred(plan: &mut TopPlan, round: &Round) {
    let border = round.border;
    let corners = |area: Box2| {
        let (low, high) = (area.low, area.high);
        [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)]
    };
    let (inner, outer) = (corners(round.inner), corners(round.outer));
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
            lengthwise: border.lengthwise,
        });
    }
}
