//! How the cloths work together: their ladder of lightness, what lies beside what and how well it is told apart in colour,
//! in grey and by eyes that see colours otherwise.

use crate::Color;
use crate::contrast::color_difference;
use crate::findings::meetings::{Meeting, side_by_side};
use palette::{IntoColor, Lab, LinSrgb, Srgb};
use std::collections::BTreeMap;
use terms::{FabricId, TopPicture};

/// Neighbours whose lightness differs by less are hardly told apart in grey: half a step of a ladder of ten greys.
pub const HARDLY_IN_GREY: f64 = 5.0;

/// Neighbours that differ less than this (CIEDE2000) blur into one another.
pub const BLURRED: f64 = 10.0;

/// Eyes that lack one kind of cone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Eyes {
    /// No red cones: protanopia.
    WithoutRed,
    /// No green cones: deuteranopia.
    WithoutGreen,
    /// No blue cones: tritanopia.
    WithoutBlue,
}

impl Eyes {
    /// All three.
    pub const ALL: [Eyes; 3] = [Eyes::WithoutRed, Eyes::WithoutGreen, Eyes::WithoutBlue];

    /// In a maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Eyes::WithoutRed => "without red cones (protanopia)",
            Eyes::WithoutGreen => "without green cones (deuteranopia)",
            Eyes::WithoutBlue => "without blue cones (tritanopia)",
        }
    }

    /// On linear sRGB. Source: "A physiologically-based model for simulation of color vision deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), severity 1.0.
    fn matrix(self) -> [[f64; 3]; 3] {
        match self {
            Eyes::WithoutRed => [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
            Eyes::WithoutGreen => [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
            Eyes::WithoutBlue => [
                [1.255_528, -0.076_749, -0.178_779],
                [-0.078_411, 0.930_809, 0.147_602],
                [0.004_733, 0.691_367, 0.303_900],
            ],
        }
    }
}

fn linear(color: Color) -> LinSrgb<f64> {
    Srgb::new(color.red, color.green, color.blue)
        .into_format::<f64>()
        .into_linear()
}

fn rounded(color: LinSrgb<f64>) -> Color {
    let shown: Srgb<f64> = Srgb::from_linear(color);
    let shown: Srgb<u8> = shown.into_format();
    Color {
        red: shown.red,
        green: shown.green,
        blue: shown.blue,
    }
}

/// Lightness: L* of CIELAB under D65, 0 for black to 100 for white.
pub fn lightness(color: Color) -> f64 {
    let lab: Lab<palette::white_point::D65, f64> = linear(color).into_color();
    lab.l
}

/// The grey of the same lightness.
pub fn in_grey(color: Color) -> Color {
    // The luminance of sRGB (IEC 61966-2-1), the middle row of its matrix to XYZ.
    let c = linear(color);
    let y = 0.212_639 * c.red + 0.715_169 * c.green + 0.072_192 * c.blue;
    rounded(LinSrgb::new(y.min(1.0), y.min(1.0), y.min(1.0)))
}

/// The colour as such eyes see it.
pub fn as_seen(color: Color, eyes: Eyes) -> Color {
    let c = linear(color);
    let [red, green, blue] = eyes
        .matrix()
        .map(|row| (row[0] * c.red + row[1] * c.green + row[2] * c.blue).clamp(0.0, 1.0));
    rounded(LinSrgb::new(red, green, blue))
}

/// A cloth on the ladder.
#[derive(Clone, Debug, PartialEq)]
pub struct Rung {
    /// Which.
    pub fabric: FabricId,
    /// Its colour.
    pub color: Color,
    /// L*, 0 to 100.
    pub lightness: f64,
}

/// Two cloths that lie side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbours {
    /// The darker, then the lighter.
    pub cloths: (FabricId, FabricId),
    /// How far they run side by side in the whole top, inches.
    pub along: f64,
    /// Difference in lightness.
    pub in_grey: f64,
    /// CIEDE2000.
    pub in_color: f64,
    /// CIEDE2000 as seen by [`Eyes::ALL`].
    pub to_eyes: [f64; 3],
}

/// The cloths of a top.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// From dark to light.
    pub ladder: Vec<Rung>,
    /// The hardest to tell apart in grey first.
    pub neighbours: Vec<Neighbours>,
}

/// How the cloths of a picture work together; those without a colour here are left out.
pub fn together(picture: &TopPicture, colors: &BTreeMap<FabricId, Color>) -> Together {
    let mut used: Vec<&FabricId> = picture.faces.iter().chain(&picture.laid).map(|f| &f.fabric).collect();
    used.sort();
    used.dedup();
    let mut ladder: Vec<Rung> = used
        .into_iter()
        .filter_map(|fabric| {
            let &color = colors.get(fabric)?;
            Some(Rung {
                fabric: fabric.clone(),
                color,
                lightness: lightness(color),
            })
        })
        .collect();
    ladder.sort_by(|a, b| a.lightness.total_cmp(&b.lightness).then(a.fabric.cmp(&b.fabric)));
    let number: BTreeMap<&FabricId, usize> = ladder.iter().enumerate().map(|(i, r)| (&r.fabric, i)).collect();
    let mut neighbours: Vec<Neighbours> = side_by_side(picture, &number, &|i, j| i != j)
        .into_iter()
        .map(|((i, j), Meeting { along, .. })| {
            let (dark, light) = (&ladder[i], &ladder[j]);
            let seen = |eyes| color_difference(as_seen(dark.color, eyes), as_seen(light.color, eyes));
            Neighbours {
                cloths: (dark.fabric.clone(), light.fabric.clone()),
                along,
                in_grey: light.lightness - dark.lightness,
                in_color: color_difference(dark.color, light.color),
                to_eyes: Eyes::ALL.map(seen),
            }
        })
        .collect();
    neighbours.sort_by(|a, b| a.in_grey.total_cmp(&b.in_grey).then(a.cloths.cmp(&b.cloths)));
    Together { ladder, neighbours }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn color(red: u8, green: u8, blue: u8) -> Color {
        Color { red, green, blue }
    }

    #[test]
    fn grey_keeps_its_lightness_and_every_eye_sees_grey_as_grey() {
        // derived: each row of the matrices adds to 1, so grey stays grey
        for v in [0_u8, 40, 128, 200, 255] {
            let grey = color(v, v, v);
            assert_eq!(in_grey(grey), grey);
            for eyes in Eyes::ALL {
                let seen = as_seen(grey, eyes);
                for part in [seen.red, seen.green, seen.blue] {
                    assert!(part.abs_diff(v) <= 1, "{v} {seen:?}");
                }
            }
        }
        for c in [color(200, 30, 40), color(20, 120, 60), color(250, 230, 90)] {
            assert!((lightness(in_grey(c)) - lightness(c)).abs() < 0.3);
        }
        // L* of the primaries under D65 (common tables): red 53.24, green 87.73, blue 32.30
        assert!((lightness(color(255, 0, 0)) - 53.24).abs() < 0.01);
        assert!((lightness(color(0, 255, 0)) - 87.73).abs() < 0.01);
        assert!((lightness(color(0, 0, 255)) - 32.30).abs() < 0.01);
    }

    #[test]
    fn red_and_green_come_near_without_green_cones() {
        let (red, green) = (color(190, 80, 60), color(110, 125, 50));
        let seen = |eyes| color_difference(as_seen(red, eyes), as_seen(green, eyes));
        assert!(color_difference(red, green) > 30.0);
        assert!(seen(Eyes::WithoutGreen) < 0.5 * color_difference(red, green));
        assert!(seen(Eyes::WithoutBlue) > seen(Eyes::WithoutGreen));
    }
}
