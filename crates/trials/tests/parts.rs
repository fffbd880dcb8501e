//! Parts: their sum is the whole, piece by piece and making by making; each is cut from its own cloth, sewn in order and proved.

use design::{Design, Part};
use drafting::{Draft, Parts, draft};
use rehearse::{Issued, rehearse_in_parts};
use std::collections::BTreeMap;
use terms::Finding;
use trials::generate::Wanted;

fn part(name: &str, blocks: &[(&String, u32)], also: &[&str]) -> Part {
    Part {
        name: name.to_string(),
        blocks: blocks.iter().map(|(name, count)| ((*name).clone(), *count)).collect(),
        all: false,
        also: also.iter().map(|word| (*word).to_string()).collect(),
        date: String::new(),
    }
}

/// Ways of dividing a design: one block of each kind first; each kind in a part of its own; nothing named but the end.
fn divisions(design: &Design) -> Vec<Vec<Part>> {
    let placed = design.placed_blocks();
    let one: Vec<_> = placed.keys().map(|name| (name, 1)).collect();
    let mut each: Vec<Part> = placed.keys().map(|name| part(name, &[(name, u32::MAX)], &[])).collect();
    each.push(part("The top", &[], &["sashing", "setting", "borders"]));
    each.push(part("Finishing", &[], &["finish"]));
    let half: Vec<_> = placed.iter().map(|(name, count)| (name, count.div_ceil(2))).collect();
    vec![
        vec![part("One of each", &one, &[])],
        each,
        vec![
            part("First half", &half, &[]),
            Part {
                all: true,
                ..part("The rest", &[], &["setting"])
            },
        ],
        // What joins the blocks is cut in the first month, and is sewn in the last.
        vec![
            part("One of each, and strips", &one, &["sashing", "borders"]),
            part("Ground", &[], &["setting", "sashing"]),
        ],
    ]
}

/// The parts sum to the whole, and are proved in order.
fn judged(name: &str, design: &Design, worked: &Draft) -> Parts {
    let parts = worked.parts(design);
    let mut times: BTreeMap<&str, u64> = BTreeMap::new();
    let mut pieces: BTreeMap<&str, u64> = BTreeMap::new();
    let mut bands = 0;
    for part in &parts.list {
        for make in &part.pattern.recipe.makes {
            *times.entry(make.unit.as_str()).or_default() += u64::from(make.times);
        }
        for demand in &part.demands {
            *pieces.entry(demand.piece.as_str()).or_default() += u64::from(demand.count);
        }
        bands += part.finishing.bands.len();
    }
    let whole = &worked.pattern.recipe;
    for make in &whole.makes {
        assert_eq!(
            times.get(make.unit.as_str()),
            Some(&u64::from(make.times)),
            "{name}: {}",
            make.unit
        );
    }
    for demand in &worked.demands {
        let sum = pieces.get(demand.piece.as_str()).copied().unwrap_or(0);
        assert_eq!(sum, u64::from(demand.count), "{name}: piece {}", demand.piece);
    }
    assert_eq!(
        pieces.len(),
        worked.demands.iter().filter(|d| d.count > 0).count(),
        "{name}"
    );
    assert_eq!(bands, worked.finishing.bands.len(), "{name}");
    assert_eq!(parts.list.iter().filter(|part| part.sews_the_top).count(), 1, "{name}");
    // Nothing waits for ever: when the top is sewn, nothing that a part made is left for a later one.
    assert!(parts.list.last().is_some_and(|part| part.kept.is_empty()), "{name}");
    for (i, part) in parts.list.iter().enumerate() {
        for (unit, count) in &part.from_before {
            let made: u64 = parts.list[..i]
                .iter()
                .flat_map(|part| &part.pattern.recipe.makes)
                .filter(|make| make.unit == *unit)
                .map(|make| u64::from(make.times) * make.gives.len() as u64)
                .sum();
            assert!(*count <= made, "{name}: {unit}");
        }
    }
    let stops: Vec<&Finding> = parts.findings.iter().filter(|finding| finding.is_stop()).collect();
    assert!(stops.is_empty(), "{name}: {stops:?}");
    let issued = issued(&parts);
    let proof = rehearse_in_parts(&issued, &worked.picture)
        .unwrap_or_else(|findings| panic!("{name}: {} of {}", findings[0], findings.len()));
    assert!(proof.largest_difference <= 1.0 / 64.0, "{name}");
    parts
}

