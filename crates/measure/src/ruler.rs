//! The marks of a ruler, and rounding onto them with a stated direction.

use crate::{Length, Way};

/// How far beyond a mark, in inches, a computed length may lie and still count as on it. Sizes come from `f64`
/// arithmetic; 2.5000000001 in is two and a half, not a mark more.
pub const PAST_A_MARK: f64 = 1.0e-6;

/// A ruler's smallest mark that cut sizes may use (1/8 in, 1/16 in, 0.25 cm, 1 mm).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ruling {
    mark: Length,
}

impl Ruling {
    /// `None` unless the mark is longer than nothing.
    pub fn new(mark: Length) -> Option<Self> {
        (mark > Length::ZERO).then_some(Ruling { mark })
    }

    /// The distance between neighbouring marks.
    pub fn mark(self) -> Length {
        self.mark
    }

    /// The mark that `inches` lies on, within [`PAST_A_MARK`].
    pub fn on_mark(self, inches: f64) -> Option<Length> {
        let near = self.round(inches, Way::Nearest)?;
        ((near.to_inches() - inches).abs() <= PAST_A_MARK).then_some(near)
    }

    /// Onto a mark, in the stated direction; `None` when `inches` is not a real length.
    pub fn round(self, inches: f64, way: Way) -> Option<Length> {
        Length::nearest(inches)?;
        let marks = inches / self.mark.to_inches();
        let slack = PAST_A_MARK / self.mark.to_inches();
        let count = match way {
            Way::Up => (marks - slack).ceil(),
            Way::Nearest => marks.round(),
            Way::Down => (marks + slack).floor(),
        };
        Some(self.mark * count as i64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hair_past_a_mark_is_still_on_it() {
        let eighths = Ruling::new(Length::fraction(1, 8)).unwrap();
        assert_eq!(eighths.round(2.500_000_000_1, Way::Up), Some(Length::fraction(5, 2)));
        assert_eq!(eighths.round(2.500_01, Way::Up), Some(Length::fraction(21, 8)));
        assert_eq!(eighths.round(2.499_999_999_9, Way::Down), Some(Length::fraction(5, 2)));
    }

    #[test]
    fn the_diagonal_half_rounds_up_to_three_eighths() {
        // Utah State University Extension, Half Square Triangles, 2009: 1/4 + 3/8 + 1/4 = 7/8
        let eighths = Ruling::new(Length::fraction(1, 8)).unwrap();
        assert_eq!(eighths.round(0.25 * 2f64.sqrt(), Way::Up), Some(Length::fraction(3, 8)));
    }
}
