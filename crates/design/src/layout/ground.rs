//! Ground left over between the blocks of a free layout: the fewest upright rectangles that keep the top sewable in
//! through seams. A block that stands at an angle first gets four triangles that fill it up to an upright box.
//!
//! The top is cut through from side to side, where no block is in the way, then each part again. Every choice of cuts along the
//! blocks' sides is looked at, each part once, up to [`MOST_PARTS`] parts; beyond that the first cut that serves. Where no cut
//! serves, blocks chase one another: the ground is then cut off in strips from side to side of what is left.

use super::{Box2, Plain, TopPlan};
use crate::place::motion;
use crate::{Design, Placement};
use shape::{Point, Polygon, Vector, WELD};
use std::collections::BTreeMap;
use terms::FabricId;

/// So many parts of the top are searched at most.
const MOST_PARTS: usize = 20_000;

/// Fills what the placed blocks leave of `whole`. Blocks that lie on one another or outside are findings elsewhere; then
/// nothing is filled.
pub(super) fn lay_ground(plan: &mut TopPlan, design: &Design, whole: Box2) {
    let Some(fill) = design.layout.fill.clone() else {
        return;
    };
    if plan.blocks.is_empty() {
        return;
    }
    let mut boxes = Vec::new();
    let mut corners = Vec::new();
    for placed in &plan.blocks {
        let outline = motion(placed).polygon(&Polygon::rectangle(placed.size.0, placed.size.1));
        let (low, high) = outline.bounds();
        boxes.push([low.x, high.x, low.y, high.y]);
        corners.extend(beside(placed, &outline, Box2 { low, high }, &fill));
    }
    let sound = boxes.iter().enumerate().all(|(i, a)| {
        let within = a[0] > whole.low.x - WELD
            && a[1] < whole.high.x + WELD
            && a[2] > whole.low.y - WELD
            && a[3] < whole.high.y + WELD;
        within && boxes[..i].iter().all(|b| !overlap(a, b))
    });
    if !sound {
        return;
    }
    plan.plain.append(&mut corners);
    let mut search = Search::of(&boxes, whole);
    let all: Vec<usize> = (0..boxes.len()).collect();
    let region = [0, search.xs.len() - 1, 0, search.ys.len() - 1];
    let mut rectangles = Vec::new();
    search.collect(region, &all, &mut rectangles);
    for [x0, x1, y0, y1] in rectangles {
        let area = Box2 {
            low: Point::new(search.xs[x0], search.ys[y0]),
            high: Point::new(search.xs[x1], search.ys[y1]),
        };
        let across = area.high.x - area.low.x >= area.high.y - area.low.y;
        plan.plain.push(Plain::upright(area, fill.clone(), "ground", across));
    }
}

fn overlap(a: &[f64; 4], b: &[f64; 4]) -> bool {
    let (x, y) = (a[1].min(b[1]) - a[0].max(b[0]), a[3].min(b[3]) - a[2].max(b[2]));
    x > WELD && y > WELD
}

/// The four triangles between a block that stands at an angle and its upright box.
fn beside(placed: &Placement, outline: &Polygon, whole: Box2, fill: &FabricId) -> Vec<Plain> {
    if placed.turn.rem_euclid(90.0) < 1e-9 || outline.len() != 4 {
        return Vec::new();
    }
    let box_corners = whole.polygon();
    let mut all = Vec::new();
    for i in 0..4 {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        // The corner of the box outside this side of the block is the one to its right.
        let outer = box_corners.corners().iter().copied().find(|c| {
            let side = (b - a).cross(*c - a);
            side < -WELD && on_sides(*c, a, b)
        });
        if let Some(c) = outer {
            all.push(Plain {
                outline: Polygon::new(vec![a, c, b]),
                fabric: fill.clone(),
                role: "ground",
                along: Vector::new(1.0, 0.0),
                lengthwise: false,
            });
        }
    }
    all
}

