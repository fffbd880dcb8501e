//! Below this no layout can go.
//!
//! All parts look at lines across the cloth, selvedge to selvedge. Such a line crosses pieces whose widths on it add
//! up to the usable width W at most. Let f be any function that never falls and gives numbers of at most 1 in all to
//! widths of at most W in all (a *dual feasible function*, in the words of those who study packing). Added up over all
//! lines of a layout of length H, rectangles give the sum of f(width) · height, and that is at most H. Where a
//! rectangle may lie two ways, the lesser value is taken. Used here:
//! - f(w) = w / W: the area part, which counts pieces of every shape and holds at any tilt;
//! - for k = 1, 2 … 20: f(w) = w / W where (k + 1) w / W is whole, else its whole part / k: pieces wider than half the
//!   width cannot lie beside each other, of those wider than a third no three can, and so on;
//! - for each width e of at most half: 1 where w > W - e, nothing where w < e, else w / W;
//! - the tallest piece alone.
//!
//! Pieces that are no rectangles count as nothing in the second and third, which keeps them true.

use crate::kinds::Kind;
use measure::{Length, Surd, Why};
use recipe::{ShapingCut, Size};
use std::collections::BTreeSet;

/// A bound on the length of cloth, squaring up not included.
pub(crate) struct Least {
    /// Its value and how it comes about.
    pub why: Why,
}

const MOST_PARTS: i64 = 20;

/// Above this many different widths only some are tried for e.
const MOST_WIDTHS: usize = 200;

/// A share of the width: so many parts of so many.
type Share = (i64, i64);

/// The best of the bounds in the heading.
pub(crate) fn bound(kinds: &[Kind], usable: i64) -> Least {
    let mut best = (area(kinds, usable), Bound::Area);
    let mut propose = |value: i128, bound: Bound| {
        if value > best.0 {
            best = (value, bound);
        }
    };
    for k in 1..=MOST_PARTS {
        propose(summed(kinds, |width| by_parts(width, usable, k)), Bound::Parts(k));
    }
    let widths: BTreeSet<i64> = kinds
        .iter()
        .flat_map(|kind| kind.boxes.iter().flat_map(|(_, wide)| [*wide, usable - wide + 1]))
        .filter(|width| (1..=usable / 2).contains(width))
        .collect();
    for e in widths.into_iter().take(MOST_WIDTHS) {
        propose(summed(kinds, |width| by_edge(width, usable, e)), Bound::Edge(e));
    }
    if let Some(tallest) = kinds.iter().max_by_key(|kind| kind.least_height) {
        propose(i128::from(tallest.least_height), Bound::Tallest(tallest.least_height));
    }
    let why = match best.1 {
        Bound::Area => area_why(kinds, usable),
        Bound::Parts(k) => summed_why(kinds, |width| by_parts(width, usable, k)),
        Bound::Edge(e) => summed_why(kinds, |width| by_edge(width, usable, e)),
        Bound::Tallest(height) => Why::given("height of the tallest piece", Length::from_units(height).to_inches()),
    };
    Least { why }
}

#[derive(Clone, Copy)]
enum Bound {
    Area,
    Parts(i64),
    Edge(i64),
    Tallest(i64),
}

fn by_parts(width: i64, usable: i64, k: i64) -> Share {
    let parts = width * (k + 1);
    if parts % usable == 0 {
        (width, usable)
    } else {
        (parts / usable, k)
    }
}

fn by_edge(width: i64, usable: i64, e: i64) -> Share {
    if width > usable - e {
        (1, 1)
    } else if width < e {
        (0, 1)
    } else {
        (width, usable)
    }
}

fn area(kinds: &[Kind], usable: i64) -> i128 {
    let four: i128 = kinds.iter().map(|kind| kind.four_areas * i128::from(kind.count)).sum();
    four / (4 * i128::from(usable))
}

