//! The integer place on printed matter.

use crate::{Length, UNITS_PER_INCH};
use serde::{Deserialize, Serialize};
use std::ops::{Add, Neg, Sub};

/// How many units of [`Printed`] make one of [`Length`]: a thousand, so that every length is a whole number of them.
pub const PRINTED_PER_LENGTH: i64 = 1000;

/// How many units of [`Printed`] make an inch.
pub const PRINTED_PER_INCH: i64 = UNITS_PER_INCH * PRINTED_PER_LENGTH;

/// A distance on printed matter, in whole 1/8 128 000 in: a thousandth of a [`Length`].
///
/// Nobody measures it: a maker cuts round the print. So it follows the drawing and not the ruler, as finely as a page
/// can say it (the numbers of a PDF keep about 1/1 000 000 in across a sheet). A [`Length`] would turn the long edge of a template
/// by a hair, and over a wide top of sharp tips that hair grows past 1/64 in.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(transparent)]
pub struct Printed(i64);

impl Printed {
    /// No distance at all.
    pub const ZERO: Printed = Printed(0);

    /// From a count of 1/8 128 000 in.
    pub const fn from_units(units: i64) -> Self {
        Printed(units)
    }

    /// The count of 1/8 128 000 in.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// Whole inches.
    pub const fn inches(whole: i64) -> Self {
        Printed(whole * PRINTED_PER_INCH)
    }

    /// A length, exactly.
    pub const fn of(length: Length) -> Self {
        Printed(length.units() * PRINTED_PER_LENGTH)
    }

    /// The nearest unit to `inches`. `None` when it is not finite or beyond a million inches.
    pub fn nearest(inches: f64) -> Option<Self> {
        (inches.is_finite() && inches.abs() < 1.0e6).then(|| Printed((inches * PRINTED_PER_INCH as f64).round() as i64))
    }

    /// As inches.
    pub fn to_inches(self) -> f64 {
        self.0 as f64 / PRINTED_PER_INCH as f64
    }

    /// The least length that is no less: what must be cut to hold this much of a print.
    pub const fn least_length(self) -> Length {
        let whole = self.0.div_euclid(PRINTED_PER_LENGTH);
        let part = self.0.rem_euclid(PRINTED_PER_LENGTH);
        Length::from_units(if part > 0 { whole + 1 } else { whole })
    }
}

impl Add for Printed {
    type Output = Printed;
    fn add(self, other: Printed) -> Printed {
        Printed(self.0 + other.0)
    }
}

impl Sub for Printed {
    type Output = Printed;
    fn sub(self, other: Printed) -> Printed {
        Printed(self.0 - other.0)
    }
}

impl Neg for Printed {
    type Output = Printed;
    fn neg(self) -> Printed {
        Printed(-self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_length_is_whole() {
        // Derived: 8128 · 1000 to the inch; 1/64 in = 127 000, 0.1 mm = 32 000.
        assert_eq!(Printed::inches(1).units(), 8_128_000);
        assert_eq!(Printed::of(Length::fraction(1, 64)).units(), 127_000);
        assert_eq!(Printed::of(Length::tenths_of_mm(1)).units(), 32_000);
        assert_eq!(Printed::nearest(0.5), Some(Printed::of(Length::fraction(1, 2))));
    }

    #[test]
    fn what_holds_a_print_is_rounded_up() {
        let five = Printed::of(Length::inches(5));
        assert_eq!(five.least_length(), Length::inches(5));
        let past = five + Printed::from_units(1);
        assert_eq!(past.least_length(), Length::inches(5) + Length::from_units(1));
        assert_eq!(Printed::from_units(-1).least_length(), Length::ZERO);
        assert_eq!(Printed::from_units(-1000).least_length(), Length::from_units(-1));
    }

    #[test]
    fn nothing_unreal_is_printed() {
        assert_eq!(Printed::nearest(f64::NAN), None);
        assert_eq!(Printed::nearest(f64::NEG_INFINITY), None);
        assert_eq!(Printed::nearest(2.0e6), None);
    }
}
