//! One patch: which cut serves it.
//!
//! A rectangle on the marks is cut from a strip. Any other outline whose corners lie on ruler marks, seen along its
//! grain, is cut from a rectangle beside dots, exactly; a diamond, triangle or wedge along a ruler's line at an angle. Only
//! what no ruler line serves needs a template.

use crate::at_angle::at_angle;
use crate::bow;
use crate::settings::Settings;
use crate::whys::{Whys, with_seams};
use design::Up;
use measure::{Length, Printed, Way, Why};
use recipe::{DemandShape, Dot, ShapingCut, Size, Template, TemplateCorner, Turn};
use shape::allowance::with_allowance;
use shape::{Motion, Point, Polygon, Vector};

/// How a patch is cut.
#[derive(Clone, Debug)]
pub struct PatchCut {
    /// The demanded shape.
    pub shape: DemandShape,
    /// For side `i` of the patch, the number of the piece's edge.
    pub edges: Vec<u32>,
    /// How it may lie in its strip.
    pub turns: Vec<Turn>,
    /// Which of the ways it is.
    pub way: CutWay,
    /// The straight grain does not run along the wanted direction.
    pub off_grain: bool,
}

impl PatchCut {
    /// The corner of the patch whose tip is cut blunt by the strip's edge, if one is.
    pub fn blunt_corner(&self) -> Option<usize> {
        let DemandShape::Slant { upper, .. } = &self.shape else {
            return None;
        };
        let base = self.edges.iter().position(|&e| e == 0)?;
        (self.edges.len() == 3 && upper.len > Length::ZERO).then_some((base + 2) % 3)
    }
}

/// The ways to cut a patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutWay {
    /// Strip and sub-cut.
    Plain,
    /// A rectangle, cut beside dots.
    Shaped,
    /// From a strip, along a ruler's line at an angle.
    AtAngle,
    /// A half or a quarter of a square, on its diagonals.
    OfSquare,
    /// Round a template.
    Template,
}

impl CutWay {
    /// Cost in handling: how many actions one piece takes, templates weighted for tracing.
    pub fn handling(self, corners: usize) -> u32 {
        match self {
            CutWay::Plain => 2,
            CutWay::Shaped => 4 + 2 * corners as u32,
            // Strip, sub-cut, and the ruler turned for each piece.
            CutWay::AtAngle | CutWay::OfSquare => 3,
            CutWay::Template => 12 + 2 * corners as u32,
        }
    }
}

/// Chooses the cut for a patch with this finished outline, a template if that is what the designer wants. `None` when the outline has no allowance (no area).
pub fn cut_patch(
    outline: &Polygon,
    grain: Vector,
    up: Option<Up>,
    by_template: bool,
    settings: &Settings,
    whys: &mut Whys,
) -> Option<PatchCut> {
    if !by_template && let Some(cut) = plain(outline, grain, up, settings, whys) {
        return Some(cut);
    }
    // The frame in which the cloth's length points up; with no print to mind, the grain runs along x.
    let frames: Vec<(Motion, bool)> = match up {
        Some(up) => vec![(frame_of(-up.toward.left()), false)],
        None => vec![(frame_of(grain), false), (Motion::STILL, true)],
    };
    for (frame, off_grain) in &frames {
        if by_template {
            break;
        }
        if let Some((shape, edges)) = shaped(&frame.polygon(outline), settings, whys) {
            let turns = lying(up.is_some_and(|u| u.two_way), up.is_none());
            return Some(PatchCut {
                shape,
                edges,
                turns,
                way: CutWay::Shaped,
                off_grain: *off_grain,
            });
        }
    }
    if up.is_none()
        && !by_template
        && let Some(cut) = at_angle(outline, grain, settings, whys)
    {
        return Some(cut);
    }
    let (frame, _) = frames[0];
    let shape = template(&frame.polygon(outline), settings)?;
    let edges = (0..outline.len() as u32).collect();
    let turns = lying(up.is_some_and(|u| u.two_way), up.is_none());
    Some(PatchCut {
        shape,
        edges,
        turns,
        way: CutWay::Template,
        off_grain: false,
    })
}

