//! Bowed sides: outlines some of whose straights are those of a drawn curve, and the templates cut for them.

use crate::settings::Settings;
use measure::Printed;
use recipe::{Bow, DemandShape, Template, TemplateCorner};
use shape::{Line, Point, Polygon, Vector};

/// The cosine of the widest turn within a curve, 8 degrees: a little less than the table allows.
const SMOOTH: f64 = 0.990_268_068_741_570;

/// A point narrower than this (the cotangent of half its angle, at 28 degrees) is printed blunt beside a bowed edge.
const BLUNT: f64 = 4.0;

/// A blunt point reaches so many seams beyond the finished corner.
const REACH: f64 = 2.0;

/// Curves this long (inches) get marks at their quarters, and this long at their middle, besides their ends.
const QUARTERS: f64 = 4.0;
const MIDDLE: f64 = 1.5;

/// Whether a line that came along `u` goes on along `v` as a curve does.
pub fn goes_on(u: Vector, v: Vector) -> bool {
    u.unit().zip(v.unit()).is_some_and(|(u, v)| u.dot(v) >= SMOOTH)
}

/// The sides of an outline: each straight, or the whole of a smooth curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Sides {
    /// For each straight of the outline its side, numbered round from the first corner.
    pub of: Vec<usize>,
    /// For each side the straight that begins it.
    pub starts: Vec<usize>,
}

impl Sides {
    /// Of an outline, of whose straights these are of curves; `None` when it is one curve without a corner.
    pub fn of(outline: &Polygon, curved: &[bool]) -> Option<Self> {
        let n = outline.len();
        let bowed = |i: usize| curved.get(i % n) == Some(&true);
        let along = |i: usize| outline.corner(i + 1) - outline.corner(i);
        let starts: Vec<usize> = (0..n)
            .filter(|&i| !(bowed(i) && bowed(i + n - 1) && goes_on(along(i + n - 1), along(i))))
            .collect();
        let first = *starts.first()?;
        let mut of = vec![0; n];
        for k in 0..n {
            let i = (first + k) % n;
            of[i] = starts.partition_point(|&s| s <= first + k).max(1) - 1;
        }
        // Straights before the first corner belong to the last side.
        for (i, side) in of.iter_mut().enumerate() {
            if i < first {
                *side = starts.len() - 1;
            }
        }
        Some(Sides { of, starts })
    }

    /// How many.
    pub fn len(&self) -> usize {
        self.starts.len()
    }

    /// The straights of a side, in order.
    pub fn straights(&self, side: usize) -> Vec<usize> {
        let n = self.of.len();
        let start = self.starts[side];
        (start..start + n)
            .map(|i| i % n)
            .take_while(|&i| self.of[i] == side)
            .collect()
    }
}

/// Where marks are printed for an outline: at both ends of each bowed side, and at its middle and quarters where it is long.
pub fn marks(outline: &Polygon, curved: &[bool]) -> Vec<Point> {
    let Some(sides) = Sides::of(outline, curved) else {
        return Vec::new();
    };
    let mut found: Vec<Point> = Vec::new();
    for side in 0..sides.len() {
        let straights = sides.straights(side);
        if !curved[straights[0]] {
            continue;
        }
        let mut places: Vec<Point> = straights.iter().map(|&i| outline.corner(i)).collect();
        places.extend(straights.last().map(|&i| outline.corner(i + 1)));
        let length = length(&places);
        let shares: &[f64] = if length >= QUARTERS {
            &[0.0, 0.25, 0.5, 0.75, 1.0]
        } else if length >= MIDDLE {
            &[0.0, 0.5, 1.0]
        } else {
            &[0.0, 1.0]
        };
        for share in shares {
            let at = along(&places, length * share);
            // Two curves that end in one corner have one dot there.
            if found.iter().all(|p| p.distance(at) > shape::WELD) {
                found.push(at);
            }
        }
    }
    found
}

/// The length of a chain of straights.
pub fn length(places: &[Point]) -> f64 {
    places.windows(2).map(|w| w[0].distance(w[1])).sum()
}

fn along(places: &[Point], mut reach: f64) -> Point {
    for w in places.windows(2) {
        let straight = w[0].distance(w[1]);
        if reach <= straight {
            return w[0].toward(w[1], reach / straight.max(f64::MIN_POSITIVE));
        }
        reach -= straight;
    }
    places.last().copied().unwrap_or_default()
}

