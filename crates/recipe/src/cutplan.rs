//! The cutting plan: strips across the cloth, cuts along each strip, and the names of the edges they make.

use crate::{Card, Paper, Purpose, Size};
use measure::Printed;
use serde::{Deserialize, Serialize};
use terms::{FabricId, PieceId};

/// How a piece lies in its strip, against the way its edges are named: turned so many quarter turns
/// counter-clockwise. Never turned over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// As named.
    #[default]
    As,
    /// A quarter turn.
    Quarter,
    /// End for end.
    Half,
    /// Three quarter turns.
    ThreeQuarters,
}

/// One piece that comes off.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PieceCut {
    /// Its kind.
    pub piece: PieceId,
    /// How it lies.
    #[serde(default)]
    pub turn: Turn,
}

/// A dot on a cut rectangle, so far in from two of its edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Dot {
    /// In from the left edge.
    pub from_left: Size,
    /// In from the lower edge.
    pub from_lower: Size,
}

/// A cut beside two dots: the ruler's line lies on both and the blade runs `past` them; going from `from` to `to` the
/// kept cloth is on the left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShapingCut {
    /// One dot.
    pub from: Dot,
    /// The other.
    pub to: Dot,
    /// How far beyond them, to the right.
    pub past: Size,
}

/// What the cloth between one cut and the next becomes.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Gives {
    /// Nothing: thrown away.
    Waste,
    /// One piece. Edges: 0 lower, 1 right, 2 upper, 3 left (an edge of no length keeps its number).
    Piece(PieceCut),
    /// Two pieces by a diagonal cut. `rising`: from lower left to upper right.
    /// Pieces of a rising cut: the lower one (edges 0 lower, 1 right, 2 diagonal), the upper one (0 upper, 1 left,
    /// 2 diagonal). Of a falling cut: the lower one (0 lower, 1 diagonal, 2 left), the upper one (0 upper,
    /// 1 diagonal, 2 right). Edges are numbered round, cloth on the left, and the upper piece is the lower one
    /// turned end for end, edge for edge.
    Halves {
        /// Which diagonal.
        rising: bool,
        /// The one on the lower edge.
        lower: PieceCut,
        /// The one on the upper edge.
        upper: PieceCut,
    },
    /// Four triangles by both diagonals of a square, in the order lower, right, upper, left. Edges of each: 0 the
    /// square's edge, then 1 and 2 the two cuts going round.
    Quarters(Vec<PieceCut>),
    /// A rectangle cut to shape beside dots. Edges 0 to 3 as for a piece (what is left of them), then 4, 5 … the
    /// cuts in order.
    Shaped {
        /// The piece.
        piece: PieceCut,
        /// The cuts.
        cuts: Vec<ShapingCut>,
    },
    /// Cut round a template laid on the rectangle. Edge `i` runs from corner `i` to the next.
    Template {
        /// The piece.
        piece: PieceCut,
        /// The template's name.
        template: String,
    },
}

/// Angles to a strip's edge at which a ruler has a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
pub enum CutAngle {
    /// 30 degrees.
    #[serde(rename = "30")]
    Thirty,
    /// 45 degrees.
    #[serde(rename = "45")]
    FortyFive,
    /// 60 degrees.
    #[serde(rename = "60")]
    Sixty,
    /// 67 1/2 degrees: the sides of a wedge of 45 degrees, by an angle ruler.
    #[serde(rename = "67.5")]
    Wedge,
}

impl CutAngle {
    /// All of them.
    pub const ALL: [CutAngle; 4] = [CutAngle::Thirty, CutAngle::FortyFive, CutAngle::Sixty, CutAngle::Wedge];

    /// Its sine.
    pub fn sine(self) -> f64 {
        match self {
            CutAngle::Thirty => 0.5,
            CutAngle::FortyFive => 0.5_f64.sqrt(),
            CutAngle::Sixty => 0.75_f64.sqrt(),
            // sin 67.5 = √(2 + √2) / 2
            CutAngle::Wedge => (2.0 + 2.0_f64.sqrt()).sqrt() / 2.0,
        }
    }

