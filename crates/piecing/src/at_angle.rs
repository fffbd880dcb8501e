//! Patches cut from a strip along a ruler's line at an angle: diamonds, triangles of 60 degrees, wedges of 45.
//!
//! Their own sides are irrational, but what a maker measures is not: the strip, and from cut to cut straight across; a
//! triangle's cuts begin where the last one meets the edge, a wedge's a blunt point further on. The ruler is turned end
//! for end after each cut of a triangle or wedge, so that they lie head to tail.

use crate::patch::{CutWay, PatchCut};
use crate::settings::Settings;
use crate::whys::{Whys, with_seams};
use measure::{Length, Surd, Way, Why};
use recipe::{CutAngle, DemandShape, RulerCut, Turn};
use shape::{Polygon, Vector};

/// Ratios and lengths of a drawing closer than this are equal.
const SAME: f64 = 1.0e-5;

/// How far a wedge's side would lie off if its blunt point were just as wide as the mark it is told by.
const STRAY: f64 = 1.0 / 128.0;

/// The cut of a patch at a ruler's angle, its strip on marks; the sides along the grain lie along the strip if they can.
pub fn at_angle(patch: &Polygon, grain: Vector, settings: &Settings, whys: &mut Whys) -> Option<PatchCut> {
    let along = |i: usize| patch.edge(i).map(|e| e.along);
    let on_grain = |i: usize| along(i).is_some_and(|a| a.dot(grain).abs() < SAME || a.cross(grain).abs() < SAME);
    let mut bases: Vec<usize> = (0..patch.len()).collect();
    bases.sort_by_key(|&i| !on_grain(i));
    let (base, shape) = bases.iter().find_map(|&base| {
        let shape = match patch.len() {
            4 => diamond(patch, base, settings, whys),
            3 => triangle(patch, base, settings, whys),
            _ => None,
        };
        shape.map(|shape| (base, shape))
    })?;
    let n = patch.len();
    // Of a triangle the upper edge has no length, or is the blunt point beyond all seams.
    let numbers: &[u32] = if n == 4 { &[0, 1, 2, 3] } else { &[0, 1, 3] };
    let edges = (0..n).map(|i| numbers[(i + n - base) % n]).collect();
    Some(PatchCut {
        shape,
        edges,
        turns: vec![Turn::As, Turn::Half],
        way: CutWay::AtAngle,
        off_grain: !on_grain(base),
    })
}

/// The mark that a measure across a drawing at an angle lies on: its corners have no finite decimals, so the figures of the
/// file are a little off, too little for a hundred of them in a row to tell.
pub fn near_mark(inches: f64, settings: &Settings) -> Option<Length> {
    let near = settings.ruling.round(inches, Way::Nearest)?;
    ((near.to_inches() - inches).abs() <= 2.0 * SAME).then_some(near)
}

/// The ruler's angle of a line that moves so far along for each inch across.
pub fn angle_of(cotangent: f64) -> Option<CutAngle> {
    let near = |angle: &CutAngle| (angle.cotangent() - cotangent.abs()).abs() < SAME;
    CutAngle::ALL.into_iter().find(near)
}

/// A parallelogram's angle at one corner and its two widths, square to its sides.
#[derive(Clone, Copy, Debug)]
pub struct Leaning {
    /// At a line of every ruler.
    pub angle: CutAngle,
    /// The left side leans to the right.
    pub right: bool,
    /// From side `base` to the opposite one.
    pub high: f64,
    /// From the side before it to the side after.
    pub across: f64,
}

impl Leaning {
    /// A parallelogram seen with side `base` below; `None` for any other outline, and for angles without a line.
    pub fn of(patch: &Polygon, base: usize) -> Option<Self> {
        if patch.len() != 4 {
            return None;
        }
        let corner = |i: usize| patch.corner(base + i);
        let (side, up) = (corner(1) - corner(0), corner(3) - corner(0));
        let parallel = corner(2).distance(corner(1) + up) < SAME;
        let along = side.unit()?;
        let (reach, high) = (up.dot(along), up.dot(along.left()));
        if !parallel || high < SAME {
            return None;
        }
        let angle = angle_of(reach / high).filter(|angle| *angle != CutAngle::Wedge)?;
        Some(Leaning {
            angle,
            right: reach > 0.0,
            high,
            across: side.length() * angle.sine(),
        })
    }
}

/// One over the sine of an angle that every ruler has.
pub fn per_sine(angle: CutAngle) -> Why {
    let (numerator, root, denominator) = match angle {
        CutAngle::Thirty => (2, 1, 1),
        CutAngle::FortyFive => (1, 2, 1),
        CutAngle::Sixty => (2, 3, 3),
        CutAngle::Wedge => return Why::given("one over the sine of 67 1/2 degrees", 1.0 / angle.sine()),
    };
    Why::Surd(Surd {
        numerator,
        root,
        denominator,
    })
}

fn units(inches: f64) -> Length {
    Length::nearest(inches).unwrap_or(Length::ZERO)
}