/// Of the ways a rectangle may lie, the one that counts least: height and share.
fn least(kind: &Kind, share: &impl Fn(i64) -> Share) -> Option<(i64, Share)> {
    let counted = kind.boxes.iter().map(|(high, wide)| (*high, share(*wide)));
    counted.reduce(|a, b| {
        // Fractions compared across, so that no share is rounded.
        let across = |a: (i64, Share), b: (i64, Share)| i128::from(a.0) * i128::from(a.1.0) * i128::from(b.1.1);
        if across(b, a) < across(a, b) { b } else { a }
    })
}

fn summed(kinds: &[Kind], share: impl Fn(i64) -> Share) -> i128 {
    let of = |kind: &Kind| {
        let (high, (parts, all)) = least(kind, &share)?;
        Some(i128::from(kind.count) * i128::from(high) * i128::from(parts) / i128::from(all))
    };
    kinds.iter().filter_map(of).sum()
}

fn area_why(kinds: &[Kind], usable: i64) -> Why {
    let square_inch = 4.0 * Length::inches(1).units() as f64 * Length::inches(1).units() as f64;
    let terms = kinds.iter().map(|kind| {
        let one = Why::given(
            format!("square inches of one {}", kind.piece),
            kind.four_areas as f64 / square_inch,
        );
        Why::Product(vec![pieces(kind), one])
    });
    let width = Why::given("usable width", Length::from_units(usable).to_inches());
    Why::Quotient(
        Box::new(Why::Sum(terms.collect()).named("cloth in all pieces")),
        Box::new(width),
    )
}

fn summed_why(kinds: &[Kind], share: impl Fn(i64) -> Share) -> Why {
    let terms = kinds.iter().filter_map(|kind| {
        let (high, (parts, all)) = least(kind, &share)?;
        // Widths are at most 10 000 in, which is under the largest whole number there is room for.
        let (numerator, denominator) = (i32::try_from(parts).ok()?, u32::try_from(all).ok()?);
        let surd = Surd {
            numerator,
            root: 1,
            denominator,
        };
        let high = Why::given(
            format!("height of {}", kind.piece),
            Length::from_units(high).to_inches(),
        );
        let share = Why::Surd(surd).named("share of the width");
        (parts > 0).then(|| Why::Product(vec![pieces(kind), high, share]))
    });
    Why::Sum(terms.collect())
}

fn pieces(kind: &Kind) -> Why {
    Why::Count {
        what: format!("pieces {}", kind.piece),
        count: i64::from(kind.count),
    }
}

/// Four times the area of a rectangle cut to shape, rounded down.
pub(crate) fn four_areas_shaped(width: i64, height: i64, cuts: &[ShapingCut]) -> i128 {
    let (w, h) = (width as f64, height as f64);
    let mut outline = vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
    let units = |size: Size| size.len.units() as f64;
    for cut in cuts {
        let from = (units(cut.from.from_left), units(cut.from.from_lower));
        let to = (units(cut.to.from_left), units(cut.to.from_lower));
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = (dx * dx + dy * dy).sqrt();
        if length == 0.0 {
            return 0;
        }
        // How far a place lies to the left of the cut's line.
        let left = |p: (f64, f64)| (dx * (p.1 - from.1) - dy * (p.0 - from.0)) / length + units(cut.past);
        let mut kept = Vec::new();
        for (i, a) in outline.iter().enumerate() {
            let b = outline[(i + 1) % outline.len()];
            let (la, lb) = (left(*a), left(b));
            if la >= 0.0 {
                kept.push(*a);
            }
            if (la < 0.0) != (lb < 0.0) {
                let t = la / (la - lb);
                kept.push((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)));
            }
        }
        outline = kept;
    }
    let mut twice = 0.0;
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        twice += a.0 * b.1 - b.0 * a.1;
    }
    // A millionth less, so that what the arithmetic lost cannot make the bound too high.
    (twice.max(0.0) * 2.0 * (1.0 - 1.0e-6)) as i128
}
