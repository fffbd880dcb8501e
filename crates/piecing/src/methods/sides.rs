//! Where the sides of parts end up on the outline of the unit they make.

use super::sew_together::{NoCommonSide, PartAtPlace};
use crate::bow::Sides;
use recipe::{EdgeRef, EdgeRun, Slot};
use shape::{Line, Polygon, WELD};

/// For each side of a unit with bowed sides the edges of its parts that lie on it, in order.
///
/// # Errors
/// A side of the unit on which no part lies.
pub fn round_bowed(
    unit: &Polygon,
    bows: &[bool],
    sides: &Sides,
    parts: &[PartAtPlace],
    slots: &[Slot],
) -> Result<Vec<EdgeRun>, NoCommonSide> {
    let mut all = Vec::with_capacity(sides.len());
    for side in 0..sides.len() {
        let mut run: Vec<EdgeRef> = Vec::new();
        for i in sides.straights(side) {
            let (from, to) = (unit.corner(i), unit.corner(i + 1));
            if bows[i] {
                let found = parts.iter().zip(slots).find_map(|(part, &slot)| {
                    let n = part.outline.len();
                    let near = |k: usize, p| part.outline.corner(k).distance(p) < WELD;
                    let at = (0..n).find(|&k| part.bows[k] && near(k, from) && near(k + 1, to))?;
                    Some(part.edge(slot, at))
                });
                run.push(found.ok_or(NoCommonSide)?);
            } else {
                let line = unit.edge(i).ok_or(NoCommonSide)?;
                run.extend(along(line, line.reach_of(from), line.reach_of(to), parts, slots));
            }
        }
        run.dedup();
        if run.is_empty() {
            return Err(NoCommonSide);
        }
        all.push(EdgeRun(run));
    }
    Ok(all)
}

/// For each side of the unit the edges of its parts that lie on it, in order.
///
/// # Errors
/// A side of the unit on which no part lies.
pub fn round(unit: &Polygon, parts: &[PartAtPlace], slots: &[Slot]) -> Result<Vec<EdgeRun>, NoCommonSide> {
    let mut sides = Vec::with_capacity(unit.len());
    for s in 0..unit.len() {
        let line = unit.edge(s).ok_or(NoCommonSide)?;
        let (low, high) = (line.reach_of(unit.corner(s)), line.reach_of(unit.corner(s + 1)));
        let on = along(line, low, high, parts, slots);
        if on.is_empty() {
            return Err(NoCommonSide);
        }
        sides.push(EdgeRun(on));
    }
    Ok(sides)
}

/// The straight edges of parts that lie along a stretch of a line, in order.
fn along(line: Line, low: f64, high: f64, parts: &[PartAtPlace], slots: &[Slot]) -> Vec<EdgeRef> {
    let mut on: Vec<(f64, EdgeRef)> = Vec::new();
    for (part, &slot) in parts.iter().zip(slots) {
        for i in 0..part.outline.len() {
            let (a, b) = (part.outline.corner(i), part.outline.corner(i + 1));
            let level = part.bows.get(i) != Some(&true)
                && line.offset_of(a).abs() < 2.0 * WELD
                && line.offset_of(b).abs() < 2.0 * WELD;
            let (from, to) = (line.reach_of(a), line.reach_of(b));
            // Round a hollow unit two sides may lie on one line.
            if level && to > from && from > low - 2.0 * WELD && to < high + 2.0 * WELD {
                on.push((from, part.edge(slot, i)));
            }
        }
    }

    on.sort_by(|x, y| x.0.total_cmp(&y.0));
    let mut edges: Vec<EdgeRef> = on.into_iter().map(|(_, e)| e).collect();
    // What was trimmed along one line is one edge.
    edges.dedup();
    edges
}
