//! Borders as rounds, from the inside out: where each lies, which spacer goes inside a pieced one, and how many of its
//! units lie along each side.

use super::Box2;
use crate::{Border, Corners, Design, Spacer};
use shape::{Point, Vector, WELD};

/// Most units along one side; a design with more is refused when it is read.
const MOST_UNITS: f64 = 200_000.0;

/// Units and the side they fill may differ by so much, inches: half of what corners are welded over.
const EVEN: f64 = WELD / 2.0;

/// One border and what lies within it. Frames are the top's.
#[derive(Clone, Debug)]
pub(crate) struct Round<'d> {
    /// As the file has it.
    pub border: &'d Border,
    /// What lies within its spacer.
    pub within: Box2,
    /// What lies within the border itself: the same where it has no spacer.
    pub inner: Box2,
    /// The border's outside.
    pub outer: Box2,
    /// The units along top, right, bottom and left of a pieced border.
    pub runs: Option<[Run; 4]>,
}

/// The units along one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Run {
    /// How long the side is.
    pub length: f64,
    /// How many units come nearest to that.
    pub count: usize,
    /// How long these are.
    pub reach: f64,
}

impl Run {
    /// Whether whole units fill the side.
    pub fn is_even(self) -> bool {
        (self.length - self.reach).abs() <= EVEN
    }
}

/// The units of a pieced border, drawn to its width and repeated in turn.
#[derive(Clone, Debug)]
pub(crate) struct Repeat {
    /// For each of the units its width and height before it is turned.
    pub sizes: Vec<(f64, f64)>,
    /// For each how much of the side it takes.
    pub lengths: Vec<f64>,
}

impl Repeat {
    /// Of a pieced border whose blocks are known.
    pub fn of(design: &Design, border: &Border) -> Option<Repeat> {
        let mut repeat = Repeat {
            sizes: Vec::new(),
            lengths: Vec::new(),
        };
        for cell in &border.units {
            let (width, height) = design.block(&cell.block)?.size;
            let (along, outward) = if cell.quarters % 2 == 1 {
                (height, width)
            } else {
                (width, height)
            };
            let scale = border.width / outward;
            repeat.sizes.push((width * scale, height * scale));
            repeat.lengths.push(along * scale);
        }
        (repeat.whole() > 0.0).then_some(repeat)
    }

    /// All units once.
    fn whole(&self) -> f64 {
        self.lengths.iter().sum()
    }

    /// How long so many of them are.
    pub fn reach(&self, count: usize) -> f64 {
        let n = self.lengths.len();
        let rest: f64 = self.lengths[..count % n].iter().sum();
        (count / n) as f64 * self.whole() + rest
    }

    /// The most that are no longer than `length`.
    pub fn most_within(&self, length: f64) -> usize {
        let rounds = ((length + EVEN) / self.whole()).floor().clamp(0.0, MOST_UNITS) as usize;
        let from = rounds * self.lengths.len();
        let more = (1..self.lengths.len()).take_while(|&k| self.reach(from + k) <= length + EVEN);
        from + more.count()
    }

    /// The fewest that are at least `length`.
    pub fn fewest_over(&self, length: f64) -> usize {
        let below = self.most_within(length);
        below + usize::from(self.reach(below) < length - EVEN)
    }

    fn run(&self, length: f64) -> Run {
        let below = self.most_within(length);
        let nearer = self.reach(below + 1) - length < length - self.reach(below);
        let count = below + usize::from(nearer);
        Run {
            length,
            count,
            reach: self.reach(count),
        }
    }

    /// One unit's length where all are alike.
    pub fn one_length(&self) -> Option<f64> {
        let first = self.lengths[0];
        self.lengths.iter().all(|l| (l - first).abs() < 1.0e-9).then_some(first)
    }
}

/// Widths of the four strips of a spacer.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Strips {
    pub left: f64,
    pub right: f64,
    pub bottom: f64,
    pub top: f64,
}

/// How much longer top and bottom, and the sides, are than what the border goes round.
fn longer(border: &Border) -> (f64, f64) {
    match border.corners {
        Corners::Butted { sides_first: true } => (2.0 * border.width, 0.0),
        Corners::Butted { sides_first: false } => (0.0, 2.0 * border.width),
        Corners::Mitred | Corners::Block(_) | Corners::Stones(_) => (0.0, 0.0),
    }
}

