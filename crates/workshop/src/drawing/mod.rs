//! Drawing by dividing cloth: a block is one piece of cloth that is cut, bowed, joined and dressed, so a drawing never has
//! gaps or overlaps.
//!
//! Everything here is in inches, from the block's top left corner, y down, as the eye sees it. Nothing knows of files or
//! screens; [`read`] and [`write`] are the doors to the design file.

mod bow;
mod divide;
mod join;
mod outline;
mod place;
mod read;
mod shift;
mod side;
mod snap;
mod turns;
mod write;

#[cfg(test)]
mod tests;

pub use read::read_block;
pub use side::Side;
pub(crate) use snap::trimmed;
pub use snap::{Aim, Snap, aim};
pub use turns::Repeat;
pub use write::{Entry, entries, path_text, places};

use kurbo::{Point, Shape};
use outline::Outline;

/// Points nearer than this are one point, inches: far below what is welded when the design is read (1/256 in).
pub const SAME: f64 = 1e-5;

/// No patch may become narrower than this across, inches; a sixteenth is less than a seam could hold.
pub const NARROWEST: f64 = 1.0 / 16.0;

/// Most patches a block is drawn with by hand.
pub const MOST_PATCHES: usize = 2000;

/// A block being drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Finished width, inches.
    pub width: f64,
    /// Finished height, inches.
    pub height: f64,
    /// Drawing units across and down.
    pub grid: (f64, f64),
    /// The cloth, divided: together with the placed blocks they cover the block once.
    pub patches: Vec<Patch>,
    /// Patches laid on the ground and stitched down; they may lie anywhere.
    pub laid: Vec<Patch>,
    /// Other blocks inside, each owning its box.
    pub placed: Vec<Placed>,
}

/// One patch of the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Its role.
    pub fabric: String,
    /// Which entry of the file's list it comes from; what else that entry says goes with it.
    pub entry: Option<usize>,
    /// Whether its outline differs from what the file says.
    pub redrawn: bool,
    /// Its sides in order, closed.
    pub(crate) outline: Outline,
}

/// Another block inside.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Its name.
    pub block: String,
    /// Which entry of the file's list it comes from.
    pub entry: Option<usize>,
    /// Left, top, width and height of its box as seen, inches.
    pub left: f64,
    /// Top of the box.
    pub top: f64,
    /// Width of the box.
    pub width: f64,
    /// Height of the box.
    pub height: f64,
    /// Quarter turns clockwise.
    pub quarters: u8,
    /// Degrees clockwise for a block that stands at another angle; the box above is then the block before it is turned about
    /// its middle, and there are no quarters beside it. 0 for one that stands upright.
    pub slant: f64,
    /// Left and right exchanged before turning.
    pub flip: bool,
    /// Which roles become which.
    pub recolor: Vec<(String, String)>,
    /// Whether something of it differs from what the file says.
    pub redrawn: bool,
}

/// Why the hand's wish cannot be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Stable code.
    pub code: &'static str,
    /// What is in the way, and what would do instead.
    pub words: String,
}

impl Refusal {
    pub(crate) fn new(code: &'static str, words: impl Into<String>) -> Self {
        Refusal {
            code,
            words: words.into(),
        }
    }
}

impl Patch {
    /// The sides in order.
    pub fn sides(&self) -> &[Side] {
        self.outline.sides()
    }

    /// Square inches.
    pub fn area(&self) -> f64 {
        self.outline.area()
    }

    /// A point well inside, for a word or a mark.
    pub fn middle(&self) -> Point {
        self.outline.middle()
    }

    /// Whether the point lies inside.
    pub fn holds(&self, at: Point) -> bool {
        self.outline.path().contains(at)
    }
}

impl Placed {
    /// The middle of its box.
    pub fn middle(&self) -> Point {
        Point::new(self.left + self.width / 2.0, self.top + self.height / 2.0)
    }

    /// Whether it stands upright, its sides along the block's.
    pub fn upright(&self) -> bool {
        self.slant == 0.0
    }

    /// Whether the point lies in its box.
    pub fn holds(&self, at: Point) -> bool {
        let at = turned_about(at, self.middle(), -self.slant);
        at.x > self.left && at.x < self.left + self.width && at.y > self.top && at.y < self.top + self.height
    }

    /// Its box's corners as they lie, clockwise as seen.
    pub fn corners(&self) -> [Point; 4] {
        let (right, low) = (self.left + self.width, self.top + self.height);
        [
            Point::new(self.left, self.top),
            Point::new(right, self.top),
            Point::new(right, low),
            Point::new(self.left, low),
        ]
        .map(|corner| turned_about(corner, self.middle(), self.slant))
    }

