//! Whether the units that one making gives are alike.

use crate::carried::alike;
use crate::cut::UP_AGREES;
use crate::piece::is_sliver;
use crate::resolve::Run;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::{Class, Placed};
use recipe::PrintNote;
use shape::{Line, Motion, Point, Polygon, Vector};

/// Within the allowance of a unit pieces may share it differently, by no more than this many seams: so do the tips of
/// geese sewn first on the one side or on the other.
const SHARED: f64 = 2.0;

impl Table<'_> {
    /// In what two units given by one making differ, if they do.
    pub(crate) fn unlike(&mut self, a: &(Class, Vec<Run>), b: &(Class, Vec<Run>)) -> Outcome<Option<String>> {
        let curved = a.1.iter().chain(&b.1).any(Run::is_curve);
        // By the longest side, straight from where it begins to where it ends.
        let straight = |run: &Run| {
            let (first, last) = run.edges.first().zip(run.edges.last())?;
            Line::between(first.from, last.to).map(|line| (line, first.from.distance(last.to)))
        };
        let lengths: Vec<f64> = a.1.iter().map(|run| straight(run).map_or(0.0, |s| s.1)).collect();
        let most = lengths.iter().copied().fold(0.0, f64::max);
        let longest = lengths.iter().position(|&length| length >= most - TOLERANCE);
        let Some(k) = longest.filter(|_| a.1.len() == b.1.len()) else {
            return Ok(Some(
                "Two units of one making have not the same number of sides.".into(),
            ));
        };
        let at = |run: &Run| straight(run).map_or(run.line, |s| s.0);
        let motion = Motion::line_to_line(at(&b.1[k]), at(&a.1[k]), false);
        // Of a unit with no hollow corner the finished outline shows what must be alike exactly.
        let finished: Vec<Line> = a.1.iter().map(|run| run.line.moved_left(self.seam)).collect();
        let round: Vec<Point> = a.1.iter().filter_map(|r| Some(r.edges.first()?.from)).collect();
        let convex = !curved && Polygon::new(round).is_convex(TOLERANCE);
        let shared = if convex {
            SHARED * self.seam + TOLERANCE
        } else {
            TOLERANCE
        };
        let inside = |outline: &Polygon| finished.iter().fold(outline.clone(), |o, &line| o.left_of(line));
        let same = |one: &Polygon, other: &Polygon| {
            if !convex {
                return one.difference(other) <= TOLERANCE;
            }
            let (within, beside) = (inside(one), inside(other));
            let alike = match (is_sliver(&within), is_sliver(&beside)) {
                (false, false) => within.difference(&beside) <= TOLERANCE,
                (one, other) => one == other,
            };
            alike && one.difference(other) <= shared
        };
        for (i, (one, other)) in a.1.iter().zip(&b.1).enumerate() {
            // Where along a side one piece meets the next may differ in the allowance, but not where the side ends.
            let last = one.edges.len().saturating_sub(1);
            let unlike = one.edges.iter().zip(&other.edges).enumerate().any(|(k, (e, f))| {
                let apart = [motion.point(f.from).distance(e.from), motion.point(f.to).distance(e.to)];
                let allowed = [k == 0, k == last].map(|at_end| if at_end { TOLERANCE } else { shared });
                apart
                    .iter()
                    .zip(allowed)
                    .any(|(&apart, allowed)| beyond(apart, allowed))
            });
            if one.edges.len() != other.edges.len() || unlike {
                return Ok(Some(format!("Two units of one making differ along side {}.", i + 1)));
            }
        }
        // A seam may turn only where one stopped, so both must have their stops alike.
        let lacks = |some: &[Point], others: &[Point], carry: &dyn Fn(Point) -> Point| {
            some.iter()
                .any(|&s| others.iter().all(|&o| carry(s).distance(o) > TOLERANCE))
        };
        let back = motion.inverse();
        if lacks(&b.0.stops, &a.0.stops, &|p| motion.point(p)) || lacks(&a.0.stops, &b.0.stops, &|p| back.point(p)) {
            return Ok(Some(
                "In two units of one making the seams do not stop in the same places.".into(),
            ));
        }
        // Every piece of the one must lie where a like piece of the other lies.
        let (ours, theirs) = (&a.0.pieces, &b.0.pieces);
        self.spend(ours.len().saturating_mul(theirs.len()))?;
        let mut free: Vec<&Placed> = theirs.iter().collect();
        for placed in ours {
            let shape = placed.motion.polygon(&placed.cloth.polygon());
            let up = placed.motion.vector(placed.cloth.up);
            let found = free.iter().position(|other| {
                let carried = other.motion.then(&motion);
                other.cloth.kind == placed.cloth.kind
                    && same(&shape, &carried.polygon(&other.cloth.polygon()))
                    && self.up_agrees(placed.cloth.kind, up, carried.vector(other.cloth.up))
                    && alike(
                        (&placed.cloth, &placed.motion),
                        (&other.cloth, &carried),
                        |kind, a, b| self.up_agrees(kind, a, b),
                    )
            });
            match found {
                Some(i) => drop(free.swap_remove(i)),
                None => return Ok(Some("Two units of one making differ in a piece or its print.".into())),
            }
        }
        Ok((!free.is_empty()).then(|| "Two units of one making differ in their pieces.".into()))
    }

    fn up_agrees(&self, kind: usize, a: Vector, b: Vector) -> bool {
        match self.prints.get(kind).copied().unwrap_or_default() {
            PrintNote::None => true,
            PrintNote::TwoWay => a.dot(b).abs() >= UP_AGREES,
            PrintNote::OneWay => a.dot(b) >= UP_AGREES,
        }
    }
}
