//! Cutting lists and piece counts of traditional blocks.

use super::drawn::proved;
use super::lists::{Form, across, others, rectangles, size_text, units_of_size};
use super::tables::{inches, rows};
use super::traditional::{block, courthouse_steps, log_cabin};
use std::collections::BTreeMap;

type List = BTreeMap<(String, String), u32>;

/// `2 1/2 x 6 1/2` as [`size_text`] writes it.
fn size(printed: &str) -> String {
    let (a, b) = printed.split_once(" x ").unwrap();
    size_text(inches(a), inches(b))
}

/// One block's list: rectangles to sew as they are or two at a time; what else is cut from squares.
#[derive(Default)]
struct Published {
    squares_and_rectangles: List,
    quartered: List,
    halved: List,
}

fn published(name: &str, finished: f64) -> Published {
    let mut list = Published::default();
    let table = rows(include_str!("../../../../tests/outside/data/block_cutting_lists.csv"));
    for row in table
        .into_iter()
        .filter(|row| row[0] == name && inches(row[1]) == finished)
    {
        let key = (row[2].to_string(), size(row[4]));
        let count: u32 = row[3].parse().unwrap();
        let into = match row[5] {
            "quartered" => &mut list.quartered,
            "halved" => &mut list.halved,
            "whole" => &mut list.squares_and_rectangles,
            other => panic!("{other}"),
        };
        *into.entry(key).or_insert(0) += count;
    }
    assert!(!list.squares_and_rectangles.is_empty() || !list.halved.is_empty());
    list
}

#[test]
fn blocks_cut_the_published_way() {
    // The table names the source of each list. Half-square triangles: the published lists halve the squares first, ours
    // are sewn two at a time from the very same squares, so sizes and counts must be equal; geese are flipped. Both are
    // pinned, since in such numbers others may cost less.
    for (name, finished, method) in [
        ("Churn Dash", 6.0, "half-square pairs"),
        ("Sawtooth Star", 6.0, "goose by sew-and-flip"),
        ("Pinwheel", 6.0, "half-square pairs"),
        ("Bear's Paw", 14.0, "half-square pairs"),
    ] {
        let (drawing, grid) = block(name);
        let whole = proved(&drawing.design((finished, finished), grid).replacen(
            "name = \"drawn\"\n",
            &format!("name = \"drawn\"\nmethod = \"{method}\"\n"),
            1,
        ));
        let Published {
            mut squares_and_rectangles,
            quartered,
            halved,
        } = published(name, finished);
        assert!(quartered.is_empty());
        for (key, count) in halved {
            *squares_and_rectangles.entry(key).or_insert(0) += count;
        }
        assert_eq!(rectangles(&whole.pattern), squares_and_rectangles, "{name}");
        assert!(others(&whole.pattern).is_empty(), "{name}");
    }
}

#[test]
fn a_paw_measures_what_is_published() {
    // Cutting list published on the web, no year given: the paw of a 14 in Bear's Paw is 6 1/2 unfinished.
    let (drawing, grid) = block("Bear's Paw");
    let whole = drawing.proved((14.0, 14.0), grid);
    assert!(!units_of_size(&whole.pattern, 6.5, 6.5).is_empty());
}

#[test]
fn log_cabins_cut_the_published_way() {
    let table = rows(include_str!("../../../../tests/outside/data/log_cabin_cuts.csv"));
    for finished in ["11", "10"] {
        let list: Vec<_> = table.iter().filter(|row| row[0] == finished).collect();
        let (centre, log) = (inches(list[0][1]), inches(list[0][2]));
        let rounds: usize = list[0][3].parse().unwrap();
        let side = inches(finished);
        // Common practice: the block's side is its centre and twice its rounds of logs.
        assert_eq!(side, centre + 2.0 * log * rounds as f64);
        let mut expected = List::new();
        for row in &list {
            let cloth = if row[4] == "centre" { "dark" } else { "light" };
            *expected.entry((cloth.to_string(), size(row[6]))).or_insert(0) += row[5].parse::<u32>().unwrap();
        }
        // 1 + 4n pieces: the same two lists.
        assert_eq!(expected.values().sum::<u32>() as usize, 1 + 4 * rounds);
        let (drawing, grid) = log_cabin(centre, log, rounds);
        assert_eq!(drawing.count(), 1 + 4 * rounds);
        let whole = drawing.proved((side, side), grid);
        assert_eq!(rectangles(&whole.pattern), expected, "{finished} in");
        assert!(others(&whole.pattern).is_empty());
        // Every round measures its centre and logs, each way: the last one is the block.
        let [make] = &whole.pattern.recipe.makes[..] else {
            panic!("sewn round after round in one making")
        };
        let measured = across(make);
        for round in 1..=rounds {
            let grown = centre + 2.0 * log * round as f64 + 0.5;
            assert!(
                measured.iter().filter(|&&size| size == grown).count() >= 2,
                "{round}: {measured:?}"
            );
        }
        assert_eq!(measured[measured.len() - 2..], [side + 0.5; 2]);
    }
}

