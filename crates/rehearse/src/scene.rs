//! Scenes: what lies on the table after each step of a making, for pictures and for playing it back.

use recipe::{EdgeRef, MarkName, Slot};
use shape::{Line, Motion, Point, Polygon};
use std::sync::Arc;
use terms::{FabricId, PieceId, UnitId};

/// The making of one unit, step by step.
#[derive(Clone, Debug, PartialEq)]
pub struct UnitScenes {
    /// The unit.
    pub unit: UnitId,
    /// The parts as taken from the pool, each in its own frame.
    pub parts: Vec<WorkView>,
    /// After each step of the making, in order: what that step touched.
    pub after: Vec<WorkView>,
}

/// One work or stack in its frame, y up, inches.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WorkView {
    /// Its slot.
    pub slot: Slot,
    /// Layers from below: the first right side up; in a stack the second right side down.
    pub layers: Vec<LayerView>,
    /// Stitch paths not yet opened, from end to end.
    pub stitches: Vec<Segment>,
    /// In a stack laid by its edges, where joints of both layers meet on the seam's line.
    pub meets: Vec<Point>,
    /// Seams already pressed that lie within the work, from end to end.
    pub seams: Vec<Segment>,
    /// Drawn lines and dots.
    pub marks: Vec<MarkView>,
    /// The foundation paper under it.
    pub paper: Option<PaperView>,
    /// Where this step cut or trimmed, from end to end.
    pub cuts: Vec<Segment>,
    /// What came off in this step.
    pub waste: Vec<Polygon>,
    /// Pieces stitched down on those of the layers, from below up: their finished outlines, though a seam may have taken
    /// some of them since.
    pub laid: Vec<LaidView>,
    /// The shapes of the printed sheets that lie on it, in order; of a cut piece to be laid on a ground its own line.
    pub sheet: Vec<Polygon>,
}

/// A piece stitched down on a ground.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidView {
    /// Its kind.
    pub piece: PieceId,
    /// Its cloth.
    pub fabric: FabricId,
    /// Its finished outline.
    pub outline: Polygon,
    /// Whether it lies right side down, its ground being turned over.
    pub turned_over: bool,
}

/// A foundation paper under a section, in the section's frame: printed side down.
#[derive(Clone, Debug, PartialEq)]
pub struct PaperView {
    /// Its name.
    pub name: String,
    /// The cutting outline.
    pub cutting: Polygon,
    /// The finished areas in order.
    pub areas: Vec<Polygon>,
    /// The sewing lines in order.
    pub lines: Vec<Segment>,
    /// How many areas have their piece.
    pub pieces: usize,
}

/// One layer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LayerView {
    /// Whether it lies right side down.
    pub turned_over: bool,
    /// Its pieces. One that lies as it lay in an earlier view is the same one, not a copy: a work of a thousand pieces that
    /// grows by one at each step would else be a million.
    pub pieces: Vec<Arc<PieceView>>,
}

/// One piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceView {
    /// The slot its part was taken into.
    pub of: Slot,
    /// Its part, counted on the table.
    pub part: u32,
    /// The part that its part was cut from: of a part that is cut apart each side is a part of its own from then on.
    pub cut_from: Option<u32>,
    /// Its number within the part; the same on each side of a cut.
    pub number: u32,
    /// Carries the piece's own frame, which never changes, into the view's: between two views the piece moves by the
    /// inverse of the one and then the other.
    pub lies: Motion,
    /// Its kind.
    pub piece: PieceId,
    /// Its cloth.
    pub fabric: FabricId,
    /// What shows of it, raw edges included.
    pub outline: Polygon,
    /// The part it came with, and its named edges (segment by segment) as they lie now.
    pub edges: Vec<(EdgeRef, Segment)>,
    /// Direction of the cloth's length as it lies now.
    pub up: shape::Vector,
}

/// A straight piece of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// From.
    pub from: Point,
    /// To.
    pub to: Point,
}

/// A drawn mark.
#[derive(Clone, Debug, PartialEq)]
pub enum MarkView {
    /// A line, as far as there is cloth.
    Line(MarkName, Line, Segment),
    /// A dot.
    Dot(MarkName, Point),
}
