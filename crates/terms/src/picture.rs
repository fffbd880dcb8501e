//! The picture of the finished top: what the rehearsal's result is held against.

use crate::{FabricId, PatchPath};
use serde::{Deserialize, Serialize};
use shape::{Polygon, Vector};

/// Where a print's up must point in the finished top.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct UpWanted {
    /// The wanted direction, one inch long.
    pub toward: Vector,
    /// A stripe: the opposite direction is as good.
    pub two_way: bool,
}

/// One finished patch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Face {
    /// Its finished outline in the top's frame (inches, y up, origin at the top's lower left corner).
    pub outline: Polygon,
    /// Its cloth.
    pub fabric: FabricId,
    /// Where its print's up must point; `None` when any direction will do.
    pub up: Option<UpWanted>,
    /// Which patch of the design it is.
    pub patch: PatchPath,
}

/// The finished top, made from the design's placements alone.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct TopPicture {
    /// The finished outline, lower left corner at the origin.
    pub outer: Polygon,
    /// All pieced patches, as if nothing lay on them.
    pub faces: Vec<Face>,
    /// Patches laid on them, the later above the earlier.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub laid: Vec<Face>,
}
