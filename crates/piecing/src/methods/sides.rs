//! Where the sides of parts end up on the outline of the unit they make.

use super::sew_together::{NoCommonSide, PartAtPlace};
use crate::bench::edge;
use recipe::{EdgeRef, EdgeRun, Slot};
use shape::{Polygon, WELD};

/// For each side of the unit the edges of its parts that lie on it, in order.
///
/// # Errors
/// A side of the unit on which no part lies.
pub fn round(unit: &Polygon, parts: &[PartAtPlace], slots: &[Slot]) -> Result<Vec<EdgeRun>, NoCommonSide> {
    let mut sides = Vec::with_capacity(unit.len());
    for s in 0..unit.len() {
        let line = unit.edge(s).ok_or(NoCommonSide)?;
        let (low, high) = (line.reach_of(unit.corner(s)), line.reach_of(unit.corner(s + 1)));
        let mut on: Vec<(f64, EdgeRef)> = Vec::new();
        for (part, &slot) in parts.iter().zip(slots) {
            for i in 0..part.outline.len() {
                let (a, b) = (part.outline.corner(i), part.outline.corner(i + 1));
                let level = line.offset_of(a).abs() < 2.0 * WELD && line.offset_of(b).abs() < 2.0 * WELD;
                let (from, to) = (line.reach_of(a), line.reach_of(b));
                // Round a hollow unit two sides may lie on one line.
                if level && to > from && from > low - 2.0 * WELD && to < high + 2.0 * WELD {
                    on.push((from, edge(slot, part.handle.edges[i])));
                }
            }
        }
        if on.is_empty() {
            return Err(NoCommonSide);
        }
        on.sort_by(|x, y| x.0.total_cmp(&y.0));
        sides.push(EdgeRun(on.into_iter().map(|(_, e)| e).collect()));
    }
    Ok(sides)
}
