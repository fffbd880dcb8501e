//! Generated designs: recursive straight cuts at any angle, nested blocks, repeated blocks, tiny and large. Valid by
//! construction, and written as design files, so that reading them is tried too.
//!
//! The same function serves as property test and as fuzz input: one number gives one design.

mod author;
mod chance;
mod cuts;
mod free_form;
mod hexagons;
mod laid;
mod outlines;
mod trade;
mod units;

pub use chance::Chance;
pub use free_form::free_form;
pub use hexagons::hexagons;
pub use trade::{KINDS, trade};

use author::Author;

/// What to generate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Gives everything that is left to chance.
    pub seed: u64,
    /// All corners lie on marks of 1/4 in.
    pub on_marks: bool,
    /// About so many patches to a block.
    pub patches: usize,
    /// Rows and columns of blocks.
    pub rows: usize,
    /// See `rows`.
    pub columns: usize,
    /// Some rectangles hold another block.
    pub nested: bool,
    /// Sashing with cornerstones and a border.
    pub framed: bool,
    /// Some rectangles are windmills, or corners with a rectangle set in: no seam runs through.
    pub round_corners: bool,
    /// All blocks are pinned to foundation paper.
    pub on_paper: bool,
    /// Some rectangles are units of the trade: halves of squares and of rectangles, geese.
    pub units: bool,
    /// Patches are laid on the ground of every block.
    pub laid: bool,
}

impl Wanted {
    /// Everything from one number.
    pub fn any(seed: u64) -> Self {
        let mut chance = Chance::new(seed);
        Wanted {
            seed,
            on_marks: chance.below(2) == 0,
            patches: 1 + chance.below(14),
            rows: 1 + chance.below(4),
            columns: 1 + chance.below(4),
            nested: chance.below(3) == 0,
            framed: chance.below(3) == 0,
            round_corners: chance.below(3) == 0,
            on_paper: chance.below(4) == 0,
            units: chance.below(3) == 0,
            laid: chance.below(5) == 0,
        }
    }

    /// With patches on a ground, on few blocks: how they are laid is asked, not how often.
    pub fn laid(seed: u64) -> Self {
        Wanted {
            laid: true,
            rows: 1 + (seed % 2) as usize,
            columns: 1 + (seed % 3) as usize,
            ..Wanted::any(seed)
        }
    }

    /// The design file.
    pub fn design(&self) -> String {
        Author::new(*self).write()
    }
}
