//! Pressing of whole designs: how many meetings there are and how many nest, worked out by hand beside each, against
//! what the planner says; every one proved.

#![allow(clippy::unwrap_used)] // A test may stop at once.

use recipe::{Lay, Press, Step};
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

/// A block of squares of an inch, a letter for each, rows from the top.
fn squares(name: &str, rows: &[&str]) -> String {
    let (width, height) = (rows[0].len(), rows.len());
    let mut text =
        format!("[[block]]\nname = \"{name}\"\nsize = [{width}, {height}]\ngrid = [{width}, {height}]\npatches = [\n");
    for (y, row) in rows.iter().enumerate() {
        for (x, fabric) in row.chars().enumerate() {
            let (right, below) = (x + 1, y + 1);
            text += &format!("  {{ fabric = \"{fabric}\", path = \"M{x} {y} H{right} V{below} H{x} Z\" }},\n");
        }
    }
    text + "]\n"
}

fn layout(rows: &[&[&str]]) -> String {
    let rows: Vec<String> = rows
        .iter()
        .map(|row| {
            format!(
                "[{}]",
                row.iter().map(|b| format!("\"{b}\"")).collect::<Vec<_>>().join(", ")
            )
        })
        .collect();
    format!("[layout]\nkind = \"straight\"\nrows = [{}]\n", rows.join(", "))
}

fn proved(rest: &str) -> Whole {
    let whole = Whole::of(&format!("{HEAD}{rest}")).unwrap_or_else(|f| panic!("{f:#?}"));
    if let Err(findings) = whole.rehearse() {
        panic!("{findings:#?}");
    }
    whole
}

/// Points matched in all laying of edge on edge, as often as it is done: the places where seams meet.
fn matched(whole: &Whole) -> u64 {
    let mut sum = 0;
    for make in &whole.pattern.recipe.makes {
        for step in &make.steps {
            if let Step::Lay {
                how: Lay::Edges { meets, .. },
                ..
            } = step
            {
                sum += u64::from(make.times) * meets.len() as u64;
            }
        }
    }
    sum
}

/// What is said of seams that do not nest.
fn said(whole: &Whole) -> Option<String> {
    let found = whole.findings.iter().find(|f| f.code == "seams-do-not-nest");
    found.map(|f| f.sentence.clone())
}

fn two_ways(whole: &Whole) -> Vec<String> {
    let labels = whole.pattern.recipe.makes.iter().map(|m| m.label.clone());
    labels.filter(|label| label.contains("pressed")).collect()
}

#[test]
fn all_four_meetings_of_a_nine_patch_nest() {
    // By hand: rows aba, bab, aba, each pressed toward the dark: outer rows outward, the middle row inward. Two seams of
    // the rows meet at each of two long seams: 2 x 2 = 4, all opposite.
    let whole = proved(&(squares("n", &["aba", "bab", "aba"]) + &layout(&[&["n"]])));
    assert_eq!((matched(&whole), said(&whole)), (4, None));
    assert_eq!(two_ways(&whole), [""; 0]);
}

#[test]
fn blocks_beside_their_like_are_pressed_in_and_out() {
    // By hand: the seam of each block of two meets that of the next. Made one way all three meetings would miss; blocks
    // by turns in and out, all nest. Two makings of the block, two of each.
    let whole = proved(&(squares("t", &["a", "b"]) + &layout(&[&["t", "t", "t", "t"]])));
    assert_eq!((matched(&whole), said(&whole)), (3, None));
    assert_eq!(two_ways(&whole), ["T block, pressed in", "T block, pressed out"]);
    let makes = &whole.pattern.recipe.makes;
    let times: Vec<u32> = makes
        .iter()
        .filter(|m| m.label.contains("pressed"))
        .map(|m| m.times)
        .collect();
    assert_eq!(times, [2, 2]);
    let presses = |label: &str| -> Vec<Press> {
        let make = makes.iter().find(|m| m.label.ends_with(label)).unwrap();
        let press = |step: &Step| match step {
            Step::Open { press, .. } => Some(*press),
            _ => None,
        };
        make.steps.iter().filter_map(press).collect()
    };
    let (inward, outward) = (presses("pressed in"), presses("pressed out"));
    assert_eq!(inward.len(), 1);
    assert_ne!(inward, outward);
}

#[test]
fn a_grid_of_four_patches_nests_throughout() {
    // By hand: n x n blocks are 2n x 2n squares, with (2n - 1)^2 places where seams cross. The short seams of a block
    // nest with their like turned half round; the long one, and the rows' seams, need a second way.
    for n in [2, 3, 5_usize] {
        let row = vec!["f"; n];
        let rows: Vec<&[&str]> = vec![&row; n];
        let whole = proved(&(squares("f", &["ab", "ba"]) + &layout(&rows)));
        let crossings = (2 * n as u64 - 1).pow(2);
        assert_eq!((matched(&whole), said(&whole)), (crossings, None), "{n}");
    }
}

#[test]
fn four_patches_and_plain_squares_by_turns_need_one_way_only() {
    // By hand: 8 four patches with one meeting within each; 3 x 3 where the rows' seams meet, each pressed toward the
    // plain square, so that they lie opposite. A plain square's side has no seam to meet.
    let blocks = squares("f", &["ab", "ba"])
        + "[[block]]\nname = \"p\"\nsize = [2, 2]\ngrid = [1, 1]\npatches = [{ fabric = \"b\", path = \"M0 0 H1 V1 H0 Z\" }]\n";
    let (odd, even): (&[&str], &[&str]) = (&["f", "p", "f", "p"], &["p", "f", "p", "f"]);
    let whole = proved(&(blocks + &layout(&[odd, even, odd, even])));
    assert_eq!((matched(&whole), said(&whole)), (17, None));
    assert_eq!(two_ways(&whole), [""; 0]);
}

#[test]
fn pinwheels_nest_at_every_centre_and_corner() {
    // By hand: the seams between the half-square units cross like those of four patches, and nest like them.
    let mut pinwheel = String::from("[[block]]\nname = \"w\"\nsize = [4, 4]\ngrid = [2, 2]\npatches = [\n");
    for path in ["M0 0 H1 V1", "M1 0 H2 L1 1", "M1 1 H2 V2", "M1 1 V2 H0"] {
        pinwheel += &format!("  {{ fabric = \"b\", path = \"{path} Z\" }},\n");
    }
    for path in ["M0 0 L1 1 H0", "M2 0 V1 H1", "M1 1 L2 2 H1", "M0 1 H1 L0 2"] {
        pinwheel += &format!("  {{ fabric = \"a\", path = \"{path} Z\" }},\n");
    }
    pinwheel += "]\n";
    for rows in [&[&["w"][..]][..], &[&["w", "w"], &["w", "w"]]] {
        let whole = proved(&(pinwheel.clone() + &layout(rows)));
        assert!(matched(&whole) >= if rows.len() == 1 { 1 } else { 9 });
        assert_eq!(said(&whole), None);
    }
}
