//! The design as its file says it: lengths in inches, drawings turned over so that y is up, names not yet followed.

use crate::Sold;
use measure::Measure;
use shape::{Point, Polygon};
use std::collections::BTreeMap;
use terms::{FabricId, Finding};

/// A design as read from its file. Every name in it is known to lead somewhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// The quilt as a whole.
    pub quilt: Quilt,
    /// The cloths, in the file's order.
    pub fabrics: Vec<Fabric>,
    /// Other cloth for the same roles.
    pub colorways: Vec<Colorway>,
    /// The drawings, in the file's order.
    pub blocks: Vec<Block>,
    /// How blocks make the top.
    pub layout: Layout,
    /// From the inside out.
    pub borders: Vec<Border>,
    /// Binding, backing, batting.
    pub finish: Finish,
    /// Other sizes of the same quilt.
    pub sizes: Vec<QuiltSize>,
    /// What is issued together.
    pub parts: Vec<Part>,
    /// The designer's words at units and steps.
    pub says: Vec<Say>,
    /// What was met while reading that is right but not planned yet.
    pub(crate) later: Vec<Finding>,
}

/// The quilt as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Quilt {
    /// Its name.
    pub title: String,
    /// Who designed it; empty when not said.
    pub author: String,
    /// Which edition of the pattern.
    pub edition: String,
    /// The designer's words; empty when not said.
    pub note: String,
    /// What the pattern is written and planned in.
    pub measure: Measure,
    /// Seam allowance, inches.
    pub seam: f64,
    /// Smallest mark cut sizes may use, inches.
    pub ruler: f64,
    /// Extra cut pieces for mishaps, as a share of one.
    pub spare: f64,
    /// What counts first where a unit can be made in several ways.
    pub prefer: Prefer,
    /// Corners of sew-and-flip from this finished leg on, inches, give spare half-square units; none where nothing is said.
    pub keep_corners: Option<f64>,
    /// Cloth turned under round a patch on a ground, inches.
    pub turn_under: f64,
}

/// What counts first where a unit can be made in several ways.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Prefer {
    /// The fewest steps.
    #[default]
    Steps,
    /// The least cloth.
    Cloth,
    /// The way that forgives most: cut large and trimmed rather than true from the first cut.
    Forgiving,
}

impl Prefer {
    /// The words of the design file and of the command line.
    pub const WORDS: [(&'static str, Prefer); 3] = [
        ("cloth", Prefer::Cloth),
        ("steps", Prefer::Steps),
        ("forgiving", Prefer::Forgiving),
    ];
}

/// A plain colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Color {
    /// Red, 0 to 255.
    pub red: u8,
    /// Green, 0 to 255.
    pub green: u8,
    /// Blue, 0 to 255.
    pub blue: u8,
}

impl Color {
    /// From `#1f2d4a`; `None` for anything else.
    pub fn from_hex(text: &str) -> Option<Self> {
        crate::read::hex_color(text)
    }

    /// As `#1f2d4a`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }
}

/// A print's direction.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Print {
    /// Any way will do.
    #[default]
    None,
    /// A stripe: up and down are the same.
    TwoWay,
    /// It has an up.
    OneWay,
}

/// Where a print's up points.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum UpRule {
    /// To the top of the quilt, whatever the block's turn.
    #[default]
    Quilt,
    /// To the top of the block, turning with it.
    Block,
    /// Anywhere.
    Free,
}

/// A motif that comes again and again over the cloth, centred in each patch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motif {
    /// From one to the next across the cloth and along it, inches.
    pub every: (f64, f64),
    /// How many whole ones lie between the selvedges; as many as are certain when not said.
    pub across: Option<u32>,
}

/// What of a scrappy role is in one cloth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Each {
    /// All patches of the role in one placed block.
    #[default]
    Block,
    /// Every patch by itself.
    Patch,
}

/// Several cloths for one role.
#[derive(Clone, Debug, PartialEq)]
pub struct Scrappy {
    /// The cloths, two at least.
    pub fabrics: Vec<FabricId>,
    /// What is in one cloth.
    pub each: Each,
    /// Another number deals the cloths out otherwise.
    pub seed: u64,
}