fn issued(parts: &Parts) -> Vec<Issued<'_>> {
    parts
        .list
        .iter()
        .map(|part| Issued {
            name: &part.name,
            recipe: &part.pattern.recipe,
            plan: &part.pattern.cutting,
            bought: &part.pattern.bought,
            ahead: &part.cut_ahead,
        })
        .collect()
}

fn divided(name: &str, design: &Design) -> usize {
    let Ok(worked) = draft(design) else { return 0 };
    if worked.findings.iter().any(Finding::is_stop) {
        return 0;
    }
    let mut judged_parts = 0;
    for (i, division) in divisions(design).into_iter().enumerate() {
        let mut design = design.clone();
        design.parts = division;
        judged_parts += judged(&format!("{name}, division {i}"), &design, &worked).list.len();
    }
    judged_parts
}

#[test]
fn parts_of_every_example_are_the_whole_and_proved() {
    let folder = format!("{}/../../examples", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .expect("the examples are there")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.to_string_lossy().ends_with(".quilt.toml"))
        .collect();
    files.sort();
    assert!(files.len() >= 5);
    for file in files {
        let text = std::fs::read_to_string(&file).expect("an example can be read");
        let design = design::read_design(&text).expect("an example is a design");
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        assert!(divided(&name, &design) >= 6, "{name}");
    }
}

#[test]
fn parts_of_generated_designs_are_the_whole_and_proved() {
    let mut parts = 0;
    for seed in 0..60 {
        let text = Wanted::any(seed).design();
        let design = design::read_design(&text).expect("a generated design is one");
        parts += divided(&format!("seed {seed}"), &design);
    }
    println!("{parts} parts");
    assert!(parts > 300);
}

/// Four blocks of one four-patch each and four of two triangles, in rows; asked for in three parts.
const SMALL: &str = r##"
format = 1
[quilt]
title = "Two kinds"
[[fabric]]
name = "dark"
color = "#222222"
[[fabric]]
name = "light"
color = "#dddddd"
[[block]]
name = "four"
size = "6 in"
grid = [2, 2]
patches = [
  { fabric = "dark", path = "M0 0 h1 v1 h-1 Z" }, { fabric = "light", path = "M1 0 h1 v1 h-1 Z" },
  { fabric = "light", path = "M0 1 h1 v1 h-1 Z" }, { fabric = "dark", path = "M1 1 h1 v1 h-1 Z" },
]
[[block]]
name = "half"
size = "6 in"
grid = [1, 1]
patches = [ { fabric = "dark", path = "M0 0 H1 L0 1 Z" }, { fabric = "light", path = "M1 0 V1 H0 Z" } ]
[layout]
kind = "straight"
rows = [["four", "half", "four"], ["half", "four", "half"], ["four", "half", "four"]]
[finish]
binding = { fabric = "dark" }
[[part]]
name = "Four-patches"
blocks = { four = 2 }
[[part]]
name = "Triangles"
blocks = { half = 3, four = 1 }
[[part]]
name = "Last"
blocks = "all"
also = ["setting", "borders", "finish"]
"##;

#[test]
fn a_part_hands_out_what_it_names_and_the_rest_is_kept() {
    let design = design::read_design(SMALL).expect("a design");
    let worked = draft(&design).expect("a plan");
    let parts = judged("small", &design, &worked);
    assert_eq!(parts.findings, []);
    let counts: Vec<Vec<(&str, u64)>> = parts
        .list
        .iter()
        .map(|part| {
            part.blocks
                .iter()
                .map(|(name, count)| (name.as_str(), *count))
                .collect()
        })
        .collect();
    // Five of one and four of the other are placed (counted by hand in the rows above).
    assert_eq!(
        counts,
        [
            vec![("four", 2)],
            vec![("four", 1), ("half", 3)],
            vec![("four", 2), ("half", 1)]
        ]
    );
    assert_eq!(
        parts.list.iter().map(|part| part.sews_the_top).collect::<Vec<_>>(),
        [false, false, true]
    );
    assert!(parts.list[2].finishes && parts.list[2].finishing.binding.is_some());
    // A single four-patch takes four pieces, whatever makes many at once (counted on the drawing).
    let first = &parts.list[0].first;
    assert_eq!(first.len(), 1);
    assert_eq!(first[0].block, "four");
    assert!(!first[0].bought.cloths.is_empty());
}

