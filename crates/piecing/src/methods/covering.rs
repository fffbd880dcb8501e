//! What to cut for an area of a foundation paper, so that it surely covers.
//!
//! Measured along its sewing line from where the line starts, the area with its allowance reaches from -b to e, and h across
//! the line; its raw edge lies p past the line (the seam, where another piece lies beneath). With a margin m, by which a maker may be
//! off in any direction, it is covered by a rectangle
//!
//! > length = b + e + 2·m, height = p + h + m, laid b + m beyond the line's start,
//!
//! each rounded up to the ruler's marks. A right triangle sewn along its long side, with finished legs u and v, is covered by half of
//! a rectangle whose sides are
//!
//! > u + s·√(1 + (u/v)²) + (s + m)·(1 + u/v), and the same with u and v exchanged;
//!
//! for legs alike that is u + (2 + √2)·s + 2·m: the half square's finished leg + 7/8, and the margin twice. Where so rounded it
//! cannot be laid by a mark, it is a mark more.

use crate::settings::Settings;
use crate::whys::Whys;
use measure::{Length, Measure, Way, Why};
use recipe::{DemandShape, Size};
use shape::{Line, Point, Polygon};

/// An area and what must be covered of it, along its line.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// The line, its own area on the left, through its start.
    pub line: Line,
    /// What must be covered.
    pub must: Polygon,
    /// The finished area.
    pub area: Polygon,
    /// How far its raw edge must lie past the line; none where nothing lies beneath.
    pub past: Option<f64>,
}

/// A piece that covers.
#[derive(Clone, Debug)]
pub struct Covering {
    /// What to cut.
    pub shape: DemandShape,
    /// The edge that is laid along the line.
    pub edge: u32,
    /// How far past the line that edge lies.
    pub past: Size,
    /// How far beyond the line's start the edge starts.
    pub beyond: Size,
    /// Square inches of cloth.
    pub cloth: f64,
}

/// How far a maker may be off: 1/4 in, or 6 mm (common practice is to cut pieces 1/2 in larger than area and seams, which
/// is 1/4 in all round).
pub fn margin(settings: &Settings, whys: &mut Whys) -> Size {
    let exact = match settings.measure {
        Measure::Inch => Length::fraction(1, 4),
        Measure::Metric => Length::tenths_of_mm(60),
    };
    whys.size(Why::given("margin", exact.to_inches()))
}