/// One cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Fabric {
    /// The role; patches name it.
    pub name: FabricId,
    /// What a maker reads; the name when the file says nothing.
    pub label: String,
    /// The colour of its swatch.
    pub color: Color,
    /// Nominal width, inches.
    pub width: f64,
    /// Usable width, inches.
    pub usable: f64,
    /// Lost to the first straight cut, inches.
    pub square_up: f64,
    /// Share by which the bought length grows for shrinking.
    pub shrink: f64,
    /// Whether its two sides differ.
    pub right_side: bool,
    /// Its print's direction.
    pub print: Print,
    /// Where its print's up points.
    pub up: UpRule,
    /// The repeat of the motif that is centred in each of its patches, where it has one.
    pub motif: Option<Motif>,
    /// The cloths that together play this role.
    pub scrappy: Option<Scrappy>,
    /// How it is sold.
    pub sold: Sold,
    /// How long a piece is along the selvedge, inches, where it is sold cut; across it has the width.
    pub length: Option<f64>,
    /// The shop's cutting step, inches.
    pub step: f64,
    /// Per yard or metre, or of one piece where it is sold cut, when said.
    pub price: Option<f64>,
    /// A picture of it beside the file; empty when not said.
    pub image: String,
    /// How much cloth the picture shows across, inches.
    pub image_width: Option<f64>,
}

impl Fabric {
    /// Of a cloth sold cut, what a piece has along the selvedge for strips, inches: the length left by the wash, squared up.
    pub fn room(&self) -> Option<f64> {
        self.length.map(|length| length * (1.0 - self.shrink) - self.square_up)
    }
}

/// Other cloth for the same roles.
#[derive(Clone, Debug, PartialEq)]
pub struct Colorway {
    /// Its name.
    pub name: String,
    /// The cloths that differ.
    pub fabrics: BTreeMap<FabricId, OtherCloth>,
}

/// What is other about a role's cloth in a colourway.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OtherCloth {
    /// What makers call it.
    pub label: Option<String>,
    /// Its colour.
    pub color: Option<Color>,
    /// Price of a yard or metre.
    pub price: Option<f64>,
}

/// A patch's wanted straight grain, in the block's own frame.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum GrainRule {
    /// Longest side on the block's outer edge, else a side parallel to the block's, else the longest.
    #[default]
    Auto,
    /// So many degrees clockwise (as seen) from the block's lower edge.
    Degrees(f64),
}

/// A patch of a block.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Its role.
    pub fabric: FabricId,
    /// Finished outline in the block's frame: inches, y up, counter-clockwise.
    pub outline: Polygon,
    /// For each edge of the outline whether it is one of the straights that a curve was drawn as.
    pub bows: Vec<bool>,
    /// How it was drawn, where it has curves, so that they are drawn afresh at another size.
    pub(crate) curves: Option<Curves>,
    /// Its straight grain.
    pub grain: GrainRule,
    /// Laid on a ground and stitched down, not sewn to neighbours; then what becomes of its edge.
    pub ground: Option<GroundEdge>,
}

/// What becomes of the edge of a patch on a ground.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum GroundEdge {
    /// Turned under.
    #[default]
    Turned,
    /// Left raw, fused and stitched over.
    Raw,
}

/// A curved patch as the file has it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Curves {
    /// SVG path data.
    pub path: String,
    /// Inches to a unit of it, across and down.
    pub unit: (f64, f64),
    /// Of the block, inches: y runs down from there.
    pub height: f64,
}

impl Patch {
    /// Its outline so many times as large, and its bows: straights go with the size, curves are drawn afresh, so that their
    /// chains are as fine as at the block's own size.
    pub(crate) fn at_scale(&self, by: f64) -> (Polygon, Vec<bool>) {
        let afresh = |curves: &Curves| {
            let unit = (curves.unit.0 * by, curves.unit.1 * by);
            let drawn = crate::path::read(&curves.path, unit, usize::MAX).ok()?;
            Some(drawn.outline(unit, curves.height * by))
        };
        if by == 1.0 {
            return (self.outline.clone(), self.bows.clone());
        }
        self.curves.as_ref().and_then(afresh).unwrap_or_else(|| {
            let corners = self.outline.corners().iter();
            let scaled = corners.map(|c| Point::new(c.x * by, c.y * by)).collect();
            (Polygon::new(scaled), self.bows.clone())
        })
    }

    /// Draws it so many times as large.
    pub(crate) fn scale(&mut self, by: f64) {
        (self.outline, self.bows) = self.at_scale(by);
        if let Some(curves) = &mut self.curves {
            curves.unit = (curves.unit.0 * by, curves.unit.1 * by);
            curves.height *= by;
        }
    }

    /// Whether the drawing has curved edges.
    pub fn is_curved(&self) -> bool {
        self.bows.contains(&true)
    }
}

