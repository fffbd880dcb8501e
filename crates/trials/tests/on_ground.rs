//! Patches laid on a ground, from the file to the proof: closed forms, layers, seams that take them, turned and flipped blocks.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{ShapeEdge, Step};
use terms::Finding;
use trials::whole::Whole;

/// Two by two of a 6 in block, with these patches on a plain ground; the cells as said.
fn design(quilt: &str, patches: &str, rows: &str) -> String {
    format!(
        r##"
format = 1
[quilt]
title = "On a ground"
{quilt}
[[fabric]]
name = "light"
color = "#f1e7d3"
[[fabric]]
name = "dark"
color = "#1f3a4d"
[[fabric]]
name = "red"
color = "#a03030"
[[block]]
name = "laid"
size = "6 in"
grid = [6, 6]
patches = [
  {{ fabric = "light", path = "M0 0 H3 V6 H0 Z" }},
  {{ fabric = "light", path = "M3 0 H6 V6 H3 Z" }},
{patches}
]
[layout]
rows = {rows}
"##
    )
}

const FOUR: &str = r#"[["laid", "laid@90"], ["laid~", "laid~@180"]]"#;

fn told(findings: &[Finding]) -> String {
    findings.iter().map(|f| format!("{f}\n")).collect()
}

#[track_caller]
fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{}", told(&f)));
    if let Err(findings) = whole.rehearse() {
        panic!("{}", told(&findings));
    }
    whole
}

#[test]
fn a_circle_of_diameter_d_is_cut_d_and_two_turn_unders_wide() {
    // *derived*: d + 2t.
    for (quilt, turn) in [("", 0.1875), ("turn-under = \"1/4 in\"", 0.25)] {
        let circle = r#"{ fabric = "red", on = "ground", path = "M5 3 A2 2 0 0 1 1 3 A2 2 0 0 1 5 3 Z" }"#;
        let whole = proved(&design(quilt, circle, "[[\"laid\"]]"));
        let template = &whole.pattern.cutting.templates[0];
        let wide = template.corners.iter().map(|c| c.right.to_inches()).fold(0.0, f64::max);
        assert!((wide - (4.0 + 2.0 * turn)).abs() < 2e-3, "{wide}");
        let line = &template.applique.as_ref().unwrap().line;
        let inner = line.iter().map(|c| c.right.to_inches()).fold(0.0, f64::max)
            - line.iter().map(|c| c.right.to_inches()).fold(f64::INFINITY, f64::min);
        assert!((inner - 4.0).abs() < 1e-6, "{inner}");
    }
    // raw: the line itself
    let circle = r#"{ fabric = "red", on = "ground", edge = "raw", path = "M5 3 A2 2 0 0 1 1 3 A2 2 0 0 1 5 3 Z" }"#;
    let whole = proved(&design("", circle, "[[\"laid\"]]"));
    let template = &whole.pattern.cutting.templates[0];
    assert_eq!(template.corners, template.applique.as_ref().unwrap().line);
    assert!(template.applique.as_ref().unwrap().from_back);
}

/// A leaf that is not its own mirror image, across the join of the ground.
const LEAF: &str = r#"{ fabric = "red", on = "ground", EDGE path = "M1 5 C1 3 2 1 5 1 C5 4 4 3.5 1 5 Z" },"#;

#[test]
fn turned_and_flipped_blocks_take_their_patches_along() {
    for edge in ["", "edge = \"raw\","] {
        let whole = proved(&design("", &LEAF.replace("EDGE", edge), FOUR));
        // the block and its mirror image, each laid on twice; a handed piece and its twin
        let makes: Vec<_> = whole
            .pattern
            .recipe
            .makes
            .iter()
            .filter(|m| m.label.contains("block"))
            .collect();
        // (pressed in and pressed out, where that gains meetings: the sheet is the same)
        assert_eq!(makes.iter().map(|m| m.times).sum::<u32>(), 4);
        assert_eq!(whole.pattern.cutting.guides.len(), 2);
        let twins = whole.pattern.recipe.pieces.iter().filter(|p| p.twin.is_some()).count();
        assert_eq!(twins, 2);
        assert_eq!(whole.picture.laid.len(), 4);
    }
}

