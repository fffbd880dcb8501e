//! A printed number and its derivation.

use measure::Length;
use serde::{Deserialize, Serialize};

/// Index into [`crate::Pattern::whys`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(transparent)]
pub struct WhyId(pub u32);

/// A length a maker reads, with its derivation. The derivation is erased before a rehearsal and never changes one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Size {
    /// The length, in 1/8128 in.
    pub len: Length,
    /// Its derivation; `None` once erased.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<WhyId>,
}

impl Size {
    /// A size without its derivation.
    pub const fn bare(len: Length) -> Self {
        Size { len, why: None }
    }

    /// Inches.
    pub fn inches(self) -> f64 {
        self.len.to_inches()
    }
}