/// A block inside another, or in a free layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// Which block.
    pub block: String,
    /// Middle of its box in the frame of what it is placed in: inches, y up.
    pub centre: Point,
    /// Its width and height before turning, inches; the block is drawn to this size.
    pub size: (f64, f64),
    /// Degrees clockwise, as seen.
    pub turn: f64,
    /// Left and right exchanged in the block's own frame, before turning.
    pub flip: bool,
    /// Which roles become which, all at once.
    pub recolor: BTreeMap<FabricId, FabricId>,
}

/// A named drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Its name.
    pub name: String,
    /// Finished width and height, inches.
    pub size: (f64, f64),
    /// Drawing units across and down.
    pub grid: (f64, f64),
    /// Its own patches.
    pub patches: Vec<Patch>,
    /// Other blocks inside it.
    pub place: Vec<Placement>,
    /// Whether it may be made as separate units.
    pub split: bool,
    /// The pinned method; empty when not said.
    pub method: String,
    /// What is pinned of some of its patches.
    pub pins: Vec<Pin>,
    /// Which way seams between two patches are pressed, where the designer says so.
    pub presses: Vec<PressPin>,
    /// By what the layers of seams between two patches are placed.
    pub lays: Vec<LayPin>,
    /// The designer's words; empty when not said.
    pub note: String,
    /// A hint; empty when not said.
    pub tip: String,
    /// How the designer wants it quilted; empty when not said.
    pub quilting: String,
    /// A photograph beside the file, by its name without a folder; empty when not said.
    pub photo: String,
    /// What the photograph shows, for those who cannot see it; empty when not said.
    pub photo_alt: String,
}

/// Some patches of a block that are to be made as a unit of their own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pin {
    /// Indices of the patches, in order, from 0.
    pub patches: Vec<u32>,
    /// By which method; empty when that is left open.
    pub method: String,
}

/// The seam between two patches is pressed from the one toward the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PressPin {
    /// Index of the patch it is pressed away from, from 0.
    pub from: u32,
    /// Index of the patch under which both allowances lie.
    pub toward: u32,
}

/// How the two layers of the seam between two patches are placed on one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LayPin {
    /// Indices of the patches, from 0, the lesser first.
    pub patches: [u32; 2],
    /// By what.
    pub by: LaidBy,
}

/// What places one layer on the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LaidBy {
    /// The ends.
    Ends,
    /// The middles of the two edges, as creased.
    Middle,
    /// The first seams that must meet.
    Seams,
}

impl LaidBy {
    /// As the file says it.
    pub const WORDS: [(&str, LaidBy); 3] = [
        ("ends", LaidBy::Ends),
        ("middle", LaidBy::Middle),
        ("seams", LaidBy::Seams),
    ];
}

/// One cell of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cell {
    /// Which block.
    pub block: String,
    /// Quarter turns clockwise, as seen.
    pub quarters: u8,
    /// Left and right exchanged before turning.
    pub flip: bool,
}

/// Strips between blocks.
#[derive(Clone, Debug, PartialEq)]
pub struct Sashing {
    /// Finished width, inches.
    pub width: f64,
    /// Its cloth.
    pub fabric: FabricId,
    /// Cloth of the squares where strips cross; `None` for whole strips between rows.
    pub cornerstones: Option<FabricId>,
    /// Whether it goes round the outside too.
    pub outer: bool,
}

/// How blocks make the top.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// Which way.
    pub kind: LayoutKind,
    /// Empty cells and ground left over.
    pub fill: Option<FabricId>,
}

/// The ways of laying blocks out.
#[derive(Clone, Debug, PartialEq)]
pub enum LayoutKind {
    /// Rows and columns of equal cells.
    Straight {
        /// Width and height of a cell, inches.
        cell: (f64, f64),
        /// Top to bottom, left to right; `None` is an empty cell. All rows are equally long.
        rows: Vec<Vec<Option<Cell>>>,
        /// Strips between.
        sashing: Option<Sashing>,
    },
    /// Blocks standing on a corner.
    OnPoint {
        /// Width and height of a cell, inches.
        cell: (f64, f64),
        /// Rows as seen, top to bottom.
        rows: Vec<Vec<Option<Cell>>>,
        /// Strips between.
        sashing: Option<Sashing>,
        /// Ground beyond the points, inches.
        float: f64,
    },
    /// Anywhere.
    Free {
        /// Width and height of the whole, inches.
        size: (f64, f64),
        /// Where blocks lie, in the frame of the whole.
        place: Vec<Placement>,
    },
}

/// What happens at a border's corners.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Corners {
    /// One pair of strips runs through: the second pair sewn.
    Butted {
        /// Sides are sewn first, so top and bottom run through; else the other way round.
        sides_first: bool,
    },
    /// Joined on the diagonal.
    Mitred,
    /// A block in each corner: as drawn at the top left, each next (clockwise) turned by a quarter.
    Block(String),
    /// A plain square of this cloth in each corner.
    Stones(FabricId),
}

