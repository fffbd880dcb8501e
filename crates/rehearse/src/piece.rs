//! One piece of cloth: an outline (hollow only where a template's bowed edge made it so) each of whose edges knows where it
//! was born and which action made it, and what is stitched down on it.

use crate::words::TOLERANCE;
use shape::{Line, Motion, Point, Polygon, Vector};
use std::rc::Rc;

/// An action: the making and its step, both from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Action {
    pub(crate) make: u32,
    pub(crate) step: u32,
}

/// What an edge is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Name {
    /// Edge `edge` of whatever gave it this name: a kind of piece, a given unit, a trim. Each of these has a number of
    /// its own, so that names given long ago can stay on the cloth without ever being mistaken.
    Born { owner: u32, edge: u32 },
    /// Folded over a card, and named as by [`Name::Born`]: to be whipped to another.
    Over { owner: u32, edge: u32 },
    /// Folded along a seam.
    Fold,
    /// No edge of the cloth at all: where a piece folded only half its length along a begun seam is thought of as two.
    Hinge,
    /// A raw edge nobody names: where a dog ear was snipped or a stack cut apart.
    Loose,
}

impl Name {
    /// What an edge is named by, folded over a card or raw.
    pub(crate) fn born(self) -> Option<(u32, u32)> {
        match self {
            Name::Born { owner, edge } | Name::Over { owner, edge } => Some((owner, edge)),
            Name::Fold | Name::Hinge | Name::Loose => None,
        }
    }

    /// The same edge under another name.
    pub(crate) fn renamed(self, owner: u32, edge: u32) -> Name {
        match self {
            Name::Over { .. } => Name::Over { owner, edge },
            _ => Name::Born { owner, edge },
        }
    }

    /// Whether it is folded over a card and not yet whipped.
    pub(crate) fn is_over(self) -> bool {
        matches!(self, Name::Over { .. })
    }
}

/// One edge of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Edge {
    pub(crate) name: Name,
    /// The fold, trim or cut that made it; `None` for the edges the piece was cut with.
    pub(crate) made: Option<Action>,
    /// One of the straights of a bowed edge.
    pub(crate) bowed: bool,
}

impl Edge {
    /// A straight edge that an action made.
    pub(crate) fn fresh(name: Name, made: Option<Action>) -> Edge {
        let bowed = false;
        Edge { name, made, bowed }
    }
}

/// A piece of cloth in a frame of its own, right side up. Edge `i` runs from corner `i` to the next.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cloth {
    pub(crate) corners: Vec<Point>,
    pub(crate) edges: Vec<Edge>,
    /// Whether no corner points inward.
    pub(crate) convex: bool,
    /// Dots that the template it was cut by left on it.
    pub(crate) marks: Rc<[Point]>,
    /// Index of its kind among the recipe's pieces.
    pub(crate) kind: usize,
    /// Direction of the print's up.
    pub(crate) up: Vector,
    /// The making that took it from the pool.
    pub(crate) taken: Option<u32>,
    /// The card it was basted over, if it was.
    pub(crate) card: Option<Rc<OnCard>>,
    /// A circle round it.
    pub(crate) middle: Point,
    pub(crate) radius: f64,
    /// For a piece to be laid on a ground its finished outline; its cut outline need not be convex and no edge of it has
    /// a use.
    pub(crate) line: Option<Rc<Polygon>>,
    /// What is stitched down on it, from below up.
    pub(crate) laid: Vec<Rc<Laid>>,
}

/// A piece stitched down on another, in the frame of that one; the whole of it, though it may lie on several.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Laid {
    /// Given when it is stitched down, the later the larger.
    pub(crate) number: u32,
    /// Its finished outline.
    pub(crate) outline: Polygon,
    pub(crate) kind: usize,
    pub(crate) up: Vector,
    pub(crate) taken: Option<u32>,
}

/// A card under a piece, in the piece's frame.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OnCard {
    /// Its place among the cards of the cutting plan.
    pub(crate) card: usize,
    pub(crate) corners: Vec<Point>,
    pub(crate) flat: Vec<bool>,
    pub(crate) whipped: Vec<bool>,
    /// Not yet taken out.
    pub(crate) inside: bool,
}

impl OnCard {
    /// The side that an edge of the piece lies along or beside: of a convex outline no two run one way.
    pub(crate) fn side_of(&self, edge: Line) -> usize {
        let n = self.corners.len();
        let along =
            |i: usize| Line::between(self.corners[i], self.corners[(i + 1) % n]).map(|l| l.along.dot(edge.along));
        (0..n)
            .max_by(|&i, &j| along(i).unwrap_or(-1.0).total_cmp(&along(j).unwrap_or(-1.0)))
            .unwrap_or(0)
    }
}

/// What a cut leaves of a piece.
pub(crate) enum Left {
    /// All of it.
    Whole,
    /// Nothing.
    Nothing,
    /// Some of it.
    Part(Cloth),
}

