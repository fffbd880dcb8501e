//! The batting: its size, and the smallest package that covers it.

use crate::Top;
use crate::derive::{size, whole_mark};
use measure::{Measure, Way, Why};
use recipe::Size;

/// How far the batting reaches beyond the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BattingWish {
    /// Inches on each side.
    pub over: f64,
}

/// A size that batting is packaged in, inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Package {
    /// What it is called.
    pub name: &'static str,
    /// The shorter side.
    pub width: f64,
    /// The longer side.
    pub length: f64,
}

const fn package(name: &'static str, width: f64, length: f64) -> Package {
    Package { name, width, length }
}

/// Packages as two charts published on the web have them ("Common quilt and batting sizes", 2012, and "Standard packaged
/// batting sizes"); the throw is common practice. The smallest first. Packages differ from maker to maker: measure.
pub const PACKAGES: [Package; 7] = [
    package("craft", 36.0, 45.0),
    package("crib", 45.0, 60.0),
    package("throw", 60.0, 60.0),
    package("twin", 72.0, 90.0),
    package("full", 81.0, 96.0),
    package("queen", 90.0, 108.0),
    package("king", 120.0, 120.0),
];

/// The batting in figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Batting {
    /// Across.
    pub width: Size,
    /// Down.
    pub height: Size,
    /// The smallest package that covers it, turned if need be; `None` when two must be joined.
    pub package: Option<Package>,
}

pub(crate) fn plan(top: Top, wish: BattingWish, measure: Measure, whys: &mut Vec<Why>) -> Batting {
    let mut beyond = |what: &str, inches: f64| {
        let over = Why::given("beyond the top, each side", wish.over).times(2, 1, 1);
        let least = Why::Sum(vec![Why::given(what, inches), over]);
        size(least.to_mark(whole_mark(measure), Way::Up), whys)
    };
    let (width, height) = (
        beyond("finished width", top.width),
        beyond("finished height", top.height),
    );
    let (w, h) = (width.len.to_inches(), height.len.to_inches());
    let (short, long) = (w.min(h), w.max(h));
    let covers = |package: &&Package| package.width >= short && package.length >= long;
    Batting {
        width,
        height,
        package: PACKAGES.iter().find(covers).copied(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken(width: f64, height: f64, over: f64) -> Option<&'static str> {
        let batting = plan(
            Top { width, height },
            BattingWish { over },
            Measure::Inch,
            &mut Vec::new(),
        );
        batting.package.map(|package| package.name)
    }

    #[test]
    fn the_smallest_package_that_covers() {
        // the charts above; "How to pin baste a quilt", published on the web, 2019: at least 4 in on each side
        assert_eq!(taken(28.0, 37.0, 4.0), Some("craft"));
        assert_eq!(taken(37.0, 28.0, 4.0), Some("craft"));
        assert_eq!(taken(64.0, 82.0, 4.0), Some("twin"));
        assert_eq!(taken(64.1, 82.0, 4.0), Some("full"));
        assert_eq!(taken(112.0, 112.0, 4.0), Some("king"));
        assert_eq!(taken(113.0, 112.0, 4.0), None);
    }

    #[test]
    fn packages_are_in_order_of_size() {
        for pair in PACKAGES.windows(2) {
            assert!(pair[0].width <= pair[1].width && pair[0].length <= pair[1].length);
        }
    }
}