#[test]
fn recoloured_and_scaled_in_another_block() {
    let text = design("", &LEAF.replace("EDGE", ""), "[[\"outer\"]]").replace(
        "[layout]",
        r#"
[[block]]
name = "outer"
size = "12 in"
grid = [4, 4]
patches = [
  { fabric = "dark", path = "M0 0 H4 V2 H0 Z" },
  { fabric = "dark", path = "M2 2 H4 V4 H2 Z" },
  { fabric = "dark", on = "ground", path = "M0.25 2.5 L3.75 1.5 L3.5 3.5 Z" },
]
place = [{ block = "laid", at = [0, 2], size = [2, 2], turn = 270, recolor = { red = "light", light = "red" } }]
[layout]"#,
    );
    let whole = proved(&text);
    // What lies on the inner block lies below what lies on the outer one.
    let cloths: Vec<&str> = whole.picture.laid.iter().map(|f| f.fabric.as_str()).collect();
    assert_eq!(cloths, ["light", "dark"]);
    // An outer block half as large again: the drawing grows, the turn-under does not.
    let grown = text.replace("size = \"12 in\"", "size = \"18 in\"");
    let whole = proved(&grown);
    let by: Vec<f64> = steps(&whole)
        .filter_map(|s| match s {
            Step::StitchDown {
                edge: ShapeEdge::Turned { by },
                ..
            } => Some(by.inches()),
            _ => None,
        })
        .collect();
    assert_eq!(by, [0.1875, 0.1875]);
}

fn steps(whole: &Whole) -> impl Iterator<Item = &Step> {
    whole.pattern.recipe.makes.iter().flat_map(|m| &m.steps)
}

#[test]
fn layers_in_the_order_of_the_file_and_edges_left_flat_beneath() {
    let flower = r#"
  { fabric = "dark", on = "ground", path = "M2.75 3 V5.5 H3.25 V3 Z" },
  { fabric = "red", on = "ground", path = "M5 2.5 A2 2 0 0 1 1 2.5 A2 2 0 0 1 5 2.5 Z" },
  { fabric = "light", on = "ground", edge = "raw", path = "M3.75 2.5 A0.75 0.75 0 0 1 2.25 2.5 A0.75 0.75 0 0 1 3.75 2.5 Z" },"#;
    let whole = proved(&design("", flower, FOUR));
    let guide = &whole.pattern.cutting.guides[0];
    // *derived*: the stem's end lies 1.44 in under the flower, more than the 3/16 turned under: its three other sides are turned.
    assert_eq!(guide.shapes[0].under.len(), 1);
    assert!(guide.shapes[1].under.is_empty());
    // The flower and its heart are their own mirror images, the whole is: flipped, it lies as it lay.
    assert_eq!(guide.shapes.len(), 3);
}

#[test]
fn sides_along_the_block_are_sewn_into_the_seam() {
    // A quarter circle in a corner, a band right across, and a half circle on a side.
    let into = r#"
  { fabric = "dark", on = "ground", path = "M0 6 V4 A2 2 0 0 1 2 6 Z" },
  { fabric = "red", on = "ground", path = "M0 1 H6 V2 H0 Z" },
  { fabric = "red", on = "ground", edge = "raw", path = "M6 3 V5.5 A1.25 1.25 0 0 1 6 3 Z" },"#;
    let whole = proved(&design("", into, FOUR));
    for guide in &whole.pattern.cutting.guides {
        let level: Vec<usize> = guide.shapes.iter().map(|s| s.level.len()).collect();
        assert_eq!(level, [1, 2, 1]);
    }
    // All of the ground: cut like the ground itself.
    let all = r#"{ fabric = "red", on = "ground", path = "M0 0 H6 V6 H0 Z" }"#;
    proved(&design("", all, FOUR));
}

