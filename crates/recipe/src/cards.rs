//! Mosaics over card: the cards a maker cuts, and what the steps that use them name.

use crate::{EdgeRef, EdgeRun, Size, TemplateCorner};
use serde::{Deserialize, Serialize};

/// A printed card, cut out along its outline, over which cloth is basted: the finished outline of a patch.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Card {
    /// Its name.
    pub name: String,
    /// The outline as it lies behind the patch, cloth right side up, counter-clockwise; side `i` runs from corner `i` to
    /// the next. The page shows it from behind, as the maker sees it.
    pub corners: Vec<TemplateCorner>,
    /// Sides that lie on the outer edge of the mosaic: no cloth is folded over them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flat: Vec<u32>,
    /// How many patches are basted over such a card in all: so many for a maker who leaves every card in to the end.
    pub uses: u32,
    /// How many to cut when each is used again as soon as it comes out: the most that are in cloth at one time.
    pub cut: u32,
}

/// How a card is laid on a piece of cloth: one of its sides so far inside an edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Inside {
    /// The card's side.
    pub side: u32,
    /// The piece's edge.
    pub edge: EdgeRef,
    /// How far the one lies inside the other.
    pub by: Size,
}

/// Folded edges whipped together.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Whipped {
    /// Of the work in hand, in its own order.
    pub a: EdgeRun,
    /// Of what is whipped to it, in its own order (so it runs against `a`).
    pub b: EdgeRun,
}

/// So many cards of one name.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CardsOut {
    /// The card.
    pub card: String,
    /// How many come out.
    pub count: u32,
}
