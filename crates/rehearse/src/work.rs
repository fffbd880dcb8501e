//! Works and stacks as they lie on the table. Nothing is copied while a unit is made: a part refers to its class, keeps
//! only what the making changed of it, and moves by a link to the frame it was sewn into.

use crate::curve::Pinned;
use crate::piece::Cloth;
use crate::scene::Segment;
use crate::section::{OverLine, Section};
use crate::words::TOLERANCE;
use recipe::{MarkName, Slot};
use shape::{Line, Motion, Point};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// A piece within a class.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    pub(crate) cloth: Rc<Cloth>,
    /// Carries the piece's own frame into the class's.
    pub(crate) motion: Motion,
    /// Pieces with the same number (not 0) are joined into one face.
    pub(crate) face: u32,
}

/// What a part is taken from: a kind of piece or a kind of unit, with all its pieces in one frame.
#[derive(Clone, Debug, Default)]
pub(crate) struct Class {
    /// The owner number of its edges' names.
    pub(crate) owner: u32,
    pub(crate) pieces: Vec<Placed>,
    /// For each side the pieces that have an edge on it, in order.
    pub(crate) sides: Vec<Vec<u32>>,
    /// For each side all pieces that reach within the seam allowance of it.
    pub(crate) near: Vec<Vec<u32>>,
    /// Seams that later makings may name.
    pub(crate) seams: Vec<Segment>,
    /// Places where a seam stopped in a dot: there another seam may turn.
    pub(crate) stops: Vec<Point>,
    /// How many cards are in its cloth.
    pub(crate) cards: u32,
    /// All seams inside, for pictures.
    pub(crate) inner: Vec<Segment>,
    /// A circle round everything.
    pub(crate) middle: Point,
    pub(crate) radius: f64,
}

/// A part on the table (or, after a cut apart, what is left of it on one side).
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub(crate) slot: Slot,
    pub(crate) class: Rc<Class>,
    /// Its link to the frame it lies in.
    pub(crate) node: usize,
    /// Pieces this making changed; `None` for those of which nothing is left.
    pub(crate) changed: BTreeMap<u32, Option<Rc<Cloth>>>,
    /// Parts sewn to it.
    pub(crate) beside: Vec<usize>,
    /// The part that it was cut from.
    pub(crate) cut_from: Option<usize>,
}

impl Part {
    pub(crate) fn cloth(&self, piece: u32) -> Option<&Rc<Cloth>> {
        match self.changed.get(&piece) {
            Some(changed) => changed.as_ref(),
            None => self.class.pieces.get(piece as usize).map(|p| &p.cloth),
        }
    }
}

/// One piece of one part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct PieceAt {
    pub(crate) part: usize,
    pub(crate) piece: u32,
}

/// A frame: linked to the frame it was sewn into, or a frame of the table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Node {
    pub(crate) parent: usize,
    pub(crate) motion: Motion,
}

/// What a step looks at: a work, or a stack of two.
#[derive(Clone, Copy, Debug)]
pub(crate) struct View {
    pub(crate) lower: usize,
    pub(crate) upper: Option<(usize, Motion)>,
}

/// A piece's stretch of a stitch line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stretch {
    pub(crate) at: PieceAt,
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// How far the piece reaches beyond the stitch line.
    pub(crate) beyond: f64,
    pub(crate) in_run: bool,
}

/// One layer of a laid pair of edges, measured along the run of the lower layer.
#[derive(Clone, Debug)]
pub(crate) struct LaidLayer {
    /// Pieces that the stitch line crosses, in order along it.
    pub(crate) crossed: Vec<Stretch>,
    /// Pieces of which something lies beyond the stitch line and nothing on it: where along it they lie, and how far.
    pub(crate) outside: Vec<Stretch>,
    /// Where the stitch line ends in this layer, at the first and the last end; `None` where no edge or dot says so.
    pub(crate) ends: [Option<f64>; 2],
    /// Where the finished corners are: between them the stitches may go through no piece but the run's.
    pub(crate) corners: [Option<f64>; 2],
}