/// Whether a right angle at `c` has `a` on one of its legs and `b` on the other, both legs upright or level.
fn on_sides(c: Point, a: Point, b: Point) -> bool {
    let near = |p: f64, q: f64| (p - q).abs() < WELD;
    (near(c.x, a.x) && near(c.y, b.y)) || (near(c.x, b.x) && near(c.y, a.y))
}

/// Columns from and to, rows from and to: indices of lines.
type Region = [usize; 4];

struct Search {
    xs: Vec<f64>,
    ys: Vec<f64>,
    boxes: Vec<Region>,
    /// For each part the rectangles it takes, and the cut (upright or level, along which line) that takes them.
    known: BTreeMap<Region, (usize, Option<(bool, usize)>)>,
}

impl Search {
    fn of(boxes: &[[f64; 4]], whole: Box2) -> Search {
        let lines = |low: f64, high: f64, at: [usize; 2]| {
            let mut all: Vec<f64> = boxes.iter().flat_map(|b| at.map(|i| b[i])).chain([low, high]).collect();
            all.sort_by(f64::total_cmp);
            all.dedup_by(|b, a| (*b - *a).abs() <= WELD);
            all
        };
        let xs = lines(whole.low.x, whole.high.x, [0, 1]);
        let ys = lines(whole.low.y, whole.high.y, [2, 3]);
        let index = |all: &[f64], value: f64| {
            let near = |i: &usize| (all[*i] - value).abs() <= 2.0 * WELD;
            (0..all.len()).find(near).unwrap_or(0)
        };
        let boxes = boxes
            .iter()
            .map(|b| [index(&xs, b[0]), index(&xs, b[1]), index(&ys, b[2]), index(&ys, b[3])])
            .collect();
        Search {
            xs,
            ys,
            boxes,
            known: BTreeMap::new(),
        }
    }

    fn split(&self, region: Region, inside: &[usize], (upright, at): (bool, usize)) -> [(Region, Vec<usize>); 2] {
        let (mut first, mut second) = (region, region);
        let (low, high) = if upright { (0, 1) } else { (2, 3) };
        first[high] = at;
        second[low] = at;
        let (below, above) = inside.iter().partition(|&&b| self.boxes[b][high] <= at);
        [(first, below), (second, above)]
    }

    /// Lines that cut the region through without cutting a block.
    fn cuts(&self, region: Region, inside: &[usize]) -> Vec<(bool, usize)> {
        let mut all = Vec::new();
        for (upright, low, high) in [(true, 0, 1), (false, 2, 3)] {
            let mut lines: Vec<usize> = inside
                .iter()
                .flat_map(|&b| [self.boxes[b][low], self.boxes[b][high]])
                .filter(|&at| region[low] < at && at < region[high])
                .filter(|&at| {
                    inside
                        .iter()
                        .all(|&b| self.boxes[b][high] <= at || at <= self.boxes[b][low])
                })
                .collect();
            lines.sort_unstable();
            lines.dedup();
            all.extend(lines.into_iter().map(|at| (upright, at)));
        }
        all
    }

    /// How many rectangles of ground the region takes.
    fn fewest(&mut self, region: Region, inside: &[usize]) -> usize {
        if inside.is_empty() {
            return 1;
        }
        if let [one] = inside
            && self.boxes[*one] == region
        {
            return 0;
        }
        if let Some((count, _)) = self.known.get(&region) {
            return *count;
        }
        let cuts = self.cuts(region, inside);
        let full = self.known.len() >= MOST_PARTS;
        let mut best: Option<(usize, (bool, usize))> = None;
        for cut in cuts {
            let count: usize = self
                .split(region, inside, cut)
                .iter()
                .map(|(part, within)| self.fewest(*part, within))
                .sum();
            if best.is_none_or(|(least, _)| count < least) {
                best = Some((count, cut));
            }
            if full {
                break;
            }
        }
        let found = match best {
            Some((count, cut)) => (count, Some(cut)),
            // Blocks chase one another: what it takes is counted when it is cut off in strips.
            None => (self.strips(region, inside).len(), None),
        };
        self.known.insert(region, found);
        found.0
    }

