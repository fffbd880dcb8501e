//! The same quilt planned and written in the other measure. Finished sizes stay as drawn; what the file left to custom (the seam,
//! the ruler, the width of a bolt, the shop's step, the overages, the binding) becomes the other measure's custom, and what it
//! chose otherwise goes to the nearest mark.

use crate::{Custom as SoldSize, Design, Fabric, Sold};
use measure::Measure;
use terms::FabricId;

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
            if fabric.sold != Sold::Bolt {
                sold_cut(fabric, metric);
                continue;
            }
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
        let cut: Vec<FabricId> = (design.fabrics.iter())
            .filter(|fabric| fabric.sold != Sold::Bolt)
            .map(|fabric| fabric.name.clone())
            .collect();
        let others = design.colorways.iter_mut().flat_map(|colorway| &mut colorway.fabrics);
        for (_, other) in others.filter(|(fabric, _)| !cut.contains(fabric)) {
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

/// What is sold cut comes in the other measure's customary size where it was of the own one's; of another size it stays. It costs
/// what it costs.
fn sold_cut(fabric: &mut Fabric, metric: bool) {
    let (own, other) = if metric {
        (Measure::Inch, Measure::Metric)
    } else {
        (Measure::Metric, Measure::Inch)
    };
    let (own, other) = (fabric.sold.custom(own), fabric.sold.custom(other));
    let near = |a: f64, b: f64| (a - b).abs() < 1.0e-6;
    let length = |custom: SoldSize| custom.length.unwrap_or(0.0);
    if near(fabric.width, own.width)
        && near(fabric.usable, own.width - own.selvedges)
        && near(length(own), fabric.length.unwrap_or(0.0))
    {
        (fabric.width, fabric.usable) = (other.width, other.width - other.selvedges);
        fabric.length = other.length;
    }
    if near(fabric.square_up, own.square_up) {
        fabric.square_up = other.square_up;
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
