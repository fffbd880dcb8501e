//! Bands of cloth kept whole for what comes after the top: they lie beside the strips of the pieces and are bought with them.

use crate::Size;
use measure::Length;
use serde::{Deserialize, Serialize};
use std::fmt;
use terms::FabricId;

/// What a strip that is not cut into pieces is kept for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// Strips joined and sewn round the edge.
    Binding,
    /// The square that strips on the bias are cut from.
    BiasSquare,
    /// A length of the back.
    Backing,
    /// The sleeve the quilt hangs by.
    Sleeve,
    /// The label on the back.
    Label,
}

impl fmt::Display for Purpose {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Purpose::Binding => "binding",
            Purpose::BiasSquare => "bias binding",
            Purpose::Backing => "backing",
            Purpose::Sleeve => "sleeve",
            Purpose::Label => "label",
        })
    }
}

/// Full-width bands of one cloth, kept whole by the cutting plan. Not part of the recipe file itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Band {
    /// The cloth.
    pub fabric: FabricId,
    /// Along the cloth's length.
    pub height: Size,
    /// How many.
    pub count: u32,
    /// What for.
    pub purpose: Purpose,
    /// What the area needed takes of the cloth's length at the least, however it is cut; for the bound.
    pub least: Length,
}