    fn collect(&mut self, region: Region, inside: &[usize], into: &mut Vec<Region>) {
        if inside.is_empty() {
            into.push(region);
            return;
        }
        if let [one] = inside
            && self.boxes[*one] == region
        {
            return;
        }
        self.fewest(region, inside);
        match self.known.get(&region).and_then(|(_, cut)| *cut) {
            Some(cut) => {
                for (part, within) in self.split(region, inside, cut) {
                    self.collect(part, &within, into);
                }
            }
            None => into.extend(self.strips(region, inside)),
        }
    }

    /// Ground between blocks that chase one another: level by level the stretches without a block, those of the same width
    /// one above another put together.
    fn strips(&self, region: Region, inside: &[usize]) -> Vec<Region> {
        let mut done: Vec<Region> = Vec::new();
        for y in region[2]..region[3] {
            let taken = |x: usize| {
                inside.iter().any(|&b| {
                    let box_ = self.boxes[b];
                    box_[0] <= x && x < box_[1] && box_[2] <= y && y < box_[3]
                })
            };
            let mut x = region[0];
            while x < region[1] {
                let from = x;
                while x < region[1] && !taken(x) {
                    x += 1;
                }
                if x > from {
                    let on_top = |part: &&mut Region| part[0] == from && part[1] == x && part[3] == y;
                    match done.iter_mut().find(on_top) {
                        Some(part) => part[3] = y + 1,
                        None => done.push([from, x, y, y + 1]),
                    }
                } else {
                    x += 1;
                }
            }
        }
        done
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangles(whole: (f64, f64), boxes: &[[f64; 4]]) -> usize {
        let whole = Box2 {
            low: Point::new(0.0, 0.0),
            high: Point::new(whole.0, whole.1),
        };
        let mut search = Search::of(boxes, whole);
        let all: Vec<usize> = (0..boxes.len()).collect();
        let region = [0, search.xs.len() - 1, 0, search.ys.len() - 1];
        let mut found = Vec::new();
        search.collect(region, &all, &mut found);
        let area = |r: &Region| (search.xs[r[1]] - search.xs[r[0]]) * (search.ys[r[3]] - search.ys[r[2]]);
        let ground: f64 = found.iter().map(area).sum();
        let blocks: f64 = boxes.iter().map(|b| (b[1] - b[0]) * (b[3] - b[2])).sum();
        assert!((ground + blocks - (whole.high.x * whole.high.y)).abs() < 1e-9);
        found.len()
    }

    #[test]
    fn the_fewest_by_hand() {
        // derived: a block in a corner leaves an L, two rectangles; in the middle of a side a U, three; in the middle of
        // all a ring, four (each side of the block needs a rectangle of its own)
        assert_eq!(rectangles((12.0, 12.0), &[[0.0, 6.0, 0.0, 6.0]]), 2);
        assert_eq!(rectangles((12.0, 12.0), &[[3.0, 9.0, 0.0, 6.0]]), 3);
        assert_eq!(rectangles((12.0, 12.0), &[[3.0, 9.0, 3.0, 9.0]]), 4);
        // two blocks in opposite corners: one cut between them, then an L less a block on each side, so 1 + 1
        assert_eq!(
            rectangles((12.0, 12.0), &[[0.0, 6.0, 0.0, 6.0], [6.0, 12.0, 6.0, 12.0]]),
            2
        );
        // nothing left over
        assert_eq!(
            rectangles((12.0, 6.0), &[[0.0, 6.0, 0.0, 6.0], [6.0, 12.0, 0.0, 6.0]]),
            0
        );
    }

    #[test]
    fn blocks_that_chase_one_another_leave_their_middle() {
        // a windmill of four 6 × 3 blocks round a middle of 3 × 3
        let boxes = [
            [0.0, 6.0, 0.0, 3.0],
            [6.0, 9.0, 0.0, 6.0],
            [3.0, 9.0, 6.0, 9.0],
            [0.0, 3.0, 3.0, 9.0],
        ];
        assert_eq!(rectangles((9.0, 9.0), &boxes), 1);
    }
}
