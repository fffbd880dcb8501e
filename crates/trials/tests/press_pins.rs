//! Seams whose way the designer fixes, where it might be taken for another: in blocks placed in a block, and in units whose way of
//! making fixes it already.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{Press, Step};
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

#[track_caller]
fn proved(rest: &str) -> Whole {
    let whole = Whole::of(&format!("{HEAD}{rest}")).unwrap_or_else(|f| panic!("{f:#?}"));
    if let Err(findings) = whole.rehearse() {
        panic!("{findings:#?}");
    }
    whole
}

/// What is said of pins that do not fit.
fn unfit(whole: &Whole) -> Vec<String> {
    let all = whole.findings.iter().filter(|f| f.code == "pin-does-not-fit");
    all.map(ToString::to_string).collect()
}

/// Which way the seams of makings of a block are pressed, in the order of the steps.
fn pressed(whole: &Whole, unit: &str) -> Vec<Press> {
    let makes = whole
        .pattern
        .recipe
        .makes
        .iter()
        .filter(|m| m.unit.to_string().contains(unit));
    makes
        .flat_map(|m| &m.steps)
        .filter_map(|s| match s {
            Step::Open { press, .. } => Some(*press),
            _ => None,
        })
        .collect()
}

/// A block of two rectangles and, right of them, another of two, placed.
fn placed(outer: &str, inner: &str, turn: u32) -> String {
    format!(
        "[[block]]\nname = \"inner\"\nsize = [2, 2]\ngrid = [2, 2]\n{inner}patches = [\n\
         {{ fabric = \"a\", path = \"M0 0 H1 V2 H0 Z\" }},\n{{ fabric = \"b\", path = \"M1 0 H2 V2 H1 Z\" }},\n]\n\
         [[block]]\nname = \"outer\"\nsize = [4, 2]\ngrid = [4, 2]\n{outer}patches = [\n\
         {{ fabric = \"a\", path = \"M0 0 H2 V1 H0 Z\" }},\n{{ fabric = \"b\", path = \"M0 1 H2 V2 H0 Z\" }},\n]\n\
         place = [{{ block = \"inner\", at = [2, 0], size = [2, 2], turn = {turn} }}]\n\
         [layout]\nrows = [[\"outer\"]]\n"
    )
}

fn pin(from: u32, toward: u32) -> String {
    format!("[[block.pin]]\npress = [{from}, {toward}]\n")
}

#[test]
fn a_pin_of_a_block_is_of_its_own_patches_not_of_those_placed_in_it() {
    // The numbers 1 and 2 are in both blocks. Each block's pin turns its own seam and leaves the other's.
    let with = |outer: &str, inner: &str, turn: u32| -> (Vec<Press>, Vec<Press>, Vec<String>) {
        // A block's pins stand after its patches, so they are put behind the grid and the patches moved before them by the file.
        let text = placed("", "", turn);
        let inner_at = text.find("[[block]]\nname = \"outer\"").unwrap();
        let text = format!("{}{inner}{}", &text[..inner_at], &text[inner_at..]);
        let outer_at = text.find("[layout]").unwrap();
        let text = format!("{}{outer}{}", &text[..outer_at], &text[outer_at..]);
        let whole = proved(&text);
        (pressed(&whole, "inner"), pressed(&whole, "outer"), unfit(&whole))
    };
    for turn in [0, 90, 180] {
        let turned_inner = |p: &(Vec<Press>, Vec<Press>, Vec<String>)| p.0.clone();
        let one = with(&pin(1, 2), &pin(1, 2), turn);
        let other = with(&pin(1, 2), &pin(2, 1), turn);
        let third = with(&pin(2, 1), &pin(1, 2), turn);
        for said in [&one, &other, &third] {
            assert!(said.2.is_empty(), "{turn}: {:?}", said.2);
        }
        assert_ne!(turned_inner(&one), turned_inner(&other), "{turn}");
        assert_eq!(turned_inner(&one), turned_inner(&third), "{turn}");
        // The outer block's first seam is that of its own two patches.
        assert_ne!(one.1[0], third.1[0], "{turn}: {:?} {:?}", one.1, third.1);
        assert_eq!(one.1[0], other.1[0], "{turn}");
    }
}

#[test]
fn a_placed_blocks_pin_does_not_answer_for_patches_of_the_same_numbers_that_touch_nowhere() {
    // In the outer block patches 1 and 3 do not touch; those of the placed block that have these numbers do.
    let inner = "[[block]]\nname = \"inner\"\nsize = [2, 3]\ngrid = [2, 3]\npatches = [\n\
         { fabric = \"a\", path = \"M0 0 H2 V1 H0 Z\" },\n{ fabric = \"b\", path = \"M0 2 H2 V3 H0 Z\" },\n\
         { fabric = \"b\", path = \"M0 1 H2 V2 H0 Z\" },\n]\n";
    let outer = "[[block]]\nname = \"outer\"\nsize = [4, 3]\ngrid = [4, 3]\npatches = [\n\
         { fabric = \"a\", path = \"M0 0 H2 V1 H0 Z\" },\n{ fabric = \"b\", path = \"M0 1 H2 V2 H0 Z\" },\n\
         { fabric = \"a\", path = \"M0 2 H2 V3 H0 Z\" },\n]\n\
         place = [{ block = \"inner\", at = [2, 0], size = [2, 3] }]\n";
    let whole = proved(&format!("{inner}{outer}{}[layout]\nrows = [[\"outer\"]]\n", pin(1, 3)));
    let said = unfit(&whole);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("1 and 3"), "{said:?}");
}

