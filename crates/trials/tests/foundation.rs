//! Foundation paper, planned and sewn: sections counted by hand, cut sizes in closed form, and every piece laid as far off as the
//! margin allows.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use measure::Length;
use recipe::{AlongLine, Gives, Lay, Pattern, Size, Step};
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

type Patch = (&'static str, Vec<(f64, f64)>);

fn text(head: &str, width: f64, height: f64, patches: &[Patch]) -> String {
    let mut text = format!(
        "{head}[[block]]\nname = \"b\"\nmethod = \"foundation\"\nsize = [{width}, {height}]\ngrid = [{width}, {height}]\npatches = [\n"
    );
    for (fabric, corners) in patches {
        let path: Vec<String> = corners.iter().map(|(x, y)| format!("{x} {y}")).collect();
        text += &format!("  {{ fabric = \"{fabric}\", path = \"M{} Z\" }},\n", path.join(" L"));
    }
    text + "]\n[layout]\nkind = \"straight\"\nrows = [[\"b\"]]\n"
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

fn block(width: f64, height: f64, patches: &[Patch]) -> Whole {
    proved(&text(HEAD, width, height, patches))
}

/// Sheets printed.
fn sheets(whole: &Whole) -> u32 {
    whole.pattern.cutting.papers.iter().map(|p| p.print).sum()
}

fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<(f64, f64)> {
    vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
}

fn checkerboard(columns: usize, rows: usize) -> Vec<Patch> {
    let fabric = |i: usize, j: usize| if (i + j).is_multiple_of(2) { "a" } else { "b" };
    (0..rows)
        .flat_map(|j| (0..columns).map(move |i| (fabric(i, j), rectangle(i as f64, j as f64, 1.0, 1.0))))
        .collect()
}

fn said(findings: &[Finding], code: &str) -> Option<String> {
    findings.iter().find(|f| f.code == code).map(|f| f.sentence.clone())
}

#[test]
fn a_checkerboard_takes_as_many_sections_as_its_shorter_side_has_patches() {
    // *Derived*: in a board of at least 2 x 2 no straight seam cuts off a single patch, so it is no section; a seam across parts it
    // into two narrower boards, and by induction f(m, n) = min(m, n): f(m1, n) + f(m2, n) >= min(m1, n) + min(m2, n) >= min(m1 + m2, n).
    for (columns, rows) in [(2, 2), (3, 3), (4, 4), (3, 5), (5, 2), (6, 6)] {
        let whole = block(columns as f64, rows as f64, &checkerboard(columns, rows));
        let fewest = columns.min(rows);
        assert_eq!(sheets(&whole) as usize, fewest, "{columns} x {rows}");
        let told = said(&whole.findings, "paper-sections").unwrap();
        assert!(told.contains(&format!("is {fewest} sections; no way")), "{told}");
        // Rows of one length are alike up to their cloth and turning.
        assert!(whole.pattern.cutting.papers.len() <= 2);
    }
}

#[test]
fn a_single_row_is_one_section() {
    let whole = block(5.0, 1.0, &checkerboard(5, 1));
    assert_eq!(sheets(&whole), 1);
    assert_eq!(
        said(&whole.findings, "paper-sections").unwrap(),
        "This block is sewn on paper as one section."
    );
}

fn square_in_a_square() -> Vec<Patch> {
    vec![
        ("a", vec![(2.0, 0.0), (4.0, 2.0), (2.0, 4.0), (0.0, 2.0)]),
        ("b", vec![(0.0, 0.0), (2.0, 0.0), (0.0, 2.0)]),
        ("b", vec![(2.0, 0.0), (4.0, 0.0), (4.0, 2.0)]),
        ("b", vec![(4.0, 2.0), (4.0, 4.0), (2.0, 4.0)]),
        ("b", vec![(0.0, 2.0), (2.0, 4.0), (0.0, 4.0)]),
    ]
}

/// Cut sizes of the rectangles and of the squares that are halved.
fn cut_sizes(pattern: &Pattern) -> Vec<(String, f64, f64)> {
    let mut sizes = Vec::new();
    for strip in pattern.cutting.cloths.iter().flat_map(|c| &c.strips) {
        let all = std::iter::once(strip).chain(&strip.rest);
        for (height, cut) in all.flat_map(|s| s.runs.iter().flat_map(|r| r.cuts.iter().map(|c| (s.height, c)))) {
            let name = match &cut.gives {
                Gives::Halves { .. } => "halves".to_string(),
                Gives::Piece(piece) => piece.piece.0.clone(),
                other => panic!("{other:?}"),
            };
            sizes.push((name, cut.lower.inches(), height.inches()));
        }
    }
    sizes
}

#[test]
fn a_square_in_a_square_is_one_section_of_sizes_in_closed_form() {
    let whole = block(4.0, 4.0, &square_in_a_square());
    assert_eq!(sheets(&whole), 1);
    let sizes = cut_sizes(&whole.pattern);
    // *Derived*, with seam s = margin m = 1/4: the middle square's side 2√2 + 2s + 2m = 3.828, up to 3 7/8; the squares to be
    // halved 2 + (2 + √2)s + 2m = 3.354, up to 3 3/8, and a mark more, since the place of its end along the line, 0.957 beyond its
    // start, lies on a mark only at 1 in; each good for two corners.
    let s = 0.25;
    let middle = ((8.0f64.sqrt() + 4.0 * s) * 8.0).ceil() / 8.0;
    let corner = ((2.0 + (2.0 + 2.0f64.sqrt()) * s + 2.0 * s) * 8.0).ceil() / 8.0 + 0.125;
    assert!(
        sizes
            .iter()
            .any(|(n, w, h)| n != "halves" && (*w, *h) == (middle, middle)),
        "{sizes:?}"
    );
    assert!(
        sizes
            .iter()
            .all(|(n, w, h)| n != "halves" || (*w, *h) == (corner, corner)),
        "{sizes:?}"
    );
    assert_eq!((middle, corner), (3.875, 3.5));
}

#[test]
fn a_fan_round_a_corner_of_a_half_block_is_one_section() {
    // *Derived*: a pinwheel's four lines all go through its middle. A diagonal parts it into two halves; in each the other three
    // lines are rays from the middle of its long side, and the outermost always cuts off one triangle. The whole is no section,
    // since every line right across leaves four triangles on either side: 2.
    let (m, corners) = (
        (2.0, 2.0),
        [
            (0.0, 0.0),
            (2.0, 0.0),
            (4.0, 0.0),
            (4.0, 2.0),
            (4.0, 4.0),
            (2.0, 4.0),
            (0.0, 4.0),
            (0.0, 2.0),
        ],
    );
    let patches: Vec<Patch> = (0..8)
        .map(|i| {
            (
                if i % 2 == 0 { "a" } else { "b" },
                vec![corners[i], corners[(i + 1) % 8], m],
            )
        })
        .collect();
    let whole = block(4.0, 4.0, &patches);
    assert_eq!(sheets(&whole), 2);
    assert_eq!(
        whole.pattern.cutting.papers.len(),
        1,
        "both halves are alike, turned by half"
    );
}

#[test]
fn what_a_design_cannot_have_on_paper_is_said() {
    // A windmill round a middle square: no seam runs through, so none of it goes on paper.
    let windmill: Vec<Patch> = vec![
        ("a", rectangle(0.0, 0.0, 4.0, 2.0)),
        ("b", rectangle(4.0, 0.0, 2.0, 4.0)),
        ("a", rectangle(2.0, 4.0, 4.0, 2.0)),
        ("b", rectangle(0.0, 2.0, 2.0, 4.0)),
        ("a", rectangle(2.0, 2.0, 2.0, 2.0)),
    ];
    let whole = block(6.0, 6.0, &windmill);
    assert_eq!(sheets(&whole), 0);
    let told = said(&whole.findings, "pin-does-not-fit").unwrap();
    assert!(told.contains("closed in two goes"), "{told}");
    // With one arm divided, that arm is a section, and the rest is told.
    let mut divided = windmill;
    divided[0] = ("a", rectangle(0.0, 0.0, 1.0, 2.0));
    divided.push(("b", rectangle(1.0, 0.0, 3.0, 2.0)));
    let whole = block(6.0, 6.0, &divided);
    assert_eq!(sheets(&whole), 1);
    let told = said(&whole.findings, "pin-does-not-fit").unwrap();
    assert!(told.contains("joined by a partial seam"), "{told}");
    // A hollow patch is set in round its corner.
    let hollow: Vec<Patch> = vec![
        (
            "a",
            vec![(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (0.0, 4.0)],
        ),
        ("b", rectangle(2.0, 2.0, 2.0, 2.0)),
    ];
    match Whole::of(&text(HEAD, 4.0, 4.0, &hollow)) {
        Err(findings) => assert!(findings.iter().any(|f| f.code == "hollow-patch"), "{findings:?}"),
        Ok(whole) => {
            let told = said(&whole.findings, "pin-does-not-fit").unwrap();
            assert!(told.contains("hollow corner"), "{told}");
        }
    }
}

#[test]
fn a_print_with_an_up_stands_upright_on_paper() {
    let head = HEAD.replace(
        "color = \"#efe8d8\"",
        "color = \"#efe8d8\"\nprint = \"one-way\"\nup = \"block\"",
    );
    let leaning: Vec<Patch> = vec![
        ("a", vec![(0.0, 0.0), (3.0, 0.0), (1.5, 3.0), (0.0, 3.0)]),
        ("a", vec![(3.0, 0.0), (4.0, 0.0), (4.0, 3.0), (1.5, 3.0)]),
    ];
    // The table checks that the print stands as wanted; along a leaning line the piece is cut leaning, round a template.
    let whole = proved(&text(&head, 4.0, 3.0, &leaning));
    assert_eq!(sheets(&whole), 1);
    assert!(!whole.pattern.cutting.templates.is_empty());
    let upright: Vec<Patch> = vec![
        ("a", rectangle(0.0, 0.0, 1.25, 3.0)),
        ("a", rectangle(1.25, 0.0, 2.75, 3.0)),
    ];
    let whole = proved(&text(&head, 4.0, 3.0, &upright));
    assert!(whole.pattern.cutting.templates.is_empty());
}

fn alongs(pattern: &mut Pattern) -> Vec<(&mut AlongLine, bool)> {
    let mut found = Vec::new();
    for step in pattern.recipe.makes.iter_mut().flat_map(|m| &mut m.steps) {
        match step {
            Step::Spread { along, .. } => found.push((along, true)),
            Step::Lay {
                how: Lay::OverPaper { along, .. },
                ..
            } => found.push((along, false)),
            _ => {}
        }
    }
    found
}

/// Every piece so far off along its line, the first one across it as well, and no margin asked for any more.
fn shifted(whole: &Whole, along: i64, across: i64) -> Whole {
    let mut off = whole.clone();
    let moved = |size: Size, by: i64| Size::bare(Length::from_units(size.len.units() + by));
    for (place, first) in alongs(&mut off.pattern) {
        let margin = place.margin.len.units();
        place.beyond = moved(place.beyond, along * margin);
        if first {
            place.past = moved(place.past, across * margin);
        }
        place.margin = Size::bare(Length::ZERO);
    }
    off
}

#[test]
fn whatever_way_a_maker_is_off_by_the_margin_cloth_covers() {
    let mut designs: Vec<String> = vec![
        text(HEAD, 4.0, 4.0, &square_in_a_square()),
        text(HEAD, 3.0, 2.0, &checkerboard(3, 2)),
    ];
    let slant: Vec<Patch> = vec![
        ("a", vec![(0.0, 3.0), (3.0, 3.0), (3.5, 1.5), (0.0, 1.5)]),
        ("b", vec![(0.0, 1.5), (3.5, 1.5), (4.0, 0.0), (0.0, 0.0)]),
        ("a", vec![(3.0, 3.0), (4.0, 3.0), (4.0, 0.0)]),
    ];
    designs.push(text(HEAD, 4.0, 3.0, &slant));
    for design in designs {
        let whole = proved(&design);
        for (along, across) in [(1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1)] {
            if let Err(findings) = shifted(&whole, along, across).rehearse() {
                panic!("off by {along} along and {across} across: {}", findings[0]);
            }
        }
        // Twice as far is too far for some piece: the sizes are not simply generous.
        assert!(shifted(&whole, 2, 0).rehearse().is_err() || shifted(&whole, -2, 0).rehearse().is_err());
    }
}

#[test]
fn paper_is_taken_for_what_it_forgives_where_templates_would_be_cut() {
    // Of the crooked wedge's nine patches five are off the marks. With steps to be saved they are cut round templates, as ever;
    // a section is trimmed to its printed line whatever was sewn before, so it comes out within 1/64 in and forgives most.
    let text = design::collection_file("crazy-wedge").unwrap();
    let forgiving = text.replacen("[quilt]\n", "[quilt]\nprefer = \"forgiving\"\n", 1);
    assert_eq!(sheets(&proved(text)), 0);
    let whole = proved(&forgiving);
    assert_eq!(sheets(&whole), 1);
    assert!(whole.pattern.cutting.templates.is_empty());
}
