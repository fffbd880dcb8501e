//! Cloth with a will of its own: prints with an up, motifs in the middle of their patches, roles of many cloths; and every
//! colourway in three sizes.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{Gives, PieceCut, Turn};
use std::collections::BTreeMap;
use terms::Finding;
use trials::whole::Whole;

fn fabric(name: &str, color: &str, more: &str) -> String {
    format!("[[fabric]]\nname = \"{name}\"\ncolor = \"{color}\"\n{more}\n")
}

fn quilt(fabrics: &[String], rest: &str) -> String {
    format!(
        "format = 1\n[quilt]\ntitle = \"Trial\"\n{}\n{rest}\n",
        fabrics.join("\n")
    )
}

fn proved(text: &str) -> Whole {
    let whole = Whole::of(text).unwrap_or_else(|f| panic!("{f:#?}"));
    if let Err(findings) = whole.rehearse() {
        let told: Vec<String> = findings.iter().map(ToString::to_string).collect();
        panic!("{}", told.join("\n"));
    }
    whole
}

fn told<'f>(findings: &'f [Finding], code: &str) -> Vec<&'f Finding> {
    findings.iter().filter(|f| f.code == code).collect()
}

fn own_findings(text: &str) -> Vec<Finding> {
    design::read_design(text).unwrap().findings()
}

/// Every piece that comes off, as it is said in the plan.
fn each_piece(whole: &mut Whole, mut act: impl FnMut(&str, &mut PieceCut)) {
    fn of_strip(strip: &mut recipe::Strip, act: &mut impl FnMut(&mut PieceCut)) {
        for cut in strip.runs.iter_mut().flat_map(|run| &mut run.cuts) {
            match &mut cut.gives {
                Gives::Waste => {}
                Gives::Piece(piece) | Gives::Shaped { piece, .. } | Gives::Template { piece, .. } => act(piece),
                Gives::Halves { lower, upper, .. } => {
                    act(lower);
                    act(upper);
                }
                Gives::Quarters(all) => all.iter_mut().for_each(&mut *act),
            }
        }
        for rest in &mut strip.rest {
            of_strip(rest, act);
        }
    }
    for cloth in &mut whole.pattern.cutting.cloths {
        let name = cloth.fabric.0.clone();
        for strip in &mut cloth.strips {
            of_strip(strip, &mut |piece| act(&name, piece));
        }
    }
}

const HALVES: &str = r#"
[[block]]
name = "half"
size = 4
patches = [
  { fabric = "a", path = "M0 0 H1 L0 1 Z" },
  { fabric = "b", path = "M1 0 V1 H0 Z" },
]
[layout]
kind = "straight"
rows = [["half", "half@90"], ["half@180", "half@270"]]
"#;

#[test]
fn a_piece_turned_upside_down_is_refused_whichever_it_is() {
    let text = quilt(
        &[
            fabric("a", "#efe8d8", "print = \"one-way\""),
            fabric("b", "#1f2d4a", ""),
        ],
        HALVES,
    );
    let mut whole = proved(&text);
    let mut count = 0;
    each_piece(&mut whole, |name, _| count += usize::from(name == "a"));
    assert!(count >= 4, "{count}");
    for n in 0..count {
        let mut altered = proved(&text);
        let mut at = 0;
        each_piece(&mut altered, |name, piece| {
            if name == "a" {
                if at == n {
                    piece.turn = match piece.turn {
                        Turn::As => Turn::Half,
                        Turn::Half => Turn::As,
                        Turn::Quarter => Turn::ThreeQuarters,
                        Turn::ThreeQuarters => Turn::Quarter,
                    };
                }
                at += 1;
            }
        });
        assert!(altered.rehearse().is_err(), "cut {n} of {count}");
    }
}

#[test]
fn methods_that_turn_a_print_are_not_chosen_and_said_when_pinned() {
    let plain = [fabric("a", "#efe8d8", ""), fabric("b", "#1f2d4a", "")];
    let printed = [
        fabric("a", "#efe8d8", "print = \"one-way\""),
        fabric("b", "#1f2d4a", ""),
    ];
    assert!(proved(&quilt(&plain, HALVES)).methods.contains(&"half-square pairs"));
    let whole = proved(&quilt(&printed, HALVES));
    assert!(!whole.methods.contains(&"half-square pairs"));
    assert!(told(&whole.findings, "pin-does-not-fit").is_empty());
    let pinned = HALVES.replace("size = 4\n", "size = 4\nmethod = \"half-square pairs\"\n");
    let whole = proved(&quilt(&printed, &pinned));
    let found = told(&whole.findings, "pin-does-not-fit");
    assert!(
        found.iter().any(|f| f.sentence.contains("print of fabric a")),
        "{found:?}"
    );
}

