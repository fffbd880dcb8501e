//! Patches hard to cut or sew: `acute`, `sliver`.

use crate::Design;
use crate::read::figure;
use crate::resolve::Used;
use shape::{Polygon, WELD};
use terms::{Finding, Place};

/// Below this an inner angle stops the work, degrees.
const STOP_ANGLE: f64 = 15.0;
/// Below this its tips are trimmed, degrees.
const CARE_ANGLE: f64 = 30.0;
/// Rounding of a drawn angle: 30° drawn to three decimals of an inch is still 30°.
const ANGLE_NOISE: f64 = 0.05;
/// Narrower than this is a sliver, finished inches.
const SLIVER: f64 = 0.25;
/// Most patches named in one finding.
const MOST_NAMED: usize = 12;

/// One kind of trouble, gathered over a block's patches.
#[derive(Default)]
struct Gathered {
    patches: Vec<u32>,
    worst: Option<(f64, shape::Point)>,
}

impl Gathered {
    fn add(&mut self, patch: usize, figure: f64, at: shape::Point) {
        let patch = patch as u32;
        if self.patches.last() != Some(&patch) {
            self.patches.push(patch);
        }
        if self.worst.is_none_or(|(least, _)| figure < least) {
            self.worst = Some((figure, at));
        }
    }

    /// Worst figure, place, and "patch 3" or "12 patches".
    fn tell(mut self, name: &str) -> Option<(f64, Place, String)> {
        let (worst, at) = self.worst?;
        let who = match self.patches.as_slice() {
            [one] => format!("Patch {}", one + 1),
            many => format!("{} patches", many.len()),
        };
        self.patches.truncate(MOST_NAMED);
        let place = Place::Block {
            name: name.to_string(),
            patches: self.patches,
            at: Some(at),
        };
        Some((worst, place, who))
    }
}

pub(crate) fn find(design: &Design, used: &[Used]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for one in used {
        let Some(block) = design.blocks.get(one.block) else {
            continue;
        };
        let (mut stop, mut care, mut thin) = (Gathered::default(), Gathered::default(), Gathered::default());
        for (i, patch) in block.pieced().filter(|(_, p)| !p.is_curved()) {
            let outline = one.outline(i, patch);
            for corner in 0..outline.len() {
                let angle = inner_angle(&outline, corner);
                if angle < STOP_ANGLE - ANGLE_NOISE {
                    stop.add(i, angle, outline.corner(corner));
                } else if angle < CARE_ANGLE - ANGLE_NOISE {
                    care.add(i, angle, outline.corner(corner));
                }
            }
            let width = width(&outline);
            if width < SLIVER - WELD {
                thin.add(i, width, outline.centroid());
            }
        }
        if let Some((angle, place, who)) = stop.tell(&block.name) {
            findings.push(Finding::stop(
                "acute",
                place,
                format!("{who} come to a point of {angle:.1}°, too sharp to sew (15° at least)."),
                "Draw the point blunter, or join the patch to its neighbour.",
            ));
        }
        if let Some((angle, place, who)) = care.tell(&block.name) {
            findings.push(Finding::care(
                "acute",
                place,
                format!("{who} come to a point of {angle:.1}°; its long tips are trimmed."),
                "Below 30° a point is hard to match; a wider one sews more easily.",
            ));
        }
        if let Some((width, place, who)) = thin.tell(&block.name) {
            findings.push(Finding::care(
                "sliver",
                place,
                format!(
                    "{who} finish only {} in wide; between its seams nearly all is allowance.",
                    figure(width)
                ),
                "Make it at least 1/4 in wide, or leave it out.",
            ));
        }
    }
    for finding in &mut findings {
        // One patch has one point.
        if finding.sentence.starts_with("Patch") {
            finding.sentence = finding
                .sentence
                .replacen(" come ", " comes ", 1)
                .replacen(" finish ", " finishes ", 1);
        }
    }
    findings
}

/// Inner angle at a corner, degrees.
pub(crate) fn inner_angle(outline: &Polygon, corner: usize) -> f64 {
    let n = outline.len();
    let at = outline.corner(corner);
    let (to, from) = (outline.corner(corner + 1) - at, outline.corner(corner + n - 1) - at);
    libm::atan2(to.cross(from), to.dot(from)).to_degrees().rem_euclid(360.0)
}

/// A convex patch's least width; otherwise the narrowest neck between a corner and an edge it does not belong to.
fn width(outline: &Polygon) -> f64 {
    let n = outline.len();
    let convex = outline.is_convex(WELD);
    let mut least = f64::INFINITY;
    for i in 0..n {
        let Some(edge) = outline.edge(i) else { continue };
        let length = outline.corner(i).distance(outline.corner(i + 1));
        if convex {
            let reach = outline.corners().iter().map(|&c| edge.offset_of(c)).fold(0.0, f64::max);
            least = least.min(reach);
            continue;
        }
        for j in (0..n).filter(|&j| j != i && j != (i + 1) % n) {
            let (off, along) = (edge.offset_of(outline.corner(j)), edge.reach_of(outline.corner(j)));
            if off > 0.0 && along >= 0.0 && along <= length {
                least = least.min(off);
            }
        }
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;
    use shape::Point;

    #[test]
    fn width_and_angles() {
        // a half square of legs 3: least width is the height on its long side, 3/√2; angles 90, 45, 45 (derived)
        let half = Polygon::new(vec![Point::ORIGIN, Point::new(3.0, 0.0), Point::new(0.0, 3.0)]);
        assert!((width(&half) - 3.0 / 2f64.sqrt()).abs() < 1e-12);
        assert!((inner_angle(&half, 0) - 90.0).abs() < 1e-9);
        assert!((inner_angle(&half, 1) - 45.0).abs() < 1e-9);
        // an L with arms 1 wide (derived)
        let l = [(0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 4.0), (0.0, 4.0)];
        let l = Polygon::new(l.iter().map(|&(x, y)| Point::new(x, y)).collect());
        assert!((width(&l) - 1.0).abs() < 1e-12);
        assert!((inner_angle(&l, 3) - 270.0).abs() < 1e-9);
    }
}
