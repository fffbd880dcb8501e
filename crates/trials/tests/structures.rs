//! Drawings that no straight seams join: what they cost at the least, worked out by hand beside each, against what the
//! planner finds; every one proved.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::Step;
use terms::Finding;
use trials::whole::Whole;

const HEAD: &str = r##"format = 1
[quilt]
title = "Trial"
[[fabric]]
name = "a"
color = "#efe8d8"
[[fabric]]
name = "b"
color = "#1f2d4a"
"##;

fn proved(rest: &str) -> Whole {
    let whole = Whole::of(&format!("{HEAD}{rest}")).unwrap_or_else(|f| panic!("{f:#?}"));
    if let Err(findings) = whole.rehearse() {
        panic!(
            "{}",
            findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
        );
    }
    whole
}

/// One block of these patches, alone.
fn block(width: f64, height: f64, patches: &[(&str, Vec<(f64, f64)>)]) -> String {
    let mut text =
        format!("[[block]]\nname = \"b\"\nsize = [{width}, {height}]\ngrid = [{width}, {height}]\npatches = [\n");
    for (fabric, corners) in patches {
        let path: Vec<String> = corners.iter().map(|(x, y)| format!("{x} {y}")).collect();
        text += &format!("  {{ fabric = \"{fabric}\", path = \"M{} Z\" }},\n", path.join(" L"));
    }
    text + "]\n[layout]\nkind = \"straight\"\nrows = [[\"b\"]]\n"
}

fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<(f64, f64)> {
    vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
}

/// Turns of set-in seams and seams closed in two goes, over all makings as often as they are done.
fn awkward(whole: &Whole) -> (u64, u64) {
    let count = |wanted: fn(&Step) -> bool| {
        let makes = &whole.pattern.recipe.makes;
        makes
            .iter()
            .map(|m| u64::from(m.times) * m.steps.iter().filter(|s| wanted(s)).count() as u64)
            .sum()
    };
    (
        count(|s| matches!(s, Step::Pivot { .. })),
        count(|s| matches!(s, Step::Close { .. })),
    )
}

fn codes(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|f| f.code).collect()
}

#[test]
fn a_windmill_of_either_hand_has_one_seam_closed_in_two_goes() {
    // By hand: none of the four lines crosses the square, so plain seams do not join it; one seam begun does.
    let right = [
        ("a", rectangle(0.0, 0.0, 4.0, 2.0)),
        ("b", rectangle(4.0, 0.0, 2.0, 4.0)),
        ("a", rectangle(2.0, 4.0, 4.0, 2.0)),
        ("b", rectangle(0.0, 2.0, 2.0, 4.0)),
        ("a", rectangle(2.0, 2.0, 2.0, 2.0)),
    ];
    let left: Vec<(&str, Vec<(f64, f64)>)> = right
        .iter()
        .map(|(f, p)| (*f, p.iter().map(|&(x, y)| (6.0 - x, y)).rev().collect()))
        .collect();
    for patches in [&right[..], &left[..]] {
        assert_eq!(awkward(&proved(&block(6.0, 6.0, patches))), (0, 1));
    }
}

#[test]
fn a_windmill_of_three_blades_round_a_triangle() {
    // Blades through (3, 2), (7, 3), (4, 6) chasing one another to the sides of a 9 in square; by hand one seam begun.
    // The lines: from (3, 2) on to (7, 3) and (11, 4) ... each starts at a side and ends on the next.
    let (p, q, r) = ((3.0, 3.0), (6.0, 3.0), (3.0, 6.0));
    let patches = [
        ("a", vec![p, q, r]),
        // Below the lower blade, which comes from the left side.
        ("b", vec![(0.0, 0.0), (9.0, 0.0), q, (0.0, 3.0)]),
        // Right of the leaning blade, which comes from the lower right corner.
        ("a", vec![(9.0, 0.0), (9.0, 9.0), (3.0, 9.0), r, q]),
        ("b", vec![(0.0, 3.0), p, (3.0, 9.0), (0.0, 9.0)]),
    ];
    // The leaning blade runs from (9, 0) through (6, 3) to (3, 6), the upright one from (3, 9) down to (3, 3).
    assert_eq!(awkward(&proved(&block(9.0, 9.0, &patches))), (0, 1));
}

