//! Other sizes and other cloth: what changes and what does not.

use design::{Design, read_design};

fn read() -> Design {
    let text = r##"format = 1
[quilt]
title = "Two sizes"
[[fabric]]
name = "dark"
label = "Blue"
color = "#20305a"
price = 10
[[fabric]]
name = "light"
label = "Cream"
color = "#f1e7d2"
[[block]]
name = "q"
size = "6 in"
grid = [2, 1]
patches = [{ fabric = "dark", path = "M0 0 H1 V1 H0 Z" }, { fabric = "light", path = "M1 0 H2 V1 H1 Z" }]
[layout]
rows = [["q", "q"], ["q", "q"]]
sashing = { width = "1 in", fabric = "light" }
[[border]]
width = "2 in"
fabric = "dark"
[finish]
binding = { fabric = "dark", strip = "2 1/4 in" }
[[size]]
name = "half"
scale = 0.5
[[size]]
name = "long"
rows = [["q"], ["q"], ["q"]]
borders = []
[[size]]
name = "wide"
default = true
kind = "free"
size = ["12 in", "6 in"]
place = [{ block = "q", at = [0, 0] }, { block = "q", at = ["6 in", 0] }]
borders = [{ width = "1 in", fabric = "light" }]
[[colorway]]
name = "dawn"
[colorway.fabrics]
dark = { label = "Rose", color = "#a04050", price = 12.5 }
"##;
    match read_design(text) {
        Ok(design) => design,
        Err(errors) => panic!("{}", errors[0].message),
    }
}

#[test]
fn each_size_is_a_quilt_of_its_own() {
    let design = read();
    assert_eq!(design.size_names(), ["base", "half", "long", "wide"]);
    assert_eq!(design.default_size(), "wide");
    let size = |name: &str| design.at_size(name).map(|d| d.top_size());
    // derived: 2 · 6 + 1 + 2 · 2 = 17 both ways; half of it; 6 by 3 · 6 + 2 · 1 without borders; 12 by 6 and an inch round
    assert_eq!(size("base"), Some((17.0, 17.0)));
    assert_eq!(size("half"), Some((8.5, 8.5)));
    assert_eq!(size("long"), Some((6.0, 20.0)));
    assert_eq!(size("wide"), Some((14.0, 8.0)));
    assert_eq!(size("huge"), None);
    let half = design.at_size("half").expect("there");
    // a seam and a binding strip are as wide in every size
    assert_eq!(half.quilt.seam, 0.25);
    assert_eq!(half.finish.binding.as_ref().map(|b| b.strip), Some(2.25));
    for name in design.size_names() {
        let one = design.at_size(name).expect("there");
        let area: f64 = one.top_picture().faces.iter().map(|f| f.outline.signed_area()).sum();
        let (width, height) = one.top_size();
        assert!((area - width * height).abs() < 1e-9, "{name}");
        assert!(one.sheet().is_ok(), "{name}");
    }
}

#[test]
fn a_colourway_is_the_same_quilt_in_other_cloth() {
    let design = read();
    let dawn = design.in_colorway("dawn").expect("there");
    assert_eq!(
        (dawn.fabrics[0].label.as_str(), dawn.fabrics[0].price),
        ("Rose", Some(12.5))
    );
    assert_eq!(dawn.fabrics[1], design.fabrics[1]);
    assert_eq!(dawn.blocks, design.blocks);
    assert_eq!(design.in_colorway("dusk"), None);
}

#[test]
fn friendly_is_what_lies_on_marks() {
    let design = read();
    assert_eq!(design.off_marks().cuts, 0);
    // derived: at 5 3/16 in the halves are 2 19/32 in wide, 1/32 in off the eighths; the border is 1 47/64 in
    let off = design.clone().scaled(5.1875 / 6.0).off_marks();
    assert!(off.cuts >= 4 && off.worst <= 1.0 / 16.0 + 1e-9, "{off:?}");
}

/// A block whose quarter circle has half its width for a radius, about its lower left corner.
const ROUND: &str = r##"format = 1
[quilt]
title = "Round"
[[fabric]]
name = "dark"
color = "#20305a"
[[fabric]]
name = "light"
color = "#f1e7d2"
[[block]]
name = "q"
size = "6 in"
grid = [2, 2]
patches = [
  { fabric = "dark", path = "M0 2 V1 A1 1 0 0 1 1 2 Z" },
  { fabric = "light", path = "M0 1 V0 H2 V2 H1 A1 1 0 0 0 0 1 Z" },
  { fabric = "light", on = "ground", path = "M1.2 0.6 A0.3 0.3 0 0 1 1.8 0.6 A0.3 0.3 0 0 1 1.2 0.6 Z" },
]
"##;

/// How far the middles of straights between places of a circle lie within it, the most of all.
fn within(outline: &shape::Polygon, centre: shape::Point, radius: f64) -> f64 {
    let on = |p: shape::Point| (p.distance(centre) - radius).abs() < 1.0e-6;
    let straights = (0..outline.len()).map(|i| (outline.corner(i), outline.corner(i + 1)));
    let chords = straights.filter(|(a, b)| on(*a) && on(*b));
    let off = chords.map(|(a, b)| radius - a.toward(b, 0.5).distance(centre));
    off.fold(0.0, f64::max)
}

#[test]
fn a_curve_drawn_larger_is_drawn_finer() {
    let layout = |kind: &str| format!("{ROUND}[layout]\n{kind}\n");
    let placed = layout(
        "kind = \"free\"\nsize = [\"72 in\", \"72 in\"]\nplace = [{ block = \"q\", at = [0, 0], size = [\"72 in\", \"72 in\"] }]",
    );
    let sized = layout("rows = [[\"q\"]]\n[[size]]\nname = \"huge\"\nscale = 12");
    let tiny = layout("rows = [[\"q\"]]\n[[size]]\nname = \"tiny\"\nscale = 0.25");
    for (text, size, side) in [
        (&placed, "base", 72.0),
        (&sized, "base", 6.0),
        (&sized, "huge", 72.0),
        (&tiny, "tiny", 1.5),
    ] {
        let design = read_design(text).unwrap_or_else(|e| panic!("{e:?}"));
        let design = design.at_size(size).expect("a size");
        let (radius, small) = (side / 2.0, side * 0.15);
        let lower_left = shape::Point::ORIGIN;
        let above = shape::Point::new(side * 0.75, side * 0.7);
        let picture = design.top_picture();
        let sheet = design.sheet().unwrap_or_else(|f| panic!("{f:?}"));
        // From both, since neither knows the other: the picture's outlines and the map's.
        let block = sheet.blocks.iter().find(|b| !b.laid.is_empty()).expect("the block");
        let mapped = block.faces.iter().map(|face| {
            let corners = face.outline.iter().map(|v| block.vertices[v.0]);
            shape::Polygon::new(corners.collect())
        });
        let pictured = picture.faces.iter().map(|f| f.outline.clone());
        for outline in pictured.chain(mapped) {
            let off = within(&outline, lower_left, radius);
            // *derived*: r (1 - cos(a / 2)), within the 1/1000 in that docs/format.md gives.
            assert!(off > 0.0 && off <= 1.0e-3, "{size}: {off}");
        }
        let laid = picture.laid.iter().map(|f| f.outline.clone());
        for outline in laid.chain(block.laid.iter().map(|l| l.outline.clone())) {
            let off = within(&outline, above, small);
            assert!(off > 0.0 && off <= 1.0e-3, "{size}: {off}");
            // and no straight turns by more than 3 degrees, small as it may be
            assert!(outline.len() >= 120, "{size}: {}", outline.len());
        }
    }
}