/// The rectangle that covers.
pub fn rectangle(wanted: &Wanted, margin: Size, settings: &Settings, whys: &mut Whys) -> Covering {
    let mark = settings.ruling.mark();
    let of = |f: &dyn Fn(Point) -> f64| {
        wanted
            .must
            .corners()
            .iter()
            .map(|&c| f(c))
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let before = of(&|c| -wanted.line.reach_of(c));
    let along = of(&|c| wanted.line.reach_of(c));
    let across = of(&|c| wanted.line.offset_of(c));
    let beneath = of(&|c| -wanted.line.offset_of(c));
    let with_margin = || Why::given("margin", margin.inches());
    let past = match wanted.past {
        Some(seam) => whys.given("seam", seam),
        None => {
            whys.size(Why::Sum(vec![Why::given("seam past the line", beneath), with_margin()]).to_mark(mark, Way::Up))
        }
    };
    let beyond = whys.size(
        Why::Sum(vec![
            Why::given("allowance beyond the line's start", before),
            with_margin(),
        ])
        .to_mark(mark, Way::Up),
    );
    let length = whys.size(
        Why::Sum(vec![
            Why::given("laid beyond the line's start", beyond.inches()),
            Why::given("area and allowance along the line", along),
            with_margin(),
        ])
        .to_mark(mark, Way::Up),
    );
    let height = whys.size(
        Why::Sum(vec![
            Why::given("laid past the line", past.inches()),
            Why::given("area and allowance across the line", across),
            with_margin(),
        ])
        .to_mark(mark, Way::Up),
    );
    Covering {
        cloth: length.inches() * height.inches(),
        shape: DemandShape::Rectangle { width: length, height },
        edge: 0,
        past,
        beyond,
    }
}

/// Half of a rectangle that covers a right triangle sewn along its long side, if the area is one.
pub fn half(wanted: &Wanted, margin: Size, settings: &Settings, whys: &mut Whys) -> Option<Covering> {
    let seam = wanted.past?;
    let (line, mark) = (wanted.line, settings.ruling.mark());
    let area = &wanted.area;
    if area.len() != 3 {
        return None;
    }
    let apex = (0..3).find(|&i| line.offset_of(area.corner(i)) > shape::WELD)?;
    let (top, start, end) = (area.corner(apex), area.corner(apex + 1), area.corner(apex + 2));
    let (to_start, to_end) = (start - top, end - top);
    let (v, u) = (to_start.length(), to_end.length());
    if to_start.dot(to_end).abs() > 1.0e-6 * u * v {
        return None;
    }
    let m = margin.inches();
    let side = |what: &str, u: f64, v: f64| {
        let lean = u / v;
        Why::Sum(vec![
            Why::given(what, u),
            Why::given(
                "seam past the long side, along this one",
                seam * (1.0 + lean * lean).sqrt(),
            ),
            Why::given("seam and margin at both ends", (seam + m) * (1.0 + lean)),
        ])
    };
    let alike = (u - v).abs() < 1.0e-6;
    let past = whys.given("seam", seam);
    // Rounded sides lean a little otherwise than the triangle's, and its end is laid by a mark: the first size with which
    // it still covers.
    for more in 0..5_u8 {
        let extra = f64::from(more) * mark.to_inches();
        let sized = |what: &str, u: f64, v: f64, whys: &mut Whys| {
            let mut sum = vec![side(what, u, v).to_mark(mark, Way::Up)];
            if more > 0 {
                sum.push(Why::given("so that it can be laid by a mark", extra));
            }
            whys.size(Why::Sum(sum))
        };
        let (mut trial, what) = (Whys::default(), if alike { "finished leg" } else { "finished side" });
        let (width, height) = (sized(what, u, v, &mut trial), sized(what, v, u, &mut trial));
        let (w, h) = (width.inches(), height.inches());
        // The lower piece of a rising cut: its long edge runs from the corner at the right up to the left.
        let raw = Polygon::new(vec![Point::ORIGIN, Point::new(w, 0.0), Point::new(w, h)]);
        let angle = (w * w + h * h).sqrt();
        // At the edge's start its angle has the tangent w : h; the side there runs the allowance and the margin outside.
        let exact = (seam + m) * angle / w + seam * h / w;
        for marks in [0.0, 1.0, -1.0, 2.0] {
            let at = Why::given("where the side there lies a seam and the margin outside", exact);
            let beyond = Why::Sum(vec![
                at.to_mark(mark, Way::Nearest),
                Why::given("a mark more or less", marks * mark.to_inches()),
            ]);
            let reach = beyond.value();
            let placed = placed(&raw, 2, line, seam, reach);
            if covers(&placed, &wanted.must, m, line) {
                let (width, height) = (sized(what, u, v, whys), sized(what, v, u, whys));
                return Some(Covering {
                    cloth: w * h / 2.0,
                    shape: DemandShape::Half {
                        width,
                        height,
                        rising: true,
                    },
                    edge: 2,
                    past,
                    beyond: whys.size(beyond),
                });
            }
        }
    }
    None
}

/// A piece laid along a line by one of its edges.
fn placed(raw: &Polygon, edge: usize, line: Line, past: f64, beyond: f64) -> Polygon {
    let onto = Line {
        through: line.moved_left(-past).at(-beyond),
        along: line.along,
    };
    match raw.edge(edge) {
        Some(own) => shape::Motion::line_to_line(own, onto, false).polygon(raw),
        None => raw.clone(),
    }
}

/// Whether a piece holds what it must, so far inside all its edges but the one along the line.
fn covers(raw: &Polygon, must: &Polygon, margin: f64, line: Line) -> bool {
    (0..raw.len()).filter_map(|i| raw.edge(i)).all(|edge| {
        let laid = edge.along.dot(line.along) > 1.0 - 1.0e-9;
        laid || must.corners().iter().all(|&c| edge.offset_of(c) >= margin - 1.0e-6)
    })
}
