//! Unit classes: all units alike up to turning are one class, planned once and made so many times.
//!
//! A class keeps the frame of the block in which it was first met; every other occurrence knows the motion from there.
//! A mirror image is a class of its own.

use crate::bow::Sides;
use crate::ring::{Bend, Ring, bend};
use crate::tokens::{BlockTokens, Content};
use shape::{Motion, Point, Polygon, Vector, WELD};
use std::collections::BTreeMap;

/// Index of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClassId(pub usize);

/// All units alike up to turning.
#[derive(Clone, Debug)]
pub struct Class {
    /// The block in whose frame it is described.
    pub home: usize,
    /// Its faces there, in order.
    pub faces: Vec<usize>,
    /// Finished outline there, true corners, counter-clockwise; side `i` starts at corner `i`.
    pub outline: Polygon,
    /// Corner shifts that carry the class onto itself; contains 0.
    pub symmetries: Vec<usize>,
    /// For each straight of the outline whether it is one of a curve's.
    pub bows: Vec<bool>,
    /// The sides of the outline: its straights, curves each as a whole.
    pub sides: Sides,
    /// Made larger than it finishes, to be trimmed with what it is part of.
    pub larger: bool,
}

impl Class {
    /// Whether a side of it is bowed.
    pub fn is_bowed(&self) -> bool {
        self.bows.contains(&true)
    }

    /// Whether its outline is straight and has no hollow corner.
    pub fn is_convex(&self) -> bool {
        if self.is_bowed() {
            return false;
        }
        let o = &self.outline;
        (0..o.len()).all(|i| {
            let (a, b, c) = (o.corner(i), o.corner(i + 1), o.corner(i + 2));
            bend(b - a, c - b) != Bend::In
        })
    }
}

/// A class and where it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which.
    pub class: ClassId,
    /// From the class's frame.
    pub motion: Motion,
}

/// All classes met so far.
#[derive(Debug, Default)]
pub struct Classes {
    list: Vec<Class>,
    index: BTreeMap<(usize, usize, i64), Vec<ClassId>>,
    /// For each block its faces by the cell their centre lies in, in order; found when first asked for.
    cells: Vec<Vec<(Cell, usize)>>,
}

/// Column and row of a cell a few welds wide.
type Cell = (i64, i64);

fn cell(p: Point) -> Cell {
    let step = |x: f64| (x / (4.0 * WELD)).floor() as i64;
    (step(p.x), step(p.y))
}

/// An odd fineness, so that the sizes people draw do not fall between two steps.
const AREA_STEP: f64 = 1.0 / 997.131_313_7;

