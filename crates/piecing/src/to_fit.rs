//! Border strips cut to fit: where a side is no length of a ruler's, its strip is cut longer than need be. Sewn to its
//! neighbour it is trimmed flush with that; a strip that brings what is sewn so far to a size on the marks is cut wider and the
//! whole trimmed to that; a strip between two others is cut as measured.

use crate::class::Placed;
use crate::ends::{EndKind, end_kind, inner_angle};
use crate::patch::{CutWay, lying, rectangle_side, upright};
use crate::plan::{Making, Planner};
use crate::settings::Settings;
use crate::tokens::Content;
use crate::whys::Whys;
use design::Up;
use measure::{Measure, Way, Why};
use recipe::{DemandShape, Turn};
use shape::{Line, Polygon, Vector, WELD};
use std::ops::RangeInclusive;
use terms::FabricId;

/// How one strip among the parts of a unit is cut and fitted.
#[derive(Clone, Debug)]
pub struct Fit {
    /// Its cloth.
    pub fabric: FabricId,
    /// Its print's up, in the unit's frame.
    pub up: Option<Up>,
    /// Along the seam: cut so long, seams included, where that is more than is needed.
    pub longer: Option<Why>,
    /// Across the seams.
    pub across: Across,
    /// The finished outline of what is cut, in the unit's frame; side `i` as the strip's.
    pub outline: Polygon,
    /// Side of the strip that runs along the seam on its left, counting from the first part to the last.
    pub along: usize,
}

/// How a strip comes to its size across the seams.
#[derive(Clone, Debug)]
pub enum Across {
    /// Cut so.
    AsCut,
    /// Cut wider, seams included; as soon as these parts are sewn together they are trimmed to so much, finished.
    Trimmed {
        /// The strip's cut size.
        cut: Why,
        /// The parts, the strip outermost among them.
        parts: RangeInclusive<usize>,
        /// Their finished size.
        size: f64,
    },
    /// Cut longer, seams included, and cut to so much, finished, before it is sewn.
    Measured {
        /// The strip's first cut size.
        cut: Why,
        /// Its finished size.
        finished: f64,
    },
}

/// Cloth to hold on to while an end is trimmed, inches: half an inch, a centimetre (common practice: cut long).
pub(crate) fn to_spare(settings: &Settings) -> f64 {
    match settings.measure {
        Measure::Inch => 0.5,
        Measure::Metric => 1.0 / 2.54,
    }
}

/// A long rectangle as it is cut when no ruler shows its length, finished, and its finished length; `None` where one does.
pub(crate) fn as_cut_longer(outline: &Polygon, settings: &Settings) -> Option<(Polygon, f64)> {
    rectangle_side(outline)?;
    let seams = 2.0 * settings.seam_inches();
    let sides = [0, 1].map(|i| outline.corner(i).distance(outline.corner(i + 1)));
    let long = usize::from(sides[1] > sides[0]);
    if settings.ruling.on_mark(sides[long] + seams).is_some() {
        return None;
    }
    let spare = to_spare(settings);
    let up = |finished: f64, spare: f64| {
        let cut = settings.ruling.round(finished + seams + spare, Way::Up)?;
        Some(cut.to_inches() - seams)
    };
    let wide = sides[1 - long];
    let wide = match settings.ruling.on_mark(wide + seams) {
        Some(_) => wide,
        None => up(wide, spare / 2.0)?,
    };
    let mut cut = [0.0; 2];
    (cut[long], cut[1 - long]) = (up(sides[long], spare)?, wide);
    let (one, two) = (outline.edge(0)?.along, outline.edge(1)?.along);
    let from = outline.corner(0);
    let across = from + one * cut[0];
    let longer = Polygon::new(vec![from, across, across + two * cut[1], from + two * cut[1]]);
    Some((longer, sides[long]))
}

/// The parts of a unit that are strips to be fitted, and how.
pub fn of(planner: &mut Planner<'_>, parts: &[Placed], seams: &[Line]) -> Vec<Option<Fit>> {
    let outlines: Vec<Polygon> = parts
        .iter()
        .map(|part| part.motion.polygon(&planner.classes.get(part.class).outline))
        .collect();
    let settings = planner.settings;
    let strips: Vec<_> = parts.iter().map(|&part| strip(planner, part)).collect();
    let is_long = |at: &usize| strips[*at].is_some() && as_cut_longer(&outlines[*at], settings).is_some();
    let mut anchor = (0..parts.len()).find(|at| !is_long(at)).unwrap_or(0);
    // A strip that cannot be fitted is cut as it is: then what is sewn outward from it may begin elsewhere.
    for _ in 0..=parts.len() {
        let fits = outward(settings, &strips, &outlines, seams, anchor);
        let next = anchor_of(&fits);
        if next == anchor {
            return fits;
        }
        anchor = next;
    }
    vec![None; parts.len()]
}

