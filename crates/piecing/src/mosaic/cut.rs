//! How the cloth for one card is cut: a rectangle from a strip wherever that will do, with a seam outside the sides left
//! flat and something to fold over elsewhere; else round a template.

use super::faces::Patch;
use crate::settings::Settings;
use crate::whys::Whys;
use design::Up;
use measure::{Measure, Printed, Way, Why};
use recipe::{DemandShape, Size, Template, TemplateCorner, Turn};
use shape::{Line, Motion, Point, Polygon, Vector};

/// A patch's cloth and how it lies on the card.
#[derive(Clone, Debug)]
pub struct BastedCut {
    /// What to cut.
    pub shape: DemandShape,
    /// How it may lie in its strip.
    pub turns: Vec<Turn>,
    /// This side of the patch …
    pub side: usize,
    /// … runs as this edge of the piece.
    pub along: u32,
    /// Sides of the patch that lie so far inside edges of the piece.
    pub inside: Vec<(usize, u32, Size)>,
    /// For each side left flat the edge that stays there.
    pub flat: Vec<Option<u32>>,
    /// So much cloth reaches over at most.
    pub most: Size,
}

/// More cloth than this is in the way when it is folded over.
fn too_much(settings: &Settings) -> f64 {
    match settings.measure {
        Measure::Inch => 1.25,
        Measure::Metric => 3.0 / 2.54,
    }
}

/// What is cut beyond the seam's width, so that cloth may lie a little aside on its card.
fn spare(settings: &Settings) -> f64 {
    match settings.measure {
        Measure::Inch => 0.125,
        Measure::Metric => 0.25 / 2.54,
    }
}

/// What is cut to be folded over a side: the seam and a little more, up to a mark.
pub fn allowance(settings: &Settings) -> Why {
    let why = Why::Sum(vec![
        Why::given("seam", settings.seam_inches()),
        Why::given("spare for folding over", spare(settings)),
    ]);
    why.to_mark(settings.ruling.mark(), Way::Up)
}

/// The cut for a patch; `None` when it has no shape, or the cloth is too narrow for it.
pub fn basted_cut(
    patch: &Patch,
    grain: Vector,
    up: Option<Up>,
    usable: f64,
    settings: &Settings,
    whys: &mut Whys,
) -> Option<BastedCut> {
    let n = patch.outline.len();
    let mut frames: Vec<Vector> = match up {
        Some(up) => vec![-up.toward.left()],
        None => vec![grain],
    };
    if up.is_none() {
        let first = (0..n).find(|&i| patch.flat[i]).unwrap_or(0);
        frames.extend(
            (0..n)
                .filter_map(|i| patch.outline.edge((first + i) % n))
                .map(|l| l.along),
        );
    }
    for &along in &frames {
        let turns = lying(up);
        let fits = rectangle(patch, along, turns, up.is_some(), settings, whys);
        if let Some(cut) = fits.filter(|cut| within(&cut.shape, usable)) {
            return Some(cut);
        }
    }
    template(patch, frames[0], lying(up), settings, whys).filter(|cut| within(&cut.shape, usable))
}

fn lying(up: Option<Up>) -> Vec<Turn> {
    match up {
        None => vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters],
        Some(up) if up.two_way => vec![Turn::As, Turn::Half],
        Some(_) => vec![Turn::As],
    }
}

/// Whether a piece comes from cloth of that width at all.
fn within(shape: &DemandShape, usable: f64) -> bool {
    match shape {
        DemandShape::Rectangle { width, height } => width.inches().max(height.inches()) <= usable,
        DemandShape::Template { template } => {
            let far = |p: &Printed| p.to_inches();
            template.corners.iter().all(|c| far(&c.right).max(far(&c.up)) <= usable)
        }
        _ => true,
    }
}

fn to_frame(along: Vector) -> Motion {
    let line = |along| Line {
        through: Point::ORIGIN,
        along,
    };
    Motion::line_to_line(line(along), line(Vector::new(1.0, 0.0)), false)
}

/// The edge of a rectangle that runs in a direction: 0 lower, 1 right, 2 upper, 3 left.
fn edge_of(along: Vector) -> Option<usize> {
    let runs = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
    runs.iter().position(|&(x, y)| {
        let run = Vector::new(x, y);
        along.dot(run) > 0.0 && along.cross(run).abs() < 1.0e-5
    })
}

