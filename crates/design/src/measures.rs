//! The same quilt planned and written in the other measure. Finished sizes stay as drawn; what the file left to custom (the seam,
//! the ruler, the width of a bolt, the shop's step, the overages, the binding) becomes the other measure's custom, and what it
//! chose otherwise goes to the nearest mark.

use crate::Design;
use measure::Measure;

/// What is customary in inches and, in inches too, what is customary in centimetres.
struct Custom {
    seam: (f64, f64),
    ruler: (f64, f64),
    turn_under: (f64, f64),
    width: (f64, f64),
    usable: (f64, f64),
    square_up: (f64, f64),
    step: (f64, f64),
    over: (f64, f64),
    binding: (f64, f64),
    sleeve: (f64, f64),
    wide: (f64, f64),
    label: [(f64, f64); 2],
}

/// As the format's page has them for files in either measure.
const CUSTOM: Custom = Custom {
    seam: (0.25, 0.75 / 2.54),
    ruler: (0.125, 0.25 / 2.54),
    turn_under: (0.25, 0.5 / 2.54),
    width: (42.0, 110.0 / 2.54),
    usable: (40.0, 105.0 / 2.54),
    square_up: (1.0, 2.5 / 2.54),
    step: (4.5, 10.0 / 2.54),
    over: (4.0, 10.0 / 2.54),
    binding: (2.25, 6.0 / 2.54),
    sleeve: (8.5, 22.0 / 2.54),
    wide: (106.0, 270.0 / 2.54),
    label: [(6.0, 15.0 / 2.54), (4.0, 10.0 / 2.54)],
};

/// Yards in a metre (international yard, 0.9144 m).
const YARDS_IN_A_METRE: f64 = 1.0 / 0.9144;

impl Design {
    /// The quilt planned and written in that measure.
    pub fn in_measure(&self, measure: Measure) -> Design {
        let mut design = self.clone();
        if measure == self.quilt.measure {
            return design;
        }
        let metric = measure == Measure::Metric;
        let custom = |size: f64, (inch, centimetres): (f64, f64)| {
            let (from, to) = if metric {
                (inch, centimetres)
            } else {
                (centimetres, inch)
            };
            ((size - from).abs() < 1.0e-6).then_some(to)
        };
        let quilt = &mut design.quilt;
        quilt.measure = measure;
        quilt.ruler = custom(quilt.ruler, CUSTOM.ruler).unwrap_or(if metric { CUSTOM.ruler.1 } else { CUSTOM.ruler.0 });
        let mark = quilt.ruler;
        let to_mark = |size: f64| (size / mark).round().max(1.0) * mark;
        let turned = |size: f64, both: (f64, f64)| custom(size, both).unwrap_or_else(|| to_mark(size));
        quilt.seam = turned(quilt.seam, CUSTOM.seam);
        quilt.turn_under = turned(quilt.turn_under, CUSTOM.turn_under);
        for fabric in &mut design.fabrics {
            // A bolt that is not of the customary width stays as wide as it is.
            if let (Some(width), Some(usable)) =
                (custom(fabric.width, CUSTOM.width), custom(fabric.usable, CUSTOM.usable))
            {
                (fabric.width, fabric.usable) = (width, usable);
            }
            fabric.square_up = if fabric.square_up > 0.0 {
                turned(fabric.square_up, CUSTOM.square_up)
            } else {
                0.0
            };
            fabric.step = turned(fabric.step, CUSTOM.step);
            fabric.price = fabric.price.map(|price| per_length(price, metric));
        }
        for other in design
            .colorways
            .iter_mut()
            .flat_map(|colorway| colorway.fabrics.values_mut())
        {
            other.price = other.price.map(|price| per_length(price, metric));
        }
        let sizes = design.sizes.iter_mut().filter_map(|size| size.finish.as_mut());
        for finish in std::iter::once(&mut design.finish).chain(sizes) {
            for over in [&mut finish.backing_over, &mut finish.batting_over] {
                if *over > 0.0 {
                    *over = turned(*over, CUSTOM.over);
                }
            }
            if let Some(binding) = &mut finish.binding {
                binding.strip = turned(binding.strip, CUSTOM.binding);
            }
            if let Some(wide) = &mut finish.wide {
                wide.usable = custom(wide.usable, CUSTOM.wide).unwrap_or(wide.usable);
                wide.price = wide.price.map(|price| per_length(price, metric));
            }
            if let Some(sleeve) = &mut finish.sleeve {
                sleeve.strip = turned(sleeve.strip, CUSTOM.sleeve);
            }
            if let Some(label) = &mut finish.label {
                label.size = (
                    turned(label.size.0, CUSTOM.label[0]),
                    turned(label.size.1, CUSTOM.label[1]),
                );
            }
        }
        design
    }
}

/// A price of a yard as that of a metre, or the other way round.
fn per_length(price: f64, metric: bool) -> f64 {
    let turned = if metric {
        price * YARDS_IN_A_METRE
    } else {
        price / YARDS_IN_A_METRE
    };
    (turned * 100.0).round() / 100.0
}
