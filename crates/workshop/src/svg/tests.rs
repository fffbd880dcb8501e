//! Drawings as drawing programs write them, brought in. Areas are by arithmetic (derived); that a block is whole is the design's own
//! finding, made by other code.

use super::{Brought, Wanted, bring};
use proptest::prelude::*;

fn wanted(svg: &str) -> Wanted {
    Wanted {
        svg: svg.to_string(),
        name: "from-a-drawing".into(),
        width: 12.0,
        height: None,
        across: None,
        down: None,
        page: false,
        on_top: false,
        ground: false,
        metric: false,
    }
}

fn page(inside: &str) -> String {
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 100\">{inside}</svg>")
}

fn codes(brought: &Brought) -> Vec<&str> {
    brought.said.iter().map(|said| said.code.as_str()).collect()
}

fn areas(brought: &Brought) -> Vec<f64> {
    let design = design::read_design(&brought.text).unwrap();
    design.blocks[0]
        .patches
        .iter()
        .map(|patch| patch.outline.signed_area())
        .collect()
}

#[test]
fn outlines_with_fills_become_patches_and_cloths() {
    // A style sheet, a transform, a rectangle, a polygon, a group's fill, relative path data, a DOCTYPE: what programs write.
    let svg = "<?xml version=\"1.0\"?><!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\
        <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"80mm\" height=\"80mm\" viewBox=\"0 0 80 80\"><style>.n{fill:#1f2d4a}</style>\
        <g transform=\"translate(20 20) scale(0.5)\"><rect class=\"n\" width=\"40\" height=\"40\"/>\
        <polygon points=\"40,0 80,0 40,40\" fill=\"#f3eee2\"/><path d=\"M80 0v40h-40z\" style=\"fill:#1f2d4a;stroke:#000\"/>\
        <g fill=\"rgb(181,82,59)\"><rect y=\"40\" width=\"80\" height=\"40\"/></g></g></svg>";
    let brought = bring(&wanted(svg)).unwrap();
    assert!(brought.good, "{:?}", brought.said);
    assert_eq!(brought.words, "12 × 12 in, grid of 2");
    assert!(
        brought
            .text
            .contains("{ fabric = \"dark-blue\", path = \"M0 0 H1 V1 H0 Z\" }"),
        "{}",
        brought.text
    );
    assert!(
        brought
            .text
            .contains("{ fabric = \"red\", path = \"M0 1 H2 V2 H0 Z\" }"),
        "{}",
        brought.text
    );
    // The triangles: half of 6 × 6.
    assert_eq!(
        areas(&brought).iter().map(|a| a.round() as i64).collect::<Vec<_>>(),
        [36, 18, 18, 72]
    );
    assert_eq!(brought.cloths.len(), 3);
}

#[test]
fn a_careless_hand_is_held_to_the_grid_that_is_found_or_named() {
    let svg = page(
        "<path fill=\"red\" d=\"M0 0H24.8V50.1H0.1z\"/><path fill=\"blue\" d=\"M25.1 0H100V49.9H25z\"/><path fill=\"lime\" d=\"M0 50H100V100H0z\"/>",
    );
    let brought = bring(&wanted(&svg)).unwrap();
    assert!(brought.good, "{:?}", brought.said);
    assert_eq!(brought.words, "12 × 12 in, grid of 4");
    assert_eq!(codes(&brought), ["corners-moved"]);
    let named = bring(&Wanted {
        across: Some(8.0),
        metric: true,
        width: 30.0,
        ..wanted(&svg)
    })
    .unwrap();
    assert_eq!(named.words, "30 × 30 cm, grid of 8");
    assert!(named.good, "{:?}", named.said);
    // Thirds and a seventh lie on a grid of 21; what lies on none is left where it is.
    let odd = page(
        "<path fill=\"red\" d=\"M0 0H33.333V100H0z\"/><path fill=\"blue\" d=\"M33.333 0H100V14.2857H33.333z\"/><path fill=\"lime\" d=\"M33.333 14.2857H100V100H33.333z\"/>",
    );
    assert_eq!(bring(&wanted(&odd)).unwrap().words, "12 × 12 in, grid of 21");
    let none = page(
        "<path fill=\"red\" d=\"M0 0H31.79V100H0z\"/><path fill=\"blue\" d=\"M31.79 0H100V14.23H31.79z\"/><path fill=\"lime\" d=\"M31.79 14.23H100V43.07L31.79 57.77z\"/><path fill=\"red\" d=\"M31.79 57.77L100 43.07V68.63L31.79 100z\"/><path fill=\"blue\" d=\"M100 68.63V100H31.79z\"/>",
    );
    let brought = bring(&wanted(&none)).unwrap();
    assert!(
        brought.words.ends_with("its corners on no grid") && brought.good,
        "{} {:?}",
        brought.words,
        brought.said
    );
}