    /// Its cotangent: how far a cut moves along the strip for each inch across it.
    pub fn cotangent(self) -> f64 {
        match self {
            CutAngle::Thirty => 3.0_f64.sqrt(),
            CutAngle::FortyFive => 1.0,
            CutAngle::Sixty => 1.0 / 3.0_f64.sqrt(),
            CutAngle::Wedge => 2.0_f64.sqrt() - 1.0,
        }
    }
}

/// A cut along a ruler's line at an angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RulerCut {
    /// Between the cut and the strip's edge.
    pub angle: CutAngle,
    /// From the last cut, which is parallel, straight across.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub across: Option<Size>,
}

/// One cut along a strip, through two marks: so far along the lower edge and so far along the upper edge from where
/// the last cut meets them. With a `ruler` it is made at that angle, and the two say where it comes to lie.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cut {
    /// Along the lower edge.
    pub lower: Size,
    /// Along the upper edge.
    pub upper: Size,
    /// Made along a ruler's line at an angle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ruler: Option<RulerCut>,
    /// What comes off.
    pub gives: Gives,
}

/// Cuts done in turn, so many times over.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutRun {
    /// How many times.
    pub times: u32,
    /// In this order.
    pub cuts: Vec<Cut>,
}

/// A strip: a band across the usable width (or, in `rest`, across what is left of a strip, beginning square where
/// its last cut reached furthest).
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Strip {
    /// Along the cloth's length.
    pub height: Size,
    /// How many such strips.
    pub times: u32,
    /// The cuts along it, from the squared end.
    pub runs: Vec<CutRun>,
    /// Narrower strips cut from what is left, one above the other from the lower edge up.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rest: Vec<Strip>,
    /// The strip is kept whole, for what comes after the top; then it has neither cuts nor rest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub purpose: Option<Purpose>,
}

/// How cloth is sold that comes cut to a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CutForm {
    /// Half a yard (or metre) along the selvedge, half the cloth's width across.
    FatQuarter,
    /// A quarter along the selvedge, half the width across.
    FatEighth,
    /// Strips across the width.
    Strips,
    /// Squares.
    Squares,
}

impl CutForm {
    /// One of them, as the shop calls it.
    pub fn one(self) -> &'static str {
        match self {
            CutForm::FatQuarter => "fat quarter",
            CutForm::FatEighth => "fat eighth",
            CutForm::Strips => "strip as sold",
            CutForm::Squares => "square as sold",
        }
    }

    /// Several of them.
    pub fn several(self) -> &'static str {
        match self {
            CutForm::FatQuarter => "fat quarters",
            CutForm::FatEighth => "fat eighths",
            CutForm::Strips => "strips as sold",
            CutForm::Squares => "squares as sold",
        }
    }
}

/// Pieces of cloth of one size that are cut alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Alike {
    /// How many of them.
    pub count: u32,
    /// What there is of each along the selvedge, after the wash and before it is squared up.
    pub length: Size,
}

/// All cutting from one cloth off the bolt; or from the pieces of a cloth sold cut that are cut alike, of which there may be several
/// lots, each a plan of its own.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClothPlan {
    /// The cloth.
    pub fabric: FabricId,
    /// Width between the selvedges that the strips use.
    pub usable: Size,
    /// Lost to the first straight cut.
    pub square_up: Size,
    /// The cloth is sold cut: so many pieces of it, each of which is squared up and cut into all of `strips`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub alike: Option<Alike>,
    /// The strips in order along the cloth.
    pub strips: Vec<Strip>,
}

impl ClothPlan {
    /// How often all of this is cut: once off the bolt, else in each of the pieces.
    pub fn times(&self) -> u32 {
        self.alike.map_or(1, |alike| alike.count)
    }
}

/// One corner of a template, in the printed page's frame: printed matter has coordinates, finer than any ruler's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TemplateCorner {
    /// From the left of the template's box.
    pub right: Printed,
    /// From its lower edge.
    pub up: Printed,
}

