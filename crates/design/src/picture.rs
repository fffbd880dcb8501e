//! The picture of the finished top, by placement alone: outlines carried from block to block, never welded, so that a
//! fault of the planar map cannot hide in it.

use crate::layout::{TopPlan, lay};
use crate::place::motion;
use crate::{Block, Design, Fabric, Patch, Placement, Print, UpRule};
use shape::{Motion, Point, Polygon, Vector};
use std::collections::BTreeMap;
use terms::{FabricId, Face, PatchPath, TopPicture, UpWanted};

/// Deepest nesting followed; reading refuses more, so this only guards designs changed since.
const MOST_LEVELS: usize = 20;

struct Painter<'d> {
    blocks: BTreeMap<&'d str, &'d Block>,
    fabrics: BTreeMap<&'d str, &'d Fabric>,
    /// Cloth chosen for single patches.
    scraps: &'d BTreeMap<PatchPath, FabricId>,
    faces: Vec<Face>,
    laid: Vec<Face>,
}

/// What stands between a block's drawing and the top.
#[derive(Clone)]
struct Carry {
    /// Drawn inches to finished inches, applied first.
    scale: f64,
    motion: Motion,
    recolor: BTreeMap<FabricId, FabricId>,
    placements: Vec<u32>,
}

pub(crate) fn picture(design: &Design) -> TopPicture {
    let plan = lay(design);
    let (faces, laid) = faces_of(design, &plan);
    TopPicture {
        outer: Polygon::rectangle(plan.width, plan.height),
        faces,
        laid,
    }
}

/// The faces of a plan: what is pieced, and what is laid on it.
pub(crate) fn faces_of(design: &Design, plan: &TopPlan) -> (Vec<Face>, Vec<Face>) {
    let mut painter = Painter {
        blocks: design.blocks.iter().map(|b| (b.name.as_str(), b)).collect(),
        fabrics: design.fabrics.iter().map(|f| (f.name.as_str(), f)).collect(),
        scraps: &plan.scraps.patches,
        faces: Vec::new(),
        laid: Vec::new(),
    };
    let still = Carry {
        scale: 1.0,
        motion: Motion::STILL,
        recolor: BTreeMap::new(),
        placements: Vec::new(),
    };
    for (i, placement) in plan.blocks.iter().enumerate() {
        painter.placed(placement, i as u32, &still);
    }
    for (i, plain) in plan.plain.iter().enumerate() {
        let face = Face {
            outline: plain.outline.clone(),
            up: painter.up(&plain.fabric, &Motion::STILL),
            fabric: plain.fabric.clone(),
            patch: PatchPath {
                placements: Vec::new(),
                patch: i as u32,
            },
        };
        painter.faces.push(face);
    }
    (painter.faces, painter.laid)
}

impl Painter<'_> {
    fn placed(&mut self, placement: &Placement, index: u32, outer: &Carry) {
        let Some(&block) = self.blocks.get(placement.block.as_str()) else {
            return;
        };
        if outer.placements.len() >= MOST_LEVELS {
            return;
        }
        // The outer drawing's scale stretches the placement as a whole: its box, and where it lies.
        let mut grown = placement.clone();
        grown.size = (placement.size.0 * outer.scale, placement.size.1 * outer.scale);
        grown.centre = Point::new(placement.centre.x * outer.scale, placement.centre.y * outer.scale);
        let mut recolor: BTreeMap<FabricId, FabricId> = outer.recolor.clone();
        for (from, to) in &placement.recolor {
            let to = outer.recolor.get(to).unwrap_or(to);
            recolor.insert(from.clone(), to.clone());
        }
        let mut placements = outer.placements.clone();
        placements.push(index);
        let carry = Carry {
            scale: grown.size.0 / block.size.0,
            motion: motion(&grown).then(&outer.motion),
            recolor,
            placements,
        };
        for (i, patch) in block.pieced() {
            let face = self.face(i, patch, &carry);
            self.faces.push(face);
        }
        for (i, inner) in block.place.iter().enumerate() {
            self.placed(inner, i as u32, &carry);
        }
        // Above everything pieced here, what is laid on the inner blocks included.
        for (i, patch, _) in block.laid() {
            let face = self.face(i, patch, &carry);
            self.laid.push(face);
        }
    }

    fn face(&self, number: usize, patch: &Patch, carry: &Carry) -> Face {
        let (drawn, _) = patch.at_scale(carry.scale);
        let path = PatchPath {
            placements: carry.placements.clone(),
            patch: number as u32,
        };
        let shown = carry.recolor.get(&patch.fabric).unwrap_or(&patch.fabric);
        let fabric = self.scraps.get(&path).unwrap_or(shown).clone();
        Face {
            outline: carry.motion.polygon(&drawn),
            up: self.up(&fabric, &carry.motion),
            fabric,
            patch: path,
        }
    }

    fn up(&self, fabric: &FabricId, motion: &Motion) -> Option<UpWanted> {
        let fabric = self.fabrics.get(fabric.as_str())?;
        let up = Vector::new(0.0, 1.0);
        let toward = match fabric.up {
            UpRule::Free => return None,
            UpRule::Quilt => up,
            UpRule::Block => motion.vector(up),
        };
        match fabric.print {
            Print::None => None,
            Print::OneWay => Some(UpWanted { toward, two_way: false }),
            Print::TwoWay => Some(UpWanted { toward, two_way: true }),
        }
    }
}
