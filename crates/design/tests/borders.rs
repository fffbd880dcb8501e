//! Borders pieced of blocks: where their units lie, which spacer makes them come out even, and what is said where they do not.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use design::{Design, read_design};
use shape::Point;
use terms::Finding;

/// A centre of this size, and blocks for a border: `rail` is 3 in long and 2 in wide with its upper half dark, `post` 2 in each way and
/// red.
fn text(width: &str, height: &str, border: &str) -> String {
    format!(
        r##"format = 1
[quilt]
title = "Test"
[[fabric]]
name = "light"
color = "#f0f0f0"
[[fabric]]
name = "dark"
color = "#202020"
[[fabric]]
name = "red"
color = "#a02020"
[[block]]
name = "centre"
size = ["{width}", "{height}"]
patches = [{{ fabric = "light", path = "M0 0 H1 V1 H0 Z" }}]
[[block]]
name = "rail"
size = ["3 in", "2 in"]
grid = [1, 2]
patches = [{{ fabric = "dark", path = "M0 0 H1 V1 H0 Z" }}, {{ fabric = "light", path = "M0 1 H1 V2 H0 Z" }}]
[[block]]
name = "post"
size = "2 in"
patches = [{{ fabric = "red", path = "M0 0 H1 V1 H0 Z" }}]
[layout]
rows = [["centre"]]
[[border]]
fabric = "light"
{border}
"##
    )
}

fn design(width: &str, height: &str, border: &str) -> Design {
    let text = text(width, height, border);
    read_design(&text).unwrap_or_else(|e| panic!("{}", e[0].render(&text, "t")))
}

fn errors(border: &str) -> Vec<&'static str> {
    read_design(&text("18 in", "12 in", border))
        .unwrap_err()
        .iter()
        .map(|e| e.code)
        .collect()
}

fn stops(design: &Design) -> Vec<Finding> {
    design.findings().into_iter().filter(Finding::is_stop).collect()
}

/// Middles of the faces of a fabric, sorted.
fn middles(design: &Design, fabric: &str) -> Vec<(f64, f64)> {
    let picture = design.top_picture();
    let mut all: Vec<(f64, f64)> = (picture.faces.iter())
        .filter(|face| face.fabric.as_str() == fabric)
        .map(|face| face.outline.centroid())
        .map(|c: Point| ((c.x * 1.0e6).round() / 1.0e6, (c.y * 1.0e6).round() / 1.0e6))
        .collect();
    all.sort_by(|a, b| a.partial_cmp(b).unwrap());
    all
}

#[test]
fn units_go_round_with_their_upper_side_outwards() {
    // By hand: 18 by 12 and 2 in of border: six rails above and below, four at either side; their dark halves outside.
    let design = design(
        "18 in",
        "12 in",
        "width = \"2 in\"\nunits = [\"rail\"]\ncornerstones = \"red\"\n",
    );
    assert!(stops(&design).is_empty(), "{:?}", stops(&design));
    assert_eq!(design.top_size(), (22.0, 16.0));
    let dark = middles(&design, "dark");
    assert_eq!(dark.len(), 20);
    let mut expected: Vec<(f64, f64)> = Vec::new();
    for i in 0..6 {
        let x = 3.5 + 3.0 * f64::from(i);
        expected.extend([(x, 0.5), (x, 15.5)]);
    }
    for i in 0..4 {
        let y = 3.5 + 3.0 * f64::from(i);
        expected.extend([(0.5, y), (21.5, y)]);
    }
    expected.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(dark, expected);
    assert_eq!(
        middles(&design, "red"),
        [(1.0, 1.0), (1.0, 15.0), (21.0, 1.0), (21.0, 15.0)]
    );
    let sheet = design.sheet().unwrap();
    // the centre, twenty units, four stones
    assert_eq!(sheet.blocks[sheet.top.0].faces.len(), 25);
}