#[test]
fn a_square_set_into_a_mitred_corner_turns_once() {
    // By hand: three patches meet at (2, 4) and no seam crosses the block, so one turn is needed and is enough.
    let patches = [
        ("a", rectangle(2.0, 0.0, 4.0, 4.0)),
        ("b", vec![(0.0, 0.0), (2.0, 0.0), (2.0, 4.0), (0.0, 6.0)]),
        ("a", vec![(0.0, 6.0), (2.0, 4.0), (6.0, 4.0), (6.0, 6.0)]),
    ];
    assert_eq!(awkward(&proved(&block(6.0, 6.0, &patches))), (1, 0));
}

#[test]
fn an_eight_pointed_star_turns_once_at_each_of_its_eight_hollows() {
    // By hand: at each of the eight hollows between two points three patches meet and no line goes straight on: a turn at
    // each. Eight are enough: pairs, each with its set-in patch, and straight seams through the middle.
    let n = 12.0;
    let a = n / (2.0 + 2.0f64.sqrt());
    let (c, m) = (n / 2.0, n - a);
    let h = a / 2.0f64.sqrt();
    let tips = [(a, 0.0), (m, 0.0), (n, a), (n, m), (m, n), (a, n), (0.0, m), (0.0, a)];
    let hollows = [(c, h), (m, a), (n - h, c), (m, m), (c, n - h), (a, m), (h, c), (a, a)];
    let mut patches = Vec::new();
    for i in 0..8 {
        let cloth = if i % 2 == 0 { "a" } else { "b" };
        patches.push((cloth, vec![(c, c), hollows[(i + 7) % 8], tips[i], hollows[i]]));
    }
    for i in [0, 2, 4, 6] {
        patches.push(("a", vec![tips[i], tips[i + 1], hollows[i]]));
    }
    for (i, corner) in [(1, (n, 0.0)), (3, (n, n)), (5, (0.0, n)), (7, (0.0, 0.0))] {
        patches.push(("a", vec![tips[i], corner, tips[(i + 1) % 8], hollows[i]]));
    }
    assert_eq!(awkward(&proved(&block(n, n, &patches))), (8, 0));
}

#[test]
fn three_rhombs_of_a_cube_turn_once() {
    // By hand: they meet in one point at 120 degrees each; the four corner triangles are sewn on plainly.
    let r: f64 = 4.0;
    let w = r * 3.0f64.sqrt();
    let hexagon = [
        (w / 2.0, 0.0),
        (w, r / 2.0),
        (w, 1.5 * r),
        (w / 2.0, 2.0 * r),
        (0.0, 1.5 * r),
        (0.0, r / 2.0),
    ];
    let o = (w / 2.0, r);
    let patches = [
        ("a", vec![hexagon[5], hexagon[0], hexagon[1], o]),
        ("b", vec![hexagon[1], hexagon[2], hexagon[3], o]),
        ("a", vec![hexagon[5], o, hexagon[3], hexagon[4]]),
        ("b", vec![(0.0, 0.0), hexagon[0], hexagon[5]]),
        ("b", vec![hexagon[0], (w, 0.0), hexagon[1]]),
        ("b", vec![hexagon[2], (w, 2.0 * r), hexagon[3]]),
        ("b", vec![hexagon[4], hexagon[3], (0.0, 2.0 * r)]),
    ];
    assert_eq!(awkward(&proved(&block(w, 2.0 * r, &patches))), (1, 0));
}

/// Four blocks of two squares about a fifth, as a windmill: drawn whole, no seam runs through.
fn windmill_of_blocks(split: &str) -> String {
    format!(
        r#"
[[block]]
name = "pair"
size = ["12 in", "6 in"]
grid = [2, 1]
{split}
patches = [
  {{ fabric = "a", path = "M0 0 H1 V1 H0 Z" }},
  {{ fabric = "b", path = "M1 0 H2 V1 H1 Z" }},
]
[[block]]
name = "heart"
size = 6
patches = [{{ fabric = "b", path = "M0 0 H1 V1 H0 Z" }}]
[layout]
kind = "free"
size = ["18 in", "18 in"]
place = [
  {{ block = "pair", at = [0, 0], size = [12, 6] }},
  {{ block = "pair", at = [12, 0], size = [6, 12], turn = 90 }},
  {{ block = "pair", at = [6, 12], size = [12, 6], turn = 180 }},
  {{ block = "pair", at = [0, 6], size = [6, 12], turn = 270 }},
  {{ block = "heart", at = [6, 6], size = [6, 6] }},
]
"#
    )
}

