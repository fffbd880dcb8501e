//! What users try: prints with an up, pinned methods, traps, long borders, uncommon seams and rulers.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use terms::Finding;
use trials::whole::Whole;

const CLOTHS: &str = r##"
[[fabric]]
name = "a"
color = "#efe8d8"
[[fabric]]
name = "b"
color = "#1f2d4a"
"##;

fn quilt(head: &str, cloths: &str, rest: &str) -> String {
    format!("format = 1\n[quilt]\ntitle = \"Trial\"\n{head}\n{cloths}\n{rest}\n")
}

fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{f:#?}"));
    if let Err(findings) = whole.rehearse() {
        panic!(
            "{}",
            findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
        );
    }
    whole
}

fn codes(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|f| f.code).collect()
}

fn directed(print: &str, up: &str) -> String {
    format!(
        "[[fabric]]\nname = \"a\"\ncolor = \"#efe8d8\"\nprint = \"{print}\"\nup = \"{up}\"\n[[fabric]]\nname = \"b\"\ncolor = \"#1f2d4a\"\n"
    )
}

/// A block of unlike rectangles and a diagonal, so that every turn matters.
const TURNING: &str = r#"
[[block]]
name = "mill"
size = 6
grid = [6, 6]
patches = [
  { fabric = "a", path = "M0 0 H4 V2 H0 Z" },
  { fabric = "b", path = "M4 0 H6 V2 H4 Z" },
  { fabric = "a", path = "M0 2 H2 V6 H0 Z" },
  { fabric = "a", path = "M2 2 H6 L2 6 Z" },
  { fabric = "b", path = "M6 2 V6 H2 Z" },
]
[layout]
kind = "straight"
rows = [["mill", "mill@90"], ["mill@180", "mill~@270"]]
"#;

#[test]
fn prints_keep_their_up() {
    for print in ["two-way", "one-way"] {
        for up in ["quilt", "block", "free"] {
            let whole = proved(&quilt("", &directed(print, up), TURNING));
            // Methods that would turn the print over on a seam are left alone where it matters.
            if up != "free" {
                assert!(
                    !whole.methods.contains(&"half-square pairs"),
                    "{print} {up}: {:?}",
                    whole.methods
                );
            }
        }
    }
}

#[test]
fn a_print_turned_in_the_cutting_plan_is_refused() {
    let mut whole = proved(&quilt("", &directed("one-way", "quilt"), TURNING));
    let json = serde_json::to_string(&whole.pattern.cutting).unwrap();
    let turned = json.replacen("\"turn\":\"as\"", "\"turn\":\"half\"", 1);
    assert_ne!(json, turned);
    whole.pattern.cutting = serde_json::from_str(&turned).unwrap();
    assert!(whole.rehearse().is_err());
}

#[test]
fn a_pinned_method_is_followed() {
    let pair = |method: &str| {
        format!(
            "[[block]]\nname = \"half\"\nsize = 4\n{method}\npatches = [\n  {{ fabric = \"a\", path = \"M0 0 H1 L0 1 Z\" }},\n  {{ fabric = \"b\", path = \"M1 0 V1 H0 Z\" }},\n]\n[layout]\nkind = \"straight\"\nrows = [[\"half\", \"half@90\"]]\n"
        )
    };
    assert!(
        proved(&quilt("", CLOTHS, &pair("")))
            .methods
            .contains(&"half-square pairs")
    );
    let plain = proved(&quilt("", CLOTHS, &pair("method = \"plain patches\"")));
    assert!(!plain.methods.contains(&"half-square pairs"));
    let template = proved(&quilt("", CLOTHS, &pair("method = \"template\"")));
    assert!(!template.pattern.cutting.templates.is_empty());
    let misfit = proved(&quilt("", CLOTHS, &pair("method = \"angled strips\"")));
    assert!(codes(&misfit.findings).contains(&"pin-does-not-fit"));
    let unknown = Whole::of(&quilt("", CLOTHS, &pair("method = \"magic\""))).unwrap_err();
    assert!(codes(&unknown).contains(&"unknown-method"));
}

#[test]
fn long_borders_are_joined_and_count_as_one_patch() {
    let rest = r#"
[[block]]
name = "plain"
size = 12
patches = [{ fabric = "a", path = "M0 0 H1 V1 H0 Z" }]
[layout]
kind = "straight"
rows = [
  ["plain", "plain", "plain", "plain", "plain", "plain", "plain", "plain"],
  ["plain", "plain", "plain", "plain", "plain", "plain", "plain", "plain"],
]
[[border]]
width = 3
fabric = "b"
"#;
    let whole = proved(&quilt("", CLOTHS, rest));
    assert!(whole.methods.contains(&"joined strip"));
}

