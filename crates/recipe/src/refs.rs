//! How a recipe points at things: edges by birth, corners as two edges, lines and places as a maker finds them.

use crate::Size;
use serde::{Deserialize, Serialize};

/// A thing on the table while one unit is made: a part taken from the pool, or the result of a step. Numbered freely,
/// each number given once within a [`crate::Make`].
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct Slot(pub u32);

/// An edge by birth. `of` is the slot it was born in and `edge` its number there:
/// a cut piece's edges are numbered by its cutting plan; a unit's edges are the sides its making gave, in order;
/// a trim's edges are its lines in order, born in the trim's `into`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EdgeRef {
    /// Where it was born.
    pub of: Slot,
    /// Its number there, from 0.
    pub edge: u32,
}

/// Edges in order along one straight side, cloth on the left.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(transparent)]
pub struct EdgeRun(pub Vec<EdgeRef>);

/// A seam by birth. `of` is the slot an `open` step made (then `seam` is 0, the seam just opened; after pivots its legs
/// are counted in the order sewn), the slot a `close` step made (then 0, the whole seam), or a part that is a unit (then
/// `seam` counts the seams its making gave). A seam begun is named so, by its `open`, only to be closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeamRef {
    /// Where it was born.
    pub of: Slot,
    /// Its number there, from 0.
    pub seam: u32,
}

/// The name of a drawn line or dot, unique within a [`crate::Make`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(transparent)]
pub struct MarkName(pub String);

/// A corner: where the lines of two edges cross, whether or not cloth reaches it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CornerRef {
    /// The edge that ends at the corner (cloth on the left, going round).
    pub before: EdgeRef,
    /// The edge that starts there.
    pub after: EdgeRef,
}

/// A straight line a maker can see.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum LineRef {
    /// A raw edge.
    Edge(EdgeRef),
    /// A sewn seam: its stitch line.
    Seam(SeamRef),
    /// A drawn line.
    Mark(MarkName),
}

/// A place a maker can find.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum PointRef {
    /// A corner.
    Corner(CornerRef),
    /// Where two lines cross.
    Crossing(LineRef, LineRef),
    /// So far along an edge from a corner at one of its ends.
    Along {
        /// The corner, one end of `edge`.
        from: CornerRef,
        /// The edge to follow.
        edge: EdgeRef,
        /// How far.
        by: Size,
    },
    /// So far in from one edge and so far in from another.
    FromEdges {
        /// One edge.
        a: EdgeRef,
        /// How far in from it.
        a_by: Size,
        /// The other edge.
        b: EdgeRef,
        /// How far in from it.
        b_by: Size,
    },
    /// A drawn dot.
    Dot(MarkName),
}

/// Angles printed on a ruler.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
pub enum RulerAngle {
    /// 30 degrees.
    #[serde(rename = "30")]
    Thirty,
    /// 45 degrees.
    #[serde(rename = "45")]
    FortyFive,
    /// 60 degrees.
    #[serde(rename = "60")]
    Sixty,
    /// 90 degrees.
    #[serde(rename = "90")]
    Ninety,
}

impl RulerAngle {
    /// In degrees.
    pub fn degrees(self) -> f64 {
        match self {
            RulerAngle::Thirty => 30.0,
            RulerAngle::FortyFive => 45.0,
            RulerAngle::Sixty => 60.0,
            RulerAngle::Ninety => 90.0,
        }
    }
}

/// One placement of the ruler.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Ruler {
    /// Parallel to a line, so far from it, on the side of a corner.
    Beside {
        /// The line the ruler's mark lies on.
        line: LineRef,
        /// How far off; nothing means along the line itself.
        at: Size,
        /// A corner on the side to go to.
        toward: CornerRef,
    },
    /// At a printed angle to a line, through a place; of the two such lines the one nearest in direction to an edge.
    Angle {
        /// The line the ruler's angle line lies on.
        line: LineRef,
        /// The angle.
        angle: RulerAngle,
        /// A place on the ruler's edge.
        through: PointRef,
        /// The edge it is most nearly parallel to.
        like: EdgeRef,
    },
    /// Through two places.
    TwoMarks {
        /// One.
        from: PointRef,
        /// The other.
        to: PointRef,
    },
}
