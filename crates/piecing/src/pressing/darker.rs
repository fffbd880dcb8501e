//! Which of two cloths is the darker: by lightness, L* of CIELAB under D65.

use super::ends::Room;
use crate::class::ClassId;
use crate::settings::Settings;
use crate::tokens::Content;
use std::collections::BTreeMap;
use std::rc::Rc;
use terms::FabricId;

/// Between black and white, where a colour cannot be read.
const MIDDLING: f64 = 50.0;

/// Questions among which an equal one is looked for.
const MANY: usize = 500;

/// How much of each cloth there is in a unit, as a share of it; by the cloth's place among the settings, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mix(Vec<(usize, f64)>);

impl Mix {
    /// Nothing but one cloth.
    fn of_one(settings: &Settings, fabric: &FabricId) -> Mix {
        let at = settings.cloths.iter().position(|cloth| &cloth.note.fabric == fabric);
        Mix(vec![(at.unwrap_or(usize::MAX), 1.0)])
    }

    /// Several, each so much of it.
    fn of<'m>(parts: impl Iterator<Item = (&'m Mix, f64)>) -> Mix {
        let mut shares: BTreeMap<usize, f64> = BTreeMap::new();
        for (mix, share) in parts {
            for (cloth, part) in &mix.0 {
                *shares.entry(*cloth).or_default() += part * share;
            }
        }
        Mix(shares.into_iter().collect())
    }

    /// Its mean lightness.
    fn lightness(&self, settings: &Settings) -> f64 {
        let of = |cloth: usize| {
            let color = settings.cloths.get(cloth).map(|cloth| cloth.note.color.as_str());
            color.and_then(lightness_of).unwrap_or(MIDDLING)
        };
        if self.0.is_empty() {
            return MIDDLING;
        }
        self.0.iter().map(|(cloth, share)| share * of(*cloth)).sum()
    }
}

/// That one layer of a seam was found darker than the other, or not. All that a plan takes from the cloths' colours.
#[derive(Clone, Debug, PartialEq)]
pub struct Darker {
    lower: Mix,
    upper: Mix,
    /// As dark is dark enough.
    or_even: bool,
    answer: bool,
}

impl Darker {
    fn asked(lower: Mix, upper: Mix, or_even: bool, settings: &Settings) -> Darker {
        let mut asked = Darker {
            lower,
            upper,
            or_even,
            answer: false,
        };
        asked.answer = asked.is_so(settings);
        asked
    }

    fn is_so(&self, settings: &Settings) -> bool {
        let (lower, upper) = (self.lower.lightness(settings), self.upper.lightness(settings));
        if self.or_even { upper <= lower } else { upper < lower }
    }

    /// Whether the answer is the same in other colours.
    pub fn holds(&self, settings: &Settings) -> bool {
        self.is_so(settings) == self.answer
    }
}

impl Room<'_, '_> {
    /// Whether the upper layer of a seam is the darker, of two cloths.
    pub(super) fn darker(&mut self, lower: &FabricId, upper: &FabricId) -> bool {
        let settings = self.planner.settings;
        let [lower, upper] = [lower, upper].map(|fabric| Mix::of_one(settings, fabric));
        self.noted(Darker::asked(lower, upper, false, settings))
    }

    /// Whether the upper layer of a seam is at least as dark, of parts of a unit.
    pub(super) fn as_dark(&mut self, lower: &[ClassId], upper: &[ClassId]) -> bool {
        let [lower, upper] = [lower, upper].map(|parts| {
            let mixes: Vec<Rc<Mix>> = parts.iter().map(|&part| self.mix(part)).collect();
            let share = 1.0 / parts.len().max(1) as f64;
            Mix::of(mixes.iter().map(|mix| (&**mix, share)))
        });
        self.noted(Darker::asked(lower, upper, true, self.planner.settings))
    }

    fn noted(&mut self, asked: Darker) -> bool {
        let answer = asked.answer;
        // Of many kinds of unit many ask alike; in a very long list that is not worth looking for.
        if self.asked.len() > MANY || !self.asked.contains(&asked) {
            self.asked.push(asked);
        }
        answer
    }

    /// What of which cloth is in a unit, by area.
    fn mix(&mut self, id: ClassId) -> Rc<Mix> {
        if let Some(known) = self.mixes.get(&id) {
            return known.clone();
        }
        let class = self.planner.classes.get(id).clone();
        let mut parts: Vec<(Rc<Mix>, f64)> = Vec::with_capacity(class.faces.len());
        let mut area = 0.0;
        for &face in &class.faces {
            let token = &self.planner.blocks[class.home].tokens[face];
            let (share, content) = (token.area, token.content.clone());
            let mix = match content {
                Content::Patch { fabric, .. } => Rc::new(Mix::of_one(self.planner.settings, &fabric)),
                Content::Unit { class, .. } => self.mix(class),
            };
            parts.push((mix, share));
            area += share;
        }
        let mix = if area > 0.0 {
            Mix::of(parts.iter().map(|(mix, share)| (&**mix, share / area)))
        } else {
            Mix::default()
        };
        let mix = Rc::new(mix);
        self.mixes.insert(id, mix.clone());
        mix
    }
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
