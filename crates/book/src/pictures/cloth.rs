//! How cloth looks: its tint, the wrong side's third of it with hairlines, and a texture where two cloths would be one
//! grey.

use super::canvas::{Canvas, INK, Pen, n1};
use design::Color;
use recipe::FabricNote;
use shape::{Point, Polygon};
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
    /// What its colours are called where pictures name them; none where they are written out.
    name: Option<String>,
    /// The ink that reads on its right side, as it is written into pictures.
    ink: String,
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
        Self::made(fabrics, false)
    }

    /// The same with colours called by name, as custom properties of CSS: another colour then changes no picture. Their
    /// values are in [`Cloths::colors`].
    pub(crate) fn named(fabrics: &[FabricNote]) -> Self {
        Self::made(fabrics, true)
    }

    fn made(fabrics: &[FabricNote], named: bool) -> Self {
        let mut all: Vec<Cloth> = Vec::new();
        for (number, note) in fabrics.iter().enumerate() {
            let rgb = read_color(&note.color);
            let light = lightness(rgb);
            let taken: Vec<usize> = all
                .iter()
                .filter(|c| (lightness(c.rgb) - light).abs() < CLOSE)
                .map(|c| c.texture)
                .collect();
            let texture = (0..=8).find(|t| !taken.contains(t)).unwrap_or(number % 8 + 1);
            let label = if note.label.trim().is_empty() {
                note.fabric.0.clone()
            } else {
                note.label.trim().to_string()
            };
            let name = named.then(|| format!("cloth-{number}"));
            all.push(Cloth::new(note.fabric.clone(), label, rgb, texture, name));
        }
        let name = named.then(|| "cloth-none".to_string());
        let unknown = Cloth::new(FabricId::default(), String::new(), [0.8; 3], 0, name);
        Cloths { all, unknown }
    }

    /// All names of colours with their values; none where they are written out.
    pub(crate) fn colors(&self) -> Vec<(String, String)> {
        let all = self.all.iter().chain([&self.unknown]);
        all.flat_map(|cloth| {
            let name = cloth.name.as_ref();
            let shades =
                name.map(|name| Shade::ALL.map(|shade| (format!("{name}{}", shade.suffix()), cloth.value(shade))));
            shades.into_iter().flatten()
        })
        .collect()
    }

    /// The same cloths in other colours, without textures; `way` tells these colours' names from others'.
    pub(crate) fn seen(&self, way: &str, look: impl Fn(Color) -> Color) -> Self {
        let other = |cloth: &Cloth| {
            let [red, green, blue] = cloth.rgb.map(|v| (v * 255.0).round().clamp(0.0, 255.0) as u8);
            let seen = look(Color { red, green, blue });
            let rgb = [seen.red, seen.green, seen.blue].map(|v| f64::from(v) / 255.0);
            let name = cloth.name.as_ref().map(|name| format!("{way}-{name}"));
            Cloth::new(cloth.fabric.clone(), cloth.label.clone(), rgb, 0, name)
        };
        Cloths {
            all: self.all.iter().map(other).collect(),
            unknown: other(&self.unknown),
        }
    }

    pub(crate) fn get(&self, fabric: &FabricId) -> &Cloth {
        self.all.iter().find(|c| &c.fabric == fabric).unwrap_or(&self.unknown)
    }
}

/// The colours made from a cloth's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shade {
    /// The cloth's own.
    Right,
    /// Of its wrong side.
    Wrong,
    /// Of the hairlines on its wrong side.
    Hair,
    /// Almost nothing of it.
    Faint,
    /// Of its texture.
    Texture,
    /// Of lettering on its right side.
    Ink,
}

impl Shade {
    const ALL: [Shade; 6] = [
        Shade::Right,
        Shade::Wrong,
        Shade::Hair,
        Shade::Faint,
        Shade::Texture,
        Shade::Ink,
    ];

    fn suffix(self) -> &'static str {
        match self {
            Shade::Right => "",
            Shade::Wrong => "-wrong",
            Shade::Hair => "-hair",
            Shade::Faint => "-faint",
            Shade::Texture => "-texture",
            Shade::Ink => "-ink",
        }
    }
}

impl Cloth {
    fn new(fabric: FabricId, label: String, rgb: [f64; 3], texture: usize, name: Option<String>) -> Self {
        let mut cloth = Cloth {
            fabric,
            label,
            rgb,
            texture,
            name,
            ink: String::new(),
        };
        cloth.ink = cloth.color(Shade::Ink);
        cloth
    }

    /// As it is written into a picture.
    fn color(&self, shade: Shade) -> String {
        match &self.name {
            Some(name) => format!("var(--{name}{})", shade.suffix()),
            None => self.value(shade),
        }
    }

    fn value(&self, shade: Shade) -> String {
        let rgb = self.rgb;
        match shade {
            Shade::Right => hex(rgb),
            Shade::Wrong => hex(mixed([1.0; 3], rgb, 1.0 / 3.0)),
            Shade::Hair => hex(mixed([1.0; 3], mixed(rgb, [0.13, 0.15, 0.18], 0.4), 0.75)),
            Shade::Faint => hex(mixed([1.0; 3], rgb, 0.09)),
            Shade::Texture => {
                let light = luminance(rgb) > 0.25;
                let toward = if light { [0.1, 0.12, 0.15] } else { [1.0; 3] };
                hex(mixed(rgb, toward, 0.42))
            }
            Shade::Ink => self.contrasting().to_string(),
        }
    }

    /// Its right side within an outline.
    pub(crate) fn right(&self, canvas: &mut Canvas, corners: &[(f64, f64)], pen: Option<Pen>) {
        self.right_sides(canvas, std::slice::from_ref(&corners), pen);
    }