#[test]
fn courthouse_steps_have_as_many_pieces() {
    // Log cabin in courthouse order, published on the web, 2011: 1 + 4n pieces for n rounds.
    for rounds in 1..=4 {
        let (drawing, grid) = courthouse_steps(2.0, 1.0, rounds);
        let whole = drawing.proved(grid, grid);
        assert_eq!(whole.picture.faces.len(), 1 + 4 * rounds);
        assert_eq!(
            rectangles(&whole.pattern).values().sum::<u32>() as usize,
            1 + 4 * rounds
        );
    }
}

#[test]
fn an_ohio_star_in_its_squares() {
    // The published lists quarter squares of n + 1 1/4. This plan sews such squares in pairs and cuts them apart: from as
    // many squares of the same size come the same quarters.
    for finished in [12.0, 9.0] {
        let (drawing, grid) = block("Ohio Star");
        let whole = drawing.proved((finished, finished), grid);
        let list = published("Ohio Star", finished);
        let unit = finished / 3.0;
        let mut expected = list.squares_and_rectangles.clone();
        for ((cloth, size), count) in list.quartered {
            // The rule itself, which both lists keep.
            assert_eq!(size, size_text(unit + 1.25, unit + 1.25));
            *expected.entry((cloth, size)).or_insert(0) += count;
        }
        assert_eq!(rectangles(&whole.pattern), expected, "{finished} in");
        assert!(others(&whole.pattern).is_empty());
        assert!(
            !units_of_size(&whole.pattern, unit + 0.5, unit + 0.5).is_empty(),
            "the star's point unit"
        );
    }
}

#[test]
fn a_snails_trail_is_never_cut_larger_than_published() {
    // The published list rounds n/(2 sqrt2) + 1/2 = 2.6213 to 2 5/8 for the four patch, and halves or quarters squares
    // for the triangles. This plan cuts every patch of it beside dots, to its exact size (the four patch's squares lie
    // on the bias then, since only upright are their corners on marks). So no piece is larger than the published one it
    // stands for, none is smaller by more than the published roundings, and the counts by cloth are equal (quartered
    // squares leave two of each cloth over).
    let (drawing, grid) = block("Snail's Trail");
    let whole = drawing.proved((12.0, 12.0), grid);
    let list = published("Snail's Trail", 12.0);
    for cloth in ["light", "dark"] {
        let area = |size: &str| {
            let (a, b) = size.split_once(" x ").unwrap();
            a.parse::<f64>().unwrap() * b.parse::<f64>().unwrap()
        };
        let mut expected = Vec::new();
        for (part, each, share) in [
            (&list.squares_and_rectangles, 1, 1.0),
            (&list.halved, 2, 2.0),
            (&list.quartered, 2, 4.0),
        ] {
            for ((of, size), count) in part.iter().filter(|((of, _), _)| of == cloth) {
                assert_eq!(of, cloth);
                expected.extend(vec![area(size) / share; (count * each) as usize]);
            }
        }
        let mut ours: Vec<f64> = Vec::new();
        for cutting in super::lists::pieces(&whole.pattern)
            .into_values()
            .filter(|c| c.cloth == cloth)
        {
            let area = match cutting.form {
                Form::Rectangle(long, short) => long.to_inches() * short.to_inches(),
                Form::Shaped(outline) | Form::Template(outline) => outline.signed_area(),
                other => panic!("{other:?}"),
            };
            ours.extend(vec![area; cutting.count as usize]);
        }
        ours.sort_by(f64::total_cmp);
        expected.sort_by(f64::total_cmp);
        assert_eq!(ours.len(), expected.len(), "{cloth}");
        for (ours, published) in ours.iter().zip(&expected) {
            assert!(
                ours <= published && published - ours < 0.2,
                "{cloth}: {ours} for {published}"
            );
        }
    }
}

