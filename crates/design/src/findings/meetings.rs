//! What meets what in the finished top: `weak-contrast` between neighbours, `too-many-seams` at one place. Both look at
//! the picture, so that neighbours in different blocks are seen as well.

use crate::contrast::color_difference;
use crate::together::{BLURRED, HARDLY_IN_GREY, lightness};
use crate::{Design, Fabric};
use shape::Point;
use std::collections::{BTreeMap, BTreeSet};
use terms::{FabricId, Face, Finding, Place, TopPicture};

/// More seams than this at one place are a lump.
const MOST_SEAMS: usize = 8;
/// How long two patches must lie side by side to be neighbours, inches.
const SIDE_BY_SIDE: f64 = 1.0 / 16.0;
/// Places and lines are sorted into classes this wide, inches.
const CLASS: f64 = 1.0 / 64.0;
/// Moves class limits away from the fractions that drawings use.
const CLASS_SHIFT: f64 = 0.001_37;

fn class(x: f64) -> i64 {
    ((x + CLASS_SHIFT) / CLASS).floor() as i64
}

pub(crate) fn find(design: &Design) -> Vec<Finding> {
    let picture = design.top_picture();
    let mut findings = weak_contrast(design, &picture);
    findings.extend(too_many_seams(&picture));
    findings
}

/// A side of a face: which way its line runs and how far off the origin, the face's side of it, and its stretch.
struct Side {
    line: (i64, i64),
    left: bool,
    from: f64,
    to: f64,
    fabric: usize,
    middle: Point,
}

/// How two cloths are hardly told apart.
enum Weak {
    InColor(f64),
    InGrey(f64),
}

fn weak_contrast(design: &Design, picture: &TopPicture) -> Vec<Finding> {
    let used: BTreeSet<&FabricId> = picture.faces.iter().map(|f| &f.fabric).collect();
    let fabrics: Vec<&Fabric> = used.into_iter().filter_map(|id| design.fabric(id)).collect();
    let mut weak: BTreeMap<(usize, usize), Weak> = BTreeMap::new();
    for (i, a) in fabrics.iter().enumerate() {
        for (j, b) in fabrics.iter().enumerate().skip(i + 1) {
            let difference = color_difference(a.color, b.color);
            let apart = (lightness(a.color) - lightness(b.color)).abs();
            if difference < BLURRED {
                weak.insert((i, j), Weak::InColor(difference));
            } else if apart < HARDLY_IN_GREY {
                weak.insert((i, j), Weak::InGrey(apart));
            }
        }
    }
    if weak.is_empty() {
        return Vec::new();
    }
    let number: BTreeMap<&FabricId, usize> = fabrics.iter().enumerate().map(|(i, f)| (&f.name, i)).collect();
    let met = side_by_side(picture, &number, &|i, j| weak.contains_key(&(i, j)));
    met.into_iter()
        .filter_map(|((i, j), Meeting { at, .. })| {
            let (a, b) = (fabrics.get(i)?, fabrics.get(j)?);
            let weak = weak.get(&(i, j))?;
            if let Weak::InGrey(apart) = weak {
                return Some(in_grey(a, b, *apart, at));
            }
            let Weak::InColor(difference) = weak else { return None };
            Some(Finding::care(
                "weak-contrast",
                Place::Top { at },
                format!(
                    "{} and {} lie side by side and differ by only {difference:.1} (CIEDE2000; 10 is easily seen).",
                    a.label, b.label
                ),
                "Choose one of them lighter or darker, unless they are meant to blend.",
            ))
        })
        .collect()
}

fn in_grey(a: &Fabric, b: &Fabric, apart: f64, at: Point) -> Finding {
    Finding::care(
        "weak-in-grey",
        Place::Top { at },
        format!(
            "{} and {} lie side by side and are told apart by hue alone: their lightness differs by only {apart:.1} of 100 (L*).",
            a.label, b.label
        ),
        "Choose one of them lighter or darker, unless the hue is to do it.",
    )
}

/// Where two cloths lie side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Meeting {
    /// The middle of the leftmost, lowest place.
    pub at: Point,
    /// How far in all, inches.
    pub along: f64,
}

