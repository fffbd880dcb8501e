//! How cloth looks: its tint, the wrong side's third of it with hairlines, and a texture where two cloths would be one
//! grey.

use super::canvas::{Canvas, INK};
use recipe::FabricNote;
use terms::FabricId;

/// Two cloths whose lightness (CIE L*, 0 to 100) differs by less than this need a texture to be told apart in grey.
const CLOSE: f64 = 11.0;

/// One cloth.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cloth {
    pub fabric: FabricId,
    pub label: String,
    rgb: [f64; 3],
    /// 0: plain; 1 to 8: one of the textures.
    texture: usize,
    number: usize,
}

/// All cloths of a pattern.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cloths {
    all: Vec<Cloth>,
    unknown: Cloth,
}

impl Cloths {
    /// The first cloth of each grey stays plain; later ones that are close to it get textures in turn.
    pub(crate) fn of(fabrics: &[FabricNote]) -> Self {
        let mut all: Vec<Cloth> = Vec::new();
        for (number, note) in fabrics.iter().enumerate() {
            let rgb = read_color(&note.color);
            let light = lightness(rgb);
            let taken: Vec<usize> =
                all.iter().filter(|c| (lightness(c.rgb) - light).abs() < CLOSE).map(|c| c.texture).collect();
            let texture = (0..=8).find(|t| !taken.contains(t)).unwrap_or(number % 8 + 1);
            let label = if note.label.trim().is_empty() { note.fabric.0.clone() } else { note.label.trim().to_string() };
            all.push(Cloth { fabric: note.fabric.clone(), label, rgb, texture, number });
        }
        let unknown = Cloth {
            fabric: FabricId::default(),
            label: String::new(),
            rgb: [0.8, 0.8, 0.8],
            texture: 0,
            number: 999,
        };
        Cloths { all, unknown }
    }

    pub(crate) fn get(&self, fabric: &FabricId) -> &Cloth {
        self.all.iter().find(|c| &c.fabric == fabric).unwrap_or(&self.unknown)
    }
}

impl Cloth {
    /// The right side as a fill.
    pub(crate) fn right(&self, canvas: &mut Canvas) -> String {
        if self.texture == 0 {
            return hex(self.rgb);
        }
        let name = format!("cloth{}", self.number);
        canvas.define(&name, self.texture_pattern(&name));
        format!("url(#{name})")
    }

    /// The wrong side as a fill.
    pub(crate) fn wrong(&self, canvas: &mut Canvas) -> String {
        let name = format!("wrong{}", self.number);
        let tint = hex(mixed([1.0; 3], self.rgb, 1.0 / 3.0));
        let hair = hex(mixed(self.rgb, [0.13, 0.15, 0.18], 0.35));
        canvas.define(
            &name,
            format!(
                r##"<pattern id="{name}" width="4" height="4" patternUnits="userSpaceOnUse"><rect width="4" height="4" fill="{tint}"/><path d="M-1 5L5 -1M-1 1L1 -1M3 5L5 3" stroke="{hair}" stroke-width="0.3"/></pattern>"##
            ),
        );
        format!("url(#{name})")
    }

    /// Almost nothing of it: a patch that is not meant now.
    pub(crate) fn faint(&self) -> String {
        hex(mixed([1.0; 3], self.rgb, 0.14))
    }

    /// The ink that reads on its right side. Between them ink, white and black reach 4.5 : 1 on any cloth.
    pub(crate) fn lettering(&self) -> &'static str {
        let own = luminance(self.rgb);
        let ink = luminance(read_color(INK));
        let contrast = |a: f64, b: f64| (a.max(b) + 0.05) / (a.min(b) + 0.05);
        if contrast(own, ink) >= 4.5 {
            INK
        } else if contrast(own, 1.0) >= 4.5 {
            "#FFFFFF"
        } else {
            "#000000"
        }
    }

    fn texture_pattern(&self, name: &str) -> String {
        let ground = hex(self.rgb);
        let toward = if luminance(self.rgb) > 0.25 { [0.1, 0.12, 0.15] } else { [1.0; 3] };
        let line = hex(mixed(self.rgb, toward, 0.42));
        // Eight small drawings on a tile of 8: none of them is the wrong side's or the waste's diagonal.
        let drawing = match self.texture {
            1 => r#"<circle cx="2" cy="2" r="0.8" fill="LINE"/><circle cx="6" cy="6" r="0.8" fill="LINE"/>"#,
            2 => r#"<path d="M0 2Q2 0.6 4 2T8 2M0 6Q2 4.6 4 6T8 6" fill="none" stroke="LINE" stroke-width="0.6"/>"#,
            3 => r#"<path d="M2 0.8V3.2M0.8 2H3.2M6 4.8V7.2M4.8 6H7.2" stroke="LINE" stroke-width="0.6"/>"#,
            4 => r#"<path d="M1 0V8M5 0V8" stroke="LINE" stroke-width="0.6"/>"#,
            5 => r#"<path d="M0 3L2 1L4 3L6 1L8 3M0 7L2 5L4 7L6 5L8 7" fill="none" stroke="LINE" stroke-width="0.6"/>"#,
            6 => r#"<path d="M0 1H8M0 5H8" stroke="LINE" stroke-width="0.6"/>"#,
            7 => r#"<circle cx="2" cy="2" r="1.3" fill="none" stroke="LINE" stroke-width="0.5"/><circle cx="6" cy="6" r="1.3" fill="none" stroke="LINE" stroke-width="0.5"/>"#,
            _ => r#"<path d="M0 1H3M4 5H7M1 3V4M6 7V8" stroke="LINE" stroke-width="0.7"/>"#,
        };
        format!(
            r##"<pattern id="{name}" width="8" height="8" patternUnits="userSpaceOnUse"><rect width="8" height="8" fill="{ground}"/>{}</pattern>"##,
            drawing.replace("LINE", &line)
        )
    }
}

