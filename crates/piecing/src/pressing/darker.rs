//! Which of two cloths is the darker: by lightness, L* of CIELAB under D65.

use super::ends::Room;
use crate::class::ClassId;
use crate::settings::Settings;
use crate::tokens::Content;

/// Between black and white, where a colour cannot be read.
const MIDDLING: f64 = 50.0;

impl Room<'_, '_> {
    /// Mean lightness of a unit's cloth, by area.
    pub(super) fn light(&mut self, id: ClassId) -> f64 {
        if let Some(&known) = self.light.get(&id) {
            return known;
        }
        let class = self.planner.classes.get(id).clone();
        let (mut sum, mut area) = (0.0, 0.0);
        for &face in &class.faces {
            let token = &self.planner.blocks[class.home].tokens[face];
            let (share, content) = (token.area, token.content.clone());
            let light = match content {
                Content::Patch { fabric, .. } => lightness(self.planner.settings, &fabric),
                Content::Unit { class, .. } => self.light(class),
            };
            sum += share * light;
            area += share;
        }
        let light = if area > 0.0 { sum / area } else { MIDDLING };
        self.light.insert(id, light);
        light
    }
}

/// Lightness of a cloth's colour, 0 for black to 100 for white.
pub(super) fn lightness(settings: &Settings, fabric: &terms::FabricId) -> f64 {
    let color = settings.cloth(fabric).map(|c| c.note.color.as_str());
    color.and_then(lightness_of).unwrap_or(MIDDLING)
}

/// L* of an sRGB colour `#rrggbb`: the luminance Y = 0.2126 R + 0.7152 G + 0.0722 B of the linear components, then
/// 116 f(Y) - 16 with f the cube root, and a straight line for the darkest (CIE 15, CIELAB).
fn lightness_of(color: &str) -> Option<f64> {
    let channel = |from: usize| -> Option<f64> {
        let value = f64::from(u8::from_str_radix(color.get(from..from + 2)?, 16).ok()?) / 255.0;
        Some(if value <= 0.04045 {
            value / 12.92
        } else {
            libm::pow((value + 0.055) / 1.055, 2.4)
        })
    };
    let luminance = 0.2126 * channel(1)? + 0.7152 * channel(3)? + 0.0722 * channel(5)?;
    let third = 6.0 / 29.0_f64;
    Some(if luminance > third * third * third {
        116.0 * libm::cbrt(luminance) - 16.0
    } else {
        116.0 / (3.0 * third * third) * luminance
    })
}

#[cfg(test)]
mod tests {
    use super::lightness_of;

    /// Outside values: L* of sRGB primaries under D65, as commonly tabled (from memory: red 53.24, green 87.73, blue
    /// 32.30, mid grey #777777 50.03); white is 100 and black 0 by definition.
    #[test]
    fn lightness_is_that_of_the_tables() {
        let table = [
            ("#ffffff", 100.0),
            ("#000000", 0.0),
            ("#ff0000", 53.24),
            ("#00ff00", 87.73),
            ("#0000ff", 32.30),
            ("#777777", 50.03),
        ];
        for (color, l) in table {
            let ours = lightness_of(color).unwrap_or(-1.0);
            assert!((ours - l).abs() < 0.02, "{color}: {ours}, tables {l}");
        }
    }

    /// The palette library's CIELAB agrees over a grid of colours.
    #[test]
    fn lightness_is_that_of_the_palette_library() {
        use palette::{IntoColor, Lab, Srgb, white_point::D65};
        for (r, g, b) in (0..=255_u8)
            .step_by(17)
            .flat_map(|r| (0..=255).step_by(51).map(move |g| (r, g, 255 - r)))
        {
            let lab: Lab<D65, f64> = Srgb::new(r, g, b).into_format::<f64>().into_linear().into_color();
            let ours = lightness_of(&format!("#{r:02x}{g:02x}{b:02x}")).unwrap_or(-1.0);
            assert!((ours - lab.l).abs() < 0.01, "{r} {g} {b}: {ours}, library {}", lab.l);
        }
    }
}
