//! Lengths in words: inches as whole and fraction, metric as centimetres.

use crate::Length;
use serde::{Deserialize, Serialize};

/// The measure a pattern is written in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Measure {
    /// Inches and yards.
    #[default]
    Inch,
    /// Centimetres and metres.
    Metric,
}

/// How a length is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// `5 1/2 in`, `14 cm`: for terminals, files and spreadsheets.
    Plain,
    /// `5 ½"`, `14 cm`: for pages.
    Set,
    /// `5 ½` without its unit, for tables and pictures.
    Bare,
}

impl Length {
    /// The length in words. Inches to the nearest 1/64; a length between 64ths is written with `≈` and three
    /// decimals; centimetres with up to two decimals (0.01 cm = 0.1 mm).
    pub fn print(self, measure: Measure, style: Style) -> String {
        match measure {
            Measure::Inch => inch(self, style),
            Measure::Metric => metric(self, style),
        }
    }
}

fn inch(length: Length, style: Style) -> String {
    let sign = if length < Length::ZERO { "-" } else { "" };
    let units = length.abs().units();
    let unit = match style {
        Style::Plain => " in",
        Style::Set => "\u{2033}",
        Style::Bare => "",
    };
    if units % 127 != 0 {
        let inches = length.abs().to_inches();
        return format!("≈ {sign}{inches:.3}{unit}");
    }
    let sixty_fourths = units / 127;
    let (whole, part) = (sixty_fourths / 64, sixty_fourths % 64);
    if part == 0 {
        return format!("{sign}{whole}{unit}");
    }
    let shift = part.trailing_zeros().min(6);
    let (top, bottom) = (part >> shift, 64 >> shift);
    let fraction = match style {
        Style::Plain => format!("{top}/{bottom}"),
        Style::Set | Style::Bare => set_fraction(top, bottom),
    };
    if whole == 0 {
        format!("{sign}{fraction}{unit}")
    } else {
        format!("{sign}{whole} {fraction}{unit}")
    }
}

/// The Unicode fraction where there is one, else digits about a fraction slash (U+2044), which fonts set.
fn set_fraction(top: i64, bottom: i64) -> String {
    match (top, bottom) {
        (1, 2) => "½".into(),
        (1, 4) => "¼".into(),
        (3, 4) => "¾".into(),
        (1, 8) => "⅛".into(),
        (3, 8) => "⅜".into(),
        (5, 8) => "⅝".into(),
        (7, 8) => "⅞".into(),
        _ => format!("{top}\u{2044}{bottom}"),
    }
}

fn metric(length: Length, style: Style) -> String {
    let unit = if style == Style::Bare { "" } else { " cm" };
    let sign = if length < Length::ZERO { "-" } else { "" };
    let units = length.abs().units();
    let near = if units % 32 == 0 { "" } else { "≈ " };
    let tenths_of_mm = (units + 16) / 32;
    let (whole, hundredths) = (tenths_of_mm / 100, tenths_of_mm % 100);
    let digits = match hundredths {
        0 => String::new(),
        h if h % 10 == 0 => format!(".{}", h / 10),
        h => format!(".{h:02}"),
    };
    format!("{near}{sign}{whole}{digits}{unit}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_a_maker_reads_them() {
        let l = Length::fraction(11, 2);
        assert_eq!(l.print(Measure::Inch, Style::Plain), "5 1/2 in");
        assert_eq!(l.print(Measure::Inch, Style::Set), "5 ½″");
        assert_eq!(Length::fraction(1, 4).print(Measure::Inch, Style::Bare), "¼");
        assert_eq!(Length::fraction(5, 16).print(Measure::Inch, Style::Plain), "5/16 in");
        assert_eq!(Length::tenths_of_mm(1400).print(Measure::Metric, Style::Plain), "14 cm");
        assert_eq!(Length::tenths_of_mm(75).print(Measure::Metric, Style::Plain), "0.75 cm");
        assert_eq!(
            Length::from_units(2874).print(Measure::Inch, Style::Plain),
            "≈ 0.354 in"
        );
    }
}
