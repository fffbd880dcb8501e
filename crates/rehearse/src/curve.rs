//! Curves: runs with bowed edges. Where such a run is stitched is a chain of straights, along which marks are found.

use crate::maker::Miss;
use crate::resolve::Run;
use crate::table::Table;
use crate::words::{Outcome, TOLERANCE, beyond};
use crate::work::View;
use recipe::EdgeRun;
use shape::{Line, Motion, Point, Vector};
use std::collections::BTreeSet;

/// The cosine of the widest turn, 10 degrees, from one straight of a curve to the next.
const SMOOTH: f64 = 0.984_807_753_012_208;

/// Marks that follow one another no further than this are one dot.
const ONE_DOT: f64 = 1.0 / 16.0;

/// Where a curve is stitched: a chain of straights that goes on straight beyond both ends.
#[derive(Clone, Debug)]
pub(crate) struct Chain {
    points: Vec<Point>,
    /// How far each point lies along the chain from the first.
    reaches: Vec<f64>,
    /// The directions it goes on in, forward, at its beginning and its end.
    ends: [Vector; 2],
}

/// Two curves pinned together.
#[derive(Clone, Debug)]
pub(crate) struct Pinned {
    pub(crate) names: [EdgeRun; 2],
    pub(crate) runs: [Run; 2],
    pub(crate) chains: [Chain; 2],
    /// For each layer the places of the first and the last pin along its own chain.
    pub(crate) pins: [[f64; 2]; 2],
    /// Carries the upper layer's frame into the lower's, right side up, once opened.
    pub(crate) opened: Motion,
    /// The line through the lower layer's places of the first and the last pin.
    pub(crate) chord: Line,
}

impl Chain {
    /// The straights, with how far along it each begins; the two that it goes on along are `past` long.
    pub(crate) fn straights(&self, past: f64) -> impl Iterator<Item = (Point, Point, f64)> + '_ {
        let n = self.points.len();
        let [first, last] = [self.points[0], self.points[n - 1]];
        let before = (first + self.ends[0] * -past, first, -past);
        let after = (last, last + self.ends[1] * past, self.length());
        let own = (1..n).map(|i| (self.points[i - 1], self.points[i], self.reaches[i - 1]));
        std::iter::once(before).chain(own).chain(std::iter::once(after))
    }

    pub(crate) fn length(&self) -> f64 {
        self.reaches.last().copied().unwrap_or(0.0)
    }

    /// The line of the straight on which a place lies, through that place.
    pub(crate) fn line_at(&self, reach: f64) -> Line {
        let n = self.points.len();
        let i = self.reaches.partition_point(|&r| r < reach);
        let (along, from) = match i {
            0 => (self.ends[0], 0),
            i if i >= n => (self.ends[1], n - 1),
            i => (
                (self.points[i] - self.points[i - 1]).unit().unwrap_or(self.ends[0]),
                i - 1,
            ),
        };
        Line {
            through: self.points[from] + along * (reach - self.reaches[from]),
            along,
        }
    }

    pub(crate) fn at(&self, reach: f64) -> Point {
        self.line_at(reach).through
    }

    /// Its own corners between two places.
    pub(crate) fn between(&self, from: f64, to: f64) -> impl Iterator<Item = (f64, Point)> + '_ {
        let all = self.reaches.iter().copied().zip(self.points.iter().copied());
        all.filter(move |&(r, _)| r > from && r < to)
    }

    /// The nearest place: how far along, and how far off.
    pub(crate) fn nearest(&self, p: Point, past: f64) -> (f64, f64) {
        let mut best = (0.0, f64::INFINITY);
        for (a, b, start) in self.straights(past) {
            let Some(line) = Line::between(a, b) else { continue };
            let along = line.reach_of(p).clamp(0.0, a.distance(b));
            let off = line.at(along).distance(p);
            if off < best.1 {
                best = (start + along, off);
            }
        }
        best
    }

    /// Where the way from one place to another first meets it: the share of the way, and how far along the chain.
    pub(crate) fn met_by(&self, from: Point, to: Point, past: f64) -> Option<(f64, f64)> {
        let way = to - from;
        let mut first: Option<(f64, f64)> = None;
        for (a, b, start) in self.straights(past) {
            let along = b - a;
            let turned = way.cross(along);
            let length = along.length();
            if turned.abs() <= 1.0e-12 * length.max(way.length()) {
                continue;
            }
            let (t, u) = ((a - from).cross(along) / turned, (a - from).cross(way) / turned);
            let (room_t, room_u) = (NOISE / way.length().max(NOISE), NOISE / length.max(NOISE));
            let met = t >= -room_t && t <= 1.0 + room_t && u >= -room_u && u <= 1.0 + room_u;
            if met && first.is_none_or(|(least, _)| t < least) {
                first = Some((t.clamp(0.0, 1.0), start + u * length));
            }
        }
        first
    }
}