#[test]
fn on_point_an_upright_print_lies_on_the_bias() {
    let rest = |kind: &str, rows: &str| {
        format!(
            "[[block]]\nname = \"one\"\nsize = 4\npatches = [{{ fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" }}]\n[layout]\nkind = \"{kind}\"\nfill = \"b\"\nrows = {rows}\n"
        )
    };
    let cloths = |up: &str| {
        [
            fabric("a", "#efe8d8", &format!("print = \"one-way\"\nup = \"{up}\"")),
            fabric("b", "#1f2d4a", ""),
        ]
    };
    let on_point = rest("on-point", "[[\"one\", \"one\"], [\"one\"], [\"one\", \"one\"]]");
    let text = quilt(&cloths("quilt"), &on_point);
    proved(&text);
    let found = own_findings(&text);
    assert_eq!(told(&found, "print-on-bias").len(), 1);
    assert!(told(&found, "print-on-bias")[0].sentence.contains("5 patches"));
    // Turning with the block the print stands along the block's sides; straight set it always does.
    let text = quilt(&cloths("block"), &on_point);
    proved(&text);
    assert!(told(&own_findings(&text), "print-on-bias").is_empty());
    let text = quilt(&cloths("quilt"), &rest("straight", "[[\"one\", \"one\"]]"));
    assert!(told(&own_findings(&text), "print-on-bias").is_empty());
}

fn squares(across: usize, down: usize, block: &str) -> String {
    let row = format!("[{}]", vec![format!("\"{block}\""); across].join(", "));
    format!("rows = [{}]", vec![row; down].join(", "))
}

#[test]
fn a_motif_takes_a_repeat_for_each_piece() {
    let rest = |size: &str| {
        format!(
            "[[block]]\nname = \"one\"\nsize = {size}\npatches = [{{ fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" }}]\n[layout]\nkind = \"straight\"\n{}\n",
            squares(4, 5, "one")
        )
    };
    let motif = |more: &str| {
        [fabric(
            "a",
            "#efe8d8",
            &format!("motif = {{ every = [\"6 in\", \"8 in\"]{more} }}"),
        )]
    };
    for (more, across) in [("", 5.0), (", across = 6", 6.0)] {
        let whole = proved(&quilt(&motif(more), &rest("4")));
        assert!(told(&whole.findings, "motif-not-centred").is_empty());
        // derived: 40 in of usable width hold 6 repeats of 6 in with 4 in over, so 5 are certain wherever the print begins;
        // 20 pieces take ceil(20 / across) rows of 8 in, after 1 in squared and up to one row cut away before the first
        // whole one; bought by the eighth of a yard.
        let rows = (20.0_f64 / across).ceil();
        let length = (1.0 + 8.0 + 8.0 * rows) / 4.5;
        let bought = &whole.pattern.bought.cloths[0];
        assert_eq!(bought.length.len.to_inches(), length.ceil() * 4.5);
        assert_eq!(bought.usable.len.to_inches(), across * 6.0);
        // derived: the square of 4 in lies (6 - 4) / 2 = 1 in and (8 - 4) / 2 = 2 in from the repeat's sides
        let mut shapes = 0;
        for run in whole.pattern.cutting.cloths[0].strips.iter().flat_map(|s| &s.runs) {
            for cut in &run.cuts {
                let Gives::Shaped { cuts, .. } = &cut.gives else {
                    continue;
                };
                shapes += run.times;
                let least = |of: fn(&recipe::Dot) -> measure::Length| cuts.iter().map(|c| of(&c.from)).min().unwrap();
                assert_eq!(least(|d| d.from_left.len).to_inches(), 1.0);
                assert_eq!(least(|d| d.from_lower.len).to_inches(), 2.0);
            }
        }
        assert!(shapes > 0);
    }
    // A motif is the right way up: turned cloth is refused.
    let mut whole = proved(&quilt(&motif(""), &rest("4")));
    each_piece(&mut whole, |_, piece| piece.turn = Turn::Half);
    assert!(whole.rehearse().is_err());
    // 7 in with its seams does not go into a repeat of 6 in.
    let whole = proved(&quilt(&motif(""), &rest("7")));
    assert_eq!(told(&whole.findings, "motif-not-centred").len(), 1);
    // More than there is room for is an error of the file.
    let errors = design::read_design(&quilt(&motif(", across = 7"), &rest("4"))).unwrap_err();
    assert!(errors.iter().any(|e| e.code == "bad-number"), "{errors:?}");
}

#[test]
fn a_motif_is_in_the_middle_of_triangles_and_turned_blocks_too() {
    let cloths = [
        fabric("a", "#efe8d8", "motif = { every = [\"6 in\", \"8 in\"] }"),
        fabric("b", "#1f2d4a", ""),
    ];
    let whole = proved(&quilt(&cloths, HALVES));
    assert!(
        told(&whole.findings, "motif-not-centred").is_empty(),
        "{:?}",
        whole.findings
    );
    assert!(!whole.methods.contains(&"half-square pairs"));
}

