//! A derivation in lines, as a maker would do the sum on paper.

use crate::numbers::{THIN, set_length, unit};
use measure::{Length, Measure, Surd, Way, Why};

/// One line of a derivation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhyLine {
    /// What it is.
    pub what: String,
    /// How much.
    pub value: String,
}

/// The lines of a derivation: its terms, and last the number itself.
///
/// `5 ⅞ in` may read: finished 5; two seams ½; diagonal (seam ¼ × √2) 0.354; up to the ruler's ⅛: 5 ⅞ in.
pub fn why_text(why: &Why, measure: Measure) -> Vec<WhyLine> {
    let mut lines = Vec::new();
    let total = |why: &Why| with_unit(why.value(), measure);
    match why {
        Why::ToMark { of, mark, way } => {
            terms(of, "", measure, &mut lines);
            if lines.len() > 1 {
                lines.push(line("together", of.value(), measure));
            }
            let direction = match way {
                Way::Up => "up to the ruler's",
                Way::Nearest => "to the ruler's nearest",
                Way::Down => "down to the ruler's",
            };
            lines.push(WhyLine {
                what: format!("{direction} {}", set_length(*mark, measure)),
                value: total(why),
            });
        }
        Why::Named { what, of } if matches!(**of, Why::ToMark { .. }) => {
            lines = why_text(of, measure);
            if let Some(last) = lines.last_mut() {
                last.what = format!("{what}, {}", last.what);
            }
        }
        _ => {
            terms(why, "", measure, &mut lines);
            if lines.len() > 1 {
                lines.push(WhyLine {
                    what: "together".into(),
                    value: total(why),
                });
            } else if let Some(only) = lines.last_mut() {
                only.value = total(why);
            }
        }
    }
    lines
}

fn terms(why: &Why, sign: &str, measure: Measure, lines: &mut Vec<WhyLine>) {
    match why {
        Why::Sum(all) => all.iter().for_each(|t| terms(t, sign, measure, lines)),
        Why::Less(from, take) => {
            terms(from, sign, measure, lines);
            terms(take, if sign.is_empty() { "less " } else { "" }, measure, lines);
        }
        Why::Named { what, of } => {
            let how = match **of {
                Why::Product(_) | Why::Quotient(..) => format!(" ({})", formula(of, measure)),
                _ => String::new(),
            };
            lines.push(line(&format!("{sign}{what}{how}"), of.value(), measure));
        }
        Why::Given { what, inches } => lines.push(line(&format!("{sign}{what}"), *inches, measure)),
        other => lines.push(line(
            &format!("{sign}{}", formula(other, measure)),
            other.value(),
            measure,
        )),
    }
}

fn line(what: &str, inches: f64, measure: Measure) -> WhyLine {
    WhyLine {
        what: what.to_string(),
        value: bare(inches, measure),
    }
}

fn bare(inches: f64, measure: Measure) -> String {
    Length::nearest(inches).map_or_else(|| "no value".into(), |l| set_length(l, measure))
}

fn with_unit(inches: f64, measure: Measure) -> String {
    format!("{}{THIN}{}", bare(inches, measure), unit(measure))
}

/// An expression on one line.
fn formula(why: &Why, measure: Measure) -> String {
    match why {
        Why::Given { what, inches } => format!("{what} {}", bare(*inches, measure)),
        Why::Surd(s) => surd(*s),
        Why::Count { what, count } => format!("{count} {what}"),
        Why::Named { what, of } => format!("{what} {}", bare(of.value(), measure)),
        Why::Sum(all) => format!(
            "({})",
            all.iter().map(|t| formula(t, measure)).collect::<Vec<_>>().join(" + ")
        ),
        Why::Product(all) => all.iter().map(|t| formula(t, measure)).collect::<Vec<_>>().join(" × "),
        Why::Less(from, take) => format!("({} − {})", formula(from, measure), formula(take, measure)),
        Why::Quotient(above, below) => format!("{} ÷ {}", formula(above, measure), formula(below, measure)),
        Why::ToMark { of, .. } => format!("{} on a mark", bare(of.value(), measure)),
    }
}

fn surd(s: Surd) -> String {
    let mut text = match (s.numerator, s.root) {
        (n, 1) => n.to_string(),
        (1, r) => format!("√{r}"),
        (n, r) => format!("{n}√{r}"),
    };
    if s.denominator != 1 {
        text.push_str(&format!("/{}", s.denominator));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_and_seven_eighths_explains_itself() {
        // DESIGN: 5 7/8 = finished 5 + seams 1/2 + diagonal √2/4 = 5.8536, up to the ruler's 1/8 (derived)
        let why = Why::Sum(vec![
            Why::given("finished", 5.0),
            Why::given("seam", 0.25).times(2, 1, 1).named("two seams"),
            Why::given("seam", 0.25).times(1, 2, 1).named("diagonal"),
        ])
        .to_mark(Length::fraction(1, 8), Way::Up);
        let lines: Vec<String> = why_text(&why, Measure::Inch)
            .iter()
            .map(|l| format!("{} = {}", l.what, l.value))
            .collect();
        assert_eq!(
            lines,
            [
                "finished = 5",
                "two seams (seam ¼ × 2) = ½",
                "diagonal (seam ¼ × √2) = 0.354",
                "together = 5.854",
                "up to the ruler's ⅛ = 5\u{202F}⅞\u{202F}in",
            ]
        );
    }
}