/// A corner that points inward by no more than this is straight on.
const NOT_HOLLOW: f64 = 1.0e-6;

/// Corners nearer to a line than this lie on it.
pub(crate) const ON_LINE: f64 = 1.0e-9;

impl Cloth {
    pub(crate) fn new(outline: Vec<(Point, Edge)>, kind: usize, up: Vector) -> Self {
        let (corners, edges): (Vec<Point>, Vec<Edge>) = outline.into_iter().unzip();
        let (low, high) = Polygon::new(corners.clone()).bounds();
        let middle = low.toward(high, 0.5);
        let radius = corners.iter().map(|c| c.distance(middle)).fold(0.0, f64::max);
        let convex = Polygon::new(corners.clone()).is_convex(NOT_HOLLOW);
        Cloth {
            convex,
            marks: Rc::new([]),
            corners,
            edges,
            kind,
            up,
            taken: None,
            card: None,
            middle,
            radius,
            line: None,
            laid: Vec::new(),
        }
    }

    /// What lies to the left of `line`; the fresh edge is called `fresh`.
    pub(crate) fn keep_left(&self, line: Line, fresh: Edge) -> Left {
        let middle = line.offset_of(self.middle);
        if middle >= self.radius {
            return Left::Whole;
        }
        let offsets: Vec<f64> = self.corners.iter().map(|&c| line.offset_of(c)).collect();
        if offsets.iter().all(|&o| o >= -ON_LINE) {
            return Left::Whole;
        }
        if offsets.iter().all(|&o| o <= ON_LINE) {
            return Left::Nothing;
        }
        let n = self.corners.len();
        let mut kept = Vec::with_capacity(n + 2);
        for i in 0..n {
            let j = (i + 1) % n;
            let (a, b) = (offsets[i], offsets[j]);
            let crossing = || self.corners[i].toward(self.corners[j], a / (a - b));
            if a >= -ON_LINE {
                if b >= -ON_LINE {
                    kept.push((self.corners[i], self.edges[i]));
                } else if a <= ON_LINE {
                    kept.push((self.corners[i], fresh));
                } else {
                    kept.push((self.corners[i], self.edges[i]));
                    kept.push((crossing(), fresh));
                }
            } else if b > ON_LINE {
                kept.push((crossing(), self.edges[i]));
            }
        }
        if kept.len() < 3 {
            return Left::Nothing;
        }
        Left::Part(self.cut_to(kept))
    }

    /// What is left of it, with this outline.
    pub(crate) fn cut_to(&self, outline: Vec<(Point, Edge)>) -> Cloth {
        let mut cloth = Cloth::new(outline, self.kind, self.up);
        (cloth.taken, cloth.marks) = (self.taken, self.marks.clone());
        cloth.card.clone_from(&self.card);
        cloth.laid.clone_from(&self.laid);
        cloth
    }

    pub(crate) fn polygon(&self) -> Polygon {
        Polygon::new(self.corners.clone())
    }

    pub(crate) fn index_of_next(&self, i: usize) -> usize {
        (i + 1) % self.corners.len()
    }
}

/// The line `line` of the table as it lies on a piece that `motion` carries to the table, directed so that what was on
/// the left is on the left.
pub(crate) fn onto_piece(line: Line, motion: &Motion) -> Line {
    let back = motion.inverse().line(line);
    if motion.turns_over() { back.reversed() } else { back }
}

/// The stretch of a line that a convex outline covers, as reaches along the line.
pub(crate) fn stretch(corners: &[Point], line: Line) -> Option<(f64, f64)> {
    let mut found: Option<(f64, f64)> = None;
    let mut take = |reach: f64| {
        found = Some(match found {
            None => (reach, reach),
            Some((low, high)) => (low.min(reach), high.max(reach)),
        });
    };
    for (i, &a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let (da, db) = (line.offset_of(a), line.offset_of(b));
        if da.abs() <= ON_LINE {
            take(line.reach_of(a));
        } else if (da > 0.0) != (db > 0.0) && db.abs() > ON_LINE {
            take(line.reach_of(a.toward(b, da / (da - db))));
        }
    }
    found
}

/// The lowest and highest offset from a line, and the lowest and highest reach along it.
pub(crate) fn extent(corners: &[Point], line: Line) -> ((f64, f64), (f64, f64)) {
    let start = (f64::INFINITY, f64::NEG_INFINITY);
    corners.iter().fold((start, start), |(o, r), &c| {
        let (offset, reach) = (line.offset_of(c), line.reach_of(c));
        ((o.0.min(offset), o.1.max(offset)), (r.0.min(reach), r.1.max(reach)))
    })
}

/// Whether an outline is so thin that no face can be seen.
pub(crate) fn is_sliver(outline: &Polygon) -> bool {
    let round: f64 = (0..outline.len())
        .map(|i| outline.corner(i).distance(outline.corner(i + 1)))
        .sum();
    outline.signed_area() <= TOLERANCE * round / 2.0
}