/// The plain strips within a pieced border.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spacer {
    /// As wide as makes the units come out even, where they do not without.
    Auto,
    /// So wide at the sides, and at top and bottom, inches.
    Widths(f64, f64),
}

/// A border.
#[derive(Clone, Debug, PartialEq)]
pub struct Border {
    /// Finished width, inches.
    pub width: f64,
    /// Its cloth; of a pieced border that of its spacer.
    pub fabric: FabricId,
    /// Its corners.
    pub corners: Corners,
    /// Long pieces cut along the cloth's length instead of strips joined.
    pub lengthwise: bool,
    /// Blocks of a pieced border, repeated in turn clockwise along each side, each drawn to the border's width with its upper
    /// side outwards; empty for a plain one.
    pub units: Vec<Cell>,
    /// What lies within a pieced border.
    pub spacer: Option<Spacer>,
}

/// Binding, backing, batting.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Finish {
    /// The binding, when said.
    pub binding: Option<Binding>,
    /// Cloth of the back, when said.
    pub backing: Option<FabricId>,
    /// How much wider than the top the backing is on each side, inches.
    pub backing_over: f64,
    /// Whether batting is planned.
    pub batting: bool,
    /// How much wider than the top the batting is on each side, inches.
    pub batting_over: f64,
    /// What the pattern leaves out ("binding", "backing", "batting").
    pub skip: Vec<String>,
    /// A wide cloth that may be taken for the back, when said.
    pub wide: Option<WideBacking>,
    /// What the quilt hangs by, when said.
    pub sleeve: Option<Sleeve>,
    /// The label on the back, when said.
    pub label: Option<Label>,
}

/// Cloth wide enough for a back in one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct WideBacking {
    /// Inches between the selvedges.
    pub usable: f64,
    /// Price of a yard or metre.
    pub price: Option<f64>,
}

/// A sleeve on the back.
#[derive(Clone, Debug, PartialEq)]
pub struct Sleeve {
    /// Its cloth.
    pub fabric: FabricId,
    /// How wide its strip is cut, inches.
    pub strip: f64,
}

/// A label on the back.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its cloth.
    pub fabric: FabricId,
    /// Finished width and height, inches.
    pub size: (f64, f64),
}

/// The binding.
#[derive(Clone, Debug, PartialEq)]
pub struct Binding {
    /// Its cloth.
    pub fabric: FabricId,
    /// Height of the strips it is folded from, inches.
    pub strip: f64,
    /// Cut on the bias.
    pub bias: bool,
}

/// Another size of the same quilt.
#[derive(Clone, Debug, PartialEq)]
pub struct QuiltSize {
    /// Its name.
    pub name: String,
    /// Whether it is the one meant when none is named.
    pub default: bool,
    /// What blocks, cell, sashing, borders and free coordinates are multiplied by.
    pub scale: f64,
    /// Its own layout, where it differs from the plain one.
    pub layout: Option<Layout>,
    /// Its own borders.
    pub borders: Option<Vec<Border>>,
    /// Its own finish.
    pub finish: Option<Finish>,
}

/// What is issued together.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Blocks and how many; empty with `all` when everything.
    pub blocks: BTreeMap<String, u32>,
    /// All blocks.
    pub all: bool,
    /// "sashing", "setting", "borders", "finish".
    pub also: Vec<String>,
    /// When, as written; empty when not said.
    pub date: String,
}

/// The designer's words at a unit or step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Say {
    /// The unit or step.
    pub at: String,
    /// The words.
    pub text: String,
}

impl Block {
    /// The patches that are sewn to one another, with their numbers from 0.
    pub fn pieced(&self) -> impl Iterator<Item = (usize, &Patch)> {
        self.patches.iter().enumerate().filter(|(_, p)| p.ground.is_none())
    }

    /// The patches on a ground, with their numbers from 0 and their edges; the later lie above the earlier.
    pub fn laid(&self) -> impl Iterator<Item = (usize, &Patch, GroundEdge)> {
        self.patches
            .iter()
            .enumerate()
            .filter_map(|(i, patch)| patch.ground.map(|edge| (i, patch, edge)))
    }
}

impl Design {
    /// The fabric of that role.
    pub fn fabric(&self, id: &FabricId) -> Option<&Fabric> {
        self.fabrics.iter().find(|f| f.name == *id)
    }

    /// The block of that name.
    pub fn block(&self, name: &str) -> Option<&Block> {
        self.blocks.iter().find(|b| b.name == name)
    }
}
