//! The recipe as a whole, and the file it travels in.

use crate::{Bought, CutPlan, Make, Size};
use measure::{Length, Measure, Why};
use serde::{Deserialize, Serialize};
use terms::{FabricId, PieceId};

/// The format number of the recipe file.
pub const RECIPE_FORMAT: u32 = 1;

/// The label of a piece that is cut from the middle of a motif's repeat.
pub const ROUND_ITS_MOTIF: &str = "piece round its motif";

/// Whether a print has a direction.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PrintNote {
    /// No direction.
    #[default]
    None,
    /// A stripe.
    TwoWay,
    /// It has an up.
    OneWay,
}

/// What a maker must know of a cloth.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FabricNote {
    /// The role.
    pub fabric: FabricId,
    /// In words.
    pub label: String,
    /// `#rrggbb`.
    pub color: String,
    /// It has a right side.
    pub right_side: bool,
    /// Its print's direction.
    pub print: PrintNote,
}

/// What a maker must know of a kind of piece.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PieceNote {
    /// The kind.
    pub piece: PieceId,
    /// Its cloth.
    pub fabric: FabricId,
    /// In words: "square", "strip", "half of a square".
    pub label: String,
    /// Cut beyond need.
    pub spare: u32,
    /// The mirror image of this kind, when both are used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub twin: Option<PieceId>,
}

/// Everything sewn, in order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Recipe {
    /// The quilt's title.
    pub title: String,
    /// Who designed it.
    pub author: String,
    /// Its edition.
    pub edition: String,
    /// The measure it is written in.
    pub measure: Measure,
    /// The ruler's smallest mark.
    pub mark: Length,
    /// The seam: raw edge to stitch.
    pub seam: Size,
    /// The cloths.
    pub fabrics: Vec<FabricNote>,
    /// The kinds of piece.
    pub pieces: Vec<PieceNote>,
    /// The makings, each after those it takes units from; the last ends in `finish`.
    pub makes: Vec<Make>,
}

/// What `recipe.json` holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pattern {
    /// [`RECIPE_FORMAT`].
    pub format: u32,
    /// The sewing.
    pub recipe: Recipe,
    /// The cutting.
    pub cutting: CutPlan,
    /// The cloth.
    pub bought: Bought,
    /// The derivations that [`crate::WhyId`]s point to.
    #[serde(default)]
    pub whys: Vec<Why>,
}

impl Pattern {
    /// As JSON, indented, the same bytes for the same pattern.
    pub fn to_json(&self) -> String {
        // Only maps with keys that are not text can fail to be written; there are none.
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }

    /// From JSON.
    ///
    /// # Errors
    /// What the JSON reader objects to, with line and column.
    pub fn from_json(text: &str) -> Result<Self, serde_json::Error> {
        serde_json::from_str(text)
    }
}
