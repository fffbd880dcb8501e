//! How the table speaks: findings with a stable code, and figures in the measure the recipe is written in.

use measure::{Length, Measure, Style};
use recipe::Size;
use terms::{Finding, Place};

/// A check that failed ends the making it is part of.
pub(crate) type Outcome<T> = Result<T, Box<Finding>>;

/// Agreement asked for everywhere unless a rule says otherwise (1/64 in), with room for rounding noise.
pub(crate) const TOLERANCE: f64 = 1.0 / 64.0 + 1.0e-9;

/// No length in a recipe is longer than this (inches): beyond it nothing can be sewn, only computed wrongly.
pub(crate) const LONGEST: f64 = 10_000.0;

/// Whether a distance is larger than allowed, or not a number at all: nothing unreal is ever alike.
pub(crate) fn beyond(distance: f64, allowed: f64) -> bool {
    !distance.is_finite() || distance.abs() > allowed
}

/// A figure in a maker's words.
pub(crate) fn say(inches: f64, measure: Measure) -> String {
    // A figure that is a whole 64th but for rounding noise falls on it here, since lengths are counted in 1/8128 in.
    match Length::nearest(inches) {
        Some(length) => length.print(measure, Style::Plain),
        None => "more than any cloth".into(),
    }
}

/// A printed length as inches, refused when it is beyond all cloth.
pub(crate) fn real(size: Size, place: &Place) -> Outcome<f64> {
    let inches = size.inches();
    if beyond(inches, LONGEST) {
        return Err(bad(
            place,
            "A length is beyond anything that can be cut or sewn.",
            "Correct the length.",
        ));
    }
    Ok(inches)
}

/// A printed length that cannot be less than nothing.
pub(crate) fn positive(size: Size, place: &Place) -> Outcome<f64> {
    let inches = real(size, place)?;
    if inches < 0.0 {
        return Err(bad(place, "A length is less than nothing.", "Correct the length."));
    }
    Ok(inches)
}

/// A recipe that says something no hands could do.
pub(crate) fn bad(place: &Place, sentence: impl Into<String>, mend: impl Into<String>) -> Box<Finding> {
    Box::new(Finding::stop("bad-recipe", place.clone(), sentence, mend))
}

/// A failed check.
pub(crate) fn refuse(
    code: &'static str,
    place: &Place,
    sentence: impl Into<String>,
    mend: impl Into<String>,
) -> Box<Finding> {
    Box::new(Finding::stop(code, place.clone(), sentence, mend))
}
