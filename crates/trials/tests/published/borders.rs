//! Butted borders: what the strips round a centre are cut to.

use super::drawn::proved;
use super::lists::{rectangles, size_text};

/// A plain centre in cloth wide enough for every piece to be cut in one.
fn bordered(centre: (f64, f64), border: f64, first: &str) -> String {
    let (w, h) = centre;
    format!(
        "format = 1\n[quilt]\ntitle = \"Check\"\n\
         [[fabric]]\nname = \"light\"\ncolor = \"#efe8d8\"\nwidth = \"108 in\"\n\
         [[fabric]]\nname = \"dark\"\ncolor = \"#1f2d4a\"\nwidth = \"108 in\"\n\
         [[block]]\nname = \"centre\"\nsize = [\"{w} in\", \"{h} in\"]\n\
         patches = [{{ fabric = \"light\", path = \"M0 0 H1 V1 H0 Z\" }}]\n\
         [layout]\nrows = [[\"centre\"]]\n\
         [[border]]\nwidth = \"{border} in\"\nfabric = \"dark\"\nfirst = \"{first}\"\n"
    )
}

#[test]
fn butted_borders_sides_first() {
    // How to cut borders, published on the web, no year given: 45 x 60 with 4 in: top and bottom finish 45 + 8 = 53,
    // and half an inch for the seams; a publisher's lesson, no year given: sides as long as the centre, ends its width
    // and twice the border and 1/2 in.
    for (centre, border) in [
        ((45.0, 60.0), 4.0),
        ((50.0, 60.0), 7.0),
        ((56.0, 61.0), 5.0),
        ((60.0, 80.0), 3.5),
    ] {
        let (w, h) = centre;
        let whole = proved(&bordered(centre, border, "sides"));
        let list = rectangles(&whole.pattern);
        let count = |long: f64| list.get(&("dark".to_string(), size_text(long, border + 0.5))).copied();
        assert_eq!(
            (count(h + 0.5), count(w + 2.0 * border + 0.5)),
            (Some(2), Some(2)),
            "{centre:?}"
        );
        assert_eq!(list[&("light".to_string(), size_text(w + 0.5, h + 0.5))], 1);
        let outer = whole.picture.outer.bounds().1;
        assert_eq!((outer.x, outer.y), (w + 2.0 * border, h + 2.0 * border));
    }
    // Derived: the other way round exchanges the two rules.
    let list = rectangles(&proved(&bordered((45.0, 60.0), 4.0, "top")).pattern);
    for long in [45.5, 68.5] {
        assert_eq!(list[&("dark".to_string(), size_text(long, 4.5))], 2);
    }
}
