//! Mosaics over card: a hexagon between four corner pieces, two sides of it made apart and taken up with their cards in;
//! and everything a hand can get wrong with cards, folds and whipping.

use crate::builder::*;
use measure::{Length, Printed};
use recipe::{Card, CardsOut, Inside, PrintNote, Size, Slot, Step, TemplateCorner, Whipped};

/// Half the height of a hexagon of side 1 in that stands on a side.
fn half_high() -> f64 {
    3f64.sqrt() / 2.0
}

fn card(name: &str, corners: &[(f64, f64)], flat: &[u32], uses: u32, cut: u32) -> Card {
    let at = |inches: f64| Printed::nearest(inches).unwrap();
    Card {
        name: name.into(),
        corners: (corners.iter())
            .map(|&(x, y)| TemplateCorner {
                right: at(x),
                up: at(y),
            })
            .collect(),
        flat: flat.to_vec(),
        uses,
        cut,
    }
}

/// The side named lies along its edge, a seam inside it; and so does each of `inside`.
fn baste(piece: u32, into: u32, card: &str, inside: &[(u32, u32)], flat: &[u32]) -> Step {
    let (side, along) = inside[0];
    Step::Baste {
        piece: Slot(piece),
        card: card.into(),
        side,
        along: e(piece, along),
        inside: (inside.iter())
            .map(|&(side, edge)| Inside {
                side,
                edge: e(piece, edge),
                by: s8(2),
            })
            .collect(),
        flat: flat.iter().map(|&edge| e(piece, edge)).collect(),
        least: s8(2),
        most: s8(10),
        into: Slot(into),
    }
}

/// A slot's edge.
type Named = (u32, u32);

fn whip(a: u32, b: u32, into: u32, edges: &[(Named, Named)]) -> Step {
    Step::Whip {
        a: Slot(a),
        b: Slot(b),
        edges: (edges.iter())
            .map(|&(a, b)| Whipped {
                a: run(&[a]),
                b: run(&[b]),
            })
            .collect(),
        into: Slot(into),
    }
}

fn take_out(of: u32, cards: &[(&str, u32)]) -> Step {
    Step::TakeOut {
        of: Slot(of),
        cards: (cards.iter())
            .map(|&(card, count)| CardsOut {
                card: card.into(),
                count,
            })
            .collect(),
    }
}

/// A hexagon of side 1 in in the middle of a rectangle of 4 in by √3 in; the rest in four corner pieces.
fn hexagon_block() -> Bench {
    let h = half_high();
    let mut b = Bench::new();
    b.cloth("sun", PrintNote::None)
        .rectangles("H", s8(22), near(2.0 * h + 0.5), 1);
    // derived: beside the slanted side, 60° at the foot, a seam down and 3/8 in out: 1.5 + 0.25 + (0.25 cot 60° + 0.375 / sin 60°) = 2.33
    b.cloth("sky", PrintNote::None)
        .rectangles("Q", s8(19), s8(12), 2)
        .rectangles("R", s8(19), s8(12), 2);
    let hexagon = [
        (0.5, 0.0),
        (1.5, 0.0),
        (2.0, h),
        (1.5, 2.0 * h),
        (0.5, 2.0 * h),
        (0.0, h),
    ];
    b.pattern.cutting.cards = vec![
        card("h", &hexagon, &[0, 3], 1, 1),
        card("q", &[(0.0, 0.0), (1.5, 0.0), (1.0, h), (0.0, h)], &[0, 3], 2, 2),
        card("r", &[(0.0, 0.0), (1.0, 0.0), (1.5, h), (0.0, h)], &[2, 3], 2, 2),
    ];
    b.make(
        "side",
        2,
        &[piece(0, "Q"), piece(1, "R")],
        &[
            baste(0, 2, "q", &[(0, 0), (3, 3)], &[0, 3]),
            baste(1, 3, "r", &[(2, 2), (3, 3)], &[2, 3]),
            whip(2, 3, 4, &[((2, 2), (3, 0))]),
        ],
        &[give(
            4,
            &[
                run(&[(3, 3), (2, 3)]),
                run(&[(2, 0)]),
                run(&[(2, 1)]),
                run(&[(3, 1)]),
                run(&[(3, 2)]),
            ],
        )],
    );
    b.make(
        "top",
        1,
        &[piece(0, "H"), unit(1, "side"), unit(2, "side")],
        &[
            baste(0, 3, "h", &[(0, 0)], &[0, 2]),
            whip(3, 1, 4, &[((3, 4), (1, 3)), ((3, 5), (1, 2))]),
            whip(4, 2, 5, &[((3, 1), (2, 3)), ((3, 2), (2, 2))]),
            take_out(5, &[("h", 1), ("q", 2), ("r", 2)]),
            across(5, run(&[(1, 0)]), run(&[(2, 0)]), s8(36)),
            finish(
                5,
                &[
                    run(&[(1, 1), (3, 0), (2, 4)]),
                    run(&[(2, 0)]),
                    run(&[(2, 1), (3, 3), (1, 4)]),
                    run(&[(1, 0)]),
                ],
                2,
            ),
        ],
        &[],
    );
    b.outer(4.0, 2.0 * h);
    let moved: Vec<(f64, f64)> = hexagon.iter().map(|&(x, y)| (x + 1.0, y)).collect();
    b.face("sun", &moved);
    b.face("sky", &[(0.0, 0.0), (1.5, 0.0), (1.0, h), (0.0, h)]);
    b.face("sky", &[(0.0, h), (1.0, h), (1.5, 2.0 * h), (0.0, 2.0 * h)]);
    b.face("sky", &[(2.5, 0.0), (4.0, 0.0), (4.0, h), (3.0, h)]);
    b.face("sky", &[(3.0, h), (4.0, h), (4.0, 2.0 * h), (2.5, 2.0 * h)]);
    b
}