#[test]
fn prints_are_up_and_metric_files_turn_half_a_centimetre() {
    let text = design("units = \"metric\"", &LEAF.replace("EDGE", ""), FOUR)
        .replace("size = \"6 in\"", "size = \"15 cm\"")
        .replace("color = \"#a03030\"", "color = \"#a03030\"\nprint = \"one-way\"");
    let whole = proved(&text);
    let by = steps(&whole).find_map(|s| match s {
        Step::StitchDown {
            edge: ShapeEdge::Turned { by },
            ..
        } => Some(by.inches() * 2.54),
        _ => None,
    });
    assert!((by.unwrap() - 0.5).abs() < 1e-3);
    assert!(whole.picture.laid.iter().all(|f| f.up.is_some()));
}

#[test]
fn a_cleft_and_a_spiky_star() {
    let star = r#"{ fabric = "red", on = "ground",
  path = "M3 0.5 L3.6 2.2 L5.4 2.2 L4 3.3 L4.5 5 L3 4 L1.5 5 L2 3.3 L0.6 2.2 L2.4 2.2 Z" }"#;
    proved(&design("", star, FOUR));
    let cleft = r#"{ fabric = "red", on = "ground", path = "M1 1 H2.9 V4 H3.1 V1 H5 V5 H1 Z" }"#;
    proved(&design("", cleft, "[[\"laid\"]]"));
}

#[test]
fn what_is_wrong_is_told() {
    let codes = |text: &str| -> Vec<String> {
        let findings = match Whole::of(text) {
            Ok(whole) => whole.findings,
            Err(findings) => findings,
        };
        findings.iter().map(|f| f.code.to_string()).collect()
    };
    let beyond = r#"{ fabric = "red", on = "ground", path = "M1 1 H7 V2 Z" }"#;
    assert!(codes(&design("", beyond, FOUR)).contains(&"outside-block".to_string()));
    // 1/4 in wide with 3/16 turned under on either side
    let thin = r#"{ fabric = "red", on = "ground", path = "M1 1 H5 V1.25 H1 Z" }"#;
    assert!(codes(&design("", thin, FOUR)).contains(&"sliver".to_string()));
    let sharp = r#"{ fabric = "red", on = "ground", path = "M1 1 L5 1.2 L5 0.8 Z" }"#;
    assert!(codes(&design("", sharp, FOUR)).contains(&"acute".to_string()));
    // Nothing beneath: a ground must be pieced.
    let bare = design("", "", FOUR).replace(
        "{ fabric = \"light\", path = \"M3 0",
        "{ fabric = \"light\", on = \"ground\", path = \"M3 0",
    );
    assert!(codes(&bare).contains(&"gap".to_string()));
}

#[test]
fn altered_patterns_are_refused() {
    let flower = r#"
  { fabric = "dark", on = "ground", path = "M2.5 1 H3.5 V2.5 A1.5 1.5 0 0 1 4 5 L1.2 4.6 Q1.5 3 2.5 2.5 Z" },
  { fabric = "red", on = "ground", path = "M4.2 3.6 A1.2 1.2 0 0 1 1.8 3.6 A1.2 1.2 0 0 1 4.2 3.6 Z" },
  { fabric = "light", on = "ground", edge = "raw", path = "M3 3.2 L3.6 4 L2.4 3.8 Z" },
  { fabric = "red", on = "ground", path = "M0 6 V5 A1 1 0 0 1 1 6 Z" },"#;
    let designs = [
        ("one", design("", LEAF, "[[\"laid\"]]").replace("EDGE", "")),
        ("raw", design("", LEAF, FOUR).replace("EDGE", "edge = \"raw\",")),
        ("flower", design("", flower, FOUR)),
    ];
    let mut tally = trials::judge::Tally::default();
    for (name, text) in &designs {
        let whole = proved(text);
        tally.judge(name, &whole.pattern, &whole.picture, 2000);
    }
    println!("{}", tally.table());
    assert!(tally.unread.is_empty(), "{:?}", tally.unread);
    println!("pointing elsewhere:\n{}", tally.misnamed.join("\n"));
    assert_eq!(tally.total().unexpected, 0, "{}", tally.unexpected.join("\n"));
    assert!(
        tally.share_named() >= 0.95,
        "only {:.3} name the place",
        tally.share_named()
    );
}