#[test]
fn units_are_taken_in_turn_and_end_as_they_began_where_that_is_even() {
    // By hand: 3 + 2 + 3 = 8 both ways; clockwise, so the post is in the middle of each side. The border is half as wide as
    // the blocks are high: everything is half as large.
    let design = design(
        "4 in",
        "4 in",
        "width = \"1 in\"\nunits = [\"rail\", \"post\"]\ncorners = \"post-half\"\n[[block]]\nname = \"post-half\"\nsize = \"1 in\"\npatches = [{ fabric = \"dark\", path = \"M0 0 H1 V1 H0 Z\" }]\n",
    );
    assert!(stops(&design).is_empty(), "{:?}", stops(&design));
    assert_eq!(
        middles(&design, "red"),
        [(0.5, 3.0), (3.0, 0.5), (3.0, 5.5), (5.5, 3.0)]
    );
}

#[test]
fn butted_sides_are_filled_first_and_the_others_run_over_the_corners() {
    // By hand: sides 12 = 4 units; top and bottom 14 + 2 × 2 = 18 = 6 units. Exchanged with first = "top".
    for (first, size) in [("sides", ("14 in", "12 in")), ("top", ("12 in", "14 in"))] {
        let border = format!("width = \"2 in\"\nunits = [\"rail\"]\nfirst = \"{first}\"\n");
        let design = design(size.0, size.1, &border);
        assert!(stops(&design).is_empty(), "{first}: {:?}", stops(&design));
        assert_eq!(middles(&design, "dark").len(), 20, "{first}");
    }
}

#[test]
fn an_automatic_spacer_is_as_wide_as_makes_the_units_come_out_even() {
    // Closed form: 3n − length, at least 1 in in all; the two totals most alike of the two least either way; parted on eighths.
    let cases = [
        // even already
        (("18 in", "12 in"), (22.0, 16.0)),
        // 18 − 17 = 1 and 18 − 17 = 1
        (("17 in", "17 in"), (22.0, 22.0)),
        // across 3 or 6 more, up 1 or 4: 3 and 4 are the most alike
        (("18 in", "17 in"), (25.0, 25.0)),
        // 18 − 17 1/4 = 3/4 is too narrow: 3 3/4 both ways
        (("17 1/4 in", "17 1/4 in"), (25.0, 25.0)),
    ];
    for ((width, height), size) in cases {
        let border = "width = \"2 in\"\nunits = [\"rail\"]\ncornerstones = \"red\"\nspacer = \"auto\"\n";
        let design = design(width, height, border);
        assert!(stops(&design).is_empty(), "{width}: {:?}", stops(&design));
        let (w, h) = design.top_size();
        assert!(
            (w - size.0).abs() < 1e-9 && (h - size.1).abs() < 1e-9,
            "{width} {height}: {w} {h}"
        );
        assert!(design.sheet().is_ok());
    }
    // 17 1/4 on eighths: 3 3/4 is 1 7/8 and 1 7/8. By hand 17 1/8: 3 7/8 parts as 1 7/8 and 2.
    let border = "width = \"2 in\"\nunits = [\"rail\"]\ncornerstones = \"red\"\nspacer = \"auto\"\n";
    let design = design("17 1/8 in", "17 1/8 in", border);
    let picture = design.top_picture();
    let centre = &picture.faces[0].outline.bounds();
    assert!((centre.0.x - 3.875).abs() < 1e-9 && (centre.0.y - 3.875).abs() < 1e-9);
    let (w, _) = design.top_size();
    assert!((w - centre.1.x - 4.0).abs() < 1e-9, "{w}");
}

