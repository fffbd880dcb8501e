//! The built-in collection: every block planned, rehearsed and proved at three sizes, except those that wait for a way of
//! making that is not planned yet; placed by its name and recoloured; and the page that shows it all.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use std::collections::BTreeSet;
use trials::collection::{self, Row};
use trials::whole::Whole;

fn rows() -> Vec<Row> {
    collection::rows().unwrap()
}

/// Planned and proved, or everything said against it.
fn proved(text: &str) -> Result<Whole, String> {
    let told = |findings: Vec<terms::Finding>| findings.iter().map(|f| format!("\n  {f}")).collect::<String>();
    let whole = Whole::of(text).map_err(told)?;
    let proof = whole.rehearse().map_err(told)?;
    if proof.largest_difference > 1.0 / 64.0 {
        return Err(format!("differs by {}", proof.largest_difference));
    }
    Ok(whole)
}

/// The block's own file, its size multiplied.
fn resized(text: &str, by: f64) -> String {
    let lines = text.lines().map(|line| {
        let Some(sizes) = line.strip_prefix("size = ") else {
            return line.to_string();
        };
        let lengths: Vec<String> = sizes
            .split('"')
            .filter_map(|part| part.strip_suffix(" in"))
            .map(|inches| format!("\"{} in\"", inches.parse::<f64>().unwrap() * by))
            .collect();
        format!("size = [{}, {}]", lengths[0], lengths[lengths.len() - 1])
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn every_block_is_proved_at_three_sizes() {
    let mut failures = Vec::new();
    let mut count = 0;
    for (name, text) in design::collection() {
        count += 1;
        for by in [1.0, 1.5, 2.0] {
            if let Err(said) = proved(&resized(text, by)) {
                failures.push(format!("{name} at {by}:{said}"));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
    assert!(count >= 60, "{count}");
}

/// Methods that cut up cloth already joined, or whip each edge by itself.
const CUT_UP: [&str; 7] = [
    "hourglass pairs",
    "strip sets",
    "half-squares by eights",
    "half-squares by fours",
    "geese by fours",
    "angled strip sets",
    "over card",
];

/// Seams of the blocks made so, counted by hand (*derived*). A strip set of n strips takes n - 1 seams for all its lengths; two
/// hourglasses take four, two on either side of each of two diagonals; the units of a nine-unit block are then joined by 8.
const BY_HAND: [(&str, u32); 30] = [
    // Forty-five patches. Sixteen half-square units in two goes of four seams; four paws of a square, a row of two and one of three
    // units and a corner; and rows: what pieces sewn one by one would take, less half of sixteen.
    ("bears-paw", 44 - 8),
    // Four hourglasses in two goes, and 3.
    ("big-dipper", 8 + 3),
    // Four units of one seam all round, and 3.
    ("broken-dishes-by-fours", 1 + 3),
    // Pairs, two four patches of them, two half-square units, and 3.
    ("buckeye-beauty", 1 + 2 + 2 + 3),
    // Four half-square units (2 + 2), four corners of three patches more (8), one hourglass of two made (4), and 8.
    ("card-trick", 4 + 8 + 4 + 8),
    // Rows of four, and 3.
    ("checkerboard", 3 + 3),
    // Eight geese in two goes of six seams, four pairs of them, and 3.
    ("dutchmans-puzzle", 12 + 4 + 3),
    // Eight half-square units of four seams, and 8.
    ("eccentric-star", 4 + 8),
    // Rows of either kind, five nine patches of them, and 8.
    ("double-nine-patch", 2 + 2 + 5 * 2 + 8),
    // Pairs, five four patches of them, four units of three leaning patches, and 8.
    ("fifty-four-forty", 1 + 5 + 4 * 2 + 8),
    // Eight small half-square units of four seams; two quarters of a large one each (2 of one go), two of four small ones; and 3.
    ("flock-of-geese", 4 + 2 + 2 * 3 + 3),
    // Whipped edges. Four rows of six hexagons and three of seven, those at the ends cut: five and six edges within a row,
    // and between two rows two for each of six hexagons.
    ("flower-garden-over-card", 4 * 5 + 3 * 6 + 6 * 6 * 2),
    // Three corners each, and 3.
    ("four-petals", 4 * 3 + 3),
    // One of two made.
    ("hourglass", 4),
    // Pairs, five four patches of them, four half-square units, and 8.
    ("jacobs-ladder", 1 + 5 + 4 + 8),
    // Two kinds of pairs, eight points of two of them, and sixteen parts joined, eight of them with a second leg.
    ("lone-star-by-strips", 1 + 1 + 8 + 15 + 8),
    // Four geese of six seams, a pinwheel of four half-square units (4 + 3), and 8.
    ("martha-washington-star", 6 + 4 + 3 + 8),
    // Four hourglasses in two goes, and 8.
    ("ohio-star", 8 + 8),
    // Two corners each, and 3.
    ("picket-fence", 4 * 2 + 3),
    // Pairs, four four patches of them, four half-square units, and 8.
    ("prairie-queen", 1 + 4 + 4 + 8),
    // Four rails sewn twice, since half of the units are pressed the other way, and 3.
    ("rail-fence-by-strips", 3 + 3 + 3),
    // A star within a star: four geese of six seams, and 8, twice.
    ("rising-star", 6 + 8 + 6 + 8),
    // Three rails sewn once, and 8.
    ("roman-square", 2 + 8),
    // Four geese of six seams, and 8.
    ("sawtooth-star", 6 + 8),
    // Eight half-square units of four seams, and 24.
    ("sisters-choice", 4 + 24),
    // Pairs for four arms round the middle.
    ("square-windmill", 1 + 4),
    // Whipped edges: between the star's points, on either side of each point, and the corners.
    ("star-of-diamonds", 6 + 6 * 2 + 4),
    // Eight half-square units of four seams, and 7.
    ("streak-of-lightning", 4 + 7),
    // Whipped edges: within eight whole blocks (three each) and those cut by the edge (2, 6, 2), upright between blocks of a
    // row (two rows of three, three of three and two halves), and between two rows two for each of three blocks.
    (
        "tumbling-blocks-over-card",
        8 * 3 + 2 + 6 + 2 + 2 * 2 + 3 * 3 + 4 * 3 * 2,
    ),
    // A seam in each of eight pairs; four in a column, twice; and 1.
    ("zigzag-ribbon", 8 + 2 * 3 + 1),
];

#[test]
fn what_is_cut_up_takes_the_seams_counted_by_hand() {
    let rows = rows();
    for (name, seams) in BY_HAND {
        let row = rows.iter().find(|row| row.name == name).unwrap();
        assert_eq!(row.planned.as_ref().unwrap().seams, seams, "{name}");
    }
}

#[test]
fn as_many_seams_as_joinings() {
    // *derived*: joining n pieces into one takes n - 1 seams, whatever the order; a pair of units of which one is left
    // over costs one more, and every turn of a set-in seam begins another leg.
    for row in rows() {
        let Ok(figures) = row.planned else { continue };
        // Where cloth already joined is cut up, one seam joins for several units: see the test below.
        if figures.methods.iter().any(|method| CUT_UP.contains(method)) {
            assert!(BY_HAND.iter().any(|(name, _)| *name == row.name), "{}", row.name);
            continue;
        }
        let text = design::collection_file(row.name).unwrap();
        let whole = Whole::of(text).unwrap();
        let makes = whole.pattern.recipe.makes;
        let spare: u32 = makes.iter().map(|make| make.spare).sum();
        // What is laid on a ground is joined by no seam.
        assert_eq!(
            figures.seams as usize,
            row.patches - whole.picture.laid.len() - 1 + spare as usize + figures.set_in as usize,
            "{}",
            row.name
        );
    }
}

#[test]
fn both_hands_of_bright_hopes() {
    // *derived*: one is the other seen in a mirror, and no turn carries one into the other.
    let outlines = |name: &str, mirror: bool| -> BTreeSet<Vec<(i64, i64)>> {
        let design = design::read_design(design::collection_file(name).unwrap()).unwrap();
        let block = &design.blocks[0];
        let at = |v: f64| (v * 1000.0).round() as i64;
        block
            .patches
            .iter()
            .map(|patch| {
                let corners = patch.outline.corners().iter();
                let x = |x: f64| if mirror { block.size.0 - x } else { x };
                let mut corners: Vec<(i64, i64)> = corners.map(|c| (at(x(c.x)), at(c.y))).collect();
                corners.sort_unstable();
                corners
            })
            .collect()
    };
    assert_eq!(outlines("bright-hopes", true), outlines("bright-hopes-mirrored", false));
    assert_ne!(
        outlines("bright-hopes", false),
        outlines("bright-hopes-mirrored", false)
    );
}

#[test]
fn the_collection_is_its_folder() {
    let folder = format!("{}/../../collection", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().file_name().to_string_lossy().into_owned())
        .filter_map(|f| f.strip_suffix(".quilt.toml").map(str::to_string))
        .collect();
    files.sort();
    let listed: Vec<&str> = design::collection().iter().map(|(name, _)| *name).collect();
    assert_eq!(files, listed);
    assert!(listed.len() >= 72);
    for (name, text) in design::collection() {
        let design = design::read_design(text).unwrap();
        assert_eq!(design.blocks.len(), 1, "{name}");
        assert!(collection::grid_and_source(&design.blocks[0]).is_some(), "{name}");
        for fabric in &design.fabrics {
            assert!(
                ["dark", "medium", "light", "accent"].contains(&fabric.name.as_str()),
                "{name}"
            );
        }
    }
}

/// A block for each way of piecing: who wants to see it made finds it in the collection. Where one name covers several ways,
/// each has its block.
const REACHED: [(&str, &[&str]); 17] = [
    (
        "plain patches",
        &["nine-patch", "rail-fence-turned", "kaleidoscope", "chevron"],
    ),
    // Rows of squares, checkerboards, rails.
    (
        "strip sets",
        &[
            "double-nine-patch",
            "checkerboard",
            "rail-fence-by-strips",
            "roman-square",
        ],
    ),
    ("angled strip sets", &["lone-star-by-strips"]),
    ("over card", &["flower-garden-over-card"]),
    ("foundation", &["crooked-fan"]),
    ("half-square pairs", &["pinwheel"]),
    ("half-squares by eights", &["sisters-choice"]),
    ("half-squares by fours", &["broken-dishes-by-fours"]),
    ("hourglass pairs", &["ohio-star"]),
    // Of one, two, three and four corners; of four that meet.
    (
        "sew-and-flip corners",
        &[
            "bow-tie",
            "picket-fence",
            "four-petals",
            "snowball",
            "square-in-a-square-flipped",
        ],
    ),
    ("goose by sew-and-flip", &["flying-geese"]),
    ("geese by fours", &["sawtooth-star"]),
    ("square in a square by triangles", &["economy-patch"]),
    ("half-rectangle pairs", &["split-rectangle"]),
    ("angled strips", &["zigzag-ribbon"]),
    ("log cabin rounds", &["log-cabin", "courthouse-steps"]),
    ("log cabin rounds, trimmed", &["log-cabin-trimmed"]),
];

#[test]
fn every_method_is_reached() {
    let rows = rows();
    let page = collection::page(&rows);
    for (method, blocks) in REACHED {
        for block in blocks {
            let row = rows.iter().find(|row| row.name == *block).unwrap();
            let methods = &row.planned.as_ref().unwrap().methods;
            assert!(methods.contains(&method), "{block}: {methods:?}");
            assert!(page.contains(&format!("`std/{block}`")), "{block}");
        }
    }
    // None that may be pinned is left out: a template is said by how it is cut, which has its own column.
    let reached: std::collections::BTreeSet<&str> = rows
        .iter()
        .filter_map(|row| row.planned.as_ref().ok())
        .flat_map(|figures| figures.methods.iter().copied())
        .collect();
    for method in piecing::method_names() {
        assert!(
            method == "template" || reached.contains(method),
            "{method}: {reached:?}"
        );
    }
}

#[test]
fn the_table_stays_what_it_is() {
    insta::assert_snapshot!("collection", collection::table(&rows()));
}

#[test]
fn the_page_is_up_to_date() {
    // Written by the example of the same name.
    let docs = format!("{}/../../docs", env!("CARGO_MANIFEST_DIR"));
    let rows = rows();
    let page = std::fs::read_to_string(format!("{docs}/collection.md")).unwrap();
    assert_eq!(page, collection::page(&rows));
    for row in &rows {
        let drawn = std::fs::read_to_string(format!("{docs}/pictures/collection/{}.svg", row.name)).unwrap();
        assert_eq!(drawn, row.drawing, "{}", row.name);
        assert!(drawn.len() < 12_000, "{} has {} bytes", row.name, drawn.len());
    }
}

#[test]
fn a_placed_block_is_the_drawn_block() {
    // The same block placed by its name and recoloured, at half its size and turned, and in a row as it is.
    let text = r##"
format = 1
[quilt]
title = "Sampler"
[[fabric]]
name = "dark"
color = "#1f3a4d"
[[fabric]]
name = "light"
color = "#f1e7d3"
[[fabric]]
name = "rust"
color = "#a9472e"
[[block]]
name = "rusty"
size = "6 in"
grid = [2, 2]
place = [
  { block = "std/pinwheel", at = [0, 0], size = [1, 1], recolor = { dark = "rust" } },
  { block = "std/sawtooth-star", at = [1, 0], size = [1, 1], recolor = { medium = "rust" } },
  { block = "std/economy-patch", at = [0, 1], size = [1, 1], recolor = { dark = "light", light = "dark", medium = "rust" } },
  { block = "std/pinwheel", at = [1, 1], size = [1, 1], turn = 90, flip = true },
]
[layout]
rows = [["std/pinwheel", "rusty"], ["rusty@90", "std/pinwheel~@180"]]
"##;
    let whole = proved(text).unwrap_or_else(|said| panic!("{said}"));
    // A maker reads the block's name, not where it comes from.
    let labels: Vec<&str> = whole.pattern.recipe.makes.iter().map(|m| m.label.as_str()).collect();
    assert!(labels.contains(&"Pinwheel block"), "{labels:?}");
    assert!(labels.iter().all(|label| !label.contains('/')), "{labels:?}");
    let area = |fabric: &str| -> f64 {
        let of = |f: &&terms::Face| f.fabric.as_str() == fabric;
        whole
            .picture
            .faces
            .iter()
            .filter(of)
            .map(|f| f.outline.signed_area())
            .sum()
    };
    // *derived*: a pinwheel is half dark; of a sawtooth star of 3 in, the corners and four geese (a quarter each of the
    // block, half of a goose sky) and the centre are a quarter each; of an economy patch of 3 in the corners are half
    // and the ring and the centre a quarter each.
    let rust = 2.0 * 9.0 * (0.5 + 0.25 + 0.25);
    let dark = 2.0 * 36.0 * 0.5 + 2.0 * 9.0 * (0.25 + 0.25 + 0.5);
    assert!((area("rust") - rust).abs() < 1.0e-6, "{}", area("rust"));
    assert!((area("dark") - dark).abs() < 1.0e-6, "{}", area("dark"));
    assert!((area("light") - (144.0 - rust - dark)).abs() < 1.0e-6);
}

/// Sections of foundation paper, counted by hand (*derived*).
const SECTIONS: [(&str, u32); 11] = [
    // From the outermost log inward each seam cuts off one log.
    ("log-cabin", 1),
    ("courthouse-steps", 1),
    ("pineapple", 1),
    // At the end where the last goose points outward its two skies come off, then the goose; and so on to the first.
    ("flying-geese", 1),
    // The handle, then blade after blade.
    ("crooked-fan", 1),
    // Two halves, each a fan of four wedges and two corners; every line right across leaves more than one patch on either side.
    ("kaleidoscope", 2),
    ("pinwheel", 2),
    // Rows of the board.
    ("nine-patch", 3),
    ("checkerboard", 4),
    // Three tiers and the trunk: the level lines alone run right across, and no row is a single patch.
    ("pine-tree", 4),
    // The rings bend at every ray, so no section reaches over one: a wedge each.
    ("spiders-web", 8),
];

#[test]
fn sections_on_paper_are_as_few_as_counted_by_hand() {
    for (name, sections) in SECTIONS {
        let text = design::collection_file(name).unwrap();
        let pinned = match text.contains("method = \"foundation\"") {
            true => text.to_string(),
            false => text.replacen("[[block]]\n", "[[block]]\nmethod = \"foundation\"\n", 1),
        };
        for by in [1.0, 1.5, 2.0] {
            let whole = proved(&resized(&pinned, by)).unwrap_or_else(|said| panic!("{name} at {by}:{said}"));
            let sheets: u32 = whole.pattern.cutting.papers.iter().map(|p| p.print).sum();
            assert_eq!(sheets, sections, "{name} at {by}");
        }
    }
}
