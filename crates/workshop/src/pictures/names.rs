//! Names of pictures beside the design file.

use std::hash::{DefaultHasher, Hasher};

/// The endings of pictures that are shown.
const ENDINGS: [&str; 3] = [".jpg", ".jpeg", ".png"];

/// Whether a text may name a picture beside the file: letters, digits, spaces, points, hyphens and underscores, not beginning with a
/// point, ending as a PNG or JPEG does. It can be no path.
pub fn is_picture_name(text: &str) -> bool {
    let lower = text.to_ascii_lowercase();
    text.len() <= 120
        && text.starts_with(|c: char| c.is_ascii_alphanumeric())
        && text.chars().all(|c| c.is_ascii_alphanumeric() || " ._-".contains(c))
        && ENDINGS
            .iter()
            .any(|ending| lower.ends_with(ending) && lower.len() > ending.len())
}

/// A name for a picture's bytes: the same bytes always get the same one, other bytes another, so that nothing is written over and
/// what is undone finds its picture again.
pub fn fresh_name(of: &str, bytes: &[u8], ending: &str) -> String {
    // The standard hasher's keys are fixed when it is made this way.
    let mut hasher = DefaultHasher::new();
    hasher.write(bytes);
    let of: String = of
        .chars()
        .filter(|c| c.is_ascii_alphanumeric() || *c == '-')
        .take(40)
        .collect();
    let of = if of.is_empty() { "picture".to_string() } else { of };
    format!("{of}-{:016x}.{ending}", hasher.finish())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_can_be_no_path() {
        for good in ["night.jpg", "Night 2.JPEG", "a-b_c.png"] {
            assert!(is_picture_name(good), "{good}");
        }
        for bad in [
            "",
            ".jpg",
            "../night.jpg",
            "a/b.png",
            "a\\b.png",
            ".hidden.png",
            "night.svg",
            "night",
            "C:night.png",
            "night.png/",
            "n\u{e4}cht.png",
            "night.jpg\0",
            " night.png",
        ] {
            assert!(!is_picture_name(bad), "{bad}");
        }
        let name = fresh_name("../sea", b"bytes", "png");
        assert!(is_picture_name(&name) && name.starts_with("sea-"), "{name}");
        assert_eq!(name, fresh_name("sea", b"bytes", "png"));
        assert_ne!(name, fresh_name("sea", b"other bytes", "png"));
    }
}