#[test]
fn a_storm_at_seas_units() {
    // Guide to the block published on the web, 2020: 12 in from corners of 3 1/2, sides of 3 1/2 x 6 1/2 and a centre
    // of 6 1/2, all unfinished.
    let (drawing, grid) = block("Storm at Sea");
    let whole = drawing.proved((12.0, 12.0), grid);
    for (a, b) in [(3.5, 3.5), (3.5, 6.5), (6.5, 6.5)] {
        assert!(!units_of_size(&whole.pattern, a, b).is_empty(), "{a} x {b}");
    }
}

#[test]
fn as_many_pieces_as_the_block_has() {
    // The table says what each count rests on; every one is proved, so that as many patches lie in the sewn top.
    let table = rows(include_str!("../../../../tests/outside/data/block_piece_counts.csv"));
    assert_eq!(table.len(), 24);
    for row in table {
        let (drawing, grid) = block(row[0]);
        let count: usize = row[3].parse().unwrap();
        assert_eq!(drawing.count(), count, "{}", row[0]);
        let (w, h) = (inches(row[1]), inches(row[2]));
        let whole = drawing.proved((w, h), grid);
        assert_eq!(whole.picture.faces.len(), count, "{}", row[0]);
        // The pieces sum to the block's area.
        let area: f64 = whole.picture.faces.iter().map(|f| f.outline.signed_area()).sum();
        assert!((area - w * h).abs() < 1.0e-9, "{}", row[0]);
        // The top measures its finished size and two seams wherever its last making measures it.
        if let Some(last) = whole
            .pattern
            .recipe
            .makes
            .iter()
            .rev()
            .find(|make| across(make).len() == 2)
        {
            let sizes = across(last);
            assert_eq!(size_text(sizes[0], sizes[1]), size_text(w + 0.5, h + 0.5), "{}", row[0]);
        }
    }
}

#[test]
fn an_eight_pointed_star_is_set_in() {
    // From a drafting handbook's pages, no year given: 6 / 3.414 = 1.7574 for the star's side. Derived: its squares and
    // triangles are set in, a turn for each.
    let side = 6.0 / (2.0 + 2.0_f64.sqrt());
    assert!((side - 1.7574).abs() < 0.0001);
    let mut one = super::drawn::Drawing::default();
    let (centre, far) = ((3.0, 3.0), 6.0 - side);
    let half = side / 2.0_f64.sqrt();
    // The corner's square, a side's triangle, and the two diamonds between them.
    one.square("light", 0.0, 0.0, side);
    one.patch("light", &[(side, 0.0), (far, 0.0), (3.0, 3.0 - side)]);
    one.patch(
        "dark",
        &[centre, (3.0 - half, 3.0 - half), (side, 0.0), (3.0, 3.0 - side)],
    );
    one.patch(
        "mid",
        &[centre, (3.0, 3.0 - side), (far, 0.0), (3.0 + half, 3.0 - half)],
    );
    let mut drawing = super::drawn::Drawing::default();
    for turn in 0..4 {
        drawing.add_turned(&one, turn, 6.0);
    }
    // Eight diamonds, four squares, four triangles: the count of that star from the same pages.
    assert_eq!(drawing.count(), 16);
    let whole = trials::whole::Whole::of(&drawing.design((6.0, 6.0), (6.0, 6.0))).unwrap();
    let proof = whole.rehearse().unwrap();
    assert_eq!(proof.pieces_used, 16);
    let turns: u64 = whole
        .pattern
        .recipe
        .makes
        .iter()
        .map(|m| {
            let pivots = m
                .steps
                .iter()
                .filter(|s| matches!(s, recipe::Step::Pivot { .. }))
                .count();
            u64::from(m.times) * pivots as u64
        })
        .sum();
    assert_eq!(turns, 8);
}
