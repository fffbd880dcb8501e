//! Names. Each kind is a type of its own, so that a fabric cannot be sewn and a unit cannot be bought.

use serde::{Deserialize, Serialize};
use std::fmt;

macro_rules! name_type {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
        #[serde(transparent)]
        pub struct $name(pub String);

        impl $name {
            /// From its text.
            pub fn new(text: impl Into<String>) -> Self {
                $name(text.into())
            }

            /// Its text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    };
}

name_type!(
    /// The role a cloth plays in the design (`night`).
    FabricId
);
name_type!(
    /// A kind of cut piece; all its copies are alike to a mark (`A1`).
    PieceId
);
name_type!(
    /// A kind of unit: patches sewn together on the way to the top (`beacon/A`).
    UnitId
);

/// One action: the step's place in the making of its unit, counted from 0. Printed from 1.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
pub struct StepId {
    /// The unit being made.
    pub unit: UnitId,
    /// Which of its steps.
    pub step: u32,
}

impl fmt::Display for StepId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} step {}", self.unit, self.step + 1)
    }
}

/// Where a patch sits: the placements from the top inward, then the patch's index in its block, all from 0
/// (`layout/3/1/patch 2`).
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct PatchPath {
    /// Index of each placement, outermost first.
    pub placements: Vec<u32>,
    /// Index of the patch in the innermost block; for ground, sashing and borders an index among those.
    pub patch: u32,
}

impl fmt::Display for PatchPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for p in &self.placements {
            write!(f, "{}.", p + 1)?;
        }
        write!(f, "{}", self.patch + 1)
    }
}
