//! The recipe: a typed list of what human hands do, and the cutting plan that goes with it.
//!
//! No type here holds coordinates, but for what is printed: templates, cards, guides, foundation papers. Everything is said as a maker can do it.
//! The meaning of every step is laid down in `docs/recipe.md`; the virtual table (crate `rehearse`) and the second judge
//! (`tests/outside/replay.py`) both follow that page. No planning happens here.

mod band;
mod cards;
mod cutplan;
mod demand;
mod erase;
mod paper;
mod pattern;
mod refs;
mod schema;
mod size;
mod steps;

pub use band::{Band, Purpose};
pub use cards::{Card, CardsOut, Inside, Whipped};
pub use cutplan::{
    Alike, Bought, BoughtCloth, BoughtPieces, Bow, ClothPlan, Cut, CutAngle, CutForm, CutPlan, CutRun, Dot, Gives,
    Guide, GuideShape, PieceCut, RulerCut, ShapingCut, Stretch, Strip, Template, TemplateCorner, TemplateLine, Turn,
};
pub use demand::{Demand, DemandShape};
pub use paper::{AlongLine, Paper, SewingLine};
pub use pattern::{FabricNote, Pattern, PieceNote, PrintNote, RECIPE_FORMAT, ROUND_ITS_MOTIF, Recipe};
pub use refs::{CornerRef, EdgeRef, EdgeRun, LineRef, MarkName, PointRef, Ruler, RulerAngle, SeamRef, Slot};
pub use schema::recipe_schema;
pub use size::{Size, WhyId};
pub use steps::{End, Give, Keep, Lay, Make, Measured, Meet, Part, Path, Press, ShapeEdge, Step, Stop, Take, TrimLine};
