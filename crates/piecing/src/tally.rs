//! What a way of making a unit takes, counted from its written steps and the pieces they ask for: cloth, cuts, seams,
//! trims, and how far out the unit may come.
//!
//! The last assumes that every cut and every seam is out by 1/64 in, all the same way. From one side of a unit to another
//! a chain of pieces and seams runs; each piece on it may be 1/64 in too large and each seam may take 1/64 in too little
//! from either layer, so that it adds 2/64. What is trimmed is 1/64 in out at the most, whatever was sewn before.

use crate::pieces::Pieces;
use measure::Printed;
use recipe::{CornerRef, DemandShape, EdgeRef, EdgeRun, Give, Lay, Part, Path, Slot, Step, Take};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Cuts, seams and trims are counted in this share of one, since a making may give several units.
pub const SHARE: u64 = 96;

/// What one unit takes, all its parts included.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tally {
    /// Cloth, in square units of length.
    pub cloth: u64,
    /// Cuts of pieces and of stacks, in [`SHARE`]s.
    pub cuts: u64,
    /// Seams, in [`SHARE`]s.
    pub seams: u64,
    /// Lines of trims, in [`SHARE`]s.
    pub trims: u64,
    /// From side to side, how far out the unit may come, in 1/64 in.
    between: Rc<Vec<Vec<u32>>>,
}

impl Tally {
    /// One piece of a shape that has so many sides.
    pub fn of_piece(shape: &DemandShape, sides: usize) -> Self {
        Tally {
            cloth: cloth(shape),
            cuts: cuts(shape),
            between: Rc::new(
                (0..sides)
                    .map(|i| (0..sides).map(|j| u32::from(i != j)).collect())
                    .collect(),
            ),
            ..Tally::default()
        }
    }

    /// A mosaic of pieces cut to these shapes, with so many edges whipped; `between` as counted from side to side.
    pub fn of_mosaic<'s>(shapes: impl Iterator<Item = &'s DemandShape>, whipped: u64, between: Vec<Vec<u32>>) -> Self {
        let mut tally = Tally {
            seams: SHARE * whipped,
            between: Rc::new(between),
            ..Tally::default()
        };
        for shape in shapes {
            tally.cloth += cloth(shape);
            tally.cuts += cuts(shape);
        }
        tally
    }

    /// One of the units that a making gives, `inner` being the tallies of the units it takes.
    pub fn of_making(
        parts: &[Part],
        steps: &[Step],
        gives: &[Give],
        pieces: &Pieces,
        inner: &BTreeMap<Slot, Rc<Tally>>,
    ) -> Self {
        let mut tally = Tally::default();
        for part in parts {
            match &part.take {
                Take::Piece(id) => {
                    let shape = pieces.shape(id);
                    tally.cloth += shape.map_or(0, cloth);
                    tally.cuts += shape.map_or(0, cuts);
                }
                Take::Paper(_) => {}
                Take::Unit(_) => {
                    if let Some(unit) = inner.get(&part.slot) {
                        tally.cloth += unit.cloth;
                        tally.cuts += unit.cuts;
                        tally.seams += unit.seams;
                        tally.trims += unit.trims;
                    }
                }
            }
        }
        for step in steps {
            match step {
                Step::Sew { path, .. } => {
                    tally.seams += SHARE
                        * match path {
                            Path::BothSides { .. } => 2,
                            Path::Round { edges, .. } => edges.len() as u64,
                            _ => 1,
                        }
                }
                Step::CutApart { .. } => tally.cuts += SHARE,
                Step::SubCut { into, .. } => tally.cuts += SHARE * (into.len() as u64 + 1),
                Step::Trim { lines, .. } => tally.trims += SHARE * lines.len() as u64,
                _ => {}
            }
        }
        let units = gives.len().max(1) as u64;
        for count in [&mut tally.cloth, &mut tally.cuts, &mut tally.seams, &mut tally.trims] {
            *count /= units;
        }
        if let Some(give) = gives.first() {
            let chains = Chains::of(parts, steps, inner);
            let sides = &give.sides;
            let row = |a: &EdgeRun| sides.iter().map(|b| chains.between(a, b)).collect();
            tally.between = Rc::new(sides.iter().map(row).collect());
        }
        tally
    }

    /// How far out the unit may come from any side to one that is not its neighbour, in 1/64 in.
    pub fn error(&self) -> u32 {
        let n = self.between.len();
        let apart = |i: usize, j: usize| n < 4 || ((i + 1) % n != j && (j + 1) % n != i);
        (0..n)
            .flat_map(|i| (0..i).map(move |j| (i, j)))
            .filter(|&(i, j)| apart(i, j))
            .map(|(i, j)| self.between[i][j])
            .max()
            .unwrap_or(0)
    }
}

