//! The integer length.

use serde::{Deserialize, Serialize};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// How many units of [`Length`] make an inch: 8128 = 64 · 127 = 320 · 25.4, so that 1/64 in is 127 units
/// and 0.1 mm is 32 units (the inch is 25.4 mm exactly, by the 1959 international agreement).
pub const UNITS_PER_INCH: i64 = 8128;

/// A length that is printed, cut or bought, in whole 1/8128 in. May be negative as a difference.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);

    /// From a count of 1/8128 in.
    pub const fn from_units(units: i64) -> Self {
        Length(units)
    }

    /// The count of 1/8128 in.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// Whole inches.
    pub const fn inches(whole: i64) -> Self {
        Length(whole * UNITS_PER_INCH)
    }

    /// `numerator / denominator` inches; exact for denominators that divide 8128 (1, 2, 4 … 64, 127).
    ///
    /// ```
    /// # use measure::Length;
    /// assert_eq!(Length::fraction(11, 2).to_inches(), 5.5);
    /// ```
    pub const fn fraction(numerator: i64, denominator: i64) -> Self {
        Length(numerator * UNITS_PER_INCH / denominator)
    }

    /// Tenths of a millimetre, exactly.
    pub const fn tenths_of_mm(count: i64) -> Self {
        Length(count * 32)
    }

    /// The nearest unit to `inches`. `None` when it is not finite or beyond a million inches.
    pub fn nearest(inches: f64) -> Option<Self> {
        (inches.is_finite() && inches.abs() < 1.0e6).then(|| Length((inches * UNITS_PER_INCH as f64).round() as i64))
    }

    /// As inches.
    pub fn to_inches(self) -> f64 {
        self.0 as f64 / UNITS_PER_INCH as f64
    }

    /// Without its sign.
    pub const fn abs(self) -> Self {
        Length(self.0.abs())
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, times: i64) -> Length {
        Length(self.0 * times)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_systems_have_whole_marks() {
        assert_eq!(Length::fraction(1, 64).units(), 127);
        assert_eq!(Length::tenths_of_mm(1).units(), 32);
        // 25.4 mm = 1 in
        assert_eq!(Length::tenths_of_mm(254), Length::inches(1));
    }

    #[test]
    fn nothing_unreal_becomes_a_length() {
        assert_eq!(Length::nearest(f64::NAN), None);
        assert_eq!(Length::nearest(f64::INFINITY), None);
        assert_eq!(Length::nearest(0.5), Some(Length::fraction(1, 2)));
    }
}