/// The part that the others are sewn to, outward: the first that is there as long as it will be.
pub fn anchor_of(fits: &[Option<Fit>]) -> usize {
    let long = |fit: &Option<Fit>| fit.as_ref().is_some_and(|fit| fit.longer.is_some());
    fits.iter().position(|fit| !long(fit)).unwrap_or(0)
}

/// How each strip is fitted when they are sewn outward from one part: each beyond it is trimmed along the one before.
fn outward(
    settings: &Settings,
    strips: &[Option<(FabricId, Option<Up>)>],
    outlines: &[Polygon],
    seams: &[Line],
    anchor: usize,
) -> Vec<Option<Fit>> {
    let order = as_sewn(outlines.len(), anchor);
    let across = brought_to_marks(settings, outlines, seams, &order, |at| strips[at].is_some());
    let mut fits: Vec<Option<Fit>> = Vec::with_capacity(outlines.len());
    for (at, known) in strips.iter().enumerate() {
        let by = if at < anchor || at == 0 { at + 1 } else { at - 1 };
        let place = Among {
            outlines,
            at,
            by,
            brought: across[at].clone(),
        };
        let fit = known
            .clone()
            .and_then(|(fabric, up)| fitted(settings, seams, &place).map(|fit| (fabric, up, fit)))
            .and_then(|(fabric, up, (longer, across, outline, along))| {
                // A print lies as it must, or the strip is cut in another way.
                if let Some(up) = up {
                    upright(rectangle_side(&outline)?, up)?;
                }
                Some(Fit {
                    fabric,
                    up,
                    longer,
                    across,
                    outline,
                    along,
                })
            });
        fits.push(fit);
    }
    // Where all are long none is there as it will be: the first is cut as it is.
    if fits
        .iter()
        .all(|fit| fit.as_ref().is_some_and(|fit| fit.longer.is_some()))
        && let Some(first) = fits.first_mut()
    {
        *first = None;
    }
    fits
}

/// A part that is one border strip no ruler cuts: its cloth and its print's up as it lies in the unit.
fn strip(planner: &mut Planner<'_>, part: Placed) -> Option<(FabricId, Option<Up>)> {
    let class = planner.classes.get(part.class);
    let [face] = class.faces[..] else { return None };
    let block = &planner.blocks[class.home];
    let Content::Patch { fabric, up, role, .. } = &block.tokens[face].content else {
        return None;
    };
    if role != "border" || rectangle_side(&class.outline).is_none() {
        return None;
    }
    let up = up.map(|up| Up {
        toward: part.motion.vector(up.toward),
        ..up
    });
    let fabric = fabric.clone();
    match &planner.plan(part.class).making {
        Making::Piece(cut) if cut.way == CutWay::Template => Some((fabric, up)),
        _ => None,
    }
}

/// The parts that are together after each seam, when they are sewn from one outward: to the right, then to the left.
pub(crate) fn as_sewn(parts: usize, anchor: usize) -> Vec<RangeInclusive<usize>> {
    let right = (anchor..parts).map(|last| anchor..=last);
    let left = (0..anchor).rev().map(|first| first..=parts - 1);
    right.chain(left).collect()
}

/// For each strip whose width lies between the marks when it is trimmed: the parts then sewn together, it outermost, that are on the marks
/// all together, and how wide they are.
fn brought_to_marks(
    settings: &Settings,
    outlines: &[Polygon],
    seams: &[Line],
    order: &[RangeInclusive<usize>],
    is_strip: impl Fn(usize) -> bool,
) -> Vec<Option<(RangeInclusive<usize>, f64)>> {
    let none = vec![None; outlines.len()];
    let Some(&line) = seams.first() else { return none };
    let wide = |parts: &RangeInclusive<usize>| {
        let corners = outlines[parts.clone()].iter().flat_map(Polygon::corners);
        let (low, high) = corners
            .map(|&c| line.offset_of(c))
            .fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
        high - low
    };
    let on_mark = |inches: f64| settings.ruling.on_mark(inches + 2.0 * settings.seam_inches()).is_some();
    let mut waiting: Vec<usize> = (0..outlines.len())
        .filter(|&at| is_strip(at) && !on_mark(wide(&(at..=at))))
        .collect();
    loop {
        let mut brought = none.clone();
        for parts in order {
            // One makes up for the rest: what it is measured from must be as it will be.
            let mut still = waiting
                .iter()
                .filter(|&&at| parts.contains(&at) && brought[at].is_none());
            if let (Some(&at), None) = (still.next(), still.next())
                && (at == *parts.start() || at == *parts.end())
                && parts.start() < parts.end()
                && on_mark(wide(parts))
            {
                brought[at] = Some((parts.clone(), wide(parts)));
            }
        }
        let before = waiting.len();
        waiting.retain(|&at| brought[at].is_some());
        if waiting.len() == before {
            return brought;
        }
    }
}

/// A strip among the parts of a unit.
struct Among<'a> {
    outlines: &'a [Polygon],
    at: usize,
    /// What it is sewn to.
    by: usize,
    /// The parts that are trimmed to a size on the marks once it is among them.
    brought: Option<(RangeInclusive<usize>, f64)>,
}

