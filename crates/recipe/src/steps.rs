//! The steps, and the making of one kind of unit.

use crate::{
    AlongLine, CardsOut, CornerRef, EdgeRef, EdgeRun, Inside, MarkName, PointRef, Ruler, SeamRef, Size, Slot, Whipped,
};
use serde::{Deserialize, Serialize};
use terms::{PieceId, UnitId};

/// How one end of two laid edges is placed or checked.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum End {
    /// The raw ends are even: the crossings of the laid edges with these end edges lie on one another.
    Even {
        /// End edge of the lower layer.
        a: EdgeRef,
        /// End edge of the upper layer.
        b: EdgeRef,
    },
    /// The two end edges cross on the stitch line.
    Notch {
        /// End edge of the lower layer.
        a: EdgeRef,
        /// End edge of the upper layer.
        b: EdgeRef,
        /// How far one raw corner runs ahead of the other, as printed; checked within half a mark.
        about: Size,
    },
    /// A dot of the lower layer on a dot of the upper one.
    Dots {
        /// Dot of the lower layer.
        a: MarkName,
        /// Dot of the upper layer.
        b: MarkName,
    },
    /// Middle of the laid edges on middle.
    Centre,
    /// A joint of the lower run on a joint of the upper run (counted as in [`Meet`]).
    Match(Meet),
    /// The upper layer's corner runs ahead of the lower one's by exactly so much.
    Overhang {
        /// End edge of the lower layer.
        a: EdgeRef,
        /// End edge of the upper layer.
        b: EdgeRef,
        /// How far.
        by: Size,
    },
    /// Nothing is said: the seam stops before this end, which is closed later.
    Open,
}

/// Two joints that must meet: places along a run where one piece ends and the next begins, on the stitch line; or, along
/// curves, two printed marks. Counted from 0 in the run's own order, so that a maker can count them along the edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Meet {
    /// On the lower layer's run.
    pub a: u32,
    /// On the upper layer's run.
    pub b: u32,
}

/// How one thing is laid on another, right sides together.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Lay {
    /// Raw edge on raw edge.
    Edges {
        /// Of the lower layer, in its own order.
        a: EdgeRun,
        /// Of the upper layer, in its own order (so it runs against `a`).
        b: EdgeRun,
        /// At the start of `a` and the end of `b`: places the upper layer.
        first: End,
        /// At the end of `a` and the start of `b`: is checked.
        last: End,
        /// Joints that must meet.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        meets: Vec<Meet>,
    },
    /// Curve on curve, right sides together: pinned at printed marks and eased between them.
    Curve {
        /// The bowed edges of the lower layer, in their own order.
        a: EdgeRun,
        /// Of the upper layer, in their own order (so they run against `a`).
        b: EdgeRun,
        /// Marks that meet, along `a`; the first and the last are the finished ends of the seam.
        pins: Vec<Meet>,
    },
    /// Corner on corner, both edges even.
    Corner {
        /// Of the lower layer.
        a: CornerRef,
        /// Of the upper layer.
        b: CornerRef,
    },
    /// Dot on dot, two and two: each layer lies across the other as its dots say, no edges even.
    TwoDots {
        /// Of the lower layer.
        a: [MarkName; 2],
        /// Of the upper layer, each on its fellow.
        b: [MarkName; 2],
    },
    /// Over a printed line of foundation paper, the next to be sewn.
    OverPaper {
        /// Its number, from 0.
        line: u32,
        /// Where along it.
        along: AlongLine,
    },
}

/// Where the stitches of a seam stop at one end.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Stop {
    /// At the raw edge.
    Raw,
    /// At the dot, a seam's width in: the cloth beyond it stays free for another seam.
    Dot,
    /// So far from the seam's other end; the rest is closed later.
    At(Size),
}

/// Where the stitches run.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Path {
    /// So far inside the laid edges.
    Beside {
        /// Raw edge to stitch.
        by: Size,
        /// At the start of the lower run.
        from: Stop,
        /// At its end.
        to: Stop,
    },
    /// On a drawn line of either layer.
    OnMark(MarkName),
    /// So far beside a drawn line, on both sides of it.
    BothSides {
        /// The line.
        mark: MarkName,
        /// How far from it.
        by: Size,
    },
    /// All round beside these edges of the lower layer, turning at each corner.
    Round {
        /// The edges in order, once round.
        edges: Vec<EdgeRef>,
        /// Raw edge to stitch.
        by: Size,
    },
    /// On the printed line it was laid over.
    OnPaper {
        /// How far the stitches go on beyond both its ends.
        beyond: Size,
    },
}

/// Which way a seam is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Press {
    /// Allowances toward the lower layer.
    TowardLower,
    /// Allowances toward the upper layer.
    TowardUpper,
    /// Apart.
    Open,
    /// Spun round the places where joints meet: toward the lower layer from the path's start to the first of them, from
    /// there to the next toward the upper, and so by turns.
    SpunLower,
    /// The same, toward the upper layer first.
    SpunUpper,
}