/// Cloth that a piece takes, what is cut off round it included.
fn cloth(shape: &DemandShape) -> u64 {
    let area = |a: i64, b: i64| a.unsigned_abs() * b.unsigned_abs();
    match shape {
        DemandShape::Rectangle { width, height } | DemandShape::Shaped { width, height, .. } => {
            area(width.len.units(), height.len.units())
        }
        DemandShape::Half { width, height, .. } => area(width.len.units(), height.len.units()) / 2,
        DemandShape::Quarter { side } => area(side.len.units(), side.len.units()) / 4,
        DemandShape::Slant {
            height, lower, upper, ..
        } => area(height.len.units(), lower.len.units() + upper.len.units()) / 2,
        DemandShape::Template { template } => {
            // Printed places are finer than lengths; cloth is counted in lengths.
            let most = |places: Vec<Printed>| places.into_iter().max().unwrap_or_default().least_length().units();
            let right = most(template.corners.iter().map(|c| c.right).collect());
            let up = most(template.corners.iter().map(|c| c.up).collect());
            area(right, up)
        }
    }
}

/// Cuts that a piece takes: its strip, its own, and its share of those that divide a larger piece.
fn cuts(shape: &DemandShape) -> u64 {
    match shape {
        DemandShape::Rectangle { .. } | DemandShape::Slant { .. } => 2 * SHARE,
        DemandShape::Half { .. } => 3 * SHARE / 2,
        DemandShape::Quarter { .. } => SHARE,
        DemandShape::Shaped { cuts, .. } => (2 + cuts.len() as u64) * SHARE,
        DemandShape::Template { template } => template.corners.len() as u64 * SHARE,
    }
}

/// The parts of a making and the seams from one to the next.
struct Chains<'a> {
    inner: &'a BTreeMap<Slot, Rc<Tally>>,
    /// From a part, by which edge (`None`: by its body), to which part, at which edge, at what cost.
    links: BTreeMap<Slot, Vec<Link>>,
    /// What cuts made. Its edges begin and end a chain; none goes on through them from one part to another, since a cut across
    /// two parts does not bring them nearer.
    ruled: BTreeSet<Slot>,
}

#[derive(Clone, Copy)]
struct Link {
    leave: Option<u32>,
    to: Slot,
    enter: Option<u32>,
    cost: u32,
}

/// What a seam adds: 1/64 in from either layer.
const SEAM: u32 = 2;

impl<'a> Chains<'a> {
    fn of(parts: &[Part], steps: &[Step], inner: &'a BTreeMap<Slot, Rc<Tally>>) -> Self {
        let mut chains = Chains {
            inner,
            links: BTreeMap::new(),
            ruled: BTreeSet::new(),
        };
        // What lies in each work or stack.
        let mut holds: BTreeMap<Slot, BTreeSet<Slot>> = parts.iter().map(|p| (p.slot, [p.slot].into())).collect();
        let of = |holds: &BTreeMap<Slot, BTreeSet<Slot>>, slot: &Slot| holds.get(slot).cloned().unwrap_or_default();
        for step in steps {
            match step {
                Step::Lay { a, b, how, into } => {
                    let mut both = of(&holds, a);
                    both.extend(of(&holds, b));
                    holds.insert(*into, both);
                    match how {
                        Lay::Edges { a, b, .. } => chains.along(a, b),
                        Lay::Curve { a, b, .. } => chains.along(a, b),
                        Lay::Corner { a, b } => chains.at_corner(a, b),
                        Lay::TwoDots { .. } => {
                            let (lower, upper) = (of(&holds, a), of(&holds, b));
                            for &x in &lower {
                                for &y in &upper {
                                    chains.link(x, None, y, None, SEAM);
                                }
                            }
                        }
                        Lay::OverPaper { .. } => {}
                    }
                }
                Step::Pivot { a, b, .. } => chains.along(a, b),
                Step::Close { work, a, b, into, .. } => {
                    let held = of(&holds, work);
                    holds.insert(*into, held);
                    chains.along(a, b);
                }
                Step::CutApart { stack, keep, .. } => {
                    let held = of(&holds, stack);
                    for keep in keep {
                        holds.insert(keep.into, held.clone());
                    }
                }
                Step::Open { stack, into, .. } => {
                    let held = of(&holds, stack);
                    holds.insert(*into, held);
                }
                Step::Trim { of: work, into, .. } | Step::CutOut { of: work, into } => {
                    chains.cut(&mut holds, *work, &[*into]);
                }
                Step::Spread { piece, into, .. } => {
                    let held = of(&holds, piece);
                    holds.insert(*into, held);
                }
                Step::SubCut { of: work, into, .. } => chains.cut(&mut holds, *work, into),
                _ => {}
            }
        }
        chains
    }

