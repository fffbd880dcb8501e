//! Patches on a ground: what reaches out of its block, and what is hard to turn under.

use super::shapes::inner_angle;
use crate::read::figure;
use crate::resolve::Used;
use crate::{Block, Design, GroundEdge};
use shape::{Point, Polygon, WELD};
use terms::{Finding, Place};

/// Below this a turned point is hard to make, degrees.
const SHARP: f64 = 30.0;

fn place(block: &Block, patch: usize, at: Point) -> Place {
    Place::Block {
        name: block.name.clone(),
        patches: vec![patch as u32],
        at: Some(at),
    }
}

/// Those that reach beyond the block, at a size.
pub(crate) fn outside(block: &Block, scale: f64) -> Vec<Finding> {
    let (width, height) = (block.size.0 * scale, block.size.1 * scale);
    let beyond = |p: Point| (-p.x).max(p.x - width).max(-p.y).max(p.y - height);
    let mut findings = Vec::new();
    for (i, patch, _) in block.laid() {
        let (outline, _) = patch.at_scale(scale);
        let corners = outline.corners().iter().copied();
        let worst = corners.max_by(|a, b| beyond(*a).total_cmp(&beyond(*b)));
        if let Some(at) = worst.filter(|&p| beyond(p) > WELD) {
            findings.push(Finding::stop(
                "outside-block",
                place(block, i, at),
                format!(
                    "Patch {}, which lies on a ground, reaches {} in beyond the block, at {} in across and {} in up.",
                    i + 1,
                    figure(beyond(at)),
                    figure(at.x),
                    figure(at.y)
                ),
                "Move it inward; a side drawn along the block's outline is sewn into the seam.",
            ));
        }
    }
    findings
}

/// Points too sharp, and patches too narrow, to turn an edge under.
pub(crate) fn find(design: &Design, used: &[Used]) -> Vec<Finding> {
    let mut findings = Vec::new();
    let turn = design.quilt.turn_under;
    for one in used {
        let Some(block) = design.blocks.get(one.block) else {
            continue;
        };
        let turned = block.laid().filter(|(_, _, edge)| *edge == GroundEdge::Turned);
        for (i, patch, _) in turned {
            let outline = one.outline(i, patch);
            if let Some((angle, at)) = sharpest(&outline).filter(|(angle, _)| *angle < SHARP) {
                findings.push(Finding::care(
                    "acute",
                    place(block, i, at),
                    format!(
                        "Patch {} comes to a point of {angle:.1}°; little cloth can be turned under there.",
                        i + 1
                    ),
                    "Round the point a little, or leave its edge raw.",
                ));
            }
            let narrow = neck(&outline);
            if narrow < 2.0 * turn {
                findings.push(Finding::care(
                    "sliver",
                    place(block, i, outline.centroid()),
                    format!(
                        "Patch {} is only {} in wide at its narrowest, and {} in are turned under on either side.",
                        i + 1,
                        figure(narrow),
                        figure(turn)
                    ),
                    "Draw it wider, or leave its edge raw.",
                ));
            }
        }
    }
    findings
}

/// How wide an outline is at its narrowest. Of a convex one the least width; of another the shortest way straight across
/// between two places that are much further from one another round the outline: else every point would be a neck.
fn neck(outline: &Polygon) -> f64 {
    let n = outline.len();
    let convex = outline.is_convex(WELD);
    let mut reached = vec![0.0];
    for i in 0..n {
        reached.push(reached[i] + outline.corner(i).distance(outline.corner(i + 1)));
    }
    let round = reached[n];
    let mut least = f64::INFINITY;
    for i in 0..n {
        let Some(edge) = outline.edge(i) else { continue };
        if convex {
            let reach = outline.corners().iter().map(|&c| edge.offset_of(c)).fold(0.0, f64::max);
            least = least.min(reach);
            continue;
        }
        let length = reached[i + 1] - reached[i];
        for (j, &start) in reached.iter().enumerate().take(n) {
            let (off, along) = (edge.offset_of(outline.corner(j)), edge.reach_of(outline.corner(j)));
            if off <= 0.0 || off >= least || along < 0.0 || along > length {
                continue;
            }
            let way = (reached[i] + along - start).abs();
            if way.min(round - way) > 4.0 * off {
                least = off;
            }
        }
    }
    least
}

/// The sharpest point, and where. Curves drawn as many short edges have none.
fn sharpest(outline: &Polygon) -> Option<(f64, Point)> {
    (0..outline.len())
        .map(|corner| (inner_angle(outline, corner), outline.corner(corner)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn necks_and_points() {
        let of = |corners: &[(f64, f64)]| Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
        // *derived*: a strip of 1/2 by 3; two squares joined by a bridge 1/4 wide and 1 long.
        assert!((neck(&of(&[(0.0, 0.0), (3.0, 0.0), (3.0, 0.5), (0.0, 0.5)])) - 0.5).abs() < 1e-12);
        let bone = [
            (0.0, 0.0),
            (2.0, 0.0),
            (2.0, 0.875),
            (3.0, 0.875),
            (3.0, 0.0),
            (5.0, 0.0),
            (5.0, 2.0),
            (3.0, 2.0),
            (3.0, 1.125),
            (2.0, 1.125),
            (2.0, 2.0),
            (0.0, 2.0),
        ];
        assert!((neck(&of(&bone)) - 0.25).abs() < 1e-12);
        // *derived*: an isosceles point of base 1 and height 4 is 2 atan(1/8) wide
        let (angle, at) = sharpest(&of(&[(0.0, 0.0), (1.0, 0.0), (0.5, 4.0)])).unwrap();
        assert!((angle - 2.0 * libm::atan(0.125).to_degrees()).abs() < 1e-9);
        assert_eq!(at, Point::new(0.5, 4.0));
    }
}