    /// Whether the other's box lies wholly in its own.
    pub(crate) fn covers(&self, other: &Placed) -> bool {
        other.corners().into_iter().all(|corner| {
            let at = turned_about(corner, self.middle(), -self.slant);
            let (right, low) = (self.left + self.width + SAME, self.top + self.height + SAME);
            at.x > self.left - SAME && at.y > self.top - SAME && at.x < right && at.y < low
        })
    }

    /// Whether the two boxes share cloth: no line along a side of either has one box on each side of it.
    pub(crate) fn meets(&self, other: &Placed) -> bool {
        let (mine, its) = (self.corners(), other.corners());
        let parted = |a: &[Point; 4], b: &[Point; 4]| {
            (0..4).any(|i| {
                let way = a[(i + 1) % 4] - a[i];
                b.iter().all(|p| way.cross(*p - a[i]) <= SAME * way.hypot())
            })
        };
        !parted(&mine, &its) && !parted(&its, &mine)
    }
}

/// A turn in degrees as quarter turns, or as a slant where it is none of them.
pub fn quarters_and_slant(degrees: f64) -> (u8, f64) {
    let turn = degrees.rem_euclid(360.0);
    let quarters = (turn / 90.0).round();
    if (turn / 90.0 - quarters).abs() < 1e-9 {
        (quarters as u8 % 4, 0.0)
    } else {
        (0, turn)
    }
}

/// A point turned about another, clockwise as seen.
fn turned_about(at: Point, middle: Point, degrees: f64) -> Point {
    if degrees == 0.0 {
        return at;
    }
    let angle = degrees.to_radians();
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    let way = at - middle;
    middle + kurbo::Vec2::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos)
}

impl Drawing {
    /// A block of undivided cloth.
    pub fn blank(width: f64, height: f64, grid: (f64, f64), fabric: &str) -> Drawing {
        let whole = Outline::of_corners(&[
            Point::new(0.0, 0.0),
            Point::new(width, 0.0),
            Point::new(width, height),
            Point::new(0.0, height),
        ]);
        Drawing {
            width,
            height,
            grid,
            patches: vec![Patch {
                fabric: fabric.to_string(),
                entry: None,
                redrawn: true,
                outline: whole,
            }],
            laid: Vec::new(),
            placed: Vec::new(),
        }
    }

    /// Which patch lies under the point: one laid on the ground first.
    pub fn patch_at(&self, at: Point) -> Option<Which> {
        if let Some(i) = self.laid.iter().rposition(|patch| patch.holds(at)) {
            return Some(Which::Laid(i));
        }
        self.patches.iter().position(|patch| patch.holds(at)).map(Which::Patch)
    }

    /// Dresses a patch in a fabric.
    ///
    /// # Errors
    /// When there is no such patch.
    pub fn dress(&self, which: Which, fabric: &str) -> Result<Drawing, Refusal> {
        let mut drawn = self.clone();
        let patch = match which {
            Which::Patch(i) => drawn.patches.get_mut(i),
            Which::Laid(i) => drawn.laid.get_mut(i),
        };
        let patch = patch.ok_or_else(no_patch)?;
        patch.fabric = fabric.to_string();
        Ok(drawn)
    }

    /// Every place where sides meet, once each, from top to bottom and left to right.
    pub fn points(&self) -> Vec<Point> {
        let sides = self.patches.iter().flat_map(|patch| patch.sides()).map(Side::from);
        let boxes = self.placed.iter().flat_map(|placed| placed.corners());
        let mut all: Vec<Point> = sides.chain(boxes).collect();
        all.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
        let mut kept: Vec<Point> = Vec::new();
        for point in all {
            if !kept.iter().any(|k| same(*k, point)) {
                kept.push(point);
            }
        }
        kept
    }

    /// Square inches of cloth drawn; equal to width times height when nothing is missing and nothing lies twice.
    pub fn covered(&self) -> f64 {
        let patches: f64 = self.patches.iter().map(Patch::area).sum();
        let boxes: f64 = self.placed.iter().map(|p| p.width * p.height).sum();
        patches + boxes
    }
}

/// A patch of the drawing, by its place in the lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// Sewn to its neighbours.
    Patch(usize),
    /// Laid on the ground.
    Laid(usize),
}

pub(crate) fn no_patch() -> Refusal {
    Refusal::new(
        "no-patch-there",
        "There is no patch at this place. Point into the middle of one.",
    )
}

pub(crate) fn same(a: Point, b: Point) -> bool {
    (a - b).hypot2() < SAME * SAME
}