#[test]
fn the_fewest_blocks_are_made_apart() {
    let whole = proved(&windmill_of_blocks(""));
    // By hand: opening the first block along its middle seam lets the line beside it run from edge to edge; then the
    // rest is two columns. None is too few.
    assert_eq!(
        codes(&whole.findings).iter().filter(|c| **c == "block-in-two").count(),
        1
    );
    assert_eq!(awkward(&whole), (0, 0));
    // Where no block may be opened, one seam is closed in two goes.
    let never = proved(&windmill_of_blocks("split = \"never\""));
    assert!(!codes(&never.findings).contains(&"block-in-two"));
    assert_eq!(awkward(&never), (0, 1));
}

#[test]
fn two_windmills_side_by_side_need_a_block_opened_each() {
    // By hand: the two are apart along the line between them, and each needs one block in two (as above).
    let one = windmill_of_blocks("");
    let places: Vec<&str> = one.lines().filter(|l| l.trim_start().starts_with("{ block")).collect();
    let twin = places
        .join("\n")
        .replace("at = [12,", "at = [30,")
        .replace("at = [6,", "at = [24,");
    let twin = twin.replace("at = [0,", "at = [18,");
    let two = one
        .replace("size = [\"18 in\", \"18 in\"]", "size = [\"36 in\", \"18 in\"]")
        .replace("place = [", &format!("place = [\n{twin}"));
    let whole = proved(&two);
    let opened = codes(&whole.findings).iter().filter(|c| **c == "block-in-two").count();
    assert_eq!((opened, awkward(&whole)), (2, (0, 0)));
}

#[test]
fn a_windmill_of_blocks_of_the_other_hand_opens_one_too() {
    // By hand: the mirror image of the layout above, so the same answers.
    let mirrored = windmill_of_blocks("")
        .replace("at = [0, 0], size = [12, 6]", "at = [6, 0], size = [12, 6]")
        .replace("at = [12, 0], size = [6, 12]", "at = [0, 0], size = [6, 12]")
        .replace("at = [6, 12], size = [12, 6]", "at = [0, 12], size = [12, 6]")
        .replace("at = [0, 6], size = [6, 12]", "at = [12, 6], size = [6, 12]");
    let whole = proved(&mirrored);
    let opened = codes(&whole.findings).iter().filter(|c| **c == "block-in-two").count();
    assert_eq!((opened, awkward(&whole)), (1, (0, 0)));
}

#[test]
fn a_windmill_of_blocks_with_nothing_to_open_has_one_seam_closed_in_two_goes() {
    // By hand: each arm is one patch, so no block can be two, and one seam begun is enough.
    let plain = windmill_of_blocks("").replace(
        "  { fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" },\n  { fabric = \"b\", path = \"M1 0 H2 V1 H1 Z\" },\n",
        "  { fabric = \"a\", path = \"M0 0 H2 V1 H0 Z\" },\n",
    );
    let whole = proved(&plain);
    assert!(!codes(&whole.findings).contains(&"block-in-two"));
    assert_eq!(awkward(&whole), (0, 1));
}

#[test]
fn arms_joined_elsewhere_than_at_the_windmills_line_do_not_help() {
    // By hand: the arms' own seams lie 8 in along, not 6, where the lines beside them would go on; opened, they stop no
    // line less than whole. One seam in two goes, as where nothing is opened.
    let off = windmill_of_blocks("")
        .replace("grid = [2, 1]", "grid = [3, 1]")
        .replace(
            "  { fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" },\n  { fabric = \"b\", path = \"M1 0 H2 V1 H1 Z\" },\n",
            "  { fabric = \"a\", path = \"M0 0 H2 V1 H0 Z\" },\n  { fabric = \"b\", path = \"M2 0 H3 V1 H2 Z\" },\n",
        );
    let whole = proved(&off);
    assert_eq!(awkward(&whole), (0, 1));
}