/// The cut of a patch with bowed sides: always round a template.
pub fn cut_bowed(
    outline: &Polygon,
    bows: &[bool],
    grain: Vector,
    up: Option<Up>,
    settings: &Settings,
) -> Option<PatchCut> {
    let frame = match up {
        Some(up) => frame_of(-up.toward.left()),
        None => frame_of(grain),
    };
    let (shape, edges) = bow::template(&frame.polygon(outline), bows, settings)?;
    Some(PatchCut {
        shape,
        edges,
        turns: lying(up.is_some_and(|u| u.two_way), up.is_none()),
        way: CutWay::Template,
        off_grain: false,
    })
}

/// The turn that carries this direction to the right.
pub fn frame_of(x: Vector) -> Motion {
    let line = shape::Line {
        through: Point::ORIGIN,
        along: x,
    };
    let flat = shape::Line {
        through: Point::ORIGIN,
        along: Vector::new(1.0, 0.0),
    };
    Motion::line_to_line(line, flat, false)
}

/// How a piece may lie in its strip.
pub fn lying(two_way: bool, free: bool) -> Vec<Turn> {
    match (free, two_way) {
        (true, _) => vec![Turn::As, Turn::Quarter, Turn::Half, Turn::ThreeQuarters],
        (false, true) => vec![Turn::As, Turn::Half],
        (false, false) => vec![Turn::As],
    }
}

/// A rectangle along the grain whose cut sides lie on marks.
fn plain(outline: &Polygon, grain: Vector, up: Option<Up>, settings: &Settings, whys: &mut Whys) -> Option<PatchCut> {
    let first = rectangle_side(outline)?;
    let along_grain = first.dot(grain).abs() < 1.0e-6 || first.cross(grain).abs() < 1.0e-6;
    if !along_grain {
        return None;
    }
    let turns = match up {
        None => lying(false, true),
        Some(up) => upright(first, up)?,
    };
    let (width, height) = (
        outline.corner(0).distance(outline.corner(1)),
        outline.corner(1).distance(outline.corner(2)),
    );
    let seams = 2.0 * settings.seam_inches();
    settings.ruling.on_mark(width + seams)?;
    settings.ruling.on_mark(height + seams)?;
    let square = (width - height).abs() < 1.0e-6;
    let (w, h) = if square {
        ("finished side", "finished side")
    } else {
        ("finished width", "finished height")
    };
    let width = on_mark(with_seams(w, width, settings.seam), settings, whys);
    let height = on_mark(with_seams(h, height, settings.seam), settings, whys);
    // Named with the long side first, so that one size has one name; a print fixes which way is which.
    let (shape, edges) = if up.is_some() || width.len >= height.len {
        (DemandShape::Rectangle { width, height }, vec![0, 1, 2, 3])
    } else {
        (
            DemandShape::Rectangle {
                width: height,
                height: width,
            },
            vec![3, 0, 1, 2],
        )
    };
    Some(PatchCut {
        shape,
        edges,
        turns,
        way: CutWay::Plain,
        off_grain: false,
    })
}

/// The direction of side 0 of a rectangle; `None` for any other outline.
pub fn rectangle_side(outline: &Polygon) -> Option<Vector> {
    if outline.len() != 4 {
        return None;
    }
    let sides: Vec<Vector> = (0..4).filter_map(|i| outline.edge(i)).map(|l| l.along).collect();
    let square = sides.len() == 4 && (0..4).all(|i| sides[i].dot(sides[(i + 1) % 4]).abs() < 1.0e-6);
    square.then(|| sides[0])
}

