//! Lengths as they are set on a page: real fractions, a space that does not break, the unit once.

use crate::plural::counted;
use measure::{Length, Measure, Style};
use recipe::{BoughtCloth, BoughtPieces, CutForm};

/// Between a whole number and its fraction, and between a number and its unit: narrow, and no line breaks there.
pub(crate) const THIN: char = '\u{202F}';

/// A length as set, without its unit: `5 ⅞`, `³⁄₁₆`, `8.75`. Between 64ths of an inch: `0.354`.
pub fn set_length(length: Length, measure: Measure) -> String {
    let bare = length.print(measure, Style::Bare);
    let bare = bare.trim_start_matches("≈ ");
    bare.split(' ').map(raised).collect::<Vec<_>>().join(&THIN.to_string())
}

/// What a trim takes off, as a hand can judge it: on a mark as it is, else to the nearest 1/32 in (or 1 mm).
pub(crate) fn about(length: Length, measure: Measure) -> String {
    set_length(judged(length, measure), measure)
}

/// The length [`about`] prints.
pub(crate) fn judged(length: Length, measure: Measure) -> Length {
    let (fine, step) = match measure {
        Measure::Inch => (254, 254),
        Measure::Metric => (80, 320),
    };
    if length.units() % fine == 0 {
        return length;
    }
    Length::from_units((length.units() + step / 2) / step * step)
}

/// A length that need not be true: to the nearest 1/8 in, or half a centimetre, and at least that.
pub(crate) fn roughly(length: Length, measure: Measure) -> Length {
    let step = match measure {
        Measure::Inch => 1016,
        Measure::Metric => 1600,
    };
    Length::from_units(((length.units() + step / 2) / step).max(1) * step)
}

/// A length for files and terminals: `5 7/8 in`, `8.75 cm`.
pub fn plain_length(length: Length, measure: Measure) -> String {
    length.print(measure, Style::Plain)
}

/// A length of cloth as a shop says it: `½ yd`, `1 ⅜ yd`, `0.7 m`; in inches where it is no eighth of a yard.
pub fn cloth_length(length: Length, measure: Measure) -> String {
    match measure {
        Measure::Inch => {
            let eighths = length.units() * 8;
            let yard = Length::inches(36).units();
            if eighths % yard == 0 {
                let yards = Length::fraction(eighths / yard, 8);
                format!("{}{THIN}yd", set_length(yards, Measure::Inch))
            } else {
                format!("{}{THIN}in", set_length(length, Measure::Inch))
            }
        }
        Measure::Metric => {
            // Lengths of cloth are whole centimetres on the page; what is needed is never rounded down.
            let centimetres = (length.units() + 3199) / 3200;
            let (metres, rest) = (centimetres / 100, centimetres % 100);
            let digits = format!("{metres}.{rest:02}");
            let digits = digits.trim_end_matches('0').trim_end_matches('.');
            format!("{digits}{THIN}m")
        }
    }
}

/// What is bought of a cloth: a length off the bolt, or so many pieces as they are sold.
pub fn bought_words(bought: &BoughtCloth, measure: Measure) -> String {
    match bought.pieces {
        Some(pieces) => pieces_words(pieces.count, &pieces, measure),
        None => cloth_length(bought.length.len, measure),
    }
}

/// What no plan can do with less than, in the same words; a length off the bolt as it is.
pub fn least_words(bought: &BoughtCloth, measure: Measure) -> String {
    match bought.pieces {
        Some(pieces) => pieces_words(pieces.least, &pieces, measure),
        None => cloth_length(bought.bound.len, measure),
    }
}

/// `5 fat quarters`, `1 strip sold at 2 ½ in`.
pub(crate) fn pieces_words(count: u32, pieces: &BoughtPieces, measure: Measure) -> String {
    let size = || {
        format!(
            "sold at {}{THIN}{}",
            set_length(pieces.each.len, measure),
            unit(measure)
        )
    };
    let (noun, sold) = match pieces.form {
        CutForm::FatQuarter | CutForm::FatEighth => (pieces.form.one(), None),
        CutForm::Strips => ("strip", Some(size())),
        CutForm::Squares => ("square", Some(size())),
    };
    let words = counted(u64::from(count), noun);
    sold.map_or_else(|| words.clone(), |sold| format!("{words} {sold}"))
}

/// The unit that follows a set length.
pub(crate) fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Inch => "in",
        Measure::Metric => "cm",
    }
}

/// `3⁄16` with raised and lowered digits, so that any font shows a fraction; other words stay.
fn raised(word: &str) -> String {
    let Some((top, bottom)) = word.split_once('\u{2044}') else {
        return word.to_string();
    };
    let top: String = top
        .chars()
        .map(|c| digit(c, &['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹']))
        .collect();
    let bottom: String = bottom
        .chars()
        .map(|c| digit(c, &['₀', '₁', '₂', '₃', '₄', '₅', '₆', '₇', '₈', '₉']))
        .collect();
    format!("{top}\u{2044}{bottom}")
}

fn digit(c: char, set: &[char; 10]) -> char {
    c.to_digit(10).and_then(|d| set.get(d as usize).copied()).unwrap_or(c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_real() {
        assert_eq!(set_length(Length::fraction(47, 8), Measure::Inch), "5\u{202F}⅞");
        assert_eq!(set_length(Length::fraction(5, 16), Measure::Inch), "⁵⁄₁₆");
        assert_eq!(set_length(Length::fraction(53, 16), Measure::Inch), "3\u{202F}⁵⁄₁₆");
        assert_eq!(set_length(Length::tenths_of_mm(875), Measure::Metric), "8.75");
    }

    #[test]
    fn cloth_is_said_as_the_shop_says_it() {
        // 36 in to the yard, 100 cm to the metre (by definition)
        assert_eq!(cloth_length(Length::inches(18), Measure::Inch), "½\u{202F}yd");
        assert_eq!(
            cloth_length(Length::fraction(99, 2), Measure::Inch),
            "1\u{202F}⅜\u{202F}yd"
        );
        assert_eq!(cloth_length(Length::fraction(27, 2), Measure::Inch), "⅜\u{202F}yd");
        assert_eq!(cloth_length(Length::inches(14), Measure::Inch), "14\u{202F}in");
        assert_eq!(
            cloth_length(Length::tenths_of_mm(7000), Measure::Metric),
            "0.7\u{202F}m"
        );
        assert_eq!(
            cloth_length(Length::tenths_of_mm(12345), Measure::Metric),
            "1.24\u{202F}m"
        );
    }
}