    /// Its right side within several outlines, none of which lies on another.
    pub(crate) fn right_sides<C: AsRef<[(f64, f64)]>>(&self, canvas: &mut Canvas, all: &[C], pen: Option<Pen>) {
        let textured = self.texture != 0;
        canvas.outlines(all, &self.color(Shade::Right), if textured { None } else { pen });
        if textured {
            let width = if self.texture == 1 { 1.4 } else { 0.6 };
            let motifs: String = all.iter().map(|corners| self.motifs(corners.as_ref())).collect();
            canvas.strokes(&motifs, &self.color(Shade::Texture), width);
            if pen.is_some() {
                canvas.outlines(all, "none", pen);
            }
        }
    }

    /// Its wrong side within an outline.
    pub(crate) fn wrong(&self, canvas: &mut Canvas, corners: &[(f64, f64)], pen: Option<Pen>) {
        canvas.outline(corners, &self.color(Shade::Wrong), None);
        canvas.hatch(corners, 3.2, &self.color(Shade::Hair), 0.4);
        if pen.is_some() {
            canvas.outline(corners, "none", pen);
        }
    }

    /// Almost nothing of it: a patch that is not meant now.
    pub(crate) fn faint(&self) -> String {
        self.color(Shade::Faint)
    }

    /// The ink that reads on its right side.
    pub(crate) fn lettering(&self) -> &str {
        &self.ink
    }

    /// Between them ink, white and black reach 4.5 : 1 on any cloth.
    fn contrasting(&self) -> &'static str {
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

    /// Small drawings, one at each place of a staggered grid that lies well inside: none of the eight is the wrong
    /// side's or the waste's slanting line.
    fn motifs(&self, corners: &[(f64, f64)]) -> String {
        let outline = Polygon::new(corners.iter().map(|&(x, y)| Point::new(x, y)).collect());
        let (low, high) = outline.bounds();
        let mut d = String::new();
        let mut row = (low.y / 4.0).ceil();
        while row * 4.0 < high.y {
            let stagger = if row.rem_euclid(2.0) == 0.0 { 0.0 } else { 4.0 };
            let mut column = ((low.x - stagger) / 8.0).ceil();
            while column * 8.0 + stagger < high.x {
                let (x, y) = (column * 8.0 + stagger, row * 4.0);
                let place = Point::new(x, y);
                if inside(&outline, place) && outline.distance_to_boundary(place) > 1.7 {
                    let at = |dx: f64, dy: f64| format!("M{} {}", n1(x + dx), n1(y + dy));
                    d.push_str(&match self.texture {
                        1 => at(0.0, 0.0) + "h0",
                        2 => at(-1.2, 0.0) + "h2.4" + &at(0.0, -1.2) + "v2.4",
                        3 => at(0.0, -1.3) + "l1.3 1.3-1.3 1.3-1.3-1.3z",
                        4 => at(0.0, -1.4) + "v2.8",
                        5 => at(-1.4, 0.7) + "l1.4-1.4 1.4 1.4",
                        6 => at(-1.5, 0.0) + "h3",
                        7 => at(-1.2, 0.9) + "h2.4l-1.2-2z",
                        _ => at(-1.0, -1.0) + "l2 2" + &at(1.0, -1.0) + "l-2 2",
                    });
                }
                column += 1.0;
            }
            row += 1.0;
        }
        d
    }
}

/// Whether a place lies within an outline (even-odd).
pub(super) fn inside(outline: &Polygon, p: Point) -> bool {
    let mut within = false;
    for i in 0..outline.len() {
        let (a, b) = (outline.corner(i), outline.corner(i + 1));
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            within = !within;
        }
    }
    within
}

/// `#rrggbb`; a plain grey for anything else.
fn read_color(text: &str) -> [f64; 3] {
    let digits: Option<Vec<u32>> = text
        .strip_prefix('#')
        .map(|d| d.chars().filter_map(|c| c.to_digit(16)).collect());
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
    let linear = |v: f64| {
        if v <= 0.04045 {
            v / 12.92
        } else {
            libm::pow((v + 0.055) / 1.055, 2.4)
        }
    };
    0.2126 * linear(rgb[0]) + 0.7152 * linear(rgb[1]) + 0.0722 * linear(rgb[2])
}

/// CIE 1976 L* of a colour's luminance.
fn lightness(rgb: [f64; 3]) -> f64 {
    let y = luminance(rgb);
    if y <= 216.0 / 24389.0 {
        y * 24389.0 / 27.0
    } else {
        116.0 * libm::cbrt(y) - 16.0
    }
}

/// For pictures that show a colour by itself.
pub(crate) fn tile(canvas: &mut Canvas, cloth: &Cloth, x: f64, y: f64, side: f64) {
    cloth.right(
        canvas,
        &[(x, y), (x + side, y), (x + side, y + side), (x, y + side)],
        Some(Pen::SEAM),
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
        let cloths = Cloths::of(&[
            note("red", "#C03030"),
            note("green", "#2F7F4F"),
            note("foam", "#EEE6D6"),
        ]);
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

    #[test]
    fn all_inks_read_on_the_page() {
        // W3C WCAG 2.2, success criterion 1.4.3: at least 4.5 : 1, here on white and on the screen's paper
        for ink in ["#22262E", "#5B616B", "#A8322A", "#2F6B4F", "#8A5A00", "#A3211B"] {
            for paper in ["#FFFFFF", "#FBF8F1"] {
                let (a, b) = (luminance(read_color(ink)), luminance(read_color(paper)));
                assert!((b + 0.05) / (a + 0.05) >= 4.5, "{ink} on {paper}");
            }
        }
    }
}