/// How a rectangle whose side 0 runs along `first` must be turned in its strip so that the print's up comes right.
pub(crate) fn upright(first: Vector, up: Up) -> Option<Vec<Turn>> {
    // In the strip the print's up is +y; the piece's own frame has side 0 along +x.
    let (right, high) = (up.toward.dot(first), up.toward.dot(first.left()));
    let turn = if (high - 1.0).abs() < 1.0e-6 {
        Turn::As
    } else if (right - 1.0).abs() < 1.0e-6 {
        Turn::Quarter
    } else if (high + 1.0).abs() < 1.0e-6 {
        Turn::Half
    } else if (right + 1.0).abs() < 1.0e-6 {
        Turn::ThreeQuarters
    } else {
        return None;
    };
    let opposite = match turn {
        Turn::As => Turn::Half,
        Turn::Quarter => Turn::ThreeQuarters,
        Turn::Half => Turn::As,
        Turn::ThreeQuarters => Turn::Quarter,
    };
    Some(if up.two_way { vec![turn, opposite] } else { vec![turn] })
}

/// A size whose value lies on a mark but for noise: snapped to it.
fn on_mark(why: Why, settings: &Settings, whys: &mut Whys) -> Size {
    whys.size(why.to_mark(settings.ruling.mark(), Way::Nearest))
}

/// The patch cut beside dots from a rectangle, when all its corners lie on marks from one another.
fn shaped(patch: &Polygon, settings: &Settings, whys: &mut Whys) -> Option<(DemandShape, Vec<u32>)> {
    let seam = settings.seam_inches();
    settings.ruling.on_mark(seam)?;
    let raw = with_allowance(patch, seam)?;
    let (low, high) = patch.bounds();
    let (raw_low, raw_high) = raw.bounds();
    for c in patch.corners() {
        settings.ruling.on_mark(c.x - low.x)?;
        settings.ruling.on_mark(c.y - low.y)?;
    }
    // The rectangle's sides: on the patch's own straight sides a seam away, elsewhere beyond its longest tip.
    let room = |reach: f64| settings.ruling.round(reach, Way::Up);
    let side_of = |along: Vector| (0..patch.len()).find(|&i| patch.edge(i).is_some_and(|e| near(e.along, along)));
    let [lower, right, upper, left] =
        [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)].map(|(x, y)| side_of(Vector::new(x, y)));
    let west = room(low.x - raw_low.x)?;
    let east = room(raw_high.x - high.x)?;
    let south = room(low.y - raw_low.y)?;
    let north = room(raw_high.y - high.y)?;
    let span = |what: &str, finished: f64, before: Length, after: Length, whys: &mut Whys| {
        on_mark(
            Why::Sum(vec![
                Why::given(what, finished),
                Why::given("room for seam and tip at one end", before.to_inches()),
                Why::given("room for seam and tip at the other", after.to_inches()),
            ]),
            settings,
            whys,
        )
    };
    let width = span("finished width", high.x - low.x, west, east, whys);
    let height = span("finished height", high.y - low.y, south, north, whys);
    let mut dot = |c: Point| Dot {
        from_left: on_mark(
            Why::Sum(vec![
                Why::given("room", west.to_inches()),
                Why::given("corner across", c.x - low.x),
            ]),
            settings,
            whys,
        ),
        from_lower: on_mark(
            Why::Sum(vec![
                Why::given("room", south.to_inches()),
                Why::given("corner up", c.y - low.y),
            ]),
            settings,
            whys,
        ),
    };
    let mut edges = Vec::with_capacity(patch.len());
    let mut ends = Vec::new();
    for i in 0..patch.len() {
        let on_rectangle = [lower, right, upper, left].iter().position(|&s| s == Some(i));
        match on_rectangle {
            Some(number) => edges.push(number as u32),
            None => {
                edges.push(4 + ends.len() as u32);
                ends.push((dot(patch.corner(i)), dot(patch.corner(i + 1))));
            }
        }
    }
    let past = whys.given("seam", seam);
    let cuts = ends
        .into_iter()
        .map(|(from, to)| ShapingCut { from, to, past })
        .collect();
    Some((DemandShape::Shaped { width, height, cuts }, edges))
}

