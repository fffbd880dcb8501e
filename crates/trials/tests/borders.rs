//! Borders over whole designs: pieced of blocks, with spacers, round after round; planned, sewn on the virtual table and
//! held against the picture.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{LineRef, Make, Part, Ruler, Step, Take};
use terms::Finding;
use trials::judge::Tally;
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
[[fabric]]
name = "stripe"
color = "#6f8a55"
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

const STRAIGHT: &str = "[layout]\nrows = [[\"four\", \"four\"], [\"four\", \"four\"]]\n";
const POINT: &str = "[layout]\nkind = \"on-point\"\nfill = \"dark\"\nrows = [[\"four\"]]\n";

fn border(width: &str, more: &str) -> String {
    format!("[[border]]\nwidth = \"{width}\"\nfabric = \"red\"\n{more}\n")
}

fn steps(whole: &Whole) -> impl Iterator<Item = &Step> {
    whole.pattern.recipe.makes.iter().flat_map(|make| &make.steps)
}

/// How often a block is made, all its makings together.
fn made(whole: &Whole, block: &str) -> u64 {
    let own = |unit: &str| unit.split('/').next() == Some(block);
    let makes = whole.pattern.recipe.makes.iter();
    makes
        .filter(|make| own(make.unit.as_str()) && make.label.contains("block"))
        .map(|make| u64::from(make.times) * make.gives.len() as u64)
        .sum()
}

/// Strips cut round a template: the triangles that set a block on point have three corners.
fn templates(whole: &Whole) -> Vec<String> {
    let printed = whole.pattern.cutting.templates.iter();
    let inches = |n: i64| n as f64 / (8128.0 * 1000.0);
    printed
        .filter(|template| template.corners.len() == 4)
        .map(|template| {
            let corners: Vec<String> = (template.corners.iter())
                .map(|c| format!("{:.3} {:.3}", inches(c.right.units()), inches(c.up.units())))
                .collect();
            format!("{}: {}", template.name, corners.join(", "))
        })
        .collect()
}

const NONE: [String; 0] = [];

fn awkward(whole: &Whole) -> usize {
    steps(whole)
        .filter(|s| matches!(s, Step::Pivot { .. } | Step::Close { .. }))
        .count()
}

/// Trims of what is no block: flush with an edge, to a mark, and to measure (off the marks).
fn trims(whole: &Whole) -> (usize, usize, usize) {
    let mark = whole.pattern.recipe.mark.units();
    let of_top = whole.pattern.recipe.makes.iter();
    let of_top = of_top.filter(|make| make.unit.as_str().starts_with("top"));
    let lines = of_top.flat_map(|make| &make.steps).flat_map(|s| match s {
        Step::Trim { lines, .. } => lines.as_slice(),
        _ => &[],
    });
    let mut found = (0, 0, 0);
    for line in lines {
        let Ruler::Beside {
            line: LineRef::Edge(_),
            at,
            ..
        } = &line.ruler
        else {
            continue;
        };
        match at.len.units() {
            0 => found.0 += 1,
            n if n % mark == 0 => found.1 += 1,
            _ => found.2 += 1,
        }
    }
    found
}

#[test]
fn geese_go_round_a_straight_quilt() {
    // By hand: 16 in is four geese of 4 in on every side, between squares: sixteen geese, no template, no seam that turns.
    let whole = proved(&format!(
        "{STRAIGHT}{}",
        border("2 in", "units = [\"goose\"]\ncornerstones = \"red\"")
    ));
    assert_eq!(
        (made(&whole, "goose"), templates(&whole), awkward(&whole)),
        (16, vec![], 0)
    );
    // all four sides are one kind of row
    let of_geese = |make: &&Make| {
        let goose = |part: &&Part| matches!(&part.take, Take::Unit(unit) if unit.as_str().starts_with("goose"));
        make.parts.iter().filter(goose).count() > 0 && make.unit.as_str().starts_with("top")
    };
    let rows: Vec<&Make> = whole.pattern.recipe.makes.iter().filter(of_geese).collect();
    let sewn: u64 = rows.iter().map(|make| u64::from(make.times)).sum();
    assert!(sewn <= 12, "{sewn} goings of rows of geese");
}

#[test]
fn units_in_turn_with_blocks_in_the_corners_and_a_spacer() {
    // 4 + 2 + 4 + 2 ... : 16 + 2 = 18 = three geese and three posts; and once butted, 16 + 2 t and 20 + 2 t.
    for more in [
        "units = [\"goose\", \"post\"]\ncorners = \"post\"\nspacer = \"auto\"",
        "units = [\"goose\", \"post@90\"]\nspacer = \"auto\"",
        "units = [\"goose~\", \"post~\"]\nfirst = \"top\"\nspacer = \"auto\"",
        "units = [\"goose@180\"]\nspacer = \"2 in\"",
    ] {
        let whole = proved(&format!("{STRAIGHT}{}", border("2 in", more)));
        assert_eq!((templates(&whole), awkward(&whole)), (vec![], 0), "{more}");
    }
}

