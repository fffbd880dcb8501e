//! What the book is made from. The caller fills it; the book asks no other room anything.

use crate::model::PhotoKind;
use finishing::Finishing;
use measure::Length;
use recipe::{BoughtCloth, Demand, Pattern};
use rehearse::UnitScenes;
use std::sync::Arc;
use terms::{FabricId, Finding, PieceId, TopPicture, UnitId};

/// Everything the pages need to know.
#[derive(Clone, Debug)]
pub struct Source {
    /// The recipe, the cutting plan, the cloth to buy and the derivations.
    pub pattern: Pattern,
    /// What lay on the virtual table after each step, as far as it got.
    pub scenes: Arc<Vec<UnitScenes>>,
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
    /// The designer's words at blocks, units and steps.
    pub says: Vec<SayWords>,
    /// The designer's photographs of blocks.
    pub photos: Vec<PhotoWords>,
    /// The part that the pages are for; `None` when they are for the whole.
    pub part: Option<PartWords>,
    /// The parts that the whole is handed out in.
    pub parts: Vec<PartLine>,
}

/// The designer's words and where they stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SayWords {
    /// The block's or the unit's name.
    pub at: String,
    /// The step of the unit's making, from 0, when they stand with one.
    pub step: Option<u32>,
    /// As written.
    pub text: String,
}

/// A photograph of a block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoWords {
    /// The block.
    pub block: String,
    /// The file.
    pub bytes: Arc<[u8]>,
    /// What kind of file.
    pub kind: PhotoKind,
    /// Width and height in pixels, more than none.
    pub pixels: (u32, u32),
    /// What it shows; empty when the designer says nothing.
    pub alt: String,
}

/// One part among the others.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PartLine {
    /// Its name.
    pub name: String,
    /// When it is handed out; empty when not said.
    pub date: String,
    /// The blocks made in it, and how many.
    pub blocks: Vec<(String, u64)>,
    /// The top is sewn in it.
    pub sews_the_top: bool,
    /// Binding, back and the rest are cut in it.
    pub finishes: bool,
    /// How many pieces are cut in it to be sewn in a later part.
    pub cut_ahead: u64,
    /// The cloth for it alone.
    pub cloth: Vec<BoughtCloth>,
}

/// What the pages of one part say beyond its recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct PartWords {
    /// Which, from 1.
    pub number: usize,
    /// Of how many.
    pub of: usize,
    /// The part itself.
    pub line: PartLine,
    /// Units of earlier parts that are sewn on here, and how many.
    pub from_before: Vec<(UnitId, u64)>,
    /// Units that lie ready for later parts when it is done, and how many.
    pub kept: Vec<(UnitId, u64)>,
    /// Pieces of earlier parts that are sewn here, and how many.
    pub cut_before: Vec<(PieceId, u64)>,
    /// Pieces cut here that are sewn in a later part, and how many.
    pub cut_ahead: Vec<(PieceId, u64)>,
    /// One block of each kind, to be made first.
    pub first: Vec<FirstBlock>,
}

/// What a single block takes.
#[derive(Clone, Debug, PartialEq)]
pub struct FirstBlock {
    /// The block.
    pub block: String,
    /// Its pieces.
    pub pieces: Vec<Demand>,
    /// Cloth for one alone.
    pub cloth: Vec<BoughtCloth>,
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
    /// Price for a yard (or a metre, in a metric pattern); for a piece, where it is sold cut.
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
