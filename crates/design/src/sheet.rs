//! The resolved design: every block in the colours, hand and (where a print minds) direction it is used in, as a
//! planar map in inches, y up. This is all the piecing sees of a design.

use shape::{Motion, Point, Polygon, Vector};
use std::collections::BTreeSet;
use terms::FabricId;

/// Index into [`Sheet::blocks`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlockIndex(pub usize);

/// Index into [`BlockMap::vertices`]: topology is by id, never by comparing coordinates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VertexId(pub usize);

/// The resolved design.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// All blocks used, those placed inside others before them; the last is the top.
    pub blocks: Vec<BlockMap>,
    /// The top.
    pub top: BlockIndex,
}

/// One block as a planar map.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockMap {
    /// The block's name in the file; `top` for the quilt itself. Recoloured or flipped variants share it.
    pub name: String,
    /// What tells variants of one name apart in words: "in foam and brass", "flipped"; empty for the plain one.
    pub variant: String,
    /// Finished rectangle, lower left at the origin.
    pub outline: Polygon,
    /// Welded vertices.
    pub vertices: Vec<Point>,
    /// The faces; together they fill the outline once.
    pub faces: Vec<MapFace>,
    /// Edges that are straights of a curve, lower vertex first.
    pub curved: BTreeSet<(VertexId, VertexId)>,
    /// The designer's pinned method, if any.
    pub method: Option<String>,
    /// Patches that are to be made as units of their own.
    pub pins: Vec<crate::Pin>,
    /// Which way seams between two patches are pressed, where the designer says so.
    pub presses: Vec<crate::PressPin>,
    /// By what the layers of seams between two patches are placed, where the designer says so.
    pub lays: Vec<crate::LayPin>,
    /// May be made as separate units where that saves a trapped seam.
    pub split: bool,
    /// Patches laid on the faces, the later above the earlier; they are no part of the map.
    pub laid: Vec<MapLaid>,
}

/// A patch laid on a ground.
#[derive(Clone, Debug, PartialEq)]
pub struct MapLaid {
    /// Its finished outline in the block's frame, inches, counter-clockwise; what is drawn on a side of the block lies on it.
    pub outline: Polygon,
    /// Its cloth.
    pub fabric: FabricId,
    /// Wanted direction of its print's up in this block's frame.
    pub up: Option<Up>,
    /// Wanted direction of the straight grain; for [`Grain::Auto`] the block's sides.
    pub grain: Grain,
    /// What becomes of its edge.
    pub edge: crate::GroundEdge,
    /// Its index in the block, for findings.
    pub patch: u32,
}

/// The planar map of outlines that fill the rectangle from the origin to (`width`, `height`): its welded vertices, and for
/// each outline its vertices with the T-junctions split. `None` when they leave gaps or lie on one another.
pub fn map_of_outlines(width: f64, height: f64, outlines: &[Polygon]) -> Option<(Vec<Point>, Vec<Vec<VertexId>>)> {
    let map = crate::planar::build(width, height, outlines, &[]).ok()?;
    let faces = map
        .faces
        .into_iter()
        .map(|f| f.into_iter().map(VertexId).collect())
        .collect();
    Some((map.vertices, faces))
}

/// One face of a planar map.
#[derive(Clone, Debug, PartialEq)]
pub struct MapFace {
    /// Counter-clockwise; a vertex of a neighbour that lies on one of its edges is among them (T-junctions are split).
    pub outline: Vec<VertexId>,
    /// What fills it.
    pub fill: Fill,
}

/// What fills a face.
#[derive(Clone, Debug, PartialEq)]
pub enum Fill {
    /// One patch.
    Patch {
        /// Its cloth.
        fabric: FabricId,
        /// Wanted direction of its print's up in this block's frame; a stripe's opposite is as good.
        up: Option<Up>,
        /// Wanted direction of the straight grain.
        grain: Grain,
        /// Its index in the block, for findings.
        patch: u32,
        /// In a maker's words where it is not a block's patch ("sashing", "border", "corner"), else empty.
        role: String,
    },
    /// Another block, whole.
    Block {
        /// Which.
        block: BlockIndex,
        /// Carries its frame into this block's; never turns over (a flipped block is a block of its own).
        motion: Motion,
    },
}

/// A print's wanted direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Up {
    /// One inch long.
    pub toward: Vector,
    /// A stripe.
    pub two_way: bool,
}

/// A patch's wanted straight grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Grain {
    /// Longest side on the block's outer edge, else a side parallel to the block's, else the longest side.
    Auto,
    /// Along this direction (or its opposite, or across it).
    Along(Vector),
}