#[test]
fn round_after_round_pieced_and_plain() {
    let rounds = [
        border(
            "2 in",
            "units = [\"goose\"]\ncornerstones = \"dark\"\nspacer = \"auto\"",
        ),
        border("1 in", "cornerstones = \"light\""),
        border("2 in", "units = [\"post\"]\nspacer = \"auto\""),
        border("3 in", "corners = \"mitred\""),
    ]
    .concat();
    for layout in [STRAIGHT, POINT] {
        let whole = proved(&format!("{layout}{rounds}"));
        assert_eq!(templates(&whole), NONE, "{layout}");
    }
}

#[test]
fn a_strip_along_a_side_on_point_is_sewn_on_long_and_trimmed_flush() {
    // One 8 in block on point is 8 √2 = 11.31 in across (derived): sides cut as measured, then top and bottom to the whole
    // width, as a publisher's lesson on border lengths says (published on the web, no year given); here each is cut longer and the
    // ends come off. Each strip is at least half an inch longer than 11.31 + 1/2 and 15.31 + 1/2.
    let whole = proved(&format!("{POINT}{}", border("2 in", "")));
    assert_eq!(templates(&whole), NONE);
    assert_eq!(trims(&whole), (4, 0, 0));
    let root = 8.0 * 2.0_f64.sqrt();
    let mut shaves: Vec<f64> = steps(&whole)
        .filter_map(|s| match s {
            // Not the centre's own, four at once.
            Step::Trim { lines, .. } if lines.len() == 1 => Some(lines[0].shave.inches()),
            _ => None,
        })
        .collect();
    shaves.sort_by(f64::total_cmp);
    // Closed form: up to the next eighth of root + 1 and of root + 5, less root + 1/2 and root + 4 1/2.
    let up = |x: f64| (x * 8.0).ceil() / 8.0;
    let expected = [up(root + 1.0) - root - 0.5, up(root + 5.0) - root - 4.5];
    for (shave, expected) in shaves.iter().zip([expected[0], expected[0], expected[1], expected[1]]) {
        assert!((shave - expected).abs() < 1.0 / 4096.0, "{shaves:?} {expected:?}");
    }
}

#[test]
fn between_corners_a_strip_on_point_is_cut_to_measure() {
    // By hand: the sides are trimmed flush; above and below, squares lie at both ends, so the strip is cut to measure.
    for more in ["cornerstones = \"light\"", "corners = \"post\"", "first = \"top\""] {
        let whole = proved(&format!("{POINT}{}", border("2 in", more)));
        assert_eq!(templates(&whole), NONE, "{more}");
        let (flush, to_mark, measured) = trims(&whole);
        assert_eq!(to_mark, 0, "{more}");
        assert_eq!(measured > 0, !more.starts_with("first"), "{more}");
        assert!(flush >= 2, "{more}");
    }
}

#[test]
fn a_spacer_takes_up_what_lies_between_the_marks() {
    // By hand: the second strip of each pair is cut wider, and the whole trimmed to a size on the marks: once across, once up.
    let whole = proved(&format!(
        "{POINT}{}",
        border(
            "2 in",
            "units = [\"goose\"]\ncornerstones = \"dark\"\nspacer = \"auto\""
        )
    ));
    assert_eq!(templates(&whole), NONE);
    assert_eq!(awkward(&whole), 0);
    assert_eq!(trims(&whole), (2, 2, 0));
}

#[test]
fn strips_longer_than_the_cloth_are_joined_before_they_are_fitted() {
    // Four 8 in blocks on point are 45.25 in across (derived): more than 40 in of cloth.
    let point = "[layout]\nkind = \"on-point\"\nfill = \"dark\"\nrows = [[\"four\", \"four\", \"four\", \"four\"], [\"four\", \"four\", \"four\"], \
                 [\"four\", \"four\", \"four\", \"four\"]]\n";
    for more in ["", "cornerstones = \"light\"", "grain = \"length\""] {
        let whole = proved(&format!("{point}{}", border("3 in", more)));
        assert_eq!(templates(&whole), NONE, "{more}");
        let joined = whole.methods.contains(&"joined strip");
        assert_eq!(joined, more != "grain = \"length\"", "{more}: {:?}", whole.methods);
    }
}