impl Press {
    /// Whether the allowances change sides where joints meet.
    pub fn is_spun(self) -> bool {
        matches!(self, Press::SpunLower | Press::SpunUpper)
    }

    /// The other way round; what lies apart stays.
    pub fn turned(self) -> Press {
        match self {
            Press::TowardLower => Press::TowardUpper,
            Press::TowardUpper => Press::TowardLower,
            Press::SpunLower => Press::SpunUpper,
            Press::SpunUpper => Press::SpunLower,
            Press::Open => Press::Open,
        }
    }
}

/// One side of a cut that is kept.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Keep {
    /// A corner on that side.
    pub corner: CornerRef,
    /// The slot it becomes.
    pub into: Slot,
}

/// One line of a trim.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrimLine {
    /// The ruler's place.
    pub ruler: Ruler,
    /// The raw edges that lie in what comes off.
    pub off: EdgeRun,
    /// How far inside those edges the cut runs: what comes off, as printed.
    pub shave: Size,
}

/// What a check measures.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Measured {
    /// From one raw side straight across to the opposite, parallel one.
    Across(EdgeRun, EdgeRun),
    /// From place to place.
    Between(PointRef, PointRef),
}

/// One action of the hands.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Step {
    /// Draw a line on the wrong side.
    Mark {
        /// On what.
        on: Slot,
        /// Its name.
        name: MarkName,
        /// Along this.
        line: Ruler,
    },
    /// Dot a place on the wrong side.
    Dot {
        /// On what.
        on: Slot,
        /// Its name.
        name: MarkName,
        /// Where.
        at: PointRef,
    },
    /// Lay `b` on `a`, right sides together.
    Lay {
        /// The lower layer, right side up.
        a: Slot,
        /// The upper layer, right side down.
        b: Slot,
        /// How.
        how: Lay,
        /// The stack's slot.
        into: Slot,
    },
    /// Sew the layers of a stack together.
    Sew {
        /// The stack.
        stack: Slot,
        /// Where.
        path: Path,
        /// The two edges are one patch's cloth joined to make it long enough: its faces count as one.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        join: bool,
    },
    /// Cut a stack through all its layers.
    CutApart {
        /// The stack.
        stack: Slot,
        /// Along this.
        line: Ruler,
        /// What is kept.
        keep: Vec<Keep>,
        /// A corner of what is thrown away, when only one side is kept.
        offcut: Vec<CornerRef>,
    },
    /// Fold the upper layer over on the seam and press.
    Open {
        /// The stack.
        stack: Slot,
        /// Which way.
        press: Press,
        /// The opened work's slot.
        into: Slot,
    },
    /// With the needle down in the dot where the last seam of a stack stopped, turn the upper layer so that the next
    /// edges lie together.
    Pivot {
        /// The stack.
        stack: Slot,
        /// Of the lower layer, in its own order.
        a: EdgeRun,
        /// Of the upper layer, in its own order.
        b: EdgeRun,
        /// At the start of `a` and the end of `b`.
        first: End,
        /// At the end of `a` and the start of `b`.
        last: End,
        /// Joints that must meet.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        meets: Vec<Meet>,
    },
    /// Close a seam that was begun: lay what is left of its edges together and sew on to the end.
    Close {
        /// The work.
        work: Slot,
        /// The seam begun.
        seam: SeamRef,
        /// What is left of the lower layer's edge, and what has been sewn to it since, in its own order.
        a: EdgeRun,
        /// The same of the upper layer, in its own order.
        b: EdgeRun,
        /// At the far end, where the seam now ends.
        end: End,
        /// Joints that must meet, counted along these runs.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        meets: Vec<Meet>,
        /// Which way the whole seam is pressed.
        press: Press,
        /// The work's slot from now on.
        into: Slot,
    },
    /// Cut a sewn strip set into lengths.
    SubCut {
        /// The strip set.
        of: Slot,
        /// The first cut, which squares (or slants) its end.
        first: Ruler,
        /// A corner of the side that is cut into lengths.
        toward: CornerRef,
        /// From each cut to the next, straight across.
        width: Size,
        /// The lengths in order; what is left over is thrown away.
        into: Vec<Slot>,
    },
    /// Lay a work aside: it belongs to nothing here, and is left over for another quilt.
    SetAside {
        /// The work.
        of: Slot,
        /// What it is, in a maker's words.
        label: String,
        /// What to measure.
        what: Measured,
        /// What it measures.
        is: Size,
    },
    /// Cut dog ears off level with these raw edges; the edges keep their names.
    Snip {
        /// The work.
        of: Slot,
        /// The edges.
        along: Vec<EdgeRef>,
    },
    /// Trim with the ruler; each line gives the work a new edge.
    Trim {
        /// The work.
        of: Slot,
        /// The cuts in order.
        lines: Vec<TrimLine>,
        /// The trimmed work's slot.
        into: Slot,
    },
    /// Measure.
    Check {
        /// The work.
        of: Slot,
        /// What.
        what: Measured,
        /// What it must be.
        is: Size,
    },
    /// Lay a card on the wrong side of a cut piece, and baste the cloth over the card's sides, those left flat excepted.
    Baste {
        /// The piece, as cut.
        piece: Slot,
        /// The card's name.
        card: String,
        /// The card is turned so that this side of it …
        side: u32,
        /// … runs as this edge of the piece.
        along: EdgeRef,
        /// Sides that lie so far inside edges, two at most; where nothing is said, the card lies in the middle of the cloth.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        inside: Vec<Inside>,
        /// For each side of the card that is left flat, in its order, the raw edge that stays there.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        flat: Vec<EdgeRef>,
        /// At least so much cloth reaches past every side that is folded over.
        least: Size,
        /// At most so much.
        most: Size,
        /// The basted patch. Its edges are the card's sides.
        into: Slot,
    },
    /// Right sides together, whip folded edges over and over from corner to corner, edge after edge, and lay the work flat.
    Whip {
        /// The work in hand, whose frame stays.
        a: Slot,
        /// What is whipped to it.
        b: Slot,
        /// The edges in order along `a`; the first places `b`.
        edges: Vec<Whipped>,
        /// The work from now on.
        into: Slot,
    },
    /// Take out every card whose folded sides are all whipped.
    TakeOut {
        /// The work.
        of: Slot,
        /// How many come out of each.
        cards: Vec<CardsOut>,
    },
    /// Lay a printed sheet on a ground, right side up, to show where pieces go.
    Guide {
        /// The ground.
        on: Slot,
        /// The sheet's name.
        guide: String,
        /// For each edge of the sheet's outline the ground's raw edges outside it.
        sides: Vec<EdgeRun>,
    },
    /// Lay a piece on a ground, both right side up, its line on a shape's line of the sheet, and stitch it down.
    StitchDown {
        /// The piece.
        piece: Slot,
        /// The ground.
        on: Slot,
        /// The sheet that lies on it.
        guide: String,
        /// Which shape of the sheet, from 0.
        shape: u32,
        /// What becomes of the piece's edge.
        edge: ShapeEdge,
    },
    /// Put the first piece on a bare foundation paper, right side up.
    Spread {
        /// The paper.
        on: Slot,
        /// The piece.
        piece: Slot,
        /// Where along the first sewing line, on the side of the first area.
        along: AlongLine,
        /// The section's slot.
        into: Slot,
    },
    /// Fold the paper back on the next sewing line and trim the cloth beyond it.
    Pare {
        /// The section.
        of: Slot,
        /// The line's number, from 0.
        line: u32,
        /// How much is left beyond the line.
        past: Size,
    },
    /// Cut a section out along its printed cutting line, which gives it its raw edges: side `i` of the line is edge `i`.
    CutOut {
        /// The section.
        of: Slot,
        /// The work's slot.
        into: Slot,
    },
    /// The top is done.
    Finish {
        /// The top.
        top: Slot,
        /// Its sides in order round, cloth on the left.
        sides: Vec<EdgeRun>,
        /// Which of them is the quilt's upper side.
        up: u32,
        /// What lies beyond the finished outline all round.
        seam: Size,
    },
}