impl LaidLayer {
    /// From where to where the run's own pieces lie on the stitch line.
    fn own(&self) -> Option<(f64, f64)> {
        let own = self.crossed.iter().filter(|s| s.in_run);
        own.map(|s| (s.from, s.to))
            .reduce(|(low, high), (from, to)| (low.min(from), high.max(to)))
    }

    /// How far the cloth goes on along the stitch line to both sides of the run's own pieces, without a gap.
    pub(crate) fn cloth(&self) -> Option<(f64, f64)> {
        let (mut low, mut high) = self.own()?;
        // In order from the left, so once rightward; leftward until nothing is added.
        for s in &self.crossed {
            if s.from <= high + TOLERANCE {
                high = high.max(s.to);
            }
        }
        while let Some(further) = (self.crossed.iter())
            .filter(|s| s.from < low && s.to >= low - TOLERANCE)
            .map(|s| s.from)
            .reduce(f64::min)
        {
            low = further;
        }
        Some((low, high))
    }

    /// The finished corners, rising along the line, of a path with those ends: where they are known, else a seam inside an end, but
    /// not outside the run's own pieces.
    pub(crate) fn finished(&self, known: [Option<f64>; 2], path: (f64, f64), seam: f64) -> (f64, f64) {
        let (low, high) = self.own().unwrap_or((f64::INFINITY, f64::NEG_INFINITY));
        (
            known[0].unwrap_or((path.0 + seam).max(low)),
            known[1].unwrap_or((path.1 - seam).min(high)),
        )
    }
}

/// Two runs laid on one another.
#[derive(Clone, Debug)]
pub(crate) struct Laid {
    /// The line of the lower run, in the stack's frame.
    pub(crate) line: Line,
    pub(crate) layers: [LaidLayer; 2],
    /// What is said of each end, as far as it bears on where the stitches may stop.
    pub(crate) ends: [EndOf; 2],
    /// For each layer the outermost ends of its run, along the lower run's line.
    pub(crate) reach: [(f64, f64); 2],
    /// How often the stack was turned before these edges came together.
    pub(crate) number: usize,
    /// Where joints met, along the lower run's line.
    pub(crate) meets: Vec<f64>,
}

/// How an end of two laid edges bears on where the stitches may stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum EndOf {
    /// Dot on dot: of the lower and the upper layer.
    Dots(MarkName, MarkName),
    /// Nothing is said of it: the stitches stop before it.
    Open,
    /// Anything else: the stitches run through.
    Through,
}

/// How a path beside laid edges was sewn.
#[derive(Clone, Debug)]
pub(crate) struct Leg {
    /// How often the stack was turned before it was sewn.
    pub(crate) number: usize,
    /// Carries the upper work's frame into the lower's as it lay then.
    pub(crate) lay: Motion,
    /// The lower run's line and the upper's, each in its own work's frame, cloth on the left.
    pub(crate) runs: [Line; 2],
    /// The dots in which the stitches stop, at the first and the last end.
    pub(crate) dots: [Option<(MarkName, MarkName)>; 2],
    /// The end that is left to be closed later: 0 the first, 1 the last.
    pub(crate) begun: Option<usize>,
}

/// A seam begun and not yet closed.
#[derive(Clone, Debug)]
pub(crate) struct Begun {
    /// The slot that its opening made.
    pub(crate) of: Slot,
    /// The frame in which it was opened.
    pub(crate) node: usize,
    /// The path, what was the lower layer on its left.
    pub(crate) line: Line,
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// The end still to be sewn: 0 the first, 1 the last.
    pub(crate) end: usize,
    pub(crate) join: bool,
    /// The parts of what was the upper layer, which hangs loose.
    pub(crate) flap: BTreeSet<usize>,
    /// Pieces half folded, each with the number of its loose half.
    pub(crate) halves: Vec<(PieceAt, PieceAt)>,
}

