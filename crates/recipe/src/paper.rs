//! Foundation papers: printed sheets to sew on, and how a piece is placed along their lines. Printed matter has
//! coordinates; the steps that use it have none.

use crate::{EdgeRef, Size, TemplateCorner};
use serde::{Deserialize, Serialize};

/// A printed foundation, as printed: the mirror image of the sewn section, since the cloth lies on the back of it.
/// What it means is laid down in `docs/recipe.md`, "Foundation papers".
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Paper {
    /// Its name.
    pub name: String,
    /// How many copies are printed.
    pub print: u32,
    /// The finished outline, counter-clockwise as printed.
    pub outline: Vec<TemplateCorner>,
    /// The cutting line, a seam outside it, corner for corner.
    pub cutting: Vec<TemplateCorner>,
    /// The sewing lines in order; line `i` adds area `i + 1`, area 0 being what is there before any.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<SewingLine>,
}

/// One printed sewing line; the area it adds lies on its left as printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SewingLine {
    /// One end.
    pub from: TemplateCorner,
    /// The other.
    pub to: TemplateCorner,
}

/// How a piece lies along a sewing line once it is sewn and opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AlongLine {
    /// The piece's edge that runs along the line.
    pub edge: EdgeRef,
    /// How far past the line, away from the piece's own area.
    pub past: Size,
    /// How far before the line's start the edge starts; less than nothing: inside.
    pub beyond: Size,
    /// The piece covers what it must by at least so much in every direction: so far a maker may be off.
    pub margin: Size,
}
