//! Sizes entered with their derivations.

use measure::{Length, Measure, Why};
use recipe::{Size, WhyId};

/// The size that `why` derives. All numbers that come here are finite and small, so there is always a value.
pub(crate) fn size(why: Why, whys: &mut Vec<Why>) -> Size {
    let len = why.length().unwrap_or(Length::ZERO);
    let id = WhyId(whys.len() as u32);
    whys.push(why);
    Size { len, why: Some(id) }
}

/// A whole number of things, by a derivation that ends on a whole number.
pub(crate) fn whole(why: &Why) -> u32 {
    let value = why.value();
    if value.is_finite() && value > 0.0 {
        value as u32
    } else {
        0
    }
}

/// Up to the next whole number: the marks of a ruler one inch apart, the number having no unit.
pub(crate) fn up_to_whole(why: Why) -> Why {
    why.to_mark(Length::inches(1), measure::Way::Up)
}

/// The mark that backs and batting are cut up to: nobody cuts them to a hair. Half an inch, a centimetre (common practice).
pub(crate) fn whole_mark(measure: Measure) -> Length {
    match measure {
        Measure::Inch => Length::fraction(1, 2),
        Measure::Metric => Length::tenths_of_mm(100),
    }
}