/// What becomes of the edge of a piece that is laid on a ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum ShapeEdge {
    /// Turned under along its line.
    Turned {
        /// How much cloth is turned under.
        by: Size,
    },
    /// Left raw: fused, then stitched over.
    Raw,
}

/// What a part is taken from.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Take {
    /// A cut piece.
    Piece(PieceId),
    /// A unit made before.
    Unit(UnitId),
    /// A printed copy of a foundation paper.
    Paper(String),
}

/// One thing taken from the pool.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Its slot.
    pub slot: Slot,
    /// What.
    pub take: Take,
}

/// One unit that a making gives to the pool.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Give {
    /// The finished work.
    pub slot: Slot,
    /// Its sides in order round, cloth on the left; their numbers are how later makings name them.
    pub sides: Vec<EdgeRun>,
    /// Its seams that later makings may name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub seams: Vec<SeamRef>,
}

/// The making of one kind of unit.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Make {
    /// The kind.
    pub unit: UnitId,
    /// Its name in a maker's words.
    pub label: String,
    /// How often the steps are done.
    pub times: u32,
    /// What is taken from the pool each time.
    pub parts: Vec<Part>,
    /// What is done.
    pub steps: Vec<Step>,
    /// The units that come of it each time, all alike; none for the making that ends in `finish`.
    pub gives: Vec<Give>,
    /// How many of these units are left over at the end.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub spare: u32,
}

fn is_zero(n: &u32) -> bool {
    *n == 0
}
