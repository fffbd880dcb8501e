//! Pieces laid on a ground as the finished top shows them, against the patches the picture has laid on it.

use crate::compare::Judge;
use crate::outline::{apart, holds, is_little, round, shared_area, shared_with};
use crate::piece::Cloth;
use crate::words::{TOLERANCE, say};
use shape::{Motion, Point, Polygon, Vector};
use std::collections::BTreeMap;
use terms::{Face, Place};

/// A piece laid on the ground, in the finished top.
pub(crate) struct TopLaid {
    number: u32,
    /// Its finished outline, what is folded under with its carriers included.
    outline: Polygon,
    pub(crate) kind: usize,
    pub(crate) up: Vector,
    pub(crate) taken: Option<u32>,
    /// What is left of the pieces that carry it.
    carriers: Vec<Polygon>,
}

/// All of them, with the order in which each carrier has them.
#[derive(Default)]
pub(crate) struct Carried {
    pub(crate) laid: Vec<TopLaid>,
    /// For each carrier of several the indices of what it carries, from below up.
    stacks: Vec<Vec<usize>>,
    /// Where each was found, so that what several carriers share is known for one: its number and the cell its first corner lies in.
    known: BTreeMap<(u32, i64, i64), Vec<usize>>,
}

/// The same laid piece, seen on two carriers, lies within this of itself.
const SAME: f64 = 0.125;

impl Carried {
    /// Adds what a piece of the top carries.
    pub(crate) fn add(&mut self, cloth: &Cloth, motion: &Motion) {
        if cloth.laid.is_empty() {
            return;
        }
        let carrier = motion.polygon(&cloth.polygon());
        let mut stack = Vec::new();
        for laid in &cloth.laid {
            let outline = motion.polygon(&laid.outline);
            let index = self.find(laid.number, &outline).unwrap_or_else(|| {
                let (x, y) = cell(outline.corner(0));
                self.known.entry((laid.number, x, y)).or_default().push(self.laid.len());
                self.laid.push(TopLaid {
                    number: laid.number,
                    outline,
                    kind: laid.kind,
                    up: motion.vector(laid.up),
                    taken: laid.taken,
                    carriers: Vec::new(),
                });
                self.laid.len() - 1
            });
            self.laid[index].carriers.push(carrier.clone());
            stack.push(index);
        }
        if stack.len() > 1 {
            self.stacks.push(stack);
        }
    }

    fn find(&self, number: u32, outline: &Polygon) -> Option<usize> {
        let (x, y) = cell(outline.corner(0));
        (x - 1..=x + 1)
            .flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)))
            .filter_map(|(x, y)| self.known.get(&(number, x, y)))
            .flatten()
            .copied()
            .find(|&i| {
                let there = &self.laid[i];
                // Of two blocks side by side pieces of one number may begin at the corner they share: the whole outline tells.
                there.number == number && one_piece(&there.outline, outline)
            })
    }
}

/// Whether two outlines, seen on two carriers, are those of one laid piece.
pub(crate) fn one_piece(a: &Polygon, b: &Polygon) -> bool {
    let mut pairs = a.corners().iter().zip(b.corners());
    a.len() == b.len() && pairs.all(|(p, q)| p.distance(*q) < SAME)
}

fn cell(p: Point) -> (i64, i64) {
    ((p.x / SAME).floor() as i64, (p.y / SAME).floor() as i64)
}

impl TopLaid {
    /// What of it lies on each carrier.
    fn shown(&self) -> Vec<Polygon> {
        self.carriers.iter().map(|c| shared_with(&self.outline, c)).collect()
    }

    /// How far what shows of it lies off a patch, both ways, and by area.
    fn off(&self, shown: &[Polygon], face: &Polygon) -> f64 {
        let mut worst = 0.0f64;
        // Of its own outline what lies on the ground must lie on the patch's.
        let on_ground = |p: Point| self.carriers.iter().any(|c| within(c, p));
        for part in shown {
            for &p in part.corners() {
                if self.outline.distance_to_boundary(p) <= TOLERANCE {
                    worst = worst.max(face.distance_to_boundary(p));
                }
            }
        }
        for i in 0..self.outline.len() {
            let middle = self.outline.corner(i).toward(self.outline.corner(i + 1), 0.5);
            if on_ground(middle) {
                worst = worst.max(face.distance_to_boundary(middle));
            }
        }
        // The patch's outline lies on its own, or inside it where the ground ends.
        for i in 0..face.len() {
            let (a, b) = (face.corner(i), face.corner(i + 1));
            for p in [a, a.toward(b, 0.5)] {
                let off = self.outline.distance_to_boundary(p);
                let at_end =
                    || holds(&self.outline, p) && self.carriers.iter().any(|c| c.distance_to_boundary(p) <= TOLERANCE);
                if off > TOLERANCE && !at_end() {
                    worst = worst.max(off);
                }
            }
        }
        let area: f64 = shown.iter().map(Polygon::signed_area).sum();
        worst.max((area - face.signed_area()).abs() / round(face).max(TOLERANCE))
    }
}

/// Whether a place lies on a convex outline or inside it.
fn within(convex: &Polygon, p: Point) -> bool {
    (0..convex.len()).all(|i| convex.edge(i).is_none_or(|e| e.offset_of(p) >= -1.0e-9))
}