fn diamond(patch: &Polygon, base: usize, settings: &Settings, whys: &mut Whys) -> Option<DemandShape> {
    let Leaning {
        angle,
        right,
        high,
        across,
    } = Leaning::of(patch, base)?;
    let seams = 2.0 * settings.seam_inches();
    near_mark(high + seams, settings)?;
    near_mark(across + seams, settings)?;
    let (mark, seam) = (settings.ruling.mark(), settings.seam);
    let on_mark = |what: &str, finished: f64| with_seams(what, finished, seam).to_mark(mark, Way::Nearest);
    let across = on_mark("finished width, straight across", across);
    let side = whys.size(Why::Product(vec![across.clone(), per_sine(angle)]));
    let height = whys.size(on_mark("finished width", high));
    let lead = units(height.inches() * angle.cotangent());
    Some(DemandShape::Slant {
        height,
        lower: side,
        upper: side,
        lead: if right { lead } else { Length::ZERO - lead },
        ruler: Some(RulerCut {
            angle,
            across: Some(whys.size(across)),
        }),
    })
}

fn triangle(patch: &Polygon, base: usize, settings: &Settings, whys: &mut Whys) -> Option<DemandShape> {
    let corner = |i: usize| patch.corner(base + i);
    let side = corner(1) - corner(0);
    let along = side.unit()?;
    let up = corner(2) - corner(0);
    let high = up.dot(along.left());
    if (up.dot(along) - side.length() / 2.0).abs() > SAME || high < SAME {
        return None;
    }
    match angle_of(up.dot(along) / high)? {
        CutAngle::Sixty => sharp(high, settings, whys),
        CutAngle::Wedge => blunt(high, settings, whys),
        _ => None,
    }
}

/// A triangle of 60 degrees from point to edge: a seam at its base and two at its point.
fn sharp(high: f64, settings: &Settings, whys: &mut Whys) -> Option<DemandShape> {
    let seam = settings.seam_inches();
    near_mark(high + 3.0 * seam, settings)?;
    let angle = CutAngle::Sixty;
    let height = Why::Sum(vec![
        Why::given("finished height", high),
        Why::given("seam", seam)
            .times(3, 1, 1)
            .named("a seam at the base, two at the point"),
    ]);
    let height = height.to_mark(settings.ruling.mark(), Way::Nearest);
    let side = whys.size(Why::Product(vec![height.clone(), per_sine(angle)]));
    let height = whys.size(height);
    Some(DemandShape::Slant {
        height,
        lower: side,
        upper: whys.given("point", 0.0),
        lead: units(height.inches() * angle.cotangent()),
        ruler: Some(RulerCut { angle, across: None }),
    })
}

/// A wedge of 45 degrees, its point cut blunt by the strip's upper edge: of the strips that leave cloth at the end of both
/// seams the first whose blunt point is as wide as a mark, as near as an eye can tell. It is planned as wide as it is: what
/// is too little for the eye would add up over a row of blocks.
fn blunt(high: f64, settings: &Settings, whys: &mut Whys) -> Option<DemandShape> {
    let angle = CutAngle::Wedge;
    let (seam, mark) = (settings.seam_inches(), settings.ruling.mark());
    // The half angle at the point is 22 1/2 degrees: its tangent is the cotangent of the sides' angle, its cosine their sine.
    let (tangent, cosine) = (angle.cotangent(), angle.sine());
    let sharp = high + seam + seam / (tangent * cosine);
    // A stitch line ends on the other side's raw edge, s/sin 45 from the point along it.
    let least = sharp - seam * 2.0_f64.sqrt() * cosine;
    let mut height = settings.ruling.round(least, Way::Up)?;
    let point = loop {
        let wide = 2.0 * (sharp - height.to_inches()) * tangent;
        let near = settings.ruling.round(wide, Way::Nearest)?;
        // Both sides lie off by half of what the point is, seen square to them.
        let off = (near.to_inches() - wide).abs() / 2.0 * cosine;
        if near > Length::ZERO && off <= STRAY {
            break wide;
        }
        height += mark;
        if height.to_inches() > sharp {
            return None;
        }
    };
    near_mark(high, settings)?;
    let room = Why::given("seam and cloth at the blunt point", height.to_inches() - high - seam);
    let height = Why::Sum(vec![
        Why::given("finished height", high),
        Why::given("seam at the base", seam),
        room,
    ]);
    let height = height.to_mark(mark, Way::Nearest);
    let wider = Why::Product(vec![
        height.clone(),
        Why::given("twice the lean, along by up", 2.0 * tangent),
    ]);
    let base = whys.size(Why::Sum(vec![Why::given("blunt point", point), wider]));
    let height = whys.size(height);
    Some(DemandShape::Slant {
        height,
        lower: base,
        upper: whys.given("blunt point", point),
        lead: units(height.inches() * tangent),
        ruler: Some(RulerCut { angle, across: None }),
    })
}
