//! How different two colours look: CIEDE2000 in CIELAB under D65, from the sRGB colours of the file.

use crate::Color;
use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, Srgb};

/// Colour difference CIEDE2000; about 1 is just seen side by side, 100 is black on white.
pub fn color_difference(a: Color, b: Color) -> f64 {
    let lab = |c: Color| -> Lab<palette::white_point::D65, f64> {
        Srgb::new(c.red, c.green, c.blue)
            .into_format::<f64>()
            .into_linear()
            .into_color()
    };
    lab(a).difference(lab(b))
}

/// The same between two places of CIELAB: lightness, green to red, blue to yellow.
pub fn lab_difference(a: [f64; 3], b: [f64; 3]) -> f64 {
    let lab = |[l, a, b]: [f64; 3]| Lab::<palette::white_point::D65, f64>::new(l, a, b);
    lab(a).difference(lab(b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_on_white_is_a_hundred() {
        let grey = |v| Color {
            red: v,
            green: v,
            blue: v,
        };
        assert!((color_difference(grey(0), grey(255)) - 100.0).abs() < 1e-3);
        assert_eq!(color_difference(grey(90), grey(90)), 0.0);
    }
}
