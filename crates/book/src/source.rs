//! What the book is made from. The caller fills it; the book asks no other room anything.

use finishing::Finishing;
use measure::Length;
use recipe::Pattern;
use rehearse::UnitScenes;
use terms::{FabricId, Finding, TopPicture, UnitId};

/// Everything the pages need to know.
#[derive(Clone, Debug)]
pub struct Source {
    /// The recipe, the cutting plan, the cloth to buy and the derivations.
    pub pattern: Pattern,
    /// What lay on the virtual table after each step, as far as it got.
    pub scenes: Vec<UnitScenes>,
    /// The picture of the finished top.
    pub picture: TopPicture,
    /// Where each unit belongs and how it is made.
    pub stories: Vec<Story>,
    /// What the checks had to say.
    pub findings: Vec<Finding>,
    /// The proof's figures; `None` when the pattern is not proved.
    pub proof: Option<ProofFigures>,
    /// What happens after the top.
    pub finishing: Finishing,
    /// What the shop calls each cloth.
    pub cloths: Vec<ClothWords>,
    /// The designer's words for the whole quilt.
    pub note: Option<String>,
}

/// One kind of unit, in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Story {
    /// The unit.
    pub unit: UnitId,
    /// The named block it belongs to; `None` for the top's own.
    pub block: Option<String>,
    /// The method that makes it, in words.
    pub method: String,
    /// The designer's note.
    pub note: Option<String>,
    /// The designer's tip.
    pub tip: Option<String>,
    /// How the designer wants it quilted.
    pub quilting: Option<String>,
}

/// The figures of a passed rehearsal.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ProofFigures {
    /// Seams sewn, all copies counted.
    pub seams: u64,
    /// Largest difference between the rehearsed top and the picture, inches.
    pub largest_difference: f64,
}

/// One cloth at the shop.
#[derive(Clone, Debug, PartialEq)]
pub struct ClothWords {
    /// The role.
    pub fabric: FabricId,
    /// What the bolt is called wide.
    pub width: Length,
    /// The shop cuts in steps of this.
    pub step: Length,
    /// Price for a yard (or a metre, in a metric pattern).
    pub price: Option<f64>,
}

impl Source {
    /// The story of a unit.
    pub fn story(&self, unit: &UnitId) -> Option<&Story> {
        self.stories.iter().find(|s| &s.unit == unit)
    }

    /// The scenes of a unit.
    pub fn scenes_of(&self, unit: &UnitId) -> Option<&UnitScenes> {
        self.scenes.iter().find(|s| &s.unit == unit)
    }

    /// A cloth's name for makers: its label, or its role where there is none.
    pub fn label(&self, fabric: &FabricId) -> String {
        self.pattern
            .recipe
            .fabrics
            .iter()
            .find(|f| &f.fabric == fabric)
            .map(|f| f.label.trim())
            .filter(|l| !l.is_empty())
            .map_or_else(|| fabric.0.clone(), str::to_string)
    }
}