type Fitted = (Option<Why>, Across, Polygon, usize);

fn fitted(settings: &Settings, seams: &[Line], place: &Among<'_>) -> Option<Fitted> {
    let (seam, mark, outline) = (settings.seam, settings.ruling.mark(), &place.outlines[place.at]);
    let direction = seams.first()?.along;
    let along = (0..4).find(|&i| {
        outline
            .edge(i)
            .is_some_and(|e| e.along.cross(direction).abs() < 1.0e-6 && e.along.dot(direction) > 0.0)
    })?;
    let size = |i: usize| outline.corner(i).distance(outline.corner(i + 1));
    let (length, width) = (size(along), size(along + 1));
    let seams_in = 2.0 * settings.seam_inches();
    let on_mark = |inches: f64| settings.ruling.on_mark(inches + seams_in).is_some();
    let cut = |what: &str, finished: f64, spare: f64| {
        Why::Sum(vec![
            crate::whys::with_seams(what, finished, seam),
            Why::given("to trim away, at least", spare),
        ])
        .to_mark(mark, Way::Up)
    };
    let spare = to_spare(settings);
    let longer = if on_mark(length) {
        None
    } else {
        if !square_to(outline, place.outlines.get(place.by)?, direction) {
            return None;
        }
        Some(cut("finished length", length, spare))
    };
    let across = if on_mark(width) {
        Across::AsCut
    } else if width > length {
        Across::Measured {
            cut: cut("finished length", width, spare),
            finished: width,
        }
    } else {
        let (parts, size) = place.brought.clone()?;
        Across::Trimmed {
            cut: cut("finished width", width, spare / 2.0),
            parts,
            size,
        }
    };
    let finished = |why: &Why| why.value() - seams_in;
    let length = longer.as_ref().map_or(length, finished);
    let width = match &across {
        Across::AsCut => width,
        Across::Trimmed { cut, .. } | Across::Measured { cut, .. } => finished(cut),
    };
    let (one, two) = (outline.edge(0)?.along, outline.edge(1)?.along);
    let (first, second) = if along % 2 == 0 {
        (length, width)
    } else {
        (width, length)
    };
    let from = outline.corner(0);
    let outline = Polygon::new(vec![
        from,
        from + one * first,
        from + one * first + two * second,
        from + two * second,
    ]);
    Some((longer, across, outline, along))
}

/// Whether two outlines share a whole side along this direction and both are square at its ends.
fn square_to(strip: &Polygon, other: &Polygon, direction: Vector) -> bool {
    let sides = |of: &Polygon| {
        (0..of.len())
            .filter(|&i| of.edge(i).is_some_and(|e| e.along.cross(direction).abs() < 1.0e-6))
            .collect::<Vec<_>>()
    };
    let near = |a: shape::Point, b: shape::Point| a.distance(b) < 2.0 * WELD;
    let even = |a: usize, b: usize| {
        let angles = (inner_angle(strip, a % strip.len()), inner_angle(other, b % other.len()));
        matches!(angles, (Some(a), Some(b)) if end_kind(a, b) == EndKind::Even)
    };
    sides(strip).into_iter().any(|i| {
        sides(other).into_iter().any(|j| {
            near(strip.corner(i), other.corner(j + 1))
                && near(strip.corner(i + 1), other.corner(j))
                && even(i, j + 1)
                && even(i + 1, j)
        })
    })
}

/// What is cut for a strip no longer than the cloth is wide; for side `i` the number of the piece's edge; how it may lie.
pub fn piece(fit: &Fit, settings: &Settings, whys: &mut Whys) -> Option<(DemandShape, Vec<u32>, Vec<Turn>)> {
    let side = |i: usize| fit.outline.corner(i).distance(fit.outline.corner(i + 1));
    let mark = settings.ruling.mark();
    let as_it_is =
        |what: &str, finished: f64| crate::whys::with_seams(what, finished, settings.seam).to_mark(mark, Way::Nearest);
    let long = (fit.longer.clone()).unwrap_or_else(|| as_it_is("finished length", side(fit.along)));
    let wide = match &fit.across {
        Across::AsCut => as_it_is("finished width", side(fit.along + 1)),
        Across::Trimmed { cut, .. } | Across::Measured { cut, .. } => cut.clone(),
    };
    let (width, height) = if fit.along.is_multiple_of(2) {
        (long, wide)
    } else {
        (wide, long)
    };
    let (width, height) = (whys.size(width), whys.size(height));
    let turns = match fit.up {
        None => lying(false, true),
        Some(up) => upright(rectangle_side(&fit.outline)?, up)?,
    };
    // Named with the long side first, so that one size has one name; a print fixes which way is which.
    Some(if fit.up.is_some() || width.len >= height.len {
        (DemandShape::Rectangle { width, height }, vec![0, 1, 2, 3], turns)
    } else {
        let shape = DemandShape::Rectangle {
            width: height,
            height: width,
        };
        (shape, vec![3, 0, 1, 2], turns)
    })
}