#[test]
fn strips_are_cut_in_the_part_that_names_them_and_sewn_with_the_top() {
    let text = SMALL
        .replace(
            "rows = [[",
            "sashing = { width = 1, fabric = \"light\", cornerstones = \"dark\" }\nrows = [[",
        )
        .replace("blocks = { four = 2 }", "blocks = { four = 2 }\nalso = [\"sashing\"]");
    let design = design::read_design(&text).expect("a design");
    let worked = draft(&design).expect("a plan");
    let parts = judged("strips first", &design, &worked);
    let said: Vec<&str> = parts.findings.iter().map(|finding| finding.code).collect();
    assert_eq!(said, ["part-sewn-later"]);
    // Between three blocks in three rows lie 6 strips upright and 6 across, and 4 squares at their crossings (counted by hand).
    let ahead: Vec<u64> = parts.list[0].cut_ahead.iter().map(|(_, count)| *count).collect();
    assert_eq!(ahead.iter().sum::<u64>(), 16);
    assert_eq!(parts.list[0].cut_ahead, parts.list[2].cut_before);
    assert!(parts.list[1].cut_ahead.is_empty() && parts.list[1].cut_before.is_empty());
    for (piece, _) in &parts.list[0].cut_ahead {
        assert!(parts.list[0].demands.iter().any(|demand| &demand.piece == piece));
        assert!(!parts.list[2].demands.iter().any(|demand| &demand.piece == piece));
    }
    // Said otherwise than it is cut, it is refused: one more or fewer set aside, or none.
    let refused = |alter: &dyn Fn(&mut Parts)| {
        let mut altered = parts.clone();
        alter(&mut altered);
        rehearse_in_parts(&issued(&altered), &worked.picture).expect_err("refused")[0].code
    };
    assert_eq!(
        refused(&|parts| parts.list[0].cut_ahead[0].1 += 1),
        "part-count-differs"
    );
    assert_eq!(
        refused(&|parts| parts.list[0].cut_ahead[0].1 -= 1),
        "part-count-differs"
    );
    assert_eq!(refused(&|parts| parts.list[0].cut_ahead.clear()), "part-count-differs");
}

#[test]
fn asking_too_much_is_told_with_figures() {
    let text = SMALL.replace("blocks = { four = 2 }", "blocks = { four = 9 }");
    let design = design::read_design(&text).expect("a design");
    let worked = draft(&design).expect("a plan");
    let parts = judged("too many", &design, &worked);
    let said: Vec<&str> = parts.findings.iter().map(|finding| finding.code).collect();
    assert_eq!(said, ["part-too-many", "part-too-many"]);
    assert!(
        parts.findings[0]
            .sentence
            .contains("hands out 9 of block four, but 5 of 5"),
        "{}",
        parts.findings[0]
    );
}

#[test]
fn altered_parts_are_refused() {
    let design = design::read_design(SMALL).expect("a design");
    let worked = draft(&design).expect("a plan");
    let parts = worked.parts(&design);
    let refused = |alter: &dyn Fn(&mut Parts)| {
        let mut altered = parts.clone();
        alter(&mut altered);
        rehearse_in_parts(&issued(&altered), &worked.picture).expect_err("refused")[0].code
    };
    assert!(rehearse_in_parts(&issued(&parts), &worked.picture).is_ok());
    // The order of parts turned round: the top would be sewn of blocks not made yet.
    assert_eq!(refused(&|parts| parts.list.reverse()), "part-short");
    // A part's cloth too short, though the others have more than enough.
    let short = |parts: &mut Parts| {
        parts.list[0].pattern.bought.cloths[0].length.len = measure::Length::fraction(1, 1);
        parts.list[2].pattern.bought.cloths[0].length.len = measure::Length::fraction(90, 1);
    };
    assert_eq!(refused(&short), "cloth-short");
    // A piece moved from one part to another: each is then off, the sum is not.
    let moved = |parts: &mut Parts| {
        parts.list[0].pattern.recipe.makes[0].times += 1;
        parts.list[1].pattern.recipe.makes[0].times -= 1;
    };
    assert_eq!(refused(&moved), "part-count-differs");
}
