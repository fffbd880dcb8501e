//! A straight cut from point to point: every patch it crosses becomes two. Cloth cannot be cut half way, so a cut that ends
//! inside a patch runs on to that patch's edge.

use super::outline::Outline;
use super::{Drawing, MOST_PATCHES, Patch, Refusal, SAME, Side, same};
use kurbo::Point;

/// A place where the cut's line meets an outline.
#[derive(Clone, Copy, Debug)]
struct Meeting {
    /// Along the cut: 0 where it begins, 1 where it ends.
    along: f64,
    at: Point,
}

impl Drawing {
    /// Cuts from one point to another.
    ///
    /// # Errors
    /// When the points are the same, nothing is crossed, or a patch would become too narrow to be sewn.
    pub fn divide(&self, from: Point, to: Point) -> Result<Drawing, Refusal> {
        if (to - from).hypot() < SAME {
            return Err(Refusal::new(
                "cut-without-length",
                "The cut begins and ends at the same place.",
            ));
        }
        let mut drawn = self.clone();
        drawn.patches = Vec::with_capacity(self.patches.len() + 4);
        let mut crossed = false;
        for patch in &self.patches {
            match split(&patch.outline, from, to) {
                None => drawn.patches.push(patch.clone()),
                Some(parts) => {
                    crossed = true;
                    drawn.patches.extend(parts.into_iter().map(|outline| Patch {
                        outline,
                        redrawn: true,
                        ..patch.clone()
                    }));
                }
            }
        }
        if !crossed {
            return Err(Refusal::new(
                "nothing-to-divide",
                "This cut crosses no patch: it runs along seams or over a placed block. Draw it across the cloth.",
            ));
        }
        if drawn.patches.len() > MOST_PATCHES {
            return Err(too_many());
        }
        if drawn.patches.iter().any(|p| p.redrawn && !p.outline.sound()) {
            return Err(Refusal::new(
                "too-narrow",
                "This cut would leave a patch too narrow to be sewn. Move one end of it a little.",
            ));
        }
        Ok(drawn)
    }
}

pub(super) fn too_many() -> Refusal {
    Refusal::new(
        "too-many-patches",
        format!("A block drawn by hand has at most {MOST_PATCHES} patches. Place smaller blocks inside instead."),
    )
}

/// The parts of an outline on both sides of the cut; `None` when the cut does not divide it.
fn split(outline: &Outline, from: Point, to: Point) -> Option<Vec<Outline>> {
    let (a, b) = chord(outline, from, to)?;
    let (one, other) = cut_along(outline, a, b);
    let mut parts = Vec::new();
    for half in [one, other] {
        match split(&half, from, to) {
            Some(more) => parts.extend(more),
            None => parts.push(half),
        }
    }
    Some(parts)
}

/// The first stretch of the cut's line that runs through the inside and is touched by the cut.
fn chord(outline: &Outline, from: Point, to: Point) -> Option<(Point, Point)> {
    let along = to - from;
    let length = along.hypot();
    let mut meetings = meetings(outline, from, to);
    meetings.sort_by(|a, b| a.along.total_cmp(&b.along));
    meetings.dedup_by(|a, b| same(a.at, b.at));
    let path = outline.path();
    for pair in meetings.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let overlap = b.along.min(1.0) - a.along.max(0.0);
        if overlap * length < SAME * 2.0 {
            continue;
        }
        let middle = a.at.midpoint(b.at);
        if kurbo::Shape::contains(&path, middle) && !outline.touches(middle) {
            return Some((a.at, b.at));
        }
    }
    None
}

/// Where the endless line through both points meets the outline; corners that lie on it are met exactly.
fn meetings(outline: &Outline, from: Point, to: Point) -> Vec<Meeting> {
    let along = to - from;
    let length = along.hypot();
    let place = |at: Point| (at - from).dot(along) / (length * length);
    let off = |at: Point| (along.cross(at - from) / length).abs();
    let mut found = Vec::new();
    for side in outline.sides() {
        let ends = [side.from(), side.to()];
        let mut by_corner = false;
        for at in ends {
            if off(at) < SAME {
                found.push(Meeting { along: place(at), at });
                by_corner = true;
            }
        }
        for t in side.meets(from, along) {
            let at = side.along(t);
            // What is met at a corner was met exactly above.
            if by_corner && ends.iter().any(|corner| (at - *corner).hypot() < SAME * 20.0) {
                continue;
            }
            found.push(Meeting { along: place(at), at });
        }
    }
    found
}

/// Both parts of an outline cut straight between two places on it.
fn cut_along(outline: &Outline, a: Point, b: Point) -> (Outline, Outline) {
    let cornered = outline.with_corner(a).with_corner(b);
    let sides = cornered.sides();
    let n = sides.len();
    let at = |p: Point| (0..n).find(|&i| same(sides[i].from(), p)).unwrap_or(0);
    let (ia, ib) = (at(a), at(b));
    let walk = |first: usize, last: usize, from: Point, to: Point| {
        let mut walked: Vec<Side> = Vec::new();
        let mut i = first;
        while i != last {
            walked.push(sides[i]);
            i = (i + 1) % n;
        }
        if let Some(side) = walked.first_mut() {
            *side = side.between(from, side.to());
        }
        if let Some(side) = walked.last_mut() {
            *side = side.between(side.from(), to);
        }
        walked.push(Side::straight(to, from));
        Outline::new(walked)
    };
    (walk(ia, ib, a, b), walk(ib, ia, b, a))
}
