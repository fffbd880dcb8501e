//! How cloth is sold, and the sizes that are customary for it.

use measure::Measure;

/// How a cloth is sold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Sold {
    /// Off the bolt, in the shop's steps.
    #[default]
    Bolt,
    /// Half a yard or metre along the selvedge, half the width of the cloth.
    FatQuarter,
    /// A quarter along the selvedge, half the width.
    FatEighth,
    /// Strips cut to this height across the whole width, inches.
    Strips(f64),
    /// Squares cut to this side, inches.
    Squares(f64),
}

/// What is customary where the file does not say it, inches (common practice).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Custom {
    /// Across, as sold.
    pub width: f64,
    /// Along the selvedge; nothing off the bolt.
    pub length: Option<f64>,
    /// The selvedges, not used: of half a width there is one.
    pub selvedges: f64,
    /// Lost to the first straight cut. What is sold cut to a size is cut straight.
    pub square_up: f64,
}

impl Sold {
    /// The customary sizes. A fat quarter is 18 by 22 in, or half by half a metre of cloth 110 cm wide.
    pub fn custom(self, measure: Measure) -> Custom {
        let cm = |length: f64| length / 2.54;
        let (bolt, fat) = match measure {
            Measure::Inch => ((42.0, 2.0, 1.0), (22.0, 1.0, 0.5)),
            Measure::Metric => ((cm(110.0), cm(5.0), cm(2.5)), (cm(55.0), cm(2.5), cm(1.0))),
        };
        let ((width, selvedges, square_up), length) = match (self, measure) {
            (Sold::Bolt, _) => (bolt, None),
            (Sold::FatQuarter, Measure::Inch) => (fat, Some(18.0)),
            (Sold::FatQuarter, Measure::Metric) => (fat, Some(cm(50.0))),
            (Sold::FatEighth, Measure::Inch) => (fat, Some(9.0)),
            (Sold::FatEighth, Measure::Metric) => (fat, Some(cm(25.0))),
            (Sold::Strips(height), _) => ((bolt.0, bolt.1, 0.0), Some(height)),
            (Sold::Squares(side), _) => ((side, 0.0, 0.0), Some(side)),
        };
        Custom {
            width,
            length,
            selvedges,
            square_up,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fat_quarter_is_half_by_half() {
        // squares-per-fat-quarter charts published on the web, 2002 and later: 18 x 22 in; metric, common practice: 50 x 55 cm
        let inch = Sold::FatQuarter.custom(Measure::Inch);
        assert_eq!((inch.length, inch.width), (Some(18.0), 22.0));
        let metric = Sold::FatQuarter.custom(Measure::Metric);
        assert!(
            (metric.length.unwrap_or(0.0) * 2.54 - 50.0).abs() < 1.0e-9 && (metric.width * 2.54 - 55.0).abs() < 1.0e-9
        );
        // *derived*: two fat eighths along the selvedge are a fat quarter
        let eighth = Sold::FatEighth.custom(Measure::Inch);
        assert_eq!(eighth.length.map(|l| 2.0 * l), inch.length);
        assert_eq!(eighth.width, inch.width);
    }
}