const SCRAPS: [(&str, &str); 4] = [
    ("navy", "#1f2d4a"),
    ("wine", "#6a1f2d"),
    ("moss", "#2f4a1f"),
    ("plum", "#4a1f4a"),
];

fn scrappy(each: &str, fabrics: usize) -> Vec<String> {
    let names: Vec<String> = SCRAPS[..fabrics].iter().map(|(n, _)| format!("\"{n}\"")).collect();
    let list = names.join(", ");
    let mut all = vec![
        fabric("light", "#efe8d8", ""),
        fabric(
            "dark",
            "#303030",
            &format!("scrappy = {{ fabrics = [{list}], each = \"{each}\" }}"),
        ),
    ];
    all.extend(SCRAPS[..fabrics].iter().map(|(name, color)| fabric(name, color, "")));
    all
}

fn pictured(whole: &Whole) -> BTreeMap<String, usize> {
    let mut count = BTreeMap::new();
    for face in &whole.picture.faces {
        *count.entry(face.fabric.0.clone()).or_default() += 1;
    }
    count
}

const NINE: &str = r#"
[[block]]
name = "nine"
size = 6
grid = [3, 3]
patches = [
  { fabric = "dark", path = "M0 0 H1 V1 H0 Z" }, { fabric = "light", path = "M1 0 H2 V1 H1 Z" }, { fabric = "dark", path = "M2 0 H3 V1 H2 Z" },
  { fabric = "light", path = "M0 1 H1 V2 H0 Z" }, { fabric = "dark", path = "M1 1 H2 V2 H1 Z" }, { fabric = "light", path = "M2 1 H3 V2 H2 Z" },
  { fabric = "dark", path = "M0 2 H1 V3 H0 Z" }, { fabric = "light", path = "M1 2 H2 V3 H1 Z" }, { fabric = "dark", path = "M2 2 H3 V3 H2 Z" },
]
[layout]
kind = "straight"
"#;

#[test]
fn a_scrappy_role_by_block_keeps_strip_sets_and_parts_equal_cloths() {
    let rest = format!("{NINE}{}", squares(4, 4, "nine"));
    let text = quilt(&scrappy("block", 4), &rest);
    let whole = proved(&text);
    let count = pictured(&whole);
    assert!(!count.contains_key("dark"), "the role is shown by its cloths alone");
    for (name, _) in SCRAPS {
        // 16 blocks of 5 dark patches: four each, since four cloths part blocks that meet at a corner only so.
        assert_eq!(count.get(name), Some(&20), "{count:?}");
        assert!(whole.pattern.bought.cloths.iter().any(|c| c.fabric.as_str() == name));
    }
    assert!(whole.pattern.bought.cloths.iter().all(|c| c.fabric.as_str() != "dark"));
    assert!(whole.methods.contains(&"strip sets"), "{:?}", whole.methods);
    let found = own_findings(&text);
    assert_eq!(told(&found, "scraps-dealt").len(), 1);
    assert!(told(&found, "scraps-touch").is_empty(), "{found:?}");
    // derived: nine-patches meet corner to corner as well as side by side; with two cloths a chequerboard is left, whose
    // 2 · 3 · 3 diagonal pairs are equal.
    let two = quilt(&scrappy("block", 2), &rest);
    proved(&two);
    let found = own_findings(&two);
    let touch = told(&found, "scraps-touch");
    assert!(
        touch[0]
            .sentence
            .contains("0 pairs of one cloth lie side by side and 18 pairs"),
        "{touch:?}"
    );
}

#[test]
fn a_scrappy_role_by_patch_is_proved_and_told_from_another_dealing() {
    let text = quilt(&scrappy("patch", 4), &format!("{NINE}{}", squares(2, 2, "nine")));
    let whole = proved(&text);
    let count = pictured(&whole);
    assert_eq!(SCRAPS.iter().map(|(n, _)| count[*n]).sum::<usize>(), 20);
    assert!(SCRAPS.iter().all(|(n, _)| (3..=7).contains(&count[*n])), "{count:?}");
    // No two equal patches touch, seen in the picture without the search's own words.
    let faces = &whole.picture.faces;
    for (i, a) in faces.iter().enumerate().filter(|(_, f)| f.fabric.as_str() != "light") {
        for b in faces[i + 1..].iter().filter(|b| b.fabric == a.fabric) {
            let near = a
                .outline
                .corners()
                .iter()
                .any(|c| b.outline.corners().iter().any(|d| c.distance(*d) < 1.0e-6));
            assert!(!near, "two of {} touch", a.fabric);
        }
    }
    assert_eq!(proved(&text).picture, whole.picture);
    // Sewn by another dealing the top is not this one.
    let mut other = proved(&text.replace("each = \"patch\"", "each = \"patch\", seed = 5"));
    assert_ne!(other.picture, whole.picture);
    other.picture = whole.picture;
    assert!(other.rehearse().is_err());
}

