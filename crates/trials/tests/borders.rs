//! Borders over whole designs: pieced of blocks, with spacers, round after round; planned, sewn on the virtual table and
//! held against the picture.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::Step;
use trials::whole::Whole;

/// A goose points to the border's outside; a post is a square of two triangles.
const HEAD: &str = r##"format = 1
[quilt]
title = "Rounds"
[[fabric]]
name = "light"
color = "#efe8d8"
[[fabric]]
name = "dark"
color = "#1f2d4a"
[[fabric]]
name = "red"
color = "#a03328"
[[block]]
name = "goose"
size = ["4 in", "2 in"]
grid = [4, 2]
patches = [
  { fabric = "dark", path = "M0 2 L2 0 L4 2 Z" },
  { fabric = "light", path = "M0 0 H2 L0 2 Z" },
  { fabric = "light", path = "M2 0 H4 V2 Z" },
]
[[block]]
name = "post"
size = "2 in"
patches = [
  { fabric = "red", path = "M0 0 H1 L0 1 Z" },
  { fabric = "light", path = "M1 0 V1 H0 Z" },
]
[[block]]
name = "four"
size = "8 in"
grid = [2, 2]
patches = [
  { fabric = "red", path = "M0 0 H1 V1 H0 Z" },
  { fabric = "light", path = "M1 0 H2 V1 H1 Z" },
  { fabric = "light", path = "M0 1 H1 V2 H0 Z" },
  { fabric = "red", path = "M1 1 H2 V2 H1 Z" },
]
"##;

fn proved(rest: &str) -> Whole {
    let text = format!("{HEAD}{rest}");
    let whole = Whole::of(&text).unwrap_or_else(|f| panic!("{f:#?}\n{rest}"));
    if let Err(findings) = whole.rehearse() {
        let told: Vec<String> = findings.iter().map(ToString::to_string).collect();
        panic!("{}\n{rest}", told.join("\n"));
    }
    whole
}

fn show(whole: &Whole) {
    for make in &whole.pattern.recipe.makes {
        println!("{} x{} {} parts {} steps {}", make.unit.0, make.times, make.label, make.parts.len(), make.steps.len());
    }
    for note in &whole.pattern.recipe.pieces {
        println!("  {} {} {}", note.piece.0, note.fabric.as_str(), note.label);
    }
    let _ = Step::Open { stack: recipe::Slot(0), press: recipe::Press::Open, into: recipe::Slot(0) };
}

const STRAIGHT: &str = "[layout]\nrows = [[\"four\", \"four\"], [\"four\", \"four\"]]\n";
const POINT: &str = "[layout]\nkind = \"on-point\"\nfill = \"dark\"\nrows = [[\"four\"]]\n";

#[test]
fn look() {
    for (layout, border) in [
        (STRAIGHT, "[[border]]\nwidth = \"2 in\"\nfabric = \"red\"\nunits = [\"goose\"]\ncornerstones = \"red\"\n"),
        (STRAIGHT, "[[border]]\nwidth = \"2 in\"\nfabric = \"red\"\nunits = [\"goose\", \"post\"]\ncorners = \"post\"\nspacer = \"auto\"\n"),
        (POINT, "[[border]]\nwidth = \"2 in\"\nfabric = \"red\"\nunits = [\"goose\"]\ncornerstones = \"red\"\nspacer = \"auto\"\n"),
        (POINT, "[[border]]\nwidth = \"2 in\"\nfabric = \"red\"\n"),
        (STRAIGHT, "[[border]]\nwidth = \"2 in\"\nfabric = \"red\"\nunits = [\"goose\"]\nspacer = \"auto\"\n"),
    ] {
        println!("==== {layout} {border}");
        show(&proved(&format!("{layout}{border}")));
    }
}