impl Judge<'_> {
    /// Holds what is laid on the top against the picture.
    pub(crate) fn laid(&mut self, carried: &Carried) {
        let faces = &self.picture.laid;
        let mut by_cell: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
        for (i, face) in faces.iter().enumerate() {
            by_cell.entry(inch(&face.outline)).or_default().push(i);
        }
        let mut found: Vec<Option<usize>> = vec![None; carried.laid.len()];
        let mut seen = vec![false; faces.len()];
        for (index, laid) in carried.laid.iter().enumerate() {
            let mut shown = laid.shown();
            shown.retain(|part| !part.is_empty());
            if shown.iter().all(is_little) {
                continue;
            }
            let whole = Polygon::new(shown.iter().flat_map(|s| s.corners().iter().copied()).collect());
            let (x, y) = inch(&whole);
            let near = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
            let best = near
                .filter_map(|c| by_cell.get(&c))
                .flatten()
                .filter(|&&i| !seen[i] && !apart(&whole, &faces[i].outline))
                .map(|&i| (laid.off(&shown, &faces[i].outline), i))
                .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            let at = whole.bounds().0.toward(whole.bounds().1, 0.5);
            let Some((apart, i)) = best else {
                let sentence = format!(
                    "A piece of {} lies on the top where the design has none.",
                    self.recipe.pieces[laid.kind].fabric
                );
                let place = self.place_of(laid.taken, at);
                self.stop("face-extra", place, sentence, "Check the ground it is laid on.");
                continue;
            };
            seen[i] = true;
            found[index] = Some(i);
            self.one_laid(laid, &faces[i], apart, at);
        }
        for (face, seen) in faces.iter().zip(&seen) {
            if !seen {
                let at = face.outline.bounds().0.toward(face.outline.bounds().1, 0.5);
                let sentence = format!(
                    "Nothing of {} is laid where the design has patch {}.",
                    face.fabric, face.patch
                );
                self.stop(
                    "face-missing",
                    Place::Top { at },
                    sentence,
                    "Lay the piece on its ground.",
                );
            }
        }
        for stack in &carried.stacks {
            self.in_order(carried, stack, &found);
        }
    }

    fn one_laid(&mut self, laid: &TopLaid, face: &Face, apart: f64, at: Point) {
        let fabric = &self.recipe.pieces[laid.kind].fabric;
        let place = self.place_of(laid.taken, at);
        if apart.is_finite() {
            self.out.largest = self.out.largest.max(apart);
        }
        if *fabric != face.fabric {
            let sentence = format!(
                "Patch {} is of {fabric} but the design has {}.",
                face.patch, face.fabric
            );
            self.stop("wrong-fabric", place, sentence, "Take the piece of the right cloth.");
        } else if apart.is_nan() || apart > TOLERANCE {
            let sentence = format!(
                "Patch {} of {fabric}, laid on the ground, comes out {} off the design.",
                face.patch,
                say(apart, self.recipe.measure)
            );
            self.stop("face-differs", place, sentence, "Check the sheet and where it lies.");
        } else if face
            .up
            .is_some_and(|wanted| !crate::compare::up_as_wanted(laid.up, wanted))
        {
            let sentence = format!("The print of patch {} of {fabric} lies turned.", face.patch);
            let mend = "Cut the piece so that the print's up is up.";
            self.stop("print-turned", place, sentence, mend);
        } else {
            self.out.checks += 1;
        }
    }

    /// What one carrier has on it lies in the picture's order, as far as one covers another.
    fn in_order(&mut self, carried: &Carried, stack: &[usize], found: &[Option<usize>]) {
        for (k, &below) in stack.iter().enumerate() {
            for &above in &stack[k + 1..] {
                let (Some(lower), Some(upper)) = (found[below], found[above]) else {
                    continue;
                };
                if lower < upper {
                    continue;
                }
                let (a, b) = (&carried.laid[below], &carried.laid[above]);
                let least = round(&a.outline).min(round(&b.outline));
                if shared_area(&a.outline, &b.outline) > TOLERANCE * least / 2.0 {
                    let sentence = format!(
                        "Patch {} lies above patch {}, but the design has it beneath.",
                        self.picture.laid[upper].patch, self.picture.laid[lower].patch
                    );
                    let at = b.outline.bounds().0.toward(b.outline.bounds().1, 0.5);
                    let place = self.place_of(b.taken, at);
                    let mend = "Stitch the lower one down first.";
                    self.stop("layers-out-of-order", place, sentence, mend);
                }
            }
        }
    }
}

/// The cell of an inch in which an outline's lower left lies.
fn inch(outline: &Polygon) -> (i64, i64) {
    let low = outline.bounds().0;
    (low.x.floor() as i64, low.y.floor() as i64)
}

/// Whether two pieces carry the same, as one lies on the other by `motion`.
pub(crate) fn alike(
    ours: (&Cloth, &Motion),
    theirs: (&Cloth, &Motion),
    up_agrees: impl Fn(usize, Vector, Vector) -> bool,
) -> bool {
    ours.0.laid.len() == theirs.0.laid.len()
        && ours.0.laid.iter().zip(&theirs.0.laid).all(|(a, b)| {
            a.kind == b.kind
                && ours.1.polygon(&a.outline).difference(&theirs.1.polygon(&b.outline)) <= TOLERANCE
                && up_agrees(a.kind, ours.1.vector(a.up), theirs.1.vector(b.up))
        })
}