#[test]
fn what_is_open_is_told_or_filled_with_ground() {
    // A diamond and a square float on the page.
    let svg = page(
        "<path fill=\"#1f2d4a\" d=\"M50 10L90 50L50 90L10 50z\"/><rect x=\"0\" y=\"0\" width=\"10\" height=\"10\" fill=\"#b5523b\"/>",
    );
    let open = bring(&Wanted {
        page: true,
        ..wanted(&svg)
    })
    .unwrap();
    assert!(!open.good && codes(&open).contains(&"gap"), "{:?}", open.said);
    let filled = bring(&Wanted {
        page: true,
        ground: true,
        ..wanted(&svg)
    })
    .unwrap();
    assert!(filled.good, "{:?}\n{}", filled.said, filled.text);
    let all = areas(&filled);
    assert!((all.iter().sum::<f64>() - 144.0).abs() < 1e-3, "{all:?}");
    // The diamond: half of 80 × 80 hundredths of 12 in.
    assert!((all[0] - 46.08).abs() < 1e-3 && (all[1] - 1.44).abs() < 1e-3, "{all:?}");
    assert_eq!(filled.cloths.last().unwrap().0, "Ground");
}

#[test]
fn what_lies_on_one_another_is_told_or_parted_as_it_is_seen() {
    let svg = page(
        "<rect width=\"100\" height=\"100\" fill=\"#f3eee2\"/><rect x=\"25\" y=\"25\" width=\"50\" height=\"50\" fill=\"#1f2d4a\"/><path d=\"M25 25H75L25 75z\" fill=\"#b5523b\"/>",
    );
    let lying = bring(&wanted(&svg)).unwrap();
    assert!(!lying.good && codes(&lying).contains(&"overlap"), "{:?}", lying.said);
    let parted = bring(&Wanted {
        on_top: true,
        ..wanted(&svg)
    })
    .unwrap();
    assert!(parted.good, "{:?}\n{}", parted.said, parted.text);
    let design = design::read_design(&parted.text).unwrap();
    let of = |name: &str| -> f64 {
        let patches = design.blocks[0].patches.iter().filter(|p| p.fabric.as_str() == name);
        patches.map(|p| p.outline.signed_area()).sum()
    };
    // Derived: 144 − 36; 36 − 18; 18.
    assert!((of("white") - 108.0).abs() < 1e-3, "{}", parted.text);
    assert!((of("dark-blue") - 18.0).abs() < 1e-3 && (of("red") - 18.0).abs() < 1e-3);
}