/// The template of a finished outline with bowed sides, and for each of its straights the number of the template's edge.
pub fn template(finished: &Polygon, curved: &[bool], settings: &Settings) -> Option<(DemandShape, Vec<u32>)> {
    let seam = settings.seam_inches();
    let n = finished.len();
    let sides = Sides::of(finished, curved)?;
    let outer: Vec<Line> = (0..n)
        .map(|i| finished.edge(i).map(|e| e.moved_left(-seam)))
        .collect::<Option<_>>()?;
    let moved = |i: usize| {
        let (before, after) = (outer[(i + n - 1) % n], outer[i]);
        // On a straight run the corner moves straight out.
        let straight_on = before.along.cross(after.along).abs() < 1.0e-6 && before.along.dot(after.along) > 0.0;
        if straight_on {
            Some(finished.corner(i) + after.along.left() * -seam)
        } else {
            before.crossing(after)
        }
    };
    let mut corners: Vec<Point> = Vec::new();
    let mut bows: Vec<(u32, Vec<Point>)> = Vec::new();
    let mut edges = vec![0u32; n];
    for side in 0..sides.len() {
        let straights = sides.straights(side);
        let start = straights[0];
        let before = (start + n - 1) % n;
        match blunt(finished, start).filter(|_| curved[start] || curved[before]) {
            Some(line) => corners.extend([outer[before].crossing(line(seam))?, outer[start].crossing(line(seam))?]),
            None => corners.push(moved(start)?),
        }
        let number = corners.len() as u32 - 1;
        for &i in &straights {
            edges[i] = number;
        }
        if curved[start] {
            let through: Vec<Point> = straights[1..].iter().map(|&i| moved(i)).collect::<Option<_>>()?;
            if !through.is_empty() {
                bows.push((number, through));
            }
        }
    }
    let all = corners.iter().chain(bows.iter().flat_map(|(_, through)| through));
    let (low, _) = Polygon::new(all.copied().collect()).bounds();
    let place = |p: &Point| {
        Some(TemplateCorner {
            right: Printed::nearest(p.x - low.x)?,
            up: Printed::nearest(p.y - low.y)?,
        })
    };
    let places = |all: &[Point]| all.iter().map(place).collect::<Option<Vec<_>>>();
    let template = Template {
        name: String::new(),
        corners: places(&corners)?,
        bows: bows
            .iter()
            .map(|(edge, through)| {
                Some(Bow {
                    edge: *edge,
                    through: places(through)?,
                })
            })
            .collect::<Option<_>>()?,
        marks: places(&marks(finished, curved))?,
        applique: None,
    };
    Some((DemandShape::Template { template }, edges))
}

/// Where the point at a corner is so sharp that it is printed blunt: the line that cuts it, by the seam.
fn blunt(outline: &Polygon, corner: usize) -> Option<impl Fn(f64) -> Line> {
    let n = outline.len();
    let at = outline.corner(corner);
    let back = (outline.corner(corner + n - 1) - at).unit()?;
    let on = (outline.corner(corner + 1) - at).unit()?;
    let inward = (back + on).unit()?;
    // Half the inner angle lies between the bisector and either side.
    let (cos, sin) = (
        inward.dot(on),
        on.cross(back).max(0.0) / 2.0 / inward.dot(on).max(f64::MIN_POSITIVE),
    );
    let hollow = on.cross(back) < 0.0;
    if hollow || cos <= BLUNT * sin {
        return None;
    }
    Some(move |seam: f64| Line {
        through: at + inward * (-REACH * seam),
        along: inward.left(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A quarter of a circle: its corner, then its arc.
    fn quarter(radius: f64, chords: usize) -> (Polygon, Vec<bool>) {
        let mut corners = vec![Point::ORIGIN];
        let step = std::f64::consts::FRAC_PI_2 / chords as f64;
        let at = |k: usize| Point::new(libm::cos(step * k as f64), libm::sin(step * k as f64));
        corners.extend((0..=chords).map(at).map(|p| Point::new(p.x * radius, p.y * radius)));
        let curved = (0..chords + 2).map(|i| (1..=chords).contains(&i)).collect();
        (Polygon::new(corners), curved)
    }

    #[test]
    fn an_arc_is_one_side() {
        let (outline, curved) = quarter(4.0, 36);
        let sides = Sides::of(&outline, &curved).unwrap();
        assert_eq!(sides.starts, [0, 1, 37]);
        assert_eq!(sides.straights(1).len(), 36);
        assert_eq!(sides.of[20], 1);
        // begun anywhere, the numbers begin at the first corner from there
        let mut corners = outline.corners().to_vec();
        let mut turned = curved.clone();
        corners.rotate_left(10);
        turned.rotate_left(10);
        let sides = Sides::of(&Polygon::new(corners), &turned).unwrap();
        assert_eq!(sides.starts, [27, 28, 29]);
        assert_eq!((sides.of[0], sides.of[26], sides.of[27], sides.of[37]), (2, 2, 0, 2));
        assert_eq!(sides.straights(2).len(), 36);
    }

    #[test]
    fn marks_lie_at_the_quarters() {
        // derived: at 0, 22.5, 45, 67.5 and 90 degrees of the circle
        let (outline, curved) = quarter(4.0, 36);
        let marks = marks(&outline, &curved);
        assert_eq!(marks.len(), 5);
        for (i, mark) in marks.iter().enumerate() {
            let angle = std::f64::consts::FRAC_PI_8 * i as f64;
            let place = Point::new(4.0 * libm::cos(angle), 4.0 * libm::sin(angle));
            assert!(mark.distance(place) < 1.0e-9, "{i}");
        }
        assert_eq!(super::marks(&quarter(1.5, 12).0, &quarter(1.5, 12).1).len(), 3);
    }
}
