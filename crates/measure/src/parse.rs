//! Lengths as people write them.

use std::fmt;

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq)]
pub enum LengthError {
    /// Nothing but space.
    Empty,
    /// Not a number with an optional fraction.
    NotANumber(String),
    /// The unit is not one of ours.
    UnknownUnit(String),
    /// A fraction over zero.
    OverZero,
    /// Below zero.
    Negative,
    /// NaN or infinite, or over 1000 in.
    TooLarge,
}

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LengthError::Empty => write!(f, "a length is missing"),
            LengthError::NotANumber(text) => write!(f, "\"{text}\" is not a number such as 5 1/2 or 5.5"),
            LengthError::UnknownUnit(unit) => write!(f, "\"{unit}\" is not a unit (in, \", yd, cm, mm, m)"),
            LengthError::OverZero => write!(f, "a fraction over zero has no size"),
            LengthError::Negative => write!(f, "a length cannot be negative"),
            LengthError::TooLarge => write!(f, "a length must be a number of at most 1000 in"),
        }
    }
}

impl std::error::Error for LengthError {}

/// Inches in each unit a file may use; yards and metres by the international inch.
const UNITS: [(&str, f64); 9] = [
    ("in", 1.0),
    ("\"", 1.0),
    ("\u{2033}", 1.0),
    ("inch", 1.0),
    ("inches", 1.0),
    ("yd", 36.0),
    ("cm", 1.0 / 2.54),
    ("mm", 1.0 / 25.4),
    ("m", 100.0 / 2.54),
];

/// A length in inches: `5 1/2 in`, `5½"`, `5 1⁄2 in`, `5.5 in`, `14 cm`, `127 mm`, `1 1/8 yd`, `1.2 m`. A text without
/// a unit is in `bare_unit` (inches per unit).
///
/// # Errors
/// See [`LengthError`]; zero is allowed here, the caller refuses it where a size must be positive.
///
/// ```
/// # use measure::parse_inches;
/// assert_eq!(parse_inches("5 1/2 in", 1.0), Ok(5.5));
/// assert_eq!(parse_inches("127 mm", 1.0), Ok(5.0));
/// ```
pub fn parse_inches(text: &str, bare_unit: f64) -> Result<f64, LengthError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(LengthError::Empty);
    }
    let split = text
        .char_indices()
        .find(|(_, c)| c.is_alphabetic() || matches!(c, '"' | '\u{2033}' | '\'' | '%'))
        .map_or(text.len(), |(at, _)| at);
    let (number, unit) = text.split_at(split);
    let unit = unit.trim();
    let factor = if unit.is_empty() {
        bare_unit
    } else {
        UNITS
            .iter()
            .find(|(name, _)| *name == unit)
            .map(|(_, inches)| *inches)
            .ok_or_else(|| LengthError::UnknownUnit(unit.to_string()))?
    };
    let value = number_with_fraction(number)? * factor;
    if !value.is_finite() || value > 1000.0 {
        return Err(LengthError::TooLarge);
    }
    if value < 0.0 {
        return Err(LengthError::Negative);
    }
    Ok(value)
}

/// A percentage such as `5 %`, as a share of one. Between 0 and 100.
///
/// # Errors
/// See [`LengthError`].
pub fn parse_percent(text: &str) -> Result<f64, LengthError> {
    let number = text.trim().trim_end_matches('%');
    let value = number_with_fraction(number)?;
    if value < 0.0 {
        return Err(LengthError::Negative);
    }
    if !value.is_finite() || value > 100.0 {
        return Err(LengthError::TooLarge);
    }
    Ok(value / 100.0)
}

fn number_with_fraction(text: &str) -> Result<f64, LengthError> {
    let refuse = || LengthError::NotANumber(text.trim().to_string());
    // A Unicode fraction stands for a space and its digits; the fraction slash for a slash.
    let mut plain = String::new();
    for c in text.chars() {
        match vulgar(c) {
            Some(fraction) => {
                plain.push(' ');
                plain.push_str(fraction);
            }
            None if c == '\u{2044}' => plain.push('/'),
            None => plain.push(c),
        }
    }
    let mut words = plain.split_whitespace();
    let first = words.next().ok_or(LengthError::Empty)?;
    let value = match (words.next(), words.next()) {
        (None, _) if first.contains('/') => ratio(first, &refuse)?,
        (None, _) => decimal(first, &refuse)?,
        (Some(second), None) => {
            if !first.trim_start_matches(['-', '+']).chars().all(|c| c.is_ascii_digit()) {
                return Err(refuse());
            }
            let whole = decimal(first, &refuse)?;
            let part = ratio(second, &refuse)?;
            if first.starts_with('-') {
                whole - part
            } else {
                whole + part
            }
        }
        (Some(_), Some(_)) => return Err(refuse()),
    };
    Ok(value)
}

fn decimal(word: &str, refuse: &dyn Fn() -> LengthError) -> Result<f64, LengthError> {
    // Rust reads "inf" and "nan" as numbers; a ruler does not.
    if word
        .chars()
        .any(|c| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))
    {
        return Err(refuse());
    }
    word.parse::<f64>().map_err(|_| refuse())
}

fn ratio(word: &str, refuse: &dyn Fn() -> LengthError) -> Result<f64, LengthError> {
    let (top, bottom) = word.split_once('/').ok_or_else(refuse)?;
    let bottom: u32 = bottom.parse().map_err(|_| refuse())?;
    let negative = top.starts_with('-');
    let top: u32 = top.trim_start_matches('-').parse().map_err(|_| refuse())?;
    if bottom == 0 {
        return Err(LengthError::OverZero);
    }
    let value = f64::from(top) / f64::from(bottom);
    Ok(if negative { -value } else { value })
}

fn vulgar(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_of_the_file_format() {
        for (text, inches) in [
            ("5 1/2 in", 5.5),
            ("5 1/2\"", 5.5),
            ("5.5 in", 5.5),
            ("14 cm", 14.0 / 2.54),
            ("127 mm", 5.0),
            ("1 1/8 yd", 40.5),
            ("1.2 m", 120.0 / 2.54),
            ("5½\"", 5.5),
            ("5 ½ in", 5.5),
            ("½", 0.5),
            ("5 1\u{2044}2 in", 5.5),
            ("3", 3.0),
        ] {
            let read = parse_inches(text, 1.0).unwrap();
            assert!((read - inches).abs() < 1e-12, "{text}: {read}");
        }
    }

    #[test]
    fn and_nothing_else() {
        assert_eq!(parse_inches("", 1.0), Err(LengthError::Empty));
        assert_eq!(parse_inches("-1 in", 1.0), Err(LengthError::Negative));
        assert_eq!(parse_inches("-1 1/2 in", 1.0), Err(LengthError::Negative));
        assert_eq!(parse_inches("1/0 in", 1.0), Err(LengthError::OverZero));
        assert_eq!(parse_inches("1001 in", 1.0), Err(LengthError::TooLarge));
        assert!(matches!(parse_inches("5 ells", 1.0), Err(LengthError::UnknownUnit(_))));
        assert!(parse_inches("nan", 1.0).is_err());
        assert!(parse_inches("1.5 1/2 in", 1.0).is_err());
        assert!(parse_inches("1e400", 1.0).is_err());
    }
}
