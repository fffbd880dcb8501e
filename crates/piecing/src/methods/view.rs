//! A unit as the methods see it: a finished outline filled with patches.

use crate::class::Class;
use crate::tokens::{BlockTokens, Content};
use shape::{Polygon, Vector};
use terms::FabricId;

/// One patch of a unit.
#[derive(Clone, Debug)]
pub struct PatchView {
    /// Finished outline.
    pub outline: Polygon,
    /// Its cloth.
    pub fabric: FabricId,
    /// Direction of the straight grain.
    pub grain: Vector,
}

/// A unit of patches without any print to mind.
#[derive(Clone, Debug)]
pub struct UnitView {
    /// Finished outline, true corners.
    pub outline: Polygon,
    /// The patches.
    pub patches: Vec<PatchView>,
}

impl UnitView {
    /// The view of a class; `None` when it holds whole blocks, or a print whose direction matters (methods that turn
    /// cloth over on a seam would turn the print).
    pub fn of(class: &Class, blocks: &[BlockTokens]) -> Option<Self> {
        let patches = class
            .faces
            .iter()
            .map(|&f| match &blocks[class.home].tokens[f] {
                crate::tokens::Token {
                    outline,
                    content:
                        Content::Patch {
                            fabric,
                            up: None,
                            grain,
                            ..
                        },
                    ..
                } => Some(PatchView {
                    outline: outline.clone(),
                    fabric: fabric.clone(),
                    grain: *grain,
                }),
                _ => None,
            })
            .collect::<Option<Vec<_>>>()?;
        Some(UnitView {
            outline: class.outline.clone(),
            patches,
        })
    }

    /// Whether all patches have their grain along or across `direction`.
    pub fn grain_along(&self, direction: Vector) -> bool {
        self.patches
            .iter()
            .all(|p| p.grain.dot(direction).abs() < 1.0e-6 || p.grain.cross(direction).abs() < 1.0e-6)
    }
}