#[test]
fn a_windmill_within_a_windmill_opens_one_block_of_each() {
    // By hand: the inner layout fills the middle of a larger one of its own kind. Opening an arm of the larger lets two columns come
    // apart, but its middle is still a windmill; opening one of its arms mends that. One alone leaves the other trapped.
    let inner = windmill_of_blocks("");
    let places: String = inner
        .lines()
        .filter(|l| l.trim_start().starts_with("{ block"))
        .map(|l| {
            let (before, after) = l.split_once("at = [").unwrap();
            let (at, rest) = after.split_once(']').unwrap();
            let (x, y) = at.split_once(", ").unwrap();
            let moved = |v: &str| v.parse::<u32>().unwrap() + 18;
            format!("{before}at = [{}, {}]{rest}\n", moved(x), moved(y))
        })
        .collect();
    let arms = "
  { block = \"arm\", at = [0, 0], size = [36, 18] },
  { block = \"arm\", at = [36, 0], size = [18, 36], turn = 90 },
  { block = \"arm\", at = [18, 36], size = [36, 18], turn = 180 },
  { block = \"arm\", at = [0, 18], size = [18, 36], turn = 270 },
";
    let blocks = inner.split("[layout]").next().unwrap();
    let arm = "[[block]]
name = \"arm\"
size = [\"36 in\", \"18 in\"]
grid = [2, 1]
patches = [
  { fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" },
  { fabric = \"b\", path = \"M1 0 H2 V1 H1 Z\" },
]
";
    let whole = proved(&format!(
        "{blocks}{arm}[layout]\nkind = \"free\"\nsize = [\"54 in\", \"54 in\"]\nplace = [{arms}{places}]\n"
    ));
    let opened = codes(&whole.findings).iter().filter(|c| **c == "block-in-two").count();
    assert_eq!((opened, awkward(&whole)), (2, (0, 0)));
}

/// A top of 12 x 12 in with two mitred borders, 2 in and 1 in.
fn mitred(more: &str) -> String {
    let square = block(
        12.0,
        12.0,
        &[("a", vec![(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (0.0, 12.0)])],
    );
    format!(
        "{square}[[border]]\nwidth = 2\nfabric = \"b\"\ncorners = \"mitred\"\n{more}\
         [[border]]\nwidth = 1\nfabric = \"a\"\ncorners = \"mitred\"\n{more}"
    )
}

#[test]
fn mitred_borders_are_set_in_at_four_corners_across_the_cloth_and_along_it() {
    for (more, along) in [("", false), ("grain = \"length\"\n", true)] {
        let whole = proved(&mitred(more));
        let mut long: Vec<f64> = Vec::new();
        for strip in whole.pattern.cutting.cloths.iter().flat_map(|cloth| &cloth.strips) {
            let height = strip.height.len.to_inches();
            long.push(height);
        }
        // Along the cloth a strip is as high as the border is long, as cut: the outer side of 18, and 2 in more at least (*common
        // practice*): what the points need, 2 s (1 + √2) = 1.207, and what is trimmed once it is measured, up to the mark.
        let longest = long.iter().copied().fold(0.0, f64::max);
        assert_eq!((20.0..20.25).contains(&longest), along, "{long:?}");
        // Four corners, each one turn round a dot or a seam that stops in one (by hand: the pairs of borders are sewn first).
        let turns = whole.findings.iter().find(|f| f.code == "set-in-seam").unwrap();
        assert!(turns.sentence.contains("4 turns"), "{turns}");
    }
}

#[test]
fn a_mitred_border_goes_round_a_quilt_of_any_number_of_blocks() {
    // By hand: 12 x 12 blocks sashed are 144 blocks, 264 strips and 121 stones, none of which matters to the corners: as round a single
    // square, the borders of a side are sewn to one another first and set in together, with one turn at each corner.
    let row = format!("[{}],\n", ["\"q\""; 12].join(", "));
    let whole = proved(&format!(
        "[[block]]\nname = \"q\"\nsize = 2\npatches = [{{ fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" }}]\n\
         [layout]\nrows = [\n{}]\nsashing = {{ width = 1, fabric = \"b\", cornerstones = \"a\" }}\n\
         [[border]]\nwidth = 2\nfabric = \"a\"\ncorners = \"mitred\"\n[[border]]\nwidth = 1\nfabric = \"b\"\ncorners = \"mitred\"\n",
        row.repeat(12)
    ));
    let turns = whole.findings.iter().find(|f| f.code == "set-in-seam").unwrap();
    assert!(turns.sentence.contains("4 turns"), "{turns}");
}

/// How long the strips of mitred borders are as cut, seams of joins taken off.
fn mitred_strips(text: &str) -> Vec<f64> {
    let design = design::read_design(&format!("{HEAD}{text}")).unwrap();
    let draft = drafting::draft(&design).unwrap();
    let makes = &draft.pattern.recipe.makes;
    let outer = makes.iter().filter(|make| make.label == "Mitred strip");
    let cut = |take: &recipe::Take| {
        let recipe::Take::Piece(piece) = take else { return 0.0 };
        match &draft.demands.iter().find(|d| &d.piece == piece).unwrap().shape {
            recipe::DemandShape::Rectangle { width, height } | recipe::DemandShape::Shaped { width, height, .. } => {
                width.len.max(height.len).to_inches()
            }
            other => panic!("{other:?}"),
        }
    };
    outer
        .map(|make| make.parts.iter().map(|part| cut(&part.take)).sum::<f64>() - 0.5 * (make.parts.len() - 1) as f64)
        .collect()
}

#[test]
fn a_mitred_border_longer_than_the_cloth_is_wide_is_joined() {
    // Outer sides of 40 and 42 in do not fit 40 in with their points. *Common practice*: cut side + 2 × width + 2 in at least.
    let text = mitred("").replace("size = [12, 12]", "size = [36, 36]");
    let whole = proved(&text);
    assert!(whole.methods.contains(&"mitred strip"));
    let mut long = mitred_strips(&text);
    long.sort_by(f64::total_cmp);
    assert_eq!(long.len(), 2);
    for (cut, outer) in long.into_iter().zip([40.0, 42.0]) {
        assert!((outer + 2.0..outer + 2.25).contains(&cut), "{cut} for {outer}");
    }
    // Asked to be along the cloth, each is one piece.
    let whole = proved(&text.replace("corners = \"mitred\"\n", "corners = \"mitred\"\ngrain = \"length\"\n"));
    let strips = whole.pattern.cutting.cloths.iter().flat_map(|cloth| &cloth.strips);
    let longest = strips.map(|strip| strip.height.len.to_inches()).fold(0.0, f64::max);
    assert!((44.0..44.25).contains(&longest), "{longest}");
}

#[test]
fn mitred_borders_need_no_template_whatever_they_go_round() {
    // A row of three blocks of 12 in on point is 36 √2 = 50.91 in long and 12 √2 = 16.97 in high (derived): no ruler shows
    // either. Nor, at 0.83 of the size, a width.
    let blocks = "[[block]]\nname = \"q\"\nsize = 12\npatches = [{ fabric = \"a\", path = \"M0 0 H1 V1 H0 Z\" }]\n";
    let layout = |sashing: &str| {
        format!(
            "{blocks}[layout]\nkind = \"on-point\"\nfill = \"b\"\nrows = [[\"q\", \"q\"], [\"q\"], [\"q\", \"q\"]]\n{sashing}\
             [[border]]\nwidth = 2\nfabric = \"b\"\ncorners = \"mitred\"\n\
             [[border]]\nwidth = 4\nfabric = \"a\"\ncorners = \"mitred\"\n"
        )
    };
    for sashing in [
        "",
        "sashing = { width = 1, fabric = \"b\" }\n",
        "sashing = { width = 1, fabric = \"b\", cornerstones = \"a\" }\n",
        "float = \"1 in\"\nsashing = { width = 1, fabric = \"b\", outer = true }\n",
    ] {
        let text = layout(sashing);
        let whole = proved(&text);
        assert!(whole.pattern.cutting.templates.is_empty(), "{sashing}");
        let long = mitred_strips(&text);
        assert!(!long.is_empty());
        let (low, high) = whole.picture.outer.bounds();
        let side = (high.x - low.x).max(high.y - low.y);
        let longest = long.iter().copied().fold(0.0, f64::max);
        assert!((side + 2.0..side + 2.25).contains(&longest), "{longest} for {side}");
    }
    let whole = proved(&format!(
        "{}[[size]]\nname = \"small\"\nscale = 0.83\ndefault = true\n",
        layout("")
    ));
    assert!(whole.pattern.cutting.templates.is_empty());
    assert!(whole.methods.contains(&"mitred strip"));
}