/// A stitch path, not yet opened.
#[derive(Clone, Debug)]
pub(crate) struct Stitch {
    /// Directed so that the body lies on its left once that is known.
    pub(crate) line: Line,
    pub(crate) from: f64,
    pub(crate) to: f64,
    /// The body side is known.
    pub(crate) body_known: bool,
    /// Sewn beside laid edges: the pieces that lose cloth, by layer. Else the whole stack.
    pub(crate) loses: Option<[Vec<PieceAt>; 2]>,
    pub(crate) join: bool,
    /// How it lay, if it was sewn beside laid edges.
    pub(crate) leg: Option<Leg>,
    /// If it was sewn along pinned curves (the line is then that through the first and the last pin).
    pub(crate) sheared: Option<Rc<Sheared>>,
}

/// What a seam along curves was found to do.
#[derive(Clone, Debug)]
pub(crate) struct Sheared {
    /// Raw edge to stitch.
    pub(crate) inside: f64,
    /// For each layer the pieces beyond the pins that lose cloth too, each with the line beyond which.
    pub(crate) tips: [Vec<(PieceAt, Line)>; 2],
    /// From where to where the lower layer's pieces lie along its chain.
    pub(crate) reach: (f64, f64),
}

impl Begun {
    pub(crate) fn segment(&self) -> Segment {
        Segment {
            from: self.line.at(self.from),
            to: self.line.at(self.to),
        }
    }
}

impl Stitch {
    /// On or beside a drawn line; which side is the body is not said yet.
    pub(crate) fn on_mark(line: Line, from: f64, to: f64) -> Self {
        Stitch {
            line,
            from,
            to,
            body_known: false,
            loses: None,
            join: false,
            leg: None,
            sheared: None,
        }
    }

    pub(crate) fn segment(&self) -> Segment {
        Segment {
            from: self.line.at(self.from),
            to: self.line.at(self.to),
        }
    }
}

/// Two works, right sides together.
#[derive(Clone, Debug)]
pub(crate) struct Stack {
    pub(crate) lower: usize,
    pub(crate) upper: usize,
    /// Carries the upper work's frame into the lower's, turned over.
    pub(crate) lay: Motion,
    pub(crate) laid: Option<Laid>,
    /// The dots of the lower layer, in its frame, where the two were laid dot on dot.
    pub(crate) dots: Option<[Point; 2]>,
    /// Pinned along curves.
    pub(crate) pinned: Option<Rc<Pinned>>,
    pub(crate) stitches: Vec<Stitch>,
    /// The upper work lies over a printed line of foundation paper.
    pub(crate) paper: Option<OverLine>,
}

/// What a slot holds now.
#[derive(Clone, Debug)]
pub(crate) enum Thing {
    Work(usize),
    Stack(Box<Stack>),
    /// Foundation paper with what is sewn to it so far, in this frame.
    Section(usize, Section),
    /// Sewn into, cut into or opened into something else.
    Spent,
}

/// What was born in a slot.
#[derive(Clone, Debug)]
pub(crate) enum Birth {
    /// A part; more than one piece of it after a cut apart.
    Part(Vec<usize>),
    /// A trim, or what a cut left, with its owner number and for each line the pieces on it and those near it.
    Trim(u32, Vec<TrimEdge>),
    /// A stack just laid or an opened work: no edges of its own.
    Other,
}

/// The edge a trim or a cut made.
#[derive(Clone, Debug, Default)]
pub(crate) struct TrimEdge {
    pub(crate) on: Vec<PieceAt>,
    pub(crate) near: Vec<PieceAt>,
}

/// A drawn mark in a node's frame.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Drawn {
    Line(Line),
    Dot(Point),
}

/// What lies beyond an end of a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Beyond {
    /// Cloth that is sewn through to the raw edge, or looked at all the same.
    Sewn,
    /// The stitches stop in a dot: cloth from round the corner hangs free.
    Dot,
    /// The seam is begun only, and goes on later along the same edges.
    Begun,
}