    fn link(&mut self, a: Slot, leave: Option<u32>, b: Slot, enter: Option<u32>, cost: u32) {
        let there = Link {
            leave,
            to: b,
            enter,
            cost,
        };
        let back = Link {
            leave: enter,
            to: a,
            enter: leave,
            cost,
        };
        self.links.entry(a).or_default().push(there);
        self.links.entry(b).or_default().push(back);
    }

    fn along(&mut self, a: &EdgeRun, b: &EdgeRun) {
        for x in &a.0 {
            for y in &b.0 {
                self.link(x.of, Some(x.edge), y.of, Some(y.edge), SEAM);
            }
        }
    }

    fn at_corner(&mut self, a: &CornerRef, b: &CornerRef) {
        for x in BTreeSet::from([a.before.of, a.after.of]) {
            for y in BTreeSet::from([b.before.of, b.after.of]) {
                self.link(x, None, y, None, SEAM);
            }
        }
    }

    /// New edges cut with a ruler laid on what is there.
    fn cut(&mut self, holds: &mut BTreeMap<Slot, BTreeSet<Slot>>, work: Slot, into: &[Slot]) {
        let held = holds.get(&work).cloned().unwrap_or_default();
        for &new in into {
            self.ruled.insert(new);
            for &part in &held {
                self.link(new, None, part, None, 0);
            }
            let mut all = held.clone();
            all.insert(new);
            holds.insert(new, all);
        }
    }

    /// From one side to the other: each edge of the one to the nearest of the other, and the worst of these.
    fn between(&self, a: &EdgeRun, b: &EdgeRun) -> u32 {
        let far = |from: &EdgeRef| {
            let mut least = u32::MAX;
            let mut passed = vec![from.of];
            self.walk(from.of, Some(from.edge), 0, b, &mut passed, &mut least);
            least
        };
        // What no chain reaches is put together in a way that this counting does not know.
        a.0.iter().map(far).max().unwrap_or(0)
    }

    /// Within one part, from edge to edge.
    fn within(&self, part: Slot, from: Option<u32>, to: Option<u32>) -> u32 {
        match (from, to, self.inner.get(&part)) {
            (Some(a), Some(b), _) if a == b => 0,
            (Some(a), Some(b), Some(unit)) => unit
                .between
                .get(a as usize)
                .and_then(|row| row.get(b as usize))
                .copied()
                .unwrap_or(1),
            _ => 1,
        }
    }

    fn walk(&self, at: Slot, entered: Option<u32>, cost: u32, to: &EdgeRun, passed: &mut Vec<Slot>, least: &mut u32) {
        if cost >= *least {
            return;
        }
        for target in to.0.iter().filter(|e| e.of == at) {
            *least = (*least).min(cost.saturating_add(self.within(at, entered, Some(target.edge))));
        }
        if entered.is_none() && self.ruled.contains(&at) {
            return;
        }
        for link in self.links.get(&at).map_or(&[][..], Vec::as_slice) {
            if passed.contains(&link.to) {
                continue;
            }
            passed.push(link.to);
            let next = cost
                .saturating_add(self.within(at, entered, link.leave))
                .saturating_add(link.cost);
            self.walk(link.to, link.enter, next, to, passed, least);
            passed.pop();
        }
    }
}

#[cfg(test)]
mod template_tests {
    use super::*;
    use measure::Length;
    use recipe::{Size, Template, TemplateCorner};

    #[test]
    fn a_template_takes_the_cloth_of_its_box() {
        // *derived*: a template drawn as a 3 x 2 in rectangle is cut from the very rectangle.
        let at = |inches: f64| Printed::nearest(inches).unwrap();
        let corners = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)]
            .map(|(x, y)| TemplateCorner {
                right: at(x),
                up: at(y),
            })
            .to_vec();
        let template = Template {
            name: "A".into(),
            corners,
            ..Template::default()
        };
        let size = |inches: i64| Size::bare(Length::fraction(inches, 1));
        let rectangle = DemandShape::Rectangle {
            width: size(3),
            height: size(2),
        };
        assert_eq!(cloth(&DemandShape::Template { template }), cloth(&rectangle));
    }
}
