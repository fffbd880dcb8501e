//! The seams of a making as they lie in the unit, whether they join parts or are a method's own.

use super::ends::Room;
use crate::class::{ClassId, Placed};
use crate::methods::Toward;
use crate::plan::Making;
use shape::{Line, Point, Polygon, WELD};
use std::rc::Rc;

/// One seam that is pressed one way.
#[derive(Clone, Debug)]
pub(super) struct Sewn {
    /// Its stretches from finished corner to finished corner, the lower layer on the left of each.
    pub(super) legs: Vec<(Point, Point)>,
    /// The parts along it in the lower layer; none where a method sews patches.
    pub(super) lower: Vec<usize>,
    /// The same in the upper layer.
    pub(super) upper: Vec<usize>,
    /// Which way it goes by itself, where a method says so.
    pub(super) by_itself: Option<Toward>,
    /// It goes that way whatever it meets.
    pub(super) fixed: bool,
    /// It runs along a curve.
    pub(super) curved: bool,
}

impl Sewn {
    fn joining(legs: Vec<(Point, Point)>, lower: Vec<usize>, upper: Vec<usize>) -> Self {
        Sewn {
            legs,
            lower,
            upper,
            by_itself: None,
            fixed: false,
            curved: false,
        }
    }
}

impl Room<'_, '_> {
    /// The seams of a kind of unit that may go either way, in the order sewn.
    pub(super) fn sewn(&mut self, id: ClassId) -> Rc<Vec<Sewn>> {
        if let Some(known) = self.sewn.get(&id) {
            return known.clone();
        }
        let plan = self.planner.plan(id);
        let found = match &plan.making {
            Making::Together { parts, seams, .. } => self.through(parts, seams),
            Making::SetIn { legs, .. } => {
                // The stack is opened once, so all its legs go one way.
                let curved = legs.iter().any(|leg| leg.curved);
                let legs = legs.iter().map(|leg| (leg.from, leg.to)).collect();
                vec![Sewn {
                    curved,
                    ..Sewn::joining(legs, vec![0], vec![1])
                }]
            }
            Making::Windmill { parts, blades } => {
                let arms = blades.len();
                let middle = self.outline(&parts[0]).centroid();
                let one = |(i, blade): (usize, &crate::windmill::Blade)| {
                    let line = Line::between(blade.near, blade.end);
                    let forward = line.is_some_and(|line| line.offset_of(middle) > 0.0);
                    // The whole of a seam closed in two goes is pressed one way.
                    let leg = if forward {
                        (blade.outer, blade.end)
                    } else {
                        (blade.end, blade.outer)
                    };
                    let before = (i + arms - 1) % arms;
                    Sewn::joining(vec![leg], vec![0, before + 1], vec![i + 1])
                };
                blades.iter().enumerate().map(one).collect()
            }
            Making::Method(method) => {
                let outline = self.planner.classes.get(id).outline.clone();
                let own = method.seams(&outline).into_iter().map(|seam| Sewn {
                    by_itself: Some(seam.toward),
                    fixed: seam.fixed,
                    ..Sewn::joining(vec![(seam.from, seam.to)], Vec::new(), Vec::new())
                });
                own.collect()
            }
            // What is laid on a ground adds no seam, and what is whipped over card is pressed once it is whole.
            Making::Piece(_) | Making::Laid { .. } | Making::Mosaic(_) | Making::Trapped => Vec::new(),
        };
        let found = Rc::new(found);
        self.sewn.insert(id, found.clone());
        found
    }

    fn through(&self, parts: &[Placed], seams: &[Line]) -> Vec<Sewn> {
        let one = |(k, &line): (usize, &Line)| {
            let outline = self.outline(&parts[k]);
            let side = side_on(&outline, line);
            let legs = side.map(|i| (outline.corner(i), outline.corner(i + 1)));
            Sewn::joining(legs.into_iter().collect(), vec![k], vec![k + 1])
        };
        seams.iter().enumerate().map(one).collect()
    }

    /// A part's outline where it lies.
    pub(super) fn outline(&self, part: &Placed) -> Polygon {
        part.motion.polygon(&self.planner.classes.get(part.class).outline)
    }
}

/// The side of an outline that lies along a line.
pub(super) fn side_on(outline: &Polygon, line: Line) -> Option<usize> {
    (0..outline.len()).find(|&i| {
        line.offset_of(outline.corner(i)).abs() < 2.0 * WELD && line.offset_of(outline.corner(i + 1)).abs() < 2.0 * WELD
    })
}