fn step(b: &mut Bench, make: usize, step: usize) -> &mut Step {
    &mut b.pattern.recipe.makes[make].steps[step]
}

fn shift(size: &mut recipe::TemplateCorner, inches: f64) {
    size.right = size.right + Printed::nearest(inches).unwrap();
}

#[test]
fn a_hexagon_among_corner_pieces_is_proved() {
    let proof = hexagon_block().proved();
    // Whipped edges: one in each side, two for each side on the hexagon.
    assert_eq!(proof.seams, 6);
    assert!(proof.largest_difference < 1.0e-6, "{}", proof.largest_difference);
}

#[test]
fn a_card_a_sixteenth_too_large_is_noticed() {
    // Its right corners move: the whipped edge grows longer than the one it meets.
    let mut b = hexagon_block();
    for corner in [1, 2] {
        shift(&mut b.pattern.cutting.cards[1].corners[corner], 1.0 / 16.0);
    }
    b.refused_at("corners-do-not-meet", "side", 2);
    // All cards alike too large in proportion: whipping is content, the seams allowed flat and the top are not.
    let mut b = hexagon_block();
    for card in &mut b.pattern.cutting.cards {
        for c in &mut card.corners {
            c.right = Printed::nearest(c.right.to_inches() * 17.0 / 16.0).unwrap();
            c.up = Printed::nearest(c.up.to_inches() * 17.0 / 16.0).unwrap();
        }
    }
    b.refused("flat-side-off");
}

#[test]
fn the_wrong_side_whipped_is_noticed() {
    let mut b = hexagon_block();
    *step(&mut b, 0, 2) = whip(2, 3, 4, &[((2, 1), (3, 0))]);
    // The side that is sewn is no longer there to be given.
    assert!(b.rehearse().is_err());
    let mut b = hexagon_block();
    *step(&mut b, 1, 1) = whip(3, 1, 4, &[((3, 5), (1, 2)), ((3, 4), (1, 3))]);
    b.refused_at("whip-not-one-run", "top", 1);
    let mut b = hexagon_block();
    *step(&mut b, 1, 1) = whip(3, 1, 4, &[((3, 4), (1, 2)), ((3, 5), (1, 3))]);
    b.refused_at("corners-do-not-meet", "top", 1);
    let mut b = hexagon_block();
    *step(&mut b, 1, 1) = whip(3, 1, 4, &[((3, 4), (1, 3)), ((3, 3), (1, 4))]);
    b.refused_at("edge-not-folded", "top", 1);
}

#[test]
fn an_edge_left_unsewn_keeps_its_cards_in() {
    let mut b = hexagon_block();
    *step(&mut b, 1, 1) = whip(3, 1, 4, &[((3, 4), (1, 3))]);
    b.refused_at("cards-differ", "top", 3);
    *step(&mut b, 1, 3) = take_out(5, &[("q", 1), ("r", 2)]);
    b.refused_at("card-left-in", "top", 5);
    b.refused("card-count");
}

#[test]
fn flat_and_folded_sides_are_those_of_the_card() {
    let mut b = hexagon_block();
    *step(&mut b, 1, 0) = baste(0, 3, "h", &[(0, 0)], &[0]);
    b.refused_at("flat-sides-differ", "top", 0);
    // A side that should be folded is left flat, and the other way round.
    let mut b = hexagon_block();
    b.pattern.cutting.cards[1].flat = vec![0, 2, 3];
    *step(&mut b, 0, 0) = baste(0, 2, "q", &[(0, 0), (3, 3)], &[0, 2, 3]);
    b.refused_at("flat-side-off", "side", 0);
    let mut b = hexagon_block();
    b.pattern.cutting.cards[1].flat = vec![0];
    *step(&mut b, 0, 0) = baste(0, 2, "q", &[(0, 0), (3, 3)], &[0]);
    // A seam's allowance is just enough to fold, but what is given raw is folded now.
    b.refused("edge-folded");
    let mut b = hexagon_block();
    *step(&mut b, 0, 0) = baste(0, 2, "q", &[(0, 0), (3, 3)], &[3, 0]);
    b.refused_at("flat-side-off", "side", 0);
}

