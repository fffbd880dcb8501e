//! Derivations: how a printed number came about, as an expression that can be evaluated again.

use crate::{Length, Ruling};
use serde::{Deserialize, Serialize};

/// Which way a number was put onto a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// To the next mark at or above.
    Up,
    /// To the closest mark.
    Nearest,
    /// To the next mark at or below.
    Down,
}

/// The exact number `numerator · √root / denominator`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Surd {
    /// Whole number above the line.
    pub numerator: i32,
    /// Under the root sign; 1 for a plain fraction.
    pub root: u32,
    /// Whole number below the line, not zero.
    pub denominator: u32,
}

impl Surd {
    /// Its value.
    pub fn value(self) -> f64 {
        f64::from(self.numerator) * f64::from(self.root).sqrt() / f64::from(self.denominator)
    }
}

/// A number's derivation. Leaves are what the designer or the shop gave; the rest is arithmetic.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// A length taken from the drawing, the file or the trade's practice, in inches.
    Given {
        /// In a maker's words: "finished width".
        what: String,
        /// Inches.
        inches: f64,
    },
    /// An exact number without a unit.
    Surd(Surd),
    /// A plain number without a unit, with its name ("strips").
    Count {
        /// What is counted.
        what: String,
        /// How many.
        count: i64,
    },
    /// The same value under a name ("two seams").
    Named {
        /// In a maker's words.
        what: String,
        /// The value.
        of: Box<Why>,
    },
    /// All added.
    Sum(Vec<Why>),
    /// All multiplied.
    Product(Vec<Why>),
    /// The first less the second.
    Less(Box<Why>, Box<Why>),
    /// The first divided by the second.
    Quotient(Box<Why>, Box<Why>),
    /// Put onto a mark.
    ToMark {
        /// The value before.
        of: Box<Why>,
        /// The distance between marks.
        mark: Length,
        /// In which direction.
        way: Way,
    },
}

impl Why {
    /// A leaf.
    pub fn given(what: impl Into<String>, inches: f64) -> Self {
        Why::Given {
            what: what.into(),
            inches,
        }
    }

    /// The same value under a name.
    pub fn named(self, what: impl Into<String>) -> Self {
        Why::Named {
            what: what.into(),
            of: Box::new(self),
        }
    }

    /// `self · numerator·√root / denominator`.
    pub fn times(self, numerator: i32, root: u32, denominator: u32) -> Self {
        Why::Product(vec![
            self,
            Why::Surd(Surd {
                numerator,
                root,
                denominator,
            }),
        ])
    }

    /// Put onto a mark.
    pub fn to_mark(self, mark: Length, way: Way) -> Self {
        Why::ToMark {
            of: Box::new(self),
            mark,
            way,
        }
    }

    /// The number, in inches where it is a length.
    pub fn value(&self) -> f64 {
        match self {
            Why::Given { inches, .. } => *inches,
            Why::Surd(surd) => surd.value(),
            Why::Count { count, .. } => *count as f64,
            Why::Named { of, .. } => of.value(),
            Why::Sum(terms) => terms.iter().map(Why::value).sum(),
            Why::Product(factors) => factors.iter().map(Why::value).product(),
            Why::Less(from, take) => from.value() - take.value(),
            Why::Quotient(above, below) => above.value() / below.value(),
            Why::ToMark { of, mark, way } => Ruling::new(*mark)
                .and_then(|ruling| ruling.round(of.value(), *way))
                .map_or(f64::NAN, Length::to_inches),
        }
    }

    /// The printed number: [`Why::value`] to the nearest 1/8128 in. `None` when the derivation has no value.
    pub fn length(&self) -> Option<Length> {
        Length::nearest(self.value())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_and_seven_eighths() {
        // finished 5 + seams 1/2 + diagonal √2/4, up to the ruler's 1/8
        let why = Why::Sum(vec![
            Why::given("finished", 5.0),
            Why::given("seam", 0.25).times(2, 1, 1).named("two seams"),
            Why::given("seam", 0.25).times(1, 2, 1).named("diagonal"),
        ])
        .to_mark(Length::fraction(1, 8), Way::Up);
        assert_eq!(why.length(), Some(Length::fraction(47, 8)));
    }

    #[test]
    fn nonsense_has_no_length() {
        let why = Why::Quotient(Box::new(Why::given("a", 1.0)), Box::new(Why::given("b", 0.0)));
        assert_eq!(why.length(), None);
    }
}