#[test]
fn other_seams_and_rulers_are_parameters() {
    // 3/16 in was the preferred seam in 1930s instruction (extension bulletin of that time).
    for head in [
        "seam = \"3/16 in\"\nruler = \"1/16 in\"",
        "seam = \"3/8 in\"",
        "units = \"metric\"\nruler = \"1 mm\"",
    ] {
        let whole = proved(&quilt(head, CLOTHS, TURNING));
        assert!(whole.pattern.recipe.seam.len.units() > 0);
    }
}

#[test]
fn a_top_of_one_patch_and_of_one_pair_can_be_finished() {
    let one = "[[block]]\nname = \"one\"\nsize = 5\npatches = [{ fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" }]\n[layout]\nkind = \"straight\"\nrows = [[\"one\"]]\n";
    proved(&quilt("", CLOTHS, one));
    let half = "[[block]]\nname = \"half\"\nsize = 5\npatches = [\n  { fabric = \"a\", path = \"M0 0 H1 L0 1 Z\" },\n  { fabric = \"b\", path = \"M1 0 V1 H0 Z\" },\n]\n[layout]\nkind = \"straight\"\nrows = [[\"half\"]]\n";
    let whole = proved(&quilt("", CLOTHS, half));
    // Two come of every pair; the other is a named spare.
    assert!(whole.pattern.recipe.makes.iter().any(|m| m.spare == 1));
}

#[test]
fn spares_for_mishaps_are_cut_and_named() {
    let whole = proved(&quilt("spare = \"10 %\"", CLOTHS, TURNING));
    assert!(whole.pattern.recipe.pieces.iter().all(|p| p.spare >= 1));
}

/// The presses of a unit's seams in order.
fn presses(whole: &Whole, unit: &str) -> Vec<recipe::Press> {
    let make = whole
        .pattern
        .recipe
        .makes
        .iter()
        .find(|m| m.unit.as_str() == unit)
        .unwrap();
    make.steps
        .iter()
        .filter_map(|s| match s {
            recipe::Step::Open { press, .. } => Some(*press),
            _ => None,
        })
        .collect()
}

#[test]
fn seams_go_to_the_dark_and_nest_where_they_meet() {
    use recipe::Press::{TowardLower, TowardUpper};
    let check = |fabric: &str| {
        let mut patches = String::new();
        for row in 0..3 {
            for column in 0..3 {
                let dark = (row + column) % 2 == 0;
                let cloth = if dark { fabric } else { "a" };
                patches += &format!("  {{ fabric = \"{cloth}\", path = \"M{column} {row} h1 v1 h-1 Z\" }},\n");
            }
        }
        format!(
            "[[block]]\nname = \"nine\"\nsize = 6\ngrid = [3, 3]\npatches = [\n{patches}]\n[layout]\nkind = \"straight\"\nrows = [[\"nine\", \"nine\"], [\"nine\", \"nine\"]]\n"
        )
    };
    let whole = proved(&quilt("", CLOTHS, &check("b")));
    // Dark, light, dark: outward. Light, dark, light: inward. So every crossing nests (common practice).
    assert_eq!(presses(&whole, "nine/A"), [TowardLower, TowardUpper]);
    assert_eq!(presses(&whole, "nine/B"), [TowardUpper, TowardLower]);
}

/// A 4 x 4 layout of rails: so many strips side by side, each so high, in inches.
fn rails(method: &str, strips: usize, high: usize) -> String {
    let side = strips * high;
    let patches: String = (0..strips)
        .map(|i| {
            let cloth = if i % 2 == 0 { "a" } else { "b" };
            format!("  {{ fabric = \"{cloth}\", path = \"M0 {i} h{strips} v1 h-{strips} Z\" }},\n")
        })
        .collect();
    let row = "[\"rail\", \"rail@90\", \"rail\", \"rail@90\"]";
    format!(
        "[[block]]\nname = \"rail\"\nsize = {side}\ngrid = [{strips}, {strips}]\n{method}\npatches = [\n{patches}]\n[layout]\nkind = \"straight\"\nrows = [{row}, {row}, {row}, {row}]\n"
    )
}

#[test]
fn rows_wanted_often_are_cut_from_strip_sets() {
    let made = |head: &str, method: &str, strips: usize, high: usize| {
        let whole = proved(&quilt(head, CLOTHS, &rails(method, strips, high)));
        whole.methods.contains(&"strip sets")
    };
    assert!(made("", "", 3, 2));
    // Squaring the end costs cloth; a pin is followed either way; many or wide strips are handled piece by piece.
    assert!(!made("prefer = \"cloth\"", "", 3, 2));
    assert!(made("prefer = \"cloth\"", "method = \"strip sets\"", 3, 2));
    assert!(!made("", "method = \"plain patches\"", 3, 2));
    assert!(made("", "", 7, 1));
    assert!(!made("", "", 8, 1));
    assert!(!made("", "", 2, 9));
}
