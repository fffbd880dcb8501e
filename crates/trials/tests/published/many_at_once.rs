//! Units made many at a time: from the squares that handouts and charts print, as many as they say.

use super::lists::{rectangles, size_text};
use super::tables::inches;
use std::collections::BTreeMap;
use trials::whole::Whole;

/// A quilt of so many blocks of one drawing (two cloths, `dark` and `light`), made by a method.
fn quilt(blocks: usize, (w, h): (f64, f64), grid: &str, method: &str, patches: &[(&str, &str)]) -> Whole {
    let mut text = format!(
        "format = 1\n[quilt]\ntitle = \"Check\"\n[[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\n\
         [[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\n[[block]]\nname = \"b\"\nsize = [{w}, {h}]\ngrid = {grid}\n\
         method = \"{method}\"\npatches = [\n"
    );
    for (cloth, path) in patches {
        text += &format!("  {{ fabric = \"{cloth}\", path = \"{path}\" }},\n");
    }
    let row = vec!["\"b\""; blocks].join(", ");
    super::drawn::proved(&format!("{text}]\n[layout]\nrows = [[{row}]]\n"))
}

fn half_squares(blocks: usize, n: f64, method: &str) -> Whole {
    quilt(
        blocks,
        (n, n),
        "[1, 1]",
        method,
        &[("dark", "M0 0 H1 L0 1 Z"), ("light", "M1 0 V1 H0 Z")],
    )
}

fn geese(blocks: usize, w: f64, h: f64) -> Whole {
    quilt(
        blocks,
        (w, h),
        "[2, 1]",
        "geese by fours",
        &[
            ("dark", "M1 0 L2 1 H0 Z"),
            ("light", "M0 0 H1 L0 1 Z"),
            ("light", "M1 0 H2 V1 Z"),
        ],
    )
}

fn list<const N: usize>(entries: [(&str, f64, u32); N]) -> BTreeMap<(String, String), u32> {
    let entries = entries.map(|(cloth, side, count)| ((cloth.to_string(), size_text(side, side)), count));
    entries.into()
}

#[test]
fn eight_half_squares_of_two_squares() {
    // Triangles eight at once, a teaching handout: finished 1 3/4 from a pair of 5 1/4 in squares. The rule 2 (n + 7/8) by the
    // same handout; *derived*: exactly 2 (n + 2s + √2·s) with each half put up to the eighth.
    let by_eights = |n: f64| half_squares(8, n, "half-squares by eights");
    let whole = by_eights(1.75);
    assert_eq!(
        rectangles(&whole.pattern),
        list([("dark", 5.25, 1), ("light", 5.25, 1)])
    );
    let make = &whole.pattern.recipe.makes[0];
    assert_eq!((make.times, make.gives.len(), make.spare), (1, 8, 0));
    for n in [1.0, 2.0, 2.5, 3.0, 4.0, 6.0] {
        let square = 2.0 * (n + 0.875);
        assert_eq!(
            rectangles(&by_eights(n).pattern),
            list([("dark", square, 1), ("light", square, 1)]),
            "{n}"
        );
    }
}

#[test]
fn four_half_squares_of_two_squares() {
    // *derived*: sewn all round, n - 2s of a square of n is left, the unit's diagonal, so n = √2 (finished + 2s) + 2s, up to the
    // eighth. Common practice halves the other way: a square of 5 in gives four units of about 0.64 x 5 = 3.2 in, by which
    // (5 - 1/2)/√2 = 3.18.
    assert!((0.64 * 5.0 - 4.5 / 2f64.sqrt()).abs() < 1.0 / 32.0);
    for (n, square) in [(2.0, 4.125), (3.0, 5.5), (4.0, 6.875), (2.5, 4.75)] {
        let whole = half_squares(4, n, "half-squares by fours");
        assert_eq!(
            rectangles(&whole.pattern),
            list([("dark", square, 1), ("light", square, 1)]),
            "{n}"
        );
        // All outer edges on the bias, and it is said.
        let told: Vec<&str> = whole.findings.iter().map(|f| f.code).collect();
        assert!(told.contains(&"bias-by-method"), "{told:?}");
    }
}

#[test]
fn four_geese_without_waste() {
    // No-waste geese, two charts published on the web, recomputed (2011 and no year given): finished width and height, the large
    // square and the four small ones.
    for (w, h, large, small) in [
        ("8", "4", "9 1/4", "4 7/8"),
        ("6", "3", "7 1/4", "3 7/8"),
        ("5", "2 1/2", "6 1/4", "3 3/8"),
        ("3", "1 1/2", "4 1/4", "2 3/8"),
        ("2", "1", "3 1/4", "1 7/8"),
        ("2 1/2", "1 1/4", "3 3/4", "2 1/8"),
        ("4", "2", "5 1/4", "2 7/8"),
        ("4 1/2", "2 1/4", "5 3/4", "3 1/8"),
        ("5 1/2", "2 3/4", "6 3/4", "3 5/8"),
    ] {
        let whole = geese(4, inches(w), inches(h));
        assert_eq!(
            rectangles(&whole.pattern),
            list([("dark", inches(large), 1), ("light", inches(small), 4)]),
            "{w}"
        );
        let make = &whole.pattern.recipe.makes[0];
        assert_eq!((make.times, make.gives.len(), make.spare), (1, 4, 0), "{w}");
    }
    // A page on the web prints 2 1/4 for the small squares of 3 x 1 1/2, another 2 3/4 beside 5 3/4: neither is cut here (2 3/8
    // and 3 1/8 above).
}