#[test]
fn cloth_must_reach_far_enough_and_no_further() {
    for (least, most, code) in [(s8(4), s8(10), "allowance-short"), (s8(2), s8(5), "allowance-long")] {
        let mut b = hexagon_block();
        if let Step::Baste { least: l, most: m, .. } = step(&mut b, 0, 0) {
            (*l, *m) = (least, most);
        }
        b.refused_at(code, "side", 0);
    }
    let mut b = hexagon_block();
    if let Step::Baste { least, .. } = step(&mut b, 0, 0) {
        *least = Size::bare(Length::ZERO);
    }
    b.refused_at("bad-recipe", "side", 0);
}

#[test]
fn cards_are_counted() {
    let counts: [fn(&mut Card); 4] = [|c| c.uses += 1, |c| c.uses -= 1, |c| c.cut += 1, |c| c.cut -= 1];
    for change in counts {
        for card in 0..3 {
            let mut b = hexagon_block();
            change(&mut b.pattern.cutting.cards[card]);
            b.refused("card-count");
        }
    }
    let mut b = hexagon_block();
    *step(&mut b, 1, 3) = take_out(5, &[("h", 1), ("q", 2), ("r", 1)]);
    b.refused_at("cards-differ", "top", 3);
    let mut b = hexagon_block();
    *step(&mut b, 1, 3) = take_out(5, &[("h", 1), ("q", 1), ("q", 1), ("r", 2)]);
    b.refused_at("bad-recipe", "top", 3);
    let mut b = hexagon_block();
    b.pattern.cutting.cards[2].name = "q".into();
    b.refused("bad-recipe");
    b.refused("unknown-card");
}

#[test]
fn cards_come_out_before_anything_is_measured_off_or_sewn_by_machine() {
    let mut b = hexagon_block();
    let top = &mut b.pattern.recipe.makes[1].steps;
    top.swap(3, 4);
    // Measuring minds no cards.
    b.proved();
    let mut b = hexagon_block();
    b.pattern.recipe.makes[1].steps.remove(3);
    b.refused_at("card-left-in", "top", 4);
    let mut b = hexagon_block();
    *step(&mut b, 1, 2) = lay(
        4,
        2,
        5,
        run(&[(1, 1)]),
        run(&[(2, 1)]),
        recipe::End::Centre,
        recipe::End::Centre,
        &[],
    );
    b.refused_at("card-left-in", "top", 2);
}

#[test]
fn what_is_basted_is_one_piece_as_it_was_cut() {
    let mut b = hexagon_block();
    *step(&mut b, 1, 0) = baste(1, 3, "h", &[(0, 1)], &[1, 4]);
    b.refused_at("bad-recipe", "top", 0);
    let mut b = hexagon_block();
    *step(&mut b, 1, 0) = baste(0, 3, "none", &[(0, 0)], &[0, 2]);
    b.refused_at("unknown-card", "top", 0);
    let mut b = hexagon_block();
    *step(&mut b, 1, 0) = baste(0, 3, "h", &[(9, 0)], &[0, 2]);
    b.refused_at("bad-recipe", "top", 0);
    let mut b = hexagon_block();
    *step(&mut b, 1, 0) = baste(0, 3, "h", &[(1, 0)], &[0, 2]);
    b.refused_at("flat-side-off", "top", 0);
}

#[test]
fn a_hollow_card_is_none() {
    let mut b = hexagon_block();
    b.pattern.cutting.cards[0].corners[5].right = Printed::nearest(1.0).unwrap();
    b.refused("bad-recipe");
    let mut b = hexagon_block();
    b.pattern.cutting.cards[0].flat = vec![3, 0];
    b.refused("bad-recipe");
    let mut b = hexagon_block();
    b.pattern.cutting.cards[0].flat = (0..6).collect();
    b.refused("bad-recipe");
}

#[test]
fn hands_that_stray_come_to_an_end() {
    let b = hexagon_block();
    let p = &b.pattern;
    let options = rehearse::WobbleOptions {
        runs: 20,
        ..rehearse::WobbleOptions::default()
    };
    let wobble = rehearse::wobble(&p.recipe, &p.cutting, &p.bought, options);
    assert!(wobble.is_ok(), "{wobble:?}");
}