/// `#rrggbb`; a plain grey for anything else.
fn read_color(text: &str) -> [f64; 3] {
    let digits: Option<Vec<u32>> = text.strip_prefix('#').map(|d| d.chars().filter_map(|c| c.to_digit(16)).collect());
    match digits.as_deref() {
        Some([a, b, c, d, e, f]) if text.len() == 7 => {
            [a * 16 + b, c * 16 + d, e * 16 + f].map(|v| f64::from(v) / 255.0)
        }
        _ => [0.8, 0.8, 0.8],
    }
}

fn hex(rgb: [f64; 3]) -> String {
    let [r, g, b] = rgb.map(|v| (v * 255.0).round().clamp(0.0, 255.0) as u8);
    format!("#{r:02X}{g:02X}{b:02X}")
}

fn mixed(from: [f64; 3], to: [f64; 3], share: f64) -> [f64; 3] {
    [0, 1, 2].map(|i| from[i] + (to[i] - from[i]) * share)
}

/// Relative luminance (W3C WCAG 2.2, "relative luminance").
fn luminance(rgb: [f64; 3]) -> f64 {
    let linear = |v: f64| if v <= 0.04045 { v / 12.92 } else { libm::pow((v + 0.055) / 1.055, 2.4) };
    0.2126 * linear(rgb[0]) + 0.7152 * linear(rgb[1]) + 0.0722 * linear(rgb[2])
}

/// CIE 1976 L* of a colour's luminance.
fn lightness(rgb: [f64; 3]) -> f64 {
    let y = luminance(rgb);
    if y <= 216.0 / 24389.0 { y * 24389.0 / 27.0 } else { 116.0 * libm::cbrt(y) - 16.0 }
}

/// For pictures that show a colour by itself.
pub(crate) fn tile(canvas: &mut Canvas, cloth: &Cloth, x: f64, y: f64, side: f64) {
    let fill = cloth.right(canvas);
    canvas.outline(
        &[(x, y), (x + side, y), (x + side, y + side), (x, y + side)],
        &fill,
        Some(super::Pen::SEAM),
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(name: &str, color: &str) -> FabricNote {
        FabricNote {
            fabric: FabricId::new(name),
            label: name.into(),
            color: color.into(),
            right_side: true,
            print: recipe::PrintNote::None,
        }
    }

    #[test]
    fn one_grey_is_told_apart_by_texture() {
        // A red and a green of nearly one lightness, and a light cloth.
        let cloths = Cloths::of(&[note("red", "#C03030"), note("green", "#2F7F4F"), note("foam", "#EEE6D6")]);
        assert_eq!(cloths.all[0].texture, 0);
        assert_ne!(cloths.all[1].texture, 0);
        assert_eq!(cloths.all[2].texture, 0);
    }

    #[test]
    fn lightness_of_the_ends() {
        // CIE 15: L* of black 0, of white 100 (from memory)
        assert!(lightness([0.0; 3]).abs() < 1e-9);
        assert!((lightness([1.0; 3]) - 100.0).abs() < 1e-6);
    }

    #[test]
    fn letters_read_on_any_cloth() {
        // W3C WCAG 2.2, 1.4.3: at least 4.5 : 1; whichever ink is chosen reaches it on every grey (checked all through)
        for grey in 0..=255u32 {
            let color = format!("#{grey:02x}{grey:02x}{grey:02x}");
            let cloths = Cloths::of(&[note("x", &color)]);
            let cloth = cloths.get(&FabricId::new("x"));
            let (own, ink) = (luminance(cloth.rgb), luminance(read_color(cloth.lettering())));
            let contrast = (own.max(ink) + 0.05) / (own.min(ink) + 0.05);
            assert!(contrast >= 4.5, "{color}: {contrast}");
        }
        assert_eq!(read_color("nonsense"), [0.8; 3]);
    }
}