#[test]
fn a_curve_on_top_stays_a_curve_on_both_sides() {
    // A quarter circle of 50 hundredths of 12 in about the left top corner, over a square: π · 6² / 4 and the rest of 144.
    let svg = page(
        "<rect width=\"100\" height=\"100\" fill=\"#f3eee2\"/><path d=\"M0 0H50A50 50 0 0 1 0 50z\" fill=\"#1f2d4a\"/>",
    );
    let brought = bring(&Wanted {
        on_top: true,
        ..wanted(&svg)
    })
    .unwrap();
    assert!(brought.good, "{:?}\n{}", brought.said, brought.text);
    assert_eq!(
        brought.text.matches(" C").count(),
        2,
        "one curve, told in both: {}",
        brought.text
    );
    let all = areas(&brought);
    let quarter = std::f64::consts::PI * 9.0;
    assert!(
        (all[1] - quarter).abs() < 0.02 && (all[0] - (144.0 - quarter)).abs() < 0.02,
        "{all:?}"
    );
    let design = design::read_design(&brought.text).unwrap();
    assert!(design.blocks[0].patches.iter().all(|patch| patch.is_curved()));
    // A whole circle on a ground is cut open, and its curves are found again; no corner of a grid is sought where it runs on smoothly.
    let ring = page(
        "<rect width=\"100\" height=\"100\" fill=\"#f3eee2\"/><circle cx=\"50\" cy=\"50\" r=\"25\" fill=\"#1f2d4a\"/>",
    );
    let brought = bring(&Wanted {
        on_top: true,
        ..wanted(&ring)
    })
    .unwrap();
    assert!(brought.good, "{:?}\n{}", brought.said, brought.text);
    let all = areas(&brought);
    assert!((all.iter().sum::<f64>() - 144.0).abs() < 1e-2, "{all:?}");
    let straight = brought
        .text
        .lines()
        .filter(|line| line.contains("path") && !line.contains(" C"))
        .count();
    assert_eq!(straight, 0, "{}", brought.text);
}

#[test]
fn holes_and_parts_of_one_outline_are_understood() {
    let ring = "<path fill-rule=\"evenodd\" fill=\"#1f2d4a\" d=\"M0 0H100V100H0z M25 25H75V75H25z\"/>";
    let svg = page(&format!(
        "{ring}<rect x=\"25\" y=\"25\" width=\"50\" height=\"50\" fill=\"#f3eee2\"/>"
    ));
    let brought = bring(&wanted(&svg)).unwrap();
    assert!(brought.good, "{:?}\n{}", brought.said, brought.text);
    let sum: f64 = areas(&brought).iter().sum();
    assert!((sum - 144.0).abs() < 1e-3);
    assert_eq!(brought.cloths.len(), 2);
}

#[test]
fn what_is_no_patch_is_left_out_and_told() {
    let inside = "<rect width=\"100\" height=\"100\" fill=\"#f3eee2\"/><path d=\"M0 0L100 100\" fill=\"none\" stroke=\"#000\"/><text x=\"5\" y=\"50\">A</text>\
        <image href=\"file:///etc/hostname\" width=\"10\" height=\"10\"/><image href=\"data:image/png;base64,iVBORw0KGgo=\" width=\"10\" height=\"10\"/>\
        <linearGradient id=\"g\"><stop stop-color=\"red\"/><stop offset=\"1\" stop-color=\"blue\"/></linearGradient><rect width=\"9\" height=\"9\" fill=\"url(#g)\"/>";
    let brought = bring(&wanted(&page(inside))).unwrap();
    assert!(brought.good);
    assert_eq!(
        codes(&brought),
        [
            "lines-left-out",
            "not-plain-left-out",
            "text-left-out",
            "pictures-left-out"
        ]
    );
    assert_eq!(brought.patches, 1);
}