/// The pairs of numbered cloths that are wanted and lie side by side somewhere, the lower number first.
pub(crate) fn side_by_side(
    picture: &TopPicture,
    number: &BTreeMap<&FabricId, usize>,
    wanted: &dyn Fn(usize, usize) -> bool,
) -> BTreeMap<(usize, usize), Meeting> {
    let all = number.values().copied();
    let concerned: BTreeSet<usize> = all
        .clone()
        .filter(|&i| all.clone().any(|j| wanted(i.min(j), i.max(j))))
        .collect();
    let mut sides: Vec<Side> = Vec::new();
    for face in &picture.faces {
        match number.get(&face.fabric) {
            Some(&fabric) if concerned.contains(&fabric) => sides_of(face, fabric, &mut sides),
            _ => {}
        }
    }
    sides.sort_by(|a, b| a.line.cmp(&b.line).then(a.from.total_cmp(&b.from)));
    let mut met: BTreeMap<(usize, usize), Meeting> = BTreeMap::new();
    let mut open: Vec<&Side> = Vec::new();
    for side in &sides {
        open.retain(|o| o.line == side.line && o.to > side.from + SIDE_BY_SIDE);
        for other in &open {
            let pair = (side.fabric.min(other.fabric), side.fabric.max(other.fabric));
            let along = side.to.min(other.to) - side.from;
            if other.left != side.left && along > SIDE_BY_SIDE && wanted(pair.0, pair.1) {
                // Of all their meetings the leftmost, lowest is told.
                let told = met.entry(pair).or_insert(Meeting {
                    at: side.middle,
                    along: 0.0,
                });
                told.along += along;
                if (side.middle.x, side.middle.y) < (told.at.x, told.at.y) {
                    told.at = side.middle;
                }
            }
        }
        open.push(side);
    }
    met
}

fn sides_of(face: &Face, fabric: usize, sides: &mut Vec<Side>) {
    for i in 0..face.outline.len() {
        let Some(edge) = face.outline.edge(i) else { continue };
        let (a, b) = (face.outline.corner(i), face.outline.corner(i + 1));
        let forward = edge.along.x > 1.0e-9 || (edge.along.x > -1.0e-9 && edge.along.y > 0.0);
        let along = if forward { edge.along } else { -edge.along };
        let reach = |p: Point| along.dot(p - Point::ORIGIN);
        let off = along.cross(a - Point::ORIGIN);
        let angle = (libm::atan2(along.y, along.x) * 1.0e4).round() as i64;
        sides.push(Side {
            line: (angle, class(off)),
            left: forward,
            from: reach(a).min(reach(b)),
            to: reach(a).max(reach(b)),
            fabric,
            middle: a.toward(b, 0.5),
        });
    }
}

fn too_many_seams(picture: &TopPicture) -> Option<Finding> {
    // Each corner of each face: its place, and the two ways that seams run from it.
    let mut ways: Vec<((i64, i64), i64, Point)> = Vec::new();
    let full = (std::f64::consts::TAU * 1.0e3).round() as i64;
    for face in &picture.faces {
        let n = face.outline.len();
        for i in 0..n {
            let at = face.outline.corner(i);
            for to in [face.outline.corner(i + 1), face.outline.corner(i + n - 1)] {
                let way = to - at;
                let angle = ((libm::atan2(way.y, way.x) * 1.0e3).round() as i64).rem_euclid(full);
                ways.push(((class(at.x), class(at.y)), angle, at));
            }
        }
    }
    ways.sort_by_key(|w| (w.0, w.1));
    let mut places = 0;
    let mut worst: Option<(usize, Point)> = None;
    for group in ways.chunk_by(|a, b| a.0 == b.0) {
        let seams = group.chunk_by(|a, b| a.1 == b.1).count();
        if seams > MOST_SEAMS {
            places += 1;
            if worst.is_none_or(|(most, _)| seams > most) {
                worst = group.first().map(|g| (seams, g.2));
            }
        }
    }
    let (most, at) = worst?;
    let how_often = match places {
        1 => "at one place".to_string(),
        n => format!("at {n} places"),
    };
    Some(Finding::care(
        "too-many-seams",
        Place::Top { at },
        // Each cut piece goes on a seam's width beyond the place on every side, so folded or flat it covers it once all round:
        // as many layers as pieces meet, whichever way the seams are pressed (derived).
        format!(
            "More than 8 seams meet {how_often} of the top; here {most} do, so {most} layers of cloth lie on one another there, whichever way they are pressed: a lump."
        ),
        "Press them open so that the layers lie spread, trim every dog ear, or draw a small patch over the place.",
    ))
}