fn near(a: Vector, b: Vector) -> bool {
    a.dot(b) > 0.0 && a.cross(b).abs() < 1.0e-9
}

fn template(patch: &Polygon, settings: &Settings) -> Option<DemandShape> {
    let raw = with_allowance(patch, settings.seam_inches())?;
    let (low, _) = raw.bounds();
    let corners = raw
        .corners()
        .iter()
        .map(|c| {
            Some(TemplateCorner {
                right: Printed::nearest(c.x - low.x)?,
                up: Printed::nearest(c.y - low.y)?,
            })
        })
        .collect::<Option<Vec<_>>>()?;
    let name = corners
        .iter()
        .map(|c| format!("{}.{}", c.right.units(), c.up.units()))
        .collect::<Vec<_>>()
        .join("-");
    Some(DemandShape::Template {
        template: Template {
            name,
            corners,
            ..Template::default()
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::{Measure, Ruling};

    fn settings() -> Settings {
        Settings {
            title: String::new(),
            author: String::new(),
            edition: String::new(),
            measure: Measure::Inch,
            ruling: Ruling::new(Length::fraction(1, 8)).unwrap(),
            seam: Length::fraction(1, 4),
            turn_under: Length::fraction(3, 16),
            spare: 0.0,
            prefer: design::Prefer::Steps,
            cloths: Vec::new(),
        }
    }

    fn cut(corners: &[(f64, f64)], grain: Vector) -> PatchCut {
        let outline = Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
        cut_patch(&outline, grain, None, false, &settings(), &mut Whys::default()).unwrap()
    }

    const ACROSS: Vector = Vector { x: 1.0, y: 0.0 };

    #[test]
    fn a_rectangle_gains_two_seams_each_way() {
        // finished 2 1/2 x 5 -> cut 3 x 5 1/2 (the trade's rule of a finished size and two seams; derived)
        let cut = cut(&[(0.0, 0.0), (2.5, 0.0), (2.5, 5.0), (0.0, 5.0)], ACROSS);
        let DemandShape::Rectangle { width, height } = &cut.shape else {
            panic!("{:?}", cut.shape)
        };
        assert_eq!(
            (width.len, height.len),
            (Length::fraction(11, 2), Length::fraction(3, 1))
        );
        // Named with its long side first: the drawn side 0 is the piece's edge 3.
        assert_eq!(cut.edges, [3, 0, 1, 2]);
    }

    #[test]
    fn off_the_marks_means_a_template() {
        let third = 10.0 / 3.0;
        let cut = cut(&[(0.0, 0.0), (third, 0.0), (third, third), (0.0, third)], ACROSS);
        assert_eq!(cut.way, CutWay::Template);
    }

    #[test]
    fn any_outline_with_its_corners_on_marks_is_cut_beside_dots() {
        let cut = cut(&[(0.0, 0.0), (5.0, 0.0), (4.25, 3.5), (0.0, 2.0)], ACROSS);
        assert_eq!(cut.way, CutWay::Shaped);
        let DemandShape::Shaped { cuts, .. } = &cut.shape else {
            panic!("{:?}", cut.shape)
        };
        // Its lower and left sides are the rectangle's own; the other two are cut.
        assert_eq!(cuts.len(), 2);
        assert_eq!(cut.edges, [0, 4, 5, 3]);
        assert!(!cut.off_grain);
    }

    #[test]
    fn the_grain_decides_the_frame() {
        // A square standing on its corner: along its own sides it is 3√2 = 4.243, off the marks; by its corners it can be
        // cut, but off the grain.
        let lean = Vector::new(0.5f64.sqrt(), 0.5f64.sqrt());
        let cut = cut(&[(3.0, 0.0), (6.0, 3.0), (3.0, 6.0), (0.0, 3.0)], lean);
        assert_eq!(cut.way, CutWay::Shaped);
        assert!(cut.off_grain);
    }
}
