//! Demanded pieces: what the piecing asks the cutting for. Not part of the recipe file.

use crate::{RulerCut, ShapingCut, Size, Template, Turn};
use measure::Length;
use terms::{FabricId, PieceId};

/// So many pieces of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Demand {
    /// The kind.
    pub piece: PieceId,
    /// The cloth.
    pub fabric: FabricId,
    /// How many, spares included.
    pub count: u32,
    /// The shape and the numbers of its edges.
    pub shape: DemandShape,
    /// How the piece may lie in a strip, against the frame its shape is given in (right side up always). All four
    /// where neither grain nor print minds; [`Turn::As`] and [`Turn::Half`] for a stripe; one for a print with an up.
    pub turns: Vec<Turn>,
}

/// The shape of a piece, edge numbers as in [`crate::Gives`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DemandShape {
    /// A rectangle: edge 0 lower (`width` long), 1 right (`height` long), 2 upper, 3 left.
    Rectangle {
        /// Along the strip.
        width: Size,
        /// Across the strip.
        height: Size,
    },
    /// Half of a rectangle: edges as the *lower* piece of [`crate::Gives::Halves`]; the other half is the same piece.
    Half {
        /// The rectangle, along the strip.
        width: Size,
        /// The rectangle, across the strip.
        height: Size,
        /// Which diagonal.
        rising: bool,
    },
    /// A quarter of a square: edges as in [`crate::Gives::Quarters`].
    Quarter {
        /// The square's side.
        side: Size,
    },
    /// A four-sided piece (or triangle, when `lower` or `upper` is nothing) between two cuts through two marks:
    /// corners (0, 0), (`lower`, 0), (`lead` + `upper`, `height`), (`lead`, `height`); edges 0 lower, 1 right, 2 upper,
    /// 3 left. Laid head to tail the next one lies turned by half. With a `ruler` its slanted cuts are made at that angle.
    Slant {
        /// The strip.
        height: Size,
        /// Along the lower edge.
        lower: Size,
        /// Along the upper edge.
        upper: Size,
        /// How far the head of the left edge lies right of its foot (may be negative).
        lead: Length,
        /// The slanted cuts are made along a ruler's line at an angle.
        ruler: Option<RulerCut>,
    },
    /// A rectangle cut to shape beside dots.
    Shaped {
        /// Along the strip.
        width: Size,
        /// Across the strip.
        height: Size,
        /// The cuts.
        cuts: Vec<ShapingCut>,
    },
    /// Cut round a template.
    Template {
        /// The printed shape; its box starts at nothing, nothing.
        template: Template,
    },
}