#[test]
fn whatever_is_brought_the_answer_is_a_word() {
    let code = |svg: &str| bring(&wanted(svg)).unwrap_err().code;
    assert_eq!(code(""), "not-svg");
    assert_eq!(code("not a drawing"), "not-svg");
    assert_eq!(code("<svg xmlns=\"http://www.w3.org/2000/svg\""), "not-svg");
    assert_eq!(code(&page("")), "nothing-filled");
    assert_eq!(code(&page("<path d=\"M0 0 L10 10\" fill=\"red\"/>")), "nothing-filled");
    assert_eq!(code(&" ".repeat(super::MOST_BYTES + 1)), "drawing-too-large");
    assert_eq!(
        code(&page(&"<rect width=\"1\" height=\"1\"/>".repeat(2100))),
        "drawing-too-large"
    );
    // Each uses the one before it ten times: ten to the ninth in all.
    let mut laughs = "<defs><g id=\"a0\"><rect width=\"1\" height=\"1\"/></g>".to_string();
    for i in 1..10 {
        laughs += &format!(
            "<g id=\"a{i}\">{}</g>",
            format!("<use href=\"#a{}\"/>", i - 1).repeat(10)
        );
    }
    assert_eq!(
        code(&page(&format!("{laughs}</defs><use href=\"#a9\"/>"))),
        "drawing-too-large"
    );
    assert_eq!(code(&page("<g id=\"a\"><use href=\"#a\"/></g>")), "drawing-too-large");
    assert_eq!(
        code(&page(&("<g>".repeat(3000) + &"</g>".repeat(3000)))),
        "drawing-too-large"
    );
    let entities = "<!DOCTYPE svg [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;\"><!ENTITY c \"&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;\">\
        <!ENTITY d \"&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;\"><!ENTITY e \"&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;\">]><svg xmlns=\"http://www.w3.org/2000/svg\"><title>&e;&e;&e;</title></svg>";
    assert_eq!(code(entities), "not-svg");
    let out = |w: Wanted| bring(&w).unwrap_err().code;
    let square = page("<rect width=\"100\" height=\"100\" fill=\"red\"/>");
    assert_eq!(
        out(Wanted {
            width: -1.0,
            ..wanted(&square)
        }),
        "no-size"
    );
    assert_eq!(
        out(Wanted {
            width: f64::NAN,
            ..wanted(&square)
        }),
        "no-size"
    );
    assert_eq!(
        out(Wanted {
            across: Some(2.5),
            ..wanted(&square)
        }),
        "no-grid"
    );
    // An outline that crosses itself is told in the reader's words.
    let crossed = bring(&wanted(&page("<path fill=\"red\" d=\"M0 0L100 100V0L0 70z\"/>"))).unwrap();
    assert!(!crossed.good, "{:?}", crossed.said);
}

/// A shape as it comes, with corners that often fall on one another.
fn shape() -> impl Strategy<Value = String> {
    let at = || (0..9i32).prop_map(|n| n * 10);
    let colour = prop_oneof![Just("#1f2d4a"), Just("#f3eee2"), Just("#b5523b")];
    let outline = prop_oneof![
        (at(), at(), 1..9i32, 1..9i32).prop_map(|(x, y, w, h)| format!("M{x} {y}h{}v{}h-{}z", w * 10, h * 10, w * 10)),
        prop::collection::vec((at(), at()), 3..7).prop_map(|points| {
            let told: Vec<String> = points.iter().map(|(x, y)| format!("{x} {y}")).collect();
            format!("M{}z", told.join("L"))
        }),
        (at(), at(), 1..5i32).prop_map(|(x, y, r)| {
            let r = r * 10;
            format!("M{} {y}a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0 -{} 0z", x - r, 2 * r, 2 * r)
        }),
        (at(), at(), at(), at(), at(), at())
            .prop_map(|(a, b, c, d, e, f)| format!("M{a} {b}C{c} {d} {e} {f} 40 40L10 80z")),
    ];
    (outline, colour).prop_map(|(d, fill)| format!("<path fill=\"{fill}\" d=\"{d}\"/>"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    /// Whatever lies on whatever: there is an answer, and what is said to fill the block fills it once.
    #[test]
    fn what_is_said_to_fill_the_block_fills_it_once(
        shapes in prop::collection::vec(shape(), 1..6),
        page_is_block in any::<bool>(),
        on_top in any::<bool>(),
        ground in any::<bool>(),
    ) {
        let svg = page(&shapes.concat());
        if let Ok(brought) = bring(&Wanted { page: page_is_block, on_top, ground, ..wanted(&svg) }) && brought.good {
            let design = design::read_design(&brought.text).unwrap();
            let size = design.blocks[0].size;
            let sum: f64 = areas(&brought).iter().sum();
            prop_assert!((sum - size.0 * size.1).abs() < 0.02 * size.0.max(size.1), "{} {}\n{svg}\n{}", sum, size.0 * size.1, brought.text);
        }
    }
}
