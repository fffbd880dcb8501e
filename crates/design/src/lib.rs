//! The design file and what it means: reading, placement, the planar map, the picture, the design's own findings.
//!
//! ```text
//! text ─▶ read ─▶ Design (inches, y up) ─▶ layout, place ─▶ resolve (planar map of each block in each use) ─▶ Sheet
//!                    │
//!                    ├──▶ picture: the same placements, carried patch by patch, never welded ─▶ TopPicture
//!                    └──▶ findings: what can be told from the drawing alone
//! ```

mod collection;
mod contrast;
mod cover;
mod error;
mod findings;
mod layout;
mod measures;
mod model;
mod nearest;
mod path;
mod picture;
mod place;
mod planar;
mod read;
mod resolve;
mod scraps;
mod sheet;
mod simple;
mod sizes;
mod sold;
mod together;

pub use collection::{collection, collection_file};
pub use contrast::{color_difference, lab_difference};
pub use error::FileError;
pub use findings::off_marks::OffMarks;
pub use model::{
    Binding, Block, Border, Cell, Color, Colorway, Corners, Design, Each, Fabric, Finish, GrainRule, GroundEdge, Label,
    LaidBy, LayPin, Layout, LayoutKind, Motif, OtherCloth, Part, Patch, Pin, Placement, Prefer, PressPin, Print, Quilt,
    QuiltSize, Sashing, Say, Scrappy, Sleeve, Spacer, UpRule, WideBacking,
};
pub use read::{MOST_BYTES, is_photo_name, read_design, read_design_bytes};
pub use sheet::{BlockIndex, BlockMap, Fill, Grain, MapFace, MapLaid, Sheet, Up, VertexId, map_of_outlines};
pub use sizes::BASE;
pub use sold::{Custom, Sold};
pub use together::{BLURRED, Eyes, HARDLY_IN_GREY, Neighbours, Rung, Together, as_seen, in_grey, lightness, together};

use terms::{Finding, TopPicture};

impl Design {
    /// The resolved design: the planar map of every block in every use.
    ///
    /// # Errors
    /// The stop findings that prevent it: gaps, overlaps, blocks that do not fit, what is not planned yet.
    pub fn sheet(&self) -> Result<Sheet, Vec<Finding>> {
        let preventing = findings::preventing(self);
        if !preventing.is_empty() {
            return Err(preventing);
        }
        let resolved = resolve::resolve(self);
        resolved
            .sheet
            .ok_or_else(|| resolved.findings.into_iter().filter(Finding::is_stop).collect())
    }

    /// The design's own findings: stop, then care, then note.
    pub fn findings(&self) -> Vec<Finding> {
        findings::all(self)
    }

    /// The picture of the finished top, by placement alone. Where the layout cannot be planned yet it has no faces.
    pub fn top_picture(&self) -> TopPicture {
        picture::picture(self)
    }

    /// How many sides of its patches lie between the ruler's marks.
    pub fn off_marks(&self) -> OffMarks {
        findings::off_marks::count(self, &resolve::resolve(self).used)
    }

    /// The first block of the layout, as it is drawn.
    pub fn first_block(&self) -> Option<&Block> {
        let name = match &self.layout.kind {
            LayoutKind::Straight { rows, .. } | LayoutKind::OnPoint { rows, .. } => {
                rows.iter().flatten().flatten().map(|cell| &cell.block).next()
            }
            LayoutKind::Free { place, .. } => place.first().map(|placed| &placed.block),
        };
        self.block(name?)
    }

    /// The finished width and height of the top, borders included, inches.
    pub fn top_size(&self) -> (f64, f64) {
        layout::top_size(self)
    }
}
