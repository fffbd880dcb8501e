//! A colour in words, for those who cannot see it and for new cloth that needs a name.

use palette::{FromColor, Oklch, Srgb};

/// Hue angles of Oklch, degrees, up to which a word holds; the last goes round to the first.
const HUES: [(f32, &str); 9] = [
    (12.0, "pink"),
    (42.0, "red"),
    (78.0, "orange"),
    (118.0, "yellow"),
    (162.0, "green"),
    (215.0, "teal"),
    (278.0, "blue"),
    (328.0, "violet"),
    (360.0, "pink"),
];

/// Such as "Dark blue": lightness and hue, or how light a grey. Our own words; a paint shop has finer ones.
pub fn colour_words(red: u8, green: u8, blue: u8) -> String {
    let colour = Oklch::from_color(Srgb::new(red, green, blue).into_format::<f32>());
    let lightness = colour.l;
    if colour.chroma < 0.02 {
        return match lightness {
            l if l < 0.2 => "Black",
            l if l < 0.45 => "Dark grey",
            l if l < 0.75 => "Grey",
            l if l < 0.94 => "Light grey",
            _ => "White",
        }
        .to_string();
    }
    let hue = colour.hue.into_positive_degrees();
    let word = HUES.iter().find(|(to, _)| hue < *to).map_or("pink", |(_, word)| *word);
    // Dark or dull orange and yellow are brown to the eye; light dull ones are sand.
    let word = match word {
        "orange" | "yellow" if lightness < 0.55 => "brown",
        "orange" | "yellow" if colour.chroma < 0.06 => "sand",
        word => word,
    };
    let light = match lightness {
        l if l < 0.38 => "Dark ",
        l if l > 0.8 && word != "yellow" => "Light ",
        _ => "",
    };
    let words = format!("{light}{word}");
    let mut letters = words.chars();
    letters
        .next()
        .map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The names of these colours in CSS Color Module Level 4, 6.1: red, blue, green, black, white, gray, gold, darkblue, pink,
    /// saddlebrown, teal.
    #[test]
    fn plain_colours_have_their_plain_names() {
        for ((r, g, b), words) in [
            ((255, 0, 0), "Red"),
            ((0, 0, 255), "Blue"),
            ((0, 128, 0), "Green"),
            ((0, 0, 0), "Black"),
            ((255, 255, 255), "White"),
            ((128, 128, 128), "Grey"),
            ((255, 215, 0), "Yellow"),
            ((0, 0, 139), "Dark blue"),
            ((255, 192, 203), "Light pink"),
            ((139, 69, 19), "Brown"),
            ((0, 128, 128), "Teal"),
        ] {
            assert_eq!(colour_words(r, g, b), words, "{r} {g} {b}");
        }
    }
}