/// Blocks with a pinned way of pressing: what makes them, the pin, and whether that way of making fixes how the seam lies.
fn ways() -> Vec<(&'static str, String, (u32, u32), bool)> {
    let block = |size: &str, method: &str, patches: &[&str], (from, toward): (u32, u32)| {
        let patches: String = (patches.iter().enumerate())
            .map(|(i, path)| format!("{{ fabric = \"{}\", path = \"{path}\" }},\n", ["a", "b"][i % 2]))
            .collect();
        let method = match method {
            "" => String::new(),
            method => format!("method = \"{method}\"\n"),
        };
        format!(
            "[[block]]\nname = \"block\"\nsize = {size}\ngrid = {size}\n{method}patches = [\n{patches}]\n{}[layout]\nrows = [[\"block\"]]\n",
            pin(from, toward)
        )
    };
    let halves = ["M0 0 H2 V4 H0 Z", "M2 0 H4 V4 H2 Z"];
    let cornered = ["M1 0 H4 V4 H0 V1 Z", "M0 0 H1 L0 1 Z"];
    let goose = ["M2 0 L4 2 H0 Z", "M0 0 H2 L0 2 Z", "M2 0 H4 V2 Z"];
    let round = [
        "M0 0 L4 0 A4 4 0 0 1 0 4 Z",
        "M4 0 L6 0 L6 6 L0 6 L0 4 A4 4 0 0 0 4 0 Z",
    ];
    let mitred = ["M2 0 H6 V4 H2 Z", "M0 0 H2 V4 L0 6 Z", "M0 6 L2 4 H6 V6 Z"];
    let chased = [
        "M2 2 H4 V4 H2 Z",
        "M0 0 H4 V2 H0 Z",
        "M4 0 H6 V4 H4 Z",
        "M2 4 H6 V6 H2 Z",
        "M0 2 H2 V6 H0 Z",
    ];
    let logs = [
        "M2 2 H4 V4 H2 Z",
        "M2 0 H4 V2 H2 Z",
        "M4 0 H6 V4 H4 Z",
        "M2 4 H6 V6 H2 Z",
        "M0 0 H2 V6 H0 Z",
    ];
    let one = |name, size, method, patches: &[&str], pin, fixed| (name, block(size, method, patches, pin), pin, fixed);
    vec![
        one("foundation", "[4, 4]", "foundation", &halves, (2, 1), true),
        one("over card", "[4, 4]", "over card", &halves, (1, 2), true),
        one("curved seam", "[6, 6]", "", &round, (2, 1), false),
        one("log cabin rounds", "[6, 6]", "log cabin rounds", &logs, (2, 1), true),
        one(
            "sew-and-flip corners",
            "[4, 4]",
            "sew-and-flip corners",
            &cornered,
            (2, 1),
            false,
        ),
        one(
            "goose by sew-and-flip",
            "[4, 2]",
            "goose by sew-and-flip",
            &goose,
            (2, 1),
            false,
        ),
        one("set-in seam", "[6, 6]", "", &mitred, (2, 3), false),
        one("partial seam", "[6, 6]", "", &chased, (1, 2), false),
    ]
}

#[test]
fn where_the_way_of_making_fixes_it_the_pin_is_answered() {
    for (name, text, (from, toward), fixed) in ways() {
        let other = text.replace(
            &format!("press = [{from}, {toward}]"),
            &format!("press = [{toward}, {from}]"),
        );
        let (one, other) = (proved(&text), proved(&other));
        assert!(one.methods.contains(&name), "{name}: {:?}", one.methods);
        let told: Vec<String> = unfit(&one).into_iter().chain(unfit(&other)).collect();
        let (here, there) = (pressed(&one, ""), pressed(&other, ""));
        if fixed {
            // Neither way turns it, and the one against it at least is said, with why.
            assert_eq!(here, there, "{name}");
            assert!(!told.is_empty(), "{name}: neither turned nor told");
            // What is done anyway is no finding where the seam is a straight one: of the two pins one asks for it.
            if matches!(name, "foundation" | "log cabin rounds") {
                assert_eq!(told.len(), 1, "{name}: {told:?}");
            }
            for sentence in &told {
                assert!(
                    sentence.contains("no seam that may go either way"),
                    "{name}: {sentence}"
                );
            }
        } else {
            assert_ne!(here, there, "{name}");
            assert!(told.is_empty(), "{name}: {told:?}");
        }
    }
}