/// A rectangle along `along`.
fn rectangle(
    patch: &Patch,
    along: Vector,
    turns: Vec<Turn>,
    upright: bool,
    settings: &Settings,
    whys: &mut Whys,
) -> Option<BastedCut> {
    let outline = to_frame(along).polygon(&patch.outline);
    let n = outline.len();
    let edges: Vec<Option<usize>> = (0..n).map(|i| edge_of(outline.edge(i)?.along)).collect();
    let first = (0..n).find(|&i| patch.flat[i]);
    let side = first.or_else(|| (0..n).find(|&i| edges[i].is_some()))?;
    if (0..n).any(|i| patch.flat[i] && edges[i].is_none()) {
        return None;
    }
    let (seam, over) = (settings.seam_inches(), allowance(settings).length()?.to_inches());
    let (low, high) = outline.bounds();
    // How far cloth is wanted beyond the outline's box below, to the right, above and to the left.
    let wanted = wanted_beyond(&outline, &patch.flat, seam, over)?;
    let flat_on = |edge: usize| (0..n).any(|i| patch.flat[i] && edges[i] == Some(edge));
    let span = |what: &str, finished: f64, ends: [usize; 2], whys: &mut Whys| -> Option<(Size, f64)> {
        let [before, after] = ends;
        let finished_why = || Why::given(what, finished);
        let seams = |edge: usize| {
            if flat_on(edge) {
                Why::given("seam", seam)
            } else {
                Why::given("reach over the card", wanted[edge])
            }
        };
        if flat_on(before) && flat_on(after) {
            let exact = finished + 2.0 * seam;
            let len = settings.ruling.on_mark(exact)?;
            let why = Why::Sum(vec![finished_why(), seams(before), seams(after)]);
            let size = whys.size(why.to_mark(settings.ruling.mark(), Way::Nearest));
            return (size.len == len).then_some((size, len.to_inches()));
        }
        // Where nothing else places the card its middle lies on the middle of the cloth.
        let placed = flat_on(before) || flat_on(after);
        let why = if placed {
            Why::Sum(vec![finished_why(), seams(before), seams(after)])
        } else {
            let most = wanted[before].max(wanted[after]);
            Why::Sum(vec![
                finished_why(),
                Why::given("reach over the card", most)
                    .times(2, 1, 1)
                    .named("both ends"),
            ])
        };
        let size = whys.size(why.to_mark(settings.ruling.mark(), Way::Up));
        Some((size, size.inches()))
    };
    let (width, wide) = span("finished width", high.x - low.x, [3, 1], whys)?;
    let (height, tall) = span("finished height", high.y - low.y, [0, 2], whys)?;
    // The rectangle as it comes to lie under the card.
    let start = |before: usize, after: usize, from: f64, to: f64, size: f64| {
        if flat_on(before) {
            from - seam
        } else if flat_on(after) {
            to + seam - size
        } else {
            (from + to - size) / 2.0
        }
    };
    let (x, y) = (start(3, 1, low.x, high.x, wide), start(0, 2, low.y, high.y, tall));
    let corners = [(x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall)].map(|(x, y)| Point::new(x, y));
    let most = reach_over(&outline, &patch.flat, &corners);
    if most > too_much(settings) {
        return None;
    }
    let most =
        whys.size(Why::given("corner of the cloth past the card", most).to_mark(settings.ruling.mark(), Way::Up));
    // Named with its long side first, unless a print says which way is which.
    let (shape, turn) = if upright || width.len >= height.len {
        (DemandShape::Rectangle { width, height }, 0)
    } else {
        (
            DemandShape::Rectangle {
                width: height,
                height: width,
            },
            3,
        )
    };
    let number = |edge: usize| ((edge + turn) % 4) as u32;
    // The flat sides say where the card lies: one, or two that cross.
    let by = whys.given("seam", seam);
    let second = first
        .and_then(|f| (0..n).find(|&i| patch.flat[i] && edges[i].zip(edges[f]).is_some_and(|(a, b)| a % 2 != b % 2)));
    let inside = [first, second]
        .into_iter()
        .flatten()
        .filter_map(|i| Some((i, number(edges[i]?), by)));
    Some(BastedCut {
        shape,
        turns,
        side,
        along: number(edges[side]?),
        inside: inside.collect(),
        flat: (0..n).map(|i| edges[i].filter(|_| patch.flat[i]).map(number)).collect(),
        most,
    })
}