impl Classes {
    /// A class by its number.
    pub fn get(&self, id: ClassId) -> &Class {
        &self.list[id.0]
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// The class of some faces of a block, met before or new.
    pub fn of_region(&mut self, blocks: &[BlockTokens], home: usize, faces: Vec<usize>, outline: Polygon) -> Placed {
        if let [face] = faces[..]
            && let Content::Unit { class, motion } = blocks[home].tokens[face].content
        {
            return Placed { class, motion };
        }
        for block in &blocks[self.cells.len()..] {
            let mut cells: Vec<(Cell, usize)> = block
                .tokens
                .iter()
                .enumerate()
                .map(|(face, token)| (cell(token.centre), face))
                .collect();
            cells.sort_unstable();
            self.cells.push(cells);
        }
        let (outline, bows) = round(&blocks[home], &faces, outline);
        let step = (outline.signed_area() / AREA_STEP).floor() as i64;
        for near in [step, step - 1, step + 1] {
            let Some(candidates) = self.index.get(&(faces.len(), outline.len(), near)) else {
                continue;
            };
            for &id in candidates {
                let known = &self.list[id.0];
                let found =
                    (0..outline.len()).find_map(|shift| self.fits(blocks, known, home, &faces, &outline, shift));
                if let Some(motion) = found {
                    return Placed { class: id, motion };
                }
            }
        }
        let id = ClassId(self.list.len());
        // A circle without a corner is no unit of its own, but its number of straights is.
        let n = outline.len();
        let sides = Sides::of(&outline, &bows).unwrap_or(Sides {
            of: vec![0; n],
            starts: vec![0],
        });
        let mut class = Class {
            home,
            faces,
            outline,
            symmetries: vec![0],
            bows,
            sides,
            larger: false,
        };
        class.symmetries = (0..class.outline.len())
            .filter(|&shift| {
                shift == 0
                    || self
                        .fits(blocks, &class, home, &class.faces, &class.outline, shift)
                        .is_some()
            })
            .collect();
        self.index
            .entry((class.faces.len(), class.outline.len(), step))
            .or_default()
            .push(id);
        self.list.push(class);
        Placed {
            class: id,
            motion: Motion::STILL,
        }
    }

    /// A class of its own for a whole block on whose ground something lies.
    pub fn of_ground(&mut self, home: usize, faces: Vec<usize>, outline: Polygon, symmetries: Vec<usize>) -> Placed {
        let n = outline.len();
        // Its own sides are straight: only whole blocks have a ground.
        self.list.push(Class {
            home,
            faces,
            bows: vec![false; n],
            sides: Sides {
                of: (0..n).collect(),
                starts: (0..n).collect(),
            },
            outline,
            symmetries,
            larger: false,
        });
        Placed {
            class: ClassId(self.list.len() - 1),
            motion: Motion::STILL,
        }
    }

    /// A class of its own for a unit that is cut larger than it finishes at some of its sides.
    pub fn of_larger(&mut self, base: ClassId, sides: &[bool]) -> ClassId {
        let mut class = self.get(base).clone();
        let n = sides.len();
        let as_large = |shift: &usize| (0..n).all(|i| sides[i] == sides[(i + shift) % n]);
        class.symmetries.retain(as_large);
        class.larger = true;
        self.list.push(class);
        ClassId(self.list.len() - 1)
    }

    /// The motion that carries `known` onto the region with corner 0 on corner `shift`, if everything then agrees.
    fn fits(
        &self,
        blocks: &[BlockTokens],
        known: &Class,
        home: usize,
        faces: &[usize],
        outline: &Polygon,
        shift: usize,
    ) -> Option<Motion> {
        let motion = Motion::line_to_line(known.outline.edge(0)?, outline.edge(shift)?, false);
        let n = outline.len();
        let agrees = (0..n).all(|i| close(motion.point(known.outline.corner(i)), outline.corner(i + shift)));
        // The designer may have pinned another method in the other block.
        if !agrees || blocks[known.home].method != blocks[home].method {
            return None;
        }
        // The same faces found again by another way of cutting.
        let stays = |i: usize| close(motion.point(outline.corner(i)), outline.corner(i));
        if known.home == home && known.faces == faces && (0..n).all(stays) {
            return Some(motion);
        }
        // Where single patches are pinned, units that look alike may be made differently.
        if !blocks[known.home].unpinned() || !blocks[home].unpinned() {
            return None;
        }
        // Faces are matched by their centres.
        let cells = &self.cells[home];
        let all = known.faces.iter().all(|&mine| {
            let token = &blocks[known.home].tokens[mine];
            let centre = motion.point(token.centre);
            let (column, row) = cell(centre);
            (column - 1..=column + 1).any(|column| {
                let start = cells.partition_point(|&(at, _)| at < (column, row - 1));
                cells[start..]
                    .iter()
                    .take_while(|&&(at, _)| at <= (column, row + 1))
                    .any(|&(_, theirs)| {
                        let other = &blocks[home].tokens[theirs];
                        close(centre, other.centre)
                            && self.same_face(token, other, &motion)
                            && faces.binary_search(&theirs).is_ok()
                    })
            })
        });
        all.then_some(motion)
    }

    fn same_face(&self, a: &crate::tokens::Token, b: &crate::tokens::Token, motion: &Motion) -> bool {
        let n = a.outline.len();
        if n != b.outline.len() || (a.area - b.area).abs() > WELD * n as f64 {
            return false;
        }
        let Some(shift) = (0..n).find(|&s| close(motion.point(a.outline.corner(0)), b.outline.corner(s))) else {
            return false;
        };
        if !(0..n).all(|i| close(motion.point(a.outline.corner(i)), b.outline.corner(i + shift))) {
            return false;
        }
        match (&a.content, &b.content) {
            (
                Content::Patch {
                    fabric,
                    up,
                    grain,
                    role,
                    ..
                },
                Content::Patch {
                    fabric: f2,
                    up: u2,
                    grain: g2,
                    role: r2,
                    ..
                },
            ) => {
                fabric == f2
                    && role == r2
                    && quarter_alike(motion.vector(*grain), *g2)
                    && match (up, u2) {
                        (None, None) => true,
                        (Some(u), Some(v)) => {
                            let cos = motion.vector(u.toward).dot(v.toward);
                            u.two_way == v.two_way && (if u.two_way { cos.abs() } else { cos }) > 1.0 - 1.0e-9
                        }
                        _ => false,
                    }
            }
            (Content::Unit { class, motion: m }, Content::Unit { class: c2, motion: m2 }) => {
                class == c2 && {
                    let outline = &self.list[class.0].outline;
                    let (from, onto) = (m.then(motion), m2);
                    let first = from.point(outline.corner(0));
                    (0..outline.len())
                        .filter(|&s| close(first, onto.point(outline.corner(s))))
                        .any(|s| self.list[class.0].symmetries.contains(&s))
                }
            }
            _ => false,
        }
    }
}

/// The outline of some faces with all places of its curves, and which of its straights are a curve's.
fn round(block: &BlockTokens, faces: &[usize], outline: Polygon) -> (Polygon, Vec<bool>) {
    let curved = |&face: &usize| block.tokens[face].bows.contains(&true);
    if faces.iter().any(curved)
        && let Some(ring) = Ring::of(block, faces)
        && ring.bows().contains(&true)
    {
        return (ring.outline(), ring.bows());
    }
    let bows = vec![false; outline.len()];
    (outline, bows)
}

/// Parallel or square to each other.
fn quarter_alike(a: Vector, b: Vector) -> bool {
    let (cos, sin) = (a.dot(b).abs(), a.cross(b).abs());
    cos < 1.0e-6 || sin < 1.0e-6
}

/// Corners this close, in inches, are alike: far above the noise of turning a drawing, and so far below a ruler's mark
/// that even a long row of units taken for one another stays true.
const ALIKE: f64 = 1.0e-4;

fn close(a: Point, b: Point) -> bool {
    a.distance(b) <= ALIKE
}