/// A printed shape to cut round, allowance included; cloth right side up, counter-clockwise.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Template {
    /// Its name.
    pub name: String,
    /// The cut outline: where two edges meet.
    pub corners: Vec<TemplateCorner>,
    /// The edges that are not straight from corner to corner, each once.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bows: Vec<Bow>,
    /// Dots printed on it, which come with every piece cut by it: at the ends of its bowed edges' stitch lines and along them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<TemplateCorner>,
    /// For a piece that is laid on a ground: what else is printed. Such an outline need not be convex.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub applique: Option<TemplateLine>,
}

/// A bowed edge of a template: a fine chain of straights that is one edge by one number.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bow {
    /// The edge, from corner `edge` to the next.
    pub edge: u32,
    /// The places between them that it goes through, in order; one at least.
    pub through: Vec<TemplateCorner>,
}

impl Template {
    /// All places of the cut outline in order, those that bowed edges go through as well, each with the edge that begins or goes on
    /// there.
    pub fn outline(&self) -> Vec<(TemplateCorner, u32)> {
        let mut all = Vec::new();
        for (edge, &corner) in (0u32..).zip(&self.corners) {
            all.push((corner, edge));
            let through = self
                .bows
                .iter()
                .filter(|bow| bow.edge == edge)
                .flat_map(|bow| &bow.through);
            all.extend(through.map(|&place| (place, edge)));
        }
        all
    }
}

/// The finished outline on the template of a piece that is laid on a ground.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TemplateLine {
    /// In the frame of the cut outline.
    pub line: Vec<TemplateCorner>,
    /// The print is laid on the wrong side of the cloth: the piece, right side up, is its mirror image. Corners keep
    /// their order, so as printed both outlines then run clockwise.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub from_back: bool,
}

/// A printed sheet that shows where pieces lie on a ground.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Guide {
    /// Its name.
    pub name: String,
    /// The ground's finished outline, counter-clockwise.
    pub outline: Vec<TemplateCorner>,
    /// The shapes, from below up: they are stitched down in this order.
    pub shapes: Vec<GuideShape>,
}

/// One shape of a guide.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GuideShape {
    /// Its finished outline, counter-clockwise; where it is sewn into a seam it reaches out to the raw edge.
    pub line: Vec<TemplateCorner>,
    /// Stretches left unturned because a shape above covers them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub under: Vec<Stretch>,
    /// Stretches level with the ground's raw edge, to be sewn into the seam.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub level: Vec<Stretch>,
}

/// A stretch of an outline: from one of its corners on round to another, both counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stretch {
    /// The corner where it begins.
    pub from: u32,
    /// The corner where it ends.
    pub to: u32,
}

/// The whole cutting.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutPlan {
    /// Cloth by cloth.
    pub cloths: Vec<ClothPlan>,
    /// Printed shapes used.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub templates: Vec<Template>,
    /// Cards for mosaics.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cards: Vec<Card>,
    /// Printed sheets that show where pieces lie on a ground.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub guides: Vec<Guide>,
    /// Printed foundations to sew on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub papers: Vec<Paper>,
}

/// Pieces of cloth as bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoughtPieces {
    /// What they are called.
    pub form: CutForm,
    /// How many.
    pub count: u32,
    /// No plan of any kind can do with fewer.
    pub least: u32,
    /// How long each is along the selvedge, as sold.
    pub each: Size,
}

/// One cloth as bought.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoughtCloth {
    /// The cloth.
    pub fabric: FabricId,
    /// Length along the selvedge; of pieces, that of all of them together.
    pub length: Size,
    /// Usable width.
    pub usable: Size,
    /// No plan of any kind can do with less than this (before the shop's step, and before it is made up of whole pieces).
    pub bound: Size,
    /// The cloth is sold cut to a size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pieces: Option<BoughtPieces>,
}

/// The shopping list.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bought {
    /// Cloth by cloth.
    pub cloths: Vec<BoughtCloth>,
}