#[test]
fn scrappy_halves_still_come_in_pairs_and_turn_with_their_blocks() {
    let mut cloths = scrappy("block", 3);
    cloths[0] = fabric("light", "#efe8d8", "print = \"none\"");
    let rest = HALVES.replace("\"a\"", "\"light\"").replace("\"b\"", "\"dark\"");
    let rest = rest.replace("[\"half@180\"", "[\"half~\", \"half~@90\"], [\"half@180\"");
    let whole = proved(&quilt(&cloths, &rest));
    assert!(whole.methods.contains(&"half-square pairs"), "{:?}", whole.methods);
    // Within blocks and as sashing, a role is dealt out as well.
    let nested = r#"
[[block]]
name = "inner"
size = 2
grid = [2, 1]
patches = [{ fabric = "ink", path = "M0 0 H1 V1 H0 Z" }, { fabric = "light", path = "M1 0 H2 V1 H1 Z" }]
[[block]]
name = "outer"
size = 4
grid = [2, 2]
place = [
  { block = "inner", at = [0, 0], size = [1, 1], recolor = { ink = "dark" } },
  { block = "inner", at = [1, 0], size = [1, 1], turn = 90, recolor = { ink = "dark", light = "ink" } },
  { block = "inner", at = [0, 1], size = [1, 1], turn = 180, flip = true, recolor = { ink = "dark" } },
  { block = "inner", at = [1, 1], size = [1, 1], recolor = { ink = "light", light = "dark" } },
]
[layout]
kind = "straight"
rows = [["outer", "outer@90", "outer~"], ["outer~@270", "outer", "outer@180"]]
sashing = { width = 1, fabric = "dark", cornerstones = "light" }
"#;
    for each in ["block", "patch"] {
        let mut cloths = scrappy(each, 4);
        cloths.push(fabric("ink", "#101018", ""));
        proved(&quilt(&cloths, nested));
    }
}

#[test]
fn a_scrappy_role_names_cloths_of_the_file() {
    let codes = |text: &str| -> Vec<&'static str> {
        let errors = design::read_design(text).err().unwrap_or_default();
        errors.iter().map(|e| e.code).collect()
    };
    let text = quilt(&scrappy("block", 3), &format!("{NINE}{}", squares(2, 2, "nine")));
    assert!(codes(&text).is_empty());
    assert_eq!(
        codes(&text.replace("name = \"wine\"", "name = \"rose\"")),
        ["unknown-name"]
    );
    assert_eq!(
        codes(&text.replace("[\"navy\", \"wine\", \"moss\"]", "[\"navy\", \"dark\"]")),
        ["cycle"]
    );
    assert_eq!(
        codes(&text.replace("[\"navy\", \"wine\", \"moss\"]", "[\"navy\"]")),
        ["wrong-count"]
    );
    assert_eq!(
        codes(&text.replace("[\"navy\", \"wine\", \"moss\"]", "[\"navy\", \"navy\"]")),
        ["twice"]
    );
}

#[test]
fn every_colourway_is_proved_in_three_sizes_with_its_own_cloth() {
    let mut rest = format!("{NINE}{}", squares(3, 3, "nine"));
    rest += &format!("\n[[size]]\nname = \"large\"\n{}\n", squares(5, 4, "nine"));
    rest += &format!("\n[[size]]\nname = \"small\"\nscale = 0.5\n{}\n", squares(2, 2, "nine"));
    rest += "\n[[colorway]]\nname = \"dawn\"\n[colorway.fabrics]\nnavy = { label = \"Slate\", color = \"#546a7b\" }\n";
    rest += "\n[[colorway]]\nname = \"dusk\"\n[colorway.fabrics]\nlight = { label = \"Sand\", color = \"#d8c8a8\" }\n";
    let design = design::read_design(&quilt(&scrappy("block", 3), &rest)).unwrap();
    for size in ["base", "large", "small"] {
        let sized = design.at_size(size).unwrap();
        for (colorway, fabric, label) in [("dawn", "navy", "Slate"), ("dusk", "light", "Sand")] {
            let dressed = sized.in_colorway(colorway).unwrap();
            let whole = Whole::of_design(&dressed).unwrap();
            assert!(whole.rehearse().is_ok(), "{size} {colorway}");
            let note = whole
                .pattern
                .recipe
                .fabrics
                .iter()
                .find(|f| f.fabric.as_str() == fabric);
            assert_eq!(note.unwrap().label, label);
        }
    }
}
