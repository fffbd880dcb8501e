//! A photograph's main colours, to choose cloth by: k-means in CIELAB, always from the same seed.

use super::colour_words;
use image::DynamicImage;
use kmeans_colors::{Sort, get_kmeans};
use palette::{FromColor, IntoColor, Lab, Srgb};
use serde::Serialize;

/// Colours that are looked for; near ones are then told once.
const SOUGHT: usize = 10;

/// Rounds at most, and the movement (squared, CIELAB) at which it is enough.
const ROUNDS: usize = 40;
const STILL: f32 = 0.5;

/// Pixels across or down that are looked at.
const SIDE: u32 = 128;

/// Colours nearer than this (CIELAB) are one.
const NEAR: f32 = 8.0;

/// What stands for less of the photograph is no main colour.
const LEAST: f32 = 0.01;

/// One of the main colours.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MainColour {
    /// `#1f2d4a`.
    pub color: String,
    /// In words.
    pub words: String,
    /// How much of the photograph it stands for, from 0 to 1.
    pub share: f32,
}

/// The main colours, the most frequent first; the same picture always has the same.
pub fn main_colours(image: &DynamicImage) -> Vec<MainColour> {
    let small = if image.width().max(image.height()) > SIDE {
        image.thumbnail(SIDE, SIDE).to_rgba8()
    } else {
        image.to_rgba8()
    };
    // What is see-through has no colour.
    let pixels: Vec<Lab> = small
        .pixels()
        .filter(|pixel| pixel[3] >= 128)
        .map(|pixel| {
            Srgb::new(pixel[0], pixel[1], pixel[2])
                .into_linear::<f32>()
                .into_color()
        })
        .collect();
    if pixels.is_empty() {
        return Vec::new();
    }
    let found = get_kmeans(SOUGHT.min(pixels.len()), ROUNDS, STILL, false, &pixels, 1);
    let mut sorted = Lab::sort_indexed_colors(&found.centroids, &found.indices);
    sorted.sort_by(|a, b| b.percentage.total_cmp(&a.percentage).then(a.index.cmp(&b.index)));
    let mut kept: Vec<(Lab, f32)> = Vec::new();
    for one in sorted.into_iter().filter(|one| one.percentage > 0.0) {
        let near = |a: Lab, b: Lab| (a.l - b.l).powi(2) + (a.a - b.a).powi(2) + (a.b - b.b).powi(2) < NEAR * NEAR;
        match kept.iter_mut().find(|(other, _)| near(*other, one.centroid)) {
            Some((_, share)) => *share += one.percentage,
            None => kept.push((one.centroid, one.percentage)),
        }
    }
    kept.retain(|(_, share)| *share >= LEAST);
    kept.sort_by(|a, b| b.1.total_cmp(&a.1));
    kept.into_iter()
        .map(|(lab, share)| {
            let rgb: Srgb<u8> = Srgb::from_color(lab).into_format();
            MainColour {
                color: format!("#{:02x}{:02x}{:02x}", rgb.red, rgb.green, rgb.blue),
                words: colour_words(rgb.red, rgb.green, rgb.blue),
                share,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{Rgb, RgbImage, Rgba, RgbaImage};

    /// Half of it is one colour, three eighths another, an eighth the third: so the shares are (derived), and the colours are those
    /// put in, to what a camera's 8 bits and CIELAB there and back may lose.
    #[test]
    fn the_colours_put_in_come_out_with_their_shares() {
        let put_in = [[31u8, 45, 74], [243, 238, 226], [181, 82, 59]];
        let image = RgbImage::from_fn(128, 128, |x, _| {
            Rgb(put_in[if x < 64 {
                0
            } else if x < 112 {
                1
            } else {
                2
            }])
        });
        let found = main_colours(&DynamicImage::ImageRgb8(image.clone()));
        let told: Vec<&str> = found.iter().map(|c| c.words.as_str()).collect();
        assert_eq!(found.len(), 3, "{found:?}");
        assert_eq!(told, ["Dark blue", "White", "Red"]);
        for (one, (rgb, share)) in found.iter().zip(put_in.iter().zip([0.5, 0.375, 0.125])) {
            assert!((one.share - share).abs() < 0.01, "{one:?}");
            for (i, value) in rgb.iter().enumerate() {
                let got = u8::from_str_radix(&one.color[1 + 2 * i..3 + 2 * i], 16).unwrap();
                assert!(got.abs_diff(*value) <= 1, "{one:?}");
            }
        }
        assert_eq!(found, main_colours(&DynamicImage::ImageRgb8(image)));
    }

    #[test]
    fn what_is_see_through_has_no_colour() {
        let clear = RgbaImage::from_pixel(20, 20, Rgba([9, 9, 9, 0]));
        assert!(main_colours(&DynamicImage::ImageRgba8(clear)).is_empty());
    }
}