/// What meets within this meets, inches.
const NOISE: f64 = 1.0e-9;

impl Table<'_> {
    /// The chain so far inside a curve, with the checks that it is one.
    pub(crate) fn curve_of(&mut self, run: &Run, by: f64, which: &str) -> Outcome<Chain> {
        self.spend(run.edges.len())?;
        let mut straights: Vec<(Point, Point, Vector)> = Vec::new();
        for e in &run.edges {
            if let Some((_, end, _)) = straights.last() {
                let gap = end.distance(e.from);
                if self.misses(Miss::Other, gap, TOLERANCE) {
                    let sentence = format!(
                        "Along {which} one raw edge begins {} from where the one before ends.",
                        self.say(gap)
                    );
                    let mend = "Name every edge of the run in order.";
                    return Err(self.refuse("run-not-flush", sentence, mend));
                }
            }
            if let Some(along) = (e.to - e.from).unit() {
                straights.push((e.from, e.to, along));
            }
        }
        for pair in straights.windows(2) {
            let turn = 1.0 - pair[0].2.dot(pair[1].2);
            if self.misses(Miss::Other, turn.max(0.0), 1.0 - SMOOTH) {
                let sentence = format!("Along {which} the raw edge turns a corner, which no curve does.");
                return Err(self.refuse("curve-has-corner", sentence, "Name one smooth curve."));
            }
        }
        let (Some(&first), Some(&last)) = (straights.first(), straights.last()) else {
            return Err(self.refuse("unknown-edge", "A run of edges is empty.", "Name the edges of the run."));
        };
        let inside = |p: Point, along: Vector| p + along.left() * by;
        let mut points = vec![inside(first.0, first.2)];
        for pair in straights.windows(2) {
            let ((_, end, u), (start, _, v)) = (pair[0], pair[1]);
            let (p, q) = (inside(end, u), inside(start, v));
            let middle = p.toward(q, 0.5);
            let [before, after] = [(p, u), (q, v)].map(|(through, along)| Line { through, along });
            let crossing = before
                .crossing(after)
                .filter(|x| !beyond(x.distance(middle), TOLERANCE));
            points.push(crossing.unwrap_or(middle));
        }
        points.push(inside(last.1, last.2));
        let mut reaches = vec![0.0];
        for (pair, straight) in points.windows(2).zip(&straights) {
            let back = -(pair[1] - pair[0]).dot(straight.2);
            if back > TOLERANCE && self.misses(Miss::Other, back, TOLERANCE) {
                let sentence = format!("The curve of {which} is tighter than the seam.");
                return Err(self.refuse(
                    "curve-too-tight",
                    sentence,
                    "Draw a wider curve, or sew a narrower seam.",
                ));
            }
            reaches.push(reaches[reaches.len() - 1] + pair[0].distance(pair[1]));
        }
        self.held();
        Ok(Chain {
            points,
            reaches,
            ends: [first.2, last.2],
        })
    }

    /// The printed marks of a curve's pieces along its chain, as places along it in order.
    pub(crate) fn marks_along(&mut self, run: &Run, chain: &Chain, view: &View) -> Outcome<Vec<f64>> {
        let pieces: BTreeSet<_> = run.edges.iter().map(|e| e.at).collect();
        let mut found = Vec::new();
        for at in pieces {
            let Some((cloth, motion, _)) = self.piece_in(at, view) else {
                continue;
            };
            self.spend(cloth.marks.len().saturating_mul(run.edges.len()))?;
            for &mark in cloth.marks.iter() {
                let (reach, off) = chain.nearest(motion.point(mark), 4.0 * self.seam);
                if !beyond(off, self.near_enough()) {
                    found.push(reach);
                }
            }
        }
        found.sort_by(f64::total_cmp);
        let mut before = f64::NEG_INFINITY;
        found.retain(|&reach| {
            let new = reach - before >= ONE_DOT;
            before = reach;
            new
        });
        Ok(found)
    }
}