/// The narrowest a strip of a spacer is made when it is not said, inches: narrower ones are hard to sew true (common practice).
fn least_spacer(design: &Design) -> f64 {
    match design.quilt.measure {
        measure::Measure::Inch => 0.5,
        measure::Measure::Metric => 1.0 / 2.54,
    }
}

/// The spacer that makes a pieced border round `width` by `height` come out even; nothing where it does so already. Of the
/// two least totals either way the two most alike are taken. Each total is parted as evenly as the ruler's marks let.
pub(crate) fn even_spacer(design: &Design, border: &Border, (width, height): (f64, f64)) -> Strips {
    let Some(repeat) = Repeat::of(design, border) else {
        return Strips::default();
    };
    let (more_across, more_up) = longer(border);
    let is_even = |length: f64| repeat.run(length).is_even();
    if is_even(width + more_across) && is_even(height + more_up) {
        return Strips::default();
    }
    let totals = |length: f64| {
        let first = repeat.fewest_over(length + 2.0 * least_spacer(design));
        [first, first + 1].map(|count| (repeat.reach(count) - length).max(0.0))
    };
    let (across, up) = (totals(width + more_across), totals(height + more_up));
    let pairs = across.iter().flat_map(|&a| up.iter().map(move |&u| (a, u)));
    // Differences within noise are none, so that the lesser total decides.
    let unlike = |(a, u): (f64, f64)| (((a - u).abs() / EVEN).round(), a + u);
    let best = pairs.min_by(|&p, &q| unlike(p).partial_cmp(&unlike(q)).unwrap_or(std::cmp::Ordering::Equal));
    let (across, up) = best.unwrap_or_default();
    let mark = design.quilt.ruler;
    let parted = |total: f64| {
        let half = total / 2.0;
        let marks = half / mark;
        if (marks - marks.round()).abs() < 1.0e-6 {
            (half, half)
        } else {
            let less = marks.floor() * mark;
            (less, total - less)
        }
    };
    let ((left, right), (bottom, top)) = (parted(across), parted(up));
    Strips {
        left,
        right,
        bottom,
        top,
    }
}

fn spacer(design: &Design, border: &Border, size: (f64, f64)) -> Strips {
    match border.spacer {
        _ if border.units.is_empty() => Strips::default(),
        None => Strips::default(),
        Some(Spacer::Auto) => even_spacer(design, border, size),
        Some(Spacer::Widths(sides, ends)) => Strips {
            left: sides,
            right: sides,
            bottom: ends,
            top: ends,
        },
    }
}

/// All rounds about a layout of this size, and where the layout's own lower left then lies.
pub(crate) fn rounds(design: &Design, (width, height): (f64, f64)) -> (Vec<Round<'_>>, Point) {
    let mut rounds: Vec<Round> = Vec::new();
    let mut within = Box2::new(0.0, 0.0, width, height);
    for border in &design.borders {
        let strips = spacer(design, border, (within.width(), within.height()));
        let inner = within.grown(strips);
        let w = border.width;
        let outer = inner.grown(Strips {
            left: w,
            right: w,
            bottom: w,
            top: w,
        });
        let runs = (!border.units.is_empty())
            .then(|| Repeat::of(design, border))
            .flatten()
            .map(|repeat| {
                let (across, up) = longer(border);
                let (across, up) = (repeat.run(inner.width() + across), repeat.run(inner.height() + up));
                [across, up, across, up]
            });
        rounds.push(Round {
            border,
            within,
            inner,
            outer,
            runs,
        });
        within = outer;
    }
    let shift = Point::ORIGIN - within.low;
    for round in &mut rounds {
        for area in [&mut round.within, &mut round.inner, &mut round.outer] {
            *area = area.moved(shift);
        }
    }
    (rounds, Point::ORIGIN + shift)
}

impl Box2 {
    pub(crate) fn width(self) -> f64 {
        self.high.x - self.low.x
    }

    pub(crate) fn height(self) -> f64 {
        self.high.y - self.low.y
    }

    fn grown(self, by: Strips) -> Self {
        Box2 {
            low: self.low - Vector::new(by.left, by.bottom),
            high: self.high + Vector::new(by.right, by.top),
        }
    }

    fn moved(self, by: Vector) -> Self {
        Box2 {
            low: self.low + by,
            high: self.high + by,
        }
    }
}