#[test]
fn in_metric_and_with_a_print_that_has_an_up() {
    let metric = HEAD
        .replace("title = ", "units = \"metric\"\ntitle = ")
        .replace("\"4 in\", \"2 in\"", "\"10 cm\", \"5 cm\"")
        .replace("\"2 in\"", "\"5 cm\"")
        .replace("\"8 in\"", "\"20 cm\"");
    let rounds = border(
        "5 cm",
        "units = [\"goose\"]\ncornerstones = \"dark\"\nspacer = \"auto\"",
    );
    let text = format!("{metric}{POINT}{rounds}{}", border("6 cm", ""));
    let whole = Whole::of(&text).unwrap();
    whole.rehearse().unwrap();
    assert_eq!(templates(&whole), NONE);
    for print in ["one-way", "two-way"] {
        let striped = HEAD.replace("\"#6f8a55\"", &format!("\"#6f8a55\"\nprint = \"{print}\""));
        for more in ["", "cornerstones = \"light\"", "units = [\"goose\"]\nspacer = \"auto\""] {
            let border = border("2 in", more).replace("\"red\"", "\"stripe\"");
            let whole = Whole::of(&format!("{striped}{POINT}{border}")).unwrap();
            whole.rehearse().unwrap_or_else(|f| panic!("{print} {more}: {f:?}"));
            assert_eq!(templates(&whole), NONE, "{print} {more}");
        }
    }
}

#[test]
fn every_size_and_colourway_of_the_medallion_is_proved() {
    let file = format!("{}/../../examples/wheelhouse.quilt.toml", env!("CARGO_MANIFEST_DIR"));
    let design = design::read_design(&std::fs::read_to_string(file).unwrap()).unwrap();
    assert!(
        !design.findings().iter().any(Finding::is_stop),
        "{:?}",
        design.findings()
    );
    for design in [
        design.clone(),
        design.in_colorway("dusk").unwrap(),
        design.clone().scaled(2.0),
    ] {
        let whole = Whole::of_design(&design).unwrap();
        let proof = whole.rehearse().unwrap();
        assert!(proof.largest_difference < 1.0 / 256.0, "{}", proof.largest_difference);
        assert_eq!(templates(&whole), NONE);
    }
}

/// A part's name, its blocks, and whether the top is sewn in it.
type Told<'a> = (&'a str, &'a [(String, u64)], bool);

#[test]
fn a_part_named_borders_hands_out_the_borders_blocks() {
    let text = format!(
        "{HEAD}{STRAIGHT}{}[[part]]\nname = \"Blocks\"\nblocks = {{ four = 4 }}\n[[part]]\nname = \"Borders\"\nalso = [\"borders\"]\n",
        border("2 in", "units = [\"goose\"]\ncorners = \"post\"")
    );
    let design = design::read_design(&text).unwrap();
    let parts = drafting::draft(&design).unwrap().parts(&design);
    let told: Vec<Told<'_>> = (parts.list.iter())
        .map(|part| (part.name.as_str(), part.blocks.as_slice(), part.sews_the_top))
        .collect();
    assert_eq!(
        told,
        [
            ("Blocks", &[("four".to_string(), 4)][..], false),
            (
                "Borders",
                &[("goose".to_string(), 16), ("post".to_string(), 4)][..],
                true
            )
        ]
    );
    assert!(parts.findings.is_empty(), "{:?}", parts.findings);
}

#[test]
fn each_is_refused_when_altered() {
    let spacer = border(
        "2 in",
        "units = [\"goose\"]\ncornerstones = \"dark\"\nspacer = \"auto\"",
    );
    let designs = [
        ("flush", format!("{POINT}{}", border("2 in", ""))),
        (
            "to measure",
            format!("{POINT}{}", border("2 in", "cornerstones = \"light\"")),
        ),
        ("to size", format!("{POINT}{spacer}")),
    ];
    let mut tally = Tally::default();
    // A block that half a turn makes another.
    let odd = HEAD.replace("\"red\", path = \"M1 1 H2", "\"stripe\", path = \"M1 1 H2");
    for (name, rest) in &designs {
        let whole = Whole::of(&format!("{odd}{rest}")).unwrap();
        whole.rehearse().unwrap();
        tally.judge(name, &whole.pattern, &whole.picture, 2000);
    }
    println!("{}", tally.table());
    println!("pointing elsewhere:\n{}", tally.misnamed.join("\n"));
    assert!(tally.unread.is_empty(), "{:?}", tally.unread);
    assert!(tally.unexpected.is_empty(), "survived:\n{:#?}", tally.unexpected);
    assert!(tally.share_named() >= 0.95, "{:.3} name the place", tally.share_named());
}