/// How far cloth is wanted beyond an outline's box: below, to the right, above, to the left.
fn wanted_beyond(outline: &Polygon, flat: &[bool], seam: f64, over: f64) -> Option<[f64; 4]> {
    let n = outline.len();
    let mut points: Vec<Point> = Vec::new();
    for i in 0..n {
        let line = outline.edge(i)?;
        let out = line.along.left() * -over;
        if !flat[i] {
            points.extend([outline.corner(i) + out, outline.corner(i + 1) + out]);
            // Beside a flat side the fold goes on to the raw edge, and some cloth with it.
            for j in [(i + n - 1) % n, (i + 1) % n] {
                if flat[j] {
                    let raw = outline.edge(j)?.moved_left(-seam);
                    points.push(line.moved_left(-over / 2.0).crossing(raw)?);
                }
            }
        }
    }
    let (low, high) = outline.bounds();
    let far = |reach: &dyn Fn(&Point) -> f64| points.iter().map(reach).fold(0.0, f64::max);
    Some([
        far(&|p| low.y - p.y),
        far(&|p| p.x - high.x),
        far(&|p| p.y - high.y),
        far(&|p| low.x - p.x),
    ])
}

/// The furthest that cloth reaches past a side that is folded.
fn reach_over(outline: &Polygon, flat: &[bool], cloth: &[Point]) -> f64 {
    let past = |i: usize| {
        let line = outline.edge(i)?;
        Some(cloth.iter().map(|&c| -line.offset_of(c)).fold(0.0, f64::max))
    };
    (0..outline.len())
        .filter(|&i| !flat[i])
        .filter_map(past)
        .fold(0.0, f64::max)
}

/// The cloth of a template: the outline with a seam outside its flat sides and so much elsewhere.
fn grown(outline: &Polygon, flat: &[bool], seam: f64, over: f64) -> Option<Polygon> {
    let n = outline.len();
    let line = |i: usize| Some(outline.edge(i)?.moved_left(if flat[i] { -seam } else { -over }));
    let corners = (0..n)
        .map(|i| line((i + n - 1) % n)?.crossing(line(i)?))
        .collect::<Option<Vec<Point>>>()?;
    Some(Polygon::new(corners))
}

fn template(patch: &Patch, along: Vector, turns: Vec<Turn>, settings: &Settings, whys: &mut Whys) -> Option<BastedCut> {
    let outline = to_frame(along).polygon(&patch.outline);
    let n = outline.len();
    let seam = whys.given("seam", settings.seam_inches());
    let over = whys.size(allowance(settings));
    // A flat side lies where it must; the card is laid by that, or else by its first side, and by one across it.
    let side = (0..n).find(|&i| patch.flat[i]).unwrap_or(0);
    let first = outline.edge(side)?.along;
    let crosses = |i: &usize| outline.edge(*i).is_some_and(|e| e.along.cross(first).abs() > 0.1);
    let second = (0..n)
        .find(|i| patch.flat[*i] && crosses(i))
        .or_else(|| (0..n).find(crosses))?;
    let cloth = grown(&outline, &patch.flat, seam.inches(), over.inches())?;
    let most = reach_over(&outline, &patch.flat, cloth.corners());
    let most = whys.size(Why::given("cloth past the card", most).to_mark(settings.ruling.mark(), Way::Up));
    let (low, _) = cloth.bounds();
    let corners = (cloth.corners().iter())
        .map(|c| {
            Some(TemplateCorner {
                right: Printed::nearest(c.x - low.x)?,
                up: Printed::nearest(c.y - low.y)?,
            })
        })
        .collect::<Option<Vec<_>>>()?;
    let by = |i: usize| if patch.flat[i] { seam } else { over };
    Some(BastedCut {
        shape: DemandShape::Template {
            template: Template {
                corners,
                ..Template::default()
            },
        },
        turns,
        side,
        along: side as u32,
        inside: vec![(side, side as u32, by(side)), (second, second as u32, by(second))],
        flat: (0..n).map(|i| patch.flat[i].then_some(i as u32)).collect(),
        most,
    })
}

/// The least cloth that reaches over, as it is told.
pub fn least(settings: &Settings, whys: &mut Whys) -> Size {
    whys.given("seam", settings.seam_inches())
}