#[test]
fn what_does_not_come_out_even_says_what_would() {
    let border = "width = \"2 in\"\nunits = [\"rail\"]\ncornerstones = \"red\"\n";
    let uneven = design("16 in", "12 in", border);
    let found = stops(&uneven);
    assert_eq!(found.iter().map(|f| f.code).collect::<Vec<_>>(), ["border-uneven"]);
    assert_eq!(
        found[0].sentence,
        "Border 1, pieced of rail, does not come out even: its top and bottom are 16 in long, and 5 units come to 15 in, 6 to 18 in."
    );
    // Across 2 or 5 more, up 3 or 6: 2 and 3. 16 / 4 = 12 / 3 = 4 is the nearest length that goes into both.
    assert_eq!(
        found[0].mend,
        "spacer = \"auto\" sews plain strips inside it that finish 1 in wide at the sides and 1 1/2 in at top and bottom; or units 4 in long come out even."
    );
    assert!(uneven.sheet().is_err());
    // and a spacer of these widths does
    let even = design(
        "16 in",
        "12 in",
        &format!("{border}spacer = [\"1 in\", \"1 1/2 in\"]\n"),
    );
    assert!(stops(&even).is_empty(), "{:?}", stops(&even));
    assert_eq!(even.top_size(), (22.0, 19.0));
    let wrong = design("16 in", "12 in", &format!("{border}spacer = \"1 in\"\n"));
    assert_eq!(
        stops(&wrong).iter().map(|f| f.code).collect::<Vec<_>>(),
        ["border-uneven"]
    );
    // By hand: 15 5/8 and twice 1 3/16 are 18; but that width lies between the eighths.
    let off = design(
        "15 5/8 in",
        "12 in",
        &format!("{border}spacer = [\"1 3/16 in\", \"1 1/2 in\"]\n"),
    );
    let cares: Vec<Finding> = off.findings().into_iter().filter(|f| f.code == "off-marks").collect();
    assert!(
        cares
            .iter()
            .any(|f| f.sentence.contains("The spacer of border 1 finishes 1 3/16 in wide")),
        "{cares:?}"
    );
    // Half as large, everything fits as it did.
    let half = even.scaled(0.5);
    assert!(stops(&half).is_empty(), "{:?}", stops(&half));
    assert_eq!(half.top_size(), (11.0, 9.5));
}

#[test]
fn units_on_point_fit_where_the_spacer_takes_up_the_root() {
    // Two 6 in cells on point are 12 √2 = 16.97 in across (derived); auto brings them to 18.
    let text = text(
        "6 in",
        "6 in",
        "width = \"2 in\"\nunits = [\"rail\"]\ncornerstones = \"red\"\nspacer = \"auto\"\n",
    )
    .replace(
        "rows = [[\"centre\"]]",
        "kind = \"on-point\"\nfill = \"dark\"\nrows = [[\"centre\", \"centre\"], [\"centre\"], [\"centre\", \"centre\"]]",
    );
    let design = read_design(&text).unwrap();
    assert!(stops(&design).is_empty(), "{:?}", stops(&design));
    let (w, h) = design.top_size();
    assert!((w - 22.0).abs() < 1e-9 && (h - 22.0).abs() < 1e-9, "{w} {h}");
}

#[test]
fn what_a_border_cannot_say() {
    assert_eq!(
        errors("width = \"2 in\"\nspacer = \"auto\"\n"),
        ["spacer-without-units"]
    );
    assert_eq!(
        errors("width = \"2 in\"\ncorners = \"mitred\"\ncornerstones = \"red\"\n"),
        ["twice"]
    );
    assert_eq!(errors("width = \"2 in\"\nunits = [\"rial\"]\n"), ["unknown-name"]);
    assert_eq!(errors("width = \"2 in\"\nunits = [\"rail@45\"]\n"), ["bad-cell"]);
    assert_eq!(
        errors("width = \"2 in\"\nunits = [\"rail\"]\nspacer = \"0 in\"\n"),
        ["bad-length"]
    );
    // 12 in of units 1/1000 in long by 2 patches, and more (by hand over 200 000)
    let thin = "width = \"1/64 in\"\nunits = [\"thin\"]\ncornerstones = \"red\"\n[[block]]\nname = \"thin\"\nsize = [\"1/64 in\", \"900 in\"]\npatches = [{ fabric = \"red\", path = \"M0 0 H1 V1 H0 Z\" }]\n";
    assert_eq!(errors(thin), ["limit"]);
}
